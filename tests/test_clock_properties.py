"""What must be true of the clock for any board: more is never sooner, slower is never sooner, no gap and no overlap."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from briefing.board.models import (
    Amount,
    At,
    Cycle,
    Every,
    Goal,
    Interrupt,
    OnBreak,
    Part,
    Rest,
    Station,
    Windows,
    Work,
    Workout,
)
from briefing.clock.answer import work_through
from briefing.clock.scaling import factors_of, fits, scale, scale_by
from briefing.clock.simulate import NORMAL, Effort, simulate
from briefing.library.models import Movement, Rates, Sides
from briefing.problems import Place
from briefing.units import PEOPLE, Person, Unit

HERE = Place(line=1)
UNITS: tuple[Unit, ...] = ("reps", "m", "s", "cal")
SIDES: tuple[Sides, ...] = ("both", "alternating", "each")
SLUGS = ("one", "two", "three")

# `derandomize`: the same boards in every run, so that a failure is a bug and never an accident of the day.
quick = settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


yes_or_no = st.booleans()


@st.composite
def libraries(draw: st.DrawFn) -> dict[str, Movement]:
    found: dict[str, Movement] = {}
    for slug in SLUGS:
        rates: dict[Unit, Rates] = {}
        for unit, least, most in (("reps", 30, 600), ("m", 10, 300), ("cal", 200, 900)):
            brisk, steady, easy = sorted(draw(st.tuples(*[st.integers(least, most)] * 3)))
            rates[unit] = Rates(brisk=brisk / 100, steady=steady / 100, easy=easy / 100)  # type: ignore[index]
        found[slug] = Movement(slug=slug, name=slug, plural=slug, seconds_for=rates, file=f"{slug}.md")
    return found


@st.composite
def lines(draw: st.DrawFn, most: int = 60) -> Work:
    unit = draw(st.sampled_from(UNITS))
    sides = draw(st.sampled_from(SIDES))
    n = draw(st.integers(1, most)) * (10 if unit == "m" else 1)
    n *= 1 if sides == "both" else 2
    amount = Amount(unit=unit, by_round=(n,))
    unbroken = draw(st.sampled_from((False, False, False, True)))
    return Work(
        movement=draw(st.sampled_from(SLUGS)), written="", sides=sides, amounts=(amount,), unbroken=unbroken, place=HERE
    )


@st.composite
def cycles(draw: st.DrawFn) -> Cycle:
    items: list[Work | Rest] = list(draw(st.lists(lines(), min_size=1, max_size=3)))
    if draw(st.integers(0, 4)) == 0:
        seconds = draw(st.one_of(st.none(), st.integers(0, 90)))
        items.insert(draw(st.integers(0, len(items))), Rest(seconds=seconds, place=HERE))
    any_order = draw(st.booleans())
    return Cycle(
        items=tuple(items),
        rounds=1 if any_order else draw(st.integers(1, 5)),
        rest_between_s=draw(st.sampled_from((0, 0, 30, None))),
        any_order=any_order,
        plan_rounds=draw(st.one_of(st.none(), st.integers(1, 6))) if any_order else None,
    )


@st.composite
def interrupts(draw: st.DrawFn) -> Interrupt:
    trigger = draw(
        st.one_of(
            st.builds(Every, every_s=st.integers(60, 300), from_s=st.integers(0, 200)),
            st.builds(At, times_s=st.lists(st.integers(0, 900), max_size=3).map(tuple)),
            st.builds(OnBreak, phrase=st.just("every put down")),
        )
    )
    return Interrupt(trigger=trigger, works=tuple(draw(st.lists(lines(8), min_size=1, max_size=2))), place=HERE)


@st.composite
def boards(draw: st.DrawFn) -> Workout:
    """Draw a board for time without a cap."""
    part = Part(
        stations=(Station(cycles=tuple(draw(st.lists(cycles(), min_size=1, max_size=2)))),),
        interrupts=tuple(draw(st.lists(interrupts(), max_size=2))),
        place=HERE,
    )
    return Workout(title="Slack Water", parts=(part,), file="slack-water.md")


@st.composite
def windowed_boards(draw: st.DrawFn) -> Workout:
    """Draw a board of any shape: windows, gaps, stations that rotate, open rounds, several parts."""
    goals: tuple[Goal, ...] = ("time", "most", "complete", "quality", "heaviest")
    parts: list[Part] = []
    for _ in range(draw(st.integers(1, 2))):
        stations: list[Station] = []
        for _ in range(draw(st.integers(0, 3))):
            drawn = draw(st.lists(cycles(), max_size=2))
            if draw(yes_or_no) and drawn:
                drawn[-1] = drawn[-1].model_copy(update={"rounds": None})
            if draw(yes_or_no) and drawn:
                last = draw(lines()).model_copy(update={"amounts": (Amount(unit="reps", most=True),)})
                drawn[-1] = drawn[-1].model_copy(update={"items": (*drawn[-1].items, last)})
            stations.append(Station(cycles=tuple(drawn)))
        windows = Windows(
            count=draw(st.integers(0, 6)),
            work_s=draw(st.sampled_from((None, 40, 60, 300, 900))),
            gap_s=draw(st.sampled_from((0, 20, 90))),
        )
        parts.append(
            Part(
                windows=windows,
                stations=tuple(stations),
                goal=draw(st.sampled_from(goals)),
                interrupts=tuple(draw(st.lists(interrupts(), max_size=2))),
                carries_on=draw(st.booleans()),
                rest_after_s=draw(st.sampled_from((0, 120))),
                place=HERE,
            )
        )
    return Workout(title="Slack Water", parts=tuple(parts), file="slack-water.md")


efforts = st.sampled_from((NORMAL, NORMAL, Effort(breaks=False), Effort(slowdown=False), Effort(factor=1.3)))


def with_body(board: Workout, cycle: Cycle) -> Workout:
    part = board.parts[0]
    station = Station(cycles=(cycle, *part.stations[0].cycles[1:]))
    return board.model_copy(update={"parts": (part.model_copy(update={"stations": (station,)}),)})


@quick
@given(libraries(), boards(), efforts)
def test_a_slower_person_is_never_sooner(movements: dict[str, Movement], board: Workout, effort: Effort) -> None:
    brisk, steady, easy = (simulate(board, movements, p, effort=effort).end_s for p in PEOPLE)
    assert brisk <= steady <= easy


@quick
@given(libraries(), boards(), efforts, st.integers(1, 50), st.sampled_from(PEOPLE))
def test_a_slower_movement_is_never_sooner(
    movements: dict[str, Movement], board: Workout, effort: Effort, more: int, person: Person
) -> None:
    one = movements["one"]
    slower = {
        unit: Rates(brisk=r.brisk + more / 1000, steady=r.steady + more / 1000, easy=r.easy + more / 1000)
        for unit, r in one.seconds_for.items()
    }
    changed = {**movements, "one": one.model_copy(update={"seconds_for": slower})}
    before = simulate(board, movements, person, effort=effort).end_s
    assert simulate(board, changed, person, effort=effort).end_s >= before


@quick
@given(libraries(), boards(), efforts, st.data())
def test_more_reps_and_more_rounds_are_never_sooner(
    movements: dict[str, Movement], board: Workout, effort: Effort, data: st.DataObject
) -> None:
    person = data.draw(st.sampled_from(PEOPLE))
    before = simulate(board, movements, person, effort=effort)
    cycle = board.parts[0].stations[0].cycles[0]
    at = data.draw(st.sampled_from([n for n, i in enumerate(cycle.items) if isinstance(i, Work)]))
    work = cycle.items[at]
    assert isinstance(work, Work)
    more = data.draw(st.integers(1, 10)) * (1 if work.sides == "both" else 2)
    amount = work.amount.model_copy(update={"by_round": (work.amount.by_round[0] + more,)})
    items = list(cycle.items)
    items[at] = work.model_copy(update={"amounts": (amount,)})
    bigger = simulate(
        with_body(board, cycle.model_copy(update={"items": tuple(items)})), movements, person, effort=effort
    )
    assert bigger.end_s >= before.end_s
    if not cycle.any_order:
        longer = with_body(board, cycle.model_copy(update={"rounds": (cycle.rounds or 1) + 1}))
        assert simulate(longer, movements, person, effort=effort).end_s >= before.end_s


@quick
@given(libraries(), windowed_boards(), efforts, st.sampled_from(PEOPLE))
def test_the_log_has_no_gap_and_no_overlap(
    movements: dict[str, Movement], board: Workout, effort: Effort, person: Person
) -> None:
    run = simulate(board, movements, person, effort=effort)
    assert run == simulate(board, movements, person, effort=effort)
    assert all(a.end_s == b.start_s for a, b in pairwise(run.events))
    assert all(e.start_s < e.end_s for e in run.events)
    assert (run.events[0].start_s, run.events[-1].end_s) == (0, run.end_s) if run.events else run.end_s == 0
    assert sum(e.quantity for e in run.events if e.kind == "work") == sum(d.quantity for d in run.work_done)
    for part, part_run in zip(board.parts, run.parts, strict=True):
        assert part.clock_s is None or part_run.end_s - part_run.start_s <= max(0, part.clock_s) + 1e-6
        assert all(done <= due for done, due in zip(part_run.interrupts_done, part_run.interrupts_due, strict=True))


@quick
@given(libraries(), boards(), efforts, st.sampled_from(PEOPLE))
def test_a_finished_run_did_the_work_of_the_board(
    movements: dict[str, Movement], board: Workout, effort: Effort, person: Person
) -> None:
    run = simulate(board, movements, person, effort=effort)
    assume(run.finished)
    works = [(i, c.rounds or 0) for c in board.parts[0].cycles for i in c.items if isinstance(i, Work)]
    written = sum(work.amount.in_round(r) for work, rounds in works for r in range(rounds))
    assert sum(d.quantity for d in run.work_done) == written
    for due, interrupt in zip(run.parts[0].interrupts_due, board.parts[0].interrupts, strict=True):
        if isinstance(interrupt.trigger, Every):
            every_s, from_s = interrupt.trigger.every_s, interrupt.trigger.from_s
            assert due == sum(1 for k in range(due + 2) if from_s + k * every_s < run.end_s)


@settings(quick, max_examples=60)
@given(libraries(), boards(), st.integers(60, 2400), st.sampled_from(PEOPLE), st.sampled_from((0.5, 0.9, 1.0)))
def test_the_scaled_workout_fits_and_one_step_more_does_not(
    movements: dict[str, Movement], board: Workout, cap_s: int, person: Person, share: float
) -> None:
    capped = board.model_copy(update={"parts": (board.parts[0].model_copy(update={"windows": Windows(work_s=cap_s)}),)})
    found = scale(capped, movements, person, share)
    factors = factors_of(capped)
    number = [float(f) for f in factors].index(found.factor)
    assert fits(found.workout, simulate(found.workout, movements, person), share) is found.fits
    if not found.fits:
        assert number == 0
    elif number + 1 < len(factors):
        more = scale_by(capped, factors[number + 1])
        assert more != found.workout
        assert not fits(more, simulate(more, movements, person), share)


@settings(quick, max_examples=60)
@given(libraries(), windowed_boards())
def test_there_is_an_answer_to_any_board(movements: dict[str, Movement], board: Workout) -> None:
    clock = work_through(board, movements)
    assert [p.person for p in clock.people] == list(PEOPLE)
    assert all(len(p.parts) == len(board.parts) for p in clock.people)
    assert clock == work_through(board, movements)
