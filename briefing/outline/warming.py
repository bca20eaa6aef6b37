"""The warm-up and the cool-down of a workout, composed from what it loads: general first, then specific; then down again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from briefing.clock.simulate import Run
from briefing.library.models import KitItem, Movement
from briefing.outline.cautions import stop
from briefing.outline.closing import timing
from briefing.outline.material import Material, merge_kit, taught
from briefing.outline.models import Line, Segment, Show
from briefing.outline.wording import Voice
from briefing.outline.workout import around
from briefing.telling.kit import kit_card, kit_words, stays
from briefing.telling.numbers import count_words, time_words, times_words
from briefing.telling.phrases import name_words
from briefing.telling.reasons import AREA_SAID, has_load, why_words
from briefing.telling.sentences import join_words, sentence, upper_first

# Our choice, inside published advice of up to ten minutes of warm-up and five to ten of cool-down (Ottawa Heart Institute).
MOST_S = 600
RAISE_S, DRILL_REPS = 60, 6
# Our choice: whole repetitions, light and easy, for the hands to find their way; an even number where the sides take turns.
WHOLE_REPS, WHOLE_TURNS, WHOLE_SIDE = 5, 6, 3
# Our choice: of a run each of three speeds, of a carry, a row or a ride some steps or strokes, of a hold just the place.
SPEED_S, WHILE_S, HOLD_S = 20, 20, 10
WALK_S, STRETCH_S, BREATHE_S = 90, 30, 60
MOST_DRILLS, MOST_STRETCHES = 3, 3
# Our choice: an area with less than this share of what the hardest worked one did needs no drill and no stretch of its own.
LEAST_SHARE = 0.2
# What gets somebody warm without kit; the second only where the workout runs.
RAISERS: tuple[str, ...] = ("march-in-place", "easy-jog")
# What one calms down with.
BREATHING: tuple[str, ...] = ("slow-breathing",)
# Kit that is at hand wherever somebody trains.
AT_HOME = frozenset({"mat", "wall", "towel", "chair"})
# Runs that need no speeds of their own in a warm-up.
_CALM = frozenset({"march-in-place", "walk", "stair-climb", "easy-jog"})

# What a drill or a stretch is for, the main thing first. `works_hard_on` says what it asks of somebody (kneeling asks the knees),
# which is something else. A movement that is not here is for what it works on. Common practice, no source.
GOOD_FOR: dict[str, tuple[str, ...]] = {
    "ankle-rock": ("ankle", "knee"),
    "arm-circle": ("shoulder", "neck"),
    "calf-stretch": ("ankle",),
    "cat-and-cow": ("low back",),
    "chest-opener-on-the-floor": ("shoulder", "neck"),
    "chest-stretch-in-a-doorway": ("shoulder", "elbow"),
    "hamstring-stretch": ("hip", "low back"),
    "hip-circle": ("hip",),
    "hip-flexor-stretch": ("knee", "hip"),
    "kneeling-reach": ("low back", "shoulder"),
    "leg-swing": ("hip", "low back"),
    "lunge-and-reach": ("hip", "low back", "knee"),
    "wrist-circle": ("wrist", "grip"),
}
# How a coach names what has worked: the muscles around the joint.
AREA_DID: dict[str, str] = {
    "knee": "thighs",
    "hip": "hips",
    "low back": "back",
    "shoulder": "shoulders",
    "elbow": "arms",
    "wrist": "wrists",
    "grip": "forearms",
    "neck": "neck",
    "ankle": "calves",
    "pelvic floor": "belly",
}
_LEGS = frozenset({"knee", "hip", "ankle"})
_ARMS = frozenset({"shoulder", "elbow", "wrist", "grip"})


class Chosen(NamedTuple):
    """A drill or a stretch, and the area it was chosen for."""

    movement: Movement
    area: str


def loads(run: Run, movements: Mapping[str, Movement]) -> dict[str, float]:
    """Give how much each area worked, in seconds of a person's run.

    A movement counts in full for the area that it works on most, half for the second, a third for the third (our choice: a squat
    asks the low back too, and is leg work all the same).
    """
    out: dict[str, float] = {}
    for event in run.events:
        if event.kind in {"work", "interrupt"} and event.movement in movements:
            for rank, area in enumerate(movements[event.movement].works_hard_on, 1):
                out[area] = out.get(area, 0.0) + (event.end_s - event.start_s) / rank
    return {area: round(seconds, 1) for area, seconds in out.items()}


def choose(pool: Sequence[Movement], worked: Mapping[str, float], unit: str, most: int) -> tuple[Chosen, ...]:
    """Choose drills or stretches for what worked, what worked hardest first.

    For the area that worked hardest and is not looked after yet, the one that looks after most of what is left. `unit` is what
    it counts first: reps for the warm-up, seconds for the cool-down. Only what needs no kit that is not in every home.
    """
    left = {a: s for a, s in worked.items() if s >= LEAST_SHARE * max(worked.values(), default=0)}
    candidates = [m for m in pool if m.counts[0] == unit and good_for(m) and all(set(k.names) & AT_HOME for k in m.kit)]
    chosen: list[Chosen] = []
    while left and len(chosen) < most:
        area = max(left, key=lambda a: left[a])
        able = [m for m in candidates if area in good_for(m)]
        if not able:
            del left[area]
            continue
        best = max(
            able, key=lambda m: (good_for(m)[0] == area, sum(left.get(a, 0) for a in good_for(m)), not m.kit, m.slug)
        )
        chosen.append(Chosen(best, area))
        candidates.remove(best)
        for a in good_for(best):
            left.pop(a, None)
    return tuple(chosen)


def good_for(movement: Movement) -> tuple[str, ...]:
    """Give the areas that a drill or a stretch looks after."""
    return GOOD_FOR.get(movement.slug, movement.works_hard_on)


def compose_warm_up(
    m: Material, drills: Sequence[Chosen], raisers: Sequence[Movement], *, called: bool = False
) -> tuple[Segment, ...]:
    """Compose the warm-up: welcome, get warm, loosen what is loaded, the build-ups of the workout's movements, ready.

    `called` says whether the series has a video of the workout itself, which comes next.
    """
    m = m.begun()
    voice = m.voice
    welcome = [
        m.line(
            "promise",
            "promise/warm-up",
            voice.say("warm-up welcome", title=m.workout.title),
            "warm-up",
            must=True,
            source=voice.source("warm-up welcome"),
        )
    ]
    welcome += [*_kit(m, kit_shown(m.kit, drills)), *stop(m)]
    out = [Segment(kind="promise", title="Before we start", lines=tuple(welcome))]
    runs = any(_is_run(x) for x in taught(m))
    warm = [line for x in _raised(raisers, runs=runs) for line in _raise(m, x, alone=not runs)]
    if warm:
        out.append(Segment(kind="raise", title="Get warm", lines=tuple(warm)))
    if m.workout.warm_up:
        out.append(Segment(kind="raise", title="From the board", lines=tuple(around(m, m.workout.warm_up, "warm-up"))))
    # Standing ones before those on the floor: one gets down once.
    for drill in sorted(drills, key=lambda d: d.movement.position == "floor"):
        x = drill.movement
        lines = (*_explain(m, drill, "drill"), *_count(m, x, "drill"))
        out.append(Segment(kind="drill", title=x.name, movement=x.slug, lines=lines, camera=x.camera, kit=x.kit))
    for movement in taught(m):
        lines = tuple(_prepare(m, movement, first=not any(s.kind == "prepare" for s in out)))
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
    out.append(Segment(kind="go", title="Ready", lines=tuple(_ready(m, called=called))))
    return tuple(out)


def compose_cool_down(m: Material, stretches: Sequence[Chosen], breathing: Movement | None) -> tuple[Segment, ...]:
    """Compose the cool-down: walk, stretch what was loaded, breathe, write down, and what to watch in the next days."""
    m = m.begun()
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
    at_hand = _kit(m, kit_shown((), stretches))
    out = [Segment(kind="walk", title="Walk", lines=(welcome, *at_hand, *stop(m), walk))]
    if m.workout.cool_down:
        out.append(
            Segment(kind="walk", title="From the board", lines=tuple(around(m, m.workout.cool_down, "cool-down")))
        )
    for rank, stretch in enumerate(stretches):
        x = stretch.movement
        key = "stretch why" if rank else "stretch why first"
        area = AREA_DID[stretch.area]
        why = m.line(
            "stretch",
            f"{x.slug}/why",
            voice.say(key, area=area),
            f"for your {area}",
            must=True,
            movement=x,
            source=voice.source(key),
        )
        lines = (why, *_explain(m, stretch, "stretch"), *_hold(m, x, "stretch", STRETCH_S))
        out.append(Segment(kind="stretch", title=x.name, movement=x.slug, lines=lines, camera=x.camera, kit=x.kit))
    if breathing is not None:
        x = breathing
        lines = (
            *_explain(m, Chosen(x, ""), "breathe", safety=False),
            *_hold(m, x, "breathe", BREATHE_S),
            *_safety(m, x),
        )
        out.append(Segment(kind="breathe", title=x.name, movement=x.slug, lines=lines, camera=x.camera))
    after = _after(m, voice)
    if m.settings.sign_off:
        after.append(m.line("sign-off", "go/sign-off", m.settings.sign_off, "goodbye", source="series.md"))
    out.append(Segment(kind="go", title="Afterwards", lines=tuple(after)))
    return tuple(out)


def kit_shown(kit: Sequence[KitItem], chosen: Sequence[Chosen]) -> tuple[KitItem, ...]:
    """Give the kit of a warm-up or a cool-down: that of the workout where it is used, and that of the drills or stretches."""
    return merge_kit([*kit, *(item for x in chosen for item in x.movement.kit)])


def _kit(m: Material, kit: Sequence[KitItem]) -> list[Line]:
    """Say what has to be within reach, and what to be near of."""
    lines = []
    for name, items in (("beside you", [k for k in kit if not stays(k)]), ("near you", [k for k in kit if stays(k)])):
        if items:
            text = m.voice.say(name, kit=join_words([kit_words(k) for k in items]))
            card = f"{name}: " + " · ".join(kit_card(k) for k in items)
            ident = f"promise/{name}"
            lines.append(m.line("kit", ident, text, card, must=True, source=m.voice.source(name)))
    return lines


def _ready(m: Material, *, called: bool) -> list[Line]:
    """Kit in place, the timer, how to count alone; then go. What is written down comes after the workout, not here.

    Who is called needs no timer.
    """
    key = "ready called" if called else "ready go"
    first = m.line(
        "go", "go/ready", m.voice.say("ready"), "ready: kit in place", must=True, source=m.voice.source("ready")
    )
    last = m.line("go", "go/go", m.voice.say(key), "start within 2 minutes", must=True, source=m.voice.source(key))
    left = {"record", "timer"} if called else {"record"}
    return [first, *(x for x in timing(m) if x.kind not in left), last]


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


def _is_run(movement: Movement) -> bool:
    return movement.pattern == "run" and movement.slug not in _CALM


def _raised(raisers: Sequence[Movement], *, runs: bool) -> list[Movement]:
    return [x for x in raisers if x.slug != "easy-jog" or runs]


def _raise(m: Material, movement: Movement, *, alone: bool) -> list[Line]:
    """Get warm with one movement; where it is the only one, it goes on a little faster."""
    work = f"{upper_first(_doing(movement))} for {time_words(RAISE_S)}"
    text = m.voice.say("raise", work=work, line=movement.points[0].say)
    lines = [
        m.line(
            "raise",
            f"raise/{movement.slug}",
            text,
            f"1:00 {movement.name.lower()}",
            must=True,
            movement=movement,
            source=movement.file,
        ),
        *_easier(m, movement),
    ]
    # The talk comes first: nobody is told of an easier way when the minute is over.
    show = Show(hold_s=RAISE_S, camera=movement.camera, how="silent")
    last = lines[-1]
    lines[-1] = last.model_copy(update={"show": show, "show_tenths": 10 * RAISE_S})
    if alone:
        text = m.voice.say("raise more", time=time_words(RAISE_S))
        lines.append(
            m.line(
                "raise",
                f"raise/{movement.slug}/more",
                text,
                "1:00 more, a little faster",
                must=True,
                movement=movement,
                show=show,
                source=m.voice.source("raise more"),
            )
        )
    return lines


def _doing(movement: Movement) -> str:
    """Give the movement as an instruction: "March in place", "Jog easily" where its name is no verb."""
    return {"easy-jog": "jog easily"}.get(movement.slug, name_words(movement))


def _explain(m: Material, chosen: Chosen, kind: str, *, safety: bool = True) -> list[Line]:
    """Say what it is, the one point, the easier way and the caution, all before anybody moves."""
    movement = chosen.movement
    name = movement.name
    if kind == "drill" and chosen.area:
        name += f", for your {AREA_SAID.get(good_for(movement)[0], chosen.area)}"
    text = m.voice.say(kind, name=name, what=movement.what)
    lines = [
        m.line(
            kind,
            f"{movement.slug}/{kind}",
            text,
            movement.name,
            must=True,
            movement=movement,
            source=movement.file,
        ),
        m.line(
            "point",
            f"{movement.slug}/point",
            m.voice.say("point", line=movement.points[0].say),
            movement.points[0].card,
            must=True,
            movement=movement,
            source=movement.file,
        ),
    ]
    return lines + _easier(m, movement) + (_safety(m, movement) if safety else [])


def _easier(m: Material, movement: Movement) -> list[Line]:
    if not movement.easier:
        return []
    easier = movement.easier[0]
    text = m.voice.say("easier", why=why_words(easier.reasons, (), movement), line=easier.say)
    return [
        m.line(
            "easier",
            f"{movement.slug}/easier",
            text,
            easier.card,
            must=True,
            movement=movement,
            source=movement.file,
        )
    ]


def _safety(m: Material, movement: Movement) -> list[Line]:
    return [
        m.line(
            "safety",
            f"{movement.slug}/safety/{point.card}",
            m.voice.say("safety", line=point.say),
            point.card,
            must=True,
            movement=movement,
            source=movement.file,
        )
        for point in movement.safety[:1]
    ]


def side_of(m: Material, movement: Movement) -> str:
    """Give what changes with a movement: the board's word, else leg or arm by what it works on, else side."""
    board = next((w.side_word for w in m.workout.works if w.movement == movement.slug and w.side_word), None)
    areas = set(good_for(movement)[:2])
    return board or ("leg" if areas & _LEGS else "arm" if areas & _ARMS else "side")


def _must(m: Material, movement: Movement, kind: str, name: str, words: tuple[str, str], show: Show) -> Line:
    """Make a line that is always said, with something shown; `words` are its text and its card."""
    text, card = words
    return m.line(
        kind, f"{movement.slug}/{name}", text, card, must=True, movement=movement, show=show, source=movement.file
    )


def _count(m: Material, movement: Movement, kind: str) -> list[Line]:
    """Say how many, and change sides: "Six on this leg." "Now the other leg, six again."."""
    show = Show(reps=DRILL_REPS, camera=movement.camera, how="counted")
    side, count = side_of(m, movement), count_words(DRILL_REPS)
    if movement.sides == "each":
        here = m.voice.say("reps here", count=upper_first(count), side=side)
        other = m.voice.say("reps other", count=count, side=side, line=_change(movement))
        return [
            _must(m, movement, kind, "count", (here, f"{DRILL_REPS} each {side}"), show),
            _must(m, movement, kind, "other-side", (other, f"other {side}: {DRILL_REPS}"), show),
        ]
    if movement.sides == "alternating":
        text = m.voice.say("reps changing", count=upper_first(count), sides=f"{side}s")
        return [_must(m, movement, kind, "count", (text, f"{DRILL_REPS}, change {side}s each time"), show)]
    how = movement.counts_when[0].say if movement.counts_when else ""
    text = m.voice.say("reps both", count=upper_first(count), line=how)
    return [_must(m, movement, kind, "count", (text, f"{DRILL_REPS} in all"), show)]


def _hold(m: Material, movement: Movement, kind: str, seconds: int) -> list[Line]:
    """Say how long, and change sides: "Thirty seconds on this leg." "Now the other leg, 30 seconds again."."""
    show = Show(hold_s=seconds, camera=movement.camera, how="silent")
    side, time = side_of(m, movement), time_words(seconds)
    if movement.sides == "each":
        here = m.voice.say("hold here", time=sentence(time), side=side)
        other = m.voice.say("hold other", time=time, side=side, line=_change(movement))
        return [
            _must(m, movement, kind, "hold", (here, f"{seconds} s each {side}"), show),
            _must(m, movement, kind, "other-side", (other, f"other {side}: {seconds} s"), show),
        ]
    text = m.voice.say("hold", time=time)
    return [_must(m, movement, kind, "hold", (text, f"{seconds} s"), show)]


def _change(movement: Movement) -> str:
    """Give how one changes sides, "" where the movement does not say."""
    return next((p.say for p in movement.handling if p.card.lower().startswith("change")), "")


def _prepare(m: Material, movement: Movement, *, first: bool) -> list[Line]:
    """Say the build-up of a movement, each with how many and one step needing the other, then a few whole ones, light.

    A step that is only watched has no place here: everybody moves along. The last of several is the whole movement: that
    comes next anyway, light.
    """
    lines: list[Line] = []

    def add(name: str, text: str, card: str, show: Show) -> None:
        lines.append(
            m.line(
                "prepare",
                f"{movement.slug}/{name}",
                text,
                card,
                rank=len(lines),
                movement=movement,
                show=show,
                needs=lines[-1].id if lines else None,
                source=movement.file,
            )
        )

    def say(line: str) -> str:
        key = ("prepare first" if first else "prepare") if not lines else "step"
        return m.voice.say(key, name=name_words(movement), line=line)

    for step in movement.build_up[:-1] or movement.build_up:
        if step.say.startswith("Watch "):
            continue
        show = Show(
            reps=step.reps, hold_s=step.hold_s, camera=step.camera, how="counted" if step.reps else "talked over"
        )
        many = f" {upper_first(times_words(step.reps))}." if step.reps else ""
        add("prepare", say(f"{step.say}{many}"), f"{step.reps} × {step.card}" if step.reps else step.card, show)
    for name, text, card, show in _whole(m, movement):
        add(name, text if lines else say(text), card, show)
    return lines


def _whole(m: Material, movement: Movement) -> list[tuple[str, str, str, Show]]:
    """Give the whole movement, light: how many or how long, both sides, faster step by step where it is a run or a jump."""
    work = next((w for w in m.workout.works if w.movement == movement.slug), None)
    sides, side = work.sides if work else movement.sides, side_of(m, movement)
    recap = movement.recap or movement.what
    weight = has_load(movement)
    if movement.counts[0] == "reps":
        reps = {"both": WHOLE_REPS, "alternating": WHOLE_TURNS, "each": WHOLE_SIDE}[sides]
        show = Show(reps=reps, camera=movement.camera, how="counted")
        where = {"both": "", "alternating": f", changing {side}s", "each": f" on this {side}"}[sides]
        key = "prepare whole weight" if weight else "prepare whole jump" if movement.lands else "prepare whole"
        text = m.voice.say(key, count=f"{count_words(reps)} whole ones{where}", recap=recap)
        card = f"{reps} × whole, {'light' if weight else 'easy'}" + (f", each {side}" if sides == "each" else "")
        out = [("whole", text, card, show)]
        if sides == "each":
            other = m.voice.say("reps other", count=count_words(reps), side=side, line="")
            out.append(("other-side", other, f"other {side}: {reps}", show))
        return out
    if _is_run(movement):
        show = Show(hold_s=3 * SPEED_S, camera=movement.camera, how="silent")
        text = m.voice.say("prepare run", time=time_words(SPEED_S), recap=recap)
        return [("speeds", text, f"3 × {SPEED_S} s: easy, faster, workout speed", show)]
    seconds = HOLD_S if movement.counts[0] == "seconds" else WHILE_S
    show = Show(hold_s=seconds, camera=movement.camera, how="silent")
    work_words = time_words(seconds) + (f" on this {side}" if sides == "each" else "")
    key = "prepare while weight" if weight else "prepare while"
    out = [("while", m.voice.say(key, time=work_words, recap=recap), f"{seconds} s, easy", show)]
    if sides == "each":
        other = m.voice.say("hold other", time=time_words(seconds), side=side, line="")
        out.append(("other-side", other, f"other {side}: {seconds} s", show))
    return out
