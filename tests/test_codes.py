"""Every problem code of the source stands in the table, each example breaks what it is for, and DEVELOPERS shows the table."""

from __future__ import annotations

import ast
import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import briefing
from briefing.board.codes import CODES as BOARD_CODES
from briefing.check.movement import LIBRARY_CHECKS, MOVEMENT_CHECKS, check_library_movement, check_movement
from briefing.check.workout import WORKOUT_CHECKS
from briefing.codes import CODES as OTHER_CODES
from briefing.codes import Code
from briefing.outline.wording import read_wording
from briefing.pipeline import brief, open_desk
from briefing.problems import Place, Problem, Stop
from briefing.series.recorded import unknown
from briefing.settings.pace_file import read_pace
from briefing.sources.folders import built_in
from briefing.sources.text import Text, read_text
from briefing.take.transcript import read_transcript
from briefing.write.documents import card_problems
from tests.test_cli import run
from tests.test_library import SMALL, make

CODES = (*BOARD_CODES, *OTHER_CODES)
PACKAGE = Path(briefing.__file__).parent
ROOT = PACKAGE.parent
# Functions that make a problem take its code first, or behind its level.
MAKERS = {"Problem", "CannotRead", "error", "ask", "note", "refused", "nothing", "stop", "problem", "add", "missing"}
# The reader holds this of its own, and no board gets there: a dash before a number is a bullet.
UNREACHED = {"number-negative"}


def said_in(path: Path) -> Iterator[str]:
    """Give the codes that a file's problems have, as far as they stand in it as words."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).split(".")[-1].lstrip("_")
        given = [k.value for k in node.keywords if k.arg == "code"]
        given += node.args[:2] if name in MAKERS else []
        for value in given:
            for part in (value.body, value.orelse) if isinstance(value, ast.IfExp) else (value,):
                if isinstance(part, ast.Constant) and isinstance(part.value, str):
                    yield part.value


def test_every_code_of_the_source_is_in_the_table() -> None:
    """The board's own codes stand with its reader; every other one in the table of all rooms."""
    known = {c.code for c in CODES} | {"error", "warning", "note"} | UNREACHED
    files = [p for p in PACKAGE.rglob("*.py") if p.relative_to(PACKAGE).parts[0] != "outline"]
    files += [PACKAGE / "outline" / f"{n}.py" for n in ("outline", "wording")]
    lost = {c for p in files for c in said_in(p) if re.fullmatch(r"[a-z]+(?:-[a-z]+)+", c)} - known
    assert lost == set()


def test_a_code_stands_once_and_has_its_sentence() -> None:
    codes = [c.code for c in CODES]
    assert len(codes) == len(set(codes))
    assert all(c.holds.endswith(".") and (c.example or c.kind == "movement") for c in CODES)


# Checks of workouts and of movements may have one code for the same thing, and a sentence each.
@pytest.mark.parametrize("check", [*WORKOUT_CHECKS, *MOVEMENT_CHECKS, *LIBRARY_CHECKS], ids=lambda c: c.code)
def test_each_check_says_in_the_table_what_it_holds(check: object) -> None:
    found = {c.code: c.holds for c in CODES}
    assert check.code in found  # type: ignore[attr-defined]
    if check.code != "area-unanswered":  # type: ignore[attr-defined]
        assert found[check.code] == check.holds  # type: ignore[attr-defined]


@pytest.mark.parametrize("row", [c for c in CODES if c.kind in {"movement", "words"}], ids=lambda c: c.code)
def test_each_code_is_held_by_its_tests(row: Code) -> None:
    assert f'"{row.code}"' in (ROOT / row.tests).read_text(encoding="utf-8")


def test_developers_shows_the_table() -> None:
    """`python -m tests.test_codes` writes it anew."""
    assert developers_table() in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def developers_table() -> str:
    """Give the table of all codes as it stands in DEVELOPERS, room by room."""
    rows = [f"| `{c.code}` | {c.room} | {c.holds} |" for c in CODES]
    return "\n".join(["| code | from | what it holds |", "| --- | --- | --- |", *rows])


def of_workout(example: str, folder: Path) -> list[Problem]:
    path = folder / "day.md"
    path.write_text(example, encoding="utf-8")
    try:
        made = brief(path)
    except Stop as stop:
        return list(stop.problems)
    return [*made.outline.problems, *card_problems(made.outline)]


def of_series(example: str, folder: Path) -> list[Problem]:
    (folder / "series.md").write_text(f"---\n{example}\n---\n", encoding="utf-8")
    return list(open_desk(folder).problems)


def of_wording(example: str, folder: Path) -> list[Problem]:
    (folder / "templates").mkdir()
    (folder / "templates" / "wording.md").write_text(example, encoding="utf-8")
    return list(read_wording((folder / "templates", built_in("templates")), folder)[1])


READERS: dict[str, Callable[[str, Path], list[Problem]]] = {
    "workout": of_workout,
    "series": of_series,
    "wording": of_wording,
    "pace": lambda example, _: list(read_pace(Text.of(example, "pace.md")).problems),
    "transcript": lambda example, _: list(read_transcript(Text.of(example, "take.vtt")).problems),
}


@pytest.mark.parametrize("row", [c for c in CODES if c.kind in READERS], ids=lambda c: c.code)
def test_each_example_breaks_what_it_is_for(row: Code, tmp_path: Path) -> None:
    assert row.code in {p.code for p in READERS[row.kind](row.example, tmp_path)}


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("## Common faults", "## Build-up\n1. **Slow** (fast) — Down in three.\n\n## Common faults", "step-bracket"),
        ("- **To a chair** (knee, new to it; half the count) — Sit down to a chair, half as many.\n", "", "no-easier"),
        ("- **Clear floor** — Clear the floor.\n", "", "no-safety"),
        ("You sit down and stand up.\n", "", "no-what"),
    ],
)
def test_what_a_movement_lacks(old: str, new: str, code: str, tmp_path: Path) -> None:
    assert old in SMALL
    library = make(tmp_path, tide_squat=SMALL.replace(old, new))
    found = list(library.problems("tide-squat"))
    movement = library.get("tide-squat")
    found += check_movement(movement, library) if movement else []
    assert code in {p.code for p in found}


def test_a_description_of_two_sentences_and_a_chain_of_four_files(tmp_path: Path) -> None:
    two = "You sit down. You stand up."
    library = make(tmp_path, tide_squat=SMALL.replace("You sit down and stand up.", two))
    movement = library.get("tide-squat")
    assert movement is not None
    assert "what-sentence" in {p.code for p in check_library_movement(movement, library)}
    chain = {
        f"s{n}": SMALL.replace("name: Tide squat", f"name: Squat {'abcd'[n]}\nbuilds_on: s{n + 1}") for n in range(3)
    }
    library = make(tmp_path, **chain, s3=SMALL.replace("Tide squat", "Squat d"))
    library.get("s0")
    assert "builds-on-deep" in {p.code for n in range(3) for p in library.problems(f"s{n}")}


def test_files_that_are_none(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    os.mkfifo(path)
    assert {p.code for p in read_text(path).problems} == {"file-unreadable"}
    path.unlink()
    path.write_bytes(b"\xff\xfe day")
    assert {p.code for p in read_text(path).problems} == {"file-not-utf8"}


def test_a_board_with_a_movement_whose_file_cannot_be_used(tmp_path: Path) -> None:
    make(tmp_path, tide_squat=SMALL.replace("- **Clear floor** — Clear the floor.", "- Clear the floor."))
    folder = tmp_path / "movements"
    folder.mkdir(exist_ok=True)
    for path in tmp_path.glob("*.md"):
        path.rename(folder / path.name)
    found = of_workout("For time\n  20 tide squats\n", tmp_path)
    assert "movement-unusable" in {p.code for p in found}


def test_names_that_cannot_be_and_records_that_are_lost(tmp_path: Path) -> None:
    assert {p.code for p in of_series(f"videos: [{'x' * 300}.md]", tmp_path)} == {"video-name"}
    assert unknown("tide", Place(line=1)).code == "recorded-unknown"
    (tmp_path / "series.md").write_text("---\nvideos: [{workout: tide.md, kind: warm-up}]\n---\n", encoding="utf-8")
    for name in ("tide", "tide-warm-up"):
        (tmp_path / f"{name}.md").write_text("For time\n  20 air squats\n", encoding="utf-8")
    done = run("build", tmp_path)
    assert done.returncode == 1
    assert "would stand where" in done.stderr, "name-taken"


if __name__ == "__main__":
    pages = ROOT / "DEVELOPERS.md"
    before, _, rest = pages.read_text(encoding="utf-8").partition("<!-- codes -->\n")
    after = rest.partition("<!-- end of codes -->")[2]
    pages.write_text(f"{before}<!-- codes -->\n{developers_table()}\n<!-- end of codes -->{after}", encoding="utf-8")
