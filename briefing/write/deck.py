"""The deck: the outline as cue cards with measured rows, one thought a card, from which every form of the cards is made.

A card holds at most three lines of work and five lines in all; what is too much becomes another card, never smaller type.
All measures are shares of the type's em (`…_em`); a capital's top is where a row begins.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

from briefing.outline.models import Line, Outline, Segment
from briefing.problems import Problem
from briefing.settings.models import Density
from briefing.units import write_clock
from briefing.write.rows import break_rows, pieces_of, widest_piece_em
from briefing.write.sheets import Frame
from briefing.write.type import face, lacking, width_em

MOST_FIGURES = 3
MOST_LINES = 5

# Which kinds of lines of a movement share a card: one thought each.
THOUGHTS: dict[str, str] = {
    "what": "see it",
    "entry": "see it",
    "counts": "see it",
    "does-not-count": "see it",
    "step": "build it up",
    "point": "do it",
    "fault": "faults",
    "option": "easier",
    "option-how": "easier",
    "easier": "easier",
    "harder": "harder",
    "safety": "safety",
    "handling": "safety",
    "breath": "safety",
    "feel-it": "safety",
    "whole-again": "safety",
}
# The other videos' lines: a drill, a stretch or breathing is shown, a movement is built up before its workout.
_ABOUT = {
    **THOUGHTS,
    "heavy": "see it",
    "drill": "see it",
    "stretch": "see it",
    "breathe": "see it",
    "prepare": "build it up",
}
# What stands at the head of a card of the other segments: short enough to be read from the distance.
HEADS: dict[str, str] = {
    "promise": "hello",
    "stop": "when to stop",
    "workout": "the workout",
    "feel": "how it feels",
    "change": "change-over",
    "versions": "versions",
    "score": "timer, tally",
    "again": "once more",
    "go": "go",
}
# The lines whose numbers make the numbers card, and those of the repeat that it stands for.
NUMBERS = frozenset({"shape", "work", "forced", "rest", "cap"})
REPEATS = frozenset({"again", "again-work", "again-times", "again-forced"})
BEFORE_FILMING = ("recording?", "microphone on", "two seconds still")

CardKind = Literal["camera", "note", "numbers", "lines", "floor", "tick", "action"]
EntryKind = Literal["phrase", "figure", "sentence", "tick", "note"]

# Layout in ems; our choice, tried on the cards of the demo. A row follows the next after PITCH_EM, an entry after GAP_EM
# of white below its last capital; what marks an entry (bar, box) stands in the indent.
PITCH_EM = 1.16
GAP_EM = 0.72
INDENT_EM = 0.45
TICK_INDENT_EM = 0.95
FOOT_GAP_EM = 0.5
NUMBER_EM, HUGE_EM = 1.8, 3.4
SMALLER_NUMBERS_EM = (1.5, 1.2)
NUMBER_GAP_EM = 0.3
FLOOR_LINES = 2
FLOOR_SIZES_EM = (1.5, 1.25)
MOST_FOOT_ROWS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One measured row of type: its text, where it begins, its size and weight, what it is."""

    text: str
    x_em: float
    top_em: float
    size_em: float = 1.0
    bold: bool = False
    role: Literal["label", "number", "under"] = "label"

    @property
    def width_em(self) -> float:
        """How wide it is."""
        return width_em(self.text, bold=self.bold) * self.size_em


@dataclass(frozen=True, kw_only=True)
class Entry:
    """A line of a card: a number with its label and what stands beneath, or a phrase alone; with its measured rows."""

    kind: EntryKind = "phrase"
    number: str | None = None
    label: str
    under: str | None = None
    must: bool = False
    rows: tuple[Row, ...] = ()

    @cached_property
    def height_em(self) -> float:
        """From the top of its first capital to the foot of its last."""
        return max((r.top_em + r.size_em * _cap() for r in self.rows), default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One cue card.

    `head` is what it is about, `part` its place among the cards of its segment ("1 of 2"), `foot` the rows of the next
    action in small type. Times are tenths of a second on the planned clock; `number` counts from 1 through the deck.
    `lines` are the ids of the lines that are said with it. `segment` is -1 before the first one.
    """

    number: int
    kind: CardKind
    segment: int
    title: str
    head: str
    part: str | None = None
    start_tenths: int
    end_tenths: int
    entries: tuple[Entry, ...]
    foot: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    gap_em: float = GAP_EM

    @property
    def clock(self) -> str:
        """The planned clock at which the card begins, `0:22`."""
        return write_clock(self.start_tenths / 10)

    @property
    def words(self) -> str:
        """All words of the card's entries, for holding the forms against each other."""
        return " ".join(r.text for e in self.entries for r in e.rows)

    @property
    def height_em(self) -> float:
        """The height of its entries with the white between them."""
        return sum(e.height_em for e in self.entries) + self.gap_em * max(0, len(self.entries) - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A segment as the cards need it: title and planned clock."""

    title: str
    start_tenths: int
    tenths: int

    @property
    def clock(self) -> str:
        """Its planned clock, `0:22 to 0:40`."""
        return f"{write_clock(self.start_tenths / 10)} to {write_clock((self.start_tenths + self.tenths) / 10)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Deck:
    """All cards of a briefing for one frame, in order, with its segments."""

    title: str
    frame: Frame
    density: Density
    segments: tuple[Stretch, ...]
    cards: tuple[Card, ...]


@dataclass(frozen=True)
class _Item:
    """An entry on its way to a card, with the tenths and the lines that are said with it."""

    entry: Entry
    tenths: int = 0
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Draft:
    """A card before it has a number and a foot."""

    kind: CardKind
    head: str
    items: tuple[_Item, ...]
    gap_em: float = GAP_EM


def make_deck(outline: Outline, frame: Frame, density: Density = "phrases") -> Deck:
    """Make the cards of an outline for a frame: every line that is said stands on the cards, in order.

    In phrases, the numbers of the workout come first on their own cards, and the repeat shows the very same ones.
    """
    layout = _Layout(frame, density)
    cards: list[Card] = []
    notes = _notes_by_segment(outline)
    opening = [
        _Draft("camera", "camera", tuple(x)) for x in layout.pack([_Item(layout.phrase(x)) for x in BEFORE_FILMING])
    ]
    opening += layout.notes(notes.get(-1, ()))
    layout.add(cards, opening, -1, "Before you start", 0, _head_of(outline.segments[0]) if outline.segments else "go")
    numbers = next((layout.numbers(s) for s in outline.segments if s.kind == "workout"), [])
    for index, segment in enumerate(outline.segments):
        drafts = layout.notes(notes.get(index, ())) + layout.segment(segment, numbers)
        layout.add(cards, drafts, index, segment.title, segment.start_tenths, segment.next_action)
    stretches = tuple(Stretch(title=s.title, start_tenths=s.start_tenths, tenths=s.tenths) for s in outline.segments)
    return Deck(title=outline.title, frame=frame, density=density, segments=stretches, cards=tuple(cards))


def needed_em(outline: Outline) -> float:
    """Give how wide a frame must be for a briefing's phrases: the widest piece that is never broken, and its indent."""
    widest = 5.0
    for line in outline.lines:
        entry = _words_of(line, None)
        for text in (entry.label, entry.under or "", entry.number or ""):
            widest = max(widest, widest_piece_em(text, bold=True))
    return round(widest + INDENT_EM + 0.005, 2)


def letter_problem(outline: Outline) -> Problem | None:
    """Give a warning where the card font lacks letters of the briefing, None where it has them all."""
    missing = lacking(" ".join(f"{x.card} {x.text}" for x in outline.lines))
    if not missing:
        return None
    return Problem(
        level="warning",
        code="cards-letters",
        message=f"the font of the cue cards has no {' '.join(missing[:8])}; another font stands in on the screen and in DOCX",
        suggestion="look at the printed cards, where the plain letter or a question mark stands",
    )


class _Layout:
    """Sets entries to rows and packs them on cards, for one frame."""

    def __init__(self, frame: Frame, density: Density) -> None:
        self.frame = frame
        self.density = density
        self.room_em = frame.width_em - INDENT_EM

    def segment(self, segment: Segment, numbers: list[_Draft]) -> list[_Draft]:
        """Draft the cards of a segment: its numbers, its lines by thought, what is said from the floor, the ticks."""
        drafts: list[_Draft] = []
        lines = segment.lines
        if self.density == "phrases" and numbers and segment.kind in {"workout", "again"}:
            counted = [x for x in lines if _is_number(x, segment)]
            lines = tuple(x for x in lines if not _is_number(x, segment))
            if counted:
                drafts += _timed(numbers, counted, repeat=segment.kind == "again")
        camera = segment.camera
        for head, kind, group in _groups(segment, lines):
            items = []
            for line in group:
                turned = line.show is not None and line.show.camera != camera
                camera = line.show.camera if line.show else camera
                items += self._items(line, segment, turned=turned)
            if kind == "floor":
                drafts += [self._floor(head, x) for x in self.pack(items, most=FLOOR_LINES)]
            else:
                drafts += [_Draft(kind, head, tuple(x)) for x in self.pack(items)]
        if len(drafts) > 1:
            ticks = [y for x in segment.lines if x.must for y in self._split(_Item(self._tick(x, segment)))]
            gap = (PITCH_EM - _cap()) * self.frame.small_em
            drafts += [_Draft("tick", "said it?", tuple(x), gap) for x in self.pack(ticks, gap_em=gap)]
        return drafts

    def numbers(self, segment: Segment) -> list[_Draft]:
        """Draft the cards with the numbers of the workout; a number alone on its card is as large as it can be."""
        items = [self._fitted(self._figure(x), x) for x in segment.lines if _is_number(x, segment) and x.figure]
        drafts = []
        for group in self.pack([y for x in items for y in x]):
            if len(group) == 1 and group[0].entry.kind == "figure":
                group = [self._huge(group[0])]  # noqa: PLW2901 - the same card, set larger
            drafts.append(_Draft("numbers", HEADS["workout"], tuple(group)))
        return drafts

    def notes(self, notes: Sequence[str]) -> list[_Draft]:
        """Draft the cards of the coach's own notes."""
        items = []
        for text in notes:
            rows = self._set(text, self.room_em)
            items += self._split(_Item(Entry(kind="note", label=text, rows=rows)))
        return [_Draft("note", "your note", tuple(x)) for x in self.pack(items)]

    def phrase(self, text: str, *, must: bool = False) -> Entry:
        """Set a phrase."""
        return Entry(label=text, must=must, rows=self._set(text, self.room_em, bold=must))

    def add(
        self, cards: list[Card], drafts: list[_Draft], index: int, title: str, start_tenths: int, action: str
    ) -> None:
        """Number the drafts of one segment and give each its foot; a long action becomes a card of its own."""
        foot = self._small(action)
        # An action of several rows would take the place of the lines; in a low frame one row is the most.
        most = MOST_FOOT_ROWS if self.frame.height_em >= 5.0 else 1
        spare = self.frame.height_em - self._foot_em(len(foot)) - (_height(drafts[-1]) if drafts else 0.0)
        if drafts and (len(foot) > most or spare < -1e-9):
            clauses = [y for x in re.split(r",\s+", action) for y in self._split(_Item(self.phrase(x)))]
            drafts = [*drafts, *(_Draft("action", "then", tuple(x)) for x in self.pack(clauses))]
            foot = ("go on",)
        at = start_tenths
        for place, draft in enumerate(drafts):
            end = at + sum(x.tenths for x in draft.items)
            last = place + 1 == len(drafts)
            cards.append(
                Card(
                    number=len(cards) + 1,
                    kind=draft.kind,
                    segment=index,
                    title=title,
                    head=draft.head,
                    part=f"{place + 1} of {len(drafts)}" if len(drafts) > 1 else None,
                    start_tenths=at,
                    end_tenths=end,
                    entries=tuple(x.entry for x in draft.items),
                    foot=foot if last else self._next(drafts[place + 1], draft.head),
                    lines=tuple(dict.fromkeys(i for x in draft.items for i in x.lines)),
                    gap_em=draft.gap_em,
                )
            )
            at = end

    def pack(self, items: Sequence[_Item], gap_em: float = GAP_EM, most: int = MOST_LINES) -> list[list[_Item]]:
        """Pack entries on as few cards as hold them, as evenly as can be; at most three numbers and five entries each."""
        room = self.frame.height_em - self._foot_em(1)
        count = len(items)
        best: list[tuple[int, float, int]] = [(0, 0.0, count)] * (count + 1)
        for start in range(count - 1, -1, -1):
            found: tuple[int, float, int] | None = None
            height, figures = -gap_em, 0
            for end in range(start + 1, min(count, start + most) + 1):
                height += items[end - 1].entry.height_em + gap_em
                figures += items[end - 1].entry.kind == "figure"
                if end > start + 1 and (height > room + 1e-9 or figures > MOST_FIGURES):
                    break
                cards, cost, _ = best[end]
                here = (cards + 1, cost + max(0.0, room - height) ** 2, end)
                found = here if found is None or here < found else found
            best[start] = found or (1, 0.0, count)
        out, at = [], 0
        while at < count:
            out.append(list(items[at : best[at][2]]))
            at = best[at][2]
        return out

    def _items(self, line: Line, segment: Segment, *, turned: bool) -> list[_Item]:
        if self.density == "sentences":
            rows = self._set(line.text, self.room_em, bold=line.must)
            entry = Entry(kind="sentence", label=line.text, must=line.must, rows=rows)
            return self._split(_Item(entry, line.tenths, (line.id,)))
        if line.figure is not None:
            return self._fitted(self._figure(line), line)
        words = _words_of(line, segment)
        rows = self._set(words.label, self.room_em, bold=line.must)
        if turned and line.show:
            side = {"front": "to the front", "side": "side on", "three-quarter": "three-quarter"}[line.show.camera]
            top = rows[-1].top_em + PITCH_EM
            words = replace(words, under=side)
            rows += self._set(side, self.room_em, top_em=top, role="under")
        return self._split(_Item(replace(words, rows=rows), line.tenths, (line.id,)))

    def _figure(self, line: Line, number_em: float = NUMBER_EM) -> Entry:
        """Set a number with its label: beside it where there is room, else beneath, whichever is lower."""
        entry = _words_of(line, None)
        number, label, under = entry.number or "", entry.label, entry.under
        wide = width_em(number, bold=True)
        if wide > self.room_em:
            rows = self._set(number, self.room_em, bold=True, role="number", hyphens=True)
            top = rows[-1].top_em + PITCH_EM
            return replace(entry, rows=rows + self._beneath(label, under, top, bold=line.must))
        size = max(1.0, min(number_em, self.room_em / wide))
        number_row = Row(text=number, x_em=INDENT_EM, top_em=0, size_em=size, bold=True, role="number")
        ways = [(number_row, *self._beneath(label, under, size * _cap() + 0.55, bold=line.must))]
        x = INDENT_EM + wide * size + NUMBER_GAP_EM
        rest = self.frame.width_em - x
        if rest >= widest_piece_em(label, bold=line.must):
            side = self._set(label, rest, bold=line.must, x_em=x)
            low = max(side[-1].top_em + _cap(), size * _cap())
            if len(side) == 1:
                # One row alone stands on the number's own line.
                side = (replace(side[0], top_em=(size - 1) * _cap()),)
            if not under:
                ways.insert(0, (number_row, *side))
            else:
                across = self._set(under, self.room_em, top_em=low + PITCH_EM - _cap(), role="under")
                ways.insert(0, (number_row, *side, *across))
                if rest >= max(width_em(p) for p in pieces_of(under, tight=True)):
                    label_rows = self._set(label, rest, bold=line.must, x_em=x)
                    top = label_rows[-1].top_em + PITCH_EM
                    ways.insert(0, (number_row, *label_rows, *self._set(under, rest, x_em=x, top_em=top, role="under")))
        ways_set = [replace(entry, rows=rows) for rows in ways]
        return min(ways_set, key=lambda e: round(e.height_em, 3))

    def _beneath(self, label: str, under: str | None, top: float, *, bold: bool) -> tuple[Row, ...]:
        rows = self._set(label, self.room_em, bold=bold, top_em=top)
        if under:
            next_top = rows[-1].top_em + PITCH_EM if rows else top
            rows += self._set(under, self.room_em, top_em=next_top, role="under")
        return rows

    def _fitted(self, entry: Entry, line: Line) -> list[_Item]:
        """Put a number on a card: where it is too high, with a smaller number, at last as large as the other type."""
        room = self.frame.height_em - self._foot_em(1)
        for size in SMALLER_NUMBERS_EM:
            if entry.height_em <= room:
                break
            entry = self._figure(line, size)
        if entry.height_em > room:
            rows = self._set(f"{entry.number} {entry.label}", self.room_em, bold=True)
            if entry.under:
                rows += self._set(entry.under, self.room_em, top_em=rows[-1].top_em + PITCH_EM, role="under")
            entry = replace(entry, rows=rows)
        return self._split(_Item(entry, line.tenths, (line.id,)))

    def _huge(self, item: _Item) -> _Item:
        """Set the one number of a card as large as its width and height allow."""
        entry = item.entry
        if not entry.number or not any(r.role == "number" and r.size_em > 1.0 for r in entry.rows):
            return item
        room = self.frame.height_em - self._foot_em(1)
        for tenths in range(int(HUGE_EM * 10), int(NUMBER_EM * 10) - 1, -2):
            size = tenths / 10
            if width_em(entry.number, bold=True) * size > self.room_em:
                continue
            number = Row(text=entry.number, x_em=INDENT_EM, top_em=0, size_em=size, bold=True, role="number")
            rows = (number, *self._beneath(entry.label, entry.under, size * _cap() + 0.55, bold=entry.must))
            larger = replace(entry, rows=rows)
            if larger.height_em <= room:
                return _Item(larger, item.tenths, item.lines)
        return item

    def _floor(self, head: str, items: Sequence[_Item]) -> _Draft:
        """Set two lines for a card on the floor: larger, where no row has to be broken for it."""
        room = self.frame.height_em - self._foot_em(1)
        for size in FLOOR_SIZES_EM:
            larger = []
            for item in items:
                entry, bold = item.entry, item.entry.must
                rows = self._set(entry.label, self.room_em, bold=bold, size_em=size)
                if entry.under or len(rows) > len(entry.rows):
                    break
                larger.append(_Item(replace(entry, rows=rows), item.tenths, item.lines))
            draft = _Draft("floor", head, tuple(larger))
            if len(larger) == len(items) and _height(draft) <= room:
                return draft
        return _Draft("floor", head, tuple(items))

    def _tick(self, line: Line, segment: Segment) -> Entry:
        words = _words_of(line, segment)
        text = f"{words.number} {words.label}" if words.number else words.label
        # At the least size that can be read from the distance, so that they stand on one card.
        room, small = self.frame.width_em - TICK_INDENT_EM, self.frame.small_em
        rows = self._set(text, room, x_em=TICK_INDENT_EM, size_em=small)
        return Entry(kind="tick", label=text, must=True, rows=rows)

    def _set(  # noqa: PLR0913 - a row has as many properties
        self,
        text: str,
        room_em: float,
        *,
        bold: bool = False,
        x_em: float = INDENT_EM,
        top_em: float = 0.0,
        size_em: float = 1.0,
        role: Literal["label", "number", "under"] = "label",
        hyphens: bool = False,
    ) -> tuple[Row, ...]:
        shown = text.replace("-", "- ").replace("- …", "-…") if hyphens else text
        found = break_rows(shown, room_em / size_em, bold=bold)
        if hyphens:
            found = tuple(x.replace("- ", "-") for x in found)
        return tuple(
            Row(text=t, x_em=x_em, top_em=top_em + n * PITCH_EM * size_em, size_em=size_em, bold=bold, role=role)
            for n, t in enumerate(found)
        )

    def _split(self, item: _Item) -> list[_Item]:
        """Cut an entry that is higher than a card into several; its time goes with its rows."""
        room = self.frame.height_em - self._foot_em(1)
        rows = item.entry.rows
        size = max((r.size_em for r in rows), default=1.0)
        most = max(1, int((room - _cap() * size + 1e-9) / (PITCH_EM * size)) + 1)
        if item.entry.height_em <= room or len(rows) <= most:
            return [item]
        out = []
        # Even shares, so that the last card does not hold one word.
        cards = -(-len(rows) // most)
        bounds = [round(n * len(rows) / cards) for n in range(cards + 1)]
        for start, end in pairwise(bounds):
            shift = rows[start].top_em
            part = tuple(replace(r, top_em=r.top_em - shift) for r in rows[start:end]) if shift else rows[start:end]
            words = " ".join(r.text for r in part)
            tenths = item.tenths * end // len(rows) - item.tenths * start // len(rows)
            entry = replace(item.entry, rows=part, label=words, under=None)
            out.append(_Item(entry, tenths, item.lines))
        return out

    def _small(self, text: str) -> tuple[str, ...]:
        return break_rows(text, (self.frame.width_em - 1.0) / self.frame.small_em)

    def _foot_em(self, rows: int) -> float:
        return FOOT_GAP_EM + rows * PITCH_EM * self.frame.small_em if rows else 0.0

    def _next(self, draft: _Draft, head: str) -> tuple[str, ...]:
        """Give one row that says what the next card is."""
        if draft.head != head:
            return self._small(draft.head)[:1]
        rows = self._small(draft.items[0].entry.label)
        if len(rows) < 2:
            return rows
        words = rows[0].split()
        while words and width_em(" ".join(words) + " …") > (self.frame.width_em - 1.0) / self.frame.small_em:
            words.pop()
        return (" ".join(words) + " …",) if words else ("go on",)


def _timed(numbers: Sequence[_Draft], counted: Sequence[Line], *, repeat: bool) -> list[_Draft]:
    """Give the numbers cards with the times of the segment that shows them; in the repeat, shared out over the cards."""
    if not repeat:
        return list(numbers)
    whole, ids = sum(x.tenths for x in counted), tuple(x.id for x in counted)
    parts = [sum(i.tenths for i in d.items) or 1 for d in numbers]
    out, spent = [], 0
    for at, draft in enumerate(numbers):
        share = whole - spent if at + 1 == len(numbers) else whole * parts[at] // sum(parts)
        spent += share
        items = tuple(
            _Item(x.entry, share if n == 0 else 0, ids if at == n == 0 else ()) for n, x in enumerate(draft.items)
        )
        out.append(_Draft("numbers", HEADS["workout"], items))
    return out


def _is_number(line: Line, segment: Segment) -> bool:
    if segment.kind == "again":
        return line.kind in REPEATS
    return line.kind in NUMBERS and line.figure is not None


def _groups(segment: Segment, lines: Sequence[Line]) -> Iterator[tuple[str, CardKind, list[Line]]]:
    """Cut a segment's lines by thought, and where the coach lies down."""
    last: tuple[str, CardKind] | None = None
    group: list[Line] = []
    for line in lines:
        kind: CardKind = "floor" if line.sight == "face down" else "lines"
        head = _ABOUT[line.kind] if segment.movement else _head_of(segment)
        here = ("from the floor" if kind == "floor" else head, kind)
        if group and here != last:
            yield (*last, group) if last else (*here, group)
            group = []
        last = here
        group.append(line)
    if group and last:
        yield (*last, group)


def _head_of(segment: Segment) -> str:
    if segment.movement:
        return segment.title
    return HEADS.get(segment.kind, segment.title)


def _words_of(line: Line, segment: Segment | None) -> Entry:
    if line.figure is not None:
        figure = line.figure
        return Entry(kind="figure", number=figure.number, label=figure.label, under=figure.under, must=line.must)
    label = line.card
    if line.show is not None and line.show.how == "own words":
        label = f"teach it in your own words, {write_clock(line.show.hold_s or 0)}"
    elif line.kind == "what" and segment is not None and segment.movement:
        label = "the whole, twice" if line.show and line.show.reps == 2 else "the whole"
    return Entry(label=label, must=line.must)


def _notes_by_segment(outline: Outline) -> dict[int, tuple[str, ...]]:
    """Give the coach's notes: before the movement that a note names, else before the first segment (-1)."""
    out: dict[int, tuple[str, ...]] = {}
    for paragraph in outline.workout.notes.split("\n\n"):
        text = " ".join(re.sub(r"^\s*[-*#>]+\s+", "", paragraph, flags=re.MULTILINE).split())
        if not text:
            continue
        named = (n for n, s in enumerate(outline.segments) if s.movement and s.title.lower() in text.lower())
        at = next(named, -1)
        out[at] = (*out.get(at, ()), text)
    return out


def _height(draft: _Draft) -> float:
    return sum(x.entry.height_em for x in draft.items) + draft.gap_em * max(0, len(draft.items) - 1)


def _cap() -> float:
    return face().capital_em
