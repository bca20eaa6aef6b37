"""The workout as it is said: its shape, the work, what is forced in, rests, totals, cap, score."""

from __future__ import annotations

import re
from collections.abc import Sequence

from briefing.board.models import Cycle, Every, Interrupt, OnBreak, Part, Rest, Work, body_of
from briefing.board.totals import add_up, ladders_differ
from briefing.outline.material import Material
from briefing.outline.models import Line
from briefing.outline.options import option_lines, said_with_workout
from briefing.telling.figures import Figure, work_card, work_figure
from briefing.telling.interrupts import break_words, first_card, first_words, forced_works, when_words
from briefing.telling.kit import ROOM_M
from briefing.telling.numbers import count_words, rounds_words, time_words
from briefing.telling.phrases import load_words, many_words, name_words, total_words, work_words
from briefing.telling.rests import rest_card, rest_words, rests_of
from briefing.telling.score import score_key, scored
from briefing.telling.sentences import join_words, sentence
from briefing.telling.shape import once_key, repeats, shape, shape_card, shape_figure, share_of
from briefing.telling.sharing import team_words
from briefing.units import write_clock, write_number


def workout(m: Material) -> list[Line]:
    """The workout: its shape, the work, what the clock forces in, rest, totals, cap, score."""
    lines: list[Line] = []
    several = len(m.workout.parts) > 1
    for number, part in enumerate(m.workout.parts):
        if several and part.span_s is None:
            name = m.workout.letter_of(number)
            key = "part" if number == 0 else "then part"
            lines.append(
                m.line(
                    "shape",
                    f"workout/part-{name}",
                    m.voice.say(key, name=name),
                    f"PART {name}",
                    must=True,
                    source=m.voice.source(key),
                )
            )
        lines += _part(m, part, f"workout/{number + 1}")
        if part.rest_after_s and number + 1 < len(m.workout.parts) and part.span_s is None:
            rest = m.voice.say("rest part", time=time_words(part.rest_after_s))
            lines.append(
                m.line(
                    "rest",
                    "workout/rest-part",
                    rest,
                    f"rest {write_clock(part.rest_after_s)}",
                    must=True,
                    source=m.voice.source("rest part"),
                )
            )
    said = [t for t in add_up(m.workout) if any(repeats(p) for p in m.workout.parts)]
    if said:
        totals = join_words([total_words(t, m.of(t.movement)) for t in said])
        at = next((i for i, line in enumerate(lines) if line.kind in {"cap", "score"}), len(lines))
        card = " · ".join(
            f"{t.quantity:,} {many_words(m.of(t.movement)) if t.unit == 'reps' else f'{t.unit} {name_words(m.of(t.movement))}'}"
            for t in said
        )
        lines.insert(
            at,
            m.line(
                "totals", "workout/totals", m.voice.say("totals", totals=totals), card, source=m.voice.source("totals")
            ),
        )
    return lines


def around(m: Material, parts: Sequence[Part], where: str) -> list[Line]:
    """Tell what the board has of the warm-up or the cool-down: the same words as for the workout, without its score."""
    lines: list[Line] = []
    for number, part in enumerate(parts, 1):
        base = f"{where}/{number}"
        quiet = part.model_copy(update={"score": None})
        lines += [x for x in _part(m, quiet, base, title="this") if len(part.works) > 1 or x.kind != "shape"]
        if part.rest_after_s and number < len(parts):
            text = m.voice.say("rest once", time=time_words(part.rest_after_s))
            card = f"rest {write_clock(part.rest_after_s)}"
            lines.append(m.line("rest", f"{base}/rest-after", text, card, must=True, source="the board"))
    return lines


def _part(m: Material, part: Part, base: str, title: str | None = None) -> list[Line]:
    lines = [shape_line(m, part, f"{base}/shape", title)]
    for cycle in part.cycles:
        lines += _cycle(m, part, cycle, base)
    body = body_of(part)
    if body is not None and body.any_order and body.plan_rounds:
        works = [plan_words(m, w, body.plan_rounds) for w in body.items if isinstance(w, Work)]
        text = m.voice.say("plan", rounds=rounds_words(body.plan_rounds), works=join_words(works))
        lines.append(
            m.line(
                "plan",
                f"{base}/plan",
                text,
                f"{body.plan_rounds} × {' + '.join(plan_card(m, w, body.plan_rounds) for w in body.items if isinstance(w, Work))}",
                must=True,
                source=m.voice.source("plan"),
            )
        )
    if team := team_words(part):
        lines.append(
            m.line(
                "team",
                f"{base}/team",
                m.voice.say("team", team=team),
                team,
                must=True,
                source=m.voice.source("team"),
            )
        )
    for at, interrupt in enumerate(part.interrupts):
        lines.append(_forced(m, interrupt, f"{base}/forced-{at + 1}"))
    lines += _rests(m, part, base)
    lines += _cap(m, part, base)
    lines += _score(m, part, base)
    return lines


def plan_words(m: Material, work: Work, rounds: int) -> str:
    """Say one planned round's share of a total: `twenty goblet squats`."""
    return work_words(share_of(work, rounds), m.of(work.movement), sides=False, load=False)


def plan_card(m: Material, work: Work, rounds: int) -> str:
    """Write one planned round's share for a card: `20 goblet squats`."""
    figure = work_figure(share_of(work, rounds), m.of(work.movement))
    return f"{figure.number} {figure.label}"


def shape_line(m: Material, part: Part, ident: str, title: str | None = None) -> Line:
    """Say what kind of workout a part is; `title` is how it is called, where it is no part of the workout."""
    name, values = shape(part)
    title = title or ("it" if len(m.workout.parts) > 1 else m.settings.title or m.workout.title)
    text = sentence(m.voice.say(name, title=title, **values))
    return m.line(
        "shape", ident, text, shape_card(part), must=True, figure=shape_figure(part), source=m.voice.source(name)
    )


def _cycle(m: Material, part: Part, cycle: Cycle, base: str) -> list[Line]:
    lines: list[Line] = []
    works = [i for i in cycle.items if isinstance(i, Work)]
    stations = len(part.stations) > 1
    first_of_part = stations and cycle is part.cycles[0]
    for item in cycle.items:
        if isinstance(item, Rest):
            text = (
                m.voice.say("rest once", time=rest_words(item.seconds, item.at_most_s, item.doing))
                if item.seconds
                else m.voice.say("rest as needed")
            )
            ident = f"{base}/rest"
            lines.append(m.line("rest", ident, text, rest_card(item), must=True, source="the board"))
            continue
        at = works.index(item)
        key = "next job"
        if part.goal == "heaviest":
            key = "heavy job"
        elif once := once_key(part, cycle):
            key = once
        elif (at == 0 and not stations) or first_of_part:
            key = "first job"
        elif at == len(works) - 1 and not stations and not cycle.any_order:
            key = "last job"
        movement = m.of(item.movement)
        text = sentence(m.voice.say(key, work=work_words(item, movement, numbers=ladders_differ(part))))
        ident = f"{base}/{item.movement}"
        lines.append(
            m.line(
                "work",
                ident,
                text,
                work_card(item, movement),
                must=True,
                figure=_once_figure(work_figure(item, movement), key),
                source="the board",
            )
        )
        loads = {load.group: load for load in item.loads if load.group}
        if loads:
            said = m.voice.say("loads", heavier=load_words(loads["heavier"]), lighter=load_words(loads["lighter"]))
            lines.append(
                m.line(
                    "loads",
                    ident + "/loads",
                    said,
                    " / ".join(x.written for x in item.loads),
                    must=True,
                    source="the board",
                )
            )
        lines += _lengths(m, part, item, ident)
        for at_option in range(len(item.options)):
            if said_with_workout(m, item, at_option):
                lines += option_lines(m, item, at_option)
    if any(not s.cycles for s in part.stations) and cycle is part.cycles[-1]:
        lines.append(
            m.line(
                "rest",
                f"{base}/off",
                m.voice.say("off station"),
                "one turn off",
                must=True,
                source="the board",
            )
        )
    return lines


def _once_figure(figure: Figure, key: str) -> Figure:
    """Say on the card as well that a line is done once, before the rounds or after them."""
    once = {"once before": "once, before", "once after": "once, after"}.get(key)
    return figure.model_copy(update={"under": " · ".join(x for x in (once, figure.under) if x)}) if once else figure


# A longer run is a round or a way that somebody knows, not a mark in sight. Our choice.
LONGEST_OUT_M = 400


# What asks for so long a way is done on the road; a shuttle run has its own marks. Our choice.
ROAD_M = 15.0


def _lengths(m: Material, part: Part, work: Work, ident: str) -> list[Line]:
    """Say how a distance is found: 40 meters are eight lengths of a floor of five, 200 on the road are a mark at 100 and back.

    Two lines of one movement in a part have one mark, found once.
    """
    movement, amount = m.of(work.movement), work.amount
    floor = movement.space.floor_m
    if amount.unit != "m" or amount.varies or amount.most or floor is None:
        return []
    if _out_and_back(m, work):
        marked = next(w for w in part.works if w.movement == work.movement and _out_and_back(m, w))
        if marked is not work:
            return []
        half = count_words(amount.in_round(0) // 2)
        text, card = m.voice.say("out and back", half=half), f"mark at {half} m, and back"
        return [m.line("lengths", f"{ident}/lengths", text, card, source=m.voice.source("out and back"))]
    if max(floor) > ROOM_M:
        return []
    lengths = amount.in_round(0) / max(floor)
    if lengths < 2 or lengths != int(lengths):
        return []
    text = m.voice.say("lengths", floor=count_words(max(floor)), lengths=count_words(lengths))
    card = f"{write_number(max(floor))} m floor: {int(lengths)} lengths"
    return [m.line("lengths", f"{ident}/lengths", text, card, source=m.voice.source("lengths"))]


def _out_and_back(m: Material, work: Work) -> bool:
    """Say whether a line is a run to a mark and back: on the road, in even tens, not too far."""
    movement, amount = m.of(work.movement), work.amount
    if amount.unit != "m" or amount.varies or amount.most or movement.pattern != "run":
        return False
    on_the_road = max(movement.space.floor_m or (0.0,)) >= ROAD_M
    return on_the_road and amount.in_round(0) % 20 == 0 and amount.in_round(0) <= LONGEST_OUT_M


def interrupt_works(m: Material, interrupt: Interrupt, *, sides: bool = True) -> str:
    """Say the work of an interrupt."""
    return forced_works(interrupt, m.movements, sides=sides)


def _forced(m: Material, interrupt: Interrupt, ident: str) -> Line:
    works = interrupt_works(m, interrupt)
    if isinstance(interrupt.trigger, OnBreak):
        text, key = m.voice.say("forced break", phrase=break_words(interrupt.trigger), work=works), "forced break"
    else:
        key = "forced" if isinstance(interrupt.trigger, Every) else "forced once"
        values = {"first": first_words(interrupt)} if key == "forced" else {}
        text = m.voice.say(key, when=when_words(interrupt), work=works, **values)
    figure = work_figure(interrupt.works[0], m.of(interrupt.works[0].movement))
    card = f"{first_card(interrupt)}: " + " + ".join(work_card(w, m.of(w.movement)) for w in interrupt.works)
    under = " · ".join(x for x in (first_card(interrupt), figure.under) if x)
    return m.line(
        "forced",
        ident,
        text,
        card,
        must=True,
        figure=figure.model_copy(update={"under": under}),
        source=m.voice.source(key),
    )


def _rests(m: Material, part: Part, base: str) -> list[Line]:
    return [
        m.line(
            "rest",
            f"{base}/rest-between" + (f"-{at}" if at else ""),
            m.voice.say(rest.phrase, **rest.values),
            rest.card,
            must=True,
            figure=rest.figure,
            source=m.voice.source(rest.phrase),
        )
        for at, rest in enumerate(rests_of(part))
    ]


def _cap(m: Material, part: Part, base: str) -> list[Line]:
    if part.goal == "most" and part.windows.count == 1 and part.span_s is None:
        ident, source = f"{base}/cap", m.voice.source("cap open")
        return [m.line("cap", ident, m.voice.say("cap open"), "0:00: stop", must=True, source=source)]
    untimed = part.goal == "quality" or (part.sets and part.windows.count == 1)
    if not (part.goal == "time" or untimed) or part.windows.work_s is None:
        return []
    cap = part.windows.work_s
    figure = Figure(number=write_clock(cap), label="cap")
    text = m.voice.say("cap", time=time_words(cap))
    return [
        m.line(
            "cap",
            f"{base}/cap",
            text,
            f"{write_clock(cap)} cap",
            must=True,
            figure=figure,
            source=m.voice.source("cap"),
        )
    ]


def _score(m: Material, part: Part, base: str) -> list[Line]:
    own = m.settings.score
    key = "score words" if own else score_key(part)
    if key is None:
        return []
    words = own or part.score or ""
    said = words if re.match(r"(?:the|your|how|all|total)\b", words) else f"your {words}"
    card = "write down: " + (own or part.score or "")
    ident = f"{base}/score"
    score = m.line("score", ident, m.voice.say(key, score=said), card, must=True, source=m.voice.source(key))
    return [score, *(_scored(m, part, score) if not own else ())]


def scored_words(m: Material, key: str, names: tuple[str, ...]) -> str:
    """Say it, the same in the video and on paper."""
    return m.voice.repeat(key, names=join_words(names, last="or" if key == "scored whole" else "and"))


def _scored(m: Material, part: Part, score: Line) -> list[Line]:
    lines = []
    for key, names in scored(part, m.movements).items():
        what = key.removeprefix("scored ")
        card = f"{join_words(names)}: {'only all of it counts' if what == 'whole' else 'do not count'}"
        said, source = scored_words(m, key, names), m.voice.source(key)
        lines.append(m.line("scored", f"{score.id}/{what}", said, card, needs=score.id, source=source))
    return lines
