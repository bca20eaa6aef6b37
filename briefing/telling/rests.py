"""Rests: among the work, between rounds, between sets of rounds, after certain rounds, between parts.

Each is told as words (a phrase of the wording and what fills it), on a card, and as a line of the board.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from briefing.board.models import Cycle, Part, Rest, Windows, body_of
from briefing.board.totals import rounds_of
from briefing.telling.figures import Figure
from briefing.telling.numbers import count_words, times_between_words
from briefing.units import write_clock, write_number

# What is done in a rest, where it begins with one of these, follows "and": "rest two minutes and walk". Our choice.
_DOING = re.compile(
    r"(?:walk|jog|march|breathe|stretch|shake|stand|sit|lie|row|ride|run|drink|keep|stay|move|hang|hold|go)\b"
)


class Rested(NamedTuple):
    """A rest between rounds as it is said and written: phrase, what fills it, card, figure, line of the board."""

    phrase: str
    values: dict[str, str]
    card: str
    figure: Figure | None
    board: str


def rests_of(part: Part) -> list[Rested]:
    """Give every rest between the rounds of a part: a time, as needed, as long as the round, after certain rounds."""
    body = body_of(part)
    if body is None or rounds_of(part) == 1:
        return []
    return [*_between(part, body), *_as_long(body), *_between_sets(body), *_after_rounds(body)]


def _between(part: Part, body: Cycle) -> list[Rested]:
    # The rest that a board writes between times through comes on top of what is off after the last station.
    turn_s = max(0, part.windows.turn_gap_s - part.windows.gap_s)
    rest_s = turn_s or body.rest_between_s
    sets = part.sets and not block_rest_s(body)
    name = "sets" if sets else "rounds"
    if rest_s is None:
        board = f"Rest {rest_time(None, None, body.rest_doing)} between {name}"
        return [Rested("rest as needed", {}, _with_doing("rest as needed", body.rest_doing), None, board)]
    if not rest_s:
        return []
    at_most_s, doing = (None, None) if turn_s else (body.rest_at_most_s, body.rest_doing)
    key = "rest between sets" if sets else "rest between untimed"
    if part.goal in {"time", "most"} and not part.sets and not doing:
        key = "rest between"
    clock = clock_range(rest_s, at_most_s)
    return [
        Rested(
            "rest after turn" if turn_s else key,
            {"time": rest_words(rest_s, at_most_s, doing)},
            _with_doing(f"{clock} rest between rounds", doing),
            Figure(number=clock, label=_with_doing("rest between rounds", doing)),
            f"Rest {rest_time(rest_s, at_most_s, doing)} between {name}",
        )
    ]


def _as_long(body: Cycle) -> list[Rested]:
    if not body.rest_ratio:
        return []
    words = as_long_words(body.rest_ratio)
    over = Fraction(body.rest_ratio).limit_denominator(9)
    board = "Rest as long as the work" if over == 1 else f"work:rest {over.denominator}:{over.numerator}"
    return [Rested("rest as long", {"ratio": words}, f"rest {words} as the round", None, board)]


def as_long_words(ratio: float) -> str:
    """Say how long a rest is against the work: `as long`, `twice as long`, `1.5 times as long`."""
    known = {1.0: "as long", 2.0: "twice as long", 0.5: "half as long"}
    return known.get(ratio, f"{write_number(round(ratio, 2))} times as long")


def block_rest_s(cycle: Cycle) -> int | None:
    """Give the rest between sets of rounds, where the same one stands behind each set; None where there is none."""
    if not cycle.block or not cycle.rounds:
        return None
    own = dict(cycle.rest_after)
    found = {own.get(n) for n in range(cycle.block, cycle.rounds, cycle.block)}
    return found.pop() if len(found) == 1 else None


def _between_sets(body: Cycle) -> list[Rested]:
    rest_s = block_rest_s(body)
    if not rest_s:
        return []
    clock = write_clock(rest_s)
    values = {"time": rest_words(rest_s)}
    figure = Figure(number=clock, label="rest between sets")
    card, board = f"{clock} rest between sets", f"Rest {clock} between sets"
    return [Rested("rest between sets", values, card, figure, board)]


def _after_rounds(body: Cycle) -> list[Rested]:
    of_sets = range(body.block, body.rounds or 0, body.block) if block_rest_s(body) else range(0)
    out = []
    for number, seconds in body.rest_after:
        if number in of_sets:
            continue
        clock, values = write_clock(seconds), {"round": f"round {count_words(number)}", "time": rest_words(seconds)}
        figure = Figure(number=clock, label=f"rest after round {number}")
        card, board = f"{clock} rest after round {number}", f"Rest {clock} after round {number}"
        out.append(Rested("rest after round", values, card, figure, board))
    return out


def rest_words(seconds: int, at_most_s: int | None = None, doing: str | None = None) -> str:
    """Say how long and what is done meanwhile: `two to three minutes`, `two minutes and walk`, `a minute with easy row`."""
    said = times_between_words(seconds, at_most_s)
    if not doing:
        return said
    return f"{said} {'and' if _DOING.match(doing) else 'with'} {doing}"


def clock_range(seconds: int, at_most_s: int | None = None) -> str:
    """Write a time or a range of times: `1:30`, `2:00-3:00`."""
    return write_clock(seconds) + (f"-{write_clock(at_most_s)}" if at_most_s else "")


def rest_time(seconds: int | None, at_most_s: int | None, doing: str | None) -> str:
    """Write what stands behind "Rest" on a board: `1:30`, `2:00-3:00, walk`, `as needed`."""
    return _with_doing(clock_range(seconds, at_most_s) if seconds else "as needed", doing)


def rest_board(rest: Rest) -> str:
    """Write a rest among the work as a line of the board: `Rest 1:30, walk`."""
    return f"Rest {rest_time(rest.seconds, rest.at_most_s, rest.doing)}"


def rest_card(rest: Rest) -> str:
    """Write it for a card: `rest 1:30, walk`."""
    return f"rest {rest_time(rest.seconds, rest.at_most_s, rest.doing)}"


def gap_board(windows: Windows) -> str:
    """Write the rest between two stretches of the clock: `0:20 off`, or what is done in it: `1:30 walk`."""
    return f"{write_clock(windows.gap_s)} {windows.gap_doing or 'off'}"


def _with_doing(words: str, doing: str | None) -> str:
    return f"{words}, {doing}" if doing else words
