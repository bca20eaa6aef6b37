"""Putting a board together: the forms that say how a part is done."""

from __future__ import annotations

import re

from briefing.board.clauses import Clauses
from briefing.board.cover import cover, name_of
from briefing.board.drafts import CycleDraft, InterruptDraft, PartDraft, Said
from briefing.board.items import Item
from briefing.board.state import LONGEST_S, WORKS
from briefing.board.tokens import Quantity, Token
from briefing.units import write_clock, write_number


class Heads(Clauses):
    """Reads forms."""

    def _for_time(self, item: Item) -> None:
        sets = self.part
        if sets is not None and sets.sets and sets.has_work and sets.goal == "complete" and not self._work_ahead():
            # "3 x 400 m, … for time": the sets are rounds, and the time counts.
            sets.sets, sets.goal = False, None
        part = self._begin(item)
        self._goal(part, "time", item)
        self._say("goal", item, twice=True)
        token = item.get("t")
        if token is not None:
            part.cap_s = self._seconds(token)
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
            self.worker.ask(
                "rounds-range",
                f'"{token.value.written}" was read as {low} rounds',
                f"{low} rounds   (or: {high} rounds)",
                self._place(item),
            )
        if part.intervals:
            part.windows = rounds
        part.body.rounds = rounds

    def _rounds(self, item: Item) -> bool | None:
        before = self.part
        bare = self.last if self.last is not None and self.last in self.line_works else None
        by_sign = self.lines[self.at].text[item.start : item.start + 1] in "x×X"
        if (
            bare is not None
            and by_sign
            and bare.amount is None
            and not bare.most
            and not bare.by_round
            and item.get("n") is not None
        ) and (before is None or (before.body.numbers is None and not before.intervals)):
            # "bridge with a ball x 10": its number stands behind the remark.
            bare.amount, bare.end = item["n"].value, item.end
            return None
        only = (
            before.works[0]
            if before is not None and len(before.works) == 1 and before.works[0].by_round and before.sets
            else None
        )
        written = self.lines[self.at].text[item.start : item.end].lower()
        if before is not None and only is not None and "ladder" in written:
            times = self._rounds_of(item["n"], item) if item.get("n") is not None else 1
            before.body.block, only.by_round = len(only.by_round), only.by_round * (times or 1)
            before.body.rounds = len(only.by_round)
            self.piece.told = f"{times} ladders"
            return None
        body = before.body if before is not None else None
        if (
            before is not None
            and before.has_work
            and body is not None
            and body.rounds is None
            and body.numbers is None
            and not self._work_ahead()
        ):
            part = before  # "… x 3 rounds" behind its work
        else:
            part = self._begin(item)
        if part.total_s is not None and part.window_s:
            # "EMOM 24 (4 rounds)": how often one gets through; the time is written already.
            part.rounds_said = self._rounds_of(item["n"], item) if item.get("n") is not None else 2
            self.piece.told = f"{part.rounds_said} rounds"
            return None
        if (
            part.body.numbers is not None
            and part.body.rounds is None
            and not part.body.numbers.step
            and self._same_line("numbers")
        ):
            self._ladder_again(part, item)
            return None
        if part.window_s is not None and part.goal == "complete" and part.windows is None and part.span_s is None:
            rounds = self._rounds_of(item["n"], item) if item.get("n") is not None else 2
            if part.has_work and any(e.label for e in part.body.entries):
                part.rounds_through = rounds
            else:
                part.windows = rounds
            self.piece.told = f"{rounds} rounds"
            return None
        if (
            part.goal == "most"
            and part.window_s is not None
            and part.max_reps
            and part.windows is None
            and item.get("n") is not None
        ):
            part.windows, part.intervals, part.max_reps = self._rounds_of(item["n"], item), True, False
            self.piece.told = f"{part.windows} rounds"
            return None
        if part.goal == "most" and part.window_s is not None and not part.intervals:
            self._rounds_with_amrap(part, item)
            return None
        if part.body.rounds is not None and part.body.rounds > 1:
            _, _, written = self._here(item)
            self.worker.ask(
                "rounds-twice",
                f'"{written}" stands here, and {part.body.rounds} rounds are written above',
                f"{part.body.rounds} rounds   (or: {written})",
                self._place(item),
            )
            return None
        self._set_rounds(part, item)
        self._say("rounds", item, twice=True)
        self.piece.told = f"{part.body.rounds or '?'} rounds"
        return None

    def _same_line(self, kind: str) -> bool:
        """Say whether an item of some kind stands in front of this one on its line."""
        return any(i.kind == kind for i in self.lines[self.at].reading.items[: self.here])

    def _ladder_again(self, part: PartDraft, item: Item) -> None:
        """Read `2-3-4-5 x 3`: the whole list three times, with what rest stands between the lists."""
        times = self._rounds_of(item["n"], item) if item.get("n") is not None else 2
        numbers = part.body.numbers
        if times is None or numbers is None:
            return
        part.body.block = len(numbers.values)
        part.body.numbers = Quantity(
            numbers.form, numbers.values * times, numbers.unit, numbers.written, numbers.step, numbers.odd
        )
        self.piece.told = f"{times} times"

    def _back_down(self, _: Item) -> bool | None:
        """Read `4-8-12-16 then back down`: the same numbers the other way, the last one once."""
        part = self.part
        if part is None or part.body.numbers is None or part.body.numbers.step:
            return False
        numbers = part.body.numbers
        part.body.numbers = Quantity(
            numbers.form, (*numbers.values, *numbers.values[-2::-1]), numbers.unit, numbers.written, 0, numbers.odd
        )
        self.piece.told = "-".join(write_number(v) for v in part.body.numbers.values)
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
        self.piece.told = (f"{part.body.rounds} rounds " if item.get("n") is not None else "") + "not for time"

    def _sets(self, item: Item) -> None:
        before = self.part
        complexes = any(i.kind == "complex_of" for i in self.lines[self.at].reading.items)
        if (
            before is not None
            and before.has_work
            and not before.sets
            and before.goal is None
            and (complexes or not self._work_ahead())
        ):
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
        part.window_s = self._seconds(item["t"])
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        if item.get("o") is not None:
            part.gap_s = self._seconds(item["o"]) or 0
        if rounds is not None and rounds > 1 and part.window_s:
            written = part.said["rounds"].written if "rounds" in part.said else f"{rounds} rounds"
            time = write_clock(part.window_s)
            cannot = f'"{written}" and an AMRAP of {time}: an AMRAP has as many rounds as there is time for'
            message = f"{cannot}; it was read as one AMRAP {time}"
            self.worker.ask(
                "rounds-and-amrap",
                message,
                f"AMRAP {time}   (or: {rounds} x AMRAP {time}, or: {rounds} rounds for time, cap {time})",
                self._place(item),
            )
            part.body.rounds = None
        if part.cap_s is not None:
            self._cap_with_time(part, item)
        many = f"{part.windows} x " if part.windows else ""
        self.piece.told = f"{many}AMRAP {write_clock(part.window_s or 0)}" + (
            f" / {write_clock(part.gap_s)} off" if part.gap_s else ""
        )

    def _amrap_open(self, item: Item) -> None:
        if self.label is not None and self.label.startswith("p"):
            part = self._open()
            part.team_rule = "relay"
            part.team = part.team or ["in pairs, one works until the other is back"]
            self.piece.told = "as much as possible"
            return
        part = self._begin(item)
        if part.window_s is None and self.duration_s is not None:
            part.window_s, self.duration_s = self.duration_s, None
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.open_rounds = True
        self.piece.told = "AMRAP" + (f" {write_clock(part.window_s)}" if part.window_s else "")

    def _emom(self, item: Item) -> bool | None:
        inside = self.part
        if (
            inside is not None
            and inside.has_work
            and inside.goal in {"time", "most"}
            and item.get("m") is None
            and item.get("t") is None
        ):
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
            part.total_s = self._seconds(token)
            told = write_clock(part.total_s or 0)
        self.piece.told = f"every {write_clock(part.window_s or 0)} for {told}"
        return None

    def _emom_open(self, item: Item) -> bool | None:
        if self._is_forced():
            return self._every_open(item)
        same = self.part
        if same is not None and same.has_work and same.window_s == item["e"].value and not self._work_ahead():
            self.piece.told = f"every {write_clock(same.window_s or 60)}"
            return None
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
        part.window_s = self._seconds(item["e"])
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        elif item.get("t") is not None:
            part.total_s = self._seconds(item["t"])
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
        every_s = item["e"].value if item["e"].kind == "emom" else self._seconds(item["e"])
        if every_s is None:
            return None
        if self._is_forced():
            self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, every_s=every_s)
            self._open().interrupts_drafted.append(self.interrupt)
            self.piece.told = f"every {write_clock(every_s)}"
            return None
        sets = self.part
        if sets is not None and sets.sets and sets.has_work and not self._work_ahead():
            # "5 x 3 squats, every 2:30": a set at each start.
            sets.sets, sets.windows, sets.window_s = False, sets.body.rounds, every_s
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
        every_s = item["e"].value if item["e"].kind == "emom" else self._seconds(item["e"])
        token = item.get("f")
        from_s = 0
        if token is not None and token.value.values[0] > 0:
            from_s = self._seconds(token) or 0
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
        tokens = [t for n in ("t", "u", "v", "w") if (t := item.get(n)) is not None]
        # "at 3, 6 and 9 min": what the last one counts, all of them count; the start is a time, too.
        times = sorted({round(q.values[0] * (1 if q.unit else 60)) for t in tokens if (q := t.value)})
        if times[-1] > LONGEST_S:
            return False
        self.interrupt = InterruptDraft(self.lines[self.at].number, item.start, times_s=tuple(times))
        self._open().interrupts_drafted.append(self.interrupt)
        self.piece.told = "at " + " and ".join(write_clock(t) for t in times)
        return None

    def _on_break(self, item: Item) -> bool | None:
        items = self.lines[self.at].reading.items[self.here + 1 :]
        if not any(i.kind in WORKS for i in items):
            return False
        words = self.lines[self.at].text[item["b"].start : item["b"].end].strip().lower()
        words = re.sub(r"^(?:on |every |each |for )+", "", words)
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
        drafted[-1].from_s = 0 if token is None or token.value.values[0] == 0 else self._seconds(token)
        self.piece.told = f"from {write_clock(drafted[-1].from_s or 0)}"
        return None

    def _intervals(self, item: Item) -> None:
        part = self._begin(item)
        pair = item.get("wr")
        if pair is not None:
            work_s, rest_s = (round(v) for v in pair.value.values)
            written = pair.value.written
            if not work_s or not rest_s:
                self.worker.error(
                    "number-zero", f'"{written.strip()}" has a time that is none', None, self._place(item)
                )
                part.broken = True
        else:
            work_s = self._interval_s(item["w"]) or 0
            rest_s = self._interval_s(item["r"]) or 0
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.intervals = True
        part.window_s, part.gap_s = work_s, rest_s
        whole = item.get("t")
        if whole is not None:
            part.total_s = self._seconds(whole)
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        how, easy = item.get("h"), item.get("e")
        if how is not None and how.kind == "how_hard":
            part.work_how = how.value
        if easy is not None and easy.kind in {"how_hard", "doing"}:
            part.gap_doing = self.lines[self.at].text[easy.start : easy.end].strip().lower()
        many = f" for {part.windows} rounds" if part.windows else ""
        doing = f" {part.gap_doing}" if part.gap_doing else " off"
        self.piece.told = f"{write_clock(work_s)} on / {write_clock(rest_s)}{doing}{many}"

    def _interval_s(self, token: Token) -> int | None:
        """In `40 on 20 off` bare numbers are seconds."""
        quantity: Quantity = token.value
        if quantity.unit is None:
            return round(quantity.values[0])
        return self._seconds(token)

    def _stretch(self, item: Item) -> None:
        part = self._begin(item)
        self._goal(part, "most", item)
        self._say("goal", item, twice=True)
        part.intervals = True
        part.window_s = self._seconds(item["w"])
        if item.get("n") is not None:
            part.windows = self._rounds_of(item["n"], item)
        self.piece.told = f"{write_clock(part.window_s or 0)} on"

    def _station_time(self, item: Item) -> bool | None:
        """Read `2 min each station`: a stretch of time for each of the lines below."""
        part = self.part
        if part is not None and part.has_work:
            return False
        part = self._open()
        self._goal(part, "most", item)
        part.intervals = True
        part.window_s = self._seconds(item["t"])
        self.piece.told = f"{write_clock(part.window_s or 0)} each"
        return None

    def _build(self, item: Item) -> bool | None:
        token = item.get("n") or item.get("k") or item.get("r")
        clock = item.get("t")
        reps = (
            1
            if token is None
            else int(token.value.values[0])
            if isinstance(token.value, Quantity)
            else int(token.value)
        )
        waiting = self.pending or (
            self.last if self.last in self.line_works and self.last is not None and self.last.amount is None else None
        )
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
        if clock is not None:
            part.window_s = self._seconds(clock)
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
        part.window_s = self._seconds(item["t"])
        self.piece.told = f"max reps in {write_clock(part.window_s or 0)}"

    def _numbers(self, item: Item) -> bool | None:
        quantity: Quantity = item["l"].value
        if not all(0 < v <= 1000 for v in quantity.values):
            value = next(v for v in quantity.values if not 0 < v <= 1000)
            self.worker.error(
                "number-zero" if value <= 0 else "number-absurd",
                f'"{quantity.written.strip()[:40]}" holds {write_number(value)}, which is no number of repetitions',
                None,
                self._place(item),
            )
            self._open().broken = True
            return None
        waiting = self.pending
        part = self.part
        only = part.works[0] if part is not None and part.sets and len(part.works) == 1 else None
        if only is not None and only.amount is None and not only.by_round and not only.most:
            # "Front squat, 6 sets: 5-5-3-3-1": the numbers of its sets.
            only.by_round = [
                (Quantity("one", (v,), quantity.unit, write_number(v)), None, False) for v in quantity.values
            ]
            self._sets_and_list(self._open(), len(quantity.values), item)
            self.piece.told = "-".join(write_number(v) for v in quantity.values)
            return None
        if waiting is not None:
            # "Back squat" above "5-5-3-3-1": sets of it.
            waiting.by_round = [(Quantity("one", (v,), quantity.unit, str(v)), None, False) for v in quantity.values]
            self._as_sets(waiting, len(quantity.values))
            self.pending = None
            self.piece.told = "-".join(write_number(v) for v in quantity.values)
            return None
        if (
            part is not None
            and part.has_work
            and part.body.numbers is None
            and part.goal is None
            and not self._work_ahead()
        ):
            pass  # the list stands below its work
        elif (
            part is not None
            and part.has_work
            and (part.body.numbers is not None or part.body.rounds)
            and (self.then or self._list_goes_on(part, item))
        ):
            part.cycles.append(CycleDraft())
            self.then = False
        else:
            part = self._begin(item)
        part = self._open()
        part.body.numbers = quantity
        if item.get("s") is not None:
            part.each_side = item["s"].value or "side"
        unit = item.get("u")
        if unit is not None and quantity.unit is None:
            part.body.numbers = Quantity(
                quantity.form,
                quantity.values,
                unit.value if unit.value != "reps" else None,
                quantity.written,
                quantity.step,
                quantity.odd,
            )
        part.said.setdefault("numbers", Said(self.lines[self.at].number, *self._here(item)))
        if self.duration_s is not None and part.window_s is None and part.cap_s is None:
            part.window_s, self.duration_s = self.duration_s, None
        self.piece.told = "-".join(write_number(v) for v in quantity.values) + ("-…" if quantity.step else "")
        return None

    def _sets_and_list(self, part: PartDraft, count: int, item: Item) -> None:
        rounds = part.body.rounds
        if rounds is not None and rounds != count:
            message = f"{rounds} sets are written, and {count} numbers: it was read as {count} sets"
            self.worker.ask("sets-and-list", message, f"{count} sets   (or: {rounds} numbers)", self._place(item))
        part.body.rounds = count

    def _list_goes_on(self, part: PartDraft, item: Item) -> bool:
        """Say whether another list right below belongs to the same clock: no blank line, no form of its own."""
        own = "for" in self.lines[self.at].text[item["l"].end : item.end].lower()
        return part.goal == "time" and not own and not self.lines[self.at].blank_before

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
