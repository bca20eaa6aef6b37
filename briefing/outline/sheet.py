"""What the documents show besides the spoken lines: the board, the versions, times, tally, cautions."""

from __future__ import annotations

from briefing.board.models import Cycle, OnBreak, Part, Rest
from briefing.board.totals import add_up, rounds_of
from briefing.outline.cautions import CAUTIONS
from briefing.outline.closing import all_versions, tally_words, version_why
from briefing.outline.material import Material
from briefing.outline.models import Sheet
from briefing.outline.opening import (
    first_card,
    score_key,
    scored,
    scored_words,
    shape_card,
    space_words,
    stand_ins,
    taught,
)
from briefing.outline.phrases import kit_card, why_words, work_card
from briefing.outline.teaching import safety_sentences
from briefing.outline.wording import upper_first
from briefing.units import PEOPLE, write_clock


def make_sheet(m: Material) -> Sheet:
    """Gather what the documents show."""
    movements = taught(m)
    return Sheet(
        kit=tuple(kit_card(k) for k in m.kit),
        stand_ins=tuple(f"No {s.called}? {upper_first(s.instead)}." for s in stand_ins(m)),
        space=upper_first(space_words(m)),
        board=tuple(line for part in m.workout.parts for line in board_lines(m, part, named=len(m.workout.parts) > 1)),
        totals=tuple(_total(m, t.movement, t.quantity, t.unit) for t in add_up(m.workout)),
        versions=all_versions(m) if m.workout.parts else (),
        finish=_finish(m),
        tally=_tally(m),
        tally_boxes=_boxes(m),
        score=_score(m),
        easier=tuple((x.name, (*_options(m, x.slug), *version_why(m, x))) for x in movements),
        safety=safety_sentences(m),
        cautions=CAUTIONS,
    )


def board_lines(m: Material, part: Part, *, named: bool) -> tuple[str, ...]:
    """Write a part as it stands on a board, one line each; work is indented by two blanks, its options by four."""
    out = []
    head = shape_card(part)
    if part.goal == "time":
        head += " for time" if (rounds_of(part) or 1) > 1 or part.works[0].amount.varies else ""
        head += f", cap {write_clock(part.windows.work_s)}" if part.windows.work_s else ""
    if part.body and part.body.plan_rounds:
        head += f", planned as {part.body.plan_rounds} rounds"
    out.append(f"{part.name}. {head}" if named and part.name else head)
    for cycle in part.cycles:
        out += _cycle_lines(m, part, cycle)
    if any(not s.cycles for s in part.stations):
        out.append("  one turn off")
    for interrupt in part.interrupts:
        works = " + ".join(work_card(w, m.of(w.movement)) for w in interrupt.works)
        out.append(f"{upper_first(first_card(interrupt))}: {works}")
    body = part.body
    if body and (rounds_of(part) or 1) > 1 and body.rest_between_s:
        out.append(f"Rest {write_clock(body.rest_between_s)} between rounds")
    return tuple(out)


def _cycle_lines(m: Material, part: Part, cycle: Cycle) -> list[str]:
    out = []
    if cycle is not part.body and len(part.stations) == 1:
        out.append("Once:")
    for item in cycle.items:
        if isinstance(item, Rest):
            out.append(f"  rest {write_clock(item.seconds)}" if item.seconds else "  rest as needed")
            continue
        out.append("  " + work_card(item, m.of(item.movement)))
        for option in item.options:
            reasons = ", ".join(option.written_reasons or option.reasons)
            out.append(
                f"    or {work_card(option.work, m.of(option.work.movement))}" + (f" ({reasons})" if reasons else "")
            )
    return out


def _total(m: Material, slug: str, quantity: int, unit: str) -> str:
    movement = m.of(slug)
    name = movement.plural if unit == "reps" else movement.name.lower()
    if unit == "s":
        return f"{write_clock(quantity)} {name}"
    return f"{quantity:,} {'' if unit == 'reps' else unit + ' '}{name}"


def _finish(m: Material) -> tuple[tuple[str, str], ...]:
    if any(isinstance(i.trigger, OnBreak) for p in m.workout.parts for i in p.interrupts):
        return ()
    if not any(p.goal in {"time", "most"} for p in m.workout.parts):
        return ()
    return tuple((who, m.clock.of(who).score) for who in PEOPLE)


def _tally(m: Material) -> str | None:
    for part in m.workout.parts:
        found = tally_words(m, part)
        if found:
            key, values = found
            return m.voice.repeat(key, **values)
    return None


def _boxes(m: Material) -> int:
    if not m.workout.parts:
        return 0
    part = m.workout.parts[0]
    if part.body and part.body.any_order and part.body.plan_rounds:
        return part.body.plan_rounds
    rounds = rounds_of(part)
    return min(40, rounds) if rounds else 12


def _score(m: Material) -> str | None:
    if m.settings.score:
        return f"Write down {m.settings.score}."
    for part in m.workout.parts:
        key = score_key(part)
        if key:
            words = part.score or ""
            said = [m.voice.repeat(key, score=f"your {words}")]
            said += [scored_words(m, k, names) for k, names in scored(m, part).items()]
            return " ".join(said)
    return None


def _options(m: Material, slug: str) -> tuple[str, ...]:
    out = []
    for work in m.workout.works:
        if work.movement == slug:
            for option in work.options:
                why = why_words(option.reasons, option.written_reasons, m.of(slug))
                out.append(f"{why} {work_card(option.work, m.of(option.work.movement))}.")
    return tuple(out)
