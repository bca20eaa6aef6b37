"""`briefing movement new`: a movement file to fill in, with its fields explained in it."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import say
from briefing.library.names import slug_of
from briefing.library.template import movement_template
from briefing.pipeline import open_library
from briefing.problems import unprintable
from briefing.write.saving import save_new


@click.group()
def movement() -> None:
    """Work on movements of your own."""


@movement.command(cls=Command, example='briefing movement new "Sandbag over the shoulder" --in my-videos')
@click.argument("name", cls=Named, what="What it is called, in quotes where it has more than one word.")
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Your folder; the file goes into its movements/.",
)
@click.option("--builds-on", help="A movement that it builds on: what is the same is inherited.")
def new(name: str, folder: Path, builds_on: str | None) -> None:
    """Write a file for the movement NAME, to fill in; a file that is there already is never touched."""
    slug = slug_of(name)
    if unprintable(name) or "\n" in name:
        raise click.BadParameter("this name holds a character that no document can show", param_hint="NAME")
    if not slug:
        raise click.BadParameter(f'"{name}" has no letters', param_hint="NAME")
    library = open_library(folder)
    parent = None
    if builds_on:
        parent = library.find(builds_on)
        if parent is None:
            near = library.nearest(builds_on)
            raise click.BadParameter(
                f'no movement is called "{builds_on}"' + (f"; try {near[0]}" if near else ""), param_hint="--builds-on"
            )
    known = library.find(name)
    path = folder / "movements" / f"{slug}.md"
    if path.exists():
        say(f"{path} is there already; it was not touched", err=True)
        raise click.exceptions.Exit(1)
    if known is not None:
        say(f'note: "{name}" is already a name of {library.file_of(known)}; yours will come first', err=True)
    save_new({path: movement_template(name, parent).encode()}, folder)
    say(f"wrote {path}\nfill it in, then: briefing check {path}")
