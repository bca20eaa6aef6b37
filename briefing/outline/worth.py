"""What a line is worth when time is short: one table, by kind and by rank inside its list.

A line of rank r (0 is the first of its list) is worth `base - drop * r`, never less than 1. Where a list has many, only its
first `room` lines are worth that; the others begin again at `later`: a briefing has room for the two commonest easier
versions and for one fault, the rest stands on the handout. Lines about a movement that this
workout asks for often, overhead or with a landing are worth `ASKED` more where they keep somebody safe (faults, easier
versions, handling). All numbers are our choice; what matters is their order: what a member needs to begin stands above
what makes it better, and that above what is good to know.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from briefing.library.models import Movement


class Worth(NamedTuple):
    """Worth of the first of its kind, how much each later one is worth less, how many have room, what the others begin at."""

    base: int
    drop: int = 0
    room: int = 99
    later: int = 0


# From what has to be heard to what is good to know. Must-say lines stand here too: they are kept whatever they are worth.
WORTH: dict[str, Worth] = {
    "stop": Worth(100),
    "shape": Worth(100),
    "work": Worth(100),
    "forced": Worth(100),
    "cap": Worth(98),
    "rest": Worth(96),
    "score": Worth(96),
    "plan": Worth(95),
    "team": Worth(95),
    "option": Worth(92, 2),
    "what": Worth(92),
    "entry": Worth(94),
    "safety": Worth(90, 2),
    "change": Worth(88),
    "kit": Worth(88),
    "promise": Worth(84),
    "again": Worth(78),
    "again-work": Worth(78),
    "again-forced": Worth(76),
    "again-times": Worth(74, 2),
    "totals": Worth(72),
    "version": Worth(280, 30),
    "option-how": Worth(66, 2),
    "lengths": Worth(80),
    "scored": Worth(58),
    "easier": Worth(70, 8, 2, 19),
    "heavy": Worth(66, 8),
    "loads": Worth(66),
    "feel": Worth(64),
    "point": Worth(64, 6),
    "counts": Worth(62, 8),
    "finish": Worth(60),
    "aim": Worth(60),
    "first-round": Worth(60),
    "change-back": Worth(58),
    "step": Worth(62, 4),
    "fault": Worth(56, 3, 1, 23),
    "timer": Worth(50, 4),
    "go": Worth(50),
    "tally": Worth(48, 4),
    "record": Worth(36),
    "again-stop": Worth(140),
    "again-point": Worth(44, 2),
    "ask-first": Worth(96),
    "caution": Worth(90, 2),
    "own-end": Worth(54),
    "handling": Worth(48, 6),
    "change-next": Worth(38),
    "does-not-count": Worth(34, 6),
    "whole-again": Worth(32),
    "greeting": Worth(62),
    "sign-off": Worth(62),
    "mix": Worth(28),
    "stand-in": Worth(26, 4),
    "feel-it": Worth(24, 6),
    "breath": Worth(22),
    "harder": Worth(12, 4),
    "how": Worth(80, 2),
    "raise": Worth(90, 2),
    "drill": Worth(80, 2),
    "prepare": Worth(86, 2),
    "walk": Worth(90),
    "stretch": Worth(80, 2),
    "breathe": Worth(84),
    "after": Worth(88, 2),
}
ASKED = 8
# Our choice: from here on the sheer number of one movement is what somebody new to it gets sore from.
MANY_REPS = 100
_SAFER = frozenset({"fault", "easier", "handling"})


def worth_of(kind: str, rank: int = 0, *, asked: bool = False) -> int:
    """Give the worth of a line: an integer of at least 1. Raises KeyError for a kind that the table does not have."""
    worth = WORTH[kind]
    more = ASKED if asked and kind in _SAFER else 0
    if rank >= worth.room:
        return max(1, worth.later - worth.drop * (rank - worth.room) + more // 2)
    return max(1, worth.base - worth.drop * rank + more)


def asks_much(movement: Movement, reps: Iterable[int]) -> bool:
    """Say whether this workout asks much of a movement: very many repetitions, overhead, or landings."""
    return sum(reps) >= MANY_REPS or movement.space.overhead != "none" or movement.pattern == "jump"
