"""`briefing board`: each line as it was written beside what was read from it, then what it adds up to."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from briefing.board.reading import BoardReading
from briefing.check.workout import check_clock
from briefing.cli.naming import Command, Named
from briefing.cli.showing import print_json, say, show_problems, stop_with
from briefing.clock.answer import work_through
from briefing.library.models import Movement
from briefing.pipeline import read_plan, read_reading
from briefing.problems import Stop, sort_problems
from briefing.telling.board import write_board
from briefing.telling.echo import echo


@click.command(cls=Command, example="briefing board slack-water.md")
@click.argument("file", cls=Named, what="A workout, such as slack-water.md.", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the reading as JSON.")
@click.option("--normal", is_flag=True, help="Print the board in one normal form, which reads as the same workout.")
def board(file: Path, *, as_json: bool, normal: bool) -> None:
    """Print what was read from each line of the board, and what it adds up to."""
    try:
        plan = read_plan(file)
    except Stop as stop:
        read = _reading(file)
        if as_json:
            from briefing.write.board_json import problems_only  # noqa: PLC0415 - not needed in the terminal

            reading, movements = read or (None, {})
            print_json(problems_only(stop.problems, reading, movements))
            raise SystemExit(1) from stop
        if read is not None:
            _show(*read)
        stop_with(stop.problems, as_json=False, beside=file.parent)
        return
    problems = sort_problems((*plan.problems, *check_clock(plan.workout, work_through(plan.workout, plan.movements))))
    text = write_board(plan.workout, plan.named)
    if as_json:
        from briefing.write.board_json import board_json  # noqa: PLC0415 - as above

        assert plan.reading is not None  # noqa: S101 - a plan has one
        print_json(board_json(plan.workout, text, plan.reading, plan.named, problems).model_dump(mode="json"))
        return
    if normal:
        say(text.removesuffix("\n"))
    elif plan.reading is not None:
        _show(plan.reading, plan.named)
    from briefing.write.adding import adding_words  # noqa: PLC0415 - as above

    say("")
    for line in adding_words(plan.workout, plan.movements):
        say(line)
    show_problems(problems, file.parent)


def _reading(file: Path) -> tuple[BoardReading, Mapping[str, Movement]] | None:
    try:
        return read_reading(file)
    except Stop:
        return None


def _show(reading: BoardReading, movements: Mapping[str, Movement]) -> None:
    """Show the lines in two columns: as written, as read; remarks stand in brackets."""
    lines = echo(reading.lines, movements)
    width = min(46, max((len(line.written.strip()) for line in lines), default=0))
    for line in lines:
        aside = f"(set aside: {'; '.join(line.remarks)})" if line.remarks else ""
        words = "  ".join(x for x in (line.read, aside) if x)
        written = line.written.strip()
        if len(written) > width:
            say(written)
            written = ""
        say(f"{written.ljust(width)}  ->  {words}" if words else written)
