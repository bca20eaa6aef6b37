"""Transcripts: three forms, and everything that is broken in real ones."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.sources.text import Text
from briefing.take.transcript import Cue, Transcript, read_transcript, timed_words, write_srt, write_vtt
from tests.growth import grows_too_fast
from tests.reading_cases import Case, read_cases

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


def test_words_around_the_stamps_are_kept() -> None:
    made, codes = read("Transcript of the take\n[0:05] Hello\n")
    assert codes == ["words-without-stamp"]
    assert rows(made)[0] == (0, 5000, "Transcript of the take")
    made, codes = read(
        "WEBVTT\nKind: captions\n\nSTYLE\n::cue {}\n\n00:01.000 --> 00:02.000\nfirst\n\nbehind a blank line\n\n"
        "NOTE no word\nat all\n\n00:03.000 --> 00:04.000\nlast\n"
    )
    assert codes == ["words-without-stamp"]
    assert made is not None
    assert made.text == "first behind a blank line last"


@pytest.mark.parametrize(
    "stamp", ["00:75.000 --> 01:99.000", "00:01.000 -> 00:04.000", "00:01.000 –> 00:04.000", "0:0:0:1 --> 2", "-->"]
)
def test_each_broken_timing_is_one_problem_at_its_line(stamp: str) -> None:
    source = Text.of(f"WEBVTT\n\n{stamp}\nkept\n\n00:05.000 --> 00:06.000\nlast\n", "take.vtt")
    found = read_transcript(source)
    assert [(p.code, p.place.line) for p in found.problems if p.place] == [("stamp-broken", 3)]
    assert found.value is not None
    assert found.value.text == "kept last"


@pytest.mark.parametrize("stamp", ["[0:9x]", "[0:75]", "[1.05]"])
def test_a_broken_first_stamp_loses_nothing(stamp: str) -> None:
    made, codes = read(f"{stamp} first\n[0:05] last\n")
    assert codes == ["stamp-broken"]
    assert rows(made)[0] == (0, 5000, "first")


def test_one_wrong_stamp_is_one_problem_and_moves_nothing_else() -> None:
    stamps = ["0:01", "0:05", "10:09", "0:12", "0:15", "0:20"]
    found = read_transcript(Text.of("".join(f"[{s}] words at {s}\n" for s in stamps), "take.txt"))
    assert [(p.code, p.place.line) for p in found.problems if p.place] == [("stamp-backwards", 3)]
    assert [c[0] for c in rows(found.value)] == [1000, 5000, 8379, 12000, 15000, 20000]


def test_a_cue_that_ends_before_it_starts() -> None:
    made, codes = read("WEBVTT\n\n00:05.000 --> 00:02.000\none\n\n00:06.000 --> 00:07.000\ntwo\n")
    assert codes == ["stamp-backwards"]
    assert rows(made)[0] == (5000, 6000, "one")


def test_a_clock_that_begins_again_is_counted_on() -> None:
    part = "".join(f"[0:{s:02d}] the words at {s}\n" for s in range(0, 60, 6))
    made, codes = read(part + part)
    assert codes == ["clock-restarts"]
    starts = [c[0] for c in rows(made)]
    assert starts == sorted(starts)
    assert starts[10] >= 54_000
    assert starts[-1] - starts[10] == 54_000


def test_five_hundred_broken_stamps_are_twenty_problems() -> None:
    found = read_transcript(
        Text.of("WEBVTT\n\n" + "00:0x --> b\nthe word\n\n" * 500 + "00:05.000 --> 00:06.000\nlast\n", "x")
    )
    assert len(found.problems) == 20
    assert "480 more" in found.problems[-1].message
    assert found.value is not None
    assert found.value.text.count("word") == 500


def test_what_is_said_twice_is_no_roll_up() -> None:
    made, codes = read("WEBVTT\n\n" + "".join(f"00:0{n}.000 --> 00:0{n + 1}.000\nGo.\n\n" for n in range(4)))
    assert codes == []
    assert made is not None
    assert made.text == "Go. Go. Go. Go."


def test_lines_that_grow_are_roll_up_captions() -> None:
    grown = ["heels", "heels stay", "heels stay down"]
    made, codes = read("WEBVTT\n\n" + "".join(f"00:0{n}.000 --> 00:0{n + 1}.000\n{g}\n\n" for n, g in enumerate(grown)))
    assert codes == ["captions-roll"]
    assert made is not None
    assert made.text == "heels stay down"


def test_labels_and_sounds_go_and_words_with_a_colon_stay() -> None:
    made, _ = read(
        "[0:01] Maren: Hello\n[0:03] Maren: Kettlebell Swings: hips back\n[0:05] Maren: [music] Remember: breathe\n"
        "[0:08] (laughs)\n[0:09] 12 presses (6 each arm)\n1:30 rest between rounds\n"
    )
    assert made is not None
    assert [c.text for c in made.cues] == [
        "Hello",
        "Kettlebell Swings: hips back",
        "Remember: breathe",
        "12 presses (6 each arm) 1:30 rest between rounds",
    ]


@pytest.mark.parametrize(
    "words",
    [
        "Speaker 1 [0:05]\nHello\nSpeaker 2 (0:09)\nYes\n",
        "[0:05 - 0:09] Hello\n[0:09 - 0:10] Yes\n",
        "[00:05.000 --> 00:09.000]  Hello\n[00:09.000 --> 00:10.000]  Yes\n",
        "1\n00:00:05,000 --> 00:00:09,000\nHello\n2\n00:00:09,000 --> 00:00:10,000\nYes\n",
        "00:05.000 --> 00:09.000\nHello\n\n00:09.000 --> 00:10.000\nYes\n",
        "cue one\n00:05.000 --> 00:09.000\n>> Hello\n\n00:09.000 --> 00:10.000\n- Yes\n",
    ],
    ids=[
        "labels before",
        "ranges",
        "bracketed timings",
        "no blank lines",
        "no header",
        "an identifier that looks like words",
    ],
)
def test_other_shapes_that_programs_export(words: str) -> None:
    made, codes = read(words)
    assert codes == []
    assert [(c[0], c[2]) for c in rows(made)] == [(5000, "Hello"), (9000, "Yes")]


@pytest.mark.parametrize("case", read_cases("other-languages.md"), ids=lambda c: c.title)
def test_another_language_is_said_so(case: Case) -> None:
    assert read(case.given) == (None, [case.expected])


LONG: dict[str, Callable[[int], str]] = {
    "<": lambda n: "[0:01] " + "<" * 30 * n,
    "[": lambda n: "[" * 30 * n,
    "[1:": lambda n: "[0:01] a\n" + "[1:" * 10 * n,
    "labels": lambda n: "[0:01] " + "A " * 10 * n,
    "arrows": lambda n: "[0:01] " + ">> " * 10 * n,
    "timings": lambda n: "00:01.000 --> 00:02.000\n" * n,
    "long cues": lambda n: (
        "WEBVTT\n\n00:01.000 --> 00:02.000\n" + "a\n" * 5 * n + "\n00:02.000 --> 00:03.000\n" + "a\n" * 5 * n
    ),
    "backwards": lambda n: "".join(f"[{900 - i % 900}:00] w\n" for i in range(2 * n)),
    "spaces": lambda n: "[0:01]" + " " * 30 * n + "x",
    "colons": lambda n: "0:0" * 10 * n,
}


@pytest.mark.parametrize("kind", LONG)
def test_a_very_long_text_is_answered(kind: str) -> None:
    # A pattern that looks back over what it has seen, or a comparison of each cue with each, grows with the square here.
    assert grows_too_fast(lambda n: read(LONG[kind](n)), 1_250) is None


PIECES = (
    "WEBVTT|\n|\n\n|00:01.000 --> 00:02.000|0:05|[0:09]|(1:02:03)|-->|00:75.000 --> 01:00.000|words|Maren:|one two|<b>|&amp;|NOTE|1"
    "|[0:9x]|9:99|♪|[music]|[0:01 - 0:04]|[00:01.000 --> 00:03.000]|00:05.000 --> 00:01.000|>>|\x00|\u2028|٣:٤٥|&#10;|{\\an8}"
    "|10:00:00,5 --> 10:00:01,0"
)


@given(st.lists(st.tuples(st.sampled_from(PIECES.split("|")), st.sampled_from(["", " ", "\n"])), max_size=25))
@settings(max_examples=400, deadline=None)
def test_pieces_of_transcripts_in_any_order(pieces: list[tuple[str, str]]) -> None:
    made = read_transcript(Text.of("".join(a + b for a, b in pieces), "x"))
    assert made.value is not None or made.problems
    if made.value is not None:
        cues = made.value.cues
        assert all(a.start_ms <= a.end_ms <= b.start_ms for a, b in pairwise(cues))
        again = read_transcript(Text.of(write_vtt(cues), "x"))
        assert again.value is not None
        assert again.value.text == made.value.text


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


def test_a_name_before_a_bare_stamp_on_its_own_line() -> None:
    """As some phones export: `Maren 0:05`, below it the words; a rest that is spoken of once stays words."""
    words = "Maren 0:05\nHello there, this is it.\nRest 1:00\nMaren 0:12\nAnd then you go on.\n"
    words += "\nGuest 2 0:19\nYes.\nGuest 2 0:21\nAll right.\n"
    found = read_transcript(Text.of(words, "take.txt"))
    assert found.problems == ()
    assert found.value is not None
    assert [(c.start_ms, c.text) for c in found.value.cues] == [
        (5_000, "Hello there, this is it. Rest 1:00"),
        (12_000, "And then you go on."),
        (19_000, "Yes."),
        (21_000, "All right."),
    ]
    bare = read_transcript(Text.of("0:05 Hello there.\nRest 1:00\n0:12 And\nRest 1:00\n0:20 Go.", "take.txt"))
    assert bare.value is not None
    assert [c.text for c in bare.value.cues] == ["Hello there. Rest 1:00", "And Rest 1:00", "Go."]
