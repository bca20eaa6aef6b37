"""Numbers as they are said: one reader for the take's review and for counted repetitions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from rapidfuzz import fuzz

from briefing.speech.numbers import VALUES

_SMALL = {word: value for word, value in VALUES.items() if value < 20}
_TENS = {word: value for word, value in VALUES.items() if value >= 20}
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
        "even",
        "lever",
        "forth",
        "thirst",
        "text",
        "hundreds",
    ]
)
_FIGURES = re.compile(r"[0-9]{1,15}(?:[.,][0-9]{1,6})?")
_THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}")
_NUMBER_WORDS = (*_SMALL, *_TENS, "hundred")


def read_number(words: Sequence[str], index: int) -> tuple[float, int] | None:
    """Read a number from here on: its value and how many words it takes; None where no number begins.

    Words are in small letters, without marks, `twenty-two` as two of them. `two hundred`, `a hundred and twenty` (from `hundred`
    on), `one hundred twenty`, `22.5`, `1,200`, `twenty two point five`; a number word that was misheard a little is read as well.
    A number that begins again is the next one: `one hundred twenty, one hundred twenty` is read up to the first `twenty`.
    """
    word = words[index]
    if _FIGURES.fullmatch(word):
        return float(word.replace(",", "") if _THOUSANDS.fullmatch(word) else word.replace(",", ".")), 1
    whole, part, at, last = 0, 0, index, ""
    while at < len(words):
        step = _step(words, at, last, part)
        if step is None:
            break
        part, last = step
        if last == "thousand":
            whole, part, last = whole + part * 1000, 0, "hundred"
        at += 1
    if not last:
        return None
    value = float(whole + part)
    if at + 1 < len(words) and words[at] == "point" and words[at + 1] in _SMALL:
        return value + _SMALL[words[at + 1]] / 10, at + 2 - index
    return value, at - index


def _step(words: Sequence[str], at: int, last: str, part: int) -> tuple[int, str] | None:
    """Take one word more into a number: what it comes to and which kind of word came last; None where it ends here."""
    word = heard_number(words[at])
    following = heard_number(words[at + 1]) if at + 1 < len(words) else ""
    begins = not last
    if word == "hundred":
        if begins:
            return 100, "hundred"
        return (part * 100, "hundred") if last == "small" and part < 20 else None
    if word == "thousand" and not begins:
        return part, "thousand"
    if word == "and" and last == "hundred" and (following in _SMALL or following in _TENS):
        return part, "and"
    # Behind "twenty", the one of "one hundred" belongs to the next number.
    if word in _SMALL and (
        begins or (following != "hundred" and (last != "tens" or _SMALL[word] < 10) and last != "small")
    ):
        return part + _SMALL[word], "small"
    if word in _TENS and last in {"", "hundred", "and"}:
        return part + _TENS[word], "tens"
    return None


@lru_cache(maxsize=4096)
def heard_number(word: str) -> str:
    """Give the number word that a recogniser meant, the word itself where it is none: "twtnty" is twenty."""
    if word in _SMALL or word in _TENS or len(word) < 5 or word in _NO_NUMBER:
        return word
    best = max(_NUMBER_WORDS, key=lambda n: fuzz.ratio(n, word))
    return best if best[0] == word[0] and abs(len(best) - len(word)) <= 1 and fuzz.ratio(best, word) >= 80 else word
