"""The take held against the plan: what was said wrong, what was not said or came late, how long it took, what to film again."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from briefing.board.models import Workout
from briefing.library.models import Movement
from briefing.outline.models import Line, Outline, Segment
from briefing.problems import Found, Model, Problem
from briefing.speech.spoken import spoken_form
from briefing.take.align import SAID, Chunk, Match, align, chunks_of
from briefing.take.slips import NEAR, SAME_MS, Claims, Slip, claims_of, find_slips, with_said
from briefing.take.terse import find_terse
from briefing.take.transcript import TimedWord, Transcript, timed_words
from briefing.take.words import EMPTY, Token, names_of, read_back, text_tokens, tokens_of
from briefing.units import write_clock

# What stands first in the plan has to be said in the first 90 seconds; so much later is late. Our choice.
EARLY_S, LATE_S = 90, 20
EARLY = frozenset({"promise", "stop", "workout"})
# Kinds of lines whose slip or lack a text in the picture can mend.
_BY_TEXT = frozenset({"work", "cap", "rest", "score", "loads", "plan", "totals"})
# Where less than this share of the must-say lines is said, and less than that share of the take's words is of the plan, the take is of
# something else; a take of the first two segments alone says little of the plan and yet nothing else. Our choice.
OWN_SHARE, OWN_WORDS = 0.2, 0.4
# The segments that tell the board; a line of theirs that was not understood may stand so far before or behind the others. Our choice.
_TELLS = frozenset({"workout", "versions", "again"})
TOLD_MS = 6000
# How long a line with a wrong number is taken to last where only its number was found. Our choice.
WRONG_MS = 2000


class Said(Model):
    """A planned line that was said: when, how much of it, whether at another place than planned, whether late."""

    line: Line
    segment: int
    start_ms: int
    end_ms: int
    share: float
    moved: bool = False
    late: bool = False


class SegmentTime(Model):
    """A segment planned and real, in seconds, with the reason for a large difference; real is None where it was not found."""

    title: str
    planned_s: float
    real_s: float | None
    start_ms: int | None
    why: str = ""


class Again(Model):
    """Something to film again: exact sentences, framing, seconds; or a text in the picture that is enough."""

    segment: str
    camera: str
    sentences: tuple[str, ...]
    seconds: float
    by_text: bool = False


class Misheard(Model):
    """A movement's name that the recogniser wrote otherwise: when, as written, as it should be."""

    at_ms: int
    written: str
    name: str


class OnScreen(Model):
    """A text for the picture: number, label, side count, from when to when."""

    text: str
    start_ms: int
    end_ms: int


class Review(Model):
    """Everything the comparison finds.

    `segment_of` gives the title of each planned line's segment. `against` says what the take was held against where that is not the
    plan of now.
    """

    title: str
    against: str = ""
    segment_of: dict[str, str]
    slips: tuple[Slip, ...]
    said: tuple[Said, ...]
    not_said: tuple[Line, ...]
    late: tuple[Said, ...]
    segments: tuple[SegmentTime, ...]
    again: tuple[Again, ...]
    misheard: tuple[Misheard, ...]
    on_screen: tuple[OnScreen, ...]
    talk_end_ms: int


def review(
    outline: Outline, movements: Mapping[str, Movement], transcript: Transcript, versions: Sequence[Workout] = ()
) -> Found[Review]:
    """Hold a take against its outline; `versions` are other amounts that are right as well (the lighter one).

    Problems (errors): `another-take` where hardly anything of the plan is said.
    """
    names = names_of(movements)
    words = timed_words(transcript)
    tokens = tokens_of(words, names)
    chunks = chunks_of(tokens, _ends(transcript, words))
    lines = [(line, number) for number, s in enumerate(outline.segments) for line in s.lines]
    wanted = [text_tokens(spoken_form(line.text), names) for line, _ in lines]
    matches = _found(lines, wanted, outline, tokens, chunks, names)
    said = tuple(
        _said(lines[i][0], lines[i][1], _from_its_words(m, wanted[i], tokens, chunks), chunks, outline)
        for i, m in sorted(matches.items())
    )
    if (problem := _another(outline, said, tokens, transcript)) is not None:
        return Found(None, (problem,))
    slips = _slips(outline, movements, versions, tokens, said, [(wanted[i], n) for i, (_, n) in enumerate(lines)])
    # A line that was found elsewhere, and was said wrong in its own place, was said wrong.
    said = tuple(s for s in said if not (s.moved and any(_is_of(s.line, slip) for slip in slips)))
    found = {s.line.id for s in said}
    unheard = [(x, n) for x, n in lines if x.id not in found]
    said_wrong = _said_wrong(unheard, slips, said)
    wrong = [s for s, _ in said_wrong]
    film = {s.line.id for s, corrected in said_wrong if not corrected}
    heard = {s.line.id for s in (*said, *wrong)}
    missing = tuple(sorted((x for x, _ in lines if x.id not in heard), key=lambda x: not x.must))
    made = Review(
        title=outline.title,
        segment_of={line.id: segment.title for segment in outline.segments for line in segment.lines},
        slips=slips,
        said=tuple(sorted([*said, *wrong], key=lambda s: s.start_ms)),
        not_said=missing,
        late=tuple(s for s in said if s.late),
        segments=tuple(_times(outline, [*said, *wrong], transcript)),
        again=tuple(_again(outline, missing, [s for s in slips if not s.corrected], said, film)),
        misheard=tuple(_misheard(tokens, words, names, movements)),
        on_screen=tuple(_on_screen([*said, *wrong])),
        talk_end_ms=transcript.end_ms,
    )
    return Found(made)


def _found(
    lines: Sequence[tuple[Line, int]],
    wanted: Sequence[Sequence[Token]],
    outline: Outline,
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    names: Mapping[str, str],
) -> dict[int, Match]:
    """Find the lines that were said: by their words, then by their figure, then by what carries them."""
    matches = {m.line: m for m in align(wanted, tokens, chunks)}
    taught = [m.first for i, m in matches.items() if outline.segments[lines[i][1]].movement and not m.moved]
    before = chunks[: min(taught, default=len(chunks))]
    matches |= {m.line: m for m in _by_figure(lines, tokens, before) if m.line not in matches}
    matches = _told_once(lines, outline, matches, len(before))
    matches |= {m.line: m for m in find_terse(lines, wanted, outline, (tokens, chunks), matches, names)}
    return matches


def _another(outline: Outline, said: Sequence[Said], tokens: Sequence[Token], transcript: Transcript) -> Problem | None:
    """Say whether this is a take of something else."""
    must = sum(line.must for line in outline.lines)
    share = sum(s.line.must for s in said) / max(1, must)
    planned = sum(any(m.start_ms <= t.start_ms < m.end_ms for m in said) for t in tokens)
    if share >= OWN_SHARE or planned >= OWN_WORDS * len(tokens):
        return None
    message = f'this take is not "{outline.title}": {share * 100:.0f} of a hundred of what must be said is in it'
    return Problem(
        level="error",
        code="another-take",
        message=message,
        suggestion="the take of this workout",
        place=transcript.cues[0].place,
    )


# Which kind of line a slip about these is in; about a movement, it is a line of work.
_KINDS = {"rounds": "shape", "cap": "cap", "rest": "rest", "every": "forced"}


def _is_of(line: Line, slip: Slip) -> bool:
    """Say whether a slip is in a line of this kind: it says the number that was said wrong."""
    if slip.subject in _KINDS:
        return line.kind == _KINDS[slip.subject]
    return line.kind in {"work", "again-work"} and line.id.rsplit("/", 1)[-1].removesuffix("-2") == slip.subject


def _said_wrong(
    unheard: Sequence[tuple[Line, int]], slips: Sequence[Slip], said: Sequence[Said]
) -> tuple[tuple[Said, bool], ...]:
    """Give the lines that were not found since their number was said wrong: they were said, and need not be listed twice."""
    out: list[tuple[Said, bool]] = []
    for slip in slips:
        if any(
            _is_of(s.line, slip) and abs(s.start_ms - slip.at_ms) < SAME_MS // 2 for s in (*said, *(w for w, _ in out))
        ):
            continue
        mine = [(x, n) for x, n in unheard if _is_of(x, slip) and x.id not in {s.line.id for s, _ in out}]
        if mine:
            # Of two tellings the one whose other lines are nearest.
            def far(number: int, at_ms: int = slip.at_ms) -> int:
                return min(
                    (abs(s.start_ms - at_ms) for s in said if s.segment == number and not s.moved), default=1 << 40
                )

            line, number = min(mine, key=lambda x: far(x[1]))
            found = Said(line=line, segment=number, start_ms=slip.at_ms, end_ms=slip.at_ms + WRONG_MS, share=SAID)
            out.append((found, slip.corrected))
    return tuple(out)


def _told_once(
    lines: Sequence[tuple[Line, int]], outline: Outline, matches: Mapping[int, Match], upto: int
) -> dict[int, Match]:
    """Give what was found of the repetition at the end to the first telling, where it lacks there.

    `upto` is the chunk with which teaching begins. The repetition has the same figures in fewer words: a take that tells the
    workout tersely, once, is like it.
    """
    out = dict(matches)
    for index, match in sorted(matches.items()):
        line, number = lines[index]
        if outline.segments[number].kind != "again":
            continue
        slug = line.id.rsplit("/", 1)[-1]
        first = next(
            (
                i
                for i, (x, n) in enumerate(lines[:index])
                if (x.card == line.card or (line.kind, x.kind, x.movement) == ("again-point", "point", slug))
            ),
            None,
        )
        told = out.get(first) if first is not None else None
        if first is not None and told is None and match.first < upto:
            out[first] = out.pop(index).model_copy(update={"line": first})
        elif told is not None and told.first <= match.last and match.first <= told.last:
            # The same words are not both.
            del out[index]
    return out


def _slips(
    outline: Outline,
    movements: Mapping[str, Movement],
    versions: Sequence[Workout],
    tokens: Sequence[Token],
    said: Sequence[Said],
    planned: Sequence[tuple[Sequence[Token], int]],
) -> tuple[Slip, ...]:
    """Find the slips of a take. The lighter amounts are right only from where the versions are spoken of."""
    late = {n for n, s in enumerate(outline.segments) if s.kind == "versions"}
    since = min((s.start_ms for s in said if s.segment in late), default=None)
    lines = outline.lines
    board = with_said(
        _with_figures(claims_of(outline.workout, movements), lines),
        [t for t, n in planned if not late or n < min(late)],
        movements,
    )
    every = _with_figures(claims_of(outline.workout, movements, versions), lines)
    claims = with_said(every, [t for t, _ in planned], movements)
    early = [t for t in tokens if since is None or t.start_ms < since]
    told = _told(outline, said)
    slips = (
        *find_slips(early, board, movements, told),
        *find_slips(tokens[len(early) :], claims, movements, told),
    )
    return tuple(sorted([*slips, *_by_place(said, tokens, claims, slips)], key=lambda s: s.at_ms))


def _with_figures(claims: Claims, lines: Sequence[Line]) -> Claims:
    """Let the plan's lines of work win over the board: a recorded video was filmed before the board was changed."""
    allowed, metres, written = dict(claims.allowed), dict(claims.metres), dict(claims.written)
    for line in lines:
        number = line.figure.number.removesuffix(" m") if line.figure and line.kind == "work" else ""
        slug = line.id.rsplit("/", 1)[-1].removesuffix("-2")
        if number.isdigit() and claims.right(slug) and float(number) not in claims.right(slug):
            target = metres if slug in metres else allowed
            target[slug] = (float(number), float(number) / 2)
            written[slug] = line.figure.number.replace(" m", " meters") if line.figure else number
    return claims.model_copy(update={"allowed": allowed, "metres": metres, "written": written})


def _told(outline: Outline, said: Sequence[Said]) -> list[tuple[int, int]]:
    """Give the stretches in which the board is told: around each line of such a segment that was said where it belongs."""
    mine = [s for s in said if outline.segments[s.segment].kind in _TELLS and not s.moved]
    return [(s.start_ms - TOLD_MS, s.end_ms + TOLD_MS) for s in mine]


def _by_place(said: Sequence[Said], tokens: Sequence[Token], claims: Claims, known: Sequence[Slip]) -> list[Slip]:
    """Find slips by where they stand: a line of work was said, its number is not there, and a number that nobody allows is.

    This finds them where the movement's name was not understood.
    """
    out: list[Slip] = []
    anywhere = {v for values in (*claims.allowed.values(), *claims.metres.values()) for v in values}
    for found in said:
        figure = found.line.figure
        slug = found.line.id.rsplit("/", 1)[-1].removesuffix("-2")
        values = claims.allowed.get(slug, ())
        if found.line.kind not in {"work", "again-work"} or figure is None or not figure.number.isdigit() or not values:
            continue
        inside = [t for t in tokens if found.start_ms <= t.start_ms < found.end_ms]
        numbers = [t for t in inside if t.value is not None]
        if not numbers or any(t.value == float(figure.number) for t in numbers):
            continue
        odd = [t for t in numbers if t.value not in anywhere]
        if not odd:
            continue
        first = odd[0]
        if any(abs(s.at_ms - first.start_ms) < SAME_MS // 5 for s in (*known, *out)):
            continue
        words = read_back(inside[:8])
        out.append(
            Slip(
                at_ms=first.start_ms,
                said=f"{first.value:g}",
                about=figure.label,
                board=figure.number,
                words=words,
                subject=slug,
            )
        )
    return out


# How free talk says a figure in its fewest words: "five rounds", "you rest one minute", "cap is 22 minutes". Which words tell it.
_TOLD_BY = {"shape": "round", "rest": "rest", "cap": "cap"}


def _by_figure(lines: Sequence[tuple[Line, int]], tokens: Sequence[Token], chunks: Sequence[Chunk]) -> list[Match]:
    """Find the rounds, the rest and the cap where they are said in a few words of one's own: the number near the word that tells it."""
    out: list[Match] = []
    for index, (line, _) in enumerate(lines):
        word = _TOLD_BY.get(line.kind)
        if word is None or line.figure is None:
            continue
        numbers = _values(line.figure.number)
        for chunk, part in enumerate(chunks):
            inside = tokens[part.first : part.last + 1]
            told = [n for n, t in enumerate(inside) if t.text == word]
            if any(t.value in numbers and any(abs(n - at) <= NEAR for at in told) for n, t in enumerate(inside)):
                out.append(Match(line=index, first=chunk, last=chunk, share=1.0))
                break
    return out


def _values(figure: str) -> set[float]:
    """Give what a figure may be said as: `22:00` is 22 minutes or 1320 seconds, `5` is five."""
    minutes, colon, seconds = figure.partition(":")
    if not (minutes.isdigit() and (not colon or seconds.isdigit())):
        return set()
    return {float(minutes) + int(seconds) / 60, float(minutes) * 60 + int(seconds)} if colon else {float(minutes)}


def _ends(transcript: Transcript, words: Sequence[TimedWord]) -> list[int]:
    """Give when sentences and captions end."""
    out = [c.end_ms for c in transcript.cues]
    out += [w.end_ms for w in words if re.search(r"[.?!]$", w.word)]
    return out


def _from_its_words(match: Match, wanted: Sequence[Token], tokens: Sequence[Token], chunks: Sequence[Chunk]) -> Match:
    """Let a line begin with the first chunk that has a good part of its words: its title alone was said in the greeting before."""
    own = {t.text for t in wanted} - EMPTY
    spans = range(match.first, match.last + 1)
    shared = [len(own & {t.text for t in tokens[chunks[n].first : chunks[n].last + 1]}) for n in spans]
    first = next(n for n, count in zip(spans, shared, strict=True) if count * 2 > max(shared) or n == match.last)
    return match.model_copy(update={"first": first})


def _said(line: Line, segment: int, match: Match, chunks: Sequence[Chunk], outline: Outline) -> Said:
    start, end = chunks[match.first].start_ms, chunks[match.last].end_ms
    early = line.must and outline.segments[segment].kind in EARLY
    late = early and start > (EARLY_S + LATE_S) * 1000
    return Said(
        line=line,
        segment=segment,
        start_ms=start,
        end_ms=end,
        share=round(match.share, 2),
        moved=match.moved,
        late=late,
    )


def _times(outline: Outline, said: Sequence[Said], transcript: Transcript) -> list[SegmentTime]:
    """Give each segment's real time: from its first line that was found in order to the first one of a later segment."""
    starts: dict[int, int] = {}
    for found in said:
        if not found.moved:
            starts[found.segment] = min(found.start_ms, starts.get(found.segment, found.start_ms))
    out = []
    for number, segment in enumerate(outline.segments):
        start = starts.get(number)
        later = [t for n, t in starts.items() if n > number and start is not None and t > start]
        end = min(later, default=transcript.end_ms)
        real = (end - start) / 1000 if start is not None else None
        out.append(
            SegmentTime(
                title=segment.title,
                planned_s=segment.tenths / 10,
                real_s=real,
                start_ms=start,
                why=_why(segment, number, real, said),
            )
        )
    return out


def _why(segment: Segment, number: int, real: float | None, said: Sequence[Said]) -> str:
    if real is None:
        return "not found in the take"
    planned = segment.tenths / 10
    if abs(real - planned) < max(5.0, 0.25 * planned):
        return ""
    mine = [s for s in said if s.segment == number]
    lacking = len(segment.lines) - len(mine)
    if real < planned:
        return (
            f"{lacking} of {len(segment.lines)} lines {'was' if lacking == 1 else 'were'} not said"
            if lacking
            else "said faster than planned"
        )
    shown = sum(x.show_tenths for x in segment.lines) / 10
    return (
        "more was shown or said than planned"
        if shown or len(mine) >= len(segment.lines) / 2
        else "other things were said"
    )


def _again(
    outline: Outline,
    missing: Sequence[Line],
    slips: Sequence[Slip],
    said: Sequence[Said],
    film: set[str],
) -> list[Again]:
    """Say what to film again: the must-say lines that are missing and the lines with slips, put together by segment."""
    wrong = film | {
        s.line.id
        for s in said
        for slip in slips
        if _is_of(s.line, slip) and s.start_ms - 1500 <= slip.at_ms <= s.end_ms + 1500
    }
    lost = {x.id for x in missing if x.must}
    out = []
    for segment in outline.segments:
        lines = [x for x in segment.lines if x.id in lost or x.id in wrong]
        if lines:
            by_text = all(x.kind in _BY_TEXT and x.figure is not None for x in lines)
            seconds = sum(x.tenths for x in lines) / 10
            out.append(
                Again(
                    segment=segment.title,
                    camera=segment.camera,
                    sentences=tuple(x.text for x in lines),
                    seconds=seconds,
                    by_text=by_text,
                )
            )
    return out


def _misheard(
    tokens: Sequence[Token], words: Sequence[TimedWord], names: Mapping[str, str], movements: Mapping[str, Movement]
) -> list[Misheard]:
    """List names of movements that were written otherwise: to be accepted, never put right in silence."""
    out = []
    for token in tokens:
        if not token.text.startswith("@"):
            continue
        written = " ".join(w.word for w in words if token.start_ms <= w.start_ms < token.end_ms)
        bare = " ".join(re.findall(r"[a-z]+", written.lower().replace("-", " ")))
        slug = token.text[1:]
        if bare and bare not in names and slug in movements and not set(bare.split()) <= EMPTY:
            many = bare.endswith("s") and not movements[slug].name.endswith("s")
            name = (movements[slug].plural if many else movements[slug].name).lower()
            out.append(Misheard(at_ms=token.start_ms, written=written.strip(".,;:!?…"), name=name))
    return out


def _on_screen(said: Sequence[Said]) -> list[OnScreen]:
    out = []
    for found in said:
        figure = found.line.figure
        if figure is not None and found.line.kind in {"shape", "work", "cap", "rest", "forced"}:
            text = " · ".join(x for x in (f"{figure.number} {figure.label}", figure.under) if x)
            out.append(OnScreen(text=text, start_ms=found.start_ms, end_ms=max(found.end_ms, found.start_ms + 2000)))
    return sorted(out, key=lambda x: x.start_ms)


def slip_words(slip: Slip) -> str:
    """Say a slip in one line."""
    what, _, more = slip.about.partition(", ")
    if more == "in meters":
        return (
            f"{write_clock(slip.at_ms / 1000)} you said {slip.said} meters for {what}, the board says {slip.board} repetitions "
            f'("… {slip.words} …")'
        )
    return f'{write_clock(slip.at_ms / 1000)} you said {slip.said} for {slip.about}, the board says {slip.board} ("… {slip.words} …")'
