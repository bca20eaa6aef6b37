"""The lines of a transcript with the stamps as they stand: caption files (WebVTT, SRT) and plain text with `[m:ss]` or `m:ss`.

Read with a few rules of our own, since a take's words must survive what real files have in them. Tried: `webvtt-py` gives up a file whose
stamps have no milliseconds and passes over a cue with a broken stamp; `srt` gives up at the first broken stamp, or passes over it. Here a
broken stamp is a problem at its place, and its words stay. The tests read with both libraries what we write.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from briefing.problems import Place, Problem
from briefing.sources.text import Text

# Our choice: who repairs a file needs the first places, not five thousand of them.
MOST_OF_A_KIND = 20
_NAMED_AGAIN = 2
_TIME = (
    r"(?:(?P<h{n}>[0-9]{{1,3}}):)?(?P<m{n}>[0-9]{{1,3}}):(?P<s{n}>[0-9]{{2}})(?:[.,](?P<f{n}>[0-9]{{1,3}}))?(?![0-9:])"
)
_FIRST, _LAST = _TIME.format(n=1), _TIME.format(n=2)
_ARROW = r"[ \t]*(?:-->|->|[–—]>)[ \t]*"
# Some programs put the timing in brackets, with the words on the same line; without brackets what follows are a cue's settings.
_TIMING = re.compile(
    rf"\s{{0,20}}(?P<open>\[)?{_FIRST}{_ARROW}{_LAST}(?(open)[ \t]*\]|(?=\s|$))(?P<rest>.*)", re.DOTALL
)
_TIMING_START = re.compile(rf"\s{{0,20}}\[?{_FIRST}{_ARROW}")
# What was meant as a timing line: an arrow of captions anywhere, or another arrow behind digits and colons.
_MEANT = re.compile(r"-->|^\s{0,20}\[?[0-9][0-9:.,]{3,15}[ \t]*(?:->|[–—]>)[ \t]*[0-9]")
_NOT_SPOKEN = re.compile(r"(?:NOTE|STYLE|REGION)(?:\s|$)")
_RANGE = rf"(?:[ \t]*[-–—][ \t]*{_LAST})?"
_WHO = r"(?:(?P<who>(?:[A-Z][\w.'’-]{0,20}|[0-9]{1,2})(?: (?:[A-Z][\w.'’-]{0,20}|[0-9]{1,2})){0,2}):?[ \t]{1,4})?"
_BRACKETED = re.compile(
    rf"\s{{0,20}}{_WHO}[\[(][ \t]*{_FIRST}{_RANGE}[ \t]*[\])][ \t]*[-–—:]?[ \t]*(?P<words>.*)", re.DOTALL
)
_BARE = re.compile(rf"\s{{0,20}}{_FIRST}{_RANGE}(?![\w/])(?:[ \t]*[-–—:](?=\s|$))?[ \t]*(?P<words>.*)", re.DOTALL)
# A name and a bare stamp alone on a line; "Rest 1:00" is one only where other lines are of this kind.
_NAMED = re.compile(
    rf"\s{{0,20}}(?P<who>[A-Z][\w.'’-]{{0,20}}(?: (?:[A-Z][\w.'’-]{{0,20}}|[0-9]{{1,2}})){{0,2}}):?[ \t]{{1,4}}{_FIRST}{_RANGE}"
    r"(?P<words>\s*)$"
)
_BROKEN_BRACKET = re.compile(
    r"\s{0,20}[\[(][ \t]*[0-9][^\[\]()]{0,14}[:.,][^\[\]()]{0,10}[\])](?P<words>.*)", re.DOTALL
)
_BROKEN_BARE = re.compile(r"\s{0,20}[0-9]{1,3}:[0-9]{2}(?::[0-9]{2})?(?![\w/:])(?P<words>.*)", re.DOTALL)


@dataclass(frozen=True)
class Stamped:
    """Lines of words with their stamp in whole milliseconds; `start_ms` is None where no stamp could be read for them.

    `end_ms` is None where the file does not say when the words end.
    """

    start_ms: int | None
    end_ms: int | None
    lines: tuple[str, ...]
    place: Place


class Complaints:
    """Problems while reading, at most twenty of a kind; the last one says how many more there are."""

    def __init__(self) -> None:
        self._found: list[Problem] = []
        self._more: dict[str, int] = {}

    def add(self, problem: Problem) -> None:
        """Take a problem in, unless there are enough of its kind."""
        if sum(p.code == problem.code for p in self._found) < MOST_OF_A_KIND:
            self._found.append(problem)
        else:
            self._more[problem.code] = self._more.get(problem.code, 0) + 1

    def all(self) -> tuple[Problem, ...]:
        """Give them in the order they were found."""
        last = {p.code: at for at, p in enumerate(self._found)}
        return tuple(
            p.model_copy(update={"message": f"{p.message}; {self._more[p.code]} more like it follow"})
            if p.code in self._more and last[p.code] == at
            else p
            for at, p in enumerate(self._found)
        )


def is_caption_file(text: Text) -> bool:
    """Say whether this is WebVTT or SRT: it says so at its top, or a line has the arrow of a timing."""
    return text.lines[0].startswith("WEBVTT") or any(_MEANT.search(line) for line in text.lines)


def read_captions(text: Text, complaints: Complaints) -> list[Stamped]:
    """Read the cues of WebVTT or SRT, each with the lines below its timing, as they stand.

    WebVTT's header, its `NOTE`, `STYLE` and `REGION` blocks and the cues' identifiers are no words. Problems (warnings):
    `stamp-broken`, `words-without-stamp` (lines behind a blank line, or before the first timing: they stay with the cue before).
    """
    lines = text.lines
    timings = [at for at, line in enumerate(lines) if _MEANT.search(line)]
    webvtt = lines[0].startswith("WEBVTT")
    names = _identifiers(lines, timings)
    out: list[Stamped] = []
    first = timings[0] if timings else len(lines)
    before = range(_header_end(lines, first) if webvtt else 0, first)
    stray = [at for at in _stray(lines, before, webvtt=webvtt) if at not in names]
    if stray:
        complaints.add(_without_stamp(text, stray[0]))
        out.append(Stamped(None, None, tuple(lines[at] for at in stray), text.place(stray[0] + 1)))
    for number, at in enumerate(timings):
        after = timings[number + 1] if number + 1 < len(timings) else len(lines)
        start, end, words = _timing(text, at, complaints)
        blank = next((i for i in range(at + 1, after) if not lines[i].strip()), after)
        words += [lines[i] for i in range(at + 1, blank) if i not in names]
        stray = [i for i in _stray(lines, range(blank, after), webvtt=webvtt) if i not in names]
        if stray:
            complaints.add(_without_stamp(text, stray[0]))
            words += [lines[i] for i in stray]
        out.append(Stamped(start, end, tuple(words), text.place(at + 1)))
    return out


def read_stamped_text(text: Text, complaints: Complaints) -> list[Stamped]:
    """Read `[m:ss] words`, `Maren [m:ss]`, `Maren m:ss`, `m:ss words` or `m:ss` on a line of its own; words go on until the next stamp.

    A file has stamps of one kind: where they are in brackets, `1:30 rest` are words. A name that stands before a bare stamp does so
    twice at least: `Rest 1:00`, once, are words. Problems (warnings): `stamp-broken`,
    `words-without-stamp` (lines before the first stamp).
    """
    bracketed = sum(_fits(_BRACKETED.match(line)) for line in text.lines)
    bare = sum(_fits(_BARE.match(line)) for line in text.lines)
    begins = Counter(m["who"] for line in text.lines if (m := _NAMED.match(line)) is not None and _fits(m))
    named = sum(times for times in begins.values() if times >= _NAMED_AGAIN)
    if not bracketed and not bare and not named:
        return []
    by_name = named > max(bracketed, bare)
    stamp, broken = (_BRACKETED, _BROKEN_BRACKET) if bracketed >= bare else (_BARE, _BROKEN_BARE)
    stamp = _NAMED if by_name else stamp
    open_at: tuple[int | None, int | None, Place] | None = None
    words: list[str] = []
    out: list[Stamped] = []

    def close() -> None:
        if open_at is not None:
            out.append(Stamped(open_at[0], open_at[1], tuple(words), open_at[2]))
        words.clear()

    for at, line in enumerate(text.lines):
        match, place = stamp.match(line), text.place(at + 1)
        if match is not None and _fits(match) and (not by_name or begins[match["who"]] >= _NAMED_AGAIN):
            close()
            end = _ms(match, 2) if match["m2"] else None
            open_at = (_ms(match, 1), end, place)
            words += [match["words"]] if match["words"].strip() else []
        elif (wrong := broken.match(line)) is not None:
            close()
            complaints.add(_broken(text, at, "[1:05]" if stamp is _BRACKETED else "1:05"))
            open_at = (None, None, place)
            words += [wrong["words"]] if wrong["words"].strip() else []
        elif line.strip():
            if open_at is None:
                complaints.add(_without_stamp(text, at))
                open_at = (None, None, place)
            words.append(line)
    close()
    return out


def _timing(text: Text, at: int, complaints: Complaints) -> tuple[int | None, int | None, list[str]]:
    """Read a timing line: its start and end, and the words behind a bracketed one."""
    line = text.lines[at]
    match = _TIMING.match(line)
    if match is not None and _sound(match, 1) and _sound(match, 2) and "-->" in line:
        rest = match["rest"] if match["open"] else ""
        return _ms(match, 1), _ms(match, 2), [rest] if rest.strip() else []
    complaints.add(_broken(text, at, "00:01.000 --> 00:04.000"))
    start = _TIMING_START.match(line)
    if match is not None and _sound(match, 1) and _sound(match, 2):
        return _ms(match, 1), _ms(match, 2), []  # another arrow: what is meant is plain
    return (_ms(start, 1) if start is not None and _sound(start, 1) else None), None, []


def _identifiers(lines: Sequence[str], timings: Sequence[int]) -> set[int]:
    """Find the lines that name a cue: before its timing and behind a blank line, or the number that comes next."""
    found: set[int] = set()
    stamped = set(timings)
    counted = 0
    for at in timings:
        counted += 1
        above = at - 1
        if above < 0 or not lines[above].strip() or above in stamped:
            continue
        number = re.fullmatch(r"\s*([0-9]{1,6})\s*", lines[above])
        alone = above == 0 or not lines[above - 1].strip()
        if alone or (number and int(number[1]) == counted):
            found.add(above)
        if number:
            counted = int(number[1])
    return found


def _header_end(lines: Sequence[str], first: int) -> int:
    """Give the line behind WebVTT's header, which ends at the first blank line."""
    return next((at for at in range(first) if not lines[at].strip()), first)


def _stray(lines: Sequence[str], where: range, *, webvtt: bool) -> Iterator[int]:
    """Give the lines that stand in no cue and are no comment."""
    comment = fresh = False
    for at in where:
        if not lines[at].strip():
            comment, fresh = False, True
            continue
        if webvtt and (fresh or at == where.start) and _NOT_SPOKEN.match(lines[at]):
            comment = True
        fresh = False
        if not comment:
            yield at


def _sound(match: re.Match[str], n: int) -> bool:
    return int(match[f"s{n}"]) < 60 and (match[f"h{n}"] is None or int(match[f"m{n}"]) < 60)


def _fits(match: re.Match[str] | None) -> bool:
    return match is not None and _sound(match, 1) and (match["m2"] is None or _sound(match, 2))


def _ms(match: re.Match[str], n: int) -> int:
    fraction = (match[f"f{n}"] or "0").ljust(3, "0")
    return ((int(match[f"h{n}"] or 0) * 60 + int(match[f"m{n}"])) * 60 + int(match[f"s{n}"])) * 1000 + int(fraction)


def _broken(text: Text, at: int, suggestion: str) -> Problem:
    shown = text.lines[at].strip()[:40]
    message = f'"{shown}" begins with no time stamp that can be read; its words follow the ones before'
    return Problem(
        level="warning", code="stamp-broken", message=message, suggestion=suggestion, place=text.place(at + 1)
    )


def _without_stamp(text: Text, at: int) -> Problem:
    message = "words without a time stamp stand here; they are kept with the stamp before"
    return Problem(level="note", code="words-without-stamp", message=message, place=text.place(at + 1))
