"""The first minute: promise and kit, when to stop, the workout, how it should feel. It stands alone: many stop there."""

from __future__ import annotations

import re

from briefing.board.models import OnBreak
from briefing.board.totals import rounds_of
from briefing.outline.heavy import first_tested, heavy_line
from briefing.outline.material import Material
from briefing.outline.models import Line
from briefing.telling.kit import StandIn, kit_card, kit_words, space_words, stand_ins, stays
from briefing.telling.numbers import about_minutes, count_words, minutes_between, time_words
from briefing.telling.sentences import join_words, lower_first
from briefing.telling.shape import repeats
from briefing.units import write_clock


def promise(m: Material) -> list[Line]:
    """What this video gives, the kit with its counts, the space: "pause and fetch it"."""
    title = m.settings.title or m.workout.title
    lines = []
    if m.settings.greeting:
        lines.append(m.line("greeting", "promise/greeting", m.settings.greeting, "hello", source="series.md"))
    lines.append(
        m.line(
            "promise",
            "promise/promise",
            m.voice.say("promise", title=title),
            title,
            must=True,
            source=m.voice.source("promise"),
        )
    )
    kit, space = m.kit, space_words(m.workout, m.movements)
    name = "kit in place" if any(stays(k) for k in kit) else "kit" if kit else "kit none"
    lines.append(
        m.line(
            "kit",
            "promise/kit",
            m.voice.say(name, kit=join_words([kit_words(k) for k in kit]), space=space),
            " · ".join(kit_card(k) for k in kit) or "no kit",
            must=True,
            source=m.voice.source(name),
        )
    )
    answered = {r for w in m.workout.works for o in w.options for r in o.written_reasons}
    for rank, stand_in in enumerate(s for s in replacements(m) if f"no {s.kit}" not in answered):
        lines.append(
            m.line(
                "stand-in",
                f"promise/stand-in/{stand_in.kit}",
                m.voice.say(stand_in.phrase, kit=stand_in.called, instead=stand_in.instead),
                f"no {stand_in.called}: {stand_in.instead.split(',', maxsplit=1)[0].removeprefix('a ')}",
                rank=rank,
                source=m.voice.source(stand_in.phrase),
            )
        )
    return lines


def replacements(m: Material) -> tuple[StandIn, ...]:
    """Give what can stand in for the kit of this workout, with what it will not do for said behind it."""
    movements = [m.of(slug) for slug in dict.fromkeys(w.movement for w in m.workout.works)]
    out = []
    for found in stand_ins(m.kit, movements):
        said = (
            m.voice.repeat("stand-in but", instead=found.instead, names=join_words(list(found.but)))
            if found.but
            else ""
        )
        out.append(found._replace(instead=lower_first(said)) if found.but else found)
    return tuple(out)


def feel(m: Material) -> list[Line]:
    """How it should feel: in the coach's words, the aim, how long people take, the first round, how heavy."""
    lines = []
    if m.settings.feel:
        lines.append(
            m.line(
                "feel", "feel/feel", m.voice.say("feel", feel=m.settings.feel), m.settings.feel, source=m.workout.file
            )
        )
    aim = m.settings.aim or next((p.target for p in m.workout.parts if p.target and p.goal != "heaviest"), None)
    if aim:
        words = re.sub(r"^(?:for|to)\s+", "", re.sub(r"(\d{1,2}:\d{2})", lambda t: _clock_words(t[1]), aim))
        lines.append(m.line("aim", "feel/aim", m.voice.say("aim", aim=words), f"aim: {aim}", source=m.workout.file))
    lines += _finish(m)
    if any(p.goal != "heaviest" for p in m.workout.parts):
        rounds = any(repeats(p) or rounds_of(p) is None for p in m.workout.parts) and not _climbs(m)
        key = "first round" if rounds else "first minute"
        card = f"{key}: slower than you want"
        lines.append(m.line("first-round", "feel/first-round", m.voice.say(key), card, source=m.voice.source(key)))
    first = first_tested(m)
    return lines + ([heavy_line(m, first, "feel")] if first else [])


def _climbs(m: Material) -> bool:
    """Say whether the first part begins with next to nothing: its first round is no measure."""
    return any(w.amount.step for w in m.workout.parts[0].works)


def _clock_words(clock: str) -> str:
    minutes, seconds = clock.split(":")
    return time_words(int(minutes) * 60 + int(seconds))


def _finish(m: Material) -> list[Line]:
    people = m.clock.people
    if len(m.workout.parts) != 1 or m.clock.untimed:
        return []
    part = m.workout.parts[0]
    if part.team:  # the clock knows one person; two who take turns are faster
        return []
    if part.goal == "time" and not any(isinstance(i.trigger, OnBreak) for i in part.interrupts):
        times = [p.finish_s for p in people]
        if all(t is not None for t in times):
            low, high = min(t for t in times if t), max(t for t in times if t)
            words = minutes_between(low, high)
            if words is None:
                return []
            text = m.voice.say("finish", low=words[0], high=words[1])
            return [
                m.line("finish", "feel/finish", text, f"{write_clock(low)} to {write_clock(high)}", source="the clock")
            ]
        done = [t for t in times if t is not None]
        words = minutes_between(done[0], done[1]) if len(done) == 2 else None
        if words is not None:
            text = m.voice.say("finish some", low=words[0], high=words[1])
            return [m.line("finish", "feel/finish", text, f"{write_clock(done[0])} to the cap", source="the clock")]
        if done:
            text = m.voice.say("finish cap", low=about_minutes(done[0]))
            return [m.line("finish", "feel/finish", text, f"brisk: {write_clock(done[0])}", source="the clock")]
        return [m.line("finish", "feel/finish", m.voice.say("finish none"), "the cap stops you", source="the clock")]
    if part.scheme == "amrap" and part.windows.count == 1:
        reached = sorted(p.parts[0].rounds_done for p in people)
        if reached[0] and reached[0] != reached[-1]:
            text = m.voice.say("rounds reached", low=count_words(reached[0]), high=count_words(reached[-1]))
            return [m.line("finish", "feel/rounds", text, f"{reached[0]} to {reached[-1]} rounds", source="the clock")]
    return []
