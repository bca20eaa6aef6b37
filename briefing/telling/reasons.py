"""Words for why somebody takes another version."""

from __future__ import annotations

import re

from briefing.library.models import Movement, kit_word
from briefing.library.names import plural_of
from briefing.telling.sentences import upper_first

# Body areas that can complain, with their verb: two of them share it ("your knees or ankles complain").
AREA_SAID: dict[str, str] = {
    "knee": "knees",
    "hip": "hips",
    "low back": "low back",
    "shoulder": "shoulders",
    "elbow": "elbows",
    "wrist": "wrists",
    "neck": "neck",
    "ankle": "ankles",
}


# What any other reason becomes after "If". A test holds that no reason of the fixed list is missing in both.
REASON_SAID: dict[str, str] = {
    "grip": "your grip gives out",
    "pelvic floor": "you feel pressure on your pelvic floor",
    "new to it": "this is new to you",
    "tired today": "you are tired today",
    "no impact": "you want no impact",
    "quiet": "you have to be quiet",
    "small room": "you have little room",
    "low ceiling": "your ceiling is low",
    "wet ground": "the ground is wet",
    "no kit": "you have no weight",
    "one weight only": "you have one weight only",
    "too light": "it is too light",
    "too heavy": "it is too heavy",
    "lying down or head low bothers you": "lying down or a low head bothers you",
    "pregnant or after birth": "you are pregnant or have given birth lately",
}


# More than two reasons in one sentence are not heard.
SAID_REASONS = 2


def why_words(
    reasons: tuple[str, ...],
    written: tuple[str, ...] = (),
    movement: Movement | None = None,
    *,
    still: bool = False,
) -> str:
    """Say why somebody takes an option: "If your knees complain or this is new to you," or "No step?"; at most two reasons.

    "No room" on a run is asked as "No room to run?". Without a reason it is "Or". `still` says it of what a smaller change
    has not helped: "If your knees still complain,".
    """
    asked = next((w for w in written if w.startswith("no ")), None)
    if asked:
        room = (
            movement is not None and asked in {"no room", "no space"} and movement.pattern in {"run", "carry", "lunge"}
        )
        verb = (
            {"run": "run", "carry": "walk", "lunge": "walk"}.get(movement.pattern or "", "")
            if movement and room
            else ""
        )
        return f"{upper_first(asked)} to {verb}?" if verb else f"{upper_first(asked)}?"
    item = movement.kit[0] if movement is not None and movement.kit else None
    kit = "weight" if item is None else plural_of(item.names[0]) if item.count > 1 else item.names[0]
    clauses = [c.replace("no weight", f"no {kit}") for c in _clauses(reasons[:SAID_REASONS])]
    if movement is not None and not has_load(movement):
        clauses = [_UNLOADED.get(c, c) for c in clauses]
    if still:
        clauses = [_STILL.sub(r"still \1", c, count=1) for c in clauses]
    # A clause that has two things itself begins anew: "If your knees complain, or if lying down or a low head bothers you,".
    joint = ", or if " if any(c.startswith("lying down") for c in clauses) else " or "
    return f"If {joint.join(clauses)}," if clauses else "Or:"


_STILL = re.compile(r"\b(complains?|gives|feel)\b")


# A plank or a run cannot be too light.
_UNLOADED = {"it is too light": "it is too easy", "it is too heavy": "it is too hard"}


def has_load(movement: Movement) -> bool:
    """Say whether a movement is done with a weight, so that it can be too light or too heavy."""
    return any(kit_word(name).weight for item in movement.kit for name in item.names)


def _clauses(reasons: tuple[str, ...]) -> list[str]:
    areas = [AREA_SAID[r] for r in reasons if r in AREA_SAID]
    clauses = [REASON_SAID[r] for r in reasons if r in REASON_SAID]
    if areas:
        one = len(areas) == 1 and areas[0] in {"low back", "neck"}
        mixed = len(areas) == 2 and bool({"low back", "neck"} & set(areas))
        clauses.insert(0, f"your {(' or your ' if mixed else ' or ').join(areas)} complain{'s' if one else ''}")
    return clauses
