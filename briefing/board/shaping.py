"""From a part under construction to a part: its lines made whole, its windows and stations, what cannot both hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

from briefing.board.drafts import CycleDraft, InterruptDraft, PartDraft, RestDraft, WorkDraft
from briefing.board.models import (
    Amount,
    At,
    Cycle,
    Every,
    Interrupt,
    OnBreak,
    Part,
    Rest,
    Station,
    Windows,
    Work,
)
from briefing.board.tokens import Quantity
from briefing.board.vocabulary import KIT_SPELLINGS
from briefing.board.working import Context, Worker
from briefing.library.models import kit_word
from briefing.problems import Place, Problem, has_errors
from briefing.units import write_clock, write_number

# Our choice: nobody does one more each minute for longer than an hour.
MOST_MINUTES = 60
MOST_WINDOWS = 200


class Shaper:
    """Makes parts of drafts."""

    def __init__(self, worker: Worker) -> None:
        self.worker = worker

    def part(self, draft: PartDraft) -> Part | None:
        """Give the part, None where it has no work (`part-empty`) or an error leaves nothing."""
        place = self.worker.text.place(draft.line)
        self._settle(draft)
        cycles = self._cycles(draft)
        interrupts = self._interrupts(draft)
        if not any(c.items for c in cycles):
            self._empty(draft, place)
            return None
        goal = draft.goal or self._usual_goal(draft)
        stations = self._stations(draft, cycles)
        windows = self._windows(draft, goal, len(stations), place)
        if windows is None:
            return None
        if draft.climb:
            goal = "complete"
        if goal == "most" and draft.intervals and not _any_most(stations):
            goal = "complete"
        if draft.work_how:
            stations = tuple(_with_effort(s, draft.work_how) for s in stations)
        part = Part(
            name=draft.name,
            heading=draft.heading,
            windows=windows,
            stations=stations,
            goal=goal,
            sets=draft.sets,
            interrupts=interrupts,
            score=draft.score or ("rounds and repetitions" if draft.carries_on else self._usual_score(goal, draft)),
            carries_on=draft.carries_on,
            team=", ".join(dict.fromkeys(draft.team)) or None,
            team_size=draft.team_size,
            team_rule=draft.team_rule if draft.team else None,
            swap_every=self._swap(draft),
            target=draft.target,
            rest_after_s=draft.rest_after_s,
            span_s=draft.span_s,
            until_missed=draft.until_missed,
            place=place,
        )
        self._stated(draft, part)
        self._stated_counts(draft, part)
        for cycle in draft.cycles:
            late = [n for n, _ in cycle.rest_after if cycle.rounds is not None and n > cycle.rounds]
            if late:
                self.worker.ask(
                    "round-unknown", f"there are {cycle.rounds} rounds, and a rest after round {late[0]}", None, place
                )
        return part

    # --- what the lines have left open ------------------------------------------------------------------------------

    def _settle(self, draft: PartDraft) -> None:
        """Give lines and cycles what stands elsewhere in their part: sides, times, numbers, the rest below the last line."""
        self._use_pending(draft)
        if draft.each_side is not None:
            for work in draft.works:
                if work.amount is None:
                    work.each, work.side_word = True, draft.each_side
        for cycle in draft.cycles:
            self._settle_cycle(draft, cycle)
        for work, n in zip(draft.works, draft.complex_counts, strict=False):
            work.amount = work.amount or Quantity("one", (float(n),), None, str(n))
        if draft.complex:
            for work in draft.works[1:]:
                work.joined = True
        self._as_many_as_possible(draft)
        lists = [w.amount for w in draft.body.works if w.amount is not None and w.amount.form in {"list", "ladder"}]
        if lists and draft.body.numbers is None and not draft.window_s:
            self._lists_agree(draft, lists)

    def _settle_cycle(self, draft: PartDraft, cycle: CycleDraft) -> None:
        self._chains(draft, cycle)
        last = cycle.entries[-1] if len(cycle.entries) > 1 else None
        below = isinstance(last, RestDraft) and not last.off and last.label is None
        rounds = (cycle.rounds or 1) > 1 and cycle.role == "body" and not cycle.rest_said
        if isinstance(last, RestDraft) and below and rounds and draft.window_s is None:
            # A rest below the last line of the rounds stands between them: none after the last.
            cycle.entries.pop()
            cycle.rest_between_s, cycle.rest_at_most_s = last.seconds, last.at_most_s
            cycle.rest_doing, cycle.rest_said = last.doing, True
        if cycle.block and (cycle.rounds or cycle.numbers is not None):
            rounds_n = cycle.rounds or len(cycle.numbers.values if cycle.numbers is not None else ())
            longer = cycle.block_rest_s
            cycle.rest_after = [(n, longer) for n in range(cycle.block, rounds_n, cycle.block)] if longer else []
        self._shared_time(draft, cycle)
        if draft.work_how and draft.window_s:
            for work in cycle.works:
                if work.amount is None and not work.most:
                    work.amount = Quantity("one", (float(draft.window_s),), "s", write_clock(draft.window_s))

    def _as_many_as_possible(self, draft: PartDraft) -> None:
        """A part whose lines are all "as many as possible" is one of repetitions, not of rounds."""
        works = draft.works
        bare = draft.span_s is not None and draft.body.numbers is None
        if draft.goal == "most" and not draft.intervals and (draft.windows or 1) == 1:
            draft.max_reps = draft.max_reps or (
                bool(works) and all(w.most or (w.amount is None and bare) for w in works)
            )
        if draft.span_s is not None and draft.goal == "complete" and works and all(w.most for w in works):
            draft.goal, draft.max_reps = "most", True

    def _use_pending(self, draft: PartDraft) -> None:
        """A time that stood alone in front of everything: the form's own, where the form has none; else it is asked about."""
        if draft.pending_s is None or draft.pending_at is None:
            return
        line, start, end = draft.pending_at
        if draft.pending_s in {draft.window_s, draft.total_s}:
            return
        climbs = draft.body.numbers is not None and draft.body.numbers.step > 0
        if draft.window_s is None and (draft.goal == "most" or (draft.goal is None and climbs)):
            draft.goal, draft.window_s = "most", draft.pending_s
        elif (
            draft.goal == "complete" and draft.window_s is not None and draft.windows is None and draft.total_s is None
        ):
            draft.total_s = draft.pending_s
        elif draft.goal == "heaviest" and draft.window_s is None:
            draft.window_s = draft.pending_s
        elif draft.goal in {"time", "quality"} and draft.cap_s is None:
            draft.cap_s = draft.pending_s
        elif draft.window_s is not None or draft.cap_s is not None:
            draft.stated_s, draft.stated_at = draft.pending_s, draft.pending_at
        else:
            written = write_clock(draft.pending_s)
            place = self.worker.text.place(line, start + 1, end + 1)
            draft.cap_s = draft.pending_s
            self.worker.ask(
                "time-read",
                f'"{written}" does not say what it is: it was read as a cap',
                f"cap {written}   (or: AMRAP {written})",
                place,
            )

    def _shared_time(self, draft: PartDraft, cycle: CycleDraft) -> None:
        """`Warm up 5 min march + arm circles`: five minutes of both."""
        works = cycle.works
        first = works[0].amount if works else None
        if draft.section == "main" or len(works) < 2 or draft.cap_s or first is None or first.unit != "s":
            return
        if all(w.amount is None and not w.most and w.line == works[0].line for w in works[1:]):
            draft.cap_s, works[0].amount = round(first.values[0]), None

    def _chains(self, draft: PartDraft, cycle: CycleDraft) -> None:
        """A chain `2 cleans + 1 jerk` shares the load behind it and its sides; with a load it is not put down in between."""
        chain: list[WorkDraft] = []
        for work in [*cycle.works, None]:
            if work is not None and work.chain and chain:
                chain.append(work)
                continue
            if len(chain) > 1:
                last = chain[-1]
                if (
                    last.amount is not None
                    and last.amount.form == "one"
                    and all(w.amount is None and not w.most for w in chain[:-1])
                    and cycle.numbers is None
                ):
                    for w in chain[:-1]:
                        w.amount = last.amount
                load = last.load or draft.load
                shared = last.load is not None and all(
                    w.load is None and self._lifts(w) and _same_kit(w, last) for w in chain[:-1]
                )
                for w in chain:
                    if shared:
                        w.load = w.load or last.load
                    if last.each and not w.each and w.own_side is None and (load is not None or draft.complex):
                        w.each, w.side_word = True, last.side_word
                if (shared and load is not None and load.words is not None) or draft.complex:
                    for w in chain[1:]:
                        w.joined = True
            chain = [work] if work is not None else []

    def _lifts(self, draft: WorkDraft) -> bool:
        """Say whether a line is done with a weight, so that the one at the end of its chain can be its own."""
        movement = self.worker.library.get(draft.name.slug) if draft.name.slug else None
        return movement is None or any(kit_word(n).weight for k in movement.kit for n in k.names)

    def _lists_agree(self, draft: PartDraft, lists: Sequence[Quantity]) -> None:
        if draft.goal == "most" and not any(q.step for q in lists):
            return
        rounds = max(len(q.values) for q in lists)
        if draft.body.rounds is None and not any(q.step for q in lists):
            draft.body.rounds = rounds

    def _cycles(self, draft: PartDraft) -> list[Cycle]:
        out = []
        for cycle in draft.cycles:
            made = self._cycle(draft, cycle)
            if made.items:
                out.append(made)
        return out

    def _cycle(self, draft: PartDraft, cycle: CycleDraft) -> Cycle:
        numbers = cycle.numbers
        context = Context(
            varying=numbers,
            most_is_meant=draft.broken
            or draft.max_reps
            or draft.intervals
            or (draft.span_s is not None and draft.goal == "most"),
            as_you_like=draft.section != "main" or draft.goal == "quality",
            load=draft.load,
            quiet=draft.broken,
        )
        items: list[Work | Rest] = []
        lists: list[tuple[int, Quantity]] = []
        for entry in cycle.entries:
            if isinstance(entry, RestDraft):
                items.append(self._rest(entry))
                continue
            if entry.amount is not None and entry.amount.form in {"list", "ladder"}:
                lists.append((entry.line, entry.amount))
            work = self.worker.work(entry, context)
            if work is not None:
                items.append(work)
        rounds = self._rounds(draft, cycle, lists)
        for entry in draft.after_each if cycle is draft.body else []:
            work = self.worker.work(entry, Context(as_you_like=False))
            if work is not None:
                items.append(work)
        rest_s = cycle.rest_between_s
        if rest_s and rounds == 1 and draft.window_s is None and not draft.broken:
            message = (
                f"a rest of {write_clock(rest_s)} between rounds is written, and there is one round: no rest was read"
            )
            self.worker.ask("rounds-missing", message, "3 rounds", self.worker.text.place(draft.line))
            rest_s = 0
        return Cycle(
            items=tuple(items),
            rounds=rounds,
            rest_between_s=0 if self._rests_in_gaps(draft) and rest_s is not None else rest_s,
            rest_at_most_s=cycle.rest_at_most_s,
            rest_doing=cycle.rest_doing,
            rest_ratio=None if self._rests_in_gaps(draft) else cycle.rest_ratio,
            rest_after=tuple(sorted(cycle.rest_after)),
            block=cycle.block,
            any_order=cycle.any_order,
            plan_rounds=cycle.plan_rounds,
        )

    def _rest(self, entry: RestDraft) -> Rest:
        place = self.worker.text.place(entry.line)
        return Rest(seconds=entry.seconds, at_most_s=entry.at_most_s, doing=entry.doing, place=place)

    def _rounds(self, draft: PartDraft, cycle: CycleDraft, lists: Sequence[tuple[int, Quantity]]) -> int | None:
        """Give how often a cycle is gone through; lists and rounds that do not agree are a problem of their line."""
        if cycle.role != "body":
            return 1
        open_ended = (draft.goal == "most" and draft.window_s is not None) or draft.open_rounds
        has_most = (
            any(w.most or (w.amount is None and draft.intervals and cycle.numbers is None) for w in cycle.works)
            or draft.max_reps
        )
        lengths = {len(q.values) for _, q in lists if not q.step}
        going_on = [line for line, q in lists if q.step]
        if cycle.numbers is not None and cycle.numbers.step:
            going_on.append(draft.line)
        elif cycle.numbers is not None:
            lengths.add(len(cycle.numbers.values))
        if going_on and lengths and max(lengths) > 1:
            line = max(line for line, _ in lists)
            self.worker.error(
                "ladders-differ", "one list of this part ends and another goes on", None, self.worker.text.place(line)
            )
            return 1
        if draft.goal == "complete" and draft.window_s is not None and draft.span_s is None:
            return 1
        if open_ended or going_on:
            if going_on and draft.window_s is None:
                draft.goal, draft.open_rounds = "most", True
            return 1 if has_most else None
        if len(lengths) > 1:
            first = lists[0][1] if lists else cycle.numbers
            wrong = next(
                ((line, q) for line, q in lists if first is not None and len(q.values) != len(first.values)), None
            )
            if wrong is not None and first is not None:
                line, quantity = wrong
                mine, other = quantity.written.strip(), first.written.strip()
                counts = f'"{mine}" has {len(quantity.values)} numbers, and "{other}" has {len(first.values)}'
                message = f"{counts}: a number for each round"
                self.worker.error(
                    "ladders-differ",
                    message,
                    'as many numbers in both, or "Part B" above the line',
                    self.worker.text.place(line),
                )
            return 1
        listed = next(iter(lengths), None)
        if draft.goal == "heaviest":
            return cycle.rounds or 1
        if listed is not None and listed > 1 and not draft.one_number:
            if cycle.rounds is not None and cycle.rounds not in {1, listed}:
                self._rounds_and_list(draft, cycle, listed)
            return listed
        return cycle.rounds or 1

    def _rounds_and_list(self, draft: PartDraft, cycle: CycleDraft, listed: int) -> None:
        said = draft.said.get("rounds")
        place = (
            self.worker.text.place(said.line, said.start + 1, said.end + 1)
            if said
            else self.worker.text.place(draft.line)
        )
        self.worker.ask(
            "rounds-and-list",
            f"{cycle.rounds} rounds, and a list of {listed} numbers: it was read as {listed} rounds, one for each number",
            f"{listed} rounds   (or: {cycle.rounds} rounds without a list)",
            place,
        )

    # --- what is forced in ------------------------------------------------------------------------------------------

    def _interrupts(self, draft: PartDraft) -> tuple[Interrupt, ...]:
        out = []
        for forced in draft.interrupts_drafted:
            works = tuple(w for d in forced.works if (w := self.worker.work(d, Context())) is not None)
            if not works:
                continue
            at = self.worker.text.place(forced.line, forced.start + 1)
            if forced.phrase is not None:
                out.append(Interrupt(trigger=OnBreak(phrase=forced.phrase), works=works, place=at))
            elif forced.times_s:
                out.append(Interrupt(trigger=At(times_s=forced.times_s), works=works, place=at))
            elif forced.every_s:
                out.append(
                    Interrupt(
                        trigger=Every(every_s=forced.every_s, from_s=self._first_s(forced, at)), works=works, place=at
                    )
                )
        return tuple(out)

    def _first_s(self, forced: InterruptDraft, place: Place) -> int:
        if forced.from_s is not None:
            return forced.from_s
        every = write_clock(forced.every_s or 0)
        self.worker.ask(
            "interrupt-from",
            f"read as: the first time at {every}, not at the start",
            f"every {every} from {every}   (or: every {every} from 0:00)",
            place,
        )
        return forced.every_s or 0

    # --- goal, score ------------------------------------------------------------------------------------------------

    def _empty(self, draft: PartDraft, place: Place) -> None:
        if draft.broken or has_errors(self.worker.problems):
            return
        asked = [
            p
            for p in self.worker.problems
            if p.code == "amount-missing" and p.place is not None and p.place.line >= draft.line
        ]
        if asked:
            # One mistake is one message: what was set aside is all there is.
            self.worker.problems[:] = [
                Problem(**{**dict(p), "level": "error"}) if p in asked else p for p in self.worker.problems
            ]
            return
        if draft.heading is not None and not draft.said and draft.goal is None and draft.cap_s is None:
            return
        if draft.rest_after_s and not draft.said:
            return
        self.worker.error("part-empty", "below this there is no line of work: no movement stands here", None, place)

    def _usual_goal(self, draft: PartDraft) -> str:
        """Give how a part is done where nothing says it: holds and rests as needed have no clock; the rest is for time, without a score."""
        if draft.section != "main":
            return "quality"
        needed = any(c.rest_between_s is None for c in draft.cycles) or any(
            isinstance(e, RestDraft) and e.seconds is None for c in draft.cycles for e in c.entries
        )
        works = draft.works
        timed = [w for w in works if w.amount is not None and w.amount.unit == "s"]
        if needed or (works and len(timed) == len(works)):
            return "quality"
        listed = draft.body.numbers is not None or (
            bool(works) and all(w.amount is not None and w.amount.form == "list" for w in works)
        )
        draft.listed = listed
        told_otherwise = (
            draft.cap_s is not None
            or listed
            or any(c.any_order for c in draft.cycles)
            or any(f.phrase for f in draft.interrupts_drafted)
            or len(works) == 1
        )
        if not (draft.broken or told_otherwise):
            many = f"{draft.body.rounds} rounds for time" if draft.body.rounds else "for time"
            self.worker.note(
                "goal-read",
                "nothing says how this is done; it was read as for time, without a score",
                f"{many}   (or: not for time)",
                self.worker.text.place(draft.line),
            )
        return "time"

    def _usual_score(self, goal: str, draft: PartDraft) -> str | None:
        """Give what the trade writes down where the board says nothing; None where there is no custom (ask)."""
        if goal == "time" and (draft.goal == "time" or draft.cap_s or draft.listed):
            return "time"
        if draft.climb and draft.until_missed:
            return "the last minute that was whole"
        if goal == "most" and draft.max_reps:
            return "repetitions"
        if goal == "most" and (draft.windows or 1) == 1 and not draft.intervals:
            return "rounds and repetitions"
        return {"heaviest": "load", "quality": "nothing"}.get(goal)

    def _swap(self, draft: PartDraft) -> Amount | None:
        if draft.swap is None:
            return None
        unit = draft.swap.unit
        if unit is None:
            work = next((self.worker.made[id(w)] for w in draft.works if id(w) in self.worker.made), None)
            unit = work.amount.unit if work is not None else "reps"
        return Amount(unit=unit, by_round=(round(draft.swap.values[0]),))

    # --- windows and stations ---------------------------------------------------------------------------------------

    def _stations(self, draft: PartDraft, cycles: list[Cycle]) -> tuple[Station, ...]:
        body = draft.body
        labels = list(dict.fromkeys(e.label for e in body.entries))
        works = [e for e in body.entries if isinstance(e, WorkDraft)]
        windowed = draft.window_s is not None and draft.goal in {"complete", "most"}
        if windowed and any(x is not None for x in labels) and len(labels) > 1:
            return self._by_label(body, labels)
        if windowed and draft.alternating and len(works) > 1:
            return tuple(Station(cycles=(Cycle(items=(i,)),)) for c in cycles for i in c.items)
        spread = (
            draft.intervals
            and len(works) > 1
            and all(w.most or w.amount is None for w in works)
            and len(works) == len(body.entries)
        )
        if spread:
            return tuple(Station(cycles=(Cycle(items=(i,)),)) for c in cycles for i in c.items)
        if (
            windowed
            and draft.stations_said
            and draft.stations_said == len(works) == len(body.entries)
            and draft.goal == "complete"
        ):
            return tuple(Station(cycles=(Cycle(items=(i,)),)) for c in cycles for i in c.items)
        return (Station(cycles=tuple(cycles)),)

    def _by_label(self, body: CycleDraft, labels: Sequence[str | None]) -> tuple[Station, ...]:
        out = []
        for label in labels:
            items: list[Work | Rest] = []
            off = True
            for entry in body.entries:
                if entry.label != label:
                    continue
                if isinstance(entry, RestDraft):
                    if not entry.off:
                        items.append(self._rest(entry))
                elif id(entry) in self.worker.made:
                    off = False
                    items.append(self.worker.made[id(entry)])
            out.append(Station() if off else Station(cycles=(Cycle(items=tuple(items)),)))
        return tuple(out)

    def _rests_in_gaps(self, draft: PartDraft) -> bool:
        """Say whether a rest between rounds is one between stretches of the clock."""
        several = (draft.windows or 1) > 1 or draft.total_s is not None or draft.intervals
        return draft.window_s is not None and draft.goal in {"complete", "most"} and several

    def _windows(self, draft: PartDraft, goal: str, stations: int, place: Place) -> Windows | None:
        """Make the windows of a part, with the rest between its rounds where rounds are windows."""
        windows = self._plain_windows(draft, goal, stations, place)
        body = draft.body
        if windows is None or not self._rests_in_gaps(draft) or draft.broken:
            return windows
        rest_s = body.rest_between_s or 0
        if body.rest_ratio is not None and windows.work_s is not None:
            rest_s = round(body.rest_ratio * windows.work_s)
        if not rest_s:
            return windows
        if stations == 1 or (body.rest_ratio is not None and not windows.gap_s):
            if windows.gap_s and windows.gap_s != rest_s:
                gap, rest = write_clock(windows.gap_s), write_clock(rest_s)
                self.worker.error(
                    "rests-differ",
                    f"between two stretches the rest is {gap}, and a rest of {rest} is written as well",
                    "one of the two",
                    place,
                )
                return windows
            return Windows(**{**dict(windows), "gap_s": rest_s})
        # What is off after the last station comes before the rest.
        return Windows(**{**dict(windows), "turn": stations, "turn_gap_s": windows.gap_s + rest_s})

    def _plain_windows(self, draft: PartDraft, goal: str, stations: int, place: Place) -> Windows | None:
        if draft.broken:
            return Windows()
        if draft.span_s is not None:
            return Windows(count=1, work_s=draft.window_s)
        if draft.climb and draft.total_s is None and draft.windows is None and draft.stated_s is None:
            draft.until_missed = True
            return Windows(count=MOST_MINUTES, work_s=60)
        if goal == "heaviest":
            return Windows(count=1, work_s=draft.window_s or draft.cap_s)
        if goal in {"time", "quality"} or (draft.sets and draft.window_s is None):
            return Windows(count=1, work_s=draft.cap_s or draft.window_s)
        if draft.window_s is None:
            said = draft.said.get("goal")
            at = self.worker.text.place(said.line, said.start + 1, said.end + 1) if said else place
            self.worker.error("time-missing", "this does not say for how long", None, at)
            return None
        if goal == "most" and not draft.intervals:
            return Windows(
                count=draft.windows or 1, work_s=draft.window_s, gap_s=draft.gap_s, gap_doing=draft.gap_doing
            )
        count = self._count(draft, stations, place)
        if count is None:
            return None
        self._stations_fit(draft, stations, count, place)
        return Windows(count=count, work_s=draft.window_s, gap_s=draft.gap_s, gap_doing=draft.gap_doing)

    def _count(self, draft: PartDraft, stations: int, place: Place) -> int | None:
        """Give how many windows there are; a time that the interval does not divide is a mistake of its line."""
        window_s = draft.window_s or 60
        said = draft.said.get("goal")
        at = self.worker.text.place(said.line, said.start + 1, said.end + 1) if said else place
        count = draft.windows
        if draft.intervals and draft.total_s is not None:
            return max(1, draft.total_s // (window_s + draft.gap_s))
        if draft.rounds_through is not None:
            return draft.rounds_through * max(1, stations)
        if count is None and draft.total_s is not None:
            if draft.total_s % window_s:
                less, more = draft.total_s // window_s, draft.total_s // window_s + 1
                whole, each = write_clock(draft.total_s), write_clock(window_s)
                why = _divides(draft.total_s, window_s)
                self.worker.ask(
                    "windows-uneven",
                    f"{whole} is not a whole number of times {each}: {why}; it was read as {max(1, less)} rounds",
                    f"every {write_clock(window_s)} for {write_clock(window_s * max(1, less))}   (or: for {write_clock(window_s * more)})",
                    at,
                )
            count = max(1, draft.total_s // window_s)
        if count is None and draft.climb and draft.stated_s is not None:
            count = max(1, draft.stated_s // window_s)
        if count is None and draft.body.rounds is not None:
            count = draft.body.rounds
            if draft.intervals and stations > 1:
                return count * stations
        elif count is not None and draft.intervals and stations > 1:
            count *= stations
        if count is None:
            self.worker.error("rounds-missing", "this does not say how many times", None, at)
            return None
        if count > MOST_WINDOWS:
            self.worker.error(
                "number-absurd", f"that makes {count} stretches of time", "a longer interval or fewer rounds", at
            )
            return None
        return count

    def _stations_fit(self, draft: PartDraft, stations: int, count: int, place: Place) -> None:
        if draft.rounds_said is not None and draft.rounds_said * stations != count:
            message = f"{draft.rounds_said} rounds of {stations} are {draft.rounds_said * stations} stretches, and the time has {count}"
            self.worker.ask(
                "rounds-differ",
                message,
                f"{write_clock((draft.window_s or 60) * draft.rounds_said * stations)}   (or: {count // stations} rounds)",
                place,
            )
        if stations > 1 and count % stations and not draft.intervals:
            minutes = f"{count} minutes" if draft.window_s == 60 else f"{count} stretches"
            self.worker.ask(
                "stations-uneven",
                f"{count} does not divide by {stations} stations: {minutes} are {count // stations} times through "
                f"and {count % stations} over",
                f"{stations * (count // stations)} or {stations * (count // stations + 1)}",
                place,
            )
        if draft.stations_said is not None and stations not in {1, draft.stations_said}:
            self.worker.ask(
                "stations-differ", f"{draft.stations_said} stations are written, and {stations} stand here", None, place
            )

    def _stated_counts(self, draft: PartDraft, part: Part) -> None:
        """Ask where a stated total of a line does not come out."""
        for work in draft.works:
            made = self.worker.made.get(id(work))
            comes_to = _done(part, made) if work.stated is not None and made is not None else None
            if work.stated is not None and comes_to is not None and round(work.stated.values[0]) != comes_to:
                message = f'"{work.stated.written.strip()} total" is written, and the rounds come to {comes_to}'
                self.worker.ask("total-differs", message, None, self.worker.place(work))

    def _stated(self, draft: PartDraft, part: Part) -> None:
        """Ask where a stated total of time does not come out."""
        if draft.stated_s is None or draft.stated_at is None:
            return
        clock = part.clock_s
        if clock is None or draft.stated_s in {clock, clock + part.windows.gap_s, clock + part.windows.turn_gap_s}:
            return
        line, start, end = draft.stated_at
        self.worker.ask(
            "total-differs",
            f"{write_clock(draft.stated_s)} is written, and this comes to {write_clock(clock)}",
            None,
            self.worker.text.place(line, start + 1, end + 1),
        )


def _same_kit(a: WorkDraft, b: WorkDraft) -> bool:
    """Say whether two lines can be done with one weight: not where their names speak of different kit."""
    named = [
        {KIT_SPELLINGS[w] for w in re.findall(r"[a-z]+", d.name.written.lower()) if w in KIT_SPELLINGS} for d in (a, b)
    ]
    return not named[0] or not named[1] or bool(named[0] & named[1])


def _done(part: Part, work: Work) -> int | None:
    """Give how much of a line of work a part comes to; None where that is open."""
    for cycle in part.cycles:
        if work in cycle.items:
            rounds = part.windows.count if part.windows.count > 1 else cycle.rounds
            return None if rounds is None or work.amount.most else sum(work.amount.in_round(n) for n in range(rounds))
    return None


def _any_most(stations: Sequence[Station]) -> bool:
    return any(w.amount.most for s in stations for c in s.cycles for w in c.items if isinstance(w, Work))


def _with_effort(station: Station, how: str) -> Station:
    cycles = tuple(
        Cycle(
            **{
                **dict(c),
                "items": tuple(
                    Work(**{**dict(i), "effort": i.effort or how}) if isinstance(i, Work) else i for i in c.items
                ),
            }
        )
        for c in station.cycles
    )
    return Station(cycles=cycles)


def _divides(total_s: int, window_s: int) -> str:
    if total_s % 60 == 0 and window_s % 60 == 0:
        return f"{total_s // 60} does not divide by {window_s // 60}"
    return f"{write_number(total_s)} seconds do not divide by {write_number(window_s)}"
