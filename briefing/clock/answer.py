"""What the coach wants to hear from the clock: finish times, scores, interrupts, and what a round takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from briefing.board.models import Part, Scheme, Work, Workout, body_of, planned_rounds
from briefing.clock.people import is_untimed
from briefing.clock.simulate import NORMAL, Done, Effort, PartRun, Run, simulate
from briefing.clock.tally import between_interrupts_s, ends_by_itself, per_side, uncapped
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.units import PEOPLE, Person, Unit, write_clock

# Our choice: how far somebody is into a run is known to about ten metres, unless it is the score itself.
READ_M = 10


class InterruptTotal(Model):
    """What interrupts add of one movement: `quantity` is both sides together, `per_side` is a number or None."""

    movement: str
    quantity: int
    unit: Unit
    per_side: int | None = None


class PlannedRound(Model):
    """What one round takes, counted from 1, in seconds without interrupts and the rest before it.

    `fits` says whether it goes between two interrupts; None where there are not two.
    """

    round: int
    seconds: float
    fits: bool | None = None


class PartAnswer(Model):
    """How one part goes for one person. Seconds count from the start of the part.

    `finish_s` is None where the work is not completed inside the cap, and where the clock decides when it is over.
    `whole_s` is what the written work would take without the cap, None where it has no end of its own. `cap_s` is the
    part's whole clock. `interrupts` counts those that are due before the end. `rounds` has every planned round, also
    those beyond the cap. `between_s` is the time for work between two interrupts.
    """

    scheme: Scheme
    cap_s: int | None
    finished: bool
    finish_s: float | None
    whole_s: float | None
    end_s: float
    score: str
    rounds_done: int
    interrupts: int
    interrupt_totals: tuple[InterruptTotal, ...]
    between_s: float | None
    rounds: tuple[PlannedRound, ...]


class PersonAnswer(Model):
    """How the workout goes for one person; `finish_s` is None where a part was stopped by its cap.

    `score` is the score of each part that has one, as one would write it down: `4 rounds and 23 reps`.
    """

    person: Person
    finished: bool
    finish_s: float | None
    end_s: float
    score: str
    interrupts: int
    interrupt_totals: tuple[InterruptTotal, ...]
    parts: tuple[PartAnswer, ...]


class Clock(Model):
    """How the workout goes for brisk, steady and easy people, in this order.

    `untimed` has the movements whose time nobody knows (`clock/people.py`): where there is one, the times are no times to tell.
    """

    people: tuple[PersonAnswer, ...]
    untimed: tuple[str, ...] = ()

    def of(self, person: Person) -> PersonAnswer:
        """Give the answer for one kind of person."""
        return next(p for p in self.people if p.person == person)


def work_through(workout: Workout, movements: Mapping[str, Movement], *, effort: Effort = NORMAL) -> Clock:
    """Work the workout through for all three kinds of people and give what the coach wants to hear.

    `work_through(slack_water, movements).of("steady").finish_s` is None where steady people are stopped by the cap.
    """
    people = tuple(_answer(workout, movements, person, effort) for person in PEOPLE)
    return Clock(people=people, untimed=untimed_in(workout.works, movements))


def untimed_in(works: Iterable[Work], movements: Mapping[str, Movement]) -> tuple[str, ...]:
    """Give the movements of some work whose time nobody knows, each once, in the board's order."""
    open_ = (w for w in works if w.movement in movements)
    return tuple(dict.fromkeys(w.movement for w in open_ if is_untimed(movements[w.movement], w.amount.unit, w.tempo)))


def score_text(part: Part, run: PartRun) -> str:
    """Write the score of a part as one would note it.

    `17:32`, `4 rounds and 23 reps`, `stopped at 22:00 with 3 rounds and 40 reps`, `through the 12s and 5 reps`,
    `12 of 15 minutes`. Calories and metres stand beside the reps: `4 rounds, 20 reps and 150 m`.
    """
    clock = write_clock(run.end_s - run.start_s)
    match part.scheme:
        case "for-time" | "for-quality" | "sets":
            return clock if run.finished else f"stopped at {clock} with {_progress(part, run)}"
        case "open-ladder":
            return _ladder(part, run)
        case "build-to-max":
            return f"{_count(run.rounds_done, 'set')} in {clock}"
        case "every" | "intervals" | "amrap" | "max-reps" if part.goal == "complete":
            name = "minute" if part.windows.work_s == 60 and not part.windows.gap_s else "round"
            if part.until_missed:
                return _count(run.windows_made, "whole minute")
            return f"{run.windows_made} of {_count(part.windows.count, name)}"
        case "every" | "intervals" | "amrap" | "max-reps":
            one_sum = part.scheme == "max-reps" or (part.windows.count > 1 and not part.carries_on)
            return write_amounts(run.work_done) if one_sum else _progress(part, run)


def write_amounts(done: Iterable[Done]) -> str:
    """Write amounts by unit, reps first: `20 reps and 150 m`, `12 calories`, `1:30` for seconds, `nothing`."""
    sums: dict[Unit, int] = {"reps": 0, "cal": 0, "m": 0, "s": 0}
    for d in done:
        sums[d.unit] += d.quantity
    written = [_amount(unit, n) for unit, n in sums.items() if n]
    return _listed(written) if written else "nothing"


def _answer(workout: Workout, movements: Mapping[str, Movement], person: Person, effort: Effort) -> PersonAnswer:
    run = simulate(workout, movements, person, effort=effort)
    whole = run if run.finished else simulate(uncapped(workout), movements, person, effort=effort)
    parts = tuple(_part_answer(p, run.parts[n], whole.parts[n]) for n, p in enumerate(workout.parts))
    return PersonAnswer(
        person=person,
        finished=run.finished,
        finish_s=run.end_s if run.finished else None,
        end_s=run.end_s,
        score="; ".join(p.score for p in parts),
        interrupts=sum(p.interrupts for p in parts),
        interrupt_totals=interrupt_totals(workout, run),
        parts=parts,
    )


def _part_answer(part: Part, run: PartRun, whole: PartRun) -> PartAnswer:
    room_s = between_interrupts_s(part, whole)
    own_end = ends_by_itself(part)
    took_s = round(run.end_s - run.start_s, 6)
    by_itself = part.goal in ("time", "quality")
    return PartAnswer(
        scheme=part.scheme,
        cap_s=part.clock_s,
        finished=run.finished,
        finish_s=took_s if run.finished and by_itself else None,
        whole_s=round(whole.end_s - whole.start_s, 6) if own_end and whole.finished else None,
        end_s=took_s,
        score=score_text(part, run),
        rounds_done=run.rounds_done,
        interrupts=sum(run.interrupts_due),
        interrupt_totals=part_interrupt_totals(part, run),
        between_s=room_s,
        rounds=tuple(
            PlannedRound(round=n, seconds=s, fits=None if room_s is None else s <= room_s)
            for n, s in enumerate(whole.round_s, start=1)
        ),
    )


def interrupt_totals(workout: Workout, run: Run) -> tuple[InterruptTotal, ...]:
    """Give what the interrupts of all parts add for this run, by movement and unit, in the board's order."""
    return _added(
        t for part, part_run in zip(workout.parts, run.parts, strict=True) for t in _interrupt_works(part, part_run)
    )


def part_interrupt_totals(part: Part, run: PartRun) -> tuple[InterruptTotal, ...]:
    """Give what the interrupts of one part add: those due before the end, each with its written amount."""
    return _added(_interrupt_works(part, run))


def _interrupt_works(part: Part, run: PartRun) -> list[tuple[Work, int]]:
    return [
        (work, sum(work.amount.in_round(nth) for nth in range(due)))
        for interrupt, due in zip(part.interrupts, run.interrupts_due, strict=True)
        for work in interrupt.works
    ]


def _added(works: Iterable[tuple[Work, int]]) -> tuple[InterruptTotal, ...]:
    sums: dict[tuple[str, Unit], tuple[Work, int, bool]] = {}
    for work, quantity in works:
        key = work.movement, work.amount.unit
        first, so_far, sided = sums.get(key, (work, 0, True))
        sums[key] = first, so_far + quantity, sided and work.sides != "both"
    return tuple(
        InterruptTotal(
            movement=movement, quantity=quantity, unit=unit, per_side=per_side(work, quantity) if sided else None
        )
        for (movement, unit), (work, quantity, sided) in sums.items()
    )


def _progress(part: Part, run: PartRun) -> str:
    """Write how far somebody came: rounds and what stands beyond them, or only that where there is one round."""
    body = body_of(part)
    if body is None or planned_rounds(body) == 1:
        return write_amounts(run.work_done)
    rounds = _count(run.rounds_done, "round")
    sums: dict[Unit, int] = {"reps": 0, "cal": 0, "m": 0, "s": 0}
    for d in run.into_next:
        sums[d.unit] += d.quantity
    sums["m"] -= sums["m"] % READ_M
    return _listed([rounds, *(_amount(unit, n) for unit, n in sums.items() if n)])


def _ladder(part: Part, run: PartRun) -> str:
    """Write how far somebody came on a ladder: the last rung that was completed, and what stands beyond it."""
    body = body_of(part)
    work = next((i for i in body.items if isinstance(i, Work) and i.amount.step), None) if body else None
    if work is None or not run.rounds_done:
        return write_amounts(run.work_done)
    rung = f"through the {work.amount.in_round(run.rounds_done - 1)}s"
    return f"{rung} and {write_amounts(run.into_next)}" if run.into_next else rung


def _amount(unit: Unit, n: int) -> str:
    match unit:
        case "reps":
            return _count(n, "rep")
        case "cal":
            return _count(n, "calorie")
        case "m":
            return f"{n:,} m"
        case "s":
            return write_clock(n)


def _count(n: int, name: str) -> str:
    return f"{n:,} {name}" if n == 1 else f"{n:,} {name}s"


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
