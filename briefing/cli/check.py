"""`briefing check`: what needs attention in workouts, movements and series files."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.build import workouts_of
from briefing.cli.naming import Command, Named
from briefing.cli.showing import say, stop_with
from briefing.pipeline import SERIES_FILE, Desk, brief, check_movement_file, coach_folder, library_beside, open_desk
from briefing.problems import Problem, Stop, sort_problems
from briefing.settings.pace_file import PACE_FILE
from briefing.sources.folders import refused_pages
from briefing.sources.guard import pages_in


@click.command(cls=Command, example="briefing check my-videos")
@click.argument(
    "paths",
    cls=Named,
    what="Workouts, movements, or folders.",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path),
)
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON.")
def check(paths: tuple[Path, ...], *, as_json: bool) -> None:
    """Check workouts, movements, or a whole folder; nothing is written."""
    problems: list[Problem] = []
    count = 0
    for path in paths:
        found, looked_at = _check(path)
        problems += found
        count += looked_at
    problems = list(sort_problems(problems))
    stop_with(problems, as_json=as_json, beside=paths[0] if paths[0].is_dir() else paths[0].parent)
    if not as_json:
        word = "nothing to mend" if not problems else f"{len(problems)} to look at, no error"
        say(f"{count} file{'s' if count != 1 else ''} checked: {word}")


def _check(path: Path) -> tuple[list[Problem], int]:
    if path.is_dir():
        return _check_folder(path)
    if path.parent.name == "movements":
        return list(check_movement_file(path)), 1
    if path.name in {SERIES_FILE, PACE_FILE}:
        return list(open_desk(path.parent).problems), 1
    return _workout(path), 1


def _check_folder(folder: Path) -> tuple[list[Problem], int]:
    problems: list[Problem] = []
    if folder.name == "movements":
        return _check_movements(folder)
    desk = open_desk(folder)
    problems += desk.problems
    workouts = workouts_of(folder, desk)
    if not (desk.series is not None and desk.series.videos):
        problems += refused_pages(folder)
    for path in workouts:
        problems += _workout(path, desk)
    found, count = _check_movements(folder / "movements")
    return problems + found, len(workouts) + count + (desk.series is not None)


def _check_movements(folder: Path) -> tuple[list[Problem], int]:
    own = list(pages_in(folder)) if folder.is_dir() else []
    library = library_beside(own[0]) if own else None
    return [p for path in own for p in check_movement_file(path, library)], len(own)


def _workout(path: Path, desk: Desk | None = None) -> list[Problem]:
    """Give all problems of a workout; for many of one folder, `desk` is that folder's, read once."""
    try:
        return list(brief(path, desk=desk or open_desk(coach_folder(path))).outline.problems)
    except Stop as stop:
        return list(stop.problems)
