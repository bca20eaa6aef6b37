"""A workout without special cases: parts, windows of time, stations, cycles, work.

Everything that stands on a board is one of these. `Stations` rotate over the windows of a part; a part that is one
stretch of time has one window and one station.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from briefing.library.models import Movement, Sides
from briefing.problems import Model, Place
from briefing.units import Unit

Goal = Literal["time", "most", "complete", "heaviest", "quality"]
Group = Literal["heavier", "lighter"]
# How a team shares the work: all at once; split as they like; one works at a time; a round each in turn; one works until
# the other is back; a change every so much.
TeamRule = Literal["together", "share", "turns", "rounds", "relay", "swap"]
Scheme = Literal[
    "for-time", "amrap", "every", "intervals", "sets", "build-to-max", "max-reps", "for-quality", "open-ladder"
]


class Amount(Model):
    """How much of something, by round.

    `(20,)` is 20 in every round; `(21, 15, 9)` one number a round; `(2, 4)` with `step=2` goes on 6, 8, …; `most` is
    as many as possible. `at_most` is the upper end of a range (3-5). Whole reps, metres, seconds or calories.
    """

    unit: Unit
    by_round: tuple[int, ...] = ()
    step: int = 0
    most: bool = False
    at_most: int | None = None

    def in_round(self, number: int) -> int:
        """Give the amount of round `number`, counted from 0; 0 where it is "as many as possible"."""
        if not self.by_round:
            return 0
        if number < len(self.by_round):
            return self.by_round[number]
        if self.step:
            return self.by_round[-1] + self.step * (number - len(self.by_round) + 1)
        return self.by_round[-1] if len(self.by_round) == 1 else 0

    @property
    def varies(self) -> bool:
        """Say whether it differs from round to round."""
        return bool(self.step) or len(set(self.by_round)) > 1


class Load(Model):
    """A load as written and in kilos: `two 15 kg dumbbells` is kg 15, count 2."""

    written: str
    kg: float | None = None
    count: int = 1
    percent: float | None = None
    group: Group | None = None


class Work(Model):
    """A line of work: a movement, how much, with what.

    `amounts` has one entry, or two where two groups do different numbers (heavier and lighter); the first is what
    totals count, both sides together. `sides` is how the sides share it. `side_word` is arm, leg or side.
    `loads_by_round` has one load a round where they differ (5 at 60 %, 5 at 70 %). `joined` means that it goes on from
    the line above without putting the weight down (a complex). `effort` is how hard, in the board's words ("easy",
    "RPE 8"); `pace` how fast ("8:00/mi").
    """

    movement: str
    written: str
    sides: Sides = "both"
    sides_written: bool = False
    side_word: str | None = None
    amounts: tuple[Amount, ...] = Field(min_length=1)
    loads: tuple[Load, ...] = ()
    loads_by_round: tuple[Load, ...] = ()
    joined: bool = False
    options: tuple[Option, ...] = ()
    effort: str | None = None
    pace: str | None = None
    tempo: str | None = None
    unbroken: bool = False
    note: str | None = None
    place: Place

    @property
    def amount(self) -> Amount:
        """The amount that totals count."""
        return self.amounts[0]


class Option(Model):
    """Another way to do a line of work.

    `reasons` are those of the fixed list ("no kit"), `written_reasons` the words of the board ("no step").
    """

    work: Work
    reasons: tuple[str, ...] = ()
    written_reasons: tuple[str, ...] = ()


class Rest(Model):
    """A rest that stands among the work; None is "as needed".

    `at_most_s` is the upper end of a range (2-3 min); `doing` is what is done in it, in the board's words ("walk", "jog").
    """

    seconds: int | None = None
    at_most_s: int | None = None
    doing: str | None = None
    place: Place


class Cycle(Model):
    """Work that is gone through `rounds` times (None: until the time is up), with a rest between rounds.

    `any_order` means that the amounts are totals to be split as one likes; `plan_rounds` is how the coach would split
    them. N rounds have N-1 rests between them; `rest_ratio` is a rest as long as the round took, times that number, and
    `rest_after` has rests of their own after certain rounds, counted from 1: `((2, 120),)` rests two minutes after round 2.
    `rest_at_most_s` is the upper end of a rest between rounds that is a range, `rest_doing` what is done in it ("walk").
    `block` says that so many rounds make one set of rounds (2 sets of 4 x 300 m: rounds 8, block 4); the longer rests
    between the sets stand in `rest_after`.
    """

    items: tuple[Work | Rest, ...]
    rounds: int | None = 1
    rest_between_s: int | None = 0
    rest_ratio: float | None = None
    rest_after: tuple[tuple[int, int], ...] = ()
    rest_at_most_s: int | None = None
    rest_doing: str | None = None
    block: int = 0
    any_order: bool = False
    plan_rounds: int | None = None


class Station(Model):
    """What is done in one window: cycles one after the other (a start, the body, a finish). No cycle: off."""

    cycles: tuple[Cycle, ...] = ()


class Windows(Model):
    """Stretches of clock: `count` of them, each `work_s` long (None: no limit) with `gap_s` of rest between.

    After every `turn` of them the rest is `turn_gap_s` instead: between two times through all stations. `gap_doing` is what
    is done in the rest, in the board's words ("easy run").
    """

    count: int = 1
    work_s: int | None = None
    gap_s: int = 0
    turn: int = 0
    turn_gap_s: int = 0
    gap_doing: str | None = None

    def gap_after(self, window: int) -> int:
        """Give the seconds of rest after a window, counted from 1; 0 after the last."""
        if window >= self.count:
            return 0
        return self.turn_gap_s if self.turn and window % self.turn == 0 else self.gap_s

    def start_of(self, window: int) -> int:
        """Give the second at which a window begins, counted from 1; windows without a limit have no such second (0)."""
        before = window - 1
        turns = before // self.turn if self.turn else 0
        return before * (self.work_s or 0) + (before - turns) * self.gap_s + turns * self.turn_gap_s


class Every(Model):
    """Comes every `every_s` seconds, the first time at `from_s`."""

    every_s: int
    from_s: int


class At(Model):
    """Comes at these seconds of the clock."""

    times_s: tuple[int, ...]


class OnBreak(Model):
    """Comes each time the work is put down."""

    phrase: str


class Interrupt(Model):
    """Work that the clock (or a break) forces in between."""

    trigger: Every | At | OnBreak
    works: tuple[Work, ...]
    place: Place


class Part(Model):
    """A part of a workout: stations rotating over windows of time, and what is forced in between.

    `score` is what is written down, None where the board does not say. `carries_on`: the next window starts where the
    last one stopped. `heading` is what the board calls it ("Strength"). `team` is how pairs share it, in the board's
    words; `team_size` how many they are, `team_rule` what that means for the clock, `swap_every` after how much they
    change. `span_s` is the stretch of a common clock that this part has (4:00 to 10:00), `until_missed` says that it
    goes on until a window is too short for its work.
    """

    name: str | None = None
    windows: Windows = Windows()
    stations: tuple[Station, ...] = ()
    goal: Goal = "time"
    sets: bool = False
    interrupts: tuple[Interrupt, ...] = ()
    score: str | None = None
    carries_on: bool = False
    heading: str | None = None
    team: str | None = None
    team_size: int = 1
    team_rule: TeamRule | None = None
    swap_every: Amount | None = None
    target: str | None = None
    rest_after_s: int = 0
    span_s: tuple[int, int] | None = None
    until_missed: bool = False
    place: Place

    @property
    def scheme(self) -> Scheme:
        """The kind of part, derived from its shape."""
        if self.goal == "heaviest":
            return "build-to-max"
        if self.goal == "quality":
            return "for-quality"
        if self.sets:
            return "sets"
        if self.goal == "time":
            return "for-time"
        if self.goal == "complete" and self.windows.gap_s == 0:
            return "every"
        if self.goal == "complete" or self.windows.count > 1:
            return "intervals"
        works = [w for w in self.works if w.amount.most]
        if works and len(self.works) == 1:
            return "max-reps"
        if any(w.amount.step for w in self.works):
            return "open-ladder"
        return "amrap"

    @property
    def cycles(self) -> tuple[Cycle, ...]:
        """All cycles, station by station."""
        return tuple(c for s in self.stations for c in s.cycles)

    @property
    def works(self) -> tuple[Work, ...]:
        """All lines of work, in the board's order, without what interrupts."""
        return tuple(i for c in self.cycles for i in c.items if isinstance(i, Work))

    @property
    def clock_s(self) -> int | None:
        """The whole clock of this part, None without a limit. The last window is followed by no gap."""
        w = self.windows
        return None if w.work_s is None or self.until_missed else w.start_of(w.count) + w.work_s


# More rounds than any board has: an open cycle counts as the longest.
_OPEN = 1 << 60


def planned_rounds(cycle: Cycle) -> int | None:
    """Give how many rounds a cycle is gone through as planned; None until the time is up."""
    split = cycle.plan_rounds or 1 if cycle.any_order else 1
    return None if cycle.rounds is None else cycle.rounds * split


def body_of(part: Part) -> Cycle | None:
    """Give the cycle that one calls the rounds of the part: that with most rounds as planned.

    Of equals, the one in any order, then the one with most lines, then the first: what is done once before or after is
    shorter than the workout. None for a part without work.
    """
    return max(part.cycles, key=lambda c: (planned_rounds(c) or _OPEN, c.any_order, len(c.items)), default=None)


class Workout(Model):
    """A workout as it stands on the board, with the coach's notes below it.

    `warm_up` and `cool_down` are what the board has of them: they go into those videos and into no total. `carried` are the
    movements that no file has as such: one under the name that was written, or a known one with a modifier.
    """

    title: str
    parts: tuple[Part, ...]
    warm_up: tuple[Part, ...] = ()
    cool_down: tuple[Part, ...] = ()
    carried: tuple[Movement, ...] = ()
    notes: str = ""
    file: str

    def letter_of(self, number: int) -> str:
        """Give the name of a part, counted from 0: its own, else A, B, C."""
        return self.parts[number].name or chr(ord("A") + number)

    @property
    def movements(self) -> tuple[str, ...]:
        """The movements of all parts, each once, in the board's order; what interrupts comes last."""
        inside = [w.movement for p in self.parts for w in p.works]
        forced = [w.movement for p in self.parts for i in p.interrupts for w in i.works]
        return tuple(dict.fromkeys([*inside, *forced]))

    @property
    def works(self) -> tuple[Work, ...]:
        """All lines of work of all parts, what interrupts last in its part."""
        out: list[Work] = []
        for part in self.parts:
            out += part.works
            out += [w for i in part.interrupts for w in i.works]
        return tuple(out)


Work.model_rebuild()
