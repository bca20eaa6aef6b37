"""Units of time, length and load: exact conversions and how a time is written."""

from __future__ import annotations

from typing import Literal, NamedTuple

Unit = Literal["reps", "m", "s", "cal"]
Person = Literal["brisk", "steady", "easy"]
PEOPLE: tuple[Person, ...] = ("brisk", "steady", "easy")


class UnitWords(NamedTuple):
    """How a unit is called: of one, of several, and what stands behind a number on a board or a card."""

    one: str
    many: str
    short: str


UNIT_WORDS: dict[Unit, UnitWords] = {
    "reps": UnitWords("rep", "reps", ""),
    "m": UnitWords("meter", "meters", " m"),
    "s": UnitWords("second", "seconds", " s"),
    "cal": UnitWords("calorie", "calories", " cal"),
}
# What two sides of a body are called, and what else is said for each.
SIDE_NAMES: dict[str, tuple[str, ...]] = {"arm": ("arm", "hand"), "leg": ("leg", "foot"), "side": ("side",)}
ALL_SIDE_NAMES: frozenset[str] = frozenset(name for names in SIDE_NAMES.values() for name in names)

# International yard and pound agreement of 1959; exact by definition.
KG_PER_LB = 0.45359237
M_PER_YD = 0.9144
M_PER_FT = 0.3048
M_PER_MI = 1609.344
M_PER_IN = 0.0254


def write_clock(seconds: float) -> str:
    """Write a time as people write it on a board: `0:45`, `12:00`, `1:02:03`. Rounds to whole seconds.

    >>> write_clock(720)
    '12:00'
    """
    whole = int(seconds + 0.5)
    hours, rest = divmod(whole, 3600)
    minutes, secs = divmod(rest, 60)
    if hours:
        return f"{hours}:{minutes:02d}:{secs:02d}"
    return f"{minutes}:{secs:02d}"


def with_unit(number: str, unit: Unit) -> str:
    """Write a number with its unit as it stands on a board: `20`, `200 m`, `15 cal`."""
    return number + UNIT_WORDS[unit].short


def write_number(value: float) -> str:
    """Write a number without a needless `.0`: `22.5`, `20`."""
    return f"{value:.10g}" if value != int(value) else str(int(value))


def read_moment(text: str) -> int | None:
    """Read a place in a recording in whole seconds, as `read_clock` does; a bare `0` is the start. None for anything else."""
    return 0 if text.strip() == "0" else read_clock(text)


def read_clock(text: str) -> int | None:
    """Read `9:00`, `1:02:03`, `:45` or plain seconds with a unit (`90 s`, `12 min`); None when it is none of these.

    Gives whole seconds. `9:60` and negative times are None.
    """
    cleaned = text.strip().lower().replace(" ", "")
    if ":" in cleaned:
        parts = cleaned.split(":")
        if len(parts) > 3 or not all(p.isascii() and p.isdigit() for p in parts[1:]):
            return None
        if parts[0] and not (parts[0].isascii() and parts[0].isdigit()):
            return None
        if any(len(p) != 2 or int(p) > 59 for p in parts[1:]) or len(parts[0]) > 3:
            return None
        total = 0
        for p in parts:
            total = total * 60 + int(p or "0")
        return total
    for endings, factor in (
        (("minutes", "minute", "mins", "min", "m", "'"), 60),
        (("seconds", "second", "secs", "sec", "s", '"'), 1),
        (("hours", "hour", "hrs", "hr", "h"), 3600),
    ):
        for ending in endings:
            number = cleaned.removesuffix(ending)
            if number != cleaned and number.isascii() and number.isdigit() and len(number) <= 5:
                return int(number) * factor
    return None


# Numbers in words: to nineteen, the tens, and the value of each single word.
ONES = (
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
NUMBER_WORDS: dict[str, int] = {
    **{word: n for n, word in enumerate(ONES)},
    **{word: 10 * n for n, word in enumerate(TENS) if word},
}
