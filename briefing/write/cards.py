"""The deck as a page (one card a screen, keys to step) and as a DOCX (one card a page)."""

from __future__ import annotations

from briefing.write import palette
from briefing.write.deck import Card, Deck, Entry
from briefing.write.templates import Templates
from briefing.write.walk import finish_docx

# Advance of an average character as a share of the type size, for bold sans type. Our choice, on the safe side.
AVERAGE_ADVANCE = 0.6


def cards_html(deck: Deck, templates: Templates) -> str:
    """Write the deck as one self-contained page."""
    cards = [
        {"card": c, "rows": rows_of(c), "chars": chars_of(c), "number_chars": number_chars_of(c), "clock": c.clock}
        for c in deck.cards
    ]
    return templates.fill("cards.html", {"title": deck.title, "cards": cards, "count": len(cards), "colours": palette})


def rows_of(card: Card) -> float:
    """Give how many rows of type a card needs: a number is one and a half, what stands beneath is half a row."""
    return max(2.2, sum((1.5 if e.number else 1.0) + (0.6 if e.under else 0.0) for e in card.entries))


def chars_of(card: Card) -> int:
    """Give the longest line of a card in characters of its ordinary type; long phrases may break once."""
    return max(8, *(_chars(e) for e in card.entries))


def _chars(entry: Entry) -> int:
    words = len(entry.label) + (0 if entry.number is None else round(len(entry.number) * 1.7) + 2)
    return max(words if words <= 26 else max(20, (words + 1) // 2 + 3), round(0.55 * len(entry.under or "")))


def number_chars_of(card: Card) -> int:
    """Give the longest number of a card in characters."""
    return max((len(e.number) for e in card.entries if e.number), default=1)


def cards_docx(deck: Deck) -> bytes:
    """Write the deck as a DOCX: A4 landscape, one card a page, real styles, the same bytes each time."""
    from docx import Document  # noqa: PLC0415 - slow to import, needed here alone
    from docx.enum.section import WD_ORIENT  # noqa: PLC0415
    from docx.shared import Cm, Pt  # noqa: PLC0415

    document = Document()
    section = document.sections[0]
    section.orientation = WD_ORIENT.LANDSCAPE
    section.page_width, section.page_height = Cm(29.7), Cm(21.0)
    section.left_margin = section.right_margin = Cm(1.5)
    section.top_margin = section.bottom_margin = Cm(1.2)
    document.styles["Normal"].font.name = "Arial"
    document.styles["Heading 1"].font.name = "Arial"
    document.styles["Heading 1"].font.size = Pt(20)
    document.styles["Heading 1"].paragraph_format.space_before = Pt(0)
    for card in deck.cards:
        heading = document.add_heading(_heading(card), level=1)
        heading.paragraph_format.page_break_before = card.number > 1
        size = min(80.0, 395 / (rows_of(card) * 1.28), 750 / (chars_of(card) * AVERAGE_ADVANCE))
        for entry in card.entries:
            paragraph = document.add_paragraph()
            paragraph.paragraph_format.space_after = Pt(2)
            paragraph.paragraph_format.line_spacing = 1.0
            if entry.must:
                run = paragraph.add_run("● ")
                run.font.size = Pt(size * 0.6)
            if entry.number:
                run = paragraph.add_run(entry.number + "  ")
                run.bold, run.font.size = True, Pt(size * 1.35)
            run = paragraph.add_run(entry.label)
            run.bold, run.font.size = entry.must, Pt(size)
            if entry.under:
                under = document.add_paragraph()
                under.paragraph_format.space_after = Pt(4)
                under.add_run(entry.under).font.size = Pt(max(14.0, size * 0.5))
        foot = document.add_paragraph()
        foot.paragraph_format.space_before = Pt(6)
        foot.add_run(f"next: {card.next_action}    {card.number} of {len(deck.cards)}").font.size = Pt(18)
    return finish_docx(document, f"{deck.title}: cue cards")


def _heading(card: Card) -> str:
    about = f" · {card.thought}" if card.thought else ""
    part = f"  {card.part}" if card.part else ""
    return f"{card.title.upper()}{about}{part}    {card.clock}"
