"""Whole workouts of every form, built as models, with the facts that each surface has to tell.

Every number in one workout is another one, so that a number that is found was told for what it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import count

from hypothesis import strategies as st

from briefing.board.models import (
    Amount,
    At,
    Cycle,
    Every,
    Interrupt,
    Load,
    OnBreak,
    Option,
    Part,
    Rest,
    Station,
    Windows,
    Work,
    Workout,
)
from briefing.library.models import Sides
from briefing.problems import Place
from briefing.speech.numbers import cardinal_words
from briefing.units import Unit, write_clock

PLACE = Place(file="made.md", line=1)
REPS = (
    "goblet-squat", "push-up", "burpee", "kettlebell-swing", "sit-up", "air-squat", "barbell-thruster", "pull-up",
    "dumbbell-thruster", "v-up", "box-jump", "ring-row",
)  # fmt: skip
LOADED = frozenset({"goblet-squat", "kettlebell-swing", "barbell-thruster", "dumbbell-thruster"})
HALVED: tuple[tuple[str, Sides, str], ...] = (
    ("one-arm-row", "each", "arm"),
    ("mountain-climber", "alternating", "leg"),
)
OTHERS: tuple[tuple[str, Unit], ...] = (("run", "m"), ("row", "cal"), ("plank", "s"), ("farmer-carry", "m"))
FORMS = (
    "rounds", "once", "quality", "numbers", "own numbers", "any order", "amrap", "ladder", "max", "every", "stations",
    "intervals", "turns", "windows", "sets", "sets of sets", "heavy", "heavy by round", "climb", "complex",
)  # fmt: skip


@dataclass(frozen=True)
class Fact:
    """One thing that every surface has to tell: as it is written on paper, as it is said, as it stands on a card."""

    what: str
    written: str
    said: tuple[str, ...]
    card: tuple[str, ...]


@dataclass
class Numbers:
    """Numbers that no other place of a workout has, and the facts about them so far."""

    facts: list[Fact] = field(default_factory=list)
    _reps: Iterator[int] = field(default_factory=lambda: iter(range(22, 400, 2)))
    _times: Iterator[int] = field(default_factory=lambda: count(65, 5))
    _metres: Iterator[int] = field(default_factory=lambda: iter(range(420, 4000, 10)))
    _rounds: Iterator[int] = field(default_factory=lambda: iter((3, 4, 6, 7, 8, 9, 11, 12, 13)))
    _minutes: Iterator[int] = field(default_factory=lambda: iter(range(23, 60, 2)))
    _kilos: Iterator[int] = field(default_factory=lambda: count(41))

    def amount(self, unit: Unit, what: str) -> int:
        """Give an amount and note it."""
        number = next({"reps": self._reps, "cal": self._reps, "m": self._metres, "s": self._times}[unit])
        self.number(number, what, unit)
        return number

    def number(self, number: int, what: str, unit: Unit = "reps") -> None:
        """Note that a number has to be told."""
        if unit == "s":
            self.time(number, what)
            return
        words = cardinal_words(number)
        self.facts.append(Fact(what, str(number), (f"{number:,}", words), (f"{number:,}", str(number))))

    def time(self, seconds: int, what: str, *, on_card: bool = True) -> int:
        """Note that a time has to be told."""
        minutes, rest = divmod(seconds, 60)
        said = " ".join(
            x for x in (_counted(minutes, "minute") if minutes else "", _after(rest, minutes) if rest else "") if x
        )
        clock = write_clock(seconds)
        figured = (
            said if not minutes or minutes <= 20 else f"{minutes} minutes" + (f" {_after(rest, 1)}" if rest else "")
        )
        # "Every minute" and "the minute" are how one says it of one minute.
        bare = (said.removeprefix("one "),) if seconds == 60 else ()
        self.facts.append(Fact(what, clock, (said, figured, *bare), (clock,) if on_card else ()))
        return seconds

    def some_time(self, what: str) -> int:
        """Give a time and note it."""
        return self.time(next(self._times), what)

    def minutes(self, what: str) -> int:
        """Give a long time in whole minutes and note it."""
        return self.time(60 * next(self._minutes), what)

    def rounds(self, what: str = "rounds") -> int:
        """Give a number of rounds and note it."""
        number = next(self._rounds)
        self.number(number, what)
        return number

    def turns(self, stations: int) -> int:
        """Give how often one goes through all stations; a board of an "every" and a card count the windows of all of them."""
        rounds = next(self._rounds)
        number, each = str(rounds * stations), (str(rounds * stations),)
        self.facts.append(Fact("turns", number, (str(rounds), cardinal_words(rounds)), each))
        return rounds

    def load(self, *, percent: bool = False) -> Load:
        """Give a load and note it."""
        number = next(self._kilos)
        if percent:
            self.facts.append(Fact("load", f"{number}%", (f"{number} percent",), (f"{number}%",)))
            return Load(written=f"{number}%", percent=number)
        pounds = number % 2 == 0
        unit, said = ("lb", "pounds") if pounds else ("kg", "kilos")
        self.facts.append(Fact("load", f"{number} {unit}", (f"{number} {said}",), (f"{number} {unit}",)))
        return Load(written=f"{number} {unit}", kg=number * (0.45359237 if pounds else 1))


def _counted(number: int, name: str) -> str:
    words = cardinal_words(number) if number <= 20 else str(number)
    return f"{words} {name}{'s' if number != 1 else ''}"


def _after(seconds: int, minutes: int) -> str:
    return cardinal_words(seconds) if minutes else _counted(seconds, "second")


@dataclass(frozen=True)
class Made:
    """A workout that was made, with its facts."""

    workout: Workout
    facts: tuple[Fact, ...]
    forms: tuple[str, ...]


@st.composite
def workouts(draw: st.DrawFn, forms: tuple[str, ...] = FORMS) -> Made:
    """Make a workout of one or two parts, of any form, with what may stand around it."""
    numbers = Numbers()
    chosen = draw(st.lists(st.sampled_from(forms), min_size=1, max_size=2))
    slugs = iter(draw(st.permutations(REPS)))
    parts = []
    for at, form in enumerate(chosen):
        part = _part(draw, form, numbers, slugs)
        last = at + 1 == len(chosen)
        rest_s = 0 if last or not draw(st.booleans()) else numbers.some_time("rest between parts")
        parts.append(part.model_copy(update={"rest_after_s": rest_s}))
    return Made(Workout(title="Made Up", parts=tuple(parts), file="made.md"), tuple(numbers.facts), tuple(chosen))


def _work(draw: st.DrawFn, numbers: Numbers, slugs: Iterator[str], *, plain: bool = False) -> Work:
    kind = "reps" if plain else draw(st.sampled_from(["reps", "reps", "halved", "other"]))
    if kind == "halved":
        slug, sides, word = draw(st.sampled_from(HALVED))
        return Work(
            movement=slug, written=slug, sides=sides, sides_written=True, side_word=word,
            amounts=(Amount(unit="reps", by_round=(numbers.amount("reps", slug),)),), place=PLACE,
        )  # fmt: skip
    if kind == "other":
        slug, unit = draw(st.sampled_from(OTHERS))
        amount = Amount(unit=unit, by_round=(numbers.amount(unit, slug),))
        return Work(movement=slug, written=slug, amounts=(amount,), place=PLACE)
    slug = next(slugs)
    amounts = [Amount(unit="reps", by_round=(numbers.amount("reps", slug),))]
    how: dict[str, object] = {}
    if not plain and draw(st.booleans()):
        if draw(st.booleans()):
            amounts.append(Amount(unit="reps", by_round=(numbers.amount("reps", f"{slug}, lighter"),)))
        how = _how(draw, numbers)
    loads: tuple[Load, ...] = ()
    if slug in LOADED and draw(st.booleans()):
        loads = (numbers.load(percent=draw(st.booleans())),)
    return Work(movement=slug, written=slug, amounts=tuple(amounts), loads=loads, place=PLACE, **how)


def _how(draw: st.DrawFn, numbers: Numbers) -> dict[str, object]:
    options: tuple[Option, ...] = ()
    if draw(st.booleans()):
        other = Work(
            movement="step-up", written="step-ups", sides="alternating", side_word="leg",
            amounts=(Amount(unit="reps", by_round=(numbers.amount("reps", "option"),)),), place=PLACE,
        )  # fmt: skip
        options = (Option(work=other, reasons=("knee",), written_reasons=("knee",)),)
        numbers.facts.append(Fact("option's reason", "(knee)", ("your knees complain",), ("knee",)))
    effort = draw(st.sampled_from([None, "RPE 8", "easy"]))
    if effort:
        said = {"RPE 8": "an effort of 8 out of ten", "easy": "easy"}[effort]
        numbers.facts.append(Fact("effort", effort, (said,), (effort,)))
    unbroken = draw(st.booleans())
    if unbroken:
        numbers.facts.append(Fact("unbroken", "unbroken", ("without a break",), ("unbroken",)))
    return {"options": options, "effort": effort, "unbroken": unbroken}


def _part(draw: st.DrawFn, form: str, numbers: Numbers, slugs: Iterator[str]) -> Part:
    part = _of_form(draw, form, numbers, slugs)
    if form in {"rounds", "once", "any order", "amrap"}:
        part = part.model_copy(update={"interrupts": _interrupts(draw, numbers, slugs)})
    if form in {"rounds", "any order"} and draw(st.booleans()):
        buy_in = Cycle(items=(_work(draw, numbers, slugs, plain=True),))
        part = part.model_copy(update={"stations": (Station(cycles=(buy_in, *part.cycles)),)})
    if form in {"rounds", "once", "amrap"}:
        part = part.model_copy(update=_team(draw, numbers))
    return part


def _team(draw: st.DrawFn, numbers: Numbers) -> dict[str, object]:
    rule = draw(st.sampled_from([None, "together", "share", "rounds", "relay", "swap"]))
    if rule is None:
        return {}
    swap = Amount(unit="m", by_round=(numbers.amount("m", "swap"),)) if rule == "swap" else None
    numbers.facts.append(Fact("pairs", "In pairs", ("in pairs",), ("in pairs",)))
    return {"team": "in pairs", "team_size": 2, "team_rule": rule, "swap_every": swap}


def _interrupts(draw: st.DrawFn, numbers: Numbers, slugs: Iterator[str]) -> tuple[Interrupt, ...]:
    kind = draw(st.sampled_from(["none", "every", "at", "break"]))
    if kind == "none":
        return ()
    work = _work(draw, numbers, slugs, plain=True)
    trigger: Every | At | OnBreak = OnBreak(phrase="break")
    if kind == "every":
        trigger = Every(every_s=numbers.some_time("every"), from_s=0)
    elif kind == "at":
        trigger = At(times_s=(numbers.some_time("at"), numbers.some_time("and at")))
    return (Interrupt(trigger=trigger, works=(work,), place=PLACE),)


def _rests(draw: st.DrawFn, numbers: Numbers, rounds: int) -> dict[str, object]:
    kind = draw(st.sampled_from(["none", "time", "range", "walk", "needed", "ratio", "after"]))
    match kind:
        case "time":
            return {"rest_between_s": numbers.some_time("rest between rounds")}
        case "range":
            low, high = 120, 180
            numbers.facts.append(Fact("rest range", "2:00-3:00", ("two to three minutes",), ("2:00-3:00",)))
            return {"rest_between_s": low, "rest_at_most_s": high}
        case "walk":
            numbers.facts.append(Fact("walk", ", walk", ("walk",), ("walk",)))
            return {"rest_between_s": numbers.some_time("rest between rounds"), "rest_doing": "walk"}
        case "needed":
            numbers.facts.append(Fact("as needed", "as needed", ("as long as you need",), ("as needed",)))
            return {"rest_between_s": None}
        case "ratio":
            numbers.facts.append(
                Fact("as long", "as long as the work", ("as long as the round",), ("as long as the round",))
            )
            return {"rest_ratio": 1.0}
        case "after":
            return {"rest_after": ((max(1, rounds - 1), numbers.some_time("rest after a round")),)}
        case _:
            return {}


def _inside(draw: st.DrawFn, numbers: Numbers) -> tuple[Rest, ...]:
    kind = draw(st.sampled_from(["none", "time", "needed"]))
    if kind == "none":
        return ()
    if kind == "needed":
        numbers.facts.append(Fact("rest inside", "Rest as needed", ("as long as you need",), ("rest as needed",)))
        return (Rest(place=PLACE),)
    return (Rest(seconds=numbers.some_time("rest inside"), place=PLACE),)


def _cycle(draw: st.DrawFn, numbers: Numbers, slugs: Iterator[str], **more: object) -> Cycle:
    first = _work(draw, numbers, slugs)
    rest = _inside(draw, numbers)
    second = (_work(draw, numbers, slugs, plain=True),)
    return Cycle(items=(first, *rest, *second), **more)


def _one(*cycles: Cycle) -> tuple[Station, ...]:
    return (Station(cycles=cycles),)


def _plain(numbers: Numbers, slug: str, *, most: bool = False, **more: object) -> Work:
    amount = Amount(unit="reps", most=True) if most else Amount(unit="reps", by_round=(numbers.amount("reps", slug),))
    return Work(movement=slug, written=slug, amounts=(amount,), place=PLACE, **more)


def _of_form(draw: st.DrawFn, form: str, numbers: Numbers, slugs: Iterator[str]) -> Part:  # noqa: C901, PLR0911, PLR0912, PLR0915
    match form:
        case "rounds":
            rounds = numbers.rounds()
            cap_s = numbers.minutes("cap") if draw(st.booleans()) else None
            cycle = _cycle(draw, numbers, slugs, rounds=rounds, **_rests(draw, numbers, rounds))
            return Part(windows=Windows(work_s=cap_s), stations=_one(cycle), score="time", place=PLACE)
        case "once":
            return Part(
                windows=Windows(work_s=numbers.minutes("cap")), stations=_one(_cycle(draw, numbers, slugs)),
                score="time", place=PLACE,
            )  # fmt: skip
        case "quality":
            numbers.facts.append(Fact("not for time", "not for time", ("no clock and no score",), ("not for time",)))
            rounds = numbers.rounds()
            cycle = _cycle(draw, numbers, slugs, rounds=rounds, **_rests(draw, numbers, rounds))
            return Part(goal="quality", stations=_one(cycle), score="nothing", place=PLACE)
        case "numbers" | "own numbers":
            first = tuple(numbers.amount("reps", f"round {n}") for n in (1, 2, 3))
            second = first if form == "numbers" else tuple(numbers.amount("reps", f"round {n}") for n in (1, 2, 3))
            works = tuple(
                Work(movement=s, written=s, amounts=(Amount(unit="reps", by_round=by),), place=PLACE)
                for s, by in ((next(slugs), first), (next(slugs), second))
            )
            return Part(stations=_one(Cycle(items=works, rounds=3)), score="time", place=PLACE)
        case "any order":
            plan = numbers.rounds("plan")
            reps = tuple(plan * (20 + n) for n in (1, 5))
            for number in reps:
                numbers.number(number, "total in any order")
            works = tuple(
                Work(movement=s, written=s, amounts=(Amount(unit="reps", by_round=(n,)),), place=PLACE)
                for s, n in zip((next(slugs), next(slugs)), reps, strict=True)
            )
            cycle = Cycle(items=works, any_order=True, plan_rounds=plan)
            return Part(windows=Windows(work_s=numbers.minutes("cap")), stations=_one(cycle), score="time", place=PLACE)
        case "amrap":
            cycle = _cycle(draw, numbers, slugs, rounds=None)
            windows = Windows(work_s=numbers.minutes("clock"))
            return Part(goal="most", windows=windows, stations=_one(cycle), score="rounds and repetitions", place=PLACE)
        case "ladder":
            numbers.number(2, "first step")
            numbers.number(4, "second step")
            work = Work(
                movement=next(slugs), written="x", amounts=(Amount(unit="reps", by_round=(2, 4), step=2),), place=PLACE
            )
            windows = Windows(work_s=numbers.minutes("clock"))
            cycle = Cycle(items=(work,), rounds=None)
            return Part(goal="most", windows=windows, stations=_one(cycle), score="rounds and repetitions", place=PLACE)
        case "max":
            work = _plain(numbers, next(slugs), most=True)
            windows = Windows(work_s=numbers.minutes("clock"))
            return Part(
                goal="most", windows=windows, stations=_one(Cycle(items=(work,))), score="repetitions", place=PLACE
            )
        case "every":
            windows = Windows(count=numbers.rounds(), work_s=numbers.minutes("every"))
            return Part(goal="complete", windows=windows, stations=_one(_cycle(draw, numbers, slugs)), place=PLACE)
        case "stations":
            rounds = numbers.turns(2)
            works = tuple(_plain(numbers, next(slugs)) for _ in range(2))
            stations = tuple(Station(cycles=(Cycle(items=(w,)),)) for w in works)
            return Part(
                goal="complete", windows=Windows(count=2 * rounds, work_s=numbers.minutes("every")), stations=stations,
                place=PLACE,
            )  # fmt: skip
        case "intervals" | "turns":
            rounds = numbers.rounds() if form == "intervals" else numbers.turns(2)
            if form == "turns":
                numbers.facts[-1] = replace(numbers.facts[-1], written=str(rounds))
            works = tuple(_plain(numbers, next(slugs), most=True) for _ in range(2 if form == "turns" else 1))
            longer_s = numbers.some_time("rest after a turn") if form == "turns" else 0
            doing = draw(st.sampled_from([None, "easy walk"])) if form == "intervals" else None
            if doing:
                numbers.facts.append(Fact("doing", doing, (doing,), ()))
            work_s, gap_s = numbers.some_time("work"), numbers.some_time("gap")
            turn = {"turn": 2, "turn_gap_s": gap_s + longer_s} if form == "turns" else {}
            windows = Windows(count=rounds * len(works), work_s=work_s, gap_s=gap_s, gap_doing=doing, **turn)
            stations = tuple(Station(cycles=(Cycle(items=(w,)),)) for w in works)
            return Part(goal="most", windows=windows, stations=stations, place=PLACE)
        case "windows":
            windows = Windows(count=numbers.rounds(), work_s=numbers.minutes("window"), gap_s=numbers.some_time("gap"))
            carries = draw(st.booleans())
            score = "rounds and repetitions" if carries else None
            cycle = _cycle(draw, numbers, slugs, rounds=None)
            return Part(
                goal="most", windows=windows, stations=_one(cycle), carries_on=carries, score=score, place=PLACE
            )
        case "sets":
            rounds = numbers.rounds()
            cycle = _cycle(draw, numbers, slugs, rounds=rounds, **_rests(draw, numbers, rounds))
            return Part(goal="complete", sets=True, stations=_one(cycle), place=PLACE)
        case "sets of sets":
            block = numbers.rounds("rounds of a set")
            blocks = numbers.rounds("sets")
            work = _plain(numbers, next(slugs))
            far = numbers.some_time("rest between sets")
            after = tuple((block * n, far) for n in range(1, blocks))
            cycle = Cycle(
                items=(work,), rounds=block * blocks, block=block, rest_between_s=numbers.some_time("rest between rounds"),
                rest_after=after,
            )  # fmt: skip
            return Part(goal="complete", sets=True, stations=_one(cycle), place=PLACE)
        case "heavy":
            numbers.facts.append(Fact("heavy", "a heavy 3", ("a heavy three",), ("a heavy 3",)))
            work = Work(movement="back-squat", written="x", amounts=(Amount(unit="reps", by_round=(3,)),), place=PLACE)
            return Part(
                goal="heaviest", target="a heavy 3", windows=Windows(work_s=numbers.minutes("time")),
                stations=_one(Cycle(items=(work,))), score="load", place=PLACE,
            )  # fmt: skip
        case "heavy by round":
            loads = tuple(numbers.load(percent=True) for _ in range(3))
            reps = tuple(numbers.amount("reps", f"set {n}") for n in (1, 2, 3))
            work = Work(
                movement="front-squat", written="x", amounts=(Amount(unit="reps", by_round=reps),),
                loads_by_round=loads, place=PLACE,
            )  # fmt: skip
            return Part(goal="complete", sets=True, stations=_one(Cycle(items=(work,), rounds=3)), place=PLACE)
        case "climb":
            numbers.facts.append(Fact("climb", "minute n: n", ("one in the first minute",), ("each minute",)))
            amount = Amount(unit="reps", by_round=(1, 2), step=1)
            work = Work(movement=next(slugs), written="x", amounts=(amount,), place=PLACE)
            return Part(
                goal="complete", windows=Windows(count=60, work_s=60), stations=_one(Cycle(items=(work,))),
                until_missed=True, score="the last minute that was whole", place=PLACE,
            )  # fmt: skip
        case "complex":
            rounds = numbers.rounds()
            load = numbers.load()
            works = (
                _plain(numbers, "barbell-power-clean", loads=(load,)),
                _plain(numbers, "push-jerk", loads=(load,), joined=True),
            )
            return Part(goal="complete", sets=True, stations=_one(Cycle(items=works, rounds=rounds)), place=PLACE)
    raise AssertionError(form)
