"""The spoken form of a written text: numbers, units and abbreviations as the words a coach says.

Without this step the seconds of number-heavy lines are 45 % too few. The whole expansion is one table, `ROWS`, read from
top to bottom; each row does one thing, and hands digits on until the last rows say them. The words for units and
abbreviations are tables of data beside it. What no row knows stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from briefing.speech.numbers import number_words, ordinal_words, plural_words

UNITS: tuple[tuple[tuple[str, ...], str, str], ...] = (
    (("min", "mins"), "minute", "minutes"),
    (("sec", "secs", "s"), "second", "seconds"),
    (("hr", "hrs", "h"), "hour", "hours"),
    (("wk", "wks"), "week", "weeks"),
    (("rd", "rds", "rnds"), "round", "rounds"),
    (("lb", "lbs"), "pound", "pounds"),
    (("oz",), "ounce", "ounces"),
    (("kg", "kgs"), "kilo", "kilos"),
    (("g",), "gram", "grams"),
    (("m",), "meter", "meters"),
    (("km", "kms"), "kilometer", "kilometers"),
    (("cm",), "centimeter", "centimeters"),
    (("mm",), "millimeter", "millimeters"),
    (("ft",), "foot", "feet"),
    (("in",), "inch", "inches"),
    (("yd", "yds"), "yard", "yards"),
    (("mi",), "mile", "miles"),
    (("ml",), "milliliter", "milliliters"),
    (("l", "L"), "liter", "liters"),
    (("cal", "cals"), "calorie", "calories"),
    (("kcal",), "kilocalorie", "kilocalories"),
    (("bpm",), "beat per minute", "beats per minute"),
    (("mph",), "mile per hour", "miles per hour"),
    (("kph",), "kilometer per hour", "kilometers per hour"),
    (("rpm",), "revolution per minute", "revolutions per minute"),
    (("W",), "watt", "watts"),
)
"""How a unit is written, and said after one and after more. Another spelling is one word here."""

ABBREVIATIONS: tuple[tuple[str, str], ...] = (
    (r"w/o(?:ut)?", "without"),
    (r"vs\b\.?", "versus"),
    (r"e\.g\b\.?", "for example"),
    (r"i\.e\b\.?", "that is"),
    (r"approx\b\.?", "approximately"),
    (r"incl\b\.?", "including"),
    (r"ea\b\.?", "each"),
)
"""Patterns of written abbreviations that never end a sentence, and their words."""

TRADE: tuple[tuple[str, str], ...] = (
    ("DB", "dumbbell"),
    ("DBs", "dumbbells"),
    ("KB", "kettlebell"),
    ("KBs", "kettlebells"),
    ("BB", "barbell"),
    ("BBs", "barbells"),
    ("BW", "bodyweight"),
    ("RFT", "rounds for time"),
    ("RPE", "R P E"),
    ("RIR", "R I R"),
)
"""The trade's abbreviations; capitals without a vowel that are not here are said letter by letter."""

# What a unit can stand before as one word with its number: "a sixteen minute cap", "a two hundred meter run".
_NOUNS = (
    "cap|mark|limit|time cap|time limit|pace|window|block|interval|AMRAP|EMOM|plank|hold|hang|sit|run|row|ride|swim|"
    "walk|jog|sprint|carry|crawl|shuttle|lap|lunge|dumbbells?|kettlebells?|barbells?|bar|plate|vest|box|step|bench|"
    "target|ball|sandbag|band|rope"
)
# Where a slash before a word means "per".
_PER = (
    "side|leg|arm|hand|foot|direction|way|week|wk|day|month|minute|min|second|sec|s|hour|hr|h|kilometer|km|mile|mi|meter|"
    "m|kilo|kg|pound|lb|round|rd|set|rep|person|athlete|member|station|lap|lift"
)
# A dash after "Round 1" is a dash, no range.
_LABELS = frozenset("round set minute week day part station video step block number phase level page".split())
# Written without a full stop, so that one after them always ends a sentence.
_NO_STOP = frozenset("s h kg kgs g m km kms cm mm ml l L kcal bpm mph kph rpm W".split())
_FRACTIONS = {
    "1/2": "half",
    "1/3": "one third",
    "2/3": "two thirds",
    "1/4": "quarter",
    "3/4": "three quarters",
    "1/8": "one eighth",
    "3/8": "three eighths",
    "5/8": "five eighths",
    "7/8": "seven eighths",
}
_GLYPHS = dict(zip("½⅓⅔¼¾⅛⅜⅝⅞", _FRACTIONS, strict=True))

# What the coach's own list says is carried through the rows as one private character for each entry, so that no row
# touches its words: one range for entries that end in a digit (they count as numbers), one for the others.
_KEPT_NUMBER = "\U00100000-\U0010fffd"
_KEPT_WORD = "\U000f0000-\U000ffffd"
_KEPT = re.compile(f"[{_KEPT_NUMBER}{_KEPT_WORD}]")

# Parts of the patterns. Every pattern begins where nothing like it stands before, so that a long text costs no more
# than its length.
_SP = "[ \t\u00a0\u2009\u202f]"
_NUM = rf"(?:[0-9]+(?:\.[0-9]+)?|[{_KEPT_NUMBER}])"
_DIGIT = f"[0-9{_KEPT_NUMBER}]"
_START = r"(?<![0-9.])"
_NO_LETTER_BEFORE = r"(?<![^\W0-9_])"
_CLOCK = r"[0-9]{0,3}:[0-5][0-9]"
_CLOCK_START = r"(?<![0-9:.])(?:(?<!\w)|(?=[0-9]))"
_CLOCK_END = r"(?![0-9:])"
_SPELLINGS = {spelling: (one, more) for spellings, one, more in UNITS for spelling in spellings}
_UNIT = "|".join(
    f"(?i:{spelling})" if len(spelling) > 1 else spelling for spelling in sorted(_SPELLINGS, key=len, reverse=True)
)

_AT_NOUN = re.compile(rf"{_SP}(?:{_NOUNS})\b")
_AT_BOX = re.compile(rf"{_SP}(?:box|boxes|step|bench|plate|target|tall|high|wide|deep|long|away|platform)\b")
_AT_UNIT = re.compile(rf"(?::[0-5][0-9]|[-–/][0-9]|{_SP}?(?:min|sec|s|m)[a-z]*\b)")
_AT_SENTENCE_END = re.compile(rf"{_SP}*(?:$|[\s¶]|[\"”’)\]]|[A-Z0-9])")
_AT_FEET_AND_INCHES = re.compile(rf"{_SP}?[0-9]+{_SP}?in\b")


class Row(NamedTuple):
    """One rule of the expansion: what it finds, what is said, an example that a test holds, and why it is so."""

    name: str
    pattern: re.Pattern[str]
    said: str | Callable[[re.Match[str]], str]
    written: str
    spoken: str
    note: str = ""


def spoken_form(text: str, own: Sequence[tuple[str, str]] = ()) -> str:
    """Give a text the way it is said, as in `Run 400 m, rest 1:30.` → `Run four hundred meters, rest one minute thirty.`

    `own` is the coach's list of (written, spoken) and wins over everything: `("EMOM", "e-mom")`, `("kg", "kilograms")`,
    `("135", "one thirty-five")`. It is matched as whole words, in any case. Case and punctuation are kept, what is not
    known stays as it is, and any text gives an answer, in time that grows with its length. The spoken form of a spoken
    form is itself.

    Source: speaking-time.md, "What has to be expanded"; where it is silent, our choice, said in the row's note.
    """
    kept: list[str] = []
    if own or _KEPT.search(text):
        text, kept = _keep_own(text, tuple(own))
    for row in ROWS:
        text = row.pattern.sub(row.said, text)
    return _KEPT.sub(lambda match: kept[_kept_index(match[0])], text) if kept else text


def _keep_own(text: str, own: tuple[tuple[str, str], ...]) -> tuple[str, list[str]]:
    said = {written.casefold(): spoken for written, spoken in own}
    kept: list[str] = []
    index: dict[tuple[str, bool], str] = {}

    def keep(match: re.Match[str]) -> str:
        written = match[0]
        spoken = said.get(written.casefold(), written)
        if written in _SPELLINGS and _after_one(text, match.start()):
            spoken = spoken.removesuffix("s")
        counts = written[-1].isdecimal()
        if (spoken, counts) not in index:
            index[spoken, counts] = chr((0x100000 if counts else 0xF0000) + len(kept) % 0xFFFE)
            kept.append(spoken)
        return index[spoken, counts]

    return _own_pattern(own).sub(keep, text), kept


def _kept_index(char: str) -> int:
    return (ord(char) & 0xFFFF) % 0xFFFE


@lru_cache(maxsize=64)
def _own_pattern(own: tuple[tuple[str, str], ...]) -> re.Pattern[str]:
    """Match any entry as a whole word or number, the longest first, and any private character that we use ourselves."""
    entries = sorted({written for written, _ in own if written.strip()}, key=lambda written: (-len(written), written))
    found = [f"{_whole_from(entry)}{re.escape(entry)}{_whole_to(entry)}" for entry in entries]
    return re.compile("|".join([*found, _KEPT.pattern]), re.IGNORECASE)


def _whole_from(entry: str) -> str:
    if entry[0].isdecimal():
        return r"(?<![\w])(?<![0-9][.,:])"
    return _NO_LETTER_BEFORE if entry[0].isalpha() else ""


def _whole_to(entry: str) -> str:
    if entry[-1].isdecimal():
        return r"(?![0-9])(?![.,:][0-9])"
    return r"(?!\w)" if entry[-1].isalpha() else ""


def _after_one(text: str, end: int) -> bool:
    return re.search(rf"(?<![0-9.,:/\-–])1{_SP}?$", text[max(0, end - 4) : end]) is not None


def _ends_sentence(match: re.Match[str]) -> bool:
    """Say whether the full stop at the end of a match ends a sentence: nothing, a capital or a digit comes after it."""
    return _AT_SENTENCE_END.match(match.string, match.end()) is not None


def _like(written: str, said: str) -> str:
    """Give the words with a capital where the written form had one (`Approx.`, not `EMOM`)."""
    return said[0].upper() + said[1:] if written[0].isupper() and not written[1:2].isupper() else said


# The rows' functions, in the order of the rows.


def _thousands(match: re.Match[str]) -> str:
    return re.sub(r"[^0-9]", "", match[0])


def _glyph(match: re.Match[str]) -> str:
    return f"{match[1]} {_GLYPHS[match[2]]}" if match[1] else _GLYPHS[match[2]]


def _abbreviation(match: re.Match[str]) -> str:
    found = next(i for i, group in enumerate(match.groups()) if group is not None)
    return _like(match[0], ABBREVIATIONS[found][1])


def _with(match: re.Match[str]) -> str:
    return _like(match[0], "with") + ("" if match[1] or match.end() == len(match.string) else " ")


def _et_cetera(match: re.Match[str]) -> str:
    return _like(match[0], "et cetera") + ("." if match[0].endswith(".") and _ends_sentence(match) else "")


def _extreme(match: re.Match[str]) -> str:
    return _like(match[0], f"{match[1].lower()}imum")


def _time_of_day(match: re.Match[str]) -> str:
    said = _hour(match[1], match[2])
    if match[3]:
        said += f" to {_hour(match[3], match[4])}"
    said += f" {match[5].upper()} M"
    return said + ("." if match[0].endswith(".") and _ends_sentence(match) else "")


def _hour(hour: str, minutes: str | None) -> str:
    said = number_words(str(int(hour)))
    if minutes is None or minutes == "00":
        return said
    return f"{said} {_two_digits(minutes)}"


def _two_digits(digits: str) -> str:
    """Give minutes after an hour, or seconds of a pace: `05` → `oh five`."""
    return f"oh {number_words(digits[1])}" if digits[0] == "0" else number_words(digits)


def _pace(match: re.Match[str]) -> str:
    said = _split_time(match[1])
    if match[2]:
        said += f" to {_split_time(match[2])}"
    return said + (" per " if match[3] else "")


def _split_time(clock: str) -> str:
    minutes, seconds = clock.split(":")
    if int(minutes or "0") == 0 or seconds == "00":
        return _clock_words(clock, before_noun=False)
    return f"{number_words(str(int(minutes)))} {_two_digits(seconds)}"


def _fraction(match: re.Match[str]) -> str:
    whole, part, gap, unit = match.groups()
    said = _FRACTIONS[part]
    if whole:
        said = {"half": "a half", "quarter": "a quarter"}.get(said, said)
        said = f"{number_words(whole)} and {said}"
    if unit is None:
        return said
    one, more = _words_of(unit)
    if whole:
        return f"{said} {more}"
    if gap == "-" or _AT_NOUN.match(match.string, match.end()):
        return f"{said} {one}"
    article = "an" if one[0] in "aeio" or one == "hour" else "a"
    return f"half {article} {one}" if part == "1/2" else f"{said} of {article} {one}"


def _hours(match: re.Match[str]) -> str:
    parts = [
        _counted(number, *words)
        for number, words in zip(
            match.groups(), (("hour", "hours"), ("minute", "minutes"), ("second", "seconds")), strict=True
        )
        if int(number)
    ]
    return " ".join(parts) or "zero"


def _counted(digits: str, one: str, more: str) -> str:
    return f"{number_words(str(int(digits)))} {one if int(digits) == 1 else more}"


def _clocks(match: re.Match[str]) -> str:
    first, second = match[1], match[2]
    noun = _AT_NOUN.match(match.string, match.end()) is not None
    ends = first.endswith(":00") and second.endswith(":00") and int(second[:-3] or "0") > 0
    begins = number_words(str(int(first[:-3] or "0"))) if ends else _clock_words(first, before_noun=False)
    return f"{begins} to {_clock_words(second, before_noun=noun)}"


def _clock(match: re.Match[str]) -> str:
    said = _clock_words(match[1], before_noun=_AT_NOUN.match(match.string, match.end()) is not None)
    return f"{said} point {' '.join(map(number_words, match[2]))}" if match[2] else said


def _clock_words(clock: str, *, before_noun: bool) -> str:
    minutes, seconds = (int(part or "0") for part in clock.split(":"))
    if not minutes:
        unit = "second" if seconds == 1 or before_noun else "seconds"
        return f"{number_words(str(seconds))} {unit}" if seconds else "zero"
    unit = "minute" if minutes == 1 or before_noun else "minutes"
    said = f"{number_words(str(minutes))} {unit}"
    return f"{said} {number_words(str(seconds))}" if seconds else said


def _scheme(match: re.Match[str]) -> str:
    kind, every, number = match[1], match[2], match[3]
    if kind == "AMRAP":
        said = "as many rounds as possible in "
    else:
        said = f"every {every} min on the minute for " if every else "every minute on the minute for "
    return said + number + ("" if _AT_UNIT.match(match.string, match.end()) else " min")


def _bare_scheme(match: re.Match[str]) -> str:
    if match[0].startswith("A"):
        return "as many rounds as possible"
    return f"every {number_words(match[1])} minutes on the minute" if match[1] else "every minute on the minute"


def _trade(match: re.Match[str]) -> str:
    return _TRADE_WORDS.get(match[0]) or _TRADE_WORDS[match[0].upper().replace("BS", "Bs")]


def _comparison(match: re.Match[str]) -> str:
    said = {
        "<": "under",
        ">": "over",
        "≤": "at most",
        "<=": "at most",
        "≥": "at least",
        ">=": "at least",
        "~": "about",
        "≈": "about",
        "±": "plus or minus",
    }
    return f"{said[match[1]]} "


def _ordinal(match: re.Match[str]) -> str:
    return ordinal_words(int(match[1])) + _gap_after(match)


def _the_twenties(match: re.Match[str]) -> str:
    return plural_words(int(match[1]))


def _ladder(match: re.Match[str]) -> str:
    steps = re.findall(_NUM, match[1])
    said = ", ".join(steps)
    if match[2] is None:
        return f"{said}, and so on"
    rising = len(match[2]) > len(steps[-1]) or (len(match[2]) == len(steps[-1]) and match[2] > steps[-1])
    return f"{said}, {'up' if rising else 'down'} to {match[2]}"


def _range_or_list(match: re.Match[str]) -> str:
    steps = re.split("[-–—]", match[0])
    return " to ".join(steps) if len(steps) == 2 else ", ".join(steps)


def _spaced_range(match: re.Match[str]) -> str:
    first, second = match[1], match[2]
    before = match.string[max(0, match.start() - 12) : match.start()].split()
    label = before[-1].lower() if before else ""
    rising = (len(first), first) < (len(second), second)
    return f"{first} to {second}" if rising and label not in _LABELS else match[0]


def _by(match: re.Match[str]) -> str:
    return " times " if match[1] else " by "


def _times(match: re.Match[str]) -> str:
    return f"{match[1]} {'time' if match[1] == '1' else 'times'}"


def _unit(match: re.Match[str]) -> str:
    number, gap, unit, stop = match.groups()
    spelled = unit.lower() if len(unit) > 1 else unit
    if spelled == "in" and not stop and gap != "-" and not _AT_BOX.match(match.string, match.end()):
        return match[0]
    one, more = _words_of(unit)
    ends = "." if stop and (spelled in _NO_STOP or _unit_ends_sentence(match, spelled)) else ""
    joined = "-" if gap == "-" else " "
    box = spelled == "in" and not stop and match.string.startswith((" box", " step", " bench"), match.end())
    several = match.string.startswith("to ", max(0, match.start() - 3))
    single = gap == "-" or box or (number == "1" and not several) or _AT_NOUN.match(match.string, match.end())
    return f"{number}{joined}{one if single else more}{ends}"


def _unit_ends_sentence(match: re.Match[str], spelled: str) -> bool:
    if spelled == "ft" and _AT_FEET_AND_INCHES.match(match.string, match.end()):
        return False
    return _ends_sentence(match) or match.string.startswith(".", match.end())


def _words_of(unit: str) -> tuple[str, str]:
    return _SPELLINGS[unit.lower() if len(unit) > 1 else unit]


def _lone_unit(match: re.Match[str]) -> str:
    unit, stop = match[1], match[2]
    one, more = _words_of(unit)
    after = match.string[match.end() : match.end() + 2].lstrip()
    if unit == "min" and (after[:1].isdecimal() or match.string.startswith("imum", match.end())):
        return "minimum"
    before = match.string[max(0, match.start() - 9) : match.start()]
    words = before.lower().split() or [""]
    single = before.endswith("-") or words[-1] in _BEFORE_ONE or _AT_NOUN.match(match.string, match.end())
    return (one if single else more) + ("." if stop and (unit in _NO_STOP or _unit_ends_sentence(match, unit)) else "")


_BEFORE_ONE = frozenset("a an one per each every last first next half".split())


def _sign(match: re.Match[str]) -> str:
    said = {"+": "plus", "=": "equals", "&": "and", "@": "at"}[match[0]]
    before = match.string[match.start() - 1 : match.start()]
    after = match.string[match.end() : match.end() + 1]
    left = "" if not before or before.isspace() or before in "([{\"“‘'" else " "
    right = "" if not after or after.isspace() or after in ")]}\"”’'.,;:!?" else " "
    return left + said + right


def _degrees(match: re.Match[str]) -> str:
    return " degrees" + {"C": " Celsius", "F": " Fahrenheit"}.get(match[1] or "", "")


def _letters(match: re.Match[str]) -> str:
    return " ".join(match[1]) + match[2]


def _number(match: re.Match[str]) -> str:
    before = match.string[match.start() - 1 : match.start()]
    gap = " " if before.isalpha() or _KEPT.match(before) else ""
    return gap + number_words(match[0]) + _gap_after(match)


def _gap_after(match: re.Match[str]) -> str:
    after = match.string[match.end() : match.end() + 1]
    return " " if after.isalpha() or _KEPT.match(after) else ""


_TRADE_WORDS = dict(TRADE)

ROWS: tuple[Row, ...] = (
    Row(
        "thousands",
        re.compile(rf"(?<![0-9.,])[0-9]{{1,3}}(?:(?:,[0-9]{{3}})+|(?:[\u00a0\u2009\u202f'’][0-9]{{3}})+)(?![0-9]|,[0-9])"),
        _thousands,
        "Row 2,000 m",
        "Row two thousand meters",
    ),
    Row(
        "thousands with a point",
        re.compile(rf"(?<![0-9.,])[0-9]{{1,3}}(?:(?:\.000)+|(?:\.[0-9]{{3}}){{2,}}|\.[0-9]{{3}}(?={_SP}?m\b))(?![0-9]|[.,][0-9])"),
        _thousands,
        "1.000m row",
        "one thousand meter row",
        "nobody writes a metre to the millimetre; 1.250 kg stays a decimal (our choice)",
    ),
    Row(
        "decimal comma",
        re.compile(r"(?<![0-9.,:])([0-9]+),([0-9]{1,2})(?![0-9]|[.,:/][0-9]+,|,[0-9])"),
        r"\1.\2",
        "22,5 kg",
        "twenty-two point five kilos",
        "a list has a space after its comma, or three numbers",
    ),
    Row("leading point", re.compile(r"(?<![\w.])\.(?=[0-9])"), "0.", ".5 km", "zero point five kilometers"),
    Row("fraction sign", re.compile(f"([0-9]?)([{''.join(_GLYPHS)}])"), _glyph, "1½ miles", "one and a half miles"),
    Row(
        "abbreviations",
        re.compile(rf"(?<![\w.])(?:{'|'.join(f'({pattern})' for pattern, _ in ABBREVIATIONS)})", re.IGNORECASE),
        _abbreviation,
        "step-ups vs. jumps, e.g. today",
        "step-ups versus jumps, for example today",
    ),
    Row("with", re.compile(r"(?<!\w)w/(\s?)", re.IGNORECASE), lambda match: _with(match) + match[1], "w/ a band", "with a band"),
    Row("et cetera", re.compile(r"(?<!\w)etc\b\.?", re.IGNORECASE), _et_cetera, "mats, etc. in", "mats, et cetera in"),
    Row(
        "maximum, minimum",
        re.compile(rf"(?<!\w)(?<!rep )(max|min)\.(?={_SP}?(?:[a-z,;)]|[0-9]))", re.IGNORECASE),
        _extreme,
        "max. 10 reps",
        "maximum ten reps",
        "before a capital or an end, the full stop ends the sentence and the word is max",
    ),
    Row(
        "time of day",
        re.compile(
            rf"(?<![0-9:.,/])([0-9]{{1,2}})(?::([0-5][0-9]))?(?:{_SP}?[-–]{_SP}?([0-9]{{1,2}})(?::([0-5][0-9]))?)?"
            rf"{_SP}?(?:([AaPp])\.[Mm]\b\.?|([AaPp])[Mm]\b)"
        ),
        lambda match: _time_of_day(match),
        "at 6:30 AM",
        "at six thirty A M",
        "a clock is a time of day only with AM or PM",
    ),
)
