"""Reading a movement: the head for the machine, the sections for what the coach says.

Two steps: `read_draft` gives what stands in one file, `resolve` adds what it inherits. All problems of a file at once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any, Literal, get_args

from pydantic import ValidationError

from briefing.library import models as m
from briefing.library.names import plural_of
from briefing.problems import Found, Place, Problem, has_errors
from briefing.sources.head import Entry, Head, check_keys, nearest, read_head
from briefing.sources.text import Text
from briefing.units import Unit

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

Shape = Literal["points", "steps", "faults", "versions", "line"]

# A section of a movement: heading, the field it fills, what its bullets are. A row more is a heading more.
SECTIONS: tuple[tuple[str, str, Shape], ...] = (
    ("recap", "recap", "line"),
    ("call-out", "call_out", "line"),
    ("entry test", "entry", "points"),
    ("counts when", "counts_when", "points"),
    ("does not count", "does_not_count", "points"),
    ("technique points", "points", "points"),
    ("build-up", "build_up", "steps"),
    ("common faults", "faults", "faults"),
    ("regressions", "easier", "versions"),
    ("easier", "easier", "versions"),
    ("progressions", "harder", "versions"),
    ("harder", "harder", "versions"),
    ("safety", "safety", "points"),
    ("handling", "handling", "points"),
    ("breath", "breath", "line"),
    ("where you feel it", "feel", "points"),
    ("load test", "load_test", "line"),
    ("note", "note", "line"),
)
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
_DASH = r"(?:\s[-–—]\s|\s?—\s?)"
_ITEM = re.compile(rf"^\s*(?:\((?P<inside>(?:[^()]|\([^()]*\))*)\))?\s*(?:[-–—:]+\s*|{_DASH})?(?P<say>.*)$", re.DOTALL)
_ARROW = re.compile(r"\s*(?:→|->|=>)\s*")
_REPS = re.compile(r"^(?:(\d{1,3})\s*(?:x|reps?|times)?|(\d{1,3})\s*(?:s|sec|seconds?))$")


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
    `number`, `unknown-heading`, `item-shape`, `name-missing`, `kit-shape`; (warning) `text-outside`.
    """
    head, problems = read_head(text)
    draft = Draft(slug, text.name)
    problems += check_keys(head, KEYS, "a movement")
    if head.present:
        _read_head_fields(head, draft, problems)
    if "name" not in draft.fields and not has_errors(problems):
        problems.append(_error("name-missing", "this movement has no name", "name: Goblet squat", text.place(1)))
    _read_sections(text, head, draft, problems)
    return Found(draft, tuple(problems))


def resolve(draft: Draft, parent: m.Movement | None, *, from_coach: bool) -> Found[m.Movement]:
    """Make a movement of a draft and what it builds on.

    The same card phrase replaces, another one is added, `leave_out` removes. Problems (errors): `leave-out-unknown`,
    `no-points` (fewer than one technique point), `field` (a value out of bounds).
    """
    problems: list[Problem] = []
    values: dict[str, Any] = {}
    if parent is not None:
        values = {k: getattr(parent, k) for k in m.Movement.model_fields if k not in {"slug", "name", "plural", "also"}}
    own = dict(draft.fields)
    for key, value in own.items():
        inherited = values.get(key)
        if isinstance(value, tuple) and value and isinstance(value[0], m.Point) and inherited:
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


# --- the sections --------------------------------------------------------------------------------------------------


@cache
def markdown() -> MarkdownIt:
    """Give the one Markdown reader: CommonMark with raw HTML switched off, since what people write is text."""
    # Imported here: what was read before needs no Markdown.
    from markdown_it import MarkdownIt  # noqa: PLC0415

    return MarkdownIt("commonmark", {"html": False})


def _read_sections(text: Text, head: Head, draft: Draft, problems: list[Problem]) -> None:
    body = "\n".join(text.lines[head.body_line - 1 :])
    tokens = markdown().parse(body)
    section: tuple[str, str, Shape] | None = None
    paragraphs: dict[str, list[str]] = {}
    items: dict[str, list[m.Point]] = {}
    known = tuple(s[0] for s in SECTIONS)
    depth = 0
    index = 0
    while index < len(tokens):
        token = tokens[index]
        line = head.body_line + (token.map[0] if token.map else 0)
        if token.type == "heading_open":
            title = plain_text(tokens[index + 1]).strip()
            section = next((s for s in SECTIONS if s[0] == title.lower()), None)
            if section is None:
                near = nearest(title, known) or "one of: " + ", ".join(s.capitalize() for s in known)
                problems.append(
                    _error(
                        "unknown-heading", f'a movement has no section "{title}"', near.capitalize(), text.place(line)
                    )
                )
                section = ("", "", "line")
            else:
                draft.places.setdefault(section[1], text.place(line))
            index += 2
        elif token.type in {"bullet_list_open", "ordered_list_open"}:
            depth += 1
        elif token.type in {"bullet_list_close", "ordered_list_close"}:
            depth -= 1
        elif token.type == "inline" and depth and section and section[1] and section[2] != "line":
            point = _item(token, section[2], text, line, problems)
            if point is not None:
                items.setdefault(section[1], []).append(point)
        elif token.type == "inline" and (section is None or section[2] == "line"):
            key = "what" if section is None else section[1]
            if key:
                paragraphs.setdefault(key, []).append(" ".join(plain_text(token).split()))
        elif token.type == "inline" and section and section[1]:
            problems.append(
                _error(
                    "item-shape",
                    f'under "{section[0].capitalize()}" this is no bullet',
                    "- **Weight close** — Hold it high against your chest.",
                    text.place(line),
                )
            )
        index += 1
    draft.fields.update({key: " ".join(lines) for key, lines in paragraphs.items()})
    for key, found in items.items():
        draft.fields[key] = tuple(_once(found, problems))


def plain_text(token: Token) -> str:
    """Give an inline token's words without its marks; a line break is a space."""
    out = []
    for child in token.children or ():
        if child.type in {"text", "code_inline"}:
            out.append(child.content)
        elif child.type in {"softbreak", "hardbreak"}:
            out.append(" ")
    return "".join(out)


def _once(found: list[m.Point], problems: list[Problem]) -> Iterator[m.Point]:
    seen: set[str] = set()
    for point in found:
        if point.card.lower() in seen:
            problems.append(
                _error("card-twice", f'the card phrase "{point.card}" stands here a second time', None, point.place)
            )
        else:
            seen.add(point.card.lower())
            yield point


def _item(token: Token, shape: Shape, text: Text, line: int, problems: list[Problem]) -> m.Point | None:
    card, rest, links = _split_item(token)
    place = text.place(line)
    match = _ITEM.match(rest)
    say = " ".join((match["say"] if match else "").split())
    if not card or not say:
        example = {
            "steps": "1. **Empty hands** (3 reps, from the side, talked over) — Down in three counts, up in one.",
            "faults": "- **Heels lift** — you feel the weight roll to your toes → Sit back first, then down.",
            "versions": "- **To a chair** (knee, new to it) — Sit down to a chair and stand up again.",
        }.get(shape, "- **Weight close** — Hold it high against your chest.")
        problems.append(
            _error("item-shape", "a bullet here is a bold card phrase, a dash, and the line you say", example, place)
        )
        return None
    inside = (match["inside"] if match else None) or ""
    if shape == "steps":
        return _step(card, say, inside, place, problems)
    if shape == "faults":
        parts = _ARROW.split(say, maxsplit=1)
        if len(parts) != 2 or not all(parts):
            problems.append(
                _error(
                    "fault-arrow",
                    "a fault says how you notice it, an arrow, and what to do",
                    f"- **{card}** — you feel the weight roll to your toes → Sit back first, then down.",
                    place,
                )
            )
            return None
        return m.Fault(card=card, say=parts[1], notice=parts[0].rstrip("."), place=place)
    if shape == "versions":
        return _version(card, say, inside, links, place, problems)
    return m.Point(card=card, say=say, place=place)


def _split_item(token: Token) -> tuple[str, str, dict[str, str]]:
    """Cut a bullet into its bold start, the rest as plain text, and the links in it by their words."""
    card, rest, links = [], [], {}
    bold, target, link_words = 0, None, ""
    started = False
    for child in token.children or ():
        if child.type == "strong_open" and not started:
            bold += 1
        elif child.type == "strong_close" and bold:
            bold -= 1
            started = True
        elif child.type == "link_open":
            target, link_words = str(child.attrs.get("href", "")), ""
        elif child.type == "link_close":
            links[link_words.strip().lower()] = target or ""
            target = None
        elif child.type in {"text", "code_inline", "softbreak", "hardbreak"}:
            words = child.content if child.type in {"text", "code_inline"} else " "
            link_words += words
            if bold:
                card.append(words)
            elif started or words.strip():
                started = True
                rest.append(words)
    return " ".join("".join(card).split()).rstrip(".:"), "".join(rest), links


def _step(card: str, say: str, inside: str, place: Place, problems: list[Problem]) -> m.BuildStep:
    values: dict[str, Any] = {}
    for part in (p.strip().lower() for p in inside.split(",") if p.strip()):
        reps = _REPS.match(part)
        side = part.removeprefix("from ").removeprefix("the ")
        if reps:
            values["reps" if reps[1] else "hold_s"] = int(reps[1] or reps[2])
        elif side in get_args(m.Camera):
            values["camera"] = side
        elif part in get_args(m.How):
            values["how"] = part
        else:
            problems.append(
                _error(
                    "step-bracket", f'"{part}" is not known in a build-up step', "3 reps, from the side, counted", place
                )
            )
    # Reps that are performed are counted aloud unless the file says otherwise; a position is talked over.
    values.setdefault("how", "counted" if values.get("reps") else "talked over")
    return m.BuildStep(card=card, say=say, place=place, **values)


def _version(
    card: str, say: str, inside: str, links: dict[str, str], place: Place, problems: list[Problem]
) -> m.Version:
    reasons: list[str] = []
    count: str = "same count"
    movement: str | None = None
    for part in (p.strip().lower() for p in re.split(r"[,;]", inside) if p.strip()):
        if part in m.REASONS:
            reasons.append(part)
        elif part in get_args(m.CountChange):
            count = part
        elif part in links:
            movement = links[part].rsplit("/", 1)[-1].removesuffix(".md")
        else:
            problems.append(
                _error(
                    "reason",
                    f'"{part}" is not one of the reasons',
                    nearest(part, m.REASONS) or "one of: " + ", ".join(m.REASONS),
                    place,
                )
            )
    return m.Version(
        card=card,
        say=say,
        reasons=tuple(reasons),
        count=count,
        movement=movement,
        place=place,
    )


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
