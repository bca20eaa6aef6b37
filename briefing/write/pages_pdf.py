"""From Markdown to PDF: script, handout, filming list, set-up sheet, in the font of the cards. The same bytes each time."""

from __future__ import annotations

import io
from collections.abc import Sequence
from html import escape
from typing import Any

from markdown_it.token import Token

from briefing.settings.models import PaperKey
from briefing.write import palette
from briefing.write.cards_pdf import BOLD, REGULAR, register_fonts
from briefing.write.markdown import Where, runs_of, tokens_of, walk
from briefing.write.type import ARROW, column_widths, in_font

# The box that a text may hold and the font lacks: drawn.
BOX = "☐"
_BASE_PT = 10.5
# A dense page is set in the largest of these sizes at which all stands on one page; in the last one it may run on. Our choice.
_DENSE_PT = (9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5)
_MM = 72 / 25.4


def as_pdf(markdown: str, title: str, *, paper: PaperKey = "A4", dense: bool = False) -> bytes:
    """Give a PDF of a Markdown text: A4, or letter where the cards are on letter; `dense` is two columns on one page."""
    register_fonts()
    size = (215.9 * _MM, 279.4 * _MM) if paper == "letter" else (210 * _MM, 297 * _MM)
    tokens = tokens_of(markdown)
    if not dense:
        return _written(tokens, title, size, _BASE_PT, columns=1)[0]
    for points in _DENSE_PT:
        content, pages = _written(tokens, title, size, points, columns=2)
        if pages == 1:
            break
    return content


def _written(
    tokens: Sequence[Token], title: str, size: tuple[float, float], points: float, *, columns: int
) -> tuple[bytes, int]:
    # Imported here: it takes longer than all the rest, and most commands write no PDF.
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate  # type: ignore[import-untyped]  # noqa: PLC0415

    out = io.BytesIO()
    margin = (10 if columns > 1 else 18) * _MM
    gap = 6 * _MM
    wide = (size[0] - 2 * margin - (columns - 1) * gap) / columns
    frames = [
        Frame(margin + n * (wide + gap), margin, wide, size[1] - 2 * margin, 0, 0, 0, 0, id=f"column{n}")
        for n in range(columns)
    ]
    document = BaseDocTemplate(out, pagesize=size, invariant=1, title=title, author="briefing", lang="en")
    document.addPageTemplates([PageTemplate(id="page", frames=frames)])
    document.build(_Flow(points, wide).read(tokens))
    return out.getvalue(), int(document.page)


class _Flow:
    """Sets the blocks of a Markdown text for the PDF writer: headings, paragraphs, lists, tables, boxes."""

    def __init__(self, points: float, wide: float) -> None:
        self.points = points
        self.wide = wide
        self.out: list[Any] = []

    def read(self, tokens: Sequence[Token]) -> list[Any]:
        """Give the blocks in order."""
        walk(tokens, self)
        return self.out

    def heading(self, level: int, inline: Token) -> None:
        """Set a heading."""
        from reportlab.platypus import Paragraph  # noqa: PLC0415

        self.out.append(Paragraph(_markup(inline), self._heading(level)))

    def paragraph(self, inline: Token, where: Where) -> None:
        """Set a paragraph or a list item; boxes alone are drawn."""
        from reportlab.platypus import Paragraph  # noqa: PLC0415

        if set(inline.content.split()) == {BOX}:
            self.out.append(_boxes(inline.content.count(BOX), self.points, self.wide))
            return
        bullet = None if where.mark is None else f"{where.mark}." if where.mark else "•"
        self.out.append(Paragraph(_markup(inline), self._style(len(where.lists)), bulletText=bullet))

    def code(self, lines: Sequence[str]) -> None:
        """Set lines that stay as they are."""
        from reportlab.platypus import Paragraph  # noqa: PLC0415

        self.out += [Paragraph(escape(in_font(x)), self._style()) for x in lines]

    def _style(self, level: int = 0) -> Any:
        from reportlab.lib.styles import ParagraphStyle  # type: ignore[import-untyped]  # noqa: PLC0415

        p = self.points
        return ParagraphStyle(
            f"level {level}",
            fontName=REGULAR,
            fontSize=p,
            leading=p * (1.4 if p >= _BASE_PT else 1.24),
            textColor=palette.INK,
            spaceAfter=p * (0.45 if not level else 0.15) * (1 if p >= _BASE_PT else 0.5),
            leftIndent=p * 1.2 * level,
            bulletIndent=p * 1.2 * (level - 1) if level else 0,
            bulletFontName=REGULAR,
            bulletFontSize=p,
        )

    def _heading(self, level: int) -> Any:
        from reportlab.lib.styles import ParagraphStyle  # noqa: PLC0415

        size = self.points * {1: 1.9, 2: 1.25}.get(level, 1.0)
        return ParagraphStyle(
            f"heading {level}",
            fontName=BOLD,
            fontSize=size,
            leading=size * 1.2,
            textColor=palette.ACCENT if level == 1 else palette.INK,
            spaceBefore=self.points * (0 if level == 1 else 0.7),
            spaceAfter=self.points * 0.2,
            keepWithNext=1,
        )

    def table(self, rows: Sequence[Sequence[Token]]) -> None:
        """Set a table, its first row bold."""
        from reportlab.lib import colors  # type: ignore[import-untyped]  # noqa: PLC0415
        from reportlab.platypus import Paragraph, Table  # noqa: PLC0415

        size = min(self.points, 9.0)
        style = self._style().clone("cell", fontSize=size, leading=size * 1.25, spaceAfter=0)
        cells = [
            [Paragraph(f"<b>{_markup(c)}</b>" if n == 0 else _markup(c), style) for c in row]
            for n, row in enumerate(rows)
        ]
        widths = column_widths([[c.content for c in row] for row in rows], size, self.wide)
        line = colors.HexColor(palette.LINE)
        self.out.append(
            Table(
                cells,
                colWidths=widths,
                repeatRows=1,
                style=[
                    ("VALIGN", (0, 0), (-1, -1), "TOP"),
                    ("LINEBELOW", (0, 0), (-1, -1), 0.5, line),
                    ("LEFTPADDING", (0, 0), (-1, -1), 0),
                    ("RIGHTPADDING", (0, 0), (-1, -1), 5),
                    ("TOPPADDING", (0, 0), (-1, -1), 2),
                    ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
                ],
                spaceAfter=self.points * 0.5,
            )
        )


def _markup(inline: Token) -> str:
    out = []
    for run in runs_of(inline):
        # What the font lacks and we do not draw here: an arrow is a colon, a box a blank to write on.
        text = run.text.replace(f" {ARROW} ", ": ").replace(ARROW, "-").replace(BOX, "__")
        words = escape(in_font(text))
        out.append("<br/>" if run.breaks else f"<b>{words}</b>" if run.bold else words)
    return "".join(out)


def _boxes(count: int, points: float, wide: float) -> Any:
    """Give a row of boxes to tick, on as many lines as they need."""
    from reportlab.graphics.shapes import Drawing, Rect  # type: ignore[import-untyped]  # noqa: PLC0415
    from reportlab.lib import colors  # noqa: PLC0415

    side, step = points * 1.3, points * 2.0
    per_line = max(1, int(wide / step))
    lines = -(-count // per_line)
    drawing = Drawing(wide, lines * step)
    for n in range(count):
        x, y = (n % per_line) * step, (lines - 1 - n // per_line) * step + 0.3 * points
        drawing.add(Rect(x + 1, y, side, side, fillColor=None, strokeColor=colors.HexColor(palette.INK), strokeWidth=1))
    return drawing
