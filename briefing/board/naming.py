"""Names of movements on a line: known ones with their modifiers, slips of the hand, and names that no file has."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from rapidfuzz import process
from rapidfuzz.distance import OSA

from briefing.board.modifiers import MODIFIERS, Modifier
from briefing.board.tokens import Atom, Token
from briefing.board.vocabulary import MANNERS, NUMBERS_IN_WORDS, PHRASES, PREPOSITIONS, UNIT_SPELLINGS, VENUES
from briefing.library.finding import Library
from briefing.library.models import KIT
from briefing.library.names import SHORT, name_key

# Our choice: a name on a board has no more words than this.
MOST_WORDS = 8
MOST_CARRIED = 5
# Words of the trade that are no slip of another one, though no file may have them.
_OF_THE_TRADE = frozenset(
    [
        "curl",
        "curls",
        "crunch",
        "crunches",
        "clam",
        "clams",
        "clamshell",
        "sled",
        "ski",
        "skis",
        "skierg",
        "tyre",
        "tyres",
        "tire",
        "tires",
        "flip",
        "flips",
        "battle",
        "rope",
        "ropes",
        "halo",
        "halos",
        "pull",
        "pulls",
        "push",
        "drag",
        "drags",
        "swim",
        "swims",
        "sprint",
        "sprints",
        "skip",
        "skips",
        "hop",
        "hops",
        "hold",
        "holds",
        "kick",
        "kicks",
        "tap",
        "taps",
        "raise",
        "raises",
        "fly",
        "flies",
        "dip",
        "dips",
        "roll",
        "rolls",
        "chop",
        "chops",
        "press",
        "presses",
        "jack",
        "jacks",
        "bound",
        "bounds",
        "stretch",
        "stretches",
        "cobra",
        "pigeon",
        "bridge",
        "pose",
        "twist",
        "twists",
        "reach",
        "reaches",
        "walk",
        "walks",
        "crawl",
        "crawls",
        "step",
        "steps",
        "jerk",
        "jerks",
        "snatch",
        "clean",
        "cleans",
        "pistol",
        "pistols",
        "muscle",
        "landmine",
        "stir",
        "pot",
        "sandbag",
        "yoke",
        "atlas",
        "stone",
        "log",
        "axle",
        "keg",
        "hammer",
        "sledge",
        "ladder",
        "agility",
        "cone",
        "cones",
        "hurdle",
        "hurdles",
        "prowler",
        "assault",
        "echo",
        "spin",
        "elliptical",
        "treadmill",
        "stairs",
        "hill",
        "lap",
        "laps",
        "length",
        "lengths",
        "heel",
        "toe",
        "bird",
        "bug",
        "frog",
        "duck",
        "bear",
        "crab",
        "seal",
        "worm",
        "monkey",
        "donkey",
        "fire",
        "hydrant",
        "scorpion",
        "cat",
        "cow",
        "child",
        "dog",
        "figure",
        "butterfly",
        "open",
        "book",
        "thread",
        "needle",
        "neck",
        "shoulder",
        "wrist",
        "ankle",
        "calf",
        "quad",
        "hip",
        "flexor",
        "glute",
        "hamstring",
        "chest",
        "lat",
        "triceps",
        "biceps",
        "face",
        "band",
        "bands",
        "ring",
        "rings",
        "bench",
        "floor",
        "wall",
        "chair",
        "box",
        "ball",
        "medicine",
        "wobble",
        "foam",
    ]
)
# Words that name a known movement and a manner at once.
_ALSO = {"sprint": ("run", "fast"), "sprints": ("run", "fast"), "stride": ("run", "fast"), "strides": ("run", "fast")}
# Names that begin with numbers: how the knees are bent.
_NUMBERED = re.compile(r"90/90(?:\s(?:hips?|stretch(?:es)?|switch(?:es)?|transitions?|rotations?|sits?))?(?![^\W\d_])")
# A name never has these words: they say how, how long or how often.
_NEVER_IN_NAMES = frozenset(
    [
        "easy",
        "hard",
        "slow",
        "fast",
        "light",
        "heavy",
        "steady",
        "moderate",
        "before",
        "after",
        "once",
        "rest",
        "for",
        "time",
        "rounds",
        "round",
        "rds",
        "rd",
        "sets",
        "set",
        "amrap",
        "emom",
        "every",
        "cap",
        "tc",
        "then",
        "or",
        "max",
        "between",
        "each",
        "ea",
        "per",
        "rpe",
        "tempo",
        "minute",
        "minutes",
        "mins",
        "sec",
        "secs",
        "seconds",
        "reps",
        "rep",
        "cal",
        "cals",
        "calories",
        "score",
        "aim",
        "goal",
        "target",
        "part",
        "buy",
        "cash",
        "finish",
        "rounds",
        "total",
        "unbroken",
        "until",
        "swap",
        "split",
        "partner",
        "partners",
        "pairs",
        "team",
        "teams",
        "station",
        "stations",
        "scale",
        "scaled",
        "please",
        "today",
        "everyone",
        "guys",
        "hi",
        "hello",
        "hey",
        "warm",
        "warmup",
        "cooldown",
        "kg",
        "kgs",
        "lb",
        "lbs",
        "off",
        "and",
        "plus",
        "x",
        "amraps",
        "superset",
        "complex",
        "alternating",
        "alternate",
        "needed",
        "remaining",
        "as",
        "is",
        "this",
        "that",
        "it",
        "we",
        "you",
        "your",
        "if",
        "when",
        "while",
        "hold",
        "on",
    ]
) - {"hold"}
_SHORT_WORD, _LONG_WORD = 5, 9


@dataclass(frozen=True, slots=True)
class NameRead:
    """A movement as a line names it: `slug` is None for one that no file has. `slip` is what a slip was taken for."""

    written: str
    slug: str | None
    modifiers: tuple[Modifier, ...] = ()
    slip: str | None = None


class Naming:
    """Finds names on plain lines; made once for a library."""

    def __init__(self, library: Library) -> None:
        self._keys = library.keys()
        spoken = library.spoken_names()
        words = {w for name in spoken for w in re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)*", name.lower())}
        begins = {name_key(re.split(r"[\s\-]", n.strip())[0]) for n in spoken} | set(SHORT) | {"one", "single", "1"}
        self._begins = frozenset(b[:n] for b in begins for n in (1, 2, 3))
        self._words = words | {name_key(w) for w in words}
        phrase_words = {w for p in PHRASES for w in re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)*", p)}
        modifier_words = {w for m in MODIFIERS for p in m.words for w in re.findall(r"[^\W\d_]+", p)}
        kit_words = {w for k in KIT for w in k.split()} | {f"{w}s" for k in KIT for w in k.split()}
        self._plain = frozenset(
            phrase_words | modifier_words | kit_words | MANNERS | PREPOSITIONS | set(SHORT) | set(UNIT_SPELLINGS)
            | {"right", "left"} | set(NUMBERS_IN_WORDS) | set(VENUES) | _OF_THE_TRADE | _NEVER_IN_NAMES
        )  # fmt: skip
        candidates = {w for w in self._words | self._plain if len(w) >= 4 and w.isalpha()}
        candidates |= {k for k in self._keys if 6 <= len(k) <= 14 and k.isalpha()}
        candidates |= {f"{w}s" for w in words if len(w) >= 4}
        self._candidates = sorted(candidates)
        self._front: dict[str, list[Modifier]] = {}
        self._behind: dict[str, list[Modifier]] = {}
        for m in MODIFIERS:
            for phrase in m.words:
                (self._behind if m.behind else self._front).setdefault(phrase, []).append(m)
        self._slips: dict[str, str | None] = {}
        self.library = library

    # --- slips of the hand ------------------------------------------------------------------------------------------

    def slips(self, atoms: list[Atom]) -> dict[int, str]:
        """Give the word that each misspelt atom is taken for, by the index of the atom."""
        out = {}
        for index, atom in enumerate(atoms):
            if len(atom.text) < 4 or not atom.text.replace("'", "").isalpha():
                continue
            word = self._meant(atom.text)
            if word is not None:
                out[index] = word
        return out

    def _meant(self, word: str) -> str | None:
        if word not in self._slips:
            self._slips[word] = self._nearest(word)
        return self._slips[word]

    def _nearest(self, word: str) -> str | None:
        if word in self._plain or word in self._words or word.rstrip("s") in self._plain:
            return None
        key = name_key(word)
        if key in self._keys or key in self._words:
            return None
        far = 1 if len(word) <= 7 else 2
        hits = process.extract(word, self._candidates, scorer=OSA.distance, score_cutoff=far, limit=4)
        hits = [h for h in hits if _likely_slip(word, h[0])]
        if not hits:
            return None
        best = min(h[1] for h in hits)
        near = sorted(
            {name_key(h[0]): h[0] for h in hits if h[1] == best}.values(),
            key=lambda w: (w[0] != word[0], abs(len(w) - len(word)), w),
        )
        return str(near[0])

    # --- names ------------------------------------------------------------------------------------------------------

    def tokens(self, line: str, atoms: list[Atom], alt: dict[int, str]) -> Iterator[Token]:
        """Give every name that a plain line can hold, known ones at no cost, carried ones dearer."""
        for index, atom in enumerate(atoms):
            before = atoms[index - 1] if index else None
            glued = before is not None and before.end == atom.start and before.text.isalnum()
            if before is not None and glued and not (before.text.isdigit() and atom.text.isalpha()):
                continue
            numbered = _NUMBERED.match(line, atom.start)
            if numbered:
                yield Token("name", atom.start, numbered.end(), NameRead(numbered[0], None), 0.3)
            if not (atom.text[0].isalpha() or atom.text == "1"):
                continue
            known_to = 0
            for token in self._known(line, atoms, index, alt):
                known_to = max(known_to, token.end)
                yield token
            also = _ALSO.get(alt.get(index, atom.text))
            if also is not None and also[0] in self._keys:
                how = next(m for m in MODIFIERS if m.name == also[1])
                yield Token("name", atom.start, atom.end, NameRead(atom.text, self._keys[also[0]], (how,)), 0.1)
            if atom.text == "bench" and "bench" not in self._keys:
                yield Token("name", atom.start, atom.end, NameRead("bench press", None), 0.7)
            if atom.text[0].isalpha():
                yield from self._carried(line, atoms, index, known_to)

    def _known(self, line: str, atoms: list[Atom], index: int, alt: dict[int, str]) -> Iterator[Token]:
        start = atoms[index].start
        stack: list[tuple[int, tuple[Modifier, ...], float]] = [(index, (), 0.0)]
        seen = set()
        while stack:
            at, mods, cost = stack.pop()
            for end, slug, slipped in self._cores(line, atoms, at, alt):
                for stop, behind, extra in self._trailing(line, atoms, end, alt):
                    all_mods = (*mods, *behind)
                    if not self._go_with(all_mods, slug):
                        continue
                    key = (stop, slug, tuple(m.name for m in all_mods))
                    if key in seen:
                        continue
                    seen.add(key)
                    written = line[start : atoms[stop].end]
                    slip = (
                        " ".join(alt.get(i, atoms[i].text) for i in range(index, stop + 1))
                        if slipped or any(i in alt for i in range(index, stop + 1))
                        else None
                    )
                    yield Token(
                        "name",
                        start,
                        atoms[stop].end,
                        NameRead(written, slug, all_mods, slip),
                        cost + extra + (0.8 if slip else 0.0) + 0.05 * len(all_mods),
                    )
            if len(mods) < 3:
                for end, modifier, price in self._modifier(line, atoms, at, alt, self._front):
                    if end + 1 < len(atoms):
                        nxt = end + 2 if atoms[end + 1].text == "-" and end + 2 < len(atoms) else end + 1
                        stack.append((nxt, (*mods, modifier), cost + price))

    def _go_with(self, modifiers: tuple[Modifier, ...], slug: str) -> bool:
        """Say whether all modifiers can go with a movement; a pairing that cannot is a name of its own, and asked about."""
        if not any(m.goes_to for m in modifiers):
            return True
        movement = self.library.get(slug)
        return movement is None or all(not m.goes_to or movement.pattern in m.goes_to for m in modifiers)

    def _cores(self, line: str, atoms: list[Atom], at: int, alt: dict[int, str]) -> Iterator[tuple[int, str, bool]]:
        """Give the known names that begin with an atom: the last atom, the slug, whether a slip was mended."""
        first = alt.get(at, atoms[at].text)
        if (name_key(first) or first)[:3] not in self._begins and first[:3] not in self._begins:
            return
        text, slipped = "", False
        for end in range(at, min(len(atoms), at + MOST_WORDS + 3)):
            atom = atoms[end]
            gap = line[atoms[end - 1].end : atom.start] if end > at else ""
            if end > at and not _within(atom.text, gap, line, atom):
                return
            text += (" " if gap else "") + alt.get(end, atom.text)
            slipped = slipped or end in alt
            if not atom.text[-1].isalnum():
                continue
            nxt = atoms[end + 1] if end + 1 < len(atoms) else None
            if nxt is not None and nxt.start == atom.end and nxt.text[0].isalnum():
                continue  # inside a word such as t2b
            slug = self._keys.get(name_key(text))
            if slug is not None:
                yield end, slug, slipped

    def _modifier(
        self, line: str, atoms: list[Atom], at: int, alt: dict[int, str], table: dict[str, list[Modifier]]
    ) -> Iterator[tuple[int, Modifier, float]]:
        text = ""
        for end in range(at, min(len(atoms), at + 4)):
            atom = atoms[end]
            gap = line[atoms[end - 1].end : atom.start] if end > at else ""
            if end > at and not (gap in {"", " "} and (atom.text.isalnum() or atom.text in "-/")):
                return
            text += (
                " "
                if atom.text == "-"
                else ((" " if gap and text and text[-1] != " " else "") + alt.get(end, atom.text))
            )
            for modifier in table.get(text.strip(), ()):
                yield end, modifier, 0.15

    def _trailing(
        self, line: str, atoms: list[Atom], end: int, alt: dict[int, str]
    ) -> Iterator[tuple[int, tuple[Modifier, ...], float]]:
        yield end, (), 0.0
        if end + 1 < len(atoms):
            for stop, modifier, price in self._modifier(line, atoms, end + 1, alt, self._behind):
                yield stop, (modifier,), price

    def _carried(self, line: str, atoms: list[Atom], index: int, known_to: int) -> Iterator[Token]:
        """Give the names that no file has: a few words in a row, none of which says how or how long."""
        start = atoms[index].start
        words = 0
        for end in range(index, min(len(atoms), index + 2 * MOST_CARRIED)):
            atom = atoms[end]
            gap = line[atoms[end - 1].end : atom.start] if end > index else ""
            if end > index and len(gap) > 1:
                return
            if atom.text == "-":
                if gap or end + 1 >= len(atoms) or atoms[end + 1].start != atom.end:
                    return
                continue
            if (
                not atom.text.replace("'", "").isalpha()
                or atom.text in _NEVER_IN_NAMES
                or (atom.text in UNIT_SPELLINGS)
            ):
                return
            leads = (
                end == index
                and end + 1 < len(atoms)
                and atom.text in {"down", "up"}
                and atoms[end + 1].text in _OF_THE_TRADE
            )
            if (atom.text in PREPOSITIONS and end == index and not leads) or len(atom.text) > 24:
                return
            words += 1
            if words > MOST_CARRIED:
                return
            if (atom.text in PREPOSITIONS and not leads) or (words == 1 and len(atom.text) < 3):
                continue
            if atom.end == known_to and words == 1 and end == index:
                continue
            if words == 1 and (atom.text in MANNERS or (atom.text in self._plain and atom.text not in _OF_THE_TRADE)):
                continue
            yield Token("name", start, atom.end, NameRead(line[start : atom.end], None), 3.0 + 0.4 * words)


def _within(text: str, gap: str, line: str, atom: Atom) -> bool:
    """Say whether a name may go on with an atom: words and dashes; a sign only where it is glued or stands for "and"."""
    if len(gap) > 1:
        return False
    if text[0].isalpha() or text == "-":
        return True
    if text.isdigit():
        return not gap or line[atom.end : atom.end + 4].startswith(("-arm", "-leg", " arm", " leg"))
    return text in "&+'’./" and (text in "&+" or not gap)


def _likely_slip(word: str, meant: str) -> bool:
    """Say whether one word is likely a slip of another: short words only by a letter too many, too few, or two swapped."""
    if len(word) > _SHORT_WORD:
        return (
            word[0] == meant[0] or word[:2] == meant[1::-1] or word[1:] == meant or word == meant[1:] or len(word) > 6
        )
    if len(word) != len(meant):
        return word[0] == meant[0]
    return sorted(word) == sorted(meant)
