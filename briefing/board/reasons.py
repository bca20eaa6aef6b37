"""Why somebody takes another version, in the words of a board; and what a number behind a box is."""

from __future__ import annotations

import re

from briefing.library.models import KIT, REASONS, Movement
from briefing.library.names import plural_of

# Other spellings of the reasons for an option, as coaches write them on a board.
REASON_WORDS: dict[str, str] = {
    "no room": "small room",
    "no space": "small room",
    "small space": "small room",
    "indoors": "small room",
    "apartment": "quiet",
    "neighbours": "quiet",
    "neighbors": "quiet",
    "no noise": "quiet",
    "no jumping": "no impact",
    "no jumps": "no impact",
    "low impact": "no impact",
    "beginner": "new to it",
    "beginners": "new to it",
    "new": "new to it",
    "tired": "tired today",
    "back": "low back",
    "bad back": "low back",
    "knees": "knee",
    "bad knees": "knee",
    "sore knees": "knee",
    "hips": "hip",
    "shoulders": "shoulder",
    "bad shoulder": "shoulder",
    "wrists": "wrist",
    "elbows": "elbow",
    "ankles": "ankle",
    "pregnant": "pregnant or after birth",
    "wet": "wet ground",
    "rain": "wet ground",
    "lighter": "too heavy",
}
# What coaches call kit in a reason ("no bar"), beside the words of the kit list.
KIT_SHORT = frozenset({"db", "dbs", "kb", "kbs", "bb", "weight", "weights", "machine", "kit", "equipment"})
# Our choice: a box is 30 inches high at the most, so a larger number is centimetres.
HIGHEST_IN = 30


def reason_of(words: str) -> str | None:
    """Give the reason of the fixed list that some words mean, None where they mean none."""
    bare = re.sub(r"^(?:if |for )?(?:you have |there is |there's |your |a )?", "", words.strip().lower())
    if bare in REASONS or bare in REASON_WORDS:
        return REASON_WORDS.get(bare, bare)
    # "no step", "no dumbbells", "no bar": kit that is not there, by its whole name or by the last word of it.
    missing = bare.removeprefix("no ")
    known = {form for k in KIT for name in (k, k.split()[-1]) for form in (name, plural_of(name))}
    return "no kit" if bare.startswith("no ") and missing in known | KIT_SHORT else None


def reasons_of(words: str) -> tuple[tuple[str, ...], tuple[str, ...]] | None:
    """Give the reasons in brackets, and their words as written; None where a piece of them is no reason."""
    pieces = [p.strip() for p in re.split(r"[,;/]| or | and ", words) if p.strip()]
    found = [reason_of(p) for p in pieces]
    if not pieces or not all(found):
        return None
    return tuple(dict.fromkeys(r for r in found if r)), tuple(p.lower() for p in pieces)


def height_of(words: str, movement: Movement) -> str:
    """Read `24/20` behind a box jump as the height of the box, in inches; above 30 it is centimetres. Common practice."""
    match = re.fullmatch(r"\s*@?\s*(\d{1,3})(?:\s*/\s*(\d{1,3}))?\s*(in|inch(?:es)?|cm|\"|'')?\s*", words)
    if match is None or not any("box" in k.names for k in movement.kit):
        return words.strip()
    metric = (match[3] or "").lower() == "cm" or (not match[3] and int(match[1]) > HIGHEST_IN)
    heights = " or ".join(h for h in (match[1], match[2]) if h)
    return f"the box {heights} {'centimeters' if metric else 'inches'} high"
