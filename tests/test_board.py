"""Boards: the text cases, the table of forms, and any text at all."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.board.amounts import read_number
from briefing.board.cover import cover
from briefing.board.forms import FORMS, SMALL_PIECES, Form
from briefing.board.items import RULES
from briefing.board.models import Amount
from briefing.board.reading import naming_of, read_board
from briefing.board.totals import add_up
from briefing.library.finding import Library
from briefing.sources.text import Text
from tests.board_words import words_of
from tests.reading_cases import Case, read_cases

CASES = read_cases("boards.md")


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.title)
def test_board(case: Case, library: Library) -> None:
    found = read_board(Text.of(case.given, "board.md"), 1, library, "x")
    assert words_of(found.value, found.problems) == case.expected


@pytest.mark.parametrize("form", FORMS, ids=lambda f: f.name)
def test_every_form_is_read_from_its_own_example(form: Form, library: Library) -> None:
    kinds = {i.kind for i in cover(form.example, naming_of(library)).items}
    assert kinds & set(form.items), kinds
    assert "remark" not in kinds


def test_every_item_of_the_table_belongs_to_a_form() -> None:
    told = {i for f in FORMS for i in f.items} | SMALL_PIECES
    missing = {r.item for r in RULES} - told
    assert not missing, f"a form in board/forms.py for {sorted(missing)}"


def test_an_empty_board_says_so(library: Library) -> None:
    found = read_board(Text.of("\n\n## Notes\nsay this", "x.md"), 1, library, "x")
    assert found.value is None
    assert [p.code for p in found.problems] == ["board-empty"]


def test_notes_are_kept_as_they_are(library: Library) -> None:
    found = read_board(
        Text.of("For time\n20 burpees\n\n## Notes\n\n*Breathe* first.\n\n- and then", "x.md"), 1, library, "x"
    )
    assert found.value is not None
    assert found.value.notes == "*Breathe* first.\n\n- and then"


def test_a_board_line_may_look_like_markdown(library: Library) -> None:
    found = read_board(Text.of("# For time, cap 9:00\n- 20 burpees\n---\n* 10 push-ups", "x.md"), 1, library, "x")
    assert found.problems == ()
    assert found.value is not None
    assert [w.movement for w in found.value.works] == ["burpee", "push-up"]


def test_numbers_with_thousands_say_how_they_were_read() -> None:
    assert read_number("22,5") == (22.5, None)
    assert read_number("2,000") == (2000, None)
    value, odd = read_number("1.000")
    assert value == 1000
    assert odd is not None


def test_amounts_by_round() -> None:
    assert [Amount(unit="reps", by_round=(21, 15, 9)).in_round(n) for n in range(3)] == [21, 15, 9]
    assert [Amount(unit="reps", by_round=(2, 4), step=2).in_round(n) for n in range(5)] == [2, 4, 6, 8, 10]
    assert Amount(unit="reps", by_round=(20,)).in_round(7) == 20


@given(st.text(max_size=200))
@settings(max_examples=400, deadline=None)
def test_any_text_at_all_is_a_workout_or_problems(library_for_any_text: Library, words: str) -> None:
    text = Text.of(words, "x.md")
    found = read_board(text, 1, library_for_any_text, "x")
    assert found.value is not None or found.problems
    for problem in found.problems:
        assert problem.place is not None
        assert 1 <= problem.place.line <= len(text.lines)
        assert 1 <= problem.place.column <= len(text.lines[problem.place.line - 1]) + 2
    if found.value is not None:
        add_up(found.value)


_WORDS = st.sampled_from(
    [
        *[
            "5",
            "10",
            "0",
            "-3",
            "1:00",
            ":40",
            "99:99",
            "rounds",
            "for",
            "time",
            "cap",
            "AMRAP",
            "every",
            "2:00",
            "of",
            "x",
            "/",
            "-",
            ",",
            ":",
            ";",
            "or",
            "(",
            ")",
            "@",
            "kg",
            "24/16",
            "burpees",
            "squats",
        ],
        *[
            "run",
            "200",
            "m",
            "rest",
            "between",
            "each",
            "arm",
            "alt",
            "plan",
            "any",
            "order",
            "EMOM",
            "21-15-9",
            "…",
            "+",
            "max",
            "then",
            "finish:",
            "buy-in",
            "1.",
            "odd:",
            "Part",
            "A",
            "on",
        ],
        *["off", "2'", "50%", "unbroken", "tempo", "31X1"],
        *["\n"] * 3,
    ]
)


@given(st.lists(_WORDS, max_size=30).map(" ".join))
@settings(max_examples=500, deadline=None)
def test_any_heap_of_board_words_is_a_workout_or_problems(library_for_any_text: Library, words: str) -> None:
    found = read_board(Text.of(words, "x.md"), 1, library_for_any_text, "x")
    assert found.value is not None or found.problems


@pytest.fixture(scope="module")
def library_for_any_text(library: Library) -> Library:
    return library
