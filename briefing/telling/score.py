"""The score: what is written down, and what can be argued about in it."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.models import Part
from briefing.board.totals import rounds_of
from briefing.library.models import Movement
from briefing.telling.phrases import many_words, name_words


def score_key(part: Part) -> str | None:
    """Give the phrase that says what is written down; None where nobody has said."""
    capped = part.windows.work_s is not None
    once = rounds_of(part) == 1
    return {
        "time": ("score time cap once" if once else "score time cap") if capped else "score time",
        "rounds and repetitions": "score rounds",
        "nothing": "score nothing",
        None: None,
    }.get(part.score, "score words")


def scored(part: Part, movements: Mapping[str, Movement]) -> dict[str, tuple[str, ...]]:
    """Give what can be argued about in a score of repetitions, by phrase: a distance half done, what the clock forces in.

    An item of a round counts when it is done: common practice, no source.
    """
    if part.score not in {"time", "rounds and repetitions"} or (part.score == "time" and part.windows.work_s is None):
        return {}
    far = tuple(dict.fromkeys(name_words(movements[w.movement]) for w in part.works if w.amount.unit != "reps"))
    forced = tuple(dict.fromkeys(many_words(movements[w.movement]) for i in part.interrupts for w in i.works))
    return {k: v for k, v in (("scored whole", far), ("scored forced", forced)) if v}
