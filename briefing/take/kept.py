"""The takes that were kept, from the log of the cards on screen: which stretches of a recording are the video."""

from __future__ import annotations

import re
from collections.abc import Sequence

from briefing.problems import Found, Model, Problem
from briefing.sources.text import Text
from briefing.speech.seconds import SENTENCE_MS
from briefing.take.transcript import Cue, Transcript

_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2}):([0-9]{2})\.([0-9])")
_SEGMENT = re.compile(r"[0-9]{1,4}")
# Between two takes that are put one behind the other stands half a second: a cut, in which nobody's sentence goes on.
CUT_MS = 500


class Kept(Model):
    """A take that was kept: its segment (from 1), from when to when on the log's clock."""

    segment: int
    start_ms: int
    end_ms: int


def read_log(text: Text) -> Found[tuple[Kept, ...]]:
    """Read a log: of each segment the take that was kept last, in the order of the segments.

    Problems: `log-line` (warning: a line that cannot be read is passed over), `nothing-kept` (error).
    """
    problems: list[Problem] = []
    started: dict[int, int] = {}
    kept: dict[int, Kept] = {}
    for number, line in enumerate(text.lines, 1):
        cells = line.split("\t")
        clock = _CLOCK.fullmatch(cells[0])
        if clock is None or len(cells) < 3 or not _SEGMENT.fullmatch(cells[2]):
            # The first two lines are the title and the columns' names.
            if number > 2 and line.strip():
                message = "this line of the log cannot be read; it is passed over"
                problems.append(Problem(level="warning", code="log-line", message=message, place=text.place(number)))
            continue
        hours, minutes, seconds, tenths = map(int, clock.groups())
        at, segment = ((hours * 60 + minutes) * 60 + seconds) * 1000 + tenths * 100, int(cells[2])
        if cells[1] == "start":
            started[segment] = at
        elif cells[1] == "keep" and started.get(segment, at) < at:
            kept[segment] = Kept(segment=segment, start_ms=started[segment], end_ms=at)
    if not kept:
        message = "no take was kept according to this log"
        suggestion = "the log that the cards on screen save, with a start and a keep for each segment"
        problems.append(
            Problem(level="error", code="nothing-kept", message=message, suggestion=suggestion, place=text.place(1))
        )
        return Found(None, tuple(problems))
    return Found(tuple(kept[s] for s in sorted(kept)), tuple(problems))


def kept_only(transcript: Transcript, log: Text, log_starts_ms: int, *, talk_alone: bool = False) -> Found[Transcript]:
    """Give what is said in the takes that a log says were kept (see `cut`).

    Problems: those of the log, and `nothing-kept` (error) where nothing is said in them.
    """
    found = read_log(log)
    if found.value is None:
        return Found(None, found.problems)
    made = cut(transcript, found.value, log_starts_ms, talk_alone=talk_alone)
    if made is None:
        message = "nothing is said in the takes that were kept"
        suggestion = "--log-starts with the time in the recording at which the first take was started"
        wrong = Problem(level="error", code="nothing-kept", message=message, suggestion=suggestion, place=log.place(1))
        return Found(None, (*found.problems, wrong))
    return Found(made, found.problems)


def cut(
    transcript: Transcript, kept: Sequence[Kept], log_starts_ms: int, *, talk_alone: bool = False
) -> Transcript | None:
    """Give what is said in the kept takes, one behind the other; None where nothing is.

    `log_starts_ms` is where in the recording the log's 0:00 is. A caption belongs to the take in which its middle lies.
    `talk_alone` leaves out the silence before a take's first words and behind its last ones: from pressing a key to the first word
    nobody speaks, and a pace must not count it.
    """
    cues: list[Cue] = []
    at = 0
    for take in kept:
        start, end = take.start_ms + log_starts_ms, take.end_ms + log_starts_ms
        inside = [c for c in transcript.cues if start <= (c.start_ms + c.end_ms) // 2 < end]
        if talk_alone and inside:
            start, end = max(start, inside[0].start_ms), min(end, inside[-1].end_ms)
        for cue in inside:
            moved = {"start_ms": max(0, cue.start_ms - start) + at, "end_ms": min(cue.end_ms, end) - start + at}
            cues.append(cue.model_copy(update=moved))
        if not talk_alone:
            at += end - start + CUT_MS
        elif inside:
            at += end - start + SENTENCE_MS
    return Transcript(file=transcript.file, cues=tuple(cues)) if cues else None
