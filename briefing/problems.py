"""What needs attention in a person's file: a frozen value with a place, collected and never raised."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field

Level = Literal["error", "warning", "note"]
T = TypeVar("T")

_ORDER: dict[str, int] = {"error": 0, "warning": 1, "note": 2}


class Model(BaseModel):
    """The manner of every value here: frozen, and a field it does not know is refused."""

    # Schemas are built when a model is first used: a command that checks a board does not wait for those of a deck.
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Place(Model):
    """Where something stands: a file, a line and columns, all counted in characters from 1.

    `end_column` is the column after the last character, so that `end_column - column` is the width.
    """

    file: str | None = None
    line: int = Field(ge=1)
    column: int = Field(default=1, ge=1)
    end_column: int = Field(default=1, ge=1)


class Problem(Model):
    """One thing that needs attention, with its place and, where there is one, what would work."""

    level: Level
    code: str
    message: str
    suggestion: str | None = None
    place: Place | None = None

    def as_json(self) -> dict[str, Any]:
        """Give the promised flat form: `{level, code, message, suggestion, file, line, column, end_column}`."""
        place = self.place
        return {
            "level": self.level,
            "code": self.code,
            "message": self.message,
            "suggestion": self.suggestion,
            "file": place.file if place else None,
            "line": place.line if place else None,
            "column": place.column if place else None,
            "end_column": place.end_column if place else None,
        }


@dataclass(frozen=True)
class Found(Generic[T]):
    """What reading gives: a value (None when nothing usable was there) and all problems."""

    value: T | None
    problems: tuple[Problem, ...] = ()


class Stop(Exception):  # noqa: N818 - it is no error of ours: the road ends here, with the problems as its result
    """The road cannot go on; carries the problems that say why. Caught by the commands, never shown as a traceback."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sort_problems(problems)
        super().__init__("; ".join(p.message for p in self.problems))


def has_errors(problems: Iterable[Problem]) -> bool:
    """Say whether any of them is an error."""
    return any(p.level == "error" for p in problems)


def sort_problems(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Sort by file, place, level and code; the same problem at the same place stands once."""

    def key(p: Problem) -> tuple[str, int, int, int, str, str]:
        place = p.place
        if place is None:
            return ("", 0, 0, _ORDER[p.level], p.code, p.message)
        return (place.file or "", place.line, place.column, _ORDER[p.level], p.code, p.message)

    return tuple(sorted(dict.fromkeys(problems), key=key))


def show_problem(problem: Problem, lines: Sequence[str] | None = None) -> str:
    """Write `file:line:column: error: …`, the line with a caret, then what would work.

    `lines` is the file's text line by line; without it, the line itself is left out.
    """
    place = problem.place
    if place is None:
        head = f"{problem.level}: {problem.message} [{problem.code}]"
    else:
        where = f"{place.file}:" if place.file else ""
        head = f"{where}{place.line}:{place.column}: {problem.level}: {problem.message} [{problem.code}]"
    parts = [head]
    if place and lines and place.line <= len(lines):
        text = lines[place.line - 1]
        if text.strip():
            # A tab or a control character would move the caret; a very long line would hide it.
            shown = "".join(c if c.isprintable() else " " for c in text)
            start = max(0, place.column - 61)
            shown = shown[start : start + 110]
            width = max(1, min(place.end_column - place.column, len(shown) - (place.column - 1 - start)))
            gutter = f"{place.line:>6} | "
            parts += [gutter + shown, " " * 6 + " | " + " " * (place.column - 1 - start) + "^" * width]
    if problem.suggestion:
        parts.append(f"       try: {problem.suggestion}")
    return "\n".join(parts)
