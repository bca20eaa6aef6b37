"""How a workout is told: the notation of every field, the body of a part, words and cards for what the board holds."""

from __future__ import annotations

import pytest

from briefing.board.models import (
    Amount,
    Cycle,
    Every,
    Interrupt,
    Load,
    Option,
    Part,
    Rest,
    Station,
    Windows,
    Work,
    Workout,
    body_of,
)
from briefing.library.models import Movement
from briefing.problems import Place
from briefing.telling.board import write_board
from briefing.telling.figures import work_card
from briefing.telling.interrupts import when_words
from briefing.telling.notation import NORMAL, PAPER, Style
from briefing.telling.phrases import load_words, work_words
from briefing.telling.rests import rests_of
from briefing.telling.sentences import tidy
from briefing.telling.shape import once_key, shape, shape_card
from briefing.telling.sharing import team_words

PLACE = Place(file="made.md", line=1)
NAMES = {
    "run": ("Run", "runs", "metres"),
    "row": ("Row", "rows", "metres"),
    "squat": ("Back squat", "back squats", "reps"),
    "push": ("Push-up", "push-ups", "reps"),
    "clean": ("Power clean", "power cleans", "reps"),
    "jerk": ("Push jerk", "push jerks", "reps"),
    "lunge": ("Reverse lunge", "reverse lunges", "reps"),
}
MOVEMENTS = {
    slug: Movement(slug=slug, name=name, plural=plural, counts=(counts,), file=f"{slug}.md")
    for slug, (name, plural, counts) in NAMES.items()
}


def work(slug: str, *numbers: int, unit: str = "reps", most: bool = False, step: int = 0, **more: object) -> Work:
    amount = Amount(unit=unit, by_round=numbers, most=most, step=step)
    return Work(movement=slug, written=slug, amounts=(amount,), place=PLACE, **more)


def one(*items: Work | Rest, **more: object) -> tuple[Station, ...]:
    return (Station(cycles=(Cycle(items=items, **more),)),)


def board(*parts: Part, style: Style = NORMAL, **more: object) -> list[str]:
    workout = Workout(title="T", parts=parts, file="t.md", **more)
    return write_board(workout, MOVEMENTS, style).splitlines()


def timed(*items: Work | Rest, **more: object) -> Part:
    return Part(stations=one(*items, **more), score="time", place=PLACE)


SETS = {"goal": "complete", "sets": True, "place": PLACE}
PUSHES = work("push", 10)


@pytest.mark.parametrize(
    ("part", "lines"),
    [
        (timed(PUSHES, rounds=4, rest_between_s=120, rest_at_most_s=180), ["Rest 2:00-3:00 between rounds"]),
        (timed(PUSHES, rounds=4, rest_between_s=90, rest_doing="walk"), ["Rest 1:30, walk between rounds"]),
        (timed(PUSHES, Rest(seconds=90, doing="walk", place=PLACE)), ["  Rest 1:30, walk"]),
        (timed(PUSHES, Rest(seconds=120, at_most_s=180, place=PLACE)), ["  Rest 2:00-3:00"]),
        (timed(PUSHES, Rest(doing="walk", place=PLACE)), ["  Rest as needed, walk"]),
        (timed(PUSHES, rounds=4, rest_ratio=2.0), ["work:rest 1:2"]),
        (timed(PUSHES, rounds=4, rest_ratio=1.0), ["Rest as long as the work"]),
        (timed(PUSHES, rounds=4, rest_after=((2, 120),)), ["Rest 2:00 after round 2"]),
        (timed(PUSHES, rounds=4, rest_between_s=None), ["Rest as needed between rounds"]),
        (Part(stations=one(PUSHES, rounds=5, rest_between_s=150), **SETS), ["5 sets", "Rest 2:30 between sets"]),
        (
            Part(stations=one(work("squat", 5, 5, 3, loads_by_round=tuple(
                Load(written=f"{n}%", percent=n) for n in (60, 70, 80))), rounds=3), **SETS),
            ["3 sets", "  5 back squats @ 60%, 5 @ 70%, 3 @ 80%"],
        ),
        (
            Part(stations=one(
                work("clean", 2, loads=(Load(written="70 kg", kg=70),)),
                work("jerk", 1, joined=True, loads=(Load(written="70 kg", kg=70),)), rounds=5), **SETS),
            ["5 sets", "  2 power cleans + 1 push jerk @ 70 kg"],
        ),
        (
            Part(stations=one(
                work("clean", 2, options=(Option(work=work("squat", 2), written_reasons=("new",)),)),
                work("jerk", 1, joined=True), rounds=5), **SETS),
            ["  2 power cleans", "    or 2 back squats (new)", "  + 1 push jerk"],
        ),
        (
            Part(stations=one(work("run", 300, unit="m"), rounds=8, block=4, rest_between_s=60, rest_after=((4, 180),)),
                 **SETS),
            ["2 sets of (4 x 300 m run, rest 1:00), 3:00 between sets"],
        ),
        (
            timed(work("run", 300, unit="m"), PUSHES, rounds=8, block=4, rest_between_s=60, rest_after=((4, 180),)),
            ["2 sets of 4 rounds for time", "Rest 1:00 between rounds", "Rest 3:00 between sets"],
        ),
        (
            Part(stations=one(work("run", most=True, unit="s", effort="hard")), goal="most",
                 windows=Windows(count=8, work_s=60, gap_s=60, gap_doing="easy"), place=PLACE),
            ["8 x (1:00 hard / 1:00 easy) run"],
        ),
        (
            Part(stations=one(work("row", 500, unit="m")), goal="complete",
                 windows=Windows(count=5, work_s=180, gap_s=90, gap_doing="walk"), place=PLACE),
            ["3:00 on / 1:30 walk for 5 rounds", "  500 m row"],
        ),
        (timed(work("run", 900, unit="s", effort="easy")), ["For time", "  15:00 run, easy"]),
        (timed(work("run", 800, unit="m", pace="4:00/km")), ["  800 m run, @ 4:00/km"]),
        (timed(work("squat", 10, tempo="31X1", effort="RPE 8", unbroken=True)),
         ["  10 back squats, tempo 31X1, RPE 8, unbroken"]),
        (Part(goal="quality", stations=one(PUSHES, rounds=4), score="nothing", place=PLACE), ["4 rounds not for time"]),
        (Part(goal="quality", stations=one(PUSHES), score="nothing", place=PLACE), ["Not for time"]),
        (
            Part(goal="quality", stations=one(work("push", 10, 8, 6), rounds=3), score="nothing", place=PLACE),
            ["10-8-6, not for time", "  push-ups"],
        ),
        (
            Part(goal="complete", windows=Windows(count=3, work_s=120), stations=one(work("squat", 5, 4, 3)), place=PLACE),
            ["Every 2:00 for 3 rounds", "  5-4-3 back squats"],
        ),
        (
            Part(goal="complete", windows=Windows(count=4, work_s=300), stations=one(PUSHES, rounds=3), place=PLACE),
            ["Every 5:00 for 4 rounds, 3 rounds each"],
        ),
        (Part(heading="Strength", stations=one(PUSHES, rounds=3), **SETS), ["Strength", "3 sets"]),
        (timed(PUSHES, any_order=True, plan_rounds=2), ["For time, any order, plan 2 rounds"]),
        (
            Part(stations=one(PUSHES), score="time", target="under 5:00", windows=Windows(work_s=600), place=PLACE),
            ["For time, cap 10:00", "aim for under 5:00"],
        ),
        (Part(stations=one(PUSHES), sets=True, goal="complete", score="total reps", place=PLACE), ["score: total reps"]),
        (
            Part(goal="most", stations=one(PUSHES, rounds=None), windows=Windows(count=3, work_s=180, gap_s=120),
                 carries_on=True, place=PLACE),
            ["3 x AMRAP 3:00 / 2:00 off, carry on where you left off"],
        ),
    ],
)  # fmt: skip
def test_the_notation(part: Part, lines: list[str]) -> None:
    for style in (NORMAL, PAPER):
        written = board(part, style=style)
        assert [x for x in lines if x not in written] == [], written


def test_a_buy_in_cancels_nothing() -> None:
    """The body is what is planned in rounds, not the longest list of rounds: any order and the plan stay with it."""
    buy_in, body = Cycle(items=(work("run", 400, unit="m"),)), Cycle(items=(PUSHES,), any_order=True, plan_rounds=6)
    last = Cycle(items=(work("run", 600, unit="m"),))
    part = Part(stations=(Station(cycles=(buy_in, body, last)),), score="time", place=PLACE)
    assert body_of(part) is body
    assert [once_key(part, c) for c in part.cycles] == ["once before", None, "once after"]
    assert board(part) == [
        "For time, any order, plan 6 rounds",
        "  Buy-in: 400 m run",
        "  10 push-ups",
        "  Finish: 600 m run",
    ]
    assert shape_card(part) == "1 job, any order"
    longer = Cycle(items=(PUSHES, work("squat", 10)))
    assert body_of(part.model_copy(update={"stations": (Station(cycles=(buy_in, longer, last)),)})) is longer


def test_a_buy_in_of_several_rounds_and_a_rest_behind_it() -> None:
    buy_in = Cycle(items=(work("squat", 5), Rest(seconds=60, place=PLACE)), rounds=2)
    part = Part(stations=(Station(cycles=(buy_in, Cycle(items=(PUSHES,), rounds=4))),), score="time", place=PLACE)
    assert board(part) == [
        "4 rounds for time",
        "  Buy-in: 2 rounds",
        "    5 back squats",
        "    Rest 1:00",
        "  10 push-ups",
    ]
    once = buy_in.model_copy(update={"rounds": 1})
    part = part.model_copy(update={"stations": (Station(cycles=(once, Cycle(items=(PUSHES,), rounds=4))),)})
    assert board(part)[1:3] == ["  Buy-in: 5 back squats", "  Buy-in: Rest 1:00"]


def test_two_parts_on_paper_have_their_letters() -> None:
    parts = (timed(PUSHES, rounds=3), timed(work("squat", 10)).model_copy(update={"score": None}))
    first = parts[0].model_copy(update={"rest_after_s": 180})
    assert board(first, parts[1]) == [
        "3 rounds for time", "  10 push-ups", "Rest 3:00 between parts", "", "Part B", "  10 back squats",
    ]  # fmt: skip
    assert board(first, parts[1], style=PAPER)[0] == "Part A"


def test_warm_up_and_cool_down_stand_around_the_workout() -> None:
    jog = Part(stations=one(work("run", 300, unit="s", effort="easy")), goal="quality", score="nothing", place=PLACE)
    assert board(timed(PUSHES), warm_up=(jog,), cool_down=(jog,)) == [
        "Warm-up", "Not for time", "  5:00 run, easy", "", "Workout", "For time", "  10 push-ups", "",
        "Cool-down", "Not for time", "  5:00 run, easy",
    ]  # fmt: skip


def test_a_movement_that_no_file_has_goes_by_its_name() -> None:
    odd = timed(work("keg-carry", 3).model_copy(update={"written": "keg carries"}))
    assert board(odd) == ["For time", "  3 keg carries"]


@pytest.mark.parametrize(
    ("size", "rule", "swap", "words"),
    [
        (2, "together", None, "in pairs, together"),
        (2, "share", None, "in pairs, split as you like"),
        (2, "rounds", None, "in pairs, a round each"),
        (2, "relay", None, "in pairs, one works until the other is back"),
        (2, "swap", Amount(unit="m", by_round=(250,)), "in pairs, swap every 250 m"),
        (2, "swap", Amount(unit="s", by_round=(90,)), "in pairs, swap every 1:30"),
        (3, "relay", None, "in teams of 3, one works until the next is back"),
        (2, None, None, "in pairs"),
    ],
)
def test_how_a_team_shares(size: int, rule: str | None, swap: Amount | None, words: str) -> None:
    shared = {"team_size": size, "team_rule": rule, "swap_every": swap}
    part = Part.model_validate({**timed(PUSHES).model_dump(), **shared})
    assert team_words(part) == words
    assert board(part)[1] == words[0].upper() + words[1:]


def test_halves_are_told_on_paper_alone() -> None:
    lunges = timed(work("lunge", 12, sides="alternating", side_word="leg"))
    assert board(lunges)[1] == "  12 reverse lunges"
    assert board(lunges, style=PAPER)[1] == "  12 reverse lunges, 6 each leg"


def test_lists_of_one_side_and_of_both_are_not_one_list() -> None:
    part = timed(
        work("lunge", 20, 16, sides="each", sides_written=True, side_word="leg"), work("push", 20, 16), rounds=2
    )
    assert board(part) == ["For time", "  10-8 reverse lunges, each leg", "  20-16 push-ups"]


def test_an_option_has_numbers_of_its_own_or_those_of_its_line() -> None:
    same = Option(work=work("squat", 21, 15, 9), written_reasons=("wrist",))
    other = Option(work=work("squat", 12, 9, 6), written_reasons=("new",))
    assert board(timed(work("push", 21, 15, 9, options=(same, other)), rounds=3)) == [
        "21-15-9 for time", "  push-ups", "    or back squats (wrist)", "    or 12-9-6 back squats (new)",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("load", "said"),
    [
        (Load(written="22.5 kg", kg=22.5), "22.5 kilos"),
        (Load(written="50 lb", kg=22.68), "50 pounds"),
        (Load(written="80%", percent=80), "80 percent"),
        (Load(written="15 kg", kg=15, count=2), "15 kilos in each hand"),
    ],
)
def test_loads_are_said_in_their_own_unit(load: Load, said: str) -> None:
    assert load_words(load) == said


def test_work_is_said_and_carded_with_all_that_is_written() -> None:
    loads = tuple(Load(written=f"{n}%", percent=n) for n in (60, 70))
    rising = work("squat", 5, 3, loads_by_round=loads)
    assert work_words(rising, MOVEMENTS["squat"]) == "back squats: five at 60 percent then three at 70 percent"
    assert work_card(rising, MOVEMENTS["squat"]) == "5-3 back squats · 5 @ 60%, 3 @ 70%"
    hard = work("run", 800, unit="m", pace="4:00/km", effort="RPE 8", unbroken=True)
    assert work_words(hard, MOVEMENTS["run"]) == (
        "an 800-meter run, at an effort of 8 out of ten, at 4:00/km, without a break"
    )
    assert work_card(hard, MOVEMENTS["run"]) == "800 m run · RPE 8 · @ 4:00/km · unbroken"


def test_rests_are_said_with_their_range_and_what_is_done() -> None:
    (rest,) = rests_of(timed(PUSHES, rounds=3, rest_between_s=120, rest_at_most_s=180, rest_doing="walk"))
    assert rest.values == {"time": "two to three minutes and walk"}
    assert rest.card == "2:00-3:00 rest between rounds, walk"
    open_ended = Part(
        goal="most", windows=Windows(work_s=600), stations=one(PUSHES, rounds=None, rest_between_s=60), place=PLACE
    )
    assert [r.board for r in rests_of(open_ended)] == ["Rest 1:00 between rounds"]
    assert rests_of(timed(PUSHES, rest_between_s=60)) == []


def test_sets_of_sets_are_said() -> None:
    part = Part(stations=one(PUSHES, rounds=8, block=4, rest_after=((4, 180),)), **SETS)
    assert shape(part) == ("shape sets", {"sets": "two sets of four rounds"})
    assert shape_card(part) == "2 × 4 sets of rounds"
    assert [(r.phrase, r.values["time"]) for r in rests_of(part)] == [("rest between sets", "three minutes")]


def test_every_minute_and_every_minute_five() -> None:
    said = [
        when_words(Interrupt(trigger=Every(every_s=s, from_s=0), works=(PUSHES,), place=PLACE)) for s in (60, 65, 90)
    ]
    assert said == ["Every minute", "Every one minute five", "Every one minute thirty"]
    assert tidy("In it a new round starts every one minute, twice.") == "In it a new round starts every minute, twice."


@pytest.mark.parametrize(
    ("ratio", "said", "written"),
    [
        (1.0, "as long", "Rest as long as the work"),
        (2.0, "twice as long", "work:rest 1:2"),
        (0.5, "half as long", "work:rest 2:1"),
        (1.5, "1.5 times as long", "work:rest 2:3"),
    ],
)
def test_a_rest_against_the_work(ratio: float, said: str, written: str) -> None:
    (rest,) = rests_of(timed(PUSHES, rounds=3, rest_ratio=ratio))
    assert (rest.values["ratio"], rest.board) == (said, written)
