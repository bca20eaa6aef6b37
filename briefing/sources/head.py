"""The head of a file: the YAML 1.2 between two `---` lines, with the place of every key and value.

Cut with a few lines of our own, because a Markdown plugin takes an unclosed head for a rule and a paragraph. Values
stay the text that was written: `16:00` is no number and `010` is not ten.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rapidfuzz import fuzz, process

from briefing.problems import Place, Problem, unprintable
from briefing.sources import readings
from briefing.sources.text import Text

if TYPE_CHECKING:
    from ruamel.yaml import YAML
    from ruamel.yaml.nodes import Node

MOST_DEPTH = 4
# Our choice: a series of a year with a line for each of its 208 videos has some 15,000.
MOST_HEAD = 100_000
_REFUSED = re.compile(r"(?:^\s*|[:-]\s+|[\[{,]\s*)([&*!][A-Za-z!<][\w:.!<>-]*)")


@dataclass(frozen=True)
class Entry:
    """A value of the head with its place: `value` is a str, a tuple of entries, or a dict of entries by key."""

    value: str | tuple[Entry, ...] | dict[str, Entry]
    place: Place
    key_place: Place


@dataclass(frozen=True)
class Head:
    """What stands in the head, and the number of the first line below it (counted from 1)."""

    entries: dict[str, Entry] = field(default_factory=dict)
    body_line: int = 1
    present: bool = False

    def text(self, key: str) -> str | None:
        """Give a plain value, stripped; None where the key is absent or is no plain value."""
        entry = self.entries.get(key)
        return entry.value.strip() if entry and isinstance(entry.value, str) and entry.value.strip() else None

    def words(self, key: str) -> tuple[tuple[str, Place], ...]:
        """Give a list of plain values with their places; a single value counts as a list of one."""
        entry = self.entries.get(key)
        if entry is None:
            return ()
        if isinstance(entry.value, str):
            return ((entry.value.strip(), entry.place),) if entry.value.strip() else ()
        if isinstance(entry.value, tuple):
            return tuple(
                (e.value.strip(), e.place) for e in entry.value if isinstance(e.value, str) and e.value.strip()
            )
        return ()


def recall_head(text: Text, path: Path) -> tuple[Head, list[Problem]]:
    """Give what `read_head` gives; a head that was read before is not read again while its lines are the same.

    For a workout and a series, whose head stays while the lines below it are edited. A head with problems is not kept. `path` is
    the text's file, under whose name its head is kept.
    """
    if text.lines[0].rstrip() != "---":
        return Head(), []
    end = next((i for i, line in enumerate(text.lines[1:], 2) if line.rstrip() in {"---", "..."}), None)
    if end is None:
        return read_head(text)
    name, made_from = f"head-{readings.name_for(path)}", "\n".join((text.name, *text.lines[:end]))
    kept = readings.recall(name, made_from)
    if kept is not None:
        entries = {key: _entry_of(entry, text.name) for key, entry in json.loads(kept).items()}
        return Head(entries, end + 1, present=True), []
    head, problems = read_head(text)
    if not problems:
        kept_entries = {key: _kept_entry(entry) for key, entry in head.entries.items()}
        readings.keep(name, made_from, json.dumps(kept_entries).encode())
    return head, problems


def _kept_entry(entry: Entry) -> list[Any]:
    """Give an entry as JSON holds it: the value, its place, its key's place."""
    value: Any = entry.value
    if isinstance(value, tuple):
        value = [_kept_entry(e) for e in value]
    elif isinstance(value, dict):
        value = {key: _kept_entry(e) for key, e in value.items()}
    return [value, *([p.line, p.column, p.end_column] for p in (entry.place, entry.key_place))]


def _entry_of(kept: list[Any], file: str) -> Entry:
    value, *places = kept
    if isinstance(value, list):
        value = tuple(_entry_of(e, file) for e in value)
    elif isinstance(value, dict):
        value = {key: _entry_of(e, file) for key, e in value.items()}
    place, key_place = (Place(file=file, line=line, column=column, end_column=end) for line, column, end in places)
    return Entry(value, place, key_place)


def read_head(text: Text) -> tuple[Head, list[Problem]]:
    """Cut the head off a text and read it.

    A text that does not begin with `---` has no head. Problems (errors): `head-not-closed`, `head-unreadable`,
    `head-key-twice`, `head-too-deep`, `head-too-long`, `head-refused` (anchors, aliases, tags), `control-character`.
    """
    if text.lines[0].rstrip() != "---":
        return Head(), []
    end = next((i for i, line in enumerate(text.lines[1:], 2) if line.rstrip() in {"---", "..."}), None)
    if end is None:
        return Head(body_line=len(text.lines) + 1, present=True), [
            _error(
                "head-not-closed",
                'the head begins here with "---" and has no second "---" that ends it',
                'a line "---" after the last "key: value"',
                text.place(1),
            )
        ]
    inside = text.lines[1 : end - 1]
    blank = Head(body_line=end + 1, present=True)
    written = "\n".join(inside) + "\n"
    if len(written) > MOST_HEAD:
        message = f"this head has {len(written):,} characters; {MOST_HEAD:,} are the most"
        return blank, [_error("head-too-long", message, "what is for you alone below the head", text.place(1))]
    refused = _refuse(text, inside)
    if refused:
        return blank, refused
    # Imported here: a head that was read before needs no YAML.
    from ruamel.yaml.error import YAMLError  # noqa: PLC0415
    from ruamel.yaml.nodes import MappingNode  # noqa: PLC0415

    try:
        if hidden := _refuse_events(text, written):
            return blank, hidden
        node = _yaml().compose(written)
    except (YAMLError, RecursionError, ValueError, OverflowError, NotImplementedError) as error:
        return blank, [_yaml_problem(text, error, len(inside))]
    if node is None:
        return blank, []
    if not isinstance(node, MappingNode):
        return blank, [
            _error("head-unreadable", 'the head holds no "key: value" lines', "title: Slack Water", text.place(2))
        ]
    problems: list[Problem] = []
    value = _entry(text, node, node, problems, 0).value
    entries = value if isinstance(value, dict) else {}
    return Head(entries, end + 1, present=True), problems


def check_keys(head: Head, known: Iterable[str], what: str) -> list[Problem]:
    """Give an error for each key that `what` (as in "a workout") does not know, with the nearest key."""
    names = tuple(known)
    out = []
    for key, entry in head.entries.items():
        if key not in names:
            out.append(
                _error(
                    "unknown-key",
                    f'{what} has no entry "{key}"',
                    nearest(key, names) or "one of: " + ", ".join(names),
                    entry.key_place,
                )
            )
    return out


def nearest(word: str, known: Iterable[str], least: float = 65) -> str | None:
    """Give the known word that is most like this one, or None where none is near (our choice: a ratio of 65)."""
    best = process.extractOne(word.lower(), list(known), scorer=fuzz.ratio, score_cutoff=least)
    return best[0] if best else None


@cache
def _yaml() -> YAML:
    from ruamel.yaml import YAML  # noqa: PLC0415

    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    return yaml


def _refuse(text: Text, inside: tuple[str, ...]) -> list[Problem]:
    """Refuse anchors and tags before YAML sees them; a quoted string may hold anything."""
    out = []
    for number, line in enumerate(inside, 2):
        bare = re.sub(r"\"[^\"]*\"|'[^']*'", lambda m: " " * len(m[0]), line.split(" #", maxsplit=1)[0])
        depth = len(bare) - len(bare.lstrip())
        match = _REFUSED.search(bare)
        if match:
            column = match.start(1) + 1
            out.append(
                _error(
                    "head-refused",
                    f'"{match[1]}" is an anchor or a tag, which a head here does not use',
                    f'"{match[1]}" in quotes, if it is part of the text',
                    text.place(number, column, column + len(match[1])),
                )
            )
        elif depth > 20 or bare.count("[") + bare.count("{") > MOST_DEPTH:
            out.append(
                _error("head-too-deep", "this is nested too deeply", "a plain list: [a, b, c]", text.place(number))
            )
    return out


def _refuse_events(text: Text, written: str) -> list[Problem]:
    """Refuse what YAML itself takes for an anchor, an alias or a tag, wherever it hides, and what is nested too deeply around it.

    Asked of YAML's own events, before anything is put together from them: a few aliases of aliases would make gigabytes.
    """
    from ruamel.yaml.events import AliasEvent, CollectionEndEvent, CollectionStartEvent, NodeEvent  # noqa: PLC0415

    if not set(written) & set("&*!"):
        return []
    depth = 0
    for event in _yaml().parse(written):
        if isinstance(event, NodeEvent):
            mark = event.start_mark
            place = text.place(min(mark.line + 2, len(text.lines)), mark.column + 1, mark.column + 2)
            if isinstance(event, AliasEvent) or event.anchor is not None or getattr(event, "tag", None) is not None:
                message = "here stands an anchor or a tag, which a head here does not use"
                return [_error("head-refused", message, "the text in double quotes, if it is part of it", place)]
            depth += isinstance(event, CollectionStartEvent)
            if depth > MOST_DEPTH + 2:
                return [_error("head-too-deep", "this is nested too deeply", "a plain list: [a, b, c]", place)]
        depth -= isinstance(event, CollectionEndEvent)
    return []


def _yaml_problem(text: Text, error: Exception, count: int) -> Problem:
    """Say where the YAML breaks off, in plain words."""
    from ruamel.yaml.error import MarkedYAMLError  # noqa: PLC0415

    line, column = 2, 1
    if isinstance(error, MarkedYAMLError):
        mark = error.problem_mark or error.context_mark
        if mark is not None:
            line, column = min(mark.line, count - 1) + 2, mark.column + 1
        opened = error.context_mark
        if opened is not None and error.context and "flow" in error.context:
            line, column = opened.line + 2, opened.column + 1
            return _error(
                "head-unreadable",
                "this bracket is not closed",
                "the same line with its closing bracket",
                text.place(line, column),
            )
    shown = text.lines[line - 1].strip() if line <= len(text.lines) else ""
    return _error(
        "head-unreadable",
        f'the head breaks off here: "{shown[:60]}" is not "key: value"',
        "key: value, with quotes around a value that holds a colon or a bracket",
        text.place(line, min(column, len(text.lines[line - 1]) + 1)),
    )


def _entry(text: Text, key_node: Node, node: Node, problems: list[Problem], depth: int) -> Entry:
    from ruamel.yaml.nodes import ScalarNode, SequenceNode  # noqa: PLC0415

    place, key_place = _span(text, node), _span(text, key_node)
    if depth > MOST_DEPTH:
        problems.append(_error("head-too-deep", "this is nested too deeply", "a plain list: [a, b, c]", place))
        return Entry("", place, key_place)
    if isinstance(node, ScalarNode):
        value = str(node.value)
        if hidden := unprintable(value):
            problems.append(
                _error(
                    "control-character",
                    f"here is a character ({hidden}) that no document can show",
                    "the text without it",
                    place,
                )
            )
            return Entry("", place, key_place)
        return Entry(value, place, key_place)
    if isinstance(node, SequenceNode):
        return Entry(tuple(_entry(text, n, n, problems, depth + 1) for n in node.value), place, key_place)
    found: dict[str, Entry] = {}
    for key, value in node.value:
        name = str(key.value) if isinstance(key, ScalarNode) else ""
        if hidden := unprintable(name):
            problems.append(
                _error(
                    "control-character",
                    f"here is a character ({hidden}) that no document can show",
                    "the text without it",
                    _span(text, key),
                )
            )
            continue
        if name in found:
            problems.append(
                _error("head-key-twice", f'"{name}" stands here a second time', "one of the two", _span(text, key))
            )
            continue
        found[name] = _entry(text, key, value, problems, depth + 1)
    return Entry(found, place, key_place)


def _span(text: Text, node: Any) -> Place:
    start, end = node.start_mark, node.end_mark
    line = min(start.line + 2, len(text.lines))
    column = start.column + 1
    same = end.line == start.line
    return text.place(line, column, end.column + 1 if same else None)


def _error(code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
