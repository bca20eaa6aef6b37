"""`briefing pace`: the coach's speaking pace, learned from the captions of their own videos."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import print_json, say, show_kept, show_problems, stop_with
from briefing.pipeline import SERIES_FILE, own_settings
from briefing.problems import Problem, has_errors
from briefing.settings.pace_file import PACE_FILE, OwnWords, PaceRecord, own_words, read_pace, row_name, write_pace
from briefing.sources.text import read_text
from briefing.take.kept import kept_only
from briefing.take.pace import Learned, learn, pace_of, stretch_words
from briefing.take.promised import pace_json
from briefing.take.transcript import Transcript, read_transcript
from briefing.units import read_clock, read_moment
from briefing.write.saving import save_back


@click.command(cls=Command, example="briefing pace take-1.vtt --in my-videos --talk 0:00-2:30")
@click.argument(
    "files",
    cls=Named,
    what="Captions of your own videos: WebVTT, SRT, or text with [m:ss] stamps.",
    nargs=-1,
    type=click.Path(path_type=Path),
)
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    help="Your folder, where the pace is kept (the one with the series above FILE, or the one you are in).",
)
@click.option("--talk", metavar="FROM-TO", help="What is talk, as in 0:00-2:30; without it talk is found by itself.")
@click.option(
    "--log",
    type=click.Path(path_type=Path),
    help="The log of the cards on screen: only the takes that were kept count (with one FILE).",
)
@click.option("--log-starts", default="0:00", metavar="TIME", help="Where in the recording the log's 0:00 is.")
@click.option("--date", "day", metavar="DATE", help="When it was recorded, as in 2027-01-05 (the file's own date).")
@click.option("--keep/--no-keep", default=True, help="Keep what was learned (the usual), or only show it.")
@click.option("--remove", metavar="NAME", help='Take a recording out again: "take-1.vtt", or "take-1.vtt 2027-01-05".')
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def pace(  # noqa: PLR0913 - one argument an option
    files: tuple[Path, ...],
    folder: Path | None,
    talk: str | None,
    *,
    log: Path | None,
    log_starts: str,
    day: str | None,
    remove: str | None,
    keep: bool,
    as_json: bool,
) -> None:
    """Learn how fast you speak from timed transcripts (WebVTT, SRT, or text with [m:ss] stamps) of your own videos.

    Several recordings add up, the newest day counts most. Without FILE, it says what is kept. If one FILE cannot be used,
    nothing is kept.
    """
    span, date = _span(talk), _day(day)
    if log is not None and (len(files) != 1 or talk is not None):
        with_what = "--talk" if talk is not None else f"{len(files)} files"
        raise click.BadParameter(f"a log goes with one FILE, not with {with_what}", param_hint="--log")
    folder = folder if folder is not None else _folder_of(files)
    problems: list[Problem] = []
    kept = _Kept(folder / PACE_FILE, problems)
    records = kept.records if remove is None else _without(kept.records, remove)
    learned: list[Learned] = []
    own = own_settings(folder).say_as
    for file, name in zip(files, _names(files), strict=True):
        transcript = _read(file, problems)
        if transcript is not None and log is not None:
            transcript = kept_of(transcript, log, log_starts, problems, talk_alone=True)
        made = _learn(transcript, span, own, problems) if transcript is not None else None
        if made is not None:
            learned.append(made)
            row = made.record(name, date or _modified(file))
            records = [r for r in records if (r.file, r.date) != (row.file, row.date)] + [row]
    if has_errors(problems):
        stop_with(problems, as_json=as_json, beside=folder)
        return
    writes = (bool(learned) and keep) or remove is not None
    saved = None
    if writes:
        saved = save_back(kept.page, write_pace(records, kept.own).encode(), kept.was, folder)
        show_kept([saved])
    if as_json:
        print_json(pace_json(learned, _names(files), records, problems).model_dump(mode="json"))
        return
    for file, made in zip(files, learned, strict=True):
        _show(file, made)
    together = pace_of(records)
    say(f"pace {together.k:.2f} ({together.source_words})" + (f", kept in {saved.path}" if saved is not None else ""))
    for record in sorted(records, key=lambda r: (r.date, r.file), reverse=True):
        say(f"  {record.date}  {record.file}: {record.talk_s / record.base_s:.2f}, {record.talk_s:.0f} s of talk")
    show_problems(problems, folder)


def _span(talk: str | None) -> tuple[int, int] | None:
    if talk is None:
        return None
    first, _, last = talk.partition("-")
    start, end = read_moment(first), read_clock(last)
    if start is None or end is None or end <= start:
        raise click.BadParameter(f'"{talk}" is not a stretch of time; try 0:00-2:30', param_hint="--talk")
    return start * 1000, end * 1000


def _day(day: str | None) -> str | None:
    if day is None:
        return None
    try:
        return dt.date.fromisoformat(day).isoformat()
    except ValueError as wrong:
        raise click.BadParameter(f'"{day}" is not a day; try 2027-01-05', param_hint="--date") from wrong


def _folder_of(files: tuple[Path, ...]) -> Path:
    """Give the nearest folder above the first file that has a series, else the one we are in."""
    above = files[0].resolve().parents if files else ()
    return next((f for f in list(above)[:3] if (f / SERIES_FILE).is_file()), Path())


def _names(files: tuple[Path, ...]) -> list[str]:
    """Give the names that are kept; two files of one name are told apart by their folders."""
    names = [f.name for f in files]
    return [row_name(f"{f.resolve().parent.name}/{f.name}" if names.count(f.name) > 1 else f.name) for f in files]


def _modified(file: Path) -> str:
    return dt.datetime.fromtimestamp(file.stat().st_mtime, tz=dt.UTC).date().isoformat()


class _Kept:
    """The page as it is kept: its recordings, what the coach wrote around them, and the bytes that were read.

    A row that cannot be read is an error here, since the page will be written again and the row would be lost.
    """

    def __init__(self, page: Path, problems: list[Problem]) -> None:
        self.page = page
        self.records: list[PaceRecord] = []
        self.own = OwnWords()
        self.was: bytes | None = None
        if not page.is_symlink() and not page.exists():
            return
        text = read_text(page)
        problems += text.problems
        if text.value is not None:
            found = read_pace(text.value)
            problems += [p.model_copy(update={"level": "error"}) for p in found.problems]
            self.records, self.own = list(found.value or ()), own_words(text.value)
            self.was = page.read_bytes()


def _without(records: list[PaceRecord], name: str) -> list[PaceRecord]:
    """Take one recording out, named by its file, or by its file and day where there are several."""
    hits = [r for r in records if name in {r.file, f"{r.file} {r.date}"}]
    if len(hits) != 1:
        named = hits or records
        there = ", ".join(f'"{r.file} {r.date}"' for r in named) or "none"
        found = f'no recording is called "{name}"' if not hits else f'{len(hits)} recordings are called "{name}"'
        raise click.BadParameter(f"{found}; there are {there}", param_hint="--remove")
    return [r for r in records if r is not hits[0]]


def _read(file: Path, problems: list[Problem]) -> Transcript | None:
    text = read_text(file, anywhere=True)
    problems += text.problems
    if text.value is None:
        return None
    found = read_transcript(text.value)
    problems += found.problems
    return found.value


def _learn(
    transcript: Transcript, span: tuple[int, int] | None, own: Sequence[tuple[str, str]], problems: list[Problem]
) -> Learned | None:
    found = learn(transcript, span, own)
    problems += found.problems
    return found.value


def kept_of(
    transcript: Transcript, log: Path, log_starts: str, problems: list[Problem], *, talk_alone: bool = False
) -> Transcript | None:
    """Keep only what is said in the takes that a log file says were kept. Raises BadParameter for a time that is none."""
    begins = read_moment(log_starts)
    if begins is None:
        raise click.BadParameter(f'"{log_starts}" is no time; a time is written as in 0:12', param_hint="--log-starts")
    text = read_text(log, anywhere=True)
    problems += text.problems
    if text.value is None:
        return None
    found = kept_only(transcript, text.value, begins * 1000, talk_alone=talk_alone)
    problems += found.problems
    return found.value


def _show(file: Path, made: Learned) -> None:
    spoken = f"{made.talk_s:.0f} s of talk, about {made.words_per_min:.0f} words a minute"
    say(f"{file.name}: {made.k:.2f} ({made.low:.2f} to {made.high:.2f}), {spoken}")
    # Under three hundredths nobody hears a difference (our choice).
    way = "slower" if made.drift > 1 else "faster"
    end = (
        f"towards the end {way} by {abs(made.drift - 1) * 100:.0f} %"
        if abs(made.drift - 1) >= 0.03
        else "steady to the end"
    )
    say(f"  {made.demonstration_s:.0f} s shown or silent; {end}")
    for stretch in made.stretches:
        if stretch.kind != "talk":
            say(f"  {stretch_words(stretch)}")
