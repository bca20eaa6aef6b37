"""Work a workout through, rep by rep, for one kind of person: an exact simulation without chance.

    rep_s  = rate · (1 + SLOW · min(1, w / FULL_S))      w = seconds worked so far in the part
    break  : before a rep, if the streak on this line is STRETCH_S or more: BREAK_S, and the streak starts again
    change : CHANGE_S between two different lines, into an interrupt, and back from it

Rests do not restore. Interrupts cut in after the rep under way, queue when late and leave the streak alone: only then
is a slower person never sooner, and more reps never finish sooner. That is also why an interrupt costs the same
wherever it falls in the work: two changes, and its reps slowed by when it was due. A hold is by the clock, so nobody's
seconds grow longer.

Time is counted in whole microseconds, so that sums are exact and an interrupt due at the very end is never a matter
of rounding. Metres go in pieces of 5 m, everything else one by one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, count
from typing import Literal, NamedTuple

from briefing.board.models import (
    At,
    Cycle,
    Every,
    Interrupt,
    OnBreak,
    Part,
    Rest,
    Station,
    Work,
    Workout,
    body_of,
    planned_rounds,
)
from briefing.clock.people import (
    AS_NEEDED_S,
    BREAK_S,
    CHANGE_S,
    FULL_S,
    LONGEST_S,
    MOST_S,
    OPEN_LIMIT_S,
    SLOW,
    STRETCH_S,
    default_seconds,
    seconds_for_one,
    tempo_seconds,
)
from briefing.library.models import Movement
from briefing.units import Person, Unit

Kind = Literal["work", "break", "change", "rest", "interrupt", "idle"]

# Our choice: people stop on a run or a carry within a few steps, and a 1,000 m row stays quick to work out.
PIECE_M = 5
# Our choice: nothing anybody counts goes faster than 50 a second; keeps a slip in a movement's rate from taking hours.
FASTEST_S = 0.02
# Our choice: an "every put down" has no time of its own; each is taken to come after one more minute of work.
PUT_DOWN_S = 60

_US = 1_000_000
_NEVER = 1 << 60


@dataclass(frozen=True, slots=True)
class Effort:
    """Which parts of the formula are on, and `factor` on every rate (1.1: this coach's people take a tenth longer).

    `factor` is how a workout that somebody has tried is carried over; it does not touch rests, breaks and holds.
    """

    slowdown: bool = True
    breaks: bool = True
    changes: bool = True
    factor: float = 1.0


NORMAL = Effort()
EVEN = Effort(slowdown=False, breaks=False, changes=False)


class Event(NamedTuple):
    """A stretch of the log, in seconds from the start of the workout.

    `part` counts from 0; `window` and `round` from 1, 0 where there is none. `quantity` is what was completed in
    `unit`; a rep cut off by the clock is in the time and not in the quantity. An empty `movement` is no work.
    """

    kind: Kind
    start_s: float
    end_s: float
    part: int
    window: int
    round: int
    movement: str
    quantity: int
    unit: Unit


class Done(NamedTuple):
    """How much of a movement was completed, both sides together: `Done("goblet-squat", "reps", 60)`."""

    movement: str
    unit: Unit
    quantity: int


@dataclass(frozen=True, slots=True)
class PartRun:
    """How one part went. Seconds count from the start of the workout.

    `end_s` is when the clock of the part ends, `work_over_s` when the last work was done: they differ where the clock
    runs on. `finished` says whether everything written was completed; a part scored by how much is finished when its
    time is up, and a part that had to be broken off by OPEN_LIMIT_S or LONGEST_S never is.

    `rounds_done` counts rounds of the part's body; `into_next` is what stands beyond them. `round_s` has the seconds
    of every completed round, without interrupts and the rest and change before it. `windows_made` counts the windows
    whose work was completed, `window_s` has the seconds from the start of each to the end of its work, its full length
    where that was not enough. `interrupts_due` counts, by interrupt, the times that fell before the end,
    `interrupts_done` those completed, `interrupt_s` the longest time one took, both changes with it.
    """

    start_s: float
    end_s: float
    work_over_s: float
    finished: bool
    rounds_done: int
    into_next: tuple[Done, ...]
    round_s: tuple[float, ...]
    windows_made: int
    window_s: tuple[float, ...]
    work_done: tuple[Done, ...]
    interrupts_due: tuple[int, ...]
    interrupts_done: tuple[int, ...]
    interrupt_s: tuple[float, ...]
    interrupt_work: tuple[Done, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """How a workout went for one person.

    `finished` says whether every part was. `rounds_done` and `reps_into_next` are those of the last part;
    `interrupts_done` has one number for each interrupt of each part, in the board's order. `work_done` is the board's
    own work by movement and unit, without what interrupts added (that is in `parts`). `events` has no gap and no
    overlap, from 0 to `end_s`.
    """

    person: Person
    finished: bool
    end_s: float
    rounds_done: int
    reps_into_next: int
    work_done: tuple[Done, ...]
    interrupts_done: tuple[int, ...]
    parts: tuple[PartRun, ...]
    events: tuple[Event, ...]

    def done(self, movement: str, unit: Unit = "reps") -> int:
        """Give how much of a movement was completed, without what interrupts added."""
        return sum(d.quantity for d in self.work_done if d.movement == movement and d.unit == unit)


def simulate(workout: Workout, movements: Mapping[str, Movement], person: Person, *, effort: Effort = NORMAL) -> Run:
    """Work a workout through for one kind of person, part after part.

    A movement that `movements` lacks is worked at the default rates of `people.py`. Every part starts fresh (w is 0);
    the rest after the last part is not taken. Always ends: see OPEN_LIMIT_S and LONGEST_S.
    """
    events: list[Event] = []
    parts: list[PartRun] = []
    clock_us = 0
    for number, part in enumerate(workout.parts):
        if number and (rest_us := workout.parts[number - 1].rest_after_s * _US):
            events.append(_event("rest", clock_us, clock_us + rest_us, number - 1))
            clock_us += rest_us
        engine = _PartClock(part, number, movements, person, effort)
        parts.append(engine.run(clock_us, events))
        clock_us += engine.now
    last = parts[-1] if parts else None
    return Run(
        person=person,
        finished=all(p.finished for p in parts),
        end_s=clock_us / _US,
        rounds_done=last.rounds_done if last else 0,
        reps_into_next=sum(d.quantity for d in last.into_next if d.unit == "reps") if last else 0,
        work_done=add_up(d for p in parts for d in p.work_done),
        interrupts_done=tuple(n for p in parts for n in p.interrupts_done),
        parts=tuple(parts),
        events=tuple(events),
    )


def add_up(done: Iterable[Done]) -> tuple[Done, ...]:
    """Add up by movement and unit, in the order in which each came first."""
    sums: dict[tuple[str, Unit], int] = {}
    for movement, unit, quantity in done:
        sums[movement, unit] = sums.get((movement, unit), 0) + quantity
    return tuple(Done(movement, unit, quantity) for (movement, unit), quantity in sums.items())


def share_out(total: int, rounds: int, whole: int = 1) -> tuple[int, ...]:
    """Split a total into rounds as evenly as can be, what is left over in the first ones: 10 in 4 is (3, 3, 2, 2).

    `whole` keeps pairs together where the total allows it: 12 in 4 by twos is (4, 4, 2, 2).
    """
    unit = whole if whole > 0 and total % whole == 0 else 1
    each, over = divmod(total // unit, rounds)
    return tuple((each + 1 if r < over else each) * unit for r in range(rounds))


def quantity_in(work: Work, cycle: Cycle, r: int, visit: int) -> int:
    """Give a line's amount in round `r` of its cycle, or in the window where a cycle is gone through once in each.

    Both count from 0; of a total in any order it is the round's share as planned.
    """
    if cycle.any_order and cycle.plan_rounds:
        board_round, sub = divmod(r, cycle.plan_rounds)
        whole = 1 if work.sides == "both" else 2
        return share_out(work.amount.in_round(board_round), cycle.plan_rounds, whole)[sub]
    return work.amount.in_round(visit if cycle.rounds == 1 else r)


def _event(kind: Kind, start_us: int, end_us: int, part: int, window: int = 0) -> Event:
    return Event(kind, start_us / _US, end_us / _US, part, window, 0, "", 0, "reps")


class _Line:
    """A line of work made ready for one person: microseconds for a piece, how it slows, when a break is due."""

    __slots__ = ("fresh_us", "full_us", "grow", "movement", "piece", "rate", "slow", "stretch_us", "unit", "work")

    def __init__(self, work: Work, movements: Mapping[str, Movement], person: Person, effort: Effort) -> None:
        unit = work.amount.unit
        movement = movements.get(work.movement)
        rate = seconds_for_one(movement, unit, person) if movement else default_seconds(unit, person)
        if unit != "s":
            rate = max(rate * effort.factor, tempo_seconds(work.tempo) if unit == "reps" else 0.0, FASTEST_S)
        self.work = work
        self.movement = work.movement
        self.unit = unit
        self.rate = rate
        self.slow = SLOW if effort.slowdown and unit != "s" else 0.0
        self.piece = PIECE_M if unit == "m" else 1
        self.fresh_us, self.grow, self.full_us = self.times(self.piece)
        self.stretch_us = STRETCH_S[person] * _US if effort.breaks and not work.unbroken else _NEVER

    def times(self, piece: int) -> tuple[int, float, int]:
        """Give a piece's microseconds when fresh, what it gains by microsecond worked, and those after FULL_S."""
        fresh = round(self.rate * piece * _US)
        grow = fresh * self.slow / (FULL_S * _US)
        return fresh, grow, fresh + int(grow * FULL_S * _US)

    def fresh_set(self) -> int:
        """Give what "as many as possible" comes to without a clock."""
        return max(1, int(MOST_S / self.rate))


class _Do(NamedTuple):
    """A step: so much of a line, in this round (from 1); `timed` where somebody wants to know what the round took."""

    line: _Line
    quantity: int
    round: int
    timed: bool


class _Pause(NamedTuple):
    """A step: a rest that is taken before the next work, if there is any; `ratio` adds so many times the round just done."""

    rest_us: int
    ratio: float = 0


class _RoundEnd(NamedTuple):
    """A step: a round is complete."""

    body: bool


_Step = _Do | _Pause | _RoundEnd


class _Bells:
    """When one interrupt is due next, and how often it was."""

    __slots__ = ("done_count", "due_count", "due_us", "interrupt", "lines", "longest_us", "times")

    def __init__(self, interrupt: Interrupt, lines: tuple[_Line, ...]) -> None:
        self.interrupt = interrupt
        self.lines = lines
        self.due_count = 0
        self.done_count = 0
        self.longest_us = 0
        self.times: Iterator[int] = iter(())
        match interrupt.trigger:
            case Every(every_s=every_s, from_s=from_s) if every_s > 0:
                self.times = count(from_s * _US, every_s * _US)
            case At(times_s=times_s):
                self.times = iter(sorted(s * _US for s in times_s))
            case _:
                pass
        self.due_us = next(self.times, _NEVER)

    def ring(self) -> int:
        """Take the next time; give how often it was due before."""
        self.due_us = next(self.times, _NEVER)
        self.due_count += 1
        return self.due_count - 1


class _PartClock:
    """The clock of one part. `now` counts microseconds from its start."""

    def __init__(
        self, part: Part, number: int, movements: Mapping[str, Movement], person: Person, effort: Effort
    ) -> None:
        self.part = part
        self.number = number
        self.break_us = BREAK_S[person] * _US
        self.change_us = CHANGE_S * _US if effort.changes else 0
        self.as_needed_us = AS_NEEDED_S[person] * _US
        self.body = body_of(part)
        self.lines = [
            [
                [_Line(i, movements, person, effort) if isinstance(i, Work) else i for i in cycle.items]
                for cycle in station.cycles
            ]
            for station in part.stations
        ]
        self.bells = [_Bells(i, tuple(_Line(w, movements, person, effort) for w in i.works)) for i in part.interrupts]
        self.timed = [b for b in self.bells if not isinstance(b.interrupt.trigger, OnBreak)]
        self.on_break = [b for b in self.bells if isinstance(b.interrupt.trigger, OnBreak)]
        self.due = min((b.due_us for b in self.timed), default=_NEVER)
        self.now = 0
        self.limit = 0
        self.worked = 0
        self.streak = 0
        self.aside = 0
        self.line: _Line | None = None
        self.rest_us = 0
        self.window = 0
        self.rounds_done = 0
        self.round_us: list[int] = []
        self.last_round_us = 0
        self.round_from: tuple[int, int] | None = None
        self.work_over = 0
        self.done: dict[tuple[str, Unit], int] = {}
        self.into: dict[tuple[str, Unit], int] = {}
        self.forced: dict[tuple[str, Unit], int] = {}
        self.log: list[Event] = []
        self.offset = 0

    def run(self, offset_us: int, log: list[Event]) -> PartRun:
        """Work the part through; `offset_us` is when it starts, `log` takes its events."""
        self.offset, self.log = offset_us, log
        window_us, made, broken_off = self._work_windows()
        self._close_bells(self.now, self.now)
        needed = 1 if self.part.carries_on else self.part.windows.count
        return PartRun(
            start_s=offset_us / _US,
            end_s=(offset_us + self.now) / _US,
            work_over_s=(offset_us + self.work_over) / _US,
            finished=not broken_off
            and (made >= needed or self.part.until_missed or self.part.goal in ("most", "heaviest")),
            rounds_done=self.rounds_done,
            into_next=_as_done(self.into),
            round_s=tuple(us / _US for us in self.round_us),
            windows_made=made,
            window_s=tuple(us / _US for us in window_us),
            work_done=_as_done(self.done),
            interrupts_due=tuple(b.due_count for b in self.bells),
            interrupts_done=tuple(b.done_count for b in self.bells),
            interrupt_s=tuple(b.longest_us / _US for b in self.bells),
            interrupt_work=_as_done(self.forced),
        )

    def _work_windows(self) -> tuple[list[int], int, bool]:
        """Go through the windows: microseconds of work in each, how many were made, whether our limit ended it."""
        windows, stations, goal = self.part.windows, self.part.stations or (Station(),), self.part.goal
        is_open = any(c.rounds is None for c in self.part.cycles)
        longest = (OPEN_LIMIT_S if is_open and windows.work_s is None else LONGEST_S) * _US
        kept: dict[int, Iterator[_Step]] = {}
        window_us: list[int] = []
        made = 0
        for number in range(windows.count):
            start, last, at = self.now, number == windows.count - 1, number % len(stations)
            self.window = number + 1
            self.limit = longest if windows.work_s is None else min(longest, start + windows.work_s * _US)
            self.line, self.rest_us = None, 0
            if not self.part.carries_on:
                self.round_from, self.into = None, {}
            left = self._work_steps(kept.get(at) or self._steps(at, number // len(stations)))
            if self.part.carries_on:
                kept[at] = left or iter(())
            complete = left is None
            made += complete
            window_us.append(self.now - start)
            ends_here = complete and (self.part.carries_on or last) and goal not in ("most", "complete")
            if ends_here or windows.work_s is None:
                self._answer_bells()
            else:
                self._stand_idle()
            if self.now >= longest and not (complete and last):
                return window_us, made, True
            if ends_here or (self.part.until_missed and not complete):
                break
            if gap_us := windows.gap_after(number + 1) * _US:
                self._close_bells(self.now, self.now + gap_us)
                self._spend("rest", gap_us, clip=False)
                self.aside += gap_us
        return window_us, made, False

    def _work_steps(self, steps: Iterator[_Step]) -> Iterator[_Step] | None:
        """Work until nothing is left (None) or the window ends: what is left then."""
        for step in steps:
            if isinstance(step, _Do):
                self._arrive(step.line)
                if step.timed and self.round_from is None:
                    self.round_from = (self.now, self.aside)
                left = self._work(step.line, step.quantity, step.round)
                if left:
                    return chain((step._replace(quantity=left),), steps)
            elif isinstance(step, _Pause):
                self.rest_us += step.rest_us + round(step.ratio * self.last_round_us)
            else:
                self.into = {}
                if step.body:
                    self.rounds_done += 1
                if self.round_from is not None:
                    self.last_round_us = self.now - self.round_from[0] - self.aside + self.round_from[1]
                    if step.body:
                        self.round_us.append(self.last_round_us)
                self.round_from = None
        return None

    def _steps(self, at: int, visit: int) -> Iterator[_Step]:
        """Give the steps of a station; `visit` counts from 0 how often it served before."""
        cycles = self.part.stations[at].cycles if self.part.stations else ()
        for c, cycle in enumerate(cycles):
            items, rounds, body = self.lines[at][c], planned_rounds(cycle), cycle is self.body
            timed, own_rests = body or cycle.rest_ratio is not None, dict(cycle.rest_after)
            between = self.as_needed_us if cycle.rest_between_s is None else cycle.rest_between_s * _US
            last_line = next((i for i in reversed(items) if isinstance(i, _Line)), None)
            for r in count() if rounds is None else range(rounds):
                any_work = False
                for item in items:
                    if isinstance(item, Rest):
                        yield _Pause(self.as_needed_us if item.seconds is None else item.seconds * _US)
                        continue
                    quantity = quantity_in(item.work, cycle, r, visit)
                    if item.work.amount.most:
                        to_the_end = item is last_line and cycle is cycles[-1] and rounds in (1, None)
                        quantity = _NEVER if to_the_end and self._has_clock else item.fresh_set()
                    if quantity > 0:
                        any_work = True
                        yield _Do(item, quantity, r + 1, timed)
                if not any_work:  # a ladder has come to its end; going on would go round for ever
                    break
                yield _RoundEnd(body)
                rest_us = own_rests[r + 1] * _US if r + 1 in own_rests else between
                if (rest_us or cycle.rest_ratio) and r + 1 != rounds:
                    yield _Pause(rest_us, cycle.rest_ratio or 0)

    @property
    def _has_clock(self) -> bool:
        return self.part.windows.work_s is not None

    def _arrive(self, line: _Line) -> None:
        """Come to a line: the rest before it, the change to it. Coming back to the same line is no change."""
        rest, self.rest_us = self.rest_us, 0
        self._rest(rest)
        if line is not self.line:
            if self.line is not None:
                self._ring_bells()
                self._spend("change", self.change_us)
            self.line = line
            self.streak = 0

    def _rest(self, rest_us: int) -> None:
        """Rest; an interrupt cuts in, and the rest goes on after it for its full time."""
        while rest_us > 0 and self.now < self.limit:
            if self.due <= self.now:
                self._ring_bells()
                continue
            step = min(rest_us, self.limit - self.now, self.due - self.now)
            self._spend("rest", step)
            rest_us -= step

    def _stand_idle(self) -> None:
        """Wait for the window to end; what the clock forces in between is done at once."""
        while self.now < self.limit:
            if self.due <= self.now:
                self._ring_bells()
            else:
                self._spend("idle", min(self.limit, self.due) - self.now)

    def _spend(self, kind: Kind, us: int, *, clip: bool = True) -> None:
        end = min(self.now + us, self.limit) if clip else self.now + us
        if end > self.now:
            self.log.append(_event(kind, self.offset + self.now, self.offset + end, self.number, self.window))
            self.now = end

    def _ring_bells(self) -> None:
        """Do what is due by now, the earliest first, and what comes due meanwhile."""
        while self.due <= self.now < self.limit:
            self._force(min(self.timed, key=lambda b: b.due_us), back=True)

    def _answer_bells(self) -> None:
        """Do, after the last rep, what was due before it; an interrupt due at the very end does not count."""
        while self.due < self.now < self.limit:
            self._force(min(self.timed, key=lambda b: b.due_us), back=False)

    def _close_bells(self, end: int, start: int) -> None:
        """Count what was due before the end of a window and not begun; leave out what falls into the gap."""
        for bell in self.timed:
            while bell.due_us < end:
                bell.ring()
            while bell.due_us < start:
                bell.due_us = next(bell.times, _NEVER)
        self.due = min((b.due_us for b in self.timed), default=_NEVER)

    def _force(self, bell: _Bells, *, back: bool) -> None:
        """Do an interrupt's work: a change into it (not at 0:00), its lines, a change back.

        How much it is slowed depends on when it was due, not on how far the person is: otherwise whoever comes to it
        with less work behind would be through with it sooner, and more reps could finish sooner.
        """
        begun, tired_us = self.now, bell.due_us
        nth = bell.ring()
        if tired_us == _NEVER:
            tired_us = (nth + 1) * PUT_DOWN_S * _US
        if self.timed:
            self.due = min(b.due_us for b in self.timed)
        if self.now:
            self._spend("change", self.change_us)
        left = 0
        for n, line in enumerate(bell.lines):
            if n:
                self._spend("change", self.change_us)
            left += self._work(line, line.work.amount.in_round(nth), nth + 1, tired_us)
        if not left:
            bell.done_count += 1
        if back:
            self._spend("change", self.change_us)
        self.aside += self.now - begun
        bell.longest_us = max(bell.longest_us, self.now - begun)

    def _work(self, line: _Line, quantity: int, round_no: int, tired_us: int | None = None) -> int:
        """Work so much of a line, breaks and interrupts in between; give what is left when the window ends.

        `tired_us` is given for the work of an interrupt: as if that much had been worked before.
        """
        forced = tired_us is not None
        streak, left = 0 if forced else self.streak, quantity
        begun, begun_left = self.now, quantity
        while left and self.now < self.limit:
            late = not forced and self.due <= self.now
            if not late and streak < line.stretch_us:
                until = self.limit if forced or self.due > self.limit else self.due
                left, streak = self._work_until(line, left, streak, until, tired_us)
                continue
            self._note(line, begun, begun_left - left, round_no, forced=forced)
            if late:
                self._ring_bells()
            else:
                self._spend("break", self.break_us)
                streak = 0
                for bell in () if forced else self.on_break:
                    if self.now < self.limit:
                        self._force(bell, back=True)
            begun, begun_left = self.now, left
        self._note(line, begun, begun_left - left, round_no, forced=forced)
        if not forced:
            self.streak = streak
        return left

    def _work_until(self, line: _Line, left: int, streak: int, until: int, tired_us: int | None) -> tuple[int, int]:
        """Work pieces until one ends at `until` or later, a break is due, or none is left: what is left, the streak.

        The piece that the end of the window cuts takes the time that was left; whole metres of it still count.
        """
        t, w, limit, stretch, full = self.now, self.worked, self.limit, line.stretch_us, FULL_S * _US
        piece, fresh_us, grow, took = line.piece, line.fresh_us, line.grow, line.full_us
        if left < piece:
            piece = left
            fresh_us, grow, took = line.times(piece)
        pieces = left // piece
        if tired_us is None and grow and w < full:
            n = 0
            while n < pieces:  # one by one, since each makes the next a little slower
                took = fresh_us + int(grow * w)
                if t + took > limit:
                    break
                t += took
                w += took
                streak += took
                n += 1
                if t >= until or streak >= stretch or w >= full:
                    break
            cut = n < pieces and t < until and streak < stretch and w < full
        else:
            if tired_us is not None:
                took = fresh_us + int(grow * min(tired_us, full))
            wanted = min(pieces, -((t - until) // took), -((streak - stretch) // took))
            n = min(wanted, (limit - t) // took)
            t += n * took
            w += n * took
            streak += n * took
            cut = n < wanted
        left -= n * piece
        if cut:
            left -= (limit - t) * piece // took
            w += limit - t
            t = limit
        self.now, self.worked = t, w
        return left, streak

    def _note(self, line: _Line, begun: int, quantity: int, round_no: int, *, forced: bool) -> None:
        """Write into the log, and into the sums, what was worked since `begun`."""
        if self.now == begun:
            return
        start_s, end_s = (self.offset + begun) / _US, (self.offset + self.now) / _US
        kind: Kind = "interrupt" if forced else "work"
        self.log.append(
            Event(kind, start_s, end_s, self.number, self.window, round_no, line.movement, quantity, line.unit)
        )
        key = line.movement, line.unit
        if forced:
            self.forced[key] = self.forced.get(key, 0) + quantity
        else:
            self.done[key] = self.done.get(key, 0) + quantity
            self.into[key] = self.into.get(key, 0) + quantity
            self.work_over = self.now


def _as_done(sums: dict[tuple[str, Unit], int]) -> tuple[Done, ...]:
    return tuple(Done(movement, unit, quantity) for (movement, unit), quantity in sums.items() if quantity)
