"""Checks of a workout and of its fitted outline: two literal lists, a function and a row each."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from briefing.board.models import At, Every, Interrupt, Part, Work, Workout, body_of
from briefing.board.totals import add_up, rounds_of, shares_sides
from briefing.clock.answer import Clock, untimed_in
from briefing.clock.people import seconds_for_one
from briefing.library.models import KitItem, Movement
from briefing.library.names import plural_of
from briefing.library.reading import read_any_kit
from briefing.outline.fit import Fit
from briefing.outline.material import merge_kit
from briefing.outline.models import Outline, Segment
from briefing.problems import Level, Place, Problem
from briefing.settings.models import Settings
from briefing.units import write_clock

# Standing overhead fingertip reach of a man of the 95th percentile is 2.438 m (ANSUR II 2012, derived from the open data);
# a weight held up adds about a hand's breadth (our choice). The head of the same man is at 1.870 m (ANSUR II); a jump adds
# 0.56 m (Patterson & Peterson 2004, men 21-25, mean), a step as high as his knee 0.52 m (0.278 x stature, ANSUR II).
REACH_M = 2.44
HELD_WEIGHT_M = 0.15
HEAD_M = 1.87
JUMP_M = 0.56
STEP_M = 0.52
# Our choice, after common practice: repetitions of one movement in one workout from which a newcomer should build up over weeks.
VERY_MANY = 150


@dataclass(frozen=True)
class Given:
    """What a check looks at."""

    workout: Workout
    movements: Mapping[str, Movement]
    settings: Settings

    def of(self, work: Work) -> Movement:
        """Give the movement of a line of work."""
        return self.movements[work.movement]


@dataclass(frozen=True)
class Check:
    """One check: its code, what it holds in a sentence, and the function."""

    code: str
    holds: str
    find: Callable[[Given], Iterator[Problem]]


def check_workout(workout: Workout, movements: Mapping[str, Movement], settings: Settings) -> list[Problem]:
    """Run all checks of a workout; the order of the problems is the order of the table."""
    given = Given(workout, movements, settings)
    return [problem for check in WORKOUT_CHECKS for problem in check.find(given)]


def check_outline(outline: Outline, fit: Fit, workout: Workout) -> list[Problem]:
    """Hold the fitted outline against its promise: `must-say-too-long` is an error, with what it costs and what would help."""
    if outline.length is None or fit.fits:
        return []
    over_s = (fit.shortest_tenths - outline.length.seconds * 10) / 10
    costs = sorted(((_must_tenths(s), s) for s in outline.segments if s.movement), key=lambda x: -x[0])
    most = ", ".join(f"{s.title} {write_clock(t / 10)}" for t, s in costs[:3])
    shortest = write_clock(-(-fit.shortest_tenths // 10))
    place = outline.length.place or Place(file=workout.file, line=1)
    ways = [f"length: {write_clock(-(-fit.shortest_tenths // 100) * 10)}", *_by_name_only(costs), *_in_two(outline)]
    return [
        _problem(
            "error",
            "must-say-too-long",
            f"the lines that must be said take {shortest}, {over_s:.0f} seconds more than the promised "
            f"{write_clock(outline.length.seconds)}" + (f"; the longest: {most}" if most else ""),
            " · or ".join(ways),
            place,
        )
    ]


def _must_tenths(segment: Segment) -> int:
    return sum(x.tenths for x in segment.lines if x.must)


def _by_name_only(costs: list[tuple[int, Segment]]) -> list[str]:
    """Give the first way out: the movement that costs most by its name alone (its safety notes stay)."""
    for _, segment in costs:
        saved = sum(x.tenths for x in segment.lines if x.must and x.kind in {"point", "easier"})
        if saved:
            return [
                f"teach: {{{segment.movement}: name-only}}, if your people know it (saves {write_clock(saved / 10)})"
            ]
    return []


def _in_two(outline: Outline) -> list[str]:
    """Give the second way out: two videos, cut where the longer one is shortest; both open with the workout."""
    segments = outline.segments
    at = [i for i, s in enumerate(segments) if s.movement]
    if len(at) < 2:
        return []
    opening = sum(_must_tenths(s) for s in segments[: at[0]])
    best = min(
        (max(sum(_must_tenths(s) for s in segments[:cut]), opening + sum(_must_tenths(s) for s in segments[cut:])), cut)
        for cut in at[1:]
    )
    cut = best[1]
    first = sum(_must_tenths(s) for s in segments[:cut]) / 10
    second = (opening + sum(_must_tenths(s) for s in segments[cut:])) / 10
    return [f"two videos, the second from {segments[cut].title} on ({write_clock(first)} and {write_clock(second)})"]


def _problem(level: Level, code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level=level, code=code, message=message, suggestion=suggestion, place=place)


def _planned_rounds(given: Given) -> Iterator[Problem]:
    for part in given.workout.parts:
        for cycle in part.cycles:
            plan = cycle.plan_rounds
            if not plan:
                continue
            for work in (i for i in cycle.items if isinstance(i, Work)):
                total = work.amount.in_round(0)
                if total % plan:
                    divisors = [n for n in range(2, 31) if _divides_all(cycle.items, n)]
                    yield _problem(
                        "error",
                        "plan-uneven",
                        f"{plan} planned rounds do not divide {total:,} {given.of(work).plural.lower()}",
                        "plan " + ", ".join(str(d) for d in divisors) + " rounds"
                        if divisors
                        else f"{(total // plan) * plan:,}",
                        work.place,
                    )


def _divides_all(items: tuple[object, ...], rounds: int) -> bool:
    return all(i.amount.in_round(0) % rounds == 0 for i in items if isinstance(i, Work))


def _sides_even(given: Given) -> Iterator[Problem]:
    for work in given.workout.works:
        for each in (work, *(o.work for o in work.options)):
            if not shares_sides(each) or each.amount.most or each.amount.varies or each.amount.unit != "reps":
                continue
            number = each.amount.in_round(0)
            if number % 2:
                yield _problem(
                    "warning",
                    "sides-odd",
                    f"{number} {given.of(each).plural.lower()} cannot be shared by two sides",
                    f"{number - 1 or 2} or {number + 1}",
                    each.place,
                )


def _sides_unsaid(given: Given) -> Iterator[Problem]:
    """Ten lunges: in all, or each leg? Read as in all, and said so."""
    for work in given.workout.works:
        movement = given.of(work)
        number = work.amount.in_round(0)
        if (
            movement.sides == "each"
            and not work.sides_written
            and work.amount.unit == "reps"
            and number
            and number % 2 == 0
        ):
            side = work.side_word or "side"
            yield _problem(
                "note",
                "sides-read",
                f"read as {number} in all, {number // 2} each {side}",
                f"{number} {movement.plural.lower()}, {number // 2} each {side}   (or: {number} … each {side})",
                work.place,
            )


def _interrupt_time(given: Given) -> Iterator[Problem]:
    """Work that is forced in takes less time than its interval, for steady people and fresh."""
    for part in given.workout.parts:
        for interrupt in part.interrupts:
            interval = _interval(interrupt)
            if interval is None or untimed_in(interrupt.works, given.movements):
                continue
            needs = sum(
                w.amount.in_round(0) * seconds_for_one(given.of(w), w.amount.unit, "steady") for w in interrupt.works
            )
            if needs >= interval:
                yield _problem(
                    "error",
                    "interrupt-too-long",
                    f"this takes a steady person about {write_clock(needs)}, and it comes every {write_clock(interval)}: "
                    "nothing else gets done",
                    f"fewer repetitions, or every {write_clock(-(-int(needs * 2) // 30) * 30)}",
                    interrupt.place,
                )
            elif needs > 0.6 * interval:
                yield _problem(
                    "warning",
                    "interrupt-long",
                    f"this takes a steady person about {write_clock(needs)} of every {write_clock(interval)}",
                    None,
                    interrupt.place,
                )


def _interval(interrupt: Interrupt) -> int | None:
    match interrupt.trigger:
        case Every(every_s=every_s):
            return every_s
        case At(times_s=times):
            return min((b - a for a, b in pairwise(times)), default=None)
        case _:
            return None


def _interrupt_inside(given: Given) -> Iterator[Problem]:
    for part in given.workout.parts:
        clock = part.clock_s
        for interrupt in part.interrupts:
            first = (
                interrupt.trigger.from_s
                if isinstance(interrupt.trigger, Every)
                else min(interrupt.trigger.times_s)
                if isinstance(interrupt.trigger, At)
                else None
            )
            if clock is not None and first is not None and first >= clock:
                message = (
                    f"this first comes at {write_clock(first)}, when the clock has run out at {write_clock(clock)}"
                )
                yield _problem("warning", "interrupt-never", message, None, interrupt.place)


def _window_work(given: Given) -> Iterator[Problem]:
    """Work of an every or interval goes into its time, for steady people and fresh."""
    for part in given.workout.parts:
        if part.goal != "complete" or part.windows.work_s is None:
            continue
        for station in part.stations:
            works = [i for c in station.cycles for i in c.items if isinstance(i, Work) and not i.amount.most]
            needs = sum(w.amount.in_round(0) * seconds_for_one(given.of(w), w.amount.unit, "steady") for w in works)
            if works and needs > part.windows.work_s and not untimed_in(works, given.movements):
                yield _problem(
                    "warning",
                    "window-overrun",
                    f"this takes a steady person about {write_clock(needs)}, and the time is {write_clock(part.windows.work_s)}",
                    "fewer repetitions, or a longer interval",
                    works[0].place,
                )


def _kit_listed(given: Given) -> Iterator[Problem]:
    """Hold the listed kit against the board: what is missing is said once, with the whole list to paste."""
    listed = given.settings.kit
    needed = _needed(given)
    if listed is None:
        if needed:
            whole = ", ".join(_written(n) for n in needed)
            message = f"no kit is listed, so the board's own is taken: {whole}"
            yield _problem("note", "kit-taken", message, f"kit: [{whole}]", given.workout.parts[0].place)
        return
    items: list[KitItem] = []
    for words in listed:
        item = read_any_kit(words.text)
        if item is None:
            yield _problem(
                "error", "kit-word", f'"{words.text}" is no kit: a thing, with how many of it', None, words.place
            )
        else:
            items.append(item)
    missing = [n for n in needed if not any(set(i.names) & set(n.names) for i in items)]
    short = [
        (n, had)
        for n in needed
        if (had := max((i.count for i in items if set(i.names) & set(n.names)), default=0)) and had < n.count
    ]
    if missing or short:
        more = {i: n for n, _ in short for i in items if set(i.names) & set(n.names)}
        whole = ", ".join(
            [_written(more[i]) if i in more else w.text for i, w in zip(items, listed, strict=False)]
            + [_written(n) for n in missing]
        )
        wants = ", ".join([_written(n) for n in missing] + [f"{_written(n)} (kit lists {had})" for n, had in short])
        code = "kit-missing" if missing else "kit-count"
        yield _problem(
            "warning",
            code,
            f"the board needs {wants}, which is not under kit",
            f"kit: [{whole}]",
            listed[0].place if listed else given.workout.parts[0].place,
        )


def _needed(given: Given) -> list[KitItem]:
    """Give the kit that the lines of the board need; an object to hop over is there where the line names what one hops over."""
    needs = []
    for work in given.workout.works:
        for item in given.of(work).kit:
            over = "over" in work.written.lower() and set(item.names) <= _OBSTACLES
            if not over:
                needs.append(item)
    return list(merge_kit(needs))


# Low things that one hops over: a line that says "over the dumbbell" needs none of them.
_OBSTACLES = frozenset({"cone", "towel", "line"})


def _written(item: KitItem) -> str:
    """Write kit as a head lists it: `2 dumbbells or kettlebells`."""
    return f"{item.count} " + " or ".join(plural_of(n) if item.count > 1 else n for n in item.names)


def _ceiling(given: Given) -> Iterator[Problem]:
    """Overhead work indoors has a ceiling note: 2.44 m of reach, a weight, or a jump on top."""
    ceiling = given.settings.ceiling_m
    if ceiling is None:
        return
    for work in given.workout.works:
        movement = given.of(work)
        overhead = movement.space.overhead
        if overhead == "none":
            continue
        weight = any(set(k.names) & {"dumbbell", "kettlebell", "barbell", "weight plate"} for k in movement.kit)
        height = REACH_M if "reach" in overhead else HEAD_M
        height += HELD_WEIGHT_M if weight and "reach" in overhead else 0
        if "jump" in overhead:
            # Whoever goes over a box without jumping steps on it.
            on_it = any({"box", "step"} & set(k.names) for k in movement.kit)
            on_it = on_it and movement.pattern != "jump" and overhead == "jump"
            height += STEP_M if on_it else JUMP_M
        if ceiling < height and not any("low ceiling" in o.reasons for o in work.options):
            yield _problem(
                "warning",
                "ceiling",
                f'"{movement.name}" can reach {height:.2f} m, and the ceiling is {ceiling:.2f} m',
                "an option below the line: or … (low ceiling)",
                work.place,
            )


def _easier_for_areas(given: Given) -> Iterator[Problem]:
    seen: set[str] = set()
    for work in given.workout.works:
        movement = given.of(work)
        if movement.slug in seen or movement.carried:  # that one is carried is said where the board is read
            continue
        seen.add(movement.slug)
        answered = {r for v in movement.easier for r in v.reasons} | {r for o in work.options for r in o.reasons}
        missing = [a for a in movement.works_hard_on if a not in answered]
        if not movement.easier and not work.options:
            yield _problem(
                "warning",
                "no-easier",
                f'"{movement.name}" has no easier version',
                f"## Regressions in {movement.file}",
                work.place,
            )
        elif missing:
            yield _problem(
                "note",
                "area-unanswered",
                f'"{movement.name}" works hard on {", ".join(missing)}, and no easier version answers that',
                f"or … ({missing[0]})",
                work.place,
            )


def _score_given(given: Given) -> Iterator[Problem]:
    if given.settings.score:
        return
    for part in given.workout.parts:
        if part.score is None and not (part.span_s and any(p.score for p in given.workout.parts)):
            yield _problem(
                "note",
                "no-score",
                "nothing says what is written down as the score",
                "score: lowest round   (in the head)",
                part.place,
            )


def _very_many(given: Given) -> Iterator[Problem]:
    """One movement in very high numbers asks for a build-up caution (muscle breakdown: unaccustomed, excessive work)."""
    for total in add_up(given.workout):
        if total.unit == "reps" and total.quantity >= VERY_MANY:
            movement = given.movements[total.movement]
            place = next(w.place for w in given.workout.works if w.movement == total.movement)
            yield _problem(
                "note",
                "very-many",
                f"{total.quantity:,} {movement.plural.lower()} in one workout: newcomers should build up to that over weeks",
                "a lighter version with fewer rounds, and a word of caution in your notes",
                place,
            )


def _cap_sense(given: Given) -> Iterator[Problem]:
    """A cap that even the written rests fill is a slip of the hand."""
    for part in given.workout.parts:
        body, rounds = body_of(part), rounds_of(part)
        if part.goal == "time" and part.windows.work_s and body and rounds and body.rest_between_s:
            rests = body.rest_between_s * (rounds - 1)
            if rests >= part.windows.work_s:
                message = (
                    f"the rests alone take {write_clock(rests)}, and the cap is {write_clock(part.windows.work_s)}"
                )
                yield _problem("error", "cap-below-rest", message, "a longer cap or shorter rests", part.place)


def _option_far(given: Given) -> Iterator[Problem]:
    """An option takes about as long as the work it stands for, for steady people and fresh."""
    for work in given.workout.works:
        for option in work.options:
            if work.amount.most or work.amount.varies or option.work.amount.most or option.work.amount.varies:
                continue
            if untimed_in((work, option.work), given.movements):
                continue
            whole, other = (_fresh_s(given, w) for w in (work, option.work))
            if not whole / OPTION_FAR <= other <= whole * OPTION_FAR:
                yield _problem(
                    "warning",
                    "option-far",
                    f"{_amount_words(given, option.work)} take about {write_clock(other)}, and what they stand for, "
                    f"{_amount_words(given, work)}, about {write_clock(whole)}",
                    f"about {_round(option.work, whole / other)}" if other else None,
                    option.work.place,
                )


def _other_name(given: Given) -> Iterator[Problem]:
    """Notes that are read out call a movement by its own name, so that members hear the same words everywhere."""
    notes = given.workout.notes
    for slug in given.workout.movements:
        movement = given.movements[slug]
        for other in movement.also:
            inside = other.lower() in movement.name.lower() or movement.name.lower() in other.lower()
            if not inside and re.search(rf"\b{re.escape(other)}s?\b", notes, re.IGNORECASE):
                place = next(w.place for w in given.workout.works if w.movement == slug)
                message = f'your notes say "{other}", and the video says "{movement.name.lower()}"'
                yield _problem("note", "other-name", message, movement.name.lower(), place)
                break


# Our choice: an option that takes more than twice as long, or less than half, is another workout.
OPTION_FAR = 2.0


def _fresh_s(given: Given, work: Work) -> float:
    return work.amount.in_round(0) * seconds_for_one(given.of(work), work.amount.unit, "steady")


def _amount_words(given: Given, work: Work) -> str:
    number = work.amount.in_round(0)
    name = (
        given.of(work).plural.lower()
        if work.amount.unit == "reps"
        else f"{work.amount.unit} {given.of(work).name.lower()}"
    )
    return f"{number:,} {name}"


def _round(work: Work, factor: float) -> str:
    step = {"reps": 2, "m": 50, "s": 5, "cal": 1}[work.amount.unit]
    return str(max(step, round(work.amount.in_round(0) * factor / step) * step))


def _open(part: Part, clock: Clock) -> bool:
    """Say whether a part has work whose time nobody knows."""
    works = (*part.works, *(w for i in part.interrupts for w in i.works))
    return any(w.movement in clock.untimed for w in works)


def check_clock(workout: Workout, clock: Clock) -> list[Problem]:
    """Hold the cap against the clock: a cap that nobody beats, or that nobody reaches by far, is worth a look."""
    out = []
    for number, part in enumerate(workout.parts):
        if part.goal != "time" or part.windows.work_s is None or part.team or _open(part, clock):
            continue
        cap = part.windows.work_s
        times = [p.parts[number].whole_s for p in clock.people]
        if any(t is None for t in times):
            continue
        fastest, slowest = min(t for t in times if t is not None), max(t for t in times if t is not None)
        if fastest > cap:
            message = (
                f"nobody finishes inside the cap of {write_clock(cap)}: brisk people take about {write_clock(fastest)}"
            )
            out.append(
                _problem(
                    "warning", "cap-nobody", message, f"cap {write_clock(-(-fastest // 60) * 60 + 60)}", part.place
                )
            )
        elif slowest < cap * CAP_FAR:
            message = f"everybody finishes long before the cap of {write_clock(cap)}: easy people take about {write_clock(slowest)}"
            out.append(
                _problem(
                    "note", "cap-everybody", message, f"cap {write_clock(-(-slowest * 1.2 // 60) * 60)}", part.place
                )
            )
    return out


# Our choice: a cap of which even easy people leave half over is no cap.
CAP_FAR = 0.5


WORKOUT_CHECKS: tuple[Check, ...] = (
    Check("plan-uneven", "The planned rounds divide the totals.", _planned_rounds),
    Check("sides-odd", "What two sides share is even.", _sides_even),
    Check("sides-read", "A count for one side at a time says whether it is in all or each.", _sides_unsaid),
    Check("interrupt-too-long", "Forced work takes less time than its interval.", _interrupt_time),
    Check("interrupt-never", "Forced work comes before the clock runs out.", _interrupt_inside),
    Check("window-overrun", "The work of an interval goes into it.", _window_work),
    Check("kit-missing", "Kit that is used is kit that is listed, with counts.", _kit_listed),
    Check("ceiling", "Overhead work under a low ceiling has an option.", _ceiling),
    Check("area-unanswered", "Every area that is worked hard has an easier version.", _easier_for_areas),
    Check("option-far", "An option takes about as long as the work it stands for.", _option_far),
    Check("other-name", "Your notes call a movement by the name that the video uses.", _other_name),
    Check("no-score", "It is said what is written down.", _score_given),
    Check("very-many", "Very many repetitions of one movement ask for a caution.", _very_many),
    Check("cap-below-rest", "The rests leave time for work.", _cap_sense),
)
