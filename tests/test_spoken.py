"""The spoken form: the readable cases, the table's own examples, and what holds for any text at all."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.speech.numbers import cardinal_words, number_words, ordinal_words
from briefing.speech.say import Said, say
from briefing.speech.seconds import Pace
from briefing.speech.spoken import _MORE_THAN_WORDS, ROWS, UNITS, Row, _expand, spoken_form

CASES = Path(__file__).parent / "cases" / "spoken.md"
PIECES = (
    "5|10|1|0|22.5|2,000|:45|1:30|16:00|/|-| - |–|x|×|+|=|&|@|w/|vs.|e.g.|max.|min.|min|sec|kg|m|in.|in|cal|per|km|%|°"
    "|#|.|,|...|…|DB|KBs|EMOM|AMRAP|1RM|RPE|cap|mark|run|box|side|the|s|rd|a|AM|1/2|¾|(|)|~|<|then|Rest|\n|¶|½|'|\"|etc."
    "|pace|500|*|tempo|31X1|2'|rest|b/w|L/R|L|-arm|:90|Min|min:|alt.|video|2/4|wk|TC|DUs"
)
PLAIN = (
    "Land softly, stand all the way up. In and out — the tide's turn; toes-to-bar (slow) at max or Max: I am a pull-up!"
)


def _cases() -> list[tuple[str, str]]:
    rows = (re.fullmatch(r"\| (.*) \| (.*) \|", line) for line in CASES.read_text(encoding="utf-8").splitlines())
    return [(row[1], row[2]) for row in rows if row and row[1] not in {"written", "---"}]


def test_there_are_many_cases_and_none_twice() -> None:
    written = [case[0] for case in _cases()]
    assert len(written) >= 130
    assert len(written) == len(set(written))


@pytest.mark.parametrize(("written", "said"), _cases())
def test_case(written: str, said: str) -> None:
    assert spoken_form(written) == said
    assert spoken_form(said) == said


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_row_does_what_its_example_says_and_the_example_needs_it(row: Row) -> None:
    assert spoken_form(row.written) == row.spoken
    assert row.written != row.spoken


def test_rows_have_names_of_their_own() -> None:
    assert len({row.name for row in ROWS}) == len(ROWS)


@given(
    st.lists(st.one_of(st.sampled_from(PIECES.split("|")), st.text(max_size=4)), max_size=12),
    st.sampled_from(["", " "]),
)
def test_rows_that_are_not_tried_would_say_nothing_else(pieces: list[str], gap: str) -> None:
    text = gap.join(pieces)
    for written in (text, re.sub(_MORE_THAN_WORDS, "", text)):
        said = written
        for row in ROWS:
            said = re.sub(row.pattern, row.said, said)
        assert _expand(written) == said


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit[0][0])
def test_each_spelling_of_a_unit_is_said(unit: tuple[tuple[str, ...], str, str]) -> None:
    spellings, one, more = unit
    for spelling in spellings:
        dotted = f"{spelling}." if spelling == "in" else spelling
        assert spoken_form(f"1 {dotted} more") == f"one {one} more"
        assert spoken_form(f"2 {dotted} more") == f"two {more} more"
        if spelling != "rd":  # "2rd" is read as an order
            assert spoken_form(f"2{dotted} more") == f"two {more} more"


@pytest.mark.parametrize(
    ("written", "own", "said"),
    [
        ("EMOM 12", ("EMOM", "e-mom"), "e-mom twelve"),
        ("135 lb", ("135", "one thirty-five"), "one thirty-five pounds"),
        ("135/95 lb", ("135", "one thirty-five"), "one thirty-five, ninety-five pounds"),
        ("3x135", ("135", "one thirty-five"), "three by one thirty-five"),
        (
            "1,135 and 135.5",
            ("135", "one thirty-five"),
            "one thousand one hundred thirty-five and one hundred thirty-five point five",
        ),
        (
            "22.5kg, 1 kg, 5-10 kg",
            ("kg", "kilograms"),
            "twenty-two point five kilograms, one kilogram, five to ten kilograms",
        ),
        ("5 rdl", ("RDL", "Romanian deadlifts"), "five Romanian deadlifts"),
        ("DBs", ("DB", "bell"), "dumbbells"),
        ("5 m", ("m", "10 m"), "five 10 m"),
        ("as it is", ("", "nothing"), "as it is"),
    ],
)
def test_the_coachs_own_list_wins(written: str, own: tuple[str, str], said: str) -> None:
    assert spoken_form(written, (own,)) == said


@given(st.text(), st.lists(st.tuples(st.text(max_size=4), st.text(max_size=6)), max_size=3))
def test_any_text_and_any_list_give_an_answer(text: str, own: list[tuple[str, str]]) -> None:
    assert isinstance(spoken_form(text, own), str)


@settings(max_examples=400)
@given(st.lists(st.tuples(st.sampled_from(PIECES.split("|")), st.sampled_from(["", " "])), max_size=8))
def test_the_spoken_form_of_a_spoken_form_is_itself(pieces: list[tuple[str, str]]) -> None:
    said = spoken_form("".join(piece + gap for piece, gap in pieces))
    assert spoken_form(said) == said
    assert not re.search(r"[0-9%@&½¾]", said)


@given(st.lists(st.sampled_from(PLAIN.split(" "))), st.sampled_from([" ", "  ", "\n", "\n\n", "¶"]))
def test_plain_words_stay_as_they_are(words: list[str], gap: str) -> None:
    assert spoken_form(gap.join(words)) == gap.join(words)


@pytest.mark.parametrize(
    "piece", ["1", "1 ", "1-", "1,", "1:30-", "1/2", "x", "5 kg ", " ", ".", "w/", "B", "🙂", "10-9…", "1 - "]
)
def test_a_very_long_text_is_answered(piece: str) -> None:
    # A pattern that looks back over what it has seen would take minutes here.
    assert spoken_form(piece * 20_000)


def test_words_of_numbers() -> None:
    assert cardinal_words(-3) == "minus three"
    assert cardinal_words(10**15 + 2).startswith("one zero zero")
    assert ordinal_words(20) == "twentieth"
    assert ordinal_words(112) == "one hundred twelfth"
    assert number_words("1.2.3") == "one point two point three"
    assert number_words("9" * 20) == " ".join(["nine"] * 20)


def test_say_gives_the_words_and_their_seconds() -> None:
    said = say("Rest 1:30.", Pace())
    assert said == Said(written="Rest 1:30.", spoken="Rest one minute thirty.", seconds=1.7, low_s=0.9, high_s=2.5)
    assert say("", Pace()).seconds == 0.0
    assert say("Rest 1:30.", Pace(k=2.0)).seconds == pytest.approx(2 * said.seconds, abs=0.1)
    assert say("EMOM", Pace(), (("EMOM", "e-mom"),)).spoken == "e-mom"
