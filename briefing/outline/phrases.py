"""Words for numbers, times, distances, work and reasons, as a coach says them.

Numbers to twenty are words, larger ones figures, and a sentence begins with a word: "Twenty goblet step-ups", "by the end that
is 100 step-ups". The same number is always said in the same way.
"""

from __future__ import annotations

import re

from briefing.board.models import Amount, Load, Option, Work
from briefing.board.totals import Total, shares_sides
from briefing.library.models import KIT, KitItem, Movement
from briefing.library.names import plural_of
from briefing.outline.models import Figure
from briefing.outline.wording import lower_first, upper_first
from briefing.speech.numbers import cardinal_words
from briefing.units import write_clock, write_number

# Body areas that can complain, with their verb: two of them share it ("your knees or ankles complain").
AREA_SAID: dict[str, str] = {
    "knee": "knees",
    "hip": "hips",
    "low back": "low back",
    "shoulder": "shoulders",
    "elbow": "elbows",
    "wrist": "wrists",
    "neck": "neck",
    "ankle": "ankles",
}
# What any other reason becomes after "If". A test holds that no reason of the fixed list is missing in both.
REASON_SAID: dict[str, str] = {
    "grip": "your grip gives out",
    "pelvic floor": "you feel pressure on your pelvic floor",
    "new to it": "this is new to you",
    "tired today": "you are tired today",
    "no impact": "you want no impact",
    "quiet": "you have to be quiet",
    "small room": "you have little room",
    "low ceiling": "your ceiling is low",
    "wet ground": "the ground is wet",
    "no kit": "you have no weight",
    "one weight only": "you have one weight only",
    "too light": "it is too light",
    "too heavy": "it is too heavy",
    "lying down or head low bothers you": "lying down or a low head bothers you",
    "pregnant or after birth": "you are pregnant or have given birth lately",
}


def count_words(number: float) -> str:
    """Write a number as it is said inside a sentence: `ten`, `100`, `1,200`, `22.5`."""
    if number != int(number):
        return write_number(number)
    return cardinal_words(int(number)) if 0 <= number <= 20 else f"{int(number):,}"


def sentence(text: str) -> str:
    """Begin with a capital, and with a word where a number stood: `100 squats` is "One hundred squats"."""
    match = re.match(r"(\d[\d,]*)(?![\d.,:]*\d)(?=[\s-])", text)
    if match:
        text = cardinal_words(int(match[1].replace(",", ""))) + text[match.end() :]
    return upper_first(text)


def join_words(words: tuple[str, ...] | list[str], last: str = "and") -> str:
    """Join as in speech: `a, b and c`; where a piece holds a comma itself, semicolon-like pauses: `a, b, and c`."""
    if len(words) < 2:
        return "".join(words)
    comma = "," if any("," in w for w in words) else ""
    return ", ".join(words[:-1]) + f"{comma} {last} {words[-1]}"


def a_an(words: str) -> str:
    """Put the article that fits the sound: `a 200-meter run`, `an 80-meter carry`, `an eleven-meter crawl`."""
    head = words.lower()
    an = re.match(r"(?:(?!one\b|one-)[aeio]|u(?!ni|se)|8|11\b|18\b|11[,\-]|18[,\-])", head)
    return f"{'an' if an else 'a'} {words}"


def time_words(seconds: int) -> str:
    """Say a time: `22 minutes`, `one minute`, `40 seconds`, `two minutes thirty`, `one hour five`."""
    hours, rest = divmod(seconds, 3600)
    minutes, secs = divmod(rest, 60)
    parts = []
    if hours:
        parts.append(f"{count_words(hours)} hour{'s' if hours != 1 else ''}")
    if minutes:
        parts.append(f"{count_words(minutes)} minute{'s' if minutes != 1 else ''}")
    if secs:
        parts.append(f"{count_words(secs)} second{'s' if secs != 1 else ''}" if not parts else cardinal_words(secs))
    return " ".join(parts) or "zero"


def about_minutes(seconds: float) -> str:
    """Say a length roughly, in whole minutes: `14 minutes`; under two minutes in half minutes."""
    if seconds < 120:
        return time_words(max(30, round(seconds / 30) * 30))
    return f"{count_words(round(seconds / 60))} minutes"


def minutes_between(low_s: float, high_s: float) -> tuple[str, str] | None:
    """Say two lengths for "between … and …": both in words or both in figures; None where they are the same minute."""
    low, high = max(1, round(low_s / 60)), max(1, round(high_s / 60))
    if low == high:
        return None
    if high > 20:
        return str(low), f"{high} minutes"
    return count_words(low), f"{count_words(high)} minutes"


def metres_words(metres: float) -> str:
    """Say a distance: `200 meters`, `a kilometer`, `1.5 kilometers`."""
    if metres >= 1000 and metres % 100 == 0:
        return "a kilometer" if metres == 1000 else f"{count_words(metres / 1000)} kilometers"
    return f"{count_words(metres)} meter{'s' if metres != 1 else ''}"


def rounds_words(rounds: int) -> str:
    """Say `five rounds`, `one round`."""
    return f"{count_words(rounds)} round{'s' if rounds != 1 else ''}"


def times_words(times: int) -> str:
    """Say how many times: `once`, `twice`, `seven times`."""
    return {1: "once", 2: "twice"}.get(times, f"{count_words(times)} times")


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
    unit = {"reps": "", "m": " meters", "s": " seconds", "cal": " calories"}[amount.unit]
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
    if numbers and work.amount.varies:
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
        effort = re.sub(r"(?i)^(?:rpe|effort)\s*", "", work.effort)
        parts.append(f"at an effort of {effort}" + (" out of ten" if re.fullmatch(r"[\d.,–-]+", effort) else ""))
    if work.note:
        parts.append(lower_first(work.note))
    if work.unbroken:
        parts.append("without a break")
    return ", ".join(parts)


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


# More than two reasons in one sentence are not heard.
SAID_REASONS = 2


def why_words(
    reasons: tuple[str, ...],
    written: tuple[str, ...] = (),
    movement: Movement | None = None,
    *,
    still: bool = False,
) -> str:
    """Say why somebody takes an option: "If your knees complain or this is new to you," or "No step?"; at most two reasons.

    "No room" on a run is asked as "No room to run?". Without a reason it is "Or". `still` says it of what a smaller change
    has not helped: "If your knees still complain,".
    """
    asked = next((w for w in written if w.startswith("no ")), None)
    if asked:
        room = (
            movement is not None and asked in {"no room", "no space"} and movement.pattern in {"run", "carry", "lunge"}
        )
        verb = (
            {"run": "run", "carry": "walk", "lunge": "walk"}.get(movement.pattern or "", "")
            if movement and room
            else ""
        )
        return f"{upper_first(asked)} to {verb}?" if verb else f"{upper_first(asked)}?"
    item = movement.kit[0] if movement is not None and movement.kit else None
    kit = "weight" if item is None else plural_of(item.names[0]) if item.count > 1 else item.names[0]
    clauses = [c.replace("no weight", f"no {kit}") for c in _clauses(reasons[:SAID_REASONS])]
    if movement is not None and not has_load(movement):
        clauses = [_UNLOADED.get(c, c) for c in clauses]
    if still:
        clauses = [_STILL.sub(r"still \1", c, count=1) for c in clauses]
    # A clause that has two things itself begins anew: "If your knees complain, or if lying down or a low head bothers you,".
    joint = ", or if " if any(c.startswith("lying down") for c in clauses) else " or "
    return f"If {joint.join(clauses)}," if clauses else "Or:"


_STILL = re.compile(r"\b(complains?|gives|feel)\b")


# A plank or a run cannot be too light.
_UNLOADED = {"it is too light": "it is too easy", "it is too heavy": "it is too hard"}


def has_load(movement: Movement) -> bool:
    """Say whether a movement is done with a weight, so that it can be too light or too heavy."""
    return any(KIT[name].weight for item in movement.kit for name in item.names)


def _clauses(reasons: tuple[str, ...]) -> list[str]:
    areas = [AREA_SAID[r] for r in reasons if r in AREA_SAID]
    clauses = [REASON_SAID[r] for r in reasons if r in REASON_SAID]
    if areas:
        one = len(areas) == 1 and areas[0] in {"low back", "neck"}
        mixed = len(areas) == 2 and bool({"low back", "neck"} & set(areas))
        clauses.insert(0, f"your {(' or your ' if mixed else ' or ').join(areas)} complain{'s' if one else ''}")
    return clauses


def option_words(option: Option, movement: Movement) -> str:
    """Say the work of an option, as an instruction: `do 20 step-ups, weight at your side`."""
    return work_words(option.work, movement)


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


def amount_card(work: Work) -> str:
    """Write an amount for a card: `20`, `200 m`, `1:00`, `15 cal`, `max`, `21-15-9`."""
    amount = work.amount
    if amount.most:
        return "max"
    if amount.varies:
        return "-".join(str(n) for n in amount.by_round) + ("-…" if amount.step else "")
    number = amount.in_round(0)
    if amount.unit == "s":
        return write_clock(number)
    written = f"{number}–{amount.at_most}" if amount.at_most else f"{number:,}"
    if len(work.amounts) > 1:
        written += f" / {work.amounts[1].in_round(0):,}"
    return {"reps": written, "m": f"{written} m", "cal": f"{written} cal"}[amount.unit]


def sides_card(work: Work) -> str | None:
    """Write the count of a side for a card: `10 each leg`."""
    amount = work.amount
    if not shares_sides(work) or amount.most or amount.varies or amount.in_round(0) % 2:
        return None
    half = amount.in_round(0) // 2
    return f"{write_clock(half) if amount.unit == 's' else half} each {work.side_word or 'side'}"


def load_card(work: Work) -> str | None:
    """Write the loads for a card: `22.5 / 15 kg`, `2 × 15 kg`."""
    if not work.loads:
        return None
    return " / ".join((f"{load.count} × " if load.count > 1 else "") + load.written for load in work.loads)


def work_figure(work: Work, movement: Movement) -> Figure:
    """Give the number of a line of work for the card."""
    one = work.amount.unit != "reps" or (work.amount.in_round(0) == 1 and not work.amount.varies)
    label = name_words(movement) if one else many_words(movement)
    tempo = f"tempo {work.tempo}" if work.tempo else None
    under = " · ".join(x for x in (sides_card(work), load_card(work), tempo, work.note) if x) or None
    return Figure(number=amount_card(work), label=label, under=under)


def work_card(work: Work, movement: Movement) -> str:
    """Write a line of work in one line: `20 goblet step-ups · 10 each leg`."""
    figure = work_figure(work, movement)
    return f"{figure.number} {figure.label}" + (f" · {figure.under}" if figure.under else "")
