"""Reading a board: lines to tokens, tokens to items, items to parts, so that no character is lost in silence."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from briefing.board.assembling import Assembler
from briefing.board.dates import date_and_title, date_on
from briefing.board.drafts import PartDraft
from briefing.board.echo import ReadLine, ReadPiece
from briefing.board.models import Part, Workout
from briefing.board.naming import Naming
from briefing.board.referring import CannotRead, refers_to, with_changes
from briefing.board.state import LineDraft
from briefing.board.tokens import LONGEST_LINE
from briefing.board.working import Worker
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.library.names import slug_of
from briefing.problems import Found, Problem, has_errors, sort_problems
from briefing.sources.text import Text

_NOTES = re.compile(r"^##\s+notes\s*$", re.IGNORECASE)
_RULE = re.compile(r"\s*[-=_*~]{3,}\s*")
_MOST_LINES = 400
_NAMINGS: WeakKeyDictionary[Library, Naming] = WeakKeyDictionary()


@dataclass(frozen=True)
class BoardReading:
    """A board as it was read: the workout (None where an error leaves nothing), the echo, all problems, a title and a date.

    `lines` has every line that is not blank, `title` and `date` what the board itself says of them, `carried` the movements that no
    file has.
    """

    workout: Workout | None
    lines: tuple[ReadLine, ...]
    problems: tuple[Problem, ...]
    title: str | None = None
    date: str | None = None
    carried: tuple[Movement, ...] = ()


def read_board(
    text: Text,
    first_line: int,
    library: Library,
    title: str,
    kit: frozenset[str] | None = None,
    other: Callable[[str], Workout | None] | None = None,
) -> Found[Workout]:
    """Read the board that begins at `first_line` of a text; what stands below `## Notes` is the coach's notes.

    Gives the workout, or None where an error leaves nothing to work with, and all problems, each with its place: errors for
    what cannot be used, warnings for what was read one way and could be read another, notes for how something was read.
    `kit` has the words of the kit at hand (None: not listed), by which a bare "deadlift" is one with dumbbells or with a bar.
    `other` gives the workout of another file by its name, for a board that says `as wk1, +1 round`.
    """
    reading = read_lines(text, first_line, library, title, kit, other)
    return Found(reading.workout, reading.problems)


def read_lines(
    text: Text,
    first_line: int,
    library: Library,
    title: str,
    kit: frozenset[str] | None = None,
    other: Callable[[str], Workout | None] | None = None,
) -> BoardReading:
    """Read a board as `read_board` does, with the echo of each line beside it."""
    worker = Worker(text, library, kit)
    board, notes, date, title_said = _split(text, first_line, worker)
    dashed = [(n, line) for n, line, _ in board if re.match(r"\s*-\d", line)]
    if len(dashed) == 1:
        number, line = dashed[0]
        at = line.index("-")
        worker.ask(
            "number-negative",
            f'"{line.strip()[:40]}" was read without its dash, as one of a list',
            None,
            text.place(number, at + 1, at + 2),
        )
    elsewhere = _elsewhere(board, other, worker, text)
    assembler = Assembler(text, worker, naming_of(library))
    assembler.read([row for row in board if row[0] not in elsewhere.lines])
    parts = [(draft, part) for draft in assembler.done if (part := assembler.shaper.part(draft)) is not None]
    parts = _rests_between(parts)
    main = (*elsewhere.parts, *(p for d, p in parts if d.section == "main"))
    problems = worker.problems
    everything = [p for _, p in parts] + list(elsewhere.parts)
    if not everything and not has_errors(problems):
        place = text.place(min(first_line, len(text.lines)))
        worker.error("board-empty", "there is no work on this board: no movement stands here", None, place)
    workout = None
    if everything:
        workout = Workout(
            title=title,
            parts=main,
            warm_up=tuple(p for d, p in parts if d.section == "warm-up"),
            cool_down=tuple(p for d, p in parts if d.section == "cool-down"),
            carried=_carried(worker, everything),
            notes="\n".join(notes).strip(),
            file=text.name,
        )
        if not main and not has_errors(problems):
            worker.error(
                "part-empty",
                "there is a warm-up or a cool-down here, and no workout",
                None,
                text.place(min(first_line, len(text.lines))),
            )
    lines = tuple(_echo(line, assembler) for line in assembler.lines)
    return BoardReading(
        workout,
        lines,
        sort_problems(problems),
        assembler.title or title_said or None,
        date,
        tuple(worker.carried.values()),
    )


def naming_of(library: Library) -> Naming:
    """Give the names of a library, made ready once for each library."""
    if library not in _NAMINGS:
        _NAMINGS[library] = Naming(library)
    return _NAMINGS[library]


def _split(
    text: Text, first_line: int, worker: Worker
) -> tuple[list[tuple[int, str, bool]], list[str], str | None, str]:
    """Part the board's lines from the notes; a date on a line of its own is taken out, with a title behind it."""
    board: list[tuple[int, str, bool]] = []
    notes: list[str] = []
    date, title, in_notes, blank = None, "", False, False
    for number in range(first_line, len(text.lines) + 1):
        line = text.lines[number - 1]
        if not in_notes and _NOTES.match(line):
            in_notes = True
        elif in_notes:
            notes.append(line)
        elif not line.strip():
            blank = bool(board)
        elif _RULE.fullmatch(line):
            blank = True
        elif number - first_line > _MOST_LINES:
            worker.error(
                "board-too-long",
                f"a board has at most {_MOST_LINES} lines",
                "a `## Notes` heading before your notes",
                text.place(number),
            )
            break
        elif len(line) > LONGEST_LINE:
            worker.error(
                "line-too-long",
                f"a line of a board has at most {LONGEST_LINE} characters, and this one has {len(line):,}",
                "several lines",
                text.place(number, 1, 60),
            )
        elif date is None and (found := date_on(line)) is not None:
            date = found
        elif date is None and not board and (both := date_and_title(line)) is not None:
            date, title = both
        else:
            board.append((number, line, blank))
            blank = False
    return board, notes, date, title


@dataclass(frozen=True)
class _Elsewhere:
    parts: tuple[Part, ...]
    lines: frozenset[int]


def _elsewhere(
    board: list[tuple[int, str, bool]], other: Callable[[str], Workout | None] | None, worker: Worker, text: Text
) -> _Elsewhere:
    """Read `as wk1, +1 round`: the parts of another board of this folder, with the changes worked in."""
    parts: list[Part] = []
    lines = set()
    for number, line, _ in board:
        found = refers_to(line.strip())
        if found is None:
            continue
        lines.add(number)
        name, changes = found
        workout = other(name) if other is not None else None
        if workout is None:
            words = line.strip()
            message = f'"{words}" speaks of another board, and none called "{name}" can be read beside this one'
            worker.error(
                "refers-elsewhere",
                message,
                f"{slug_of(name)}.md in this folder, or the whole workout written out",
                text.place(number),
            )
            continue
        try:
            parts += with_changes(workout, changes)
        except CannotRead as stop:
            at = line.find(stop.at)
            place = text.place(number, at + 1, at + 1 + len(stop.at)) if at >= 0 else text.place(number)
            worker.error(stop.code, stop.message, stop.suggestion, place)
        worker.carried.update({m.slug: m for m in workout.carried})
    return _Elsewhere(tuple(parts), frozenset(lines))


def _rests_between(parts: list[tuple[PartDraft, Part]]) -> list[tuple[PartDraft, Part]]:
    """A rest "between parts" that stands once holds for all of them."""
    said = next((d.rest_after_s for d, _ in parts if d.rest_parts), 0)
    if not said:
        return parts
    out = []
    for at, (draft, part) in enumerate(parts):
        last = at == len(parts) - 1
        rest = 0 if last else part.rest_after_s or said
        out.append((draft, Part(**{**dict(part), "rest_after_s": rest})))
    return out


def _carried(worker: Worker, parts: list[Part]) -> tuple[Movement, ...]:
    works = [w for p in parts for w in p.works] + [w for p in parts for i in p.interrupts for w in i.works]
    slugs = dict.fromkeys(s for w in works for s in (w.movement, *(o.work.movement for o in w.options)))
    return tuple(worker.carried[s] for s in slugs if s in worker.carried)


def _echo(line: LineDraft, assembler: Assembler) -> ReadLine:
    pieces = tuple(
        ReadPiece(
            start=p.start,
            end=p.end,
            written=line.text[p.start : p.end].strip(),
            work=assembler.worker.made.get(id(p.work)) if p.work is not None else None,
            told=p.told,
            remark=p.kind == "remark",
            label=p.kind in {"label", "or"},
            behind=p.kind == "open",
            asked=p.asked,
        )
        for p in line.pieces
        if p.kind not in _SILENT and not (p.kind == "open" and p.told is None)
    )
    return ReadLine(line.number, line.text, pieces)


# What only joins or fills: it stands in no echo.
_SILENT = frozenset({"joiner", "close", "filler"})
