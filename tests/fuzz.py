"""The standing fuzz run: `python -m tests.fuzz --minutes 5`. Seeded, so that a failure can be had again: it prints the smallest input.

Every reader and the whole road are fed with texts that nobody would write (see `wild`). Whatever comes: no exception, nothing slower
than a bound, and what is made holds its invariants: totals, seconds, must-say, script words, the schema, the board read again from its
normal form, documents that are whole.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import math
import re
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import FrameType

import docx
import jsonschema
import pdfplumber

from briefing.board.reading import read_board
from briefing.board.totals import add_up
from briefing.outline.models import Outline
from briefing.outline.wording import read_wording
from briefing.pipeline import Briefed, brief, brief_video, check_movement_file, open_desk
from briefing.problems import Problem, Stop, has_errors, show_problem
from briefing.settings.pace_file import own_words, read_pace, write_pace
from briefing.sources.folders import built_in, demo_folder
from briefing.sources.text import Text, read_text
from briefing.speech.say import say
from briefing.speech.seconds import Pace
from briefing.take.kept import read_log
from briefing.take.pace import learn
from briefing.take.review import review
from briefing.take.transcript import read_transcript
from briefing.telling.board import write_board
from briefing.write.board_json import board_json
from briefing.write.building import documents_named, write_documents
from briefing.write.documents import Given, outline_values, script_values, tidy_markdown
from briefing.write.markdown import plain_words
from briefing.write.promised import OutlineJson, outline_json, problems_json
from briefing.write.templates import Templates, escape_markdown
from tests.board_words import words_of
from tests.wild import KINDS, text_of

# Our choice: a person waits so long for a page, in seconds of the processor, so that a machine that is shared is no failure.
BOUND_S = 2.0
DOCUMENTS_BOUND_S = 20.0
EVERY_DOCUMENT = 25
"""Of so many workouts that could be briefed, one has all its documents written."""
MOST_SHRINKING_S = 60.0


class Broken(Exception):  # noqa: N818 - it is what a run looks for
    """An invariant that does not hold: its name, and what was there instead."""

    def __init__(self, rule: str, there: object) -> None:
        self.rule = rule
        super().__init__(f"{rule}: {str(there)[:400]}")


class TooSlow(Exception):  # noqa: N818 - as above
    """Something that takes longer than the bound."""


@dataclass
class Tally:
    """What a run has seen: inputs by kind, how many were read without an error, how many had documents."""

    seen: Counter[str] = field(default_factory=Counter)
    read: Counter[str] = field(default_factory=Counter)


@dataclass(frozen=True)
class Failure:
    """An input that broke something: which one, what broke, and the smallest text that still does."""

    seed: int
    number: int
    kind: str
    what: str
    smallest: str
    where: str


def hold(rule: str, holds: bool, there: object = "") -> None:  # noqa: FBT001 - a rule and whether it holds
    """Raise Broken where a rule does not hold."""
    if not holds:
        raise Broken(rule, there)


# --- the readers ---------------------------------------------------------------------------------------------------------


def feed(kind: str, text: str, folder: Path, *, documents: bool = False) -> bool:
    """Feed a text to its reader in a folder of its own; say whether it could be read. Raises Broken, or whatever else goes wrong."""
    READERS[kind](text, folder, documents)
    return True


def _workout(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001 - as the table has it
    path = folder / "day.md"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    desk = open_desk(folder)
    try:
        made = brief(path, desk=desk)
    except Stop as stop:
        _hold_problems(stop.problems, path, must=True)
        raise
    _hold_problems(made.outline.problems, path)
    _hold_outline(made)
    _hold_board(made)
    if documents:
        _hold_documents(made, folder)


def _series(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    (folder / "day.md").write_text(
        "---\nlength: 8:00\n---\n3 rounds for time, cap 12:00\n  10 goblet squats\n", encoding="utf-8"
    )
    (folder / "series.md").write_bytes(text.encode("utf-8", "surrogatepass"))
    desk = open_desk(folder)
    _hold_problems(desk.problems, folder / "series.md")
    if has_errors(desk.problems) or desk.series is None:
        raise Stop(desk.problems)
    for video in desk.series.videos[:3]:
        with contextlib.suppress(Stop):
            _hold_seconds(brief_video(video, desk).outline)


def _movement(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    path = folder / "movements" / "tide-squat.md"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    problems = check_movement_file(path)
    _hold_problems(problems, path)
    day = folder / "day.md"
    day.write_text("3 rounds for time, cap 12:00\n  10 tide squats\n  20 push-ups\n", encoding="utf-8")
    _hold_seconds(brief(day, desk=open_desk(folder)).outline)


def _wording(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    path = folder / "templates" / "wording.md"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    _, problems = read_wording((path.parent, built_in("templates")), folder)
    _hold_problems(problems, path)
    day = folder / "day.md"
    day.write_text("3 rounds for time, cap 12:00\n  10 goblet squats\n", encoding="utf-8")
    _hold_seconds(brief(day, desk=open_desk(folder)).outline)


def _template(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    path = folder / "templates" / "script.md"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    made = _demo()
    given = Given(made.outline, made.plan.movements, Templates((path.parent, built_in("templates"))))
    try:
        given.templates.fill("script.md", script_values(given))
    except Stop as stop:
        _hold_problems(stop.problems, path, must=True)
        raise


def _transcript(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    read = _read(text, folder, "take.vtt", anywhere=True)
    found = read_transcript(read)
    _hold_problems(found.problems, folder / "take.vtt")
    if found.value is None:
        raise Stop(found.problems)
    made = _demo()
    seen = review(made.outline, made.plan.movements, found.value, ())
    _hold_problems(seen.problems, folder / "take.vtt")
    paced = learn(found.value)
    _hold_problems(paced.problems, folder / "take.vtt")
    if paced.value is not None:
        hold("pace", math.isfinite(paced.value.k) and paced.value.k > 0, paced.value.k)


def _log(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    found = read_log(_read(text, folder, "log.txt", anywhere=True))
    _hold_problems(found.problems, folder / "log.txt")
    for kept in found.value or ():
        hold("log", 0 <= kept.start_ms < kept.end_ms, kept)


def _pace(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del documents
    read = _read(text, folder, "speaking-pace.md")
    found = read_pace(read)
    _hold_problems(found.problems, folder / "speaking-pace.md")
    records = found.value or ()
    own = own_words(read)
    again = Text.of(write_pace(records, own), read.name)
    hold("pace kept", set(read_pace(again).value or ()) == set(records), again.lines)
    hold("notes kept", own_words(again) == own, again.lines)


def _saying(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001
    del folder, documents
    said = say(text, Pace(k=1.0), ())
    hold("seconds", math.isfinite(said.seconds) and said.low_s <= said.seconds <= said.high_s, said)
    hold("seconds", said.seconds >= 0, said)


def _read(text: str, folder: Path, name: str, *, anywhere: bool = False) -> Text:
    path = folder / name
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    found = read_text(path, anywhere=anywhere)
    if found.value is None:
        _hold_problems(found.problems, path, must=True)
        raise Stop(found.problems)
    return found.value


READERS: dict[str, Callable[[str, Path, bool], None]] = {
    "workout": _workout, "series": _series, "movement": _movement, "wording": _wording, "template": _template,
    "transcript": _transcript, "log": _log, "pace": _pace, "saying": _saying,
}  # fmt: skip
assert READERS.keys() == KINDS.keys()


@cache
def _demo() -> Briefed:
    return brief(demo_folder() / "breakwater.md")


# --- the invariants ------------------------------------------------------------------------------------------------------


def _hold_problems(problems: Sequence[Problem], path: Path, *, must: bool = False) -> None:
    """Every problem says something, at a place that is there, without anything that steers a terminal."""
    hold("an error is said", not must or has_errors(problems), problems)
    with contextlib.suppress(UnicodeDecodeError):
        lines = Text.of(path.read_text(encoding="utf-8"), path.name).lines
        for problem in problems:
            place = problem.place
            if place is None or place.file is None or Path(place.file).name != path.name:
                continue
            hold("place", place.line <= len(lines), (problem, len(lines)))
            hold("place", place.column <= len(lines[place.line - 1]) + 1, (problem, lines[place.line - 1][:200]))
            shown = show_problem(problem, lines)
            hold("shown", all(c.isprintable() or c == "\n" for c in shown), shown)
            hold("shown", len(shown) < 4000, shown)
            hold("message", bool(problem.message.strip()) and "Traceback" not in problem.message, problem)
    problems_json(tuple(problems)).model_dump_json()


def _hold_seconds(outline: Outline) -> None:
    hold("totals", sum(x.tenths for x in outline.lines) == outline.tenths, outline.tenths)
    start = 0
    for segment in outline.segments:
        hold("starts", segment.start_tenths == start, segment.title)
        hold("band", 0 <= segment.low_tenths <= segment.tenths <= segment.high_tenths, segment.title)
        start += segment.tenths
    for line in outline.lines:
        hold("line", bool(line.text.strip()) and line.talk_tenths >= 0, line)
    hold("must-say", not any(x.line.must for x in outline.left_out), "a line that must be said is left out")


def _hold_outline(made: Briefed) -> None:
    outline = made.outline
    _hold_seconds(outline)
    short = any(p.code == "must-say-too-long" for p in outline.problems)
    if outline.length is not None and not short:
        hold("promise", outline.tenths <= outline.length.seconds * 10, (outline.tenths, outline.length))
    said = {x.id for x in outline.lines}
    hold("needs", all(x.needs is None or x.needs in said for x in outline.lines), "a line hangs in the air")
    found = outline_json(outline, made.clock).model_dump(mode="json")
    _validator().validate(json.loads(json.dumps(found)))
    hold("planned_s", round(sum(x["seconds"] for s in found["segments"] for x in s["lines"]), 1) == found["planned_s"])
    for total in add_up(made.plan.workout):
        hold("board totals", 0 < total.quantity < 10**7, total)
        hold("per side", total.per_side is None or 0 < total.per_side <= total.quantity, total)
    given = Given(outline, made.plan.movements, Templates((built_in("templates"),)))
    script = tidy_markdown(given.templates.fill("script.md", script_values(given))).split("## Your notes")[0]
    spoken = [
        p
        for p in script.split("\n\n")[2:]
        if p.strip() and not p.startswith(("## ", "*Show", "*Then", "*Teach it in your own words"))
    ]
    words = plain_words(" ".join(escape_markdown(x.text) for x in outline.lines))
    hold(
        "script words", plain_words("\n\n".join(spoken)) == words, _difference(plain_words("\n\n".join(spoken)), words)
    )
    given.templates.fill("outline.md", outline_values(given))


def _hold_board(made: Briefed) -> None:
    """The board, written in the normal form and read again, is the same workout."""
    plan = made.plan
    normal = write_board(plan.workout, plan.named)
    if plan.reading is not None:
        board_json(plan.workout, normal, plan.reading, plan.named, plan.problems).model_dump_json()
    again = read_board(Text.of(normal, "again.md"), 1, plan.desk.library, plan.workout.title)
    hold(
        "board can be read again", again.value is not None and not has_errors(again.problems), (normal, again.problems)
    )
    hold("board conserved", words_of(plan.workout, ()) == words_of(again.value, ()), normal)


def _hold_documents(made: Briefed, folder: Path) -> None:
    given = Given(made.outline, made.plan.movements, Templates((built_in("templates"),)))
    for path, content in write_documents(given, documents_named((), "briefing"), folder).items():
        hold("document", len(content) > 40, path.name)
        match path.suffix:
            case ".docx":
                docx.Document(io.BytesIO(content))
            case ".pdf":
                with pdfplumber.open(io.BytesIO(content)) as pages:
                    hold("document", len(pages.pages) >= 1, path.name)
            case ".html":
                page = content.decode()
                hold(
                    "document",
                    page.rstrip().endswith("</html>") and page.count("<main") == page.count("</main>"),
                    path.name,
                )
            case _:
                hold("document", content.decode().endswith("\n"), path.name)


@cache
def _validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(OutlineJson.model_json_schema(mode="serialization"))


def _difference(first: list[str], second: list[str]) -> str:
    at = next((i for i, (a, b) in enumerate(zip(first, second, strict=False)) if a != b), min(len(first), len(second)))
    return f"{first[max(0, at - 3) : at + 4]} / {second[max(0, at - 3) : at + 4]}"


# --- running, and making small -------------------------------------------------------------------------------------------


@contextlib.contextmanager
def bounded(bound_s: float | None) -> Iterator[None]:
    """Raise TooSlow after so many seconds of the processor; None has no bound."""
    if bound_s is None or not hasattr(signal, "setitimer"):
        yield
        return

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TooSlow(f"more than {bound_s:g} s")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, bound_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def broken_by(
    kind: str, text: str, *, documents: bool, bound_s: float | None, tally: Tally | None = None
) -> tuple[str, str] | None:
    """Feed a text; give what it breaks, as a name and where, or None."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            with bounded(DOCUMENTS_BOUND_S if documents and bound_s else bound_s):
                feed(kind, text, Path(folder), documents=documents)
        except Stop:
            return None
        except Broken as broken:
            return broken.rule, str(broken)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
            frames = [f for f in traceback.extract_tb(error.__traceback__) if "/briefing/" in f.filename]
            # What is too slow stops anywhere: its file is enough.
            file = Path(frames[-1].filename).name if frames else ""
            place = file if isinstance(error, TooSlow) or not frames else f"{file}:{frames[-1].name}"
            return f"{type(error).__name__} in {place}", "".join(traceback.format_exception(error))[-3000:]
    if tally is not None:
        tally.read[kind] += 1
    return None


def smallest(kind: str, text: str, what: str, *, documents: bool, bound_s: float | None) -> str:
    """Take lines, then characters, out of a text while it still breaks the same; for a minute at most."""
    until = time.monotonic() + MOST_SHRINKING_S

    def breaks(tried: str) -> bool:
        found = broken_by(kind, tried, documents=documents, bound_s=bound_s)
        return found is not None and found[0] == what

    for cut in ("\n", ""):
        parts = text.split(cut) if cut else list(text)
        size = max(1, len(parts) // 2)
        while size and time.monotonic() < until:
            at, smaller = 0, False
            while at < len(parts) and time.monotonic() < until:
                tried = parts[:at] + parts[at + size :]
                if tried and breaks(cut.join(tried)):
                    parts, smaller = tried, True
                else:
                    at += size
            size = size if smaller and size == 1 else size // 2
        text = cut.join(parts)
    return text


def run(
    seed: int,
    numbers: Iterator[int],
    *,
    bound_s: float | None,
    tally: Tally,
    most: int = 1,
    without: Sequence[str] = (),
    shrink: bool = True,
    kinds: Sequence[str] = (),
) -> list[Failure]:
    """Feed one input after the other until the numbers end, or `most` different failures are found; `without` names what is known."""
    failures: dict[str, Failure] = {}
    for number in numbers:
        kind, text = text_of(seed, number)
        if kinds and kind not in kinds:
            continue
        tally.seen[kind] += 1
        documents = kind == "workout" and number % EVERY_DOCUMENT == 0
        found = broken_by(kind, text, documents=documents, bound_s=bound_s, tally=tally)
        if found is None or found[0] in failures or found[0] in without:
            continue
        what, where = found
        small = smallest(kind, text, what, documents=documents, bound_s=bound_s) if shrink else text
        failures[what] = Failure(seed, number, kind, what, small, where)
        if len(failures) >= most:
            break
    return list(failures.values())


def main(words: Sequence[str] | None = None) -> int:
    """Run for some minutes, or over some inputs; print each failure with its smallest input; exit 1 if there was one."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--minutes", type=float, help="how long to run (2, where no --count is given)")
    parser.add_argument("--count", type=int, help="how many inputs")
    parser.add_argument("--seed", type=int, default=1, help="which inputs: the same seed gives the same ones")
    parser.add_argument("--first", type=int, default=0, help="the number of the first input")
    parser.add_argument("--most", type=int, default=5, help="stop after so many different failures")
    parser.add_argument("--bound", type=float, default=BOUND_S, help="seconds of the processor for one input")
    parser.add_argument(
        "--without", action="append", default=[], help="a failure that is known, by its name; it is passed over"
    )
    parser.add_argument("--kind", action="append", default=[], choices=[*KINDS], help="only inputs of this kind")
    asked = parser.parse_args(words)
    minutes = asked.minutes if asked.minutes is not None else None if asked.count is not None else 2.0
    until = time.monotonic() + minutes * 60 if minutes is not None else math.inf

    def numbers() -> Iterator[int]:
        number = asked.first
        while time.monotonic() < until and (asked.count is None or number < asked.first + asked.count):
            yield number
            number += 1

    tally = Tally()
    failures = run(
        asked.seed,
        numbers(),
        bound_s=asked.bound,
        tally=tally,
        most=asked.most,
        without=asked.without,
        kinds=asked.kind,
    )
    for one in failures:
        print(f"\n{one.what}\n  seed {one.seed}, input {one.number}, a {one.kind}:\n")
        print("".join(f"    {line!r}\n" for line in one.smallest.split("\n")))
        print("".join(f"  {line}\n" for line in re.sub(r"\n+", "\n", one.where).split("\n")[-12:]))
    count = ", ".join(f"{kind} {tally.read[kind]} of {seen} read" for kind, seen in sorted(tally.seen.items()))
    print(f"{sum(tally.seen.values())} inputs, {len(failures)} different failures ({count})")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
