"""Putting a board together: lines of work, and where each belongs."""

from __future__ import annotations

import re
from collections.abc import Sequence

from briefing.board.cover import name_of
from briefing.board.drafts import CycleDraft, LoadDraft, PartDraft, RestDraft, WorkDraft
from briefing.board.items import Item
from briefing.board.naming import NameRead
from briefing.board.state import (
    HEADS,
    QUIET,
    WORKS,
    State,
    is_weight,
)
from briefing.board.tokens import LoadWords, Quantity, Token
from briefing.board.vocabulary import MANNERS, PREPOSITIONS, SMALL_WORDS
from briefing.units import write_clock, write_number


class Works(State):
    """Reads lines of work."""

    def _draft_of(self, item: Item, name: Token | None) -> WorkDraft:
        read: NameRead = name.value if name is not None else NameRead(self.venue or "run", self.venue or "run")
        if name is not None:
            read = NameRead(
                self.lines[self.at].text[name.start : name.end].strip(), read.slug, read.modifiers, read.slip
            )
        start, end = (name.start, name.end) if name is not None else (item.start, item.end)
        return WorkDraft(
            line=self.lines[self.at].number, start=item.start, end=item.end, name=read, name_start=start, name_end=end
        )

    def _stated_total(self, item: Item) -> bool | None:
        """Read `(60 total)` behind a line of work: it is held against what the rounds come to."""
        last = self._of_last()
        if last is None or last not in self.line_works:
            return False
        last.stated = item["a"].value
        self.piece.told = f"{self.lines[self.at].text[item.start : item.end].strip()}"
        return None

    def _again(self, item: Item) -> bool | None:
        """Read `45 s bike hard, 30 s easy`: the same movement goes on, as hard as it says."""
        last = self.last
        if self.skip_duration:
            self.skip_duration = False
            return None
        if last is None or last not in self.line_works or last.amount is None or last.amount.unit != "s":
            if self.part is None or not self.part.has_work:
                return self._duration_of(item)
            return False
        draft = WorkDraft(
            line=last.line,
            start=item.start,
            end=item.end,
            name=last.name,
            name_start=item.start,
            name_end=item.end,
            amount=item["t"].value,
        )
        draft.efforts.append(str(item["h"].value))
        self._add(draft)
        return None

    def _duration_of(self, item: Item) -> bool | None:
        handler = getattr(self, "_duration")  # noqa: B009 - it stands in a class further down the chain
        used: bool | None = handler(item)
        return used

    def _percents(self, item: Item) -> bool | None:
        """Read `65/70/75%`: a load for each set of the line above."""
        last = self._of_last()
        values = item["p"].value
        if last is None or (last.amount is None and not last.by_round):
            return False
        amounts = [q for q, _, _ in last.by_round] or [last.amount] * len(values)
        part = self._open()
        sets = part.windows or part.body.rounds
        if sets is not None and sets > 1 and sets != len(values):
            message = f"{sets} sets are written, and {len(values)} loads in percent"
            self.worker.ask("sets-and-loads", message, f"{len(values)} sets   (or: {sets} loads)", self._place(item))
        last.by_round = [
            (q, LoadDraft(percent=v, percent_written=f"{v:g}%"), False) for q, v in zip(amounts, values, strict=False)
        ]
        if part.windows is None:
            part.body.rounds = len(last.by_round)
        return None

    def _work(self, item: Item) -> bool | None:
        name = item["n"]
        draft = self._draft_of(item, name)
        draft.alternating = (
            bool(re.search(r"\balt(?:ernating|ernate)?\b", draft.name.written, re.IGNORECASE))
            and draft.name.slug is not None
        )
        token = item.get("a")
        if token is not None and self._counts_stations(token, name):
            self.label = str(int(token.value.values[0]))
            token = None
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

    def _counts_stations(self, token: Token, name: Token) -> bool:
        """Say whether `1 squats`, `2 push-ups` below stretches of time count the stations: no full stop, and no amount either."""
        part = self.part
        quantity: Quantity = token.value
        if part is None or not part.intervals or token.kind != "num" or token.start > name.start or self.line_works:
            return False
        seen = len({e.label for e in part.body.entries if e.label})
        if quantity.values[0] != seen + 1 or (part.body.entries and not seen):
            return False
        following = self.lines[self.at + 1].reading.items if self.at + 1 < len(self.lines) else ()
        first = next((i for i in following if i.kind == "work"), None)
        more = (
            first is not None
            and first.get("a") is not None
            and first["a"].kind == "num"
            and first["a"].value.values[0] == seen + 2
        )
        return more or seen > 0

    def _place_work(self, draft: WorkDraft, item: Item) -> bool | None:
        if draft.amount is None and not draft.most and self._waits(draft):
            return None
        before = self.lines[self.at].text[: item.start].lower().split()
        if draft.amount is None and not draft.most and before[-1:] == ["the"] and not self._numbers_are_given():
            # "swap when the row is done": spoken of, not done.
            self.piece.kind = "remark"
            return None
        if draft.amount is None and not draft.most and self._is_recovery(draft):
            words = draft.name.written.lower()
            self._open().body.entries.append(RestDraft(self.lines[self.at].number, None, None, words, self.label))
            self.piece.told = f"rest as needed, {words}"
            return None
        if draft.amount is None and not draft.most and self._chain_follows():
            self._add(draft)
            return None
        if draft.amount is None and not draft.most and draft.name.slug is None and not self._numbers_are_given():
            return self._words_alone(draft, item)
        if draft.amount is not None and draft.amount_behind:
            self._behind(draft)
        self._add(draft)
        return None

    def _is_recovery(self, draft: WorkDraft) -> bool:
        """Say whether a bare "walk" or "jog" behind work is what is done in the rest."""
        part = self.part
        if (
            part is None
            or not part.has_work
            or self.option_next
            or self.depth
            or part.intervals
            or part.body.numbers is not None
        ):
            return False
        return draft.name.slug in {"walk", "easy-jog"} or (
            draft.name.slug == "run" and draft.name.written.lower().startswith("jog")
        )

    def _chain_follows(self) -> bool:
        """Say whether a bare name is the first or the next of a chain, `hang snatch + squat`, whose numbers stand behind it."""
        items = self.lines[self.at].reading.items
        behind = items[self.here + 1 : self.here + 3]
        before = items[max(0, self.here - 1) : self.here]
        joins = [
            i
            for i in (*behind[:1], *before)
            if i.kind == "plus_work" or self.lines[self.at].text[i.start : i.end].strip() == ">"
        ]
        works = [i for i in items if i.kind in WORKS]
        counts = any(i.kind == "complex_of" for i in items) or any(
            i.kind == "complex_of" for i in self._next_line_items()
        )
        return bool(joins) and len(works) > 1 and (counts or any(i.get("a") is not None for i in works))

    def _next_line_items(self) -> Sequence[Item]:
        return self.lines[self.at + 1].reading.items if self.at + 1 < len(self.lines) else ()

    def _numbers_are_given(self) -> bool:
        """Say whether a bare name needs no number here: a list, stretches of time, a section, another way to do a line."""
        part = self.part
        if self.option_next or (self.slash and self.line_works) or self.interrupt is not None:
            return True
        if part is None:
            return self.section != "main"
        given = (
            part.body.numbers is not None
            or part.intervals
            or part.max_reps
            or part.section != "main"
            or part.goal == "quality"
        )
        return given or bool(part.complex_counts) or (part.span_s is not None and part.goal == "most")

    def _words_alone(self, draft: WorkDraft, item: Item) -> bool | None:
        """Words without a number that no file has: a title in front of a form, a remark, or a movement without its number.

        A remark has a small word in it or is a whole sentence; what could be a movement is asked about.
        """
        words = draft.name.written
        if (
            self.lines[self.at].text[item.end :].lstrip().startswith(":")
            and not self.line_works
            and self.part is None
            and self.title is None
        ):
            self.title = words
            self.piece.kind, self.piece.told = "title", f"title: {words}"
            return None
        behind = [i for i in self.lines[self.at].reading.items[self.here + 1 :] if i.kind not in QUIET]
        later = any(i.kind == "rounds" and self.lines[self.at].text[i.start : i.start + 1] in "x×X" for i in behind)
        if later and len(behind) <= 3:
            self._add(draft)
            return None
        amount_follows = bool(behind) and behind[0].kind in {
            "amount",
            "duration",
            "two_numbers",
            "side",
            "load",
            "percent",
        }
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
        small = set(words.lower().split()) & (PREPOSITIONS | MANNERS | SMALL_WORDS)
        begun = self.part is not None and (self.part.has_work or bool(self.part.said))
        if small or len(words.split()) > 3 or not begun:
            return None
        self.piece.asked = True
        self.worker.ask(
            "amount-missing",
            f'"{words}" has no number, and the library has no such movement: it was set aside as a remark',
            None,
            self._place(item),
        )
        return None

    def _waits(self, draft: WorkDraft) -> bool:
        """Keep a bare name that stands alone on its line for what follows it: `Deadlift`, and below it `5@60% 5@70%`."""
        items = [i for i in self.lines[self.at].reading.items if i.kind not in {"joiner", "label", "part", "filler"}]
        if len(items) != 1 and not (items and items[0].kind == "heading"):
            return self._before_build(draft)
        nxt = next((i for _, i in self._items_behind() if i.kind not in QUIET), None)
        bare = nxt is not None and (
            nxt.kind in {"amount", "build", "intervals", "stretch", "every", "emom"}
            or (nxt.kind in {"sets_of", "sets"} and name_of(nxt) is None)
            or nxt.kind in {"numbers", "percent"}
        )
        part = self.part
        if not bare or (
            part is not None and (part.body.numbers is not None or part.intervals or part.goal in {"time", "most"})
        ):
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
                return item.kind != "for_time"
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
        if len(pairs) > 2 and sum(i.kind == "amount" for i in pairs) > 1:
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
        weighted = movement is not None and any(is_weight(n) for k in movement.kit for n in k.names)
        listed = self.part is not None and self.part.body.numbers is not None
        if quantity.form == "pair" and quantity.unit is None and quantity.values[0] != quantity.values[1] and weighted:
            draft.amount = None
            draft.load = LoadDraft(words=LoadWords(quantity.values, None, 1, quantity.written.strip()))
        elif quantity.form == "pair" and quantity.unit is None and listed:
            draft.amount = None
            draft.notes.append(quantity.written.strip())
        elif quantity.form == "list" and quantity.unit is None and weighted and max(quantity.values) <= 12:
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
        if part is not None and part.has_work and self.section != "main" and self.section_inline:
            self.section = "main"
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
            above = (
                self.option_of
                or (self.bracket_of if in_bracket else None)
                or (self.option_of_last if self.slash else None)
            )
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
        draft.label = self.label or (
            self._label_above(part) if part.window_s is not None or part.stations_said else None
        )
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
        elif self.collect is not None:
            self.collect.entries.append(draft)
        elif self.once == "before":
            self._once_before(part, draft)
        elif self.once == "after":
            part.cycles[-1].entries.append(draft)
        else:
            quantity = draft.amount
            if (
                quantity is not None
                and quantity.form in {"list", "ladder"}
                and not part.body.works
                and part.body.numbers is None
                and not part.window_said
            ):
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

    def _accumulate(self, item: Item) -> bool | None:
        """Read `accumulate 5:00 in a plank`: untimed, until it is done."""
        part = self._begin(item)
        part.goal = part.goal or "quality"
        draft = self._draft_of(item, item["n"])
        draft.amount = item["a"].value
        self._add(draft)
        return None

    def _scale_to(self, item: Item) -> bool | None:
        """Read `scale pull-ups to ring rows`: another way to do a line that stands above, whichever it is."""
        wanted = item["n"].value
        above = next(
            (
                d
                for d in reversed(self._all_drafts())
                if d.name.slug == wanted.slug and (wanted.slug or d.name.written.lower() == wanted.written.lower())
            ),
            None,
        )
        if above is None:
            return False
        draft = self._draft_of(item, item["m"])
        above.options.append((draft, (), ()))
        self.piece.work = draft
        return None

    def _most(self, item: Item) -> bool | None:
        draft = self._draft_of(item, item["n"])
        draft.most = True
        if item.get("u") is not None:
            draft.unit = item["u"].value
        if item.get("s") is not None:
            draft.each, draft.side_word = True, item["s"].value
        token = item.get("t")
        if token is not None:
            seconds = self._seconds(token)
            part = self.part
            if part is None or (part.has_work and part.goal is None) or (not part.has_work and part.goal is None):
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
        if (
            previous is not None
            and previous.one_side
            and previous.name.slug == draft.name.slug
            and previous.one_side != draft.one_side
        ):
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
        windowed = self.part is not None and self.part.window_s is not None
        if waiting is not None and not windowed and (how is not None or waiting.by_round):
            waiting.by_round.append((quantity, None, False))
            if not any(waiting in c.entries for c in (self.part.cycles if self.part else [])):
                self._as_sets(waiting, 1)
            self.pending = None
            self.part.body.rounds = len(waiting.by_round)  # type: ignore[union-attr]  # _as_sets opened one
            self.last = waiting
            return None
        if waiting is not None:
            waiting.amount, waiting.line = quantity, waiting.line
            self._add(waiting)
            return None
        last = self.last
        if (
            last is not None
            and how is not None
            and last in self.line_works
            and last.load is not None
            and last.amount is not None
            and not last.by_round
        ):
            # "5 back squats @ 60%, 5 @ 70%": the sets of one line, each with a load of its own.
            last.by_round = [(last.amount, last.load, False)]
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
            draft = WorkDraft(
                line=self.lines[self.at].number,
                start=item.start,
                end=item.end,
                name=self.option_of.name,
                name_start=item.start,
                name_end=item.end,
                amount=quantity,
            )
            self._add(draft)
            return None
        if last is not None and last in self.line_works and self.depth and quantity.form == "one":
            last.notes.append(self.lines[self.at].text[item.start : item.end].strip())
            return None
        numbers = self.part.body.numbers if self.part is not None else None
        if self.depth and numbers is not None and quantity.form == "one" and quantity.values[0] in numbers.values:
            # "(16 once)" behind a list says what the list says.
            self.piece.told = self.lines[self.at].text[item.start : item.end].strip()
            return None
        if quantity.unit == "m" and (self.venue or last not in self.line_works):
            self._add(self._draft_of_distance(item, quantity))
            return None
        return False

    def _counts_metres(self, draft: WorkDraft) -> bool:
        movement = self.naming.library.get(draft.name.slug) if draft.name.slug else None
        return movement is not None and movement.counts[0] == "metres"

    def _draft_of_distance(self, item: Item, quantity: Quantity) -> WorkDraft:
        """Make work of a bare distance: it is run, rowed or ridden as what stands above it, else run, and asked."""
        if self.venue is None:
            slugs = [d.name.slug for d in reversed(self._all_drafts())]
            self.venue = next(
                ({"easy-jog": "run"}.get(s, s) for s in slugs if s in {"run", "easy-jog", "row", "ride"}), None
            )
        draft = self._draft_of(item, None)
        draft.amount = quantity
        if self.venue is None:
            written = quantity.written.strip()
            self.worker.ask(
                "movement-missing",
                f'"{written}" does not say of what; it was read as a run',
                f"{written} run   (or: {written} row)",
                self._place(item),
            )
        return draft
