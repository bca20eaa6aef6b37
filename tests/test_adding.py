"""Totals in words: what a board adds up to for each of two groups."""

from __future__ import annotations

from briefing.board.reading import read_board
from briefing.board.totals import add_up
from briefing.library.finding import Library
from briefing.sources.text import Text
from briefing.write.adding import adding_words


def test_two_numbers_are_added_up_apart(library: Library) -> None:
    """3 x 15 is 45, 3 x 12 is 36; the line with one number is the same for both."""
    workout = read_board(Text.of("3 rounds for time\n15/12 cal row\n10 air squats", "x.md"), 1, library, "x").value
    assert workout is not None
    assert [t.quantity for t in add_up(workout)] == [45, 30]
    assert [t.quantity for t in add_up(workout, 1)] == [36, 30]
    movements = {slug: m for slug in workout.movements if (m := library.get(slug)) is not None}
    assert adding_words(workout, movements)[:2] == [
        "Row: 45 calories; or 36 for whoever goes lighter",
        "air squats: 30",
    ]


def test_a_ladder_of_minutes_adds_up_minute_by_minute(library: Library) -> None:
    """2 + 4 + … + 16 is 72: a number for each window, not eight times the first."""
    board = "minute 1: 2, minute 2: 4, … for 8 min\nburpees"
    workout = read_board(Text.of(board, "x.md"), 1, library, "x").value
    assert workout is not None
    assert [t.quantity for t in add_up(workout)] == [72]
