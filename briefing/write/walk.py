"""From Markdown to HTML and DOCX: the same words in each."""

from __future__ import annotations

import datetime as dt
import io
import math
import re
import zipfile
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.token import Token

from briefing.write.type import width_em

# The date that every DOCX carries, so that the same input gives the same bytes. A round one, our choice.
FIXED_DATE = (2020, 1, 1, 0, 0, 0)
# Our choice: the font that stands in where a document's own is missing is about so much wider than the one we measure with.
FALLBACK_WIDER = 1.15
# What a cell of a DOCX keeps free at its sides, in points: 0.19 cm each, and a little air.
CELL_PAD = 14


@cache
def _markdown() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")


@lru_cache(maxsize=4)
def tokens_of(markdown: str) -> tuple[Token, ...]:
    """Read a Markdown text; nobody may change the tokens, since one text is written in several forms."""
    return tuple(_markdown().parse(markdown))


def as_html(markdown: str) -> str:
    """Give the body of a page; raw HTML in the text stays text."""
    reader = _markdown()
    return str(reader.renderer.render(tokens_of(markdown), reader.options, {}))


def as_docx(markdown: str, title: str, *, dense: bool = False) -> bytes:
    """Give a DOCX with real styles: headings, lists, tables. `dense` is two narrow columns for one page.

    The same input gives the same bytes.
    """
    # Imported here: it takes longer than all the rest, and most commands write no DOCX.
    from docx import Document  # noqa: PLC0415
    from docx.shared import Cm, Pt  # noqa: PLC0415

    document = Document()
    for section in document.sections:
        section.page_width, section.page_height = Cm(21.0), Cm(29.7)
        margin = Cm(1.1 if dense else 2.2)
        section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = margin
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "Calibri", Pt(dense_size(markdown) if dense else 11)
    normal.paragraph_format.space_after = Pt(1 if dense else 4)
    for level, size in ((1, 16 if dense else 22), (2, 10.5 if dense else 15), (3, 9 if dense else 12)):
        style = document.styles[f"Heading {level}"]
        style.font.size, style.font.name = Pt(size), "Calibri"
        style.paragraph_format.space_before = Pt(3 if dense else 10)
        style.paragraph_format.space_after = Pt(1 if dense else 4)
    _Docx(document, dense=dense).walk(tokens_of(markdown))
    if dense:
        _columns(document.sections[0], 2)
    return finish_docx(document, title)


def dense_size(markdown: str) -> float:
    """Give the type size in points at which a text goes on one A4 page in two columns.

    Tried on pages: 8.5 pt holds about 780 words with their headings; the size goes down with the root of the words, not
    below 6.5 pt.
    """
    words = max(1, len(markdown.split()))
    return max(6.5, min(10.0, round(2 * 8.5 * math.sqrt(780 / words)) / 2))


def finish_docx(document: Any, title: str) -> bytes:
    """Write a python-docx document with fixed dates and author, and its zip with fixed dates."""
    properties = document.core_properties
    # The property holds at most 255 characters; the title in the text is whole.
    properties.title, properties.author, properties.last_modified_by = title[:255], "briefing", "briefing"
    moment = dt.datetime(*FIXED_DATE, tzinfo=dt.UTC)
    properties.created = properties.modified = moment
    properties.revision = 1
    raw = io.BytesIO()
    document.save(raw)
    out = io.BytesIO()
    with zipfile.ZipFile(raw) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            fixed = zipfile.ZipInfo(info.filename, date_time=FIXED_DATE)
            fixed.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(fixed, old.read(info.filename))
    return out.getvalue()


def style_ids(document: Any) -> dict[str, str]:
    """Give the ids of a document's styles by name, for `add_styled`."""
    return {style.name: style.style_id for style in document.styles}


def add_styled(container: Any, ids: dict[str, str], style: str | None) -> Any:
    """Add a paragraph in a style. By its name, python-docx would look through all styles for each paragraph: 2 ms."""
    paragraph = container.add_paragraph()
    if style is not None:
        paragraph._p.style = ids[style]  # noqa: SLF001 - python-docx has no other way to set a style by its id
    return paragraph


def _columns(section: Any, count: int) -> None:
    from docx.oxml.ns import qn  # noqa: PLC0415

    properties = section._sectPr  # noqa: SLF001 - python-docx has no other way to columns
    columns = properties.find(qn("w:cols"))
    if columns is None:
        columns = properties.makeelement(qn("w:cols"), {})
        properties.append(columns)
    columns.set(qn("w:num"), str(count))
    columns.set(qn("w:space"), "340")


class _Docx:
    """Walks Markdown tokens into a python-docx document."""

    def __init__(self, document: Any, *, dense: bool) -> None:
        self.document = document
        self.dense = dense
        self.ids = style_ids(document)
        self.lists: list[str] = []
        self.quoted = False

    def walk(self, tokens: Sequence[Token]) -> None:
        """Write all blocks in order."""
        index = 0
        while index < len(tokens):
            token = tokens[index]
            if token.type == "heading_open":
                self._inline(add_styled(self.document, self.ids, f"Heading {token.tag[1]}"), tokens[index + 1])
                index += 2
            elif token.type == "table_open":
                index = self._table(tokens, index)
            elif token.type in {"bullet_list_open", "ordered_list_open"}:
                self.lists.append("List Bullet" if token.type.startswith("bullet") else "List Number")
            elif token.type in {"bullet_list_close", "ordered_list_close"}:
                self.lists.pop()
            elif token.type == "blockquote_open":
                self.quoted = True
            elif token.type == "blockquote_close":
                self.quoted = False
            elif token.type == "inline":
                self._inline(self._paragraph(), token)
            elif token.type in {"fence", "code_block"}:
                for line in token.content.rstrip("\n").split("\n"):
                    self.document.add_paragraph(line)
            index += 1

    def _paragraph(self) -> Any:
        if self.lists:
            depth = min(len(self.lists), 3)
            style = self.lists[-1] + (f" {depth}" if depth > 1 else "")
            paragraph = add_styled(self.document, self.ids, style)
        else:
            paragraph = add_styled(self.document, self.ids, "Quote" if self.quoted else None)
        if self.dense:
            from docx.shared import Pt  # noqa: PLC0415

            paragraph.paragraph_format.space_after = Pt(0.5)
        return paragraph

    def _inline(self, paragraph: Any, token: Token) -> None:
        bold = italic = 0
        for child in token.children or ():
            if child.type == "strong_open":
                bold += 1
            elif child.type == "strong_close":
                bold -= 1
            elif child.type == "em_open":
                italic += 1
            elif child.type == "em_close":
                italic -= 1
            elif child.type == "hardbreak":
                paragraph.add_run().add_break()
            elif child.type in {"text", "code_inline", "softbreak"}:
                run = paragraph.add_run(" " if child.type == "softbreak" else child.content)
                run.bold, run.italic = bool(bold) or None, bool(italic) or None

    def _table(self, tokens: Sequence[Token], index: int) -> int:
        from docx.shared import Pt  # noqa: PLC0415

        rows, index = table_rows(tokens, index)
        table = self.document.add_table(rows=len(rows), cols=max(len(r) for r in rows))
        table.style = "Table Grid"
        # Word and others share a table evenly unless every cell has its width.
        table.autofit = False
        section = self.document.sections[0]
        wide = section.page_width - section.left_margin - section.right_margin
        size = self.document.styles["Normal"].font.size.pt * FALLBACK_WIDER
        widths = [Pt(w) for w in column_widths(rows, size, wide / Pt(1), CELL_PAD)]
        for column, width in zip(table.columns, widths, strict=True):
            column.width = width
        # Row by row: asking a table for one cell makes a list of all of them each time.
        for r, (row, made) in enumerate(zip(rows, table.rows, strict=True)):
            for cell, place, width in zip(row, made.cells, widths, strict=False):
                place.width = width
                self._inline(place.paragraphs[0], cell)
                if r == 0:
                    for run in place.paragraphs[0].runs:
                        run.bold = True
        return index


def table_rows(tokens: Sequence[Token], index: int) -> tuple[list[list[Token]], int]:
    """Give the cells of the table that opens at an index, row by row, and the index at which it closes."""
    rows: list[list[Token]] = []
    while tokens[index].type != "table_close":
        if tokens[index].type == "tr_open":
            rows.append([])
        elif tokens[index].type == "inline":
            rows[-1].append(tokens[index])
        index += 1
    return rows, index


def column_widths(rows: Sequence[Sequence[Token]], size: float, wide: float, pad: float = 8) -> list[float]:
    """Share a width in points over columns: each has its longest word, the rest goes to those with more text."""
    texts = [[r[c].content for r in rows] for c in range(len(rows[0]))]
    least = [max(width_em(w, bold=True) for t in column for w in (t.split() or [""])) * size + pad for column in texts]
    spare = max(0.0, wide - sum(least))
    # By the root: else the longest text would take it all.
    more = [max(0.0, max(width_em(t) for t in c) * size - x) ** 0.5 for c, x in zip(texts, least, strict=True)]
    whole = sum(more) or 1.0
    return [(x + spare * m / whole) * min(1.0, wide / sum(least)) for x, m in zip(least, more, strict=True)]


def plain_words(markdown: str) -> list[str]:
    """Give the words of a Markdown text without its marks, for holding documents against each other."""
    out: list[str] = []
    for token in tokens_of(markdown):
        if token.type == "inline":
            text = "".join(
                c.content if c.type in {"text", "code_inline"} else " " if c.type in {"softbreak", "hardbreak"} else ""
                for c in token.children or ()
            )
            out += re.findall(r"\S+", text)
    return out
