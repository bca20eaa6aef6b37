"""Words of a take and of the plan in one form: numbers as values, movements by their slug, endings off."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rapidfuzz import fuzz

from briefing.library.models import Movement
from briefing.speech.numbers import VALUES
from briefing.take.counting import heard_number, read_number
from briefing.take.transcript import TimedWord

# Words that carry no meaning of their own here: they are everywhere, in what is said and in what was planned.
EMPTY = frozenset(
    [
        "a",
        "an",
        "the",
        "and",
        "or",
        "of",
        "in",
        "on",
        "at",
        "to",
        "it",
        "is",
        "are",
        "be",
        "you",
        "your",
        "i",
        "we",
        "this",
        "that",
        "with",
        "for",
        "from",
        "then",
        "so",
        "if",
        "as",
        "do",
        "not",
        "by",
        "up",
        "down",
        "out",
        "into",
        "its",
        "them",
        "they",
        "there",
        "here",
        "just",
        "now",
        "well",
        "okay",
        "um",
        "uh",
        "er",
        "like",
        "really",
        "going",
        "go",
        "get",
        "got",
        "have",
        "has",
        "will",
        "can",
        "could",
        "would",
        "let",
        "lets",
        "make",
        "take",
        "one's",
        "s",
        "t",
        "re",
        "ll",
        "ve",
        "m",
    ]
)
# A recogniser hears a movement's name a little off: so much alike (of 100) is taken for it. Our choice, tried on takes.
LIKE = 86


@dataclass(frozen=True, slots=True)
class Token:
    """One unit of meaning: a word without its ending, `@slug` for a movement, or a number with its value; with its time.

    `closes`: a sentence ends behind it. `cut`: a number that begins with a bare "hundred", whose first word may be lost.
    """

    text: str
    value: float | None
    start_ms: int
    end_ms: int
    at: int
    closes: bool = False
    cut: bool = False


def tokens_of(words: Sequence[TimedWord], names: Mapping[str, str]) -> tuple[Token, ...]:
    """Turn timed words into tokens; `names` gives the slug for each name in small letters (see `names_of`)."""
    plain = _without_fillers([(bare, w) for w in words for bare in _split(w.word)])
    bare = [p[0] for p in plain]
    longest = max((len(n.split()) for n in names), default=1)
    out: list[Token] = []
    index = 0
    while index < len(plain):
        number = read_number(bare, index)
        if number is not None:
            value, size = number
            first, last = plain[index][1], plain[index + size - 1][1]
            cut = heard_number(bare[index]) == "hundred" and bare[max(0, index - 1)] != "a"
            out.append(Token(f"{value:g}", value, first.start_ms, last.end_ms, len(out), _closes(last), cut))
            index += size
            continue
        slug, size = _name(plain, index, names, longest)
        first, last = plain[index][1], plain[index + size - 1][1]
        text = f"@{slug}" if slug else _stem(plain[index][0])
        if slug:
            _join_hundreds(out)
        out.append(Token(text, None, first.start_ms, last.end_ms, len(out), _closes(last)))
        index += size
    return tuple(out)


# Behind these a number stands alone: "in round one, twenty goblet squats".
_NUMBERED = frozenset({"round", "part", "set", "day", "video", "week", "number", "minute", "option"})


def _join_hundreds(out: list[Token]) -> None:
    """Join "one twenty" right before a movement: that is how people say a hundred and twenty."""
    if len(out) < 2 or (len(out) > 2 and out[-3].text in _NUMBERED):
        return
    first, second = out[-2], out[-1]
    if first.closes or first.value not in range(1, 10) or second.value not in range(10, 100):
        return
    value = (first.value or 0) * 100 + (second.value or 0)
    out[-2:] = [replace(first, text=f"{value:g}", value=value, end_ms=second.end_ms, closes=second.closes)]


def _without_fillers(plain: list[tuple[str, TimedWord]]) -> list[tuple[str, TimedWord]]:
    """Take out what people say while they think: it stands in the middle of numbers and names."""
    out: list[tuple[str, TimedWord]] = []
    index = 0
    while index < len(plain):
        pair = (plain[index][0], plain[index + 1][0]) if index + 1 < len(plain) else ("", "")
        if pair in {("all", "right"), ("you", "know")}:
            index += 2
        elif plain[index][0] in _FILLERS or _inside_number(plain, index):
            index += 1
        else:
            out.append(plain[index])
            index += 1
    return out


def _closes(word: TimedWord) -> bool:
    return word.word.rstrip("\"')”’")[-1:] in {".", "?", "!", "…"}


_FILLERS = frozenset({"um", "uh", "er", "okay", "ok", "hm"})
# What may stand in a number that is thought over, or that a recogniser put there: "one, the, hundred".
_HELD = frozenset({"the", "a", "and", "so", "right", "like"})


def _inside_number(plain: Sequence[tuple[str, TimedWord]], index: int) -> bool:
    """Say whether a small word stands inside a number: before "hundred", or behind it, and no mark says that it ends there.

    "One hundred, so twenty each" are two numbers; "one hundred so twenty-three" was thought over.
    """
    if plain[index][0] not in _HELD or not 0 < index < len(plain) - 1:
        return False
    before, after = heard_number(plain[index - 1][0]), heard_number(plain[index + 1][0])
    if plain[index - 1][1].word[-1] in ",.;:?!…":
        return False
    if after == "hundred":
        return 0 < VALUES.get(before, 0) < 10
    return before == "hundred" and plain[index][0] != "and" and after in VALUES


def read_back(tokens: Sequence[Token]) -> str:
    """Give tokens as words again, for a message."""
    return " ".join(t.text.removeprefix("@").replace("-", " ") for t in tokens)


def text_tokens(text: str, names: Mapping[str, str]) -> tuple[Token, ...]:
    """Turn a text without times into tokens."""
    return tokens_of([TimedWord(word=w, start_ms=0, end_ms=0) for w in text.split()], names)


def names_of(movements: Mapping[str, Movement]) -> dict[str, str]:
    """Give every name of the movements of a workout, singular and plural, in small letters without dashes, with its slug."""
    out: dict[str, str] = {}
    for slug, movement in movements.items():
        for name in (movement.name, movement.plural, *movement.also):
            bare = " ".join(_split(name.replace("-", " ")))
            if bare:
                out.setdefault(bare, slug)
                out.setdefault(bare + "s", slug)
    return out


def _split(word: str) -> list[str]:
    return re.findall(r"[0-9]+(?:[.,][0-9]+)?|[a-z]+", word.lower().replace("’", "'").replace("'", ""))


def _stem(word: str) -> str:
    endings = ("ing", "ed", "es", "s") if word.endswith(("sses", "xes", "zes", "ches", "shes")) else ("ing", "ed", "s")
    for ending in endings:
        if len(word) > len(ending) + 2 and word.endswith(ending):
            return word[: -len(ending)]
    return word


def _name(
    plain: Sequence[tuple[str, TimedWord]], index: int, names: Mapping[str, str], longest: int
) -> tuple[str | None, int]:
    """Find the longest movement name that begins here, exactly or nearly."""
    for size in range(min(longest, len(plain) - index), 0, -1):
        joined = " ".join(p[0] for p in plain[index : index + size])
        slug = names.get(joined)
        if slug is not None:
            return slug, size
    for size in range(min(longest, len(plain) - index), 0, -1):
        joined = " ".join(p[0] for p in plain[index : index + size])
        if len(joined) < 6 or joined.split()[-1] in EMPTY or joined.split()[0] in EMPTY:
            continue
        for name, slug in names.items():
            if (
                abs(len(name) - len(joined)) <= 3
                and name[0] == joined[0]
                and fuzz.ratio(name.replace(" ", ""), joined.replace(" ", "")) >= LIKE
            ):
                return slug, size
    return None, 1
