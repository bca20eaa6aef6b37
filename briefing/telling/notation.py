"""A line of work in the notation of the board, one way for each thing, so that it is read again as the same line.

20 goblet step-ups, alternating
12 push presses @ 22.5/15 kg, 6 each arm
5 back squats @ 60%, 5 @ 70%, 3 @ 80%
2 power cleans + 1 push jerk @ 70 kg
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from briefing.board.models import Load, Option, Part, Work
from briefing.board.totals import shares_sides
from briefing.library.models import UNIT_OF, Movement
from briefing.telling.figures import how_written
from briefing.telling.phrases import many_words, name_words
from briefing.units import Unit, with_unit, write_clock


@dataclass(frozen=True)
class Style:
    """How much a board tells.

    `full` tells besides what a board leaves to be understood, for people who did not write it: the share of each side of a
    movement that has two, the letters of parts that nobody named.
    """

    full: bool = False


# What `briefing board` prints and what is read again as the very same workout; and what members are given.
NORMAL = Style()
PAPER = Style(full=True)


def movement_of(work: Work, movements: Mapping[str, Movement]) -> Movement:
    """Give the movement of a line; one that nobody knows goes by the name that was written."""
    found = movements.get(work.movement)
    if found is not None:
        return found
    return Movement(slug=work.movement, name=work.written, plural=work.written, file="", carried=True)


def own_numbers(part: Part) -> bool:
    """Say whether each line of a part shows its own numbers: the head has a list only where one list is right for all lines."""
    lists = {listed(w) for w in part.works if w.amount.varies and not w.loads_by_round}
    counted = all(w.amount.unit in {"reps", "cal"} for w in part.works if w.amount.varies)
    climbs = part.goal == "complete" and any(w.amount.step for w in part.works)
    headed = part.scheme in {"for-time", "open-ladder", "for-quality"} or climbs
    return len(lists) > 1 or not counted or not headed


def listed(work: Work) -> str:
    """Write a line's numbers round by round; of one side, where the line says "each"."""
    half = 2 if work.sides_written and work.sides != "alternating" else 1
    return "-".join(str(n // half) for n in work.amount.by_round) + ("-…" if work.amount.step else "")


def work_board(work: Work, movements: Mapping[str, Movement], style: Style, *, own: bool, load: bool = True) -> str:
    """Write a line of work. `own` shows a list of numbers in front; `load` is off where a complex tells it at its end."""
    movement = movement_of(work, movements)
    if work.loads_by_round:
        words = [f"{_by_round(work, movement)}"]
    else:
        words = [" ".join(x for x in (_count(work, movement, own=own), _name(work, movement)) if x)]
        if load and (weight := loads_board(work.loads)):
            words[0] += f" @ {weight}"
    words += _sides(work, style)
    return ", ".join([*words, *how_written(work)])


def complex_board(works: Sequence[Work], movements: Mapping[str, Movement], style: Style, *, own: bool) -> str:
    """Write what goes on without putting the weight down in one line; one load for all of it stands at the end."""
    one = len({w.loads for w in works}) == 1
    pieces = [work_board(w, movements, style, own=own, load=not one or w is works[-1]) for w in works]
    return " + ".join(pieces)


def option_board(option: Option, of: Work, movements: Mapping[str, Movement], style: Style) -> str:
    """Write another way to do a line, with its reasons: `or 24 alternating reverse lunges (no step)`.

    Numbers of its own for every round stand in front; those of the line itself go without saying.
    """
    reasons = ", ".join(option.written_reasons or option.reasons)
    amount = option.work.amount
    own = amount.varies and (amount.by_round, amount.step) != (of.amount.by_round, of.amount.step)
    words = work_board(option.work, movements, style, own=own)
    return f"or {words}" + (f" ({reasons})" if reasons else "")


def complexes(works: Iterable[Work]) -> list[list[Work]]:
    """Put lines together that go on without putting the weight down; a line with an option of its own ends its line."""
    out: list[list[Work]] = []
    for work in works:
        if work.joined and out and not out[-1][-1].options:
            out[-1].append(work)
        else:
            out.append([work])
    return out


def _name(work: Work, movement: Movement) -> str:
    amount = work.amount
    several = amount.unit == "reps" and (amount.varies or amount.most or amount.in_round(0) != 1)
    return many_words(movement) if several else name_words(movement)


# What stands before a name whose numbers are in a list.
_COUNTED: dict[Unit, str] = {"cal": "cal", "m": "meters"}


def _count(work: Work, movement: Movement, *, own: bool) -> str:
    amount = work.amount
    usual = UNIT_OF[movement.counts[0]] == amount.unit
    if not amount.most and not amount.by_round:
        return ""  # as much of it as one likes: a movement of a warm-up without a number
    if amount.most:
        return "max" if usual or amount.unit == "s" else with_unit("max", amount.unit)
    if amount.varies:
        # What the numbers count stands before the name, where it is not what this movement counts anyhow.
        unit = "" if usual or amount.unit in {"reps", "s"} else _COUNTED[amount.unit]
        return " ".join(x for x in (listed(work) if own else "", unit) if x)
    numbers = [a.in_round(0) for a in work.amounts]
    if amount.unit == "s":
        return "/".join(write_clock(n) for n in numbers)
    written = f"{numbers[0]}-{amount.at_most}" if amount.at_most else "/".join(str(n) for n in numbers)
    return with_unit(written, amount.unit)


def _by_round(work: Work, movement: Movement) -> str:
    """Write a load of its own for every round: `5 back squats @ 60%, 5 @ 70%, 3 @ 80%`."""
    said = []
    for number, load in enumerate(work.loads_by_round):
        count = "max" if work.amount.most else str(work.amount.in_round(number))
        unit = "" if work.amount.unit == "reps" or work.amount.most else f" {work.amount.unit}"
        name = f" {_name(work, movement)}" if not number else ""
        said.append(f"{count}{unit}{name} @ {loads_board((load,))}")
    return ", ".join(said)


def _sides(work: Work, style: Style) -> list[str]:
    """Write how the sides share it: with its number where it halves, else in words."""
    amount, side = work.amount, work.side_word or "side"
    number = amount.in_round(0)
    halves = bool(amount.by_round) and not (amount.most or amount.varies or number % 2)
    half = write_clock(number // 2) if amount.unit == "s" else str(number // 2)
    out = ["alternating"] if work.sides == "alternating" and work.sides_written else []
    if work.sides_written and work.sides == "each":
        out.append(f"{half} each {side}" if halves else f"each {side}")
    elif style.full and halves and shares_sides(work) and len(work.amounts) == 1:
        out.append(f"{half} each {side}")
    return out


def loads_board(loads: tuple[Load, ...]) -> str:
    """Write a load, or a heavier and a lighter one with the unit once: `2 x 22.5/15 kg`, `80% of your best`."""
    if not loads:
        return ""
    count = f"{loads[0].count} x " if loads[0].count > 1 else ""
    units = {load.written.split()[-1] for load in loads}
    if len(loads) == 2 and len(units) == 1 and all(" " in load.written for load in loads):
        unit = units.pop()
        return count + "/".join(load.written.removesuffix(unit).strip() for load in loads) + f" {unit}"
    return count + "/".join(load.written for load in loads)
