"""Words of a take and of the plan in one form: numbers as values, movements by their slug, endings off."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz

from briefing.library.models import Movement
from briefing.speech.numbers import VALUES
from briefing.take.transcript import TimedWord

_SMALL = {word: value for word, value in VALUES.items() if value < 20}
_TENS = {word: value for word, value in VALUES.items() if value >= 20}
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
    """One unit of meaning: a word without its ending, `@slug` for a movement, or a number with its value; with its time."""

    text: str
    value: float | None
    start_ms: int
    end_ms: int
    at: int


def tokens_of(words: Sequence[TimedWord], names: Mapping[str, str]) -> tuple[Token, ...]:
    """Turn timed words into tokens; `names` gives the slug for each name in small letters (see `names_of`)."""
    plain = _without_fillers([(bare, w) for w in words for bare in _split(w.word)])
    longest = max((len(n.split()) for n in names), default=1)
    out: list[Token] = []
    index = 0
    while index < len(plain):
        number = _number(plain, index)
        if number is not None:
            value, size = number
            first, last = plain[index][1], plain[index + size - 1][1]
            out.append(Token(f"{value:g}", value, first.start_ms, last.end_ms, len(out)))
            index += size
            continue
        slug, size = _name(plain, index, names, longest)
        first, last = plain[index][1], plain[index + size - 1][1]
        text = f"@{slug}" if slug else _stem(plain[index][0])
        out.append(Token(text, None, first.start_ms, last.end_ms, len(out)))
        index += size
    return tuple(out)


def _without_fillers(plain: list[tuple[str, TimedWord]]) -> list[tuple[str, TimedWord]]:
    """Take out what people say while they think: it stands in the middle of numbers and names."""
    out: list[tuple[str, TimedWord]] = []
    index = 0
    while index < len(plain):
        pair = (plain[index][0], plain[index + 1][0]) if index + 1 < len(plain) else ("", "")
        if pair in {("all", "right"), ("you", "know")}:
            index += 2
        elif plain[index][0] in {"um", "uh", "er", "okay", "ok", "hm"}:
            index += 1
        else:
            out.append(plain[index])
            index += 1
    return out


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
    return re.findall(r"\d+(?:[.,]\d+)?|[a-z]+", word.lower().replace("’", "'").replace("'", ""))


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


# Words that are like a number word and are none.
_NO_NUMBER = frozenset(
    [
        "fifth",
        "sixth",
        "seventh",
        "eighth",
        "ninth",
        "sever",
        "severe",
        "form",
        "tent",
        "ten's",
        "even",
        "lever",
        "forth",
        "thirst",
        "text",
    ]
)
_NUMBER_WORDS = (*_SMALL, *_TENS, "hundred")


@lru_cache(maxsize=4096)
def _heard(word: str) -> str:
    """Give the number word that a recogniser meant, the word itself where it is none: "twtnty" is twenty."""
    if word in _SMALL or word in _TENS or len(word) < 5 or word in _NO_NUMBER:
        return word
    best = max(_NUMBER_WORDS, key=lambda n: fuzz.ratio(n, word))
    return best if best[0] == word[0] and abs(len(best) - len(word)) <= 1 and fuzz.ratio(best, word) >= 80 else word


def _number(plain: Sequence[tuple[str, TimedWord]], index: int) -> tuple[float, int] | None:
    """Read a number in words or figures from here: `two hundred`, `one hundred and twenty`, `22.5`, `twenty two point five`."""
    word = plain[index][0]
    if word[0].isdigit():
        return float(word.replace(",", "") if re.fullmatch(r"\d{1,3},\d{3}", word) else word.replace(",", ".")), 1
    total, current, size, seen = 0, 0, 0, False
    last = ""
    for at in range(index, len(plain)):
        part = _heard(plain[at][0])
        following = plain[at + 1][0] if at + 1 < len(plain) else ""
        if last == "hundred" and following == "hundred":
            break
        if (
            part in _SMALL
            and (not seen or last in {"tens", "hundred", "and"})
            and not (last == "tens" and _SMALL[part] >= 10)
        ):
            current += _SMALL[part]
            last = "small"
        elif part in _TENS and (not seen or last in {"hundred", "and"}):
            current += _TENS[part]
            last = "tens"
        elif part == "hundred" and seen and last in {"small", "tens"}:
            current *= 100
            last = "hundred"
        elif part == "thousand" and seen:
            total, current, last = total + current * 1000, 0, "hundred"
        elif (
            part == "and"
            and last == "hundred"
            and at + 1 < len(plain)
            and (plain[at + 1][0] in _SMALL or plain[at + 1][0] in _TENS)
        ):
            last = "and"
        else:
            break
        seen, size = True, at - index + 1
    if not seen:
        return None
    value = float(total + current)
    if index + size + 1 < len(plain) and plain[index + size][0] == "point" and plain[index + size + 1][0] in _SMALL:
        return value + _SMALL[plain[index + size + 1][0]] / 10, size + 2
    return value, size
