"""The spoken form of a written text: numbers, units and abbreviations as the words a coach says.

Without this step the seconds of number-heavy lines are 45 % too few (measured before the project began). The whole
expansion is one table, `ROWS`, read from top to bottom; each row does one thing, and hands digits on until the last
rows say them. The words for units and abbreviations are tables of data beside it. What no row knows stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from briefing.speech.numbers import digit_words, number_words, ordinal_words, plural_words

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
    (r"alt\.", "alternating"),
    (r"wk(?=\s[0-9])", "week"),
    (r"b/w", "between"),
)
"""Patterns of written abbreviations that never end a sentence, and their words."""

TRADE: tuple[tuple[str, str], ...] = (
    ("DB", "dumbbell"),
    ("DBs", "dumbbells"),
    ("db", "dumbbell"),
    ("dbs", "dumbbells"),
    ("KB", "kettlebell"),
    ("KBs", "kettlebells"),
    ("kb", "kettlebell"),
    ("kbs", "kettlebells"),
    ("BB", "barbell"),
    ("BBs", "barbells"),
    ("BW", "bodyweight"),
    ("RFT", "rounds for time"),
    ("NFT", "not for time"),
    ("TC", "time cap"),
    ("YGIG", "you go, I go"),
    ("KBS", "kettlebell swings"),
    ("DU", "double-under"),
    ("DUs", "double-unders"),
    ("HSPU", "handstand push-ups"),
    ("T2B", "toes-to-bar"),
    ("RPE", "R P E"),
    ("RIR", "R I R"),
)
"""The trade's abbreviations; capitals without a vowel that are not here are said letter by letter."""

# What a unit can stand before as one word with its number: "a sixteen minute cap", "a two hundred meter run".
_NOUNS = (
    "cap|mark|limit|time cap|time limit|pace|window|block|interval|AMRAP|EMOM|plank|hold|hang|sit|run|row|ride|swim|"
    "walk|jog|sprint|bike|carry|crawl|farmer|suitcase|shuttle|lap|lunge|dumbbells?|kettlebells?|barbells?|bar|plate|vest|box|step|bench|"
    "target|ball|sandbag|band|rope"
)
# Where a slash before a word means "per", unless a word like it stands before the slash: "hand/foot".
_PER = (
    "side|leg|arm|hand|foot|direction|way|week|wk|day|month|minute|min|second|sec|s|hour|hr|h|kilometer|km|mile|mi|"
    "meter|m|kilo|kg|pound|lb|round|rd|set|rep|person|athlete|member|station|lap|lift"
)
_NEVER_BEFORE_PER = "side|leg|arm|hand|foot|direction|way|week|day|month|set|rep|person|lap|lift"
# A dash after "Round 1" is a dash, no range.
_LABELS = "round|set|minute|week|day|part|station|video|step|block|number|phase|level|page"
_BEFORE_ONE = "a|an|one|per|each|every|last|first|next|half"
# Written without a full stop, so that one after them always ends a sentence.
_NO_STOP = "s|h|kg|kgs|g|m|km|kms|cm|mm|ml|l|L|kcal|bpm|mph|kph|rpm|W"
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
_COMPARISONS = {
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
_SIGNS = {"+": "plus", "=": "equals", "&": "and", "@": "at"}
_TRADE_WORDS = dict(TRADE)
_SPELLINGS = {spelling: (one, more) for spellings, one, more in UNITS for spelling in spellings}
_UNIT_WORDS = {one: (one, more) for _, one, more in UNITS if " " not in one}

# What the coach's own list says travels through the rows as one private character for each entry, so that no row
# touches its words: one range for entries that end in a digit (they count as numbers), one for the others.
_KEPT_NUMBER = "\U00100000-\U0010fffd"
_KEPT_WORD = "\U000f0000-\U000ffffd"
_KEPT = f"[{_KEPT_NUMBER}{_KEPT_WORD}]"

# Parts of the patterns. Each pattern can begin only where nothing like it stands before, so that a long text costs no
# more than its length.
_SP = "[ \t\u00a0\u2009\u202f]"
_NUM = rf"(?:[0-9]+(?:\.[0-9]+)?|[{_KEPT_NUMBER}])"
_DIGIT = f"[0-9{_KEPT_NUMBER}]"
_NUM_START = r"(?<![0-9.])"
_NO_LETTER_BEFORE = r"(?<![^\W0-9_])"
_CLOCK = r"[0-9]{0,3}:[0-5][0-9]"
_CLOCK_START = r"(?<![0-9:.])(?:(?<!\w)|(?=[0-9]))"
_CLOCK_END = r"(?!:?[0-9])"
_UNIT = "|".join(
    [f"(?i:{'|'.join(sorted((s for s in _SPELLINGS if len(s) > 1), key=len, reverse=True))})", "[shgmlLW]"]
)
_DISTANCE = rf"[0-9]{{3,}}(?:{_SP}?m)?\b(?!:)|[0-9.]{{0,4}}{_SP}?(?:km?|mi|mile|kilometer|m)\b"

_ABBREVIATED = "|".join(rf"({pattern})(?!\w)" for pattern, _ in ABBREVIATIONS)

_AT_NOUN = rf"{_SP}(?:{_NOUNS})\b"
_AT_BOX = rf"{_SP}(?:box|boxes|step|bench|plate|target|tall|high|wide|deep|long|away|platform)\b|\)"
_AT_UNIT = rf":[0-5][0-9]|[-–/][0-9]|{_SP}?(?:min|sec|s|m)[a-z]*\b"
_AT_SENTENCE_END = rf"{_SP}*(?:$|[\n\r¶\"”’)\]A-Z0-9])"
_AT_INCHES = rf"{_SP}?[0-9]{{1,2}}{_SP}?in\b"
_HIDES_A_WORD = rf"{_DIGIT}[^\W\d]|[^\W\d]{_DIGIT}|[{''.join(_GLYPHS)}+=&@%°/]"
# In a text without any of these, the rows that are not for words find nothing (a test holds the two against each other).
_MORE_THAN_WORDS = (
    rf"[0-9{''.join(_GLYPHS)}{re.escape(''.join((*_COMPARISONS, *_SIGNS)))}/%#°−×*{_KEPT_NUMBER}{_KEPT_WORD}]"
)
_AFTER_ONE = rf"(?<![0-9.,:/–-])1{_SP}?$"


class Row(NamedTuple):
    """One rule of the expansion: what it finds, what is said, an example that a test holds, and why it is so.

    `in_words` says that it may find something where no digit and no sign stands: in most lines only these rows have work.
    `sign` is what stands in everything it finds: without it the row is not tried, and its pattern never compiled.
    """

    name: str
    pattern: str
    said: str | Callable[[re.Match[str]], str]
    written: str
    spoken: str
    note: str = ""
    in_words: bool = False
    sign: str = ""


def spoken_form(text: str, own: Sequence[tuple[str, str]] = ()) -> str:
    """Give a text the way it is said, as in `Rest 1:30, 3x10` → `Rest one minute thirty, three by ten`.

    `own` is the coach's list of (written, spoken) and wins over the table: `("EMOM", "e-mom")`, `("kg", "kilograms")`,
    `("135", "one thirty-five")`. It is matched as whole words, in any case. Case and punctuation are kept, what no row
    knows stays as it is, and any text gives an answer, in time that grows with its length. The spoken form of a spoken
    form is itself.

    Source: the project's table of what has to be expanded, from its measurements; where that is silent, our choice,
    said in the row's note.
    """
    said: dict[str, str] = {}
    if own:
        text, said = _keep_own(text, tuple(own))
    expanded = _expand(text)
    if re.search(_HIDES_A_WORD, text):
        # What was glued to a number or a sign stands apart now, and may be a word that a row knows ("kg5", "@/km").
        expanded = _expand(expanded)
    return re.sub(_KEPT, lambda match: said.get(match[0], match[0]), expanded) if said else expanded


def _expand(text: str) -> str:
    for row in _rows(in_words=not re.search(_MORE_THAN_WORDS, text)):
        if row.sign in text:
            text = _compiled(row.pattern).sub(row.said, text)
    return text


@lru_cache(maxsize=2)
def _rows(*, in_words: bool) -> tuple[Row, ...]:
    return tuple(row for row in ROWS if row.in_words or not in_words)


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    """Compile a row's pattern when the first text comes that may need it."""
    return re.compile(pattern)


def _keep_own(text: str, own: tuple[tuple[str, str], ...]) -> tuple[str, dict[str, str]]:
    spoken_of = {written.casefold(): spoken for written, spoken in own}
    taken = set(text)
    numbers = (chr(code) for code in range(0x100000, 0x10FFFE) if chr(code) not in taken)
    words = (chr(code) for code in range(0xF0000, 0xFFFFE) if chr(code) not in taken)
    chars: dict[tuple[str, bool], str] = {}

    def keep(match: re.Match[str]) -> str:
        written = match[0]
        spoken = spoken_of.get(written.casefold(), written)
        if written in _SPELLINGS and re.search(_AFTER_ONE, text[max(0, match.start() - 3) : match.start()]):
            spoken = spoken.removesuffix("s")
        key = (spoken, "0" <= written[-1] <= "9")
        if key not in chars:
            chars[key] = next(numbers if key[1] else words, written)
        return chars[key]

    kept = _own_pattern(tuple(spoken_of)).sub(keep, text)
    return kept, {char: spoken for (spoken, _), char in chars.items()}


@lru_cache(maxsize=64)
def _own_pattern(entries: tuple[str, ...]) -> re.Pattern[str]:
    """Match any entry as a whole word or number, the longest first."""
    longest_first = sorted((entry for entry in entries if entry.strip()), key=lambda entry: (-len(entry), entry))
    found = [f"{_whole_from(entry[0])}{re.escape(entry)}{_whole_to(entry[-1])}" for entry in longest_first]
    return re.compile("|".join(found) or r"(?!)", re.IGNORECASE)


def _whole_from(char: str) -> str:
    if char.isdecimal():
        return r"(?<![^\WxX])(?<![0-9][.,:])"
    return _NO_LETTER_BEFORE if char.isalpha() else ""


def _whole_to(char: str) -> str:
    if char.isdecimal():
        return r"(?![0-9])(?![.,:][0-9])"
    return r"(?!\w)" if char.isalpha() else ""


# The rows' functions, in the order of the rows. They stand before the table because it names them.


def _then(pattern: str, match: re.Match[str]) -> bool:
    """Say whether a pattern stands right behind a match."""
    return re.compile(pattern).match(match.string, match.end()) is not None


def _thousands(match: re.Match[str]) -> str:
    return "".join(char for char in match[0] if "0" <= char <= "9")


def _glyph(match: re.Match[str]) -> str:
    return f"{match[1]} {_GLYPHS[match[2]]}" if match[1] else _GLYPHS[match[2]]


def _abbreviation(match: re.Match[str]) -> str:
    found = next(i for i, group in enumerate(match.groups()) if group is not None)
    return _like(match[0], ABBREVIATIONS[found][1])


def _with(match: re.Match[str]) -> str:
    return _like(match[0], "with") + (" " if match.end() < len(match.string) else "") + match[1].strip(" ")


def _et_cetera(match: re.Match[str]) -> str:
    return _like(match[0], "et cetera") + ("." if match[0].endswith(".") and _ends_sentence(match) else "")


def _like(written: str, said: str) -> str:
    """Give the words with a capital where the written form had one: `Approx.`, not `VS`."""
    return said[0].upper() + said[1:] if written[0].isupper() and not written[1:2].isupper() else said


def _ends_sentence(match: re.Match[str]) -> bool:
    """Say whether the full stop at the end of a match ends a sentence: a capital, a digit or nothing comes after it."""
    return _then(_AT_SENTENCE_END, match)


def _time_of_day(match: re.Match[str]) -> str:
    hour, minutes, last_hour, last_minutes, half, inner_stop, stop = match.groups()
    said = _hour(hour, minutes)
    if last_hour:
        said += f" to {_hour(last_hour, last_minutes)}"
    said += f" {half.upper()} M"
    return said + ("." if stop and (not inner_stop or _ends_sentence(match)) else "")


def _hour(hour: str, minutes: str | None) -> str:
    said = number_words(str(int(hour)))
    return said if minutes in {None, "00"} else f"{said} {_after_the_hour(str(minutes))}"


def _after_the_hour(digits: str) -> str:
    return f"oh {number_words(digits[1])}" if digits[0] == "0" else number_words(digits)


def _pace(match: re.Match[str]) -> str:
    said = _split_time(match[1])
    if match[2]:
        said += f" to {_split_time(match[2])}"
    return said + (" per " if match[3] else "")


def _split_time(clock: str) -> str:
    minutes, seconds = clock.split(":")
    if int(minutes or "0") == 0 or seconds == "00":
        return _clock_words(clock)
    return f"{number_words(str(int(minutes)))} {_after_the_hour(seconds)}"


def _fraction(match: re.Match[str]) -> str:
    whole, part, gap, unit, stop = match.groups()
    said = _FRACTIONS[part]
    if whole:
        said = {"half": "a half", "quarter": "a quarter"}.get(said, said)
        said = f"{number_words(whole)} and {said}"
    if unit is None:
        return said
    one, more = _words_of(unit)
    ends = "." if stop and (unit in _UNIT_WORDS or _unit_ends_sentence(match, unit)) else ""
    if gap == "-" or _then(_AT_NOUN, match):
        return f"{said}{gap or ' '}{one}{ends}"
    if whole:
        return f"{said} {more}{ends}"
    article = "an" if one in {"inch", "ounce", "hour"} else "a"
    return f"half {article} {one}{ends}" if part == "1/2" else f"{said} of {article} {one}{ends}"


def _per(match: re.Match[str]) -> str:
    before = match.string[max(0, match.start() - 12) : match.start()].split()[-1]
    return match[0] if re.fullmatch(_NEVER_BEFORE_PER, before.lower()) else " per "


def _hours(match: re.Match[str]) -> str:
    counts = zip(match.groups(), ("hour", "minute", "second"), strict=True)
    said = [f"{number_words(str(int(n)))} {unit}{'' if int(n) == 1 else 's'}" for n, unit in counts if int(n)]
    return " ".join(said) or "zero"


def _tempo(match: re.Match[str]) -> str:
    said = [number_words(c) if c.isdecimal() else "X" for c in match[2]]
    return f"{match[1]}{' '.join(said)}"


def _scheme(match: re.Match[str]) -> str:
    kind, every, number = match.groups()
    if every and re.search("[x×]", match[0][len(kind) :]):
        return f"{_scheme_words(kind, every)} times {number}"
    said = f"{_scheme_words(kind, every)} {'in' if kind.upper() == 'AMRAP' else 'for'} {number}"
    return said if _then(_AT_UNIT, match) else f"{said} min"


def _bare_scheme(match: re.Match[str]) -> str:
    return _scheme_words(match[1], match[2])


def _scheme_words(kind: str, every: str | None) -> str:
    if kind.upper() == "AMRAP":
        return "as many rounds as possible"
    return f"every {number_words(every)} minutes on the minute" if every else "every minute on the minute"


def _trade(match: re.Match[str]) -> str:
    return _TRADE_WORDS[match[0]]


def _comparison(match: re.Match[str]) -> str:
    return f"{_COMPARISONS[match[1]]} "


def _minus(match: re.Match[str]) -> str:
    return " minus " if match.string[match.start() - 1 : match.start()].isalnum() else "minus "


def _ordinal(match: re.Match[str]) -> str:
    return ordinal_words(int(match[1]))


def _the_twenties(match: re.Match[str]) -> str:
    return plural_words(int(match[1]))


def _ladder(match: re.Match[str]) -> str:
    steps = re.findall(_NUM, match[1])
    said = ", ".join(steps)
    if match[2] is None:
        return f"{said}, and so on"
    rising = (len(match[2]), match[2]) > (len(steps[-1]), steps[-1])
    return f"{said}, {'up' if rising else 'down'} to {match[2]}"


def _range_or_list(match: re.Match[str]) -> str:
    steps = re.split("[-–—]", match[0])
    return " to ".join(steps) if len(steps) == 2 else ", ".join(steps)


def _spaced_range(match: re.Match[str]) -> str:
    before = match.string[max(0, match.start() - 12) : match.start()].split()
    labelled = bool(before) and re.fullmatch(_LABELS, before[-1].lower()) is not None
    return match[0] if labelled or float(match[1]) >= float(match[2]) else f"{match[1]} to {match[2]}"


def _clock_range(match: re.Match[str]) -> str:
    first, second = match[1], match[2]
    noun = _then(_AT_NOUN, match)
    if first.endswith(":00") and second.endswith(":00") and int(second[:-3] or "0") > 0:
        begins = number_words(str(int(first[:-3] or "0")))
    else:
        begins = _clock_words(first)
    return f"{begins} to {_clock_words(second, before_noun=noun)}"


def _clock(match: re.Match[str]) -> str:
    said = _clock_words(match[1], before_noun=_then(_AT_NOUN, match))
    gap = " " if match.string[match.start() - 1 : match.start()].isalpha() else ""
    return f"{gap}{said} point {digit_words(match[2])}" if match[2] else gap + said


def _clock_words(clock: str, *, before_noun: bool = False) -> str:
    minutes, seconds = (int(part or "0") for part in clock.split(":"))
    if not minutes:
        unit = "second" if seconds == 1 or before_noun else "seconds"
        return f"{number_words(str(seconds))} {unit}" if seconds else "zero"
    unit = "minute" if minutes == 1 or before_noun else "minutes"
    said = f"{number_words(str(minutes))} {unit}"
    return f"{said} {number_words(str(seconds))}" if seconds else said


def _by(match: re.Match[str]) -> str:
    after_clock = match.string[max(0, match.start() - 3) : match.start() - 2] == ":"
    return " times " if match[1] or after_clock else " by "


def _times(match: re.Match[str]) -> str:
    return f"{match[1]} {'time' if match[1] == '1' else 'times'}{_gap_after(match)}"


def _times_before(match: re.Match[str]) -> str:
    return " times " if match.string[match.start() - 1 : match.start()].isalpha() else "times "


def _unit(match: re.Match[str]) -> str:
    number, gap, unit, stop = match.groups()
    spelled = unit.lower() if len(unit) > 1 else unit
    box = spelled == "in" and not stop and _then(_AT_BOX, match)
    if spelled == "in" and not stop and gap != "-" and not box:
        return match[0]
    if unit == "L" and _then(r"-[^\W\d_]", match):
        return match[0]  # the left one: 10 L-arm rows
    one, more = _words_of(unit)
    several = (
        match.string[max(0, match.start() - 4) : match.start()].endswith(" to ")
        and match.string[max(0, match.start() - 5) : match.start() - 4].isdecimal()
    )
    single = gap == "-" or (number == "1" and not several) or _then(_AT_NOUN, match)
    ends = "." if stop and _unit_ends_sentence(match, spelled) else ""
    return f"{number}{'-' if gap == '-' else ' '}{one if single else more}{ends}"


def _unit_ends_sentence(match: re.Match[str], spelled: str) -> bool:
    if re.fullmatch(_NO_STOP, spelled) or match.string.startswith(".", match.end()):
        return True
    if spelled == "ft" and _then(_AT_INCHES, match):
        return False
    return _ends_sentence(match)


def _words_of(unit: str) -> tuple[str, str]:
    return _UNIT_WORDS.get(unit) or _SPELLINGS[unit.lower() if len(unit) > 1 else unit]


def _unit_after_per(match: re.Match[str]) -> str:
    return _words_of(match[1])[0]


def _lone_unit(match: re.Match[str]) -> str:
    unit, stop = match.groups()
    if unit == "min" and match.string[match.end() : match.end() + 2].strip()[:1].isdecimal():
        return "minimum"
    one, more = _words_of(unit)
    before = match.string[max(0, match.start() - 8) : match.start()]
    last = (before.lower().split() or [""])[-1]
    single = before.endswith("-") or re.fullmatch(_BEFORE_ONE, last) is not None or _then(_AT_NOUN, match)
    return (one if single else more) + ("." if stop and _unit_ends_sentence(match, unit) else "")


def _sign(match: re.Match[str]) -> str:
    before = match.string[match.start() - 1 : match.start()]
    after = match.string[match.end() : match.end() + 1]
    left = "" if not before or before in "([{\"“‘'¶" or before.isspace() else " "
    right = "" if not after or after in ")]}\"”’'.,;:!?¶" or after.isspace() else " "
    return f"{left}{_SIGNS[match[0]]}{right}"


def _degrees(match: re.Match[str]) -> str:
    return " degrees" + {"C": " Celsius", "F": " Fahrenheit"}.get(match[1] or "", "")


def _extreme(match: re.Match[str]) -> str:
    return _like(match[0], f"{match[1].lower()}imum")


def _letter_by_letter(match: re.Match[str]) -> str:
    return " ".join(match[1]) + match[2]


def _number(match: re.Match[str]) -> str:
    before = match.string[match.start() - 1 : match.start()]
    gap = " " if before.isalpha() or re.match(_KEPT, before) else ""
    return f"{gap}{number_words(match[0])}{_gap_after(match)}"


def _gap_after(match: re.Match[str]) -> str:
    after = match.string[match.end() : match.end() + 1]
    return " " if after.isalpha() or re.match(_KEPT, after) else ""


ROWS: tuple[Row, ...] = (
    Row(
        "thousands",
        r"(?<![0-9.,])[0-9]{1,3}(?:(?:,[0-9]{3})++|(?:[\u00a0\u2009\u202f'’][0-9]{3})++|(?: 000)++)(?![0-9]|,[0-9])",
        _thousands,
        "Row 2,000 m",
        "Row two thousand meters",
    ),
    Row(
        "thousands with a point",
        rf"(?<![0-9.,])[0-9]{{1,3}}(?:(?:\.000)++|(?:\.[0-9]{{3}}){{2,}}+|\.[0-9]{{3}}(?={_SP}?m\b))(?![0-9]|[.,][0-9])",
        _thousands,
        "1.000m row",
        "one thousand meter row",
        "nobody writes a metre to the millimetre; 1.250 kg stays a decimal: our choice",
    ),
    Row(
        "decimal comma",
        r"(?<![0-9.,:])([0-9]{1,6}),([0-9]{1,2})(?![0-9]|[.,:][0-9])",
        r"\1.\2",
        "22,5 kg",
        "twenty-two point five kilos",
        "a list has a space after its comma, or three numbers",
    ),
    Row(
        "leading point",
        r"(?<![\w.])\.(?=[0-9])",
        "0.",
        ".5 km",
        "zero point five kilometers",
    ),
    Row(
        "fraction signs",
        f"([0-9]?)([{''.join(_GLYPHS)}])",
        _glyph,
        "1½ miles",
        "one and a half miles",
    ),
    Row(
        "abbreviations",
        rf"(?i)(?<![\w.])(?:{_ABBREVIATED})",
        _abbreviation,
        "step-ups vs. jumps, e.g. today",
        "step-ups versus jumps, for example today",
        in_words=True,
    ),
    Row(
        "with",
        rf"(?i){_NO_LETTER_BEFORE}w/(\s?)",
        _with,
        "w/ a band",
        "with a band",
        sign="/",
    ),
    Row(
        "et cetera",
        r"(?i)(?<!\w)etc\b\.?",
        _et_cetera,
        "mats, etc. in the hall",
        "mats, et cetera in the hall",
        in_words=True,
    ),
    Row(
        "time of day",
        rf"(?<![0-9:.,/–-])([0-9]{{1,2}})(?::([0-5][0-9]))?(?:{_SP}?[-–]{_SP}?([0-9]{{1,2}})(?::([0-5][0-9]))?)?{_SP}?([AaPp])(\.?)[Mm](?!\w)(\.?)",
        _time_of_day,
        "at 6:30 AM",
        "at six thirty A M",
        "a clock is a time of day only with AM or PM",
    ),
    Row(
        "pace",
        rf"{_CLOCK_START}({_CLOCK})(?:{_SP}?[-–]{_SP}?({_CLOCK}))?(?:({_SP}?/{_SP}?)(?={_DISTANCE})|(?={_SP}pace\b|{_SP}per{_SP}(?:{_DISTANCE})))",
        _pace,
        "2:05/500 m",
        "two oh five per five hundred meters",
        sign=":",
    ),
    Row(
        "a half after and",
        rf"(?<![0-9.,:/])([0-9]{{1,3}}){_SP}?&{_SP}?(?=1/[24](?![0-9/]))",
        r"\1 ",
        "1 & 1/2 squats",
        "one and a half squats",
        sign="&",
    ),
    Row(
        "fractions",
        rf"(?<![0-9./:-])(?:([0-9]{{1,6}})(?:{_SP}|-))?({'|'.join(_FRACTIONS)})(?![0-9/:]|\.[0-9])(?:({_SP}?|-)(?!in\b(?!\.|{_SP}(?:box|step)\b))({_UNIT}|{'|'.join(_UNIT_WORDS)})(\.?)(?!\w))?",
        _fraction,
        "1/2 mi",
        "half a mile",
        sign="/",
    ),
    Row(
        "number of several",
        rf"(?<!\w)((?i:video|round|week|day|part|minute|station|step){_SP}[0-9]{{1,2}}){_SP}?/{_SP}?(?=[0-9]{{1,2}}(?![0-9/]|[.:][0-9]|{_SP}?(?:{_UNIT})(?!\w)))",
        r"\1 of ",
        "video 2/4",
        "video two of four",
        sign="/",
    ),
    Row(
        "inches with a slash",
        r"(?<![0-9.])([0-9]{1,2})[\"”″]/([0-9]{1,2})[\"”″]",
        r"\1/\2 inches",
        'Box 24"/20"',
        "Box twenty-four, twenty inches",
        sign="/",
    ),
    Row(
        "tempo",
        rf"(?<!\w)((?i:tempo){_SP})([0-9][0-9xX]{{3}})(?!\w)",
        _tempo,
        "tempo 31X1",
        "tempo three one X one",
    ),
    Row(
        "per",
        rf"(?<=[\w{_KEPT_NUMBER}{_KEPT_WORD}]){_SP}?/{_SP}?(?=(?:{_PER})(?!\w))",
        _per,
        "12/side, 3/week",
        "twelve per side, three per week",
        sign="/",
    ),
    Row(
        "slash between numbers",
        rf"(?<=[\w)%{_KEPT_NUMBER}{_KEPT_WORD}]){_SP}?/{_SP}?(?=:?{_DIGIT})",
        ", ",
        "50/35 lb",
        "fifty, thirty-five pounds",
        "a short pause",
        sign="/",
    ),
    Row(
        "hours",
        rf"(?<![0-9:.])([0-9]{{1,2}}):([0-5][0-9]):([0-5][0-9]){_CLOCK_END}",
        _hours,
        "1:02:03",
        "one hour two minutes three seconds",
        sign=":",
    ),
    Row(
        "schemes with their minutes",
        rf"(?<!\w)((?i:AMRAP|E([0-9]{{0,2}})MOM))(?:{_SP}?(?:[x×]|for){_SP}?|{_SP}?-?)([0-9]{{1,3}})(?![0-9]|\.[0-9])",
        _scheme,
        "EMOM 12",
        "every minute on the minute for twelve minutes",
    ),
    Row(
        "rep max",
        rf"{_NUM_START}([0-9]{{1,2}})(?:{_SP}|-)?[Rr][Mm](?!\w)",
        r"\1 rep max",
        "80 % of 1RM",
        "eighty percent of one rep max",
    ),
    Row(
        "trade abbreviations",
        rf"{_NO_LETTER_BEFORE}(?:{'|'.join(_TRADE_WORDS)})(?!\w)",
        _trade,
        "2 DBs, RPE 8",
        "two dumbbells, R P E eight",
        in_words=True,
    ),
    Row(
        "comparisons",
        rf"(?<![-=<>])(<=|>=|[<>≤≥~≈±]){_SP}?(?=:?{_DIGIT})",
        _comparison,
        "~200 m",
        "about two hundred meters",
    ),
    Row(
        "inch mark",
        rf"(?<=[0-9])[\"”″](?={_SP}(?:box|step|bench|plate|target)\b)",
        " in",
        'a 24" box',
        "a twenty-four inch box",
        "anywhere else it may close a quotation",
    ),
    Row(
        "minute mark",
        rf"(?<=[0-9])['’′](?={_SP}(?:cap|time cap|limit|AMRAP|EMOM)\b)",
        " min",
        "18' cap",
        "eighteen minute cap",
        "anywhere else it may be feet",
    ),
    Row(
        "minute mark after rest",
        rf"(?<!\w)((?i:rest){_SP}[0-9]{{1,2}})['’′](?!\w)",
        r"\1 min",
        "rest 2', then go",
        "rest two minutes, then go",
    ),
    Row(
        "minute as a label",
        rf"(?<!\w)([Mm])in\.?(?={_SP}[0-9]{{1,2}}:(?![0-9]))",
        r"\1inute",
        "Min 1: swings",
        "Minute one: swings",
        "with a colon behind its number; min 3 rounds is a minimum",
        sign=":",
    ),
    Row(
        "minimum with a capital",
        rf"(?<!\w)(?<![0-9]{_SP})Min(?={_SP}[0-9])",
        "Minimum",
        "Min 3 rounds",
        "Minimum three rounds",
    ),
    Row(
        "more than 59 seconds",
        r"(?<![\w:.]):([6-9][0-9])(?![\w:.]*[0-9])",
        r"\1 sec",
        "walk for :90",
        "walk for ninety seconds",
        sign=":",
    ),
    Row(
        "so many of a thing",
        rf"{_NUM_START}([0-9]{{1,2}})[xX×](?={_SP}(?:dumbbells?|kettlebells?|barbells?|bands?|box|chair|step|bench|mat)\b)",
        r"\1",
        "1x DB",
        "one dumbbell",
    ),
    Row(
        "minus",
        rf"(?<![^\s(\[¶])-(?=[0-9])|−{_SP}?(?=[0-9])",
        _minus,
        "-5 kg",
        "minus five kilos",
    ),
    Row(
        "number sign",
        r"#(?=[0-9])",
        "number ",
        "#2",
        "number two",
        sign="#",
    ),
    Row(
        "ordinals",
        r"(?<![0-9.,])([0-9]{1,9})(?i:st|nd|rd|th)(?!\w)",
        _ordinal,
        "the 2nd",
        "the second",
    ),
    Row(
        "numbers as names",
        rf"(?<=\b[Tt]he )([0-9]{{1,4}})s(?=[.,;:!?)]|$|{_SP}(?:and|or|are|at|for|is|on|then|to|with)\b)",
        _the_twenties,
        "after the 20s, rest",
        "after the twenties, rest",
        "before a noun they are seconds: the 20s hold",
    ),
    Row(
        "by",
        rf"(?<={_DIGIT}){_SP}?[xX×*]{_SP}?(?=({_NUM}{_SP}?=)|:?{_DIGIT})",
        _by,
        "3x10",
        "three by ten",
        "before an equals sign, times",
    ),
    Row(
        "times after a number",
        rf"{_NUM_START}({_NUM}){_SP}?(?:[xX×](?![\w-])|×(?=[^\W\d_]))",
        _times,
        "5x",
        "five times",
    ),
    Row(
        "times before a number",
        rf"(?:(?<![A-Za-z0-9])[xX]|(?<!×)×){_SP}?(?=:?{_DIGIT})",
        _times_before,
        "squats x10",
        "squats times ten",
    ),
    Row(
        "clock ranges",
        rf"{_CLOCK_START}({_CLOCK}){_SP}?[-–—]{_SP}?({_CLOCK}){_CLOCK_END}",
        _clock_range,
        "3:00–4:00",
        "three to four minutes",
        sign=":",
    ),
    Row(
        "ladders",
        rf"(?<![0-9.–-])({_NUM}(?:[-–]{_NUM})++)(?:[-–]?(?:…|\.\.\.)[-–]?({_NUM})|[-–](?:…|\.\.\.))",
        _ladder,
        "10-9-8…1",
        "ten, nine, eight, down to one",
    ),
    Row(
        "ranges and lists",
        rf"(?<![0-9.:–—-]){_NUM}(?:[-–—](?:{_NUM}|[xX](?=[-–])))++",
        _range_or_list,
        "4-5 sets of 21-15-9",
        "four to five sets of twenty-one, fifteen, nine",
        "two are a range, three or more a list",
    ),
    Row(
        "spaced ranges",
        rf"(?<![0-9.:/,#-])([0-9]{{1,6}}(?:\.[0-9]{{1,3}})?){_SP}[-–]{_SP}([0-9]{{1,6}}(?:\.[0-9]{{1,3}})?)(?![0-9:/]|{_SP}[-–=])",
        _spaced_range,
        "6 - 8 reps",
        "six to eight reps",
        "only upwards, and not after a label: Round 1 - 10 reps",
    ),
    Row(
        "ranges with units",
        rf"([0-9]{_SP}?(?:{_UNIT}))[-–](?=[0-9])",
        r"\1 to ",
        "5 kg-10 kg",
        "five kilos to ten kilos",
    ),
    Row(
        "clock",
        rf"{_CLOCK_START}({_CLOCK})(?:\.([0-9]{{1,3}}))?{_CLOCK_END}",
        _clock,
        "16:00 cap, rest 1:30",
        "sixteen minute cap, rest one minute thirty",
        sign=":",
    ),
    Row(
        "ratios",
        rf"(?<![0-9:.])([0-9]{{1,3}}):([0-9]{{1,3}}){_CLOCK_END}",
        r"\1 to \2",
        "rest 1:1",
        "rest one to one",
        sign=":",
    ),
    Row(
        "units",
        rf"{_NUM_START}({_NUM})(-|{_SP}?)({_UNIT})(\.?)(?!\w)",
        _unit,
        "24 in. and 1 kg",
        "twenty-four inches and one kilo",
        "the full stop stays where it ends a sentence; in alone is the preposition",
    ),
    Row(
        "units after per",
        rf"(?<=\bper )({_UNIT})(?!\w)",
        _unit_after_per,
        "10 km/h",
        "ten kilometers per hour",
        in_words=True,
    ),
    Row(
        "units alone",
        r"(?<![\w.'’/])(kg|km|cm|lbs?|mins?|secs?|hrs?|cals?|bpm|mph)(\.?)(?![\w'’-])",
        _lone_unit,
        "Max cal in five min",
        "Max calories in five minutes",
        in_words=True,
    ),
    Row(
        "percent",
        rf"{_SP}?%",
        " percent",
        "80 %",
        "eighty percent",
        sign="%",
    ),
    Row(
        "degrees",
        rf"(?<=[0-9]){_SP}?°(?:{_SP}?([CF])\b)?",
        _degrees,
        "90°",
        "ninety degrees",
        sign="°",
    ),
    Row(
        "signs",
        r"[+&@]|(?<![=<>!])=(?![=>])",
        _sign,
        "6 + 12 @ 40",
        "six plus twelve at forty",
    ),
    Row(
        "schemes",
        r"(?<!\w)((?i:AMRAP|E([0-9]{0,2})MOM))(?!\w)",
        _bare_scheme,
        "an AMRAP",
        "an as many rounds as possible",
        "the coach's own list can say it as a word",
        in_words=True,
    ),
    Row(
        "maximum, minimum",
        rf"(?<!\w)(?<!rep )([Mm]ax|Min)\.(?={_SP}?[0-9]|{_SP}[a-z]|[,;])",
        _extreme,
        "max. 10 reps",
        "maximum ten reps",
        "before a capital or an end, the full stop ends the sentence; min alone stands with the units",
        in_words=True,
    ),
    Row(
        "letter by letter",
        r"(?<![\w'’])([BCDFGHJKLMNPQRSTVWXZ]{2,5})(s?)(?!\w)",
        _letter_by_letter,
        "RDL",
        "R D L",
        "capitals without a vowel",
        in_words=True,
    ),
    Row(
        "sides",
        r"(?<![\w/])L/R(?![\w/])",
        "left and right",
        "swings, L/R",
        "swings, left and right",
        sign="/",
    ),
    Row(
        "numbers",
        r"[0-9]+(?:\.[0-9]+)*+",
        _number,
        "1,200 and 22.5",
        "one thousand two hundred and twenty-two point five",
        "without and",
    ),
)
"""The expansion, read from top to bottom: what a row hands on as digits, a later row says."""
