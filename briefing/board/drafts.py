"""A workout under construction: what the items of its lines have said so far."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from briefing.board.models import Goal, TeamRule
from briefing.board.naming import NameRead
from briefing.board.tokens import LoadWords, Quantity
from briefing.units import Unit

Section = Literal["warm-up", "main", "cool-down"]
Role = Literal["before", "body", "after"]


@dataclass
class LoadDraft:
    """A load of a line: numbers, kit with its count, a percentage. `behind` says that a bare pair stood behind the name."""

    words: LoadWords | None = None
    percent: float | None = None
    percent_written: str | None = None
    count: int = 1
    kit: str | None = None
    start: int = 0
    end: int = 0


@dataclass
class WorkDraft:
    """A line of work as its items have it; columns from 0."""

    line: int
    start: int
    end: int
    name: NameRead
    name_start: int
    name_end: int
    amount: Quantity | None = None
    unit: Unit | None = None
    most: bool = False
    amount_behind: bool = False
    each: bool = False
    side_word: str | None = None
    own_side: Quantity | None = None
    alternating: bool = False
    total: bool = False
    load: LoadDraft | None = None
    by_round: list[tuple[Quantity | None, LoadDraft | None, bool]] = field(default_factory=list)
    tempo: str | None = None
    efforts: list[str] = field(default_factory=list)
    pace: str | None = None
    unbroken: bool = False
    notes: list[str] = field(default_factory=list)
    options: list[tuple[WorkDraft, tuple[str, ...], tuple[str, ...]]] = field(default_factory=list)
    label: str | None = None
    joined: bool = False
    chain: int = 0
    after_each: bool = False
    remaining: bool = False
    one_side: str | None = None
    placed: bool = False
    stated: Quantity | None = None

    @property
    def bare(self) -> bool:
        """Say whether it has a name and nothing yet of how much."""
        return self.amount is None and not self.most and not self.by_round

    def again(self, line: int, start: int, end: int, amount: Quantity | None) -> WorkDraft:
        """Give the same movement with another amount, as it stands at a place; None is as many as possible."""
        return WorkDraft(
            line, start, end, self.name, self.name_start, self.name_end, amount=amount, most=amount is None
        )


@dataclass
class RestDraft:
    """A rest among the work; seconds None: as needed."""

    line: int
    seconds: int | None = None
    at_most_s: int | None = None
    doing: str | None = None
    label: str | None = None
    off: bool = False


@dataclass
class CycleDraft:
    """Work that is gone through together."""

    role: Role = "body"
    entries: list[WorkDraft | RestDraft] = field(default_factory=list)
    rounds: int | None = None
    numbers: Quantity | None = None
    rest_between_s: int | None = 0
    rest_at_most_s: int | None = None
    rest_doing: str | None = None
    rest_ratio: float | None = None
    rest_after: list[tuple[int, int]] = field(default_factory=list)
    rest_said: bool = False
    block: int = 0
    block_rest_s: int = 0
    any_order: bool = False
    plan_rounds: int | None = None

    @property
    def works(self) -> list[WorkDraft]:
        """Its lines of work."""
        return [e for e in self.entries if isinstance(e, WorkDraft)]


@dataclass
class InterruptDraft:
    """Work that the clock or a break forces in: every so often, at times, or on a break (`phrase`)."""

    line: int
    start: int
    every_s: int | None = None
    from_s: int | None = None
    times_s: tuple[int, ...] = ()
    phrase: str | None = None
    works: list[WorkDraft] = field(default_factory=list)


@dataclass
class Said:
    """That a form of some kind stands in a part, and where."""

    line: int
    start: int
    end: int
    written: str


@dataclass
class PartDraft:
    """A part under construction."""

    line: int
    section: Section = "main"
    name: str | None = None
    heading: str | None = None
    goal: Goal | None = None
    sets: bool = False
    open_rounds: bool = False
    climb: bool = False
    cap_s: int | None = None
    window_s: int | None = None
    gap_s: int = 0
    gap_doing: str | None = None
    work_how: str | None = None
    windows: int | None = None
    total_s: int | None = None
    intervals: bool = False
    max_reps: bool = False
    until_missed: bool = False
    span_s: tuple[int, int] | None = None
    carries_on: bool = False
    team: list[str] = field(default_factory=list)
    team_size: int = 1
    team_rule: TeamRule | None = None
    swap: Quantity | None = None
    target: str | None = None
    score: str | None = None
    rest_after_s: int = 0
    stations_said: int | None = None
    superset: bool = False
    complex: bool = False
    load: LoadDraft | None = None
    cycles: list[CycleDraft] = field(default_factory=lambda: [CycleDraft()])
    interrupts_drafted: list[InterruptDraft] = field(default_factory=list)
    letter: str | None = None
    stated_s: int | None = None
    stated_at: tuple[int, int, int] | None = None
    window_said: bool = False
    one_number: bool = False
    listed: bool = False
    each_side: str | None = None
    rounds_said: int | None = None
    pending_s: int | None = None
    pending_at: tuple[int, int, int] | None = None
    alternating: bool = False
    rounds_through: int | None = None
    rest_parts: bool = False
    complex_counts: tuple[int, ...] = ()
    said: dict[str, Said] = field(default_factory=dict)
    broken: bool = False
    after_each: list[WorkDraft] = field(default_factory=list)

    @property
    def body(self) -> CycleDraft:
        """The cycle that lines go into now."""
        return self.cycles[-1]

    @property
    def has_work(self) -> bool:
        """Say whether a line of work stands in it."""
        return any(c.works for c in self.cycles) or bool(self.after_each)

    @property
    def works(self) -> list[WorkDraft]:
        """All its lines of work."""
        return [w for c in self.cycles for w in c.works] + self.after_each
