"""From the items of all lines to parts: what attaches to what, where a part begins, what is done once, in between, instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from briefing.board.cover import Reading, cover, name_of
from briefing.board.drafts import CycleDraft, InterruptDraft, LoadDraft, PartDraft, RestDraft, Said, Section, WorkDraft
from briefing.board.items import Item
from briefing.board.models import Goal
from briefing.board.naming import NameRead, Naming
from briefing.board.reasons import reasons_of
from briefing.board.shaping import Shaper
from briefing.board.tokens import LoadWords, Quantity, Token
from briefing.board.vocabulary import MANNERS, PREPOSITIONS, VENUES
from briefing.board.working import Worker
from briefing.library.models import KIT
from briefing.sources.text import Text
from briefing.units import read_clock, write_clock, write_number

WORKS = frozenset({"work", "most", "sets_of", "work_side"})
# What opens a part, or says of the lines above it how they are done.
HEADS = frozenset(
    """for_time rounds_for_time rounds quality sets amrap amrap_open emom emom_open every every_open intervals stretch build max_in numbers
    block climb""".split()
)
_FORCES = frozenset({"every_open", "every_from", "at_times", "on_break", "emom_open", "emom", "first_with"})
_QUIET = frozenset({"joiner", "filler", "manner", "plus_work", "open", "close", "remark", "note"})
# Words that stand in remarks and never in a movement's name.
_SMALL = frozenset(
    "your you the a an is are be it if when then not no don't do keep stay focus remember breathe try make sure move scale modify listen well today".split()
)
_HANDLERS = {"open": "_open_bracket", "close": "_close_bracket"}
LONGEST_S = 6 * 3600
MOST_ROUNDS = 200


@dataclass
class Piece:
    """What became of a piece of a line: columns from 0, how it was told, and whether it was read, set aside or asked about."""

    start: int
    end: int
    kind: str
    told: str | None = None
    work: WorkDraft | None = None
    asked: bool = False


@dataclass
class LineDraft:
    """A line with its items and what became of each."""

    number: int
    text: str
    reading: Reading
    blank_before: bool = False
    pieces: list[Piece] = field(default_factory=list)


class Assembler:
    """Puts the items of a board's lines together, in their order."""

    def __init__(self, text: Text, worker: Worker, naming: Naming) -> None:
        self.text, self.worker, self.naming = text, worker, naming
        self.shaper = Shaper(worker)
        self.lines: list[LineDraft] = []
        self.part: PartDraft | None = None
        self.done: list[PartDraft] = []
        self.section: Section = "main"
        self.section_inline = False
        self.venue: str | None = None
        self.title: str | None = None
        self.spans_to_s: int | None = None
        self._fresh_line()
        self.last: WorkDraft | None = None
        self.pending: WorkDraft | None = None
        self.then = False
        self.at = self.here = 0
        self.interrupt: InterruptDraft | None = None

    def _fresh_line(self) -> None:
        self.chain: list[WorkDraft] = []
        self.line_works: list[WorkDraft] = []
        self.option_next = False
        self.option_of: WorkDraft | None = None
        self.option_of_last: WorkDraft | None = None
        self.last_option: WorkDraft | None = None
        self.bracket_of: WorkDraft | None = None
        self.once: str | None = None
        self.after_each = False
        self.plus = False
        self.depth = 0
        self.block: int | None = None
        self.label: str | None = None
        self.duration_s: int | None = None
        self.penalty = False
        self.slash = False

    # --- the road ---------------------------------------------------------------------------------------------------

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
        if line.blank_before and self.section != "main" and self.part is not None and self.part.has_work:
            self._close()
            self.section = "main"
        if self._first_words(index) or self._span(line):
            return
        for position in range(len(line.reading.items)):
            item = line.reading.items[position]  # a bracket with reasons changes what stands behind it
            self.here = position
            handler: Callable[[Item], bool | None] = getattr(self, _HANDLERS.get(item.kind, f"_{item.kind}"))
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
        items = [i for i in line.reading.items if i.kind not in {"joiner"}]
        named = re.match(r"\s*(?:title|name)\s*:\s*(?P<t>\S.*)$", line.text, re.IGNORECASE)
        if named:
            return self._take_title(line, named["t"].strip())
        if not items or re.search(r"\d", line.text) and not line.text.lstrip().startswith("# "):
            return False
        words = all(i.kind in {"remark", "filler", "note", "kit", "manner", "how_hard"} or (i.kind == "work" and i.get("a") is None) for i in items)
        names = [n for i in items if (n := name_of(i)) is not None]
        if line.text.lstrip().startswith("# ") and not any(i.kind in HEADS or (i.kind in WORKS and i.get("a") is not None) for i in items):
            return self._take_title(line, line.text.lstrip(" #").strip())
        for i in items:
            word = line.text[i.start : i.end].strip().lower()
            if word in VENUES and i.kind in {"work", "remark", "heading"}:
                self.venue = VENUES[word]
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
        match = _SPAN.match(line.text)
        if match is None:
            return False
        a, b = _moment(match["a"]), _moment(match["b"])
        clocks = ":" in match["a"] and ":" in match["b"]
        if a is None or b is None or a >= b or not (clocks or a == self.spans_to_s or (a == 0 and self.spans_to_s is None)):
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

    # --- parts ------------------------------------------------------------------------------------------------------

    def _open(self) -> PartDraft:
        if self.part is None:
            self.part = PartDraft(line=self.lines[self.at].number, section=self.section)
            self.last = None
        return self.part

    def _close(self) -> None:
        part, self.part = self.part, None
        self.last = None
        self.interrupt = None
        if part is not None:
            self.done.append(part)

    def _here(self, item: Item) -> tuple[int, int, str]:
        return item.start, item.end, self.lines[self.at].text[item.start : item.end].strip()

    def _place(self, item: Item):  # noqa: ANN202 - a place
        return self.text.place(self.lines[self.at].number, item.start + 1, item.end + 1)

    def _say(self, name: str, item: Item, *, twice: bool = False) -> bool:
        """Remember that a form stands in this part; two of a kind that cannot both hold are an error."""
        part = self._open()
        start, end, written = self._here(item)
        if name in part.said and not twice:
            self.worker.error(
                "said-twice",
                f'"{written}" stands here, and this part has "{part.said[name].written}" already',
                'one of them, or "Part B" above what belongs to the next part',
                self._place(item),
            )
            return False
        part.said[name] = Said(self.lines[self.at].number, start, end, written)
        return True

    def _items_behind(self):  # noqa: ANN202 - pairs of line index and item
        for index in range(self.at, len(self.lines)):
            items = self.lines[index].reading.items
            begin = self.here + 1 if index == self.at else 0
            for item in items[begin:]:
                yield index, item

    def _work_ahead(self) -> bool:
        """Say whether a line of work of this form follows, before another form or a title."""
        for index, item in self._items_behind():
            if item.kind in WORKS or (item.kind == "amount" and self.pending is not None):
                return True
            if index > self.at and (item.kind in HEADS or item.kind in {"heading", "part"}):
                return False
            if item.kind in _FORCES:
                return False
        return False

    def _goal_ahead(self) -> bool:
        """Say whether a line further down says that all of this is for time."""
        for _, item in self._items_behind():
            if item.kind in {"heading", "part"}:
                return False
            if item.kind in {"for_time", "rounds_for_time", "cap"}:
                return True
        return False

    def _begin(self, item: Item) -> PartDraft:
        """Give the part that a form is about: this one, or a new one where this has its work already."""
        part = self.part
        if part is None:
            return self._open()
        if not part.has_work or all(c.role == "before" for c in part.cycles if c.works):
            return part
        if part.goal is None and not part.sets and not self._work_ahead():
            return part
        if item.kind == "rounds" and part.body.rounds is None and part.body.numbers is None and (part.goal in {"time", "most"} or (part.goal is None and self._goal_ahead())):
            part.body.role = "before"
            part.cycles.append(CycleDraft())
            return part
        if self.then and item.kind in {"numbers", "rounds"} and (part.goal is not None or self._goal_ahead()):
            part.cycles.append(CycleDraft())
            self.then = False
            return part
        if self.section != "main" and self.section_inline:
            self.section = "main"
        self._close()
        return self._open()

    def _goal(self, part: PartDraft, goal: Goal, item: Item) -> None:
        before = part.goal
        if before is not None and before != goal and part.span_s is None and not (before == "complete" and part.sets):
            self._two_goals(part, item)
        part.goal = goal

    def _two_goals(self, part: PartDraft, item: Item) -> None:
        _, _, written = self._here(item)
        first = next((s.written for n, s in part.said.items() if n in {"goal"}), "the line above")
        if first == written:
            return
        self.worker.ask(
            "goals-differ",
            f'"{first}" and "{written}" cannot both hold; it was read as "{written}"',
            f'"{first}" alone, "{written}" alone, or "Part B" above the second',
            self._place(item),
        )

    def _rounds_of(self, token: Token, item: Item) -> int | None:
        quantity: Quantity = token.value
        value = quantity.values[0]
        if value != int(value) or value < 1:
            self.worker.error("number-zero" if value == 0 else "number-fraction", f'"{quantity.written.strip()}" is no number of rounds', None, self._place(item))
            self._open().broken = True
            return None
        if value > MOST_ROUNDS:
            self.worker.error("number-absurd", f'"{quantity.written.strip()[:40]}" is more than anybody does ({MOST_ROUNDS} at the most here)', None, self._place(item))
            self._open().broken = True
            return None
        return int(value)

    def _seconds(self, token: Token, item: Item, *, bare: str = "minutes") -> int | None:
        """Give a time in seconds; a bare number is minutes (for a rest: seconds from 15 up)."""
        quantity: Quantity = token.value
        value = quantity.values[0]
        if quantity.unit is None:
            value *= 1 if bare == "rest" and value >= 15 else 60  # noqa: PLR2004 - nobody rests for fifteen minutes, or ten seconds written as 10
        place = self.text.place(self.lines[self.at].number, token.start + 1, token.end + 1)
        if value <= 0:
            self.worker.error("number-zero", f'"{quantity.written.strip()}" is no time at all', None, place)
        elif value > LONGEST_S:
            self.worker.error("number-absurd", f'"{quantity.written.strip()[:40]}" is longer than six hours', None, place)
        else:
            return round(value)
        self._open().broken = True
        return None

    # --- heads ------------------------------------------------------------------------------------------------------

    def _for_time(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "time", item)
        self._say("goal", item, twice=True)
        token = item.get("t")
        if token is not None:
            part.cap_s = self._seconds(token, item)
        self.piece.told = "for time"

    def _rounds_for_time(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "time", item)
        self._say("goal", item, twice=True)
        self._set_rounds(part, item)
        self.piece.told = f"{part.body.rounds or '?'} rounds for time"

    def _set_rounds(self, part: PartDraft, item: Item) -> None:
        token = item.get("n")
        rounds = 2 if item.get("w") is not None else self._rounds_of(token, item) if token is not None else None
        if rounds is None:
            return
        if token is not None and token.value.form == "range":
            low, high = (int(v) for v in token.value.values)
            self.worker.ask("rounds-range", f'"{token.value.written}" was read as {low} rounds', f"{low} rounds   (or: {high} rounds)", self._place(item))
        if part.intervals:
            part.windows = rounds
        part.body.rounds = rounds

    def _rounds(self, item: Item) -> bool | None:
        before = self.part
        body = before.body if before is not None else None
        if before is not None and before.has_work and body is not None and body.rounds is None and body.numbers is None and not self._work_ahead():
            part = before  # "… x 3 rounds" behind its work
        else:
            part = self._begin(item)
        if part.window_s is not None and part.goal == "complete" and part.windows is None and part.span_s is None:
            part.windows = self._rounds_of(item["n"], item) if item.get("n") is not None else 2
            self.piece.told = f"{part.windows} rounds"
            return None
        if part.goal == "most" and part.window_s is not None and not part.intervals:
            self._rounds_with_amrap(part, item)
            return None
        if part.body.rounds is not None and part.body.rounds > 1:
            _, _, written = self._here(item)
            self.worker.ask("rounds-twice", f'"{written}" stands here, and {part.body.rounds} rounds are written above', f"{part.body.rounds} rounds   (or: {written})", self._place(item))
            return None
        self._set_rounds(part, item)
        self._say("rounds", item, twice=True)
        self.piece.told = f"{part.body.rounds or '?'} rounds"
        return None

    def _rounds_with_amrap(self, part: PartDraft, item: Item) -> None:
        _, _, written = self._here(item)
        time = write_clock(part.window_s or 0)
        self.worker.ask(
            "rounds-and-amrap",
            f'"{written}" and an AMRAP of {time}: an AMRAP has as many rounds as there is time for; it was read as AMRAP {time}',
            f"AMRAP {time}   (or: {written} for time, cap {time})",
            self._place(item),
        )
        self.piece.asked = True

    def _rounds_all(self, item: Item) -> bool | None:
        return self._rounds(item)

    def _quality(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "quality", item)
        self._say("goal", item, twice=True)
        if item.get("n") is not None:
            self._set_rounds(part, item)
        self.piece.told = "not for time"

    def _sets(self, item: Item) -> None:
        before = self.part
        if before is not None and before.has_work and not before.sets and before.goal is None and not self._work_ahead():
            part = before
        else:
            part = self._begin(item)
        part.sets = True
        part.goal = part.goal or "complete"
        self._say("goal", item, twice=True)
        self._set_rounds(part, item)
        self.piece.told = f"{part.body.rounds or '?'} sets"

    def _amrap(self, item: Item) -> None:
        begun = self.part
        rounds = begun.body.rounds if begun is not None and not begun.has_work else None
        part = self._begin(item)
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.open_rounds = True
        part.window_s = self._seconds(item["t"], item)
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        if item.get("o") is not None:
            part.gap_s = self._seconds(item["o"], item) or 0
        if rounds is not None and rounds > 1 and part.window_s:
            written = part.said["rounds"].written if "rounds" in part.said else f"{rounds} rounds"
            time = write_clock(part.window_s)
            message = f'"{written}" and an AMRAP of {time}: an AMRAP has as many rounds as there is time for; it was read as one AMRAP {time}'
            self.worker.ask("rounds-and-amrap", message, f"AMRAP {time}   (or: {rounds} x AMRAP {time}, or: {rounds} rounds for time, cap {time})", self._place(item))
            part.body.rounds = None
        if part.cap_s is not None:
            self._cap_with_time(part, item)
        many = f"{part.windows} x " if part.windows else ""
        self.piece.told = f"{many}AMRAP {write_clock(part.window_s or 0)}" + (f" / {write_clock(part.gap_s)} off" if part.gap_s else "")

    def _amrap_open(self, item: Item) -> None:
        part = self._begin(item)
        if part.window_s is None and self.duration_s is not None:
            part.window_s, self.duration_s = self.duration_s, None
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.open_rounds = True
        self.piece.told = "AMRAP" + (f" {write_clock(part.window_s)}" if part.window_s else "")

    def _emom(self, item: Item) -> bool | None:
        inside = self.part
        if inside is not None and inside.has_work and inside.goal in {"time", "most"} and item.get("m") is None and item.get("t") is None:
            return self._every_open(item)
        part = self._begin(item)
        self._goal(part, "complete", item)
        self._say("goal", item, twice=True)
        part.window_s = item["e"].value
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
            told = f"{part.windows} rounds"
        else:
            token = item.get("t") or item["m"]
            part.total_s = self._seconds(token, item)
            told = write_clock(part.total_s or 0)
        self.piece.told = f"every {write_clock(part.window_s or 0)} for {told}"
        return None

    def _emom_open(self, item: Item) -> bool | None:
        if self._is_forced():
            return self._every_open(item)
        part = self._begin(item)
        self._goal(part, "complete", item)
        self._say("goal", item, twice=True)
        part.window_s = item["e"].value
        if self.duration_s is not None:
            part.total_s, self.duration_s = self.duration_s, None
        self.piece.told = f"every {write_clock(part.window_s or 0)}"
        return None

    def _every(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "complete", item)
        self._say("goal", item, twice=True)
        part.window_s = self._seconds(item["e"], item)
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        elif item.get("t") is not None:
            part.total_s = self._seconds(item["t"], item)
        how_long = f"{part.windows} rounds" if part.windows else write_clock(part.total_s or 0)
        self.piece.told = f"every {write_clock(part.window_s or 0)} for {how_long}"

    def _is_forced(self) -> bool:
        """Say whether "every …" here is work that the clock forces in: a part has begun, and its work follows on this line."""
        part = self.part
        if part is None or not (part.has_work or part.goal in {"time", "most"} or part.body.rounds):
            return False
        if part.goal == "complete" and not part.sets:
            return False
        items = self.lines[self.at].reading.items[self.here + 1 :]
        return any(i.kind in WORKS for i in items)

    def _every_open(self, item: Item) -> bool | None:
        every_s = item["e"].value if item["e"].kind == "emom" else self._seconds(item["e"], item)
        if every_s is None:
            return None
        if self._is_forced():
            self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, every_s=every_s)
            self._open().interrupts_drafted.append(self.interrupt)
            self.piece.told = f"every {write_clock(every_s)}"
            return None
        part = self._begin(item)
        self._goal(part, "complete", item)
        self._say("goal", item, twice=True)
        part.window_s = every_s
        if self.duration_s is not None:
            part.total_s, self.duration_s = self.duration_s, None
        self.piece.told = f"every {write_clock(every_s)}"
        return None

    def _every_from(self, item: Item) -> None:
        every_s = item["e"].value if item["e"].kind == "emom" else self._seconds(item["e"], item)
        token = item.get("f")
        from_s = 0
        if token is not None and token.value.values[0] > 0:
            from_s = self._seconds(token, item) or 0
        if every_s is None:
            return
        self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, every_s=every_s, from_s=from_s)
        self._open().interrupts_drafted.append(self.interrupt)
        self.piece.told = f"every {write_clock(every_s)} from {write_clock(from_s)}"

    def _at_times(self, item: Item) -> bool | None:
        written = self.lines[self.at].text[item.start : item.end].strip().lower()
        items = self.lines[self.at].reading.items[self.here + 1 :]
        forced = written.startswith("at") and self.part is not None and any(i.kind in WORKS for i in items)
        if not forced:
            return self._in_time(item) if item.get("u") is None else False
        times = tuple(sorted(s for n in ("t", "u", "v", "w") if (t := item.get(n)) is not None and (s := self._seconds(t, item))))
        self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, times_s=times)
        self._open().interrupts_drafted.append(self.interrupt)
        self.piece.told = "at " + " and ".join(write_clock(t) for t in times)
        return None

    def _on_break(self, item: Item) -> bool | None:
        items = self.lines[self.at].reading.items[self.here + 1 :]
        if not any(i.kind in WORKS for i in items):
            return False
        words = self.lines[self.at].text[item["b"].start : item["b"].end].strip().lower()
        self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, phrase=words)
        self._open().interrupts_drafted.append(self.interrupt)
        self.piece.told = "every put-down"
        return None

    def _penalty(self, _: Item) -> bool:
        return True

    def _first_with(self, item: Item) -> bool | None:
        drafted = self.part.interrupts_drafted if self.part is not None else []
        if drafted and drafted[-1].every_s:
            drafted[-1].from_s = 0
            self.piece.told = "from 0:00"
            return None
        self.once = "before"
        made = self._draft_of(item, item["n"])
        self._add(made)
        return None

    def _first_at(self, item: Item) -> bool | None:
        drafted = self.part.interrupts_drafted if self.part is not None else []
        if not drafted or not drafted[-1].every_s:
            return False
        token = item.get("f")
        drafted[-1].from_s = 0 if token is None or token.value.values[0] == 0 else self._seconds(token, item)
        self.piece.told = f"from {write_clock(drafted[-1].from_s or 0)}"
        return None

    def _intervals(self, item: Item) -> None:
        part = self._begin(item)
        pair = item.get("wr")
        if pair is not None:
            work_s, rest_s = (round(v) for v in pair.value.values)
            written = pair.value.written
            if not work_s or not rest_s:
                self.worker.error("number-zero", f'"{written.strip()}" has a time that is none', None, self._place(item))
                part.broken = True
        else:
            work_s = self._interval_s(item["w"], item) or 0
            rest_s = self._interval_s(item["r"], item) or 0
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.intervals = True
        part.window_s, part.gap_s = work_s, rest_s
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        how, easy = item.get("h"), item.get("e")
        if how is not None and how.kind == "how_hard":
            part.work_how = how.value
        if easy is not None and easy.kind in {"how_hard", "doing"}:
            part.gap_doing = str(easy.value)
        many = f" for {part.windows} rounds" if part.windows else ""
        doing = f" {part.gap_doing}" if part.gap_doing else " off"
        self.piece.told = f"{write_clock(work_s)} on / {write_clock(rest_s)}{doing}{many}"

    def _interval_s(self, token: Token, item: Item) -> int | None:
        """In `40 on 20 off` bare numbers are seconds."""
        quantity: Quantity = token.value
        if quantity.unit is None:
            return round(quantity.values[0])
        return self._seconds(token, item)

    def _stretch(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.intervals = True
        part.window_s = self._seconds(item["w"], item)
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        self.piece.told = f"{write_clock(part.window_s or 0)} on"

    def _build(self, item: Item) -> bool | None:
        token = item.get("n") or item.get("k") or item.get("r")
        reps = 1 if token is None else int(token.value.values[0]) if isinstance(token.value, Quantity) else int(token.value)
        waiting = self.pending or (self.last if self.last in self.line_works and self.last is not None and self.last.amount is None else None)
        bare = item.get("b") is None
        if bare and waiting is None and not self._work_ahead():
            return False
        if waiting is not None and self.part is not None and waiting in self.part.body.entries:
            self.part.body.entries.remove(waiting)
        part = self._begin(item)
        self._goal(part, "heaviest", item)
        self._say("goal", item, twice=True)
        part.target = f"a heavy {reps}"
        part.body.numbers = Quantity("list", (float(reps),), None, str(reps))
        if self.duration_s is not None:
            part.window_s, self.duration_s = self.duration_s, None
        if waiting is not None:
            waiting.line = waiting.line
            part.body.entries.append(waiting)
            self.last, self.pending = waiting, None
        self.piece.told = f"build to a heavy {reps}"
        return None

    def _max_in(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.max_reps = True
        part.window_s = self._seconds(item["t"], item)
        self.piece.told = f"max reps in {write_clock(part.window_s or 0)}"

    def _numbers(self, item: Item) -> bool | None:
        quantity: Quantity = item["l"].value
        if not all(0 < v <= 1000 for v in quantity.values):  # noqa: PLR2004 - our choice: no round has more
            value = next(v for v in quantity.values if not 0 < v <= 1000)  # noqa: PLR2004 - as above
            self.worker.error("number-zero" if value <= 0 else "number-absurd", f'"{quantity.written.strip()[:40]}" holds {write_number(value)}, which is no number of repetitions', None, self._place(item))
            self._open().broken = True
            return None
        waiting = self.pending
        part = self.part
        if waiting is not None:
            # "Back squat" above "5-5-3-3-1": sets of it.
            waiting.by_round = [(Quantity("one", (v,), quantity.unit, str(v)), None, False) for v in quantity.values]
            self._as_sets(waiting, len(quantity.values))
            self.pending = None
            self.piece.told = "-".join(write_number(v) for v in quantity.values)
            return None
        if part is not None and part.has_work and part.body.numbers is None and part.goal is None and not self._work_ahead():
            pass  # the list stands below its work
        elif part is not None and part.has_work and (part.body.numbers is not None or part.body.rounds) and (self.then or (part.goal == "time" and not part.said.get("numbers"))):
            part.cycles.append(CycleDraft())
            self.then = False
        else:
            part = self._begin(item)
        part = self._open()
        part.body.numbers = quantity
        unit = item.get("u")
        if unit is not None and quantity.unit is None:
            part.body.numbers = Quantity(quantity.form, quantity.values, unit.value if unit.value != "reps" else None, quantity.written, quantity.step, quantity.odd)
        part.said.setdefault("numbers", Said(self.lines[self.at].number, *self._here(item)))
        if self.duration_s is not None and part.window_s is None and part.cap_s is None:
            part.window_s, self.duration_s = self.duration_s, None
        self.piece.told = "-".join(write_number(v) for v in quantity.values) + ("-…" if quantity.step else "")
        return None

    def _climb(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "complete", item)
        self._say("goal", item, twice=True)
        first, second, (start, end) = item["c"].value
        part.climb, part.window_s = True, 60
        part.body.numbers = Quantity("ladder", (float(first), float(second)), None, "n", step=second - first)
        if start >= 0:
            inside = cover(" " * start + self.lines[self.at].text[start:end], self.naming).items
            for piece in inside:
                if name_of(piece) is not None:
                    self._add(self._draft_of(piece, piece["n"]))
        self.piece.told = "minute n: n" if (first, second) == (1, 2) else f"minute 1: {first}, minute 2: {second}, …"

    def _until_missed(self, _: Item) -> bool | None:
        part = self.part
        if part is None or not part.climb:
            return False
        part.until_missed = True
        self.piece.told = "until a minute is not enough"
        return None

    # --- what goes with heads ---------------------------------------------------------------------------------------

    def _cap(self, item: Item) -> bool | None:
        word = item.get("w")
        if word is not None:
            self.worker.error("time-unreadable", f'"{self.lines[self.at].text[word.start : word.end]}" is not a time', None, self.text.place(self.lines[self.at].number, word.start + 1, word.end + 1))
            self._open().broken = True
            return None
        part = self._open()
        if not self._say("cap", item):
            return None
        part.cap_s = self._seconds(item["t"], item)
        if part.goal == "most" and part.window_s:
            self._cap_with_time(part, item)
        self.piece.told = f"cap {write_clock(part.cap_s or 0)}"
        return None

    def _cap_with_time(self, part: PartDraft, item: Item) -> None:
        if part.cap_s == part.window_s or part.window_s is None or part.cap_s is None:
            part.cap_s = None
            return
        time, cap = write_clock(part.window_s), write_clock(part.cap_s)
        self.worker.ask("cap-and-time", f"an AMRAP of {time} with a cap of {cap}: it was read as AMRAP {time}, without a cap", f"AMRAP {time}   (or: AMRAP {cap})", self._place(item))
        part.cap_s = None

    def _bad_cap(self, item: Item) -> None:
        self._bad_time(item)

    def _bad_time(self, item: Item) -> None:
        token = item["t"]
        place = self.text.place(self.lines[self.at].number, token.start + 1, token.end + 1)
        self.worker.error("time-unreadable", f'"{token.value}" is not a time: a minute has sixty seconds', None, place)
        self._open().broken = True

    def _bad_list(self, item: Item) -> None:
        written = str(item["t"].value).strip()
        self.worker.error("scheme-unclear", f'"{written}" does not say how it goes on, or does not get where it ends', None, self._place(item))
        self._open().broken = True

    def _bad_plan(self, item: Item) -> None:
        word = item["w"]
        self.worker.error("line-unread", f'"{self.lines[self.at].text[word.start : word.end]}" is no number of rounds', None, self._place(item))
        self._open().broken = True

    def _in_time(self, item: Item) -> bool | None:
        part = self._open()
        seconds = self._seconds(item["t"], item)
        if seconds is None:
            return None
        if self.last is not None and self.last in self.line_works and self.last.amount is None and not self.last.most and not self.last.by_round and part.body.numbers is None and part.goal is None:
            self.last.amount = item["t"].value
            self.last.end = item.end
            return None
        if part.goal == "heaviest" or part.max_reps:
            part.window_s = seconds
        elif part.goal == "time" or (part.goal is None and part.cap_s is None and part.body.numbers is None and self.last is not None and not self.last.most):
            part.goal = part.goal or "time"
            part.cap_s = seconds
        elif (self.last is not None and self.last.most) or part.body.numbers is not None or part.goal == "most":
            part.goal = "most"
            part.max_reps = part.body.numbers is None
            part.window_s = seconds
        elif part.goal == "complete" and part.window_s and part.windows is None and part.total_s is None:
            part.total_s = seconds
        else:
            return False
        self.piece.told = f"in {write_clock(seconds)}"
        return None

    def _duration(self, item: Item) -> bool | None:
        token: Token = item["t"]
        part = self.part
        written = self.lines[self.at].text[item.start : item.end].lower()
        seconds = self._seconds(token, item)
        if seconds is None:
            return None
        told = write_clock(seconds)
        if self.last is not None and self.last in self.line_works and self.last.amount is None and not self.last.most and not self.last.by_round and (part is None or part.body.numbers is None) and "total" not in written:
            self.last.amount, self.last.end = token.value, item.end
            return None
        if self.depth and self.last is not None and self.last.amount is None:
            self.last.amount = token.value
            return None
        if part is None or not part.has_work and part.goal is None and part.body.numbers is None:
            self.duration_s = seconds
            self._open().stated_s = seconds
            self.piece.told = told
            return None
        if "total" in written or part.has_work:
            if part.body.numbers is not None and part.window_s is None and part.cap_s is None and "total" not in written and part.body.numbers.step:
                part.goal, part.window_s = "most", seconds
            else:
                part.stated_s = seconds
                part.stated_at = (self.lines[self.at].number, item.start, item.end)
            self.piece.told = told
            return None
        if part.body.numbers is not None and part.body.numbers.step and part.window_s is None:
            part.goal, part.window_s = "most", seconds
        elif part.goal == "most" and part.window_s is None:
            part.window_s = seconds
        elif part.goal == "complete" and part.window_s is not None and part.windows is None and part.total_s is None:
            part.total_s = seconds
        elif part.goal == "heaviest" and part.window_s is None:
            part.window_s = seconds
        elif part.goal in {"time", "quality"} and part.cap_s is None:
            part.cap_s = seconds
            told = f"cap {told}"
        else:
            part.stated_s, part.stated_at = seconds, (self.lines[self.at].number, item.start, item.end)
        self.piece.told = told
        return None

    def _any_order(self, _: Item) -> None:
        part = self.part
        if part is None or (part.has_work and part.goal is None and self._work_ahead() and False):
            part = self._open()
        part.body.any_order = True
        if part.team and part.team_rule is None:
            part.team_rule = "share"
        self.piece.told = "any order"

    def _plan(self, item: Item) -> None:
        part = self._open()
        part.body.plan_rounds = self._rounds_of(item["n"], item)
        self.piece.told = f"plan {part.body.plan_rounds} rounds"

    def _score(self, item: Item) -> bool | None:
        part = self.part or (self.done[-1] if self.done else None)
        words = self.lines[self.at].text[item["what"].start :].strip(" :=.-")
        words = re.sub(r"^is\s+", "", words, flags=re.IGNORECASE)
        if part is None or not words:
            return False
        part.score = words
        self.piece.told = f"score: {words}"
        return None

    def _aim(self, item: Item) -> bool | None:
        part = self.part or (self.done[-1] if self.done else None) or self._open()
        whole = self.lines[self.at].text[item.start :].strip()
        words = self.lines[self.at].text[item["what"].start :].strip(" :=.-")
        if whole.lower().startswith("leave"):
            words = whole.rstrip(".")
        if not words:
            return False
        if part.goal != "heaviest":
            part.target = words
        self.piece.told = f"aim for {words}"
        return None

    def _stations(self, item: Item) -> None:
        part = self._open()
        part.stations_said = self._rounds_of(item["n"], item)
        self.piece.told = f"{part.stations_said} stations"

    def _superset(self, _: Item) -> None:
        part = self.part
        if part is not None:
            part.superset = True
        self.superset_next = True
        self.piece.told = "superset"

    def _complex(self, item: Item) -> None:
        part = self._open()
        part.complex = True
        if item.get("l") is not None:
            part.load = self._load_draft(item)
        self.piece.told = "complex" + (f" @ {part.load.words.written}" if part.load and part.load.words else "")

    def _all_loads(self, _: Item) -> bool:
        return False

    # --- parts by name ----------------------------------------------------------------------------------------------

    def _part(self, item: Item) -> None:
        self._close()
        if self.section_inline or self.section == "warm-up":
            self.section = "main"
        part = self._open()
        part.name = item["p"].value
        self.piece.told = f"Part {part.name}"

    def _heading(self, item: Item) -> bool | None:
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in _QUIET]
        before = [i for i in self.lines[self.at].reading.items[: self.here] if i.kind not in {"joiner", "filler", "part", "label"}]
        value = item["h"].value
        if before:
            # A word such as "core" or "intervals" inside a line is no title.
            return False if value not in {"warm-up", "cool-down"} else self._manner(item)
        named = self.part.name if self.part is not None and not self.part.has_work else None
        if not (self.part is not None and not self.part.has_work and self.part.name):
            self._close()
        self.section = value if value in {"warm-up", "cool-down"} else "main"
        self.section_inline = bool(behind)
        part = self._open()
        part.section = self.section
        words = self.lines[self.at].text[item["h"].start : item["h"].end].strip()
        part.heading = words[:1].upper() + words[1:].lower() if words.isupper() or words.islower() else words
        part.name = named
        token = item.get("t")
        if token is not None:
            part.cap_s = self._seconds(token, item)
        self.piece.told = part.heading + (f" {write_clock(part.cap_s)}" if part.cap_s else "")
        return None

    def _label(self, item: Item) -> bool | None:
        kind, number = item["l"].value
        part = self.part
        if kind in {"minute", "number", "odd"}:
            self.label = str(number)
        elif kind == "person":
            self.label = f"p{number}"
        else:
            same = part is not None and part.has_work and part.letter == kind
            if part is not None and part.has_work and not same:
                self._close()
            part = self._open()
            part.letter = kind
            if number > 1:
                part.superset = True
            self.label = None
            self.superset_label = number
        self.option_next = False
        self.piece.told = self.lines[self.at].text[item.start : item.end].strip()
        return None

    def _buy_in(self, _: Item) -> None:
        part = self._open()
        if not part.has_work or part.body.role == "before":
            part.body.role = "before"
        self.once = "before"
        self.piece.told = "Buy-in"

    def _cash_out(self, item: Item) -> bool | None:
        part = self.part
        if part is None or not part.has_work:
            return self._as_finisher(item)
        self.once = "after"
        if part.body.role != "after":
            part.cycles.append(CycleDraft(role="after"))
        self.piece.told = "Finish"
        return None

    def _as_finisher(self, item: Item) -> bool | None:
        words = self.lines[self.at].text[item.start : item.end].strip(" :")
        if not words.lower().startswith("finisher"):
            return False
        self._close()
        self._open().heading = words.capitalize()
        self.piece.told = words.capitalize()
        return None

    def _then(self, _: Item) -> None:
        self.then = True
        part = self.part
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in _QUIET]
        nxt = next((i for _, i in self._items_behind() if i.kind not in _QUIET), None)
        first = not any(i.kind not in _QUIET for i in self.lines[self.at].reading.items[: self.here])
        if first and part is not None and part.has_work and nxt is not None and nxt.kind in WORKS and self._list_of(nxt) is not None:
            part.cycles.append(CycleDraft())
            self.then = False
        elif first and behind and nxt is not None and nxt.kind in WORKS and part is not None and part.body.role == "body" and (part.body.rounds or part.body.numbers) and part.has_work:
            part.cycles.append(CycleDraft(role="after"))
        self.piece.told = "then"

    def _list_of(self, item: Item) -> Quantity | None:
        token = item.get("a")
        return token.value if token is not None and isinstance(token.value, Quantity) and token.value.form in {"list", "ladder"} else None

    def _after_each(self, item: Item) -> bool | None:
        works = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind in WORKS]
        if self.line_works and not works:
            part = self._open()
            for draft in self.line_works:
                if draft in part.body.entries:
                    part.body.entries.remove(draft)
                    part.after_each.append(draft)
            self.piece.told = "after each round"
            return None
        if works:
            self.after_each = True
            self.piece.told = "after each round"
            return None
        return False

    def _or(self, item: Item) -> bool | None:
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind in WORKS or i.kind in {"amount", "most_open"}]
        if not behind:
            return False
        above = self.last
        if above is None or (self.part is not None and self.part.body.entries and isinstance(self.part.body.entries[-1], RestDraft) and not self.line_works):
            start = item.end
            self.worker.error("option-without-line", "there is no line of work directly above that this could stand instead of", None, self.text.place(self.lines[self.at].number, start + 2 if start < len(self.lines[self.at].text) else start + 1))
            rest = [i for i in self.lines[self.at].reading.items if i.start > item.start]
            if rest:
                self._set_aside(item, len(self.lines[self.at].text))
            return None
        self.option_next, self.option_of = True, self.option_of or above
        self.piece.told = "or"
        return None

    # --- teams ------------------------------------------------------------------------------------------------------

    def _team(self, item: Item) -> None:
        part = self.part
        if part is not None and part.has_work and self._work_ahead() and part.goal is not None:
            self._close()
        part = self._open()
        token = item.get("n")
        part.team_size = int(token.value.values[0]) if token is not None else max(2, part.team_size)
        words = self.lines[self.at].text[item.start : item.end].strip(" :").lower()
        part.team.append(words)
        self.piece.told = words

    def _share(self, item: Item) -> bool | None:
        part = self.part or (self.done[-1] if self.done else None) or self._open()
        words = self.lines[self.at].text[item.start : item.end].strip().lower()
        rule = item["s"].value
        if rule == "share" and re.search(r"as you like|any way|how you like", words):
            part.body.any_order = True
        if not part.team and rule in {"share", "together"}:
            if rule == "share":
                part.body.any_order = True
                self.piece.told = "split as you like"
                return None
            return False
        part.team_size = max(2, part.team_size)
        part.team.append(words)
        if rule != "one-works":
            part.team_rule = rule
        elif part.team_rule is None:
            part.team_rule = "share"
        self.piece.told = words
        return None

    def _swap(self, item: Item) -> None:
        part = self._open()
        part.team_size = max(2, part.team_size)
        token = item.get("a")
        if token is not None:
            part.swap = token.value
            part.team_rule = "swap"
        else:
            part.team_rule = "rounds"
        part.team.append(self.lines[self.at].text[item.start : item.end].strip().lower())
        self.piece.told = part.team[-1]

    def _carry_on(self, _: Item) -> None:
        self._open().carries_on = True
        self.piece.told = "carry on where you left off"

    def _start_again(self, _: Item) -> None:
        self._open().carries_on = False
        self.piece.told = "start again each time"

    # --- rests ------------------------------------------------------------------------------------------------------

    def _rest(self, item: Item) -> bool | None:
        token = item.get("t")
        seconds = self._seconds(token, item, bare="rest") if token is not None else None
        at_most = None
        if token is not None and token.value.form == "range":
            factor = 1 if token.value.unit == "s" else (1 if token.value.values[0] >= 15 else 60)  # noqa: PLR2004 - seconds, as for one number
            at_most = round(token.value.values[1] * factor)
        doing = str(item["d"].value) if item.get("d") is not None else None
        told = "rest " + (write_clock(seconds) + (f"-{write_clock(at_most)}" if at_most else "") if seconds else "as needed") + (f", {doing}" if doing else "")
        part = self.part
        if part is None:
            previous = self.done[-1] if self.done else None
            if previous is None:
                return False
            previous.rest_after_s += seconds or 0
            self.piece.told = f"{told} before the next part"
            return None
        between = item.get("b") is not None
        self.piece.told = told + (" between rounds" if between else "")
        if token is None and item.get("n") is None and doing is None:
            self.piece.told = "rest between rounds"
        windowed = part.goal == "most" and part.window_s is not None and ((part.windows or 1) > 1) and not part.intervals
        if windowed and self.label is None:
            return self._as_gap(part, seconds, doing, item)
        if part.intervals and not between and not part.gap_s and seconds and not part.has_work:
            part.gap_s, part.gap_doing = seconds, doing
            return None
        if not between and part.has_work and self._between_parts(part):
            part.rest_after_s += seconds or 0
            self.piece.told = f"{told} before the next part"
            return None
        head_line = not part.has_work and (part.body.rounds or part.goal or part.sets)
        in_block = self.block is not None
        if between or part.sets or head_line or in_block or self._is_list_of_sets(part):
            return self._between(part, seconds, at_most, doing, item)
        part.body.entries.append(RestDraft(self.lines[self.at].number, seconds, at_most, doing, self.label))
        return None

    def _is_list_of_sets(self, part: PartDraft) -> bool:
        return part.goal is None and len(part.works) == 1 and bool(part.works[0].by_round)

    def _between(self, part: PartDraft, seconds: int | None, at_most: int | None, doing: str | None, item: Item) -> None:
        body = part.body
        if part.body.block and not self.depth:
            body.block_rest_s = seconds or 0
            self.piece.told = (self.piece.told or "").replace("rounds", "sets of rounds")
            return
        if body.rest_said and body.rest_between_s != seconds:
            a, b = (write_clock(s) if s else "as needed" for s in (body.rest_between_s, seconds))
            self.worker.error("rests-differ", f"between two rounds the rest is {a}, and a rest of {b} is written as well", "one of the two", self._place(item))
            return
        body.rest_between_s, body.rest_at_most_s, body.rest_doing, body.rest_said = seconds, at_most, doing, True

    def _as_gap(self, part: PartDraft, seconds: int | None, doing: str | None, item: Item) -> None:
        if part.gap_s and seconds and part.gap_s != seconds:
            message = f"between two stretches the rest is {write_clock(part.gap_s)}, and a rest of {write_clock(seconds)} is written as well"
            self.worker.error("rests-differ", message, "one of the two", self._place(item))
            return
        part.gap_s, part.gap_doing = seconds or part.gap_s, doing

    def _between_parts(self, part: PartDraft) -> bool:
        """Say whether a rest on a line of its own stands between this part and the next: then it is in neither's rounds."""
        line = self.lines[self.at]
        if [i for i in line.reading.items if i.kind not in {"joiner", "rest"}] or self.at + 1 >= len(self.lines):
            return False
        rounds = part.body.rounds or (2 if part.body.numbers else 1)
        if rounds > 1 and not line.blank_before:
            return False
        nxt = self.lines[self.at + 1]
        first = next((i for i in nxt.reading.items if i.kind not in {"joiner", "filler", "then"}), None)
        return first is not None and (first.kind in HEADS or first.kind in {"part", "heading"} or bool(_SPAN.match(nxt.text)))

    def _rest_word(self, item: Item) -> bool | None:
        part = self.part
        if part is None:
            return False
        if self.label is not None and part.window_s is not None:
            part.body.entries.append(RestDraft(self.lines[self.at].number, None, None, None, self.label, off=True))
            self.piece.told = f"{self.label}. off"
            return None
        alone = not [i for i in self.lines[self.at].reading.items if i.kind not in {"joiner", "rest_word", "label"}]
        if part.has_work and alone:
            if part.goal == "complete" and part.window_s:
                part.body.entries.append(RestDraft(self.lines[self.at].number, off=True, label=self.label))
            else:
                part.body.entries.append(RestDraft(self.lines[self.at].number))
            self.piece.told = "rest as needed"
            return None
        return self._manner(item) if self.last is None or not part.has_work else False

    def _rest_left(self, _: Item) -> None:
        self.piece.told = "rest for what is left"

    def _rest_long(self, item: Item) -> None:
        ratio = item.get("w")
        work, rest = ratio.value if ratio is not None else (1, 1)
        part = self._open()
        if not work:
            self.worker.error("number-zero", f'"{self._here(item)[2]}" has no work in it', None, self._place(item))
            return
        part.body.rest_ratio = rest / work
        self.piece.told = "rest as long as the work" if rest == work else f"work:rest {work}:{rest}"

    def _rest_after(self, item: Item) -> bool | None:
        part = self._open()
        kind, value = item["a"].value
        seconds = self._seconds(item["t"], item)
        if seconds is None:
            return None
        numbers = part.body.numbers or next((self._numbers_of(w) for w in part.body.works if self._numbers_of(w)), None)
        if kind == "value":
            rounds = [n for n, reps in enumerate(numbers.values if numbers else (), 1) if reps == value]
            if not rounds:
                self.worker.error("round-unknown", f"no round has the number {value}", None, self._place(item))
                return None
        else:
            rounds = list(value)
        part.body.rest_after += [(n, seconds) for n in rounds]
        self.piece.told = f"rest {write_clock(seconds)} after round " + ", ".join(map(str, rounds))
        return None

    def _numbers_of(self, work: WorkDraft) -> Quantity | None:
        return work.amount if work.amount is not None and work.amount.form in {"list", "ladder"} else None

    def _rest_parts(self, item: Item) -> None:
        part = self.part or (self.done[-1] if self.done else None)
        seconds = self._seconds(item["t"], item)
        if part is not None and seconds:
            part.rest_after_s += seconds
            part.rest_parts = True
        self.piece.told = f"rest {write_clock(seconds or 0)} between parts"

    def _no_rest(self, _: Item) -> None:
        self.piece.told = "no rest"

    def _ready(self, item: Item) -> bool | None:
        return self._manner(item)

    # --- work -------------------------------------------------------------------------------------------------------

    def _draft_of(self, item: Item, name: Token | None) -> WorkDraft:
        read: NameRead = name.value if name is not None else NameRead(self.venue or "run", self.venue or "run")
        if name is not None:
            read = NameRead(self.lines[self.at].text[name.start : name.end].strip(), read.slug, read.modifiers, read.slip)
        start, end = (name.start, name.end) if name is not None else (item.start, item.end)
        return WorkDraft(line=self.lines[self.at].number, start=item.start, end=item.end, name=read, name_start=start, name_end=end)

    def _work(self, item: Item) -> bool | None:
        name = item["n"]
        draft = self._draft_of(item, name)
        token = item.get("a")
        if token is not None:
            draft.amount = token.value
            draft.amount_behind = token.start > name.start
        if item.get("u") is not None:
            draft.unit = item["u"].value
        if item.get("s") is not None:
            draft.each, draft.side_word = True, item["s"].value
        if item.get("l") is not None:
            draft.load = LoadDraft(words=item["l"].value, start=item["l"].start, end=item["l"].end)
        if item.get("h") is not None:
            draft.efforts.append(str(item["h"].value))
        if item.get("k") is not None:
            draft.load = LoadDraft(count=item["k"].value[0], kit=item["k"].value[1])
        if item.get("p") is not None:
            draft.load = self._pair_as_load(item["p"])
        return self._place_work(draft, item)

    def _place_work(self, draft: WorkDraft, item: Item) -> bool | None:
        if draft.amount is None and not draft.most and self._waits(draft):
            return None
        if draft.amount is None and not draft.most and draft.name.slug is None and not self._numbers_are_given():
            return self._words_alone(draft, item)
        if draft.amount is not None and draft.amount_behind:
            self._behind(draft)
        self._add(draft)
        return None

    def _numbers_are_given(self) -> bool:
        """Say whether a bare name needs no number here: a list, stretches of time, a section, another way to do a line."""
        part = self.part
        if self.option_next or self.slash and self.line_works or self.interrupt is not None:
            return True
        if part is None:
            return self.section != "main"
        given = part.body.numbers is not None or part.intervals or part.max_reps or part.section != "main" or part.goal == "quality"
        return given or bool(part.complex_counts) or (part.span_s is not None and part.goal == "most")

    def _words_alone(self, draft: WorkDraft, item: Item) -> bool | None:
        """Words without a number that no file has: a title in front of a form, a remark, or a movement without its number.

        A remark has a small word in it or is a whole sentence; what could be a movement is asked about.
        """
        words = draft.name.written
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in _QUIET]
        amount_follows = bool(behind) and behind[0].kind in {"amount", "duration", "two_numbers", "side", "load", "percent"}
        if amount_follows or any(i.kind == "sets_of" for i in behind[:1]):
            self._add(draft)
            return None
        if behind and behind[0].kind in HEADS | {"team", "stations"} and not self.line_works:
            if self.part is None and self.title is None and not self.done:
                self.title = words
                self.piece.kind, self.piece.told = "title", f"title: {words}"
            else:
                self._close()
                self._open().heading = words
                self.piece.told = words
            return None
        self.piece.kind = "remark"
        last = self._of_last()
        if last is not None and last in self.line_works:
            last.notes.append(words)
            self.piece.kind = "note"
            return None
        small = set(words.lower().split()) & (PREPOSITIONS | MANNERS | _SMALL)
        if small or len(words.split()) > 3 or self.part is None:  # noqa: PLR2004 - our choice: a name is shorter
            return None
        self.piece.asked = True
        self.worker.ask("amount-missing", f'"{words}" has no number, and the library has no such movement: it was set aside as a remark', None, self._place(item))
        return None

    def _waits(self, draft: WorkDraft) -> bool:
        """Keep a bare name that stands alone on its line for what follows it: `Deadlift`, and below it `5@60% 5@70%`."""
        items = [i for i in self.lines[self.at].reading.items if i.kind not in {"joiner", "label", "part", "filler"}]
        if len(items) != 1 and not (items and items[0].kind == "heading"):
            return self._before_build(draft)
        nxt = next((i for _, i in self._items_behind() if i.kind not in _QUIET), None)
        bare = nxt is not None and (nxt.kind in {"amount", "build"} or (nxt.kind in {"sets_of", "sets"} and name_of(nxt) is None) or nxt.kind in {"numbers", "percent"})
        part = self.part
        if not bare or (part is not None and (part.body.numbers is not None or part.intervals or part.goal in {"time", "most"})):
            return False
        if part is not None and part.has_work:
            self._close()
        if nxt is not None and nxt.kind == "numbers" and not self._alone_above_list():
            return False
        self.pending = draft
        self.piece.work = draft
        return True

    def _alone_above_list(self) -> bool:
        """Say whether nothing but rests stands below the list: then it is the sets of what stands above it."""
        seen = False
        for _, item in self._items_behind():
            if item.kind == "numbers":
                seen = True
            elif seen and item.kind in WORKS:
                return False
            elif seen and item.kind in HEADS | {"heading", "part"}:
                return item.kind not in {"for_time"}
        return True

    def _before_build(self, draft: WorkDraft) -> bool:
        behind = self.lines[self.at].reading.items[self.here + 1 :]
        if any(i.kind == "build" for i in behind):
            self.pending = draft
            self.piece.work = draft
            if self.part is not None and self.part.has_work:
                self._close()
            return True
        pairs = [i for i in behind if i.kind in {"amount", "percent", "load"}]
        if len(pairs) > 2 and sum(i.kind == "amount" for i in pairs) > 1:  # noqa: PLR2004 - two sets or more
            if self.part is not None and self.part.has_work:
                self._close()
            self.pending = draft
            self.piece.work = draft
            return True
        return False

    def _behind(self, draft: WorkDraft) -> None:
        """Sort out numbers behind a name: a pair can be loads, a list can be sets."""
        quantity = draft.amount
        if quantity is None:
            return
        movement = self.naming.library.get(draft.name.slug) if draft.name.slug else None
        weighted = movement is not None and any(_is_weight(n) for k in movement.kit for n in k.names)
        listed = self.part is not None and self.part.body.numbers is not None
        if quantity.form == "pair" and quantity.unit is None and quantity.values[0] != quantity.values[1] and weighted:
            draft.amount = None
            draft.load = LoadDraft(words=LoadWords(quantity.values, None, 1, quantity.written.strip()))
        elif quantity.form == "pair" and quantity.unit is None and listed:
            draft.amount = None
            draft.notes.append(quantity.written.strip())
        elif quantity.form == "list" and quantity.unit is None and weighted and max(quantity.values) <= 12:  # noqa: PLR2004 - sets of a lift are no longer; our choice
            part = self.part
            if part is None or part.goal is None:
                draft.by_round = [(Quantity("one", (v,), None, write_number(v)), None, False) for v in quantity.values]
                draft.amount = None
                self._as_sets(draft, len(quantity.values))
                draft.placed = True

    def _as_sets(self, draft: WorkDraft, count: int) -> None:
        """Open a part of so many sets for a draft; in a superset it goes into the part that is open."""
        part = self.part
        joins = part is not None and part.sets and part.superset
        if part is not None and part.has_work and not joins:
            self._close()
        part = self._open()
        part.sets = True
        part.goal = part.goal or "complete"
        if part.goal == "complete" and joins and part.body.rounds not in {None, count}:
            self._sets_differ(part, draft, count)
        elif part.body.rounds is None:
            part.body.rounds = count
        self._put(part, draft)

    def _sets_differ(self, part: PartDraft, draft: WorkDraft, count: int) -> None:
        first = part.body.works[0]
        message = f"in one superset there are {part.body.rounds} sets of {first.name.written} and {count} of {draft.name.written}"
        place = self.text.place(draft.line, draft.start + 1, draft.end + 1)
        self.worker.ask("sets-differ", message, f"{part.body.rounds} sets of both   (or: {count} sets of both)", place)

    def _put(self, part: PartDraft, draft: WorkDraft) -> None:
        part.body.entries.append(draft)
        self.last = draft
        self.line_works.append(draft)
        self.piece.work = draft

    def _add(self, draft: WorkDraft) -> None:
        """Put a line of work where it belongs: the body, what is forced in, what is done once, or another way to do the last one."""
        self.pending = None
        self.piece.work = draft
        in_bracket = self.depth > 0 and self.bracket_of is not None and draft.amount is not None
        if self.option_next or in_bracket or (self.slash and self._is_alternative(draft)):
            above = self.option_of or (self.bracket_of if in_bracket else None) or (self.option_of_last if self.slash else None)
            if above is not None:
                above.options.append((draft, (), ()))
            self.slash = False
            if not self.depth:
                self.option_draft = draft
            self.last_option = draft
            return
        self.slash = False
        self.last_option = None
        if getattr(draft, "placed", False):
            return
        part = self._open()
        if self.section != "main" and part.section == "main" and not part.has_work:
            part.section = self.section
        draft.label = self.label or (self._label_above(part) if part.window_s is not None or part.stations_said else None)
        if self.plus and self.chain:
            draft.chain = len(self.chain)
            self.chain.append(draft)
        else:
            self.chain = [draft]
        self.plus = False
        if self.interrupt is not None:
            self.interrupt.works.append(draft)
        elif self.after_each:
            part.after_each.append(draft)
        elif self.once == "before":
            self._once_before(part, draft)
        elif self.once == "after":
            part.cycles[-1].entries.append(draft)
        else:
            if part.body.role == "before" and self.once is None and part.body.works and part.body.works[-1].line != draft.line:
                part.cycles.append(CycleDraft())
            quantity = draft.amount
            if quantity is not None and quantity.form in {"list", "ladder"} and not part.body.works and part.body.numbers is None and not part.window_said:
                part.body.numbers = quantity if quantity.unit is None else None
            part.body.entries.append(draft)
        self.last = draft
        self.line_works.append(draft)

    def _label_above(self, part: PartDraft) -> str | None:
        """A line without a label goes on with the station above it."""
        entries = part.body.entries
        return entries[-1].label if entries else None

    def _is_alternative(self, draft: WorkDraft) -> bool:
        """Say whether what stands behind a slash is another way to do the work before it: `15 cal row / bike`."""
        before = self.line_works[-1] if self.line_works else None
        if before is None:
            return False
        bracket = self.depth > 0
        self.option_of_last = before
        return bracket or (before.amount is not None and draft.amount is None and not draft.most and draft.unit is None)

    def _once_before(self, part: PartDraft, draft: WorkDraft) -> None:
        before = next((c for c in part.cycles if c.role == "before"), None)
        if before is None:
            before = CycleDraft(role="before")
            part.cycles.insert(0, before)
        before.entries.append(draft)
        if part.cycles[-1] is before:
            part.cycles.append(CycleDraft())

    def _most(self, item: Item) -> bool | None:
        draft = self._draft_of(item, item["n"])
        draft.most = True
        if item.get("u") is not None:
            draft.unit = item["u"].value
        if item.get("s") is not None:
            draft.each, draft.side_word = True, item["s"].value
        token = item.get("t")
        if token is not None:
            seconds = self._seconds(token, item)
            part = self.part
            if part is None or part.has_work and part.goal is None or not part.has_work and part.goal is None:
                if part is not None and part.has_work:
                    self._close()
                part = self._open()
                part.goal, part.max_reps, part.window_s = "most", True, seconds
            elif seconds is not None:
                draft.notes.append(f"for {write_clock(seconds)}")
        self._add(draft)
        return None

    def _most_open(self, item: Item) -> bool | None:
        if self.last is not None and self.last.amount is None and self.last in self.line_works:
            self.last.most = True
            if item.get("u") is not None:
                self.last.unit = item["u"].value
            return None
        part = self._open()
        if not part.has_work:
            part.max_reps = True
            part.goal = part.goal or "most"
            if self.duration_s is not None:
                part.window_s, self.duration_s = self.duration_s, None
            self.piece.told = "max"
            return None
        return False

    def _work_side(self, item: Item) -> bool | None:
        """Read `6 snatches R`, and behind it `6 L`: both sides of one line of work."""
        draft = self._draft_of(item, item["n"])
        draft.amount = item["a"].value
        draft.one_side = item["o"].value
        previous = self.line_works[-1] if self.line_works else None
        if previous is not None and previous.one_side and previous.name.slug == draft.name.slug and previous.one_side != draft.one_side:
            self.piece.told = "the other side"
            return None
        self._add(draft)
        return None

    def _oneside_of(self, item: Item) -> bool | None:
        previous = self.line_works[-1] if self.line_works else self.last
        if previous is None or not previous.one_side:
            return False
        if previous.amount is not None and previous.amount.values != item["a"].value.values:
            previous.notes.append(self.lines[self.at].text[item.start : item.end].strip())
        self.piece.told = "the other side"
        return None

    def _oneside(self, item: Item) -> bool | None:
        if self.last is None or self.last not in self.line_works:
            return False
        self.last.notes.append({"l": "left", "r": "right"}[item["o"].value])
        return None

    def _amount(self, item: Item) -> bool | None:
        quantity: Quantity = item["a"].value
        behind = self.lines[self.at].reading.items[self.here + 1 : self.here + 2]
        how = behind[0] if behind and behind[0].kind in {"percent", "load", "two_numbers"} else None
        waiting = self.pending
        if waiting is not None and (how is not None or waiting.by_round):
            waiting.by_round.append((quantity, None, False))
            if not any(waiting in c.entries for c in (self.part.cycles if self.part else [])):
                self._as_sets(waiting, 1)
            self.part.body.rounds = len(waiting.by_round)  # type: ignore[union-attr]  # _as_sets opened one
            self.last = waiting
            return None
        if waiting is not None:
            waiting.amount, waiting.line = quantity, waiting.line
            self._add(waiting)
            return None
        last = self.last
        if last is not None and last.by_round and how is not None:
            last.by_round.append((quantity, None, False))
            self._open().body.rounds = len(last.by_round)
            return None
        if last is not None and last.amount is None and not last.most and not last.by_round and last in self.line_works:
            last.amount = quantity
            if quantity.unit is None and self.depth:
                last.unit = "m" if self._counts_metres(last) else None
            last.end = max(last.end, item.end) if not self.depth else last.end
            return None
        if self.option_next and self.option_of is not None:
            draft = WorkDraft(line=self.lines[self.at].number, start=item.start, end=item.end, name=self.option_of.name, name_start=item.start, name_end=item.end, amount=quantity)
            self._add(draft)
            return None
        if last is not None and last in self.line_works and self.depth and quantity.form == "one":
            last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
            return None
        if quantity.unit == "m" and (self.venue or not (last in self.line_works)):
            return self._distance(item, quantity)
        return False

    def _counts_metres(self, draft: WorkDraft) -> bool:
        movement = self.naming.library.get(draft.name.slug) if draft.name.slug else None
        return movement is not None and movement.counts[0] == "metres"

    def _distance(self, item: Item, quantity: Quantity) -> None:
        """A distance without a movement: run, and asked where nothing on the board says so."""
        draft = self._draft_of(item, None)
        draft.amount = quantity
        if self.venue is None:
            written = quantity.written.strip()
            self.worker.ask("movement-missing", f'"{written}" does not say of what; it was read as a run', f"{written} run   (or: {written} row)", self._place(item))
        self._add(draft)

    def _sets_of(self, item: Item) -> bool | None:
        sets = self._rounds_of(item["s"], item)
        if sets is None:
            return None
        if item["s"].value.form == "range":
            low, high = (int(v) for v in item["s"].value.values)
            self.worker.ask("rounds-range", f'"{item["s"].value.written}" was read as {low} sets', f"{low} sets   (or: {high} sets)", self._place(item))
        name = item.get("n")
        quantity = item["a"].value if item.get("a") is not None else None
        part = self.part
        if name is not None and quantity is not None and name.start < item.start + 1 and self._is_reps_by_rounds(sets, quantity) and len(self.line_works) > 0:
            # "… jacks 30 x 3" at the end of a list: thirty of it, and all of it three times.
            draft = self._draft_of(item, name)
            draft.amount = item["s"].value
            self._add(draft)
            self._open().body.rounds = round(quantity.values[0])
            return None
        if name is None and self.pending is None:
            return self._sets_without_name(item, sets, quantity)
        draft = self.pending if name is None and self.pending is not None else self._draft_of(item, name)
        self.pending = None
        draft.amount = quantity
        draft.most = item.get("m") is not None
        if item.get("u") is not None:
            draft.unit = item["u"].value
        if item.get("s2") is not None:
            draft.each, draft.side_word = True, item["s2"].value
        if item.get("k") is not None:
            draft.load = LoadDraft(count=item["k"].value[0], kit=item["k"].value[1])
        if item["n"].value if item.get("n") else False:
            draft.alternating = any(t.kind == "alt" for t in item.slots.values())
        if self.block is not None and part is not None:
            part.body.rounds, part.body.block = self.block * sets, sets
            self._put(part, draft)
            return None
        if part is not None and part.goal == "time" and not part.has_work and part.body.rounds is None:
            part.body.rounds = sets
            self._put(part, draft)
            return None
        if part is not None and part.section != "main" and part.goal is None and not part.sets:
            self._warm_sets(part, draft, sets)
            return None
        self._as_sets(draft, sets)
        if name is not None and part is not None and part.superset and self.part is part:
            self.piece.work = draft
        return None

    def _warm_sets(self, part: PartDraft, draft: WorkDraft, sets: int) -> None:
        if part.has_work and part.body.rounds != sets:
            self._close()
            part = self._open()
        part.sets, part.goal, part.body.rounds = True, "complete", sets
        self._put(part, draft)

    def _is_reps_by_rounds(self, first: int, quantity: Quantity) -> bool:
        return quantity.form == "one" and quantity.unit is None and quantity.values[0] < first and first > 12 and quantity.values[0] <= 10  # noqa: PLR2004 - nobody does so many sets; our choice

    def _sets_without_name(self, item: Item, sets: int, quantity: Quantity | None) -> bool | None:
        """Read `4 x 300 m` below "Track", `5x5` behind its movement, `then 1 x max` of the same."""
        last = self.last
        if last is not None and last.amount is None and not last.most and not last.by_round and self.part is not None and last in self.part.body.entries:
            self.part.body.entries.remove(last)
            last.amount, last.most = quantity, quantity is None
            self._as_sets(last, sets)
            return None
        if self.then and last is not None and self.part is not None and self.part.sets:
            again = WorkDraft(line=self.lines[self.at].number, start=item.start, end=item.end, name=last.name, name_start=last.name_start, name_end=last.name_end, amount=quantity, most=quantity is None)
            self.part.cycles.append(CycleDraft(rounds=sets, rest_between_s=self.part.body.rest_between_s, rest_said=self.part.body.rest_said))
            self._put(self.part, again)
            self.then = False
            return None
        if quantity is not None and quantity.unit == "m":
            draft = self._draft_of(item, None)
            draft.amount = quantity
            if self.venue is None:
                written = quantity.written.strip()
                self.worker.ask("movement-missing", f'"{written}" does not say of what; it was read as a run', f"{written} run   (or: {written} row)", self._place(item))
            if self.block is not None:
                part = self._open()
                part.sets, part.goal = True, part.goal or "complete"
                part.body.rounds, part.body.block = self.block * sets, sets
                self._put(part, draft)
                return None
            self._as_sets(draft, sets)
            return None
        if quantity is not None and quantity.unit == "s" and quantity.form == "one":
            # "4 x 3:00", and the work below: stretches of work; what the rest is stands behind them.
            part = self._begin(item)
            part.goal, part.intervals, part.window_s, part.windows = "most", True, round(quantity.values[0]), sets
            self.piece.told = f"{sets} x {write_clock(part.window_s)} on"
            return None
        if quantity is not None and self._work_ahead():
            part = self._begin(item)
            part.sets, part.goal, part.body.rounds = True, part.goal or "complete", sets
            part.body.numbers = Quantity("list", tuple([quantity.values[0]] * 1), quantity.unit, quantity.written)
            part.one_number = True
            self.piece.told = f"{sets} sets of {write_number(quantity.values[0])}"
            return None
        return False

    def _block(self, item: Item) -> None:
        part = self._begin(item)
        rounds = self._rounds_of(item["s"], item)
        inside = []
        for _, later in self._items_behind():
            if later.kind == "close":
                break
            inside.append(later)
        self.depth += 1
        if any(i.kind == "sets_of" for i in inside):
            self.block = rounds
        else:
            part.body.rounds = rounds
        self.piece.told = f"{rounds} sets of ("

    def _complex_of(self, item: Item) -> bool | None:
        """Read `1+1+1`: how much of each of the movements that follow, or that stand in front of it."""
        counts = item["c"].value
        part = self._open()
        if len(self.line_works) >= len(counts):
            for draft, n in zip(self.line_works[-len(counts) :], counts, strict=True):
                draft.amount = draft.amount or Quantity("one", (float(n),), None, str(n))
            self._join(self.line_works[-len(counts) :])
        else:
            part.complex_counts = counts
        self.piece.told = "+".join(map(str, counts))
        return None

    def _join(self, works: Sequence[WorkDraft]) -> None:
        for draft in works[1:]:
            draft.joined = True

    # --- how it is done ---------------------------------------------------------------------------------------------

    def _load_draft(self, item: Item) -> LoadDraft:
        kit = item.get("k")
        count, name = kit.value if kit is not None and kit.kind == "count_kit" else (1, kit.value if kit is not None else None)
        words = item.get("l") or item.get("w")
        if words is not None:
            made = words.value
        elif item.get("p") is not None:
            q: Quantity = item["p"].value
            made = LoadWords(q.values, None, 1, q.written.strip())
        elif item.get("q") is not None:
            q = item["q"].value
            made = LoadWords(q.values, None, 1, q.written.strip())
        else:
            made = None
        if item.get("s") is not None and (item["s"].value or "") in {"hand", "hands", "arm", "arms", "side"}:
            count = 2
        start = min((t.start for t in item.slots.values()), default=item.start)
        return LoadDraft(words=made, count=count, kit=name, start=item.start if item.start < start else start, end=item.end)

    def _pair_as_load(self, token: Token) -> LoadDraft:
        q: Quantity = token.value
        return LoadDraft(words=LoadWords(q.values, None, 1, q.written.strip()), start=token.start, end=token.end)

    def _load(self, item: Item) -> bool | None:
        load = self._load_draft(item)
        return self._attach_load(load)

    def _attach_load(self, load: LoadDraft) -> bool | None:
        last = self.last_option if self.last_option is not None else self.last
        part = self.part
        if self.pending is not None and not self.pending.by_round:
            self.pending.load = load
            return None
        if last is not None and last.by_round and last.by_round[-1][1] is None:
            quantity, _, most = last.by_round[-1]
            last.by_round[-1] = (quantity, load, most)
            return None
        if not self.line_works and part is not None:
            if part.has_work and (load.kit is not None or len([w for w in part.works if w.load is None]) > 1):
                part.load = load
                self.piece.told = f"load: {load.words.written if load.words else load.kit}"
                return None
            if not part.has_work:
                part.load = load
                self.piece.told = f"load: {load.words.written if load.words else load.kit}"
                return None
        if last is None:
            return False
        if last.load is not None and last.load.words is None and load.words is not None:
            load.count = max(load.count, last.load.count)
            load.kit = load.kit or last.load.kit
        elif last.load is not None and last.load.words is not None:
            return False
        chain = self.chain if last in self.chain and len(self.chain) > 1 else [last]
        for draft in chain:
            draft.load = draft.load or load
        last.load = load
        return None

    def _two_numbers(self, item: Item) -> bool | None:
        last = self.last_option if self.last_option is not None else self.last
        if last is None:
            return False
        movement = self.naming.library.get(last.name.slug) if last.name.slug else None
        if movement is not None and any("box" in k.names for k in movement.kit) and not any(_is_weight(n) for k in movement.kit for n in k.names):
            last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
            return None
        if movement is not None and last.amount is None and not last.most and not any(_is_weight(n) for k in movement.kit for n in k.names):
            last.amount = item["p"].value
            return None
        return self._attach_load(self._pair_as_load(item["p"]))

    def _kit(self, item: Item) -> bool | None:
        token = item["k"]
        count, kit = token.value if token.kind == "count_kit" else (1, token.value)
        last = self.last
        if last is None or last not in self.line_works:
            return self._manner(item)
        if last.load is None:
            last.load = LoadDraft(count=count, kit=kit, start=item.start, end=item.end)
        else:
            last.load.count, last.load.kit = max(last.load.count, count), last.load.kit or kit
        return None

    def _percent(self, item: Item) -> bool | None:
        value, high, of, written = item["p"].value
        load = LoadDraft(percent=value, percent_written=written, start=item.start, end=item.end)
        if value <= 0 or value > 300:  # noqa: PLR2004 - our choice: no share of anything is larger
            self.worker.error("number-absurd", f'"{written}" is no share of what one can lift', None, self._place(item))
            return None
        last = self.last_option if self.last_option is not None else self.last
        if self.pending is not None and not self.pending.by_round:
            self.pending.load = load
            return None
        if last is not None and last.by_round and last.by_round[-1][1] is None:
            quantity, _, most = last.by_round[-1]
            last.by_round[-1] = (quantity, load, most)
            return None
        if last is None:
            self._open().load = load
            self.piece.told = f"load: {written}"
            return None
        if not self.line_works and self.part is not None and len(self.part.works) > 1:
            self.part.load = load
            self.piece.told = f"load: {written}"
            return None
        chain = self.chain if last in self.chain and len(self.chain) > 1 else [last]
        for draft in chain:
            if draft.load is None:
                draft.load = load
            elif draft.load.percent is None:
                draft.load.percent, draft.load.percent_written = value, written
        return None

    def _of_last(self) -> WorkDraft | None:
        return self.last_option if self.last_option is not None else self.last

    def _effort(self, item: Item) -> bool | None:
        last = self._of_last() or self.pending
        if last is None:
            return self._manner(item)
        last.efforts.append(str(item["e"].value))
        return None

    def _tempo(self, item: Item) -> bool | None:
        last = self._of_last() or self.pending
        if last is None:
            return False
        last.tempo = item["t"].value
        return None

    def _pace(self, item: Item) -> bool | None:
        last = self._of_last() or self.pending
        if last is None:
            return self._manner(item)
        last.pace = self.lines[self.at].text[item["p"].start : item["p"].end].strip(" @")
        return None

    def _height(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None:
            return False
        last.notes.append(self.lines[self.at].text[item["h"].start : item["h"].end].strip())
        return None

    def _how_hard(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None or last not in self.line_works:
            return self._manner(item)
        last.efforts.append(str(item["h"].value))
        return None

    def _unbroken(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None:
            return self._manner(item)
        for draft in self.line_works or [last]:
            draft.unbroken = True
        return None

    def _total(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None or last not in self.line_works:
            return self._manner(item)
        last.total = True
        return None

    def _side(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None or (last not in self.line_works and last is not self.last_option):
            return self._manner(item)
        token = item.get("a")
        if token is not None:
            last.own_side = token.value
            last.side_word = item["s"].value
            if last.amount is None and not last.most:
                last.amount, last.own_side, last.each = token.value, None, True
            return None
        for draft in self.chain if last in self.chain and len(self.chain) > 1 else [last]:
            draft.each, draft.side_word = True, item["s"].value
        if self.chain and len(self.chain) > 1:
            return None
        return None

    def _alternating(self, item: Item) -> bool | None:
        last = self._of_last()
        if last is None or last not in self.line_works:
            return self._manner(item)
        last.alternating = True
        return None

    def _remaining(self, _: Item) -> bool | None:
        last = self._of_last()
        if last is None:
            return False
        last.remaining = True
        if last.amount is None:
            last.most = True
        return None

    def _note(self, item: Item) -> bool | None:
        last = self._of_last()
        words = self.lines[self.at].text[item.start : item.end].strip(" ,.;")
        if last is None or last not in self.line_works and last is not self.last_option:
            return self._manner(item)
        last.notes.append(words)
        return None

    def _manner(self, item: Item) -> bool | None:
        """Keep a word that says how on the line above it, or set it aside."""
        last = self._of_last()
        words = self.lines[self.at].text[item.start : item.end].strip(" ,.;()")
        if last is not None and last in self.line_works and words and item.kind not in {"filler"}:
            last.notes.append(words)
            return None
        self.piece.told = None
        self.piece.kind = "remark"
        self._asked_if_it_counts(item)
        return None

    # --- brackets, joiners, remarks ---------------------------------------------------------------------------------

    def _open_bracket(self, item: Item) -> bool | None:
        line = self.lines[self.at].text
        shut = _closing(line, item.start)
        inner = line[item.end : shut] if shut is not None else line[item.end :]
        found = reasons_of(inner)
        target = self._of_last()
        if inner.strip().lower() in {"t", "total", "in all", "in total"} and target is not None:
            target.total = True
            self._set_aside(item, shut)
            self.depth += 1
            return None
        if found is None and self.last_option is not None and not re.search(r"\d", inner) and not self._names_in(item.end, shut):
            self.worker.ask("unknown-reason", f'"{inner.strip()}" is not one of the reasons for another version that the tool knows; it is kept as written', None, self.text.place(self.lines[self.at].number, item.end + 1, item.end + 1 + len(inner)))
            found = ((), (inner.strip().lower(),))
        if found is not None and target is not None:
            self._reasons(item, inner, found, target, shut if shut is not None else len(line))
        if self.depth == 0:
            self.bracket_of = self.last if self.last in self.line_works else None
        self.depth += 1
        return None

    def _names_in(self, start: int, end: int | None) -> bool:
        """Say whether a known movement stands between two columns."""
        items = [i for i in self.lines[self.at].reading.items if i.start >= start and (end is None or i.end <= end)]
        return any((n := name_of(i)) is not None and n.slug is not None for i in items)

    def _set_aside(self, item: Item, shut: int | None) -> None:
        """What stands in this bracket has been read as a whole: nothing else reads it."""
        line = self.lines[self.at]
        end = len(line.text) if shut is None else shut
        items = (Item("in_reason", i.start, i.end, {}, 0.0) if item.start < i.start < end and i.kind != "close" else i for i in line.reading.items)
        line.reading = Reading(line.text, tuple(items), 0.0)

    def _reasons(self, item: Item, inner: str, found: tuple[tuple[str, ...], tuple[str, ...]], target: WorkDraft, shut: int) -> None:
        """Read the reasons in a bracket; what stands in it is read by nobody else."""
        reasons, written = found
        line = self.lines[self.at]
        self._set_aside(item, shut)
        for above in self._all_drafts():
            for at, (draft, _, _) in enumerate(above.options):
                if draft is target:
                    above.options[at] = (draft, reasons, written)
                    self.piece.told = None
                    return
        place = self.text.place(line.number, item.start + 1, shut + 2)
        self.worker.ask("reason-without-option", f'"({inner})" is a reason, and a reason stands behind an option', f"below this line:  or … ({inner})", place)
        target.notes.append(inner.strip())

    def _all_drafts(self) -> list[WorkDraft]:
        out: list[WorkDraft] = []
        for part in [*self.done, *([self.part] if self.part else [])]:
            out += part.works
            for forced in part.interrupts_drafted:
                out += forced.works
        return out

    def _in_reason(self, _: Item) -> None:
        self.piece.kind = "filler"

    def _close_bracket(self, _: Item) -> None:
        self.depth = max(0, self.depth - 1)
        if self.depth == 0:
            self.block = None
            self.option_next = False
            self.last_option = None

    def _joiner(self, item: Item) -> None:
        sign = self.lines[self.at].text[item.start : item.end].strip()
        self.slash = sign == "/" or sign == "|"
        if sign in ";." or (sign == "," and not self.depth):
            self.last_option = None if not self.option_next else self.last_option
        if sign == "." and self.interrupt is not None:
            self.interrupt = None
        if sign in {"&"}:
            self.plus = True

    def _plus_work(self, _: Item) -> None:
        self.plus = True

    def _goes_on(self, item: Item) -> bool | None:
        return self._manner(item)

    def _filler(self, item: Item) -> bool | None:
        if item.get("f") is not None and item["f"].kind == "all" and self.last is None and self.part is None:
            return None
        words = self.lines[self.at].text[item.start : item.end].strip().lower()
        self.piece.kind = "filler"
        if words in {"and", "&", "plus"}:
            self.plus = True
        return None

    def _remark(self, item: Item) -> bool | None:
        words = self.lines[self.at].text[item.start : item.end].strip()
        if not re.search(r"\w", words):
            self.piece.kind = "filler"
            return None
        last = self._of_last()
        if last is not None and last in self.line_works and not re.search(r"\d", words):
            last.notes.append(words)
            return None
        return False

    def _unread(self, item: Item, piece: Piece) -> None:
        piece.kind, piece.told = "remark", None
        self._asked_if_it_counts(item)

    def _asked_if_it_counts(self, item: Item) -> None:
        """Ask about a remark that holds a number or a movement's name: nothing of that kind is lost in silence."""
        text = self.lines[self.at].text[item.start : item.end]
        counts = bool(re.search(r"\d", text)) or (item.kind in WORKS and name_of(item) is not None)
        if not counts:
            return
        self.piece.asked = True
        words = text.strip(" ,;.")
        self.worker.ask("remark-unread", f'"{words}" was not used: nothing here says what it is for', None, self._place(item))


# `0:00-4:00: 400 m run`, `min 4-10 AMRAP: …`: a stretch of a clock that goes on.
_T = r"(?:\d{0,3}:\d{2}|\d{1,2})"
_SPAN = re.compile(
    rf"^\s*(?P<word>min(?:ute)?s?\s*)?(?P<a>{_T})\s*(?:-|–|—|to)\s*(?P<b>{_T})\s*(?:min(?:ute)?s?\b)?\s*[:=.)]?\s*(?:(?<=[\s:=.)])(?P<rest>\S.*))?$",
    re.IGNORECASE,
)


def _moment(words: str) -> int | None:
    if words.isdigit():
        return int(words) * 60
    return read_clock(words) if words.strip("0:") else 0


def _closing(line: str, start: int) -> int | None:
    depth = 0
    for at in range(start, len(line)):
        if line[at] in "([{":
            depth += 1
        elif line[at] in ")]}":
            depth -= 1
            if depth == 0:
                return at
    return None


def _is_weight(kit: str) -> bool:
    return kit in KIT and (KIT[kit].weight or kit == "ball")
