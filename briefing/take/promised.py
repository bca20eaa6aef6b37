"""The promised JSON of what is learned from a take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from briefing.problems import Model, Problem
from briefing.settings.pace_file import PaceRecord, combined
from briefing.take.pace import Learned, pace_band
from briefing.take.page import real_chapters
from briefing.take.review import Review
from briefing.write.promised import ProblemJson, problems_json


class RecordingJson(Model):
    """One recording that counts."""

    file: str
    date: str
    talk_s: float
    k: float


class StretchJson(Model):
    """A stretch of a take that is not talk; `file` as it was named."""

    file: str
    kind: str
    start_s: float
    end_s: float
    why: str


class PaceJson(Model):
    """What `briefing pace FILE… --json` prints: all of the files named; `recordings` are all that count."""

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


def pace_json(
    learned: Sequence[Learned], files: Sequence[str], records: Sequence[PaceRecord], problems: Sequence[Problem]
) -> PaceJson:
    """Give what was learned from the files named, together; without files, what all kept recordings come to.

    `files` are the names of what was learned, one each.
    """
    named = [x.record("", "") for x in learned]
    together = combined(named or records)
    k, talk_s = together.k, together.talk_s
    low, high = pace_band(k, talk_s or None)
    words = sum(x.words_per_min * x.talk_s for x in learned)
    return PaceJson(
        k=round(k, 3),
        low=low,
        high=high,
        talk_s=round(talk_s, 1),
        demonstration_s=round(sum(x.demonstration_s for x in learned), 1),
        words_per_min=round(words / talk_s, 0) if talk_s else 0.0,
        drift=learned[-1].drift if learned else 1.0,
        stretches=tuple(
            StretchJson(file=file, kind=s.kind, start_s=s.start_ms / 1000, end_s=s.end_ms / 1000, why=s.why)
            for file, x in zip(files, learned, strict=True)
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


class ChapterJson(Model):
    """A chapter of the take: a segment with its real times."""

    start_s: float
    end_s: float
    title: str


class OnScreenJson(Model):
    """A text for the picture, from when to when."""

    text: str
    start_s: float
    end_s: float


class MisheardJson(Model):
    """A name that the captions have otherwise, for the coach to accept."""

    at_s: float
    written: str
    name: str


class ReviewJson(Model):
    """What `briefing review TAKE… FILE --json` prints.

    `against` is empty where the take was held against the plan of now; else it says against which one.
    """

    version: Literal[1] = 1
    title: str
    against: str
    slips: tuple[SlipJson, ...]
    not_said: tuple[NotSaidJson, ...]
    late: tuple[str, ...]
    segments: tuple[SegmentTimeJson, ...]
    again: tuple[AgainJson, ...]
    chapters: tuple[ChapterJson, ...]
    on_screen: tuple[OnScreenJson, ...]
    misheard: tuple[MisheardJson, ...]
    problems: tuple[ProblemJson, ...]


def review_json(made: Review, problems: Sequence[Problem]) -> ReviewJson:
    """Give a review in the promised form."""
    return ReviewJson(
        title=made.title,
        against=made.against,
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
        chapters=tuple(
            ChapterJson(start_s=start / 1000, end_s=end / 1000, title=title)
            for start, end, title in real_chapters(made)
        ),
        on_screen=tuple(
            OnScreenJson(text=x.text, start_s=x.start_ms / 1000, end_s=x.end_ms / 1000) for x in made.on_screen
        ),
        misheard=tuple(MisheardJson(at_s=x.at_ms / 1000, written=x.written, name=x.name) for x in made.misheard),
        problems=problems_json(tuple(problems)).problems,
    )
