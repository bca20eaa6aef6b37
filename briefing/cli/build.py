"""`briefing build`: the documents, written whole or not at all."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.outline import length_option
from briefing.cli.showing import say, show_kept, show_problems
from briefing.clock.simulate import simulate
from briefing.pipeline import SERIES_FILE, Briefed, Desk, brief, brief_video, coach_folder, inputs_of, open_desk
from briefing.problems import Place, Problem, Stop, has_errors
from briefing.series.changes import RECORD as INPUTS
from briefing.series.changes import read_inputs, why_again, write_inputs
from briefing.series.recorded import (
    freeze,
    kept_words,
    recorded_file,
    said_file,
    since,
    unknown,
    write_recorded,
)
from briefing.settings.models import Length, Video, Words
from briefing.settings.pace_file import PACE_FILE
from briefing.sources.folders import refused_pages, shelves
from briefing.sources.guard import is_ordinary, pages_in
from briefing.units import write_clock
from briefing.write.building import documents_named, write_documents
from briefing.write.documents import DOCUMENTS, Document, Given, card_problems
from briefing.write.index import IndexRow, index_html
from briefing.write.saving import Saved, keep_state, read_record, room_of, save_all
from briefing.write.templates import Templates

BUILT = "built"


@click.command(cls=Command, example="briefing build my-videos --only cards --only handout")
@click.argument(
    "path",
    cls=Named,
    what="A workout, or a folder: all of its videos that have changed.",
    type=click.Path(path_type=Path),
)
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    help="Where the documents go (built/ beside the workouts).",
)
@click.option("--only", multiple=True, type=click.Choice([d.key for d in DOCUMENTS]), help="Only these documents.")
@click.option("--length", "length", metavar="TIME", help='The promised length, as in "9:00" or "about 9:00".')
@click.option("--short", is_flag=True, help="The 90-second version, for people who have seen the briefing before.")
@click.option("--all", "everything", is_flag=True, help="Build everything anew, also what has not changed.")
def build(
    path: Path, into: Path | None, only: tuple[str, ...], length: str | None, *, short: bool, everything: bool
) -> None:
    """Write the documents of one workout, or of all videos of a folder that have changed since the last time.

    A document that you have edited is kept; the new one is written beside it. A workout with errors is left as it is, the
    others are built.
    """
    promised = length_option(length)
    folder = path if path.is_dir() else coach_folder(path)
    wish = Wish(only, promised, short=short, everything=everything)
    if not build_all(path, folder, into or folder / BUILT, wish):
        raise click.exceptions.Exit(1)


@dataclass(frozen=True)
class Wish:
    """What is asked for: only some documents, another length, the short version, everything anew."""

    only: tuple[str, ...] = ()
    length: Length | None = None
    short: bool = False
    everything: bool = False


def build_all(path: Path, folder: Path, into: Path, wish: Wish) -> bool:
    """Build a workout, or all videos of a folder that have changed; say whether all of them could be built."""
    desk = open_desk(folder)
    listed = path.is_dir() and desk.series is not None and bool(desk.series.videos)
    show_problems((*desk.problems, *(refused_pages(path) if path.is_dir() and not listed else ())), folder)
    if has_errors(desk.problems):
        return False
    videos = [v for v in videos_of(path, desk) if not wish.short or v.kind == "briefing"]
    if not videos:
        say(f'there is no workout in "{path}"; a workout is a file such as slack-water.md', err=True)
        return False
    job = _Job(desk, folder, into, wish, Templates(shelves(folder, "templates")), read_inputs(folder))
    for video in videos:
        job.build(video)
    try:
        job.finish(index=path.is_dir() and not wish.only)
    except Stop as stop:
        show_problems(stop.problems, folder)
        return False
    return not job.failed


@dataclass
class _Job:
    """One run of the command: builds video by video, keeps what each was built from, says what was kept."""

    desk: Desk
    folder: Path
    into: Path
    wish: Wish
    templates: Templates
    inputs: dict[str, dict[str, str]]
    failed: bool = False
    kept: list[Saved] = field(default_factory=list)
    rows: list[IndexRow] = field(default_factory=list)

    def build(self, video: Video) -> None:
        """Build one video if something that goes into it has changed; what is wrong with one leaves the others alone."""
        name = f"{video.key}-short" if self.wish.short else video.key
        try:
            self._build(video, name)
        except Stop as stop:
            self.failed = True
            show_problems(stop.problems, self.folder)
            say(f"{name}: not built", err=True)
            row = IndexRow.failed(name, video, self.inputs.get(name, {}), stop.problems)
            self.rows.append(row.model_copy(update={"built": (self.into / name).is_dir()}))

    def _build(self, video: Video, name: str) -> None:
        self._hold_name(video, name)
        documents = documents_named(self.wish.only, video.kind)
        missing = [d for d in documents for form in d.forms if not (self.into / name / f"{d.key}.{form}").is_file()]
        there = any((self.into / name / f"{d.key}.{form}").exists() for d in documents for form in d.forms)
        if video.recorded and (there or is_ordinary(self.folder / recorded_file(video.key))):
            self._hold(video, name)
            return
        now = inputs_of(video, self.desk, f"{self.wish.length} {self.wish.only} {self.wish.short} {self._place()}")
        why = "everything is asked for" if self.wish.everything else why_again(self.inputs.get(name), now)
        if why is None and not missing:
            self.rows.append(IndexRow.again(name, video, self.inputs[name]))
            say(f"{name}: nothing has changed")
            return
        briefed = self._brief(video)
        saved = self._save(briefed, name, documents)
        outline = briefed.outline
        if not self.wish.short:
            words = write_recorded(freeze(outline, briefed.plan.taught_in.values()))
            keep_state((recorded_file if video.recorded else said_file)(video.key), words, self.folder)
        self.kept += [s for s in saved if s.what == "beside"]
        cards = card_problems(outline) if any(d.key == "cards" for d in documents) else ()
        show_problems(_without((*outline.problems, *cards), self.desk.problems), self.folder)
        row = IndexRow.of(name, video, outline)
        self.rows.append(row)
        self.inputs[name] = now | row.remembered()
        say(_summary(name, briefed, saved, self.wish.length) + f" · {why or 'a document was missing'}")

    def _place(self) -> str:
        """Name where the documents go, the same however that was spelled."""
        into, folder = self.into.resolve(), self.folder.resolve()
        return into.relative_to(folder).as_posix() if into.is_relative_to(folder) else into.as_posix()

    def _hold_name(self, video: Video, name: str) -> None:
        """Raise Stop where another workout's documents stand under the name of this video's."""
        other = self.folder / f"{name}.md"
        if name != video.stem and is_ordinary(other):
            message = f'the documents of "{name}" would stand where those of the workout "{name}.md" stand'
            suggestion = f'another name for the file "{name}.md"'
            raise Stop(
                [Problem(level="error", code="name-taken", message=message, suggestion=suggestion, place=video.place)]
            )

    def _hold(self, video: Video, name: str) -> None:
        """Leave a recorded video's documents as they are, and hold what it says against what would be said now."""
        say(f"{name}: recorded {video.recorded}, left as it is")
        frozen = kept_words(self.folder, video.key)
        if frozen is None:
            show_problems([unknown(video.key, video.place)], self.folder)
            self.rows.append(IndexRow.again(name, video, self.inputs.get(name, {})).recorded())
            return
        if not is_ordinary(self.folder / recorded_file(video.key)):
            # It was filmed from what was built last, whatever has changed since.
            keep_state(recorded_file(video.key), write_recorded(frozen), self.folder)
        briefed = self._brief(video)
        now = freeze(briefed.outline, briefed.plan.taught_in.values())
        show_problems(since(frozen, now, [f.title for f in self.desk.facts], video.place), self.folder)
        self.rows.append(IndexRow.of(name, video, briefed.outline).recorded())

    def _brief(self, video: Video) -> Briefed:
        if video.kind == "briefing":
            path = (self.desk.folder or self.folder) / video.file
            return brief(path, length=self.wish.length, desk=self.desk, short=self.wish.short)
        return brief_video(video, self.desk)

    def _save(self, briefed: Briefed, name: str, documents: tuple[Document, ...]) -> tuple[Saved, ...]:
        plan = briefed.plan
        called = briefed.outline.kind == "workout"
        steady, easy = (
            simulate(plan.workout, plan.movements, person, effort=plan.effort) if called else None
            for person in ("steady", "easy")
        )
        given = Given(briefed.outline, plan.movements, self.templates, steady, easy)
        return save_all(write_documents(given, documents, self.into / name), self.folder, self._room(), adopt=True)

    def _room(self) -> Path:
        return room_of(self.into, self.folder)

    def finish(self, *, index: bool) -> None:
        """Write the record of inputs and, for a whole folder, the index page; name what was kept."""
        there = any(row.built for row in self.rows)
        if there:
            keep_state(INPUTS, write_inputs(self.inputs), self.folder)
        if index and there:
            series = self.desk.series
            page = index_html(self.rows, series.title if series else None, self.templates)
            saved = save_all({self.into / "index.html": page}, self.folder, self._room(), adopt=True)
            self.kept += [s for s in saved if s.what == "beside"]
        show_kept(self.kept)


def videos_of(path: Path, desk: Desk) -> list[Video]:
    """Give the videos of a path: the one briefing of a file, those of the series, or a briefing for each workout of a folder.

    A file that the series has a briefing of is that video, with its number and whether it is recorded.
    """
    listed = desk.series.videos if desk.series is not None else ()
    if path.is_dir() and listed:
        return list(listed)
    videos = [_video_of(p, desk) for p in workouts_of(path, desk)]
    return [next((v for v in listed if v.key == video.key), video) for video in videos]


def _video_of(path: Path, desk: Desk) -> Video:
    folder, nowhere = desk.folder or path.parent, Place(file=str(path), line=1)
    file = path.relative_to(folder) if path.is_relative_to(folder) else path
    # A file without an ending is that file, and no other of its name.
    return Video(workout=Words(text=file.as_posix(), place=nowhere), place=nowhere)


def workouts_of(path: Path, desk: Desk) -> list[Path]:
    """Give the workout files of a path: itself, the videos of the series, or every other Markdown file of the folder."""
    if not path.is_dir():
        return [path]
    if desk.series is not None and desk.series.videos:
        return [path / v.file for v in desk.series.videos if v.kind == "briefing"]
    ours = read_record(path)
    others = {SERIES_FILE, PACE_FILE, "readme.md"}
    return [p for p in pages_in(path) if p.name.lower() not in others and p.name not in ours]


def _without(problems: tuple[Problem, ...], shown: tuple[Problem, ...]) -> list[Problem]:
    return [p for p in problems if p not in shown]


def _summary(name: str, briefed: Briefed, saved: tuple[Saved, ...], promised: Length | None) -> str:
    outline = briefed.outline
    if outline.kind == "workout":
        new = sum(s.what != "same" for s in saved)
        return f"{name}: call sheet · {new} of {len(saved)} documents new · {saved[0].path.parent if saved else ''}"
    target = promised or outline.length
    against = f" of {write_clock(target.seconds)}" if target else ""
    written = sum(s.what != "same" for s in saved)
    where = saved[0].path.parent if saved else ""
    return f"{name}: {write_clock(outline.tenths / 10)}{against} · {written} of {len(saved)} documents new · {where}"
