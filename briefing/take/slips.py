"""Numbers in a take that differ from the board: what was claimed about which movement, rounds, cap, rest; corrected or not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from briefing.board.models import At, Every, Part, Work, Workout
from briefing.board.totals import add_up, rounds_of
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.take.words import Token, read_back

# Within so many tokens a number belongs to what is named behind it, and a slip can still be taken back. Our choice.
NEAR, TAKEN_BACK = 3, 12
_BACK = frozenset({"sorry", "no", "mean", "rather", "correction", "wait", "actually", "oop", "oops", "scratch"})
# Numbers that are no claim about the workout when these words stand next to them.
_OTHER = frozenset(
    [
        "degree",
        "video",
        "count",
        "second",
        "inch",
        "step",
        "time",
        "part",
        "week",
        "way",
        "thing",
        "point",
        "percent",
        "foot",
        "year",
    ]
)
# Words that may stand between a number and the movement that it counts; a small number is counted only right before it.
_BETWEEN = frozenset(
    {
        "of",
        "the",
        "a",
        "your",
        "alternat",
        "more",
        "good",
        "clean",
        "heavy",
        "light",
        "those",
        "these",
        "meter",
        "metre",
    }
    | {"and", "then", "right", "all", "know", "you", "like", "so"}
)
FEW = 4
# Our choice: the same slip within so many milliseconds is one slip, said again.
SAME_MS = 15_000
_SIDES = frozenset({"leg", "arm", "side", "hand"})


class Slip(Model):
    """A claim that differs from the board: when, what was said and about what, what the board says, whether it was corrected."""

    at_ms: int
    said: str
    about: str
    board: str
    words: str
    corrected: bool = False


class Claims(Model):
    """What may be said: allowed values by subject (a slug, or rounds, cap, rest, every, meters of a slug, each side)."""

    allowed: dict[str, tuple[float, ...]]
    written: dict[str, str]
    metres: dict[str, tuple[float, ...]]
    reps_only: tuple[str, ...]


@dataclass
class _Allowed:
    """Collects what may be said."""

    allowed: dict[str, set[float]] = field(default_factory=dict)
    metres: dict[str, set[float]] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    counted: dict[str, set[str]] = field(default_factory=dict)

    def allow(self, key: str, *values: float | None) -> None:
        self.allowed.setdefault(key, set()).update(float(v) for v in values if v)

    def part(self, part: Part) -> None:
        """Allow what a part says of itself: rounds, plan, cap, rest, what the clock forces."""
        rounds, body = rounds_of(part), part.body
        self.allow("rounds", rounds, body.plan_rounds if body else None, part.windows.count)
        if rounds:
            self.written["rounds"] = f"{rounds}"
        if part.goal == "time" and part.windows.work_s:
            self.allow("cap", part.windows.work_s / 60)
            self.written["cap"] = f"{part.windows.work_s / 60:g} minutes"
        if body and body.rest_between_s:
            self.allow("rest", body.rest_between_s, body.rest_between_s / 60)
            self.written["rest"] = f"{body.rest_between_s} seconds"
        for interrupt in part.interrupts:
            if isinstance(interrupt.trigger, Every):
                self.allow("every", interrupt.trigger.every_s / 60, interrupt.trigger.every_s)
                self.written["every"] = f"{interrupt.trigger.every_s / 60:g} minutes"
            elif isinstance(interrupt.trigger, At):
                self.allow("every", *(t / 60 for t in interrupt.trigger.times_s))

    def work(self, work: Work, plan: int | None, *, main: bool) -> None:
        """Allow a line's amount, its half, its share of a planned round."""
        numbers = [n for a in work.amounts for n in (*a.by_round, a.at_most) if n]
        share = [n / plan for n in numbers if plan]
        target = self.metres if work.amount.unit == "m" else self.allowed
        target.setdefault(work.movement, set()).update(float(n) for n in (*numbers, *share))
        self.counted.setdefault(work.movement, set()).add(work.amount.unit)
        if work.amount.unit == "reps":
            halves = [n / 2 for n in (*numbers, *share)]
            self.allow(work.movement, *halves)
            self.allow("side", *halves)
        if work.amount.unit == "s":
            self.allow(work.movement, *(n / 60 for n in numbers))
        if main and numbers:
            unit = {"reps": "", "m": " meters", "s": " seconds", "cal": " calories"}[work.amount.unit]
            self.written.setdefault(work.movement, f"{numbers[0]}{unit}")


def claims_of(workout: Workout, movements: Mapping[str, Movement], more: Sequence[Workout] = ()) -> Claims:
    """Give what a workout allows to be said; `more` are other versions of it (lighter amounts), which are right as well."""
    made = _Allowed()
    for version in (workout, *more):
        for part in version.parts:
            if version is workout:
                made.part(part)
            plan = part.body.plan_rounds if part.body else None
            for work in (*part.works, *(w for i in part.interrupts for w in i.works)):
                made.work(work, plan, main=version is workout)
                for option in work.options:
                    made.work(option.work, plan, main=False)
        for total in add_up(version):
            target = made.metres if total.unit == "m" else made.allowed
            target.setdefault(total.movement, set()).add(float(total.quantity))
            made.allow(total.movement, total.per_side)
            made.allow("side", total.per_side)
    return Claims(
        allowed={k: tuple(sorted(v)) for k, v in made.allowed.items()},
        written=made.written,
        metres={k: tuple(sorted(v)) for k, v in made.metres.items()},
        reps_only=tuple(s for s, units in made.counted.items() if units == {"reps"} and s in movements),
    )


def find_slips(tokens: Sequence[Token], claims: Claims, movements: Mapping[str, Movement]) -> tuple[Slip, ...]:
    """Find claims that the board does not allow, in the order of time; one that is taken back within a few words is corrected."""
    out: list[Slip] = []
    for index, token in enumerate(tokens):
        if token.value is None or _counted_aloud(tokens, index):
            continue
        for subject, values, shown in _subjects(tokens, index, claims, movements):
            if not values or token.value in values:
                break
            board = claims.written.get(subject.removeprefix("@"), ", ".join(f"{v:g}" for v in values))
            corrected = _taken_back(tokens, index, values)
            words = read_back(tokens[max(0, index - 3) : index + 5])
            last = out[-1] if out else None
            if (
                last
                and (last.said, last.about) == (f"{token.value:g}", shown)
                and token.start_ms - last.at_ms < SAME_MS
            ):
                break
            out.append(
                Slip(
                    at_ms=token.start_ms,
                    said=f"{token.value:g}",
                    about=shown,
                    board=board,
                    words=words,
                    corrected=corrected,
                )
            )
            break
    return tuple(out)


def _subjects(
    tokens: Sequence[Token], index: int, claims: Claims, movements: Mapping[str, Movement]
) -> Iterator[tuple[str, tuple[float, ...], str]]:
    """Give what a number is about, the likeliest first: its subject, the values allowed, how it is called."""
    after = [t.text for t in tokens[index + 1 : index + 1 + NEAR]]
    before = [t.text for t in tokens[max(0, index - NEAR) : index]]
    if after and after[0] in _OTHER:
        return
    ranged = before[-1:] == ["to"] and len(before) > 1 and before[-2][0].isdigit()
    if after[:1] in (["round"], ["set"]) and not ranged:
        yield "rounds", claims.allowed.get("rounds", ()), "rounds"
    if "rest" in before[-2:] and after[:1] in (["minute"], ["second"]):
        yield "rest", claims.allowed.get("rest", ()), "the rest"
        return
    if (
        after[:1] == ["cap"]
        or (after[:2] == ["minute", "cap"] and after[2:] != ["is"])
        or ("cap" in before and after[:1] == ["minute"])
    ):
        yield "cap", claims.allowed.get("cap", ()), "the cap"
        return
    if before[-1:] == ["every"] and after[:1] in (["minute"], ["second"]):
        yield "every", claims.allowed.get("every", ()), "what the clock forces"
        return
    metre = after[:1] in (["meter"], ["metre"])
    for at, text in enumerate(after):
        if text.startswith("@"):
            slug = text[1:]
            name = movements[slug].name.lower() if slug in movements else slug
            if metre:
                if slug in claims.reps_only:
                    yield text, (-1.0,), f"{name}, in meters"
                elif slug in claims.metres:
                    yield text, claims.metres[slug], name
            elif (
                after[:1] not in (["minute"], ["second"], ["calorie"])
                and slug in claims.allowed
                and (at == 0 or (tokens[index].value or 0) > FEW)
            ):
                yield text, claims.allowed[slug], name
            return
        if text not in _BETWEEN:
            break
    if len(after) >= 2 and after[0] in {"each", "per"} and after[1] in _SIDES and claims.allowed.get("side"):
        yield "side", claims.allowed["side"], "each side"


def _counted_aloud(tokens: Sequence[Token], index: int) -> bool:
    """Say whether a number is one of a count: its neighbours are the number before or after it."""
    value = tokens[index].value or 0
    near = [
        t.value for t in (*tokens[max(0, index - 2) : index], *tokens[index + 1 : index + 3]) if t.value is not None
    ]
    return sum(abs(n - value) in {1, 2} for n in near) >= 2 or (value <= 20 and {value - 1, value + 1} <= set(near))


def _taken_back(tokens: Sequence[Token], index: int, values: tuple[float, ...]) -> bool:
    """Say whether a slip is corrected: within a few words comes an allowed number, and a word that takes it back."""
    window = tokens[index + 1 : index + 1 + TAKEN_BACK]
    right = next((n for n, t in enumerate(window) if t.value is not None and t.value in values), None)
    return right is not None and any(t.text in _BACK for t in window[: right + 2])
