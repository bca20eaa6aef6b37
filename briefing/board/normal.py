"""The normal form: a workout written back as a board, one way for each thing. Reading it again gives the same workout."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from briefing.board.models import Amount, At, Cycle, Every, Interrupt, Load, Option, Part, Rest, Work, Workout
from briefing.board.totals import ladders_differ, rounds_of
from briefing.library.models import UNIT_OF, Movement
from briefing.units import write_clock

# Scores that the form says by itself.
_USUAL_SCORES = frozenset(
    {"time", "the last minute that was whole", "rounds and repetitions", "repetitions", "load", "nothing"}
)


def write_board(workout: Workout, movements: Mapping[str, Movement]) -> str:
    """Write a workout as a board, ending with a line end; `movements` gives the names.

    5 rounds for time, cap 22:00
      20 goblet step-ups, alternating
    """
    lines: list[str] = []
    for number, part in enumerate(workout.parts):
        if number:
            lines.append("")
        lines += _part(part, movements)
        follows = workout.parts[number + 1] if number + 1 < len(workout.parts) else None
        if part.rest_after_s and (follows is None or follows.span_s is None):
            lines.append(f"Rest {write_clock(part.rest_after_s)} between parts")
    return "\n".join(lines) + "\n"


def _part(part: Part, movements: Mapping[str, Movement]) -> list[str]:
    lines = [f"Part {part.name}"] if part.name else []
    head = ", ".join(x for x in (_head(part), *_clauses(part)) if x)
    lines += [head] if head else []
    if part.team:
        lines.append(part.team)
    stations = len(part.stations) > 1
    spread = stations and part.scheme == "intervals" and all(w.amount.most for w in part.works)
    for number, station in enumerate(part.stations, 1):
        label = f"{number}. " if stations and not spread else ""
        if not station.cycles:
            lines.append(f"{label}off")
        for cycle in station.cycles:
            lines += _cycle(part, cycle, movements, label)
    for interrupt in part.interrupts:
        lines.append(_interrupt(interrupt, movements))
        lines += [f"    or {_option(o, movements)}" for o in interrupt.works[-1].options]
    body = part.body
    rest_s = part.windows.turn_gap_s or (body.rest_between_s if body else 0)
    if rest_s:
        lines.append(f"Rest {write_clock(rest_s)} between rounds")
    if body and body.rest_ratio:
        lines.append("rest as long as the work" if body.rest_ratio == 1 else f"work:rest {_ratio(body.rest_ratio)}")
    lines += [f"Rest {write_clock(s)} after round {n}" for n, s in (body.rest_after if body else ())]
    if body and body.rest_between_s is None:
        lines.append("Rest as needed between rounds")
    if part.target and part.goal != "heaviest":
        lines.append(f"aim for {part.target}")
    if part.score and part.score not in _USUAL_SCORES:
        lines.append(f"score: {part.score}")
    return lines


def _ratio(ratio: float) -> str:
    """Write rest over work in whole numbers: 2 is `1:2`, a half is `2:1`."""
    over = Fraction(ratio).limit_denominator(9)
    return f"{over.denominator}:{over.numerator}"


def _clock_head(part: Part) -> str | None:
    """Write the head of a part on a common clock or of one that rises by the minute; None for every other part."""
    rounds = rounds_of(part)
    numbers = next((x.amount for x in part.works if x.amount.step), None)
    if part.span_s is not None:
        span = "-".join(write_clock(s) for s in part.span_s) + ":"
        if part.goal == "most" and part.scheme != "max-reps":
            return f"{span} AMRAP"
        return f"{span} {rounds} rounds" if rounds and rounds > 1 else span
    if numbers is not None and part.goal == "complete":
        climb = "minute n: n" if numbers.by_round[0] == numbers.step == 1 else _climb(numbers)
        return climb if part.until_missed else f"{climb} for {write_clock(60 * part.windows.count)}"
    return None


def _head(part: Part) -> str:  # noqa: C901, PLR0911 - one row for each form
    w, rounds = part.windows, rounds_of(part)
    clock = write_clock(w.work_s or 0)
    ladder = next((x for x in part.works if x.amount.varies), None)
    on_the_clock = _clock_head(part)
    if on_the_clock is not None:
        return on_the_clock
    match part.scheme:
        case "amrap":
            return f"AMRAP {clock}"
        case "max-reps":
            return f"Max reps in {clock}"
        case "open-ladder" if ladders_differ(part):
            return f"AMRAP {clock}"
        case "open-ladder":
            return f"{_listed(ladder)}, {clock}" if ladder else f"AMRAP {clock}"
        case "every":
            return f"Every {clock} for {w.count} rounds"
        case "intervals" if part.goal == "most" and not any(x.amount.most for x in part.works):
            return f"{w.count} x AMRAP {clock} / {write_clock(w.gap_s)} off"
        case "intervals":
            return f"{clock} on / {write_clock(w.gap_s)} off for {rounds if len(part.stations) > 1 else w.count} rounds"
        case "sets":
            return f"{rounds} sets"
        case "build-to-max":
            return f"Build to {part.target}" + (f" in {clock}" if w.work_s else "")
        case "for-quality":
            return f"{rounds} rounds not for time"
        case "for-time" if ladders_differ(part):
            return "For time"
        case "for-time" if ladder is not None:
            return _listed(ladder) + " for time"
        case "for-time" if rounds and rounds > 1:
            return f"{rounds} rounds" + (" for time" if part.score else "")
        case "for-time":
            return "For time" if part.score else ""


def _listed(work: Work) -> str:
    """Write a line's numbers round by round; of one side, where the line says "each"."""
    half = 2 if work.sides_written and work.sides != "alternating" else 1
    return "-".join(str(n // half) for n in work.amount.by_round) + ("-…" if work.amount.step else "")


def _climb(numbers: Amount) -> str:
    return f"minute 1: {numbers.in_round(0)}, minute 2: {numbers.in_round(1)}, …"


def _clauses(part: Part) -> list[str]:
    out = []
    body = part.body
    if body and body.any_order:
        out.append("any order")
    if body and body.plan_rounds:
        out.append(f"plan {body.plan_rounds} rounds")
    if part.goal == "time" and part.windows.work_s:
        out.append(f"cap {write_clock(part.windows.work_s)}")
    if part.carries_on:
        out.append("carry on where you left off")
    return out


def _cycle(part: Part, cycle: Cycle, movements: Mapping[str, Movement], label: str) -> list[str]:
    once = ""
    if cycle is not part.body and len(part.stations) == 1:
        before = part.body is not None and part.cycles.index(cycle) < part.cycles.index(part.body)
        once = "Buy-in: " if before else "Finish: "
    varies = any(isinstance(i, Work) and i.amount.varies for i in cycle.items)
    lines: list[str] = []
    for item in cycle.items:
        if isinstance(item, Rest):
            lines.append(f"  Rest {write_clock(item.seconds)}" if item.seconds else "  Rest as needed")
            continue
        words = _work(item, movements)
        if ladders_differ(part) and item.amount.varies:
            words = f"{_listed(item)} {words}"
        each_round = " after each round" if varies and not item.amount.varies and not item.amount.most else ""
        lines.append(f"  {once}{label}{words}{each_round}")
        lines += [f"    or {_option(o, movements)}" for o in item.options]
        label = ""
    return lines


def _option(option: Option, movements: Mapping[str, Movement]) -> str:
    reasons = ", ".join(option.written_reasons or option.reasons)
    return _work(option.work, movements) + (f" ({reasons})" if reasons else "")


def _interrupt(interrupt: Interrupt, movements: Mapping[str, Movement]) -> str:
    works = " + ".join(_work(w, movements) for w in interrupt.works)
    match interrupt.trigger:
        case Every(every_s=every_s, from_s=from_s):
            return f"Every {write_clock(every_s)} from {write_clock(from_s)}: {works}"
        case At(times_s=times):
            return f"At {', '.join(write_clock(t) for t in times)}: {works}"
        case _:
            return f"Every put-down: {works}"


def write_work(work: Work, movements: Mapping[str, Movement], *, numbers: bool = False) -> str:
    """Write one line of work with its options; `numbers` says that a list of its own stands in front of it."""
    words = _work(work, movements)
    if numbers and work.amount.varies:
        words = f"{_listed(work)} {words}"
    return " | or ".join([words, *(_option(o, movements) for o in work.options)])


def _work(work: Work, movements: Mapping[str, Movement]) -> str:
    movement = movements[work.movement]
    several = work.amount.unit == "reps" and (work.amount.varies or work.amount.most or work.amount.in_round(0) != 1)
    most = {"cal": "max cal", "m": "max m"}.get(work.amount.unit, "max")
    usual = UNIT_OF[movement.counts[0]] == work.amount.unit
    count = most if work.amount.most and not usual else _amount(work)
    if work.amount.varies and not usual and work.amount.unit in {"cal", "m"}:
        # The numbers stand in the list; what they count stands before the name.
        count = {"cal": "cal", "m": "meters"}[work.amount.unit]
    parts = [f"{count} {(movement.plural if several else movement.name).lower()}".strip()]
    loads = _loads(work.loads)
    if loads:
        parts[0] += f" @ {loads}"
    if work.sides == "alternating" and work.sides_written:
        parts.append("alternating")
    elif work.sides_written and work.sides != "both":
        parts.append(_each(work))
    parts += [f"tempo {work.tempo}"] if work.tempo else []
    parts += [work.effort] if work.effort else []
    parts += ["unbroken"] if work.unbroken else []
    parts += [work.note] if work.note else []
    return ", ".join(parts)


def _each(work: Work) -> str:
    """Write how the sides share it: with its number where it halves, else in words."""
    amount, side = work.amount, work.side_word or "side"
    number = amount.in_round(0)
    if not amount.by_round or amount.most or amount.varies or number % 2:
        return f"each {side}"
    return f"{write_clock(number // 2) if amount.unit == 's' else number // 2} each {side}"


def _amount(work: Work) -> str:
    amount = work.amount
    if amount.most:
        return "max"
    if amount.varies or not amount.by_round:
        return ""
    numbers = [a.in_round(0) for a in work.amounts]
    if amount.unit == "s":
        return "/".join(write_clock(n) for n in numbers)
    written = f"{numbers[0]}-{amount.at_most}" if amount.at_most else "/".join(str(n) for n in numbers)
    return {"reps": written, "m": f"{written} m", "cal": f"{written} cal"}[amount.unit]


def _loads(loads: tuple[Load, ...]) -> str:
    if not loads:
        return ""
    if len(loads) == 2 and loads[0].written.split()[-1] == loads[1].written.split()[-1]:
        unit = loads[0].written.split()[-1]
        both = "/".join(load.written.removesuffix(unit).strip() for load in loads)
        return (f"{loads[0].count} x " if loads[0].count > 1 else "") + f"{both} {unit}"
    return (f"{loads[0].count} x " if loads[0].count > 1 else "") + loads[0].written
