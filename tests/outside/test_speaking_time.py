"""Speaking time against voices that were timed, and against published rates of speech.

`spoken-seconds.tsv` lies beside this test: texts of our own, each with the form that a person wrote out by hand and the
seconds of two voices of espeak-ng 1.51 (its head says more). The bars come from measurements made before the project
began, on 125 texts and five voices; they are not published figures.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from scipy.stats import spearmanr

from briefing.speech.seconds import SENTENCE_MS, base_seconds, words_per_min
from briefing.speech.spoken import spoken_form
from briefing.speech.syllables import count_syllables


class Timed(NamedTuple):
    kind: str
    seconds: dict[str, float]
    written: str
    spoken: str


def _read() -> tuple[Timed, ...]:
    lines = (Path(__file__).parent / "spoken-seconds.tsv").read_text(encoding="utf-8").splitlines()
    rows = [line.split("\t") for line in lines if line and not line.startswith(("#", "kind\t"))]
    return tuple(Timed(r[0], {"us": float(r[1]), "gb": float(r[2])}, r[3], r[4]) for r in rows)


TEXTS = _read()
HALVES = (TEXTS[::2], TEXTS[1::2])
VOICES = ("us", "gb")


def test_the_texts_are_all_there() -> None:
    assert len(TEXTS) == 63
    assert {text.kind for text in TEXTS} == set("CELNP")


def test_expansion_against_the_form_written_by_hand() -> None:
    # Bar: syllables differ by 3 % in the mean, 15 % at worst. The experiment reached 1.4 % and 12.5 %.
    differences = [abs(_syllables(spoken_form(text.written)) / _syllables(text.spoken) - 1) for text in TEXTS]
    assert float(np.mean(differences)) <= 0.03
    assert max(differences) <= 0.15


@pytest.mark.parametrize("voice", VOICES)
@pytest.mark.parametrize("way", [0, 1], ids=["first half sets the scale", "second half sets the scale"])
def test_seconds_of_one_half_with_the_scale_of_the_other(voice: str, way: int) -> None:
    # The silence after the last sentence was trimmed from the recordings, so it is taken off here, too.
    known, tested = HALVES[way], HALVES[1 - way]
    scale = _total(voice, known) / sum(_trimmed(text) for text in known)
    likely = np.array([scale * _trimmed(text) for text in tested])
    measured = np.array([text.seconds[voice] for text in tested])
    errors = np.abs(likely / measured - 1)
    # Bars: mean 9 %, 90th percentile 18 %, worst 35 %; rank correlation and R² at least .97; total within 2 %.
    assert errors.mean() <= 0.09
    assert np.quantile(errors, 0.9) <= 0.18
    assert errors.max() <= 0.35
    assert spearmanr(likely, measured).statistic >= 0.97
    assert 1 - ((likely - measured) ** 2).sum() / ((measured - measured.mean()) ** 2).sum() >= 0.97
    assert abs(likely.sum() / measured.sum() - 1) <= 0.02


@pytest.mark.parametrize("voice", VOICES)
def test_seconds_with_the_last_pause_on_all_texts(voice: str) -> None:
    # With the pause that the recordings lack, a short cue is over by a third of a second: the mean over all texts still keeps the
    # bar, on one half with the scale of the other it is 9.2 and 9.6 %. Like with like (above) it is 5.3 to 6.5 %, the worst 18.5 %:
    # the difference is that pause, and no other change of the model is called for.
    scale = _total(voice, TEXTS) / sum(base_seconds(spoken_form(text.written)) for text in TEXTS)
    errors = [abs(scale * base_seconds(spoken_form(text.written)) / text.seconds[voice] - 1) for text in TEXTS]
    assert float(np.mean(errors)) <= 0.09


@pytest.mark.parametrize("voice", VOICES)
def test_seconds_of_texts_full_of_numbers_with_the_scale_of_the_others(voice: str) -> None:
    # Bars: mean error 9 %, total within 6 %. The experiment reached 6.8 % and −3.8 %.
    known = [text for text in TEXTS if text.kind != "N"]
    tested = [text for text in TEXTS if text.kind == "N"]
    scale = _total(voice, known) / sum(base_seconds(spoken_form(text.written)) for text in known)
    likely = np.array([scale * base_seconds(spoken_form(text.written)) for text in tested])
    measured = np.array([text.seconds[voice] for text in tested])
    assert np.abs(likely / measured - 1).mean() <= 0.09
    assert abs(likely.sum() / measured.sum() - 1) <= 0.06


@pytest.mark.parametrize("voice", VOICES)
def test_without_expansion_the_same_is_bad(voice: str) -> None:
    # The guard: if this were good, the check above would show nothing. Bar: at least 25 %; the experiment had 46 %.
    known = [text for text in TEXTS if text.kind != "N"]
    scale = _total(voice, known) / sum(base_seconds(text.written) for text in known)
    errors = [abs(scale * base_seconds(text.written) / text.seconds[voice] - 1) for text in TEXTS if text.kind == "N"]
    assert float(np.mean(errors)) >= 0.25


def test_words_per_minute_lie_in_the_published_bands() -> None:
    explained = [spoken_form(text.written) for text in TEXTS if text.kind == "E"]
    rate = words_per_min(" ".join(explained), sum(map(base_seconds, explained)))
    # Reading aloud, English, 77 studies: 183 words/min (Brysbaert 2019, J. Memory & Language 109:104047).
    assert rate == pytest.approx(183, rel=0.05)
    # Reading aloud, 17 languages: 184 ± 29 words/min (Trauzettel-Klosinski & Dietz 2012, IOVS 53:5452).
    assert 184 - 29 <= rate <= 184 + 29
    everything = [spoken_form(text.written) for text in TEXTS]
    rate = words_per_min(" ".join(everything), sum(map(base_seconds, everything)))
    # Radio news, what most authors recommend: 160–180 words/min (Rodero 2012, Text & Talk 32:391); lists and numbers
    # among the texts bring all of them together down to it.
    assert 160 <= rate <= 180


def test_syllables_a_minute_lie_in_the_published_span() -> None:
    explained = [spoken_form(text.written) for text in TEXTS if text.kind == "E"]
    rate = sum(map(_syllables, explained)) * 60 / sum(map(base_seconds, explained))
    # With pauses: American 254, British 263, Australian 237 syllables/min (Robb, Maclagan & Chen 2004; Lee & Doherty
    # 2017), second-hand, so within 10 % of their span.
    assert 237 * 0.9 <= rate <= 263 * 1.1


def test_words_per_minute_do_the_sums_of_the_published_rates() -> None:
    # 300 words in 98.4 s are the 183 words/min of Brysbaert 2019; one 132-word passage of IReST (Trauzettel-Klosinski &
    # Dietz 2012) at 184 words/min takes 43.0 s. Both derived.
    assert words_per_min("go " * 300, 98.4) == pytest.approx(183, abs=0.1)
    assert words_per_min("go " * 132, 43.0) == pytest.approx(184, abs=0.3)


# Counts of the CMU pronouncing dictionary (github.com/cmusphinx/cmudict, December 2024), its first pronunciation.
CMU = {
    1: "squat lunge",
    2: "lunges burpee burpees dumbbell barbell thruster handstand push-up pushups technique",
    3: "overhead exercise calories kilogram interval quadriceps hydration dizziness every",
    4: "repetition alternating temperature",
    5: "modification",
}
# Not in the dictionary; kettle, bell, dead and lift are, and the others are counted by hand.
NOT_IN_CMU = {
    2: "deadlift pull-up sit-up warm-up cooldown unders deltoid whiteboard",
    3: "kettlebell",
    6: "rhabdomyolysis",
}


@pytest.mark.parametrize("counts", [CMU, NOT_IN_CMU], ids=["in the dictionary", "not in it"])
def test_syllables_of_trade_words(counts: dict[int, str]) -> None:
    assert {word: _syllables(word) for words in counts.values() for word in words.split()} == {
        word: syllables for syllables, words in counts.items() for word in words.split()
    }


@pytest.mark.parametrize(
    ("words", "sentences", "ease", "grade"),
    [
        # The words in alphabetical order, as the counts are all that the formula reads. Published: 116, 69 and 37.5
        # (an encyclopedia's article on the formula, second-hand).
        ("cat mat on sat the the", 1, 116.1, -1.45),
        ("a a as being is itself passage point prove reading sentence taken this to unto used", 1, 68.98, 7.61),
        ("a a and australian creature hybrid is mammal of platypus reptilian seemingly the", 1, 37.46, 11.26),
    ],
)
def test_syllables_reproduce_published_readability(words: str, sentences: int, ease: float, grade: float) -> None:
    # Reading ease: Flesch 1948. Grade: Kincaid et al. 1975.
    a_sentence = len(words.split()) / sentences
    a_word = _syllables(words) / len(words.split())
    assert 206.835 - 1.015 * a_sentence - 84.6 * a_word == pytest.approx(ease, abs=0.06)
    assert 0.39 * a_sentence + 11.8 * a_word - 15.59 == pytest.approx(grade, abs=0.01)


def _total(voice: str, texts: tuple[Timed, ...] | list[Timed]) -> float:
    return sum(text.seconds[voice] for text in texts)


def _trimmed(text: Timed) -> float:
    ends = text.written.rstrip(')"”').endswith((".", "?", "!", "…"))
    return base_seconds(spoken_form(text.written)) - (SENTENCE_MS / 1000 if ends else 0.0)


def _syllables(spoken: str) -> int:
    parts = re.split(r"[\s¶-]+", spoken)
    return sum(count_syllables(part.strip(",.;:!?()…—")) for part in parts if any(map(str.isalpha, part)))
