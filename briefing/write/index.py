"""The index page of a folder: every video with its length against the promise, its documents and its problems."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from urllib.parse import quote

from briefing.outline.models import Outline
from briefing.problems import Model, Problem
from briefing.settings.models import Video
from briefing.units import write_clock
from briefing.write.documents import DOCUMENTS, Document, page_html
from briefing.write.markdown import as_html
from briefing.write.templates import Templates, escape_markdown


class IndexRow(Model):
    """One video on the index page; what stands in words is remembered between builds."""

    name: str
    kind: str
    title: str
    number: str = ""
    length: str = ""
    problems: str = ""
    built: bool = True

    @classmethod
    def of(cls, name: str, video: Video, outline: Outline) -> IndexRow:
        """Make the row of a video that was just built."""
        length = write_clock(outline.tenths / 10) if outline.kind != "workout" else "call sheet"
        if outline.length and outline.kind != "workout":
            length += f" of {'about ' if outline.length.about else ''}{write_clock(outline.length.seconds)}"
        counts = [
            f"{n} {level}{'s' if n != 1 else ''}"
            for level in ("warning", "note")
            if (n := sum(p.level == level for p in outline.problems))
        ]
        return cls(
            name=name,
            kind=video.kind,
            title=outline.title,
            number=outline.video or "",
            length=length,
            problems=", ".join(counts),
        )

    @classmethod
    def again(cls, name: str, video: Video, remembered: Mapping[str, str]) -> IndexRow:
        """Make the row of a video that was not built anew, from what is remembered of it."""
        words = {key: remembered.get(f"row {key}", "") for key in ("title", "number", "length", "problems")}
        return cls(name=name, kind=video.kind, **words)

    @classmethod
    def failed(cls, name: str, video: Video, remembered: Mapping[str, str], problems: Iterable[Problem]) -> IndexRow:
        """Make the row of a video that has errors now: its documents are those of before, if there are any."""
        row = cls.again(name, video, remembered)
        errors = sum(p.level == "error" for p in problems)
        words = f"not built: {errors} error{'s' if errors != 1 else ''}"
        return row.model_copy(update={"title": row.title or name, "problems": words})

    def recorded(self) -> IndexRow:
        """Give the row of a video that is recorded: its documents stay as they were, whatever is planned now."""
        return self.model_copy(update={"title": self.title or self.name, "length": "recorded"})

    def remembered(self) -> dict[str, str]:
        """Give what is kept of the row for the next build."""
        return {f"row {key}": getattr(self, key) for key in ("title", "number", "length", "problems")}


def index_html(rows: Sequence[IndexRow], series: str | None, templates: Templates) -> bytes:
    """Write the index page; its links lead to the documents below it.

    Raises Stop where the page's template has a slip.
    """
    title = series or "Videos"
    lines = [
        f"# {escape_markdown(title)}",
        "",
        "| | video | kind | length | documents | to look at |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for row in rows:
        links = " ".join(_link(row, d) for d in DOCUMENTS if row.kind in d.kinds) if row.built else "none yet"
        cells = [row.number, escape_markdown(row.title), row.kind, row.length, links, row.problems or "nothing"]
        lines.append("| " + " | ".join(cells) + " |")
    body = (
        as_html("\n".join(lines))
        .replace("<table>", '<div class="scroll"><table>')
        .replace("</table>", "</table></div>")
    )
    return page_html(templates, "Videos", title, body)


def _link(row: IndexRow, document: Document) -> str:
    """Write a link to a document: in its address, whatever ends an address in Markdown or in a browser is quoted."""
    return f"[{document.key}](<{quote(row.name)}/{document.key}.{document.forms[0]}>)"
