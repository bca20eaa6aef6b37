"""Boards in twelve handwritings are read as they were meant, and no number of a board is lost."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.board.reading import BoardReading, read_lines
from briefing.library.finding import Library
from briefing.sources.text import Text
from tests.hands import HANDS, boards, differs
from tests.reading_cases import Case, read_cases

CASES = read_cases("boards.md")


@pytest.mark.parametrize("hand", range(len(HANDS)))
def test_each_hand_is_read_as_it_was_meant(hand: int, library: Library) -> None:
    made = boards(seed=100 + hand, count=360)[hand :: len(HANDS)]
    wrong = [f"{text}\n  {why}" for known, text in made if (why := differs(known, text, library)) is not None]
    assert not wrong, "\n\n".join(wrong)


def lost_numbers(reading: BoardReading) -> list[str]:
    """Give the numbers that stand in no piece of the echo, or in a remark that nobody was asked about."""
    out = []
    errors = {p.place.line for p in reading.problems if p.place is not None and p.level != "note"}
    for line in reading.lines:
        for number in re.finditer(r"\d+", line.written):
            owners = [p for p in line.pieces if p.start <= number.start() and number.end() <= p.end]
            read = any(not p.remark or p.asked for p in owners)
            if not read and line.number not in errors:
                out.append(f"{number[0]} of {line.written!r}")
    return out


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.title)
def test_no_number_of_a_case_is_lost(case: Case, library: Library) -> None:
    assert not lost_numbers(read_lines(Text.of(case.given, "board.md"), 1, library, "x"))


_PIECES = st.sampled_from(
    ["5 rounds for time", "AMRAP 12", "EMOM 10", "21-15-9", "10 burpees", "12 KB swings 24/16", "row 20", "200m run", "rest 60s", "cap 15",
     "every 2 min 5 push-ups", "3x8 back squat @ 70%", "wibble 7 wobble", "plank 30", "(or 12 sit-ups)", "each arm", "then", "8 tyre flips",
     "score: reps", "2 sets of (4x300m, 60s rest)", "A1 squat 4x8", "min 3 rest", "@ 40", "KB 24", "7"]
)  # fmt: skip


@given(st.lists(st.lists(_PIECES, min_size=1, max_size=3).map(", ".join), min_size=1, max_size=6).map("\n".join))
@settings(max_examples=300, deadline=None)
def test_no_number_of_any_heap_is_lost(library_once: Library, words: str) -> None:
    assert not lost_numbers(read_lines(Text.of(words, "board.md"), 1, library_once, "x"))


@pytest.fixture(scope="module")
def library_once(library: Library) -> Library:
    return library
