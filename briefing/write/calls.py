"""The call sheet of the workout itself: what the coach calls out, on the clock.

Two kinds of calls. What the clock decides (starts, windows, what is forced in, rests between, the end) is taken from the workout and
is exact: members differ, the clock does not. Rounds, first call-outs and the change to another side inside a round follow a
steady person's run and are said to be about right.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from briefing.board.models import At, Cycle, Every, Interrupt, Part, Rest, Station, Work, Workout, body_of
from briefing.board.totals import shares_sides
from briefing.clock.simulate import Event, Run, quantity_in
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.telling.interrupts import when_words
from briefing.telling.numbers import count_words
from briefing.telling.phrases import amount_words, many_words, name_words
from briefing.telling.rests import as_long_words, rest_time
from briefing.telling.sentences import join_words, lower_first, sentence, tidy, upper_first
from briefing.units import write_clock

Kind = Literal["end", "start", "window", "rest", "forced", "round", "work", "side", "soon", "last"]

# Our choice: nobody listens to a call within three seconds of another one, and the clock's own calls get a little more air.
APART_S, AIR_S = 3.0, 4.0
# Our choice: a call that would have to wait longer than this for air is left out, because it would come too late.
WAIT_S = 15.0
COUNT_IN_S = 3.0
WARN_S = 30.0
# Our choice: in the last ten seconds of a part only the clock speaks.
LATE_S = 10.0
# Our choice: windows from this length on, and rests, are long enough for half a minute's notice.
WARN_FROM_S = 90.0
# Our choice: shorter clocks need no half and no last minute.
HALF_FROM_S, LAST_FROM_S = 240, 120
# A call-out comes in the first two rounds; later a round is called alone, so that there is air between.
CALLED_OUT = 2
# Our choice: in a ladder of minutes without an end, the call sheet goes on so much longer than an easy person does.
MORE_MINUTES_S = 300
# Calls of one moment are said in this order.
_ORDER: tuple[Kind, ...] = ("end", "start", "window", "rest", "forced", "round", "work", "side", "soon", "last")


class Call(Model):
    """One call: when on the clock, what is called out, what kind it is.

    `exact` says whether the clock decides the time, or a steady person's run. `clock` counts how often the clock was started anew
    before: a part without a limit ends when each is through, so the next one has a clock of its own. `part` counts from 0.
    """

    at_s: float
    words: str
    kind: Kind
    exact: bool = True
    clock: int = 0
    part: int = 0

    @property
    def time(self) -> str:
        """The time as it stands on the clock."""
        return write_clock(self.at_s)


def calls_of(
    workout: Workout, run: Run, movements: Mapping[str, Movement], slow: Run | None = None
) -> tuple[Call, ...]:
    """Give the calls of a workout, in order: by clock, then by time. `run` is a steady person's.

    `slow` is an easy person's run: in a part without a limit, what the clock forces in is called until that person is through.
    """
    out: list[Call] = []
    clock, start = 0, 0.0
    for number, part in enumerate(workout.parts):
        ends = [r.parts[number].end_s - r.parts[number].start_s for r in (run, slow) if r is not None]
        one = _PartCalls(workout, number, clock, start, max(ends), run, movements)
        out += one.all()
        if part.clock_s is None:
            clock, start = clock + 1, 0.0
        else:
            start += part.clock_s + part.rest_after_s
    exact = _at_once([c for c in out if c.exact])
    return tuple(_in_order([*exact, *_with_air([c for c in out if not c.exact], exact)]))


def said(work: Work, movement: Movement, in_round: int = 0, *, amount: int | None = None) -> str:
    """Say a line of work for a call, its number as a figure: `12 mountain climbers, 6 each leg`, `a 200-meter run`.

    `amount` is what of it is done in one go, where that is not what stands on the board.
    """
    number = work.amount.in_round(in_round) if amount is None else amount
    fixed = work.amount.model_copy(update={"by_round": (number,), "step": 0}) if number else work.amount
    if fixed.unit == "reps" and number and not fixed.most:
        written = [str(number)]
        if len(work.amounts) > 1 and amount is None:
            written.append(str(work.amounts[1].in_round(in_round)))
        count = "/".join(written) + (f" to {fixed.at_most}" if fixed.at_most else "")
        parts = [f"{count} {name_words(movement) if count == '1' else many_words(movement)}"]
    else:
        parts = [amount_words(fixed, movement)]
    if work.note:
        parts.append(lower_first(work.note))
    if work.unbroken:
        parts.append("without a break")
    half = _half(work, number)
    if half:
        parts.append(f"{_seconds(half) if fixed.unit == 's' else half} each {work.side_word or 'side'}")
    return ", ".join(parts)


def _half(work: Work, number: int) -> int | None:
    """Give one side's share of a number; None where there is none."""
    return number // 2 if shares_sides(work) and number and number % 2 == 0 and not work.amount.most else None


def _seconds(seconds: int) -> str:
    return f"{seconds} seconds" if seconds < 60 else write_clock(seconds)


@dataclass
class _Group:
    """One line of a steady person's round, with the pieces in which it was worked: (start, end, quantity)."""

    window: int
    round: int
    movement: str
    pieces: list[tuple[float, float, int]]

    @property
    def start_s(self) -> float:
        return self.pieces[0][0]

    def half_s(self, half: int) -> float | None:
        """Give when so much of it is done; None where it is not."""
        done = 0
        for start, end, quantity in self.pieces:
            if quantity and done + quantity >= half:
                return start + (end - start) * (half - done) / quantity
            done += quantity
        return None


@dataclass(frozen=True)
class _PartCalls:
    """The calls of one part; `start` is when it begins on its clock, `longest_s` how long people work where it has no limit."""

    workout: Workout
    number: int
    clock: int
    start: float
    longest_s: float
    run: Run
    movements: Mapping[str, Movement]

    @property
    def part(self) -> Part:
        return self.workout.parts[self.number]

    @property
    def several(self) -> bool:
        return len(self.workout.parts) > 1

    def all(self) -> Iterator[Call]:
        yield from self._begin()
        yield from self._forced()
        if self.part.windows.count > 1:
            yield from self._windows()
        else:
            yield from self._one_window()
        yield from self._end()
        yield from self._steady()

    def _call(self, at_s: float, words: str, kind: Kind, *, exact: bool = True) -> Call:
        return Call(at_s=self.start + at_s, words=words, kind=kind, exact=exact, clock=self.clock, part=self.number)

    def _begin(self) -> Iterator[Call]:
        span = self.part.span_s
        part = f"Part {self.workout.letter_of(self.number)}."
        name = part if span is None else f"{write_clock(span[0])} to {write_clock(span[1])}."
        if not self.start:
            yield self._call(0, f"{name} Three, two, one, go." if self.several else "Three, two, one, go.", "start")
            return
        before = self.workout.parts[self.number - 1]
        if before.rest_after_s >= WARN_FROM_S / 2:
            yield self._call(-WARN_S, f"Thirty seconds, then {lower_first(name)}", "soon")
        yield self._call(-COUNT_IN_S, "Three, two, one.", "soon")
        yield self._call(0, f"Go. {name}", "start")

    def _one_window(self) -> Iterator[Call]:
        """Call what one stretch of clock does: the first line with its start, half of it, the last minute."""
        first = next((g for g in self._groups()), None)
        if first is not None and first.start_s < 0.5:
            yield self._call(0, self._work_words(first), "work")
        clock = self.part.clock_s
        if clock is None:
            return
        if clock >= HALF_FROM_S:
            yield self._call(clock / 2, "Half of the clock.", "last")
        if clock >= LAST_FROM_S:
            yield self._call(clock - 60, "Last minute.", "last")

    def _windows(self) -> Iterator[Call]:
        w, stations = self.part.windows, self.part.stations or (Station(),)
        if w.work_s is None:
            return
        for n in range(w.count):
            begin, station, visit = w.start_of(n + 1), stations[n % len(stations)], n // len(stations)
            if self.part.until_missed and begin > self.longest_s + MORE_MINUTES_S:
                return
            end, last = begin + w.work_s, n + 1 == w.count
            following = None if last else stations[(n + 1) % len(stations)]
            if n and station.cycles:
                yield self._call(begin - COUNT_IN_S, "Three, two, one.", "soon")
            yield self._call(begin, self._window_words(n, station, visit, end), "window")
            if station.cycles:
                yield from self._side_in_window(station, visit, begin)
            if w.work_s >= WARN_FROM_S and station.cycles:
                yield self._call(end - WARN_S, self._soon_words(n, following), "soon")
            if following is not None and (gap_s := w.gap_after(n + 1)):
                yield self._call(end, self._rest_words(following, visit, n, end + gap_s), "rest")

    def _window_words(self, n: int, station: Station, visit: int, end: float) -> str:
        if not station.cycles:
            return f"Off. Breathe until {write_clock(self.start + end)}."
        head = "Go. " if n else ""
        if self.part.carries_on and n:
            return f"{head}{self._window_name(n)}: go on where you stopped."
        words = f"{head}{self._window_name(n)}: {self._holds(station, visit)}."
        work = next((i for c in station.cycles for i in c.items if isinstance(i, Work)), None)
        if visit < CALLED_OUT and work is not None:
            words += self._called(work.movement)
        return words

    def _window_name(self, n: int) -> str:
        w = self.part.windows
        name = "Minute" if w.work_s == 60 and not w.gap_s else "Round"
        of = "" if self.part.until_missed else f" of {count_words(w.count)}"
        return f"{name} {count_words(n + 1)}{of}"

    def _soon_words(self, n: int, following: Station | None) -> str:
        if following is None or self.part.windows.gap_s:
            return "Thirty seconds left."
        if not following.cycles:
            return "Thirty seconds, then off."
        return f"Thirty seconds, then {lower_first(self._window_name(n + 1)).partition(' of ')[0]}."

    def _rest_words(self, following: Station, visit: int, n: int, until: float) -> str:
        words = f"Rest until {write_clock(self.start + until)}."
        if len(self.part.stations) > 1 and following.cycles:
            turn = visit + (1 if (n + 1) % len(self.part.stations) == 0 else 0)
            words += f" Next: {self._holds(following, turn)}."
        return words

    def _holds(self, station: Station, visit: int) -> str:
        """Say what a window holds: `10 kettlebell swings, then 6 burpees`."""
        out = []
        for cycle in station.cycles:
            works = []
            for item in cycle.items:
                if isinstance(item, Rest):
                    works.append(f"rest {write_clock(item.seconds)}" if item.seconds else "rest as needed")
                else:
                    works.append(said(item, self.movements[item.movement], visit if cycle.rounds == 1 else 0))
            words = ", then ".join(works)
            if cycle.rounds is None:
                words = words if len(works) == 1 else f"as many rounds as you can of {words}"
            elif cycle.rounds > 1:
                words = f"{count_words(cycle.rounds)} rounds of {words}"
            out.append(words)
        return ", then ".join(out)

    def _side_in_window(self, station: Station, visit: int, begin: float) -> Iterator[Call]:
        """Call the other side half-way through a hold that begins its window, or through a window of as many as possible."""
        work, cycle = _first_work(station)
        if work is None or cycle is None or work.sides != "each":
            return
        alone = len(station.cycles) == 1 and len(cycle.items) == 1
        if work.amount.most and alone:
            yield self._call(begin + (self.part.windows.work_s or 0) / 2, _other_side(work), "side")
        elif work.amount.unit == "s" and (half := _half(work, _in_window(work, cycle, visit))):
            yield self._call(begin + half, _other_side(work), "side")

    def _forced(self) -> Iterator[Call]:
        """Call what is forced in exactly when it is due, and half a minute before."""
        for interrupt in self.part.interrupts:
            due = self._due(interrupt)
            if due is None:
                yield self._call(0, f"{when_words(interrupt)}: {self._forced_words(interrupt, 0)}.", "forced")
                continue
            names = join_words([self._short(w) for w in interrupt.works])
            for nth, at in enumerate(due):
                begin = self._window_begin(at)
                since = max(begin, due[nth - 1] if nth else begin)
                if at - since >= 2 * WARN_S:
                    yield self._call(at - WARN_S, f"Thirty seconds, then {names}.", "soon")
                words = f"Now: {self._forced_words(interrupt, nth)}."
                if nth < CALLED_OUT:
                    words += self._called(interrupt.works[0].movement)
                yield self._call(at, words, "forced")

    def _short(self, work: Work) -> str:
        movement = self.movements[work.movement]
        return many_words(movement) if work.amount.unit == "reps" else amount_words(work.amount, movement)

    def _due(self, interrupt: Interrupt) -> list[float] | None:
        """Give the seconds of the part at which it is due, inside the windows and before the end; None where no clock says."""
        match interrupt.trigger:
            case Every(every_s=every_s, from_s=from_s):
                end = self.longest_s if self.part.clock_s is None else self.part.clock_s
                times = [float(from_s + n * every_s) for n in range(max(0, int((end - from_s) // every_s) + 1))]
            case At(times_s=times_s):
                times = sorted(float(t) for t in times_s)
            case _:
                return None
        return [t for t in times if self._is_work(t)]

    def _is_work(self, at: float) -> bool:
        w = self.part.windows
        if w.work_s is None:
            return at < self.longest_s
        return at < (self.part.clock_s or self.longest_s) and at - self._window_begin(at) < w.work_s

    def _window_begin(self, at: float) -> float:
        numbers = range(1, self.part.windows.count + 1)
        return float(self.part.windows.start_of(max(1, bisect_right(numbers, at, key=self.part.windows.start_of))))

    def _forced_words(self, interrupt: Interrupt, nth: int) -> str:
        return join_words([said(w, self.movements[w.movement], nth) for w in interrupt.works])

    def _end(self) -> Iterator[Call]:
        clock, rest = self.part.clock_s, self.part.rest_after_s
        if clock is None:
            return
        words = "Time. Stop where you are."
        if self.number + 1 < len(self.workout.parts) and rest:
            words += f" Rest until {write_clock(self.start + clock + rest)}."
        yield self._call(clock, words, "end")

    def _steady(self) -> Iterator[Call]:
        """Call what follows a steady person: rounds, the lines of the first two, the other side, the rests, being through."""
        w, stations = self.part.windows, max(1, len(self.part.stations))
        single = w.count == 1
        seen: set[tuple[int, int]] = set()
        lines = 0
        for group in self._groups():
            key = (0 if single or self.part.carries_on else group.window, group.round)
            lines = 0 if key not in seen else lines + 1
            if key not in seen:
                seen.add(key)
                if group.round > 1:
                    yield self._call(group.start_s, f"Round {count_words(group.round)}.", "round", exact=False)
            work, number = self._line(group)
            varies = work is not None and work.amount.varies
            turn = group.round if single else max((group.window - 1) // stations + 1, group.round)
            if turn > CALLED_OUT and not (varies and single and lines == 0):
                continue
            # The first line of a window is called with the window, that of the part with its start.
            if group.start_s >= 0.5 and (single or self._offset(group) >= 0.5):
                yield self._call(group.start_s, self._work_words(group), "work", exact=False)
            called = not single and self._offset(group) < 0.5 and work is not None and work.amount.unit == "s"
            if work is not None and work.sides == "each" and (half := _half(work, number)) and not called:
                at = group.half_s(half)
                if at is not None:
                    yield self._call(at, _other_side(work, half), "side", exact=False)
        yield from self._rests()
        part_run = self.run.parts[self.number]
        took = part_run.end_s - part_run.start_s
        early = self.part.clock_s is None or took < self.part.clock_s - 2 * AIR_S
        if single and part_run.finished and early and self.part.goal in {"time", "quality"}:
            quiet = self.part.goal == "quality" or self.part.sets
            words = "Through? Well done." if quiet else "Through? Write down your time."
            if self.number + 1 == len(self.workout.parts):
                words += " Keep walking."
            elif self.part.clock_s is None and self.part.rest_after_s:
                words += f" Rest {write_clock(self.part.rest_after_s)}. Part {self.workout.letter_of(self.number + 1)} has a new clock."
            else:
                words += f" Part {self.workout.letter_of(self.number + 1)} comes next."
            yield self._call(took, words, "last", exact=False)

    def _rests(self) -> Iterator[Call]:
        """Call the rests among the work, those between windows apart: the clock has them."""
        before = 0.0
        for event in self._events():
            length = event.end_s - event.start_s
            inside = self.part.windows.count == 1 or self._is_work(event.start_s)
            # Half a second's grace: a rest of twenty seconds may end in a rounding.
            if event.kind == "rest" and length >= 19.5 and inside and event.start_s > before:
                yield self._call(event.start_s, self._rested_words(length), "rest", exact=False)
            if event.kind == "rest":
                before = event.end_s

    def _rested_words(self, length: float) -> str:
        """Say a rest as the board has it: a time of its own, a range, as long as the work, as long as one needs."""
        body, seconds = body_of(self.part), round(length)
        inside = [i for c in self.part.cycles for i in c.items if isinstance(i, Rest)]
        timed = {i.seconds: rest_time(i.seconds, i.at_most_s, i.doing) for i in inside if i.seconds}
        if body is not None and body.rest_between_s:
            timed[body.rest_between_s] = rest_time(body.rest_between_s, body.rest_at_most_s, body.rest_doing)
        timed |= {s: write_clock(s) for _, s in (body.rest_after if body else ())}
        if seconds in timed:
            return f"Rest, {timed[seconds]}."
        if body is not None and body.rest_ratio:
            return f"Rest, {as_long_words(body.rest_ratio)} as the round took."
        as_needed = any(i.seconds is None for i in inside) or (body is not None and body.rest_between_s is None)
        return "Rest as long as you need." if as_needed else f"Rest, {write_clock(length)}."

    def _events(self) -> Iterator[Event]:
        """Give a steady person's events of this part, counted from its start; the rest after the part is not of it."""
        part_run = self.run.parts[self.number]
        for event in self.run.events:
            if event.part == self.number and event.start_s < part_run.end_s:
                yield event._replace(start_s=event.start_s - part_run.start_s, end_s=event.end_s - part_run.start_s)

    def _groups(self) -> Iterator[_Group]:
        """Give the lines of work as they were worked, one after the other."""
        group: _Group | None = None
        for event in self._events():
            if event.kind != "work":
                continue
            piece = (event.start_s, event.end_s, event.quantity)
            if group and (group.window, group.round, group.movement) == (event.window, event.round, event.movement):
                group.pieces.append(piece)
                continue
            if group:
                yield group
            group = _Group(event.window, event.round, event.movement, [piece])
        if group:
            yield group

    def _offset(self, group: _Group) -> float:
        """Give how long after the start of its window a line begins."""
        return group.start_s - self._window_begin(group.start_s)

    def _line(self, group: _Group) -> tuple[Work | None, int]:
        """Give the board's line that a group is, and its number in this round; nothing where two lines are of one movement."""
        stations = self.part.stations
        if not stations:
            return None, 0
        at, visit = (group.window - 1) % len(stations), (group.window - 1) // len(stations)
        found = [
            (c, i) for c in stations[at].cycles for i in c.items if isinstance(i, Work) and i.movement == group.movement
        ]
        if len(found) != 1:
            return None, 0
        cycle, work = found[0]
        return work, quantity_in(work, cycle, group.round - 1, visit)

    def _work_words(self, group: _Group) -> str:
        movement = self.movements[group.movement]
        work, number = self._line(group)
        name = said(work, movement, amount=number) if work is not None else movement.name
        out = self._out(group.movement)
        return f"{upper_first(name)}: {out}." if out else f"{upper_first(name)}."

    def _out(self, slug: str) -> str:
        movement = self.movements[slug]
        return lower_first(movement.call_out or next((p.card for p in movement.points), ""))

    def _called(self, slug: str) -> str:
        """Give the call-out as a sentence of its own; nothing for a movement of which only the name is known."""
        out = self._out(slug)
        return f" {sentence(out)}." if out else ""


def _first_work(station: Station) -> tuple[Work | None, Cycle | None]:
    cycle = station.cycles[0]
    first = cycle.items[0] if cycle.items else None
    return (first, cycle) if isinstance(first, Work) else (None, None)


def _in_window(work: Work, cycle: Cycle, visit: int) -> int:
    return work.amount.in_round(visit if cycle.rounds == 1 else 0)


def _other_side(work: Work, half: int | None = None) -> str:
    side = work.side_word or "side"
    if half is None or work.amount.unit == "s":
        return f"Now the other {side}."
    return (
        f"Now {half} on the other {side}." if work.amount.unit == "reps" else f"Now the other {side}, the same again."
    )


def _in_order(calls: list[Call]) -> list[Call]:
    return sorted(calls, key=lambda c: (c.clock, c.at_s, _ORDER.index(c.kind)))


def _at_once(calls: list[Call]) -> list[Call]:
    """Put the clock's calls of one moment into one, in the order in which they are said; none of them moves."""
    out: list[Call] = []
    for call in _in_order(calls):
        before = out[-1] if out else None
        if before is not None and before.clock == call.clock and call.at_s - before.at_s < 0.5:
            words = call.words.removeprefix("Go. ") if "go." in before.words.lower() else call.words
            out[-1] = before.model_copy(update={"words": tidy(f"{before.words} {words}")})
        else:
            out.append(call)
    return out


def _with_air(calls: list[Call], exact: list[Call]) -> list[Call]:
    """Place the calls that follow a steady person between those of the clock.

    One that is too near to a call of the clock waits, because its time is about right anyhow; one that would have to wait too
    long, or beyond its window or its part, is left out. Two that are too near to each other become one.
    """
    out: list[Call] = []
    for call in _in_order(calls):
        at = call.at_s
        for other in exact:
            if other.clock == call.clock and abs(other.at_s - at) < AIR_S:
                at = other.at_s + AIR_S
        edges = [
            x.at_s - (LATE_S if x.kind == "end" else 0)
            for x in exact
            if x.clock == call.clock and x.at_s > call.at_s + 0.5 and x.kind in {"window", "end", "start"}
        ]
        if at - call.at_s > WAIT_S or (edges and at >= min(edges)):
            continue
        placed = call.model_copy(update={"at_s": at})
        before = out[-1] if out else None
        if before is not None and before.clock == call.clock and at - before.at_s < APART_S:
            out[-1] = before.model_copy(update={"words": f"{before.words} {call.words}"})
        else:
            out.append(placed)
    return out
