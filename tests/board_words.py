"""Writes a workout as the text cases expect it: one line a part, one a line of work, one for the totals."""

from __future__ import annotations

from briefing.board.models import At, Every, Interrupt, Part, Work, Workout, body_of
from briefing.board.totals import add_up, per_side, rounds_of
from briefing.problems import Problem
from briefing.telling.sharing import team_words
from briefing.units import write_clock


def words_of(workout: Workout | None, problems: tuple[Problem, ...]) -> str:
    out = [
        f"{p.level} {p.code} {p.place.line}:{p.place.column}" if p.place else f"{p.level} {p.code}" for p in problems
    ]
    if workout is not None and not any(p.level == "error" for p in problems):
        for part in workout.parts:
            out += _part(part)
        totals = ", ".join(
            f"{t.quantity} {t.unit} {t.movement}" + (f" ({t.per_side:g} a side)" if t.per_side else "")
            for t in add_up(workout)
        )
        out.append(f"totals: {totals or 'open'}")
    return "\n".join(out)


def _part(part: Part) -> list[str]:
    w = part.windows
    clock = (
        f" {w.count} x {write_clock(w.work_s)}"
        if w.work_s and w.count > 1
        else f" {write_clock(w.work_s)}"
        if w.work_s
        else ""
    )
    gap = f" gap {write_clock(w.gap_s)}" if w.gap_s else ""
    rounds = rounds_of(part)
    extra = []
    body = body_of(part)
    if body and body.rest_between_s:
        extra.append(f"rest {write_clock(body.rest_between_s)}")
    if w.turn_gap_s:
        extra.append(f"rest {write_clock(w.turn_gap_s - w.gap_s)} after every {w.turn}")
    if body and body.rest_ratio:
        extra.append(f"rest {body.rest_ratio:g} times the round")
    if body and body.rest_after:
        extra.append("rest " + ", ".join(f"{write_clock(s)} after round {n}" for n, s in body.rest_after))
    if part.span_s:
        extra.append("from {} to {}".format(*(write_clock(s) for s in part.span_s)))
    if part.until_missed:
        extra.append("until missed")
    if body and body.rest_between_s is None:
        extra.append("rest as needed")
    if body and body.any_order:
        extra.append("any order")
    if body and body.plan_rounds:
        extra.append(f"plan {body.plan_rounds}")
    if part.carries_on:
        extra.append("carries on")
    if team := team_words(part):
        extra.append(team)
    head = f"{part.name + '. ' if part.name else ''}{part.scheme}{clock}{gap}, rounds {rounds or 'open'}"
    out = [", ".join([head, *extra]) + f", score {part.score or 'ask'}"]
    out += [f"  {_work(x)}" for x in part.works]
    out += [f"  {_trigger(i)}: {' + '.join(_work(x) for x in i.works)}" for i in part.interrupts]
    if part.rest_after_s:
        out.append(f"  rest after {write_clock(part.rest_after_s)}")
    return out


def _trigger(interrupt: Interrupt) -> str:
    t = interrupt.trigger
    if isinstance(t, Every):
        return f"every {write_clock(t.every_s)} from {write_clock(t.from_s)}"
    if isinstance(t, At):
        return "at " + " ".join(write_clock(s) for s in t.times_s)
    return "on break"


def _work(work: Work) -> str:
    a = work.amount
    numbers = "max" if a.most else "-".join(str(n) for n in a.by_round) + ("-+" + str(a.step) if a.step else "")
    if a.at_most:
        numbers += f"–{a.at_most}"
    out = f"{numbers} {a.unit} {work.movement}"
    if len(work.amounts) > 1:
        out += f" / {work.amounts[1].in_round(0)}"
    if not a.most and not a.varies and (half := per_side(work, a.in_round(0))):
        out += f" ({half:g} each {work.side_word or 'side'})"
    for load in work.loads:
        kg = f" {load.kg:g} kg" if load.kg is not None else f" {load.percent:g} %"
        out += f" @{load.group + ' ' if load.group else ''}{str(load.count) + ' x' if load.count > 1 else ''}{kg}"
    for extra in (
        work.tempo and f"tempo {work.tempo}",
        work.effort and f"effort {work.effort}",
        work.unbroken and "unbroken",
        work.note,
    ):
        if extra:
            out += f", {extra}"
    for option in work.options:
        out += f" | or {_work(option.work)} [{', '.join(option.reasons)}]"
    return out
