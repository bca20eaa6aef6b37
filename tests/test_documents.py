"""The documents: the script's words are the lines' words; every form holds the same words; text stays text."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import docx
import hypothesis
import pytest
from hypothesis import strategies as st

from briefing.library.finding import Library
from briefing.library.template import movement_template
from briefing.outline.cautions import without_asking
from briefing.outline.models import Outline
from briefing.outline.options import noted
from briefing.pipeline import Briefed
from briefing.problems import Stop
from briefing.sources.folders import built_in
from briefing.write.documents import DOCUMENTS, Given, tidy_markdown, write_document
from briefing.write.markdown import plain_words
from briefing.write.pages_docx import as_docx
from briefing.write.templates import Templates, escape_markdown
from briefing.write.timeline import timeline_svg

NASTY = "<script>alert(1)</script> *Tide* _x_ | `y` [z](http://x) & co"
BOARD = """---
title: "{title}"
feel: "{title}"
kit: [1 dumbbell]
---
3 rounds for time, cap 12:00
  10 goblet squats
  200 m run

## Notes
{title}
"""


def given(briefed: Briefed) -> Given:
    return Given(briefed.outline, briefed.plan.movements, Templates((built_in("templates"),)))


def written(key: str, form: str, briefed: Briefed) -> bytes:
    document = next(d for d in DOCUMENTS if d.key == key)
    return write_document(document, form, given(briefed))  # type: ignore[arg-type]


class _Text(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.tags: list[str] = []
        self.skip = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del attrs
        self.tags.append(tag)
        self.skip += tag in {"style", "script", "svg", "title"}

    def handle_endtag(self, tag: str) -> None:
        self.skip -= tag in {"style", "script", "svg", "title"}
        if tag in {"p", "li", "h1", "h2", "h3", "td", "th"}:
            self.words.append(" ")

    def handle_data(self, data: str) -> None:
        if not self.skip:
            self.words.append(data)


def html_words(page: bytes) -> list[str]:
    parser = _Text()
    parser.feed(page.decode())
    return re.findall(r"\S+", "".join(parser.words))


def docx_words(content: bytes) -> list[str]:
    document = docx.Document(io.BytesIO(content))
    out: list[str] = []
    for block in document.iter_inner_content():
        if isinstance(block, docx.table.Table):
            out += [w for row in block.rows for cell in row.cells for w in re.findall(r"\S+", cell.text)]
        else:
            out += re.findall(r"\S+", block.text)
    return out


def test_the_scripts_words_are_the_lines_words(demos: dict[str, Briefed]) -> None:
    for briefed in demos.values():
        script = written("script", "md", briefed).decode()
        script = script.split("## Your notes")[0]
        spoken = [
            p for p in script.split("\n\n") if p.strip() and not p.startswith(("#", "*Show", "*Then", "Six Weeks"))
        ]
        assert plain_words("\n\n".join(spoken)) == plain_words(
            " ".join(escape_markdown(x.text) for x in briefed.outline.lines)
        )


def test_an_approximate_length_is_said_so(demos: dict[str, Briefed]) -> None:
    outline = demos["long-swell"].outline
    assert outline.length is not None
    assert outline.length.about
    document = next(d for d in DOCUMENTS if d.key == "outline")
    assert "promised about 8:00" in write_document(document, "md", given(demos["long-swell"])).decode()


@pytest.mark.parametrize("key", ["outline", "script", "handout"])
def test_md_html_and_docx_hold_the_same_words(key: str, demos: dict[str, Briefed]) -> None:
    document = next(d for d in DOCUMENTS if d.key == key)
    for briefed in demos.values():
        assert document.values is not None
        source = tidy_markdown(given(briefed).templates.fill(f"{key}.md", document.values(given(briefed))))
        words = plain_words(source)
        assert len(words) > 200
        if "html" in document.forms:
            assert html_words(written(key, "html", briefed)) == words
        if "docx" in document.forms:
            assert docx_words(written(key, "docx", briefed)) == words


def test_every_document_is_the_same_the_second_time(demos: dict[str, Briefed]) -> None:
    briefed = demos["long-swell"]
    for document in DOCUMENTS:
        for form in document.forms:
            assert write_document(document, form, given(briefed)) == write_document(document, form, given(briefed)), (
                document.key
            )


def test_html_in_a_title_is_text_everywhere(brief_text: Callable[..., Briefed]) -> None:
    briefed = brief_text(BOARD.format(title=NASTY))
    for document in DOCUMENTS:
        for form in document.forms:
            content = write_document(document, form, given(briefed))
            if form == "html":
                parser = _Text()
                parser.feed(content.decode())
                assert "alert(1)" not in "".join(re.findall(r"<script.*?</script>", content.decode(), re.DOTALL))
                assert "<script>alert(1)</script>" in html_unescaped(content), document.key
            elif form == "docx":
                assert "<script>alert(1)</script>" in " ".join(docx_words(content))
            elif form == "md":
                assert "<script>alert(1)</script>" in " ".join(plain_words(content.decode()))


def html_unescaped(content: bytes) -> str:
    parser = _Text()
    parser.feed(content.decode())
    return "".join(parser.words)


@pytest.mark.parametrize(
    "text",
    [NASTY, "# not a heading", "## nor this", "#", "1. not a list", "- not a bullet", "-", "+", "1.", "---", "- - -", "===", "=", "a\\b",
     "~~x~~", "1) x", "&amp; &#65; &copy;", "*", "***", "> x", "[a]: b", "```", "| a | b |", "a  b", "-5 kg", "&", "1986. Then", "![x](y)"],
)  # fmt: skip
def test_escaping_keeps_every_character(text: str) -> None:
    assert plain_words(escape_markdown(text)) == text.split()


@hypothesis.given(st.text(st.characters(blacklist_categories=["Cc", "Cs"]), max_size=40))
@hypothesis.settings(max_examples=300, deadline=None)
def test_any_note_at_all_is_the_same_in_every_form(note: str) -> None:
    """Held in Markdown, where it is read again; HTML, DOCX and PDF are made from that reading."""
    words = note.split()
    assert plain_words(f"# Title\n\n{escape_markdown(note)}\n\nEnd.\n") == ["Title", *words, "End."]


def test_the_timeline_tells_all_segments(demos: dict[str, Briefed]) -> None:
    outline: Outline = demos["breakwater"].outline
    svg = timeline_svg(outline)
    for segment in outline.segments:
        assert segment.title[:20] in svg
    assert "promised 9:00" in svg
    assert svg.count("<rect") >= len(outline.segments)


def test_a_coachs_own_template_wins(tmp_path: Path, demos: dict[str, Briefed]) -> None:
    (tmp_path / "script.md").write_text("# Mine: {{ title }}\n", encoding="utf-8")
    own = Given(
        demos["breakwater"].outline, demos["breakwater"].plan.movements, Templates((tmp_path, built_in("templates")))
    )
    document = next(d for d in DOCUMENTS if d.key == "script")
    assert write_document(document, "md", own) == b"# Mine: Breakwater\n"


@pytest.mark.parametrize(
    ("words", "line"), [("# x\n\n{{ titel }}\n", 3), ("# x\n{% for a in b %}\n", 2), ("{{ title | nothing }}\n", 1)]
)
def test_a_slip_in_a_template_is_a_problem_at_its_line(
    words: str, line: int, tmp_path: Path, demos: dict[str, Briefed]
) -> None:
    (tmp_path / "script.md").write_text(words, encoding="utf-8")
    own = Given(
        demos["breakwater"].outline, demos["breakwater"].plan.movements, Templates((tmp_path, built_in("templates")))
    )
    document = next(d for d in DOCUMENTS if d.key == "script")
    with pytest.raises(Stop) as stop:
        write_document(document, "md", own)
    (problem,) = stop.value.problems
    assert problem.code == "template"
    assert problem.place is not None
    assert problem.place.line == line


def test_the_handout_holds_every_version_and_every_easier_way(demos: dict[str, Briefed]) -> None:
    for briefed in demos.values():
        page = " ".join(html_words(written("handout", "html", briefed)))
        for movement in {s.movement for s in briefed.outline.segments if s.movement}:
            works = [w for w in briefed.plan.workout.works if w.movement == movement]
            for version in briefed.plan.movements[movement].easier:
                assert (without_asking(version)[1:] in page) != noted(version, works), version.card
        assert "emergency number" in page
        assert "midwife" in page


def test_a_table_in_a_docx_gives_its_width_to_the_long_text() -> None:
    """A column of clock times and one of sentences: even shares would break every call over three lines."""
    markdown = (
        "| clock | call |\n| --- | --- |\n| 10:26 | Now: 12 mountain climbers, 6 each leg. Half of the clock. |\n"
    )
    document = docx.Document(io.BytesIO(as_docx(markdown, "Call sheet")))
    times, calls = (int(column.width or 0) for column in document.tables[0].columns)
    assert 0 < 3 * times < calls
    section = document.sections[0]
    free = int(section.page_width or 0) - int(section.left_margin or 0) - int(section.right_margin or 0)
    assert times + calls <= free


@pytest.mark.parametrize(
    "name", ["A: b", "no", "1e3", "- x", "'a", 'a "b" c', "a #1", "[x]", "yes\\no", "Übung", "#1 lift", "*go"]
)
def test_a_movement_of_any_name_can_be_read_again(name: str, tmp_path: Path) -> None:
    path = tmp_path / "x.md"
    path.write_text(movement_template(name), encoding="utf-8")
    library = Library((tmp_path,))
    assert library.find(name) == "x", "a fresh file is found by its name, whatever is still to be filled in"
    assert {p.code for p in library.problems("x") if p.level == "error"} == {"unfilled"}
