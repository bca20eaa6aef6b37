"""The call sheet of the workout itself: what the coach calls out, on the clock of a steady person."""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.models import Workout
from briefing.clock.simulate import Event, Run
from briefing.library.models import Movement
from briefing.outline.phrases import rounds_words
from briefing.problems import Model
from briefing.units import write_clock

# Our choice: nobody listens to a call within three seconds of another one.
APART_S = 3.0


class Call(Model):
    """One call: when on the clock, what is called out, what kind it is (start, round, work, forced, rest, last, end)."""

    at_s: float
    words: str
    kind: str

    @property
    def clock(self) -> str:
        """The time as it stands on the clock."""
        return write_clock(self.at_s)


def calls_of(workout: Workout, run: Run, movements: Mapping[str, Movement]) -> tuple[Call, ...]:
    """Give the calls of one person's workout: rounds, the first of each line with its call-out, what is forced in, the end.

    A call-out of a movement comes in the first two rounds; later a round is called alone, so that there is air between.
    """
    calls = [Call(at_s=0, words="Three, two, one, go.", kind="start")]
    rounds: dict[int, set[int]] = {}
    last: tuple[str, str] | None = None
    for event in run.events:
        seen = rounds.setdefault(event.part, set())
        new_round = event.kind == "work" and event.round and event.round not in seen
        if new_round:
            seen.add(event.round)
            if event.round > 1:
                calls.append(Call(at_s=event.start_s, words=f"Round {_number(event.round)}.", kind="round"))
        if event.kind == "work" and (event.kind, event.movement) != last and event.round <= 2:
            calls.append(Call(at_s=event.start_s, words=_call_out(event, movements), kind="work"))
        elif event.kind == "interrupt" and (event.kind, event.movement) != last:
            calls.append(Call(at_s=event.start_s, words=f"Now: {_call_out(event, movements)}", kind="forced"))
        elif event.kind == "rest" and event.end_s - event.start_s >= 20 and last != ("rest", ""):
            calls.append(
                Call(at_s=event.start_s, words=f"Rest. {write_clock(event.end_s - event.start_s)}.", kind="rest")
            )
        if event.kind not in {"change", "break"}:
            last = (event.kind, event.movement)
    calls += _clock_calls(workout)
    return tuple(_apart(sorted(calls, key=lambda c: c.at_s)))


def _clock_calls(workout: Workout) -> list[Call]:
    """Call what the clock does: half of it, the last minute, the end, and half a minute before something is forced in."""
    calls: list[Call] = []
    start = 0.0
    for part in workout.parts:
        clock = part.clock_s
        if clock is None:
            break
        if clock >= 240:
            calls.append(Call(at_s=start + clock / 2, words="Half of the clock.", kind="last"))
        if clock >= 120:
            calls.append(Call(at_s=start + clock - 60, words="Last minute.", kind="last"))
        calls.append(Call(at_s=start + clock, words="Time. Stop where you are.", kind="end"))
        start += clock + part.rest_after_s
    return calls


def _apart(calls: list[Call]) -> list[Call]:
    """Put calls that come too close together into one, in their order."""
    out: list[Call] = []
    for call in calls:
        if out and call.at_s - out[-1].at_s < APART_S and call.kind != "end":
            out[-1] = out[-1].model_copy(update={"words": f"{out[-1].words} {call.words}"})
        else:
            out.append(call)
    return out


def _call_out(event: Event, movements: Mapping[str, Movement]) -> str:
    movement = movements[event.movement]
    out = movement.call_out or movement.points[0].card
    return f"{movement.name}: {out[:1].lower()}{out[1:]}."


def _number(number: int) -> str:
    return rounds_words(number).split()[0]
