"""The exact fit: which lines are said in the promised length.

A knapsack on a forest. Each line has tenths, a worth and at most one line that it needs. Must-say lines and all they need
are kept whatever they cost; the rest is chosen for the greatest worth in the tenths that are left, by dynamic
programming over the preorder: to the line at position p, the best from p on is the better of leaving it and all that needs it
out (`best[p + size]`) and of taking it (`worth + best[p + 1]`, shifted by its tenths). Ties go to fewer tenths, then to
earlier lines. One table gives the best for every length.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from briefing.problems import Model


class Item(Model):
    """A line as the fit sees it: whole tenths of a second, a worth of 0 or more, must, the index of what it needs."""

    tenths: int
    worth: int
    must: bool = False
    needs: int | None = None


class Fit(Model):
    """What was chosen: indices in order, their tenths and worth. `shortest_tenths`: the must-say lines alone.

    `fits` is False where the must-say lines alone are longer than the capacity; then exactly they are chosen.
    """

    chosen: tuple[int, ...]
    tenths: int
    worth: int
    shortest_tenths: int
    everything_tenths: int
    fits: bool


def close_must(items: Sequence[Item]) -> frozenset[int]:
    """Give the must-say lines with everything they need, as indices.

    Raises ValueError where needs form a circle.
    """
    must: set[int] = set()
    for index, item in enumerate(items):
        at: int | None = index if item.must else None
        trail: set[int] = set()
        while at is not None and at not in must:
            if at in trail:
                raise ValueError("lines need each other in a circle")
            trail.add(at)
            at = items[at].needs
        must |= trail
    return frozenset(must)


def fit(items: Sequence[Item], capacity_tenths: int | None) -> Fit:
    """Choose the lines of greatest worth that hold all must-say lines and fit; None for no limit.

    Among equal worth the choice with fewer tenths is taken, among those the one with earlier lines (the first line in
    which two choices differ is taken). Cost: lines times the tenths that are left or left out, in plain integers.
    """
    must = close_must(items)
    shortest = sum(items[i].tenths for i in must)
    everything = sum(i.tenths for i in items)
    if capacity_tenths is None or everything <= capacity_tenths:
        return _result(items, range(len(items)), shortest, everything, fits=True)
    room = capacity_tenths - shortest
    if room < 0:
        return _result(items, must, shortest, everything, fits=False)
    order, size = _preorder(items, must)
    table = _table(items, order, size, room)
    chosen = [*must, *_walk(items, order, size, table, room)]
    return _result(items, chosen, shortest, everything, fits=True)


def _result(
    items: Sequence[Item], chosen: Sequence[int] | frozenset[int] | range, shortest: int, everything: int, *, fits: bool
) -> Fit:
    ordered = tuple(sorted(chosen))
    return Fit(
        chosen=ordered,
        tenths=sum(items[i].tenths for i in ordered),
        worth=sum(items[i].worth for i in ordered),
        shortest_tenths=shortest,
        everything_tenths=everything,
        fits=fits,
    )


def _preorder(items: Sequence[Item], must: frozenset[int]) -> tuple[list[int], list[int]]:
    """Give the lines that may be chosen, parents before children, and the size of each one's subtree.

    A line that needs a must-say line needs nothing: that one is there. A circle of needs would never be reached; it is
    refused here.
    """
    children: dict[int | None, list[int]] = {}
    for index, item in enumerate(items):
        if index not in must:
            parent = item.needs if item.needs is not None and item.needs not in must else None
            children.setdefault(parent, []).append(index)
    order: list[int] = []
    size: dict[int, int] = {}
    stack: list[tuple[int, bool]] = [(i, False) for i in reversed(children.get(None, []))]
    starts: dict[int, int] = {}
    while stack:
        index, done = stack.pop()
        if done:
            size[index] = len(order) - starts[index]
            continue
        starts[index] = len(order)
        order.append(index)
        stack.append((index, True))
        stack += [(i, False) for i in reversed(children.get(index, []))]
    if len(order) + len(must) != len(items):
        raise ValueError("lines need each other in a circle")
    return order, [size[i] for i in order]


@dataclass(frozen=True)
class _Row:
    """The best keys from one position on, for the rooms from `low` up; above the last one all that follows goes in."""

    low: int
    keys: list[int]

    def at(self, room: int) -> int:
        """Give the best key for a room."""
        return self.keys[min(room - self.low, len(self.keys) - 1)]

    def between(self, low: int, high: int) -> list[int]:
        """Give the best keys for the rooms from `low` to `high`."""
        keys = self.keys[low - self.low : high - self.low + 1]
        return keys + [self.keys[-1]] * (high - low + 1 - len(keys))


def _table(items: Sequence[Item], order: list[int], size: list[int], room: int) -> list[_Row]:
    """Give, for each position and each room that can be left there, the best key: worth first, then fewer tenths.

    Both stand in one integer, `worth * scale - tenths`, so that a comparison of integers is the comparison we want. What
    stands before a position takes no more than all its tenths, and what follows no more than its own: rooms outside of that
    are not worked out. So the cost is lines times the tenths that are left out, where these are fewer.
    """
    scale = room + 1
    before = [0, *accumulate(items[i].tenths for i in order)]
    best = [_Row(0, [0])] * (len(order) + 1)
    for position in range(len(order) - 1, -1, -1):
        item = items[order[position]]
        low, high = max(0, room - before[position]), min(room, before[-1] - before[position])
        gain, cost = item.worth * scale - item.tenths, item.tenths
        leave = best[position + size[position]].between(low, high)
        first = max(low, cost)
        if first > high:
            best[position] = _Row(low, leave)
            continue
        take_from = best[position + 1].between(first - cost, high - cost)
        # One comprehension over both: this is the innermost loop, and `max` with a generator takes three times as long.
        best[position] = _Row(
            low,
            leave[: first - low]
            + [
                left if left > (taken := gain + below) else taken
                for left, below in zip(leave[first - low :], take_from, strict=True)
            ],
        )
    return best


def _walk(items: Sequence[Item], order: list[int], size: list[int], table: list[_Row], room: int) -> list[int]:
    """Walk the table from the front; where both ways are as good, take the line: earlier lines win."""
    scale = room + 1
    chosen: list[int] = []
    position = 0
    while position < len(order):
        item = items[order[position]]
        if item.tenths <= room:
            taken = item.worth * scale - item.tenths + table[position + 1].at(room - item.tenths)
            if taken >= table[position + size[position]].at(room):
                chosen.append(order[position])
                room -= item.tenths
                position += 1
                continue
        position += size[position]
    return chosen
