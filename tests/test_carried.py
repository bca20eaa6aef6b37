"""A movement that no file has goes the whole road: under its name, in the coach's own words, with nothing invented."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from briefing.outline.teaching import OWN_WORDS_S
from briefing.pipeline import Briefed, brief
from tests.test_cli import run

BOARD = "For time, cap 20:00\n  10 tyre flips\n  20 burpees\n"


@pytest.fixture
def made(tmp_path: Path) -> Briefed:
    (tmp_path / "day.md").write_text(BOARD, encoding="utf-8")
    return brief(tmp_path / "day.md")


def test_a_folder_is_built_and_every_document_names_it(tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(BOARD, encoding="utf-8")
    done = run("build", tmp_path)
    assert done.returncode == 0, done.stderr
    assert "carried under this name" in done.stderr
    built = tmp_path / "built" / "day"
    for name in ("outline.md", "script.md", "cards.html", "handout.html", "description.txt"):
        assert "yre flip" in (built / name).read_text(encoding="utf-8"), name
    for name in ("script.md", "cards.html"):
        words = (built / name).read_text(encoding="utf-8")
        assert "your own words, 0:45" in words.replace("your own words,\n", "your own words, "), name
    assert "Not timed: tyre flips." in (built / "handout.html").read_text(encoding="utf-8")


def test_its_segment_has_room_and_when_to_stop_and_no_technique(made: Briefed) -> None:
    segment = next(s for s in made.outline.segments if s.movement == "tyre-flip")
    name, stop = segment.lines
    assert (name.kind, stop.kind) == ("what", "safety")
    assert name.must
    assert stop.must
    assert name.show_tenths == 10 * OWN_WORDS_S == 450
    assert "stop at a sharp pain" in stop.text
    assert not [x for x in made.outline.left_out if x.line.movement == "tyre-flip"]
    assert stop.text in made.outline.sheet.safety


def test_nobody_is_told_a_time_that_is_not_known(made: Briefed, tmp_path: Path) -> None:
    assert made.clock.untimed == ("tyre-flip",)
    assert not made.outline.sheet.finish
    assert not [x for s in made.outline.segments for x in s.lines if x.kind == "finish"]
    assert not {"cap-everybody", "cap-nobody", "no-easier"} & {p.code for p in made.outline.problems}
    assert "not timed: tyre flips" in run("clock", tmp_path / "day.md").stdout
    assert json.loads(run("clock", tmp_path / "day.md", "--json").stdout)["not_timed"] == ["tyre-flip"]


@pytest.mark.parametrize(
    ("board", "untimed"),
    [
        ("For time\n  1:00 tyre hold\n  20 burpees\n", ()),
        ("For time\n  10 tyre flips, tempo 31X1\n  20 burpees\n", ()),
        ("AMRAP 12:00\n  400 m sled drag\n  20 burpees\n", ("sled-drag",)),
    ],
)
def test_a_hold_and_a_tempo_have_their_time(board: str, untimed: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(board, encoding="utf-8")
    assert brief(tmp_path / "day.md").clock.untimed == untimed


def test_every_kind_of_video_of_it(tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(BOARD, encoding="utf-8")
    kinds = ", ".join(f"{{workout: day.md, kind: {k}}}" for k in ("warm-up", "workout", "cool-down"))
    (tmp_path / "series.md").write_text(f"---\nvideos: [day.md, {kinds}]\n---\n", encoding="utf-8")
    done = run("build", tmp_path, "--only", "script", "--only", "calls")
    assert done.returncode == 0, done.stderr
    calls = (tmp_path / "built" / "day-workout" / "calls.md").read_text(encoding="utf-8")
    assert "10 tyre flips" in calls
    assert "Not timed: tyre flips." in calls


def test_what_is_spoken_in_the_script_is_what_the_lines_say(tmp_path: Path) -> None:
    """The room for the coach's own words is a direction, not a word that is said; so is what is shown."""
    (tmp_path / "day.md").write_text(BOARD, encoding="utf-8")
    lines = brief(tmp_path / "day.md").outline.lines
    run("build", tmp_path, "--only", "script")
    script = (tmp_path / "built" / "day" / "script.md").read_text(encoding="utf-8")
    assert "*Teach it in your own words, 0:45, from three-quarter.*" in script
    spoken = [p for p in script.split("\n\n")[2:] if p.strip() and p.strip()[0] not in "#*"]
    assert " ".join(" ".join(spoken).split()) == " ".join(" ".join(x.text for x in lines).split())
