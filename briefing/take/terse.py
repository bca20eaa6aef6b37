"""Must-say lines that were said in a few words of the coach's own: the words that carry them come in one short stretch."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from briefing.outline.models import Line, Outline
from briefing.speech.spoken import spoken_form
from briefing.take.align import Chunk, Match
from briefing.take.words import EMPTY, Token, text_tokens

# So much of what carries a line has to be there, in so many tokens for each word that carries it. Our choice, tried on takes with
# lines dropped: what is near by chance is rarely more than half of a card phrase.
CARRIED, TOKENS_A_WORD, LEAST_TOKENS = 0.75, 3, 8
# Between two movements a word may stand for another one. Endings are off; the first of a row stands for all.
_SAME = (
    ("pain", "hurt", "ache", "sore", "hurting", "painful"),
    ("stop", "quit", "finish"),
    ("call", "phone", "ring", "dial"),
    ("dizzy", "faint", "lightheaded", "giddy", "woozy"),
    ("floor", "ground"),
    ("write", "note", "log", "jot"),
    ("repetition", "rep"),
    ("weight", "load"),
    ("clear", "free", "empty"),
    ("chair", "seat", "stool"),
    ("ceil", "roof"),
    ("walk", "stroll"),
    ("slow", "easy"),
    ("fetch", "grab", "get"),
    ("need", "want"),
    ("minute", "min"),
)
_ROOTS = {word: row[0] for row in _SAME for word in row}
# They join a card phrase and carry nothing of it.
_JOINS = frozenset({"without", "until", "when", "before", "each", "between", "per", "first", "all", "x", "alternat"})
_OWN_WORDS = frozenset({"promise", "workout"})


def find_terse(
    lines: Sequence[tuple[Line, int]],
    wanted: Sequence[Sequence[Token]],
    outline: Outline,
    heard: tuple[Sequence[Token], Sequence[Chunk]],
    matches: Mapping[int, Match],
    names: Mapping[str, str],
) -> list[Match]:
    """Find must-say lines that were said tersely: three quarters of the words of their card phrase, in one short stretch.

    A line of a movement is looked for where its movement is taught, what is said of the workout before the first movement, the
    signs to stop everywhere. A card phrase of a single word says too little; a movement's name counts where it is taught.
    """
    tokens, chunks = heard
    out = []
    spans = {n: _zone(n, lines, chunks, matches) for n in range(len(outline.segments))}
    first_movement = min((n for n, s in enumerate(outline.segments) if s.movement), default=len(outline.segments))
    chunk_of = {at: n for n, c in enumerate(chunks) for at in range(c.first, c.last + 1)}
    all_roots = [_root(t.text) for t in tokens]
    roots = list(all_roots)
    for index, match in matches.items():
        # What a line says that was found here is that line's, and tells nothing of another one.
        own = {_root(t.text) for t in wanted[index]}
        for at in range(chunks[match.first].first, chunks[match.last].last + 1):
            roots[at] = "" if roots[at] in own else roots[at]
    for index, (line, number) in enumerate(lines):
        if not line.must or index in matches:
            continue
        carrying = _carrying(line, names)
        segment = outline.segments[number]
        start, end = spans[number]
        if segment.kind == "stop":
            start, end = 0, len(tokens)
        elif segment.kind in _OWN_WORDS:
            start, end = 0, spans[first_movement][1] if first_movement < len(outline.segments) else len(tokens)
        elif not segment.movement:
            continue
        titled = line.id == "promise/promise"
        alone = line.kind == "what" and bool(segment.movement)
        if len(carrying) < (1 if alone or titled or line.id == "promise/kit" else 2):
            continue
        found = _stretch(carrying, (all_roots if titled else roots)[start:end])
        if found is None:
            continue
        first, last = found[0] + start, found[1] + start
        taught = any(m for i, m in matches.items() if lines[i][1] == number)
        if segment.movement and not taught and not _named_last(tokens, first, last, segment.movement):
            continue
        out.append(Match(line=index, first=chunk_of[first], last=chunk_of[last], share=CARRIED))
    return out


def _carrying(line: Line, names: Mapping[str, str]) -> frozenset[str]:
    """Give the words that carry a line, endings off; of a line of work or an option what is done, without how it is shared."""
    card = line.card.partition(" · ")[0] if line.kind in {"option", "work"} else line.card
    return frozenset(
        root
        for t in text_tokens(spoken_form(card), names)
        # "a dumbbell, just the one" is one dumbbell.
        if t.text not in EMPTY | _JOINS
        and not (line.id == "promise/kit" and t.text == "1")
        and (root := _root(t.text)) not in _JOINS
    )


def _root(text: str) -> str:
    if text[0] in "@0123456789":
        return text
    if text.endswith("ly") and len(text) > 5:
        text = text[:-2]
    if text.endswith("er") and len(text) > 5:
        text = text[:-2]
    return _ROOTS.get(text, text)


def _zone(
    number: int, lines: Sequence[tuple[Line, int]], chunks: Sequence[Chunk], matches: Mapping[int, Match]
) -> tuple[int, int]:
    """Give the tokens between the last line of an earlier segment that was said and the first one of a later segment."""
    before = [chunks[m.last].last + 1 for i, m in matches.items() if lines[i][1] < number and not m.moved]
    after = [chunks[m.first].first for i, m in matches.items() if lines[i][1] > number and not m.moved]
    return max(before, default=0), min(after, default=chunks[-1].last + 1 if chunks else 0)


def _stretch(wanted: frozenset[str], roots: Sequence[str]) -> tuple[int, int] | None:
    """Give the first stretch, short enough, that holds enough of the wanted words."""
    needed = max(math.ceil(CARRIED * len(wanted)), min(2, len(wanted)))
    longest = max(LEAST_TOKENS, TOKENS_A_WORD * len(wanted))
    hits = [at for at, r in enumerate(roots) if r in wanted]
    for order, first in enumerate(hits):
        seen: set[str] = set()
        for last in hits[order:]:
            if last - first >= longest:
                break
            seen.add(roots[last])
            if len(seen) >= needed:
                return first, last
    return None


def _named_last(tokens: Sequence[Token], first: int, last: int, slug: str) -> bool:
    """Say whether the movement named last before the end of a stretch is this one."""
    return next((t.text == f"@{slug}" for t in reversed(tokens[: last + 1]) if t.text[0] == "@"), False) or any(
        t.text == f"@{slug}" for t in tokens[first : last + 1]
    )
