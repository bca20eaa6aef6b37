"""What an easier or a harder version needs beyond the kit of its movement, from its link and from its own words."""

from __future__ import annotations

import re

from briefing.library.models import KIT, KitItem, Movement, Version

# Kit words that are also other words ("take a long step", "the ball of your foot"), or that come with other kit.
_UNSURE = frozenset({"step", "ball", "plates", "target", "cone", "stairs"})
_NAMED = {n: re.compile(rf"\b{re.escape(n)}(?:e?s)?\b") for n in KIT if n not in _UNSURE}
_NAMED["step"] = re.compile(r"\b(?:low|firm|solid)(?: \w+)? steps?\b")


def kit_beyond(movement: Movement, version: Version, linked: Movement | None) -> tuple[KitItem, ...]:
    """Give the kit a version needs that its movement does not have and that is not in nearly every home.

    `linked` is the movement the version links to. Of "a solid bench or table" the table is enough.
    """
    own = {n for k in movement.kit for n in k.names}
    out = [k for k in linked.kit if not _there(k, own)] if linked is not None and linked.slug != movement.slug else []
    words = version.say.lower()
    named = tuple(n for n, pattern in _NAMED.items() if pattern.search(words))
    others = tuple(n for n in named if n not in own)
    if others and not any(KIT[n].household for n in others):
        known = {n for k in out for n in k.names}
        out += [KitItem(names=(n,)) for n in others if n not in known]
    return tuple(out)


def _there(item: KitItem, own: set[str]) -> bool:
    return any(n in own or KIT[n].household for n in item.names)
