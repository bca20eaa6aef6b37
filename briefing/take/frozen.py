"""A recorded video is held against what was frozen when it was recorded, not against the plan of now."""

from __future__ import annotations

from briefing.outline.models import Line, Outline
from briefing.series.recorded import Recorded
from briefing.speech.spoken import spoken_form
from briefing.take.words import text_tokens
from briefing.telling.figures import Figure

# Of a line that the plan of now no longer has, its id alone tells what it was; these sections and segments are always said.
_MUST = frozenset({"safety", "entry", "option", "workout", "stop", "promise"})


def as_recorded(outline: Outline, recorded: Recorded) -> Outline:
    """Give the outline of now with the lines that were frozen: their words, no line more and none less, in the segments of then.

    What was frozen are words. A line whose words have changed keeps its place and kind; its card phrase is its words, and its
    figure is the number that was said then. A line that the plan of now no longer has stands at the end of its segment.
    """
    known = {line.id: line for line in (*outline.lines, *(x.line for x in outline.left_out))}
    places: dict[str, list[Line]] = {s.title: [] for s in outline.segments}
    order = {i: at for at, i in enumerate(known)}
    for line_id in sorted(recorded.lines, key=lambda i: order.get(i, len(order))):
        text = recorded.lines[line_id]
        now = known.get(line_id)
        line = _of_then(now, text) if now is not None else _gone(line_id, text)
        title = recorded.segments.get(line_id, "")
        if title not in places:
            # The segment has another title now: its lines stay with those of the same segment.
            title = next((s.title for s in outline.segments if line_id in {x.id for x in s.lines}), "")
        places.setdefault(title or outline.segments[-1].title, []).append(line)
    segments = tuple(s.model_copy(update={"lines": tuple(places[s.title])}) for s in outline.segments)
    return outline.model_copy(update={"segments": segments, "left_out": (), "video": recorded.number})


def _of_then(now: Line, text: str) -> Line:
    if now.text == text:
        return now
    figure = now.figure
    number = next((t.value for t in text_tokens(spoken_form(text), {}) if t.value is not None), None)
    if figure is not None and number is not None and figure.number.removesuffix(" m").isdigit():
        unit = " m" if figure.number.endswith(" m") else ""
        figure = Figure(number=f"{number:g}{unit}", label=figure.label)
    return now.model_copy(update={"text": text, "spoken": "", "card": text.rstrip("."), "figure": figure})


def _gone(line_id: str, text: str) -> Line:
    parts = line_id.split("/")
    section = parts[1] if len(parts) == 3 and not parts[1].isdigit() else parts[0]
    movement = parts[0] if len(parts) == 3 and not parts[1].isdigit() else None
    return Line(
        id=line_id,
        kind=section,
        movement=movement,
        must=section in _MUST,
        text=text,
        card=text.rstrip("."),
        source="as it was recorded",
    )
