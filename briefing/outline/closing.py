"""The end: which version is yours, timer and tally, the workout again, go and warm up."""

from __future__ import annotations

from briefing.board.models import Cycle, Every, Interrupt, OnBreak, Part, Rest, Work, Workout, body_of
from briefing.board.totals import ladders_differ, rounds_of
from briefing.library.models import Movement
from briefing.outline.cautions import STOP_CARD, without_asking
from briefing.outline.heavy import first_tested, load_test_words
from briefing.outline.material import Material, all_or_none
from briefing.outline.material import known as taught
from briefing.outline.models import Line, Version
from briefing.outline.options import noted
from briefing.outline.wording import lower_first, upper_first
from briefing.outline.workout import interrupt_works, plan_words
from briefing.telling.figures import work_card, work_figure
from briefing.telling.interrupts import break_words, first_words, when_words
from briefing.telling.numbers import count_words, rounds_words, time_words, times_words
from briefing.telling.phrases import doing_words, many_words, name_words, numbers_words, work_words
from briefing.telling.reasons import has_load, why_words
from briefing.telling.rests import rests_of
from briefing.telling.sentences import join_words, sentence
from briefing.telling.shape import once_key, shape, shape_card, shape_figure
from briefing.units import write_clock

# Patterns that need room or make noise: what the small and quiet version replaces.
_LOUD = frozenset({"run", "jump", "throw"})
_QUIET_REASONS = ("quiet", "small room", "no impact", "wet ground")
ROOM_M = 3.0


def versions(m: Material) -> list[Line]:
    """Say the versions, each complete, each with a test that decides."""
    lines: list[Line] = []
    offered = all_versions(m)
    for rank, version in enumerate(offered):
        source = m.voice.source(version.phrase)
        lines.append(
            m.line(
                "version",
                f"versions/{version.name}",
                version.text,
                f"{version.name}: {_short_test(version)}",
                rank=rank,
                source=source,
            )
        )
    own_end = m.voice.source("own end")
    lines.append(
        m.line("own-end", "versions/own-end", m.voice.say("own end"), "easier: its own end counts", source=own_end)
    )
    # With the same lines in all of them there is nothing to mix.
    if len({v.lines for v in offered}) > 1:
        lines.append(
            m.line(
                "mix",
                "versions/mix",
                m.voice.say("mix"),
                "mix them, line by line",
                needs=lines[0].id,
                source=m.voice.source("mix"),
            )
        )
    return lines


def _short_test(version: Version) -> str:
    words = version.test.split(",", maxsplit=1)[0].split()
    return " ".join(words[:9]) + (" …" if len(words) > 9 else "")


def all_versions(m: Material) -> tuple[Version, ...]:
    """Give the versions: as written, lighter, small and quiet where that is another one."""
    written = _version_lines(m, m.workout)
    out = [_version(m, "As written", "as written", _written_test(m), written)]
    lighter = _version_lines(m, m.lighter)
    loaded = any(has_load(x) for x in taught(m))
    if lighter != written or loaded:
        phrase = "lighter same" if lighter == written else "lighter load" if loaded else "lighter"
        out.append(_version(m, "Lighter", phrase, _lighter_test(m), lighter))
    works = (*_board_works(m.workout), *(w for p in m.workout.parts for i in p.interrupts for w in i.works))
    quiet = {id(w): _quiet_words(m, w) for w in works}
    if any(quiet.values()):
        test = "you train in a small room, or somebody lives below you"
        out.append(_version(m, "Small and quiet", "small and quiet", test, _version_lines(m, m.workout, quiet)))
    return tuple(out)


def _version(m: Material, name: str, phrase: str, test: str, lines: tuple[str, ...]) -> Version:
    if len(m.workout.parts) > 1:
        works = ". ".join(upper_first(line) for line in lines)
        phrase = "lighter load parts" if phrase == "lighter load" else phrase
    else:
        works = join_words(list(lines))
    text = sentence(m.voice.repeat(phrase, works=works, test=test))
    return Version(name=name, phrase=phrase, test=test, lines=lines, text=text)


def _board_works(workout: Workout) -> tuple[Work, ...]:
    return tuple(w for p in workout.parts for w in p.works)


def _version_lines(m: Material, workout: Workout, instead: dict[int, str | None] | None = None) -> tuple[str, ...]:
    """Give the lines of one version, the first with the rounds in front, as pieces of one sentence."""
    out: list[str] = []
    several = len(workout.parts) > 1
    for number, part in enumerate(workout.parts):
        works = [words for cycle in _cycles_said(part) for words in _cycle_words(m, part, cycle, instead or {})]
        works += [
            f"{lower_first(when_words(interrupt))} {_forced_words(m, interrupt, instead or {})}"
            for interrupt in part.interrupts
            if not isinstance(interrupt.trigger, OnBreak)
        ]
        # Two parts are two sentences of work: what belongs to which must be heard.
        out += [f"in {_part_words(workout, number)}, {join_words(works)}"] if several else works
    return tuple(out)


def _cycles_said(part: Part) -> tuple[tuple[Cycle, ...], ...]:
    """Give the cycles that make one piece of a version each: all stations together, else one by one."""
    return (part.cycles,) if len(part.stations) > 1 else tuple((c,) for c in part.cycles)


def _cycle_words(m: Material, part: Part, cycles: tuple[Cycle, ...], instead: dict[int, str | None]) -> list[str]:
    """Say the work of a cycle for a version, the rounds or the numbers in front: `five rounds of …`, `once a 400-meter run`."""
    works = [i for c in cycles for i in c.items if isinstance(i, Work)]
    falling = [w.amount for w in works if w.amount.varies]
    # One list for all lines stands in front of them; else each line has its own.
    shared = bool(falling) and len(falling) == len(works) and not ladders_differ(part)
    listed = bool(falling) and not shared
    said = [
        instead.get(id(w)) or work_words(w, m.of(w.movement), sides=False, load=False, numbers=listed) for w in works
    ]
    rounds = rounds_of(part)
    if not said:
        return []
    if once_key(part, cycles[0]) is not None:
        return [f"once {said[0]}", *said[1:]]
    if part.goal == "heaviest":
        said = [f"sets of {words}" for words in said]
    if shared:
        numbers, named = numbers_words(falling[0]), join_words(said)
        return [f"{named}: {numbers}" if falling[0].step else f"{numbers} of {named}"]
    if rounds and rounds > 1:
        turns = f"{count_words(rounds)} sets" if part.sets else rounds_words(rounds)
        said[0] = f"{turns} of {said[0]}"
    elif part.scheme == "amrap":
        said[0] = f"rounds of {said[0]}"
    return said


def _forced_words(m: Material, interrupt: Interrupt, instead: dict[int, str | None]) -> str:
    works = interrupt.works
    if any(instead.get(id(w)) for w in works):
        return join_words([instead.get(id(w)) or work_words(w, m.of(w.movement), sides=False) for w in works])
    return interrupt_works(m, interrupt, sides=False)


def _part_words(workout: Workout, number: int) -> str:
    """Name a part in speech: `part A`, or `the time from four to ten minutes`."""
    part = workout.parts[number]
    if part.span_s is not None:
        start, end = part.span_s
        return f"the time {'up' if not start else f'from {time_words(start)}'} to {time_words(end)}"
    return f"part {workout.letter_of(number)}"


def _written_test(m: Material) -> str:
    loaded = first_tested(m)
    if loaded is not None:
        return "you have " + lower_first(load_test_words(m, loaded)).rstrip(".")
    return "you have done workouts like this before"


def _lighter_test(m: Material) -> str:
    for part in m.workout.parts:
        body = body_of(part)
        rounds = rounds_of(part) or (body.plan_rounds if body else None)
        plan = body.plan_rounds if body and body.any_order else rounds
        if body and any(once_key(part, c) for c in part.cycles):
            continue  # what is done once before is in the first round's time
        if part.goal == "time" and part.windows.work_s and plan and plan > 1 and body:
            rests = (body.rest_between_s or 0) * (plan - 1)
            each = (part.windows.work_s - rests) / plan
            limit = int(each // 15) * 15
            if limit >= 30:
                return _or_later(f"your first round takes longer than {time_words(limit)}")
        if part.scheme == "every" and part.windows.work_s and part.windows.count > 1 and not part.until_missed:
            left = time_words(max(10, part.windows.work_s // 6))
            return _or_later(f"you have less than {left} of rest left in the first round")
        if part.scheme == "intervals":
            return _or_later("your second round falls far behind your first")
    return "this is new to you, or you slept badly"


def _or_later(sign: str) -> str:
    """Put what can be known before the start in front of what shows only once the clock runs."""
    return f"this is new to you, and change to it if {sign}"


def _quiet_words(m: Material, work: Work) -> str | None:
    """Give what stands in for a line in a small and quiet room, None where the line itself will do."""
    for option in work.options:
        if set(option.reasons) & set(_QUIET_REASONS):
            return work_words(option.work, m.of(option.work.movement), sides=False, load=False)
    movement = m.of(work.movement)
    loud = movement.pattern in _LOUD or movement.lands
    if not loud and not (movement.space.floor_m and max(movement.space.floor_m) > ROOM_M):
        return None
    for reason in _QUIET_REASONS:
        version = next((v for v in movement.easier if reason in v.reasons), None)
        if version is not None:
            words = work_words(work, m.of(work.movement), sides=False, load=False)
            card = lower_first(version.card)
            other = m.find(version.movement) if version.movement else None
            if other is not None and other.slug != work.movement:
                name = many_words(other) if other.counts[0] == "reps" else doing_words(other)
                return f"{name} instead of {words}"
            return f"{words}, but {card}"
    return None


# What the card says about counting alone.
_TALLY_CARDS = {
    "tally rounds": "count: move one across each round",
    "tally sets": "count: move one across each set",
    "tally open": "count: a mark each round",
    "tally plan": "count: cross off a box",
    "tally reps": "count aloud, write it down",
}


def timing(m: Material) -> list[Line]:
    """How to set the timer, how to count alone. What is written down was said with the workout."""
    lines: list[Line] = []
    said: set[str] = set()
    for number, part in enumerate(m.workout.parts, 1):
        for line in (*_timer(m, part, number), *_tally(m, part, number)):
            # Two parts with one clock each are told apart; how to count is said once.
            if len(m.workout.parts) > 1 and part.span_s is None and line.text not in said:
                name = m.workout.letter_of(number - 1)
                text = m.voice.say(f"{line.kind} part", name=name, line=line.text)
                lines.append(line.model_copy(update={"text": text, "card": f"{name}: {line.card}"}))
            elif part.span_s and part.span_s[0] and line.kind == "tally" and line.text not in said:
                text = m.voice.say("tally span", time=time_words(part.span_s[0]), line=line.text)
                lines.append(line.model_copy(update={"text": text}))
            elif line.text not in said:
                lines.append(line)
            said.add(line.text)
    if m.settings.score or any(p.score not in {None, "nothing"} for p in m.workout.parts):
        lines.append(
            m.line(
                "record",
                "score/record",
                m.voice.say("record"),
                "write down your version",
                source=m.voice.source("record"),
            )
        )
    return lines


def _timer(m: Material, part: Part, number: int) -> list[Line]:
    w = part.windows
    if part.goal == "quality" or (part.sets and w.work_s is None):
        return []
    if part.span_s is not None:
        return _span_timer(m, part)
    if part.until_missed:
        key, values = "timer minutes", dict[str, str]()
    elif part.scheme == "every":
        key, values = "timer every", {"time": time_words(w.work_s or 0), "times": times_words(w.count)}
    elif w.count > 1:
        key, values = (
            "timer intervals",
            {"work": time_words(w.work_s or 0), "rest": time_words(w.gap_s), "times": times_words(w.count)},
        )
    elif part.goal == "time":
        key = "timer cap" if w.work_s else "timer up"
        values = {"time": time_words(w.work_s)} if w.work_s else {}
    else:
        key, values = "timer down", {"time": time_words(w.work_s or 0)}
    card = (
        "a beep each minute"
        if part.until_missed
        else f"timer {write_clock(w.work_s)}" + (f" × {w.count}" if w.count > 1 else "")
        if w.work_s
        else "timer counts up"
    )
    lines = [m.line("timer", f"score/{number}/timer", m.voice.say(key, **values), card, source=m.voice.source(key))]
    for interrupt in part.interrupts:
        if isinstance(interrupt.trigger, Every):
            text = m.voice.say("timer forced", when=when_words(interrupt), first=first_words(interrupt))
            card = f"second alarm: {write_clock(interrupt.trigger.every_s)}"
            # Nobody hears a change-over that no alarm calls.
            source = m.voice.source("timer forced")
            lines.append(m.line("timer", f"score/{number}/alarm", text, card, rank=1, must=True, source=source))
    return lines


def _span_timer(m: Material, part: Part) -> list[Line]:
    """Say the timer of a common clock once, with the first of its stretches: one that counts up, an alarm at each change."""
    spans = [p.span_s for p in m.workout.parts if p.span_s is not None]
    if part.span_s != spans[0]:
        return []
    ends = [end for _, end in spans]
    text = m.voice.say("timer spans", times=join_words([time_words(end) for end in ends]))
    card = "alarms: " + " · ".join(write_clock(end) for end in ends)
    return [m.line("timer", "score/timer-spans", text, card, source=m.voice.source("timer spans"))]


def tally_words(m: Material, part: Part) -> tuple[str, dict[str, str]] | None:
    """Give the phrase for counting alone, and what fills it."""
    rounds, body = rounds_of(part), body_of(part)
    if body is not None and body.any_order and body.plan_rounds:
        works = [plan_words(m, w, body.plan_rounds) for w in body.items if isinstance(w, Work)]
        return "tally plan", {"rounds": f"{count_words(body.plan_rounds)} boxes", "works": join_words(works)}
    if part.scheme in {"every", "build-to-max"}:
        return None
    if rounds is None and part.windows.count == 1 and part.scheme != "max-reps":
        return "tally open", {}
    if part.windows.count > 1 or part.scheme == "max-reps":
        return "tally reps", {}
    if rounds is not None and rounds > 2 and part.sets:
        return "tally sets", {"sets": count_words(rounds)}
    if rounds is not None and rounds > 2:
        return "tally rounds", {"rounds": rounds_words(rounds).split()[0]}
    return None


def _tally(m: Material, part: Part, number: int) -> list[Line]:
    found = tally_words(m, part)
    if found is None:
        return []
    key, values = found
    return [
        m.line(
            "tally", f"score/{number}/tally", m.voice.say(key, **values), _TALLY_CARDS[key], source=m.voice.source(key)
        )
    ]


def again(m: Material) -> list[Line]:
    """The workout again, the same numbers in the same words; when to stop; one point a movement."""
    lines: list[Line] = []
    title = m.settings.title or m.workout.title
    for number, part in enumerate(m.workout.parts, 1):
        name, values = shape(part)
        if len(m.workout.parts) > 1:
            title = _part_words(m.workout, number - 1)
        said = m.voice.repeat(name, title=title, **values)
        key = "again" if number == 1 else "next job"
        text = m.voice.say(key, shape=sentence(said), work=said)
        source = m.voice.source("again")
        lines.append(
            m.line("again", f"again/{number}/shape", text, shape_card(part), figure=shape_figure(part), source=source)
        )
        for cycle in part.cycles:
            for work in (i for i in cycle.items if isinstance(i, Work)):
                movement = m.of(work.movement)
                words = work_words(work, movement, numbers=ladders_differ(part), both_loads=True)
                once = once_key(part, cycle)
                said = m.voice.repeat(once, work=words) if once else m.voice.say("again work", work=words)
                card, figure = work_card(work, movement), work_figure(work, movement)
                ident = f"again/{number}/{work.movement}"
                lines.append(m.line("again-work", ident, sentence(said), card, figure=figure, source="the board"))
            for item in cycle.items:
                if isinstance(item, Rest) and not item.seconds:
                    said = m.voice.repeat("rest as needed")
                    lines.append(
                        m.line("again-times", f"again/{number}/as-needed", said, "rest as needed", source="the board")
                    )
        if any(not s.cycles for s in part.stations):
            text, source = m.voice.repeat("off station"), m.voice.source("off station")
            lines.append(m.line("again-times", f"again/{number}/off", text, "one turn off", source=source))
        lines += _again_plan(m, part, number)
        for at, rest in enumerate(rests_of(part)):
            ident = f"again/{number}/rest" + (f"-{at}" if at else "")
            # The second time the number alone; that the clock keeps running was said.
            key = "rest between untimed" if rest.phrase == "rest between" else rest.phrase
            said = m.voice.repeat(key, **rest.values)
            lines.append(m.line("again-times", ident, said, rest.card, source="the board"))
        last = number == len(m.workout.parts)
        for key, ident, seconds, card in _again_times(part, last=last):
            said = m.voice.say(key, time=time_words(seconds))
            lines.append(m.line("again-times", f"again/{number}/{ident}", said, card, source="the board"))
        lines += _again_forced(m, part, number)
    lines = all_or_none(lines)
    lines.append(
        m.line(
            "again-stop",
            "again/stop",
            m.voice.say("again stop"),
            STOP_CARD,
            source=m.voice.source("again stop"),
        )
    )
    for rank, movement in enumerate(taught(m)):
        card = movement.points[0].card
        text = m.voice.say("again point", name=name_words(movement), card=card)
        lines.append(
            m.line(
                "again-point",
                f"again/point/{movement.slug}",
                text,
                f"{movement.name}: {lower_first(card)}",
                rank=rank,
                movement=movement,
                source=movement.file,
            )
        )
    return lines


def _again_forced(m: Material, part: Part, number: int) -> list[Line]:
    lines = []
    for at, interrupt in enumerate(part.interrupts, 1):
        when, works = when_words(interrupt), interrupt_works(m, interrupt)
        if isinstance(interrupt.trigger, OnBreak):
            text = m.voice.say("again break", phrase=break_words(interrupt.trigger), work=works)
        elif isinstance(interrupt.trigger, Every):
            text = m.voice.say("again forced", when=when, work=works, first=first_words(interrupt))
        else:
            text = m.voice.say("again forced once", when=when, work=works)
        movement = m.of(interrupt.works[0].movement)
        card = f"{lower_first(when)}: {work_card(interrupt.works[0], movement)}"
        figure = work_figure(interrupt.works[0], movement)
        lines.append(
            m.line("again-forced", f"again/{number}/forced-{at}", text, card, figure=figure, source="the board")
        )
    return lines


def _again_plan(m: Material, part: Part, number: int) -> list[Line]:
    body = body_of(part)
    if body is None or not body.any_order or not body.plan_rounds:
        return []
    works = [plan_words(m, w, body.plan_rounds) for w in body.items if isinstance(w, Work)]
    text = m.voice.say("again plan", rounds=rounds_words(body.plan_rounds), works=join_words(works))
    card = f"plan: {rounds_words(body.plan_rounds)}"
    return [m.line("again-times", f"again/{number}/plan", text, card, source="the board")]


def _again_times(part: Part, *, last: bool) -> list[tuple[str, str, int, str]]:
    """Give what is said again of a part's times: phrase, id, seconds, card."""
    out = []
    if part.goal == "time" and part.windows.work_s:
        out.append(("again cap", "cap", part.windows.work_s, f"{write_clock(part.windows.work_s)} cap"))
    if part.rest_after_s and not last and part.span_s is None:
        rest = part.rest_after_s
        out.append(("again rest part", "rest-part", rest, f"rest {write_clock(rest)} before the next part"))
    return out


def go(m: Material) -> list[Line]:
    """Go and warm up; what comes next; the sign-off."""
    if m.settings.next_up:
        text, key = m.voice.say("go next", next=m.settings.next_up), "go next"
    else:
        text, key = m.voice.say("go"), "go"
    lines = [m.line("go", "go/go", text, "warm up", must=True, source=m.voice.source(key))]
    if m.settings.sign_off:
        # A goodbye without the warm-up before it would send people straight to the clock.
        bye = m.line("sign-off", "go/sign-off", m.settings.sign_off, "goodbye", needs=lines[0].id, source="series.md")
        lines.append(bye)
    return lines


def version_why(m: Material, movement: Movement) -> tuple[str, ...]:
    """Give the easier versions of a movement for paper: why, and what to do; those that the board says itself stand above them."""
    works = [w for w in m.workout.works if w.movement == movement.slug]
    left = [v for v in movement.easier if not noted(v, works)]
    return tuple(f"{why_words(v.reasons, (), movement)} {lower_first(without_asking(v))}" for v in left)
