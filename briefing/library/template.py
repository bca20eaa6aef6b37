"""A movement file to fill in: every field with its explanation, valid as it stands."""

from __future__ import annotations

import re
from typing import get_args

from briefing.library.models import AREAS, Circumstance, Pattern

_HEAD = """---
name: {name}
# Other names you write on a board, abbreviations too.
also: []
{builds_on}# One of: {patterns}.
# pattern: squat
# What it needs, with counts: [1 dumbbell or kettlebell], [2 dumbbells], [].
kit: []
# both (both sides together), alternating (one side a repetition, changing), each (all on one side, then the other).
sides: both
# What is counted, the usual first: reps, metres, seconds, calories.
counts: [reps]
# Any of: {areas}. An easier version has to answer each.
works_hard_on: []
# The floor it takes, and what goes overhead: none, reach, jump, reach and jump.
space: {{floor: 1 x 1 m, overhead: none}}
# standing, floor, hanging, seated.
position: standing
# The side it is best seen from: front, side, three-quarter.
camera: three-quarter
# Seconds for one repetition in a fresh set of ten. Without it, times are estimated.
# seconds_per_rep: {{brisk: 1.8, steady: 2.4, easy: 3.2}}
# pace_source: common practice
---

You … (one sentence that says what it is).

## Recap
One line for people who know it.

## Call-out
Chest up, stand tall

## Counts when
- **What makes it count** — You start …, and you finish ….

## Technique points
- **Two to five words** — The line you say, at most 22 words, about what to do. The most important one first.
- **The second point** — Three are enough, six are the most.
- **The third point** — Finish ….

## Build-up
1. **Without the weight** (2 reps, from the side, talked over) — Down in three counts, up in one.
2. **The whole of it** (3 reps, from the front, counted) — Now all of it.

## Common faults
- **What a coach sees** — you feel … → Do this instead.

## Regressions
- **The smallest change** (new to it) — Do … instead.

## Progressions
- **One step harder** (too light) — Stay … for a slow two.

## Safety
- **Clear floor** — Clear the floor around your feet before you start.
"""
_REASONS = "\n## Note\nNever spoken; delete it. Reasons for an easier version: {reasons}.\n"


def movement_template(name: str, builds_on: str | None = None) -> str:
    """Give the text of a new movement file; it reads without problems as it stands, so that only the words have to change."""
    return _HEAD.format(
        name=_as_yaml(name),
        builds_on=f"builds_on: {builds_on}\n" if builds_on else "",
        patterns=", ".join(get_args(Pattern)),
        areas=", ".join(AREAS),
    ) + _REASONS.format(reasons=", ".join((*AREAS, *get_args(Circumstance))))


def _as_yaml(name: str) -> str:
    """Write a name as the head of a file holds it: in quotes where YAML would take it for something else."""
    if re.fullmatch(r"\w[\w '/().+-]*", name) and name == name.strip():
        return name
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
