"""Takes made from outlines by a seeded generator: recognition errors, fillers, paraphrase, slips planted, lines dropped."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field

from briefing.outline.models import Line, Outline
from briefing.sources.text import Text
from briefing.speech.numbers import cardinal_words
from briefing.speech.spoken import spoken_form
from briefing.take.transcript import Cue, Transcript

FILLERS = ("um", "uh", "okay", "so", "right", "you know", "all right")
# Ways of saying the same that a coach slips into; the rest of a sentence stays.
OTHER_WORDS = (
    (r"\bstand tall\b", "get all the way up"),
    (r"\byour weight\b", "the load"),
    (r"\bpush\b", "press"),
    (r"\btake\b", "use"),
    (r"\bfinish\b", "end up"),
    (r"\bkeep\b", "hold"),
    (r"\bslowly\b", "nice and slow"),
    (r"\bhold\b", "keep"),
    (r"^if your\b", "and when your"),
    (r"\bcomplain\b", "act up"),
)


@dataclass(frozen=True)
class Planted:
    """A slip: the number that was said for which movement, from when to when its line is, whether its number can still be read.

    `heard` is whether every word of the wrong number stands in the transcript, letter by letter and in order. Where the recogniser
    lost or garbled one of them, the slip is no longer in the transcript, and nobody who reads it could find it: it is counted apart.
    """

    said: int
    movement: str
    start_ms: int
    end_ms: int
    heard: bool


@dataclass
class Made:
    """A take with what was done to it: the slips, the lines dropped."""

    transcript: Transcript
    words: str
    clean: str
    slips: list[Planted] = field(default_factory=list)
    dropped: list[str] = field(default_factory=list)


def make_take(
    outline: Outline, seed: int, *, error_rate: float = 0.0, slips: int = 0, drop: int = 0, paraphrase: float = 0.33
) -> Made:
    """Speak an outline as somebody would, with so many slips and dropped must-say lines, misheard at a word error rate."""
    rng = random.Random(seed)  # noqa: S311 - a seeded one is what a test wants
    lines = list(outline.lines)
    first = {x.movement: x.id for x in reversed(lines) if x.kind == "point"}
    droppable = [
        x
        for x in lines
        if x.must and x.kind in {"stop", "cap", "safety", "easier", "rest"} and x.id not in first.values()
    ]
    dropped = {x.id for x in rng.sample(droppable, min(drop, len(droppable)))}
    works = [x for x in lines if x.kind == "work" and x.figure and x.figure.number.isdigit()]
    wrong = {
        x.id: int(x.figure.number) + rng.choice((3, 5, 7))
        for x in rng.sample(works, min(slips, len(works)))
        if x.figure
    }
    made = Made(Transcript(file="take.vtt", cues=()), "", "", [], sorted(dropped))
    cues: list[Cue] = []
    at = 0
    clean: list[str] = []
    place = Text.of("x", "take.vtt").place(1)
    for line in lines:
        if line.id in dropped:
            continue
        said = _speak(line, rng, wrong, paraphrase)
        clean += said.split()
        heard = _mishear(said, rng, error_rate)
        took = 90 * len(said) // 2 + 300
        if line.id in wrong:
            number = wrong[line.id]
            assert _stands_in(number, said), said
            slug = line.id.rsplit("/", 1)[-1]
            made.slips.append(Planted(number, slug, at, at + took, _stands_in(number, heard)))
        for piece in re.findall(r"(?:\S+\s*){1,12}", heard):
            share = took * len(piece) // max(1, len(heard))
            cues.append(Cue(start_ms=at, end_ms=at + share, text=piece.strip(), place=place))
            at += share
        at += rng.randint(0, 900)
        if line.show and line.show.how == "counted" and line.show.reps and line.show.reps >= 3:
            counted = ", ".join(cardinal_words(n) for n in range(1, line.show.reps + 1))
            cues.append(Cue(start_ms=at, end_ms=at + 1500 * line.show.reps, text=counted, place=place))
            at += 1500 * line.show.reps
    made.transcript = Transcript(file="take.vtt", cues=tuple(cues))
    made.words = " ".join(c.text for c in cues)
    made.clean = " ".join(clean)
    return made


def _stands_in(number: int, text: str) -> bool:
    """Say whether the words of a number stand in a text, each as it is written, with at most two others in between."""
    words = [re.escape(w) for w in cardinal_words(number).split()]
    return re.search(r"\b" + r"(?:\W+\w+){0,2}?\W+".join(words) + r"\b", text, re.IGNORECASE) is not None


def _speak(line: Line, rng: random.Random, wrong: dict[str, int], paraphrase: float) -> str:
    text = spoken_form(line.text)
    if line.id in wrong and line.figure:
        right = cardinal_words(int(line.figure.number))
        text = re.sub(rf"\b{re.escape(right)}\b", cardinal_words(wrong[line.id]), text, count=1, flags=re.IGNORECASE)
    if rng.random() < paraphrase:
        for pattern, other in OTHER_WORDS:
            text = re.sub(pattern, other, text, flags=re.IGNORECASE)
    if rng.random() < 0.25:
        words = text.split()
        words.insert(rng.randrange(len(words)), rng.choice(FILLERS))
        text = " ".join(words)
    if rng.random() < 0.08:
        words = text.split()
        text = " ".join([*words[:3], *words])
    return text


def _mishear(text: str, rng: random.Random, error_rate: float) -> str:
    """Change words at a rate: two of five are left out, two are another letter off, one has a small word put behind it.

    Numbers and names are misheard as often as any other word.
    """
    out = []
    for word in text.split():
        if rng.random() >= error_rate:
            out.append(word)
            continue
        how = rng.random()
        if how < 0.4:
            continue
        if how < 0.8 and len(word) > 3:
            at = rng.randrange(1, len(word) - 1)
            out.append(word[:at] + rng.choice("aeioulrt") + word[at + 1 :])
        else:
            out += [word, rng.choice(("the", "and", "a"))]
    return " ".join(out).lower().replace(".", "").replace(",", "")
