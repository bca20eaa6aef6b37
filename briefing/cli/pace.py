"""`briefing pace`: the coach's speaking pace, learned from the captions of their own videos."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from briefing.cli.showing import print_json, show_problems, stop_with
from briefing.problems import Problem, has_errors
from briefing.settings.pace_file import PACE_FILE, PaceRecord, read_pace, write_pace
from briefing.sources.text import read_text
from briefing.take.pace import Learned, learn, pace_of, stretch_words
from briefing.take.promised import pace_json
from briefing.take.transcript import read_transcript
from briefing.units import read_clock
from briefing.write.saving import write_whole


@click.command(epilog="Example:  briefing pace take-1.vtt --in my-videos --talk 0:00-2:30")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Your folder, where the pace is kept.",
)
@click.option("--talk", metavar="FROM-TO", help="What is talk, as in 0:00-2:30; without it talk is found by itself.")
@click.option("--keep/--no-keep", default=True, help="Keep what was learned (the usual), or only show it.")
@click.option("--remove", metavar="NAME", help="Take a recording out again.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def pace(
    files: tuple[Path, ...], folder: Path, talk: str | None, remove: str | None, *, keep: bool, as_json: bool
) -> None:
    """Learn how fast you speak from timed transcripts (WebVTT, SRT, or text with [m:ss] stamps) of your own videos."""
    span = _span(talk)
    page = folder / PACE_FILE
    problems: list[Problem] = []
    records = _kept(page, problems)
    if remove is not None:
        left = [r for r in records if r.file != remove]
        if len(left) == len(records):
            raise click.BadParameter(
                f'no recording is called "{remove}"; there are {", ".join(r.file for r in records) or "none"}',
                param_hint="--remove",
            )
        records = left
        write_whole(page, write_pace(records).encode())
    learned: list[Learned] = []
    for file in files:
        made = _learn(file, span, problems)
        if made is not None:
            learned.append(made)
            date = dt.datetime.fromtimestamp(file.stat().st_mtime, tz=dt.UTC).date().isoformat()
            records = [r for r in records if r.file != file.name] + [made.record(file.name, date)]
    if has_errors(problems):
        stop_with(problems, as_json=as_json, beside=folder)
        return
    if learned and keep:
        write_whole(page, write_pace(records).encode())
    if as_json:
        print_json(pace_json(learned, records, problems).model_dump(mode="json"))
        return
    for file, made in zip(files, learned, strict=True):
        _show(file, made)
    together = pace_of(records)
    click.echo(f"pace {together.k:.2f} ({together.source_words})" + (f", kept in {page}" if learned and keep else ""))
    show_problems(problems, folder)


def _span(talk: str | None) -> tuple[int, int] | None:
    if talk is None:
        return None
    first, _, last = talk.partition("-")
    start, end = (0 if first.strip() in {"0:00", "0"} else read_clock(first)), read_clock(last)
    if start is None or end is None or end <= start:
        raise click.BadParameter(f'"{talk}" is not a stretch of time; try 0:00-2:30', param_hint="--talk")
    return start * 1000, end * 1000


def _kept(page: Path, problems: list[Problem]) -> list[PaceRecord]:
    if not page.is_file():
        return []
    text = read_text(page)
    if text.value is None:
        problems += text.problems
        return []
    found = read_pace(text.value)
    problems += found.problems
    return list(found.value or ())


def _learn(file: Path, span: tuple[int, int] | None, problems: list[Problem]) -> Learned | None:
    text = read_text(file)
    problems += text.problems
    if text.value is None:
        return None
    transcript = read_transcript(text.value)
    problems += transcript.problems
    if transcript.value is None:
        return None
    found = learn(transcript.value, span)
    problems += found.problems
    return found.value


def _show(file: Path, made: Learned) -> None:
    spoken = f"{made.talk_s:.0f} s of talk, about {made.words_per_min:.0f} words a minute"
    click.echo(f"{file.name}: {made.k:.2f} ({made.low:.2f} to {made.high:.2f}), {spoken}")
    way = "slower" if made.drift > 1 else "faster"
    click.echo(
        f"  {made.demonstration_s:.0f} s shown or silent; towards the end {way} by {abs(made.drift - 1) * 100:.0f} %"
    )
    for stretch in made.stretches:
        if stretch.kind != "talk":
            click.echo(f"  {stretch_words(stretch)}")
