"""Our number words against the num2words library (LGPL, used in tests only), which says "and" and sets commas."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from briefing.speech.numbers import LONGEST_DIGITS, cardinal_words, number_words, ordinal_words


def _without_and(words: str) -> str:
    return re.sub(r" and |, ", " ", words)


def test_each_number_up_to_a_thousand_and_round_ones() -> None:
    for number in [*range(1001), 1200, 2000, 10_000, 100_000, 999_999, 10**6, 10**9 + 1]:
        assert cardinal_words(number) == _without_and(num2words(number))
        assert ordinal_words(number) == _without_and(num2words(number, to="ordinal"))


@given(st.integers(-(10**LONGEST_DIGITS) + 1, 10**LONGEST_DIGITS - 1))
def test_any_number(number: int) -> None:
    assert cardinal_words(number) == _without_and(num2words(number))


@given(st.integers(0, 9999), st.integers(1, 99))
def test_decimals(whole: int, hundredths: int) -> None:
    written = f"{whole}.{hundredths:02}".rstrip("0")
    assert number_words(written) == _without_and(num2words(written))
