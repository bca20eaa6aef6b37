"""Putting a board together: rests - among the work, between rounds, between parts."""

from __future__ import annotations

from briefing.board.drafts import PartDraft, RestDraft, WorkDraft
from briefing.board.hows import Hows
from briefing.board.items import Item
from briefing.board.state import (
    HEADS,
    QUIET,
    SPAN,
)
from briefing.board.tokens import Quantity
from briefing.units import write_clock


class Rests(Hows):
    """Reads rests."""

    def _rest(self, item: Item) -> bool | None:
        token = item.get("t")
        far = item.get("q")
        seconds = self._seconds(token, bare="rest") if token is not None else None
        at_most = None
        if token is not None and token.value.form == "range":
            factor = 1 if token.value.unit == "s" else (1 if token.value.values[0] >= 15 else 60)
            at_most = round(token.value.values[1] * factor)
        doing = (
            self.lines[self.at].text[item["d"].start : item["d"].end].strip().lower()
            if item.get("d") is not None
            else None
        )
        if far is not None:
            doing = f"{self.lines[self.at].text[far.start : far.end].strip()} {doing}"
        told = (
            "rest "
            + (write_clock(seconds) + (f"-{write_clock(at_most)}" if at_most else "") if seconds else "as needed")
            + (f", {doing}" if doing else "")
        )
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
        if not between and part.has_work and not self.depth and self._work_goes_on():
            # Work of the same round follows: a rest among it.
            part.body.entries.append(RestDraft(self.lines[self.at].number, seconds, at_most, doing, self.label))
            return None
        windowed = (
            part.goal == "most" and part.window_s is not None and ((part.windows or 1) > 1) and not part.intervals
        )
        if windowed and self.label is None and (between or not part.gap_s or not part.has_work):
            self._as_gap(part, seconds, doing, item)
            return None
        first_gap = part.intervals and not part.gap_s and seconds and not part.has_work
        if first_gap or (part.max_reps and part.window_s and part.has_work and not part.gap_s and seconds):
            part.gap_s, part.gap_doing = seconds or 0, doing
            return None
        if not between and part.has_work and self._between_parts(part):
            part.rest_after_s += seconds or 0
            self.piece.told = f"{told} before the next part"
            return None
        head_line = not part.has_work and (part.body.rounds or part.goal or part.sets)
        in_block = self.block is not None
        if between or part.sets or head_line or in_block or self._is_list_of_sets(part):
            self._between(part, seconds, at_most, doing, item)
            return None
        part.body.entries.append(RestDraft(self.lines[self.at].number, seconds, at_most, doing, self.label))
        return None

    def _work_goes_on(self) -> bool:
        """Say whether the next thing that is said is a line of work of this round."""
        for index, item in self._items_behind():
            if item.kind in QUIET or item.kind == "label":
                continue
            return item.kind in {"work", "most", "work_side"} and not (
                index > self.at and self.lines[index].blank_before
            )
        return False

    def _is_list_of_sets(self, part: PartDraft) -> bool:
        return part.goal is None and len(part.works) == 1 and bool(part.works[0].by_round)

    def _between(
        self, part: PartDraft, seconds: int | None, at_most: int | None, doing: str | None, item: Item
    ) -> None:
        # What is done once behind the rounds has no rounds of its own: a rest below it stands between those above it.
        body = next((c for c in reversed(part.cycles) if c.role == "body"), part.body)
        if body.block and not self.depth:
            body.block_rest_s = seconds or 0
            self.piece.told = (self.piece.told or "").replace("rounds", "sets of rounds")
            return
        if body.rest_said and body.rest_between_s != seconds:
            a, b = (write_clock(s) if s else "as needed" for s in (body.rest_between_s, seconds))
            self.worker.error(
                "rests-differ",
                f"between two rounds the rest is {a}, and a rest of {b} is written as well",
                "one of the two",
                self._place(item),
            )
            return
        body.rest_between_s, body.rest_at_most_s, body.rest_doing, body.rest_said = seconds, at_most, doing, True

    def _as_gap(self, part: PartDraft, seconds: int | None, doing: str | None, item: Item) -> None:
        if part.gap_s and seconds and part.gap_s != seconds:
            gap, rest = write_clock(part.gap_s), write_clock(seconds)
            message = f"between two stretches the rest is {gap}, and a rest of {rest} is written as well"
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
        return first is not None and (
            first.kind in HEADS or first.kind in {"part", "heading"} or bool(SPAN.match(nxt.text))
        )

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
        seconds = self._seconds(item["t"])
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
        seconds = self._seconds(item["t"])
        if part is not None and seconds:
            part.rest_after_s += seconds
            part.rest_parts = True
        self.piece.told = f"rest {write_clock(seconds or 0)} between parts"

    def _no_rest(self, _: Item) -> None:
        self.piece.told = "no rest"

    def _ready(self, item: Item) -> bool | None:
        return self._manner(item)
