"""The promised JSON of `briefing outline FILE --json`, as models from which its JSON Schema is written."""

from __future__ import annotations

import json
from typing import Any, Literal

from briefing.board.models import At, Every, Load, OnBreak, Part, Work, Workout, body_of
from briefing.board.totals import add_up, per_side, rounds_of
from briefing.clock.answer import Clock
from briefing.outline.models import Line, Outline, Segment
from briefing.problems import Level, Model, Problem
from briefing.units import PEOPLE, Person, Unit

Number = int | float


class LoadJson(Model):
    """A load: `group` is heavier, lighter or null."""

    group: str | None
    count: int
    written: str
    kg: float | None


class OptionJson(Model):
    """Another way to do a line; `quantity` as it stands on the board, both sides together."""

    movement: str
    quantity: Number | None
    unit: Unit
    per_side: Number | None
    reasons: tuple[str, ...]


class WorkJson(Model):
    """A line of work, per round as it stands on the board; `quantity` is null where it varies (`by_round`) or is open."""

    movement: str
    quantity: Number | None
    unit: Unit
    per_side: Number | None
    by_round: tuple[int, ...]
    loads: tuple[LoadJson, ...]
    options: tuple[OptionJson, ...]


class InterruptJson(Model):
    """What is forced in: every so many seconds from a first time; `at_s` where single times are given."""

    every_s: int | None
    from_s: int | None
    at_s: tuple[int, ...]
    work: tuple[WorkJson, ...]


class PartJson(Model):
    """A part; `rounds` is null when open, `cap_s` null without a cap or time."""

    name: str | None
    scheme: str
    cap_s: int | None
    clock_s: int | None
    rounds: int | None
    plan_rounds: int | None
    rest_between_s: int | None
    score: str | None
    work: tuple[WorkJson, ...]
    interrupts: tuple[InterruptJson, ...]


class TotalJson(Model):
    """A total over all rounds, both sides together."""

    movement: str
    quantity: Number
    unit: Unit
    per_side: Number | None


class WorkoutJson(Model):
    """The workout as it was understood."""

    parts: tuple[PartJson, ...]
    totals: tuple[TotalJson, ...]
    interrupt_totals: dict[Person, tuple[TotalJson, ...]]


class LineJson(Model):
    """A line; `text` is what is said, `seconds` has one decimal."""

    id: str
    kind: str
    movement: str | None
    must: bool
    text: str
    card: str
    seconds: float
    source: str


class LeftOutJson(LineJson):
    """A line that is not said, with the reason."""

    why: str


class SegmentJson(Model):
    """A segment on the planned clock."""

    kind: str
    title: str
    start_s: float
    seconds: float
    low_s: float
    high_s: float
    lines: tuple[LineJson, ...]


class ProblemJson(Model):
    """A problem, flat."""

    level: Level
    code: str
    message: str
    suggestion: str | None
    file: str | None
    line: int | None
    column: int | None
    end_column: int | None


class OutlineJson(Model):
    """What `briefing outline FILE --json` prints."""

    version: Literal[1] = 1
    title: str
    video: str | None
    target_s: int | None
    planned_s: float
    low_s: float
    high_s: float
    workout: WorkoutJson
    segments: tuple[SegmentJson, ...]
    left_out: tuple[LeftOutJson, ...]
    problems: tuple[ProblemJson, ...]


class ProblemsJson(Model):
    """What every command with `--json` prints where a file has errors."""

    version: Literal[1] = 1
    problems: tuple[ProblemJson, ...]


def outline_json(outline: Outline, clock: Clock) -> OutlineJson:
    """Give an outline in the promised form."""
    workout = outline.workout
    return OutlineJson(
        title=outline.title,
        video=outline.video,
        target_s=outline.length.seconds if outline.length else None,
        planned_s=outline.tenths / 10,
        low_s=outline.low_tenths / 10,
        high_s=outline.high_tenths / 10,
        workout=WorkoutJson(
            parts=tuple(part_json(p) for p in workout.parts),
            totals=_totals(workout),
            interrupt_totals={
                who: tuple(
                    TotalJson(movement=t.movement, quantity=t.quantity, unit=t.unit, per_side=t.per_side)
                    for t in clock.of(who).interrupt_totals
                )
                for who in PEOPLE
            },
        ),
        segments=tuple(_segment(s) for s in outline.segments),
        left_out=tuple(LeftOutJson(**_line(x.line).model_dump(), why=x.why) for x in outline.left_out),
        problems=problems_json(outline.problems).problems,
    )


class PersonJson(Model):
    """How the workout goes for one kind of person; `finish_s` is null where a cap stops them or the clock decides."""

    person: Person
    finished: bool
    finish_s: float | None
    end_s: float
    score: str
    rounds: tuple[int, ...]
    interrupts: int
    interrupt_totals: tuple[TotalJson, ...]


class ClockJson(Model):
    """What `briefing clock FILE --json` prints; `not_timed` has the movements whose time nobody knows."""

    version: Literal[1] = 1
    title: str
    people: tuple[PersonJson, ...]
    not_timed: tuple[str, ...] = ()
    problems: tuple[ProblemJson, ...]


def clock_json(workout: Workout, clock: Clock, problems: tuple[Problem, ...]) -> ClockJson:
    """Give the clock's answers."""
    return ClockJson(
        title=workout.title,
        people=tuple(
            PersonJson(
                person=p.person,
                finished=p.finished,
                finish_s=None if p.finish_s is None else round(p.finish_s, 1),
                end_s=round(p.end_s, 1),
                score=p.score,
                rounds=tuple(x.rounds_done for x in p.parts),
                interrupts=p.interrupts,
                interrupt_totals=tuple(
                    TotalJson(movement=t.movement, quantity=t.quantity, unit=t.unit, per_side=t.per_side)
                    for t in p.interrupt_totals
                ),
            )
            for p in clock.people
        ),
        not_timed=clock.untimed,
        problems=problems_json(problems).problems,
    )


def _totals(workout: Workout) -> tuple[TotalJson, ...]:
    return tuple(
        TotalJson(movement=t.movement, quantity=t.quantity, unit=t.unit, per_side=t.per_side) for t in add_up(workout)
    )


def problems_json(problems: tuple[Problem, ...]) -> ProblemsJson:
    """Give problems in the promised form."""
    return ProblemsJson(problems=tuple(ProblemJson(**p.as_json()) for p in problems))


def schema() -> dict[str, Any]:
    """Give the JSON Schema of the promised form."""
    return OutlineJson.model_json_schema(mode="serialization")


def schema_text() -> str:
    """Give the schema as the file that travels in the package."""
    return json.dumps(schema(), indent=1, sort_keys=True) + "\n"


def part_json(part: Part) -> PartJson:
    """Give a part in the promised form."""
    body = body_of(part)
    timed = part.goal in {"time", "most", "quality"} and part.windows.count == 1
    return PartJson(
        name=part.name,
        scheme=part.scheme,
        cap_s=part.windows.work_s if timed else None,
        clock_s=part.clock_s,
        rounds=rounds_of(part),
        plan_rounds=body.plan_rounds if body else None,
        rest_between_s=body.rest_between_s if body else None,
        score=part.score,
        work=tuple(work_json(w) for w in part.works),
        interrupts=tuple(
            InterruptJson(
                every_s=i.trigger.every_s if isinstance(i.trigger, Every) else None,
                from_s=i.trigger.from_s if isinstance(i.trigger, Every) else None,
                at_s=i.trigger.times_s if isinstance(i.trigger, At) else (),
                work=tuple(work_json(w) for w in i.works),
            )
            for i in part.interrupts
            if not isinstance(i.trigger, OnBreak) or i.works
        ),
    )


def _quantity(work: Work) -> int | None:
    return None if work.amount.most or work.amount.varies or not work.amount.by_round else work.amount.in_round(0)


def work_json(work: Work) -> WorkJson:
    """Give a line of work in the promised form."""
    quantity = _quantity(work)
    return WorkJson(
        movement=work.movement,
        quantity=quantity,
        unit=work.amount.unit,
        per_side=None if quantity is None else per_side(work, quantity),
        by_round=work.amount.by_round,
        loads=tuple(load_json(x) for x in work.loads),
        options=tuple(
            OptionJson(
                movement=o.work.movement,
                quantity=_quantity(o.work),
                unit=o.work.amount.unit,
                per_side=None if _quantity(o.work) is None else per_side(o.work, _quantity(o.work) or 0),
                reasons=o.reasons,
            )
            for o in work.options
        ),
    )


def load_json(load: Load) -> LoadJson:
    """Give a load in the promised form."""
    return LoadJson(group=load.group, count=load.count, written=load.written, kg=load.kg)


def _line(line: Line) -> LineJson:
    return LineJson(
        id=line.id,
        kind=line.kind,
        movement=line.movement,
        must=line.must,
        text=line.text,
        card=line.card,
        seconds=line.tenths / 10,
        source=line.source,
    )


def _segment(segment: Segment) -> SegmentJson:
    return SegmentJson(
        kind=segment.kind,
        title=segment.title,
        start_s=segment.start_tenths / 10,
        seconds=segment.tenths / 10,
        low_s=segment.low_tenths / 10,
        high_s=segment.high_tenths / 10,
        lines=tuple(_line(x) for x in segment.lines),
    )
