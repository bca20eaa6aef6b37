"""The echo: each line of a board beside what was read from it, so that a coach sees at a glance that it is right."""

from __future__ import annotations

from briefing.problems import Model


class Read(Model):
    """A piece of a line: columns from 1 (`end_column` behind the last character), its words, and what was read from them.

    `read` is None for what was set aside as a remark; `asked` says that a question was raised about it.
    """

    column: int
    end_column: int
    written: str
    read: str | None = None
    asked: bool = False


class ReadLine(Model):
    """A line of the board: its number, as it was written, what was read from it, and its pieces."""

    line: int
    written: str
    read: str
    remarks: tuple[str, ...] = ()
    pieces: tuple[Read, ...] = ()
