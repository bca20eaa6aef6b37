"""Words for numbers, times and distances, as a coach says them.

Numbers to twenty are words, larger ones figures. The same number is always said in the same way.
"""

from __future__ import annotations

from briefing.speech.numbers import cardinal_words
from briefing.units import write_number


def count_words(number: float) -> str:
    """Write a number as it is said inside a sentence: `ten`, `100`, `1,200`, `22.5`."""
    if number != int(number):
        return write_number(number)
    return cardinal_words(int(number)) if 0 <= number <= 20 else f"{int(number):,}"


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


def times_between_words(low_s: int, high_s: int | None) -> str:
    """Say a time that is a range: `two to three minutes`, `one minute thirty to two minutes`; a bare time without its end."""
    if high_s is None:
        return time_words(low_s)
    whole = low_s % 60 == high_s % 60 == 0 or (low_s < 60 and high_s < 60)
    low = count_words(low_s // 60 if low_s % 60 == 0 else low_s) if whole else time_words(low_s)
    return f"{low} to {time_words(high_s)}"


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
