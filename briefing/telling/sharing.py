"""How a team shares the work, in one notation for each way: the board's words only where nobody knows what they mean."""

from __future__ import annotations

from briefing.board.models import Amount, Part
from briefing.units import with_unit, write_clock

# What pairs do, then what larger teams do.
_RULES: dict[str, tuple[str, str]] = {
    "together": ("together", "together"),
    "share": ("split as you like", "split as you like"),
    "turns": ("one works, one rests", "one works, the others rest"),
    "rounds": ("a round each", "a round each"),
    "relay": ("one works until the other is back", "one works until the next is back"),
    "swap": ("swap", "swap"),
}


def team_words(part: Part) -> str | None:
    """Write how a team shares a part: `in pairs, a round each`, `in teams of 3, swap every 250 m`; None for one person."""
    if part.team_size < 2:
        return part.team
    who = "in pairs" if part.team_size == 2 else f"in teams of {part.team_size}"
    if part.team_rule is None:
        return part.team or who
    rule = _RULES[part.team_rule][0 if part.team_size == 2 else 1]
    if part.swap_every is not None:
        rule = f"swap every {_each(part.swap_every)}"
    return f"{who}, {rule}"


def _each(amount: Amount) -> str:
    number = amount.in_round(0)
    if amount.unit == "s":
        return write_clock(number)
    return f"{number} reps" if amount.unit == "reps" else with_unit(str(number), amount.unit)
