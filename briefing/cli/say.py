"""`briefing say`: how a text is said, and how long that takes."""

from __future__ import annotations

import json
import sys

import click

from briefing.settings.reading import LEAST_K, MOST_K
from briefing.speech.say import say as say_text
from briefing.speech.seconds import Pace


@click.command(epilog='Example:  briefing say "50/35 lb, 3x10"')
@click.argument("text")
@click.option(
    "--pace",
    "k",
    type=click.FloatRange(LEAST_K, MOST_K),
    default=1.0,
    show_default=True,
    help="Speaking pace: 1 is typical, more is slower.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object a line.")
def say(text: str, *, k: float, as_json: bool) -> None:
    """Print how TEXT is said and its seconds; with "-", one text a line from standard input (¶ is a paragraph break)."""
    pace = Pace(k=k)
    texts = (line.rstrip("\r\n") for line in sys.stdin) if text == "-" else iter((text,))
    for one in texts:
        said = say_text(one, pace)
        if as_json:
            click.echo(json.dumps(said.model_dump(mode="json"), ensure_ascii=False))
        else:
            click.echo(f"{said.spoken}\n  {said.seconds:.1f} s ({said.low_s:.1f} to {said.high_s:.1f})")
