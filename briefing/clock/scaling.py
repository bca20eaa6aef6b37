"""Make a workout smaller by one factor, until somebody finishes it well inside its cap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from briefing.board.models import Amount, Cycle, Interrupt, Part, Station, Work, Workout
from briefing.clock.simulate import NORMAL, Effort, Run, simulate
from briefing.clock.tally import per_side
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.units import Person, Unit

# Our choice: a tenth of the cap is kept back, since nobody is told to plan for the last second.
SHARE = 0.9
# Our choice, after common practice: whoever is new to a workout does at most two thirds of it.
LIGHTER_SHARE = Fraction(2, 3)
# Steps that people count in. Our choice: home and street distances are known to 50 m, a hold is read to 5 s.
STEP_M = 50
STEP_S = 5


class ScaledAmount(Model):
    """A line's new amounts by round beside the written ones, both sides together; `part` counts from 0.

    `per_side` is one side's share of a single amount.
    """

    part: int
    movement: str
    unit: Unit
    by_round: tuple[int, ...]
    written: tuple[int, ...]
    per_side: int | None = None
    interrupt: bool = False


class Scaled(Model):
    """A workout made smaller for one person.

    `factor` is the greatest that fits, 1 for "as written". `fits` is False where even the smallest step does not, and
    where no part has a clock to fit into: then nothing is changed. `end_s` is when this person is done.
    """

    person: Person
    factor: float
    fits: bool
    end_s: float
    amounts: tuple[ScaledAmount, ...]
    workout: Workout


def scale(
    workout: Workout,
    movements: Mapping[str, Movement],
    person: Person,
    share: float = SHARE,
    *,
    effort: Effort = NORMAL,
) -> Scaled:
    """Give the greatest factor on all amounts with which this person finishes inside `share` of the clock.

    Every amount of a part with a cap (or with windows whose work is to be completed) is multiplied by the factor and
    floored to what people count: whole reps, in pairs where a movement has two sides, and by planned rounds where
    totals are split; 50 m (10 m below 100 m, 5 m below 20 m); 5 s (1 s below 10 s); whole calories. No amount falls
    below one step, none grows. Ladders without an end, "as many as possible", rests and loads stay as written.

    `share` is greater than 0, at most 1. The factors that make a difference are finite; the greatest is found by
    binary search, since more never finishes sooner.
    """
    if not any(_has_clock(p) for p in workout.parts):
        return _scaled(workout, workout, movements, person, (Fraction(1), False), effort)
    factors = factors_of(workout)
    low, high = 0, len(factors)
    while low < high:
        middle = (low + high) // 2
        smaller = scale_by(workout, factors[middle])
        if fits(smaller, simulate(smaller, movements, person, effort=effort), share):
            low = middle + 1
        else:
            high = middle
    factor = factors[max(0, low - 1)]
    return _scaled(workout, scale_by(workout, factor), movements, person, (factor, low > 0), effort)


def fits(workout: Workout, run: Run, share: float) -> bool:
    """Say whether every part with a clock is finished inside `share` of it, window by window where it has several."""
    return all(_part_fits(part, run, n, share) for n, part in enumerate(workout.parts) if _has_clock(part))


def factors_of(workout: Workout) -> tuple[Fraction, ...]:
    """Give all factors, at most 1, at which some amount makes a step, in rising order; the last is 1."""
    found = {Fraction(1)}
    for part in workout.parts:
        for work, splits in _scalable(part):
            for n in work.amount.by_round:
                step = step_of(work, n, splits)
                found.update(Fraction(k * step, n) for k in range(1, n // step + 1))
    return tuple(sorted(found))


def scale_by(workout: Workout, factor: Fraction) -> Workout:
    """Give the workout with all amounts of its parts with a clock times `factor`, floored to whole steps."""
    return workout.model_copy(
        update={"parts": tuple(_scale_part(p, factor) if _has_clock(p) else p for p in workout.parts)}
    )


def make_lighter(workout: Workout, easy: Scaled) -> Workout:
    """Give the lighter workout: what the easy person finishes (`easy`), and never more than two thirds of what is written.

    Parts without a clock to fit into (as many rounds as possible, for time without a cap) have two thirds; sets without
    a clock and sets that build up stay: there the weight alone is lighter.
    """
    inside = easy.factor <= LIGHTER_SHARE
    parts = []
    for written, fitted in zip(workout.parts, easy.workout.parts, strict=True):
        if _has_clock(written) and inside:
            parts.append(fitted)
        elif _has_clock(written) or written.goal in {"most", "time"}:
            parts.append(_scale_part(written, LIGHTER_SHARE))
        else:
            parts.append(written)
    return workout.model_copy(update={"parts": tuple(parts)})


def smaller_workouts(
    workout: Workout, movements: Mapping[str, Movement], *, effort: Effort = NORMAL
) -> tuple[Workout, ...]:
    """Give the smaller workouts that a coach may name: what a steady person finishes, and the lighter one."""
    steady, easy = (scale(workout, movements, person, effort=effort) for person in ("steady", "easy"))
    return steady.workout, make_lighter(workout, easy)


def step_of(work: Work, quantity: int, splits: int = 1) -> int:
    """Give the step that an amount of this line is floored to; `splits` is into how many rounds it is divided.

    60 alternating lunges in 5 planned rounds go in steps of 10. Never more than the amount itself.
    """
    each = quantity // splits
    match work.amount.unit:
        case "reps":
            step = 1 if work.sides == "both" else 2
        case "m":
            step = STEP_M if each >= 2 * STEP_M else 10 if each >= 20 else 5
        case "s":
            step = (STEP_S if each >= 2 * STEP_S else 1) * (2 if work.sides == "each" else 1)
        case "cal":
            step = 1
    return max(1, min(step * splits, quantity))


def _has_clock(part: Part) -> bool:
    closed = all(c.rounds is not None for c in part.cycles)
    return closed and part.windows.work_s is not None and part.goal in ("time", "quality", "complete")


def _part_fits(part: Part, run: Run, number: int, share: float) -> bool:
    part_run, windows = run.parts[number], part.windows
    if not part_run.finished:
        return False
    if windows.count == 1 or part.carries_on:
        end_s = part_run.work_over_s if part.goal == "complete" else part_run.end_s
        return end_s - part_run.start_s <= share * (part.clock_s or 0)
    return all(s <= share * (windows.work_s or 0) for s in part_run.window_s)


def _scalable(part: Part) -> Iterator[tuple[Work, int]]:
    """Give each line that can be made smaller, with the number of rounds that its amount is divided into."""
    if not _has_clock(part):
        return
    for cycle in part.cycles:
        for item in cycle.items:
            if isinstance(item, Work) and _may_change(item.amount):
                yield item, _splits(cycle)
    for interrupt in part.interrupts:
        for work in interrupt.works:
            if _may_change(work.amount):
                yield work, 1


def _may_change(amount: Amount) -> bool:
    return bool(amount.by_round) and not amount.step and not amount.most


def _splits(cycle: Cycle) -> int:
    return cycle.plan_rounds or 1 if cycle.any_order else 1


def _scale_part(part: Part, factor: Fraction) -> Part:
    def line(work: Work, splits: int) -> Work:
        return _scale_work(work, factor, splits) if _may_change(work.amount) else work

    def cycle(c: Cycle) -> Cycle:
        items = tuple(line(i, _splits(c)) if isinstance(i, Work) else i for i in c.items)
        return c.model_copy(update={"items": items})

    def interrupt(i: Interrupt) -> Interrupt:
        return i.model_copy(update={"works": tuple(line(w, 1) for w in i.works)})

    return part.model_copy(
        update={
            "stations": tuple(Station(cycles=tuple(cycle(c) for c in s.cycles)) for s in part.stations),
            "interrupts": tuple(interrupt(i) for i in part.interrupts),
        }
    )


def _scale_work(work: Work, factor: Fraction, splits: int) -> Work:
    if factor >= 1:
        return work
    by_round = tuple(_floored(work, n, factor, splits) for n in work.amount.by_round)
    amount = work.amount.model_copy(update={"by_round": by_round, "at_most": None})
    return work.model_copy(update={"amounts": (amount, *work.amounts[1:])})


def _floored(work: Work, quantity: int, factor: Fraction, splits: int) -> int:
    if quantity <= 0:
        return quantity
    step = step_of(work, quantity, splits)
    return max(step, int(factor * quantity / step) * step)


def _scaled(
    workout: Workout,
    smaller: Workout,
    movements: Mapping[str, Movement],
    person: Person,
    found: tuple[Fraction, bool],
    effort: Effort,
) -> Scaled:
    return Scaled(
        person=person,
        factor=float(found[0]),
        fits=found[1],
        end_s=simulate(smaller, movements, person, effort=effort).end_s,
        amounts=tuple(_amounts(workout, smaller)),
        workout=smaller,
    )


def _amounts(workout: Workout, smaller: Workout) -> Iterator[ScaledAmount]:
    for n, (before, after) in enumerate(zip(workout.parts, smaller.parts, strict=True)):
        lines = [(w, v, False) for w, v in zip(before.works, after.works, strict=True)]
        for i, j in zip(before.interrupts, after.interrupts, strict=True):
            lines += [(w, v, True) for w, v in zip(i.works, j.works, strict=True)]
        for written, work, forced in lines:
            by_round = work.amount.by_round
            yield ScaledAmount(
                part=n,
                movement=work.movement,
                unit=work.amount.unit,
                by_round=by_round,
                written=written.amount.by_round,
                per_side=per_side(work, by_round[0]) if len(by_round) == 1 else None,
                interrupt=forced,
            )
