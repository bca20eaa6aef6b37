"""The clock against closed forms, and the boards that coaches write.

Where no source stands beside a number, it follows by arithmetic from the rates given here. `EVEN` switches slowing
down, breaks and changes off.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import pytest

from briefing.board.models import (
    Amount,
    At,
    Cycle,
    Every,
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
from briefing.clock.people import (
    AS_NEEDED_S,
    BREAK_S,
    CHANGE_S,
    FULL_S,
    LONGEST_S,
    OPEN_LIMIT_S,
    SLOW,
    STRETCH_S,
    default_seconds,
    seconds_for_one,
    tempo_seconds,
)
from briefing.clock.scaling import factors_of, fits, scale, scale_by, step_of
from briefing.clock.simulate import EVEN, Done, Effort, Run, share_out, simulate
from briefing.clock.tally import partitions
from briefing.library.models import Movement, Rates, Sides
from briefing.problems import Place
from briefing.units import PEOPLE, Unit

HERE = Place(line=1)


def movement(slug: str, seconds: float | tuple[float, float, float], unit: Unit = "reps") -> Movement:
    brisk, steady, easy = seconds if isinstance(seconds, tuple) else (seconds, seconds, seconds)
    rates = {unit: Rates(brisk=brisk, steady=steady, easy=easy)}
    return Movement(slug=slug, name=slug, plural=slug, seconds_for=rates, file=f"{slug}.md")


MOVEMENTS = {
    m.slug: m
    for m in (
        movement("squat", (1.8, 2.4, 3.2)),
        movement("press", (2.0, 2.5, 3.0)),
        movement("climber", 1.0),
        movement("one-second", 1.0),
        movement("rung", 5.35),
        movement("run", (0.3, 0.36, 0.45), "m"),
        movement("carry", (0.72, 0.9, 1.2), "m"),
        movement("row", (0.24, 0.27, 0.32), "m"),
    )
}
ONLY_BREAKS = Effort(slowdown=False, breaks=True, changes=False)
ONLY_CHANGES = Effort(slowdown=False, breaks=False, changes=True)
ONLY_SLOWDOWN = Effort(slowdown=True, breaks=False, changes=False)


def line(
    slug: str, *by_round: int, unit: Unit = "reps", sides: Sides = "both", step: int = 0, most: bool = False
) -> Work:
    amount = Amount(unit=unit, by_round=by_round, step=step, most=most)
    return Work(movement=slug, written=slug, sides=sides, amounts=(amount,), place=HERE)


def rounds(*items: Work | Rest, n: int | None = 1, rest_s: int | None = 0) -> Cycle:
    return Cycle(items=items, rounds=n, rest_between_s=rest_s)


def for_time(*cycles: Cycle, cap_s: int | None = None, interrupts: tuple[Interrupt, ...] = ()) -> Workout:
    return workout(
        Part(windows=Windows(work_s=cap_s), stations=(Station(cycles=cycles),), interrupts=interrupts, place=HERE)
    )


def amrap(*cycles: Cycle, time_s: int) -> Workout:
    return workout(Part(windows=Windows(work_s=time_s), stations=(Station(cycles=cycles),), goal="most", place=HERE))


def every_minute(minutes: int, *stations: Station, work_s: int = 60) -> Workout:
    return workout(Part(windows=Windows(count=minutes, work_s=work_s), stations=stations, goal="complete", place=HERE))


def workout(*parts: Part) -> Workout:
    return Workout(title="Slack Water", parts=parts, file="slack-water.md")


def every(every_s: int, from_s: int, *works: Work) -> Interrupt:
    return Interrupt(trigger=Every(every_s=every_s, from_s=from_s), works=works, place=HERE)


def even(board: Workout) -> Run:
    return whole_log(simulate(board, MOVEMENTS, "steady", effort=EVEN))


def whole_log(run: Run) -> Run:
    """Hold what is true of every log: no gap, no overlap, and its sums are the totals."""
    assert not run.events or run.events[0].start_s == 0
    assert all(a.end_s == b.start_s for a, b in pairwise(run.events))
    assert all(e.end_s > e.start_s for e in run.events)
    assert (run.events[-1].end_s if run.events else 0) == run.end_s
    assert sums(Done(e.movement, e.unit, e.quantity) for e in run.events if e.kind == "work") == sums(run.work_done)
    forced = [Done(e.movement, e.unit, e.quantity) for e in run.events if e.kind == "interrupt"]
    assert sums(forced) == sums(d for p in run.parts for d in p.interrupt_work)
    return run


def sums(done: Iterable[Done]) -> dict[tuple[str, str], int]:
    out: dict[tuple[str, str], int] = {}
    for d in done:
        out[d.movement, d.unit] = out.get((d.movement, d.unit), 0) + d.quantity
    return {key: n for key, n in out.items() if n}


def seconds_of(run: Run, kind: str) -> float:
    return round(sum(e.end_s - e.start_s for e in run.events if e.kind == kind), 6)


# The formula, one piece at a time.


def test_without_fatigue_the_time_is_the_plain_sum() -> None:
    run = even(for_time(rounds(line("squat", 20), line("press", 12), line("run", 200, unit="m"), n=5)))
    assert run.finished
    assert run.end_s == 5 * (20 * 2.4 + 12 * 2.5 + 200 * 0.36) == 750.0
    assert sums(run.work_done) == {("squat", "reps"): 100, ("press", "reps"): 60, ("run", "m"): 1000}


def test_the_sum_is_exact_where_floats_are_not() -> None:
    # 0.1 added ten times is 0.9999999999999999 in floats.
    assert (
        simulate(for_time(rounds(line("tenth", 36_000))), {"tenth": movement("tenth", 0.1)}, "easy", effort=EVEN).end_s
        == 3600
    )


def test_metres_that_are_no_whole_pieces_are_exact_too() -> None:
    assert even(for_time(rounds(line("run", 403, unit="m")))).end_s == pytest.approx(403 * 0.36, abs=1e-6)


def test_n_rounds_have_one_rest_less() -> None:
    run = even(for_time(rounds(line("squat", 10), n=5, rest_s=60)))
    assert seconds_of(run, "rest") == 4 * 60
    assert run.end_s == 5 * 24 + 4 * 60


def test_a_rest_as_needed_has_a_length() -> None:
    run = simulate(for_time(rounds(line("squat", 10), n=3, rest_s=None)), MOVEMENTS, "easy", effort=EVEN)
    assert seconds_of(run, "rest") == 2 * AS_NEEDED_S["easy"]


def test_a_rest_after_the_last_work_is_not_taken() -> None:
    run = even(for_time(rounds(line("squat", 10), Rest(seconds=30, place=HERE), line("press", 4), n=2)))
    assert seconds_of(run, "rest") == 60
    run = even(for_time(rounds(line("squat", 10), Rest(seconds=30, place=HERE), n=3)))
    assert seconds_of(run, "rest") == 60


def test_there_is_a_change_between_two_lines_and_none_in_one() -> None:
    three = for_time(rounds(line("squat", 20), line("press", 12), line("run", 200, unit="m"), n=5))
    assert seconds_of(simulate(three, MOVEMENTS, "brisk", effort=ONLY_CHANGES), "change") == 14 * CHANGE_S
    one = for_time(rounds(line("squat", 20), n=5))
    assert seconds_of(simulate(one, MOVEMENTS, "brisk", effort=ONLY_CHANGES), "change") == 0


@pytest.mark.parametrize("n", [1, 10, 100, 290])
def test_slowing_down_is_a_geometric_sum(n: int) -> None:
    # w' = w + r (1 + S w / F) gives w(n) = (F / S) ((1 + r S / F) ** n - 1) as long as w <= F.
    expected = FULL_S / SLOW * ((1 + 1.8 * SLOW / FULL_S) ** n - 1)
    assert expected <= FULL_S
    run = simulate(for_time(rounds(line("squat", n))), MOVEMENTS, "brisk", effort=ONLY_SLOWDOWN)
    assert run.end_s == pytest.approx(expected, abs=n * 1e-6 * 1.3)


def test_after_ten_minutes_of_work_it_is_a_quarter_slower_and_stays_so() -> None:
    times = [
        simulate(for_time(rounds(line("one-second", n))), MOVEMENTS, "brisk", effort=ONLY_SLOWDOWN).end_s
        for n in (1000, 1100, 2100)
    ]
    assert times[1] - times[0] == pytest.approx(100 * (1 + SLOW))
    assert times[2] - times[1] == pytest.approx(1000 * (1 + SLOW))


def test_a_rest_does_not_restore() -> None:
    rested = for_time(rounds(line("squat", 50), Rest(seconds=600, place=HERE), line("squat", 50)))
    at_once = for_time(rounds(line("squat", 50), line("squat", 50)))
    assert simulate(rested, MOVEMENTS, "easy").end_s - simulate(at_once, MOVEMENTS, "easy").end_s == 600


@pytest.mark.parametrize(("reps", "breaks"), [(1, 0), (60, 0), (61, 1), (120, 1), (121, 2), (300, 4)])
def test_a_break_comes_before_a_rep_never_after_the_last(reps: int, breaks: int) -> None:
    run = simulate(for_time(rounds(line("one-second", reps))), MOVEMENTS, "brisk", effort=ONLY_BREAKS)
    assert STRETCH_S["brisk"] == 60
    assert run.end_s == reps + breaks * BREAK_S["brisk"]


def test_a_new_line_is_a_new_streak_and_the_same_line_is_not() -> None:
    two = for_time(rounds(line("one-second", 40), line("climber", 40), n=3))
    assert seconds_of(simulate(two, MOVEMENTS, "brisk", effort=ONLY_BREAKS), "break") == 0
    one = for_time(rounds(line("one-second", 40), n=3))
    assert seconds_of(simulate(one, MOVEMENTS, "brisk", effort=ONLY_BREAKS), "break") == BREAK_S["brisk"]


def test_unbroken_means_no_break() -> None:
    work = line("one-second", 300).model_copy(update={"unbroken": True})
    assert seconds_of(simulate(for_time(rounds(work)), MOVEMENTS, "easy"), "break") == 0


def test_a_hold_is_by_the_clock_however_tired() -> None:
    board = for_time(rounds(line("squat", 400), line("plank", 40, unit="s")))
    last = simulate(board, MOVEMENTS, "brisk").events[-1]
    assert last.movement == "plank"
    assert last.end_s - last.start_s == pytest.approx(40)


def test_a_factor_carries_over_what_was_tried() -> None:
    board = for_time(rounds(line("squat", 100)))
    run = simulate(board, MOVEMENTS, "steady", effort=Effort(slowdown=False, breaks=False, factor=1.25))
    assert run.end_s == 100 * 2.4 * 1.25


def test_a_written_tempo_is_a_floor() -> None:
    slow = line("squat", 10).model_copy(update={"tempo": "3-1-1"})
    assert even(for_time(rounds(slow))).end_s == 50
    assert [tempo_seconds(t) for t in ("3-1-1", "3010", "31x1", "slow", None)] == [5, 4, 6, 0, 0]


def test_rates_come_from_the_library_first() -> None:
    squat = MOVEMENTS["squat"]
    assert [seconds_for_one(squat, "reps", p) for p in PEOPLE] == [1.8, 2.4, 3.2]
    assert seconds_for_one(squat, "s", "easy") == 1
    assert seconds_for_one(squat, "cal", "easy") == default_seconds("cal", "easy")
    runner = movement("jog", 1.0).model_copy(update={"pattern": "run"})
    assert seconds_for_one(runner, "m", "brisk") == default_seconds("m", "brisk", "run")
    assert even(for_time(rounds(line("nowhere", 10)))).end_s == 10 * default_seconds("reps", "steady")


@pytest.mark.parametrize("unit", ["reps", "m", "cal"])
def test_the_easy_are_never_faster_where_we_chose(unit: Unit) -> None:
    for pattern in (None, "run", "row", "ride", "carry", "lunge", "crawl", "squat"):
        brisk, steady, easy = (default_seconds(unit, p, pattern) for p in PEOPLE)
        assert brisk < steady < easy


# Interrupts.


def solve(work_s: float, each_s: float, every_s: int, from_s: int) -> tuple[float, int]:
    """Find the least T with T = work + each x (how often it was due before T)."""
    total, n = work_s, 0
    while True:
        n = sum(1 for k in range(10_000) if from_s + k * every_s < total)
        new = work_s + n * each_s
        if new == total:
            return total, n
        total = new


@pytest.mark.parametrize("reps", [1, 59, 60, 61, 119, 120, 121, 179, 180, 181, 600, 601])
@pytest.mark.parametrize(("every_s", "from_s"), [(60, 0), (60, 60), (180, 0), (180, 180), (90, 30)])
def test_the_finish_time_with_interrupts_solves_its_equation(reps: int, every_s: int, from_s: int) -> None:
    board = for_time(rounds(line("one-second", reps)), interrupts=(every(every_s, from_s, line("climber", 12)),))
    run = even(board)
    assert (run.end_s, run.interrupts_done[0]) == solve(reps, 12, every_s, from_s)


def test_an_interrupt_due_at_the_very_end_does_not_count() -> None:
    board = for_time(rounds(line("squat", 75)), interrupts=(every(180, 180, line("climber", 12)),))
    run = even(board)  # 75 x 2.4 s are 180 s
    assert (run.end_s, run.interrupts_done) == (180, (0,))
    again = even(for_time(rounds(line("squat", 76)), interrupts=(every(180, 180, line("climber", 12)),)))
    assert (again.end_s, again.interrupts_done) == (76 * 2.4 + 12, (1,))


def test_an_interrupt_waits_for_the_rep_and_goes_on_where_it_was() -> None:
    run = even(for_time(rounds(line("squat", 4)), interrupts=(every(100, 3, line("climber", 2)),)))
    assert [(e.kind, e.end_s, e.quantity) for e in run.events] == [
        ("work", 4.8, 2),
        ("interrupt", 6.8, 2),
        ("work", 11.6, 2),
    ]


def test_late_interrupts_queue() -> None:
    board = for_time(rounds(line("long", 1)), interrupts=(every(60, 60, line("climber", 5)),))
    run = whole_log(simulate(board, {**MOVEMENTS, "long": movement("long", 200)}, "easy", effort=EVEN))
    assert (run.end_s, run.interrupts_done) == (215, (3,))


def test_an_interrupt_leaves_the_streak_alone() -> None:
    board = for_time(rounds(line("one-second", 61)), interrupts=(every(1000, 30, line("climber", 20)),))
    run = simulate(board, MOVEMENTS, "brisk", effort=ONLY_BREAKS)
    assert seconds_of(run, "break") == BREAK_S["brisk"]
    assert run.end_s == 61 + 20 + 3


def test_an_interrupt_costs_two_changes_but_none_at_the_start() -> None:
    board = for_time(rounds(line("one-second", 100)), interrupts=(every(60, 0, line("climber", 10)),))
    run = whole_log(simulate(board, MOVEMENTS, "brisk", effort=ONLY_CHANGES))
    # 0:00 has 10 + 4; 1:00 and 2:00 have 4 + 10 + 4: 100 + 14 + 36 = 150
    assert (run.end_s, run.interrupts_done) == (150, (3,))


def test_an_interrupt_cuts_into_a_rest_which_then_goes_on() -> None:
    board = for_time(rounds(line("one-second", 30), n=2, rest_s=60), interrupts=(every(1000, 50, line("climber", 10)),))
    run = even(board)
    assert run.end_s == 30 + 60 + 30 + 10
    assert [e.kind for e in run.events] == ["work", "rest", "interrupt", "rest", "work"]


def test_interrupts_at_given_times() -> None:
    at = Interrupt(trigger=At(times_s=(120, 60)), works=(line("climber", 5),), place=HERE)
    run = even(for_time(rounds(line("one-second", 100)), interrupts=(at,)))
    assert (run.end_s, run.interrupts_done) == (105, (1,))
    run = even(for_time(rounds(line("one-second", 116)), interrupts=(at,)))
    assert (run.end_s, run.interrupts_done) == (126, (2,))


def test_a_stepping_interrupt_grows_with_each_time() -> None:
    board = for_time(rounds(line("one-second", 100)), interrupts=(every(40, 0, line("climber", 1, step=1)),))
    run = even(board)
    assert run.parts[0].interrupt_work == (Done("climber", "reps", 1 + 2 + 3),)


def test_every_put_down_forces_work_but_not_the_last() -> None:
    # 300 m at 0.72 s: a break after each 17 pieces of 5 m (61.2 s), so after 85, 170 and 255 m.
    squats = Interrupt(trigger=OnBreak(phrase="every put down"), works=(line("one-second", 10),), place=HERE)
    run = whole_log(simulate(for_time(rounds(line("carry", 300, unit="m")), interrupts=(squats,)), MOVEMENTS, "brisk"))
    assert run.interrupts_done == (3,)
    assert run.parts[0].interrupt_work == (Done("one-second", "reps", 30),)
    assert run.events[0].kind == "work"
    assert run.events[-1].kind == "work"


def test_interrupts_that_never_let_go_still_end() -> None:
    board = for_time(rounds(line("squat", 500)), interrupts=(every(30, 0, line("climber", 40)),))
    run = whole_log(simulate(board, MOVEMENTS, "brisk"))
    assert not run.finished
    assert run.end_s == LONGEST_S


def test_an_interrupt_is_slowed_by_when_it_was_due() -> None:
    # A case that left its mark: slowed by the work behind them, interrupts that were met earlier in the work took less,
    # and 39 s a round was done sooner than 38 s a round.
    def board(hold_s: int) -> Workout:
        first, second = every(115, 0, line("four", 6)), every(186, 180, line("six", 3), line("four", 2))
        return for_time(rounds(line("hold", hold_s, unit="s"), n=6, rest_s=None), interrupts=(first, second))

    people = {"four": movement("four", 4.97), "six": movement("six", 4.69)}
    ends = [simulate(board(n), people, "easy").end_s for n in range(30, 50)]
    assert ends == sorted(ends)


def test_interrupts_inside_a_time_that_is_given() -> None:
    board = amrap(rounds(line("squat", 10), n=None), time_s=720)
    part = board.parts[0].model_copy(update={"interrupts": (every(180, 0, line("climber", 12)),)})
    run = whole_log(simulate(workout(part), MOVEMENTS, "easy"))
    assert run.parts[0].interrupts_due == run.interrupts_done == (4,)  # 0:00, 3:00, 6:00, 9:00, and not 12:00
    late = board.parts[0].model_copy(update={"interrupts": (every(719, 719, line("climber", 12)),)})
    run = whole_log(simulate(workout(late), MOVEMENTS, "easy"))
    assert (run.parts[0].interrupts_due, run.interrupts_done) == ((1,), (0,))


def test_no_interrupt_is_due_in_the_gap_between_windows() -> None:
    part = Part(
        windows=Windows(count=3, work_s=180, gap_s=120),
        stations=(Station(cycles=(rounds(line("squat", 10), n=None),)),),
        goal="most",
        interrupts=(every(100, 0, line("climber", 5)),),
        place=HERE,
    )
    # 0 and 100 in the first window, 300 and 400 in the second, 600 and 700 in the third; 200 and 500 fall into gaps.
    assert even(workout(part)).interrupts_done == (6,)


def test_an_interrupt_in_the_rest_of_a_minute_is_done_there() -> None:
    board = every_minute(4, Station(cycles=(rounds(line("squat", 10)),)))
    part = board.parts[0].model_copy(update={"interrupts": (every(60, 40, line("climber", 5)),)})
    run = even(workout(part))
    assert (run.end_s, run.interrupts_done) == (240, (4,))
    assert [e.kind for e in run.events][:4] == ["work", "idle", "interrupt", "idle"]


def test_an_interrupt_after_the_last_rep_needs_no_way_back() -> None:
    board = for_time(rounds(line("squat", 1)), interrupts=(every(100, 1, line("climber", 5)),))
    run = whole_log(simulate(board, MOVEMENTS, "steady", effort=ONLY_CHANGES))
    assert run.end_s == 2.4 + CHANGE_S + 5


def test_each_put_down_is_slowed_like_one_more_minute() -> None:
    squats = Interrupt(trigger=OnBreak(phrase="every put down"), works=(line("climber", 10),), place=HERE)
    run = simulate(for_time(rounds(line("carry", 300, unit="m")), interrupts=(squats,)), MOVEMENTS, "brisk")
    took = [e.end_s - e.start_s for e in run.events if e.kind == "interrupt"]
    assert took == pytest.approx([10 * (1 + SLOW * n * 60 / FULL_S) for n in (1, 2, 3)])


# Caps, windows and rounds.


def test_the_cap_stops_in_the_middle_of_a_rep() -> None:
    run = even(for_time(rounds(line("squat", 20), line("press", 10), n=3), cap_s=100))
    # 73 s a round; 27 s into the second are 11 squats of 2.4 s and a bit.
    assert (run.finished, run.end_s, run.rounds_done, run.reps_into_next) == (False, 100, 1, 11)
    assert run.done("squat") == 31


def test_a_workout_done_exactly_at_the_cap_is_finished() -> None:
    run = even(for_time(rounds(line("squat", 10), n=5), cap_s=120))
    assert (run.finished, run.end_s) == (True, 120)


def test_a_rep_that_ends_at_the_cap_counts() -> None:
    board = for_time(rounds(line("long", 1)), cap_s=200)
    assert simulate(board, {"long": movement("long", 200)}, "brisk").finished


def test_metres_cut_off_by_the_clock_count_whole() -> None:
    run = even(for_time(rounds(line("run", 400, unit="m")), cap_s=100))
    assert run.done("run", "m") == int(100 / 0.36)


def test_as_many_rounds_as_possible() -> None:
    board = amrap(rounds(line("squat", 10), line("press", 8), n=None), time_s=600)
    run = even(board)
    full, over = divmod(600, 10 * 2.4 + 8 * 2.5)
    assert (run.rounds_done, run.reps_into_next) == (full, int(over / 2.4))
    assert (run.finished, run.end_s) == (True, 600)


def test_the_rest_of_every_minute_is_left() -> None:
    run = even(every_minute(10, Station(cycles=(rounds(line("squat", 15)),))))
    assert run.end_s == 600
    assert seconds_of(run, "work") == 360
    assert [e.end_s - e.start_s for e in run.events if e.kind == "idle"] == pytest.approx([24.0] * 10)
    assert run.parts[0].windows_made == 10
    assert run.parts[0].window_s == (36.0,) * 10


def test_minutes_rotate_and_an_off_minute_is_off() -> None:
    # A board of the text cases (board 2): EMOM 15: 12 swings, 0:40 plank, off. Five times through, work over at 14:00 at the latest.
    stations = (
        Station(cycles=(rounds(line("squat", 12)),)),
        Station(cycles=(rounds(line("plank", 40, unit="s")),)),
        Station(),
    )
    run = even(every_minute(15, *stations))
    assert sums(run.work_done) == {("squat", "reps"): 60, ("plank", "s"): 200}
    assert (run.end_s, run.parts[0].work_over_s) == (900, 13 * 60 + 40)
    assert run.finished


def test_a_minute_that_is_too_short_is_said() -> None:
    run = even(every_minute(4, Station(cycles=(rounds(line("squat", 30)),)), Station()))
    assert not run.finished
    assert (run.parts[0].windows_made, run.done("squat")) == (2, 50)


def test_minute_n_has_n() -> None:
    run = even(every_minute(10, Station(cycles=(rounds(line("squat", 1, step=1)),))))
    assert run.done("squat") == 55


def test_a_ladder_of_minutes_ends_with_the_minute_that_is_too_short() -> None:
    """A rung of 5.35 s goes eleven times into a minute (58.85 s) and not twelve times: eleven minutes made, out in the twelfth."""
    station = Station(cycles=(rounds(line("rung", 1, 2, step=1)),))
    part = Part(
        windows=Windows(count=60, work_s=60), stations=(station,), goal="complete", until_missed=True, place=HERE
    )
    run = even(workout(part))
    assert part.clock_s is None
    assert run.parts[0].windows_made == 11
    assert (run.end_s, run.finished) == (12 * 60, True)
    assert work_through(workout(part), MOVEMENTS, effort=EVEN).of("steady").score == "11 whole minutes"


@pytest.mark.parametrize(("ratio", "rounds_worth"), [(1.0, 5 + 4), (2.0, 5 + 8), (0.5, 5 + 2)])
def test_a_rest_as_long_as_the_round(ratio: float, rounds_worth: float) -> None:
    """Five equal rounds of 250 m have four rests between them, each the round times the ratio."""
    body = Cycle(items=(line("row", 250, unit="m"),), rounds=5, rest_ratio=ratio)
    run = even(for_time(body))
    assert run.end_s == pytest.approx(rounds_worth * 250 * 0.27)


def test_a_rest_after_certain_rounds_only() -> None:
    """Three rounds of ten seconds, a minute after the second: 90 s; one after the last round is not taken."""
    body = Cycle(items=(line("one-second", 10),), rounds=3, rest_after=((2, 60), (3, 60)))
    assert even(for_time(body)).end_s == 90


def test_a_rest_between_two_times_through_the_stations() -> None:
    """3 x (0:40, 0:20, 0:40) with 2:00 between: six stretches, three short rests, two long ones."""
    stations = (
        Station(cycles=(rounds(line("squat", most=True)),)),
        Station(cycles=(rounds(line("press", most=True)),)),
    )
    windows = Windows(count=6, work_s=40, gap_s=20, turn=2, turn_gap_s=120)
    part = Part(windows=windows, stations=stations, goal="most", place=HERE)
    run = even(workout(part))
    assert part.clock_s == run.end_s == 6 * 40 + 3 * 20 + 2 * 120
    assert seconds_of(run, "rest") == 3 * 20 + 2 * 120
    assert [windows.start_of(n) for n in range(1, 7)] == [0, 60, 220, 280, 440, 500]


def test_windows_that_carry_on_and_windows_that_start_again() -> None:
    # A board of the text cases (board 6): 3 x 3:00 with 2:00 off; clock 13:00, work 9:00, one running score, 24 reps a round.
    body = rounds(line("one-second", 6), line("climber", 6), line("one-second", 12), n=None)
    part = Part(
        windows=Windows(count=3, work_s=180, gap_s=120),
        stations=(Station(cycles=(body,)),),
        goal="most",
        carries_on=True,
        place=HERE,
    )
    run = even(workout(part))
    assert run.end_s == 13 * 60
    assert seconds_of(run, "work") == 9 * 60
    assert (run.rounds_done, run.reps_into_next) == divmod(540, 24)
    again = even(workout(part.model_copy(update={"carries_on": False})))
    assert again.rounds_done == 3 * (180 // 24)


def test_the_most_in_the_time_that_is_left() -> None:
    # A board of the text cases (board 7): 5 x 3:00 on, 1:30 off: 250 m, then the most; 1,250 m, 15:00 of work, 21:00.
    part = Part(
        windows=Windows(count=5, work_s=180, gap_s=90),
        stations=(Station(cycles=(rounds(line("row", 250, unit="m"), line("press", most=True)),)),),
        goal="most",
        place=HERE,
    )
    run = even(workout(part))
    assert run.end_s == 21 * 60
    assert run.done("row", "m") == 1250
    assert run.done("press") == 5 * int((180 - 250 * 0.27) / 2.5)


def test_a_ladder_down_with_a_run_after_each() -> None:
    # A board of the text cases (board 3): 55, 55, ten runs, 1,000 m (also after the 1).
    down = tuple(range(10, 0, -1))
    run = even(for_time(rounds(line("squat", *down), line("press", *down), line("run", 100, unit="m"), n=10)))
    assert sums(run.work_done) == {("squat", "reps"): 55, ("press", "reps"): 55, ("run", "m"): 1000}
    assert [e.movement for e in run.events].count("run") == 10


def test_an_open_ladder_is_scored_by_its_last_rung() -> None:
    # A board of the text cases (board 4): 2-4-6-8-… in 8:00: through the 12s and 5 = 42 + 42 + 5 = 89 reps.
    board = amrap(rounds(line("rung", 2, 4, step=2), line("other", 2, 4, step=2), n=None), time_s=480)
    people = {"rung": MOVEMENTS["rung"], "other": movement("other", 5.35)}
    run = simulate(board, people, "steady", effort=EVEN)
    assert run.done("rung") + run.done("other") == 89
    assert work_through(board, people, effort=EVEN).of("steady").score == "through the 12s and 5 reps"


def test_a_start_and_a_finish_stand_outside_the_rounds() -> None:
    run = even(for_time(rounds(line("run", 400, unit="m")), rounds(line("squat", 10), n=3), rounds(line("press", 20))))
    assert (run.end_s, run.rounds_done) == (144 + 72 + 50, 3)
    assert [e.movement for e in run.events] == ["run", "squat", "squat", "squat", "press"]


def test_one_rest_in_the_middle() -> None:
    # A board of the text cases (board 11): 8-6-4-2-4-6-8, one rest of 1:00 after the 2s.
    rest = Cycle(items=(Rest(seconds=60, place=HERE),))
    run = even(for_time(rounds(line("press", 8, 6, 4, 2), n=4), rest, rounds(line("press", 4, 6, 8), n=3)))
    assert (run.done("press"), run.end_s) == (38, 38 * 2.5 + 60)


def test_any_order_goes_in_planned_rounds_or_as_written() -> None:
    items = (line("squat", 60), line("press", 20))
    planned = Cycle(items=items, any_order=True, plan_rounds=6)
    run = even(for_time(planned))
    assert [e.quantity for e in run.events] == [10, 4, 10, 4, 10, 3, 10, 3, 10, 3, 10, 3]
    assert run.rounds_done == 6
    run = even(for_time(Cycle(items=items, any_order=True)))
    assert [e.quantity for e in run.events] == [60, 20]


@pytest.mark.parametrize(
    ("total", "n", "whole", "expected"),
    [(10, 4, 1, (3, 3, 2, 2)), (12, 4, 2, (4, 4, 2, 2)), (3, 5, 1, (1, 1, 1, 0, 0)), (60, 6, 2, (10,) * 6)],
)
def test_totals_are_shared_out(total: int, n: int, whole: int, expected: tuple[int, ...]) -> None:
    assert share_out(total, n, whole) == expected


def test_parts_follow_each_other_and_each_starts_fresh() -> None:
    part = for_time(rounds(line("squat", 100))).parts[0]
    alone = simulate(workout(part), MOVEMENTS, "steady").end_s
    run = whole_log(simulate(workout(part.model_copy(update={"rest_after_s": 120}), part), MOVEMENTS, "steady"))
    assert run.end_s == pytest.approx(2 * alone + 120)
    assert len(run.parts) == 2
    assert run.parts[1].start_s == pytest.approx(alone + 120)


def test_a_part_without_any_end_ends() -> None:
    run = simulate(for_time(rounds(line("squat", 10), n=None)), MOVEMENTS, "easy")
    assert (run.finished, run.end_s) == (False, OPEN_LIMIT_S)
    run = simulate(for_time(rounds(line("squat", most=True), n=5, rest_s=120)), MOVEMENTS, "easy")
    assert run.finished
    assert run.done("squat") == 5 * int(40 / 3.2)


@pytest.mark.parametrize(
    "board",
    [
        workout(),
        workout(Part(place=HERE)),
        for_time(rounds()),
        for_time(rounds(n=None)),
        for_time(rounds(Rest(seconds=None, place=HERE), n=None)),
        for_time(rounds(line("squat", 0), n=None)),
        amrap(rounds(line("squat", 21, 15, 9), n=None), time_s=600),
        workout(Part(windows=Windows(count=0), place=HERE)),
        for_time(rounds(line("squat", 5)), interrupts=(every(0, 0, line("climber", 5)),)),
        for_time(rounds(line("squat", 5)), interrupts=(every(1, 0, line("climber", 0)),)),
        for_time(rounds(line("squat", 5)), cap_s=0),
    ],
)
def test_odd_boards_end_with_a_whole_log(board: Workout) -> None:
    for person in PEOPLE:
        whole_log(simulate(board, MOVEMENTS, person))
    work_through(board, MOVEMENTS)
    scale(board, MOVEMENTS, "easy")


def test_a_rest_between_rounds_stays_between_them() -> None:
    board = for_time(rounds(line("squat", 10), n=3, rest_s=60), rounds(line("press", 10)))
    assert seconds_of(even(board), "rest") == 120


def test_a_window_begins_without_a_change() -> None:
    board = every_minute(6, Station(cycles=(rounds(line("squat", 5)),)), Station(cycles=(rounds(line("press", 5)),)))
    assert seconds_of(simulate(board, MOVEMENTS, "brisk", effort=ONLY_CHANGES), "change") == 0


def test_a_station_steps_each_time_it_comes() -> None:
    stations = (Station(cycles=(rounds(line("squat", 2, step=1)),)), Station(cycles=(rounds(line("press", 5)),)))
    assert even(every_minute(6, *stations)).done("squat") == 2 + 3 + 4


def test_a_round_that_spans_a_gap_is_counted_without_it() -> None:
    part = Part(
        windows=Windows(count=3, work_s=180, gap_s=120),
        stations=(Station(cycles=(rounds(line("one-second", 100), n=None),)),),
        goal="most",
        carries_on=True,
        place=HERE,
    )
    assert even(workout(part)).parts[0].round_s == (100,) * 5


def test_a_new_window_starts_its_score_again() -> None:
    part = Part(
        windows=Windows(count=2, work_s=60, gap_s=60),
        stations=(Station(cycles=(rounds(line("one-second", 100), n=None),)),),
        goal="most",
        place=HERE,
    )
    run = even(workout(part))
    assert (run.reps_into_next, run.done("one-second")) == (60, 120)


def test_only_reps_count_as_reps() -> None:
    board = amrap(rounds(line("one-second", 10), line("run", 200, unit="m"), n=None), time_s=46)
    assert even(board).reps_into_next == 10


def test_an_open_part_is_never_finished() -> None:
    part = amrap(rounds(line("squat", 10), n=None), time_s=60).parts[0]
    run = simulate(workout(part.model_copy(update={"windows": Windows()})), MOVEMENTS, "brisk")
    assert (run.finished, run.end_s) == (False, OPEN_LIMIT_S)


def test_a_rep_cut_off_is_time_worked() -> None:
    # 50 s of the first window are worked for nothing; the second starts as tired as if they had counted.
    board = every_minute(2, Station(cycles=(rounds(line("long", 1)),)), Station(cycles=(rounds(line("climber", 10)),)))
    run = simulate(board, {**MOVEMENTS, "long": movement("long", 100)}, "brisk", effort=ONLY_SLOWDOWN)
    first = next(e for e in run.events if e.movement == "climber")
    assert first.end_s - first.start_s == pytest.approx(10 * (1 + SLOW * 65 / FULL_S), abs=0.01)


# What the coach hears.


def slack_water(cap_s: int = 22 * 60) -> Workout:
    step_ups = line("squat", 20, sides="alternating")
    presses = line("press", 12, sides="each")
    return for_time(
        rounds(step_ups, presses, line("run", 200, unit="m"), n=5, rest_s=60),
        cap_s=cap_s,
        interrupts=(every(180, 180, line("climber", 12, sides="alternating")),),
    )


def test_the_answer_has_time_score_and_interrupts() -> None:
    clock = work_through(slack_water(), MOVEMENTS)
    brisk, easy = clock.of("brisk"), clock.of("easy")
    assert brisk.finished
    assert brisk.finish_s is not None
    assert brisk.interrupts == int(brisk.finish_s / 180 - 1e-9)
    assert brisk.interrupt_totals[0].model_dump() == {
        "movement": "climber",
        "quantity": 12 * brisk.interrupts,
        "unit": "reps",
        "per_side": 6 * brisk.interrupts,
    }
    assert not easy.finished
    assert easy.finish_s is None
    assert easy.parts[0].cap_s == 1320
    assert easy.interrupts == 7
    assert easy.score == "stopped at 22:00 with 3 rounds and 32 reps"
    whole_s = easy.parts[0].whole_s
    assert whole_s is not None
    assert whole_s > 1320
    assert len(easy.parts[0].rounds) == 5


def test_a_round_that_fits_between_two_interrupts_is_said() -> None:
    clock = work_through(slack_water(), MOVEMENTS, effort=EVEN)
    steady = clock.of("steady").parts[0]
    assert steady.between_s == 180 - 12
    assert [(r.round, r.seconds, r.fits) for r in steady.rounds] == [(n, 150.0, True) for n in range(1, 6)]
    assert [r.fits for r in clock.of("easy").parts[0].rounds] == [False] * 5  # 64 + 36 + 90 s
    without = for_time(rounds(line("squat", 10), n=2))
    assert work_through(without, MOVEMENTS).of("easy").parts[0].rounds[0].fits is None


@pytest.mark.parametrize(
    ("board", "score"),
    [
        (for_time(rounds(line("squat", 10), n=5)), "2:00"),
        (amrap(rounds(line("squat", 10), n=None), time_s=110), "4 rounds and 5 reps"),
        (amrap(rounds(line("squat", 10), n=None), time_s=24), "1 round"),
        (
            amrap(rounds(line("squat", 10), line("run", 200, unit="m"), n=None), time_s=60),
            "0 rounds, 10 reps and 100 m",
        ),
        (amrap(rounds(line("squat", most=True)), time_s=60), "25 reps"),
        (for_time(rounds(line("squat", 100)), cap_s=120), "stopped at 2:00 with 50 reps"),
        (every_minute(5, Station(cycles=(rounds(line("squat", 10)),))), "5 of 5 minutes"),
        (every_minute(5, Station(cycles=(rounds(line("squat", 50)),)), work_s=90), "0 of 5 rounds"),
    ],
)
def test_scores_are_written_as_one_notes_them(board: Workout, score: str) -> None:
    assert work_through(board, MOVEMENTS, effort=EVEN).of("steady").score == score


def test_partitions_divide_every_total_and_keep_sides_even() -> None:
    cycle = Cycle(
        items=(line("squat", 60), line("press", 36), line("climber", 12, sides="each")), any_order=True, plan_rounds=6
    )
    board = for_time(cycle, interrupts=(every(180, 0, line("one-second", 12)),))
    found = partitions(board, MOVEMENTS, effort=EVEN)
    assert [p.rounds for p in found] == [1, 2, 3, 6]  # gcd(60, 36, 12 / 2)
    last = found[-1]
    assert [(a.quantity, a.per_side) for a in last.amounts] == [(10, None), (6, None), (2, 1)]
    steady = last.times[1]
    assert steady.round_s == (10 * 2.4 + 6 * 2.5 + 2,) * 6
    assert steady.finish_s == solve(60 * 2.4 + 36 * 2.5 + 12, 12, 180, 0)[0]
    assert [p.times[1].fits for p in found] == [False, True, True, True]  # 246, 123, 82 and 41 s into 168 s


def test_the_shorter_time_between_interrupts_decides() -> None:
    interrupts = (every(180, 0, line("climber", 12)), every(120, 60, line("climber", 20)))
    board = for_time(rounds(line("squat", 100)), interrupts=interrupts)
    assert work_through(board, MOVEMENTS, effort=EVEN).of("steady").parts[0].between_s == 100


def test_one_side_is_a_number_only_where_all_have_sides() -> None:
    interrupts = (every(60, 0, line("climber", 4, sides="each")), every(60, 0, line("climber", 2)))
    clock = work_through(for_time(rounds(line("squat", 10)), interrupts=interrupts), MOVEMENTS)
    assert [(t.quantity, t.per_side) for t in clock.of("steady").interrupt_totals] == [(6, None)]


def test_partitions_of_rounds_start_from_their_totals() -> None:
    found = partitions(for_time(rounds(line("squat", 21, 15, 9), n=3)), MOVEMENTS)
    assert [p.rounds for p in found] == [1, 3, 5, 9, 15, 45]
    assert partitions(amrap(rounds(line("squat", 10), n=None), time_s=60), MOVEMENTS) == ()


def test_scaling_keeps_what_fits() -> None:
    found = scale(slack_water(60 * 60), MOVEMENTS, "brisk")
    assert (found.factor, found.fits, found.workout) == (1, True, slack_water(60 * 60))


def test_scaling_floors_to_what_people_count() -> None:
    board = slack_water(20 * 60)
    found = scale(board, MOVEMENTS, "easy")
    assert found.fits
    assert found.factor < 1
    assert found.end_s <= 0.9 * 20 * 60
    squats, presses, run, climbers = (a.by_round[0] for a in found.amounts)
    assert squats % 2 == presses % 2 == climbers % 2 == run % 50 == 0
    assert found.amounts[0].per_side == squats // 2
    factors = factors_of(board)
    at = [float(f) for f in factors].index(found.factor)
    more = scale_by(board, factors[at + 1])
    assert not fits(more, simulate(more, MOVEMENTS, "easy"), 0.9)


def test_scaling_planned_rounds_keeps_them_equal() -> None:
    cycle = Cycle(items=(line("squat", 60, sides="each"), line("press", 50)), any_order=True, plan_rounds=5)
    found = scale(for_time(cycle, cap_s=200), MOVEMENTS, "steady", effort=EVEN)
    assert found.fits
    squats, presses = (a.by_round[0] for a in found.amounts)
    assert squats % 10 == presses % 5 == 0


@pytest.mark.parametrize(
    ("work", "splits", "step"),
    [
        (line("squat", 21), 1, 1),
        (line("squat", 20, sides="alternating"), 1, 2),
        (line("squat", 60, sides="each"), 5, 10),
        (line("run", 400, unit="m"), 1, 50),
        (line("run", 1600, unit="m"), 4, 200),
        (line("run", 60, unit="m"), 1, 10),
        (line("run", 15, unit="m"), 1, 5),
        (line("plank", 40, unit="s"), 1, 5),
        (line("plank", 40, unit="s", sides="each"), 1, 10),
        (line("plank", 8, unit="s"), 1, 1),
        (line("row", 12, unit="cal"), 1, 1),
        (line("squat", 1, sides="each"), 1, 1),
    ],
)
def test_amounts_go_in_what_people_count(work: Work, splits: int, step: int) -> None:
    assert step_of(work, work.amount.by_round[0], splits) == step


def test_nothing_is_scaled_away() -> None:
    board = for_time(rounds(line("squat", 100), line("press", 1), line("run", 60, unit="m")), cap_s=60)
    found = scale(board, MOVEMENTS, "steady", effort=EVEN)
    assert found.fits
    assert [a.by_round for a in found.amounts] == [(19,), (1,), (10,)]  # 51.7 s; 20 squats are 54.1 s, 54 s are left


def test_scaling_every_minute_leaves_a_tenth_of_each() -> None:
    board = every_minute(10, Station(cycles=(rounds(line("squat", 25)),)))
    found = scale(board, MOVEMENTS, "steady", effort=EVEN)
    assert found.amounts[0].by_round == (int(54 / 2.4),)


def test_scaling_says_when_nothing_fits_or_nothing_is_timed() -> None:
    hopeless = scale(for_time(rounds(line("squat", 10), n=100), cap_s=60), MOVEMENTS, "easy")
    assert not hopeless.fits
    assert hopeless.amounts[0].by_round == (1,)
    untimed = scale(for_time(rounds(line("squat", 10))), MOVEMENTS, "easy")
    assert (untimed.fits, untimed.factor) == (False, 1)
