"""What needs attention in a person's file: a frozen value with a place, collected and never raised."""

from __future__ import annotations

import re
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


# How what is no mistake begins; a mistake begins with itself.
_LEVELS: dict[Level, str] = {"error": "", "warning": "worth a look: ", "note": "good to know: "}
_SHOWN = 110


# What no document can show: control characters (Unicode category Cc) other than the tab, halves of a character, what is none, and
# what turns the direction of writing, so that a line reads otherwise than it is.
UNPRINTABLE = re.compile(
    r"[\x00-\x08\x0a-\x1f\x7f-\x9f\ud800-\udfff\u202a-\u202e\u2066-\u2069\ufdd0-\ufdef\ufffe\uffff]"
)


def unprintable(value: str) -> str:
    """Name the first character of a value that no document can show ("U+0007"), "" where there is none; a line feed is allowed."""
    found = UNPRINTABLE.search(value.replace("\n", " "))
    return f"U+{ord(found[0]):04X}" if found else ""


def plain(text: str) -> str:
    """Give a text as it can stand in a terminal: what is no sign to be read (escapes, turns of direction) is a `�`."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() or c == "\n" else " " if c.isspace() else "�" for c in text)


def show_problem(problem: Problem, lines: Sequence[str] | None = None, *, codes: bool = False) -> str:
    """Say where something is and what it is, show the line with the place marked, then what would work.

    `lines` is the file's text line by line; without it, the line itself is left out. `codes` adds the code, its level and the
    column, for whoever reports a mistake of ours.

        slack-water.md, line 2: no movement is called "goblet sqaut"

            20 goblet sqaut
               ------------
        What would work: goblet squat
    """
    place = problem.place
    where = f"{place.file}, line {place.line}: " if place and place.file else f"line {place.line}: " if place else ""
    message = f"{where}{_LEVELS[problem.level]}{problem.message}"
    if codes:
        column = f", column {place.column}" if place else ""
        message += f" [{problem.level} {problem.code}{column}]"
    parts = [plain(message)]
    marked = _marked(place, lines) if place and lines and place.line <= len(lines) else ()
    if marked:
        parts += ["", *marked]
    if problem.suggestion:
        parts.append(plain(f"  What would work: {problem.suggestion}"))
    return "\n".join(parts) + ("\n" if marked else "")


def _marked(place: Place, lines: Sequence[str]) -> tuple[str, ...]:
    text = lines[place.line - 1]
    if not text.strip():
        return ()
    # A tab or a control character would move the mark; a very long line would hide it.
    start = max(0, place.column - 61)
    indent = len(text) - len(text.lstrip()) if not start else 0
    start = max(start, min(indent, place.column - 1))
    shown = "".join(c if c.isprintable() else " " for c in text[start : start + _SHOWN])
    at = place.column - 1 - start
    width = max(1, min(place.end_column - place.column, len(shown) - at))
    return (f"      {shown}", "      " + " " * at + "-" * width)
