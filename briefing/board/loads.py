"""What a workout adds up to for the body: weight lifted, jumps and landings, overhead work, getting down and up."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.models import Work, Workout
from briefing.board.totals import add_up
from briefing.library.models import Movement
from briefing.problems import Model

# Movements in which every repetition goes from standing to the floor and back. Facts of the trade, common practice, no source.
_DOWN_AND_UP = ("burpee", "get-up", "wall-walk", "inchworm", "squat-thrust")


class Strain(Model):
    """Totals that may need a caution; repetitions, both sides together. `lifted_kg` is the heavier load times its repetitions."""

    lifted_kg: float
    jumps: int
    overhead: int
    down_and_up: int


def strain_of(workout: Workout, movements: Mapping[str, Movement]) -> Strain:
    """Add up what loads the body, over all rounds; open rounds and what interrupts are left out."""
    lifted, jumps, overhead, down = 0.0, 0, 0, 0
    for total in add_up(workout):
        if total.unit != "reps":
            continue
        movement = movements[total.movement]
        load = _load_kg(workout, total.movement)
        lifted += load * total.quantity
        jumps += total.quantity if movement.lands else 0
        overhead += total.quantity if "reach" in movement.space.overhead and movement.pattern != "jump" else 0
        down += total.quantity if any(word in movement.slug for word in _DOWN_AND_UP) else 0
    return Strain(lifted_kg=lifted, jumps=jumps, overhead=overhead, down_and_up=down)


def _load_kg(workout: Workout, slug: str) -> float:
    """Give the heavier load of a movement in kilos, both hands together; 0 where none is known."""
    works: list[Work] = [w for w in workout.works if w.movement == slug]
    return max((load.kg * load.count for w in works for load in w.loads if load.kg is not None), default=0.0)
