"""Putting a board together: what goes with a form - caps, sections, stations, teams, scores."""

from __future__ import annotations

import re

from briefing.board.drafts import CycleDraft, PartDraft, WorkDraft
from briefing.board.items import Item
from briefing.board.naming import NameRead
from briefing.board.rests import Rests
from briefing.board.state import HEADS, QUIET, WORKS
from briefing.board.tokens import Quantity, Token
from briefing.units import write_clock


class Clauses(Rests):
    """Reads what goes with a form."""

    def _cap(self, item: Item) -> bool | None:
        word = item.get("w")
        if word is not None:
            self.worker.error(
                "time-unreadable",
                f'"{self.lines[self.at].text[word.start : word.end]}" is not a time',
                None,
                self.text.place(self.lines[self.at].number, word.start + 1, word.end + 1),
            )
            self._open().broken = True
            return None
        part = self._open()
        if not self._say("cap", item):
            return None
        part.cap_s = self._seconds(item["t"])
        if part.goal == "most" and part.window_s:
            self._cap_with_time(part, item)
        self.piece.told = f"cap {write_clock(part.cap_s)}" if part.cap_s else None
        return None

    def _cap_with_time(self, part: PartDraft, item: Item) -> None:
        if part.cap_s == part.window_s or part.window_s is None or part.cap_s is None:
            part.cap_s = None
            return
        time, cap = write_clock(part.window_s), write_clock(part.cap_s)
        self.worker.ask(
            "cap-and-time",
            f"an AMRAP of {time} with a cap of {cap}: it was read as AMRAP {time}, without a cap",
            f"AMRAP {time}   (or: AMRAP {cap})",
            self._place(item),
        )
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
        self.worker.error(
            "scheme-unclear",
            f'"{written}" does not say how it goes on, or does not get where it ends',
            None,
            self._place(item),
        )
        self._open().broken = True

    def _bad_plan(self, item: Item) -> None:
        word = item["w"]
        self.worker.error(
            "line-unread",
            f'"{self.lines[self.at].text[word.start : word.end]}" is no number of rounds',
            None,
            self._place(item),
        )
        self._open().broken = True

    def _in_time(self, item: Item) -> bool | None:
        part = self._open()
        seconds = self._seconds(item["t"])
        if seconds is None:
            return None
        if (
            self.last is not None
            and self.last in self.line_works
            and self.last.bare
            and part.body.numbers is None
            and part.goal is None
        ):
            self.last.amount = item["t"].value
            self.last.end = item.end
            return None
        if part.goal == "heaviest" or part.max_reps:
            part.window_s = seconds
        elif part.goal == "complete" and part.window_s and part.windows is None and part.total_s is None:
            part.total_s = seconds
        elif part.goal == "time" or (
            part.goal is None
            and part.cap_s is None
            and part.body.numbers is None
            and self.last is not None
            and not self.last.most
        ):
            part.goal = part.goal or "time"
            part.cap_s = seconds
        elif (self.last is not None and self.last.most) or part.body.numbers is not None or part.goal == "most":
            part.goal = "most"
            part.max_reps = part.body.numbers is None
            part.window_s = seconds
        else:
            return False
        self.piece.told = f"in {write_clock(seconds)}"
        return None

    def _duration(self, item: Item) -> bool | None:  # noqa: PLR0912 - what a time can be, by what stands around it
        token: Token = item["t"]
        part = self.part
        if self.skip_duration:
            self.skip_duration = False
            return None
        written = self.lines[self.at].text[item.start : item.end].lower()
        seconds = self._seconds(token)
        if seconds is None:
            return None
        told = write_clock(seconds)
        if (
            self.last is not None
            and self.last in self.line_works
            and self.last.bare
            and (part is None or part.body.numbers is None)
            and "total" not in written
        ):
            self.last.amount, self.last.end = token.value, item.end
            return None
        if self.depth and self.last is not None and self.last.amount is None:
            self.last.amount = token.value
            return None
        if part is None or (not part.has_work and part.goal is None and part.body.numbers is None):
            self.duration_s = seconds
            begun = self._open()
            begun.pending_s, begun.pending_at = seconds, (self.lines[self.at].number, item.start, item.end)
            self.piece.told = told
            return None
        if part.goal == "heaviest" and part.window_s is None:
            part.window_s = seconds
            self.piece.told = told
            return None
        if part.sets and part.has_work and "total" not in written and self.line_works and not part.body.rest_said:
            # "4 x 8, 90 s": the rest between the sets.
            part.body.rest_between_s, part.body.rest_said = seconds, True
            self.piece.told = f"rest {told}"
            return None
        if "total" in written or part.has_work:
            if (
                part.body.numbers is not None
                and part.window_s is None
                and part.cap_s is None
                and "total" not in written
                and part.body.numbers.step
            ):
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

    def _any_order(self, item: Item) -> None:
        part = self.part
        if part is None or (part.has_work and part.goal is None and self._work_ahead() and False):
            part = self._open()
        words = self.lines[self.at].text[item.start : item.end].strip().lower()
        if part.team and not words.startswith(("any", "in any")):
            part.team_rule = "share"
            self.piece.told = words
            return
        part.body.any_order = True
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
        words = re.sub(r"^(?:for|to)\s+", "", words, flags=re.IGNORECASE)
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

    def _part(self, item: Item) -> None:
        begun = self.part
        colon = ":" in self.lines[self.at].text[item.start : item.end]
        if begun is not None and colon and begun.team and begun.window_s is not None and begun.name is None:
            # "A: …" and "B: …" below an AMRAP in pairs: who does what, not two parts.
            self.label = f"p{item['p'].value}"
            self.piece.kind, self.piece.told = "label", item["p"].value
            return
        self._close()
        if self.section_inline or self.section == "warm-up":
            self.section = "main"
        part = self._open()
        part.name = item["p"].value
        self.piece.told = f"Part {part.name}"

    def _heading(self, item: Item) -> bool | None:
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in QUIET]
        timed = bool(behind) and behind[0].kind in {"duration", "again"}
        timed = timed and all(i.kind in {"duration", "again", "how_hard"} for i in behind)
        only_time = item.get("t") or (behind[0].get("t") if timed else None)
        before = [
            i
            for i in self.lines[self.at].reading.items[: self.here]
            if i.kind not in {"joiner", "filler", "part", "label"}
        ]
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
        if (
            only_time is not None
            and self.section != "main"
            and not [i for i in behind if i.kind in WORKS]
            and self._section_is_time()
        ):
            self._stretch_of(part, only_time, item)
            return None
        if token is not None:
            part.cap_s = self._seconds(token)
        self.piece.told = part.heading + (f" {write_clock(part.cap_s)}" if part.cap_s else "")
        return None

    def _section_is_time(self) -> bool:
        """Say whether a section has nothing but its time: the next line begins something else."""
        nxt = self.lines[self.at + 1] if self.at + 1 < len(self.lines) else None
        first = next((i for i in nxt.reading.items if i.kind not in QUIET), None) if nxt is not None else None
        return first is None or first.kind in HEADS or first.kind in {"heading", "part", "sets_of", "block"}

    def _stretch_of(self, part: PartDraft, token: Token, item: Item) -> None:
        """Read `WU 15' easy`: so long of what the day is about, else of easy moving."""
        slug = self.venue or "easy-jog"
        draft = WorkDraft(
            line=self.lines[self.at].number, start=item.start, end=item.end,
            name=NameRead(slug.replace("-", " "), slug), name_start=item.start, name_end=item.end, amount=token.value,
        )  # fmt: skip
        draft.efforts.append("easy")
        part.body.entries.append(draft)
        self.last = draft
        self.line_works.append(draft)
        self.skip_duration = True
        self.piece.told = f"{part.heading} {write_clock(token.value.values[0])}, easy"

    def _label(self, item: Item) -> bool | None:
        kind, number = item["l"].value
        part = self.part
        if kind in {"minute", "number", "odd"}:
            self.label = str(number)
            if kind in {"minute", "odd"} and (
                part is None or (part.window_s is None and part.goal in {None, "complete"})
            ):
                self._minutes_by_label()
        elif kind == "person":
            self.label = f"p{number}"
            part = self._open()
            part.team_size = max(part.team_size, 2, number)
        else:
            same = part is not None and part.has_work and part.letter == kind
            if part is not None and part.has_work and not same:
                self._close()
            part = self._open()
            part.letter = kind
            if number > 1:
                part.superset = True
            self.label = None
        self.option_next = False
        self.piece.told = self.lines[self.at].text[item.start : item.end].strip()
        return None

    def _minutes_by_label(self) -> None:
        """`min 1 … min 2 …` without a form above it: a new start at the top of every minute."""
        part = self._open()
        if part.goal not in {None, "complete"} or part.sets:
            return
        part.goal, part.window_s = "complete", 60
        if part.body.rounds is not None:
            part.rounds_through, part.body.rounds = part.body.rounds, None

    def _buy_in(self, _: Item) -> None:
        part = self._open()
        self.once = "before"
        if not any(i.kind in WORKS for i in self.lines[self.at].reading.items[self.here + 1 :]):
            # The lines below it are done once, until a form or a blank line.
            self.collect = CycleDraft(role="before")
            part.cycles.insert(0, self.collect)
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
        self.then, self.once = True, None
        part = self.part
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in QUIET]
        nxt = next((i for _, i in self._items_behind() if i.kind not in QUIET), None)
        first = not any(i.kind not in QUIET for i in self.lines[self.at].reading.items[: self.here])
        if (
            first
            and part is not None
            and part.has_work
            and nxt is not None
            and nxt.kind in WORKS
            and self._list_of(nxt) is not None
        ):
            part.cycles.append(CycleDraft())
            self.then = False
        elif (
            first
            and behind
            and nxt is not None
            and nxt.kind in WORKS
            and part is not None
            and part.body.role == "body"
            and (part.body.rounds or part.body.numbers)
            and part.has_work
        ):
            part.cycles.append(CycleDraft(role="after"))
        self.piece.told = "then"

    def _list_of(self, item: Item) -> Quantity | None:
        token = item.get("a")
        return (
            token.value
            if token is not None and isinstance(token.value, Quantity) and token.value.form in {"list", "ladder"}
            else None
        )

    def _after_each(self, _: Item) -> bool | None:
        works = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind in WORKS]
        if self.line_works and not works:
            part = self._open()
            if all(w in self.line_works for w in part.works):
                return False
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
            part.body.any_order = not part.team
        if not part.team and rule in {"share", "together"}:
            if rule == "share":
                part.body.any_order = True
                self.piece.told = "split as you like"
                return None
            return False
        part.team_size = max(2, part.team_size)
        part.team.append(words)
        if rule != "turns" or part.team_rule is None:
            part.team_rule = rule
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
