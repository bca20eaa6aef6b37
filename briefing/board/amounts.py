"""Numbers, units, times and loads as they stand on a board."""

from __future__ import annotations

import re
from dataclasses import dataclass

from briefing.board.models import Load
from briefing.units import KG_PER_LB, M_PER_FT, M_PER_MI, M_PER_YD, NUMBER_WORDS, Unit, read_clock, write_number

# Above these a number is taken for a slip of the hand. Our choice: the highest sensible board, times about ten.
MOST: dict[Unit, int] = {"reps": 5_000, "m": 100_000, "s": 4 * 3600, "cal": 3_000}

# Unit spellings, with what they are and how many of our unit each is. A row more is a spelling more.
UNITS: tuple[tuple[tuple[str, ...], Unit, float], ...] = (
    (("reps", "rep", "x", "×", "times"), "reps", 1),
    (("m", "meter", "meters", "metre", "metres"), "m", 1),
    (("km", "k", "kilometer", "kilometers", "kilometre", "kilometres"), "m", 1000),
    (("mi", "mile", "miles"), "m", M_PER_MI),
    (("yd", "yds", "yard", "yards"), "m", M_PER_YD),
    (("ft", "feet", "foot"), "m", M_PER_FT),
    (("cal", "cals", "calories", "calorie", "kcal"), "cal", 1),
    (("s", "sec", "secs", "second", "seconds", '"', "″"), "s", 1),
    (("min", "mins", "minute", "minutes", "'", "′"), "s", 60),
)
_UNIT = {word: (unit, factor) for words, unit, factor in UNITS for word in words}
UNIT_WORDS: tuple[str, ...] = tuple(w for w in _UNIT if w.isalpha())

NUMBER = r"-?\d{1,3}(?:[.,\s]\d{3})+(?![\d])|-?\d+(?:[.,]\d+)?"
TIME = r"\d{0,3}:\d{1,2}(?::\d{1,2})?"
_UNIT_PATTERN = "|".join(sorted((re.escape(w) for w in _UNIT), key=len, reverse=True))
_AMOUNT = re.compile(
    rf"^\s*(?:(?P<time>{TIME})(?:\s*/\s*(?P<time2>{TIME}))?"
    rf"|(?P<number>{NUMBER})"
    rf"(?:\s*(?P<slash>/|-|–|—)\s*(?P<number2>\d+(?:[.,]\d+)?))?"
    rf"\s*(?P<unit>(?:{_UNIT_PATTERN})(?![A-Za-z-])|(?<=\d)[\"'′″])?)"
    rf"(?P<of>\s+of\b)?\s*",
    re.IGNORECASE,
)
_LOAD = re.compile(
    r"(?:@\s*|(?<=[\s(,])|^)(?:(?P<count>two|2|one|1)\s*(?:x|×)?\s+)?(?P<first>\d+(?:[.,]\d+)?)"
    r"(?:\s*/\s*(?P<second>\d+(?:[.,]\d+)?))?\s*(?P<unit>kgs?|kilos?|lbs?|pounds?|#)(?![A-Za-z])\.?",
    re.IGNORECASE,
)
# `2x24/2x16 kg`, `60kg/40kg`: the count or the unit written twice.
_TWICE = re.compile(
    r"(?P<count>2)\s*[x×]\s*(?P<a>\d+(?:[.,]\d+)?)\s*(?P<unit>kgs?|lbs?|#)?\s*/\s*2\s*[x×]\s*(?P<b>\d+(?:[.,]\d+)?)\s*(?P<unit2>kgs?|lbs?|#)"
    r"|(?P<c>\d+(?:[.,]\d+)?)\s*(?P<unit3>kgs?|lbs?|#)\s*/\s*(?P<d>\d+(?:[.,]\d+)?)\s*(?P=unit3)",
    re.IGNORECASE,
)
_NUMBER_WORD = "|".join(sorted((w for w in NUMBER_WORDS if w != "zero"), key=len, reverse=True))
# A number in words where a number can stand: at the start of a line of work, or before what is counted.
_WORDS = re.compile(
    rf"(?P<before>^\s*(?:[-*•·]\s+)?(?:or\s+)?)(?P<first>(?:{_NUMBER_WORD})(?:[- ](?:{_NUMBER_WORD}))?|a dozen)(?=\s+[a-z])"
    r"(?!\s+(?:works?|rests?|arms?|legs?|hands?|person|partner|minutes? n\b))"
    rf"|\b(?P<counted>(?:{_NUMBER_WORD})(?:-(?:{_NUMBER_WORD}))?)(?=\s+(?:rounds?|rds?|sets?|times|minutes?|mins?|seconds?|secs?|reps?|each|per|met(?:er|re)s?|calories|cals?|kilos?)\b)",
    re.IGNORECASE,
)
_PERCENT = re.compile(
    r"(?:@\s*)?(?P<first>\d{1,3}(?:[.,]\d+)?)\s*%(?:\s*(?:of\s+)?(?P<of>today'?s best|(?:your\s+)?(?:1\s*rm|max|best)))?",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class ReadAmount:
    """An amount at the start of some text: `value` in `unit`, and where the text goes on (`end`).

    `second` is the number behind a slash (`12/12`, `15/12 cal`), `at_most` the upper end of a range. `unit` is None
    where none stood there, `broken` says that it is no whole number of what it counts. `odd`
    says how a number with thousands in it was read.
    """

    value: int
    unit: Unit | None
    end: int
    written: str
    second: int | None = None
    at_most: int | None = None
    odd: str | None = None
    broken: bool = False


def read_amount(text: str) -> ReadAmount | None:
    """Read an amount at the start of a text: `20`, `12/12`, `3-5`, `1:00`, `:40`, `200 m`, `1.000m`, `15/12 cal`.

    Gives None where the text does not start with one. Distances are rounded to whole metres.
    """
    match = _AMOUNT.match(text)
    if not match:
        return None
    written = match[0].strip().removesuffix("of").strip()
    if match["time"]:
        first = read_clock(match["time"])
        second = read_clock(match["time2"]) if match["time2"] else None
        if first is None:
            return None
        return ReadAmount(first, "s", match.end(), written, second)
    raw = match["number"]
    value, odd = read_number(raw)
    unit_word = (match["unit"] or "").lower()
    unit, factor = _UNIT.get(unit_word, (None, 1.0))
    scaled = round(value * factor)
    number2 = read_number(match["number2"])[0] if match["number2"] else None
    other = round(number2 * factor) if number2 is not None else None
    broken = unit in {None, "reps"} and (value != int(value) or (number2 is not None and number2 != int(number2)))
    if match["slash"] == "/":
        return ReadAmount(scaled, unit, match.end(), written, other, odd=odd, broken=broken)
    return ReadAmount(scaled, unit, match.end(), written, None, other, odd, broken)


def in_figures(line: str) -> str:
    """Put figures where a number stands in words: `Five rounds` is `5    rounds`; as long as before, so columns stay right."""

    def figure(match: re.Match[str]) -> str:
        words = match["first"] or match["counted"]
        value = 12 if words.lower() == "a dozen" else sum(NUMBER_WORDS[w] for w in re.split(r"[- ]", words.lower()))
        before = match["before"] or ""
        return before + str(value).ljust(len(words))

    return _WORDS.sub(figure, line)


def read_number(raw: str) -> tuple[float, str | None]:
    """Read a number with a decimal comma or thousands in it; the second value says how an unclear one was read.

    `1.000` is one thousand, `22,5` is twenty-two and a half, `2,000` is two thousand.
    """
    compact = re.sub(r"\s", "", raw)
    if re.fullmatch(r"-?\d{1,3}(?:[.,]\d{3})+", compact):
        value = float(re.sub(r"[.,]", "", compact))
        return value, (f'"{raw}" was read as {value:,.0f}' if "." in compact else None)
    return float(compact.replace(",", ".")), None


def _once(match: re.Match[str]) -> str:
    """Write count and unit once: `2x24/2x16 kg` is `2 x 24/16 kg`, `60kg/40kg` is `60/40 kg`, as long as before."""
    twice, once = f"2 x {match['a']}/{match['b']} {match['unit2']}", f"{match['c']}/{match['d']} {match['unit3']}"
    made = twice if match["count"] else once
    return made.ljust(len(match[0])) if len(made) <= len(match[0]) else made


def find_loads(text: str) -> tuple[tuple[Load, ...], str]:
    """Take loads out of a text: `22.5/15 kg` is heavier and lighter, `two 15 kg dumbbells` counts two.

    Gives the loads and the text without them (two dumbbells stay in it as words).
    """
    loads: list[Load] = []
    text = _TWICE.sub(_once, text)
    match = _LOAD.search(text)
    if match:
        per = KG_PER_LB if match["unit"].lower()[0] in "lp#" else 1.0
        count = 2 if (match["count"] or "").lower() in {"two", "2"} else 1
        numbers = [n for n in (match["first"], match["second"]) if n]
        values = [round(read_number(n)[0] * per, 3) for n in numbers]
        unit = "lb" if per != 1.0 else "kg"
        if len(values) == 2:
            order = sorted(range(2), key=lambda i: -values[i])
            for group, i in zip(("heavier", "lighter"), order, strict=True):
                loads.append(
                    Load(
                        written=f"{write_number(read_number(numbers[i])[0])} {unit}",
                        kg=values[i],
                        count=count,
                        group=group,
                    )
                )
        else:
            loads.append(Load(written=f"{write_number(read_number(numbers[0])[0])} {unit}", kg=values[0], count=count))
        text = text[: match.start()] + " " + text[match.end() :]
        if (
            count == 2
            and not re.search(r"2\s*[x×]", match[0], re.IGNORECASE)
            and not re.search(r"dumbbells?|dbs?|kettlebells?|kbs?", text, re.IGNORECASE)
        ):
            loads = [load.model_copy(update={"count": 1}) for load in loads]
    percent = _PERCENT.search(text)
    if percent and not loads:
        loads.append(Load(written=percent[0].lstrip("@ ").strip(), percent=read_number(percent["first"])[0]))
        text = text[: percent.start()] + " " + text[percent.end() :]
    return tuple(loads), text
