"""The library's seconds per repetition against published cadences and counts.

A metronome's cadence lies between brisk and easy. An average over minutes of testing is held against the clock, run for those
minutes, since the library's rates are those of a fresh set of ten.
"""

from __future__ import annotations

import pytest

from briefing.board.models import Amount, Cycle, Part, Station, Windows, Work, Workout
from briefing.clock.simulate import simulate
from briefing.library.finding import Library
from briefing.problems import Place
from briefing.units import PEOPLE, Person, Unit

# Movement, unit, seconds for one, source (row of the published figures, and who says so).
CADENCES: tuple[tuple[str, Unit, float, str], ...] = (
    (
        "reverse-lunge",
        "reps",
        2.4,
        "US Army TC 3-22.20, SLOW cadence of 50 counts a minute; a four-count rear lunge holds two lunges",
    ),
    ("push-up", "reps", 3.0, "push-up test cadence of school fitness batteries, 20 a minute (NCUR 2021 abstract)"),
    ("push-up", "reps", 1.5, "a timed push-up test at 40 a minute, metronome 80"),
    ("push-up", "reps", 3.0, "US Army TC 3-22.20, MODERATE cadence of 80 counts a minute, four counts"),
    ("sit-up", "reps", 60 / 25, "curl-up test cadence of 25 a minute (GT curl-up study, n = 205)"),
    ("step-up", "reps", 60 / 24, "Queens College step test, men, 24 cycles a minute (McArdle et al. 1972)"),
    ("step-up", "reps", 60 / 22, "Queens College step test, women, 22 cycles a minute (McArdle et al. 1972)"),
    ("rope-jump", "reps", 60 / 120, "2011 Compendium, moderate band 100 to 120 skips a minute"),
    ("rope-jump", "reps", 60 / 110, "2011 Compendium, middle of the moderate band"),
    ("run", "m", 3.6 / 8.5, "first stage of the 20 m shuttle test, 8.5 km/h (Leger et al. 1988)"),
    (
        "march-in-place",
        "reps",
        60 / 100,
        "walking cadence of moderate effort, 100 steps a minute (Tudor-Locke et al. 2019)",
    ),
    (
        "march-in-place",
        "reps",
        60 / 130,
        "walking cadence of vigorous effort, 130 steps a minute (Tudor-Locke et al. 2019)",
    ),
    ("row", "m", 0.25, "an even 2:05 for 500 m is 0.25 s a metre"),
)


@pytest.mark.parametrize(("slug", "unit", "seconds", "source"), CADENCES, ids=[f"{c[0]} {c[2]:.2f}" for c in CADENCES])
def test_a_published_cadence_lies_between_brisk_and_easy(
    slug: str, unit: Unit, seconds: float, source: str, library: Library
) -> None:
    movement = library.get(slug)
    assert movement is not None
    rates = movement.seconds_for[unit]
    assert rates.brisk <= seconds <= rates.easy, source


def count_in(minutes: int, slug: str, person: Person, library: Library) -> int:
    """Run the clock: as many as possible of one movement in so many minutes."""
    movement = library.get(slug)
    assert movement is not None
    place = Place(line=1)
    work = Work(movement=slug, written=slug, amounts=(Amount(unit="reps", most=True),), place=place)
    part = Part(
        windows=Windows(work_s=60 * minutes),
        stations=(Station(cycles=(Cycle(items=(work,), rounds=1),)),),
        goal="most",
        place=place,
    )
    run = simulate(Workout(title="test", parts=(part,), file="test"), {slug: movement}, person)
    return int(run.done(slug, "reps"))


# Movement, minutes, published mean counts, the best ever seen (None: not published), source.
COUNTS: tuple[tuple[str, int, tuple[float, ...], int | None, str], ...] = (
    ("burpee", 3, (56.69, 48.84), 82, "Podstawski et al. 2019, J. Human Kinetics 69:137; 5,971 men, 3,862 women"),
    ("kettlebell-swing", 12, (265,), None, "Farrar, Mayhew & Koch 2010, JSCR 24:1034; 16 kg, n = 10"),
    ("push-up", 2, (71, 42, 42, 19), None, "former US Army fitness test, age 17-21, 100 and 60 points (second-hand)"),
    ("sit-up", 1, (46.4,), None, "one minute at one's own pace (GT curl-up study, n = 205)"),
)


@pytest.mark.parametrize(("slug", "minutes", "means", "best", "source"), COUNTS, ids=[c[0] for c in COUNTS])
def test_counts_over_minutes(
    slug: str, minutes: int, means: tuple[float, ...], best: int | None, source: str, library: Library
) -> None:
    brisk, steady, easy = (count_in(minutes, slug, who, library) for who in PEOPLE)
    assert brisk > steady > easy
    assert easy <= max(means), source
    assert brisk >= min(means), source
    assert any(easy * 0.97 <= mean <= brisk * 1.07 for mean in means), (brisk, steady, easy, source)
    if best is not None:
        assert brisk <= best, f"{source}: nobody of ten thousand did more"


def test_the_snatch_of_trained_men_is_not_beyond_brisk(library: Library) -> None:
    """Ross et al. 2017 (PeerJ): 13.9 kettlebell snatches a minute over six minutes with 24 kg; the library's is fresh and lighter."""
    movement = library.get("dumbbell-snatch")
    assert movement is not None
    assert movement.seconds_for["reps"].brisk <= 60 / 13.9


def test_people_are_in_order_everywhere(library: Library) -> None:
    for slug in library.slugs():
        movement = library.get(slug)
        assert movement is not None
        for unit, rates in movement.seconds_for.items():
            assert rates.brisk <= rates.steady <= rates.easy, (slug, unit)
            assert rates.easy <= 4 * rates.brisk, (slug, unit)


def test_a_working_lunge_is_shorter_than_the_longest_lunge(library: Library) -> None:
    """Crill, Kolba & Chleboun 2004 (J. Sport Rehab. 13:44): longest forward lunge 113.7 cm (men), 96.6 cm (women).

    The floor that a lunge asks for holds the longest one and the body behind it.
    """
    for slug in ("reverse-lunge", "walking-lunge"):
        movement = library.get(slug)
        assert movement is not None
        assert movement.space.floor_m is not None
        assert max(movement.space.floor_m) >= 1.137
