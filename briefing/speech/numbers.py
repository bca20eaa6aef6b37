"""Numbers as words, the way a coach says them: without "and", hyphens inside the tens."""

from __future__ import annotations

from briefing.units import NUMBER_WORDS, ONES, TENS

VALUES = NUMBER_WORDS
"""The value of each single number word, `zero` to `nineteen` and the tens, for reading what was said."""
_SCALES = ((10**12, "trillion"), (10**9, "billion"), (10**6, "million"), (1000, "thousand"), (100, "hundred"))
_ORDINALS = {
    "one": "first",
    "two": "second",
    "three": "third",
    "five": "fifth",
    "eight": "eighth",
    "nine": "ninth",
    "twelve": "twelfth",
}

LONGEST_DIGITS = 15
"""A longer row of digits is read digit by digit (our choice: nobody says quadrillions, and it bounds the work)."""


def cardinal_words(number: int) -> str:
    """Give a whole number in words, as in `1200` → `one thousand two hundred`.

    A negative number begins with "minus"; from 10¹⁵ on, digit by digit.
    """
    if number < 0:
        return f"minus {cardinal_words(-number)}"
    if number >= 10**LONGEST_DIGITS:
        return digit_words(str(number))
    if number < 20:
        return ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return f"{TENS[tens]}-{ONES[ones]}" if ones else TENS[tens]
    size, scale = next(pair for pair in _SCALES if number >= pair[0])
    many, rest = divmod(number, size)
    said = f"{cardinal_words(many)} {scale}"
    return f"{said} {cardinal_words(rest)}" if rest else said


def ordinal_words(number: int) -> str:
    """Give the place in an order in words, as in `22` → `twenty-second`."""
    said = cardinal_words(number)
    cut = max(said.rfind(" "), said.rfind("-")) + 1
    head, last = said[:cut], said[cut:]
    if last in _ORDINALS:
        return head + _ORDINALS[last]
    return head + (f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th")


def digit_words(digits: str) -> str:
    """Give each digit by itself, as in `007` → `zero zero seven`. Other characters are passed over."""
    return " ".join(ONES[ord(digit) - 48] for digit in digits if "0" <= digit <= "9")


def number_words(written: str) -> str:
    """Give a number as it is written in words, as in `22.5` → `twenty-two point five`.

    `written` is digits with any number of points between them. After a point, and with a leading zero (`007`), each
    digit is said by itself.
    """
    whole, *after = written.split(".")
    by_digit = len(whole) > LONGEST_DIGITS or (len(whole) > 1 and whole[0] == "0")
    said = digit_words(whole) if by_digit else cardinal_words(int(whole or "0"))
    return " point ".join([said, *(digit_words(part) for part in after)])


def plural_words(number: int) -> str:
    """Give a number as a name for several things, as in "the 20s" → `twenties`, `6` → `sixes`."""
    said = cardinal_words(number)
    if said.endswith("y"):
        return f"{said[:-1]}ies"
    return f"{said}es" if said.endswith("x") else f"{said}s"
