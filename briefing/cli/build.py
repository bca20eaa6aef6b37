"""`briefing build`: the documents, written whole or not at all."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.outline import length_option
from briefing.cli.showing import show_problems
from briefing.clock.simulate import simulate
from briefing.pipeline import SERIES_FILE, Briefed, Desk, brief, brief_video, coach_folder, open_desk
from briefing.problems import Place, Problem, Stop, has_errors
from briefing.settings.models import Length, Video, Words
from briefing.sources.folders import shelves
from briefing.units import write_clock
from briefing.write.building import documents_named, write_documents
from briefing.write.documents import DOCUMENTS, Document, Given
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
    videos = videos_of(path, desk)
    failed = has_errors(desk.problems)
    show_problems(desk.problems, folder)
    if failed:
        raise click.exceptions.Exit(1)
    if not videos:
        click.echo(f'there is no workout in "{path}"; a workout is a file such as slack-water.md', err=True)
        raise click.exceptions.Exit(1)
    templates = Templates(shelves(folder, "templates"))
    kept: list[Saved] = []
    for video in videos:
        if short and video.kind != "briefing":
            continue
        name = f"{video.key}-short" if short else video.key
        try:
            briefed = _brief(path, video, desk, promised, short=short)
            saved = _build_one(
                briefed, templates, (into or folder / BUILT) / name, folder, documents_named(only, video.kind)
            )
        except Stop as stop:
            failed = True
            show_problems(stop.problems, folder)
            click.echo(f"{name}: not built", err=True)
            continue
        kept += [s for s in saved if s.what == "beside"]
        show_problems(_without(briefed.outline.problems, desk.problems), folder)
        click.echo(_summary(name, briefed, saved, promised))
    for one in kept:
        original = one.path.with_name(one.path.name.replace(".new.", "."))
        click.echo(f"you edited {original}: it stays, the new one is {one.path.name}", err=True)
    if failed:
        raise click.exceptions.Exit(1)


def videos_of(path: Path, desk: Desk) -> list[Video]:
    """Give the videos of a path: the one briefing of a file, those of the series, or a briefing for each workout of a folder."""
    if path.is_dir() and desk.series is not None and desk.series.videos:
        return list(desk.series.videos)
    nowhere = Place(file=str(path), line=1)
    return [Video(workout=Words(text=p.name, place=nowhere), place=nowhere) for p in workouts_of(path, desk)]


def _brief(path: Path, video: Video, desk: Desk, promised: Length | None, *, short: bool) -> Briefed:
    if video.kind == "briefing":
        file = path if not path.is_dir() else path / f"{video.stem}.md"
        return brief(file, length=promised, desk=desk, short=short)
    return brief_video(video, desk)


def workouts_of(path: Path, desk: Desk) -> list[Path]:
    """Give the workout files of a path: itself, the videos of the series, or every other Markdown file of the folder."""
    if not path.is_dir():
        return [path]
    if desk.series is not None and desk.series.videos:
        return [path / f"{v.stem}.md" for v in desk.series.videos if v.kind == "briefing"]
    return [p for p in sorted(path.glob("*.md")) if p.name.lower() not in {SERIES_FILE, "readme.md"}]


def _build_one(
    briefed: Briefed, templates: Templates, into: Path, folder: Path, documents: tuple[Document, ...]
) -> tuple[Saved, ...]:
    plan = briefed.plan
    run = simulate(plan.workout, plan.movements, "steady", effort=plan.effort) if plan.workout.parts else None
    return save_all(write_documents(Given(briefed.outline, plan.movements, templates, run), documents, into), folder)


def _without(problems: tuple[Problem, ...], shown: tuple[Problem, ...]) -> list[Problem]:
    return [p for p in problems if p not in shown]


def _summary(name: str, briefed: Briefed, saved: tuple[Saved, ...], promised: Length | None) -> str:
    outline = briefed.outline
    if outline.kind == "workout":
        return f"{name}: call sheet · {sum(s.what != 'same' for s in saved)} of {len(saved)} documents new · {saved[0].path.parent if saved else ''}"
    target = promised or outline.length
    against = f" of {write_clock(target.seconds)}" if target else ""
    written = sum(s.what != "same" for s in saved)
    where = saved[0].path.parent if saved else ""
    return f"{name}: {write_clock(outline.tenths / 10)}{against} · {written} of {len(saved)} documents new · {where}"
