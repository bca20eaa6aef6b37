"""What is told can be read again: whole workouts of every form, written as a board, read, and written the same."""

from __future__ import annotations

import importlib.util

import pytest
from hypothesis import HealthCheck, find, settings
from hypothesis.errors import NoSuchExample

from briefing.board.reading import read_board
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.problems import has_errors
from briefing.sources.text import Text
from briefing.telling.board import write_board
from briefing.telling.notation import NORMAL, PAPER, Style
from tests.whole_workouts import FORMS, Made, workouts

pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("briefing.board.tokens") is None,
    reason="the reader that reads every form (briefing/board/tokens.py) is missing",
)


@pytest.fixture(scope="module")
def movements(library: Library) -> dict[str, Movement]:
    return {s: m for s in library.slugs() if (m := library.get(s)) is not None}


def differs(made: Made, library: Library, movements: dict[str, Movement], style: Style) -> str | None:
    """Give what went wrong when a board was read again; None where it is the same."""
    written = write_board(made.workout, movements, style)
    read = read_board(Text.of(written, "again.md"), 1, library, "Made Up")
    if read.value is None or has_errors(read.problems):
        return f"{written}\n{[p.message for p in read.problems if p.level == 'error']}"
    again = write_board(read.value, movements, style)
    # On paper the share of each side stands behind what goes from side to side by itself: read again, it is said so.
    same = (
        again.replace(", alternating", "") == written.replace(", alternating", "") if style.full else again == written
    )
    return None if same else f"{written}\nwas read as\n{again}"


@pytest.mark.parametrize("style", [NORMAL, PAPER], ids=["normal", "paper"])
@pytest.mark.parametrize("form", FORMS)
def test_each_form_is_read_again(form: str, style: Style, library: Library, movements: dict[str, Movement]) -> None:
    try:
        worst = find(
            workouts(forms=(form,)),
            lambda made: differs(made, library, movements, style) is not None,
            settings=settings(
                max_examples=60, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
            ),
        )
    except NoSuchExample:
        return
    pytest.fail(f"{differs(worst, library, movements, style)}")
