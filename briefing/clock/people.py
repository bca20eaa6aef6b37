"""Three kinds of people, brisk, steady and easy: how fast they work, tire, pause and change over.

The formula is our own and kept small on purpose: it is there to tell 14 minutes from 20, not 14:10 from 14:20. Every
number without a source is our choice, with its reason beside it. Published counts are checked by running the clock.
"""

from __future__ import annotations

import re

from briefing.library.models import Movement, Pattern
from briefing.units import Person, Unit

# Our choice: after FULL_S of work people go a quarter slower than fresh, and from then on they hold that.
SLOW = 0.25
# Our choice: ten minutes of work, not of clock; by then everybody has found the speed they can keep.
FULL_S = 600
# Our choice: how long somebody stays on one line before the hands come off. Long for people who train a lot.
STRETCH_S: dict[Person, int] = {"brisk": 60, "steady": 40, "easy": 30}
# Our choice: a few breaths for one, a sip and a look at the board for the other.
BREAK_S: dict[Person, int] = {"brisk": 3, "steady": 5, "easy": 8}
# Our choice: put down, two steps, take position. The same for all, since a garage is small.
CHANGE_S = 4
# Our choice: what "rest as needed" comes to; one round of slow breathing, or a good while.
AS_NEEDED_S: dict[Person, int] = {"brisk": 30, "steady": 45, "easy": 60}
# Our choice: "as many as possible" without a clock is as many as fresh arms do in this time; most sets to the limit of
# what is clean last 30 to 50 seconds.
MOST_S = 40
# Our choice: an open part without a clock (work until you like to stop) is looked at for one hour.
OPEN_LIMIT_S = 3_600
# Our choice: nobody is briefed for longer; also ends a part whose interrupts take longer than the time between them.
LONGEST_S = 6 * 3_600

# Seconds for one where the library has no rate. All our choice, meant to be on the slow side of ordinary:
# a plain repetition lies around the 2.4 s of one lunge in a slow four-count drill (50 counts a minute, US Army
# TC 3-22.20); a calorie on a machine takes 4 to 7 s for people who are not racing.
REP_S: dict[Person, float] = {"brisk": 2.0, "steady": 2.6, "easy": 3.4}
CALORIE_S: dict[Person, float] = {"brisk": 4.0, "steady": 5.0, "easy": 7.0}
# 5:00, 6:00 and 7:30 for a kilometre. The easy one is near the first stage of the 20 m shuttle run (8.5 km/h, 0.42 s
# a metre: Léger et al. 1988, second-hand).
RUN_S_PER_M: dict[Person, float] = {"brisk": 0.30, "steady": 0.36, "easy": 0.45}
# 2:00, 2:15 and 2:40 for 500 m.
ROW_S_PER_M: dict[Person, float] = {"brisk": 0.24, "steady": 0.27, "easy": 0.32}
RIDE_S_PER_M: dict[Person, float] = {"brisk": 0.12, "steady": 0.15, "easy": 0.20}
# Comfortable walking is 1.39 to 1.41 m/s, 0.71 s a metre (Bohannon 1997, from memory); with a load
# in the hands nobody is faster than that for long.
CARRY_S_PER_M: dict[Person, float] = {"brisk": 0.72, "steady": 0.90, "easy": 1.20}
LUNGE_S_PER_M: dict[Person, float] = {"brisk": 1.8, "steady": 2.4, "easy": 3.2}
CRAWL_S_PER_M: dict[Person, float] = {"brisk": 1.6, "steady": 2.2, "easy": 3.0}

METRE_S: dict[Pattern, dict[Person, float]] = {
    "run": RUN_S_PER_M,
    "row": ROW_S_PER_M,
    "ride": RIDE_S_PER_M,
    "carry": CARRY_S_PER_M,
    "lunge": LUNGE_S_PER_M,
    "crawl": CRAWL_S_PER_M,
}

_TEMPO = re.compile(r"(?:[0-9x]{3,4}|[0-9x](?:\s*[-–/.:]\s*[0-9x]){2,3})", re.IGNORECASE)


def seconds_for_one(movement: Movement, unit: Unit, person: Person) -> float:
    """Give the seconds for one repetition, metre or calorie in a fresh set; a second takes exactly one.

    `seconds_for_one(goblet_squat, "reps", "steady")` is 2.4. The library's rate comes first. Where it has none for
    this unit, `default_seconds` answers by the movement's pattern. Greater than 0.
    """
    if unit == "s":
        return 1.0
    rates = movement.seconds_for.get(unit)
    return rates.of(person) if rates is not None else default_seconds(unit, person, movement.pattern)


def is_untimed(movement: Movement, unit: Unit, tempo: str | None = None) -> bool:
    """Say whether nobody knows how long a movement takes: no file has it, so no rate and no pattern are known, and no tempo is written.

    The clock still reckons with `default_seconds`, so that the rest of a workout can be worked through; what it answers is then
    no time to tell anybody.
    """
    if not movement.carried or unit == "s" or unit in movement.seconds_for:
        return False
    return unit != "reps" or not tempo_seconds(tempo)


def default_seconds(unit: Unit, person: Person, pattern: Pattern | None = None) -> float:
    """Give the seconds for one where nobody wrote a rate: by unit, and for metres by the kind of movement.

    Metres without a pattern of their own (a march, a sled) count as a carry. All numbers are our choice, see above.
    """
    match unit:
        case "s":
            return 1.0
        case "reps":
            return REP_S[person]
        case "cal":
            return CALORIE_S[person]
        case "m":
            by_person = METRE_S.get(pattern, CARRY_S_PER_M) if pattern is not None else CARRY_S_PER_M
            return by_person[person]


def tempo_seconds(tempo: str | None) -> float:
    """Give the seconds that a written tempo takes for one repetition: `3-1-1` is 5; 0 where none can be read.

    Three or four counts (down, hold, up, hold), with or without dashes; `x` is "as fast as you can" and counts as one
    second. Common practice, no source.
    """
    found = _TEMPO.search(tempo) if tempo else None
    if found is None:
        return 0.0
    return float(sum(1 if c in "xX" else int(c) for c in found.group() if c in "xX" or c.isdigit()))
