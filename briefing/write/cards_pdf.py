"""The deck as PDF, for printing: a card a page, or several on a sheet with marks to cut along. The same bytes each time."""

from __future__ import annotations

import io
from typing import Any

from briefing.write import palette
from briefing.write.deck import INDENT_EM, PITCH_EM, Card, Deck, Entry
from briefing.write.sheets import HAND_MM, HEAD_EM, Fitting, Paper, fitting_words
from briefing.write.type import ARROW, ARROW_EM, MM_PER_PT, face, in_font, lacking, width_em

REGULAR, BOLD = "CardRegular", "CardBold"
# The type of the strip for the hand: 11 pt, read at arm's length. The length of a cut mark. Our choice.
HAND_PT = 11.0
CUT_MM = 4.0


def cards_pdf(deck: Deck, paper: Paper, fitting: Fitting) -> bytes:
    """Write the deck on a paper; the type size is the one of the fitting, the rows are the deck's."""
    # Imported here: it takes longer than all the rest, and most commands write no PDF.
    from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]  # noqa: PLC0415

    register_fonts()
    out = io.BytesIO()
    size = (paper.sheet_width_mm / MM_PER_PT, paper.sheet_height_mm / MM_PER_PT)
    canvas = Canvas(out, pagesize=size, invariant=1, lang="en", initialFontName=REGULAR)
    canvas.setTitle(f"{deck.title}: cue cards")
    canvas.setAuthor("briefing")
    left = (paper.sheet_width_mm - paper.across * paper.width_mm) / 2
    top = (paper.sheet_height_mm - paper.down * paper.height_mm) / 2
    for at, card in enumerate(deck.cards):
        place = at % paper.on_a_sheet
        if at and place == 0:
            canvas.showPage()
        if place == 0 and paper.on_a_sheet > 1:
            _cut_marks(canvas, paper, left, top)
        column, row = place % paper.across, place // paper.across
        pen = _Pen(canvas, fitting.em_mm, left + column * paper.width_mm, top + row * paper.height_mm, paper)
        _draw(pen, card, deck, fitting)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def register_fonts() -> None:
    """Make the font known to the PDF writer, both weights, embedded as a subset."""
    from reportlab.pdfbase import pdfmetrics  # type: ignore[import-untyped]  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFont  # type: ignore[import-untyped]  # noqa: PLC0415

    for name, bold in ((REGULAR, False), (BOLD, True)):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(face(bold=bold).path)))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)


class _Pen:
    """Draws on one card: millimeters from the card's upper left corner, downward; text by the top of its capitals."""

    def __init__(self, canvas: Any, em_mm: float, left_mm: float, top_mm: float, paper: Paper) -> None:
        self.canvas = canvas
        self.em_mm = em_mm
        self.left_mm = left_mm
        self.top_mm = top_mm
        self.paper = paper
        self.cap_em = face().capital_em

    def point(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Give a place on the card as a place on the page, in points from its lower left."""
        return (
            (self.left_mm + x_mm) / MM_PER_PT,
            (self.paper.sheet_height_mm - self.top_mm - y_mm) / MM_PER_PT,
        )

    def text(self, x_mm: float, top_mm: float, text: str, size_mm: float, *, bold: bool = False) -> None:
        """Set a text; an arrow in it is drawn."""
        shown = in_font(text) if lacking(text) else text
        base = top_mm + size_mm * self.cap_em
        self.canvas.setFont(BOLD if bold else REGULAR, size_mm / MM_PER_PT)
        for at, part in enumerate(shown.split(ARROW)):
            if at:
                self.arrow(x_mm, base, size_mm, bold=bold)
                x_mm += ARROW_EM * size_mm
            if part:
                self.canvas.drawString(*self.point(x_mm, base), part)
                x_mm += width_em(part, bold=bold) * size_mm

    def arrow(self, x_mm: float, base_mm: float, size_mm: float, *, bold: bool) -> None:
        """Draw an arrow to the right, in the width that was measured for it."""
        middle = base_mm - 0.3 * size_mm
        start, end, head = x_mm + 0.06 * size_mm, x_mm + 0.92 * size_mm, 0.24 * size_mm
        self.canvas.setLineWidth((0.13 if bold else 0.09) * size_mm / MM_PER_PT)
        self.canvas.line(*self.point(start, middle), *self.point(end - 0.05 * size_mm, middle))
        path = self.canvas.beginPath()
        path.moveTo(*self.point(end - head, middle - head))
        path.lineTo(*self.point(end, middle))
        path.lineTo(*self.point(end - head, middle + head))
        self.canvas.drawPath(path, stroke=1, fill=0)

    def box(
        self, x_mm: float, y_mm: float, wide_mm: float, high_mm: float, *, filled: bool, line_mm: float = 0.6
    ) -> None:
        """Draw a rectangle."""
        self.canvas.setLineWidth(line_mm / MM_PER_PT)
        x, y = self.point(x_mm, y_mm + high_mm)
        self.canvas.rect(
            x, y, wide_mm / MM_PER_PT, high_mm / MM_PER_PT, stroke=0 if filled else 1, fill=1 if filled else 0
        )

    def ahead(self, x_mm: float, y_mm: float, size_mm: float) -> None:
        """Draw the open head of an arrow that points to what comes next."""
        line = 0.14 * size_mm
        self.canvas.setLineWidth(line / MM_PER_PT)
        path = self.canvas.beginPath()
        path.moveTo(*self.point(x_mm + line, y_mm + line))
        path.lineTo(*self.point(x_mm + size_mm * 0.55, y_mm + size_mm / 2))
        path.lineTo(*self.point(x_mm + line, y_mm + size_mm - line))
        self.canvas.drawPath(path, stroke=1, fill=0)

    def ink(self, colour: str) -> None:
        """Take a colour, `#rrggbb`."""
        red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
        self.canvas.setFillColorRGB(red, green, blue)
        self.canvas.setStrokeColorRGB(red, green, blue)


def _draw(pen: _Pen, card: Card, deck: Deck, fitting: Fitting) -> None:
    paper, em, small = pen.paper, pen.em_mm, pen.em_mm * deck.frame.small_em
    margin, right = paper.margin_mm, paper.width_mm - paper.margin_mm
    pen.ink(palette.QUIET)
    _hand(pen, card, deck, fitting)
    top = margin + HAND_MM
    pen.ink(palette.INK)
    place = f"{card.number}/{len(deck.cards)}"
    clock = card.clock
    place_mm, clock_mm = width_em(place) * small, width_em(clock, bold=True) * small
    pen.text(right - place_mm, top, place, small)
    x = right - place_mm - 0.6 * em - clock_mm
    if x >= margin:
        pen.text(x, top, clock, small, bold=True)
    if margin + width_em(card.head) * small + 0.4 * em <= x:
        pen.ink(palette.ACCENT)
        pen.text(margin, top, card.head, small)
    body_top = top + HEAD_EM * em
    foot_rows = len(card.foot)
    foot_top = paper.height_mm - margin - 0.15 * em - ((foot_rows - 1) * PITCH_EM + pen.cap_em) * small
    room = foot_top - body_top - 0.3 * em
    y = body_top + max(0.0, (room - card.height_em * em) / 2)
    for entry in card.entries:
        _entry(pen, entry, margin, y)
        y += (entry.height_em + card.gap_em) * em
    pen.ink(palette.ACCENT)
    if card.foot:
        pen.ahead(margin, foot_top, pen.cap_em * small)
    for n, text in enumerate(card.foot):
        pen.text(margin + 0.85 * small, foot_top + n * PITCH_EM * small, text, small)


def _hand(pen: _Pen, card: Card, deck: Deck, fitting: Fitting) -> None:
    """Write the strip for sorting the cards in the hand: workout, segment, its planned clock, its cards."""
    margin, size = pen.paper.margin_mm, HAND_PT * MM_PER_PT
    wide = pen.paper.width_mm - 2 * margin
    pieces = [deck.title, card.title]
    if card.segment >= 0:
        pieces.append(deck.segments[card.segment].clock)
    if card.part:
        pieces.append(f"card {card.part}")
    if card.number == 1 and not fitting.readable:
        pieces = [fitting_words(fitting)]
    text = " · ".join(pieces)
    size = min(size, wide / max(1e-6, width_em(text)))
    pen.text(margin, margin - 1.0, text, size)


def _entry(pen: _Pen, entry: Entry, left_mm: float, top_mm: float) -> None:
    em, height = pen.em_mm, entry.height_em * pen.em_mm
    pen.ink(palette.INK)
    if entry.kind == "tick":
        side = entry.rows[0].size_em * pen.cap_em * em if entry.rows else em
        pen.box(left_mm, top_mm, side, side, filled=False, line_mm=0.05 * em)
    elif entry.kind == "note":
        pen.box(left_mm + 0.02 * em, top_mm, 0.14 * em, height, filled=False, line_mm=0.03 * em)
    elif entry.must:
        pen.box(left_mm, top_mm - 0.05 * em, 0.2 * em, height + 0.1 * em, filled=True)
    for row in entry.rows:
        pen.ink(palette.QUIET if row.role == "under" else palette.INK)
        indent = row.x_em if entry.rows else INDENT_EM
        pen.text(left_mm + indent * em, top_mm + row.top_em * em, row.text, row.size_em * em, bold=row.bold)


def _cut_marks(canvas: Any, paper: Paper, left_mm: float, top_mm: float) -> None:
    """Mark where to cut: at the rim of the sheet, and a cross where two cuts meet inside."""
    pen = _Pen(canvas, 1.0, 0.0, 0.0, paper)
    pen.ink(palette.QUIET)
    canvas.setLineWidth(0.2 / MM_PER_PT)
    xs = [left_mm + n * paper.width_mm for n in range(paper.across + 1)]
    ys = [top_mm + n * paper.height_mm for n in range(paper.down + 1)]
    wide, high = paper.sheet_width_mm, paper.sheet_height_mm
    for x in xs:
        if 0.5 < x < wide - 0.5:
            start, end = max(0.0, top_mm - 1 - CUT_MM), max(CUT_MM, top_mm - 1)
            canvas.line(*pen.point(x, start), *pen.point(x, end))
            canvas.line(*pen.point(x, high - start), *pen.point(x, high - end))
    for y in ys:
        if 0.5 < y < high - 0.5:
            start, end = max(0.0, left_mm - 1 - CUT_MM), max(CUT_MM, left_mm - 1)
            canvas.line(*pen.point(start, y), *pen.point(end, y))
            canvas.line(*pen.point(wide - start, y), *pen.point(wide - end, y))
    for x in xs[1:-1]:
        for y in ys[1:-1]:
            canvas.line(*pen.point(x - CUT_MM / 2, y), *pen.point(x + CUT_MM / 2, y))
            canvas.line(*pen.point(x, y - CUT_MM / 2), *pen.point(x, y + CUT_MM / 2))
