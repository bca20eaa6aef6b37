"""Seconds from words: the base time of a spoken text, the coach's pace on it, and the band around it.

    base = 0.10·syllables + 0.035·letters + 0.45·sentences + 0.25·commas + 0.25·dashes + 0.40·paragraph breaks
    time = k · base + demonstration seconds

Source of every constant here: measured before the project began, on 125 texts of our own against five synthetic
voices and on 29.5 hours of word-timed speech by 118 speakers of an open corpus (CC BY-SA 4.0; only figures were kept).
Words per minute did clearly worse (mean error of a 26 s block 10.2 % against 7.9 %): the same coach is at 140 words a
minute on long-worded text and at 185 on coaching text. So k is kept, and words per minute are only shown.

Milliseconds and tenths are whole numbers inside, so that sums are exact.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from briefing.speech.syllables import count_syllables

SYLLABLE_MS = 100
LETTER_MS = 35
SENTENCE_MS = 450
COMMA_MS = 250
DASH_MS = 250
PARAGRAPH_MS = 400
LETTERS_OF_A_SPELLED_LETTER = 3

TYPICAL_K = 1.0
"""The pace of somebody who was not measured: about 183 words a minute on coaching text (measured as above)."""
BRISK_K = 0.88
CALM_K = 1.15

BAND_SIGMAS = 1.28
"""80 % of a normal distribution lie within ± 1.28 σ. Measured: it held 76–89 % of later prepared stretches."""
PACE_SIGMA = 0.05
"""What stays uncertain about a measured pace, however long the talk was."""
UNKNOWN_PACE_SIGMA = 0.16
"""The same for a pace that was not measured: the median error was 10 %, the 90th percentile 27 %."""
STRETCH_VARIANCE_S = 0.20
"""Variance that a stretch of talk adds, divided by its seconds."""
SHRINK_S = 15.0
"""How many seconds of talk the pace that was believed before is worth when a new one is measured."""
LEAST_TALK_S = 1.0
"""Less talk than this measures no pace (our choice: a word or two)."""

How = Literal["talked over", "counted", "silent"]
"""How a demonstrated step is done: while talking, counting the repetitions aloud, or without a word."""

_BREAK = r"\n[^\S\n]*\n|¶"
_WORD = r"[^\W\d_]+(?:['’][^\W\d_]+)*"
# A mark inside a number or a word ("22.5", "1:30", "1,200") is no pause. Runs ("...", "?!") are one pause.
_SENTENCE = r"(?<![.?!…])[.?!…]++(?![^\W_])"
_COMMA = r"[;()\[\]{}]|(?<![0-9])[,:]|[,:](?![0-9])"
_DASH = r"(?<=\s)[-–—]{1,3}(?=\s)"


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast this coach speaks: `k` times the typical time (0.88 brisk, 1.0 typical, 1.15 calm; above 0).

    `calibrated_talk_s` is how many seconds of the coach's own talk it was measured on; None until then.
    Speakers of the corpus: 5th, 50th and 95th percentile 0.91, 1.09 and 1.44.
    """

    k: float = TYPICAL_K
    calibrated_talk_s: float | None = None

    @property
    def source_words(self) -> str:
        """Where the pace comes from, for people: `from your pace, 7 minutes of talk`."""
        if self.calibrated_talk_s is None or self.calibrated_talk_s < LEAST_TALK_S:
            named = {BRISK_K: "brisk", TYPICAL_K: "typical", CALM_K: "calm"}.get(self.k, "chosen")
            return f"{named} pace, not yet yours"
        talk_s = self.calibrated_talk_s
        many, unit = (round(talk_s), "second") if talk_s < 60 else (round(talk_s / 60), "minute")
        return f"from your pace, {many} {unit}{'' if many == 1 else 's'} of talk"


@dataclass(frozen=True, slots=True)
class Band:
    """Seconds with their 80 % band, `low_s ≤ likely_s ≤ high_s`, each in whole tenths, as in `(8.1, 9.0, 9.9)`."""

    low_s: float
    likely_s: float
    high_s: float


def base_seconds(spoken: str) -> float:
    """Give the seconds of a text at the typical pace; 0.0 for a text in which nothing is said.

    `spoken` is the expanded text (see `spoken_form`). A blank line or `¶` is a paragraph break. Marks count so:
    sentences `. ? ! …`, commas `, ; :` and each bracket, dashes a spaced `- – —`.
    """
    return _base_ms(spoken) / 1000


def base_tenths(spoken: str) -> int:
    """Give the same in whole tenths of a second, at least 1 for a text in which something is said."""
    return talk_tenths(spoken)


def talk_tenths(spoken: str, k: float = TYPICAL_K) -> int:
    """Give the tenths of a second this coach takes to say a text: `k · base`, rounded; at least 1 if anything is said.

    Only the rounding keeps it from being linear in `k`. A word more is never shorter.
    """
    tenths = round(k * _base_ms(spoken) / 100)
    return max(tenths, 1) if any(map(str.isalnum, spoken)) else max(tenths, 0)


def step_tenths(spoken: str, k: float, reps: int, seconds_per_rep: float, how: How) -> int:
    """Give the tenths of a demonstrated step: its words, and its repetitions unless they are talked over.

    Showing something while talking costs nothing that could be measured; repetitions that are counted or silent
    come on top of the words and are not scaled by `k`. A hold is one repetition of its length.
    """
    talk = talk_tenths(spoken, k)
    return talk if how == "talked over" else talk + round(reps * seconds_per_rep * 10)


def band(likely_talk_s: float, demo_s: float = 0.0, calibrated_talk_s: float | None = None) -> Band:
    """Give the 80 % band of a total of `likely_talk_s` seconds of talk and `demo_s` of demonstration (both ≥ 0).

    Only the talk is widened: ± 1.28 σ with σ² = 0.05² + 0.20/calibrated + 0.20/likely, and 0.16² in place of the first
    two while the pace was not measured. `low_s` is never below the demonstration.
    """
    if likely_talk_s <= 0:
        still = round(max(demo_s, 0.0), 1)
        return Band(still, still, still)
    if calibrated_talk_s is None or calibrated_talk_s < LEAST_TALK_S:
        pace_variance = UNKNOWN_PACE_SIGMA**2
    else:
        pace_variance = PACE_SIGMA**2 + STRETCH_VARIANCE_S / calibrated_talk_s
    wide_s = BAND_SIGMAS * math.sqrt(pace_variance * likely_talk_s**2 + STRETCH_VARIANCE_S * likely_talk_s)
    return Band(
        low_s=round(demo_s + max(likely_talk_s - wide_s, 0.0), 1),
        likely_s=round(demo_s + likely_talk_s, 1),
        high_s=round(demo_s + likely_talk_s + wide_s, 1),
    )


def measured_pace(talk_s: float, spoken: str, k_before: float = TYPICAL_K) -> Pace:
    """Give the pace of somebody who took `talk_s` seconds to say `spoken`, shrunk towards the pace believed before.

    `talk_s` is talk alone, demonstration and dead air taken off: a stretch with demonstration in it spoils the pace.
    After three minutes of a talk's opening the median error of the rest was 4.5 %, the 90th percentile 10 %.
    """
    k = (talk_s + SHRINK_S * k_before) / (base_seconds(spoken) + SHRINK_S)
    return Pace(k=k, calibrated_talk_s=talk_s if talk_s >= LEAST_TALK_S else None)


def words_per_min(spoken: str, seconds: float) -> float:
    """Give the rate that is shown to people; a word with hyphens is one. 0.0 if there are no seconds."""
    words = sum(any(map(str.isalnum, word)) for word in spoken.replace("¶", " ").split())
    return words * 60 / seconds if seconds > 0 else 0.0


def _base_ms(spoken: str) -> int:
    paragraphs = [part for part in map(str.strip, re.split(_BREAK, spoken.replace("\r\n", "\n"))) if part]
    return sum(map(_paragraph_ms, paragraphs)) + PARAGRAPH_MS * max(len(paragraphs) - 1, 0)


def _paragraph_ms(paragraph: str) -> int:
    words = re.findall(_WORD, paragraph)
    return (
        SYLLABLE_MS * sum(map(count_syllables, words))
        + LETTER_MS * sum(map(_letters, words))
        + SENTENCE_MS * len(re.findall(_SENTENCE, paragraph))
        + COMMA_MS * len(re.findall(_COMMA, paragraph))
        + DASH_MS * len(re.findall(_DASH, paragraph))
    )


def _letters(word: str) -> int:
    if len(word) == 1 and word not in {"a", "A", "I"}:
        return LETTERS_OF_A_SPELLED_LETTER
    return sum(map(str.isalpha, word))
