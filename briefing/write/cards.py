"""The deck as one page for any screen and as a DOCX with one card a page."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from markupsafe import Markup

from briefing.outline.models import Outline
from briefing.settings.models import Settings
from briefing.write import palette
from briefing.write.deck import Card, Deck, Entry, make_deck, needed_em
from briefing.write.gaze import gaze_words
from briefing.write.sheets import Frame, least_height_em
from briefing.write.templates import Templates
from briefing.write.type import ARROW, FAMILY, GOOD_ARCMIN, LEAST_ARCMIN, face, font_base64

# The frames of a screen, in ems: a phone and a tablet upright, both on their side, a tablet near, a laptop farther and nearer.
# The page takes the largest one that fits the screen at the type's size. Our choice after the sizes of common screens.
SCREEN_FRAMES: tuple[tuple[float, float], ...] = (
    (6.4, 9.5),
    (6.4, 6.5),
    (8.0, 4.45),
    (8.0, 7.5),
    (10.4, 4.45),
    (10.4, 6.0),
    (14.0, 7.4),
)
# The frame that is shown where no script runs; the page's other measures stand in the template.
PLAIN_FRAME = 3
# The columns of the log that the page saves, divided by tabs; times as h:mm:ss.t from the first start.
LOG_COLUMNS = ("clock", "what", "segment", "take", "planned", "title")


def screen_decks(outline: Outline) -> dict[str, tuple[Deck, ...]]:
    """Make the decks for all frames of a screen, in phrases and in sentences."""
    least, small = needed_em(outline), LEAST_ARCMIN / GOOD_ARCMIN
    frames = [Frame(width_em=max(w, least), height_em=max(h, least_height_em(small))) for w, h in SCREEN_FRAMES]
    return {
        "phrases": tuple(make_deck(outline, f, "phrases") for f in frames),
        "sentences": tuple(make_deck(outline, f, "sentences") for f in frames),
    }


def cards_html(outline: Outline, templates: Templates) -> str:
    """Write the cards as one self-contained page: the font, all frames, the clocks and keys; without scripts it scrolls."""
    decks = screen_decks(outline)
    plain = decks["phrases"][PLAIN_FRAME]
    values = {
        "title": outline.title,
        "plain": plain,
        "clocks": [_planned(plain, c) for c in plain.cards],
        "data": Markup(script_json(_data(outline, decks))),  # noqa: S704 - JSON in which no < is left
        "regular": font_base64(),
        "bold": font_base64(bold=True),
        "family": FAMILY,
        "pieces": row_pieces,
        "gaze": gaze_words(outline.settings),
        "colours": palette.COLOURS,
    }
    return templates.fill("cards.html", values)


def script_json(value: Any) -> str:
    """Write JSON that may stand inside a page: no letter of it can end the script element or reads as markup or a call."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    for letter in "<>&(\u2028\u2029":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return text


def row_pieces(text: str) -> list[str]:
    """Cut a row at its arrows, so that they can be drawn between the pieces."""
    return text.split(ARROW)


def _planned(deck: Deck, card: Card) -> str:
    return deck.segments[card.segment].clock if card.segment >= 0 else card.clock


def _data(outline: Outline, decks: dict[str, tuple[Deck, ...]]) -> dict[str, Any]:
    settings = outline.settings
    key = hashlib.sha256(f"{outline.series} {outline.title}".encode()).hexdigest()[:12]
    return {
        "title": outline.title,
        "key": key,
        "segments": [[s.title, s.start_tenths, s.tenths] for s in decks["phrases"][0].segments],
        "decks": {density: [_deck_data(d) for d in some] for density, some in decks.items()},
        "capital": face().capital_em,
        "distance": settings.reading_distance_m,
        "eyesight": settings.eyesight,
        "screen": _screen_data(settings),
        "density": settings.cards,
        "least": LEAST_ARCMIN,
        "good": GOOD_ARCMIN,
        "columns": LOG_COLUMNS,
    }


def _screen_data(settings: Settings) -> list[float] | None:
    return [settings.screen.long_mm, settings.screen.short_mm] if settings.screen else None


def _deck_data(deck: Deck) -> dict[str, Any]:
    return {
        "w": deck.frame.width_em,
        "h": deck.frame.height_em,
        "small": deck.frame.small_em,
        "cards": [
            {
                "k": c.kind,
                "s": c.segment,
                "t": c.title,
                "h": c.head,
                "a": c.start_tenths,
                "b": c.end_tenths,
                "g": _short(c.gap_em),
                "f": c.foot,
                "e": [_entry_data(e) for e in c.entries],
            }
            for c in deck.cards
        ],
    }


def _entry_data(entry: Entry) -> list[Any]:
    rows = [
        [
            r.text,
            _short(r.x_em),
            _short(r.top_em),
            _short(r.size_em),
            int(r.bold),
            r.role[0] if r.role != "label" else "",
        ]
        for r in entry.rows
    ]
    return [entry.kind, int(entry.must), _short(entry.height_em), rows]


def _short(number: float) -> float:
    return round(number, 3)
