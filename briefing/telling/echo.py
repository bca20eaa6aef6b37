"""The echo in words: what was read from each line of a board, beside the line as it was written."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.echo import ReadLine, ReadPiece
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.telling.notation import NORMAL, work_board


class EchoPiece(Model):
    """A piece of a line: columns from 1 (`end_column` behind its last character), its words, and what was read from it.

    `read` is None for what was set aside as a remark; `asked` says that a question was raised about it.
    """

    column: int
    end_column: int
    written: str
    read: str | None = None
    asked: bool = False


class EchoLine(Model):
    """A line of the board: its number, as it was written, what was read from it, and what was set aside."""

    line: int
    written: str
    read: str
    remarks: tuple[str, ...] = ()
    pieces: tuple[EchoPiece, ...] = ()


def echo(lines: tuple[ReadLine, ...], movements: Mapping[str, Movement]) -> tuple[EchoLine, ...]:
    """Give the echo of a board's lines; `movements` gives the names."""
    return tuple(_line(line, movements) for line in lines)


def _line(line: ReadLine, movements: Mapping[str, Movement]) -> EchoLine:
    told: list[str] = []
    label = ""
    for piece in line.pieces:
        words = _words(piece, movements)
        if piece.remark or not words:
            continue
        if piece.label:
            label += f"{words} "
        elif piece.behind and told:
            told[-1] += f" {words}"
        elif words not in told[-1:]:
            told.append(label + words)
            label = ""
    return EchoLine(
        line=line.number,
        written=line.written,
        read=", ".join([*told, *([label.strip()] if label else [])]),
        remarks=tuple(p.written for p in line.pieces if p.remark),
        pieces=tuple(_piece(p, movements) for p in line.pieces),
    )


def _piece(piece: ReadPiece, movements: Mapping[str, Movement]) -> EchoPiece:
    words = None if piece.remark else _words(piece, movements) or piece.written
    return EchoPiece(
        column=piece.start + 1, end_column=piece.end + 1, written=piece.written, read=words, asked=piece.asked
    )


def _words(piece: ReadPiece, movements: Mapping[str, Movement]) -> str | None:
    work = piece.work
    if work is None:
        return piece.told
    return work_board(work, movements, NORMAL, own=work.amount.varies and not work.loads_by_round)
