"""The promised JSON of `briefing board FILE --json`: the workout as it was understood, and the echo with its columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from briefing.board.models import Cycle, Part, Rest, Work, Workout
from briefing.board.reading import BoardReading
from briefing.board.totals import add_up
from briefing.library.models import Movement
from briefing.problems import Model, Problem, has_errors
from briefing.telling.echo import EchoLine, echo
from briefing.write.promised import (
    InterruptJson,
    LoadJson,
    PartJson,
    ProblemJson,
    TotalJson,
    WorkJson,
    load_json,
    part_json,
    problems_json,
    work_json,
)


class BoardWorkJson(WorkJson):
    """A line of work with the name of its movement; `loads_by_round` has one load a round where they differ."""

    name: str
    loads_by_round: tuple[LoadJson, ...] = ()
    joined: bool = False


class BoardInterruptJson(InterruptJson):
    """What is forced in, with names."""

    work: tuple[BoardWorkJson, ...]


class BoardPartJson(PartJson):
    """A part with its section and heading; `clock_s` also where holds and rests alone make it."""

    section: Literal["warm-up", "main", "cool-down"]
    heading: str | None
    work: tuple[BoardWorkJson, ...]
    interrupts: tuple[BoardInterruptJson, ...]


class BoardTotalJson(TotalJson):
    """A total with the name of its movement and the section it stands in: the workout's own totals are those of "main"."""

    name: str
    section: Literal["warm-up", "main", "cool-down"]


class UnreadJson(Model):
    """A piece of the board that was set aside and asked about; columns from 1."""

    line: int
    column: int
    end_column: int
    written: str


class BoardJson(Model):
    """What `briefing board FILE --json` prints. `asked` are the questions among the problems."""

    version: Literal[1] = 1
    title: str
    text: str
    clock_s: int | None
    parts: tuple[BoardPartJson, ...]
    totals: tuple[BoardTotalJson, ...]
    read: tuple[EchoLine, ...]
    unread: tuple[UnreadJson, ...]
    asked: tuple[ProblemJson, ...]
    problems: tuple[ProblemJson, ...]


def board_json(
    workout: Workout, text: str, reading: BoardReading, movements: Mapping[str, Movement], problems: tuple[Problem, ...]
) -> BoardJson:
    """Give the reading of a board; `movements` has every movement that stands on it."""
    sections: tuple[tuple[Literal["warm-up", "main", "cool-down"], tuple[Part, ...]], ...] = (
        ("warm-up", workout.warm_up),
        ("main", workout.parts),
        ("cool-down", workout.cool_down),
    )
    lines = echo(reading.lines, movements)
    return BoardJson(
        title=workout.title,
        text=text,
        clock_s=whole_clock_s(workout),
        parts=tuple(_part(p, section, movements) for section, parts in sections for p in parts),
        totals=tuple(
            BoardTotalJson(
                movement=t.movement,
                quantity=t.quantity,
                unit=t.unit,
                per_side=t.per_side,
                name=movements[t.movement].name,
                section=section,
            )
            for section, parts in (sections[1], sections[0], sections[2])
            for t in add_up(Workout(title=workout.title, parts=parts, file=workout.file))
        ),
        read=lines,
        unread=tuple(
            UnreadJson(line=line.line, column=p.column, end_column=p.end_column, written=p.written)
            for line in lines
            for p in line.pieces
            if p.asked and p.read is None
        ),
        asked=problems_json(tuple(p for p in reading.problems if p.level == "warning")).problems,
        problems=problems_json(problems).problems,
    )


def whole_clock_s(workout: Workout) -> int | None:
    """Give the clock of the whole workout in seconds, rests between parts included; None where a part has no such time."""
    clocks = [fixed_s(p) for p in workout.parts]
    if not clocks or any(c is None for c in clocks):
        return None
    return sum(c or 0 for c in clocks) + sum(p.rest_after_s for p in workout.parts[:-1])


def fixed_s(part: Part) -> int | None:
    """Give the seconds of a part that the board decides: its clock, or holds and rests alone. None where people decide."""
    if part.clock_s is not None:
        return part.clock_s
    if part.goal not in {"time", "quality", "complete"} or part.until_missed:
        return None
    seconds = [_cycle_s(c) for s in part.stations for c in s.cycles]
    return None if not seconds or any(s is None for s in seconds) else sum(s or 0 for s in seconds)


def _cycle_s(cycle: Cycle) -> int | None:
    if cycle.rounds is None or cycle.rest_between_s is None or cycle.rest_ratio:
        return None
    total = 0
    for number in range(cycle.rounds):
        for item in cycle.items:
            if isinstance(item, Rest):
                if item.seconds is None:
                    return None
                total += item.seconds
            elif item.amount.unit != "s" or not item.amount.by_round:
                return None
            else:
                total += item.amount.in_round(number)
    rests = dict(cycle.rest_after)
    return total + sum(rests.get(n, cycle.rest_between_s) for n in range(1, cycle.rounds))


def _part(
    part: Part, section: Literal["warm-up", "main", "cool-down"], movements: Mapping[str, Movement]
) -> BoardPartJson:
    plain = part_json(part)
    return BoardPartJson(
        **{
            **dict(plain),
            "clock_s": fixed_s(part),
            "section": section,
            "heading": part.heading,
            "work": tuple(_work(w, movements) for w in part.works),
            "interrupts": tuple(
                BoardInterruptJson(**{**dict(i), "work": tuple(_work(w, movements) for w in forced.works)})
                for i, forced in zip(plain.interrupts, part.interrupts, strict=True)
            ),
        }
    )


def _work(work: Work, movements: Mapping[str, Movement]) -> BoardWorkJson:
    return BoardWorkJson(
        **{
            **dict(work_json(work)),
            "name": movements[work.movement].name,
            "loads_by_round": tuple(load_json(x) for x in work.loads_by_round),
            "joined": work.joined,
        }
    )


def problems_only(
    problems: tuple[Problem, ...], reading: BoardReading | None, movements: Mapping[str, Movement]
) -> dict[str, object]:
    """Give what is printed where errors leave no workout: the problems, and the echo as far as it goes."""
    out: dict[str, object] = {
        "version": 1,
        "problems": [p.model_dump(mode="json") for p in problems_json(problems).problems],
    }
    if reading is not None and has_errors(problems):
        out["read"] = [line.model_dump(mode="json") for line in echo(reading.lines, movements)]
    return out
