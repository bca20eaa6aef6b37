"""Lines, segments and the outline.

Seconds are whole tenths inside (`…_tenths`); `seconds` in the promised JSON has one decimal.
"""

from __future__ import annotations

from typing import Literal

from briefing.board.models import Workout
from briefing.library.models import Camera, How, KitItem
from briefing.outline.order import Order
from briefing.problems import Model, Problem
from briefing.settings.models import Length, Settings, VideoKind
from briefing.telling.figures import Figure

SegmentKind = Literal[
    "promise", "stop", "workout", "feel", "movement", "change", "versions", "score", "again", "go",
    "how", "raise", "drill", "prepare", "walk", "stretch", "breathe",
]  # fmt: skip


class Show(Model):
    """What is shown while a line is said: reps or a hold, from which side, talked over, counted or silent.

    "own words" is room of `hold_s` for what the coach says and shows of a movement that no file has.
    """

    reps: int | None = None
    hold_s: int | None = None
    camera: Camera = "three-quarter"
    how: How | Literal["own words"] = "talked over"


# What the coach can do while a line is said: see a card and speak to the lens; speak side on; speak from the floor, face down;
# hardly speak, after hard repetitions.
Sight = Literal["lens", "side on", "face down", "out of breath"]


class Line(Model):
    """One thing to say.

    `id` is `movement/section/card-phrase` or `segment/section/name`, stable over lengths. `text` is what the script
    says, `spoken` the same in words only, `card` the phrase for the card. `talk_tenths` and `show_tenths` are tenths of
    a second for the talk and for repetitions that are counted or silent. `worth` decides who goes first when time is
    short; `needs` is the id of the one line without which this one makes no sense. `source` says where the words are from, `sight`
    whether a card can be seen while it is said.
    """

    id: str
    kind: str
    movement: str | None = None
    must: bool = False
    text: str
    spoken: str = ""
    card: str
    figure: Figure | None = None
    show: Show | None = None
    talk_tenths: int = 0
    show_tenths: int = 0
    worth: int = 0
    needs: str | None = None
    source: str = ""
    sight: Sight = "lens"

    @property
    def tenths(self) -> int:
        """All tenths of a second of this line."""
        return self.talk_tenths + self.show_tenths


class LeftOut(Model):
    """A line that is not said, and why."""

    line: Line
    segment: int
    why: str


class Segment(Model):
    """A titled stretch of the video, filmed in one go.

    `next_action` is what the coach does after it (for the foot of the card). `kit` is what lies ready for it.
    """

    kind: SegmentKind
    title: str
    movement: str | None = None
    lines: tuple[Line, ...]
    start_tenths: int = 0
    low_tenths: int = 0
    high_tenths: int = 0
    camera: Camera = "front"
    kit: tuple[KitItem, ...] = ()
    next_action: str = ""

    @property
    def tenths(self) -> int:
        """All tenths of a second of the segment: the sum of its lines."""
        return sum(line.tenths for line in self.lines)


class Version(Model):
    """One complete version of the workout: its name, who takes it, its lines of work in words.

    `phrase` is the name of the wording that says it, `text` the whole sentence for paper.
    """

    name: str
    phrase: str
    test: str
    lines: tuple[str, ...]
    text: str


class Sheet(Model):
    """What the documents show besides the spoken lines: kit, space, versions, times, tally, score, cautions.

    `kit` and `stand_ins` are words ready to print; `finish` has a row for each kind of person (who, when done), `untimed` the
    movements whose time nobody knows (then there are no such rows), `built_from` the
    movements with a fingerprint of their files, so that paper and video can be held against each other.
    """

    kit: tuple[str, ...] = ()
    stand_ins: tuple[str, ...] = ()
    space: str | None = None
    board: tuple[str, ...] = ()
    totals: tuple[str, ...] = ()
    versions: tuple[Version, ...] = ()
    finish: tuple[tuple[str, str], ...] = ()
    untimed: tuple[str, ...] = ()
    tally: str | None = None
    tally_boxes: int = 0
    score: str | None = None
    easier: tuple[tuple[str, tuple[str, ...]], ...] = ()
    safety: tuple[str, ...] = ()
    built_from: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class Outline(Model):
    """The whole briefing, fitted: segments with their lines, what was left out, problems."""

    title: str
    kind: VideoKind = "briefing"
    video: str | None = None
    series: str | None = None
    length: Length | None = None
    settings: Settings
    workout: Workout
    segments: tuple[Segment, ...]
    left_out: tuple[LeftOut, ...] = ()
    low_tenths: int = 0
    high_tenths: int = 0
    shortest_tenths: int = 0
    everything_tenths: int = 0
    pace_note: str = ""
    shown: Order = Order(movements=(), cost_s=0, changes_s=())
    filmed: Order = Order(movements=(), cost_s=0, changes_s=())
    best: Order = Order(movements=(), cost_s=0, changes_s=())
    sheet: Sheet = Sheet()
    problems: tuple[Problem, ...] = ()

    @property
    def tenths(self) -> int:
        """The planned length: the sum of all lines."""
        return sum(s.tenths for s in self.segments)

    @property
    def lines(self) -> tuple[Line, ...]:
        """All lines, in order."""
        return tuple(line for s in self.segments for line in s.lines)
