"""Adding up: what the board comes to over all rounds, each movement once, both sides together."""

from __future__ import annotations

from briefing.board.models import Cycle, Part, Work, Workout, body_of
from briefing.problems import Model
from briefing.units import Unit


class Total(Model):
    """All of one movement in one unit; `per_side` is half of it where the sides share it, else None."""

    movement: str
    quantity: int
    unit: Unit
    per_side: float | None = None


def per_side(work: Work, quantity: float) -> float | None:
    """Give the half that each side does; None where both sides work together."""
    if not shares_sides(work):
        return None
    half = quantity / 2
    return int(half) if half == int(half) else half


def shares_sides(work: Work) -> bool:
    """Say whether the sides share the amount: a minute of marching on alternate feet is not halved, unless it is written."""
    return work.sides != "both" and (work.amount.unit == "reps" or work.sides_written)


def rounds_of(part: Part) -> int | None:
    """Give how many rounds a part has, as a coach would say it: windows of an every, rounds of a cycle; None: open."""
    if part.until_missed:
        return None
    if part.windows.count > 1:
        stations = max(1, len(part.stations))
        return part.windows.count // stations if part.windows.count % stations == 0 else part.windows.count
    body = body_of(part)
    return body.rounds if body else None


def ladders_differ(part: Part) -> bool:
    """Say whether two lines of a part have numbers of their own, or count metres: then no one list can stand for the part.

    Calories are counted one by one as repetitions are, and share their list.
    """
    lists = {
        (w.amount.by_round, w.amount.step, w.amount.unit in {"reps", "cal"}) for w in part.works if w.amount.varies
    }
    return len(lists) > 1 or any(not single for _, _, single in lists)


def times_done(part: Part, cycle: Cycle, station: int) -> int | None:
    """Give how many times a whole cycle of a station is begun over all windows; None where it is open."""
    stations = max(1, len(part.stations))
    windows = part.windows.count // stations + (1 if station < part.windows.count % stations else 0)
    if part.until_missed or (part.carries_on and part.windows.count > 1):
        return None
    return None if cycle.rounds is None else windows


def add_up(workout: Workout, group: int = 0) -> tuple[Total, ...]:
    """Give the totals of the work as written, in the board's order; what interrupts and open rounds are left out.

    Options never change totals. `group` 1 is the lighter of two numbers (15/12), where a line has two.
    """
    sums: dict[tuple[str, Unit], float] = {}
    halves: dict[tuple[str, Unit], bool] = {}
    for part in workout.parts:
        for index, station in enumerate(part.stations):
            for cycle in station.cycles:
                times = times_done(part, cycle, index)
                if times is None or cycle.rounds is None:
                    continue
                for work in cycle.items:
                    if not isinstance(work, Work) or work.amount.most:
                        continue
                    amount = work.amounts[min(group, len(work.amounts) - 1)]
                    key = (work.movement, amount.unit)
                    if cycle.rounds == 1 and amount.varies:  # a number for each window, not for each round
                        whole = sum(amount.in_round(n) for n in range(times))
                    else:
                        whole = times * sum(amount.in_round(n) for n in range(cycle.rounds))
                    sums[key] = sums.get(key, 0) + whole
                    halves[key] = halves.get(key, True) and shares_sides(work)
    out = []
    for (movement, unit), quantity in sums.items():
        half = quantity / 2 if halves[(movement, unit)] else None
        if half is not None and half == int(half):
            half = int(half)
        out.append(Total(movement=movement, quantity=int(quantity), unit=unit, per_side=half))
    return tuple(out)
