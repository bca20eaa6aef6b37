"""Words for kit and room: what has to be there, what can stand in for it, how much floor it takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from briefing.board.models import Workout
from briefing.library.models import KIT, NO_STAND_IN, KitItem, Movement
from briefing.library.names import plural_of
from briefing.telling.numbers import count_words
from briefing.telling.phrases import name_words
from briefing.telling.sentences import a_an, join_words, lower_first


def stays(item: KitItem) -> bool:
    """Say whether a piece of kit stays where it is, so that one goes to it: a wall, a bar, a rower."""
    return KIT[item.names[0]].place is not None


def kit_words(item: KitItem) -> str:
    """Say a piece of kit: `one dumbbell or kettlebell`, `two dumbbells`, `a firm wall`, `a table or a bench`."""
    called = KIT[item.names[0]].called
    if item.count == 1 and called and len(item.names) == 1:
        return called
    if item.count == 1 and stays(item):
        return " or ".join(a_an(name) for name in item.names)
    return f"{count_words(item.count)} {_pieces(item)}"


def more_kit_words(item: KitItem) -> str:
    """Say kit that comes to what lies there: `one more dumbbell`."""
    return f"{count_words(item.count)} more {_pieces(item)}"


def kit_card(item: KitItem) -> str:
    """Write a piece of kit for a list: `1 dumbbell or kettlebell`, `a firm wall`."""
    uncounted = item.count == 1 and (stays(item) or item.names == ("plates",))
    return kit_words(item) if uncounted else f"{item.count} {_pieces(item)}"


# Kit whose name is a plural already; rings are counted in pairs.
_PLURAL = {"rings": ("pair of rings", "pairs of rings"), "plates": ("plates", "plates"), "stairs": ("stairs", "stairs")}


def _pieces(item: KitItem) -> str:
    pairs = (_PLURAL.get(n, (n, plural_of(n))) for n in item.names)
    return " or ".join(one if item.count == 1 else many for one, many in pairs)


class StandIn(NamedTuple):
    """What can stand in for a piece of kit.

    Its word, how it is named ("dumbbells" for two), what to use or to do instead, and the movements for which that will
    not do: overhead, or where it is swung, a strap or a handle may give way. `phrase` is the name of the wording that says
    it: a thing is used, what a movement's own file says is done.
    """

    kit: str
    called: str
    instead: str
    but: tuple[str, ...] = ()
    phrase: str = "stand-in"


def stand_ins(kit: Iterable[KitItem], movements: Iterable[Movement]) -> tuple[StandIn, ...]:
    """Give what can stand in for the kit of these movements: for those that say nothing of their own, then each one's own.

    What all of them take overhead or swing has nothing: nothing improvised is lifted or swung there.
    """
    worked = tuple(movements)
    out = []
    for item in kit:
        name = item.names[0]
        word = KIT[name]
        called = " or ".join(plural_of(n) if item.count > 1 else n for n in item.names)
        users = [x for x in worked if any(name in k.names for k in x.kit)]
        own = {x.slug: says for x in users if (says := _own_stand_in(x, item.names))}
        without = [x for x in users if x.slug in own or (word.weight and ("reach" in x.space.overhead or x.flies))]
        instead = word.instead_of_two if item.count == 2 and word.instead_of_two else word.instead
        if instead is not None and word.made_of not in item.names and (not users or len(without) < len(users)):
            out.append(StandIn(name, called, instead, tuple(f"the {name_words(x)}" for x in without)))
        # What several movements do alike is said once, for all of them.
        for says in dict.fromkeys(v for v in own.values() if v != NO_STAND_IN):
            its = [x for x in users if own.get(x.slug) == says]
            whose = "" if len(its) == len(users) else " for " + join_words([f"the {name_words(x)}" for x in its])
            out.append(StandIn(name, called + whose, lower_first(says), phrase="stand-in do"))
    return tuple(out)


def _own_stand_in(movement: Movement, names: tuple[str, ...]) -> str | None:
    """Give what a movement's file says to do without a piece of kit; None where the kit's own stand-in will do."""
    return next((movement.stand_ins[n] for n in names if n in movement.stand_ins), None)


# A floor larger than this is a way to move along, not a mat: it is said as a distance.
ROOM_M = 6.0


def space_words(workout: Workout, movements: Mapping[str, Movement]) -> str:
    """Say the space a workout takes: floor, room overhead, a way to run."""
    floor = (1.0, 1.0)
    along: list[str] = []
    overhead = False
    for work in workout.works:
        movement = movements[work.movement]
        size = movement.space.floor_m
        if size and max(size) <= ROOM_M:
            floor = (max(floor[0], *size), max(floor[1], min(size)))
        elif size and work.amount.unit == "m":
            verb = {"run": "run", "row": "row", "ride": "ride"}.get(movement.pattern or "", "walk")
            along.append(f"somewhere to {verb}")
        overhead = overhead or movement.space.overhead != "none"
    parts = [f"a clear floor of about {count_words(floor[0])} by {count_words(floor[1])} meters"]
    if overhead:
        parts.append("room above you to stretch your arms")
    parts += dict.fromkeys(along)
    return join_words(parts)
