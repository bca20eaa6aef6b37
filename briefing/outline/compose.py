"""Composing: the segments of a briefing in the order in which they can be followed, with every line there is.

No line knows which others will be left out, so each makes sense alone or names the one line that it needs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from briefing.library.models import KitItem, kit_word
from briefing.outline import cautions, closing, opening, teaching, workout
from briefing.outline.material import Material, taught
from briefing.outline.models import Line, Segment, SegmentKind, Sight
from briefing.outline.order import BREATHLESS
from briefing.telling.kit import kit_words, more_kit_words, stays
from briefing.telling.sentences import join_words


@dataclass(frozen=True)
class Chapter:
    """A kind of segment: its title and what writes its lines. A row more is a chapter more."""

    kind: SegmentKind
    title: str
    lines: Callable[[Material], list[Line]]


BEFORE: tuple[Chapter, ...] = (
    Chapter("promise", "What you get, what you need", opening.promise),
    Chapter("stop", "When to stop", cautions.before_all),
    Chapter("workout", "The workout", workout.workout),
    Chapter("feel", "How it should feel", opening.feel),
)
AFTER: tuple[Chapter, ...] = (
    Chapter("change", "The change-over", teaching.change),
    Chapter("versions", "Which version is yours", closing.versions),
    Chapter("score", "Timer and tally", closing.timing),
    Chapter("again", "The workout again", closing.again),
    Chapter("go", "Go and warm up", closing.go),
)


def compose(m: Material) -> tuple[Segment, ...]:
    """Compose all segments with all their lines, in order; a segment without lines is left out."""
    m = m.begun()
    segments = [Segment(kind=c.kind, title=c.title, lines=tuple(c.lines(m))) for c in BEFORE]
    for number, movement in enumerate(taught(m)):
        segments.append(
            Segment(
                kind="movement",
                title=movement.name,
                movement=movement.slug,
                lines=tuple(teaching.teach(m, movement, first=number == 0)),
                camera=movement.camera,
                kit=at_hand(movement.kit, m.kit),
            )
        )
    segments += [Segment(kind=c.kind, title=c.title, lines=tuple(c.lines(m))) for c in AFTER]
    kept = [s for s in segments if s.lines]
    return tuple(with_sight(with_action(m, kept, at), m) for at in range(len(kept)))


# Our choice, after common practice: hard repetitions leave a coach without whole sentences for about ten seconds.
HARD_REPS = 4
BREATHLESS_S = 10


def with_sight(segment: Segment, m: Material) -> Segment:
    """Say for each line whether the coach sees a card while it is said: to the lens, side on, face down, out of breath.

    Within a line the talk comes before the repetitions, so only the lines after counted or silent repetitions of something
    hard are said out of breath.
    """
    movement = m.of(segment.movement) if segment.movement else None
    lines, tired_tenths = [], 0
    for line in segment.lines:
        sight: Sight = "lens"
        if tired_tenths > 0:
            sight = "out of breath"
        elif movement is not None and line.show is not None:
            sight = (
                "face down" if movement.position == "floor" else "lens" if line.show.camera == "front" else "side on"
            )
        lines.append(line.model_copy(update={"sight": sight}))
        tired_tenths = max(0, tired_tenths - line.tenths - 10 * len(line.text) // 15)
        hard = (
            movement is not None
            and movement.pattern in BREATHLESS
            and line.show is not None
            and line.show.how != "talked over"
        )
        if hard and (line.show.reps or 0) >= HARD_REPS:  # type: ignore[union-attr]  # hard says that there is one
            tired_tenths = 10 * BREATHLESS_S
    return segment.model_copy(update={"lines": tuple(lines)})


def compose_short(m: Material, segments: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """Give the version for people who have seen it before, from the same lines.

    When to stop, the workout with its numbers and what the clock forces, the timer, one point a movement, go. No line changes
    a word.
    """
    by_kind = {s.kind: s for s in segments}
    wanted: tuple[tuple[SegmentKind, frozenset[str] | None], ...] = (
        ("stop", frozenset({"stop"})),
        ("workout", None),
        ("score", frozenset({"timer"})),
        ("again", frozenset({"again-point"})),
        ("go", frozenset({"go", "sign-off"})),
    )
    out = []
    for kind, kinds in wanted:
        segment = by_kind.get(kind)
        if segment is None:
            continue
        kept = [x for x in segment.lines if kinds is None or x.kind in kinds]
        lines = tuple(x.model_copy(update={"needs": None}) for x in kept)
        if lines:
            title = "One point each" if kind == "again" else segment.title
            out.append(segment.model_copy(update={"lines": lines, "title": title}))
    return tuple(with_action(m, out, at) for at in range(len(out)))


def with_action(m: Material, segments: Sequence[Segment], at: int) -> Segment:
    """Say what the coach does after this segment: put down, pick up, turn."""
    segment = segments[at]
    segment = segment.model_copy(update={"kit": at_hand(segment.kit, m.kit)})
    if at + 1 == len(segments):
        return segment.model_copy(update={"next_action": "camera off"})
    after = segments[at + 1]
    actions = []
    here, there = segment.kit, at_hand(after.kit, m.kit)
    # What is used again stays where it is.
    if left := _more(here, there):
        actions.append("put the weight down" if _weights(left) else "step aside")
    taken = _more(there, here)
    actions += list(dict.fromkeys(f"go {place}" for k in taken if (place := kit_word(k.names[0]).place)))
    at_feet = {k.names for k in here}
    if fetched := [more_kit_words(k) if k.names in at_feet else kit_words(k) for k in taken if not stays(k)]:
        actions.append("fetch " + join_words(fetched))
    if after.camera != segment.camera:
        actions.append(
            {"front": "face the lens", "side": "turn side on", "three-quarter": "turn a quarter"}[after.camera]
        )
    movement = m.of(after.movement) if after.movement else None
    if movement is not None and movement.position == "floor":
        actions.append("get down on the floor")
    return segment.model_copy(update={"next_action": ", ".join(actions) or "go on"})


def at_hand(needed: tuple[KitItem, ...], kit: tuple[KitItem, ...]) -> tuple[KitItem, ...]:
    """Name the kit that lies there: of "dumbbell or kettlebell" the one that is listed."""
    out = []
    for item in needed:
        names = next((tuple(n for n in k.names if n in item.names) for k in kit if set(k.names) & set(item.names)), ())
        out.append(item.model_copy(update={"names": names}) if names else item)
    return tuple(out)


def _more(a: tuple[KitItem, ...], b: tuple[KitItem, ...]) -> tuple[KitItem, ...]:
    """Give what `a` has more of than `b`: of two dumbbells after one, one."""
    counts = {k.names: k.count for k in b}
    more = [(k, k.count - counts.get(k.names, 0)) for k in a]
    return tuple(k.model_copy(update={"count": n}) for k, n in more if n > 0)


def _weights(kit: tuple[KitItem, ...]) -> bool:
    return any(kit_word(name).weight for k in kit for name in k.names)
