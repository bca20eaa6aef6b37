"""`briefing start`: a coach's folder with the demo series, ready to edit."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.sources.folders import demo_folder
from briefing.write.saving import write_whole


@click.command(epilog="Example:  briefing start my-videos")
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Make a folder with a demo series that you can edit; a file that is there already is never touched."""
    if folder.exists() and not folder.is_dir():
        raise click.UsageError(f'"{folder}" is a file; a folder was expected')
    source = demo_folder()
    made, kept = [], []
    for path in sorted(source.rglob("*.md")):
        target = folder / path.relative_to(source)
        if target.exists():
            kept.append(target)
        else:
            write_whole(target, path.read_bytes())
            made.append(target)
    for path in made:
        click.echo(f"wrote {path}")
    for path in kept:
        click.echo(f"kept  {path} (it was there already)")
    click.echo(f"now: briefing build {folder}")
