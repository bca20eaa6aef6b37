"""Putting a board together: how a line is done - loads, sides, efforts, remarks, other ways to do it."""

from __future__ import annotations

import re

from briefing.board.cover import Reading, name_of
from briefing.board.drafts import LoadDraft, RestDraft, WorkDraft
from briefing.board.items import Item
from briefing.board.reasons import reasons_of
from briefing.board.sets import Sets
from briefing.board.state import QUIET, WORKS, closing, is_weight
from briefing.board.tokens import LoadWords, Quantity
from briefing.board.vocabulary import KG_OF, VENUES


class Hows(Sets):
    """Reads how a line is done."""

    def _load(self, item: Item) -> bool | None:
        load = self._load_draft(item)
        return self._attach_load(load)

    def _attach_load(self, load: LoadDraft) -> bool | None:
        last = self.last_option if self.last_option is not None else self.last
        part = self.part
        if self.pending is not None and not self.pending.by_round:
            self.pending.load = load
            return None
        if last is not None and last.by_round and last.by_round[-1][1] is None and last in self.line_works:
            quantity, _, most = last.by_round[-1]
            last.by_round[-1] = (quantity, load, most)
            return None
        if part is None and last is None:
            # "KB 20" above everything: the load of what follows.
            self._open().load = load
            self.piece.told = f"load: {load.words.written if load.words else load.kit}"
            return None
        if not self.line_works and self.last_option is None and part is not None:
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
            return self._same_load(last.load.words, load.words)
        last.load = load
        return None

    def _same_load(self, first: LoadWords, again: LoadWords | None) -> bool | None:
        """Read `102.5 kg (225 lb)`: the same weight in another unit; another weight is a question."""
        if again is None or len(first.values) != len(again.values) or "bw" in {first.unit, again.unit}:
            return False
        kilos = [[v * KG_OF[w.unit or "kg"] for v in w.values] for w in (first, again)]
        if all(abs(a - b) <= 0.03 * max(a, b) for a, b in zip(*kilos, strict=True)):
            self.piece.told = again.written
            return None
        return False

    def _pause(self, item: Item) -> bool | None:
        last = self._of_last() or (self.part.works[-1] if self.part is not None and self.part.works else None)
        if last is None:
            return False
        last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
        self.piece.told = last.notes[-1]
        return None

    def _two_numbers(self, item: Item) -> bool | None:
        last = self.last_option if self.last_option is not None else self.last
        if last is None:
            return False
        pair = item["p"].value
        if (
            pair.values[0] == pair.values[1]
            and last.amount is not None
            and last.amount.form == "one"
            and last in self.line_works
        ):
            last.own_side = Quantity("one", pair.values[:1], last.amount.unit, pair.written)
            return None
        movement = self.naming.library.get(last.name.slug) if last.name.slug else None
        if movement is None and "box" in last.name.written.lower().split():
            last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
            return None
        if (
            movement is not None
            and any("box" in k.names for k in movement.kit)
            and not any(is_weight(n) for k in movement.kit for n in k.names)
        ):
            last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
            return None
        if (
            movement is not None
            and last.amount is None
            and not last.most
            and not any(is_weight(n) for k in movement.kit for n in k.names)
        ):
            last.amount = item["p"].value
            return None
        return self._attach_load(self._pair_as_load(item["p"]))

    def _kit(self, item: Item) -> bool | None:
        token = item["k"]
        count, kit = token.value if token.kind == "count_kit" else (1, token.value)
        last = self.last
        if last is None and token.kind == "count_kit":
            self.venue = {"rower": "row", "bike": "ride"}.get(kit, self.venue or "") or None
            self.piece.told = self.lines[self.at].text[item.start : item.end].strip()
            return None
        if last is None or last not in self.line_works:
            return self._manner(item)
        if last.load is None:
            last.load = LoadDraft(count=count, kit=kit, start=item.start, end=item.end)
        else:
            last.load.count, last.load.kit = max(last.load.count, count), last.load.kit or kit
        return None

    def _percent(self, item: Item) -> bool | None:
        value, _high, _of, written = item["p"].value
        load = LoadDraft(percent=value, percent_written=written, start=item.start, end=item.end)
        if value <= 0 or value > 300:
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
        if last.load is None:
            last.load = load
        elif last.load.percent is None:
            last.load.percent, last.load.percent_written = value, written
        return None

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
        if last is None or (last not in self.line_works and last is not self.last_option):
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
        if last is None or (last not in self.line_works and last is not self.last_option):
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
        part = self.part
        if part is not None and not self.line_works and part.window_s is not None and part.goal in {"complete", "most"}:
            part.alternating = True
            self.piece.told = "one line after the other"
            return None
        if last is None or (last not in self.line_works and last is not self.last_option):
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
        if last is None or (last not in self.line_works and last is not self.last_option):
            return self._manner(item)
        last.notes.append(words)
        return None

    def _open_bracket(self, item: Item) -> bool | None:
        line = self.lines[self.at].text
        shut = closing(line, item.start)
        inner = line[item.end : shut] if shut is not None else line[item.end :]
        found = reasons_of(inner)
        target = self._of_last()
        if inner.strip().lower() in {"t", "total", "in all", "in total"} and target is not None:
            target.total = True
            self._set_aside(item, shut)
            self.depth += 1
            return None
        if (
            found is None
            and self.last_option is not None
            and not re.search(r"\d", inner)
            and not self._names_in(item.end, shut)
        ):
            self.worker.ask(
                "unknown-reason",
                f'"{inner.strip()}" is not one of the reasons for another version that the tool knows; it is kept as written',
                None,
                self.text.place(self.lines[self.at].number, item.end + 1, item.end + 1 + len(inner)),
            )
            found = ((), (inner.strip().lower(),))
        if found is not None and target is not None:
            self._reasons(item, inner, found, target, shut if shut is not None else len(line))
        if shut is not None and found is None and not self.line_works and self._is_remark(item.end, shut, inner):
            self._set_aside(item, shut)
            self.piece.kind = "remark"
            self.depth += 1
            return None
        if (
            shut is not None
            and found is None
            and target is not None
            and target in self.line_works
            and self._is_remark(item.end, shut, inner)
        ):
            target.notes.append(inner.strip())
            self._set_aside(item, shut)
            self.depth += 1
            return None
        if self.depth == 0:
            self.bracket_of = self.last if self.last in self.line_works else None
        self.depth += 1
        return None

    def _is_remark(self, start: int, end: int, inner: str) -> bool:
        """Say whether a bracket holds words alone, no number, no movement that is known and no form: a remark on its line."""
        if re.search(r"\d", inner):
            return False
        items = [i for i in self.lines[self.at].reading.items if i.start >= start and i.end <= end]
        small = {
            "remark",
            "filler",
            "kit",
            "note",
            "or",
            "manner",
            "how_hard",
            "joiner",
            "work",
            "oneside",
            "then",
            "rest_word",
        }
        known = any((n := name_of(i)) is not None and n.slug is not None for i in items)
        return (
            bool(items)
            and all(i.kind in small for i in items)
            and not known
            and not all(i.kind in {"unit", "total"} for i in items)
        )

    def _or_follows(self) -> bool:
        nxt = next((i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in QUIET), None)
        return nxt is not None and nxt.kind == "or"

    def _names_in(self, start: int, end: int | None) -> bool:
        """Say whether a known movement stands between two columns."""
        items = [i for i in self.lines[self.at].reading.items if i.start >= start and (end is None or i.end <= end)]
        return any((n := name_of(i)) is not None and n.slug is not None for i in items)

    def _set_aside(self, item: Item, shut: int | None) -> None:
        """What stands in this bracket has been read as a whole: nothing else reads it."""
        line = self.lines[self.at]
        end = len(line.text) if shut is None else shut
        items = (
            Item("in_reason", i.start, i.end, {}, 0.0) if item.start < i.start < end and i.kind != "close" else i
            for i in line.reading.items
        )
        line.reading = Reading(line.text, tuple(items), 0.0)

    def _reasons(
        self, item: Item, inner: str, found: tuple[tuple[str, ...], tuple[str, ...]], target: WorkDraft, shut: int
    ) -> None:
        """Read the reasons in a bracket; what stands in it is read by nobody else."""
        reasons, written = found
        line = self.lines[self.at]
        self._set_aside(item, shut)
        for above in self._all_drafts():
            for at, (draft, _, _) in enumerate(above.options):
                if draft is target:
                    above.options[at] = (draft, reasons, written)
                    self.piece.told = f"({', '.join(written)})"
                    return
        place = self.text.place(line.number, item.start + 1, shut + 2)
        self.worker.ask(
            "reason-without-option",
            f'"({inner})" is a reason, and a reason stands behind an option',
            f"below this line:  or … ({inner})",
            place,
        )
        target.notes.append(inner.strip())

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
        self.slash = sign in {"/", "|"}
        if sign in ";." or (sign == "," and not self.depth):
            if sign == "," and self.option_next and self.last_option is not None and not self._or_follows():
                # "500 m row or 400 m run, 20 push-ups": what follows is the next line of work.
                self.option_next, self.option_of = False, None
            elif not self.option_next:
                self.last_option = None
        if sign == ".":
            self.interrupt = self.once = None
        if sign in {"&", ">"}:
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
        venue = next((VENUES[w] for w in re.findall(r"[^\W\d_]+", words.lower()) if w in VENUES), None)
        if venue is not None and not self.line_works:
            self.venue, self.piece.kind, self.piece.told = venue, "title", words
            return None
        last = self._of_last()
        if last is not None and last in self.line_works and not re.search(r"\d", words):
            last.notes.append(words)
            return None
        return False

    def _or(self, item: Item) -> bool | None:
        behind = [
            i
            for i in self.lines[self.at].reading.items[self.here + 1 :]
            if i.kind in WORKS or i.kind in {"amount", "most_open"}
        ]
        if not behind:
            return False
        above = self.last
        if above is None or (
            self.part is not None
            and self.part.body.entries
            and isinstance(self.part.body.entries[-1], RestDraft)
            and not self.line_works
        ):
            start = item.end
            self.worker.error(
                "option-without-line",
                "there is no line of work directly above that this could stand instead of",
                None,
                self.text.place(
                    self.lines[self.at].number, start + 2 if start < len(self.lines[self.at].text) else start + 1
                ),
            )
            rest = [i for i in self.lines[self.at].reading.items if i.start > item.start]
            if rest:
                self._set_aside(item, len(self.lines[self.at].text))
            return None
        self.option_next, self.option_of = True, self.option_of or above
        self.piece.told = "or"
        return None
