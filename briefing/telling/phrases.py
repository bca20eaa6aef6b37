"""Words for work: how much of what, with what, how the sides share it, how it is done."""

from __future__ import annotations

import re

from briefing.board.models import Amount, Load, Option, Work
from briefing.board.totals import Total, shares_sides
from briefing.library.models import Movement
from briefing.library.names import plural_of
from briefing.telling.numbers import count_words, metres_words, time_words
from briefing.telling.sentences import a_an, join_words, lower_first
from briefing.units import UNIT_WORDS


def name_words(movement: Movement) -> str:
    """Give a movement's name inside a sentence: `goblet squat`."""
    return lower_first(movement.name)


def many_words(movement: Movement) -> str:
    """Give its plural inside a sentence: `goblet squats`."""
    return lower_first(movement.plural)


def doing_words(movement: Movement) -> str:
    """Give what one does in a stretch of it: `running`, `marching in place`, else its plural or its name."""
    # "running" for Run, "marching in place" for March in place; not "alternating V-up" for V-up.
    verb = name_words(movement).split()[0][:3]
    doing = next((a for a in movement.also if re.match(rf"{re.escape(verb)}[a-z]*ing\b", a)), None)
    if doing:
        return doing
    return name_words(movement) if movement.counts[0] in {"seconds", "metres"} else many_words(movement)


def amount_words(amount: Amount, movement: Movement) -> str:
    """Say how much of a movement: `20 goblet squats`, `a 200-meter run`, `one minute of plank`, `a 15-calorie row`."""
    if amount.most:
        if amount.unit == "s":
            return name_words(movement)
        if amount.unit == "cal":
            return f"as many calories as you can of {doing_words(movement)}"
        if amount.unit == "m":
            return f"as far as you can of {doing_words(movement)}"
        return f"as many {many_words(movement)} as you can"
    if amount.varies:
        if amount.unit == "cal":
            return f"calories of {doing_words(movement)}"
        return many_words(movement) if amount.unit == "reps" else name_words(movement)
    number = amount.in_round(0)
    said = count_words(number)
    if amount.at_most:
        said = f"{said} to {count_words(amount.at_most)}"
    if amount.unit == "reps":
        return f"{said} {name_words(movement) if number == 1 else many_words(movement)}"
    if amount.unit == "s":
        return f"{time_words(number)} of {doing_words(movement)}"
    if amount.unit == "cal":
        return a_an(f"{said}-calorie {name_words(movement)}")
    if movement.counts[0] == "metres":
        length = "one-kilometer" if number == 1000 else f"{said}-meter"
        return a_an(f"{length} {name_words(movement)}")
    return f"{metres_words(number)} of {doing_words(movement)}"


def sides_words(work: Work) -> str:
    """Say how the sides share it: `alternating legs, so ten each leg`, `six each arm`, or nothing."""
    number = work.amount.in_round(0)
    if not shares_sides(work) or work.amount.most or work.amount.varies:
        return f"alternating {_sides(work)}" if work.sides == "alternating" and work.sides_written else ""
    side = work.side_word or "side"
    if number % 2:
        return f"alternating {_sides(work)}" if work.sides == "alternating" else ""
    half = number // 2
    each = f"{time_words(half)} each {side}" if work.amount.unit == "s" else f"{count_words(half)} each {side}"
    if work.sides == "alternating" and work.sides_written:
        return f"alternating {_sides(work)}, so {each}"
    return each


def _sides(work: Work) -> str:
    return plural_of(work.side_word or "side")


def load_words(load: Load) -> str:
    """Say a load: `22.5 kilos`, `50 pounds`, `80 percent of your best`; two of a kind are said so."""
    if load.percent is not None:
        return load.written.replace("%", " percent").replace("  ", " ")
    match = re.match(r"([\d.,]+)\s*(kg|lb)", load.written)
    said = load.written
    if match:
        said = f"{match[1]} {'kilos' if match[2] == 'kg' else 'pounds'}"
    return f"{said} in each hand" if load.count == 2 else said


def numbers_words(amount: Amount) -> str:
    """Say the numbers of a line round by round: `21, 15 then nine`, `one, two, three, and on like that`."""
    unit = "" if amount.unit == "reps" else f" {UNIT_WORDS[amount.unit].many}"
    if amount.step:
        return ", ".join(count_words(amount.in_round(n)) for n in range(3)) + f"{unit}, and on like that"
    return join_words([count_words(n) for n in amount.by_round], last="then") + unit


def work_words(
    work: Work,
    movement: Movement,
    *,
    sides: bool = True,
    load: bool = True,
    numbers: bool = False,
    both_loads: bool = False,
) -> str:
    """Say a line of work: `twenty goblet step-ups, alternating legs, so ten each leg`.

    `numbers` says the numbers of every round, where the part has no list that stands for all of its lines; `both_loads`
    says a heavier and a lighter load, where no sentence of its own does.
    """
    parts = [amount_words(work.amount, movement)]
    if work.loads_by_round and load:
        parts = [f"{many_words(movement)}: {by_round_words(work)}"]
    elif numbers and work.amount.varies:
        parts[0] += f": {numbers_words(work.amount)}"
    if len(work.amounts) > 1:
        parts[0] += f", or {count_words(work.amounts[1].in_round(0))} if you go lighter"
    if load and len(work.loads) == 1:
        said = load_words(work.loads[0])
        parts[0] += f" at {said}" if work.loads[0].percent is not None else f" with {said}"
    if load and len(work.loads) == 2 and both_loads:
        heavier, lighter = (load_words(x) for x in work.loads)
        parts[0] += f" with {_either(heavier, lighter)}"
    if sides and (said := sides_words(work)):
        parts.append(said)
    if work.tempo:
        parts.append(tempo_words(work.tempo))
    if work.effort:
        parts.append(effort_words(work.effort))
    if work.pace:
        parts.append(f"at {work.pace}")
    if work.note:
        parts.append(lower_first(work.note))
    if work.unbroken:
        parts.append("without a break")
    return ", ".join(parts)


def effort_words(effort: str) -> str:
    """Say how hard: `at an effort of eight out of ten` for a number, else the board's own word ("easy")."""
    bare = re.sub(r"(?i)^(?:rpe|effort)\s*", "", effort)
    if re.fullmatch(r"[\d.,–-]+", bare):
        return f"at an effort of {bare} out of ten"
    return f"at an effort of {bare}" if re.match(r"\d", bare) else bare


def by_round_words(work: Work) -> str:
    """Say a load of its own for every round: `five at 60 percent, five at 70 percent, then three at 80 percent`."""
    said = []
    for n, load in enumerate(work.loads_by_round):
        count = "as many as you can" if work.amount.most else count_words(work.amount.in_round(n))
        said.append(f"{count} {'at' if load.percent is not None else 'with'} {load_words(load)}")
    return join_words(said, last="then")


def _either(heavier: str, lighter: str) -> str:
    """Join two loads, the unit once: `22.5 or 15 kilos in each hand`."""
    first, second = heavier.split(" ", 1), lighter.split(" ", 1)
    return f"{first[0]} or {lighter}" if first[1:] == second[1:] else f"{heavier} or {lighter}"


def tempo_words(tempo: str) -> str:
    """Say a tempo of four digits: seconds down, at the bottom, up, at the top; `x` is as fast as you can, 0 is not said.

    The order of the four is common practice, no source.
    """
    down, low, up, top = re.findall(r"[\dx]", tempo.lower())
    said = []
    for digit, place in ((down, "down"), (low, "at the bottom"), (up, "up"), (top, "at the top")):
        if digit == "x":
            said.append(f"{place} as fast as you can")
        elif digit != "0":
            said.append(f"{count_words(int(digit))} second{'s' if digit != '1' else ''} {place}")
    return join_words(said) if said else "without a pause"


def total_words(total: Total, movement: Movement) -> str:
    """Say a total: `100 goblet step-ups`, `a kilometer of running`, `five minutes of plank`."""
    if total.unit == "reps":
        return (
            f"{total.quantity:,} {many_words(movement)}"
            if total.quantity > 20
            else f"{count_words(total.quantity)} {many_words(movement)}"
        )
    if total.unit == "m":
        return f"{metres_words(total.quantity)} of {doing_words(movement)}"
    if total.unit == "s":
        return f"{time_words(total.quantity)} of {doing_words(movement)}"
    return f"{count_words(total.quantity)} calories of {doing_words(movement)}"


def option_words(option: Option, movement: Movement) -> str:
    """Say the work of an option, as an instruction: `do 20 step-ups, weight at your side`."""
    return work_words(option.work, movement)
