"""The sections of a movement file: headings, bullets with a bold card phrase, steps, faults, versions.

What a new file still has to be filled in with stands in square brackets with three dots; it is an error and never said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import TYPE_CHECKING, Any, Literal, get_args

from briefing.library import models as m
from briefing.problems import Place, Problem
from briefing.sources.head import Head, nearest
from briefing.sources.text import Text

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
_DASH = r"(?:\s[-–—]\s|\s?—\s?)"
_ITEM = re.compile(rf"^\s*(?:\((?P<inside>(?:[^()]|\([^()]*\))*)\))?\s*(?:[-–—:]+\s*|{_DASH})?(?P<say>.*)$", re.DOTALL)
_ARROW = re.compile(r"\s*(?:→|->|=>)\s*")
_REPS = re.compile(r"^(?:(\d{1,3})\s*(?:x|reps?|times)?|(\d{1,3})\s*(?:s|sec|seconds?))$")


# What a new file leaves open: `[… two to five words]`.
BLANK = re.compile(r"\[…[^\]]*\]")


@cache
def markdown() -> MarkdownIt:
    """Give the one Markdown reader: CommonMark with raw HTML switched off, since what people write is text."""
    # Imported here: what was read before needs no Markdown.
    from markdown_it import MarkdownIt  # noqa: PLC0415

    return MarkdownIt("commonmark", {"html": False})


def read_sections(text: Text, head: Head, problems: list[Problem]) -> tuple[dict[str, Any], dict[str, Place]]:
    """Give what stands below the head, by field, and where each section begins.

    Problems (errors): `unknown-heading`, `item-shape`, `unfilled` and those of bullets.
    """
    fields: dict[str, Any] = {}
    places: dict[str, Place] = {}
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
                places.setdefault(section[1], text.place(line))
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
            if BLANK.search(plain_text(token)):
                problems.append(unfilled(plain_text(token), text.place(line)))
            elif key:
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
    fields |= {key: " ".join(lines) for key, lines in paragraphs.items()}
    fields |= {key: tuple(_once(found, problems)) for key, found in items.items()}
    return fields, places


def unfilled(words: str, place: Place) -> Problem:
    """Make the problem of something that a new file left open."""
    open_part = BLANK.search(words)
    what = open_part[0].strip("[]… ") if open_part else ""
    message = "this is still to be filled in" + (f": {what}" if what else "")
    return _error("unfilled", message, "your own words there, or the line deleted", place)


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
    if BLANK.search(f"{card} {rest}"):
        problems.append(unfilled(f"{card} {rest}", place))
        return None
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


def _error(code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
