"""Reading a person's file, and its head."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.sources.head import Head, check_keys, read_head
from briefing.sources.text import MOST_BYTES, Text, read_text


def only(found: object) -> str:
    problems = found.problems  # type: ignore[attr-defined]
    assert len(problems) == 1, problems
    return str(problems[0].code)


def test_files_that_cannot_be_read_each_have_their_sentence(tmp_path: Path) -> None:
    assert only(read_text(tmp_path)) == "file-is-folder"
    assert only(read_text(tmp_path / "nowhere.md")) == "file-missing"
    path = tmp_path / "a.md"
    path.write_bytes(b"")
    assert only(read_text(path)) == "file-empty"
    path.write_bytes(b" \n\n\t\n")
    assert only(read_text(path)) == "file-empty"
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    assert only(read_text(path)) == "file-too-large"
    path.write_bytes(b"for time\n20 squ\xe9ts\n")
    found = read_text(path)
    assert only(found) == "file-not-utf8"
    assert found.problems[0].place is not None
    assert (found.problems[0].place.line, found.problems[0].place.column) == (2, 7)
    path.write_bytes(b"for time\n20 \x07squats\n")
    found = read_text(path)
    assert only(found) == "control-character"
    assert found.problems[0].place is not None
    assert (found.problems[0].place.line, found.problems[0].place.column) == (2, 4)


def test_line_ends_and_byte_order_mark() -> None:
    text = Text.of("\ufeffa\r\nb\rc\x0cd\u2028e", "x")
    assert text.lines == ("a", "b", "c\x0cd\u2028e")


def head_of(words: str) -> tuple[Head, list[str]]:
    head, problems = read_head(Text.of(words, "x.md"))
    return head, [p.code for p in problems]


def test_values_stay_what_was_written() -> None:
    head, problems = head_of(
        "---\ntitle: Slack Water\ncap: 16:00\nn: 010\nno: no\nkit: [1 dumbbell, 1 step]\n---\nbody"
    )
    assert problems == []
    assert (head.text("cap"), head.text("n"), head.text("no")) == ("16:00", "010", "no")
    assert [w for w, _ in head.words("kit")] == ["1 dumbbell", "1 step"]
    assert head.body_line == 8


def test_the_place_of_a_value() -> None:
    head, _ = head_of("---\ntitle: Slack Water\nkit: [1 dumbbell, 1 step]\n---\n")
    _, place = head.words("kit")[1]
    assert (place.line, place.column, place.end_column) == (3, 19, 25)
    assert head.entries["title"].key_place.column == 1


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("---\ntitle: x\n", "head-not-closed"),
        ("---\ntitle: [a, b\n---\n", "head-unreadable"),
        ("---\ntitle: 'a\n---\n", "head-unreadable"),
        ("---\ntitle\n---\n", "head-unreadable"),
        ("---\na: x: y\n---\n", "head-unreadable"),
        ("---\na: 1\na: 2\n---\n", "head-key-twice"),
        ("---\na: &x 1\n---\n", "head-refused"),
        ("---\na: !!python/name 1\n---\n", "head-refused"),
        ("---\na: *x\n---\n", "head-refused"),
        ("---\na: [[[[[[1]]]]]]\n---\n", "head-too-deep"),
    ],
)
def test_heads_that_break_off_have_one_problem(words: str, code: str) -> None:
    assert head_of(words)[1] == [code]


def test_marks_inside_a_text_are_text() -> None:
    head, problems = head_of("---\ntitle: Salt & Sand *slow*\nb: wow!\nc: '&x'\n---\n")
    assert problems == []
    assert head.text("title") == "Salt & Sand *slow*"


def test_an_unknown_key_has_the_nearest_one() -> None:
    head, _ = head_of("---\ntitel: x\n---\n")
    (problem,) = check_keys(head, ["title", "length"], "a workout")
    assert (problem.code, problem.suggestion) == ("unknown-key", "title")


@given(st.text(max_size=300))
@settings(max_examples=300, deadline=None)
def test_any_head_at_all_gives_problems_inside_the_text(words: str) -> None:
    text = Text.of("---\n" + words + "\n---\n", "x")
    head, problems = read_head(text)
    assert head.present
    for problem in problems:
        assert problem.place is not None
        assert 1 <= problem.place.line <= len(text.lines)
        assert problem.place.column <= len(text.lines[problem.place.line - 1]) + 1
