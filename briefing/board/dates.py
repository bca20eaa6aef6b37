"""Dates as people write them on a board: `5 Jan 2027`, `Mon 5 January`, `05.01.2027`, `2027-01-05`."""

from __future__ import annotations

import datetime as dt
import re

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY = r"(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+)?"
_MONTH = r"(?P<month>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
_PATTERNS = tuple(
    re.compile(rf"^\s*[#*-]*\s*(?:date\s*:?\s*)?{_DAY}{pattern}\s*[:.]?\s*$", re.IGNORECASE)
    for pattern in (
        rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH},?(?:\s+(?P<year>\d{{4}}))?",
        rf"{_MONTH}\s+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?,?(?:\s+(?P<year>\d{{4}}))?",
        r"(?P<year>\d{4})-(?P<m>\d{1,2})-(?P<day>\d{1,2})",
        r"(?P<day>\d{1,2})[./](?P<m>\d{1,2})[./](?P<year>\d{4})",
    )
)
# "Tues 12/3 - Snatch": a weekday with day and month, and a title behind it.
_WITH_TITLE = re.compile(
    r"^\s*[#*]*\s*(?P<date>(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+\d{1,2}[./-]\d{1,2}(?:[./-]\d{2,4})?)\.?"
    r"(?:\s*[-–—:,]\s*(?P<title>[^\d]{2,60}?))?\s*$",
    re.IGNORECASE,
)


# No date with its title is longer; what is longer is never matched, however many blanks it holds.
_LONGEST = 100


def date_and_title(line: str) -> tuple[str, str] | None:
    """Give a date as it is written and the title behind it ("" where none stands there); None where the line is another one."""
    line = line.strip()
    match = _WITH_TITLE.match(line) if len(line) <= _LONGEST else None
    return (match["date"], (match["title"] or "").strip()) if match else None


def date_on(line: str) -> str | None:
    """Give the date that a line holds and nothing else, as it is written (ISO where the year stands there); None where none does."""
    line = line.strip()
    for pattern in _PATTERNS if len(line) <= _LONGEST else ():
        match = pattern.match(line)
        if match is None:
            continue
        groups = match.groupdict()
        month = _MONTHS.index(groups["month"].lower()[:3]) + 1 if groups.get("month") else int(groups["m"])
        try:
            date = dt.date(int(groups["year"] or 2000), month, int(groups["day"]))
        except ValueError:
            return None
        return date.isoformat() if groups["year"] else line
    return None
