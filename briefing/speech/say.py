"""One text with the way it is said and the seconds it takes."""

from __future__ import annotations

from collections.abc import Sequence

from briefing.problems import Model
from briefing.speech.seconds import Pace, band, talk_tenths
from briefing.speech.spoken import spoken_form


class Said(Model):
    """A text, how it is said, and its seconds with their 80 % band, each with one decimal.

    As in `written="Rest 1:30."`, `spoken="Rest one minute thirty."`, `seconds=1.7`.
    """

    written: str
    spoken: str
    seconds: float
    low_s: float
    high_s: float


def say(text: str, pace: Pace, own: Sequence[tuple[str, str]] = ()) -> Said:
    """Give a text with the way it is said and its seconds at this pace; `own` is the coach's list, as in `spoken_form`.

    Any text gives an answer; one in which nothing is said takes 0.0 seconds plus its pauses.
    """
    spoken = spoken_form(text, own)
    seconds = talk_tenths(spoken, pace.k) / 10
    around = band(seconds, calibrated_talk_s=pace.calibrated_talk_s)
    return Said(written=text, spoken=spoken, seconds=seconds, low_s=around.low_s, high_s=around.high_s)
