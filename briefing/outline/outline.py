"""From composed segments to a fitted outline: steer, seconds, fit, start times and bands."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from rapidfuzz import fuzz, process

from briefing.outline.fit import Fit, Item, fit
from briefing.outline.models import LeftOut, Line, Segment
from briefing.problems import Model, Problem
from briefing.settings.models import Settings, Words
from briefing.speech.seconds import Pace, band, talk_tenths
from briefing.speech.spoken import spoken_form


class Fitted(Model):
    """Segments with what is said, what was left out, and the figures of the fit."""

    segments: tuple[Segment, ...]
    left_out: tuple[LeftOut, ...]
    fit: Fit
    low_tenths: int
    high_tenths: int


def steer(
    segments: Sequence[Segment], settings: Settings
) -> tuple[tuple[Segment, ...], tuple[LeftOut, ...], list[Problem]]:
    """Apply `say:` and `skip:`: lines named by card phrase, or by movement / card phrase.

    What is skipped comes back as left out. Problems: `line-unknown` (error, with the nearest), `skip-must` (error: a line
    that is always said cannot be skipped), `say-and-skip` (error).
    """
    problems: list[Problem] = []
    said = _named(segments, settings.say, problems)
    skipped = _named(segments, settings.skip, problems)
    must = {line.id: line for s in segments for line in s.lines if line.must}
    for ident, words in skipped.items():
        if ident in said:
            problems.append(
                _problem("say-and-skip", f'"{words.text}" stands under say and under skip', "one of the two", words)
            )
        elif ident in must:
            problems.append(
                _problem(
                    "skip-must",
                    f'"{words.text}" is always said ({_why_must(must[ident])}), so it cannot be skipped',
                    None,
                    words,
                )
            )
    out: list[LeftOut] = []
    steered = []
    gone = {i for i in skipped if i not in must and i not in said}
    changed = True
    while changed:
        children = {x.id for s in segments for x in s.lines if x.needs in gone} - gone
        changed = bool(children)
        gone |= children
    for number, segment in enumerate(segments):
        kept = []
        for line in segment.lines:
            if line.id in gone:
                out.append(
                    LeftOut(
                        line=line,
                        segment=number,
                        why="skipped by you" if line.id in skipped else "needs a line that you skipped",
                    )
                )
            else:
                kept.append(line.model_copy(update={"must": True}) if line.id in said else line)
        steered.append(segment.model_copy(update={"lines": tuple(kept)}))
    return tuple(steered), tuple(out), problems


def _why_must(line: Line) -> str:
    return {
        "safety": "a safety note",
        "entry": "who does a movement at all",
        "stop": "when to stop",
        "point": "a movement's first point",
        "easier": "a movement's first easier version",
    }.get(line.kind, "the board's numbers")


def _named(segments: Sequence[Segment], names: Sequence[Words], problems: list[Problem]) -> dict[str, Words]:
    found: dict[str, Words] = {}
    lines = [(line, (s.movement or s.kind)) for s in segments for line in s.lines]
    known = {f"{s.title} / {line.card}".lower() for s in segments for line in s.lines}
    titles = {s.title.lower(): s for s in segments}
    for words in names:
        owner, _, card = (p.strip().lower() for p in words.text.rpartition("/"))
        hits = [
            line
            for line, place in lines
            if card in {line.card.lower(), re.sub(r"^\d+ (?:×|s) ", "", line.card.lower()), line.id}
            and (not owner or owner in {place.lower(), place.replace("-", " ").lower()} or _title(titles, owner, place))
        ]
        if not hits and words.text.lower() in {line.id for line, _ in lines}:
            hits = [line for line, _ in lines if line.id == words.text.lower()]
        if not hits:
            near = process.extractOne(words.text.lower(), sorted(known), scorer=fuzz.WRatio, score_cutoff=60)
            problems.append(
                _problem("line-unknown", f'no line is called "{words.text}"', near[0] if near else None, words)
            )
        for line in hits:
            found[line.id] = words
    return found


def _title(titles: dict[str, Segment], owner: str, place: str) -> bool:
    segment = titles.get(owner)
    return segment is not None and place in {segment.movement, segment.kind}


def _problem(code: str, message: str, suggestion: str | None, words: Words) -> Problem:
    return Problem(level="error", code=code, message=message, suggestion=suggestion, place=words.place)


def with_seconds(segments: Sequence[Segment], pace: Pace, own: Sequence[tuple[str, str]] = ()) -> tuple[Segment, ...]:
    """Give each line its spoken form and the tenths of its talk; shown repetitions stand beside them already."""

    def timed(line: Line) -> Line:
        spoken = spoken_form(line.text, own)
        return line.model_copy(update={"spoken": spoken, "talk_tenths": talk_tenths(spoken, pace.k)})

    return tuple(s.model_copy(update={"lines": tuple(timed(line) for line in s.lines)}) for s in segments)


def fit_segments(segments: Sequence[Segment], capacity_tenths: int | None, pace: Pace) -> Fitted:
    """Choose the lines that fit, set start times, and give bands for each segment and the whole.

    Bands do not add: each is computed for its own scope.
    """
    lines = [line for s in segments for line in s.lines]
    index = {line.id: i for i, line in enumerate(lines)}
    items = [
        Item(tenths=line.tenths, worth=line.worth, must=line.must, needs=index.get(line.needs) if line.needs else None)
        for line in lines
    ]
    chosen = fit(items, capacity_tenths)
    keep = {lines[i].id for i in chosen.chosen}
    return Fitted(
        segments=_timeline(segments, lambda line: line.id in keep, pace),
        left_out=tuple(
            LeftOut(line=line, segment=number, why=_why_out(line, keep))
            for number, s in enumerate(segments)
            for line in s.lines
            if line.id not in keep
        ),
        fit=chosen,
        **_band(tuple(line for line in lines if line.id in keep), pace),
    )


def _why_out(line: Line, keep: set[str]) -> str:
    if line.needs and line.needs not in keep:
        return "the line it needs is left out"
    return "no time: other lines are worth more"


def _timeline(segments: Sequence[Segment], keep: Callable[[Line], bool], pace: Pace) -> tuple[Segment, ...]:
    out, start = [], 0
    for segment in segments:
        lines = tuple(line for line in segment.lines if keep(line))
        if not lines:
            continue
        made = segment.model_copy(update={"lines": lines, "start_tenths": start, **_band(lines, pace)})
        out.append(made)
        start += made.tenths
    return tuple(out)


def _band(lines: tuple[Line, ...], pace: Pace) -> dict[str, int]:
    talk = sum(line.talk_tenths for line in lines) / 10
    shown = sum(line.show_tenths for line in lines) / 10
    made = band(talk, shown, pace.calibrated_talk_s)
    return {"low_tenths": round(made.low_s * 10), "high_tenths": round(made.high_s * 10)}
