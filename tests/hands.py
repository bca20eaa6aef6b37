"""Boards in twelve handwritings: a workout that is known, written as somebody would write it, with a slip now and then.

`python -m tests.hands 10000` writes and reads that many and prints those that come back as another workout.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from briefing.board.models import Part
from briefing.board.reading import read_lines
from briefing.library.finding import Library
from briefing.sources.folders import built_in
from briefing.sources.text import Text

# A movement, how it may be called, and whether it takes a load. Common practice, no source.
MOVEMENTS: tuple[tuple[str, tuple[str, ...], bool], ...] = (
    ("kettlebell-swing", ("KB swings", "kettlebell swings", "KBS", "russian swings"), True),
    ("goblet-squat", ("goblet squats", "gob squats", "goblet sq"), True),
    ("burpee", ("burpees", "full burpees"), False),
    ("push-up", ("push-ups", "push ups", "pushups", "press-ups"), False),
    ("sit-up", ("sit-ups", "sit ups", "situps"), False),
    ("air-squat", ("air squats", "bodyweight squats", "air sq"), False),
    ("box-jump", ("box jumps", "box jump"), False),
    ("pull-up", ("pull-ups", "pull ups", "pullups"), False),
    ("dumbbell-thruster", ("DB thrusters", "dumbbell thrusters"), True),
    ("toes-to-bar", ("toes-to-bar", "T2B", "toes to bar"), False),
    ("dumbbell-push-press", ("DB push press", "dumbbell push presses"), True),
    ("ring-row", ("ring rows", "inverted rows"), False),
)
SLIP = 1 / 40
"""One word in forty has a slip of the hand."""


@dataclass(frozen=True)
class Line:
    """One line of work: the movement, how often by round, and its load in kilos."""

    slug: str
    numbers: tuple[int, ...]
    kg: float | None


@dataclass(frozen=True)
class Known:
    """A workout that is known: its form, rounds, clock in seconds, lines."""

    form: str
    rounds: int | None
    clock_s: int | None
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Hand:
    """A handwriting: capitals, bullets, joiner between lines, how a time and a load are written, which side the number is on."""

    letters: Callable[[str], str]
    bullet: str
    joiner: str
    clock: Callable[[int], str]
    load: Callable[[float], str]
    number_behind: bool = False
    one_line: bool = False
    colon: str = ""


def _plain(words: str) -> str:
    return words


def _minutes(s: int) -> str:
    return f"{s // 60}:{s % 60:02d}"


HANDS: tuple[Hand, ...] = (
    Hand(_plain, "", "\n", _minutes, lambda kg: f"@ {kg:g} kg"),
    Hand(str.upper, "", "\n", lambda s: f"{s // 60}'" if s % 60 == 0 else _minutes(s), lambda kg: f"{kg:g}KG"),
    Hand(str.lower, "- ", "\n", lambda s: f"{s // 60} min" if s % 60 == 0 else _minutes(s), lambda kg: f"@{kg:g}kg"),
    Hand(_plain, "• ", "\n", _minutes, lambda kg: f"({kg:g}kg)"),
    Hand(_plain, "", ", ", lambda s: f"{s // 60}min" if s % 60 == 0 else _minutes(s), lambda kg: f"@ {kg:g} kg", one_line=True, colon=":"),
    Hand(_plain, "", " / ", _minutes, lambda kg: f"{kg:g}kg", one_line=True),
    Hand(str.lower, "", "\n", lambda s: f"{s // 60} mins" if s % 60 == 0 else _minutes(s), lambda kg: f"at {kg:g} kg", number_behind=True),
    Hand(_plain, "* ", "\n", _minutes, lambda kg: f"@ {kg:g}", colon=":"),
    Hand(str.upper, "", " + ", lambda s: f"{s // 60}'" if s % 60 == 0 else _minutes(s), lambda kg: f"@ {kg:g} KG", one_line=True, colon=":"),
    Hand(_plain, "  ", "\n", lambda s: f"{s // 60} minutes" if s % 60 == 0 else _minutes(s), lambda kg: f"{str(kg).replace('.', ',').removesuffix(',0')} kg"),
    Hand(str.title, "", "\n", _minutes, lambda kg: f"@ {kg:g} kg", colon=" -"),
    Hand(_plain, "- ", "\n", lambda s: f"{s // 60}m" if s % 60 == 0 else _minutes(s), lambda kg: f"w/ {kg:g}kg"),
)  # fmt: skip


def make(rng: random.Random) -> Known:
    """Make a workout that is known."""
    form = rng.choice(["rounds", "amrap", "emom", "every", "numbers", "chipper", "intervals"])
    count = rng.randint(2, 4)
    chosen = rng.sample(MOVEMENTS, count)
    rounds: int | None = rng.randint(2, 6)
    clock: int | None = 60 * rng.randint(8, 25)
    if form == "numbers":
        numbers = rng.choice([(21, 15, 9), (18, 12, 6), (10, 8, 6, 4, 2), (30, 20, 10)])
        return Known(form, len(numbers), clock, tuple(_line(rng, m, numbers) for m in chosen))
    if form == "amrap":
        rounds = None
    elif form == "chipper":
        rounds = 1
    elif form == "emom":
        clock = 60 * (rounds or 1) * count
    elif form == "every":
        clock = rng.choice([90, 120, 150, 180]) * (rounds or 1)
    elif form == "intervals":
        return Known(form, rounds, None, tuple(Line(m[0], (), None) for m in chosen))
    return Known(form, rounds, clock, tuple(_line(rng, m, (rng.randint(3, 30),)) for m in chosen))


def _line(rng: random.Random, movement: tuple[str, tuple[str, ...], bool], numbers: tuple[int, ...]) -> Line:
    return Line(movement[0], numbers, rng.choice([None, 12.5, 16.0, 24.0]) if movement[2] else None)


def write(known: Known, hand: Hand, rng: random.Random) -> str:
    """Write a workout in a handwriting."""
    works = [_work(line, known, hand, rng) for line in known.lines]
    if known.form == "emom":
        works = [f"{n}) {w}" for n, w in enumerate(works, 1)]
    head = _head(known, hand, rng)
    if hand.one_line and known.form not in {"emom", "intervals"}:
        return hand.letters(head + (hand.colon or ":") + " ") + hand.joiner.join(works)
    bullet = "" if known.form == "emom" else hand.bullet
    return hand.letters(head + hand.colon) + "\n" + "\n".join(bullet + w for w in works)


def _head(known: Known, hand: Hand, rng: random.Random) -> str:
    clock = hand.clock(known.clock_s or 0)
    match known.form:
        case "rounds":
            cap = rng.choice([f", cap {clock}", f" TC {clock}", f", {clock} cap"])
            return (
                rng.choice([f"{known.rounds} rounds for time", f"{known.rounds}RFT", f"{known.rounds} rds for time"])
                + cap
            )
        case "amrap":
            return rng.choice([f"AMRAP {clock}", f"{clock} AMRAP", f"AMRAP in {clock}"])
        case "emom":
            return f"EMOM {(known.clock_s or 0) // 60}"
        case "every":
            return f"Every {_minutes((known.clock_s or 0) // (known.rounds or 1))} x {known.rounds}"
        case "numbers":
            return "-".join(map(str, known.lines[0].numbers)) + f" for time, cap {clock}"
        case "intervals":
            return rng.choice(
                [
                    f"40/20 x {known.rounds} rounds",
                    f"40s on 20s off x {known.rounds}",
                    f"0:40 on / 0:20 off, {known.rounds} rounds",
                ]
            )
        case _:
            return f"For time, cap {clock}"


def _work(line: Line, known: Known, hand: Hand, rng: random.Random) -> str:
    names = next(m[1] for m in MOVEMENTS if m[0] == line.slug)
    name = " ".join(_slip(w, rng) for w in rng.choice(names).split())
    load = f" {hand.load(line.kg)}" if line.kg is not None else ""
    number = "" if known.form in {"numbers", "intervals"} else str(line.numbers[0])
    words = f"{name} {number}" if hand.number_behind else f"{number} {name}"
    return hand.letters(words.strip()) + load


def _slip(word: str, rng: random.Random) -> str:
    """Swap two letters of a word that is long enough to be known again."""
    if len(word) < 6 or not word.isalpha() or rng.random() > SLIP:
        return word
    at = rng.randint(1, len(word) - 3)
    return word[:at] + word[at + 1] + word[at] + word[at + 2 :]


def differs(known: Known, text: str, library: Library) -> str | None:
    """Read a board and say where it is another workout; None where it is the one that was written."""
    reading = read_lines(Text.of(text, "board.md"), 1, library, "x")
    if reading.workout is None or len(reading.workout.parts) != 1:
        return "not one part: " + "; ".join(p.message for p in reading.problems)
    part = reading.workout.parts[0]
    got = tuple(Line(w.movement, w.amount.by_round, w.loads[0].kg if w.loads else None) for w in part.works)
    if got != known.lines:
        return f"{got} for {known.lines}"
    clock = _clock(part)
    if known.clock_s is not None and clock != known.clock_s:
        return f"clock {clock} for {known.clock_s}"
    return None


def _clock(part: Part) -> int | None:
    return part.clock_s


def boards(seed: int, count: int) -> list[tuple[Known, str]]:
    """Give so many boards, each with the workout that it is."""
    rng = random.Random(seed)  # noqa: S311 - made boards, no secret
    out = []
    for n in range(count):
        known = make(rng)
        out.append((known, write(known, HANDS[n % len(HANDS)], rng)))
    return out


if __name__ == "__main__":
    LIBRARY = Library((built_in("movements"),), Path(built_in("movements")))
    COUNT = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    WRONG = [(t, why) for k, t in boards(7, COUNT) if (why := differs(k, t, LIBRARY)) is not None]
    for board, reason in WRONG[:10]:
        print(board, "\n   ", reason, "\n")
    print(f"{COUNT - len(WRONG)} of {COUNT} read as written")
