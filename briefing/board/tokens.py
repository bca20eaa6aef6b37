"""The tokens of a board's line: every way in which a piece of it can be taken, each with its span and a cost.

Tokens overlap: `12m` is twelve metres, twelve minutes, or a twelve and a word. Which of them stand is decided over the
whole line (`board/cover.py`), never here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from briefing.board.amounts import read_number
from briefing.board.vocabulary import (
    FIRST_OF_PHRASES,
    KIT_SPELLINGS,
    LONGEST_PHRASE,
    MANNERS,
    NUMBERS_IN_WORDS,
    PHRASES,
    UNIT_SPELLINGS,
)
from briefing.units import Unit, read_clock

Form = Literal["one", "pair", "range", "list", "ladder"]

# Signs that stand for another one, one for one, so that columns stay right.
_SAME_SIGN = str.maketrans(
    {
        "×": "x", "✕": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "’": "'", "‘": "'", "′": "'", "´": "'", "`": "'",
        "″": '"', "“": '"', "”": '"', "…": "…", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "•": "*", "·": "*", "½": "½", "；": ";", "，": ",", "：": ":",
    }
)  # fmt: skip
# A longer line is no line of a board; what stands behind it is not read, and said so. Our choice.
LONGEST_LINE = 1_000


@dataclass(frozen=True, slots=True)
class Quantity:
    """One or more numbers of a unit: `12`, `200 m`, `12/9 cal`, `3-5`, `21-15-9`, `2-4-6-…` (a ladder, with its step).

    Values are whole reps, metres, seconds or calories, already in that unit; `unit` is None where none stands there.
    """

    form: Form
    values: tuple[float, ...]
    unit: Unit | None
    written: str
    step: int = 0
    odd: str | None = None


@dataclass(frozen=True, slots=True)
class LoadWords:
    """A load as it stands there: `2x24/16 kg` has values (24, 16), count 2; `bw` is a share of the body's weight."""

    values: tuple[float, ...]
    unit: Literal["kg", "lb", "pood", "bw"] | None
    count: int
    written: str


@dataclass(frozen=True, slots=True)
class Token:
    """One way to take a piece of a line: columns from 0, `end` behind the last character."""

    kind: str
    start: int
    end: int
    value: Any
    cost: float


@dataclass(frozen=True, slots=True)
class Atom:
    """A run of letters, a run of digits, or one sign."""

    start: int
    end: int
    text: str


def plain(line: str) -> str:
    """Give a line in small letters with one sign for each meaning, as long as before."""
    small = "".join(low if len(low := c.lower()) == 1 else c for c in line)
    return small.translate(_SAME_SIGN)


def atoms_of(line: str) -> list[Atom]:
    """Cut a plain line into atoms; blanks are left out."""
    return [Atom(m.start(), m.end(), m[0]) for m in re.finditer(r"[0-9]+|[^\W\d_]+(?:'[^\W\d_]+)*|\S", line)]


_N = r"(?:\d{1,3}(?:[.,]\d{3})+(?![\d.,]*\d)|\d+(?:[.,]\d+)?(?![.,]?\d))"
_C = r"(?:\d{1,2}:\d{2}:\d{2}|\d{0,3}:\d{2})(?!\d|:\d)"
_UNITS = "|".join(sorted((re.escape(w) for w in UNIT_SPELLINGS), key=len, reverse=True))
_U = rf"(?:\s?(?P<unit>{_UNITS})(?![^\W\d_]))"
_SEP_RANGE = r"\s*(?:-|\bto\b)\s*"

_UNIT_BEHIND = re.compile(_U.replace(r"\s?", r"\s", 1))
_ONE = re.compile(rf"(?P<a>{_N})")
_ONE_UNIT = re.compile(rf"(?P<a>{_N}){_U}")
_CLOCK = re.compile(_C)
_PRIMES = re.compile(r"(?P<min>\d{1,3})\s?'\s?(?P<sec>\d{2})(?:\"|s\b|'')?(?!\d)")
_MIN_SEC = re.compile(r"(?P<min>\d{1,3})\s?(?:min|mins|m)\s?(?P<sec>\d{1,2})\s?(?:s|sec|secs|seconds)(?![^\W\d_])")
_PAIR = re.compile(rf"(?P<a>{_N})(?:\s?(?P<u1>{_UNITS})(?![^\W\d_]))?\s?/\s?(?P<b>{_N}){_U}?")
_CLOCK_PAIR = re.compile(rf"(?P<a>{_C})\s?/\s?(?P<b>{_C})")
_RANGE = re.compile(rf"(?P<a>{_N})(?:\s?(?P<u1>{_UNITS})(?![^\W\d_]))?{_SEP_RANGE}(?P<b>{_N}){_U}?")
_CLOCK_RANGE = re.compile(rf"(?P<a>{_C}){_SEP_RANGE}(?P<b>{_C})")
_GAP = r"\s?(?:-|/|>|,\s?|,?\sthen\s)\s?"
_LIST = re.compile(
    rf"(?P<a>\d+(?:\s?[-/>]\s?\d+)+|\d+(?:,\s?\d+){{2,}})"
    rf"(?P<on>\s?[-/>,]?\s?(?:…|\.\.\.?|etc\.?|and so on)(?:\s?[-/>,]?\s?(?P<last>\d+)(?![\d:'\"]|\s?(?:min|sec|m\b|s\b)))?)?{_U}?"
)
_TO_LIST = re.compile(
    rf"(?P<a>\d+)\s?(?:to|down to|up to|->|>)\s?(?P<b>\d+)(?:\s?(?:by|in)\s?(?P<by>\d+)(?:'?s)?)?{_U}?"
)
_LOAD_UNIT = r"(?:kgs?|kilos?|kilograms?|lbs?|pounds?|pood|#)(?![^\W\d_])\.?"
_LOAD = re.compile(
    rf"(?:@\s*|(?:at|with)\s+)?(?:(?P<count>\d|two|one|a pair of)\s*x?\s*)?(?<![\d.])(?P<a>{_N})\s*(?P<u1>{_LOAD_UNIT})?"
    rf"(?:\s*/\s*(?:\d\s*x\s*)?(?P<b>{_N}))?(?:\s*(?P<u2>{_LOAD_UNIT}))?"
)
_AT = re.compile(
    rf"@\s*(?:(?P<count>\d)\s*x\s*)?(?P<a>{_N})(?:\s*/\s*(?:\d\s*x\s*)?(?P<b>{_N}))?(?!\s?(?:%|rpe|:|/|-?\d)|\s?k\b)"
)
_COUNT_LOAD = re.compile(rf"(?P<count>\d|two)\s*x\s*(?P<a>{_N})\s?/\s?(?:\d\s*x\s*)?(?P<b>{_N})")
_TWO_OF = re.compile(
    r"(?P<count>[12]|one|two)\s?x\s?(?P<a>\d{1,3}(?:[.,]\d{1,2})?)(?![\d:]|\s?(?:m\b|s\b|sec|min|x\b|reps?|cal|%|/|kg|lb))"
)
_BODY = re.compile(rf"(?:@\s*)?(?:(?P<a>{_N})\s*x?\s*)?(?:bw|body\s?-?weight)(?![^\W\d_])")
_WEIGHT_S = re.compile(rf"(?P<a>{_N})s(?:\s*/\s*(?P<b>{_N})s)?(?![^\W\d_])")
_PERCENT = re.compile(
    r"(?:@\s*|at\s+)?(?P<a>\d{1,3}(?:[.,]\d+)?)(?:\s?-\s?(?P<b>\d{1,3}))?\s?%"
    r"(?:\s?(?:of\s)?(?:your\s|a\s)?(?P<of>(?:\d\s?rm|max|best|today's best|training max|bw|body\s?weight|that|it|the heavy|today's heavy|the heavy (?:one|set|double|triple|single))))?"
)
# How fast one strokes: strokes a minute.
_STROKES = re.compile(
    r"(?:@\s*)?(?:(?:stroke\s)?rate\s?:?\s?\d{2}(?:\s?-\s?\d{2})?|\d{2}(?:\s?-\s?\d{2})?\s?(?:spm|rpm)|r\d{2}(?:-\d{2})?)(?![^\W\d_]|\d)"
)
_PERCENTS = re.compile(r"(?:@\s*)?(?P<list>\d{2,3}%?(?:\s?[/,-]\s?\d{2,3}%?){2,})\s?(?<=[\d%\s])%?(?<=%)")
_RPE = re.compile(
    r"(?:@\s*)?(?:(?:rpe|effort)\s*:?\s*(?P<a>\d{1,2}(?:[.,]5)?)(?:\s?-\s?(?P<b>\d{1,2}))?(?:\s*(?:/|of|out of)\s*10)?"
    r"|(?P<rir>\d)\s*rir|rir\s*(?P<rir2>\d)|(?P<c>\d{1,2})\s*(?:(?:out of|of)\s*(?:10|ten)|/\s*10\s*(?:effort|rpe)))(?![\d%])"
)
_TEMPO = re.compile(
    r"(?:(?P<word>tempo\s*:?\s*)@?\s*|(?P<at>@\s*))?(?P<t>[\dx](?P<s>[-. ]?)[\dx](?P=s)[\dx](?P=s)[\dx])(?![\d%a-z/]|\s?(?:kg|lb|m\b))"
)
_PACE = re.compile(
    r"(?:@\s*|at\s+)?(?P<p>\d{1,2}:\d{2}\s?(?:/|per)\s?(?:mi|mile|km|k|500\s?m?|500)|\d{1,2}\s?k(?:m)?\s?(?:race\s?)?(?:pace|effort)"
    r"|(?:easy|race|marathon|threshold|tempo|conversational|moderate|steady|recovery)\space|(?:zone|z)\s?\d(?:\s?-\s?\d)?)(?![^\W\d_])"
)
_SIDES = r"(?:side|arm|leg|hand|foot|way|direction)s?"
_SIDE = re.compile(
    rf"(?:on\s)?(?:(?:(?:each|ea\.?|per|every|p/|a)\s?|/)(?P<word>{_SIDES})|e/s|e\.s\.|p/s|each|ea\.?|both\s(?P<both>{_SIDES})"
    r"|(?:l/r|r/l|l\s?[&+]\s?r|r\s?[&+]\s?l|left\s?(?:and|&|/)\s?right|right\s?(?:and|&|/)\s?left))(?![^\W\d_])"
)
_ONE_SIDE = re.compile(r"(?P<s>right|left|r|l)(?:\s(?:arm|leg|side))?(?![^\W\d_'/&+-])")
_LABEL = re.compile(
    r"(?:(?:min(?:ute)?s?|station)\s?(?P<min>\d{1,2})\s?[:.)=-]?(?=\s|$|[^\d\s])|(?P<letter>[a-h])(?P<n>\d)\s?[.):=-]?(?=\s|$)"
    r"|p(?P<p>\d)\s?[:.)=]?(?=\s)|#?(?P<num>\d{1,2})\s?[.)](?=\s|[^\W\d_]|$)|(?P<num2>\d{1,2}):(?=\s)"
    r"|(?P<odd>odds?|evens?)(?:\s(?:min(?:ute)?s?|one))?\s?[:.)=-]?(?=\s|$))"
)
_PART = re.compile(r"(?:part\s(?P<a>[a-h1-9])\s?[:.)-]?|(?P<b>[a-h])\s?(?:[.):]|-(?=\s)))(?=\s|$)")
_INCH = re.compile(rf"(?P<a>{_N})(?:\s?/\s?(?P<b>{_N}))?\s?(?:\"|''|in(?:ch(?:es)?)?\b|cm\b)")
_A_MINUTE = re.compile(r"(?:(?P<half>half\sa)|a|one)\sminute(?:'s)?(?:\sof)?(?![^\W\d_])")
_EMOM = re.compile(r"e(?P<k>\d{1,2})\s?m(?:o)?m(?![^\W\d_])|e(?P<s>\d{2,3})\s?s(?:om)?(?![^\W\d_])")
_RM = re.compile(r"(?:a\s)?(?P<n>\d{1,2})\s?rm(?![^\W\d_])")
_COMPLEX = re.compile(r"\d{1,2}(?:\s?\+\s?\d{1,2})+(?![\d:]|\s?[^\W\d_])")
_AFTER_ROUND = re.compile(
    r"after\s(?:the\s)?(?:(?P<value>\d{1,3})'?s|(?:round|rd|set)s?\s(?P<list>\d{1,2}(?:(?:\s?,\s?|\sand\s|\s?&\s?)\d{1,2})*))(?![^\W\d_])"
)
_CLIMB = re.compile(
    r"min(?:ute)?\s?1\s?[:=]?\s?(?P<a>\d{1,3})(?:\s(?P<work>(?!reps?\b)[^\W\d_][^,;:]*?))?(?:\sreps?)?\s?[,;]\s?min(?:ute)?\s?2\s?[:=]?\s?(?P<b>\d{1,3})[^,;…]*?"
    r"(?:[,;]\s?min(?:ute)?\s?3[^,;…]*?)?\s?[,;]?\s?(?:…|\.\.\.|and so on|etc\.?)|min(?:ute)?\s?n\s?[:=]\s?n"
)
_RATIO = re.compile(
    r"work\s?[:/to]+\s?rest\s?[:=]?\s?(?P<a>\d)\s?:\s?(?P<b>\d)|(?P<c>\d)\s?:\s?(?P<d>\d)\s?(?:work\s?[:/to]+\s?rest|rest|ratio)"
)
_MISSED = re.compile(
    r"(?:until|till)\s(?:you\s(?:miss|fail|can't|cannot|drop)|failure|(?:the|a)\sminute\sis\s(?:not\senough|too\sshort)|you're\sout|death)[^,;.]*"
)
_A_KIT = "|".join(sorted((re.escape(w) for w in KIT_SPELLINGS), key=len, reverse=True))
_COUNT_KIT = re.compile(
    rf"(?<!\d)(?P<count>[12]|two|a pair of|pair of|one|a|an|single|double)\s?x?\s?(?P<kit>{_A_KIT})(?![^\W\d_])"
)


def _value(raw: str) -> tuple[float, str | None]:
    return read_number(raw)


def _scaled(raw: str, unit: str | None) -> tuple[float, Unit | None, str | None]:
    value, odd = _value(raw)
    if unit is None:
        return value, None, odd
    kind, factor = UNIT_SPELLINGS[unit]
    return value * factor, kind, odd


def _kind(form: Form, unit: Unit | None) -> str:
    if unit is None:
        return {"one": "num", "pair": "pair", "range": "range"}.get(form, "list")
    if unit == "s":
        return {"one": "time", "pair": "timepair", "range": "timerange"}.get(form, "list")
    return {"one": "qty", "pair": "qtypair", "range": "qtyrange"}.get(form, "list")


@lru_cache(maxsize=4096)
def _clock(raw: str) -> int | None:
    return read_clock(raw)


def quantities(line: str, at: int) -> Iterator[Token]:  # noqa: C901, PLR0912, PLR0915 - a table of spellings, read from the top
    """Give every quantity that can begin at a column."""

    def token(m: re.Match[str], q: Quantity, cost: float = 0.0) -> Token:
        return Token(_kind(q.form, q.unit), m.start(), m.end(), q, cost)

    m = _CLOCK.match(line, at)
    if m:
        seconds = _clock(m[0])
        if seconds is None:
            yield Token("badtime", m.start(), m.end(), m[0], 0.0)
        else:
            yield token(m, Quantity("one", (seconds,), "s", m[0]))
        m = _CLOCK_PAIR.match(line, at)
        if m and (first := _clock(m["a"])) is not None and (second := _clock(m["b"])) is not None:
            yield token(m, Quantity("pair", (first, second), "s", m[0]))
        m = _CLOCK_RANGE.match(line, at)
        if m and (low := _clock(m["a"])) is not None and (high := _clock(m["b"])) is not None and low < high:
            yield token(m, Quantity("range", (low, high), "s", m[0]))
        return
    if not line[at : at + 1].isdigit():
        return
    m = _ONE.match(line, at)
    if m is None:
        return
    value, odd = _value(m["a"])
    # "185/135": the first number alone is hardly meant.
    yield token(
        m,
        Quantity("one", (value,), None, m[0], odd=odd),
        1.5 if re.match(r"[/-]\d", line[m.end() : m.end() + 2]) else 0.0,
    )
    if "," in m["a"]:
        # "10,20" can be a list without blanks as well as a number with a decimal comma.
        head = re.compile(r"\d+").match(line, at)
        assert head is not None  # noqa: S101 - a digit stands here
        yield token(head, Quantity("one", (float(head[0]),), None, head[0]), 0.6)
    m = _ONE_UNIT.match(line, at)
    if m:
        value, unit, odd = _scaled(m["a"], m["unit"])
        yield token(m, Quantity("one", (value,), unit, m[0], odd=odd))
        if m["unit"] == "m":
            yield token(m, Quantity("one", (_value(m["a"])[0] * 60,), "s", m[0]), 0.7)
    m = _PRIMES.match(line, at) or _MIN_SEC.match(line, at)
    if m and int(m["sec"]) < 60:
        yield token(m, Quantity("one", (60 * int(m["min"]) + int(m["sec"]),), "s", m[0]))
    m = _PAIR.match(line, at)
    if m:
        unit_word = m["unit"] or m["u1"]
        a, unit, odd = _scaled(m["a"], m["u1"] or m["unit"])
        b, unit_b, _ = _scaled(m["b"], unit_word)
        if unit_b == unit:
            yield token(m, Quantity("pair", (a, b), unit, m[0], odd=odd))
            if unit_word == "m":
                yield token(m, Quantity("pair", (_value(m["a"])[0] * 60, _value(m["b"])[0] * 60), "s", m[0]), 0.7)
    m = _RANGE.match(line, at)
    if m:
        unit_word = m["unit"] or m["u1"]
        a, unit, odd = _scaled(m["a"], m["u1"] or m["unit"])
        b, unit_b, _ = _scaled(m["b"], unit_word)
        if unit_b == unit and a < b:
            yield token(m, Quantity("range", (a, b), unit, m[0], odd=odd))
            if unit_word == "m":
                yield token(m, Quantity("range", (_value(m["a"])[0] * 60, _value(m["b"])[0] * 60), "s", m[0]), 0.7)
    yield from _lists(line, at)


def _lists(line: str, at: int) -> Iterator[Token]:
    m = _LIST.match(line, at)
    if m:
        numbers = [int(n) for n in re.findall(r"\d+", m["a"])]
        commas = "," in m["a"]
        yield from _list_token(m, numbers, m["on"], m["last"], m["unit"], 0.5 if commas else 0.0)
        # Without its unit, which may be the first letter of what follows.
    m = _TO_LIST.match(line, at)
    if m:
        a, b, by = int(m["a"]), int(m["b"]), int(m["by"] or 1)
        if a != b and by and (a - b) % by == 0 and abs(a - b) // by <= MOST_ROUNDS:
            step = by if b > a else -by
            values = tuple(float(n) for n in range(a, b + (1 if step > 0 else -1), step))
            cost = 0.3 if a > b or m["by"] else 1.2  # "3 to 5" is a range sooner than a ladder
            yield _of_list(m, values, m["unit"], 0, cost)


# More rounds than anybody does.
MOST_ROUNDS = 200


def _list_token(
    m: re.Match[str], numbers: list[int], goes_on: str | None, last: str | None, unit: str | None, cost: float
) -> Iterator[Token]:
    if goes_on is None:
        if len(numbers) == 2 and "/" in m["a"]:
            return  # a pair
        rises = len(numbers) == 2 and numbers[0] < numbers[1]
        yield _of_list(
            m, tuple(map(float, numbers)), unit, 0, cost + (1.5 if rises else 0.3 if len(numbers) == 2 else 0)
        )
        return
    step = numbers[-1] - numbers[-2]
    if last is None:
        if step > 0:
            yield _of_list(m, tuple(map(float, numbers)), unit, step, cost)
        else:
            yield Token("badlist", m.start(), m.end(), m[0], cost)
        return
    end = int(last)
    if (
        step == 0
        or (end - numbers[-1]) % step
        or (end - numbers[-1]) // step < 0
        or (end - numbers[-1]) // step > MOST_ROUNDS
    ):
        yield Token("badlist", m.start(), m.end(), m[0], cost)
        return
    rest = range(numbers[-1] + step, end + (1 if step > 0 else -1), step)
    yield _of_list(m, tuple(map(float, (*numbers, *rest))), unit, 0, cost)


def _of_list(m: re.Match[str], values: tuple[float, ...], unit: str | None, step: int, cost: float) -> Token:
    kind, factor = UNIT_SPELLINGS[unit] if unit else (None, 1.0)
    form: Form = "ladder" if step else "list"
    scaled = tuple(v * factor for v in values)
    return Token("list", m.start(), m.end(), Quantity(form, scaled, kind, m[0], step=round(step * factor)), cost)


def loads(line: str, at: int) -> Iterator[Token]:
    """Give every load that can begin at a column: `24kg`, `@40`, `2x15kg`, `95/65 lb`, `1.5 BW`."""
    m = _LOAD.match(line, at)
    if m and m["u1"] and m["b"] and not m["u2"]:
        # "16 kg / 22 …": a weight, and the next line of work.
        m = _LOAD.match(line[: m.start("b")].rstrip(" /"), at)
    if m and (m["u1"] or m["u2"]):
        unit: Any = {"p": "pood" if (m["u2"] or m["u1"]).startswith("pood") else "lb", "l": "lb", "#": "lb"}.get(
            (m["u2"] or m["u1"])[0], "kg"
        )
        values = tuple(_value(x)[0] for x in (m["a"], m["b"]) if x)
        if m["b"] or m["u1"] or m["u2"]:
            count = {"two": 2, "a pair of": 2, "one": 1, None: 1}.get(m["count"], 0) or int(m["count"])
            yield Token("load", m.start(), m.end(), LoadWords(values, unit, count, m[0].strip()), 0.0)
    m = _TWO_OF.match(line, at)
    if m:
        yield Token(
            "load",
            m.start(),
            m.end(),
            LoadWords((_value(m["a"])[0],), None, 2 if m["count"] in {"2", "two"} else 1, m[0].strip()),
            0.0 if re.search(r"[.,]", m["a"]) else 0.5,
        )
    m = _AT.match(line, at) or _COUNT_LOAD.match(line, at)
    if m:
        values = tuple(_value(x)[0] for x in (m["a"], m["b"]) if x)
        count = {"two": 2, None: 1}.get(m["count"], 0) or int(m["count"])
        yield Token("load", m.start(), m.end(), LoadWords(values, None, count, m[0].strip()), 0.1)
    m = _BODY.match(line, at)
    if m:
        share = _value(m["a"])[0] if m["a"] else 1.0
        yield Token("load", m.start(), m.end(), LoadWords((share,), "bw", 1, m[0].strip(" @")), 0.0)
    m = _WEIGHT_S.match(line, at)
    if m and line[:at].rstrip().endswith("("):
        values = tuple(_value(x)[0] for x in (m["a"], m["b"]) if x)
        yield Token("weights", m.start(), m.end(), LoadWords(values, None, 1, m[0]), 0.2)


# How a line is done besides its amount: kind, pattern, what the token's value is, cost.
def _marks(line: str, at: int) -> Iterator[Token]:  # noqa: C901 - a table of spellings
    m = _PERCENT.match(line, at)
    if m:
        yield Token(
            "percent", m.start(), m.end(), (_value(m["a"])[0], m["b"] and float(m["b"]), m["of"], m[0].strip(" @")), 0.0
        )
    m = _STROKES.match(line, at)
    if m:
        yield Token("effort", m.start(), m.end(), m[0].strip(), 0.0)
    m = _PERCENTS.match(line, at)
    if m:
        yield Token("percents", m.start(), m.end(), tuple(float(n) for n in re.findall(r"\d+", m["list"])), 0.0)
    m = _RPE.match(line, at)
    if m:
        yield Token("effort", m.start(), m.end(), _effort_words(m), 0.1 if m["c"] else 0.0)
    m = _TEMPO.match(line, at)
    if m and not (m["word"] or m["at"]) and not re.fullmatch(r"\d[-. ]?\d[-. ]?x[-. ]?\d", m["t"]):
        m = None  # "2x24" is two of a weight: only "31x1", with its fast way up, goes without a word
    if m and (m["word"] or m["at"] or ("x" in m["t"] and m["t"].replace("x", "") != "")) and len(set(m["t"])) > 0:
        yield Token("tempo", m.start(), m.end(), m["t"].upper(), 0.0)
    m = _PACE.match(line, at)
    if m:
        yield Token("pace", m.start(), m.end(), m["p"], 0.0)
    m = _INCH.match(line, at)
    if m:
        yield Token("height", m.start(), m.end(), m[0].strip(), 0.4)
    m = _RM.match(line, at)
    if m:
        yield Token("rm", m.start(), m.end(), int(m["n"]), 0.0)
    m = _AFTER_ROUND.match(line, at)
    if m:
        value = (
            ("value", int(m["value"]))
            if m["value"]
            else ("rounds", tuple(int(n) for n in re.findall(r"\d+", m["list"])))
        )
        yield Token("after_round", m.start(), m.end(), value, 0.0)
    m = _RATIO.match(line, at)
    if m:
        yield Token("ratio", m.start(), m.end(), (int(m["a"] or m["c"]), int(m["b"] or m["d"])), 0.0)
    m = _CLIMB.match(line, at)
    if m:
        climb = (int(m["a"]), int(m["b"]), m.span("work")) if m["a"] else (1, 2, (-1, -1))
        yield Token("minute_n", m.start(), m.end(), climb, 0.0)
    m = _MISSED.match(line, at)
    if m:
        yield Token("until_missed", m.start(), m.end(), m[0], 0.0)
    m = _COMPLEX.match(line, at)
    if m:
        yield Token("complex_counts", m.start(), m.end(), tuple(int(n) for n in re.findall(r"\d+", m[0])), 0.0)
    m = _COUNT_KIT.match(line, at)
    if m:
        counts = {"two": 2, "a pair of": 2, "pair of": 2, "double": 2, "one": 1, "a": 1, "an": 1, "single": 1}
        count = counts.get(m["count"], 0) or int(m["count"])
        yield Token("count_kit", m.start(), m.end(), (count, KIT_SPELLINGS[m["kit"]]), 0.0)


def _effort_words(m: re.Match[str]) -> str:
    if m["rir"] or m["rir2"]:
        return f"RIR {m['rir'] or m['rir2']}"
    if m["c"]:
        return m[0].strip(" @")
    return f"RPE {m['a']}" + (f"-{m['b']}" if m["b"] else "")


def _labels(line: str, at: int, *, first: bool) -> Iterator[Token]:
    m = _PART.match(line, at)
    if m and (first or m["a"]):
        yield Token("part", m.start(), m.end(), (m["a"] or m["b"]).upper(), 0.0)
    m = _LABEL.match(line, at)
    if m:
        number = m["min"] or m["num"] or m["num2"]
        if m["odd"]:
            value: tuple[str, int] = ("odd", 1 if m["odd"].startswith("odd") else 2)
        elif m["letter"]:
            value = (m["letter"], int(m["n"]))
        elif m["p"]:
            value = ("person", int(m["p"]))
        else:
            value = ("minute" if m["min"] else "number", int(number))
        yield Token("label", m.start(), m.end(), value, 0.0 if first or m["odd"] or m["min"] else 0.5)


def _sides(line: str, at: int) -> Iterator[Token]:
    m = _SIDE.match(line, at)
    if m:
        yield Token("side", m.start(), m.end(), m["word"] or m["both"], 0.0)
    m = _ONE_SIDE.match(line, at)
    if m:
        yield Token("oneside", m.start(), m.end(), m["s"][0], 0.6)


def _phrases(line: str, atoms: list[Atom], index: int, alt: dict[int, str]) -> Iterator[Token]:
    """Give the key words that begin with an atom: the table's phrases, their words apart by blanks or dashes."""
    first = alt.get(index, atoms[index].text)
    if first not in FIRST_OF_PHRASES:
        return
    text, cost = first, (0.8 if index in alt else 0.0)
    for end in range(index, min(len(atoms), index + LONGEST_PHRASE)):
        if end > index:
            gap = line[atoms[end - 1].end : atoms[end].start]
            joined = atoms[end].text in "-&+/" and len(atoms[end].text) == 1
            text += ("" if joined or atoms[end - 1].text in "/&+" else " " if gap else "") + (
                " " if atoms[end].text == "-" else alt.get(end, atoms[end].text)
            )
            cost += 0.8 if end in alt else 0.0
        key = re.sub(r"\s+", " ", text)
        for kind, value, own_cost in PHRASES.get(key, ()):
            yield Token(kind, atoms[index].start, atoms[end].end, value, cost + own_cost)


def _manners(atoms: list[Atom], index: int) -> Iterator[Token]:
    if atoms[index].text in MANNERS:
        yield Token("manner", atoms[index].start, atoms[index].end, atoms[index].text, 0.3)


_SIGNS = {
    ",": "comma", ";": "semi", ":": "colon", "-": "dash", "/": "slash", "+": "plus", "&": "and", ".": "dot", "(": "open",
    ")": "close", "[": "open", "]": "close", "{": "open", "}": "close", "*": "bullet", "#": "bullet", "@": "at", "=": "equals",
    ">": "dash", "|": "slash", "!": "dot", "?": "dot", "~": "about", '"': "quote", "…": "dot", "'": "quote",
}  # fmt: skip


def lex(line: str, alt: dict[int, str] | None = None) -> dict[int, list[Token]]:
    """Give all tokens of a plain line but names of movements, by the column at which they begin.

    `alt` has, for the index of an atom, the word that it is taken for (a slip of the hand).
    """
    atoms = atoms_of(line)
    other = alt or {}
    out: dict[int, list[Token]] = {}
    counted = _counted_labels(line)
    for index, atom in enumerate(atoms):
        at = atom.start
        found = out.setdefault(at, [])
        if at in counted:
            end, number = counted[at]
            found.append(Token("label", at, end, ("number", number), 0.0))
            continue
        first = not line[:at].strip(" *-#")
        behind_digit = at > 0 and line[at - 1].isdigit() and atom.text[0].isdigit()
        glued = at > 0 and line[at - 1].isalpha()
        if atom.text[0].isdigit() or atom.text == ":":
            if not behind_digit:
                found += quantities(line, at)
                found += loads(line, at)
        elif atom.text == "@" or not glued:
            found += loads(line, at)
        if atom.text == "/" and glued:
            found += _sides(line, at)
        if not glued and (m := _A_MINUTE.match(line, at)) is not None:
            seconds = 30.0 if m["half"] else 60.0
            found.append(Token("time", m.start(), m.end(), Quantity("one", (seconds,), "s", m[0]), 0.0))
        if not glued:
            found += _marks(line, at)
            found += _sides(line, at)
            found += _labels(line, at, first=first)
            m = _EMOM.match(line, at)
            if m:
                found.append(Token("emom", m.start(), m.end(), 60 * int(m["k"]) if m["k"] else int(m["s"]), 0.0))
        if atom.text in NUMBERS_IN_WORDS:
            found += _number_words(line, atoms, index)
        found += _phrases(line, atoms, index, other)
        found += _manners(atoms, index)
        if atom.text in _SIGNS:
            found.append(Token(_SIGNS[atom.text], at, atom.end, None, 0.0))
        if atom.text[0].isdigit() and glued:
            found.append(Token("num", at, atom.end, Quantity("one", (float(atom.text),), None, atom.text), 0.5))
    return out


def _counted_labels(line: str) -> dict[int, tuple[int, int]]:
    """Give the labels of a line that counts its pieces, `1. … 2. … 3. …`: by column, where each ends and its number.

    A line that begins with 1 and goes on with 2 counts; the numbers are no amounts then.
    """
    out: dict[int, tuple[int, int]] = {}
    wanted = 1
    for m in re.finditer(r"(?<![\w:.,/])(\d{1,2})\s?[.)](?=\s|[^\W\d_])", line):
        if int(m[1]) == wanted and (wanted > 1 or not line[: m.start()].strip(" *-#")):
            out[m.start()] = (m.end(), wanted)
            wanted += 1
    return out if len(out) > 1 else {}


def _number_words(line: str, atoms: list[Atom], index: int) -> Iterator[Token]:
    """Give `five`, `twenty-one`, `a dozen` as the numbers they are."""
    atom = atoms[index]
    value = NUMBERS_IN_WORDS[atom.text]
    after = atoms[index + 1 : index + 3]
    yield from _word_number(line, atom.start, atom.end, value)
    if value >= 20 and value % 10 == 0 and after:
        tail = after[-1] if len(after) == 2 and after[0].text == "-" else after[0]
        unit = NUMBERS_IN_WORDS.get(tail.text, 0)
        if 0 < unit < 10:
            yield from _word_number(line, atom.start, tail.end, value + unit)


def _word_number(line: str, start: int, end: int, value: int) -> Iterator[Token]:
    yield Token("num", start, end, Quantity("one", (float(value),), None, line[start:end]), 0.3)
    m = _UNIT_BEHIND.match(line, end)
    if m:
        unit, factor = UNIT_SPELLINGS[m["unit"]]
        q = Quantity("one", (value * factor,), unit, line[start : m.end()])
        yield Token(_kind("one", unit), start, m.end(), q, 0.3)
