"""Transcripts: three forms, and everything that is broken in real ones."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.sources.text import Text
from briefing.take.transcript import Cue, Transcript, read_transcript, timed_words, write_srt, write_vtt

VTT = """WEBVTT - a take

NOTE this is no word

1
00:00.500 --> 00:03.000 align:start
<v Maren>Hello, <b>Maren</b> here.

2
00:03.000 --> 00:06.250
Twenty step-ups &amp; ten
each leg.
"""
SRT = "1\n00:00:00,500 --> 00:00:03,000\nHello, Maren here.\n\n2\n00:00:03,000 --> 00:00:06,250\n{\\an8}Twenty step-ups & ten\neach leg.\n"
PLAIN = "[0:00] Hello, Maren here.\n[0:03] Twenty step-ups & ten\neach leg.\n(1:02:03) The end.\n"
STAMPS = "0:00\nHello, Maren here.\n0:03\nTwenty step-ups & ten each leg.\n"


def read(words: str) -> tuple[Transcript | None, list[str]]:
    found = read_transcript(Text.of(words, "take.vtt"))
    return found.value, [p.code for p in found.problems]


def rows(made: Transcript | None) -> list[tuple[int, int, str]]:
    assert made is not None
    return [(c.start_ms, c.end_ms, c.text) for c in made.cues]


@pytest.mark.parametrize("words", [VTT, SRT], ids=["vtt", "srt"])
def test_captions(words: str) -> None:
    made, codes = read(words)
    assert codes == []
    assert rows(made) == [(500, 3000, "Hello, Maren here."), (3000, 6250, "Twenty step-ups & ten each leg.")]


def test_plain_text_with_stamps() -> None:
    made, codes = read(PLAIN)
    assert codes == []
    assert rows(made)[:2] == [(0, 3000, "Hello, Maren here."), (3000, 3723000, "Twenty step-ups & ten each leg.")]
    assert rows(read(STAMPS)[0])[1][2] == "Twenty step-ups & ten each leg."


def test_roll_up_captions_say_nothing_twice() -> None:
    rolled = "WEBVTT\n\n00:01.000 --> 00:02.000\nfirst line\n\n00:02.000 --> 00:03.000\nfirst line\nsecond line\n\n"
    rolled += "00:03.000 --> 00:04.000\nsecond line\nthird line\n\n00:04.000 --> 00:05.000\nthird line\n"
    made, _ = read(rolled)
    assert made is not None
    assert made.text == "first line second line third line"


def test_broken_stamps_lose_no_word() -> None:
    made, codes = read(
        "WEBVTT\n\n00:01.000 --> 00:02.000\none\n\n00:0x --> later\ntwo\n\n00:05.000 --> 00:06.000\nthree\n"
    )
    assert codes == ["stamp-broken"]
    assert made is not None
    assert made.text == "one two three"
    made, codes = read("[0:01] one\n[0:9x] two\n[0:05] three\n")
    assert codes == ["stamp-broken"]
    assert made is not None
    assert made.text == "one two three"


def test_stamps_that_run_backwards_and_overlap() -> None:
    made, codes = read(
        "WEBVTT\n\n00:05.000 --> 00:07.000\none\n\n00:02.000 --> 00:03.000\ntwo\n\n00:06.000 --> 00:09.000\nthree\n"
    )
    assert "stamp-backwards" in codes
    assert made is not None
    starts = [c.start_ms for c in made.cues]
    assert starts == sorted(starts)
    assert all(a.end_ms <= b.start_ms or b.start_ms == a.start_ms for a, b in pairwise(made.cues))
    made, codes = read("WEBVTT\n\n00:01.000 --> 00:05.000\none\n\n00:03.000 --> 00:06.000\ntwo\n")
    assert codes == ["cues-overlap"]
    assert rows(made)[0] == (1000, 3000, "one")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("nothing but words\n", "no-stamps"),
        ("WEBVTT\n\n00:01.000 --> 00:02.000\n\n", "no-words"),
        (
            "WEBVTT\n\n00:01.000 --> 00:50.000\n"
            + "zwanzig Kniebeugen und dann zehn Liegestütze bitte sehr langsam " * 9
            + "\n",
            "language",
        ),
    ],
)
def test_what_cannot_be_used_is_one_sentence(words: str, code: str) -> None:
    made, codes = read(words)
    assert made is None
    assert codes == [code]


def test_five_hours_are_read() -> None:
    stamps = [f"{n // 60:02d}:{n % 60:02d}" for n in range(300)]
    cues = "".join(f"{n}\n{s}:00,000 --> {s}:04,000\nthe words of minute {n}\n\n" for n, s in enumerate(stamps))
    made, codes = read(cues)
    assert codes == []
    assert made is not None
    assert len(made.cues) == 300
    assert made.end_ms == 299 * 60_000 + 4000


def test_words_share_the_time_of_their_cue() -> None:
    made, _ = read(VTT)
    assert made is not None
    words = timed_words(made)
    assert words[0].start_ms == 500
    assert [w.word for w in words[:3]] == ["Hello,", "Maren", "here."]
    assert all(a.end_ms <= b.start_ms for a, b in pairwise(words))
    assert words[2].end_ms == 3000


def test_writing_and_reading_again() -> None:
    made, _ = read(VTT)
    assert made is not None
    for written in (write_vtt(made.cues), write_srt(made.cues)):
        again, codes = read(written)
        assert codes == []
        assert rows(again) == rows(made)


@given(st.text(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_text_at_all_is_a_transcript_or_problems(words: str) -> None:
    for text in (words, "WEBVTT\n\n" + words, "[0:01] " + words, "00:01.000 --> 00:02.000\n" + words):
        source = Text.of(text, "x")
        found = read_transcript(source)
        assert found.value is not None or found.problems
        for problem in found.problems:
            assert problem.place is not None
            assert problem.place.line <= len(source.lines)
        if found.value is not None:
            starts = [c.start_ms for c in found.value.cues]
            assert starts == sorted(starts)
            assert isinstance(found.value.cues[0], Cue)
            timed_words(found.value)
