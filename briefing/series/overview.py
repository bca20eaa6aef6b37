"""A series at a glance: movements by videos, minutes, kit, what depends on what, and what the series never says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from briefing.library.models import KitItem, Movement
from briefing.problems import Model
from briefing.series.teaching import Fact, Taught, depends_on, table

# Our choice: an area that so many workouts load without an option for it is worth a word.
LOADED_OFTEN = 3


class Overview(Model):
    """What the series page shows. `rows` are (movement, a cell for each briefing); `minutes` counts the planned lengths."""

    title: str
    videos: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    minutes_s: float
    kit: tuple[KitItem, ...]
    depends: tuple[tuple[str, tuple[str, ...]], ...]
    never: tuple[str, ...]


def overview(
    title: str,
    facts: Sequence[Fact],
    levels: Mapping[str, Mapping[str, Taught]],
    movements: Mapping[str, Movement],
    seconds: float,
    kit: Sequence[KitItem],
) -> Overview:
    """Put a series together at a glance; `movements` has all that the facts name."""
    briefings = [f for f in facts if f.kind == "briefing"]
    titles = {f.key: f.title for f in briefings}
    rows = tuple((movements[slug].name if slug in movements else slug, cells) for slug, cells in table(facts, levels))
    depends = tuple((titles[key], others) for key, others in depends_on(facts, levels).items() if others)
    return Overview(
        title=title,
        videos=tuple(f.title for f in briefings),
        rows=rows,
        minutes_s=seconds,
        kit=tuple(kit),
        depends=depends,
        never=tuple(_never(briefings, movements)),
    )


def _never(briefings: Sequence[Fact], movements: Mapping[str, Movement]) -> list[str]:
    """Say what the series never says: an area worked hard again and again for which no workout has an option."""
    loaded: Counter[str] = Counter()
    for fact in briefings:
        loaded.update({a for s in fact.movements if s in movements for a in movements[s].works_hard_on})
    answered = {
        a for f in briefings for s in f.movements if s in movements for v in movements[s].easier for a in v.reasons
    }
    answered |= {a for f in briefings for a in f.reasons}
    return [
        f"{area} is worked hard in {count} workouts, and no option or easier version answers it"
        for area, count in sorted(loaded.items())
        if count >= LOADED_OFTEN and area not in answered
    ]
