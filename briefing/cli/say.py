"""`briefing say`: how a text is said, and how long that takes."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import say as say_line
from briefing.pipeline import own_settings, pace_in
from briefing.settings.reading import LEAST_K, MOST_K
from briefing.speech.say import say as say_text
from briefing.speech.seconds import Pace


@click.command(cls=Command, example='briefing say "50/35 lb, 3x10"')
@click.argument("text", cls=Named, what='What is said, in quotes; "-" reads one text a line from standard input.')
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Your folder: its pace and your own list count.",
)
@click.option(
    "--pace",
    "k",
    type=click.FloatRange(LEAST_K, MOST_K),
    help="Speaking pace: 1 is typical, more is slower.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object a line.")
def say(text: str, folder: Path, *, k: float | None, as_json: bool) -> None:
    """Print how TEXT is said and its seconds; with "-", one text a line from standard input (¶ is a paragraph break)."""
    if k is not None and not LEAST_K <= k <= MOST_K:
        raise click.BadParameter(f"{k} is no pace; try 1.1", param_hint="--pace")
    settings = own_settings(folder)
    pace = pace_in(settings) if k is None else Pace(k=k)
    texts = _given() if text == "-" else iter((text,))
    for one in texts:
        said = say_text(one, pace, settings.say_as)
        if as_json:
            click.echo(json.dumps(said.model_dump(mode="json"), ensure_ascii=False))
        else:
            say_line(f"{said.spoken}\n  {said.seconds:.1f} s ({said.low_s:.1f} to {said.high_s:.1f})")


def _given() -> Iterator[str]:
    """Give the lines of standard input; what is no UTF-8 in them is passed over."""
    for line in sys.stdin.buffer:
        yield line.decode("utf-8", "replace").rstrip("\r\n")
