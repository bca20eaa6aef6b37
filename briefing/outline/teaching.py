"""Teaching a movement, in the order in which it is shown: whole, what counts, build-up, points, a fault, easier, set down, whole again."""

from __future__ import annotations

import re
from collections.abc import Mapping

from briefing.board.models import OnBreak, Option, Work
from briefing.library.models import AREAS, BuildStep, KitSafety, Movement, Point, Version, kit_word
from briefing.library.names import slug_of
from briefing.library.needs import kit_beyond
from briefing.outline.cautions import pelvis, without_asking
from briefing.outline.heavy import first_tested, heavy_line, tested
from briefing.outline.material import Material, all_or_none
from briefing.outline.material import known as taught
from briefing.outline.models import Line, Show
from briefing.outline.options import noted, option_lines, said_with_workout
from briefing.outline.wording import upper_first
from briefing.outline.workout import interrupt_works
from briefing.telling.interrupts import first_card, first_words, when_words
from briefing.telling.kit import kit_words
from briefing.telling.numbers import count_words
from briefing.telling.phrases import name_words
from briefing.telling.reasons import SAID_REASONS, has_load, why_words

# Our choice: the whole movement is shown twice at the start, talked over, and once more at the end, in silence.
SHOWN_FIRST, SHOWN_AGAIN = 2, 2
# A change-over is walked through with a few repetitions, talked over: there, two or three, and back.
SHOWN_CHANGE = 3


def teach(m: Material, movement: Movement, *, first: bool) -> list[Line]:
    """Teach one movement: in full every line that there is (the fit decides what is said), short, or by its name alone."""
    works = [w for w in m.workout.works if w.movement == movement.slug]
    if movement.carried:
        return _in_own_words(m, movement, works, first=first)
    match m.level(movement):
        case "name-only":
            return [_known(m, movement), *_entry(m, movement), *_options(m, works), *_safety(m, movement)]
        case "short":
            points = _technique(m, movement)[:SHORT_POINTS]
            easier = _easier(m, movement, works)
            return [_recap(m, movement), *_entry(m, movement), *points, *easier, *_safety(m, movement)]
        case "full":
            return _in_full(m, movement, works, first=first)


# Our choice: room for what a coach says and shows of a movement that no file has; a movement of the library takes about
# that long in short.
OWN_WORDS_S = 45


def _in_own_words(m: Material, movement: Movement, works: list[Work], *, first: bool) -> list[Line]:
    """Give a movement that no file has its name, room for the coach's own words, the board's options and when to stop.

    Nothing is known of it but its name, so nothing is said of how it is done.
    """
    if m.level(movement) == "name-only":
        opening = _known(m, movement)
    else:
        show = Show(hold_s=OWN_WORDS_S, camera=movement.camera, how="own words")
        text = m.voice.say("movement first" if first else "movement", name=name_words(movement), what="")
        card = f"{movement.name}: teach it in your own words"
        ident = f"{movement.slug}/what"
        opening = m.line("what", ident, text, card, must=True, movement=movement, show=show, source=movement.file)
    return [opening, *_options(m, works), _own_stop(m, movement), *_kit_notes(m, movement)]


def _own_stop(m: Material, movement: Movement) -> Line:
    text = m.voice.say("own words stop", name=name_words(movement))
    card, ident = "sharp pain, no control: stop", f"{movement.slug}/safety/stop"
    source = m.voice.source("own words stop")
    return m.line("safety", ident, text, card, must=True, movement=movement, source=source)


# Our choice: somebody who knows a movement needs its two first points, not more.
SHORT_POINTS = 2


def _known(m: Material, movement: Movement) -> Line:
    text = m.voice.say("movement known", name=name_words(movement))
    return m.line(
        "what",
        f"{movement.slug}/what",
        text,
        movement.name,
        must=True,
        movement=movement,
        source=m.voice.source("movement known"),
    )


def _what(m: Material, movement: Movement, text: str) -> Line:
    """Make a movement's first line, with a few repetitions of it or the thing itself."""
    show = (
        Show(reps=SHOWN_FIRST, camera=movement.camera) if movement.counts[0] == "reps" else Show(camera=movement.camera)
    )
    return m.line(
        "what",
        f"{movement.slug}/what",
        text,
        movement.name,
        must=True,
        movement=movement,
        show=show,
        source=movement.file,
    )


def _recap(m: Material, movement: Movement) -> Line:
    video = m.taught_in.get(movement.slug)
    recap = movement.recap or movement.what
    if video:
        text = m.voice.say("movement recap in", name=name_words(movement), recap=recap, video=video)
    else:
        text = m.voice.say("movement recap", name=name_words(movement), recap=recap)
    return _what(m, movement, text + _part_of_kit(m, movement))


def _part_of_kit(m: Material, movement: Movement) -> str:
    """Say how many of the weights that lie there this movement takes, where that is not all of them."""
    for item in movement.kit:
        there = next((k for k in m.kit if set(k.names) & set(item.names)), None)
        if there is not None and there.count > item.count and kit_word(item.names[0]).weight:
            return " " + m.voice.repeat("part of kit", count=count_words(item.count), kit=kit_words(there))
    return ""


def _in_full(m: Material, movement: Movement, works: list[Work], *, first: bool) -> list[Line]:
    lines = [_whole(m, movement, first=first), *_entry(m, movement)]
    if tested(m, movement) and movement is not first_tested(m):
        lines.append(heavy_line(m, movement, movement.slug))
    lines += _points(m, movement, "counts", "counts")
    lines += _points(m, movement, "does_not_count", "does not count")
    lines += _build_up(m, movement)
    lines += _technique(m, movement)
    lines += _faults(m, movement)
    lines += _easier(m, movement, works)
    lines += _harder(m, movement)
    lines += _safety(m, movement)
    lines += _points(m, movement, "handling", "handling")
    if movement.breath:
        text = m.voice.say("breath", line=movement.breath)
        lines.append(
            m.line("breath", f"{movement.slug}/breath", text, "breath", movement=movement, source=movement.file)
        )
    lines += _points(m, movement, "feel", "feel it")
    if movement.recap and movement.counts[0] == "reps":
        text = m.voice.say("whole again", name=name_words(movement), recap=movement.recap)
        show = Show(reps=SHOWN_AGAIN, camera=movement.camera, how="silent")
        ident = f"{movement.slug}/again"
        lines.append(
            m.line("whole-again", ident, text, "the whole again", movement=movement, show=show, source=movement.file)
        )
    return lines


def _whole(m: Material, movement: Movement, *, first: bool) -> Line:
    key = "movement first" if first else "movement"
    text = m.voice.say(key, name=name_words(movement), what=movement.what)
    return _what(m, movement, text + _part_of_kit(m, movement))


def _entry(m: Material, movement: Movement) -> list[Line]:
    """Say who does the movement at all, and what everybody else does: before anybody is asked to build it up."""
    return _points(m, movement, "entry", "entry")


def _safety(m: Material, movement: Movement) -> list[Line]:
    """Say what has to be seen to on the kit that lies there, then the movement's own safety notes; each sentence once a briefing."""
    return [*_kit_notes(m, movement), *_points(m, movement, "safety", "safety"), *pelvis(m, movement)]


def _kit_notes(m: Material, movement: Movement) -> list[Line]:
    lines: list[Line] = []
    for kit in _kit_safety(m, movement):
        if m.first_time(kit.say):
            ident, text = f"{movement.slug}/safety/{slug_of(kit.card)}", m.voice.say("safety", line=kit.say)
            lines.append(m.line("safety", ident, text, kit.card, must=True, movement=movement, source="the kit"))
    return lines


def _kit_safety(m: Material, movement: Movement) -> list[KitSafety]:
    there = {name for k in m.kit for name in k.names}
    names = dict.fromkeys(n for k in movement.kit for n in k.names if n in there)
    return [safety for n in names if (safety := kit_word(n).safety) is not None]


def safety_sentences(m: Material) -> tuple[str, ...]:
    """Give all that the briefing says for safety, each sentence once: for paper."""
    out: dict[str, None] = {}
    for movement in (m.of(slug) for slug in m.shown):
        points = [p for p in (*movement.entry, *movement.safety) if not _of_other_kit(m, movement, p)]
        own = [m.voice.repeat("own words stop", name=name_words(movement))] if movement.carried else []
        out |= dict.fromkeys([*(s.say for s in _kit_safety(m, movement)), *own, *(p.say for p in points)])
    return tuple(out)


_FIELDS = {
    "entry": "entry",
    "counts": "counts_when",
    "does_not_count": "does_not_count",
    "safety": "safety",
    "handling": "handling",
    "feel": "feel",
}


def _points(m: Material, movement: Movement, section: str, phrase: str) -> list[Line]:
    """Say the bullets of a section; entry tests and safety notes are must-say, each sentence once a briefing.

    How to set down needs how to pick up: that stands first.
    """
    kind = phrase.replace(" ", "-")
    must = kind in _ALWAYS
    points = [p for p in getattr(movement, _FIELDS[section]) if not _of_other_kit(m, movement, p)]
    points = [p for p in points if (m.first_time(p.say) if must else p.say not in _always_said(m))]
    lines: list[Line] = []
    for rank, p in enumerate(points):
        lines.append(
            m.line(
                kind,
                f"{movement.slug}/{kind}/{slug_of(p.card)}",
                m.voice.say("does not count" if phrase == "counts" and rank else phrase, line=p.say, card=p.card),
                p.card,
                rank=rank,
                must=must,
                movement=movement,
                needs=lines[0].id if kind == "handling" and lines else None,
                source=_source(movement, p.place.file, p.place.line),
            )
        )
    return lines


_ALWAYS = frozenset({"entry", "safety"})


def _always_said(m: Material) -> frozenset[str]:
    """Give every sentence that some movement of this workout says in any case."""
    return frozenset(p.say for x in taught(m) for p in (*x.entry, *x.safety))


def _of_other_kit(m: Material, movement: Movement, point: Point) -> bool:
    """Say whether a point is about kit that this workout is done without: how to hold a dumbbell, where it is a kettlebell."""
    there = {name for k in m.kit for name in k.names}
    choices = {name for k in movement.kit if len(k.names) > 1 for name in k.names}
    about = {name for name in choices if re.search(rf"\b{name}s?\b", point.card.lower())}
    return bool(about) and not about & there


def _source(movement: Movement, file: str | None, line: int) -> str:
    return f"{file or movement.file}:{line}"


def _build_up(m: Material, movement: Movement) -> list[Line]:
    """Say the build-up, all of it or none: half of one ends before the whole movement was seen."""
    lines: list[Line] = []
    for rank, step in enumerate(movement.build_up):
        lines.append(
            m.line(
                "step",
                f"{movement.slug}/build-up/{slug_of(step.card)}",
                m.voice.say("step" if rank else "step first", line=step.say),
                _step_card(step),
                rank=rank,
                movement=movement,
                show=Show(reps=step.reps, hold_s=step.hold_s, camera=step.camera, how=step.how),
                source=_source(movement, step.place.file, step.place.line),
            )
        )
    return all_or_none(lines)


def _step_card(step: BuildStep) -> str:
    count = f"{step.reps} × " if step.reps else f"{step.hold_s} s " if step.hold_s else ""
    return f"{count}{step.card}"


def _technique(m: Material, movement: Movement) -> list[Line]:
    return [
        m.line(
            "point",
            f"{movement.slug}/point/{slug_of(p.card)}",
            m.voice.say("point" if rank else "point first", line=p.say),
            p.card,
            rank=rank,
            must=rank == 0,
            movement=movement,
            source=_source(movement, p.place.file, p.place.line),
        )
        for rank, p in enumerate(movement.points)
    ]


def _faults(m: Material, movement: Movement) -> list[Line]:
    return [
        m.line(
            "fault",
            f"{movement.slug}/fault/{slug_of(f.card)}",
            m.voice.say("fault", notice=f.notice, line=f.say),
            f.card,
            rank=rank,
            movement=movement,
            source=_source(movement, f.place.file, f.place.line),
        )
        for rank, f in enumerate(movement.faults)
    ]


def _easier(m: Material, movement: Movement, works: list[Work]) -> list[Line]:
    """Say the options of the board first, then the library's easier versions.

    First the one that answers the body area named first, with kit that is there; then those that can be done with what is there;
    of these, those that keep the count. One that is the same movement as an option of the board is said once. The first of all is
    must-say.
    """
    lines: list[Line] = []
    said = {o.work.movement for w in works for o in w.options}
    lines += _options(m, works)
    versions = sorted(
        (v for v in movement.easier if v.movement not in said and not noted(v, works)),
        key=lambda v: (not _at_hand(m, movement, v), v.count != "same count"),
    )
    lead = next((v for v in versions if _answers_first(movement, v) and _at_hand(m, movement, v)), None)
    versions.sort(key=lambda v: v is not lead)
    spoken = [v for v in versions if not _only_asks(v)]
    given = [line for line in lines if line.kind == "option"]
    answered = {r: line.id for line, o in zip(given, _untold(m, works), strict=True) for r in o.reasons}
    for rank, version in enumerate([*spoken, *(v for v in versions if _only_asks(v))]):
        text, needs, reasons = _easier_words(m, movement, version, answered)
        line = m.line(
            "easier",
            f"{movement.slug}/easier/{slug_of(version.card)}",
            text,
            version.card,
            rank=rank + len(given),
            must=rank == 0,
            movement=movement,
            needs=needs,
            source=_source(movement, version.place.file, version.place.line),
        )
        lines.append(line)
        answered |= dict.fromkeys(reasons, line.id)
    return lines


def _answers_first(movement: Movement, version: Version) -> bool:
    """Say whether a version answers the body area that the movement works hardest on."""
    return bool(movement.works_hard_on) and movement.works_hard_on[0] in version.reasons


def _at_hand(m: Material, movement: Movement, version: Version) -> bool:
    """Say whether a version can be done with the kit of this workout and what is in nearly every home."""
    linked = m.find(version.movement) if version.movement else None
    there = {name for k in m.kit for name in k.names}
    return all(there & set(k.names) for k in kit_beyond(movement, version, linked))


def _easier_words(
    m: Material, movement: Movement, version: Version, answered: Mapping[str, str]
) -> tuple[str, str | None, tuple[str, ...]]:
    """Give an easier version's words, the line it needs, and the reasons that it names.

    It names what no line before it has answered. What comes back to the same body area is the next larger change ("If your
    knees still complain"), so it needs the smaller one before it.
    """
    asked = movement.works_hard_on[:1]
    reasons = sorted(version.reasons, key=lambda r: r not in asked)
    fresh = tuple(r for r in reasons if r not in answered)[:SAID_REASONS]
    if fresh or not version.reasons:
        return m.voice.say("easier", why=why_words(fresh, (), movement), line=without_asking(version)), None, fresh
    area = next((r for r in version.reasons if r in AREAS), None)
    if area is not None:
        why = why_words((area,), (), movement, still=True)
        return m.voice.say("easier", why=why, line=without_asking(version)), answered[area], (area,)
    why = why_words(version.reasons, (), movement)
    return m.voice.say("easier also", why=why, line=without_asking(version)), None, version.reasons[:SAID_REASONS]


def _options(m: Material, works: list[Work]) -> list[Line]:
    """Say the options of the board that were not said with the workout itself."""
    return [
        line
        for w in works
        for at in range(len(w.options))
        if not said_with_workout(m, w, at)
        for line in option_lines(m, w, at)
    ]


def _untold(m: Material, works: list[Work]) -> list[Option]:
    """Give the options of the board that were not said with the workout itself."""
    return [o for w in works for at, o in enumerate(w.options) if not said_with_workout(m, w, at)]


def _only_asks(version: Version) -> bool:
    """A version that begins with asking a professional stands on every handout; on camera it comes after the others."""
    return version.reasons == ("pregnant or after birth",)


def _harder(m: Material, movement: Movement) -> list[Line]:
    key = "harder" if has_load(movement) else "harder without load"
    return [
        m.line(
            "harder",
            f"{movement.slug}/harder/{slug_of(v.card)}",
            m.voice.say(key, line=v.say),
            v.card,
            rank=rank,
            movement=movement,
            source=_source(movement, v.place.file, v.place.line),
        )
        for rank, v in enumerate(movement.harder)
    ]


def change(m: Material) -> list[Line]:
    """Rehearse what the clock forces in as a change-over: there, the work, and back."""
    lines: list[Line] = []
    timed = [i for p in m.workout.parts for i in p.interrupts if not isinstance(i.trigger, OnBreak)]
    for at, interrupt in enumerate(timed, 1):
        works = interrupt_works(m, interrupt, sides=False)
        trigger = first_words(interrupt)
        clock = "go" if trigger.startswith("right") else trigger.removeprefix("at ")
        movement = m.of(interrupt.works[0].movement)
        number = interrupt.works[0].amount.in_round(0)
        show = (
            Show(reps=min(number, SHOWN_CHANGE), camera="front") if interrupt.works[0].amount.unit == "reps" else None
        )
        main = m.line(
            "change",
            f"change/{at}/there",
            m.voice.say("change", first=clock, work=works),
            f"{upper_first(first_card(interrupt))}: finish the rep, put down, go",
            must=True,
            movement=movement,
            source=m.voice.source("change"),
        )
        lines.append(main)
        lines.append(
            m.line(
                "change-back",
                f"change/{at}/back",
                m.voice.say("change back"),
                "back to your count, say it aloud",
                movement=movement,
                show=show,
                needs=main.id,
                source=m.voice.source("change back"),
            )
        )
        lines.append(
            m.line(
                "change-next",
                f"change/{at}/next",
                m.voice.say("change next", when=when_words(interrupt)),
                "ready or not",
                needs=main.id,
                source=m.voice.source("change next"),
            )
        )
    return lines
