"""What composing works with: the workout, its movements, the clock's answers, settings and a voice."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from briefing.board.models import Workout
from briefing.board.totals import add_up
from briefing.clock.answer import Clock
from briefing.library.models import KitItem, Movement
from briefing.library.reading import read_any_kit
from briefing.outline.models import Line, Show
from briefing.outline.wording import Voice
from briefing.outline.worth import asks_much, worth_of
from briefing.settings.models import Settings, TeachLevel
from briefing.telling.figures import Figure
from briefing.units import Person


@dataclass
class Material:
    """Everything composing needs. `lighter` is the workout made smaller for the easy person (as written where it need not be).

    `shown` is the order in which movements are shown, `levels` how much of each is taught (full where nothing is said),
    `taught_in` the video that teaches it in full.
    Makes lines, so that every line has its worth, its id and its source in one place. `taken` holds the ids that this
    script has given so far, the voice whose turn it is: each script begins with `begun`, so that composing twice gives the
    same lines. `said` holds the sentences that are said once a briefing; `find` gives any other movement of the library.
    """

    settings: Settings
    workout: Workout
    movements: Mapping[str, Movement]
    clock: Clock
    lighter: Workout
    voice: Voice
    shown: tuple[str, ...] = ()
    levels: Mapping[str, TeachLevel] = field(default_factory=dict)
    taught_in: Mapping[str, str] = field(default_factory=dict)
    taken: set[str] = field(default_factory=set)
    said: set[str] = field(default_factory=set)
    find: Callable[[str], Movement | None] = field(default=lambda _: None)

    def begun(self) -> Material:
        """Give the same material for a script of its own: no id is taken, and each phrase begins with its first alternative."""
        return replace(self, taken=set(), said=set(), voice=Voice(self.voice.wording))

    def of(self, slug: str) -> Movement:
        """Give a movement of this workout."""
        return self.movements[slug]

    def level(self, movement: Movement) -> TeachLevel:
        """Give how much of a movement is taught."""
        return self.levels.get(movement.slug, "full")

    @property
    def kit(self) -> tuple[KitItem, ...]:
        """Give the kit: what the coach lists, else what the movements need, each with the largest count."""
        return listed_kit(self.settings, (self.of(w.movement) for w in self.workout.works))

    def first_time(self, sentence: str) -> bool:
        """Say whether a sentence that is said once a briefing comes for the first time, and keep it as said."""
        fresh = sentence not in self.said
        self.said.add(sentence)
        return fresh

    def asked(self, movement: Movement) -> bool:
        """Say whether the workout asks much of a movement."""
        reps = [t.quantity for t in add_up(self.workout) if t.movement == movement.slug and t.unit == "reps"]
        return asks_much(movement, reps)

    def rate_s(self, movement: Movement, person: Person = "steady") -> float:
        """Give the seconds of one demonstrated repetition."""
        rates = movement.seconds_for.get("reps")
        return rates.of(person) if rates else DEMONSTRATED_REP_S

    def line(  # noqa: PLR0913 - a line has that many sides; all but four by name
        self,
        kind: str,
        ident: str,
        text: str,
        card: str,
        *,
        rank: int = 0,
        must: bool = False,
        movement: Movement | None = None,
        figure: Figure | None = None,
        show: Show | None = None,
        needs: str | None = None,
        source: str = "",
    ) -> Line:
        """Make a line with its worth, and the tenths of the repetitions that are shown without talk."""
        asked = movement is not None and self.asked(movement)
        ident = ident.lower().replace(" ", "-")
        unique, number = ident, 2
        while unique in self.taken:
            unique, number = f"{ident}-{number}", number + 1
        self.taken.add(unique)
        shown = 0
        if show is not None and show.how != "talked over":
            shown = round(10 * (show.hold_s or 0))
            if show.reps and movement is not None:
                shown += round(10 * show.reps * self.rate_s(movement))
        return Line(
            id=unique,
            kind=kind,
            movement=movement.slug if movement else None,
            must=must,
            text=text,
            card=card,
            figure=figure,
            show=show,
            show_tenths=shown,
            worth=worth_of(kind, rank, asked=asked),
            needs=needs,
            source=source,
        )


def taught(m: Material) -> list[Movement]:
    """Give the movements that are taught, each once, in the order in which they are shown."""
    return [m.of(slug) for slug in m.shown]


def known(m: Material) -> list[Movement]:
    """Give those of which more is known than the name: what a board carries without a file is taught in the coach's own words."""
    return [x for x in taught(m) if x.points]


def all_or_none(lines: list[Line]) -> list[Line]:
    """Tie lines together, for what would mislead if only half of it were said.

    Each needs the next one, and the first carries the worth of all, so that none is ever said without the others.
    """
    worth = sum(line.worth for line in lines)
    tied = []
    for at, line in enumerate(lines):
        needs = lines[at + 1].id if at + 1 < len(lines) else None
        tied.append(line.model_copy(update={"needs": needs, "worth": worth if at == 0 else 0}))
    return tied


# Our choice for movements without a rate: a slow, clear repetition.
DEMONSTRATED_REP_S = 3.0


def gather_kit(movements: Iterable[Movement]) -> tuple[KitItem, ...]:
    """Put the kit of several movements together, as `merge_kit` does."""
    return merge_kit(item for movement in movements for item in movement.kit)


def listed_kit(settings: Settings, movements: Iterable[Movement]) -> tuple[KitItem, ...]:
    """Give the kit that a coach lists, else what the movements need."""
    if settings.kit is None:
        return gather_kit(movements)
    items = (read_any_kit(w.text) for w in settings.kit)
    return tuple(i for i in items if i is not None)


def merge_kit(items: Iterable[KitItem]) -> tuple[KitItem, ...]:
    """Put kit together that is needed at different times: each thing once, with the largest count that is asked for at a time.

    What leaves a choice comes last: "1 dumbbell or kettlebell" is there already where a dumbbell or a kettlebell is, and where
    several would do, the one that is there in the largest number. In the order in which things are first asked for.
    """
    out: dict[int, KitItem] = {}
    for at, item in sorted(enumerate(items), key=lambda x: len(x[1].names)):
        shared = [(n, tuple(name for name in k.names if name in item.names)) for n, k in out.items()]
        able = [(n, names) for n, names in shared if names]
        if not able:
            out[at] = item
            continue
        best, names = max(able, key=lambda x: (out[x[0]].names == item.names, min(out[x[0]].count, item.count), -x[0]))
        made = KitItem(count=max(out[best].count, item.count), names=names)
        del out[best]
        out[min(best, at)] = made
    return tuple(out[n] for n in sorted(out))
