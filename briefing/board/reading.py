"""Reading a board: its lines, one by one, through the table of forms, into a workout."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from rapidfuzz import fuzz, process

from briefing.board.amounts import in_figures
from briefing.board.forms import (
    AFTER_EACH,
    CLIMB_WORK,
    FORMS,
    INTERRUPT,
    INTERRUPT_LOOSE,
    NUMBERS_THEN_WORK,
    OWN_NUMBERS,
    PART_AND_LINE,
    REST_LINE,
    SECTION,
    SETS_OF,
    SPAN,
    STATION,
    TEAM_AND_LINE,
    TURNED,
    CannotRead,
    Form,
    PartDraft,
    T,
    numbers_of,
    seconds,
)
from briefing.board.lines import LineReader
from briefing.board.models import (
    Amount,
    At,
    Cycle,
    Every,
    Interrupt,
    OnBreak,
    Part,
    Rest,
    Station,
    Windows,
    Work,
    Workout,
)
from briefing.board.referring import refers_to, with_changes
from briefing.library.finding import Library
from briefing.library.names import slug_of
from briefing.problems import Found, Place, Problem, has_errors
from briefing.sources.text import Text
from briefing.units import write_clock

_NOTES = re.compile(r"^##\s+notes\s*$", re.IGNORECASE)
_OPTION = re.compile(r"^(?P<lead>\s*(?:[-*•]\s+)?or:?\s+)(?P<words>\S.*)$", re.IGNORECASE)
_BULLET = re.compile(r"^\s*(?:[-*•·]\s+|#+\s+)?")
_HEADISH = re.compile(
    r"^\s*(?:for\b|cap\b|time cap|amrap\b|every\b|emom|rest\b|interval|plan\b|any order|score\b|build\b|max reps|\d+\s*(?:rounds?|rds?)\b)",
    re.IGNORECASE,
)
_MOST_LINES = 400
# Our choice: nobody does one more each minute for longer than an hour.
MOST_MINUTES = 60


def read_board(
    text: Text,
    first_line: int,
    library: Library,
    title: str,
    kit: frozenset[str] | None = None,
    other: Callable[[str], Workout | None] | None = None,
) -> Found[Workout]:
    """Read the board that begins at `first_line` of a text; what stands below `## Notes` is the coach's notes.

    Gives the workout, or None where an error leaves nothing to work with. Problems: one for each mistake, each with its
    place; a line that cannot be read is an error (`line-unread`), and reading goes on with the next one. `kit` has the words
    of the kit at hand (None: not listed), by which a bare "deadlift" is one with dumbbells or with a bar. `other`
    gives the workout of another file by its name, for a board that says `as wk1, +1 round`.
    """
    reading = _Board(text, library, kit, other)
    notes: list[str] = []
    in_notes = False
    for number in range(first_line, len(text.lines) + 1):
        line = text.lines[number - 1]
        if not in_notes and _NOTES.match(line):
            in_notes = True
        elif in_notes:
            notes.append(line)
        elif number - first_line > _MOST_LINES:
            reading.reader.error(
                "board-too-long",
                f"a board has at most {_MOST_LINES} lines",
                "a `## Notes` heading before your notes",
                text.place(number),
            )
            break
        elif line.strip() and not re.fullmatch(r"\s*[-=_*]{3,}\s*", line):
            reading.line(number, line)
    parts = reading.finish()
    problems = tuple(reading.reader.problems)
    if not parts and not has_errors(problems):
        place = text.place(min(first_line, len(text.lines)))
        problems = (
            *problems,
            Problem(level="error", code="board-empty", message="there is no work on this board",
                    suggestion="a line such as `5 rounds for time`, and below it `20 goblet squats`", place=place),
        )  # fmt: skip
    if not parts:
        return Found(None, problems)
    made = Workout(title=title, parts=parts, notes="\n".join(notes).strip(), file=text.name)
    return Found(made, problems)


# Below `0:00-6:00` the form alone: its time is that of the stretch.
_BARE_MOST = re.compile(r"\s*(?:amrap|as many rounds(?: and reps)?(?: as possible)?)\s*(?:of\s*)?:?\s*$", re.IGNORECASE)


@dataclass
class _Board:
    text: Text
    library: Library
    kit: frozenset[str] | None = None
    other: Callable[[str], Workout | None] | None = None
    parts: list[Part] = field(default_factory=list)
    draft: PartDraft | None = None
    interrupts: list[Interrupt] = field(default_factory=list)
    reader: LineReader = field(init=False)
    last: tuple[str, int] | None = None
    unread: bool = False
    spans_to_s: int | None = None

    def __post_init__(self) -> None:
        self.reader = LineReader(self.text, self.library, kit=self.kit)

    def line(self, number: int, line: str) -> None:
        """Read one line that is not blank; what cannot be used in it is a problem at its place."""
        before = len(self.reader.problems)
        try:
            self._line(number, in_figures(line))
        except CannotRead as stop:
            at = line.find(stop.at)
            place = self.text.place(number, at + 1, at + 1 + len(stop.at)) if at >= 0 else self.text.place(number)
            self.reader.error(stop.code, stop.message, stop.suggestion, place)
            self._break(number)
        if not _OPTION.match(line):
            self.unread = has_errors(tuple(self.reader.problems[before:]))

    def _elsewhere(self, number: int, line: str) -> bool:
        """Read `as wk1, +1 round`: the parts of another board of this folder, with the changes worked in."""
        found = refers_to(line)
        if found is None:
            return False
        name, changes = found
        workout = self.other(name) if self.other is not None else None
        if workout is None:
            words = line.strip()
            message = f'"{words}" speaks of another board, and none called "{name}" can be read beside this one'
            suggestion = f"{slug_of(name)}.md in this folder, or the whole workout written out"
            self.reader.error("refers-elsewhere", message, suggestion, self.text.place(number))
            return True
        self._close()
        self.parts += with_changes(workout, changes)
        return True

    def _break(self, number: int) -> None:
        """Mark the part as broken: one mistake is one problem, so nothing that follows from it is said."""
        self._open(number)
        assert self.draft is not None  # noqa: S101 - opened above
        self.draft.broken = True

    def _line(self, number: int, line: str) -> None:
        if self._elsewhere(number, line):
            return
        part = PART_AND_LINE.match(line)
        if part and _fit(part["head"].rstrip(":") + ("" if part["head"][-1] in ".)" else ".")):
            self._clauses(number, 0, part["head"].rstrip(":") + ("" if part["head"][-1] in ".)" else "."))
            self.line(number, " " * part.start("rest") + part["rest"])
            return
        team = TEAM_AND_LINE.match(line)
        if team and all(_fit(x.strip()) for x in team["head"].split(",")):
            self._clauses(number, 0, team["head"])
            self.line(number, " " * team.start("rest") + team["rest"])
            return
        second = re.search(
            r"(?<=[\w)])\.\s+(?=(?:every|on each|each time|at \d|cap|tc|time cap|\d+\s*min(?:utes?)?\s+cap|rest)\b)",
            line,
            re.IGNORECASE,
        )
        if second:
            self.line(number, line[: second.start()])
            self.line(number, " " * second.end() + line[second.end() :])
            return
        if self._span(number, line) or self._climb(number, line) or self._turned(number, line):
            return
        begun = self.draft is not None and self.draft.span_s is not None and not self.draft.body
        if begun and _BARE_MOST.match(line):
            self._span_work(number, len(line) - len(line.lstrip()), line.strip())
            return
        option = _OPTION.match(line)
        if option:
            self._option(number, option.end("lead"), option["words"])
            return
        start = len(_BULLET.match(line)[0])  # type: ignore[index]  # the pattern fits any line
        words = line[start:].rstrip()
        if self._rest(number, words) or self._interrupt(number, start, words) or self._clauses(number, start, words):
            return
        self._work_line(number, start, words)

    def finish(self) -> tuple[Part, ...]:
        """Close the last part and give all of them."""
        self._close()
        return tuple(self.parts)

    # --- lines that are not work ------------------------------------------------------------------------------------

    def _option(self, number: int, start: int, words: str) -> None:
        work = self._last_work()
        if self.unread:
            # The line above has its own problem: what this would stand instead of is not known, and one mistake is one.
            return
        if work is None:
            self.reader.error(
                "option-without-line",
                "there is no line of work directly above that this could stand instead of",
                "right below its line, before a rest:  20 goblet squats / or 20 air squats (no kit)",
                self.text.place(number, start + 1),
            )
            return
        option = self.reader.option(number, start, words, work)
        if option is not None:
            self._put_last(work.model_copy(update={"options": (*work.options, option)}))

    def _rest(self, number: int, words: str) -> bool:
        match = REST_LINE.match(words)
        if not match or self.draft is None or not (self.draft.body or self.draft.before or self.unread):
            return False
        place = self.text.place(number)
        time = match["t"] or match["t2"]
        self._add(Rest(seconds=seconds(time) if time else None, place=place))
        return True

    def _span(self, number: int, line: str) -> bool:
        """Read `4:00-10:00: …`: a stretch of one clock, told from a range of reps by where it begins.

        The first begins at 0, every other where the one before ended; a gap between them is a rest.
        """
        match = SPAN.match(line)
        if match is None:
            return False
        a, b = (seconds(t, bare_minutes=True) if t.strip("0:") else 0 for t in (match["a"], match["b"]))
        clocks = ":" in match["a"] and ":" in match["b"]
        if a >= b or not (clocks or a == self.spans_to_s or (a == 0 and self.spans_to_s is None)):
            return False
        if self.spans_to_s is not None and a < self.spans_to_s:
            raise CannotRead(
                "span-overlaps",
                f'"{match["a"]}" comes before the stretch above ends, at {write_clock(self.spans_to_s)}',
                f"{write_clock(self.spans_to_s)}-{write_clock(max(b, self.spans_to_s + 60))}: …",
                match["a"],
            )
        rest = match["rest"] or ""
        self._close()
        if self.parts and self.spans_to_s is not None and a > self.spans_to_s:
            self._lengthen_rest(a - self.spans_to_s)
        self.spans_to_s = b
        if re.fullmatch(r"(?:rest|off)\.?", rest.strip(), re.IGNORECASE):
            if self.parts:
                self._lengthen_rest(b - a)
            return True
        self._open(number)
        assert self.draft is not None  # noqa: S101 - opened above
        self.draft.span_s, self.draft.window_s, self.draft.goal = (a, b), b - a, "complete"
        if rest:
            self._span_work(number, match.start("rest"), rest)
        return True

    def _span_work(self, number: int, start: int, words: str) -> None:
        """Read what a stretch holds: `AMRAP: …` without a time of its own, `max burpees`, a form with its work, or work."""
        assert self.draft is not None  # noqa: S101 - the stretch opened one
        draft = self.draft
        most = re.match(
            r"(?:amrap|as many rounds(?: and reps)?(?: as possible)?)\s*(?:of\s+|[:,]\s*)?", words, re.IGNORECASE
        )
        if most:
            draft.goal, draft.open_rounds = "most", True
            work = words[most.end() :]
            if work.strip():
                self._work_line(number, start + most.end(), work)
            return
        if not self._clauses(number, start, words):
            self._work_line(number, start, words)

    def _lengthen_rest(self, more_s: int) -> None:
        last = self.parts[-1]
        self.parts[-1] = last.model_copy(update={"rest_after_s": last.rest_after_s + more_s})

    def _turned(self, number: int, line: str) -> bool:
        """Read a line whose form stands around its work: `max push-ups in 3:00`, `100 burpees for time`."""
        for pattern, head in TURNED:
            match = pattern.match(line)
            if match is None or not self._is_work(match["work"]):
                continue
            begun = self.draft is not None and self.draft.goal is not None and not self.draft.body
            if not (begun and head == "Not for time"):
                self._clauses(number, 0, head.format(**match.groupdict()))
            self._work_line(number, match.start("work"), match["work"])
            return True
        return False

    def _climb(self, number: int, line: str) -> bool:
        """Read `minute n: n burpees`: the form, then its movement without a number."""
        match = CLIMB_WORK.match(line)
        if match is None:
            return False
        name = "work" if match["work"] else "work1"
        head = f"minute 1: {match['a']}, minute 2: {match['b']}, …" if match["a"] else "minute n: n"
        self._clauses(number, 0, head + (match["tail"] or ""))
        self._work_line(number, match.start(name), match[name])
        return True

    def _interrupt(self, number: int, start: int, words: str) -> bool:
        match = INTERRUPT.match(words)
        loose = None if match else INTERRUPT_LOOSE.match(words)
        inside = self.draft is not None and bool(self.draft.body or self.draft.said or self.draft.goal)
        if not (match or loose) or (not inside and not (match and match["brk"])):
            return False
        found = match or loose
        assert found is not None  # noqa: S101 - one of the two matched
        place = self.text.place(number, start + 1, start + 1 + len(words))
        works = self._works(number, start + found.start("work"), found["work"])
        trigger: Every | At | OnBreak
        groups = found.groupdict()
        if groups.get("brk"):
            trigger = OnBreak(phrase=found["brk"].lower())
        elif groups.get("at"):
            trigger = At(times_s=tuple(sorted(seconds(t) for t in re.findall(T, found["at"], re.IGNORECASE))))
        else:
            every_s = 60 if found["every"].lower() == "minute" else seconds(found["every"], bare_minutes=True)
            said = groups.get("from")
            from_s = every_s
            if said:
                from_s = (
                    0
                    if re.fullmatch(r"zero|the start|0:00|:00|0", said, re.IGNORECASE)
                    else seconds(said, bare_minutes=True)
                )
            else:
                every = write_clock(every_s)
                self.reader.note(
                    "interrupt-from",
                    f"read as: the first time at {every}, not at the start",
                    f"Every {every} from 0:00: {found['work']}   (or: Every {every} from {every}: …)",
                    place,
                )
            trigger = Every(every_s=every_s, from_s=from_s)
        if works:
            self.interrupts.append(Interrupt(trigger=trigger, works=tuple(works), place=place))
            self.last = ("interrupt", len(works) - 1)
        self._open(number)
        return True

    def _clauses(self, number: int, start: int, words: str) -> bool:
        """Apply the forms to a line of clauses; work may follow after a colon."""
        found, tail_at = self._head_and_work(words)
        if found is None:
            if _HEADISH.match(words) and not self._is_work(words):
                self._unread(number, start, words)
                self._break(number)
                return True
            return False
        for form, match in found:
            self._prepare(number, form, match)
            assert self.draft is not None  # noqa: S101 - _prepare opened one
            self._once(form, match)
            if form.opens and self.draft.section == "before" and self.draft.before:
                self.draft.section = "body"
            form.act(self.draft, match)
            self.draft.said.add(form.name)
        if tail_at is not None:
            self._work_line(number, start + tail_at, words[tail_at:])
        return True

    def _once(self, form: Form, match: re.Match[str]) -> None:
        """Refuse a form that this part has already: two caps cannot both hold."""
        assert self.draft is not None  # noqa: S101 - the caller opened one
        if form.name in self.draft.said and not form.repeats:
            raise CannotRead(
                "said-twice",
                f'"{match[0].strip()}" stands here, and this part has such a line already',
                'one of them, or "Part B" above what belongs to the next part',
                match[0].strip(),
            )

    def _head_and_work(self, words: str) -> tuple[list[tuple[Form, re.Match[str]]] | None, int | None]:
        """Fit a line with forms; work may follow on the same line, after a colon, a comma, or a list of numbers.

        Gives the forms and where the work begins (None where none follows), or no forms.
        """
        found = _fit(words)
        if found is not None:
            return found, None
        for cut in re.finditer(r":(?=\s)|,(?=\s)", words):
            found = _fit(words[: cut.start()])
            if found is not None and (words[cut.start()] == ":" or self._is_work(words[cut.end() :])):
                return found, cut.end()
        began = self.draft is not None and not self.draft.broken and bool(self.draft.said or self.draft.body)
        for lead in (SETS_OF, NUMBERS_THEN_WORK):
            match = None if began and lead is NUMBERS_THEN_WORK else lead.match(words)
            if match:
                found = _fit(match["head"])
                if found is not None and self._is_work(words[match.start("work") :]):
                    return found, match.start("work")
        for gap in reversed(list(re.finditer(r"(?<=\w)\s+(?:of\s+)?(?=\w)", words))):
            found = _fit(words[: gap.start()])
            head = words[: gap.start()].lower()
            # `50 ft lunges` are feet, not "for time".
            fits = found is not None and found[-1][0].before_work and not re.search(r"\d\s*ft$", head)
            if fits and self._is_work(words[gap.end() :]):
                return found, gap.end()
        return None, None

    def _is_work(self, words: str) -> bool:
        trial = LineReader(self.text, self.library, varying=Amount(unit="reps", by_round=(1,)))
        pieces = self._pieces(words)
        return all((at and self._is_form(p)) or trial.work(1, 0, p) is not None for at, p in pieces)

    def _is_form(self, words: str) -> bool:
        return _fit(words) is not None or REST_LINE.match(words) is not None

    def _pieces(self, words: str) -> list[tuple[int, str]]:
        """Cut a line into lines of work; where a piece is no movement ("to the corner + back") the line stays whole."""
        pieces = _pieces(words)
        if self.reader.varying is not None and len(pieces) == 1 and "," in words:
            # below a list of numbers a line may name several movements: `21-15-9 swings, burpees`
            named = [(m.start(), m[0]) for m in re.finditer(r"[^,\s][^,]*", words)]
            if all(self.library.find(w.strip()) for _, w in named):
                return [(at, w.strip()) for at, w in named]
        if len(pieces) > 1 and not all(self._stands_alone(p) for _, p in pieces[1:]):
            return [(0, words)]
        return pieces

    def _stands_alone(self, words: str) -> bool:
        bare = re.sub(r"\([^()]*\)", "", words).strip()
        return (
            bool(re.search(r"\d|max", bare, re.IGNORECASE))
            or self.library.find(bare) is not None
            or self._is_form(bare)
        )

    def _unread(self, number: int, start: int, words: str) -> None:
        examples = [f.example for f in FORMS]
        best = process.extractOne(words, examples, scorer=fuzz.WRatio)
        self.reader.error(
            "line-unread",
            f'"{words}" begins like a form of the board, but the rest of it cannot be read',
            best[0] if best else None,
            self.text.place(number, start + 1, start + 1 + len(words)),
        )

    def _prepare(self, number: int, form: Form, match: re.Match[str]) -> None:
        """Open a part, or a new one where this clause begins one and the old one has its work already."""
        draft = self.draft
        if draft is None:
            self._open(number)
            return
        has_work = bool(draft.body or draft.before or draft.after)
        if form.name == "part" and (has_work or draft.goal or draft.name):
            self._close()
            self._open(number)
        elif form.name == "any order" and has_work and re.match(r"\s*(?:split|partition)", match[0], re.IGNORECASE):
            return  # below the work it says how that is shared out
        elif form.opens and draft.before and not draft.body and not draft.after and draft.goal is None:
            return  # "Buy-in: 400 m run", and only then how the workout is done
        elif form.opens and has_work:
            if form.name == "rounds" and draft.goal in {"time", "most"} and draft.rounds is None and not draft.numbers:
                # "For time: 400 m run / 3 rounds of …": what came before is done once, at the start.
                draft.before += [item for _, item in draft.body]
                draft.body.clear()
                return
            self._close()
            self._open(number)

    # --- work -------------------------------------------------------------------------------------------------------

    def _work_line(self, number: int, start: int, words: str) -> None:
        self._open(number)
        draft = self.draft
        assert draft is not None  # noqa: S101 - opened above
        label = None
        both = re.match(r"(?P<first>\s*odd\b.+?)[,;]\s*(?=even\b)", words, re.IGNORECASE)
        if both:
            self._work_line(number, start, both["first"])
            self._work_line(number, start + both.end(), words[both.end() :])
            return
        station = STATION.match(words)
        if station:
            label = station["n"] or ("1" if (station["odd"] or "").lower() == "odd" else "2")
            start, words = start + station.start("work"), station["work"]
            if re.fullmatch(r"\s*(?:off|rest)\s*\.?\s*", words, re.IGNORECASE):
                draft.body.append((label, Rest(seconds=None, place=self.text.place(number))))
                return
        if re.fullmatch(r"\s*(?:then|after that|and)\s*[:.]?\s*", words, re.IGNORECASE):
            return
        section = SECTION.match(words)
        if section:
            which = (section["which"] or section["bare"]).lower()
            draft.section = "before" if re.match(r"buy|start|first|to start", which) else "after"
            if section["bare"]:
                return
            start, words = start + section.start("work"), section["work"]
        each = AFTER_EACH.match(words)
        listed = self._own_numbers(words) if not each else None
        if listed is not None:
            draft_numbers, draft_step, at = listed
            start, words = start + at, words[at:]
        else:
            draft_numbers, draft_step = draft.numbers, draft.step
        self.reader.varying = (
            Amount(unit="reps", by_round=draft_numbers, step=draft_step) if draft_numbers and not each else None
        )
        span_most = draft.span_s is not None and draft.goal == "most" and not draft.body and not re.search(r"\d", words)
        self.reader.most_is_meant = draft.broken or span_most or bool({"max", "intervals"} & draft.said)
        if each:
            work = self.reader.work(number, start + each.start("work"), each["work"])
            if work is not None:
                draft.after_each.append(work)
            return
        for work in self._works(number, start, words):
            self._add(work, label)
        if section and draft.section == "before":
            draft.section = "body"

    def _own_numbers(self, words: str) -> tuple[tuple[int, ...], int, int] | None:
        """Read `1-2-3-… push presses` below a line that says how it is done: numbers, step, where the work begins.

        All lists of one part have as many rounds. Raises CannotRead where they have not.
        """
        draft, match = self.draft, OWN_NUMBERS.match(words)
        if draft is None or match is None or not self._is_work(match["work"]):
            return None
        numbers, step = numbers_of(match["list"])
        rounds = None if step else len(numbers)
        if not draft.body:
            draft.rounds = draft.rounds or rounds
            draft.numbers, draft.step = draft.numbers or numbers, draft.step or step
            draft.open_rounds = draft.open_rounds or bool(step)
        if bool(step) != draft.open_rounds and (draft.body or draft.goal == "most"):
            message = f'"{match["list"]}" {"goes on" if step else "ends"}, and the rest of this part {"ends" if step else "goes on"}'
            raise CannotRead("ladders-differ", message, "1-2-3-…" if draft.open_rounds else "21-15-9", match["list"])
        draft.open_rounds = draft.open_rounds or bool(step)
        if rounds is not None and rounds != draft.rounds:
            raise CannotRead(
                "ladders-differ",
                f'"{match["list"]}" has {rounds} numbers, and this part has {draft.rounds or 1} rounds',
                'as many numbers as rounds, or "Part B" above the line',
                match["list"],
            )
        return numbers, step, match.start("work")

    def _works(self, number: int, start: int, words: str) -> list[Work]:
        """Read one line that may hold several lines of work: `10 swings + 8 push-ups`, `6 a, 12 b`."""
        words = join_sides(words)
        out = []
        for at, piece in self._pieces(words):
            if at and self.draft is not None and self._is_form(piece):
                self._apply(self.draft, piece)
                continue
            work = self.reader.work(number, start + at, piece)
            if work is not None:
                out.append(work)
        return _share_load(out) if " + " in words else out

    def _apply(self, draft: PartDraft, piece: str) -> None:
        """Apply a form that stands behind work on the same line: `…, rest 2:00 between sets`, `…, rest as needed`."""
        rest = REST_LINE.match(piece)
        if rest:
            time = rest["t"] or rest["t2"]
            draft.rest_between_s = seconds(time) if time else None
            draft.said.add("rest between rounds")
            return
        for form, match in _fit(piece) or []:
            form.act(draft, match)

    def _add(self, item: Work | Rest, label: str | None = None) -> None:
        draft = self.draft
        assert draft is not None  # noqa: S101 - work lines open a part
        if draft.section == "before":
            draft.before.append(item)
        elif draft.section == "after":
            draft.after.append(item)
        else:
            if label is None and draft.body and draft.body[-1][0] is not None:
                label = draft.body[-1][0]
            draft.body.append((label, item))
        self.last = (draft.section, -1)

    def _last_work(self) -> Work | None:
        if self.last and self.last[0] == "interrupt" and self.interrupts:
            return self.interrupts[-1].works[self.last[1]]
        items = self._section_items()
        item = items[-1] if items else None
        return item if isinstance(item, Work) else None

    def _section_items(self) -> list[Work | Rest]:
        draft = self.draft
        if draft is None or self.last is None:
            return []
        return {"before": draft.before, "after": draft.after}.get(self.last[0]) or [i for _, i in draft.body]

    def _put_last(self, work: Work) -> None:
        assert self.draft is not None  # noqa: S101 - there is a last line, so there is a part
        where = self.last[0] if self.last else "body"
        if where == "interrupt":
            old = self.interrupts[-1]
            self.interrupts[-1] = old.model_copy(update={"works": (*old.works[:-1], work)})
        elif where == "before":
            self.draft.before[-1] = work
        elif where == "after":
            self.draft.after[-1] = work
        else:
            self.draft.body[-1] = (self.draft.body[-1][0], work)

    # --- parts ------------------------------------------------------------------------------------------------------

    def _open(self, number: int) -> None:
        if self.draft is None:
            self.draft = PartDraft(line=number)

    def _close(self) -> None:
        draft, self.draft = self.draft, None
        interrupts, self.interrupts = tuple(self.interrupts), []
        self.last = None
        if draft is None:
            return
        place = self.text.place(draft.line)
        if not (draft.body or draft.before or draft.after or draft.after_each):
            if not has_errors(self.reader.problems):
                self.reader.error("part-empty", "below this there is no line of work", "  20 goblet squats", place)
            return
        part = make_part(draft, interrupts, place, self.reader)
        if part is not None:
            self.parts.append(part)


def _fit(words: str) -> list[tuple[Form, re.Match[str]]] | None:
    """Cut a line at its commas and fit each stretch with a form, the longest stretch first; None where one is left over."""
    # "for time (8 min cap)", and "4 rounds for time TC 18'", which has its comma left out.
    words = re.sub(r"\s*\(\s*([^()]*\b(?:cap|tc)\b[^()]*)\)", r", \1", words, flags=re.IGNORECASE)
    words = re.sub(
        r"(?<=[^\s,;])(?<!^time)(?<![,;]\stime)(?<!\bmin)(?<!\bmins)(?<!minute)(?<!minutes)(?<!\d')\s+(?=(?:time\s+cap|cap|tc)\b)",
        ", ",
        words.strip().rstrip(":"),
        flags=re.IGNORECASE,
    )
    words = re.sub(r"\bfor, time,?\s+cap\b", "for time, cap", words, flags=re.IGNORECASE)
    pieces = [p for p in re.split(r"\s*[,;](?!\d)\s*", words) if p]
    out: list[tuple[Form, re.Match[str]]] = []
    index = 0
    while index < len(pieces):
        for end in range(len(pieces), index, -1):
            joined = ", ".join(pieces[index:end])
            hit = next(((f, m) for f in FORMS if (m := f.pattern.match(joined))), None)
            if hit:
                out.append(hit)
                index = end
                break
        else:
            return None
    return out or None


def _pieces(words: str) -> list[tuple[int, str]]:
    """Cut at " + " and at commas before a number that begins a new line of work (not "6 each arm")."""
    cuts = [0]
    for match in re.finditer(
        r"(?!,\s+\d[\d.,]*(?:/\d[\d.,]*)?\s*(?:kg|kilos?|lbs?|pounds?|#|%))(?:\s\+\s+|\s+and\s+(?=\d+\s+[A-Za-z])|[,;]\s+(?=(?:odd|even)\b)|[,;]\s+(?=(?:\d*:\d\d|\d+)(?:/(?:\d*:\d\d|\d+))?\s*(?:m|cal|s)?\s+[A-Za-z])|[,;]\s+(?=rest\b|max\b|\d*:?\d+\s*(?:min|sec|s|')?\s+?(?:rest|off)\b|\d+\s*(?:min|sec|s|')\s*(?:rest|off)\b))",
        words,
    ):
        rest = words[match.end() :]
        if re.match(
            r"(?:\d*:\d\d|\d+)\s*(?:s|sec|m|reps)?\s*(?:each|ea|per|a|every)\b|:?\d\S*\s+of\s+10", rest, re.IGNORECASE
        ):
            continue
        cuts.append(match.end())
    ends = [*cuts[1:], len(words)]
    return [(a, re.sub(r"(?:\s\+\s*|[,;]\s*|\s+and\s+)$", "", words[a:b])) for a, b in zip(cuts, ends, strict=True)]


def _share_load(works: list[Work]) -> list[Work]:
    """Give the load at the end of `2 power cleans + 1 push jerk @ 70 kg` to all of it: one weight goes through them."""
    if len(works) < 2 or not works[-1].loads or any(w.loads for w in works[:-1]):
        return works
    return [w.model_copy(update={"loads": works[-1].loads}) for w in works]


def join_sides(words: str) -> str:
    """Put `6 snatches R, 6 L` together to `6/6 snatches`, as long as before so that columns stay right."""

    def both(match: re.Match[str]) -> str:
        made = f"{match[1]}/{match[1]} {match[2]}"
        return made.ljust(len(match[0])) if len(made) <= len(match[0]) else match[0]

    return re.sub(
        r"\b(\d+)\s+([^,\d]+?)\s+(?:r|right|l|left)\s*[,+]\s*\1\s+(?:r|right|l|left)\b",
        both,
        words,
        flags=re.IGNORECASE,
    )


def make_part(draft: PartDraft, interrupts: tuple[Interrupt, ...], place: Place, reader: LineReader) -> Part | None:
    """Make a part of what the forms and lines have said.

    Problems: `time-missing` and `rounds-missing` (errors: the form needs them), `windows-uneven` (error: a time that
    the interval does not divide), `goal-read` (warning: no form says how it is done, read as for time).
    """
    if draft.span_s and draft.body and all(isinstance(i, Work) and i.amount.most for _, i in draft.body):
        draft.goal = "most"
        draft.said.add("max")
    goal = draft.goal
    if goal is None:
        goal = "time"
        if (
            not draft.broken
            and draft.cap_s is None
            and not draft.any_order
            and not any(isinstance(i.trigger, OnBreak) for i in interrupts)
        ):
            reader.note(
                "goal-read",
                "nothing says how this is done; it was read as for time",
                f"{draft.rounds} rounds for time" if draft.rounds else "For time",
                place,
            )
    stations = _stations(draft)
    windows = _windows(draft, goal, len(stations), place, reader)
    if windows is None:
        return None
    body = stations[0].cycles if stations else ()
    if draft.before or draft.after:
        start = (Cycle(items=tuple(draft.before)),) if draft.before else ()
        end = (Cycle(items=tuple(draft.after)),) if draft.after else ()
        stations = (Station(cycles=(*start, *body, *end)), *stations[1:])
    if (
        goal == "most"
        and "intervals" in draft.said
        and not any(w.amount.most for s in stations for c in s.cycles for w in c.items if isinstance(w, Work))
    ):
        goal = "complete"
    return Part(
        name=draft.name,
        windows=windows,
        stations=stations,
        goal=goal,
        sets=draft.sets,
        interrupts=interrupts,
        score=draft.score or ("rounds and repetitions" if draft.carries_on else _usual_score(goal, draft)),
        carries_on=draft.carries_on,
        team=draft.team,
        target=draft.target,
        rest_after_s=draft.rest_after_s,
        span_s=draft.span_s,
        until_missed=draft.until_missed,
        place=place,
    )


def _usual_score(goal: str, draft: PartDraft) -> str | None:
    """Give what the trade writes down where the board says nothing; None where there is no custom (ask)."""
    if goal == "time" and (draft.goal == "time" or draft.cap_s):
        return "time"
    if goal == "most" and "max" in draft.said:
        return "repetitions"
    if goal == "most" and (draft.windows or 1) == 1 and "intervals" not in draft.said:
        return "rounds and repetitions"
    return {"heaviest": "load", "quality": "nothing"}.get(goal)


def _stations(draft: PartDraft) -> tuple[Station, ...]:
    labels = list(dict.fromkeys(label for label, _ in draft.body))
    works = [i for _, i in draft.body]
    spread = "intervals" in draft.said and all(isinstance(i, Work) and i.amount.most for i in works) and len(works) > 1
    if spread and labels == [None]:
        return tuple(Station(cycles=(Cycle(items=(i,)),)) for i in works)
    windowed = draft.window_s is not None and draft.goal in {"complete", "most"}
    if windowed and any(label is not None for label in labels) and len(labels) > 1:
        out = []
        for label in labels:
            items = tuple(i for at, i in draft.body if at == label)
            off = all(isinstance(i, Rest) for i in items)
            out.append(Station() if off else Station(cycles=(Cycle(items=items),)))
        return tuple(out)
    items = (*works, *draft.after_each)
    if not items:
        return (Station(),)
    rounds: int | None = draft.rounds or 1
    if draft.open_rounds or (draft.goal == "most" and draft.window_s is not None):
        has_most = any(isinstance(i, Work) and i.amount.most for i in items)
        rounds = 1 if has_most else None
    if draft.goal == "complete" and draft.window_s is not None and draft.span_s is None:
        rounds = 1
    return (
        Station(
            cycles=(
                Cycle(
                    items=items,
                    rounds=rounds,
                    rest_between_s=None
                    if draft.rest_between_s is None
                    else 0
                    if _rests_in_gaps(draft)
                    else draft.rest_between_s,
                    rest_ratio=None if _rests_in_gaps(draft) else draft.rest_ratio,
                    rest_after=tuple(sorted(draft.rest_after)),
                    any_order=draft.any_order,
                    plan_rounds=draft.plan_rounds,
                ),
            )
        ),
    )


def _rests_in_gaps(draft: PartDraft) -> bool:
    """Say whether a rest between rounds is one between stretches of the clock."""
    several = (draft.windows or 1) > 1 or draft.total_s is not None or "intervals" in draft.said
    return draft.window_s is not None and draft.goal in {"complete", "most"} and several


def _windows(draft: PartDraft, goal: str, stations: int, place: Place, reader: LineReader) -> Windows | None:
    """Make the windows of a part, with the rest between its rounds where rounds are windows."""
    windows = _plain_windows(draft, goal, stations, place, reader)
    if windows is None or not _rests_in_gaps(draft):
        return windows
    rest_s = draft.rest_between_s or 0
    if draft.rest_ratio is not None and windows.work_s is not None:
        rest_s = round(draft.rest_ratio * windows.work_s)
    if not rest_s:
        return windows
    if stations == 1 or (draft.rest_ratio is not None and not windows.gap_s):
        if windows.gap_s and windows.gap_s != rest_s:
            gap, rest = write_clock(windows.gap_s), write_clock(rest_s)
            message = f"between two stretches the rest is {gap}, and a rest of {rest} is written as well"
            reader.error("rests-differ", message, "one of the two", place)
        return windows.model_copy(update={"gap_s": rest_s})
    return windows.model_copy(update={"turn": stations, "turn_gap_s": rest_s})


def _plain_windows(draft: PartDraft, goal: str, stations: int, place: Place, reader: LineReader) -> Windows | None:
    if draft.broken:
        return Windows()
    if draft.span_s is not None:
        return Windows(count=1, work_s=draft.window_s)
    if draft.until_missed:
        return Windows(count=MOST_MINUTES, work_s=draft.window_s)
    if goal == "heaviest":
        return Windows(count=1, work_s=draft.window_s or draft.cap_s)
    if goal in {"time", "quality"} or (draft.sets and draft.window_s is None):
        return Windows(count=1, work_s=draft.cap_s)
    if draft.window_s is None:
        reader.error("time-missing", "this needs a time", "AMRAP 12:00", place)
        return None
    if goal == "most" and "intervals" not in draft.said:
        return Windows(count=draft.windows or 1, work_s=draft.window_s, gap_s=draft.gap_s)
    count = draft.windows
    if count is None and draft.total_s is not None:
        if draft.total_s % draft.window_s:
            reader.error(
                "windows-uneven",
                f"{write_clock(draft.total_s)} is not a whole number of times {write_clock(draft.window_s)}",
                f"Every {write_clock(draft.window_s)} for {write_clock(draft.window_s * max(1, draft.total_s // draft.window_s))}",
                place,
            )
            return None
        count = draft.total_s // draft.window_s
    if count is None and draft.rounds is not None:
        count = draft.rounds
    if count is None:
        reader.error(
            "rounds-missing",
            "this does not say how many times",
            f"Every {write_clock(draft.window_s)} for 7 rounds"
            if goal == "complete"
            else "0:40 on / 0:20 off, 4 rounds",
            place,
        )
        return None
    if "intervals" in draft.said and stations > 1:
        count *= stations
    if count > 200:
        reader.error(
            "number-absurd", f"that makes {count} stretches of time", "a longer interval or fewer rounds", place
        )
        return None
    return Windows(count=count, work_s=draft.window_s, gap_s=draft.gap_s)
