"""A timed transcript as phones, editors and video sites export it: WebVTT, SRT, or plain text with `[m:ss]` or `m:ss` stamps.

All three become one value: cues with their words, their time in whole milliseconds and their place. `stamps` reads the lines as they
stand, `mending` puts right what is odd in them; what is odd becomes a problem at its place, and its words stay.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from briefing.problems import Found, Model, Place, Problem
from briefing.sources.text import Text
from briefing.take.mending import mend
from briefing.take.stamps import Complaints, is_caption_file, read_captions, read_stamped_text
from briefing.write.chapters import vtt_time

# The English words that are in everything that is said, and in few other languages. Tried on texts of ours: of the words of a
# briefing a third are among them (of no sixty in a row fewer than one in seven), of ten other languages at most one in fifty.
_COMMON = re.compile(
    "the|and|of|to|it|you|your|this|that|with|for|from|then|are|them|they|not|have|has|can|will|up|down|out|if|all|each"
)
_LEAST_COMMON = 1 / 12
_LEAST_WORDS = 40


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

    Problems: `no-stamps`, `no-words`, `language` (errors: there is nothing to work with); `stamp-broken`, `stamp-backwards`,
    `clock-restarts` (warnings) and `words-without-stamp`, `captions-roll`, `cues-overlap` (notes): the words are kept, the time
    is mended. At most twenty of a kind. Never raises; the time it takes grows with the length of the text.
    """
    complaints = Complaints()
    captions = is_caption_file(text)
    stamped = read_captions(text, complaints) if captions else read_stamped_text(text, complaints)
    cues = tuple(
        Cue(start_ms=m.start_ms, end_ms=m.end_ms, text=m.text, place=m.place) for m in mend(stamped, complaints)
    )
    problems = complaints.all()
    if not cues:
        if captions or stamped:
            return _nothing("no-words", "there are no words in this transcript", text.place(1), problems)
        return _nothing("no-stamps", "there are no time stamps here", text.place(1), problems)
    made = Transcript(file=text.name, cues=cues)
    if not _looks_english(made.text):
        return _nothing("language", "these words do not look like English", cues[0].place, problems)
    return Found(made, problems)


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
        for n, c in enumerate((c for c in cues if c.text.strip()), 1)
    ]
    return "WEBVTT\n\n" + "\n".join(blocks)


def write_srt(cues: Iterable[Cue]) -> str:
    """Write captions as SubRip: numbered from 1, a comma before the milliseconds."""
    blocks = []
    for number, cue in enumerate((c for c in cues if c.text.strip()), 1):
        times = f"{vtt_time(cue.start_ms)} --> {vtt_time(max(cue.end_ms, cue.start_ms + 1))}".replace(".", ",")
        blocks.append(f"{number}\n{times}\n{_one_line(cue.text)}\n")
    return "\n".join(blocks)


def _one_line(text: str, *, escape: bool = False) -> str:
    line = " ".join(text.split())
    if escape:
        return line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return line.replace("-->", "→")


def _nothing(code: str, message: str, place: Place, problems: tuple[Problem, ...]) -> Found[Transcript]:
    suggestion = {
        "language": "a transcript of English speech",
    }.get(code, "a caption file (.vtt, .srt), or lines such as `[0:12] Hello`")
    wrong = Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
    return Found(None, (*problems, wrong))


def _looks_english(words: str) -> bool:
    """Say whether this may be English: Latin letters, and enough of the words that are in everything that is said."""
    letters = [c for c in words if c.isalpha()]
    if len(letters) >= _LEAST_WORDS and sum(c < "\u0250" for c in letters) * 2 < len(letters):
        return False
    found = re.findall(r"[^\W\d_]+", words.lower())
    return len(found) < _LEAST_WORDS or sum(_COMMON.fullmatch(w) is not None for w in found) >= _LEAST_COMMON * len(
        found
    )
