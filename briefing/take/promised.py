"""The promised JSON of what is learned from a take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from briefing.problems import Model, Problem
from briefing.settings.pace_file import PaceRecord
from briefing.speech.seconds import band
from briefing.take.pace import Learned, pace_of
from briefing.take.review import Review
from briefing.write.promised import ProblemJson, problems_json


class RecordingJson(Model):
    """One recording that counts."""

    file: str
    date: str
    talk_s: float
    k: float


class StretchJson(Model):
    """A stretch of a take that is not talk."""

    kind: str
    start_s: float
    end_s: float
    why: str


class PaceJson(Model):
    """What `briefing pace FILE… --json` prints: `k` is the pace of all recordings, the rest is of the files named."""

    version: Literal[1] = 1
    k: float
    low: float
    high: float
    talk_s: float
    demonstration_s: float
    words_per_min: float
    drift: float
    stretches: tuple[StretchJson, ...]
    recordings: tuple[RecordingJson, ...]
    problems: tuple[ProblemJson, ...]


def pace_json(learned: Sequence[Learned], records: Sequence[PaceRecord], problems: Sequence[Problem]) -> PaceJson:
    """Give what was learned; with one file its own figures, with several what they come to together."""
    together = pace_of(records)
    k = learned[0].k if len(learned) == 1 else round(together.k, 3)
    talk_s = sum(x.talk_s for x in learned) if learned else together.calibrated_talk_s or 0.0
    spread = band(100.0, 0.0, talk_s or None)
    base_s = sum(x.base_s for x in learned)
    words = sum(x.words_per_min * x.talk_s for x in learned)
    return PaceJson(
        k=k,
        low=round(k * spread.low_s / 100, 3),
        high=round(k * spread.high_s / 100, 3),
        talk_s=round(talk_s, 1),
        demonstration_s=round(sum(x.demonstration_s for x in learned), 1),
        words_per_min=round(words / talk_s, 0) if base_s and talk_s else 0.0,
        drift=learned[-1].drift if learned else 1.0,
        stretches=tuple(
            StretchJson(kind=s.kind, start_s=s.start_ms / 1000, end_s=s.end_ms / 1000, why=s.why)
            for x in learned
            for s in x.stretches
            if s.kind != "talk"
        ),
        recordings=tuple(
            RecordingJson(
                file=r.file, date=r.date, talk_s=r.talk_s, k=round(r.talk_s / r.base_s, 3) if r.base_s else 1.0
            )
            for r in records
        ),
        problems=problems_json(tuple(problems)).problems,
    )


class SlipJson(Model):
    """A number that differs from the board."""

    at_s: float
    said: str
    about: str
    board: str
    words: str
    corrected: bool


class NotSaidJson(Model):
    """A planned line that was not heard."""

    id: str
    must: bool
    text: str
    card: str


class SegmentTimeJson(Model):
    """A segment planned and real."""

    title: str
    planned_s: float
    real_s: float | None
    why: str


class AgainJson(Model):
    """Something to film again."""

    segment: str
    camera: str
    sentences: tuple[str, ...]
    seconds: float
    by_text: bool


class ReviewJson(Model):
    """What `briefing review TAKE… FILE --json` prints."""

    version: Literal[1] = 1
    title: str
    slips: tuple[SlipJson, ...]
    not_said: tuple[NotSaidJson, ...]
    late: tuple[str, ...]
    segments: tuple[SegmentTimeJson, ...]
    again: tuple[AgainJson, ...]
    problems: tuple[ProblemJson, ...]


def review_json(made: Review, problems: Sequence[Problem]) -> ReviewJson:
    """Give a review in the promised form."""
    return ReviewJson(
        title=made.title,
        slips=tuple(
            SlipJson(
                at_s=s.at_ms / 1000, said=s.said, about=s.about, board=s.board, words=s.words, corrected=s.corrected
            )
            for s in made.slips
        ),
        not_said=tuple(NotSaidJson(id=x.id, must=x.must, text=x.text, card=x.card) for x in made.not_said),
        late=tuple(s.line.id for s in made.late),
        segments=tuple(
            SegmentTimeJson(title=s.title, planned_s=s.planned_s, real_s=s.real_s, why=s.why) for s in made.segments
        ),
        again=tuple(
            AgainJson(segment=a.segment, camera=a.camera, sentences=a.sentences, seconds=a.seconds, by_text=a.by_text)
            for a in made.again
        ),
        problems=problems_json(tuple(problems)).problems,
    )
