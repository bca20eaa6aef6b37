"""`briefing review`: the take held against the plan."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.pace import kept_of
from briefing.cli.showing import print_json, say, show_kept, show_problems, stop_with
from briefing.clock.scaling import smaller_workouts
from briefing.outline.models import Outline
from briefing.pipeline import Briefed, brief
from briefing.problems import Problem, Stop, has_errors
from briefing.series.recorded import kept_words
from briefing.sources.folders import shelves
from briefing.sources.text import read_text
from briefing.take.frozen import as_recorded
from briefing.take.kept import CUT_MS
from briefing.take.pace import learn
from briefing.take.page import captions_put_right, chapters_of_take, description_of_take, review_html, review_markdown
from briefing.take.promised import review_json
from briefing.take.review import Review
from briefing.take.review import review as review_take
from briefing.take.transcript import Transcript, read_transcript
from briefing.write.saving import room_of, save_all
from briefing.write.templates import Templates


@click.command(cls=Command, example="briefing review take-1.vtt take-2.vtt slack-water.md --into review")
@click.argument(
    "takes",
    cls=Named,
    what="Captions of what was filmed, one file for each stretch, in order.",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path),
)
@click.argument("file", cls=Named, what="The workout that was filmed.", type=click.Path(path_type=Path))
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    help="Write the review there (review.html, review.md, description.txt, chapters.vtt).",
)
@click.option(
    "--log",
    type=click.Path(path_type=Path),
    help="The log of the cards on screen: only the takes that were kept count.",
)
@click.option("--log-starts", default="0:00", metavar="TIME", help="Where in the recording the log's 0:00 is.")
@click.option("--names", is_flag=True, help="With --into: write captions.vtt with the listed names put right.")
@click.option("--json", "as_json", is_flag=True, help="Print the review as JSON.")
def review(  # noqa: PLR0913 - click gives each option as an argument
    takes: tuple[Path, ...],
    file: Path,
    into: Path | None,
    log: Path | None,
    log_starts: str,
    *,
    names: bool,
    as_json: bool,
) -> None:
    """Hold one or more TAKES (captions of what was filmed, one behind the other) against the outline of FILE."""
    problems: list[Problem] = []
    transcript = _together(takes, problems)
    if log is not None and transcript is not None:
        transcript = kept_of(transcript, log, log_starts, problems)
    briefed: Briefed | None = None
    try:
        briefed = brief(file)
    except Stop as stop:
        problems += stop.problems
    if transcript is None or briefed is None or has_errors(problems):
        stop_with(problems, as_json=as_json, beside=file.parent)
        return
    plan = briefed.plan
    outline, against = _outline_of(briefed, file)
    # The lighter version may be named in the take: its numbers are no slips.
    versions = smaller_workouts(plan.workout, plan.movements, effort=plan.effort)
    found = review_take(outline, plan.movements, transcript, versions)
    problems += found.problems
    if found.value is None:
        stop_with(problems, as_json=as_json, beside=file.parent)
        return
    made = found.value.model_copy(update={"against": against})
    if into is not None:
        try:
            _write(into, briefed, outline, made, transcript if names else None)
        except Stop as stop:
            stop_with(stop.problems, as_json=as_json, beside=file.parent)
            return
    if as_json:
        print_json(review_json(made, problems).model_dump(mode="json"))
        return
    say(review_markdown(made))
    pace = learn(transcript)
    if pace.value is not None:
        say(
            f"Speaking pace of this take: {pace.value.k:.2f}. To keep it: briefing pace {' '.join(str(t) for t in takes)}"
        )
    show_problems([p for p in problems if p.level != "note"], file.parent)


def _write(into: Path, briefed: Briefed, outline: Outline, made: Review, transcript: Transcript | None) -> None:
    """Write the review's pages; what a person wrote or edited under one of their names stays."""
    folder = briefed.plan.desk.folder or into
    templates = Templates(shelves(briefed.plan.desk.folder, "templates"))
    pages = {
        "review.md": review_markdown(made).encode(),
        "review.html": review_html(made, templates),
        "description.txt": description_of_take(made, outline, briefed.plan.movements, templates).encode(),
        "chapters.vtt": chapters_of_take(made).encode(),
    }
    if transcript is not None:
        pages["captions.vtt"] = captions_put_right(transcript, made.misheard).encode()
    room = room_of(into, folder)
    show_kept(save_all({into / name: page for name, page in pages.items()}, room, room))


def _outline_of(briefed: Briefed, file: Path) -> tuple[Outline, str]:
    """Give the outline that a take is held against, and which one it is where that is not the plan of now."""
    desk = briefed.plan.desk
    videos = desk.series.videos if desk.series is not None else ()
    stem = desk.stem(file)
    video = next((v for v in videos if v.kind == "briefing" and v.stem == stem and v.recorded), None)
    if video is None or desk.folder is None:
        return briefed.outline, ""
    kept = kept_words(desk.folder, video.key)
    if kept is None:
        return briefed.outline, f"Recorded {video.recorded}, and not built since: held against the plan of now."
    return as_recorded(briefed.outline, kept), f"Held against what was planned when it was recorded, {video.recorded}."


def _together(takes: tuple[Path, ...], problems: list[Problem]) -> Transcript | None:
    """Read all takes and put them one behind the other, each from where the one before ended."""
    cues = []
    at = 0
    for take in takes:
        text = read_text(take, anywhere=True)
        problems += text.problems
        found = read_transcript(text.value) if text.value is not None else None
        if found is None:
            continue
        problems += found.problems
        if found.value is not None:
            cues += [
                c.model_copy(update={"start_ms": c.start_ms + at, "end_ms": c.end_ms + at}) for c in found.value.cues
            ]
            at = cues[-1].end_ms + CUT_MS
    return Transcript(file=str(takes[0]), cues=tuple(cues)) if cues else None
