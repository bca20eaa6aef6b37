"""A movement file to fill in: every field with its explanation, and nothing in it that could be said by mistake.

What is left open stands as `…` in the head and as `[…]` below it. Each is an error until it is filled in or its line deleted.
"""

from __future__ import annotations

import re
from typing import get_args

from briefing.library.models import AREAS, Circumstance, Pattern, Risk

_HEAD = """---
name: {name}
# Other names you write on a board, abbreviations too.
also: []
# One of: {patterns}.
pattern: …
# What it needs, with counts: [1 dumbbell or kettlebell], [2 dumbbells], [] for nothing.
kit: […]
# What to do without a piece of kit, where what usually stands in would not do: {{box: jump on the floor}}, {{band: none}}.
# stand_ins: {{}}
# What can go wrong alone, any of: {risks}. Each asks for an entry test, the first for a way out under Safety.
# risks: []
# both (both sides together), alternating (one side a repetition, changing), each (all on one side, then the other).
sides: …
# What is counted, the usual first: reps, metres, seconds, calories.
counts: […]
# Any of: {areas}; the hardest worked first. An easier version has to answer each, with this kit or what is at home.
works_hard_on: […]
# The floor it takes, and what goes overhead: none, reach, jump, reach and jump.
space: {{floor: …, overhead: …}}
# standing, floor, hanging, seated.
position: …
# The side it is best seen from: front, side, three-quarter.
camera: …
# Seconds for one repetition in a fresh set of ten. Without it, times are estimated.
# seconds_per_rep: {{brisk: 1.8, steady: 2.4, easy: 3.2}}
# pace_source: common practice
---

[… one sentence that says what it is: You …]

## Recap
[… one line for people who know it]

## Call-out
[… one to four words]

## Counts when
- **[… two to five words]** — [… how it starts, and how it ends]

## Technique points
- **[… two to five words]** — [… the point that matters most, as what to do, at most 22 words]
- **[… two to five words]** — [… where the feet are, and how the weight is held]
- **[… two to five words]** — [… how it ends]

## Build-up
1. **[… two to five words]** (2 reps, from the side, talked over) — [… a part of it, without the weight]
2. **[… two to five words]** (3 reps, from the front, counted) — [… all of it]

## Common faults
- **[… what a coach sees]** — you feel [… what somebody alone notices] → [… what to do instead]

## Regressions
- **[… two to five words]** (new to it) — [… the smallest change, as what to do]

## Progressions
- **[… two to five words]** (too light) — [… one step harder, as what to do]

## Safety
- **[… two to five words]** — [… what has to be seen to before it starts]
"""
_CHANGE = """---
name: {name}
# Other names you write on a board, abbreviations too.
also: []
builds_on: {builds_on}
# What is not here is inherited. The same card phrase replaces a line, another one adds one, these are taken away:
# leave_out: []
---

[… one sentence that says what it is: You …]

## Recap
[… one line for people who know it]

## Counts when
- **[… two to five words]** — [… how it starts, and how it ends]

## Technique points
- **[… two to five words]** — [… what is different, as what to do, at most 22 words]
"""
_REASONS = "\n## Note\nNever spoken; delete it. Reasons for an easier version: {reasons}.\n"


def movement_template(name: str, builds_on: str | None = None) -> str:
    """Give the text of a new movement file: what has to be filled in is an error until it is, so none of it is ever said."""
    if builds_on:
        return _CHANGE.format(name=_as_yaml(name), builds_on=builds_on)
    return _HEAD.format(
        name=_as_yaml(name),
        patterns=", ".join(get_args(Pattern)),
        areas=", ".join(AREAS),
        risks=", ".join(get_args(Risk)),
    ) + _REASONS.format(reasons=", ".join((*AREAS, *get_args(Circumstance))))


def _as_yaml(name: str) -> str:
    """Write a name as the head of a file holds it: in quotes where YAML would take it for something else."""
    if re.fullmatch(r"\w[\w '/().+-]*", name) and name == name.strip():
        return name
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
