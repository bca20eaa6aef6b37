"""A board that speaks of another one: `as wk1, +1 round, rest :10 less` is that board with the changes worked in."""

from __future__ import annotations

import re
from collections.abc import Callable

from briefing.board.models import Cycle, Part, Station, Workout, body_of
from briefing.units import read_clock

T = r"(?:\d{0,3}:\d{2}(?::\d{2})?|\d{1,4}\s*(?:minutes?|mins?|min\b|m\b|'|seconds?|secs?|sec\b|s\b|\"))"


class CannotRead(ValueError):  # noqa: N818 - not an error of the program: the reader makes a problem of it
    """A change has the shape of one, but a value in it is not usable; `at` is the value."""

    def __init__(self, code: str, message: str, suggestion: str | None, at: str) -> None:
        super().__init__(message)
        self.code, self.message, self.suggestion, self.at = code, message, suggestion, at


def seconds(words: str) -> int:
    """Read a time, or say that it is none."""
    value = read_clock(words)
    if value is None:
        raise CannotRead("time-unreadable", f'"{words.strip()}" is not a time', None, words.strip())
    return value


REFERS = re.compile(
    r"\s*(?:[\w -]+?\s*:\s*)?(?:the\s+)?(?:same\s+)?as\s+"
    r"(?!many\b|much\b|long\b|fast\b|far\b|need|nec)(?P<name>\w[\w -]*?)\s*(?:,\s*(?P<changes>.+))?",
    re.IGNORECASE,
)
_ROUNDS = re.compile(r"(?P<sign>[+-])\s*(?P<n>\d{1,2})\s*(?:rounds?|rds?|sets?)", re.IGNORECASE)
_REST = re.compile(rf"rest\s+(?P<t>{T})(?:\s+(?P<way>less|shorter|more|longer))?", re.IGNORECASE)
_CAP = re.compile(rf"(?:cap|tc)\s+(?P<t>{T})", re.IGNORECASE)


def refers_to(line: str) -> tuple[str, tuple[str, ...]] | None:
    """Give the board that a line speaks of and the changes to it; None where it speaks of none."""
    match = REFERS.fullmatch(line.rstrip(" ."))
    if match is None:
        return None
    return match["name"], tuple(c.strip() for c in re.split(r",(?!\d)", match["changes"] or "") if c.strip())


def with_changes(workout: Workout, changes: tuple[str, ...]) -> tuple[Part, ...]:
    """Work changes into every part that has what they change. Raises CannotRead for a change that fits none."""
    parts = workout.parts
    for change in changes:
        changed = tuple(_changed(part, change) for part in parts)
        if changed == parts:
            raise CannotRead(
                "change-unread", f'"{change}" changes nothing there', "+1 round, or rest 0:10 less", change
            )
        parts = changed
    return parts


def _changed(part: Part, change: str) -> Part:
    rounds, rest, cap = (p.fullmatch(change) for p in (_ROUNDS, _REST, _CAP))
    if rounds:
        more = int(rounds["n"]) * (1 if rounds["sign"] == "+" else -1)
        if part.windows.count > 1:
            count = part.windows.count + more * max(1, len(part.stations))
            return part.model_copy(
                update={"windows": part.windows.model_copy(update={"count": _positive(count, change)})}
            )
        return _with_body(part, lambda c: c.model_copy(update={"rounds": _positive((c.rounds or 0) + more, change)}))
    if rest:
        by = seconds(rest["t"])
        sign = {"less": -1, "shorter": -1, "more": 1, "longer": 1}.get((rest["way"] or "").lower(), 0)

        def slower(cycle: Cycle) -> Cycle:
            before = cycle.rest_between_s or 0
            after = by if not sign else before + sign * by
            return cycle.model_copy(update={"rest_between_s": _positive(after, change)})

        return _with_body(part, slower)
    if cap and part.goal == "time":
        return part.model_copy(update={"windows": part.windows.model_copy(update={"work_s": seconds(cap["t"])})})
    return part


def _with_body(part: Part, change: Callable[[Cycle], Cycle]) -> Part:
    """Change the cycle that is gone through in rounds; a part without one stays as it is."""
    body = body_of(part)
    if body is None or not body.rounds or body.rounds < 2:
        return part
    stations = tuple(
        Station(cycles=tuple(change(c) if c is body else c for c in station.cycles)) for station in part.stations
    )
    return part.model_copy(update={"stations": stations})


def _positive(value: int, change: str) -> int:
    if value < 1:
        raise CannotRead("number-zero", f'"{change}" leaves nothing', "a smaller change", change)
    return value
