"""The least-cost cover of a line: which items it is made of, so that each character has exactly one owner."""

from __future__ import annotations

import heapq
import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from briefing.board.items import Item, items_at
from briefing.board.naming import NameRead, Naming
from briefing.board.tokens import Atom, Token, atoms_of, lex, plain
from briefing.board.vocabulary import BODY_WORDS, MANNERS, NEVER_CLAUSES, PREPOSITIONS, SMALL_WORDS

# What it costs to leave something unread: a word, a number, a sign. Dearer than any way to read it.
_WORD, _NUMBER, _SIGN = 4.5, 9.0, 2.0
# A movement right behind another one, with nothing in between: sooner one long name than two works.
_WORKS = frozenset({"work", "most", "sets_of", "work_side"})
_GLUED_BARE, _GLUED, _GLUED_CARRIED = 4.0, 0.6, 1.2
# Kit or a manner right in front of a movement is part of its name: another movement, sooner than a word beside it.
_STUCK = frozenset({"kit", "manner", "how_hard"})
_STUCK_COST = 4.0
# A number right in front of a movement is its amount.
_NUMBER_BEFORE = 3.0
# What belongs to the movement before it, so that a clause may follow.
_NEAR = frozenset(
    {
        "load",
        "side",
        "percent",
        "tempo",
        "effort",
        "pace",
        "how_hard",
        "note",
        "alternating",
        "two_numbers",
        "height",
        "close",
        "joiner",
    }
)
_AFTER_WORK = frozenset({"work", "near", "noted"})
# A remark that follows no movement.
_NOTE_ALONE = 2.5
# "… a weight in each hand": the side belongs to the remark before it.
_SIDE_OF_NOTE = 1.0
# "… deadlifts 2x24": sooner two of a weight than sets of nothing.
_GLUED_SETS = 1.5
# A phrase behind a work that begins with a small word ("to the corner", "with feet on a box") is a remark on how.
_NOTE = 1.0
_NOTE_WORD = 0.12
_ENDS_NOTE = frozenset(",;()[].>")


# The items taken so far, the last first.
_Trail: TypeAlias = "tuple[Item, _Trail] | None"


@dataclass(frozen=True, slots=True)
class Reading:
    """A line as it was read: its items in order, all of it covered; a `remark` item is what no rule took."""

    line: str
    items: tuple[Item, ...]
    cost: float


def cover(line: str, naming: Naming) -> Reading:
    """Give the least-cost reading of a line. Time is linear in the line's length: items have a longest length."""
    small = plain(line)
    atoms = atoms_of(small)
    if not atoms:
        return Reading(line, (), 0.0)
    alt = naming.slips(atoms)
    for index, word in alt.items():
        atom = atoms[index]
        if len(word) == len(atom.text):  # two letters swapped: every pattern may see the word that was meant
            small = small[: atom.start] + word + small[atom.end :]
    tokens: dict[int, list[Token]] = lex(small, alt)
    for token in naming.tokens(small, atoms, alt):
        tokens.setdefault(token.start, []).append(token)
    starts = sorted({a.start for a in atoms} | set(tokens))
    ends = sorted({a.end for a in atoms} | {t.end for ts in tokens.values() for t in ts})
    after: dict[int, int] = {}
    at = 0
    for end in ends:
        while at < len(starts) and starts[at] < end:
            at += 1
        after[end] = starts[at] if at < len(starts) else len(small)
    return Reading(line, _cheapest(small, atoms, tokens, after, starts[0]), 0.0)


def _cheapest(
    small: str, atoms: Sequence[Atom], tokens: Mapping[int, Sequence[Token]], after: Mapping[int, int], first: int
) -> tuple[Item, ...]:
    atom_at = {a.start: a for a in atoms}
    goal = len(small)
    known: dict[int, list[Item]] = {}
    number = itertools.count()
    queue: list[tuple[float, int, int, str, _Trail]] = [(0.0, 0, first, "start", None)]
    done: set[tuple[int, str]] = set()
    while queue:
        cost, _, at, last, trail = heapq.heappop(queue)
        if (at, last) in done:
            continue
        done.add((at, last))
        if at >= goal:
            out = []
            while trail is not None:
                item, trail = trail
                out.append(item)
            return _merged(tuple(reversed(out)))
        if at not in known:
            known[at] = items_at(at, tokens, after) + _free(small, at, tokens, atom_at)
        for item in known[at]:
            kind, extra = _behind(item, last, small)
            nxt = after.get(item.end, goal)
            if (nxt, kind) not in done:
                heapq.heappush(queue, (cost + item.cost + extra, next(number), nxt, kind, (item, trail)))
    return ()


def _is_with(atom_at: Mapping[int, Atom], at: int) -> bool:
    """Say whether a remark begins with "with": a number behind it counts things ("with 2 jerry cans")."""
    return atom_at[at].text in {"with", "holding", "using", "carrying"}


# Small words that join two movements.
_AND = frozenset({"and", "&", "plus", "n"})


def _behind(item: Item, last: str, small: str) -> tuple[str, float]:
    """Give what an item leaves behind it for the next one, and what it costs besides because of what stands before it."""
    if item.kind == "filler":
        return ("other" if small[item.start : item.end].strip() in _AND else last), 0.0
    if item.kind == "joiner":
        return ("near" if small[item.start] in ",-" and last in _AFTER_WORK else "other"), 0.0
    if item.kind in _WORKS:
        return "work", _work_behind(item, last)
    if item.kind in _STUCK:
        return ("near" if last in _AFTER_WORK and item.kind in _NEAR else "stuck"), 0.0
    if item.kind == "amount":
        return "amount", 0.0
    if item.kind == "note":
        return ("noted", 0.0) if last in _AFTER_WORK else ("other", _NOTE_ALONE)
    extra = _SIDE_OF_NOTE if item.kind == "side" and last == "noted" else 0.0
    return ("near" if last in _AFTER_WORK and item.kind in _NEAR else "other"), extra


def _work_behind(item: Item, last: str) -> float:
    name = name_of(item)
    if last == "stuck":
        return _STUCK_COST
    if last == "amount":
        return _NUMBER_BEFORE
    if last != "work":
        return 0.0
    named = item.get("n")
    first = named is not None and named.kind == "name" and named.start == item.start
    counted = item.get("a") is not None or item.get("s") is not None
    # A name right behind a name is more of the same name, whatever stands behind it.
    extra = _GLUED if counted and not first else _GLUED_BARE
    if name is None:
        return extra + (_GLUED_SETS if item.kind == "sets_of" else 0.0)
    return extra + (_GLUED_CARRIED if name.slug is None else 0.0)


def _free(small: str, at: int, tokens: Mapping[int, Sequence[Token]], atom_at: Mapping[int, Atom]) -> list[Item]:
    """Give what is no rule of the table: a remark of one atom, a note behind a movement, and lines that say all that follows."""
    out = []
    atom = atom_at.get(at)
    if atom is not None:
        cost = _NUMBER if atom.text[0].isdigit() else _WORD if atom.text[0].isalpha() else _SIGN
        out.append(Item("remark", at, atom.end, {}, cost))
        if atom.text in PREPOSITIONS and atom.text not in _AND:
            out += _notes(at, atom_at)
        elif small[:at].rstrip().endswith((",", " -")):
            out += [n for n in _notes(at, atom_at, least=1) if _says_how(small[n.start : n.end])]
    for token in tokens.get(at, ()):
        if token.kind in {"score", "aim"}:
            out.append(
                Item(
                    token.kind,
                    at,
                    len(small),
                    {"what": Token("rest", token.end, len(small), None, 0.0)},
                    0.3 + (0.0 if at == 0 else 0.6),
                )
            )
    return out


# Words of a share ("in each hand") may stand inside a clause, not in front of it.
_SHARED = frozenset({"each", "per", "for", "into", "between"})


def _says_how(words: str) -> bool:
    """Say whether a clause behind a comma says how or where: it has a small word, or speaks of nothing but the body."""
    each = re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)*", words)
    small = [w for w in each if w in PREPOSITIONS or w in SMALL_WORDS]
    if each and (each[0] in NEVER_CLAUSES or any(w in NEVER_CLAUSES and w not in _SHARED for w in small)):
        return False
    return bool(small) or (bool(each) and all(w in BODY_WORDS or w in MANNERS for w in each))


def _notes(at: int, atom_at: Mapping[int, Atom], least: int = 2) -> list[Item]:
    """Give the remarks that can begin here: `to corner + bk`, `with feet on a box`, up to the next comma, bracket or number."""
    out = []
    for words, start in enumerate(sorted(s for s in atom_at if s >= at), 1):
        atom = atom_at[start]
        if atom.text in _ENDS_NOTE or words > 10:
            break
        if atom.text[0].isdigit() and not (words == 2 and _is_with(atom_at, at)):
            break
        if words >= least:
            out.append(Item("note", at, atom.end, {}, _NOTE + _NOTE_WORD * words))
    return out


def _merged(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Join remarks that follow one another into one."""
    out: list[Item] = []
    for item in items:
        if out and item.kind == "remark" and out[-1].kind == "remark":
            out[-1] = Item("remark", out[-1].start, item.end, {}, out[-1].cost + item.cost)
        else:
            out.append(item)
    return tuple(out)


def name_of(item: Item) -> NameRead | None:
    """Give the movement that an item names, None where it names none."""
    token = item.get("n")
    return token.value if token is not None and token.kind == "name" else None
