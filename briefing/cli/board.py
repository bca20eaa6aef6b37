"""`briefing board`: how the board was read, in one normal form."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import print_json, say, show_problems, stop_with
from briefing.pipeline import read_plan
from briefing.problems import Stop
from briefing.telling.board import write_board


@click.command(cls=Command, example="briefing board slack-water.md")
@click.argument("file", cls=Named, what="A workout, such as slack-water.md.", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the reading as JSON.")
def board(file: Path, *, as_json: bool) -> None:
    """Print the board back in one normal form, with what it adds up to; reading that again gives the same workout."""
    try:
        plan = read_plan(file)
    except Stop as stop:
        stop_with(stop.problems, as_json=as_json, beside=file.parent)
        return
    normal = write_board(plan.workout, plan.movements)
    if as_json:
        from briefing.write.promised import board_json  # noqa: PLC0415 - not needed in the terminal

        print_json(board_json(plan.workout, normal, plan.problems).model_dump(mode="json"))
        return
    from briefing.write.adding import adding_words  # noqa: PLC0415 - as above

    say(normal.removesuffix("\n"))
    say("")
    for line in adding_words(plan.workout, plan.movements):
        say(line)
    show_problems(plan.problems, file.parent)
