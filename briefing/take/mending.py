"""Mending what is odd in a transcript: repeated lines, labels and marks, stamps that do not fit between their neighbours."""

from __future__ import annotations

import html
import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from briefing.problems import Place, Problem
from briefing.take.stamps import Complaints, Stamped
from briefing.units import write_clock

# Our choice: where nothing says when words end, people speak about three words a second.
WORDS_A_SECOND = 3
# Roll-up captions repeat in every cue or every second one; so many repeats, and so great a share, are no accident. Our choice.
_LEAST_ROLLS, _LEAST_ROLL_SHARE = 2, 0.3
_ROLL_LINES = 4
# A clock that begins again, as in two recordings in one file: back near the first stamp, and in order for some stamps. Our choice.
_RESTART_MS, _RESTART_CUES = 15_000, 4
_TAG = re.compile(
    r"</?(?:[biucv]|ruby|rt|lang|font)\b[^<>]{0,200}>|</?[0-9][0-9:.]{0,15}>|</>|\{\\[^{}]{0,60}\}", re.IGNORECASE
)
_SOUND = re.compile(r"\[[^\[\]0-9]{0,40}\]|[♪♫]+")
_SOUND_LINE = re.compile(r"\s{0,20}\([^()0-9]{0,40}\)\s{0,20}")
_DASH = re.compile(r"(?:\s{0,20}(?:>>|[-–—](?=\s)))+>?\s{0,20}")
_NAME = r"[^\W\d_][\w.'’-]{0,20}(?: [^\W\d_][\w.'’-]{0,20}| [0-9]{1,2}){0,2}"
_LABEL = re.compile(rf"(?P<who>{_NAME}):(?=\s|$)\s{{0,20}}")


@dataclass(frozen=True)
class Mended:
    """A cue's words in one line with times that fit: it ends no earlier than it starts, and no later than the next one starts."""

    start_ms: int
    end_ms: int
    text: str
    place: Place


def mend(stamped: Sequence[Stamped], complaints: Complaints) -> list[Mended]:
    """Clean the words and mend the times; cues without words go, and nothing that was said is lost.

    Problems: `captions-roll`, `cues-overlap` (notes), `clock-restarts`, `stamp-backwards` (warnings, one for a run of stamps).
    """
    cleaned = _without_repeats(_without_marks(stamped), complaints)
    ordered = _in_order(_one_clock(cleaned, complaints), complaints)
    return _without_overlaps(_with_times(ordered), complaints)


def _without_marks(stamped: Sequence[Stamped]) -> list[Stamped]:
    """Take marks, sound notes and speaker labels off."""
    bare = [replace(s, lines=tuple(w for line in s.lines if (w := _bare(line)))) for s in stamped]
    bare = [s for s in bare if s.lines]
    begins = Counter(m["who"] for s in bare for line in s.lines if (m := _LABEL.match(_DASH.sub("", line, count=1))))
    # A label comes back; "Remember: ..." at the start of one cue is said. Our choice: a fifth of the cues, or twice in capitals.
    labels = {
        who
        for who, times in begins.items()
        if re.fullmatch(r"(?i:speaker)(?: [0-9]{1,2})?", who)
        or (times >= 2 and who.isupper() and len(who) > 1)
        or (times >= 3 and times * 5 >= len(bare) and who[0].isupper())
    }

    def said(line: str) -> str:
        dashed = _DASH.sub("", line, count=1) if _DASH.match(line) else line
        match = _LABEL.match(dashed)
        return dashed[match.end() :] if match and match["who"] in labels else dashed

    out = [replace(s, lines=tuple(w for line in s.lines if (w := said(line)))) for s in bare]
    return [s for s in out if any(c.isalnum() for line in s.lines for c in line)]


def _bare(line: str) -> str:
    plain = html.unescape(_TAG.sub("", line))
    plain = "" if _SOUND_LINE.fullmatch(plain) else _SOUND.sub(" ", plain)
    return " ".join(plain.split())


def _without_repeats(cues: Sequence[Stamped], complaints: Complaints) -> list[Stamped]:
    """Take out what roll-up captions show again; a file that does not roll keeps all, since a coach says "Go" twice."""
    fresh = [c.lines if at == 0 else _fresh(cues[at - 1].lines, c.lines) for at, c in enumerate(cues)]
    rolls = [at for at, c in enumerate(cues) if fresh[at] and fresh[at] != c.lines]
    if len(rolls) < _LEAST_ROLLS or len(rolls) < _LEAST_ROLL_SHARE * len(cues):
        return list(cues)
    message = "these captions repeat the line before; each line counts once"
    complaints.add(Problem(level="note", code="captions-roll", message=message, place=cues[rolls[0]].place))
    return [replace(c, lines=lines) for c, lines in zip(cues, fresh, strict=True) if lines]


def _fresh(before: tuple[str, ...], now: tuple[str, ...]) -> tuple[str, ...]:
    """Give the lines of a cue that did not stand in the one before; a line that grew gives what it grew by."""
    for count in range(min(len(before), len(now), _ROLL_LINES), 0, -1):
        if before[-count:] == now[:count]:
            return now[count:]
    for count in range(min(len(before), len(now), _ROLL_LINES), 0, -1):
        *same, grown = now[:count]
        if before[-count:-1] == tuple(same) and grown.startswith(f"{before[-1]} "):
            return (grown[len(before[-1]) + 1 :], *now[count:])
    return now


def _one_clock(cues: Sequence[Stamped], complaints: Complaints) -> list[Stamped]:
    """Go on counting where the clock begins again, as where two recordings stand in one file."""
    starts = [c.start_ms for c in cues]
    first = next((s for s in starts if s is not None), 0)
    out: list[Stamped] = []
    offset = since = 0
    last = end = 0
    for at, cue in enumerate(cues):
        if cue.start_ms is None:
            out.append(cue)
            continue
        coming = [s for s in starts[at : at + 3 * _RESTART_CUES] if s is not None][:_RESTART_CUES]
        rising = len(coming) == _RESTART_CUES and all(a <= b for a, b in pairwise(coming))
        if since >= _RESTART_CUES and cue.start_ms < last and cue.start_ms <= first + _RESTART_MS < last and rising:
            message = f"the clock begins again here, at {write_clock(cue.start_ms / 1000)}; it is counted on"
            complaints.add(Problem(level="warning", code="clock-restarts", message=message, place=cue.place))
            offset, since = max(end, last + offset), 0
        last, since = cue.start_ms, since + 1
        end = max(cue.end_ms or 0, cue.start_ms) + offset
        shifted = None if cue.end_ms is None else cue.end_ms + offset
        out.append(replace(cue, start_ms=cue.start_ms + offset, end_ms=shifted))
    return out


def _in_order(cues: Sequence[Stamped], complaints: Complaints) -> list[Stamped]:
    """Set aside the stamps that do not fit: as few as possible, so that the others are in order.

    One stamp of 10:09 between 0:05 and 0:12 is then the one that is wrong, not all that come after it.
    """
    known = [(at, s) for at, c in enumerate(cues) if (s := c.start_ms) is not None]
    keep = _longest_in_order(known)
    out = list(cues)
    run = -2
    before = 0
    for order, (at, start) in enumerate(known):
        if at in keep:
            before = start
            continue
        if order != run + 1:
            after = next((s for i, s in known[order:] if i in keep), None)
            between = f" and {write_clock(after / 1000)}" if after is not None else " and the end"
            message = (
                f"the stamp {write_clock(start / 1000)} does not stand between {write_clock(before / 1000)}{between}"
            )
            complaints.add(Problem(level="warning", code="stamp-backwards", message=message, place=cues[at].place))
        run = order
        length = None if (end := cues[at].end_ms) is None or end < start else end - start
        # The end is kept as a length: it is used where nothing comes after.
        out[at] = replace(cues[at], start_ms=None, end_ms=length)
    for at, cue in enumerate(out):
        if cue.start_ms is not None and cue.end_ms is not None and cue.end_ms < cue.start_ms:
            message = f"this cue ends before it starts: {write_clock(cue.end_ms / 1000)} is before {write_clock(cue.start_ms / 1000)}"
            complaints.add(Problem(level="warning", code="stamp-backwards", message=message, place=cue.place))
            out[at] = replace(cue, end_ms=None)
    return out


def _longest_in_order(known: Sequence[tuple[int, int]]) -> set[int]:
    """Give the positions of a longest run that never goes back; from the end, so that of two the earlier one stays."""
    tails: list[int] = []
    tops: list[int] = []
    came: dict[int, int] = {}
    for place in range(len(known) - 1, -1, -1):
        height = bisect_right(tails, -known[place][1])
        if height:
            came[place] = tops[height - 1]
        if height == len(tails):
            tails.append(-known[place][1])
            tops.append(place)
        else:
            tails[height], tops[height] = -known[place][1], place
    keep: set[int] = set()
    at = tops[-1] if tops else None
    while at is not None:
        keep.add(known[at][0])
        at = came.get(at)
    return keep


def _with_times(cues: Sequence[Stamped]) -> list[Mended]:
    """Give each cue its start and end: words without a stamp share what lies between their neighbours."""
    out: list[Mended] = []
    at = 0
    while at < len(cues):
        # A group is one cue with a stamp and those behind it that have none (at the top, those alone).
        upto = at + 1
        while upto < len(cues) and cues[upto].start_ms is None:
            upto += 1
        out += _share(cues[at:upto], cues[upto].start_ms if upto < len(cues) else None)
        at = upto
    return out


def _share(group: Sequence[Stamped], upto: int | None) -> list[Mended]:
    """Spread the words that wait for a time over what is left until the next stamp, by their letters."""
    lead = group[0]
    out: list[Mended] = []
    start = lead.start_ms or 0
    waiting = group
    if lead.start_ms is not None and lead.end_ms is not None:
        out.append(Mended(start, lead.end_ms, " ".join(lead.lines), lead.place))
        start, waiting = lead.end_ms, group[1:]
    texts = [" ".join(c.lines) for c in waiting]
    span = sum(map(_likely_ms, waiting, texts)) if upto is None else max(0, upto - start)
    whole, done = sum(len(t) + 1 for t in texts), 0
    for cue, text in zip(waiting, texts, strict=True):
        first, done = start + span * done // whole, done + len(text) + 1
        out.append(Mended(first, start + span * done // whole, text, cue.place))
    return out


def _likely_ms(cue: Stamped, text: str) -> int:
    if cue.start_ms is None and cue.end_ms is not None:
        return cue.end_ms
    return 1000 * len(text.split()) // WORDS_A_SECOND


def _without_overlaps(cues: Sequence[Mended], complaints: Complaints) -> list[Mended]:
    """Let each cue end where the next begins; cues that begin together are one."""
    overlapping = [a for a, b in pairwise(cues) if a.end_ms > b.start_ms]
    if overlapping:
        count = len(overlapping)
        message = f"{count} cue{'' if count == 1 else 's'} overlap{'s' if count == 1 else ''} the next one; each ends where the next begins"
        complaints.add(Problem(level="note", code="cues-overlap", message=message, place=overlapping[0].place))
    out: list[Mended] = []
    for cue in cues:
        before = out[-1] if out else None
        if before is not None and before.start_ms >= cue.start_ms and before.end_ms > cue.start_ms:
            out[-1] = replace(before, end_ms=max(before.end_ms, cue.end_ms), text=f"{before.text} {cue.text}")
        elif before is not None and before.end_ms > cue.start_ms:
            out[-1] = replace(before, end_ms=cue.start_ms)
            out.append(cue)
        else:
            out.append(cue)
    return out
