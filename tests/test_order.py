"""The cheapest order to film: against every permutation, and what a coach may ask for."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import permutations

import pytest

from briefing.outline.order import Station, allowed, arrange, cheapest, cost_of
from briefing.pipeline import Briefed
from briefing.problems import Stop

KIT = ("dumbbell", "kettlebell", "box", "mat")


def stations(seed: int, count: int) -> list[Station]:
    rng = random.Random(seed)  # noqa: S311 - a seeded one is what a test wants
    out: list[Station] = []
    for i in range(count):
        after = (out[rng.randrange(i)].movement,) if i and rng.random() < 0.25 else ()
        out.append(
            Station(
                movement=f"m{i}",
                camera=rng.choice(("front", "side", "three-quarter")),
                kit=tuple(sorted(rng.sample(KIT, rng.randint(0, 2)))),
                floor=rng.random() < 0.4,
                breathless=rng.random() < 0.3,
                after=after,
            )
        )
    rng.shuffle(out)
    return out


@pytest.mark.parametrize("seed", range(40))
def test_no_permutation_is_cheaper(seed: int) -> None:
    given = stations(seed, 2 + seed % 6)
    found = cheapest(given)
    every = [p for p in permutations(given) if allowed(p)]
    least = min(cost_of(p).cost_s for p in every)
    assert found.cost_s == least
    # Among the cheapest the one that keeps the given order longest.
    place = {s.movement: i for i, s in enumerate(given)}
    best = min(tuple(place[s.movement] for s in p) for p in every if cost_of(p).cost_s == least)
    assert tuple(place[m] for m in found.movements) == best


@pytest.mark.parametrize("seed", range(3))
def test_eight_movements(seed: int) -> None:
    given = stations(1000 + seed, 8)
    assert cheapest(given).cost_s == min(cost_of(p).cost_s for p in permutations(given) if allowed(p))


def test_twelve_are_exact_and_thirteen_stay_as_they_are() -> None:
    assert cheapest(stations(5, 12)).cost_s <= cost_of(stations(5, 12)).cost_s
    many = stations(5, 13)
    assert cheapest(many).movements == tuple(s.movement for s in many)
    assert cheapest([]).cost_s == 0


def test_costs_are_the_sum_of_the_changes() -> None:
    order = cost_of(stations(3, 6))
    assert order.cost_s == sum(order.changes_s)
    assert len(order.changes_s) == 6


def test_a_movement_comes_after_what_it_builds_on() -> None:
    first = Station(movement="a", camera="side", after=("b",))
    second = Station(movement="b", camera="front")
    assert cheapest([first, second]).movements == ("b", "a")


def test_arranging() -> None:
    assert arrange(("a", "b", "c"), ("c", "a")) == ("c", "a", "b")


HEAD = "---\n{}\n---\n3 rounds for time, cap 15:00\n  20 goblet squats\n  10 burpees\n  200 m run\n"


def shown(briefed: Briefed) -> list[str | None]:
    return [s.movement for s in briefed.outline.segments if s.movement]


def test_the_coach_may_change_both_orders(brief_text: Callable[..., Briefed]) -> None:
    assert shown(brief_text(HEAD.format("feel: calm"))) == ["goblet-squat", "burpee", "run"]
    briefed = brief_text(HEAD.format("order: [run]\nfilm: [burpee]"))
    assert shown(briefed) == ["run", "goblet-squat", "burpee"]
    assert briefed.outline.filmed.movements[0] == "burpee"
    assert briefed.outline.best.cost_s <= briefed.outline.filmed.cost_s
    cheap = brief_text(HEAD.format("order: cheapest")).outline
    assert cheap.shown.movements == cheap.best.movements
    board = brief_text(HEAD.format("film: board")).outline
    assert board.filmed.movements == ("goblet-squat", "burpee", "run")


def test_how_much_of_a_movement_is_taught(brief_text: Callable[..., Briefed]) -> None:
    full = brief_text(HEAD.format("feel: calm")).outline
    short = brief_text(HEAD.format("teach: {burpee: short, run: name-only}")).outline

    def kinds(outline: object, slug: str) -> list[str]:
        segment = next(s for s in outline.segments if s.movement == slug)  # type: ignore[attr-defined]
        return [line.kind for line in segment.lines]

    assert kinds(short, "goblet-squat") == kinds(full, "goblet-squat")
    assert kinds(short, "burpee").count("point") == 2
    assert {"what", "safety", "easier"} <= set(kinds(short, "burpee"))
    assert "step" not in kinds(short, "burpee")
    assert set(kinds(short, "run")) == {"what", "safety"}
    assert any(line.text == "The run you know." for line in short.lines)


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ("order: [plank]", "not-in-workout"),
        ("film: [burpeee]", "not-in-workout"),
        ("teach: {burpee: quickly}", "setting"),
        ("teach: {plank: short}", "not-in-workout"),
        ("teach: short", "setting"),
    ],
)
def test_wishes_that_fit_nothing(entry: str, code: str, brief_text: Callable[..., Briefed]) -> None:
    with pytest.raises(Stop) as stop:
        brief_text(HEAD.format(entry))
    assert [p.code for p in stop.value.problems if p.level == "error"] == [code]


def test_lines_know_whether_a_card_can_be_seen(demos: dict[str, Briefed]) -> None:
    swell = demos["long-swell"].outline
    floor = [x.sight for s in swell.segments if s.movement == "push-up" for x in s.lines if x.show]
    assert floor
    assert set(floor) == {"face down"}
    opening = [x.sight for s in swell.segments if s.kind in {"promise", "stop", "workout"} for x in s.lines]
    assert set(opening) == {"lens"}
    for outline in (d.outline for d in demos.values()):
        for line in outline.lines:
            if line.sight == "out of breath":
                assert not any(c.isdigit() for c in line.text), "no number is said out of breath"
