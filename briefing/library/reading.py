"""Reading a movement: the head for the machine, the sections for what the coach says.

Two steps: `read_draft` gives what stands in one file, `resolve` adds what it inherits. All problems of a file at once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any, get_args

from pydantic import ValidationError

from briefing.library import models as m
from briefing.library.names import plural_of
from briefing.library.sections import read_sections, unfilled
from briefing.problems import Found, Place, Problem, has_errors
from briefing.sources.head import Entry, Head, check_keys, nearest, read_head
from briefing.sources.text import Text
from briefing.units import Unit

KEYS: tuple[str, ...] = (
    "name",
    "plural",
    "also",
    "pattern",
    "kit",
    "stand_ins",
    "risks",
    "sides",
    "counts",
    "works_hard_on",
    "space",
    "position",
    "camera",
    "seconds_per_rep",
    "seconds_per_metre",
    "seconds_per_calorie",
    "pace_source",
    "builds_on",
    "leave_out",
)
_RATE_KEYS: dict[str, Unit] = {"seconds_per_rep": "reps", "seconds_per_metre": "m", "seconds_per_calorie": "cal"}


@dataclass
class Draft:
    """What stands in one movement file: only the fields that are given there."""

    slug: str
    file: str
    fields: dict[str, Any] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    leave_out: tuple[tuple[str, Place], ...] = ()


def read_draft(text: Text, slug: str) -> Found[Draft]:
    """Read what stands in one movement file.

    `slug` is its file name without `.md`. Problems (errors): those of the head; `unknown-key`, `not-one-of`,
    `number`, `unknown-heading`, `item-shape`, `name-missing`, `unfilled`, `kit-shape`; (warning) `text-outside`.
    """
    head, problems = read_head(text)
    head = _filled(head, problems)
    draft = Draft(slug, text.name)
    problems += check_keys(head, KEYS, "a movement")
    if head.present:
        _read_head_fields(head, draft, problems)
    if "name" not in draft.fields and draft.fields.get("builds_on") != slug and not has_errors(problems):
        problems.append(_error("name-missing", "this movement has no name", "name: Goblet squat", text.place(1)))
    fields, places = read_sections(text, head, problems)
    draft.fields |= fields
    draft.places = places | draft.places
    return Found(draft, tuple(problems))


def resolve(draft: Draft, parent: m.Movement | None, *, from_coach: bool) -> Found[m.Movement]:
    """Make a movement of a draft and what it builds on.

    The same card phrase replaces, another one is added, `leave_out` removes. What builds on the built-in movement of its own name keeps
    that one's names, too, and builds on what that one builds on. Problems (errors): `leave-out-unknown`,
    `no-points` (fewer than one technique point), `field` (a value out of bounds).
    """
    problems: list[Problem] = []
    values: dict[str, Any] = {}
    if parent is not None:
        values = {k: getattr(parent, k) for k in m.Movement.model_fields if k not in {"slug", "name", "plural", "also"}}
    own = dict(draft.fields)
    if parent is not None and own.get("builds_on") == draft.slug == parent.slug:
        values |= {"name": parent.name, "also": parent.also}
        values |= {} if "name" in own else {"plural": parent.plural}
        del own["builds_on"]
    for key, value in own.items():
        inherited = values.get(key)
        # An entry test belongs together: it is given whole, or inherited whole.
        if isinstance(value, tuple) and value and isinstance(value[0], m.Point) and inherited and key != "entry":
            values[key] = _merge(inherited, value)
        elif key == "seconds_for":
            values[key] = {**(inherited or {}), **value}
        else:
            values[key] = value
    for card, place in draft.leave_out:
        if not _leave_out(values, card):
            cards = sorted(
                {p.card for v in values.values() if isinstance(v, tuple) for p in v if isinstance(p, m.Point)}
            )
            problems.append(
                _error("leave-out-unknown", f'no card phrase "{card}" is inherited here', nearest(card, cards), place)
            )
    if not values.get("points"):
        problems.append(
            _error(
                "no-points",
                "this movement has no technique points",
                "a heading `## Technique points` with bullets such as `- **Weight close** — Hold it high against your chest.`",
                draft.places.get("points") or draft.places.get("name") or Place(file=draft.file, line=1),
            )
        )
        return Found(None, tuple(problems))
    name = str(values.get("name", draft.slug))
    values.setdefault("plural", plural_of(_lower_first(name)))
    try:
        made = m.Movement(**{**values, "slug": draft.slug, "file": draft.file, "from_coach": from_coach})
    except ValidationError as error:
        return Found(None, (*problems, *_field_problems(error, draft)))
    return Found(made, tuple(problems))


def _field_problems(error: ValidationError, draft: Draft) -> Iterator[Problem]:
    """Join pydantic's path with the place the reader kept."""
    for detail in error.errors():
        key = str(detail["loc"][0]) if detail["loc"] else "name"
        place = draft.places.get(key) or Place(file=draft.file, line=1)
        yield _error("field", f'"{detail.get("input")}" does not fit here: {detail["msg"].lower()}', None, place)


def _lower_first(name: str) -> str:
    return name if name[:2].isupper() or re.match(r"[A-Z]-", name) else name[:1].lower() + name[1:]


# --- the head ------------------------------------------------------------------------------------------------------


def _filled(head: Head, problems: list[Problem]) -> Head:
    """Take the entries away that a new file left open, each with a problem."""
    left_open = {key: entry for key, entry in head.entries.items() if _left_open(entry)}
    problems += [unfilled(f"[… {key}]", entry.place) for key, entry in left_open.items()]
    return replace(head, entries={k: e for k, e in head.entries.items() if k not in left_open})


def _left_open(entry: Entry) -> bool:
    if isinstance(entry.value, str):
        return entry.value.strip().startswith("…")
    parts = entry.value.values() if isinstance(entry.value, dict) else entry.value
    return any(_left_open(part) for part in parts)


def _read_head_fields(head: Head, draft: Draft, problems: list[Problem]) -> None:
    for key, entry in head.entries.items():
        draft.places[key] = entry.place
    for key in ("name", "plural", "builds_on", "pace_source"):
        value = head.text(key)
        if value:
            draft.fields[key] = value
    if "also" in head.entries:
        draft.fields["also"] = tuple(w for w, _ in head.words("also"))
    draft.leave_out = head.words("leave_out")
    for key, choices in (
        ("pattern", get_args(m.Pattern)),
        ("sides", get_args(m.Sides)),
        ("position", get_args(m.Position)),
        ("camera", get_args(m.Camera)),
    ):
        chosen = _one_of(head, key, choices, problems)
        if chosen:
            draft.fields[key] = chosen
    for key, choices in (("counts", get_args(m.Counts)), ("works_hard_on", m.AREAS), ("risks", get_args(m.Risk))):
        if key in head.entries:
            draft.fields[key] = tuple(_each_of(head, key, choices, problems))
    if "kit" in head.entries:
        draft.fields["kit"] = tuple(_kit(head, problems))
    if "stand_ins" in head.entries:
        draft.fields["stand_ins"] = dict(_stand_ins(head.entries["stand_ins"], problems))
    if "space" in head.entries:
        draft.fields["space"] = _space(head.entries["space"], problems)
    rates = {unit: r for key, unit in _RATE_KEYS.items() if (r := _rates(head, key, problems))}
    if rates:
        draft.fields["seconds_for"] = rates


def _one_of(head: Head, key: str, choices: tuple[str, ...], problems: list[Problem]) -> str | None:
    return next(iter(_each_of(head, key, choices, problems)), None)


def _each_of(head: Head, key: str, choices: tuple[str, ...], problems: list[Problem]) -> Iterator[str]:
    for word, place in head.words(key):
        if word.lower() in choices:
            yield word.lower()
        else:
            suggestion = nearest(word, choices) or "one of: " + ", ".join(choices)
            problems.append(
                _error("not-one-of", f'"{word}" is not known as {key.replace("_", " ")}', suggestion, place)
            )


def read_kit_item(words: str) -> m.KitItem | None:
    """Read `2 dumbbells or kettlebells`, `1 step`, `mat`: a count (one if none stands there) and kit words."""
    match = re.fullmatch(r"\s*(\d{1,2})?\s*(?:x|×)?\s*(.+?)\s*", words)
    if not match:
        return None
    names = []
    for name in re.split(r"\s+or\s+|\s*/\s*", match[2].lower()):
        known = next((k for k in m.KIT if name in {k, plural_of(k)}), None)
        if known is None:
            return None
        names.append(known)
    count = int(match[1] or 1)
    return m.KitItem(count=count, names=tuple(names)) if 1 <= count <= 20 else None


def _kit(head: Head, problems: list[Problem]) -> Iterator[m.KitItem]:
    for words, place in head.words("kit"):
        item = read_kit_item(words)
        if item is None:
            bare = re.sub(r"^\d+\s*", "", words)
            near = nearest(bare, m.KIT)
            problems.append(
                _error("kit-word", f'"{words}" is not kit this page knows', near or "1 dumbbell or kettlebell", place)
            )
        else:
            yield item


def _stand_ins(entry: Entry, problems: list[Problem]) -> Iterator[tuple[str, str]]:
    """Read what to do without a piece of kit: `{box: jump on the floor, band: none}`."""
    example = "{box: jump on the floor} or {box: none}"
    if not isinstance(entry.value, dict):
        problems.append(
            _error("stand-in-shape", "stand_ins says for a piece of kit what to do without it", example, entry.place)
        )
        return
    for word, part in entry.value.items():
        says = " ".join(part.value.split()).rstrip(".") if isinstance(part.value, str) else ""
        if word.lower() not in m.KIT:
            problems.append(
                _error("kit-word", f'"{word}" is not kit this page knows', nearest(word, m.KIT) or example, part.place)
            )
        elif not says:
            problems.append(
                _error("stand-in-shape", f"nothing stands behind {word}: what to do without it", example, part.place)
            )
        else:
            yield word.lower(), says


def _space(entry: Entry, problems: list[Problem]) -> m.Space:
    if not isinstance(entry.value, dict):
        problems.append(_error("space-shape", "space has two parts", "{floor: 1 x 1 m, overhead: none}", entry.place))
        return m.Space()
    floor, overhead = None, "none"
    for key, part in entry.value.items():
        value = part.value.strip().lower() if isinstance(part.value, str) else ""
        if key == "floor":
            sizes = re.fullmatch(r"(\d{1,4}(?:\.\d+)?)\s*[x×]\s*(\d{1,4}(?:\.\d+)?)\s*m?", value)
            if sizes:
                floor = (float(sizes[1]), float(sizes[2]))
            elif value != "none":
                problems.append(_error("space-shape", f'"{value}" is not a floor size', "2 x 1 m", part.place))
        elif key == "overhead" and value in get_args(m.Overhead):
            overhead = value
        else:
            problems.append(
                _error(
                    "space-shape",
                    f'"{key}: {value}" is not known here',
                    "{floor: 1 x 1 m, overhead: reach}",
                    part.place,
                )
            )
    return m.Space(floor_m=floor, overhead=overhead)


def _rates(head: Head, key: str, problems: list[Problem]) -> m.Rates | None:
    entry = head.entries.get(key)
    if entry is None:
        return None
    example = "{brisk: 1.8, steady: 2.4, easy: 3.2}"
    if not isinstance(entry.value, dict) or set(entry.value) != {"brisk", "steady", "easy"}:
        problems.append(_error("rates-shape", f"{key} has three numbers: brisk, steady and easy", example, entry.place))
        return None
    numbers: dict[str, float] = {}
    for who, part in entry.value.items():
        raw = part.value.strip().replace(",", ".") if isinstance(part.value, str) else ""
        if not re.fullmatch(r"\d{1,3}(?:\.\d{1,3})?", raw) or not 0 < float(raw) <= 600:
            problems.append(_error("number", f'"{raw}" is not a number of seconds from 0 to 600', "2.4", part.place))
            return None
        numbers[who] = float(raw)
    if not numbers["brisk"] <= numbers["steady"] <= numbers["easy"]:
        problems.append(_error("rates-order", "brisk takes the fewest seconds and easy the most", example, entry.place))
        return None
    return m.Rates(**numbers)


# --- inheritance ---------------------------------------------------------------------------------------------------


def _merge(inherited: tuple[m.Point, ...], own: tuple[m.Point, ...]) -> tuple[m.Point, ...]:
    by_card = {p.card.lower(): p for p in own}
    merged = [by_card.pop(p.card.lower(), p) for p in inherited]
    return (*merged, *by_card.values())


def _leave_out(values: dict[str, Any], card: str) -> bool:
    found = False
    for key, value in values.items():
        if isinstance(value, tuple) and any(isinstance(p, m.Point) and p.card.lower() == card.lower() for p in value):
            values[key] = tuple(p for p in value if p.card.lower() != card.lower())
            found = True
    return found


def _error(code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
