"""Teach once, recall later: how much of each movement each briefing teaches, and where it is taught in full.

A movement's first briefing in the series teaches it in full. A later one recalls it (its recap, its first points, its safety notes,
and the video that teaches it), unless the coach asks for more, it was too many weeks ago, or the video has new people in it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from briefing.problems import Model
from briefing.settings.models import TeachLevel, VideoKind


class Fact(Model):
    """What counts of one video: its title, what it teaches, what stands in it as an option only, its date, what the coach asks."""

    key: str
    kind: VideoKind
    title: str
    movements: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    date: dt.date | None = None
    new_people: bool = False
    asked: Mapping[str, TeachLevel] = {}


class Taught(Model):
    """How a movement is taught in one video: the level, the video that teaches it in full (its title), and why."""

    level: TeachLevel
    taught_in: str | None = None
    why: str = ""


def teach_levels(facts: Sequence[Fact], weeks: int = 4) -> dict[str, dict[str, Taught]]:
    """Give, for each briefing by its key, how each of its movements is taught.

    `weeks` is after how many weeks between two dated videos a movement is taught in full again.
    """
    last_full: dict[str, Fact] = {}
    out: dict[str, dict[str, Taught]] = {}
    for fact in facts:
        if fact.kind != "briefing":
            continue
        mine: dict[str, Taught] = {}
        for slug in fact.movements:
            mine[slug] = _taught(fact, slug, last_full.get(slug), weeks)
            if mine[slug].level == "full":
                last_full[slug] = fact
        out[fact.key] = mine
    return out


def _taught(fact: Fact, slug: str, before: Fact | None, weeks: int) -> Taught:
    if slug in fact.asked:
        level = fact.asked[slug]
        return Taught(level=level, taught_in=before.title if before and level != "full" else None, why="as you asked")
    if before is None:
        return Taught(level="full", why="its first time")
    if fact.new_people:
        return Taught(level="full", why="new people are in it")
    if fact.date and before.date and fact.date - before.date > dt.timedelta(weeks=weeks):
        return Taught(level="full", why=f"more than {weeks} weeks since {before.title}")
    return Taught(level="short", taught_in=before.title, why=f"taught in full in {before.title}")


def table(facts: Sequence[Fact], levels: Mapping[str, Mapping[str, Taught]]) -> list[tuple[str, tuple[str, ...]]]:
    """Give movements by briefings: full, recap, name, option or "" (not at all), in the order of their first time."""
    briefings = [f for f in facts if f.kind == "briefing"]
    slugs = dict.fromkeys(s for f in briefings for s in (*f.movements, *f.options))
    words = {"full": "full", "short": "recap", "name-only": "name"}
    rows = []
    for slug in slugs:
        cells = []
        for fact in briefings:
            taught = levels.get(fact.key, {}).get(slug)
            cells.append(words[taught.level] if taught else "option" if slug in fact.options else "")
        rows.append((slug, tuple(cells)))
    return rows


def depends_on(facts: Sequence[Fact], levels: Mapping[str, Mapping[str, Taught]]) -> dict[str, tuple[str, ...]]:
    """Give, for each briefing, the titles of the videos that its recaps refer to."""
    return {
        f.key: tuple(dict.fromkeys(t.taught_in for t in levels.get(f.key, {}).values() if t.taught_in))
        for f in facts
        if f.kind == "briefing"
    }
