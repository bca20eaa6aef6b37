"""The clock against published figures. Numbers in brackets are the rows of the project's list of check values."""

from __future__ import annotations

import pytest

from briefing.board.models import Amount, Cycle, Part, Station, Windows, Work, Workout
from briefing.clock.people import CARRY_S_PER_M, REP_S, ROW_S_PER_M, RUN_S_PER_M
from briefing.clock.simulate import EVEN, NORMAL, Effort, Run, simulate
from briefing.library.models import Movement, Rates
from briefing.problems import Place
from briefing.units import PEOPLE, Person, Unit

HERE = Place(line=1)

# Burpees in three minutes, 5,971 men and 3,862 women aged 18 to 25: men 56.69 on average, best 82, middle band 47-66;
# women 48.84, 73, 37-60. Podstawski et al. 2019, J. Human Kinetics 69:137, doi 10.2478/hukin-2019-0021 (4.17, seen).
BURPEES_MEN, BURPEES_WOMEN, BURPEES_BEST = 56.69, 48.84, 82
# Two-hand swings with 16 kg in 12 minutes, as many as possible: 265 with a standard deviation of 68, n = 10. Farrar,
# Mayhew & Koch 2010, JSCR 24:1034 (4.18, seen).
SWINGS, SWINGS_SD = 265, 68
# The first stage of the 20 m shuttle run: Léger et al. 1988 (4.23, second-hand).
SHUTTLE_KM_H = 8.5
# Push-ups on a metronome in school tests: one in 3 s (4.9, seen). Curl-ups: 20 a minute, ACSM (4.12, second-hand).
PUSH_UP_S, CURL_UP_S = 3.0, 3.0


def movement(slug: str, *seconds: float, unit: Unit = "reps") -> Movement:
    brisk, steady, easy = seconds if len(seconds) == 3 else seconds * 3
    rates = {unit: Rates(brisk=brisk, steady=steady, easy=easy)}
    return Movement(slug=slug, name=slug, plural=slug, seconds_for=rates, file=f"{slug}.md")


def line(slug: str, n: int = 0, unit: Unit = "reps") -> Work:
    amount = Amount(unit=unit, by_round=(n,)) if n else Amount(unit=unit, most=True)
    return Work(movement=slug, written=slug, amounts=(amount,), place=HERE)


def work(*lines: Work, rounds: int | None = 1, clock_s: int | None = None, most: bool = False) -> Workout:
    cycle = Cycle(items=lines, rounds=rounds)
    part = Part(
        windows=Windows(work_s=clock_s),
        stations=(Station(cycles=(cycle,)),),
        goal="most" if most else "time",
        place=HERE,
    )
    return Workout(title="Low Water", parts=(part,), file="low-water.md")


def run(board: Workout, *movements: Movement, person: Person = "steady", effort: Effort = EVEN) -> Run:
    return simulate(board, {m.slug: m for m in movements}, person, effort=effort)


def counts(one: Movement, clock_s: int) -> dict[Person, int]:
    """Count what each kind of person does of a movement in this time, with all of the formula on."""
    board = work(line(one.slug), clock_s=clock_s, most=True)
    return {p: run(board, one, person=p, effort=NORMAL).done(one.slug) for p in PEOPLE}


BURPEE = movement("burpee", 180 / BURPEES_MEN)
SWING = movement("swing", 720 / SWINGS)
SHUTTLE = movement("run", 3.6 / SHUTTLE_KM_H, unit="m")


def test_five_rounds_of_published_rates() -> None:
    # Derived from 4.17, 4.18 and 4.23: 170.8 s a round, 853.99 s in all, 14:14. Fits 15:00 and not 14:00.
    lines = (line("burpee", 10), line("swing", 20), line("run", 200, "m"))
    whole = run(work(*lines, rounds=5), BURPEE, SWING, SHUTTLE)
    assert whole.end_s == pytest.approx(853.99, abs=0.01)
    assert whole.parts[0].round_s == pytest.approx((170.8,) * 5, abs=0.01)
    assert run(work(*lines, rounds=5, clock_s=900), BURPEE, SWING, SHUTTLE).finished
    assert not run(work(*lines, rounds=5, clock_s=840), BURPEE, SWING, SHUTTLE).finished


def test_twelve_minutes_of_published_rates() -> None:
    # Derived from 4.9, 4.12 and 4.17: 136.75 s a round; 5 rounds and 36.24 s, that is 10 burpees and 1 push-up.
    board = work(line("burpee", 10), line("push-up", 20), line("curl-up", 15), rounds=None, clock_s=720, most=True)
    done = run(board, BURPEE, movement("push-up", PUSH_UP_S), movement("curl-up", CURL_UP_S))
    assert (done.rounds_done, done.reps_into_next) == (5, 11)
    assert done.parts[0].round_s == pytest.approx((136.75,) * 5, abs=0.01)
    assert 720 - sum(done.parts[0].round_s) == pytest.approx(36.24, abs=0.01)
    assert {d.movement: d.quantity for d in done.parts[0].into_next} == {"burpee": 10, "push-up": 1}


def test_three_minutes_of_burpees() -> None:
    # 4.17; the rates are a library's for a fresh set of ten, the count is the clock's.
    done = counts(movement("burpee", 2.6, 3.2, 4.0), 180)
    assert 47 <= done["brisk"] <= 66  # the middle band of the men
    assert 47 <= done["steady"] <= 60  # where the bands of men and women overlap
    assert done["brisk"] > BURPEES_MEN > BURPEES_WOMEN > done["easy"]
    assert done["easy"] >= 0.6 * BURPEES_WOMEN


def test_nobody_does_more_burpees_than_the_best_of_six_thousand() -> None:
    board = work(line("burpee", BURPEES_BEST + 1), clock_s=180)
    for person in PEOPLE:
        assert not run(board, movement("burpee", 2.6, 3.2, 4.0), person=person, effort=NORMAL).finished


def test_ten_burpees_at_the_published_means() -> None:
    # Derived from 4.17: 31.8 s for men, 36.9 s for women.
    assert run(work(line("burpee", 10)), BURPEE).end_s == pytest.approx(31.8, abs=0.1)
    women = movement("burpee", 180 / BURPEES_WOMEN)
    assert run(work(line("burpee", 10)), women).end_s == pytest.approx(36.9, abs=0.1)


def test_twelve_minutes_of_swings() -> None:
    # 4.18; the fresh rates are our choice for this test.
    done = counts(movement("swing", 1.8, 2.2, 2.8), 720)
    assert abs(done["steady"] - SWINGS) <= SWINGS_SD
    assert all(abs(n - SWINGS) <= 2 * SWINGS_SD for n in done.values())
    assert run(work(line("swing", 20)), SWING).end_s == pytest.approx(54.3, abs=0.05)


def test_two_minutes_of_push_ups() -> None:
    # Former US Army fitness test, age 17-21, points 60 and 100: men 42 and 71, women 19 and 42 (4.15, second-hand, so
    # with a tenth of tolerance). The fresh rates are our choice for this test.
    done = counts(movement("push-up", 1.7, 2.2, 3.0), 120)
    assert 42 * 0.9 <= done["steady"] < done["brisk"] <= 71 * 1.1
    assert 19 * 0.9 <= done["easy"] <= 42 * 1.1


def test_push_ups_on_a_metronome() -> None:
    # 4.9, seen: one every 3 s is 20 a minute. 4.15, second-hand: 71 in 2 minutes is 1.69 s each.
    board = work(line("push-up"), clock_s=60, most=True)
    assert run(board, movement("push-up", PUSH_UP_S)).done("push-up") == 20
    assert run(work(line("push-up", 71)), movement("push-up", 1.69)).end_s == pytest.approx(120, abs=0.1)


@pytest.mark.parametrize(("km_h", "length_s", "a_minute"), [(8.5, 8.47, 7.08), (13.0, 5.54, 10.83)])
def test_the_shuttle_run(km_h: float, length_s: float, a_minute: float) -> None:
    # Léger et al. 1988 (4.23, second-hand): stages 1 and 10, seconds for 20 m and lengths a minute.
    runner = movement("run", 3.6 / km_h, unit="m")
    assert run(work(line("run", 20, "m")), runner).end_s == pytest.approx(length_s, abs=0.005)
    board = work(line("run", unit="m"), clock_s=60, most=True)
    assert run(board, runner).done("run", "m") / 20 == pytest.approx(a_minute, abs=0.05)


def test_walking_speed() -> None:
    # Comfortable walking in the twenties: 1.39 m/s men, 1.41 women (Bohannon 1997, 4.33, from memory).
    for metres_per_s in (1.39, 1.41):
        walker = movement("walk", 1 / metres_per_s, unit="m")
        assert run(work(line("walk", 400, "m")), walker).end_s == pytest.approx(400 / metres_per_s, abs=0.001)
    # Our own rates for a carry: nobody carries faster than people walk in comfort.
    assert all(1 / s <= 1.41 for s in CARRY_S_PER_M.values())


def test_running_lies_between_walking_and_the_last_stages_of_the_shuttle() -> None:
    # 4.23 (second-hand) and 4.33 (from memory): stage 10 is 13.0 km/h, comfortable walking 1.41 m/s.
    assert all(1.41 < 1 / s < 13.0 / 3.6 for s in RUN_S_PER_M.values())
    assert pytest.approx(SHUTTLE_KM_H / 3.6, rel=0.1) == 1 / RUN_S_PER_M["easy"]


def test_rowing_speed_and_power() -> None:
    # Power = 2.80 / (seconds per metre)³ for air-braked rowers (4.31, second-hand): 2:00 for 500 m is 202.5 W.
    brisk = ROW_S_PER_M["brisk"]
    assert 500 * brisk == 120
    assert 2.80 / brisk**3 == pytest.approx(202.5, abs=0.1)


@pytest.mark.parametrize(("reps", "minutes"), [(5, 3.70), (10, 7.40)])
def test_a_four_count_drill(reps: int, minutes: float) -> None:
    # US Army TC 3-22.20 (4.1 to 4.3, seen): ten exercises of four counts, eight at 50 counts a minute, two at 80.
    slow, moderate = movement("slow", 4 * 60 / 50), movement("moderate", 4 * 60 / 80)
    drill = work(*[line("slow", reps)] * 8, *[line("moderate", reps)] * 2)
    assert run(drill, slow, moderate).end_s / 60 == pytest.approx(minutes, abs=0.001)


def test_our_plain_repetition_lies_around_a_drill_lunge() -> None:
    # A slow four-count drill holds 25 lunges a minute, 2.4 s each (derived from 4.1, 4.3).
    assert REP_S["brisk"] < 2.4 < REP_S["easy"]


@pytest.mark.parametrize(("a_minute", "seconds"), [(110, 54.5), (120, 50.0)])
def test_a_hundred_turns_of_the_rope(a_minute: int, seconds: float) -> None:
    # 2011 Compendium: moderate is 100 to 120 skips a minute, fast 120 to 160 (4.22, seen).
    assert run(work(line("skip", 100)), movement("skip", 60 / a_minute)).end_s == pytest.approx(seconds, abs=0.05)
