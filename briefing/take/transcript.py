"""A timed transcript as phones, editors and video sites export it: WebVTT, SRT, or plain text with `[m:ss]` or `m:ss` stamps.

Read line by line with our own few rules, because real files break: the readers of the two formats stop at the first broken stamp,
and here nothing may be lost. What is odd becomes a problem at its place, and its words stay.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from briefing.problems import Found, Model, Place, Problem
from briefing.sources.text import Text
from briefing.write.chapters import vtt_time

# Our choice: a plain transcript does not say when its last words end; people speak about this many words a second.
WORDS_A_SECOND = 3.0
# Words of which a transcript of English speech has many; fewer than one in twelve is another language. Our choice, tried on our texts.
_COMMON = frozenset(
    [
        "the",
        "a",
        "an",
        "and",
        "or",
        "to",
        "of",
        "in",
        "on",
        "at",
        "it",
        "is",
        "are",
        "you",
        "your",
        "we",
        "i",
        "this",
        "that",
        "with",
        "for",
        "from",
        "then",
        "them",
        "they",
        "so",
        "if",
        "not",
        "do",
        "be",
        "as",
        "have",
        "has",
        "can",
        "will",
        "up",
        "down",
        "out",
        "one",
        "two",
    ]
)
_LEAST_COMMON = 1 / 12
_TIME = r"(?:(?P<h{n}>\d{{1,3}}):)?(?P<m{n}>\d{{1,3}}):(?P<s{n}>\d{{1,2}})(?:[.,](?P<f{n}>\d{{1,3}}))?"
_TIMING = re.compile(rf"^\s*{_TIME.format(n=1)}\s*-->\s*{_TIME.format(n=2)}(?:\s.*)?$")
_STAMP = re.compile(
    rf"^\s*(?P<open>[\[(])?\s*{_TIME.format(n=1)}(?(open)\s*[\])]|(?![\w:]))\s*[-–—:]?\s*(?P<words>.*)$"
)
_SPEAKER = re.compile(r"^\s*(?:>>+\s*|[-–—]\s+)?(?:[A-Z][\w.'-]*(?:\s[A-Z][\w.'-]*){0,2}:\s+)?")


class Cue(Model):
    """Some words with their time, in whole milliseconds; `place` is the line of its stamp."""

    start_ms: int
    end_ms: int
    text: str
    place: Place


class Transcript(Model):
    """A take's words in the order of time; no cue overlaps the next, and none runs backwards."""

    file: str
    cues: tuple[Cue, ...]

    @property
    def text(self) -> str:
        """All words, one cue behind the other."""
        return " ".join(c.text for c in self.cues)

    @property
    def end_ms(self) -> int:
        """When the last words end."""
        return self.cues[-1].end_ms if self.cues else 0


class TimedWord(Model):
    """One word of a take with its time, its cue's share by letters."""

    word: str
    start_ms: int
    end_ms: int


def read_transcript(text: Text) -> Found[Transcript]:
    """Read a transcript in whichever of the three forms it is.

    Problems: `no-stamps` and `no-words` (errors: nothing to work with), `language` (error: not English), `stamp-broken`,
    `stamp-backwards`, `cues-overlap` (warnings: the words are kept, the time is mended).
    """
    problems: list[Problem] = []
    timed = any("-->" in line for line in text.lines)
    raw = _read_cues(text, problems) if timed else _read_stamps(text, problems)
    if not raw:
        code, message = (
            ("no-words", "there are no words in this transcript")
            if timed
            else ("no-stamps", "there are no time stamps here")
        )
        problems.append(
            _problem(
                "error", code, message, "a caption file (.vtt, .srt), or lines such as `[0:12] Hello`", text.place(1)
            )
        )
        return Found(None, tuple(problems))
    cues = _mend(_without_repeats(raw), problems)
    made = Transcript(file=text.name, cues=tuple(cues))
    words = re.findall(r"[^\W\d_]+", made.text.lower())
    if len(words) >= 40 and sum(w in _COMMON for w in words) / len(words) < _LEAST_COMMON:
        problems.append(
            _problem(
                "error",
                "language",
                "these words do not look like English",
                "a transcript of English speech",
                cues[0].place,
            )
        )
        return Found(None, tuple(problems))
    return Found(made, tuple(problems))


def timed_words(transcript: Transcript) -> tuple[TimedWord, ...]:
    """Spread each cue's time over its words by their letters."""
    out = []
    for cue in transcript.cues:
        words = cue.text.split()
        letters = [len(w) + 1 for w in words]
        whole, at = sum(letters), 0
        for word, size in zip(words, letters, strict=True):
            start = cue.start_ms + (cue.end_ms - cue.start_ms) * at // whole
            at += size
            out.append(
                TimedWord(word=word, start_ms=start, end_ms=cue.start_ms + (cue.end_ms - cue.start_ms) * at // whole)
            )
    return tuple(out)


def write_vtt(cues: Iterable[Cue]) -> str:
    """Write captions as WebVTT (W3C): an identifier a cue, `&`, `<` and `>` escaped, no blank line inside a cue."""
    blocks = [
        f"{n}\n{vtt_time(c.start_ms)} --> {vtt_time(max(c.end_ms, c.start_ms + 1))}\n{_one_line(c.text, escape=True)}\n"
        for n, c in enumerate(cues, 1)
    ]
    return "WEBVTT\n\n" + "\n".join(blocks)


def write_srt(cues: Iterable[Cue]) -> str:
    """Write captions as SubRip: numbered from 1, a comma before the milliseconds."""
    blocks = []
    for number, cue in enumerate(cues, 1):
        times = f"{vtt_time(cue.start_ms)} --> {vtt_time(max(cue.end_ms, cue.start_ms + 1))}".replace(".", ",")
        blocks.append(f"{number}\n{times}\n{_one_line(cue.text)}\n")
    return "\n".join(blocks)


def _one_line(text: str, *, escape: bool = False) -> str:
    line = " ".join(text.split())
    if escape:
        return line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return line.replace("-->", "→")


def _read_cues(text: Text, problems: list[Problem]) -> list[Cue]:
    """Read WebVTT or SRT: words belong to the timing line above them; a block without one (a note, a style) has none."""
    out: list[Cue] = []
    current: tuple[int, int, Place] | None = None
    words: list[str] = []
    skipping = False

    def flush() -> None:
        if current is not None and words:
            cleaned = _clean(words)
            if cleaned:
                out.append(Cue(start_ms=current[0], end_ms=current[1], text=cleaned, place=current[2]))
        words.clear()

    for number, line in enumerate(text.lines, 1):
        if "-->" in line:
            flush()
            match = _TIMING.match(line)
            if match is None:
                shown = line.strip()[:60]
                problems.append(
                    _problem(
                        "warning",
                        "stamp-broken",
                        f'"{shown}" is no time stamp; its words follow the ones before',
                        "00:00:01.000 --> 00:00:04.000",
                        text.place(number),
                    )
                )
                at = out[-1].end_ms if out else 0
                current = (at, at, text.place(number))
            else:
                current = (_ms(match, 1), _ms(match, 2), text.place(number))
            skipping = False
        elif not line.strip():
            flush()
            current = None
        elif re.match(r"^(?:WEBVTT|NOTE|STYLE|REGION)\b", line) and current is None:
            skipping = True
        elif current is not None and not skipping:
            words.append(line)
    flush()
    return out


def _read_stamps(text: Text, problems: list[Problem]) -> list[Cue]:
    """Read `[m:ss] words` and `m:ss` on a line of its own; words go on until the next stamp."""
    starts: list[tuple[int, Place, list[str]]] = []
    for number, line in enumerate(text.lines, 1):
        match = _STAMP.match(line)
        if match and int(match["s1"]) < 60:
            starts.append((_ms(match, 1), text.place(number), [match["words"]] if match["words"].strip() else []))
        elif re.match(r"^\s*\[[^\]]*\d[^\]]*\]", line):
            shown = line.strip()[:40]
            problems.append(
                _problem(
                    "warning",
                    "stamp-broken",
                    f'"{shown}" begins with no time stamp; its words follow the ones before',
                    "[1:05] …",
                    text.place(number),
                )
            )
            if starts:
                starts[-1][2].append(re.sub(r"^\s*\[[^\]]*\]", "", line))
        elif line.strip() and starts:
            starts[-1][2].append(line)
    out = []
    for at, (start, place, lines) in enumerate(starts):
        words = _clean(lines)
        if not words:
            continue
        end = starts[at + 1][0] if at + 1 < len(starts) else start + int(1000 * len(words.split()) / WORDS_A_SECOND)
        out.append(Cue(start_ms=start, end_ms=max(start, end), text=words, place=place))
    return out


def _ms(match: re.Match[str], n: int) -> int:
    fraction = (match[f"f{n}"] or "0").ljust(3, "0")
    return ((int(match[f"h{n}"] or 0) * 60 + int(match[f"m{n}"])) * 60 + int(match[f"s{n}"])) * 1000 + int(fraction)


def _clean(lines: Sequence[str]) -> str:
    """Take marks and speaker labels off; lines stay apart by a line end until repeats are out."""
    out = []
    for line in lines:
        bare = html.unescape(re.sub(r"<[^>]*>|\{\\[^}]*\}", "", line))
        bare = _SPEAKER.sub("", bare, count=1)
        bare = re.sub(r"[\[(♪][^\])♪]{0,40}[\])♪]", " ", bare)
        if bare.strip():
            out.append(" ".join(bare.split()))
    return "\n".join(out)


def _without_repeats(cues: list[Cue]) -> list[Cue]:
    """Take out what roll-up captions say again: lines at the start of a cue that stood at the end of the one before."""
    out: list[Cue] = []
    shown: list[str] = []
    for cue in cues:
        lines = cue.text.split("\n")
        keep = len(shown)
        again = next((n for n in range(min(keep, len(lines)), 0, -1) if shown[keep - n :] == lines[:n]), 0)
        fresh = lines[again:]
        shown = lines
        if fresh:
            out.append(cue.model_copy(update={"text": " ".join(fresh)}))
    return out


def _mend(cues: list[Cue], problems: list[Problem]) -> list[Cue]:
    """Mend times: none runs backwards, none overlaps the next, each ends after it starts."""
    out: list[Cue] = []
    for cue in cues:
        start = cue.start_ms
        if out and start < out[-1].start_ms:
            message = f"this stamp runs backwards: {vtt_time(start)} after {vtt_time(out[-1].start_ms)}"
            problems.append(_problem("warning", "stamp-backwards", message, None, cue.place))
            start = out[-1].end_ms
        out.append(cue.model_copy(update={"start_ms": start, "end_ms": max(cue.end_ms, start)}))
    overlapping = [i for i, (a, b) in enumerate(pairwise(out)) if a.end_ms > b.start_ms]
    if overlapping:
        message = f"{len(overlapping)} stamps overlap the next one; each ends where the next begins"
        problems.append(_problem("note", "cues-overlap", message, None, out[overlapping[0]].place))
    for i in overlapping:
        out[i] = out[i].model_copy(update={"end_ms": max(out[i].start_ms, out[i + 1].start_ms)})
    return out


def _problem(level: str, code: str, message: str, suggestion: str | None, place: Place) -> Problem:
    return Problem.model_validate(
        {"level": level, "code": code, "message": message, "suggestion": suggestion, "place": place}
    )
