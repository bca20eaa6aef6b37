"""The state of putting a board together: the part and the line that are being read, and what all of it needs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from briefing.board.cover import Reading, name_of
from briefing.board.drafts import CycleDraft, InterruptDraft, LoadDraft, PartDraft, Said, Section, WorkDraft
from briefing.board.items import Item
from briefing.board.models import Goal
from briefing.board.naming import Naming
from briefing.board.shaping import Shaper
from briefing.board.tokens import LoadWords, Quantity, Token, atoms_of, plain
from briefing.board.vocabulary import SMALL_WORDS
from briefing.board.working import Worker
from briefing.library.models import KIT
from briefing.problems import Place
from briefing.sources.text import Text
from briefing.units import read_clock

WORKS = frozenset({"work", "most", "sets_of", "work_side"})
# What opens a part, or says of the lines above it how they are done.
HEADS = frozenset(
    [
        "for_time",
        "rounds_for_time",
        "rounds",
        "quality",
        "sets",
        "amrap",
        "amrap_open",
        "emom",
        "emom_open",
        "every",
        "every_open",
        "intervals",
        "stretch",
        "build",
        "max_in",
        "numbers",
        "block",
        "climb",
    ]
)
FORCES = frozenset({"every_open", "every_from", "at_times", "on_break", "emom_open", "emom", "first_with"})
QUIET = frozenset({"joiner", "filler", "manner", "plus_work", "open", "close", "remark", "note"})
# Items whose handler has another name than the kind.
HANDLERS = {"open": "_open_bracket", "close": "_close_bracket"}
# What is never a mere remark: it would change what is done.
MEANT = frozenset(
    {
        "side",
        "alternating",
        "total",
        "rest_word",
        "percent",
        "effort",
        "tempo",
        "share",
        "swap",
        "superset",
        "after_each",
        "remaining",
        "most_open",
    }
)
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


class State:
    """What is known while the lines of a board are gone through, one item after the other."""

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
        self.piece = Piece(0, 0, "none")
        self.collect: CycleDraft | None = None
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
        self.skip_duration = False
        self.slash = False

    def _open(self) -> PartDraft:
        if self.part is None:
            self.part = PartDraft(line=self.lines[self.at].number, section=self.section)
            self.last = None
        return self.part

    def _close(self) -> None:
        part, self.part = self.part, None
        self.last = None
        self.collect = None
        waiting, self.pending = self.pending, None
        if waiting is not None and part is not None and not part.has_work and part.window_s is not None:
            # "Row", and below it "5 x 4:00 on / 1:00 off": what is done in them.
            part.body.entries.append(waiting)
        elif waiting is not None:
            self.pending = waiting
        self.interrupt = None
        if part is not None:
            self.done.append(part)

    def _here(self, item: Item) -> tuple[int, int, str]:
        return item.start, item.end, self.lines[self.at].text[item.start : item.end].strip()

    def _place(self, item: Item) -> Place:
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

    def _items_behind(self) -> Iterator[tuple[int, Item]]:
        for index in range(self.at, len(self.lines)):
            items = self.lines[index].reading.items
            begin = self.here + 1 if index == self.at else 0
            for item in items[begin:]:
                yield index, item

    def _work_ahead(self) -> bool:
        """Say whether a line of work of this form follows, before another form or a title."""
        for index, item in self._items_behind():
            name = name_of(item)
            words = item.kind == "work" and item.get("a") is None and name is not None and name.slug is None
            if (item.kind in WORKS and not words) or (item.kind == "amount" and self.pending is not None):
                return True
            if index > self.at and (item.kind in HEADS or item.kind in {"heading", "part"}):
                return False
            if item.kind in FORCES:
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

    def _seconds(self, token: Token, *, bare: str = "minutes") -> int | None:
        """Give a time in seconds; a bare number is minutes (for a rest: seconds from 15 up)."""
        quantity: Quantity = token.value
        value = quantity.values[0]
        if quantity.unit is None:
            value *= 1 if bare == "rest" and value >= 15 else 60
        place = self.text.place(self.lines[self.at].number, token.start + 1, token.end + 1)
        if value <= 0:
            self.worker.error("number-zero", f'"{quantity.written.strip()}" is no time at all', None, place)
        elif value > LONGEST_S:
            self.worker.error(
                "number-absurd", f'"{quantity.written.strip()[:40]}" is longer than six hours', None, place
            )
        else:
            return round(value)
        self._open().broken = True
        return None

    def _rounds_of(self, token: Token, item: Item) -> int | None:
        quantity: Quantity = token.value
        value = quantity.values[0]
        if value != int(value) or value < 1:
            self.worker.error(
                "number-zero" if value == 0 else "number-fraction",
                f'"{quantity.written.strip()}" is no number of rounds',
                None,
                self._place(item),
            )
            self._open().broken = True
            return None
        if value > MOST_ROUNDS:
            self.worker.error(
                "number-absurd",
                f'"{quantity.written.strip()[:40]}" is more than anybody does ({MOST_ROUNDS} at the most here)',
                None,
                self._place(item),
            )
            self._open().broken = True
            return None
        return int(value)

    def _of_last(self) -> WorkDraft | None:
        return self.last_option if self.last_option is not None else self.last

    def _load_draft(self, item: Item) -> LoadDraft:
        kit = item.get("k")
        count, name = (
            kit.value if kit is not None and kit.kind == "count_kit" else (1, kit.value if kit is not None else None)
        )
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
        return LoadDraft(words=made, count=count, kit=name, start=min(start, item.start), end=item.end)

    def _pair_as_load(self, token: Token) -> LoadDraft:
        q: Quantity = token.value
        return LoadDraft(words=LoadWords(q.values, None, 1, q.written.strip()), start=token.start, end=token.end)

    def _all_drafts(self) -> list[WorkDraft]:
        out: list[WorkDraft] = []
        for part in [*self.done, *([self.part] if self.part else [])]:
            out += part.works
            for forced in part.interrupts_drafted:
                out += forced.works
        return out

    def _unread(self, item: Item, piece: Piece) -> None:
        piece.kind, piece.told = "remark", None
        self._asked_if_it_counts(item)

    def _named_in(self, words: str) -> Iterator[str | None]:
        """Give the known movements that some words name."""
        small = plain(words)
        atoms = atoms_of(small)
        yield from (t.value.slug for t in self.naming.tokens(small, atoms, {}) if t.end - t.start > 2)

    def _is_talk(self, item: Item) -> bool:
        """Say whether the sentence around an item is talk: no number in it, and no movement that is known."""
        line = self.lines[self.at].text
        start = max(line.rfind(sign, 0, item.start) for sign in ".!?") + 1
        end = min((at for sign in ".!?" if (at := line.find(sign, item.end)) >= 0), default=len(line))
        known = any(slug is not None for slug in self._named_in(line[start:end]))
        words = line[start:end].lower().split()
        return len(words) > 3 and not re.search(r"\d", line[start:end]) and not known and bool(set(words) & SMALL_WORDS)

    def _asked_if_it_counts(self, item: Item) -> None:
        """Ask about a remark that holds a number or a movement's name: nothing of that kind is lost in silence."""
        text = self.lines[self.at].text[item.start : item.end]
        if (item.kind in MEANT or item.kind in {"remark", "note"}) and self._is_talk(item):
            return
        named = item.kind in {"remark", "note", "work"} and any(slug is not None for slug in self._named_in(text))
        counts = named or (
            bool(re.search(r"\d", text)) or (item.kind in WORKS and name_of(item) is not None) or item.kind in MEANT
        )
        if not counts:
            return
        self.piece.asked = True
        words = text.strip(" ,;.")
        self.worker.ask(
            "remark-unread", f'"{words}" was not used: nothing here says what it is for', None, self._place(item)
        )

    def _manner(self, item: Item) -> bool | None:
        """Keep a word that says how on the line above it, or set it aside."""
        last = self._of_last()
        words = self.lines[self.at].text[item.start : item.end].strip(" ,.;()")
        if last is not None and last in self.line_works and words and item.kind != "filler":
            last.notes.append(words)
            return None
        self.piece.told = None
        self.piece.kind = "remark"
        self._asked_if_it_counts(item)
        return None

    def _begin(self, item: Item) -> PartDraft:
        """Give the part that a form is about: this one, or a new one where this has its work already."""
        part = self.part
        self.collect = self.once = None
        if part is None:
            return self._open()
        if not part.has_work or all(c.role == "before" for c in part.cycles if c.works):
            return part
        if part.goal is None and not part.sets and not self._work_ahead():
            return part
        if (
            item.kind == "rounds"
            and part.body.rounds is None
            and part.body.numbers is None
            and (part.goal in {"time", "most"} or (part.goal is None and self._goal_ahead()))
        ):
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
        first = next((s.written for n, s in part.said.items() if n == "goal"), "the line above")
        if first == written:
            return
        self.worker.ask(
            "goals-differ",
            f'"{first}" and "{written}" cannot both hold; it was read as "{written}"',
            f'"{first}" alone, "{written}" alone, or "Part B" above the second',
            self._place(item),
        )


# `0:00-4:00: 400 m run`, `min 4-10 AMRAP: …`: a stretch of a clock that goes on.
_T = r"(?:\d{0,3}:\d{2}|\d{1,2})"
SPAN = re.compile(
    rf"^\s*(?P<word>min(?:ute)?s?\s*)?(?P<a>{_T})\s*(?:-|–|—|to)\s*(?P<b>{_T})\s*(?:min(?:ute)?s?\b)?\s*[:=.)]?\s*(?:(?<=[\s:=.)])(?P<rest>\S.*))?$",
    re.IGNORECASE,
)


def moment(words: str) -> int | None:
    """Give the second of a clock that some words mean: minutes where it is a bare number."""
    if words.isdigit():
        return int(words) * 60
    return read_clock(words) if words.strip("0:") else 0


def closing(line: str, start: int) -> int | None:
    """Give the column of the bracket that closes the one at `start`, None where none does."""
    depth = 0
    for at in range(start, len(line)):
        if line[at] in "([{":
            depth += 1
        elif line[at] in ")]}":
            depth -= 1
            if depth == 0:
                return at
    return None


def is_weight(kit: str) -> bool:
    """Say whether kit of this name loads a movement."""
    return kit in KIT and (KIT[kit].weight or kit == "ball")
