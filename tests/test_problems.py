"""Problems: shown with a caret under the right character, sorted, once each."""

from __future__ import annotations

from briefing.problems import Place, Problem, has_errors, show_problem, sort_problems


def problem(line: int = 1, column: int = 1, end: int = 2, level: str = "error", code: str = "x") -> Problem:
    return Problem.model_validate(
        {
            "level": level,
            "code": code,
            "message": "something",
            "suggestion": "this",
            "place": {"file": "a.md", "line": line, "column": column, "end_column": end},
        }
    )


def test_the_caret_stands_under_the_word() -> None:
    text = "  120 goblet sqaut"
    shown = show_problem(problem(1, 7, 19, code="unknown-movement"), [text]).split("\n")
    assert shown[0] == "a.md:1:7: error: something [unknown-movement]"
    line, caret = shown[1], shown[2]
    assert line[caret.index("^") : caret.rindex("^") + 1] == "goblet sqaut"
    assert shown[3].strip() == "try: this"


def test_a_very_long_line_is_cut_round_the_caret() -> None:
    text = "x" * 5000 + "here" + "y" * 5000
    shown = show_problem(problem(1, 5001, 5005), [text]).split("\n")
    assert max(map(len, shown)) < 200
    assert shown[1][shown[2].index("^") : shown[2].rindex("^") + 1] == "here"


def test_a_tab_does_not_move_the_caret() -> None:
    shown = show_problem(problem(1, 2, 5), ["\tabc"]).split("\n")
    assert shown[1][shown[2].index("^") : shown[2].rindex("^") + 1] == "abc"


def test_sorted_by_place_and_once() -> None:
    later, first = problem(3), problem(1, 5)
    assert sort_problems([later, first, later]) == (first, later)


def test_only_errors_count_as_errors() -> None:
    assert not has_errors([problem(level="warning"), problem(level="note")])
    assert has_errors([problem(level="note"), problem()])


def test_json_is_flat() -> None:
    assert problem(2, 3, 4).as_json() == {
        "level": "error",
        "code": "x",
        "message": "something",
        "suggestion": "this",
        "file": "a.md",
        "line": 2,
        "column": 3,
        "end_column": 4,
    }
    assert Problem(level="note", code="x", message="m").as_json()["line"] is None


def test_line_0_does_not_exist() -> None:
    import pydantic  # noqa: PLC0415
    import pytest  # noqa: PLC0415

    with pytest.raises(pydantic.ValidationError):
        Place(line=0)
