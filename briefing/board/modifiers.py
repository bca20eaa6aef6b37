"""Words that change a known movement: a table, so that no file is needed for each pairing.

Where a file for the whole exists, it wins. A modifier that cannot go with a movement is a question, never a guess.
What they change and the cautions they add are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from briefing.library.models import KitItem, Movement, Point, Rates, Sides, Space
from briefing.library.names import slug_of
from briefing.problems import Place

_LEGS = frozenset({"squat", "lunge"})
_LIFTS = frozenset({"squat", "lunge", "hinge", "push", "pull", "overhead", "whole body"})
_ANY: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Modifier:
    """A word in front of a movement's name, or a phrase behind it.

    `goes_to` are the patterns it can go with (empty: all). `kit` is what is needed besides, `no_kit` what goes. `slower` multiplies
    the rates. `point` and `caution` are one thing each that is said because of it: a card phrase and a line. `how` means that it
    changes how hard or how carefully it is done and nothing else: the movement stays what it is.
    """

    name: str
    words: tuple[str, ...]
    goes_to: frozenset[str] = _ANY
    sides: Sides | None = None
    kit: tuple[str, ...] = ()
    instead_of: tuple[str, ...] = ()
    travels: bool = False
    slower: float = 1.0
    point: tuple[str, str] | None = None
    caution: tuple[str, str] | None = None
    how: bool = False
    behind: bool = False


def _m(name: str, words: str, goes_to: frozenset[str] = _ANY, **rest: object) -> Modifier:
    return Modifier(name, tuple(w.strip() for w in words.split(";")), goes_to, **rest)  # type: ignore[arg-type]


MODIFIERS: tuple[Modifier, ...] = (
    _m("one-arm", "one arm; single arm; 1 arm; sa; one armed; one hand; single hand; one handed", _LIFTS | {"carry", "throw"}, sides="each",
       point=("One side at a time", "Keep your ribs over your hips: the free side wants to lean.")),
    _m("alternating", "alternating; alternate; alt", _LIFTS | {"trunk", "crawl", "carry", "mobility", "jump", "throw"}, sides="alternating",
       point=("Change every one", "Change sides after every repetition.")),
    _m("walking", "walking; travelling; traveling; moving", _LEGS, travels=True, sides="alternating",
       point=("Step through", "Bring the back foot straight through to the next step."),
       caution=("A free way", "Clear the whole way before you start, and turn around slowly.")),
    _m("overhead", "overhead; oh", _LEGS | {"carry"}, slower=1.15,
       point=("Arms locked", "Keep your arms straight and the weight above the middle of your feet."),
       caution=("Way out", "If it drifts, lower it or let it go in front of you, and step back.")),
    _m("front-rack", "front rack; front racked; racked; fr", _LEGS | {"carry"},
       point=("Elbows up", "Hold the weight at your shoulders, elbows in front of you.")),
    _m("suitcase", "suitcase; one sided; offset", _LEGS | {"carry", "hinge"}, sides="each",
       point=("Stand level", "The weight hangs on one side: stay level, do not lean to it.")),
    _m("goblet", "goblet; gob; front loaded", _LEGS | {"carry"}, kit=("dumbbell or kettlebell",),
       point=("Weight close", "Hold the weight high against your chest.")),
    _m("double", "double; two arm; dual", _LIFTS | {"carry", "throw"},
       point=("Two weights", "Keep both weights at the same height.")),
    _m("weighted", "weighted; loaded", _LIFTS | {"trunk", "carry"}, kit=("dumbbell or kettlebell",),
       point=("Weight close", "Hold the weight close, where it does not pull you over.")),
    _m("paused", "paused; pause; pausing", _LIFTS | {"trunk"}, slower=1.5,
       point=("Stop at the bottom", "Stay still in the lowest position for a full count.")),
    _m("tempo", "tempo; slow tempo", _LIFTS | {"trunk"}, how=True),
    _m("slow lowering", "slow lowering; slow negative; eccentric; negative; slow eccentric", _LIFTS, slower=1.8,
       point=("Three counts down", "Lower yourself in three even counts."),
       caution=("Few of these", "Slow lowering makes you sore: do half the count the first time.")),
    _m("deficit", "deficit", frozenset({"push", "lunge", "hinge", "overhead"}), kit=("step",), slower=1.1,
       point=("Only as deep as you hold", "Go down only as far as your back stays still."),
       caution=("Steady under you", "What you stand or lean on must not move.")),
    _m("elevated", "elevated; raised; heels raised; heel elevated; hands elevated; heel raised", frozenset({"push", "squat", "hinge"}), kit=("step",),
       caution=("Steady under you", "What you stand or lean on must not move.")),
    _m("feet-up", "feet up; feet elevated; feet raised; decline", frozenset({"push", "trunk"}), kit=("step",), slower=1.1,
       point=("Straight from heels to head", "Keep your body in one line with your feet up."),
       caution=("Steady under you", "What your feet are on must not move.")),
    _m("banded", "banded; band; band resisted; resistance band; mini band; miniband", _LIFTS | {"trunk"}, kit=("band",),
       caution=("Look at the band", "Look at the band for tears first, and keep your face out of its way.")),
    _m("half-kneeling", "half kneeling; half kneel; 1/2 kneeling; half kneeled", frozenset({"push", "pull", "overhead"}), sides="each",
       point=("Tall on one knee", "Squeeze the side of the knee on the floor and stay tall.")),
    _m("tall-kneeling", "tall kneeling; kneeling", frozenset({"push", "pull", "overhead"}),
       point=("Tall on both knees", "Hips in front, ribs down.")),
    _m("seated", "seated; sitting", frozenset({"push", "pull", "overhead"}), kit=("chair",),
       point=("Sit tall", "Both feet flat, and your back off the chair.")),
    _m("standing", "standing; stood", frozenset({"push", "pull", "overhead"}), how=True),
    _m("strict", "strict; dead stop; controlled", how=True),
    _m("hang", "hang; from the hang", frozenset({"whole body", "pull"}),
       point=("From the hang", "Start with the weight above your knees, not from the floor.")),
    _m("dumbbell", "dumbbell; db; dbs; dumbbells", _LIFTS | {"carry", "trunk", "whole body"}, kit=("dumbbell",), instead_of=("barbell", "kettlebell")),
    _m("kettlebell", "kettlebell; kb; kbs; kettlebells", _LIFTS | {"carry", "trunk"}, kit=("kettlebell",), instead_of=("barbell", "dumbbell")),
    _m("barbell", "barbell; bb; bar", _LIFTS, kit=("barbell",), instead_of=("dumbbell", "kettlebell")),
    _m("sandbag", "sandbag; sb; bag", _LIFTS | {"carry"}, kit=("sandbag",), instead_of=("barbell", "dumbbell", "kettlebell")),
    _m("plate", "plate; weight plate", _LIFTS | {"carry", "trunk"}, kit=("weight plate",), instead_of=("barbell", "dumbbell", "kettlebell")),
    _m("bodyweight", "bodyweight; bw; unloaded; unweighted; air", _LIFTS, instead_of=("barbell", "dumbbell", "kettlebell", "sandbag"), how=True),
    _m("ring", "ring; rings", frozenset({"push", "pull"}), kit=("rings",),
       caution=("Straps first", "Pull hard on both straps before the first one.")),
    _m("box", "box; bench; to a box; to box; to a bench; to bench", frozenset({"squat"}), kit=("box",),
       point=("Touch, do not sit", "Touch the box with your weight still on your feet.")),
    _m("wall", "wall; against the wall; at the wall", frozenset({"push"}), kit=("wall",),
       point=("Body in one line", "Lean as a plank: hips with your shoulders.")),
    _m("chair", "chair; to a chair; to chair", frozenset({"squat", "push"}), kit=("chair",),
       caution=("Chair against a wall", "Put the chair against a wall, so that it cannot slide.")),
    _m("lateral", "lateral; side; sideways", frozenset({"lunge", "jump", "crawl"}), sides="alternating"),
    _m("reverse", "reverse; rev; backward; backwards", frozenset({"lunge", "crawl"})),
    _m("jumping", "jumping; jump", frozenset({"squat", "lunge", "pull"}),
       caution=("Quiet landings", "Land quietly with soft knees; stop when you no longer can.")),
    # Manners: nothing of the movement changes.
    _m("heavy", "heavy", how=True), _m("light", "light; lighter", how=True), _m("steady", "steady state; steady", how=True), _m("slow", "slow; smooth", how=True),
    _m("fast", "fast; quick; sprint; explosive; max effort", how=True), _m("easy", "easy; relaxed; gentle; light effort", how=True),
    _m("moderate", "moderate; mod; medium", how=True), _m("tempo", "tempo; threshold", frozenset({"run", "row", "ride"}), how=True),
    _m("hard", "hard; all out", how=True), _m("full", "full; deep; proper; clean; good; unbroken; perfect; regular; normal; basic; standard", how=True),
    _m("uphill", "uphill; hill", frozenset({"run"}), how=True),
    # Behind the name.
    _m("over the dumbbell", "over the dumbbell; over dumbbell; over the db; over db; over the kettlebell; over the kb; over kb", frozenset({"jump", "whole body"}), behind=True, kit=("dumbbell",),
       caution=("Cannot roll", "Lay the weight so that it cannot roll, and jump past its end if you tire.")),
    _m("over the bar", "over the bar; over bar; over the barbell; bar facing; facing the bar; lateral over the bar", frozenset({"jump", "whole body"}), behind=True, kit=("barbell",),
       caution=("Step when tired", "When your feet get heavy, step over: a bar catches toes.")),
    _m("over the line", "over the line; over a line; over line", frozenset({"jump", "whole body"}), behind=True),
    _m("to a target", "to a target; to target; to a mark; w/ target; with a target; with target touch", frozenset({"jump", "whole body", "throw"}), behind=True, kit=("target",)),
    _m("to overhead", "to overhead; to oh", frozenset({"whole body", "pull"}), behind=True,
       caution=("Room above", "Look up first: nothing in the way of your arms.")),
)  # fmt: skip


_KIT_NAMES = ("dumbbell", "kettlebell", "barbell", "sandbag", "plate")


def _named(base: Movement, modifiers: tuple[Modifier, ...], word: str) -> str:
    """Give the name that modifiers and a movement make: `Wall push-up`, `Lateral burpee over the dumbbell`."""
    name = word if base.name.split()[0].isupper() else word[:1].lower() + word[1:]
    front = [m.name for m in modifiers if not m.behind]
    if any(m in _KIT_NAMES for m in front):
        name = " ".join(w for w in name.split() if w not in _KIT_NAMES)
    if front:
        name = name.removeprefix("air ")
    whole = " ".join((*front, name, *(m.name for m in modifiers if m.behind)))
    return whole[:1].upper() + whole[1:]


def modified(base: Movement, modifiers: tuple[Modifier, ...], place: Place) -> Movement:
    """Give the movement that a known one and its modifiers make, under the name that they make.

    What the file of `base` says stays; each modifier adds its one point and its one caution, and changes kit, sides, room and
    rates where it does. Modifiers of manner alone change nothing: `base` comes back.
    """
    real = tuple(m for m in modifiers if not m.how)
    if not real:
        return base
    name, plural = _named(base, real, base.name), _named(base, real, base.plural)
    kit = tuple(k for k in base.kit if not any(set(k.names) & set(m.instead_of) for m in real))
    for m in real:
        for words in m.kit:
            names = tuple(words.split(" or "))
            if not any(set(k.names) & set(names) for k in kit):
                kit = (*kit, KitItem(names=names))
    sides = next((m.sides for m in reversed(real) if m.sides), base.sides)
    slower = 1.0
    for m in real:
        slower *= m.slower
    points = tuple(Point(card=m.point[0], say=m.point[1], place=place) for m in real if m.point)
    safety = tuple(Point(card=m.caution[0], say=m.caution[1], place=place) for m in real if m.caution)
    travels = any(m.travels for m in real)
    seconds_for = {
        unit: Rates(brisk=rates.brisk * slower, steady=rates.steady * slower, easy=rates.easy * slower)
        for unit, rates in base.seconds_for.items()
    }
    space = Space(floor_m=(10.0, 2.0), overhead=base.space.overhead) if travels else base.space
    return Movement.model_validate(
        {
            **{field: getattr(base, field) for field in Movement.model_fields},
            "slug": slug_of(name),
            "name": name,
            "plural": plural,
            "also": (),
            "kit": kit,
            "sides": sides,
            "space": space,
            "seconds_for": seconds_for,
            "points": (*base.points[:1], *points, *base.points[1:]),
            "safety": (*base.safety, *safety),
            "builds_on": base.slug,
        }
    )
