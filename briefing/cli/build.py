"""`briefing build`: the documents, written whole or not at all."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.outline import length_option
from briefing.cli.showing import show_problems
from briefing.pipeline import SERIES_FILE, Briefed, Desk, brief, coach_folder, open_desk
from briefing.problems import Problem, Stop, has_errors
from briefing.settings.models import Length
from briefing.sources.folders import shelves
from briefing.units import write_clock
from briefing.write.building import documents_named, write_documents
from briefing.write.documents import DOCUMENTS, Given
from briefing.write.saving import Saved, save_all
from briefing.write.templates import Templates

BUILT = "built"


@click.command(epilog="Example:  briefing build my-videos --only cards --only handout")
@click.argument("path", type=click.Path(path_type=Path))
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    help="Where the documents go (built/ beside the workouts).",
)
@click.option("--only", multiple=True, type=click.Choice([d.key for d in DOCUMENTS]), help="Only these documents.")
@click.option("--length", "length", metavar="TIME", help='The promised length, as in "9:00" or "about 9:00".')
@click.option("--short", is_flag=True, help="The 90-second version, for people who have seen the briefing before.")
def build(path: Path, into: Path | None, only: tuple[str, ...], length: str | None, *, short: bool) -> None:
    """Write the documents of one workout, or of all workouts of a folder.

    A document that you have edited is kept; the new one is written beside it. A workout with errors is left as it is, the
    others are built.
    """
    promised = length_option(length)
    folder = path if path.is_dir() else coach_folder(path)
    desk = open_desk(folder)
    workouts = workouts_of(path, desk)
    failed = has_errors(desk.problems)
    show_problems(desk.problems, folder)
    if failed:
        raise click.exceptions.Exit(1)
    if not workouts:
        click.echo(f'there is no workout in "{path}"; a workout is a file such as slack-water.md', err=True)
        raise click.exceptions.Exit(1)
    templates = Templates(shelves(folder, "templates"))
    kept: list[Saved] = []
    for workout in workouts:
        try:
            briefed = brief(workout, length=promised, desk=desk, short=short)
            name = f"{workout.stem}-short" if short else workout.stem
            saved = _build_one(briefed, templates, (into or folder / BUILT) / name, folder, only)
        except Stop as stop:
            failed = True
            show_problems(stop.problems, folder)
            click.echo(f"{workout.name}: not built", err=True)
            continue
        kept += [s for s in saved if s.what == "beside"]
        show_problems(_without(briefed.outline.problems, desk.problems), folder)
        click.echo(_summary(workout, briefed, saved, promised))
    for one in kept:
        original = one.path.with_name(one.path.name.replace(".new.", "."))
        click.echo(f"you edited {original}: it stays, the new one is {one.path.name}", err=True)
    if failed:
        raise click.exceptions.Exit(1)


def workouts_of(path: Path, desk: Desk) -> list[Path]:
    """Give the workout files of a path: itself, the videos of the series, or every other Markdown file of the folder."""
    if not path.is_dir():
        return [path]
    if desk.series is not None and desk.series.videos:
        return [path / f"{v.stem}.md" for v in desk.series.videos if v.kind == "briefing"]
    return [p for p in sorted(path.glob("*.md")) if p.name.lower() not in {SERIES_FILE, "readme.md"}]


def _build_one(
    briefed: Briefed, templates: Templates, into: Path, folder: Path, only: tuple[str, ...]
) -> tuple[Saved, ...]:
    given = Given(briefed.outline, briefed.plan.movements, templates)
    return save_all(write_documents(given, documents_named(only), into), folder)


def _without(problems: tuple[Problem, ...], shown: tuple[Problem, ...]) -> list[Problem]:
    return [p for p in problems if p not in shown]


def _summary(workout: Path, briefed: Briefed, saved: tuple[Saved, ...], promised: Length | None) -> str:
    outline = briefed.outline
    target = promised or outline.length
    against = f" of {write_clock(target.seconds)}" if target else ""
    written = sum(s.what != "same" for s in saved)
    where = saved[0].path.parent if saved else ""
    return f"{workout.name}: {write_clock(outline.tenths / 10)}{against} · {written} of {len(saved)} documents new · {where}"
