"""The speaking pace a coach's folder keeps: a page with a row for each recording, readable and editable by hand."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pydantic import Field

from briefing.problems import Found, Model, Problem
from briefing.sources.text import Text

PACE_FILE = "speaking-pace.md"
# Our choice: each older recording counts seven tenths of the next newer one, since a way of speaking changes slowly.
OLDER = 0.7
# From the measurements on 118 speakers: the pace is shrunk towards the typical one by 15 seconds of talk.
SHRINK_S = 15.0
_ROW = re.compile(
    r"^\|\s*(?P<file>[^|]+?)\s*\|\s*(?P<date>\d{4}-\d{2}-\d{2})\s*\|\s*(?P<talk>\d+(?:\.\d+)?)\s*\|\s*(?P<base>\d+(?:\.\d+)?)\s*\|"
)


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
    """Put recordings together, the newest with the greatest weight; none gives the typical pace."""
    ordered = sorted(records, key=lambda r: (r.date, r.file), reverse=True)
    talk = sum(r.talk_s * OLDER**age for age, r in enumerate(ordered))
    base = sum(r.base_s * OLDER**age for age, r in enumerate(ordered))
    return Combined(k=(talk + SHRINK_S) / (base + SHRINK_S), talk_s=sum(r.talk_s for r in ordered))


def read_pace(text: Text) -> Found[tuple[PaceRecord, ...]]:
    """Read the page: every row of its table. A row that cannot be read is a problem (`pace-row`), the others count."""
    records, problems = [], []
    for number, line in enumerate(text.lines, 1):
        match = _ROW.match(line)
        if match:
            records.append(
                PaceRecord(
                    file=match["file"], date=match["date"], talk_s=float(match["talk"]), base_s=float(match["base"])
                )
            )
        elif line.startswith("|") and not re.match(r"^\|\s*(?:recording|-{3})", line):
            problems.append(
                Problem(level="warning", code="pace-row", message=f'this row cannot be read: "{line.strip()[:60]}"',
                        suggestion="| take-1.vtt | 2027-01-05 | 183.4 | 176.2 | 1.04 |", place=text.place(number))
            )  # fmt: skip
    return Found(tuple(records), tuple(problems))


def write_pace(records: Sequence[PaceRecord]) -> str:
    """Write the page, the newest recording first."""
    made = combined(records)
    ordered = sorted(records, key=lambda r: (r.date, r.file), reverse=True)
    minutes = made.talk_s / 60
    lines = [
        "# Speaking pace",
        "",
        f"You take {made.k:.2f} times the typical time, from {minutes:.0f} minutes of talk. Every length in your documents uses it.",
        "Take a row out and it does not count any more; a newer recording counts more than an older one.",
        "",
        "| recording | date | seconds of talk | typical seconds | pace |",
        "| --- | --- | --- | --- | --- |",
    ]
    lines += [
        f"| {r.file} | {r.date} | {r.talk_s:.1f} | {r.base_s:.1f} | {r.talk_s / r.base_s if r.base_s else 0:.2f} |"
        for r in ordered
    ]
    return "\n".join(lines) + "\n"
