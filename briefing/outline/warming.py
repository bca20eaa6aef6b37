"""The warm-up and the cool-down of a workout, composed from what it loads: general first, then specific; then down again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from briefing.library.models import Movement
from briefing.outline.closing import timing
from briefing.outline.material import Material
from briefing.outline.models import Line, Segment, Show
from briefing.outline.opening import STOP_CARD, taught
from briefing.outline.phrases import name_words, time_words, why_words
from briefing.outline.wording import Voice, upper_first

# Our choice, inside published advice of up to ten minutes of warm-up and five to ten of cool-down (Ottawa Heart Institute).
RAISE_S, DRILL_REPS, WHOLE_REPS = 60, 6, 5
WALK_S, STRETCH_S, BREATHE_S = 90, 30, 60
MOST_DRILLS, MOST_STRETCHES = 4, 3
# What gets somebody warm without kit; the second only where the workout runs.
RAISERS: tuple[str, ...] = ("march-in-place", "easy-jog")


# Kit that is at hand wherever somebody trains.
AT_HOME = frozenset({"mat", "wall", "towel", "chair"})


def choose(pool: Sequence[Movement], loaded: Sequence[Movement], unit: str, most: int) -> tuple[Movement, ...]:
    """Choose drills that together cover what a workout loads: each time the one that covers most of what is still uncovered.

    `unit` is what a drill counts first: reps for the warm-up, seconds for the cool-down. Standing ones come before those on
    the floor, so that one gets down once. An area counts as often as movements work hard on it.
    """
    weight = Counter(area for m in loaded for area in m.works_hard_on)
    left = set(weight)
    chosen: list[Movement] = []
    candidates = [
        m for m in pool if m.counts[0] == unit and m.works_hard_on and all(set(k.names) & AT_HOME for k in m.kit)
    ]
    while left and candidates and len(chosen) < most:
        best = max(
            candidates,
            key=lambda m: (sum(weight[a] for a in m.works_hard_on if a in left), -len(m.works_hard_on), m.slug),
        )
        if not left & set(best.works_hard_on):
            break
        chosen.append(best)
        candidates.remove(best)
        left -= set(best.works_hard_on)
    return tuple(sorted(chosen, key=lambda m: m.position == "floor"))


def compose_warm_up(m: Material, drills: Sequence[Movement], raisers: Sequence[Movement]) -> tuple[Segment, ...]:
    """Compose the warm-up: welcome, get warm, loosen what is loaded, the build-ups of the workout's movements, ready."""
    voice = m.voice
    welcome = [
        m.line(
            "promise",
            "promise/warm-up",
            voice.say("warm-up welcome", title=m.workout.title),
            "warm-up",
            must=True,
            source=voice.source("warm-up welcome"),
        ),
        m.line(
            "stop",
            "stop/warm-up",
            voice.say("again stop"),
            STOP_CARD,
            must=True,
            source=voice.source("again stop"),
        ),
    ]
    out = [Segment(kind="promise", title="Before we start", lines=tuple(welcome))]
    runs = any(x.pattern == "run" for x in taught(m))
    warm = [_raise(m, x) for x in raisers if x.slug != "easy-jog" or runs]
    if warm:
        out.append(Segment(kind="raise", title="Get warm", lines=tuple(warm)))
    for drill in drills:
        lines = tuple(_drill(m, drill, "drill", Show(reps=DRILL_REPS, camera=drill.camera, how="counted")))
        out.append(Segment(kind="drill", title=drill.name, movement=drill.slug, lines=lines, camera=drill.camera))
    for number, movement in enumerate(taught(m)):
        lines = tuple(_prepare(m, movement, first=number == 0))
        if lines:
            out.append(
                Segment(
                    kind="prepare",
                    title=movement.name,
                    movement=movement.slug,
                    lines=lines,
                    camera=movement.camera,
                    kit=movement.kit,
                )
            )
    ready = [
        m.line("go", "go/ready", voice.say("ready"), "ready: kit, timer, go", must=True, source=voice.source("ready")),
        *timing(m),
    ]
    out.append(Segment(kind="go", title="Ready", lines=tuple(ready)))
    return tuple(out)


def compose_cool_down(m: Material, stretches: Sequence[Movement], breathing: Movement | None) -> tuple[Segment, ...]:
    """Compose the cool-down: walk, stretch what was loaded, breathe, write down, and what to watch in the next days."""
    voice = m.voice
    welcome = m.line(
        "promise",
        "promise/cool-down",
        voice.say("cool-down welcome", title=m.workout.title),
        "cool-down",
        must=True,
        source=voice.source("cool-down welcome"),
    )
    walk = m.line(
        "walk",
        "walk/walk",
        voice.say("walk"),
        f"walk {WALK_S} s",
        must=True,
        show=Show(hold_s=WALK_S, camera="front", how="silent"),
        source=voice.source("walk"),
    )
    out = [Segment(kind="walk", title="Walk", lines=(welcome, walk))]
    for stretch in stretches:
        sides = 2 if stretch.sides == "each" else 1
        lines = tuple(
            _drill(m, stretch, "stretch", Show(hold_s=STRETCH_S * sides, camera=stretch.camera, how="silent"))
        )
        out.append(
            Segment(kind="stretch", title=stretch.name, movement=stretch.slug, lines=lines, camera=stretch.camera)
        )
    if breathing is not None:
        lines = tuple(_drill(m, breathing, "breathe", Show(hold_s=BREATHE_S, camera=breathing.camera, how="silent")))
        out.append(
            Segment(kind="breathe", title=breathing.name, movement=breathing.slug, lines=lines, camera=breathing.camera)
        )
    after = _after(m, voice)
    if m.settings.sign_off:
        after.append(m.line("sign-off", "go/sign-off", m.settings.sign_off, "goodbye", source="series.md"))
    out.append(Segment(kind="go", title="Afterwards", lines=tuple(after)))
    return tuple(out)


def _after(m: Material, voice: Voice) -> list[Line]:
    """Say every alternative of the phrase: here they are two different things."""
    count = len(voice.wording.phrases["after"])
    cards = ("write it down", "dark urine, swelling: doctor")
    return [
        m.line(
            "after",
            f"go/after-{n + 1}",
            voice.say("after"),
            cards[n % 2],
            rank=n,
            must=True,
            source=voice.source("after"),
        )
        for n in range(count)
    ]


def _raise(m: Material, movement: Movement) -> Line:
    work = f"{upper_first(_doing(movement))} for {time_words(RAISE_S)}"
    text = m.voice.say("raise", work=work, line=movement.points[0].say)
    show = Show(hold_s=RAISE_S, camera=movement.camera, how="silent")
    return m.line(
        "raise",
        f"raise/{movement.slug}",
        text,
        f"1:00 {movement.name.lower()}",
        must=True,
        movement=movement,
        show=show,
        source=movement.file,
    )


def _doing(movement: Movement) -> str:
    """Give the movement as an instruction: "March in place", "Jog easily" where its name is no verb."""
    return {"easy-jog": "jog easily"}.get(movement.slug, name_words(movement))


def _drill(m: Material, movement: Movement, kind: str, show: Show) -> list[Line]:
    text = m.voice.say(kind, name=movement.name, what=movement.what)
    first = m.line(
        kind,
        f"{movement.slug}/{kind}",
        text,
        movement.name,
        must=True,
        movement=movement,
        show=show,
        source=movement.file,
    )
    point = movement.points[0]
    lines = [
        first,
        m.line(
            "point",
            f"{movement.slug}/point",
            m.voice.say("point", line=point.say),
            point.card,
            must=True,
            movement=movement,
            source=movement.file,
        ),
    ]
    if movement.easier:
        easier = movement.easier[0]
        text = m.voice.say("easier", why=why_words(easier.reasons, (), movement), line=easier.say)
        lines.append(
            m.line(
                "easier",
                f"{movement.slug}/easier",
                text,
                easier.card,
                must=True,
                movement=movement,
                source=movement.file,
            )
        )
    return lines


def _prepare(m: Material, movement: Movement, *, first: bool) -> list[Line]:
    """Say the build-up of a movement, one step needing the other, then a few whole ones."""
    lines: list[Line] = []
    for step in movement.build_up:
        key = ("prepare first" if first else "prepare") if not lines else "step"
        text = m.voice.say(key, name=name_words(movement), line=step.say)
        show = Show(
            reps=step.reps, hold_s=step.hold_s, camera=step.camera, how="counted" if step.reps else "talked over"
        )
        needs = lines[-1].id if lines else None
        card = f"{step.reps} × {step.card}" if step.reps else step.card
        lines.append(
            m.line(
                "prepare",
                f"{movement.slug}/prepare",
                text,
                card,
                rank=len(lines),
                movement=movement,
                show=show,
                needs=needs,
                source=movement.file,
            )
        )
    if lines and movement.recap and movement.counts[0] == "reps":
        show = Show(reps=WHOLE_REPS, camera=movement.camera, how="counted")
        text = m.voice.say("prepare whole", recap=movement.recap)
        lines.append(
            m.line(
                "prepare",
                f"{movement.slug}/whole",
                text,
                f"{WHOLE_REPS} × whole, easy",
                movement=movement,
                show=show,
                needs=lines[-1].id,
                source=movement.file,
            )
        )
    return lines
