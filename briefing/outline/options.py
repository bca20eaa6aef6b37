"""Options of the board as they are said, and how each is done where nothing else tells."""

from __future__ import annotations

from collections.abc import Iterable

from briefing.board.models import Work
from briefing.library.models import Version
from briefing.outline.material import Material
from briefing.outline.models import Line
from briefing.telling.figures import work_card
from briefing.telling.phrases import name_words, option_words
from briefing.telling.reasons import why_words
from briefing.telling.sentences import lower_first

# Options for these reasons change where the workout can be done at all, so they are said with the workout itself.
_PLACE_REASONS = frozenset({"small room", "wet ground", "quiet"})


def said_with_workout(m: Material, work: Work, at: int) -> bool:
    """Say whether an option is said with the workout itself: it decides whether the workout can be done at this place."""
    option = work.options[at]
    return bool(_PLACE_REASONS & set(option.reasons)) and m.of(work.movement).pattern in {"run", "row", "ride", "carry"}


def option_lines(m: Material, work: Work, at: int) -> list[Line]:
    """Say an option of the board, and how it is done where nothing else in this video tells."""
    line = _option_line(m, work, at)
    movement = m.of(work.options[at].work.movement)
    recap = movement.recap
    # What the coach wrote behind it says how, or differs from how it is usually done.
    if recap is None or work.options[at].work.note or movement.slug in {work.movement, *m.shown}:
        return [line]
    text = m.voice.say("option how", name=name_words(movement), recap=recap)
    card = f"{name_words(movement)}: {lower_first(movement.points[0].card)}" if movement.points else movement.name
    how = m.line(
        "option-how",
        f"{line.id}/how",
        text,
        card,
        rank=at,
        movement=m.of(work.movement),
        needs=line.id,
        source=movement.file,
    )
    return [line, how]


def _option_line(m: Material, work: Work, at: int) -> Line:
    """Say an option of the board. It is one of the board's numbers, so it is must-say."""
    option = work.options[at]
    movement = m.of(option.work.movement)
    why = why_words(option.reasons, option.written_reasons, m.of(work.movement))
    words = option_words(option, movement)
    if not why.endswith("?"):
        words = f"do {words} instead" if "," not in words else f"do {words}"
    text = m.voice.say("option", why=why, work=f"Do {words}" if why.endswith("?") else words)
    reason = (option.written_reasons or option.reasons or ("or",))[0]
    return m.line(
        "option",
        f"{work.movement}/option/{option.work.movement}",
        text if text.endswith((".", "?", "!")) else text + ".",
        f"{reason}: {work_card(option.work, movement)}",
        rank=at,
        must=True,
        movement=m.of(work.movement),
        source="the board",
    )


def noted(version: Version, works: Iterable[Work]) -> bool:
    """Say whether the board itself has this easier version, in the note of an option: `20 step-ups, weight at your side`."""
    return any(version.card.lower() in (o.work.note or "").lower() for w in works for o in w.options)
