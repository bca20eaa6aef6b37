"""The normal form: every board that can be read is written back and read again as the same workout."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.board.loads import strain_of
from briefing.board.models import Workout
from briefing.board.reading import read_board
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.pipeline import Briefed
from briefing.problems import has_errors
from briefing.sources.text import Text
from briefing.telling.board import write_board
from briefing.write.adding import adding_words
from tests.board_words import words_of
from tests.reading_cases import Case, read_cases

READABLE = [c for c in read_cases("boards.md") if "error " not in c.expected]


def again(workout: Workout, library: Library) -> tuple[str, str, str]:
    movements = {s: m for s in library.slugs() if (m := library.get(s)) is not None}
    normal = write_board(workout, movements)
    found = read_board(Text.of(normal, "again.md"), 1, library, workout.title)
    assert not has_errors(found.problems), (normal, found.problems)
    assert found.value is not None
    second = write_board(found.value, movements)
    assert second == normal
    return normal, words_of(workout, ()), words_of(found.value, ())


@pytest.mark.parametrize("case", READABLE, ids=lambda c: c.title)
def test_written_and_read_again(case: Case, library: Library) -> None:
    found = read_board(Text.of(case.given, "board.md"), 1, library, "x")
    assert found.value is not None
    _, first, second = again(found.value, library)
    assert second == first


_WORK = st.sampled_from(
    [
        "10 burpees",
        "20 goblet squats @ 24/16 kg",
        "12 push presses, 6 each arm",
        "24 mountain climbers, alternating",
        "200 m run",
        "0:40 plank",
        "15 cal row",
        "8/8 one-arm rows",
        "0:20/0:20 side plank",
        "3-5 pull-ups",
        "20 step-ups, slow on the way down",
        "10 deadlifts, two 15 kg dumbbells",
    ]
)
_HEAD = st.sampled_from(
    [
        "5 rounds for time, cap 22:00",
        "For time",
        "AMRAP 12:00",
        "Every 2:00 for 7 rounds",
        "3 rounds not for time",
        "4 sets",
        "EMOM 10",
        "3 x AMRAP 3:00 / 2:00 off",
        "For time, any order, plan 2 rounds, cap 15:00",
    ]
)
_EXTRA = st.sampled_from(
    ["", "Every 3:00 from 0:00: 5 burpees", "At 4:00, 8:00: 100 m run", "    or 10 air squats (knee)", "  rest 1:00"]
)
_PART = st.tuples(_HEAD, st.lists(_WORK, min_size=1, max_size=4), _EXTRA)


@given(st.lists(_PART, min_size=1, max_size=2))
@settings(max_examples=120, deadline=None)
def test_any_board_of_these_is_itself_again(library_once: Library, parts: list[tuple[str, list[str], str]]) -> None:
    lines = []
    for number, (head, works, extra) in enumerate(parts):
        lines += [f"Part {'AB'[number]}", head, *(f"  {w}" for w in works), extra]
    found = read_board(Text.of("\n".join(lines), "x.md"), 1, library_once, "x")
    assert found.value is not None, found.problems
    assert not has_errors(found.problems), found.problems
    _, first, second = again(found.value, library_once)
    assert second == first


@pytest.fixture(scope="module")
def library_once(library: Library) -> Library:
    return library


def test_what_loads_the_body(brief_text: Callable[..., Briefed]) -> None:
    plan = brief_text(
        "3 rounds for time, cap 30:00\n  10 box jumps\n  12 push presses, 6 each arm\n  10 burpees\n  20 deadlifts, two 15 kg dumbbells\n"
    ).plan
    strain = strain_of(plan.workout, plan.movements)
    assert strain.jumps == 60  # a burpee ends with a jump
    assert strain.overhead >= 36
    assert strain.down_and_up == 30
    assert strain.lifted_kg == 20 * 3 * 30
    words = adding_words(plan.workout, plan.movements)
    assert "dumbbell deadlifts: 60" in words
    assert "lifted: 1,800 kg (3,968 lb) with the heavier loads" in words


def test_totals_in_both_units(brief_text: Callable[..., Briefed]) -> None:
    plan = brief_text("5 rounds for time\n  400 m run\n").plan
    assert adding_words(plan.workout, plan.movements) == ["Run: 2,000 m (2,187 yd)"]
    movements: dict[str, Movement] = plan.movements
    assert adding_words(brief_text("AMRAP 8:00\n  10 burpees\n").plan.workout, movements) == [
        "open rounds: the totals depend on who works"
    ]


def test_what_lands(library: Library) -> None:
    """A jump ends in a landing, a burpee too; a step up only needs the height of one."""
    lands = {
        s: m.lands for s in ("box-jump", "burpee", "step-up", "goblet-step-up", "air-squat") if (m := library.get(s))
    }
    assert lands == {"box-jump": True, "burpee": True, "step-up": False, "goblet-step-up": False, "air-squat": False}
