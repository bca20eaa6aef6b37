"""From Markdown to DOCX, with real styles; what every DOCX of ours has in common."""

from __future__ import annotations

import datetime as dt
import io
import math
import zipfile
from collections.abc import Sequence
from typing import Any

from markdown_it.token import Token

from briefing.write.markdown import Where, runs_of, tokens_of, walk
from briefing.write.type import column_widths

# The date that every DOCX carries, so that the same input gives the same bytes. A round one, our choice.
FIXED_DATE = (2020, 1, 1, 0, 0, 0)
# Our choice: the font that stands in where a document's own is missing is about so much wider than the one we measure with.
FALLBACK_WIDER = 1.15
# What a cell of a DOCX keeps free at its sides, in points: 0.19 cm each, and a little air.
CELL_PAD = 14


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
    walk(tokens_of(markdown), _Docx(document, dense=dense))
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
    """Sets the blocks of a Markdown text into a python-docx document."""

    def __init__(self, document: Any, *, dense: bool) -> None:
        self.document = document
        self.dense = dense
        self.ids = style_ids(document)

    def heading(self, level: int, inline: Token) -> None:
        """Set a heading."""
        self._write(add_styled(self.document, self.ids, f"Heading {level}"), inline)

    def paragraph(self, inline: Token, where: Where) -> None:
        """Set a paragraph, a list item, a quotation."""
        style = "Quote" if where.quoted else None
        if where.lists:
            depth = min(len(where.lists), 3)
            style = {"bullet": "List Bullet", "number": "List Number"}[where.lists[-1]] + (
                f" {depth}" if depth > 1 else ""
            )
        paragraph = add_styled(self.document, self.ids, style)
        if self.dense:
            from docx.shared import Pt  # noqa: PLC0415

            paragraph.paragraph_format.space_after = Pt(0.5)
        self._write(paragraph, inline)

    def code(self, lines: Sequence[str]) -> None:
        """Set lines that stay as they are."""
        for line in lines:
            self.document.add_paragraph(line)

    def table(self, rows: Sequence[Sequence[Token]]) -> None:
        """Set a table, its first row bold."""
        from docx.shared import Pt  # noqa: PLC0415

        table = self.document.add_table(rows=len(rows), cols=max(len(r) for r in rows))
        table.style = "Table Grid"
        # Word and others share a table evenly unless every cell has its width.
        table.autofit = False
        section = self.document.sections[0]
        wide = section.page_width - section.left_margin - section.right_margin
        size = self.document.styles["Normal"].font.size.pt * FALLBACK_WIDER
        widths = [
            Pt(w) for w in column_widths([[c.content for c in row] for row in rows], size, wide / Pt(1), CELL_PAD)
        ]
        for column, width in zip(table.columns, widths, strict=True):
            column.width = width
        # Row by row: asking a table for one cell makes a list of all of them each time.
        for r, (row, made) in enumerate(zip(rows, table.rows, strict=True)):
            for cell, place, width in zip(row, made.cells, widths, strict=False):
                place.width = width
                self._write(place.paragraphs[0], cell)
                if r == 0:
                    for run in place.paragraphs[0].runs:
                        run.bold = True

    def _write(self, paragraph: Any, inline: Token) -> None:
        for piece in runs_of(inline):
            if piece.breaks:
                paragraph.add_run().add_break()
                continue
            run = paragraph.add_run(piece.text)
            run.bold, run.italic = piece.bold or None, piece.italic or None
