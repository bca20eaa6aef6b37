"""`briefing outline`: what would be said, in the terminal or as JSON."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import print_json, say, show_problems, stop_with
from briefing.outline.models import Outline
from briefing.pipeline import brief, trade_off
from briefing.problems import Stop
from briefing.settings.models import Length
from briefing.settings.reading import Unusable, read_length
from briefing.units import write_clock


@click.command(cls=Command, example="briefing outline slack-water.md --length 7:00")
@click.argument("file", cls=Named, what="A workout, such as slack-water.md.", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the outline as JSON.")
@click.option("--length", "length", metavar="TIME", help='The promised length, as in "9:00" or "about 9:00".')
@click.option(
    "--lengths", is_flag=True, help="Show what would be said at 5 to 12 minutes, and what each movement loses."
)
def outline(file: Path, *, as_json: bool, length: str | None, lengths: bool) -> None:
    """Show what would be said: every segment with its start, its length and its lines."""
    if lengths:
        _show_lengths(file)
        return
    try:
        briefed = brief(file, length=length_option(length))
    except Stop as stop:
        stop_with(stop.problems, as_json=as_json, beside=file.parent)
        return
    if as_json:
        from briefing.write.promised import outline_json  # noqa: PLC0415 - not needed in the terminal

        print_json(outline_json(briefed.outline, briefed.clock).model_dump(mode="json"))
        return
    _show(briefed.outline)
    show_problems(briefed.outline.problems, file.parent)


def _show_lengths(file: Path) -> None:
    """Show the trade-off: for each length what is said, and which movement loses what."""
    try:
        trade = trade_off(file)
    except Stop as stop:
        stop_with(stop.problems, as_json=False, beside=file.parent)
        return
    say(
        f"must-say lines alone: {write_clock(trade.shortest_tenths / 10)}   nothing left out: {write_clock(trade.everything_tenths / 10)}"
    )
    for row in trade.rows:
        if not row.fits:
            say(f"{write_clock(row.promised_s):>6}  too short for what must be said")
            continue
        lost = ", ".join(f"{name} {count}" for name, count in row.lost)
        say(
            f"{write_clock(row.promised_s):>6}  {write_clock(row.tenths / 10)}, {row.lines} lines"
            + (f"; left out: {lost}" if lost else "; nothing left out")
        )


def length_option(text: str | None) -> Length | None:
    """Read `--length`; a wrong one is a wrong use of the command."""
    if text is None:
        return None
    try:
        return read_length(text)
    except Unusable as stop:
        raise click.BadParameter(f"{stop.message}; try {stop.suggestion}", param_hint="--length") from stop


def _show(made: Outline) -> None:
    from rich.console import Console  # noqa: PLC0415 - slow to import
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    console = Console(highlight=False)
    promised = (
        f", promised {'about ' if made.length.about else ''}{write_clock(made.length.seconds)}" if made.length else ""
    )
    console.print(Text(made.title, style="bold"))
    console.print(
        Text(
            f"{write_clock(made.tenths / 10)} ({write_clock(made.low_tenths / 10)} to {write_clock(made.high_tenths / 10)}){promised} · "
            f"{made.pace_note} · must-say alone {write_clock(made.shortest_tenths / 10)}, "
            f"everything {write_clock(made.everything_tenths / 10)}"
        )
    )
    whole = max(made.tenths, 1)
    for segment in made.segments:
        console.print()
        bar = "▇" * max(1, round(40 * segment.tenths / whole))
        head = Text(f"{write_clock(segment.start_tenths / 10):>6}  ", style="bold")
        head.append(segment.title, style="bold")
        head.append(f"  {write_clock(segment.tenths / 10)}  {bar}")
        console.print(head)
        table = Table.grid(padding=(0, 1))
        table.add_column(width=6, justify="right")
        table.add_column(width=1)
        table.add_column()
        for line in segment.lines:
            table.add_row(Text(f"{line.tenths / 10:.1f}"), Text("●" if line.must else " "), Text(line.text))
        console.print(table)
    if made.left_out:
        console.print()
        console.print(Text(f"Left out: {len(made.left_out)} lines", style="bold"))
        for out in made.left_out:
            owner = out.line.movement or out.line.id.split("/", maxsplit=1)[0]
            console.print(Text(f"   {out.line.tenths / 10:5.1f}  {owner}: {out.line.card} ({out.why})"))
