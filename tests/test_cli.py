"""The commands as a coach meets them: what is printed, what is written, the exit status, never a traceback."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from briefing.cli.main import COMMANDS
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.library.sections import SECTIONS
from briefing.pipeline import brief
from briefing.sources.folders import built_in
from briefing.take.transcript import write_vtt
from briefing.write.documents import DOCUMENTS
from briefing.write.promised import OutlineJson, ProblemsJson
from tests.taking import make_take

GOOD = "---\nkit: [1 dumbbell]\n---\n3 rounds for time, cap 12:00\n  10 goblet squats\n  10 push-ups\n"


SECTION_FIELDS = {field for _, field, shape in SECTIONS if shape != "line"}


def run(*words: str | Path, cwd: Path | None = None, given: str | None = None) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "briefing", *map(str, words)],
        capture_output=True,
        text=True,
        cwd=cwd,
        input=given,
        check=False,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)},
        timeout=120,
    )
    assert "Traceback" not in done.stdout + done.stderr
    return done


def test_start_then_build_the_demo(tmp_path: Path) -> None:
    folder = tmp_path / "videos"
    assert run("start", folder).returncode == 0
    done = run("build", folder)
    assert done.returncode == 0, done.stderr
    for name in ("slack-water", "breakwater", "long-swell"):
        for document in (d for d in DOCUMENTS if "briefing" in d.kinds):
            for form in document.forms:
                path = folder / "built" / name / f"{document.key}.{form}"
                assert path.stat().st_size > 500, path
    again = run("build", folder)
    assert again.stdout.count("nothing has changed") == 13
    mine = folder / "series.md"
    mine.write_text("---\ntitle: Mine\n---\n", encoding="utf-8")
    kept = run("start", folder)
    assert "kept" in kept.stdout
    assert mine.read_text(encoding="utf-8") == "---\ntitle: Mine\n---\n"


def test_an_edited_document_is_kept_and_said(tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(GOOD, encoding="utf-8")
    run("build", tmp_path, "--only", "script")
    script = tmp_path / "built" / "day" / "script.md"
    script.write_text("mine", encoding="utf-8")
    (tmp_path / "day.md").write_text(GOOD.replace("10 push-ups", "12 push-ups"), encoding="utf-8")
    done = run("build", tmp_path, "--only", "script")
    assert script.read_text(encoding="utf-8") == "mine"
    assert (script.parent / "script.new.md").is_file()
    assert "you edited" in done.stderr
    assert done.returncode == 0


def test_one_bad_workout_does_not_stop_the_others(tmp_path: Path) -> None:
    (tmp_path / "good.md").write_text(GOOD, encoding="utf-8")
    (tmp_path / "bad.md").write_text("For time, cap 5:75\n  20 goblet squats\n", encoding="utf-8")
    done = run("build", tmp_path, "--only", "filming")
    assert done.returncode == 1
    assert (tmp_path / "built" / "good" / "filming.md").is_file()
    assert not (tmp_path / "built" / "bad").exists()
    assert 'bad.md, line 1: "5:75" is not a time: a minute has sixty seconds\n' in done.stderr
    assert "[" not in done.stderr


def test_outline_json_is_the_promised_shape(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text(
        "---\ntitle: Day\nlength: 9:00\n---\n5 rounds for time, cap 22:00\n"
        "  20 goblet step-ups, alternating\n    or 20 step-ups (shoulder)\n"
        "  10 swings @ 24/16 kg\nEvery 3:00 from 3:00: 12 mountain climbers\n",
        encoding="utf-8",
    )
    done = run("outline", path, "--json")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    jsonschema.validate(found, OutlineJson.model_json_schema(mode="serialization"))
    assert found["version"] == 1
    assert found["target_s"] == 540
    assert found["planned_s"] <= 540
    part = found["workout"]["parts"][0]
    assert (part["scheme"], part["cap_s"], part["rounds"]) == ("for-time", 1320, 5)
    first = part["work"][0]
    assert (first["movement"], first["quantity"], first["unit"], first["per_side"]) == (
        "goblet-step-up",
        20,
        "reps",
        10,
    )
    assert first["options"] == [
        {"movement": "step-up", "quantity": 20, "unit": "reps", "per_side": 10, "reasons": ["shoulder"]}
    ]
    assert [(x["group"], x["kg"]) for x in part["work"][1]["loads"]] == [("heavier", 24.0), ("lighter", 16.0)]
    assert part["interrupts"][0]["every_s"] == 180
    assert part["interrupts"][0]["from_s"] == 180
    assert found["workout"]["totals"][0] == {
        "movement": "goblet-step-up",
        "quantity": 100,
        "unit": "reps",
        "per_side": 50,
    }
    assert set(found["workout"]["interrupt_totals"]) == {"brisk", "steady", "easy"}
    assert round(sum(x["seconds"] for s in found["segments"] for x in s["lines"]), 1) == found["planned_s"]
    line = found["segments"][0]["lines"][0]
    assert set(line) == {"id", "kind", "movement", "must", "text", "card", "seconds", "source"}
    assert {"why"} <= set(found["left_out"][0]) if found["left_out"] else True


def test_json_with_errors_is_problems_alone(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text("For time, cap 5:75\n  20 goblet squats\n", encoding="utf-8")
    for command in ("outline", "check"):
        done = run(command, path, "--json")
        assert done.returncode == 1
        found = json.loads(done.stdout)
        jsonschema.validate(found, ProblemsJson.model_json_schema(mode="serialization"))
        assert [p["code"] for p in found["problems"]] == ["time-unreadable"]
        assert set(found) == {"version", "problems"}
    done = run("board", path, "--json")
    assert done.returncode == 1
    found = json.loads(done.stdout)
    assert set(found) == {"version", "problems", "read"}
    assert [p["code"] for p in found["problems"]] == ["time-unreadable"]
    assert found["read"][1]["written"].strip() == "20 goblet squats", "the echo is there, whatever is wrong"


@pytest.mark.parametrize(
    ("board", "level", "code"),
    [
        ("For time\n  20 goblet sqaut\n", "note", "spelling-read"),
        ("For time\n  20 tyre flips\n", "warning", "movement-carried"),
        ("For time\n  20 row\n", "warning", "unit-unclear"),
        ("For time\n  13 alternating lunges\n", "warning", "sides-odd"),
    ],
)
def test_what_can_be_carried_is_never_refused(board: str, level: str, code: str, tmp_path: Path) -> None:
    """A slip, a movement that no file has, a number without its unit, an odd number for two sides: read, said, and built."""
    path = tmp_path / "day.md"
    path.write_text(board, encoding="utf-8")
    done = run("build", path, "--codes", "--only", "script")
    assert done.returncode == 0, done.stderr
    assert f"[{level} {code}, column " in done.stderr
    assert (tmp_path / "built" / "day" / "script.md").is_file()


BAD: dict[str, tuple[bytes, str]] = {
    "no workout": (b"## Notes\nNothing today.\n", "board-empty"),
    "half a repetition": (b"For time\n  2.5 burpees\n", "number-fraction"),
    "zero": (b"For time\n  0 burpees\n", "number-zero"),
    "sides": (b"For time\n  20 push presses, 6 each arm\n", "sides-differ"),
    "absurd": (b"For time\n  1000000 burpees\n", "number-absurd"),
    "missing number": (b"For time\n  burpees\n", "amount-missing"),
    "cap": (b"For time, cap soon\n  20 burpees\n", "time-unreadable"),
    "length": (b"---\nlength: soon\n---\nFor time\n  20 burpees\n", "setting"),
    "broken yaml": (b"---\ntitle: [a\n---\nFor time\n  20 burpees\n", "head-unreadable"),
    "open head": (b"---\ntitle: a\nFor time\n  20 burpees\n", "head-not-closed"),
    "unknown key": (b"---\ntitel: a\n---\nFor time\n  20 burpees\n", "unknown-key"),
    "empty": (b"", "file-empty"),
    "not utf-8": (b"For time\n  20 burp\xe9es\n", "file-not-utf8"),
    "control": (b"For time\n  20 bur\x00pees\n", "control-character"),
    "50 MB": (b"x" * 50_000_000, "file-too-large"),
    "kit": (b"---\nkit: [500 dumbbells]\n---\nFor time\n  20 burpees\n", "kit-word"),
    "plan": (b"For time, any order; plan 7 rounds\n  120 air squats\n", "plan-uneven"),
    "lists": (b"For time\n  21-15-9 thrusters\n  15-12 pull-ups\n", "ladders-differ"),
    "interrupt": (b"For time, cap 20:00\n  100 air squats\nEvery 0:30 from 0:00: 20 burpees\n", "interrupt-too-long"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_has_its_own_message_and_nothing_is_written(name: str, tmp_path: Path) -> None:
    content, code = BAD[name]
    path = tmp_path / "day.md"
    path.write_bytes(content)
    done = run("build", path, "--codes")
    assert done.returncode == 1, done.stdout + done.stderr
    assert f"[error {code}, column " in done.stderr
    assert done.stderr.count("[error ") == 1, done.stderr
    assert sorted(p.name for p in tmp_path.iterdir()) == ["day.md"]


def test_a_folder_or_nothing_where_a_file_should_be(tmp_path: Path) -> None:
    assert run("outline", tmp_path).returncode == 1
    assert "is a folder" in run("outline", tmp_path).stderr
    done = run("outline", tmp_path / "nowhere.md")
    assert done.returncode == 1
    assert "there is no file" in done.stderr
    assert run("build", tmp_path).returncode == 1


@pytest.mark.skipif(os.name == "nt" or not hasattr(os, "geteuid"), reason="needs a POSIX system")
def test_two_movements_of_one_name_and_one_without_points(tmp_path: Path) -> None:
    (tmp_path / "movements").mkdir()
    words = "---\nname: Tide squat\n---\n\nYou sit.\n\n## Technique points\n- **Sit down low** — Sit down.\n"
    (tmp_path / "movements" / "tide-squat.md").write_text(words, encoding="utf-8")
    (tmp_path / "movements" / "other.md").write_text(words, encoding="utf-8")
    done = run("check", tmp_path / "movements")
    assert done.returncode == 1
    assert "is a name of two movements" in done.stderr
    (tmp_path / "movements" / "other.md").write_text("---\nname: Other\n---\nYou sit.\n", encoding="utf-8")
    done = run("check", tmp_path / "movements" / "other.md")
    assert done.returncode == 1
    assert "point" in done.stderr


def test_wrong_use_is_2(tmp_path: Path) -> None:
    for words in (
        ["nonsense"],
        ["outline"],
        ["build", tmp_path, "--only", "poem"],
        ["outline", tmp_path / "a.md", "--length", "soon"],
    ):
        done = run(*words)
        assert done.returncode == 2, words
        assert done.stderr


def test_a_place_where_nothing_can_be_written_is_3(tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(GOOD, encoding="utf-8")
    (tmp_path / "built").write_text("a file in the way", encoding="utf-8")
    done = run("build", tmp_path / "day.md")
    assert done.returncode == 3
    assert done.stderr.count("\n") == 1


def test_say_and_movements() -> None:
    done = run("say", "50/35 lb, 3x10")
    assert done.stdout.startswith("fifty, thirty-five pounds, three by ten")
    done = run("say", "-", "--json", given="Rest 1:30.\nRun 400 m.\n")
    rows = [json.loads(x) for x in done.stdout.splitlines()]
    assert [r["spoken"] for r in rows] == ["Rest one minute thirty.", "Run four hundred meters."]
    assert set(rows[0]) == {"written", "spoken", "seconds", "low_s", "high_s"}
    done = run("movements", "goblet", "squat")
    assert "Sit between your heels" in done.stdout
    whole = run("movements", "handstand push-up").stdout
    movement = Library((built_in("movements"),), built_in("movements")).get("handstand-push-up")
    assert movement is not None
    flat = " ".join(whole.split())
    for section in Movement.model_fields:
        for point in getattr(movement, section) if section in SECTION_FIELDS else ():
            assert point.say in flat, (section, point.card)
    for words in (
        movement.breath,
        movement.note,
        movement.recap,
        movement.call_out,
        movement.pace_source,
        "half the count",
        "brisk 2.2",
    ):
        assert words is not None
        assert words in flat, words
    done = run("movements", "--kit", "dumbbell", "--avoid", "shoulder", "--pattern", "squat")
    assert "Goblet squat" in done.stdout
    done = run("movements", "gobblet")
    assert done.returncode == 1
    assert "try" in done.stderr


LEAVES = [["movement", "new"] if name == "movement" else [name] for name in COMMANDS]


@pytest.fixture(scope="module")
def beside_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the examples of the help can be run: the demo, its workouts, a take in two pieces."""
    folder = tmp_path_factory.mktemp("examples")
    assert run("start", folder / "my-videos").returncode == 0
    for name in ("slack-water.md", "breakwater.md"):
        (folder / name).write_bytes((folder / "my-videos" / name).read_bytes())
    cues = make_take(brief(folder / "slack-water.md").outline, 3, paraphrase=0).transcript.cues
    for name, some in (("take-1.vtt", cues[:60]), ("take-2.vtt", cues[60:])):
        (folder / name).write_text(write_vtt(some), encoding="utf-8")
    return folder


@pytest.mark.parametrize("words", LEAVES, ids=" ".join)
def test_help_names_the_arguments_and_its_example_works(words: list[str], beside_demo: Path) -> None:
    done = run(*words, "--help")
    assert done.returncode == 0
    assert done.stdout.startswith(f"Usage: briefing {' '.join(words)} ")
    assert "Arguments:" in done.stdout
    assert all(c.isprintable() or c == "\n" for c in done.stdout)
    (example,) = re.findall(r"^Example:  (.+)$", done.stdout, re.MULTILINE)
    command, *rest = shlex.split(example)
    assert command == "briefing"
    assert rest[: len(words)] == words
    # What never ends by itself is asked for one build.
    if words == ["watch"]:
        assert rest == ["watch", "my-videos"]
        return
    done = run(*rest, cwd=beside_demo)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_first_help_has_no_control_sequences() -> None:
    done = run("--help")
    assert all(c.isprintable() or c == "\n" for c in done.stdout)
    assert "\\b" not in done.stdout
    assert "briefing start my-videos" in done.stdout


def test_board_prints_the_normal_form_and_reads_it_again(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text("4RFT TC 18'\n15 DL 2 DBs (15s)\n12/12 SA row\nrun to corner + bk (~200)\n", encoding="utf-8")
    echo = run("board", path)
    assert echo.returncode == 0, echo.stderr
    assert [x.split("->")[0].strip() for x in echo.stdout.splitlines() if "->" in x] == path.read_text(
        encoding="utf-8"
    ).splitlines(), "each line as it was written"
    assert "->  4 rounds for time, cap 18:00" in echo.stdout
    done = run("board", path, "--normal")
    assert done.returncode == 0, done.stderr
    normal, _, totals = done.stdout.partition("\n\n")
    assert normal.splitlines()[0] == "4 rounds for time, cap 18:00"
    assert "one-arm rows: 96, 48 each side" in totals
    found = json.loads(run("board", path, "--json").stdout)
    assert found["text"].strip() == normal.strip()
    path.write_text(normal, encoding="utf-8")
    assert json.loads(run("board", path, "--json").stdout)["text"] == found["text"]


def test_clock_shows_people_pictures_and_ways_to_split(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text(
        "For time, any order; plan 6 rounds; cap 18:00\n  120 goblet squats\n  90 swings\nEvery 3:00 from 3:00: 12 mountain climbers\n",
        encoding="utf-8",
    )
    done = run("clock", path, "--svg", tmp_path / "clock.svg")
    assert done.returncode == 0, done.stderr
    assert "<- planned" in done.stdout
    assert "forced in" in done.stdout
    assert (tmp_path / "clock.svg").read_text(encoding="utf-8").startswith("<svg")
    found = json.loads(run("clock", path, "--json").stdout)
    assert [p["person"] for p in found["people"]] == ["brisk", "steady", "easy"]
    assert found["people"][0]["finish_s"] < found["people"][2]["finish_s"]
    assert found["people"][2]["interrupt_totals"][0]["movement"] == "mountain-climber"


def test_lengths_side_by_side_and_the_short_version(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text(GOOD, encoding="utf-8")
    done = run("outline", path, "--lengths")
    assert done.returncode == 0
    assert "must-say lines alone" in done.stdout
    assert done.stdout.count("lines") >= 8
    done = run("build", path, "--short", "--only", "script")
    assert done.returncode == 0
    script = (tmp_path / "built" / "day-short" / "script.md").read_text(encoding="utf-8")
    assert "One point each" in script
    assert "Ten goblet squats." in script


def test_a_very_long_title_is_built_whole(tmp_path: Path) -> None:
    title = "Tide " * 120
    (tmp_path / "long.md").write_text(
        f"---\ntitle: {title.strip()}\n---\n3 rounds for time\n10 burpees\n", encoding="utf-8"
    )
    done = run("build", tmp_path / "long.md")
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "built" / "long" / "handout.docx").is_file()


def test_a_new_movement_is_written_and_checked_as_not_filled_in(tmp_path: Path) -> None:
    done = run("movement", "new", "Tide turn", "--in", tmp_path)
    assert done.returncode == 0, done.stderr
    done = run("check", tmp_path / "movements" / "tide-turn.md")
    assert done.returncode == 1
    assert "still to be filled in" in done.stderr
    changed = run("movement", "new", "Push-up", "--in", tmp_path, "--builds-on", "push-up")
    assert changed.returncode == 0, changed.stderr
    assert "builds_on: push-up" in (tmp_path / "movements" / "push-up.md").read_text(encoding="utf-8")
