"""`briefing start`: a coach's folder with the demo series, ready to edit."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import say
from briefing.sources.folders import demo_folder
from briefing.write.saving import save_new


@click.command(cls=Command, example="briefing start my-videos")
@click.argument(
    "folder", cls=Named, what="The folder to make, or one that is there already.", type=click.Path(path_type=Path)
)
def start(folder: Path) -> None:
    """Make a folder with a demo series that you can edit; a file that is there already is never touched."""
    if folder.exists() and not folder.is_dir():
        raise click.UsageError(f'"{folder}" is a file; a folder was expected')
    source = demo_folder()
    files = {folder / p.relative_to(source): p.read_bytes() for p in sorted(source.rglob("*.md"))}
    for saved in sorted(save_new(files, folder), key=lambda s: s.what == "same"):
        say(f"wrote {saved.path}" if saved.what == "written" else f"kept  {saved.path} (it was there already)")
    say(f"now: briefing build {folder}")
