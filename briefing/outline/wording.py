"""Named phrases with alternatives: built-in, overridden by name by the coach. A voice takes them in turn."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from pathlib import Path

from briefing.library.sections import markdown, plain_text
from briefing.problems import Place, Problem
from briefing.sources import readings
from briefing.sources.head import nearest
from briefing.sources.text import Text, read_text
from briefing.telling.sentences import lower_first, tidy, upper_first

__all__ = ["Voice", "Wording", "lower_first", "read_wording", "tidy", "upper_first"]

_BRACES = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Wording:
    """Phrases by name; each a tuple of alternatives with `{placeholders}`, and the file they are from."""

    phrases: dict[str, tuple[str, ...]]
    files: dict[str, str] = field(default_factory=dict)


def read_wording(folders: tuple[Path, ...], shown_from: Path | None = None) -> tuple[Wording, tuple[Problem, ...]]:
    """Read `wording.md` from each folder, the coach's own first; the last folder is the built-in one.

    Problems (errors): `unknown-phrase` (with the nearest name), `unknown-brace` (a word in braces that the phrase does
    not have), `phrase-empty`.
    """
    problems: list[Problem] = []
    found: list[tuple[Text, dict[str, tuple[tuple[str, Place], ...]]]] = []
    for folder in folders:
        path = folder / "wording.md"
        if path.is_file():
            name = (
                str(path.relative_to(shown_from))
                if shown_from and path.is_relative_to(shown_from)
                else f"templates/{path.name}"
            )
            text = read_text(path, name)
            problems += text.problems
            if text.value is not None:
                found.append((text.value, _recall_phrases(text.value, path)))
    if not found:
        raise FileNotFoundError("the built-in wording.md is missing")
    built_in = {name: tuple(t for t, _ in alternatives) for name, alternatives in found[-1][1].items() if alternatives}
    phrases, files = dict(built_in), dict.fromkeys(built_in, found[-1][0].name)
    for text_of, own in reversed(found[:-1]):
        for name, alternatives in own.items():
            problem = _check(text_of, name, alternatives, built_in)
            if problem:
                problems.append(problem)
            else:
                phrases[name] = tuple(t for t, _ in alternatives)
                files[name] = text_of.name
    return Wording(phrases, files), tuple(problems)


def _recall_phrases(text: Text, path: Path) -> dict[str, tuple[tuple[str, Place], ...]]:
    """Give the phrases of a text; one that was read before is not read again."""
    name, made_from = readings.name_for(path), "\n".join(text.lines)
    kept = readings.recall(name, made_from)
    if kept is not None:
        return {
            name: tuple((words, text.place(line)) for words, line in alternatives)
            for name, alternatives in json.loads(kept).items()
        }
    phrases = _phrases(text)
    lines = {name: [(words, place.line) for words, place in alternatives] for name, alternatives in phrases.items()}
    readings.keep(name, made_from, json.dumps(lines).encode())
    return phrases


def _phrases(text: Text) -> dict[str, tuple[tuple[str, Place], ...]]:
    tokens = markdown().parse("\n".join(text.lines))
    out: dict[str, tuple[tuple[str, Place], ...]] = {}
    name, depth = None, 0
    for index, token in enumerate(tokens):
        if token.type == "heading_open":
            name = plain_text(tokens[index + 1]).strip().lower() if token.tag == "h2" else None
            if name:
                out[name] = ()
        elif token.type.endswith("list_open"):
            depth += 1
        elif token.type.endswith("list_close"):
            depth -= 1
        elif token.type == "inline" and name and depth:
            line = (token.map[0] if token.map else 0) + 1
            out[name] = (*out[name], (" ".join(plain_text(token).split()), text.place(line)))
    return out


def _check(
    text: Text, name: str, own: tuple[tuple[str, Place], ...], built_in: dict[str, tuple[str, ...]]
) -> Problem | None:
    first = (
        own[0][1] if own else text.place(next((i for i, line in enumerate(text.lines, 1) if name in line.lower()), 1))
    )
    if name not in built_in:
        return Problem(level="error", code="unknown-phrase", message=f'there is no phrase called "{name}"',
                       suggestion=nearest(name, built_in), place=first)  # fmt: skip
    if not own:
        return Problem(level="error", code="phrase-empty", message=f'the phrase "{name}" has no bullet',
                       suggestion=f"- {built_in[name][0]}", place=first)  # fmt: skip
    known = {b for phrase in built_in[name] for b in _BRACES.findall(phrase)} | _twins(built_in[name])
    for phrase, place in own:
        odd = next((b for b in _BRACES.findall(phrase) if b not in known), None)
        if odd is not None:
            return Problem(level="error", code="unknown-brace", message=f'the phrase "{name}" has nothing called {{{odd}}}',
                           suggestion=", ".join("{" + k + "}" for k in sorted(known)) or "the phrase without braces",
                           place=place)  # fmt: skip
    return None


def _twins(phrases: tuple[str, ...]) -> set[str]:
    """Give the capital or lower twin of what a phrase uses: `{line}` may stand for `{line_low}` and back."""
    used = {b for phrase in phrases for b in _BRACES.findall(phrase)}
    return {b.removesuffix("_low") for b in used} | {b + "_low" for b in used if not b.endswith("_low")}


@dataclass
class Voice:
    """Says phrases, taking alternatives in turn: the n-th use of a name takes the n-th alternative, round and round.

    The turn depends on the full list of lines alone, never on what is left out later, so a line's words are fixed
    before the fit.
    """

    wording: Wording
    turns: dict[str, int] = field(default_factory=dict)

    def say(self, phrase_name: str, /, **values: str) -> str:
        """Fill a phrase. Raises KeyError for a name or a word in braces that nobody knows: a slip of ours."""
        turn = self.turns.get(phrase_name, 0)
        self.turns[phrase_name] = turn + 1
        return self._fill(phrase_name, turn, values)

    def repeat(self, phrase_name: str, /, **values: str) -> str:
        """Fill the first alternative of a phrase without taking a turn: for what is said again or stands on paper."""
        return self._fill(phrase_name, 0, values)

    def _fill(self, phrase_name: str, turn: int, values: dict[str, str]) -> str:
        alternatives = self.wording.phrases[phrase_name]
        filled = values | {key + "_low": lower_first(value) for key, value in values.items()}
        return tidy(_BRACES.sub(lambda m: filled[m[1]], alternatives[turn % len(alternatives)]))

    def source(self, name: str) -> str:
        """Say where the words of a phrase are from."""
        return f"{self.wording.files.get(name, 'templates/wording.md')} / {name}"
