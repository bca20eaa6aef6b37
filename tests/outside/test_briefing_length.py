"""The length of a whole briefing against practice.

A practitioner's briefing of two movements and one forced exercise, with its recap, takes about ten minutes at about 190 words a
minute, talking while moving (common practice, no source). A composed one of that size, at that pace, with nothing left out (every
easier version, every safety note), comes out between seven and twelve and a half minutes.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from briefing.outline.outline import fit_segments, with_seconds
from briefing.pipeline import Briefed
from briefing.speech.seconds import Pace, words_per_min

BOARD = """For time, any order; plan 6 rounds; cap 18:00
  120 goblet squats
  90 kettlebell swings
Every 3:00 from 3:00: 12 mountain climbers, 6 each leg
"""


def test_two_movements_and_one_forced_exercise(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text(BOARD).outline
    assert outline.left_out == ()
    talk = sum(line.talk_tenths for line in outline.lines) / 10
    rate = words_per_min(" ".join(line.spoken for line in outline.lines), talk)
    pace = Pace(k=rate / 190)
    made = fit_segments(with_seconds(outline.segments, pace), None, pace)
    seconds = sum(s.tenths for s in made.segments) / 10
    words = words_per_min(" ".join(line.spoken for s in made.segments for line in s.lines), talk * pace.k)
    assert words == pytest.approx(190, rel=0.02)
    assert 7 * 60 <= seconds <= 12.5 * 60


def test_the_words_a_minute_that_are_shown_lie_in_the_published_bands(demos: dict[str, Briefed]) -> None:
    """Reading aloud 183 words/min over 77 studies (Brysbaert 2019); 184 ± 29 over 17 languages (IReST 2012).

    Lectures about 140, radio 160 to 180 (Rodero 2012), conversation about 210 (Tauroza & Allison 1990, second-hand).
    """
    for briefed in demos.values():
        lines = briefed.outline.lines
        talk = sum(line.talk_tenths for line in lines) / 10
        rate = words_per_min(" ".join(line.spoken for line in lines), talk)
        assert 184 - 29 <= rate <= 184 + 29
        assert 140 <= rate / 1.15 <= 210
