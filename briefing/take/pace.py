"""The speaking pace of a coach, learned from a timed transcript: talk alone, demonstration and silence taken off."""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median

from briefing.problems import Found, Model, Problem
from briefing.settings.pace_file import PaceRecord, combined
from briefing.settings.reading import LEAST_K, MOST_K
from briefing.speech.seconds import Pace, band, base_seconds, words_per_min
from briefing.speech.spoken import spoken_form
from briefing.take.transcript import Cue, Transcript
from briefing.units import write_clock

# Our choice: a silence longer than this is no pause of speech but something that is shown, or dead air. Pauses over a second occur
# only in unscripted talk (Campione & Véronis 2002); this leaves them twice that.
GAP_MS = 2500
# Our choice: a cue is demonstrated through when it takes so many times as long as this coach's usual, and this many seconds longer.
SLOW_FACTOR, SLOW_S = 1.7, 2.0
LEAST_TALK_S = 30.0
_NUMBERS = frozenset(
    [
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
        "and",
    ]
)


class Stretch(Model):
    """A stretch of the take, what it is (talk, demonstration, silence) and why."""

    kind: str
    start_ms: int
    end_ms: int
    why: str
    text: str = ""


class Learned(Model):
    """What one take says of the pace: `k` shrunk towards the typical one, its band, seconds of talk and demonstration, drift."""

    k: float
    low: float
    high: float
    talk_s: float
    base_s: float
    demonstration_s: float
    words_per_min: float
    drift: float
    stretches: tuple[Stretch, ...]

    def record(self, file: str, date: str) -> PaceRecord:
        """Give the row that is kept of it."""
        return PaceRecord(file=file, date=date, talk_s=round(self.talk_s, 1), base_s=round(self.base_s, 1))


def learn(transcript: Transcript, talk: tuple[int, int] | None = None) -> Found[Learned]:
    """Learn the pace of one take; `talk` names the milliseconds that are talk, where the coach knows better.

    Problems (errors): `too-little-talk` (under 30 seconds), `pace-unlikely` (outside 0.5 to 2.5): nothing is learned from rubbish.
    """
    stretches = _chosen(transcript, talk) if talk else _sorted(transcript)
    talking = [s for s in stretches if s.kind == "talk"]
    talk_s = sum(s.end_ms - s.start_ms for s in talking) / 1000
    spoken = [spoken_form(s.text) for s in talking]
    base_s = sum(base_seconds(x) for x in spoken)
    place = transcript.cues[0].place
    if talk_s < LEAST_TALK_S or base_s <= 0:
        message = f"there are {talk_s:.0f} seconds of talk here; a pace needs {LEAST_TALK_S:.0f}"
        return Found(
            None,
            (
                Problem(
                    level="error",
                    code="too-little-talk",
                    message=message,
                    suggestion="a longer stretch of talk, or --talk 0:00-2:30",
                    place=place,
                ),
            ),
        )
    raw = talk_s / base_s
    if not LEAST_K <= raw <= MOST_K:
        message = f"this comes out at {raw:.2f} times the usual time, which nobody speaks ({LEAST_K} to {MOST_K})"
        return Found(
            None,
            (
                Problem(
                    level="error",
                    code="pace-unlikely",
                    message=message,
                    suggestion="the captions of the same video, or --talk",
                    place=place,
                ),
            ),
        )
    k = combined([PaceRecord(file="", date="", talk_s=talk_s, base_s=base_s)]).k
    spread = band(100.0, 0.0, talk_s)
    demonstration = sum(s.end_ms - s.start_ms for s in stretches if s.kind == "demonstration") / 1000
    made = Learned(
        k=round(k, 3),
        low=round(k * spread.low_s / 100, 3),
        high=round(k * spread.high_s / 100, 3),
        talk_s=round(talk_s, 1),
        base_s=round(base_s, 1),
        demonstration_s=round(demonstration, 1),
        words_per_min=round(words_per_min(" ".join(spoken), talk_s), 0),
        drift=round(
            _drift([c for c in transcript.cues if any(s.start_ms <= c.start_ms < s.end_ms for s in talking)]), 3
        ),
        stretches=tuple(stretches),
    )
    return Found(made)


def pace_of(records: Sequence[PaceRecord]) -> Pace:
    """Give the pace of all recordings together."""
    made = combined(records)
    return Pace(k=made.k, calibrated_talk_s=made.talk_s or None)


def _sorted(transcript: Transcript) -> list[Stretch]:
    """Sort cues into talk and demonstration, gaps into silence; neighbours of one kind are one stretch."""
    cues = transcript.cues
    usual = _usual(cues)
    stretches: list[Stretch] = []
    for at, cue in enumerate(cues):
        if at:
            gap = cue.start_ms - cues[at - 1].end_ms
            if gap > GAP_MS:
                why = f"nothing is said for {gap / 1000:.0f} seconds"
                stretches.append(
                    Stretch(kind="demonstration", start_ms=cues[at - 1].end_ms, end_ms=cue.start_ms, why=why)
                )
        kind, why = _kind(cue, usual)
        last = stretches[-1] if stretches else None
        if last and last.kind == kind and last.text and cue.start_ms - last.end_ms <= GAP_MS:
            stretches[-1] = last.model_copy(update={"end_ms": cue.end_ms, "text": f"{last.text} {cue.text}"})
        else:
            stretches.append(Stretch(kind=kind, start_ms=cue.start_ms, end_ms=cue.end_ms, why=why, text=cue.text))
    return stretches


def _usual(cues: Sequence[Cue]) -> float:
    """Give the usual ratio of a cue's time to its base; counted repetitions and very short cues left out."""
    ratios = [
        (c.end_ms - c.start_ms) / 1000 / base
        for c in cues
        if not _counts(c.text) and (base := base_seconds(spoken_form(c.text))) >= 1.0
    ]
    return median(ratios) if ratios else 1.0


def _kind(cue: Cue, usual: float) -> tuple[str, str]:
    if _counts(cue.text):
        return "demonstration", f'repetitions are counted: "{cue.text[:30]}"'
    took, base = (cue.end_ms - cue.start_ms) / 1000, base_seconds(spoken_form(cue.text))
    if took > SLOW_FACTOR * usual * base and took - usual * base > SLOW_S:
        return "demonstration", f"very slow: {took:.0f} seconds for what usually takes {usual * base:.0f}"
    return "talk", ""


def _counts(text: str) -> bool:
    """Say whether repetitions are counted here: three or more numbers, and hardly anything else."""
    words = re.findall(r"[a-z]+|\d+", text.lower())
    numbers = [w for w in words if w in _NUMBERS or w.isdigit()]
    return len(numbers) >= 3 and len(numbers) >= 0.7 * len(words)


def _chosen(transcript: Transcript, talk: tuple[int, int]) -> list[Stretch]:
    inside = [c for c in transcript.cues if talk[0] <= c.start_ms < talk[1]]
    return [
        Stretch(kind="talk", start_ms=c.start_ms, end_ms=min(c.end_ms, talk[1]), why="as you said", text=c.text)
        for c in inside
    ]


def _drift(talking: Sequence[Cue]) -> float:
    """Give the pace of the second half of the talk against the first: 1.05 is five hundredths slower towards the end."""
    halves: list[list[float]] = [[0.0, 0.0], [0.0, 0.0]]
    whole = sum(c.end_ms - c.start_ms for c in talking)
    done = 0
    for cue in talking:
        took = cue.end_ms - cue.start_ms
        half = halves[int(done + took / 2 > whole / 2)]
        half[0] += took / 1000
        half[1] += base_seconds(spoken_form(cue.text))
        done += took
    if not (halves[0][1] and halves[1][1] and halves[0][0]):
        return 1.0
    return (halves[1][0] / halves[1][1]) / (halves[0][0] / halves[0][1])


def stretch_words(stretch: Stretch) -> str:
    """Say a stretch in one line: its time, its kind, its reason."""
    times = f"{write_clock(stretch.start_ms / 1000)}-{write_clock(stretch.end_ms / 1000)}"
    return f"{times:<12} {stretch.kind}" + (f": {stretch.why}" if stretch.why else "")
