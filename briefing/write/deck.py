"""The deck: the outline as cue cards, one thought a card, from which every form of the cards is made.

A card holds at most three lines of work and five lines in all; what is too much becomes another card, never smaller type.
"""

from __future__ import annotations

from collections.abc import Iterator

from briefing.outline.models import Line, Outline, Segment
from briefing.problems import Model
from briefing.units import write_clock

MOST_FIGURES = 3
MOST_LINES = 5

# Which kinds of lines of a movement share a card: one thought each.
THOUGHTS: dict[str, str] = {
    "what": "see it",
    "counts": "see it",
    "does-not-count": "see it",
    "step": "build it up",
    "point": "do it",
    "fault": "if it goes wrong",
    "option": "easier",
    "easier": "easier",
    "harder": "harder",
    "safety": "safety",
    "handling": "safety",
    "breath": "safety",
    "feel-it": "safety",
    "whole-again": "safety",
}


class Entry(Model):
    """A line of a card: a number with its label and what stands beneath, or a phrase alone."""

    number: str | None = None
    label: str
    under: str | None = None
    must: bool = False


class Card(Model):
    """One cue card. `thought` is what it is about, `part` its place among the cards of its segment ("1 of 2").

    `start_s` and `end_s` are whole seconds on the planned clock; `number` counts from 1 through the deck.
    """

    number: int
    segment: int
    title: str
    thought: str | None = None
    part: str | None = None
    start_s: int
    end_s: int
    entries: tuple[Entry, ...]
    next_action: str

    @property
    def clock(self) -> str:
        """The planned clock of the card, `0:22 → 0:40`."""
        return f"{write_clock(self.start_s)} → {write_clock(self.end_s)}"


class Deck(Model):
    """All cards of a briefing, in order."""

    title: str
    cards: tuple[Card, ...]


def make_deck(outline: Outline) -> Deck:
    """Make the cards of an outline: every line that is said stands on one card, in order."""
    cards: list[Card] = []
    for index, segment in enumerate(outline.segments):
        groups = list(_groups(segment))
        start = segment.start_tenths
        for at, (thought, lines) in enumerate(groups):
            end = start + sum(line.tenths for line in lines)
            last = at + 1 == len(groups)
            following = _next_words(groups[at + 1]) if not last else segment.next_action
            cards.append(
                Card(
                    number=len(cards) + 1,
                    segment=index,
                    title=segment.title,
                    thought=thought,
                    part=f"{at + 1} of {len(groups)}" if len(groups) > 1 else None,
                    start_s=round(start / 10),
                    end_s=round(end / 10),
                    entries=tuple(_entry(line, segment) for line in lines),
                    next_action=following,
                )
            )
            start = end
    return Deck(title=outline.title, cards=tuple(cards))


def _groups(segment: Segment) -> Iterator[tuple[str | None, list[Line]]]:
    """Cut a segment's lines into cards: by thought, at most five lines and three numbers."""
    thought: str | None = None
    lines: list[Line] = []
    for line in segment.lines:
        about = THOUGHTS.get(line.kind, "safety") if segment.movement else None
        figures = sum(x.figure is not None for x in lines)
        full = len(lines) >= MOST_LINES or (line.figure is not None and figures >= MOST_FIGURES)
        if lines and (full or about != thought):
            yield thought, lines
            lines = []
        thought = about
        lines.append(line)
    if lines:
        yield thought, lines


def _next_words(group: tuple[str | None, list[Line]]) -> str:
    thought, lines = group
    figure = lines[0].figure
    return thought or (figure.label if figure else lines[0].card)


def _entry(line: Line, segment: Segment) -> Entry:
    if line.figure is not None:
        return Entry(number=line.figure.number, label=line.figure.label, under=line.figure.under, must=line.must)
    label = line.card
    if line.kind == "what" and segment.movement:
        label = "whole, twice" if line.show and line.show.reps else "show it whole"
    return Entry(label=label, must=line.must)
