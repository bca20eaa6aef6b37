"""From the items of all lines to parts: what attaches to what, where a part begins, what is done once, in between, instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from briefing.board.cover import Reading, cover, name_of
from briefing.board.heads import Heads
from briefing.board.items import Item
from briefing.board.state import (
    HANDLERS,
    HEADS,
    SPAN,
    WORKS,
    LineDraft,
    Piece,
    moment,
)
from briefing.board.vocabulary import VENUES
from briefing.units import write_clock


class Assembler(Heads):
    """Puts the items of a board's lines together, in their order."""

    def read(self, lines: Sequence[tuple[int, str, bool]]) -> None:
        """Read lines (number, text, whether a blank line stands before it)."""
        for number, text, blank in lines:
            self.lines.append(LineDraft(number, text, cover(text, self.naming), blank))
        for index in range(len(self.lines)):
            self._line(index)
        self._close()

    def _line(self, index: int) -> None:
        line = self.lines[index]
        self.at = index
        self._fresh_line()
        if self.interrupt is not None:
            self.interrupt = None
        if line.blank_before:
            self.collect = None
        if line.blank_before and self.section != "main" and self.part is not None and self.part.has_work:
            self._close()
            self.section = "main"
        if self._first_words(index) or self._span(line):
            return
        for position in range(len(line.reading.items)):
            item = line.reading.items[position]  # a bracket with reasons changes what stands behind it
            self.here = position
            handler: Callable[[Item], bool | None] = getattr(self, HANDLERS.get(item.kind, f"_{item.kind}"))
            piece = Piece(item.start, item.end, item.kind)
            line.pieces.append(piece)
            self.piece = piece
            if handler(item) is False:
                self._unread(item, piece)

    def _first_words(self, index: int) -> bool:
        """Read a title: a line of words alone in front of everything else, or one with `#` in front of it."""
        line = self.lines[index]
        if self.part is not None or self.done or self.title is not None:
            return False
        items = [i for i in line.reading.items if i.kind != "joiner"]
        named = re.match(r"\s*(?:title|name)\s*:\s*(?P<t>\S.*)$", line.text, re.IGNORECASE)
        if named:
            return self._take_title(line, named["t"].strip())
        if not items or (re.search(r"\d", line.text) and not line.text.lstrip().startswith("# ")):
            return False
        words = all(
            i.kind in {"remark", "filler", "note", "kit", "manner", "how_hard"}
            or (i.kind == "work" and i.get("a") is None)
            for i in items
        )
        names = [n for i in items if (n := name_of(i)) is not None]
        if line.text.lstrip().startswith("# ") and not any(
            i.kind in HEADS or (i.kind in WORKS and i.get("a") is not None) for i in items
        ):
            return self._take_title(line, line.text.lstrip(" #").strip())
        for i in items:
            word = line.text[i.start : i.end].strip().lower()
            venue = next((VENUES[w] for w in word.split() if w in VENUES), None)
            if venue is not None and i.kind in {"work", "remark", "heading", "note"}:
                self.venue = venue
        carried_only = bool(names) and all(n.slug is None for n in names)
        if not words or index + 1 >= len(self.lines) or not (carried_only or not names):
            return False
        if all(i.kind == "filler" for i in items):
            return False
        return self._take_title(line, line.text.strip(" *#-:"))

    def _take_title(self, line: LineDraft, title: str) -> bool:
        self.title = title
        start = len(line.text) - len(line.text.lstrip())
        line.pieces.append(Piece(start, len(line.text.rstrip()), "title", f"title: {title}"))
        return True

    def _span(self, line: LineDraft) -> bool:
        """Read `4:00-10:00: …`: a stretch of one clock; the first begins at 0, every other where the one before ended."""
        match = SPAN.match(line.text)
        if match is None:
            return False
        a, b = moment(match["a"]), moment(match["b"])
        clocks = ":" in match["a"] and ":" in match["b"]
        if (
            a is None
            or b is None
            or a >= b
            or not (clocks or a == self.spans_to_s or (a == 0 and self.spans_to_s is None))
        ):
            return False
        if not clocks and not match["word"] and self.spans_to_s is None and not (match["rest"] or "").strip():
            return False
        place = self.text.place(line.number, match.start("a") + 1, match.end("a") + 1)
        if self.spans_to_s is not None and a < self.spans_to_s:
            message = f'"{match["a"]}" comes before the stretch above ends, at {write_clock(self.spans_to_s)}'
            self.worker.error("span-overlaps", message, None, place)
            return True
        rest = match["rest"] or ""
        self._close()
        if self.done and self.spans_to_s is not None and a > self.spans_to_s:
            self.done[-1].rest_after_s += a - self.spans_to_s
        self.spans_to_s = b
        line.pieces.append(Piece(match.start("a"), match.end("b"), "span", f"{write_clock(a)}-{write_clock(b)}"))
        if re.fullmatch(r"\s*(?:rest|off)\s*\.?\s*", rest, re.IGNORECASE):
            if self.done:
                self.done[-1].rest_after_s += b - a
            line.pieces[-1].told = f"{write_clock(a)}-{write_clock(b)} rest"
            line.pieces[-1].end = len(line.text.rstrip())
            return True
        part = self._open()
        part.span_s, part.window_s, part.goal = (a, b), b - a, "complete"
        if not rest.strip():
            return True
        blanked = " " * match.start("rest") + rest
        line.reading = Reading(line.text, cover(blanked, self.naming).items, 0.0)
        return False
