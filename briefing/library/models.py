"""A movement: what the machine needs in its head, what the coach says in its sections."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field

from briefing.problems import Model, Place
from briefing.units import Person, Unit

Pattern = Literal[
    "squat",
    "lunge",
    "hinge",
    "push",
    "pull",
    "carry",
    "overhead",
    "jump",
    "trunk",
    "whole body",
    "run",
    "row",
    "ride",
    "crawl",
    "throw",
    "mobility",
]
Area = Literal[
    "knee", "hip", "low back", "shoulder", "elbow", "wrist", "grip", "neck", "ankle", "pelvic floor"
]  # fmt: skip
Circumstance = Literal[
    "new to it",
    "tired today",
    "no impact",
    "quiet",
    "small room",
    "low ceiling",
    "wet ground",
    "no kit",
    "one weight only",
    "too light",
    "too heavy",
    "lying down or head low bothers you",
    "pregnant or after birth",
]
Sides = Literal["both", "alternating", "each"]
Counts = Literal["reps", "metres", "seconds", "calories"]
Camera = Literal["front", "side", "three-quarter"]
How = Literal["talked over", "counted", "silent"]
Overhead = Literal["none", "reach", "jump", "reach and jump"]
Position = Literal["standing", "floor", "hanging", "seated"]
# What can go wrong with nobody there to help: a weight can hold somebody down or fall on them, somebody can fall, somebody is upside
# down. Each asks for an entry test, the first for a way out as well.
Risk = Literal["pins", "drops", "inverts"]
CountChange = Literal["same count", "half the count", "double the count", "in seconds", "in metres"]

AREAS: tuple[str, ...] = get_args(Area)
REASONS: tuple[str, ...] = AREAS + get_args(Circumstance)
UNIT_OF: dict[Counts, Unit] = {"reps": "reps", "metres": "m", "seconds": "s", "calories": "cal"}


class KitSafety(Model):
    """What has to be seen to on a piece of kit, whatever is done with it: a card phrase and a sentence that is always said."""

    card: str
    say: str


class KitWord(Model):
    """A kit word: what can stand in for it at home, how it is called, where one goes if it stays where it is.

    `instead_of_two` is what stands in for a pair, `made_of` the kit word that the stand-in itself is: it is no stand-in where a
    movement takes either of the two. A movement's file can replace or forbid a stand-in. `place` is None for what is fetched; else
    it follows "go": `to the wall`. `called` is used where one of it is named ("a firm wall"). `weight` says that it loads the
    movement, so that it can be too light; `household`, that it is there in nearly every home. `safety` is said once a briefing,
    with the first movement that takes it.
    """

    instead: str | None = None
    instead_of_two: str | None = None
    made_of: str | None = None
    called: str | None = None
    place: str | None = None
    weight: bool = False
    household: bool = False
    safety: KitSafety | None = None


_BACKPACK = "a filled backpack with its straps shut"
_JUGS = "two full water jugs with handles, both of the same size"

# Kit that a movement may ask for, in the words of the page.
# Our choice; the cautions (straps shut, checked before each round) are common practice, no source.
KIT: dict[str, KitWord] = {
    "dumbbell": KitWord(
        instead=f"{_BACKPACK}, or a full water jug with a handle",
        instead_of_two=_JUGS,
        weight=True,
        safety=KitSafety(
            card="dumbbell locks tight", say="If your dumbbell has screw-on locks, tighten them before every set."
        ),
    ),
    "kettlebell": KitWord(
        instead="a filled backpack held by its top handle, or a full water jug with a handle",
        instead_of_two=_JUGS,
        weight=True,
    ),
    "barbell": KitWord(
        called="one barbell with its plates and collars",
        weight=True,
        safety=KitSafety(card="barbell collars closed", say="Close both collars of the barbell before every set."),
    ),
    "weight plate": KitWord(instead="a filled backpack", weight=True),
    "plates": KitWord(called="spare plates", weight=True),
    "rack": KitWord(called="a rack with safety bars", place="to the rack"),
    "pull-up bar": KitWord(called="a pull-up bar that holds you", place="to the bar"),
    "rings": KitWord(called="one pair of rings", place="to the rings"),
    "jump rope": KitWord(instead="an invisible rope: the same small jumps"),
    "stairs": KitWord(called="a flight of stairs with a rail", place="to the stairs", household=True),
    "box": KitWord(instead="a solid step that can neither tip nor slide"),
    "step": KitWord(instead="the bottom stair", household=True),
    "bench": KitWord(instead="a solid chair against a wall", made_of="chair"),
    "chair": KitWord(instead="a bench or the edge of a sofa", made_of="bench", household=True),
    "wall": KitWord(called="a firm wall", place="to the wall", household=True),
    "ball": KitWord(),
    "medicine ball": KitWord(instead="a filled backpack", weight=True),
    "sandbag": KitWord(instead=_BACKPACK, made_of="backpack", weight=True),
    "backpack": KitWord(weight=True, household=True),
    # Somebody may stand in a band: only a movement that is safe with something else names it.
    "band": KitWord(),
    "mat": KitWord(instead="a folded towel or a carpet", household=True),
    "rower": KitWord(called="a rower", place="to the rower"),
    "bike": KitWord(called="a bike that stands still", place="to the bike"),
    "broomstick": KitWord(household=True),
    "table": KitWord(called="a heavy table", place="to the table", household=True),
    "target": KitWord(called="a target above your head", place="under the target"),
    "cone": KitWord(instead="a line on the floor"),
    "towel": KitWord(household=True),
}


# In a movement's file, instead of words: nothing stands in for this kit.
NO_STAND_IN = "none"


def kit_word(name: str) -> KitWord:
    """Give what is known of a piece of kit; a name that is not in the table is kit all the same, and nothing stands in for it."""
    return KIT.get(name, KitWord())


class KitItem(Model):
    """One thing to have: `2 dumbbells or kettlebells` is count 2, names (dumbbell, kettlebell)."""

    count: int = Field(default=1, ge=1, le=20)
    names: tuple[str, ...]


class Space(Model):
    """The room a movement takes: floor in metres (along, across), and what goes overhead."""

    floor_m: tuple[float, float] | None = None
    overhead: Overhead = "none"


class Rates(Model):
    """Seconds for one (repetition, metre or calorie) in a fresh set of ten, for three kinds of people."""

    brisk: float = Field(gt=0, le=600)
    steady: float = Field(gt=0, le=600)
    easy: float = Field(gt=0, le=600)

    def of(self, person: Person) -> float:
        """Give the seconds for one, for this kind of person."""
        return {"brisk": self.brisk, "steady": self.steady, "easy": self.easy}[person]


class Point(Model):
    """One thing to say: a card phrase of two to five words and a spoken line."""

    card: str
    say: str
    place: Place


class BuildStep(Point):
    """A step of the build-up in a demonstration: how many, from which side, whether it is talked over."""

    reps: int | None = None
    hold_s: int | None = None
    camera: Camera = "three-quarter"
    how: How = "counted"


class Fault(Point):
    """A common fault: `notice` is a clause that works after "If", `say` what to do then."""

    notice: str


class Version(Point):
    """An easier or a harder version, with the reasons somebody would take it."""

    reasons: tuple[str, ...] = ()
    movement: str | None = None
    count: CountChange = "same count"


class Movement(Model):
    """One movement of the library, its inheritance already resolved.

    `seconds_for` holds the rates by unit: `{"reps": Rates(brisk=1.8, …)}`; a hold has none. `stand_ins` is what to do without a
    piece of kit, by its word, where that is another thing than the kit's own stand-in (`none`: nothing). `risks` is what can go wrong
    alone, `entry` who does the movement at all and what everybody else does.
    `file` is the file it was read from. `from_coach` says whether it is the coach's own. `carried` says that no file
    has it: the board named it, nothing is known but its name, and the coach teaches it in their own words.
    """

    slug: str
    name: str
    plural: str
    also: tuple[str, ...] = ()
    pattern: Pattern | None = None
    kit: tuple[KitItem, ...] = ()
    stand_ins: dict[str, str] = Field(default_factory=dict)
    risks: tuple[Risk, ...] = ()
    sides: Sides = "both"
    counts: tuple[Counts, ...] = ("reps",)
    works_hard_on: tuple[Area, ...] = ()
    space: Space = Space()
    position: Position = "standing"
    camera: Camera = "three-quarter"
    seconds_for: dict[Unit, Rates] = Field(default_factory=dict)
    pace_source: str | None = None
    builds_on: str | None = None
    what: str = ""
    recap: str | None = None
    call_out: str | None = None
    entry: tuple[Point, ...] = ()
    counts_when: tuple[Point, ...] = ()
    does_not_count: tuple[Point, ...] = ()
    points: tuple[Point, ...] = ()
    build_up: tuple[BuildStep, ...] = ()
    faults: tuple[Fault, ...] = ()
    easier: tuple[Version, ...] = ()
    harder: tuple[Version, ...] = ()
    safety: tuple[Point, ...] = ()
    handling: tuple[Point, ...] = ()
    feel: tuple[Point, ...] = ()
    breath: str | None = None
    load_test: str | None = None
    note: str | None = None
    file: str
    from_coach: bool = False
    carried: bool = False

    @property
    def flies(self) -> bool:
        """Say whether a weight is swung or thrown, so that its handle or strap is jerked."""
        return self.pattern == "throw" or bool({"swing", "clean", "snatch", "slam", "pull"} & {*self.slug.split("-")})

    @property
    def lands(self) -> bool:
        """Say whether each repetition ends in a landing; a step up only needs the height of a jump."""
        return self.pattern == "jump" or ("jump" in self.space.overhead and self.pattern != "lunge")

    @property
    def usual_side(self) -> str:
        """Give what its sides are called where a board does not say: arm, leg or side."""
        by_foot = {"lunge", "squat", "run", "crawl", "jump"}
        if self.pattern in by_foot or {"leg", "step", "march", "marching", "climber"} & set(self.slug.split("-")):
            return "leg"
        return "arm" if self.pattern in {"push", "pull", "overhead", "carry"} else "side"

    @property
    def names(self) -> tuple[str, ...]:
        """All names it answers to, its own first."""
        return (self.name, *self.also)
