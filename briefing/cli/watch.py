"""`briefing watch`: build again whenever something is saved."""

from __future__ import annotations

import time
from pathlib import Path

import click

from briefing.cli.build import BUILT, Wish, build_all
from briefing.cli.naming import Command, Named
from briefing.cli.showing import say
from briefing.cli.trouble import EXIT_INPUT, said_of
from briefing.sources.folders import built_in
from briefing.write.saving import STATE

# Our choice: an editor writes a file in several steps; what comes within this time is one save.
QUIET_MS = 60


@click.command(cls=Command, example="briefing watch my-videos")
@click.argument(
    "folder",
    cls=Named,
    what="The folder whose videos are built.",
    type=click.Path(path_type=Path, file_okay=False, exists=True),
)
@click.option("--times", type=click.IntRange(0), default=0, help="Stop after so many rebuilds (0: go on until Ctrl-C).")
def watch(folder: Path, times: int) -> None:
    """Build what has changed, then wait, and build again whenever a file is saved. Ctrl-C ends it."""
    from watchfiles import watch as changes  # noqa: PLC0415 - needed here alone

    _build(folder)
    say(f"watching {folder}; Ctrl-C ends it")
    done = 0
    ours = {(folder / BUILT).resolve(), (folder / STATE).resolve()}
    own_library = [p for p in (built_in("movements"), built_in("templates")) if p.is_dir()]
    for found in changes(folder, *own_library, step=QUIET_MS, debounce=400, raise_interrupt=True, recursive=True):
        if not folder.is_dir():
            say(f'"{folder}" is not there any more', err=True)
            raise click.exceptions.Exit(EXIT_INPUT)
        paths = [Path(name) for _, name in found]
        if all(any(path.is_relative_to(place) for place in ours) for path in paths):
            continue
        start = time.perf_counter()
        if _build(folder):
            say(f"built again in {time.perf_counter() - start:.1f} s")
        done += 1
        if times and done >= times:
            return


def _build(folder: Path) -> bool:
    """Build, and go on watching whatever happens: a full disk has room again, a file is mended; say whether it came to its end."""
    try:
        build_all(folder, folder, folder / BUILT, Wish())
    except Exception as error:  # noqa: BLE001 - said in one sentence; the next save is another try
        say(said_of(error)[0], err=True)
        return False
    return True
