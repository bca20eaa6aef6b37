"""Breaking a phrase into rows that fit: at phrases, never inside `10 each leg` or between a number and its unit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from briefing.units import ALL_SIDE_NAMES
from briefing.write.type import ARROW, width_em

_NUMBER = re.compile(r"[(“\"]?\d[\d.,:–/-]*\+?")
_UNITS = frozenset({
    "m", "s", "kg", "lb", "cal", "km", "min", "cm", "in", "ft", "yd", "mi", "rep", "reps", "round", "rounds", "times",
    "minutes", "minute", "seconds", "second", "meters", "meter", "kilos", "pounds", "%", "percent", "each",
})  # fmt: skip
_SIDES = ALL_SIDE_NAMES | {f"{name}s" for name in ALL_SIDE_NAMES} | {"way", "knee", "shoulder"}
# Words that want to stand with what follows them; a row that ends in one reads badly.
_LEANING = frozenset({
    "a", "an", "the", "to", "of", "your", "with", "no", "or", "and", "on", "in", "at", "by", "for", "from", "every", "if",
    "you", "each", "then", "than", "not", "is",
})  # fmt: skip
_DOT = "·"

# Costs of a break, beside the squared slack of a row in ems; our choice, tried on the cards of the demo.
_LEANING_COST = 9.0
_PLAIN_COST = 4.0


def pieces_of(text: str, *, tight: bool = False) -> tuple[str, ...]:
    """Cut a text into the pieces between which a row may end.

    `10 each leg`, `200 m`, `2 × 15 kg` and `→ stop` are one piece each; with `tight` a number also stays with the word
    that it counts (`12 push-ups`).
    """
    pieces: list[str] = []
    for word in text.split():
        if pieces and _held(pieces[-1].split(), word, tight=tight):
            pieces[-1] += f" {word}"
        else:
            pieces.append(word)
    return tuple(pieces)


def _held(before: Sequence[str], word: str, *, tight: bool) -> bool:
    last = before[-1]
    if last in {"×", "x", ARROW, "/", "+"} or word in {"×", "x", "/"}:
        return True
    if last == "each" and word.strip(".,;:") in _SIDES:
        return True
    if last.lower() in {"first", "every"} and _NUMBER.fullmatch(word.rstrip(",:;")):
        return tight
    if _NUMBER.fullmatch(last):
        return tight or word.strip(".,;:") in _UNITS
    return False


def widest_piece_em(text: str, *, bold: bool = False) -> float:
    """Give how wide a row must be at least for a text: its widest piece that is never broken."""
    return max((width_em(p, bold=bold) for p in pieces_of(text)), default=0.0)


@cache
def break_rows(text: str, room_em: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text into as few rows as fit `room_em`, at the best places; a row never ends or begins with a dot.

    `break_rows("whole foot on", 5)` is `("whole", "foot on")`. Only where one word alone is wider than the room is it
    broken inside: at a hyphen, else where the row is full.
    """
    pieces = [p for piece in pieces_of(text, tight=True) for p in _fitting(piece, room_em, bold=bold)]
    if not pieces:
        return ()
    count = len(pieces)
    best: list[tuple[int, float, int]] = [(0, 0.0, count)] * (count + 1)
    for start in range(count - 1, -1, -1):
        found: tuple[int, float, int] | None = None
        for end in range(start + 1, count + 1):
            row = _row(pieces[start:end])
            slack = room_em - width_em(row, bold=bold)
            if slack < -1e-9 and end > start + 1:
                break
            rows, cost, _ = best[end]
            here = (rows + 1, cost + slack * slack * 0.15 + _break_cost(pieces, end), end)
            if found is None or here < found:
                found = here
        best[start] = found or (1, 0.0, count)
    out, at = [], 0
    while at < count:
        end = best[at][2]
        out.append(_row(pieces[at:end]))
        at = end
    return tuple(row for row in out if row)


def _row(pieces: Sequence[str]) -> str:
    return " ".join(pieces).strip(f" {_DOT}")


def _break_cost(pieces: Sequence[str], end: int) -> float:
    if end == len(pieces):
        return 0.0
    last = pieces[end - 1].split()[-1]
    if pieces[end] == _DOT or last == _DOT or last[-1] in ",;:.?!—–" or pieces[end].startswith((ARROW, "—", "+", "(")):
        return 0.0
    return _LEANING_COST if last.lower() in _LEANING or _NUMBER.fullmatch(last) else _PLAIN_COST


def _fitting(piece: str, room_em: float, *, bold: bool) -> list[str]:
    """Loosen a piece that is wider than the room: first a number from what it counts, last of all inside a word."""
    if width_em(piece, bold=bold) <= room_em:
        return [piece]
    loose = pieces_of(piece)
    if len(loose) > 1:
        return [p for x in loose for p in _fitting(x, room_em, bold=bold)]
    words = piece.split()
    if len(words) > 1:
        return [p for x in words for p in _fitting(x, room_em, bold=bold)]
    head, hyphen, rest = piece.partition("-")
    if hyphen and rest and width_em(head + hyphen, bold=bold) <= room_em:
        return [head + hyphen, *_fitting(rest, room_em, bold=bold)]
    at = len(piece)
    while at > 1 and width_em(piece[:at], bold=bold) > room_em:
        at -= 1
    return [piece] if at >= len(piece) else [piece[:at], *_fitting(piece[at:], room_em, bold=bold)]
