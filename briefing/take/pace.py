"""The speaking pace of a coach, learned from a timed transcript: talk alone, demonstration and silence taken off.

    k = talk seconds / base seconds of the words said in them, shrunk by 15 seconds towards the typical pace

What is no talk is found by three signs, each with its reason beside it: repetitions that are counted, a cue that takes much longer than
this coach usually takes for such words, a gap without words. The coach may say instead what is talk.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist, median
from typing import Literal

from briefing.problems import Found, Model, Problem
from briefing.settings.pace_file import PaceRecord, combined
from briefing.settings.reading import LEAST_K, MOST_K
from briefing.speech.seconds import (
    BAND_SIGMAS,
    PACE_SIGMA,
    STRETCH_VARIANCE_S,
    UNKNOWN_PACE_SIGMA,
    Pace,
    base_seconds,
    words_per_min,
)
from briefing.speech.spoken import spoken_form
from briefing.take.counting import read_number
from briefing.take.transcript import Cue, Transcript
from briefing.units import write_clock

GAP_MS = 2500
"""A silence longer than this is no pause of speech but something that is shown, or dead air. Our choice: pauses over a second occur only in
unscripted talk (Campione & Véronis 2002), and this leaves them more than twice that."""
MOST_SIGMAS, SLOW_S = 3.0, 2.0
"""A cue is demonstrated through when it takes so much longer than usual: standard deviations of a stretch of its length (√(0.20 s · its
seconds), from the measurements on 118 speakers), and two seconds. Our choice."""
BY_CHANCE = 0.15
"""Of a few long cues less will do than of many short ones: so many cues of a take that is all talk may be called slow by chance."""
MOST_ROUNDS = 8
WORDS_A_STAMP = 30
"""More words between two stamps hide what is shown between them: with 40, k is within 3 % in 84 of a hundred made takes and the seconds
shown within 10 % in 71; with 25, in 98 and 95 (180 takes each, as in tests/test_pace.py). The spread of speech itself sets this bound."""
LEAST_TALK_S = 30.0
"""Less talk than this gives no pace: it would be off by a tenth at one standard deviation."""
LEAST_COUNT = 3
"""So many numbers in a row, each one more or one less than the last, are repetitions that are counted. Our choice."""
BETWEEN_COUNTS = 2
"""So many other words may stand between two of them, as in "one and two and". Our choice."""
PAUSES_UNMARKED = 1.22
"""What the pauses add to the time of the words alone, for captions without full stops. Measured on our three demo briefings: 1.22, 1.22
and 1.23; 1.18 to 1.26 in pieces of 150 words."""
LEAST_MARKS = 1 / 40
"""Fewer sentences' ends a word than this are captions without full stops; the demo briefings have one in thirteen."""

_MARKS = re.compile(r"[.,;:?!…()\[\]]|(?<=\s)[-–—](?=\s)")

Kind = Literal["talk", "demonstration"]


class Stretch(Model):
    """A stretch of the take, what it is, why, and how much of it is shown without talk.

    `shown_ms` is 0 for talk, all of a gap or of counted repetitions, and of a slow cue what its words do not need.
    """

    kind: Kind
    start_ms: int
    end_ms: int
    why: str
    shown_ms: int = 0


class Learned(Model):
    """What one take says of the pace: `k` shrunk towards the typical one, its 80 % band, seconds of talk and demonstration.

    `base_s` is what the typical pace would take for the same words; `drift` is the pace of the second half of the talk against
    the first (1.05: five hundredths slower towards the end).
    """

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
        """Give the row that is kept of it; `date` as in `2027-01-05`."""
        return PaceRecord(file=file, date=date, talk_s=round(self.talk_s, 1), base_s=round(self.base_s, 1))


def learn(
    transcript: Transcript, talk: tuple[int, int] | None = None, own: Sequence[tuple[str, str]] = ()
) -> Found[Learned]:
    """Learn the pace of one take; `talk` names the milliseconds that are talk, where the coach knows better.

    `own` is the coach's list of (written, spoken). Problems: `too-little-talk` (under 30 seconds), `pace-unlikely` (outside 0.5
    to 2.5), both errors: nothing is learned from rubbish; `no-full-stops` (the pauses are
    estimated) and `stamps-far` (notes).
    """
    problems: list[Problem] = []
    said = _measured(transcript, own, problems)
    stretches = _named(said, talk) if talk else _sorted(said)
    talking = [s for s in stretches if s.kind == "talk"]
    chosen = _inside(said, talking)
    talk_s = sum(s.end_ms - s.start_ms for s in talking) / 1000
    base_s = sum(m.base_s for m in chosen)
    if talk_s < LEAST_TALK_S or base_s <= 0:
        message = f"there are {math.floor(talk_s)} seconds of talk here; a pace needs {LEAST_TALK_S:.0f}"
        return _refused(
            "too-little-talk", message, "a longer stretch of talk, or --talk 0:00-2:30", transcript, problems
        )
    raw = talk_s / base_s
    if not LEAST_K <= raw <= MOST_K:
        message = f"the talk takes {raw:.2f} times the typical time for its words; nobody speaks outside {LEAST_K} to {MOST_K}"
        return _refused("pace-unlikely", message, "the captions of this very video, or --talk", transcript, problems)
    k = combined([PaceRecord(file="", date="", talk_s=talk_s, base_s=base_s)]).k
    low, high = pace_band(k, talk_s)
    made = Learned(
        k=round(k, 3),
        low=low,
        high=high,
        talk_s=round(talk_s, 1),
        base_s=round(base_s, 1),
        demonstration_s=round(sum(s.shown_ms for s in stretches) / 1000, 1),
        words_per_min=round(words_per_min(" ".join(m.spoken for m in chosen), talk_s)),
        drift=round(_drift(chosen), 3),
        stretches=tuple(stretches),
    )
    return Found(made, tuple(problems))


def pace_band(k: float, talk_s: float | None) -> tuple[float, float]:
    """Give the 80 % band of a pace measured on so many seconds of talk (None: not measured), as in `(0.97, 1.13)`.

    It is the band of a long talk's total: 1.28 σ with σ² = 0.05² + 0.20/talk; 0.16² where nothing was measured.
    """
    variance = PACE_SIGMA**2 + STRETCH_VARIANCE_S / talk_s if talk_s else UNKNOWN_PACE_SIGMA**2
    wide = BAND_SIGMAS * math.sqrt(variance)
    return round(k * (1 - wide), 3), round(k * (1 + wide), 3)


def pace_of(records: Sequence[PaceRecord]) -> Pace:
    """Give the pace of all recordings together."""
    made = combined(records)
    return Pace(k=made.k, calibrated_talk_s=made.talk_s or None)


def stretch_words(stretch: Stretch) -> str:
    """Say a stretch in one line: its time, its kind, its reason."""
    times = f"{write_clock(stretch.start_ms / 1000)}-{write_clock(stretch.end_ms / 1000)}"
    return f"{times:<12} {stretch.kind}" + (f": {stretch.why}" if stretch.why else "")


@dataclass(frozen=True)
class _Measured:
    """A cue with how its words are said and what they take at the typical pace.

    `counted` is the share of its words that count repetitions, `rest_s` what the others take at the typical pace.
    """

    cue: Cue
    spoken: str
    base_s: float
    counted: float
    rest_s: float

    @property
    def took_s(self) -> float:
        return (self.cue.end_ms - self.cue.start_ms) / 1000


def _measured(transcript: Transcript, own: Sequence[tuple[str, str]], problems: list[Problem]) -> list[_Measured]:
    """Give each cue its seconds at the typical pace; where there are no full stops the pauses are put in by their usual share."""
    spoken = [spoken_form(c.text, own) for c in transcript.cues]
    words = sum(len(s.split()) for s in spoken)
    marks = sum(len(re.findall(r"[.?!…]+", s)) for s in spoken)
    # A few words may well be without a full stop; nothing follows from them.
    unmarked = words > 1 / LEAST_MARKS and marks < LEAST_MARKS * words
    if unmarked:
        message = "these captions have hardly a full stop; the pauses are put in by their usual share"
        problems.append(Problem(level="note", code="no-full-stops", message=message, place=transcript.cues[0].place))
    if words > WORDS_A_STAMP * len(transcript.cues):
        message = (
            f"there are {words / len(transcript.cues):.0f} words a stamp; what is shown in between is found less surely"
        )
        suggestion = "captions (.vtt or .srt) of the same recording"
        place = transcript.cues[0].place
        problems.append(Problem(level="note", code="stamps-far", message=message, suggestion=suggestion, place=place))
    bare = [_MARKS.sub(" ", s) if unmarked else s for s in spoken]
    scale = PAUSES_UNMARKED if unmarked else 1.0
    out = []
    for cue, words_of, plain, parts in zip(
        transcript.cues, spoken, bare, _counting([s.lower() for s in bare]), strict=True
    ):
        base_s = scale * base_seconds(plain)
        counting = sum(base_seconds(text) for text, counts in parts if counts)
        share = sum(counts for _, counts in parts) / len(parts) if parts else 0.0
        out.append(_Measured(cue, words_of, base_s, share, max(0.0, base_s - counting)))
    return out


def _counting(spoken: Sequence[str]) -> list[list[tuple[str, bool]]]:
    """Give for each cue its words, each with the marks behind it, and whether it counts repetitions; a count may run over cues."""
    words = [(at, m[1], m[0]) for at, text in enumerate(spoken) for m in re.finditer(r"([^\W\d_]+)[^\w]*", text)]
    inside = [False] * len(words)
    run: list[tuple[int, int]] = []

    def close() -> None:
        if len(run) >= LEAST_COUNT:
            for i in range(run[0][0], run[-1][0] + 1):
                inside[i] = True

    step = 0
    for place, value in _numbers([w for _, w, _ in words]):
        change = value - run[-1][1] if run else 0
        near = bool(run) and place - run[-1][0] <= BETWEEN_COUNTS + 2
        if near and abs(change) == 1 and (len(run) == 1 or change == step):
            step = change
        else:
            close()
            run = []
        run.append((place, value))
    close()
    out: list[list[tuple[str, bool]]] = [[] for _ in spoken]
    for (at, _, marked), counts in zip(words, inside, strict=True):
        out[at].append((marked, counts))
    return out


def _numbers(words: Sequence[str]) -> list[tuple[int, int]]:
    """Find whole numbers in words: the position of their last word and their value."""
    out: list[tuple[int, int]] = []
    place = 0
    while place < len(words):
        value, size = read_number(words, place) or (0.5, 1)
        place += size
        if value == int(value):
            out.append((place - 1, int(value)))
    return out


def _sorted(said: Sequence[_Measured]) -> list[Stretch]:
    """Sort cues into talk and demonstration, gaps into demonstration; neighbours of one kind and reason are one stretch."""
    pace = _usual(said)
    stretches: list[Stretch] = []
    for at, one in enumerate(said):
        cue = one.cue
        gap = cue.start_ms - said[at - 1].cue.end_ms if at else 0
        if gap > GAP_MS:
            why = f"nothing is said for {gap / 1000:.0f} seconds"
            stretches.append(
                Stretch(kind="demonstration", start_ms=cue.start_ms - gap, end_ms=cue.start_ms, why=why, shown_ms=gap)
            )
        if cue.end_ms > cue.start_ms:
            _join(stretches, _stretch(one, pace))
    return stretches


def _inside(said: Sequence[_Measured], talking: Sequence[Stretch]) -> list[_Measured]:
    """Give the cues that lie in the stretches of talk."""
    starts = [s.start_ms for s in talking]
    out = []
    for one in said:
        at = bisect_right(starts, one.cue.start_ms) - 1
        if at >= 0 and one.cue.start_ms < one.cue.end_ms <= talking[at].end_ms:
            out.append(one)
    return out


def _join(stretches: list[Stretch], new: Stretch) -> None:
    """Put a stretch behind the others, or on to the last one if it goes on; the short pause between them belongs to it."""
    last = stretches[-1] if stretches else None
    same = last is not None and last.kind == new.kind and _reason(last) == _reason(new)
    if last is None or not same or new.start_ms - last.end_ms > GAP_MS:
        stretches.append(new)
        return
    pause = new.start_ms - last.end_ms if new.kind == "demonstration" else 0
    stretches[-1] = last.model_copy(
        update={
            "end_ms": new.end_ms,
            "shown_ms": last.shown_ms + pause + new.shown_ms,
        }
    )


def _reason(stretch: Stretch) -> str:
    return stretch.why.partition(":")[0]


@dataclass(frozen=True)
class _Usual:
    """This coach's usual time of a cue against its typical one, and from how many standard deviations on a cue is slow."""

    ratio: float
    sigmas: float

    def needs(self, base_s: float) -> float:
        return self.ratio * base_s

    def slow_s(self, base_s: float) -> float:
        """Give how many seconds more than it needs a cue may take and still be talk."""
        return max(SLOW_S, self.sigmas * math.sqrt(STRETCH_VARIANCE_S * self.needs(base_s)))


def _usual(said: Sequence[_Measured]) -> _Usual:
    """Give this coach's usual time; counted repetitions and very short cues left out.

    The median first, which what is shown cannot pull far; then what the cues that are talk by it take together, again until it stays.
    Where stamps are coarse, so many cues have something shown in them that the median alone is too slow.
    """
    cues = [m for m in said if m.took_s and not m.counted and m.base_s >= 1.0]
    if not cues:
        return _Usual(1.0, MOST_SIGMAS)
    usual = _Usual(
        median(m.took_s / m.base_s for m in cues),
        min(MOST_SIGMAS, NormalDist().inv_cdf(1 - BY_CHANCE / (len(cues) + 1))),
    )
    for _ in range(MOST_ROUNDS):
        talk = [m for m in cues if abs(m.took_s - usual.needs(m.base_s)) <= usual.slow_s(m.base_s)]
        better = sum(m.took_s for m in talk) / sum(m.base_s for m in talk) if talk else usual.ratio
        if abs(better - usual.ratio) < 1e-6:
            break
        usual = replace(usual, ratio=better)
    return usual


def _stretch(one: _Measured, usual: _Usual) -> Stretch:
    cue = one.cue
    took, needs = one.took_s, usual.needs(one.base_s)
    kind: Kind = "demonstration"
    if one.counted >= 0.5:
        why, shown = f'repetitions are counted: "{cue.text[:30]}"', took
    elif one.counted:
        why, shown = f'repetitions are counted: "{cue.text[:30]}"', max(0.0, took - usual.needs(one.rest_s))
    elif took - needs > usual.slow_s(one.base_s):
        why, shown = f"very slow: {took:.0f} seconds for what usually takes {needs:.0f}", took - needs
    else:
        kind, why, shown = "talk", "", 0.0
    return Stretch(kind=kind, start_ms=cue.start_ms, end_ms=cue.end_ms, why=why, shown_ms=round(shown * 1000))


def _named(said: Sequence[_Measured], talk: tuple[int, int]) -> list[Stretch]:
    """Take what the coach named as talk: the cues that lie in it (a second of grace for stamps in whole seconds)."""
    stretches: list[Stretch] = []
    for one in said:
        cue = one.cue
        if talk[0] - 1000 <= cue.start_ms < cue.end_ms <= talk[1] + 1000:
            _join(
                stretches,
                Stretch(kind="talk", start_ms=cue.start_ms, end_ms=cue.end_ms, why="as you said"),
            )
    return stretches


def _drift(talking: Sequence[_Measured]) -> float:
    """Give the pace of the second half of the talk against the first."""
    halves = [[0.0, 0.0], [0.0, 0.0]]
    whole, done = sum(m.took_s for m in talking), 0.0
    for one in talking:
        half = halves[int(done + one.took_s / 2 > whole / 2)]
        half[0] += one.took_s
        half[1] += one.base_s
        done += one.took_s
    (first_s, first_base), (second_s, second_base) = halves
    return (second_s / second_base) / (first_s / first_base) if first_s and first_base and second_base else 1.0


def _refused(
    code: str, message: str, suggestion: str, transcript: Transcript, problems: Sequence[Problem]
) -> Found[Learned]:
    place = transcript.cues[0].place
    wrong = Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
    return Found(None, (*problems, wrong))
