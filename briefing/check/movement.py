"""Checks of a movement: one literal list. The built-in library has to pass them all; on a coach's own they are advice."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from briefing.check import contradictions as against
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.problems import Level, Place, Problem

MOST_WORDS = 22
_REUSE = re.compile(
    r"\b\d+(?:[.,]\d+)?\s*(?:kg|kgs|kilos?|lbs?|pounds?|rounds?|%)\b|\b\d{1,2}:\d{2}\b"
    r"|\b(?:round (?:one|two|three|four|five)|(?:three|four|five|six|seven|eight|ten) rounds)\b"
    r"|\b(?:today's|this week's|tomorrow's|yesterday's)\b|\b(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b|\b20\d\d\b",
    re.IGNORECASE,
)
_ENOUGH_POINTS = 3
# Our choice: "Row under a table" has a verb in it, "Table rows" has not.
_FEWEST_WORDS = 3


@dataclass(frozen=True)
class MovementCheck:
    """One check: its code, what it holds in a sentence, and the function."""

    code: str
    holds: str
    find: Callable[[Movement, Library], Iterator[Problem]]


def check_movement(movement: Movement, library: Library) -> list[Problem]:
    """Run all checks of a movement; inherited lines are looked at where they stand, in the file they are inherited from."""
    return [p for check in MOVEMENT_CHECKS for p in check.find(movement, library)]


def _problem(level: Level, code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level=level, code=code, message=message, suggestion=suggestion, place=place)


def _whole_file(m: Movement) -> Place:
    return Place(file=m.file, line=1)


def _enough(m: Movement, _: Library) -> Iterator[Problem]:
    if len(m.points) < _ENOUGH_POINTS:
        yield _problem(
            "warning",
            "few-points",
            f"{len(m.points)} technique points; three make a movement teachable",
            None,
            m.points[0].place,
        )
    if not m.easier:
        yield _problem(
            "warning", "no-easier", "there is no easier version", "## Regressions with one bullet", _whole_file(m)
        )
    if not m.safety:
        yield _problem("warning", "no-safety", "there is no safety note", "## Safety with one bullet", _whole_file(m))
    if not m.what:
        yield _problem(
            "warning",
            "no-what",
            "there is no sentence that says what it is",
            "one sentence below the head",
            _whole_file(m),
        )


def _lengths(m: Movement, _: Library) -> Iterator[Problem]:
    for p in against.spoken(m):
        words = len(p.say.split())
        if words > MOST_WORDS:
            yield _problem(
                "warning",
                "line-long",
                f'"{p.card}" has {words} words; {MOST_WORDS} can be said in one go',
                "two bullets",
                p.place,
            )
        count = len(p.card.split())
        if not 2 <= count <= 5:
            yield _problem(
                "warning",
                "card-words",
                f'the card phrase "{p.card}" has {count} words; two to five can be read at a glance',
                None,
                p.place,
            )


def _reusable(m: Movement, _: Library) -> Iterator[Problem]:
    for p in against.spoken(m):
        found = _REUSE.search(p.say)
        if found:
            yield _problem(
                "warning",
                "not-reusable",
                f'"{found[0]}" belongs to one workout; the movement could not be used in another',
                "the same line without it",
                p.place,
            )


def _to_do(m: Movement, _: Library) -> Iterator[Problem]:
    for p in m.points:
        if p.place.file == m.file and re.match(r"(?:don't|do not|never|avoid|no )\b", p.say, re.IGNORECASE):
            yield _problem("warning", "say-what-to-do", f'"{p.say}" says what not to do', "what to do instead", p.place)


def _areas(m: Movement, _: Library) -> Iterator[Problem]:
    answered = {r for v in m.easier for r in v.reasons}
    for area in m.works_hard_on:
        if area not in answered:
            yield _problem(
                "warning",
                "area-unanswered",
                f"it works hard on {area}, and no easier version answers that",
                f"- **…** ({area}) — …",
                _whole_file(m),
            )


def _versions_say_what(m: Movement, _: Library) -> Iterator[Problem]:
    for v in (*m.easier, *m.harder):
        if v.place.file == m.file and len(v.say.split()) < _FEWEST_WORDS:
            yield _problem(
                "warning",
                "version-short",
                f'"{v.say}" is a name, not something to do',
                f"Do {v.say[:1].lower()}{v.say[1:]}",
                v.place,
            )


def _links(m: Movement, library: Library) -> Iterator[Problem]:
    for v in (*m.easier, *m.harder):
        if v.movement and v.place.file == m.file and library.file_of(v.movement) is None:
            near = library.nearest(v.movement.replace("-", " "))
            yield _problem(
                "warning",
                "link-unknown",
                f'there is no movement file "{v.movement}.md"',
                near[0] if near else None,
                v.place,
            )


def _midwife(m: Movement, _: Library) -> Iterator[Problem]:
    for v in (*m.easier, *m.harder):
        if (
            "pregnant or after birth" in v.reasons
            and v.place.file == m.file
            and not re.search(r"midwife|doctor", v.say)
        ):
            yield _problem(
                "warning",
                "ask-first",
                f'"{v.card}" does not say to ask a midwife or doctor first',
                f"Ask your midwife or doctor first, then {v.say[:1].lower()}{v.say[1:]}",
                v.place,
            )


MOVEMENT_CHECKS: tuple[MovementCheck, ...] = (
    MovementCheck(
        "few-points",
        "Three technique points, an easier version, a safety note, a sentence that says what it is.",
        _enough,
    ),
    MovementCheck("line-long", "Spoken lines of at most 22 words, card phrases of two to five.", _lengths),
    MovementCheck("not-reusable", "No number, load or date of a workout.", _reusable),
    MovementCheck("say-what-to-do", "A technique point says what to do.", _to_do),
    MovementCheck("area-unanswered", "An easier version for every body area it works hard on.", _areas),
    MovementCheck(
        "version-short", "An easier or a harder version is a sentence that says what to do.", _versions_say_what
    ),
    MovementCheck("link-unknown", "An easier version that is another movement links to its file.", _links),
    MovementCheck("ask-first", "What is for pregnancy or after birth says to ask first.", _midwife),
    MovementCheck("tempo-rate", "A lowering of so many counts goes into the seconds of a repetition.", against.tempo),
    MovementCheck(
        "easier-kit",
        "Every area it works hard on has an easier version with its own kit, or with what is in nearly every home.",
        against.kit_for_easier,
    ),
    MovementCheck("kit-unsaid", "An easier version that takes other kit names it.", against.kit_unsaid),
    MovementCheck(
        "entry-test",
        "What can pin, drop or invert somebody says who does it and what everybody else does.",
        against.entry_test,
    ),
    MovementCheck("way-out", "What can pin somebody says for safety how one gets out from under it.", against.way_out),
    MovementCheck(
        "breath-held", "Where the breath is held under load, high blood pressure has its word.", against.breath_held
    ),
    MovementCheck(
        "slow-lowering",
        "Slow ways down from a bar are few, and have their caution about soreness.",
        against.slow_lowering,
    ),
    MovementCheck("half-said", "A version of half the count says so.", against.half_said),
    MovementCheck("band-out", "Whoever is sent into a band is told the way out of it.", against.band_out),
    MovementCheck("knee-place", "Knees have one place in all movements: where the toes point.", against.knee_place),
)


# --- what the built-in library holds itself to, besides -----------------------------------------------------------


def _counts(m: Movement, _: Library) -> Iterator[Problem]:
    for what, found, least, most in (
        ("technique points", m.points, 3, 7),
        ("common faults", m.faults, 2, 6),
        ("harder versions", m.harder, 1, 6),
        ("easier versions", m.easier, 2, 12),
    ):
        if not least <= len(found) <= most:
            yield _problem(
                "warning", "list-length", f"{len(found)} {what}; {least} to {most} are wanted", None, _whole_file(m)
            )


def _said_short(m: Movement, _: Library) -> Iterator[Problem]:
    if not m.recap:
        yield _problem("warning", "no-recap", "there is no recap line", "## Recap with one line", _whole_file(m))
    if not m.call_out or len(m.call_out.split()) > 4:
        yield _problem(
            "warning", "call-out", "a call-out has one to four words", "## Call-out with a few words", _whole_file(m)
        )
    sentences = len(re.findall(r"[.!?](?:\s|$)", m.what))
    if sentences != 1:
        yield _problem(
            "warning",
            "what-sentence",
            f"the description has {sentences} sentences; one can be said",
            None,
            _whole_file(m),
        )


def _paced(m: Movement, _: Library) -> Iterator[Problem]:
    if "reps" in m.counts and "reps" not in m.seconds_for:
        yield _problem(
            "warning",
            "no-rate",
            "it counts reps and has no seconds_per_rep",
            "{brisk: 1.8, steady: 2.4, easy: 3.2}",
            _whole_file(m),
        )
    if m.seconds_for and not m.pace_source:
        yield _problem(
            "warning", "no-pace-source", "the rates have no source", "pace_source: common practice", _whole_file(m)
        )


def _faults_alone(m: Movement, _: Library) -> Iterator[Problem]:
    """A fault is noticed alone: what one feels, hears or sees."""
    for fault in m.faults:
        if fault.place.file == m.file and not re.match(r"(?:you|your)\b", fault.notice):
            yield _problem(
                "warning",
                "fault-alone",
                f'"{fault.notice}" is not what somebody alone notices',
                "you feel …, you hear …, you see …",
                fault.place,
            )


_OTHER_SIDE = re.compile(
    r"\b(?:other (?:leg|foot|side|arm|hand|one)|for the other|change (?:legs|feet|sides|arms|hands|the weight)"
    r"|each (?:leg|foot|side|arm|hand)|both sides|pass it over)\b",
    re.IGNORECASE,
)


def _both_sides(m: Movement, _: Library) -> Iterator[Problem]:
    """Of a drill or a stretch the warm-up and the cool-down say the first sentence and one point, so it stands there."""
    if m.sides != "each":
        return
    lines = [m.what]
    if m.pattern != "mobility":
        lines += [m.recap or "", *(p.say for p in (*m.counts_when, *m.points, *m.build_up, *m.handling))]
    if not any(_OTHER_SIDE.search(line) for line in lines):
        yield _problem(
            "warning",
            "other-side",
            "it is done on each side, and nothing says when to change",
            "…, and then change legs.",
            _whole_file(m),
        )


LIBRARY_CHECKS: tuple[MovementCheck, ...] = (
    MovementCheck("list-length", "Enough and not too many points, faults, easier and harder versions.", _counts),
    MovementCheck("call-out", "A recap, a call-out of one to four words, a description of one sentence.", _said_short),
    MovementCheck("no-rate", "Rates for what is counted in repetitions, with their source.", _paced),
    MovementCheck("other-side", "What is done on each side says when to change.", _both_sides),
    MovementCheck("fault-alone", "A fault says how a person alone notices it.", _faults_alone),
    MovementCheck("fault-seen", "What is seen is what somebody alone can see.", against.fault_seen),
    MovementCheck("plain-words", "Glutes or hips; a seat is a thing to sit on.", against.plain_words),
    MovementCheck("start-named", "Where a weight is lifted, it is said where feet and hands are.", against.start_named),
)


def check_library_movement(movement: Movement, library: Library) -> list[Problem]:
    """Run the checks that only the built-in library has to pass."""
    return [p for check in LIBRARY_CHECKS for p in check.find(movement, library)]
