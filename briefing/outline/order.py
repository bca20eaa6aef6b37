"""Two orders: the one shown (the board's, or the coach's) and the cheapest one to film, found exactly.

A video is filmed in segments and cut, so the order of filming may save the coach something: kit is fetched once, the camera turns
seldom, standing and floor work stay together, what makes breathless comes last, and a movement that another builds on comes
first. The cheapest order is found by dynamic programming over subsets (at most twelve movements); among equally cheap
orders the one that keeps the board's order longest is taken.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from briefing.library.models import Camera, KitItem, Movement
from briefing.problems import Model

# Seconds that a change costs the coach behind the camera. Our choice, after common practice; what matters is their order.
FETCH_S = 10
TURN_S = 25
DOWN_S = 8
# Talking again after something that makes breathless: a minute passes before a sentence comes out whole.
BREATH_S = 60
MOST_EXACT = 12

BREATHLESS = frozenset({"run", "row", "ride", "jump", "whole body", "crawl"})


class Station(Model):
    """A movement as filming sees it: where the camera looks from, what lies ready, on the floor or not, breathless or not.

    `after` names movements that have to be filmed before it.
    """

    movement: str
    camera: Camera
    kit: tuple[str, ...] = ()
    floor: bool = False
    breathless: bool = False
    after: tuple[str, ...] = ()


class Order(Model):
    """An order with its cost in seconds, and the cost of each change (the first one from the lens)."""

    movements: tuple[str, ...]
    cost_s: int
    changes_s: tuple[int, ...]


_LENS = Station(movement="", camera="front")


def station_of(movement: Movement, taught: Sequence[Movement], kit: Sequence[KitItem]) -> Station:
    """See a movement as filming does; `kit` is what lies there, `taught` all movements of this video."""
    ready = [k for k in kit if any(set(k.names) & set(i.names) for i in movement.kit)]
    slugs = {m.slug for m in taught}
    return Station(
        movement=movement.slug,
        camera=movement.camera,
        kit=tuple(sorted({k.names[0] for k in ready} or {i.names[0] for i in movement.kit})),
        floor=movement.position == "floor",
        breathless=movement.pattern in BREATHLESS,
        after=(movement.builds_on,) if movement.builds_on in slugs and movement.builds_on else (),
    )


def change_s(here: Station, there: Station) -> int:
    """Give the seconds that the change from one to the next costs."""
    cost = FETCH_S * len(set(there.kit) - set(here.kit))
    cost += TURN_S if here.camera != there.camera else 0
    cost += DOWN_S if here.floor != there.floor else 0
    return cost + (BREATH_S if here.breathless else 0)


def cost_of(order: Sequence[Station]) -> Order:
    """Give an order with what it costs."""
    changes = tuple(change_s(a, b) for a, b in zip((_LENS, *order), order, strict=False))
    return Order(movements=tuple(s.movement for s in order), cost_s=sum(changes), changes_s=changes)


def allowed(order: Sequence[Station]) -> bool:
    """Say whether each movement comes after those it builds on."""
    seen: set[str] = set()
    for station in order:
        if not set(station.after) <= seen:
            return False
        seen.add(station.movement)
    return True


def cheapest(stations: Sequence[Station]) -> Order:
    """Give the cheapest order that is allowed; with more than twelve movements the order as it stands.

    `best[(done, last)]` is the least cost of a set of movements that ends with `last`; the sequence of positions breaks ties.
    """
    count = len(stations)
    if count == 0:
        return Order(movements=(), cost_s=0, changes_s=())
    if count > MOST_EXACT:
        return cost_of(stations)
    names = {s.movement: i for i, s in enumerate(stations)}
    needs = [sum(1 << names[a] for a in s.after if a in names) for s in stations]
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {
        (1 << i, i): (change_s(_LENS, s), (i,)) for i, s in enumerate(stations) if not needs[i]
    }
    for done in range(1, 1 << count):
        for last in range(count):
            found = best.get((done, last))
            if found is None:
                continue
            for following in range(count):
                bit = 1 << following
                if done & bit or needs[following] & ~done:
                    continue
                candidate = (found[0] + change_s(stations[last], stations[following]), (*found[1], following))
                key = (done | bit, following)
                if key not in best or candidate < best[key]:
                    best[key] = candidate
    whole = (1 << count) - 1
    ends = [best[(whole, last)] for last in range(count) if (whole, last) in best]
    if not ends:
        return cost_of(stations)
    return cost_of([stations[i] for i in min(ends)[1]])


def arrange(slugs: Sequence[str], wanted: Sequence[str]) -> tuple[str, ...]:
    """Put the wanted movements first, in their order; the others follow as they stand."""
    first = [w for w in dict.fromkeys(wanted) if w in slugs]
    return (*first, *(s for s in slugs if s not in first))


def stations_of(taught: Sequence[Movement], kit: Sequence[KitItem]) -> Mapping[str, Station]:
    """See all movements of a video as filming does, in their order."""
    return {m.slug: station_of(m, taught, kit) for m in taught}
