"""The first minute: promise and kit, when to stop, the workout, how it should feel. It stands alone: many stop there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from briefing.board.models import Cycle, Every, Interrupt, OnBreak, Part, Rest, Work, body_of
from briefing.board.totals import add_up, ladders_differ, rounds_of
from briefing.library.models import Movement, Version
from briefing.outline.material import Material
from briefing.outline.models import Line
from briefing.speech.numbers import cardinal_words
from briefing.telling.figures import Figure, work_card, work_figure
from briefing.telling.interrupts import break_words, first_card, first_words, forced_works, when_words
from briefing.telling.kit import ROOM_M, StandIn, kit_card, kit_words, space_words, stand_ins, stays
from briefing.telling.numbers import about_minutes, count_words, minutes_between, rounds_words, time_words
from briefing.telling.phrases import load_words, many_words, name_words, option_words, total_words, work_words
from briefing.telling.reasons import why_words
from briefing.telling.rests import rest_card, rest_words, rests_of
from briefing.telling.score import score_key, scored
from briefing.telling.sentences import join_words, lower_first, sentence
from briefing.telling.shape import once_key, repeats, shape, shape_card, shape_figure, share_of
from briefing.telling.sharing import team_words
from briefing.units import write_clock, write_number

# What teaching and closing still ask for under this name.
__all__ = [
    "break_words",
    "first_card",
    "first_tested",
    "first_words",
    "heavy_line",
    "interrupt_works",
    "load_test_words",
    "noted",
    "once_key",
    "option_lines",
    "plan_words",
    "rests_of",
    "said_with_workout",
    "shape",
    "shape_card",
    "shape_figure",
    "taught",
    "tested",
    "when_words",
]

# Options for these reasons change where the workout can be done at all, so they are said with the workout itself.
_PLACE_REASONS = frozenset({"small room", "wet ground", "quiet"})


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


def said_with_workout(m: Material, work: Work, at: int) -> bool:
    """Say whether an option is said with the workout itself: it decides whether the workout can be done at this place."""
    option = work.options[at]
    return bool(_PLACE_REASONS & set(option.reasons)) and m.of(work.movement).pattern in {"run", "row", "ride", "carry"}


def option_lines(m: Material, work: Work, at: int) -> list[Line]:
    """Say an option of the board, and how it is done where nothing else in this video tells."""
    line = _option_line(m, work, at)
    movement = m.of(work.options[at].work.movement)
    recap = movement.recap
    # What the coach wrote behind it says how, or differs from how it is usually done.
    if recap is None or work.options[at].work.note or movement.slug in {work.movement, *m.shown}:
        return [line]
    text = m.voice.say("option how", name=name_words(movement), recap=recap)
    card = f"{name_words(movement)}: {lower_first(movement.points[0].card)}" if movement.points else movement.name
    how = m.line(
        "option-how",
        f"{line.id}/how",
        text,
        card,
        rank=at,
        movement=m.of(work.movement),
        needs=line.id,
        source=movement.file,
    )
    return [line, how]


def _option_line(m: Material, work: Work, at: int) -> Line:
    """Say an option of the board. It is one of the board's numbers, so it is must-say."""
    option = work.options[at]
    movement = m.of(option.work.movement)
    why = why_words(option.reasons, option.written_reasons, m.of(work.movement))
    words = option_words(option, movement)
    if not why.endswith("?"):
        words = f"do {words} instead" if "," not in words else f"do {words}"
    text = m.voice.say("option", why=why, work=f"Do {words}" if why.endswith("?") else words)
    reason = (option.written_reasons or option.reasons or ("or",))[0]
    return m.line(
        "option",
        f"{work.movement}/option/{option.work.movement}",
        text if text.endswith((".", "?", "!")) else text + ".",
        f"{reason}: {work_card(option.work, movement)}",
        rank=at,
        must=True,
        movement=m.of(work.movement),
        source="the board",
    )


def noted(version: Version, works: Iterable[Work]) -> bool:
    """Say whether the board itself has this easier version, in the note of an option: `20 step-ups, weight at your side`."""
    return any(version.card.lower() in (o.work.note or "").lower() for w in works for o in w.options)


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


def tested(m: Material, movement: Movement) -> bool:
    """Say whether a test tells how heavy: not where the board names a share of one's best, or builds up to a heavy set."""
    works = [(p, w) for p in m.workout.parts for w in p.works if w.movement == movement.slug]
    settled = works and all(p.goal == "heaviest" or any(x.percent is not None for x in w.loads) for p, w in works)
    return bool(movement.load_test) and not settled


def first_tested(m: Material) -> Movement | None:
    """Give the first movement whose weight is found by a test."""
    return next((x for x in taught(m) if tested(m, x)), None)


def heavy_line(m: Material, movement: Movement, where: str) -> Line:
    """Say how heavy, as a test that somebody can do at home, long enough for the sets of this workout."""
    shown = [x for x in taught(m) if tested(m, x)]
    before = [k for x in shown[: shown.index(movement)] for k in x.kit]
    shared = any(set(k.names) & set(own.names) for k in before for own in movement.kit)
    key = "heavy shared" if shared else "heavy"
    text = m.voice.say(key, name=name_words(movement), test=load_test_words(m, movement))
    card = f"how heavy: {movement.name.lower()}"
    return m.line("heavy", f"{where}/heavy/{movement.slug}", text, card, movement=movement, source=movement.file)


# Our choice: nobody tests a weight with more than this in one go; longer sets are cut up anyway.
TEST_MOST_REPS = 20
_NUMBER_WORDS = {cardinal_words(n): n for n in range(1, 100)}
_TEST_COUNT = re.compile(r"\b([a-z]+(?:-[a-z]+)?) (times|meters|seconds)\b")
_ONE_SIDE = re.compile(r"\b(?:each|that) (?:arm|leg|hand|side)\b")


def load_test_words(m: Material, movement: Movement) -> str:
    """Give the load test with the number that this workout needs, where that is more than the library's.

    A weight that one can squat ten times is too heavy for six rounds of twenty. In sets without a clock the number is the
    set's own.
    """
    test = str(movement.load_test)
    found = _TEST_COUNT.search(test)
    written = _NUMBER_WORDS.get(found[1]) if found else None
    if found is None or written is None:
        return test
    unit = {"times": "reps", "meters": "m", "seconds": "s"}[found[2]]
    own_set, needed = False, 0
    for part in m.workout.parts:
        for work in part.works:
            if work.movement != movement.slug or work.amount.unit != unit or work.amount.most:
                continue
            number = _in_one_go(part, work)
            if work.sides != "both" and _ONE_SIDE.search(test):
                number = -(-number // 2)
            own_set, needed = own_set or part.sets, max(needed, number)
    if unit == "reps":
        needed = min(needed, TEST_MOST_REPS)
    number = needed if own_set and needed else max(written, needed)
    test = test[: found.start(1)] + count_words(number) + test[found.end(1) :]
    return _RESERVE.sub("half as many again", test) if _goes_on(m, movement) else test


# Our choice: a weight for several rounds leaves room for half as many again, not for two more.
_RESERVE = re.compile(r"\b(?:two|three|five) more\b(?= still in you)")
MANY_ROUNDS = 3


def _goes_on(m: Material, movement: Movement) -> bool:
    """Say whether a movement comes back round after round without a rest as long as one needs."""
    return any(
        not part.sets
        and part.goal != "heaviest"
        and any(w.movement == movement.slug for w in part.works)
        and (_rounds_ahead(part) or MANY_ROUNDS) >= MANY_ROUNDS
        for part in m.workout.parts
    )


def _rounds_ahead(part: Part) -> int | None:
    """Give how often a part's work comes round; None where that is open."""
    body = part.body
    if body is not None and body.any_order:
        return body.plan_rounds or 1
    return max(rounds_of(part) or 1, part.windows.count) if rounds_of(part) or part.windows.count > 1 else None


def _in_one_go(part: Part, work: Work) -> int:
    """Give the largest amount that a line asks for at a time: of a round, or of a planned round."""
    body = body_of(part)
    rounds = body.plan_rounds if body is not None and body.any_order and work in body.items else None
    share = share_of(work, rounds) if rounds else work
    return max(share.amount.by_round)


def _clock_words(clock: str) -> str:
    minutes, seconds = clock.split(":")
    return time_words(int(minutes) * 60 + int(seconds))


def _finish(m: Material) -> list[Line]:
    people = m.clock.people
    if len(m.workout.parts) != 1:
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


def taught(m: Material) -> list[Movement]:
    """Give the movements that are taught, each once, in the order in which they are shown."""
    return [m.of(slug) for slug in m.shown]
