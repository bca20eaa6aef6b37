"""The speaking pace: talk apart from demonstration, a synthetic take with a known pace, the page that is kept."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import wave
from pathlib import Path

import pytest

from briefing.pipeline import brief
from briefing.settings.pace_file import OLDER, PaceRecord, combined, read_pace, write_pace
from briefing.sources.folders import demo_folder
from briefing.sources.text import Text
from briefing.speech.seconds import base_seconds
from briefing.speech.spoken import spoken_form
from briefing.take.pace import learn, pace_of
from briefing.take.transcript import Cue, Transcript, write_vtt
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
    talk = sum(t for _, t in said)
    # The shrinking towards the typical pace is part of the formula: 15 s of it.
    shrunk = (talk + 15) / (talk / k + 15)
    assert found.value.k == pytest.approx(shrunk, rel=0.03)
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


def test_the_coach_may_say_what_is_talk() -> None:
    said = [(s, base_seconds(spoken_form(s))) for s in sentences()]
    found = learn(take(said, {}), (0, 60_000))
    assert found.value is not None
    assert 50 <= found.value.talk_s <= 60
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
