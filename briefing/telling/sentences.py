"""Sentences: their first letter, their joints, lists of things."""

from __future__ import annotations

import re

from briefing.speech.numbers import cardinal_words
from briefing.units import NUMBER_WORDS


def sentence(text: str) -> str:
    """Begin with a capital, and with a word where a number stood: `100 squats` is "One hundred squats"."""
    match = re.match(r"(\d[\d,]*)(?![\d.,:]*\d)(?=[\s-])", text)
    if match:
        text = cardinal_words(int(match[1].replace(",", ""))) + text[match.end() :]
    return upper_first(text)


def join_words(words: tuple[str, ...] | list[str], last: str = "and") -> str:
    """Join as in speech: `a, b and c`; where a piece holds a comma itself, semicolon-like pauses: `a, b, and c`."""
    if len(words) < 2:
        return "".join(words)
    comma = "," if any("," in w for w in words) else ""
    return ", ".join(words[:-1]) + f"{comma} {last} {words[-1]}"


def a_an(words: str) -> str:
    """Put the article that fits the sound: `a 200-meter run`, `an 80-meter carry`, `an eleven-meter crawl`."""
    head = words.lower()
    an = re.match(r"(?:(?!one\b|one-)[aeio]|u(?!ni|se)|8|11\b|18\b|11[,\-]|18[,\-])", head)
    return f"{'an' if an else 'a'} {words}"


def lower_first(text: str) -> str:
    """Lower the first letter of a sentence that goes on after a comma; "I", abbreviations and the names of peoples stay."""
    if re.match(r"(?:I\b|I'|[A-Z]{2}|[A-Z]-|Romanian\b|Russian\b)", text):
        return text
    return text[:1].lower() + text[1:]


def upper_first(text: str) -> str:
    """Raise the first letter."""
    return text[:1].upper() + text[1:]


# "Every minute", but "every one minute five".
_EVERY_ONE = re.compile(rf"\b([Ee]very|the) one (minute|second)\b(?! (?:{'|'.join(NUMBER_WORDS)})\b)")


def tidy(text: str) -> str:
    """Mend the joints: single blanks, no two stops, a capital after a full stop, "every minute" for "every one minute"."""
    text = re.sub(r"\s+", " ", text).strip()
    text = re.sub(r"([.!?])\s*\.", r"\1", text)
    text = re.sub(r"\s+([,.;:!?])", r"\1", text)
    text = _EVERY_ONE.sub(r"\1 \2", text)
    return re.sub(r"(^|[.!?]\s+)([a-z])", lambda m: m[1] + m[2].upper(), text)
