"""What the documents show besides the spoken lines: the board, the versions, times, tally, cautions."""

from __future__ import annotations

from briefing.board.models import OnBreak, body_of
from briefing.board.totals import add_up, rounds_of
from briefing.outline.cautions import CAUTIONS
from briefing.outline.closing import all_versions, tally_words, version_why
from briefing.outline.material import Material, taught
from briefing.outline.models import Sheet
from briefing.outline.opening import replacements
from briefing.outline.teaching import safety_sentences
from briefing.outline.workout import scored_words
from briefing.telling.board import write_board
from briefing.telling.figures import work_card
from briefing.telling.kit import kit_card, space_words
from briefing.telling.notation import PAPER
from briefing.telling.phrases import many_words
from briefing.telling.reasons import why_words
from briefing.telling.score import score_key, scored
from briefing.telling.sentences import upper_first
from briefing.units import PEOPLE, write_clock


def make_sheet(m: Material) -> Sheet:
    """Gather what the documents show."""
    movements = taught(m)
    return Sheet(
        kit=tuple(kit_card(k) for k in m.kit),
        stand_ins=tuple(f"No {s.called}? {upper_first(s.instead)}." for s in replacements(m)),
        space=upper_first(space_words(m.workout, m.movements)),
        board=tuple(line for line in write_board(m.workout, m.movements, PAPER).splitlines() if line),
        totals=tuple(_total(m, t.movement, t.quantity, t.unit) for t in add_up(m.workout)),
        versions=all_versions(m) if m.workout.parts else (),
        finish=_finish(m),
        untimed=tuple(many_words(m.of(slug)) for slug in m.clock.untimed),
        tally=_tally(m),
        tally_boxes=_boxes(m),
        score=_score(m),
        easier=tuple((x.name, lines) for x in movements if (lines := (*_options(m, x.slug), *version_why(m, x)))),
        safety=safety_sentences(m),
        cautions=CAUTIONS,
    )


def _total(m: Material, slug: str, quantity: int, unit: str) -> str:
    movement = m.of(slug)
    name = movement.plural if unit == "reps" else movement.name.lower()
    if unit == "s":
        return f"{write_clock(quantity)} {name}"
    return f"{quantity:,} {'' if unit == 'reps' else unit + ' '}{name}"


def _finish(m: Material) -> tuple[tuple[str, str], ...]:
    if m.clock.untimed:
        return ()
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
    body = body_of(part)
    if body and body.any_order and body.plan_rounds:
        return body.plan_rounds
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
            said += [scored_words(m, k, names) for k, names in scored(part, m.movements).items()]
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
