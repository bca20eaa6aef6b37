"""The angle at which the audience sees the coach look past the lens, and where the card would have to stand."""

from __future__ import annotations

import math

from briefing.settings.models import CardPlace, Settings

# Tolerable gap between gaze and lens. Source: van Eijk et al. 2010, QoMEX: 1.2 degrees sideways, 1.7 up or down.
SIDEWAYS_DEG = 1.2
UPDOWN_DEG = 1.7
# Looking below the lens is far less noticeable than beside or above it (Chen 2002, CHI, abstract); about 5 degrees below still
# pass as eye contact (Chen 2002, from memory).
BELOW_DEG = 5.0


def gaze_deg(offset_m: float, distance_m: float) -> float:
    """Give the angle of a gaze that misses the lens by an offset: 100 mm at 2 m are 2.86 degrees."""
    return math.degrees(math.atan(offset_m / distance_m))


def farthest_m(angle_deg: float, distance_m: float) -> float:
    """Give how far from the lens a card may stand for an angle: 1.2 degrees at 1 m are 20.9 mm."""
    return distance_m * math.tan(math.radians(angle_deg))


def gaze_words(settings: Settings) -> tuple[str, ...]:
    """Say what the audience sees of the gaze in the segments that are spoken to the lens, and where the card should stand."""
    distance, place = settings.reading_distance_m, settings.card_place
    side, updown, below = (_cm(farthest_m(a, distance)) for a in (SIDEWAYS_DEG, UPDOWN_DEG, BELOW_DEG))
    where = (
        f"From {distance:g} m nobody sees you read while the line that you look at is within {side} cm beside the lens or "
        f"{updown} cm above or below it. Below is the least visible: up to {below} cm below still passes."
    )
    lines = [where] if place is None else [_seen(place, distance), where]
    lines.append(
        "Where the card cannot stand so near: say the line that matters to the lens, and look at the card between two lines. "
        "In demonstrations it does not matter."
    )
    lines.append("The phone that films cannot show the cards: use a second screen, or paper.")
    return tuple(lines)


def _seen(place: CardPlace, distance_m: float) -> str:
    side, up = gaze_deg(abs(place.right_m), distance_m), gaze_deg(abs(place.up_m), distance_m)
    parts = []
    if place.right_m:
        parts.append(f"{side:.1f}° to the side (tolerable: {SIDEWAYS_DEG}°)")
    if place.up_m:
        parts.append(f"{up:.1f}° {'up' if place.up_m > 0 else 'down'} (tolerable: {UPDOWN_DEG}°)")
    if not parts:
        return "The middle of your card stands at the lens: the audience sees you look at them."
    said = f"The audience sees you look {' and '.join(parts)}"
    if side <= SIDEWAYS_DEG and up <= UPDOWN_DEG:
        return f"{said}: nobody will notice."
    if side <= SIDEWAYS_DEG and place.up_m < 0 and up <= BELOW_DEG:
        return f"{said}: more than the measured limit, but below the lens it still passes."
    return f"{said}: they see that you read. Move the card."


def _cm(metres: float) -> str:
    # Rounded down: what stands here holds.
    return f"{int(metres * 100 + 1e-9)}"
