"""Contradictions inside a movement: what one of its lines says against another, its rates, its kit, or what keeps somebody safe.

Only what can be seen in words is looked for; what is asked for in each is common practice, no source, unless a source stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefing.library.finding import Library
from briefing.library.models import KIT, KitItem, Movement, Point, Version
from briefing.library.needs import kit_beyond
from briefing.problems import Place, Problem

_COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5}
_TEMPO = re.compile(r"\b(two|three|four|five)\b(?: (?:slow|full|even|good))? counts\b", re.IGNORECASE)
# Our choice: a count is a second, and the way back takes half of one at the least.
_BACK_S = 0.5


def tempo(m: Movement, _: Library) -> Iterator[Problem]:
    """A lowering of so many counts is longer than the whole repetition: then the rate or the word is wrong."""
    rates = m.seconds_for.get("reps")
    if rates is None:
        return
    counted = (s for s in m.build_up if s.how != "talked over")
    for p in (*m.counts_when, *m.does_not_count, *m.points, *counted):
        found = _TEMPO.search(p.say)
        if found and p.place.file == m.file and rates.brisk < _COUNTS[found[1].lower()] + _BACK_S:
            yield _warn(
                "tempo-rate",
                f'"{found[0]}" does not go into a repetition of {rates.brisk:g} seconds',
                "slowly, under control",
                p.place,
            )


def kit_for_easier(m: Movement, library: Library) -> Iterator[Problem]:
    """An area that is worked hard has an easier version for those who have only this kit and what is in nearly every home."""
    free = {r for v in m.easier if not _beyond(m, v, library) for r in v.reasons}
    answered = {r for v in m.easier for r in v.reasons}
    for area in m.works_hard_on:
        if area in answered - free:
            yield _warn(
                "easier-kit",
                f"every easier version for {area} takes other kit than the movement itself",
                f"- **…** ({area}) — …, with what is there",
                _whole_file(m),
            )


def kit_unsaid(m: Movement, library: Library) -> Iterator[Problem]:
    """A version that takes other kit names it, so that nobody looks for it halfway."""
    for v in m.easier:
        if v.place.file != m.file:
            continue
        words = v.say.lower()
        for item in _beyond(m, v, library):
            if not any(word in words for word in (*item.names, *(["weight"] if KIT[item.names[0]].weight else []))):
                kit = " or ".join(item.names)
                yield _warn("kit-unsaid", f'"{v.card}" takes a {kit} and does not say so', f"… with a {kit} …", v.place)


def _beyond(m: Movement, v: Version, library: Library) -> tuple[KitItem, ...]:
    return kit_beyond(m, v, library.get(v.movement) if v.movement else None)


_ONLY_IF = re.compile(r"\bonly\b.*\bif you can\b", re.IGNORECASE)
_BAR_PATTERNS = frozenset({"squat", "lunge", "push", "overhead"})


def entry_test(m: Movement, _: Library) -> Iterator[Problem]:
    """What can pin, drop or invert somebody says who does it and what everybody else does; a bar over a body can pin."""
    for risk, why in _risks_seen(m):
        if risk not in m.risks:
            yield _warn("entry-test", why, f"risks: [{risk}]", _whole_file(m))
    if not m.risks:
        return
    words = [p.say for p in m.entry]
    if not any(_ONLY_IF.search(w) for w in words) or not any("verybody else" in w for w in words):
        yield _warn(
            "entry-test",
            f"it {', '.join(m.risks)} somebody, and nothing says who does it and what everybody else does",
            "## Entry test with `- **…** — This one is only for you if you can ….` and `- **…** — Everybody else ….`",
            _whole_file(m),
        )


def _risks_seen(m: Movement) -> Iterator[tuple[str, str]]:
    """Give the risks that the head itself shows: what is held over somebody, feet on a wall, a push while hanging."""
    overhead = "reach" in m.space.overhead
    kit = {n for k in m.kit for n in k.names}
    if any(k.names == ("barbell",) for k in m.kit) and (m.pattern in _BAR_PATTERNS or overhead):
        yield "pins", "a barbell over somebody can pin them"
    if m.position == "floor" and overhead and any(KIT[n].weight for n in kit):
        yield "pins", "a weight over somebody who lies there can fall on them"
    if m.position == "floor" and overhead and "wall" in kit:
        yield "inverts", "feet on a wall as high as a reach are above the head"
    if m.position == "hanging" and m.pattern == "push":
        yield "drops", "whoever pushes while hanging can fall into the bottom"


_WAY_OUT = re.compile(
    r"\bif (?:you get stuck|you lose|(?:the bar|it) falls|you tip|your arms give)|\bwhen you get stuck", re.IGNORECASE
)


def way_out(m: Movement, _: Library) -> Iterator[Problem]:
    """What can pin somebody says for safety how one gets out from under it."""
    if "pins" in m.risks and not any(_WAY_OUT.search(p.say) for p in m.safety):
        yield _warn(
            "way-out",
            "it can pin somebody, and no safety note says the way out",
            "- **Way out** — If you get stuck, …",
            _whole_file(m),
        )


_HELD = re.compile(
    r"\blet (?:the air|it) go when\b|\blet the air go\b|\bmake (?:it|your belly) hard\b|\bhold your breath and\b|\btighten your belly on\b",
    re.IGNORECASE,
)


def breath_held(m: Movement, _: Library) -> Iterator[Problem]:
    """Where the breath is held against a load, those with high blood pressure are told to breathe out."""
    words = [m.breath or "", *(p.say for p in (*m.points, *m.build_up))]
    if any(_HELD.search(w) for w in words) and not any("blood pressure" in p.say for p in (*m.entry, *m.safety)):
        yield _warn(
            "breath-held",
            "the breath is held under load, and nothing is said for high blood pressure",
            "- **High blood pressure** — With high blood pressure, breathe out on every way up.",
            _whole_file(m),
        )


_LOWERED = re.compile(
    r"\blower yourself\b|\bcome down slowly\b|\bslow(?:ly)? (?:way )?down\b|\bslow negative\b", re.IGNORECASE
)


def slow_lowering(m: Movement, _: Library) -> Iterator[Problem]:
    """Slow ways down from a bar: fewer of them for those who are new to it, and the caution about soreness.

    Many of them by somebody new to them: Clarkson 1993; US CDC/NIOSH on muscle breakdown (from memory).
    """
    on_bar = m.pattern == "pull" and any("pull-up bar" in k.names for k in m.kit) and "reps" in m.counts
    if on_bar and not any(re.search(r"\bsore", p.say) for p in m.safety):
        yield _warn(
            "slow-lowering",
            "slow ways down from a bar have no caution about soreness",
            "- **Soreness comes late** — Do only a few slow ways down while they are new to you: they can leave you very sore.",
            _whole_file(m),
        )
    for v in m.easier:
        newcomer = {"new to it", "too heavy"} & set(v.reasons)
        if on_bar and newcomer and v.place.file == m.file and _LOWERED.search(v.say) and v.count != "half the count":
            yield _warn("slow-lowering", f'"{v.card}" is as many slow ways down', "half the count", v.place)


def half_said(m: Movement, _: Library) -> Iterator[Problem]:
    """A version of half the count says so: nobody hears the bracket."""
    for v in m.easier:
        if v.count == "half the count" and v.place.file == m.file and not re.search(r"\bhalf\b", v.say, re.IGNORECASE):
            yield _warn("half-said", f'"{v.card}" is half the count and does not say so', f"Do half: {v.say}", v.place)


_IN_BAND = re.compile(r"\b(?:stand|step|press one foot) (?:in|into|down into) (?:a|the) band\b", re.IGNORECASE)
_OUT_OF_BAND = re.compile(r"\bhold (?:it|the band) down\b", re.IGNORECASE)


def band_out(m: Movement, _: Library) -> Iterator[Problem]:
    """Whoever is sent into a band is told how to get out: it snaps back."""
    safe = any(_OUT_OF_BAND.search(p.say) for p in m.safety)
    for p in spoken(m):
        if _IN_BAND.search(p.say) and not safe and not _OUT_OF_BAND.search(p.say):
            yield _warn(
                "band-out",
                f'"{p.card}" says how to get into the band, not out of it',
                "hold it down as you take your foot out",
                p.place,
            )


_KNEE_PLACE = re.compile(
    r"\bknees?\b(?: \w+){0,4} (?:over|toward|past|in line with) (?:your|the|its|their)"
    r"(?: (?:little|second|third|big|middle))?(?: or \w+)? (?:toes?|feet|foot)\b"
    r"|\bknees?\b(?: \w+){0,4} (?:middle|ball) of your foot\b",
    re.IGNORECASE,
)


def knee_place(m: Movement, _: Library) -> Iterator[Problem]:
    """Knees have one place in all movements: where the toes point."""
    for p in spoken(m):
        if _KNEE_PLACE.search(p.say):
            yield _warn("knee-place", f'"{p.say}" names another place for the knee', "where your toes point", p.place)


def spoken(m: Movement) -> Iterator[Point]:
    """Give every bullet with a spoken line that stands in the movement's own file."""
    for section in (
        m.entry,
        m.counts_when,
        m.does_not_count,
        m.points,
        m.build_up,
        m.faults,
        m.easier,
        m.harder,
        m.safety,
        m.handling,
        m.feel,
    ):
        yield from (p for p in section if p.place.file == m.file)


# --- the built-in library alone ---------------------------------------------------------------------------------------

_SEAT = re.compile(r"\b(?:your|the|with|my)?\s*seat\b(?! (?:of|rail|bump))", re.IGNORECASE)
_THING = re.compile(r"\b(?:hold its seat|the seat (?:of|rail|bump))", re.IGNORECASE)


def plain_words(m: Movement, _: Library) -> Iterator[Problem]:
    """Glutes or hips; a seat is a thing to sit on."""
    for p in spoken(m):
        words = _THING.sub("", f"{p.card}: {p.say} {getattr(p, 'notice', '')}")
        if _SEAT.search(words):
            yield _warn("plain-words", f'"{p.say}" calls a part of the body a seat', "glutes, or hips", p.place)


_UNSEEN = re.compile(
    r"you see your (?:elbows? (?:still|level)|shoulders?\b|chest|back\b(?! foot)|hips?\b|chin|neck|head|glutes)"
)


def fault_seen(m: Movement, _: Library) -> Iterator[Problem]:
    """A fault that is seen is one that can be seen by somebody alone, without a mirror."""
    for f in m.faults:
        if f.place.file == m.file and _UNSEEN.match(f.notice):
            yield _warn("fault-seen", f'"{f.notice}" cannot be seen alone', "you feel …", f.place)


_FEET = re.compile(r"\bfeet\b|\bfoot\b|\bheels?\b", re.IGNORECASE)
_HANDS = re.compile(
    r"\bhands?\b|\bhold\b|\bgrip|\bfists?\b|\barms?\b|\belbows?\b|\bfingers\b|\bforearms\b", re.IGNORECASE
)


def start_named(m: Movement, _: Library) -> Iterator[Problem]:
    """Where a weight is lifted for repetitions, it is said where the feet stand and how the weight is held."""
    weighted = any(KIT[n].weight for k in m.kit for n in k.names)
    if not weighted or m.counts[0] != "reps":
        return
    words = " ".join([m.what, m.recap or "", *(p.say for p in (*m.points, *m.build_up, *m.handling, *m.counts_when))])
    for what, pattern in (("feet", _FEET), ("hands", _HANDS)):
        if not pattern.search(words):
            yield _warn("start-named", f"nothing says where the {what} are at the start", None, _whole_file(m))


def _warn(code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level="warning", code=code, message=message, suggestion=suggestion, place=place)


def _whole_file(m: Movement) -> Place:
    return Place(file=m.file, line=1)
