"""What the clock or a break forces in between: when it comes, when first, what it is."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.models import At, Every, Interrupt, OnBreak
from briefing.library.models import Movement
from briefing.telling.numbers import time_words
from briefing.telling.phrases import work_words
from briefing.telling.sentences import join_words, tidy
from briefing.units import write_clock


def when_words(interrupt: Interrupt) -> str:
    """Say when an interrupt comes: "Every three minutes", "At four and eight minutes"."""
    trigger = interrupt.trigger
    if isinstance(trigger, Every):
        return tidy(f"Every {time_words(trigger.every_s)}")
    if isinstance(trigger, At):
        return "At " + join_words([time_words(t) for t in trigger.times_s])
    return "Every time you put it down" if "down" in trigger.phrase else "Every time you break"


def first_words(interrupt: Interrupt) -> str:
    """Say when it first comes: "right at the start", "at three minutes"."""
    trigger = interrupt.trigger
    first = trigger.from_s if isinstance(trigger, Every) else trigger.times_s[0] if isinstance(trigger, At) else 0
    return "right at the start" if first == 0 else f"at {time_words(first)}"


def first_card(interrupt: Interrupt) -> str:
    """Write when it comes, for a card: `every 3:00, first 3:00`."""
    trigger = interrupt.trigger
    if isinstance(trigger, Every):
        return f"every {write_clock(trigger.every_s)} · first {write_clock(trigger.from_s)}"
    if isinstance(trigger, At):
        return "at " + ", ".join(write_clock(t) for t in trigger.times_s)
    return "on every break"


def forced_works(interrupt: Interrupt, movements: Mapping[str, Movement], *, sides: bool = True) -> str:
    """Say the work of an interrupt."""
    return join_words([work_words(w, movements[w.movement], sides=sides) for w in interrupt.works])


def when_board(interrupt: Interrupt) -> str:
    """Write when it comes as it stands on a board: `Every 3:00 from 0:00`, `At 4:00, 8:00`, `Every put-down`."""
    trigger = interrupt.trigger
    if isinstance(trigger, Every):
        return f"Every {write_clock(trigger.every_s)} from {write_clock(trigger.from_s)}"
    if isinstance(trigger, At):
        return "At " + ", ".join(write_clock(t) for t in trigger.times_s)
    return "Every put-down" if "down" in trigger.phrase or "drop" in trigger.phrase else "Every break"


def break_words(trigger: OnBreak) -> str:
    """Say what a break is: "Every time you {put the weight down}"."""
    return "put the weight down" if "down" in trigger.phrase or "drop" in trigger.phrase else "break"
