"""`briefing say`: how a text is said, and how long that takes."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from briefing.cli.naming import Command, Named
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
    settings = own_settings(folder)
    pace = pace_in(settings) if k is None else Pace(k=k)
    texts = (line.rstrip("\r\n") for line in sys.stdin) if text == "-" else iter((text,))
    for one in texts:
        said = say_text(one, pace, settings.say_as)
        if as_json:
            click.echo(json.dumps(said.model_dump(mode="json"), ensure_ascii=False))
        else:
            click.echo(f"{said.spoken}\n  {said.seconds:.1f} s ({said.low_s:.1f} to {said.high_s:.1f})")
