"""Problems: shown with a mark under the right characters, sorted, once each."""

from __future__ import annotations

from briefing.problems import Place, Problem, has_errors, plain, show_problem, sort_problems


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


def marked(shown: str) -> str:
    """Give what the mark stands under."""
    lines = shown.split("\n")
    at = next(i for i, line in enumerate(lines) if line.strip() and not line.strip("- "))
    return lines[at - 1][lines[at].index("-") : lines[at].rindex("-") + 1]


def test_a_sentence_the_line_with_its_place_and_what_would_work() -> None:
    shown = show_problem(problem(1, 7, 19, code="unknown-movement"), ["  120 goblet sqaut"])
    assert shown == (
        "a.md, line 1: something\n\n      120 goblet sqaut\n          ------------\n  What would work: this\n"
    )


def test_codes_only_where_they_are_asked_for() -> None:
    one = problem(1, 7, 19, "warning", "unknown-movement")
    assert "unknown-movement" not in show_problem(one)
    assert show_problem(one).startswith("a.md, line 1: worth a look: something\n")
    assert "[warning unknown-movement, column 7]" in show_problem(one, codes=True)


def test_a_very_long_line_is_cut_round_the_mark() -> None:
    text = "x" * 5000 + "here" + "y" * 5000
    shown = show_problem(problem(1, 5001, 5005), [text])
    assert max(map(len, shown.split("\n"))) < 200
    assert marked(shown) == "here"


def test_a_tab_does_not_move_the_mark() -> None:
    assert marked(show_problem(problem(1, 2, 5), ["\tabc"])) == "abc"


def test_nothing_steers_the_terminal() -> None:
    one = Problem(
        level="error", code="x", message="a \x1b[31mred\x1b[0m \u202eword", place=Place(file="a\x07.md", line=1)
    )
    shown = show_problem(one, ["\x1b[2J b \u202e"])
    assert all(c.isprintable() or c == "\n" for c in shown)
    assert plain("no\u00a0break\ttab ä → ✓") == "no break tab ä → ✓"


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
