"""What a board adds up to, in words for the terminal and the pages."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.loads import strain_of
from briefing.board.models import Workout
from briefing.board.totals import Total, add_up
from briefing.library.models import Movement
from briefing.units import KG_PER_LB, M_PER_YD, write_clock


def adding_words(workout: Workout, movements: Mapping[str, Movement]) -> list[str]:
    """Give the totals of each movement (per side, in both units) and what may need a caution, a line each."""
    totals = add_up(workout)
    lighter = {(t.movement, t.unit): t for t in add_up(workout, 1)}
    lines = []
    for total in totals:
        other = lighter[total.movement, total.unit]
        words = _total(total, movements[total.movement])
        lines.append(words if other == total else f"{words}; or {_number(other)} for whoever goes lighter")
    strain = strain_of(workout, movements)
    if strain.lifted_kg:
        lines.append(
            f"lifted: {strain.lifted_kg:,.0f} kg ({strain.lifted_kg / KG_PER_LB:,.0f} lb) with the heavier loads"
        )
    for count, words in (
        (strain.jumps, "jumps or landings"),
        (strain.overhead, "repetitions overhead"),
        (strain.down_and_up, "times down to the floor and up"),
    ):
        if count:
            lines.append(f"{words}: {count:,}")
    return lines or ["open rounds: the totals depend on who works"]


def _number(total: Total) -> str:
    return write_clock(total.quantity) if total.unit == "s" else f"{total.quantity:,}"


def _total(total: Total, movement: Movement) -> str:
    side = f", {total.per_side:g} each side" if total.per_side is not None else ""
    match total.unit:
        case "reps":
            return f"{movement.plural}: {total.quantity:,}{side}"
        case "m":
            return f"{movement.name}: {total.quantity:,} m ({total.quantity / M_PER_YD:,.0f} yd){side}"
        case "s":
            return f"{movement.name}: {write_clock(total.quantity)}{side}"
        case "cal":
            return f"{movement.name}: {total.quantity:,} calories{side}"
