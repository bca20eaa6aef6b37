"""`briefing series`: movements by videos, what depends on what, what the series never says."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import save_named, say, show_problems, stop_with
from briefing.pipeline import brief_video, offered_by, open_desk
from briefing.problems import Problem, Stop, has_errors
from briefing.series.overview import overview
from briefing.series.page import overview_html, overview_text
from briefing.sources.folders import shelves
from briefing.write.templates import Templates


@click.command(cls=Command, example="briefing series my-videos --page series.html")
@click.argument(
    "folder", cls=Named, what="A folder with a series.md.", type=click.Path(path_type=Path, file_okay=False)
)
@click.option(
    "--page", type=click.Path(path_type=Path, dir_okay=False), help="Write it as a page, with the table as a picture."
)
def series(folder: Path, page: Path | None) -> None:
    """Show the series at a glance: which video teaches what in full, what is recalled, and what is never said."""
    desk = open_desk(folder)
    if desk.series is None:
        say(f'there is no series.md in "{folder}"', err=True)
        raise click.exceptions.Exit(1)
    problems: list[Problem] = list(desk.problems)
    seconds = 0.0
    for video in desk.series.videos:
        try:
            briefed = brief_video(video, desk)
        except Stop as stop:
            problems += stop.problems
            continue
        if video.kind != "workout":
            seconds += briefed.outline.tenths / 10
    slugs = {s for f in desk.facts for s in (*f.movements, *f.options)}
    movements = {s: m for s in slugs if (m := desk.library.get(s)) is not None}
    kit = offered_by(desk).kit
    at_a_glance = overview(desk.series.title or "Series", desk.facts, desk.levels, movements, seconds, kit)
    if page is not None:
        try:
            made = overview_html(at_a_glance, Templates(shelves(folder, "templates")))
            save_named(page, made, folder)
        except Stop as stop:
            stop_with(stop.problems, as_json=False, beside=folder)
    for line in overview_text(at_a_glance):
        say(line)
    show_problems(problems, folder)
    if has_errors(problems):
        raise click.exceptions.Exit(1)
