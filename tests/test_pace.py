"""The speaking pace: talk apart from demonstration, a synthetic take with a known pace, the page that is kept."""

from __future__ import annotations

import json
import math
import random
import re
import shutil
import subprocess
import time
import wave
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.pipeline import brief, own_settings
from briefing.settings import pace_file
from briefing.settings.pace_file import OLDER, PaceRecord, combined, read_pace, write_pace
from briefing.sources.folders import demo_folder
from briefing.sources.text import Text
from briefing.speech import seconds
from briefing.speech.seconds import base_seconds
from briefing.speech.spoken import spoken_form
from briefing.take.pace import learn, pace_band, pace_of
from briefing.take.transcript import Cue, Transcript, read_transcript, write_vtt
from tests.test_cli import run


def sentences() -> list[str]:
    text = " ".join(line.text for line in brief(demo_folder() / "breakwater.md").outline.lines)
    return [s for s in re.split(r"(?<=[.?!])\s+", text) if len(s) > 20][:60]


def take(seconds: list[tuple[str, float]], reps: dict[int, float]) -> Transcript:
    """Put a take together: sentences with their seconds; before some of them repetitions are counted, or shown in silence."""
    cues, at = [], 0.0
    place = Text.of("x", "take.vtt").place(1)
    for number, (words, took) in enumerate(seconds):
        if number in reps:
            if number % 2:
                cues.append(
                    Cue(
                        start_ms=int(at * 1000),
                        end_ms=int((at + reps[number]) * 1000),
                        text="one, two, three, four",
                        place=place,
                    )
                )
            at += reps[number]
        cues.append(Cue(start_ms=int(at * 1000), end_ms=int((at + took) * 1000), text=words, place=place))
        at += took
    return Transcript(file="take.vtt", cues=tuple(cues))


@pytest.mark.parametrize("k", [0.8, 1.0, 1.3, 1.7])
def test_a_known_pace_is_found(k: float) -> None:
    said = [(s, k * base_seconds(spoken_form(s))) for s in sentences()]
    reps = {5: 8.0, 12: 6.0, 21: 9.0, 30: 7.0, 41: 5.0}
    found = learn(take(said, reps))
    assert found.problems == ()
    assert found.value is not None
    # Against the pace that was planted, the shrinking towards the typical one included.
    assert found.value.k == pytest.approx(k, rel=0.03)
    assert found.value.talk_s / found.value.base_s == pytest.approx(k, rel=0.005)
    assert found.value.demonstration_s == pytest.approx(sum(reps.values()), rel=0.10)
    assert found.value.low < found.value.k < found.value.high


def espeak_seconds(words: str, folder: Path) -> float:
    path = folder / "x.wav"
    subprocess.run(["espeak-ng", "-s", "165", "-w", str(path), words], check=True, capture_output=True)
    with wave.open(str(path)) as sound:
        seconds: float = sound.getnframes() / sound.getframerate()
        return seconds


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_a_synthetic_voice_is_found_within_three_hundredths(tmp_path: Path) -> None:
    """The seconds are those of a synthesiser (espeak-ng), not of our model; the repetitions are planted."""
    said = [(s, espeak_seconds(s, tmp_path)) for s in sentences()]
    talk = sum(t for _, t in said)
    base = sum(base_seconds(spoken_form(s)) for s, _ in said)
    reps = {7: 9.0, 18: 8.0, 33: 10.0}
    found = learn(take(said, reps))
    assert found.value is not None
    assert found.value.k == pytest.approx((talk + 15) / (base + 15), rel=0.03)
    assert found.value.demonstration_s == pytest.approx(sum(reps.values()), rel=0.10)


Word = tuple[float, float, str]


def timed(k: float, seed: int) -> tuple[list[Word], float, float]:
    """Speak the sentences word by word with the spread of people; gives the words, the pace that came out, seconds shown."""
    chance = random.Random(seed)  # noqa: S311 - the same take each time, no secret
    shown = {6: 9.0, 14: 8.0, 22: 12.0, 33: 7.0, 45: 10.0}
    words: list[Word] = []
    at = 0.0
    for number, sentence in enumerate(sentences()):
        if number in shown and number % 2:
            fifth = shown[number] / 5
            words += [
                (at + n * fifth, at + n * fifth + 0.4, w) for n, w in enumerate(("one", "two", "three", "four", "five"))
            ]
        at += shown.get(number, 0.0)
        likely = k * base_seconds(spoken_form(sentence))
        took = max(0.5, chance.gauss(likely, 0.7 * math.sqrt(0.20 * likely)))
        letters = sum(len(w) + 1 for w in sentence.split())
        start = at
        for word in sentence.split():
            share = max(took - 0.45 * k, 0.3) * (len(word) + 1) / letters
            words.append((start, start + share, word))
            start += share
        at += took
    base = sum(base_seconds(spoken_form(s)) for s in sentences())
    return words, (at - sum(shown.values())) / base, sum(shown.values())


def pieces(words: list[Word], size: int, gap: float) -> list[list[Word]]:
    out: list[list[Word]] = [[]]
    for word in words:
        if out[-1] and (len(out[-1]) >= size or word[0] - out[-1][-1][1] > gap):
            out.append([])
        out[-1].append(word)
    return out


def captions(words: list[Word]) -> str:
    """Captions of seven words, as editors export them."""
    place = Text.of("x", "x").place(1)
    return write_vtt(
        Cue(start_ms=int(1000 * p[0][0]), end_ms=int(1000 * p[-1][1]), text=" ".join(w[2] for w in p), place=place)
        for p in pieces(words, 7, 1.0)
    )


def unmarked(words: list[Word]) -> str:
    """The same without a full stop or a capital, as recognisers write."""
    return captions([(a, b, re.sub(r"[.,;:?!]", "", w).lower()) for a, b, w in words])


def rolling(words: list[Word]) -> str:
    """The same, each cue with the line before above it."""
    before: list[str] = []
    out = []
    for line in unmarked(words).split("\n"):
        plain = bool(line) and "-->" not in line and not line.isdigit() and line != "WEBVTT"
        out += [*before, line] if plain else [line]
        before = [line] if plain else before
    return "\n".join(out)


def lines(words: list[Word]) -> str:
    """Plain text with a stamp in whole seconds every dozen words: a silence hides inside a line."""
    return "".join(
        f"{int(p[0][0]) // 60}:{int(p[0][0]) % 60:02d}\n{' '.join(w[2] for w in p)}\n" for p in pieces(words, 12, 99)
    )


@pytest.mark.parametrize("form", [captions, unmarked, rolling, lines])
@pytest.mark.parametrize("k", [0.85, 1.1, 1.44])
def test_what_programs_export_gives_the_same_pace(form: Callable[[list[Word]], str], k: float) -> None:
    """The 5th, 50th and 95th percentile of speakers; the seconds of each sentence spread as theirs do (0.20 s a second)."""
    for seed in range(3):
        words, real, shown = timed(k, seed)
        transcript = read_transcript(Text.of(form(words), "take.vtt"))
        assert transcript.value is not None
        found = learn(transcript.value)
        assert found.value is not None
        assert found.value.talk_s / found.value.base_s == pytest.approx(real, rel=0.03)
        assert found.value.demonstration_s == pytest.approx(shown, rel=0.10)
        codes = [p.code for p in found.problems]
        assert codes == (["no-full-stops"] if form in {unmarked, rolling} else [])


@pytest.mark.parametrize(("size", "right", "shown_right"), [(25, 0.85, 0.75), (40, 0.65, 0.45)])
def test_stamps_that_are_far_apart(size: int, right: float, shown_right: float) -> None:
    """Text with a stamp every so many words: what is shown hides in a long cue, so it is found less surely, and that is said.

    Over 180 takes the pace is within 3 % in 98 of a hundred with 25 words a stamp and in 93 with 40 (worst 4 and 6 %); the seconds
    shown are within 10 % in 93 and 78 of a hundred. The seeds here are the worst of the five dozens tried: 89 and 69 for the pace, 86
    and 47 for what is shown, so the bar stands at what they give.
    """
    paces, errors = [], []
    for k in (0.85, 1.1, 1.44):
        for seed in range(20, 32):
            words, real, shown = timed(k, seed)
            text = "".join(
                f"{int(p[0][0]) // 60}:{int(p[0][0]) % 60:02d}\n{' '.join(w[2] for w in p)}\n"
                for p in pieces(words, size, 99)
            )
            transcript = read_transcript(Text.of(text, "take.txt"))
            assert transcript.value is not None
            found = learn(transcript.value)
            assert found.value is not None
            paces.append(found.value.talk_s / found.value.base_s / real - 1)
            assert [p.code for p in found.problems] == (["stamps-far"] if size == 40 else [])
            errors.append(found.value.demonstration_s / shown - 1)
    assert sum(abs(e) <= 0.03 for e in paces) >= right * len(paces)
    assert sum(abs(e) <= 0.10 for e in errors) >= shown_right * len(errors)
    assert max(map(abs, paces)) <= 0.07
    # In the mean nothing is found too much or too little.
    assert abs(sum(errors) / len(errors)) <= 0.06


def test_without_the_pauses_put_in_unmarked_captions_would_look_slow() -> None:
    words, real, _ = timed(1.1, 0)
    bare = sum(
        base_seconds(spoken_form(" ".join(w[2] for w in p)))
        for p in pieces([(a, b, w.strip(".,;:?!")) for a, b, w in words], 7, 1.0)
    )
    marked = sum(base_seconds(spoken_form(s)) for s in sentences())
    assert real * marked / bare > 1.1 * real


def test_a_count_over_several_cues_is_one_stretch() -> None:
    said = [(s, base_seconds(spoken_form(s))) for s in sentences()]
    one_each = take([*said[:20], *((w, 1.5) for w in ("Down.", "One.", "and two.", "Three.", "Four.")), *said[20:]], {})
    found = learn(one_each)
    assert found.value is not None
    shown = [s for s in found.value.stretches if s.kind == "demonstration"]
    assert [s.why.partition(":")[0] for s in shown] == ["repetitions are counted"]
    assert 5 <= found.value.demonstration_s <= 7.5


@pytest.mark.parametrize(
    "words", ["Twenty-one, fifteen, nine.", "Two rounds of ten, then five.", "Twelve push presses, six each arm."]
)
def test_numbers_that_are_no_count_are_talk(words: str) -> None:
    said = [(s, base_seconds(spoken_form(s))) for s in [*sentences(), words]]
    found = learn(take(said, {}))
    assert found.value is not None
    assert {s.kind for s in found.value.stretches} == {"talk"}


def test_the_band_of_a_pace() -> None:
    """By the formula: 1.28 times the root of 0.05² + 0.20/180 for three minutes; 0.16 while nothing was measured."""
    assert pace_band(1.0, 180.0) == pytest.approx((0.923, 1.077), abs=0.001)
    assert pace_band(1.0, None) == pytest.approx((0.795, 1.205), abs=0.001)
    assert seconds.SHRINK_S == pace_file.SHRINK_S


def test_five_hours_are_learned_from_in_bounded_time() -> None:
    said = [(s, base_seconds(spoken_form(s))) for s in sentences()] * 60
    started = time.perf_counter()
    assert learn(take(said, dict.fromkeys(range(5, 3600, 7), 6.0))).value is not None
    assert time.perf_counter() - started < 10


@given(st.text(max_size=400))
@settings(max_examples=200, deadline=None)
def test_any_transcript_gives_a_pace_or_a_reason(words: str) -> None:
    for text in (f"[0:00] {words}\n[1:10] {words}", f"WEBVTT\n\n00:01.000 --> 02:02.000\n{words}"):
        transcript = read_transcript(Text.of(text, "x"))
        if transcript.value is not None:
            found = learn(transcript.value)
            assert found.value is not None or [p.level for p in found.problems].count("error") == 1


def test_the_coach_may_say_what_is_talk() -> None:
    said = [(s, base_seconds(spoken_form(s))) for s in sentences()]
    found = learn(take(said, {}), (0, 60_000))
    assert found.value is not None
    assert 50 <= found.value.talk_s <= 61  # a second of grace for stamps in whole seconds
    assert {s.why for s in found.value.stretches} == {"as you said"}


@pytest.mark.parametrize(
    ("k", "count", "code"), [(1.0, 6, "too-little-talk"), (0.3, 60, "pace-unlikely"), (3.5, 60, "pace-unlikely")]
)
def test_nothing_is_learned_from_rubbish(k: float, count: int, code: str) -> None:
    said = [(s, k * base_seconds(spoken_form(s))) for s in sentences()[:count]]
    found = learn(take(said, {}))
    assert found.value is None
    assert [p.code for p in found.problems] == [code]


def test_a_slow_end_shows_as_drift() -> None:
    said = [(s, (0.9 if n < 30 else 1.2) * base_seconds(spoken_form(s))) for n, s in enumerate(sentences())]
    found = learn(take(said, {}))
    assert found.value is not None
    assert found.value.drift > 1.15


def record(file: str, date: str, talk: float, base: float) -> PaceRecord:
    return PaceRecord(file=file, date=date, talk_s=talk, base_s=base)


def test_several_recordings_add_up_the_newest_first() -> None:
    old, new = record("a", "2027-01-01", 200, 100), record("b", "2027-02-01", 100, 100)
    assert combined([]).k == 1.0
    made = combined([old, new])
    assert made.k == pytest.approx((100 + OLDER * 200 + 15) / (100 + OLDER * 100 + 15))
    assert made.k < combined([old]).k
    assert made.talk_s == 300
    assert pace_of([old, new]).source_words == "from your pace, 5 minutes of talk"


def test_segments_of_one_day_count_alike() -> None:
    first, second = record("a", "2027-02-01", 200, 100), record("b", "2027-02-01", 100, 100)
    assert combined([first, second]).k == pytest.approx((300 + 15) / (200 + 15))
    assert combined([first, second]) == combined([second, first])


@pytest.mark.parametrize(
    "row",
    [
        "| a.vtt | 2027-13-01 | 100.0 | 100.0 | 1.00 |",
        "| a.vtt | 2027-01-01 | 900.0 | 100.0 | 9.00 |",
        "| a.vtt | 2027-01-01 | 100.0 | 0.0 | 0.00 |",
        "| a.vtt | yesterday | 100.0 | 100.0 | 1.00 |",
        "|",
    ],
)
def test_a_row_that_cannot_be_has_its_place(row: str) -> None:
    found = read_pace(Text.of(write_pace([]) + row, "speaking-pace.md"))
    assert found.value == ()
    assert [(p.code, p.place.line) for p in found.problems if p.place] == [("pace-row", 8)]


@given(st.text(max_size=200))
def test_any_page_at_all(words: str) -> None:
    source = Text.of("| x | 2027-01-01 | 1 | 1 |\n| " + words, "x")
    found = read_pace(source)
    assert found.value
    assert all(p.place is not None and p.place.line <= len(source.lines) for p in found.problems)


def test_the_page_is_read_as_it_was_written() -> None:
    records = (record("b.vtt", "2027-02-01", 100.5, 99.5), record("a.vtt", "2027-01-01", 200, 190))
    found = read_pace(Text.of(write_pace(records), "speaking-pace.md"))
    assert found.problems == ()
    assert found.value == records
    broken = read_pace(Text.of(write_pace(records).replace("100.5", "many"), "speaking-pace.md"))
    assert [p.code for p in broken.problems] == ["pace-row"]
    assert broken.value == records[1:]


def test_three_minutes_change_every_length_and_the_briefing_refits(tmp_path: Path) -> None:
    folder = tmp_path / "videos"
    run("start", folder)
    before = json.loads(run("outline", folder / "breakwater.md", "--json").stdout)
    said = [(s, 1.35 * base_seconds(spoken_form(s))) for s in sentences()]
    (tmp_path / "take-1.vtt").write_text(write_vtt(take(said, {9: 8.0}).cues), encoding="utf-8")
    done = run("pace", tmp_path / "take-1.vtt", "--in", folder)
    assert done.returncode == 0, done.stderr
    assert "from your pace" in done.stdout
    assert "repetitions are counted" in done.stdout
    after = json.loads(run("outline", folder / "breakwater.md", "--json").stdout)
    lines = {x["id"]: x["seconds"] for s in before["segments"] for x in s["lines"]}
    slower = [x for s in after["segments"] for x in s["lines"] if x["id"] in lines and x["seconds"] > lines[x["id"]]]
    assert len(slower) > 40
    assert after["planned_s"] <= 540
    assert len(after["left_out"]) > len(before["left_out"])
    assert "from your pace, 6 minutes of talk" in run("outline", folder / "breakwater.md").stdout
    said_line = run("say", "Run 400 m, rest 1:30.", "--in", folder).stdout
    assert said_line != run("say", "Run 400 m, rest 1:30.").stdout
    found = json.loads(run("pace", tmp_path / "take-1.vtt", "--in", folder, "--no-keep", "--json").stdout)
    assert 1.25 < found["k"] < 1.4
    assert found["stretches"]
    assert [r["file"] for r in found["recordings"]] == ["take-1.vtt"]
    assert run("pace", "--remove", "take-1.vtt", "--in", folder).returncode == 0
    assert "not yet yours" in run("outline", folder / "breakwater.md").stdout
    assert run("pace", "--remove", "take-1.vtt", "--in", folder).returncode == 2


def test_the_page_belongs_to_the_coach(tmp_path: Path) -> None:
    page = tmp_path / "speaking-pace.md"
    (tmp_path / "a|b.vtt").write_text(captions(timed(1.2, 1)[0]), encoding="utf-8")
    assert run("pace", tmp_path / "a|b.vtt", "--in", tmp_path, "--date", "2027-01-05").returncode == 0
    page.write_text(page.read_text(encoding="utf-8") + "\nFilmed with a cold.\n", encoding="utf-8")
    assert run("pace", tmp_path / "a|b.vtt", "--in", tmp_path, "--date", "2027-02-05").returncode == 0
    text = page.read_text(encoding="utf-8")
    assert text.endswith("\nFilmed with a cold.\n")
    assert text.count("| a/b.vtt | 2027-0") == 2
    twice = run("pace", "--remove", "a/b.vtt", "--in", tmp_path)
    assert twice.returncode == 2
    assert "2027-01-05" in twice.stderr
    assert run("pace", "--remove", "a/b.vtt 2027-01-05", "--in", tmp_path).returncode == 0
    page.write_text(page.read_text(encoding="utf-8").replace("2027-02-05", "last week"), encoding="utf-8")
    before = page.read_bytes()
    refused = run("pace", tmp_path / "a|b.vtt", "--in", tmp_path)
    assert refused.returncode == 1
    assert "this row cannot be" in refused.stderr
    assert page.read_bytes() == before


def test_the_page_is_no_workout(tmp_path: Path) -> None:
    (tmp_path / "low-tide.md").write_text("3 rounds for time\n10 air squats\n", encoding="utf-8")
    (tmp_path / "speaking-pace.md").write_text(write_pace([record("a.vtt", "2027-01-01", 120, 100)]), encoding="utf-8")
    done = run("build", tmp_path, "--only", "handout")
    assert done.returncode == 0, done.stderr
    assert "speaking-pace" not in done.stdout
    assert run("check", tmp_path / "speaking-pace.md").returncode == 0


def test_two_files_of_one_name_are_two_recordings(tmp_path: Path) -> None:
    for segment in ("one", "two"):
        (tmp_path / segment).mkdir()
        (tmp_path / segment / "captions.vtt").write_text(captions(timed(1.2, len(segment))[0]), encoding="utf-8")
    (tmp_path / "series.md").write_text("---\ntitle: Six Weeks by the Estuary\n---\n", encoding="utf-8")
    # Without --in, the folder is the one with the series.
    done = run("pace", tmp_path / "one" / "captions.vtt", tmp_path / "two" / "captions.vtt", "--json")
    found = json.loads(done.stdout)
    assert [r["file"] for r in found["recordings"]] == ["one/captions.vtt", "two/captions.vtt"]
    assert found["low"] < found["k"] < found["high"]
    assert 100 < found["words_per_min"] < 200
    assert {s["file"] for s in found["stretches"]} == {"one/captions.vtt", "two/captions.vtt"}
    assert (tmp_path / "speaking-pace.md").is_file()


def test_a_measured_pace_wins_over_the_series(tmp_path: Path) -> None:
    (tmp_path / "series.md").write_text("---\nspeaking_pace: brisk\n---\n", encoding="utf-8")
    assert own_settings(tmp_path).k == 0.88
    (tmp_path / "speaking-pace.md").write_text(write_pace([record("a.vtt", "2027-01-01", 135, 100)]), encoding="utf-8")
    assert own_settings(tmp_path).k == pytest.approx(150 / 115)
    assert own_settings(tmp_path).talk_s == 135


def test_errors_of_a_take_keep_nothing(tmp_path: Path) -> None:
    (tmp_path / "short.vtt").write_text("WEBVTT\n\n00:01.000 --> 00:03.000\nhello there\n", encoding="utf-8")
    done = run("pace", tmp_path / "short.vtt", "--in", tmp_path, "--json")
    assert done.returncode == 1
    assert [p["code"] for p in json.loads(done.stdout)["problems"]] == ["too-little-talk"]
    assert not (tmp_path / "speaking-pace.md").exists()


def test_the_coachs_own_way_of_saying_things(tmp_path: Path) -> None:
    (tmp_path / "series.md").write_text("---\nsay_as: {EMOM: e-mom, kg: kilograms}\n---\n", encoding="utf-8")
    assert "e-mom" in run("say", "EMOM 12", "--in", tmp_path).stdout
    assert "twenty kilograms" in run("say", "20 kg", "--in", tmp_path).stdout


def test_only_the_takes_that_were_kept_count(tmp_path: Path) -> None:
    """Two takes of the same sentences, the first one dragged and not kept; silence around a take is no talk."""
    place = Text.of("x", "take.vtt").place(1)
    cues: list[Cue] = []
    rows = [
        "Breakwater: log of the cards; 0:00:00.0 is 2027-01-05 09:12:44",
        "clock\twhat\tsegment\ttake\tplanned\ttitle",
    ]

    def clock(s: float) -> str:
        return f"{int(s) // 3600}:{int(s) // 60 % 60:02d}:{int(s) % 60:02d}.{int(s * 10) % 10}"

    at = 0.0
    for segment, part in enumerate((sentences()[:25], sentences()[25:50]), 1):
        for number, k in ((1, 1.7), (2, 1.2)):
            rows.append(f"{clock(at)}\tstart\t{segment}\t{number}\t1:00\tSegment {segment}")
            at += 2.4
            for sentence in part:
                took = k * base_seconds(spoken_form(sentence))
                cues.append(Cue(start_ms=int(at * 1000), end_ms=int((at + took) * 1000), text=sentence, place=place))
                at += took
            at += 2.4
            rows.append(
                f"{clock(at)}\t{'again' if number == 1 else 'keep'}\t{segment}\t{number}\t1:00\tSegment {segment}"
            )
    (tmp_path / "take.vtt").write_text(write_vtt(cues), encoding="utf-8")
    (tmp_path / "log.txt").write_text("\n".join(rows) + "\n", encoding="utf-8")

    def k_of(*more: str) -> float:
        done = run("pace", tmp_path / "take.vtt", "--in", tmp_path, "--no-keep", "--json", *more)
        assert done.returncode == 0, done.stderr
        found: dict[str, float] = json.loads(done.stdout)
        return found["k"]

    assert k_of("--log", str(tmp_path / "log.txt")) == pytest.approx(1.2, rel=0.02)
    assert k_of() > 1.35
    args = ["pace", str(tmp_path / "take.vtt"), "--in", str(tmp_path), "--log", str(tmp_path / "log.txt")]
    assert run(*args, "--talk", "0:00-1:00").returncode == 2
    assert run(*args, tmp_path / "take.vtt").returncode == 2
    nothing = run(*args, "--log-starts", "59:00")
    assert nothing.returncode == 1
    assert "nothing is said in the takes that were kept" in nothing.stderr
