"""The echo: each line of a board beside what was read from it, so that a coach sees at a glance that it is right.

Here are its pieces as the reader has them; their words are made where a workout is told (`telling/echo.py`).
"""

from __future__ import annotations

from dataclasses import dataclass

from briefing.board.models import Work


@dataclass(frozen=True)
class ReadPiece:
    """A piece of a line: columns from 0, its words, and what was read from it: a line of work, or `told`.

    A `label` belongs to what stands behind it, a bracket (`behind`) to what stands in front of it.

    Both are None for what was set aside as a remark; `asked` says that a question was raised about it.
    """

    start: int
    end: int
    written: str
    work: Work | None = None
    told: str | None = None
    remark: bool = False
    label: bool = False
    behind: bool = False
    asked: bool = False


@dataclass(frozen=True)
class ReadLine:
    """A line of the board: its number, how it was written, and its pieces in order."""

    number: int
    written: str
    pieces: tuple[ReadPiece, ...] = ()
