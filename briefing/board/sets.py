"""Putting a board together: sets of something, blocks of sets, complexes."""

from __future__ import annotations

from collections.abc import Sequence

from briefing.board.drafts import CycleDraft, LoadDraft, PartDraft, WorkDraft
from briefing.board.items import Item
from briefing.board.tokens import LoadWords, Quantity
from briefing.board.works import Works
from briefing.units import write_clock, write_number


class Sets(Works):
    """Reads sets."""

    def _sets_of(self, item: Item) -> bool | None:
        sets = self._rounds_of(item["s"], item)
        if sets is None:
            return None
        if item["s"].value.form == "range":
            low, high = (int(v) for v in item["s"].value.values)
            self.worker.ask(
                "rounds-range",
                f'"{item["s"].value.written}" was read as {low} sets',
                f"{low} sets   (or: {high} sets)",
                self._place(item),
            )
        name = item.get("n")
        quantity = item["a"].value if item.get("a") is not None else None
        part = self.part
        if (
            name is not None
            and quantity is not None
            and name.start < item.start + 1
            and self._is_reps_by_rounds(sets, quantity)
            and len(self.line_works) > 0
        ):
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
            part.sets, part.goal = True, part.goal or "complete"
            part.body.rounds, part.body.block = self.block * sets, sets
            self._put(part, draft)
            return None
        if part is not None and part.goal == "time" and not part.has_work and part.body.rounds is None:
            part.body.rounds = sets
            self._put(part, draft)
            return None
        listed = part is not None and part.body.numbers is not None and name is not None and name.start == item.start
        if listed and sets in {1, 2} and quantity is not None and quantity.unit is None and quantity.form == "one":
            # "front squat, 2x16" below a list of numbers: two of sixteen kilos.
            draft.amount = None
            draft.load = LoadDraft(words=LoadWords(quantity.values, None, sets, f"{sets} x {quantity.written.strip()}"))
            self._add(draft)
            return None
        inside = part is not None and part.goal in {"time", "most"} and not part.superset
        if (
            part is not None
            and inside
            and quantity is not None
            and quantity.form == "one"
            and (part.has_work or part.body.rounds or part.window_s)
        ):
            # "sled push 2 x 15 m" in the rounds of a workout: thirty metres of it.
            draft.amount = Quantity("one", (sets * quantity.values[0],), quantity.unit, f"{sets} x {quantity.written}")
            draft.notes.append(f"{sets} x {quantity.written.strip()}")
            self._add(draft)
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
        return (
            quantity.form == "one"
            and quantity.unit is None
            and quantity.values[0] < first
            and first > 12
            and quantity.values[0] <= 10
        )

    def _sets_without_name(self, item: Item, sets: int, quantity: Quantity | None) -> bool | None:
        """Read `4 x 300 m` below "Track", `5x5` behind its movement, `then 1 x max` of the same."""
        last = self.last
        if (
            last is not None
            and last.amount is None
            and not last.most
            and not last.by_round
            and self.part is not None
            and last in self.part.body.entries
        ):
            self.part.body.entries.remove(last)
            last.amount, last.most = quantity, quantity is None
            self._as_sets(last, sets)
            return None
        if self.then and last is not None and self.part is not None and self.part.goal == "heaviest":
            # "build to a heavy double, then 3 x 2 @ 85 %": sets of the same lift.
            again = last.again(self.lines[self.at].number, item.start, item.end, quantity)
            self._as_sets(again, sets)
            self.then = False
            return None
        if (
            self.depth
            and last is not None
            and last.amount is not None
            and last.amount.form == "one"
            and quantity is not None
        ):
            self._lengths(item, last, sets, quantity)
            return None
        if self.then and last is not None and self.part is not None and self.part.sets:
            again = last.again(self.lines[self.at].number, item.start, item.end, quantity)
            self.part.cycles.append(
                CycleDraft(
                    rounds=sets, rest_between_s=self.part.body.rest_between_s, rest_said=self.part.body.rest_said
                )
            )
            self._put(self.part, again)
            self.then = False
            return None
        if quantity is not None and quantity.unit == "m":
            draft = self._draft_of_distance(item, quantity)
            if self.block is not None:
                part = self._open()
                part.sets, part.goal = True, part.goal or "complete"
                part.body.rounds, part.body.block = self.block * sets, sets
                self._put(part, draft)
                return None
            self._as_sets(draft, sets)
            return None
        if (
            quantity is not None
            and quantity.unit == "s"
            and quantity.form == "one"
            and self.venue is not None
            and not self._work_ahead()
        ):
            draft = self._draft_of(item, None)
            draft.amount = quantity
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

    def _lengths(self, item: Item, last: WorkDraft, count: int, quantity: Quantity) -> None:
        """Read `40 m (4 x 10)`: a distance in lengths; lengths that do not make the distance are asked about."""
        whole = last.amount.values[0] if last.amount is not None else 0
        if count * quantity.values[0] != whole:
            each, made = quantity.values[0], count * quantity.values[0]
            message = (
                f"{count} times {write_number(each)} make {write_number(made)}, and {write_number(whole)} are written"
            )
            self.worker.ask("lengths-differ", message, None, self._place(item))
        unit = "m" if last.amount is not None and last.amount.unit == "m" else ""
        last.notes.append(f"{count} {'lengths of' if unit else 'x'} {write_number(quantity.values[0])} {unit}".strip())

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
        self.piece.told = f"{rounds} sets of:"

    def _complex_of(self, item: Item) -> bool | None:
        """Read `1+1+1`: how much of each of the movements that follow, or that stand in front of it."""
        counts = item["c"].value
        part = self._open()
        waiting = [w for w in part.body.works if w.amount is None and not w.most]
        if not self.line_works and len(waiting) >= len(counts):
            self.line_works.extend(waiting[-len(counts) :])
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

    def _complex(self, item: Item) -> None:
        part = self._open()
        part.complex = True
        if item.get("l") is not None:
            part.load = self._load_draft(item)
        self.piece.told = "complex" + (f" @ {part.load.words.written}" if part.load and part.load.words else "")

    def _all_loads(self, _: Item) -> bool:
        return False

    def _superset(self, _: Item) -> None:
        part = self.part
        if part is not None:
            part.superset = True
        self.piece.told = "superset"
