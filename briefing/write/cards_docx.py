"""The deck as DOCX: one card a page, the same rows as on paper, in styles that a coach can change."""

from __future__ import annotations

import uuid
from typing import Any

from briefing.write import palette
from briefing.write.deck import INDENT_EM, PITCH_EM, TICK_INDENT_EM, Card, Deck, Entry, Row
from briefing.write.pages_docx import add_styled, finish_docx, style_ids
from briefing.write.sheets import HAND_MM, HEAD_EM, Fitting, Paper
from briefing.write.type import ARROW, FAMILY, MM_PER_PT, face, width_em

# Stands in where a program ignores the font inside the file; its advances are within a few percent of the card font's.
FALLBACK = "Arial"
# White around the type: less than on the PDF, so that the rows also fit in the font that stands in.
MARGIN_MM = 5.0
# The widest border that a DOCX can draw, in points (ECMA-376, ST_EighthPointMeasure of a border: 96 eighths).
WIDEST_BORDER_PT = 12.0
# The line of a number alone, as a share of its size: digits have no descenders. Our choice.
NUMBER_LINE = 0.8


def cards_docx(deck: Deck, paper: Paper, fitting: Fitting) -> bytes:
    """Write the deck as a DOCX whose pages are as large as the card; the same bytes each time."""
    from docx import Document  # noqa: PLC0415 - slow to import, needed here alone
    from docx.enum.section import WD_ORIENT  # noqa: PLC0415
    from docx.shared import Mm  # noqa: PLC0415

    document = Document()
    section = document.sections[0]
    section.orientation = WD_ORIENT.LANDSCAPE
    section.page_width, section.page_height = Mm(paper.width_mm), Mm(paper.height_mm)
    section.left_margin = section.right_margin = section.bottom_margin = Mm(MARGIN_MM)
    section.top_margin = Mm(MARGIN_MM + HAND_MM)
    section.header_distance, section.footer_distance = Mm(MARGIN_MM), Mm(1)
    _Styles(document, fitting.em_pt, deck.frame.small_em)
    section.header.paragraphs[0].text = f"{deck.title}: cue cards"
    ids = style_ids(document)
    for card in deck.cards:
        _Page(document, ids, card, deck, paper, fitting).write()
    _embed_font(document)
    return finish_docx(document, f"{deck.title}: cue cards")


class _Styles:
    """The styles of the cards; changing one changes all cards."""

    def __init__(self, document: Any, em_pt: float, small_em: float) -> None:
        from docx.enum.style import WD_STYLE_TYPE  # noqa: PLC0415
        from docx.shared import Pt  # noqa: PLC0415

        normal = document.styles["Normal"]
        _font(normal, em_pt)
        normal.paragraph_format.space_after = Pt(0)
        for name, size, bold, colour in (
            ("Card phrase", 1.0, False, palette.INK),
            ("Card must", 1.0, True, palette.INK),
            ("Card side count", 1.0, False, palette.QUIET),
            ("Card tick", small_em, False, palette.INK),
            ("Card next", small_em, False, palette.ACCENT),
        ):
            style = document.styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
            style.base_style = normal
            _font(style, size * em_pt, bold=bold, colour=colour)
            _exact(style.paragraph_format, size * PITCH_EM * em_pt)
            style.paragraph_format.space_before = style.paragraph_format.space_after = Pt(0)
        heading = document.styles["Heading 1"]
        _font(heading, small_em * em_pt, colour=palette.ACCENT)
        _exact(heading.paragraph_format, min(HEAD_EM, PITCH_EM * small_em) * em_pt)
        heading.paragraph_format.space_before = heading.paragraph_format.space_after = Pt(0)
        header = document.styles["Header"]
        _font(header, 11.0, colour=palette.QUIET)
        _exact(header.paragraph_format, 13.0)


class _Page:
    """Writes one card."""

    def __init__(
        self, document: Any, ids: dict[str, str], card: Card, deck: Deck, paper: Paper, fitting: Fitting
    ) -> None:
        self.document = document
        self.ids = ids
        self.card = card
        self.deck = deck
        self.paper = paper
        self.em_pt = fitting.em_pt

    def write(self) -> None:
        """Write heading, entries and foot, with white above and below as the card has it."""
        from docx.shared import Pt  # noqa: PLC0415

        card, frame = self.card, self.deck.frame
        heading = add_styled(self.document, self.ids, "Heading 1")
        heading.add_run(self._heading())
        heading.paragraph_format.page_break_before = card.number > 1
        foot = len(card.foot) * PITCH_EM * frame.small_em
        # Nine tenths of the white that is left: what rounding takes stays on the page.
        white = 0.9 * max(0.0, frame.height_em - foot - card.height_em - 0.8) / 2
        for at, entry in enumerate(card.entries):
            before = white if at == 0 else card.gap_em - (PITCH_EM - face().capital_em) * _size(entry)
            self._entry(entry, before * self.em_pt)
        for at, text in enumerate(card.foot):
            paragraph = add_styled(self.document, self.ids, "Card next")
            paragraph.add_run(text)
            paragraph.paragraph_format.left_indent = Pt(INDENT_EM * self.em_pt)
            if at == 0:
                paragraph.paragraph_format.space_before = Pt(white * self.em_pt)
                # The wedge that points to what comes next is a border: the font has no shape for it.
            _border(paragraph, 2.0, "single", palette.ACCENT, space_pt=4)

    def _heading(self) -> str:
        """Give what the card is about, its clock and number; what it is about is left out where that is too wide."""
        card, frame = self.card, self.deck.frame
        place = f"{card.clock}   {card.number}/{len(self.deck.cards)}"
        whole = f"{card.head}   {place}"
        return whole if width_em(whole) * frame.small_em <= frame.width_em else place

    def _entry(self, entry: Entry, before_pt: float) -> None:
        from docx.shared import Pt  # noqa: PLC0415

        number = next((r for r in entry.rows if r.role == "number"), None)
        beside = [r for r in entry.rows if number and r.x_em > INDENT_EM + 1e-6]
        if number and beside:
            spacer = add_styled(self.document, self.ids, "Card next")
            _exact(spacer.paragraph_format, max(1.0, before_pt))
            self._beside(entry, number, beside)
            rest = [r for r in entry.rows if r is not number and r not in beside]
        else:
            rest = list(entry.rows)
        for at, row in enumerate(rest):
            paragraph = add_styled(self.document, self.ids, _style_of(entry, row))
            _write(paragraph, row, self.em_pt)
            paragraph.paragraph_format.left_indent = Pt(
                (TICK_INDENT_EM if entry.kind == "tick" else INDENT_EM) * self.em_pt
            )
            if row.size_em > 1.0:
                _exact(
                    paragraph.paragraph_format,
                    row.size_em * (NUMBER_LINE if row.role == "number" else PITCH_EM) * self.em_pt,
                )
            if at == 0 and not (number and beside):
                paragraph.paragraph_format.space_before = Pt(max(0.0, before_pt))
            if entry.kind == "tick":
                if at == 0:
                    _tick_box(paragraph, TICK_INDENT_EM * self.em_pt)
            elif entry.kind == "note":
                _border(paragraph, 3.0, "double", palette.INK, space_pt=6)
            elif entry.must:
                _border(paragraph, min(WIDEST_BORDER_PT, 0.2 * self.em_pt), "single", palette.INK, space_pt=5)

    def _beside(self, entry: Entry, number: Row, beside: list[Row]) -> None:
        """Write a number with its label beside it: a table of two cells without lines, the bar of a must at its left."""
        from docx.oxml.ns import qn  # noqa: PLC0415
        from docx.shared import Pt  # noqa: PLC0415

        table = self.document.add_table(rows=1, cols=2)
        table.autofit = False
        whole = (self.paper.width_mm - 2 * MARGIN_MM) / MM_PER_PT
        first = (beside[0].x_em) * self.em_pt
        for column, cell, wide in zip(table.columns, table.rows[0].cells, (first, whole - first), strict=True):
            column.width = cell.width = Pt(wide)
            properties = cell._tc.get_or_add_tcPr()  # noqa: SLF001 - python-docx has no other way to cell margins
            margins = properties.makeelement(qn("w:tcMar"), {})
            for side in ("left", "right"):
                margins.append(margins.makeelement(qn(f"w:{side}"), {qn("w:w"): "0", qn("w:type"): "dxa"}))
            properties.append(margins)
        left, right = table.rows[0].cells
        paragraph = left.paragraphs[0]
        paragraph._p.style = self.ids["Card must" if entry.must else "Card phrase"]  # noqa: SLF001
        _exact(paragraph.paragraph_format, number.size_em * NUMBER_LINE * self.em_pt)
        paragraph.paragraph_format.left_indent = Pt(INDENT_EM * self.em_pt)
        _write(paragraph, number, self.em_pt)
        if entry.must:
            _border(paragraph, min(WIDEST_BORDER_PT, 0.2 * self.em_pt), "single", palette.INK, space_pt=5)
        for at, row in enumerate(beside):
            paragraph = right.paragraphs[0] if at == 0 else right.add_paragraph()
            paragraph._p.style = self.ids[_style_of(entry, row)]  # noqa: SLF001
            if at == 0 and len(beside) == 1:
                paragraph.paragraph_format.space_before = Pt(
                    max(0.0, number.size_em * NUMBER_LINE - PITCH_EM) * self.em_pt
                )
            _write(paragraph, row, self.em_pt)


def _size(entry: Entry) -> float:
    return entry.rows[-1].size_em if entry.rows and entry.rows[-1].role != "number" else 1.0


def _style_of(entry: Entry, row: Row) -> str:
    if entry.kind == "tick":
        return "Card tick"
    if row.role == "under":
        return "Card side count"
    return "Card must" if row.bold else "Card phrase"


def _write(paragraph: Any, row: Row, em_pt: float) -> None:
    from docx.shared import Pt  # noqa: PLC0415

    for at, part in enumerate(row.text.split(ARROW)):
        if at:
            # The font has no arrow; the one that stands in has.
            run = paragraph.add_run(ARROW)
            run.font.name = FALLBACK
        run = paragraph.add_run(part)
        if row.size_em > 1.0:
            run.font.size = Pt(round(row.size_em * em_pt * 2) / 2)
            run.bold = row.bold or None


def _font(style: Any, size_pt: float, *, bold: bool = False, colour: str = palette.INK) -> None:
    from docx.oxml.ns import qn  # noqa: PLC0415
    from docx.shared import Pt, RGBColor  # noqa: PLC0415

    style.font.name = FAMILY
    fonts = style.element.get_or_add_rPr().get_or_add_rFonts()
    for theme in ("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme"):
        fonts.attrib.pop(qn(f"w:{theme}"), None)
    fonts.set(qn("w:cs"), FAMILY)
    style.font.size, style.font.bold = Pt(int(size_pt * 2) / 2), bold
    style.font.color.rgb = RGBColor.from_string(colour.removeprefix("#").upper())


def _exact(paragraph_format: Any, points: float) -> None:
    from docx.enum.text import WD_LINE_SPACING  # noqa: PLC0415
    from docx.shared import Pt  # noqa: PLC0415

    paragraph_format.line_spacing_rule = WD_LINE_SPACING.EXACTLY
    paragraph_format.line_spacing = Pt(points)
    paragraph_format.widow_control = False
    paragraph_format.keep_with_next = False


def _border(paragraph: Any, wide_pt: float, kind: str, colour: str, *, space_pt: int) -> None:
    from docx.oxml.ns import qn  # noqa: PLC0415

    properties = paragraph._p.get_or_add_pPr()  # noqa: SLF001 - python-docx has no other way to borders
    borders = properties.makeelement(qn("w:pBdr"), {})
    values = {"val": kind, "sz": str(int(wide_pt * 8)), "space": str(space_pt), "color": colour.removeprefix("#")}
    borders.append(borders.makeelement(qn("w:left"), {qn(f"w:{k}"): v for k, v in values.items()}))
    properties.insert_element_before(
        borders, "w:shd", "w:tabs", "w:suppressAutoHyphens", "w:spacing", "w:ind", "w:jc", "w:rPr"
    )  # fmt: skip


def _tick_box(paragraph: Any, indent_pt: float) -> None:
    """Put a box before a row: an empty run with a border, for the font has no box."""
    from docx.oxml.ns import qn  # noqa: PLC0415
    from docx.shared import Pt  # noqa: PLC0415

    paragraph.paragraph_format.first_line_indent = Pt(-indent_pt)
    paragraph.paragraph_format.tab_stops.add_tab_stop(Pt(indent_pt))
    first = paragraph.runs[0]._r  # noqa: SLF001 - the box stands before the words
    box = paragraph.add_run("\u00a0\u00a0\u00a0")
    # A border is as high as its letters' line: smaller letters make a box as high as a capital.
    box.font.size = Pt(int(0.5 * indent_pt / TICK_INDENT_EM * 2) / 2)
    properties = box._r.get_or_add_rPr()  # noqa: SLF001
    values = {"val": "single", "sz": "18", "space": "0", "color": palette.INK.removeprefix("#")}
    properties.append(properties.makeelement(qn("w:bdr"), {qn(f"w:{k}"): v for k, v in values.items()}))
    tab = paragraph.add_run("\t")
    first.addprevious(box._r)  # noqa: SLF001
    first.addprevious(tab._r)  # noqa: SLF001


def _embed_font(document: Any) -> None:
    """Put both weights of the font into the file, as ECMA-376 part 4 describes: the first 32 bytes mixed with a key."""
    from docx.opc.packuri import PackURI  # noqa: PLC0415
    from docx.opc.part import Part  # noqa: PLC0415
    from docx.oxml.ns import qn  # noqa: PLC0415

    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    word = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    table = document.part.part_related_by(f"{office}/fontTable")
    embeds = []
    for number, (tag, bold) in enumerate((("embedRegular", False), ("embedBold", True)), 1):
        key = uuid.uuid5(uuid.NAMESPACE_URL, f"briefing card font {number}")
        part = Part(
            PackURI(f"/word/fonts/font{number}.odttf"),
            "application/vnd.openxmlformats-officedocument.obfuscatedFont",
            _mixed(face(bold=bold).path.read_bytes(), key),
            document.part.package,
        )
        relation = table.relate_to(part, f"{office}/font")
        embeds.append(f'<w:{tag} r:id="{relation}" w:fontKey="{{{str(key).upper()}}}"/>')
    entry = (
        f'<w:font w:name="{FAMILY}"><w:altName w:val="{FALLBACK}"/><w:charset w:val="00"/>{"".join(embeds)}</w:font>'
    )
    text = table.blob.decode("utf-8")
    if f'xmlns:r="{office}"' not in text:
        text = text.replace(f'xmlns:w="{word}"', f'xmlns:w="{word}" xmlns:r="{office}"', 1)
    table._blob = text.replace("</w:fonts>", f"{entry}</w:fonts>").encode()  # noqa: SLF001 - the part has no other way in
    settings = document.settings.element
    embed = settings.makeelement(qn("w:embedTrueTypeFonts"), {})
    zoom = settings.find(qn("w:zoom"))
    settings.insert(0 if zoom is None else settings.index(zoom) + 1, embed)


def _mixed(font: bytes, key: uuid.UUID) -> bytes:
    mask = key.bytes[::-1]
    return bytes(b ^ mask[n % 16] for n, b in enumerate(font[:32])) + font[32:]
