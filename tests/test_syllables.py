"""Syllables by spelling: words counted by hand, and what holds for any word."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefing.speech.syllables import count_syllables

# Counted by hand, as they are said.
COUNTED = {
    1: (
        "the squats planes pressed whole toes eyes played guide build straight through you're we'll don't league red "
        "brace braced breathe sled steps"
    ),
    2: (
        "ankle muscles settled lifted safely careful sideways somewhere movement technique fatigue heavy seeing trying "
        "player didn't isn't press's it'll quiet client lunges braces rhythm special hundred meter metre"
    ),
    3: "cardio media heavier genuine video radius carefully everyone idea gluteus overhead suitable physio",
    4: "estuary variable kilometers experience coordinate mobility Romanian mechanism gradually",
    5: "flexibility individual",
}


@pytest.mark.parametrize(
    ("word", "syllables"),
    [(word, syllables) for syllables, words in COUNTED.items() for word in words.split()],
)
def test_word_counted_by_hand(word: str, syllables: int) -> None:
    assert count_syllables(word) == syllables
    assert count_syllables(word.upper()) == syllables
    assert count_syllables(word.replace("'", "’")) == syllables


def test_a_spelled_letter_is_one_syllable_and_w_three() -> None:
    assert {letter: count_syllables(letter) for letter in "abcdefghijklmnopqrstuvxyz"} == dict.fromkeys(
        "abcdefghijklmnopqrstuvxyz", 1
    )
    assert count_syllables("W") == 3


@given(st.text())
def test_any_word_has_at_least_one(word: str) -> None:
    assert 1 <= count_syllables(word) <= 2 * len(word) + 3
