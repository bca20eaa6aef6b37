"""The speaking pace a coach's folder keeps: a page with a row for each recording, readable and editable by hand."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

from pydantic import Field

from briefing.problems import Found, Model, Problem
from briefing.settings.reading import LEAST_K, MOST_K
from briefing.sources.text import Text

PACE_FILE = "speaking-pace.md"
OLDER = 0.7
"""Each earlier day of recording counts seven tenths of the next later one, since a way of speaking changes slowly. Our choice."""
SHRINK_S = 15.0
"""The typical pace counts as so many seconds of talk, from the measurements on 118 speakers (the same as in `speech`)."""
_NUMBER = r"[0-9]{1,6}(?:\.[0-9]{1,3})?"
_ROW = re.compile(
    rf"\|\s*(?P<file>[^|]*[^|\s])\s*\|\s*(?P<date>[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}})\s*\|\s*(?P<talk>{_NUMBER})\s*\|\s*(?P<base>{_NUMBER})\s*\|"
)
_TABLE_HEAD = re.compile(r"\|\s*(?:recording\b|:?-{3})")


class PaceRecord(Model):
    """One recording: its file, its date (ISO), seconds of talk, and what the typical pace would have taken for the same words."""

    file: str
    date: str
    talk_s: float = Field(ge=0)
    base_s: float = Field(ge=0)


class Combined(Model):
    """The pace of all recordings: `k`, and how many seconds of talk it rests on."""

    k: float
    talk_s: float


def combined(records: Sequence[PaceRecord]) -> Combined:
    """Put recordings together, those of the newest day with the greatest weight; none gives the typical pace.

    k = (Σ w·talk + 15) / (Σ w·base + 15), w = 0.7 to the power of how many days of recording are newer. The segments of one
    day count alike.
    """
    days = sorted({r.date for r in records}, reverse=True)
    weights = {day: OLDER**age for age, day in enumerate(days)}
    talk = sum(r.talk_s * weights[r.date] for r in records)
    base = sum(r.base_s * weights[r.date] for r in records)
    return Combined(k=(talk + SHRINK_S) / (base + SHRINK_S), talk_s=sum(r.talk_s for r in records))


def read_pace(text: Text) -> Found[tuple[PaceRecord, ...]]:
    """Read the page: every row of its table, whatever stands around it.

    Problems (`pace-row`, warnings): a row that cannot be read, has no such day, or holds a pace outside 0.5 to 2.5; the others
    count.
    """
    records: list[PaceRecord] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.lines, 1):
        if not line.startswith("|") or _TABLE_HEAD.match(line):
            continue
        match = _ROW.match(line)
        wrong = "this row cannot be read" if match is None else _wrong(match)
        if match is not None and wrong is None:
            records.append(
                PaceRecord(
                    file=match["file"], date=match["date"], talk_s=float(match["talk"]), base_s=float(match["base"])
                )
            )
        else:
            problems.append(
                Problem(level="warning", code="pace-row", message=f'{wrong}: "{line.strip()[:60]}"',
                        suggestion="| take-1.vtt | 2027-01-05 | 183.4 | 176.2 | 1.04 |", place=text.place(number))
            )  # fmt: skip
    return Found(tuple(records), tuple(problems))


class OwnWords(Model):
    """What the coach wrote on the page: above the table and below it, line by line."""

    above: tuple[str, ...] = ()
    below: tuple[str, ...] = ()


_HEADING = "# Speaking pace"
_HOW = "Take a row out and it does not count any more; a newer day counts more than an older one."
_SAID = re.compile(
    r"You take [0-9.]+ times the typical time, from .* of talk\. Every length in your documents uses it\."
    r"|No recording counts yet, so every length uses the typical pace\."
)


def own_words(text: Text) -> OwnWords:
    """Give what the coach wrote on the page, so that it stays when the page is written again: every line that is not ours."""
    rows = [number for number, line in enumerate(text.lines) if line.startswith("|")]
    first = rows[0] if rows else len(text.lines)
    theirs = [
        (number, line)
        for number, line in enumerate(text.lines)
        if number not in set(rows) and line.strip() not in {_HEADING, _HOW} and not _SAID.fullmatch(line.strip())
    ]
    above = _trimmed([line for number, line in theirs if number < first])
    below = _trimmed([line for number, line in theirs if number > first])
    return OwnWords(above=above, below=below)


def _trimmed(lines: list[str]) -> tuple[str, ...]:
    """Leave out blank lines at both ends, and all but one between two others."""
    kept = [line for number, line in enumerate(lines) if line.strip() or (number and lines[number - 1].strip())]
    while kept and not kept[-1].strip():
        kept.pop()
    while kept and not kept[0].strip():
        kept.pop(0)
    return tuple(kept)


def write_pace(records: Sequence[PaceRecord], own: OwnWords | None = None) -> str:
    """Write the page, the newest recording first, with the coach's own words where they stood: above the table or below it."""
    made = combined(records)
    own = own or OwnWords()
    ordered = sorted(records, key=lambda r: (r.date, r.file), reverse=True)
    said = (
        f"You take {made.k:.2f} times the typical time, from {_talk_words(made.talk_s)} of talk. Every length in your documents uses it."
        if records
        else "No recording counts yet, so every length uses the typical pace."
    )
    lines = [_HEADING, "", said, _HOW, ""]
    lines += [*own.above, *([""] if own.above else [])]
    lines += ["| recording | date | seconds of talk | typical seconds | pace |", "| --- | --- | --- | --- | --- |"]
    lines += [
        f"| {row_name(r.file)} | {r.date} | {r.talk_s:.1f} | {r.base_s:.1f} | {r.talk_s / r.base_s if r.base_s else 0:.2f} |"
        for r in ordered
    ]
    return "\n".join([*lines, *(["", *own.below] if own.below else [])]) + "\n"


def row_name(file: str) -> str:
    """Give a file's name as a row can hold it: a bar would end its cell."""
    return " ".join(file.replace("|", "/").split()) or "recording"


def _wrong(match: re.Match[str]) -> str | None:
    """Say what is wrong with the values of a row, None where nothing is."""
    try:
        dt.date.fromisoformat(match["date"])
    except ValueError:
        return f"there is no day {match['date']}"
    talk, base = float(match["talk"]), float(match["base"])
    if not base or not LEAST_K <= talk / base <= MOST_K:
        return f"nobody speaks outside {LEAST_K} to {MOST_K} times the typical time"
    return None


def _talk_words(talk_s: float) -> str:
    many, unit = (round(talk_s), "second") if talk_s < 60 else (round(talk_s / 60), "minute")
    return f"{many} {unit}{'' if many == 1 else 's'}"
