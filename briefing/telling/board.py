"""A workout written as a board: one writer for the terminal, the members' papers and the description.

Every field of the model is told, in one notation for each thing, so that what is written can be read again as the same
workout. The notation of what is not told by a form of `board/forms.py` alone:

| what | how it stands |
| --- | --- |
| warm-up, cool-down | a line `Warm-up`, the parts below it, a line `Workout`; at the end a line `Cool-down` |
| heading | a line of its own above the head: `Strength` |
| rest that is a range | `Rest 2:00-3:00`, `Rest 2:00-3:00 between sets` |
| rest with something to do | `Rest 1:30, walk`, `Rest 1:30, walk between rounds`, `Rest as needed, walk` |
| rest between stretches with something to do | `3:00 on / 1:30 walk for 5 rounds` |
| an effort and a recovery in turn | `8 x (1:00 hard / 1:00 easy) run` |
| sets of sets | `2 sets of (4 x 300 m run, rest 1:00), 3:00 between sets` |
| sets of sets of several lines | `2 sets of 4 rounds` above them; below `Rest 1:00 between rounds`, `Rest 3:00 between sets` |
| a complex | `2 power cleans + 1 push jerk @ 70 kg`; below a line with options it goes on with `+ 1 push jerk` |
| a load for every round | `5 back squats @ 60%, 5 @ 70%, 3 @ 80%` |
| an effort, a pace | `15:00 run, easy` · `800 m run, @ 4:00/km` |
| how a team shares | `In pairs, together` · `, split as you like` · `, one works, one rests` · `, a round each` · `, one works until the other is back` · `, swap every 250 m` |
| a team of more | `In teams of 3, one works until the next is back` |
| a buy-in or a finish of several rounds | `Buy-in: 3 rounds`, its lines below, one step further in |
| several rounds in a window | `Every 5:00 for 4 rounds, 3 rounds each` |
| a rest before the rounds | `Buy-in: Rest 1:00` |
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from briefing.board.models import Cycle, Interrupt, Part, Rest, Work, Workout, body_of
from briefing.library.models import Movement
from briefing.telling.heads import head_board, only_work, score_board, whole_board
from briefing.telling.interrupts import when_board
from briefing.telling.notation import (
    NORMAL,
    Style,
    complex_board,
    complexes,
    option_board,
    own_numbers,
    work_board,
)
from briefing.telling.rests import rest_board, rests_of
from briefing.telling.sentences import upper_first
from briefing.telling.sharing import team_words
from briefing.units import write_clock


class BoardLine(NamedTuple):
    """One line of a board: how far it is set in (0 head, 1 work, 2 option), and its words. No words: a blank line."""

    level: int
    words: str


def write_board(workout: Workout, movements: Mapping[str, Movement], style: Style = NORMAL) -> str:
    """Write a workout as a board, ending with a line end; `movements` gives the names.

    5 rounds for time, cap 22:00
      20 goblet step-ups, alternating
    """
    return "\n".join("  " * x.level + x.words for x in board_lines(workout, movements, style)) + "\n"


def board_lines(workout: Workout, movements: Mapping[str, Movement], style: Style = NORMAL) -> tuple[BoardLine, ...]:
    """Give the lines of a board: warm-up, workout, cool-down, with a blank line between two parts."""
    out: list[BoardLine] = []
    if workout.warm_up:
        out += [BoardLine(0, "Warm-up"), *_parts(workout.warm_up, movements, style, letters=False)]
        out += [BoardLine(0, ""), BoardLine(0, "Workout")]
    out += _parts(workout.parts, movements, style, letters=True)
    if workout.cool_down:
        out += [BoardLine(0, "")] if out else []
        out += [BoardLine(0, "Cool-down"), *_parts(workout.cool_down, movements, style, letters=False)]
    return tuple(out)


def _parts(
    parts: tuple[Part, ...], movements: Mapping[str, Movement], style: Style, *, letters: bool
) -> Iterator[BoardLine]:
    for number, part in enumerate(parts):
        if number:
            yield BoardLine(0, "")
        yield from _part(parts, number, movements, style, letters=letters)
        follows = parts[number + 1] if number + 1 < len(parts) else None
        if part.rest_after_s and (follows is None or follows.span_s is None):
            yield BoardLine(0, f"Rest {write_clock(part.rest_after_s)} between parts")


def _part(
    parts: tuple[Part, ...], number: int, movements: Mapping[str, Movement], style: Style, *, letters: bool
) -> Iterator[BoardLine]:
    part = parts[number]
    whole = whole_board(part, movements, style)
    head = whole or head_board(part)
    name = part.name
    if name is None and letters and len(parts) > 1 and part.span_s is None and (style.full or (number and not head)):
        # Without a letter and without a head its lines would be read as more of the part above.
        name = chr(ord("A") + number)
    if name:
        yield BoardLine(0, f"Part {name}")
    if part.heading:
        yield BoardLine(0, part.heading)
    if head:
        yield BoardLine(0, head)
    if team := team_words(part):
        yield BoardLine(0, upper_first(team))
    if whole is None:
        yield from _stations(part, movements, style)
    elif (work := only_work(part)) is not None:
        yield from _options(work, movements, style, 1)
    for interrupt in part.interrupts:
        yield from _interrupt(interrupt, movements, style)
    yield from (BoardLine(0, rest.board) for rest in rests_of(part) if whole is None)
    if part.target and part.goal != "heaviest":
        yield BoardLine(0, f"aim for {part.target}")
    if score := score_board(part):
        yield BoardLine(0, score)


def _stations(part: Part, movements: Mapping[str, Movement], style: Style) -> Iterator[BoardLine]:
    several = len(part.stations) > 1
    spread = several and part.scheme == "intervals" and all(w.amount.most for w in part.works)
    for number, station in enumerate(part.stations, 1):
        label = f"{number}. " if several and not (spread and all(s.cycles for s in part.stations)) else ""
        if not station.cycles:
            yield BoardLine(1, f"{label}off")
        for cycle in station.cycles:
            yield from _cycle(part, cycle, movements, style, label)
            label = ""


def _cycle(
    part: Part, cycle: Cycle, movements: Mapping[str, Movement], style: Style, label: str
) -> Iterator[BoardLine]:
    once, level = _once(part, cycle), 1
    inside = len(part.stations) > 1 and cycle.rounds != 1
    if (once and cycle.rounds != 1) or inside:
        # Several rounds of their own: a head, and the lines one step further in.
        head = "AMRAP" if cycle.rounds is None else f"{cycle.rounds} rounds"
        yield BoardLine(1, f"{once}{label}{head}")
        once, label, level = "", "", 2
    for row in _rows(cycle):
        if isinstance(row, Rest):
            yield BoardLine(level, f"{once}{label}{rest_board(row)}" if once else rest_board(row))
            continue
        words = _row_words(part, cycle, row, movements, style)
        yield BoardLine(level, f"{once}{label}{words}")
        for work in row:
            yield from _options(work, movements, style, level + 1)
        label = ""
    if level == 2 and cycle.rest_between_s:
        yield BoardLine(level, f"Rest {write_clock(cycle.rest_between_s)} between rounds")


def _row_words(part: Part, cycle: Cycle, row: list[Work], movements: Mapping[str, Movement], style: Style) -> str:
    own = own_numbers(part)
    varies = part.windows.count == 1 and any(
        isinstance(i, Work) and i.amount.varies and not i.loads_by_round for i in cycle.items
    )
    words = complex_board(row, movements, style, own=own)
    if row[0].joined:
        words = f"+ {words}"
    single = row[0].amount
    return words + (" after each round" if varies and not single.varies and not single.most else "")


def _rows(cycle: Cycle) -> Iterator[Rest | list[Work]]:
    """Give the rows of a cycle: a rest, or the works that stand in one line."""
    run: list[Work] = []
    for item in cycle.items:
        if isinstance(item, Work):
            run.append(item)
            continue
        yield from complexes(run)
        run = []
        yield item
    yield from complexes(run)


def _once(part: Part, cycle: Cycle) -> str:
    body = body_of(part)
    if cycle is body or len(part.stations) != 1:
        return ""
    places = [id(c) for c in part.cycles]
    return "Buy-in: " if places.index(id(cycle)) < places.index(id(body)) else "Finish: "


def _options(work: Work, movements: Mapping[str, Movement], style: Style, level: int) -> Iterator[BoardLine]:
    yield from (BoardLine(level, option_board(o, work, movements, style)) for o in work.options)


def _interrupt(interrupt: Interrupt, movements: Mapping[str, Movement], style: Style) -> Iterator[BoardLine]:
    works = " + ".join(work_board(w, movements, style, own=w.amount.varies) for w in interrupt.works)
    yield BoardLine(0, f"{when_board(interrupt)}: {works}")
    for work in interrupt.works:
        yield from _options(work, movements, style, 2)
