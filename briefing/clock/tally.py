"""How to break a workout up: all ways to split its totals into equal rounds, and what a round takes."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from math import gcd

from briefing.board.models import Amount, At, Cycle, Every, Part, Rest, Station, Windows, Work, Workout, body_of
from briefing.clock.simulate import NORMAL, Effort, PartRun, simulate
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.units import PEOPLE, Person, Unit


class RoundAmount(Model):
    """What one round has of a movement: 24 lunges, 12 on each side. `quantity` is both sides together."""

    movement: str
    quantity: int
    unit: Unit
    per_side: int | None = None


class RoundTimes(Model):
    """What the rounds take one person, in seconds without interrupts and the rests between, and whether they fit.

    `finish_s` is the time for the whole part without a cap. `fits` says whether every round goes between two
    interrupts, None where there are none.
    """

    person: Person
    round_s: tuple[float, ...]
    finish_s: float
    fits: bool | None = None


class Partition(Model):
    """One way to split: so many rounds with these amounts in each, and what they take brisk, steady and easy people."""

    rounds: int
    amounts: tuple[RoundAmount, ...]
    times: tuple[RoundTimes, ...]


def partitions(
    workout: Workout, movements: Mapping[str, Movement], part: int = 0, *, effort: Effort = NORMAL
) -> tuple[Partition, ...]:
    """Give every way to split the totals of a part's body into equal rounds, the fewest rounds first.

    60 swings, 40 push-ups and 24 lunges, 12 on each side, split into 1, 2 or 4 rounds: the number of rounds divides
    every total, and half of it where a movement has two sides, so that no round begins with the other side. A rest
    between rounds and one inside a round are kept. None for an open body and for "as many as possible"; `part` counts
    from 0.
    """
    body = body_of(workout.parts[part])
    totals = _totals(body) if body is not None else None
    if body is None or not totals:
        return ()
    most = gcd(*(total if work.sides == "both" else total // 2 for work, total in totals))
    if any(total % 2 for work, total in totals if work.sides != "both"):
        most = 1
    return tuple(_partition(workout, movements, part, n, effort) for n in range(1, most + 1) if most % n == 0)


def uncapped(workout: Workout) -> Workout:
    """Give the workout without the caps of those parts that would end by themselves: one window of work for time."""
    return workout.model_copy(
        update={
            "parts": tuple(
                p.model_copy(update={"windows": Windows(count=1, work_s=None)}) if ends_by_itself(p) else p
                for p in workout.parts
            )
        }
    )


def ends_by_itself(part: Part) -> bool:
    """Say whether the part is over when its work is done: one window, closed, and not scored by how much."""
    closed = all(c.rounds is not None for c in part.cycles) and not any(w.amount.most for w in part.works)
    return closed and part.windows.count == 1 and part.goal in ("time", "quality")


def between_interrupts_s(part: Part, run: PartRun) -> float | None:
    """Give the seconds that are left for the work between two interrupts; None where there are not two.

    The shortest time from one to the next, less the longest time that the interrupt took this person, both changes
    with it. Each interrupt is looked at by itself.
    """
    left: list[float] = []
    for interrupt, took_s in zip(part.interrupts, run.interrupt_s, strict=True):
        match interrupt.trigger:
            case Every(every_s=every_s):
                left.append(every_s - took_s)
            case At(times_s=times_s) if len(times_s) > 1:
                left.append(min(b - a for a, b in pairwise(sorted(times_s))) - took_s)
            case _:
                pass
    return round(min(left), 6) if left else None


def round_amounts(works: tuple[tuple[Work, int], ...], rounds: int) -> tuple[RoundAmount, ...]:
    """Give what one of so many equal rounds has of each total."""
    return tuple(
        RoundAmount(
            movement=work.movement,
            quantity=total // rounds,
            unit=work.amount.unit,
            per_side=per_side(work, total // rounds),
        )
        for work, total in works
    )


def per_side(work: Work, quantity: int) -> int | None:
    """Give one side's share; None for a movement without sides and for an odd number."""
    return None if work.sides == "both" or quantity % 2 else quantity // 2


def _totals(body: Cycle) -> tuple[tuple[Work, int], ...]:
    """Give each line's total over all rounds, as the board has it; nothing where there is no end to it."""
    works = [i for i in body.items if isinstance(i, Work)]
    if body.rounds is None or any(w.amount.most for w in works):
        return ()
    summed = ((w, sum(w.amount.in_round(r) for r in range(body.rounds))) for w in works)
    return tuple((w, total) for w, total in summed if total)


def _partition(
    workout: Workout, movements: Mapping[str, Movement], part: int, rounds: int, effort: Effort
) -> Partition:
    split = uncapped(_split(workout, part, rounds))
    times: list[RoundTimes] = []
    for person in PEOPLE:
        run = simulate(split, movements, person, effort=effort).parts[part]
        room_s = between_interrupts_s(split.parts[part], run)
        times.append(
            RoundTimes(
                person=person,
                round_s=run.round_s,
                finish_s=round(run.end_s - run.start_s, 6),
                fits=None if room_s is None else all(s <= room_s for s in run.round_s),
            )
        )
    body = body_of(workout.parts[part])
    totals = _totals(body) if body is not None else ()
    return Partition(rounds=rounds, amounts=round_amounts(totals, rounds), times=tuple(times))


def _split(workout: Workout, part: int, rounds: int) -> Workout:
    """Give the workout with the body of one part as totals that are gone through in so many equal rounds."""
    whole = workout.parts[part]
    body = body_of(whole)

    def split(cycle: Cycle) -> Cycle:
        if cycle is not body:
            return cycle
        totals = {id(w): n for w, n in _totals(cycle)}
        items: list[Work | Rest] = []
        for item in cycle.items:
            if isinstance(item, Rest):
                items.append(item)
            elif id(item) in totals:
                amount = Amount(unit=item.amount.unit, by_round=(totals[id(item)],))
                items.append(item.model_copy(update={"amounts": (amount,)}))
        return cycle.model_copy(update={"items": tuple(items), "rounds": 1, "any_order": True, "plan_rounds": rounds})

    stations = tuple(Station(cycles=tuple(split(c) for c in s.cycles)) for s in whole.stations)
    changed = whole.model_copy(update={"stations": stations})
    return workout.model_copy(update={"parts": (*workout.parts[:part], changed, *workout.parts[part + 1 :])})
