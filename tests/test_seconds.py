"""Seconds: the model's arithmetic, exactly, and what holds for any text."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefing.speech.seconds import (
    PARAGRAPH_MS,
    SHRINK_S,
    Band,
    Pace,
    band,
    base_seconds,
    base_tenths,
    measured_pace,
    step_tenths,
    talk_tenths,
    words_per_min,
)
from briefing.speech.spoken import spoken_form

WORDS_TO_DRAW = "squat lunges, easy. (slow) — - the R W step-ups don't: hold; go! really? wait… é 漢字"
WORDS = st.sampled_from(WORDS_TO_DRAW.split(" "))
TEXTS = st.lists(WORDS, min_size=1, max_size=25).map(" ".join)


@pytest.mark.parametrize(
    ("spoken", "seconds"),
    [
        ("", 0.0),
        ("squat", 0.1 + 5 * 0.035),
        ("squat.", 0.1 + 5 * 0.035 + 0.45),
        ("squat... squat", 2 * (0.1 + 5 * 0.035) + 0.45),
        ("squat, squat; squat: squat", 4 * (0.1 + 5 * 0.035) + 3 * 0.25),
        ("squat (squat)", 2 * (0.1 + 5 * 0.035) + 2 * 0.25),
        ("squat - squat – squat — squat", 4 * (0.1 + 5 * 0.035) + 3 * 0.25),
        ("step-up", 2 * 0.1 + 6 * 0.035),
        ("R P E", 3 * (0.1 + 3 * 0.035)),
        ("W", 3 * 0.1 + 3 * 0.035),
        ("a squat", 0.1 + 0.035 + 0.1 + 5 * 0.035),
        ("squat.¶squat.", 2 * (0.1 + 5 * 0.035 + 0.45) + 0.40),
        ("squat.\n\nsquat.", 2 * (0.1 + 5 * 0.035 + 0.45) + 0.40),
        ("squat.\r\n \r\n\r\nsquat.\n\n", 2 * (0.1 + 5 * 0.035 + 0.45) + 0.40),
        ("squat\nsquat", 2 * (0.1 + 5 * 0.035)),
    ],
)
def test_each_part_of_the_model(spoken: str, seconds: float) -> None:
    assert base_seconds(spoken) == pytest.approx(seconds, abs=1e-9)


@given(TEXTS, st.floats(0.5, 2.0))
def test_linear_in_k_but_for_the_rounding(text: str, k: float) -> None:
    assert abs(talk_tenths(text, k) - 10 * k * base_seconds(text)) <= 0.5 + 1e-9 or talk_tenths(text, k) == 1


@given(TEXTS, st.integers(0, 30), WORDS)
def test_a_word_more_is_never_shorter(text: str, at: int, word: str) -> None:
    words = text.split(" ")
    longer = " ".join([*words[:at], word, *words[at:]])
    assert base_seconds(longer) >= base_seconds(text)
    assert talk_tenths(longer) >= talk_tenths(text)


@given(st.text(), st.floats(0.01, 3.0))
def test_nothing_that_is_said_takes_no_time(text: str, k: float) -> None:
    said = any(char.isalnum() for char in text)
    assert talk_tenths(text, k) >= int(said)
    assert base_tenths(text) == talk_tenths(text, 1.0)


@given(st.text(), st.text(), st.sampled_from(["¶", "\n\n", "\n \n"]))
def test_two_paragraphs_are_their_sum_and_one_pause(first: str, second: str, gap: str) -> None:
    pause_s = PARAGRAPH_MS / 1000 if _is_a_paragraph(first) and _is_a_paragraph(second) else 0.0
    together = base_seconds(f"{first}{gap}{second}")
    assert round(together * 1000) == round((base_seconds(first) + base_seconds(second) + pause_s) * 1000)


@given(st.text())
def test_any_text_at_all_has_seconds(text: str) -> None:
    assert base_seconds(text) >= 0
    assert talk_tenths(spoken_form(text)) >= 0
    assert words_per_min(text, 10.0) >= 0


@pytest.mark.parametrize("piece", [" ", ".", "-", "\n", "\n ", "a", "é", "a.", " - ", "'", "a'", "io", "¶"])
def test_a_very_long_text_has_seconds(piece: str) -> None:
    assert base_seconds(piece * 20_000) >= 0


def test_a_step_takes_its_words_and_the_repetitions_that_are_counted_or_silent() -> None:
    words = "Three slow ones, hips first."
    talk = talk_tenths(words, 1.15)
    assert step_tenths(words, 1.15, 3, 2.4, "talked over") == talk
    assert step_tenths(words, 1.15, 3, 2.4, "counted") == talk + 72
    assert step_tenths("", 1.15, 3, 2.4, "silent") == 72


def test_band_of_a_measured_and_of_a_typical_pace() -> None:
    sigma = math.sqrt(0.05**2 + 0.20 / 420 + 0.20 / 300)
    measured = band(300.0, calibrated_talk_s=420.0)
    assert measured == Band(round(300 * (1 - 1.28 * sigma), 1), 300.0, round(300 * (1 + 1.28 * sigma), 1))
    sigma = math.sqrt(0.16**2 + 0.20 / 300)
    assert band(300.0).high_s == round(300 * (1 + 1.28 * sigma), 1)


@given(st.floats(0, 3600), st.floats(0, 600), st.none() | st.floats(0, 3600))
def test_band_holds_the_likely_seconds_and_demonstration_is_not_widened(
    talk_s: float, demo_s: float, known_s: float | None
) -> None:
    around = band(talk_s, demo_s, known_s)
    assert round(demo_s, 1) <= around.low_s <= around.likely_s <= around.high_s
    still = band(talk_s, 0.0, known_s)
    assert around.high_s - around.low_s == pytest.approx(still.high_s - still.low_s, abs=0.21)


def test_a_measured_pace_is_shrunk_towards_the_one_believed_before() -> None:
    text = "Hips below knees, stand all the way up. " * 20
    base_s = base_seconds(text)
    pace = measured_pace(1.2 * base_s, text)
    assert pace.k == pytest.approx((1.2 * base_s + SHRINK_S) / (base_s + SHRINK_S))
    assert 1.0 < pace.k < 1.2
    assert pace.calibrated_talk_s == 1.2 * base_s
    assert measured_pace(0.0, "").k == 1.0


@pytest.mark.parametrize(
    ("pace", "words"),
    [
        (Pace(), "typical pace, not yet yours"),
        (Pace(0.88), "brisk pace, not yet yours"),
        (Pace(1.15), "calm pace, not yet yours"),
        (Pace(1.3), "chosen pace, not yet yours"),
        (Pace(1.04, 420.0), "from your pace, 7 minutes of talk"),
        (Pace(1.04, 62.0), "from your pace, 1 minute of talk"),
        (Pace(1.04, 40.0), "from your pace, 40 seconds of talk"),
    ],
)
def test_where_the_pace_comes_from(pace: Pace, words: str) -> None:
    assert pace.source_words == words


def test_words_per_minute() -> None:
    assert words_per_min("two step-ups — go¶now", 2.0) == 120.0
    assert words_per_min("go", 0.0) == 0.0


def _is_a_paragraph(text: str) -> bool:
    return bool(text.replace("¶", "").strip())
