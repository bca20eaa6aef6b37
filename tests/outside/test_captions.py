"""Captions and chapters against the published forms: W3C WebVTT, SubRip notes, and independent readers' rules.

Facts: W3C WebVTT ("File structure", "WebVTT timestamp", "cue timings", "chapter cues", seen); SubRip format notes of the Matroska
description (second-hand); BBC Subtitle Guidelines; the independent readers are `webvtt-py` and `srt` (both MIT). The rows of the published
values are named beside each check.
"""

from __future__ import annotations

import re
from datetime import timedelta
from itertools import pairwise

import pytest
import srt
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from briefing.pipeline import Briefed
from briefing.sources.text import Text
from briefing.speech.seconds import words_per_min
from briefing.take.transcript import Cue, read_transcript, write_srt, write_vtt
from briefing.write.chapters import chapters_vtt, vtt_time, write_chapters

PLACE = Text.of("x", "x").place(1)
# Hours optional or two and more digits; minutes and seconds 00-59; a full stop; exactly three digits.
W3C_TIME = re.compile(r"(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}")
SRT_TIME = re.compile(r"\d{2,}:[0-5]\d:[0-5]\d,\d{3}")


@pytest.mark.parametrize(
    ("ms", "written"),
    [
        (3_661_500, "01:01:01.500"),
        (60_000, "00:01:00.000"),
        (360_000_000, "100:00:00.000"),
        (0, "00:00:00.000"),
        (59_999, "00:00:59.999"),
    ],
)
def test_times(ms: int, written: str) -> None:
    """3,661.5 s is 01:01:01.500; 100 hours are legal; 59.9996 s rolls over instead of showing 60 seconds."""
    assert vtt_time(ms) == written
    assert W3C_TIME.fullmatch(written)
    assert vtt_time(round(59.9996 * 1000)) == "00:01:00.000"


def grammar(vtt: str) -> list[tuple[str, str, str]]:
    """Hold a file against the W3C's grammar, by rules of our own reading; gives (start, end, text) of each cue."""
    blocks = re.split(r"\n{2,}", vtt.strip("\n"))
    assert re.fullmatch(r"\ufeff?WEBVTT(?:[ \t].*)?", blocks[0])
    cues = []
    seen: set[str] = set()
    for block in blocks[1:]:
        lines = block.split("\n")
        if "-->" not in lines[0]:
            identifier = lines.pop(0)
            assert "-->" not in identifier
            assert identifier not in seen
            seen.add(identifier)
        timing = re.fullmatch(rf"({W3C_TIME.pattern})[ \t]+-->[ \t]+({W3C_TIME.pattern})(?:[ \t].*)?", lines[0])
        assert timing, lines[0]
        text = "\n".join(lines[1:])
        assert "-->" not in text
        assert not re.search(r"<(?!/?[bicuv])|&(?!amp;|lt;|gt;|nbsp;|lrm;|rlm;)", text)
        assert timing[2] > timing[1]
        cues.append((timing[1], timing[2], text))
    assert [c[0] for c in cues] == sorted(c[0] for c in cues)
    return cues


def test_captions_we_write_are_webvtt() -> None:
    cues = [
        Cue(start_ms=0, end_ms=1500, text="Ten & <twenty> --> go", place=PLACE),
        Cue(start_ms=1500, end_ms=1500, text="now", place=PLACE),
    ]
    assert len(grammar(write_vtt(cues))) == 2
    again = read_transcript(Text.of(write_vtt(cues), "x.vtt"))
    assert again.value is not None
    assert again.value.cues[0].text == "Ten & <twenty> --> go"


def test_subrip_has_numbers_from_one_and_a_comma() -> None:
    written = write_srt(
        [Cue(start_ms=500, end_ms=2000, text="a", place=PLACE), Cue(start_ms=2000, end_ms=3000, text="b", place=PLACE)]
    )
    blocks = written.strip().split("\n\n")
    assert [b.split("\n")[0] for b in blocks] == ["1", "2"]
    for block in blocks:
        first, last = block.split("\n")[1].split(" --> ")
        assert SRT_TIME.fullmatch(first)
        assert SRT_TIME.fullmatch(last)


def test_reference_libraries_read_what_we_write() -> None:
    """Read with webvtt-py and srt (both from the registry): the same times in milliseconds, the same words."""
    cues = [
        Cue(start_ms=1_020, end_ms=4_500, text="Twenty step-ups, ten each leg.", place=PLACE),
        Cue(start_ms=4_500, end_ms=3_661_500, text="Rest & breathe.", place=PLACE),
    ]
    ours = [(c.start_ms, c.end_ms, c.text) for c in cues]
    theirs = [(c.start, c.end, c.text.replace("&amp;", "&")) for c in webvtt.from_string(write_vtt(cues)).captions]
    assert theirs == [(vtt_time(a), vtt_time(b), text) for a, b, text in ours]
    read = [(c.start, c.end, c.content) for c in srt.parse(write_srt(cues))]
    assert read == [(timedelta(milliseconds=a), timedelta(milliseconds=b), text) for a, b, text in ours]


WORDS = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=8).filter(
    lambda w: any(map(str.isalnum, w))
)
CUES = st.lists(
    st.tuples(st.integers(0, 5000), st.integers(1, 9000), st.lists(WORDS, min_size=1, max_size=5)),
    min_size=1,
    max_size=6,
)


def cues_of(rows: list[tuple[int, int, list[str]]]) -> list[Cue]:
    out, at = [], 0
    for pause, length, words in rows:
        out.append(Cue(start_ms=at + pause, end_ms=at + pause + length, text=" ".join(words), place=PLACE))
        at += pause + length
    return out


@given(CUES)
def test_another_reader_reads_the_webvtt_we_write(rows: list[tuple[int, int, list[str]]]) -> None:
    """webvtt-py finds as many cues, with our times; the grammar of the W3C holds for each."""
    cues = cues_of(rows)
    found = webvtt.from_string(write_vtt(cues))
    assert [(c.start, c.end) for c in found.captions] == [(vtt_time(c.start_ms), vtt_time(c.end_ms)) for c in cues]
    assert len(grammar(write_vtt(cues))) == len(cues)


@given(CUES)
def test_another_reader_reads_the_subrip_we_write(rows: list[tuple[int, int, list[str]]]) -> None:
    """srt finds the same numbers, times and words, in its strict way of reading."""
    cues = cues_of(rows)
    found = list(srt.parse(write_srt(cues)))
    assert [s.index for s in found] == list(range(1, len(cues) + 1))
    assert [round(s.start.total_seconds() * 1000) for s in found] == [c.start_ms for c in cues]
    assert [round(s.end.total_seconds() * 1000) for s in found] == [c.end_ms for c in cues]
    assert [s.content for s in found] == [c.text.replace("-->", "→") for c in cues]


@given(CUES)
def test_we_read_what_another_program_writes(rows: list[tuple[int, int, list[str]]]) -> None:
    """What the srt library writes is read with the same times; plain words stay as they are."""
    cues = [c.model_copy(update={"text": f"words {n}"}) for n, c in enumerate(cues_of(rows))]
    written = srt.compose(
        srt.Subtitle(None, timedelta(milliseconds=c.start_ms), timedelta(milliseconds=c.end_ms), c.text) for c in cues
    )
    found = read_transcript(Text.of(written, "x.srt"))
    assert found.problems == ()
    assert found.value is not None
    assert [(c.start_ms, c.end_ms, c.text) for c in found.value.cues] == [(c.start_ms, c.end_ms, c.text) for c in cues]


@pytest.mark.parametrize(
    ("stamp", "ms"),
    [("00:01.500", 1500), ("01:01:01.500", 3_661_500), ("100:00:00.000", 360_000_000), ("59:59.999", 3_599_999)],
)
def test_stamps_that_the_w3c_allows(stamp: str, ms: int) -> None:
    """Hours are optional and may have more than two digits; a byte-order mark and words behind WEBVTT are allowed (2.1, 2.3)."""
    found = read_transcript(
        Text.of(f"\ufeffWEBVTT a take\r\n\r\nfirst\r\n{stamp} --> 100:00:01.000 line:0\r\nHello\r\n", "x.vtt")
    )
    assert found.problems == ()
    assert found.value is not None
    assert found.value.cues[0].start_ms == ms
    assert found.value.cues[0].text == "Hello"


@pytest.mark.parametrize("stamp", ["00:60.000", "00:61:00.000", "1:2:3", "00:01,x00"])
def test_stamps_that_the_w3c_does_not_allow(stamp: str) -> None:
    """Minutes and seconds are two digits from 00 to 59 (2.3); such a stamp is said to be broken and its words stay."""
    found = read_transcript(Text.of(f"WEBVTT\n\n{stamp} --> 02:00:00.000\nHello\n", "x.vtt"))
    assert [p.code for p in found.problems] == ["stamp-broken"]
    assert found.value is not None
    assert found.value.text == "Hello"


def test_the_examples_of_subtitle_speed() -> None:
    """Two words in a second are 120 words a minute (BBC §4, published); 12 words in 4.0 s are 180, in 4.5 s 160 (derived)."""
    assert words_per_min("two words", 1.0) == 120
    assert words_per_min("word " * 12, 4.0) == 180
    assert words_per_min("word " * 12, 4.5) == 160


def test_chapters_of_the_demos_are_contiguous(demos: dict[str, Briefed]) -> None:
    """A chapter file: one-line titles, consecutive intervals that do not overlap (W3C, chapter cues)."""
    for briefed in demos.values():
        cues = grammar(chapters_vtt(briefed.outline))
        assert len(cues) == len(briefed.outline.segments)
        assert all("\n" not in text for _, _, text in cues)
        assert all(a[1] == b[0] for a, b in pairwise(cues))


def test_the_w3c_chapter_example() -> None:
    """Four chapters, 0 to 10.7, 47.6, 110.1 and 213.0 seconds: contiguous, each with an identifier."""
    ends = [0, 10_700, 47_600, 110_100, 213_000]
    made = write_chapters([(a, b, f"Chapter {n}") for n, (a, b) in enumerate(pairwise(ends), 1)])
    assert [c[0] for c in grammar(made)] == ["00:00:00.000", "00:00:10.700", "00:00:47.600", "00:01:50.100"]


def test_overlapping_captions_are_legal_and_get_mended() -> None:
    """Cues of 0-60 s and 30-90 s are legal captions, and no chapter file: each ends where the next begins."""
    found = read_transcript(
        Text.of("WEBVTT\n\n00:00.000 --> 01:00.000\none\n\n00:30.000 --> 01:30.000\ntwo\n", "x.vtt")
    )
    assert found.value is not None
    assert [(c.start_ms, c.end_ms) for c in found.value.cues] == [(0, 30_000), (30_000, 90_000)]
