"""Numbers in a take that differ from the board: what was claimed about which movement, rounds, cap, rest; corrected or not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rapidfuzz import fuzz

from briefing.board.models import At, Every, Part, Work, Workout, body_of
from briefing.board.totals import add_up, rounds_of
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.take.words import EMPTY, Token, read_back, text_tokens
from briefing.units import ALL_SIDE_NAMES, UNIT_WORDS

# Within so many tokens a number belongs to what is named behind it, and a slip can still be taken back. Our choice.
NEAR, TAKEN_BACK, SIDE_NEAR = 3, 12, 12
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
# A word is taken for a part of a name when it is so much alike (of 100), the first letter the same. Our choice, tried on takes.
LIKE_PART = 74
_UNITS = frozenset(
    [
        "minute",
        "second",
        "hour",
        "meter",
        "metre",
        "kilo",
        "kilogram",
        "kg",
        "pound",
        "lb",
        "calorie",
        "inch",
        "degree",
        "percent",
        "time",
        "round",
    ]
)
_NEVER = (-1.0,)
# Our choice: the same slip within so many milliseconds is one slip, said again.
SAME_MS = 15_000


class Slip(Model):
    """A claim that differs from the board: when, what was said and about what, what the board says, whether it was corrected.

    `subject` is the movement's slug (also for what one side does), or `rounds`, `cap`, `rest`, `every`, `side`.
    """

    at_ms: int
    said: str
    about: str
    board: str
    words: str
    corrected: bool = False
    subject: str = ""


class Claims(Model):
    """What may be said: allowed values by subject (a slug, or rounds, cap, rest, every, meters of a slug, each side).

    `sides` is what one side of a movement does on the board.
    """

    allowed: dict[str, tuple[float, ...]]
    written: dict[str, str]
    metres: dict[str, tuple[float, ...]]
    reps_only: tuple[str, ...]
    sides: dict[str, float]

    def right(self, slug: str) -> tuple[float, ...]:
        """Give all numbers that are right for a movement, whatever they count."""
        return (*self.allowed.get(slug, ()), *self.metres.get(slug, ()))


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
        rounds, body = rounds_of(part), body_of(part)
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
            unit = "" if work.amount.unit == "reps" else f" {UNIT_WORDS[work.amount.unit].many}"
            self.written.setdefault(work.movement, f"{numbers[0]}{unit}")


def claims_of(workout: Workout, movements: Mapping[str, Movement], more: Sequence[Workout] = ()) -> Claims:
    """Give what a workout allows to be said; `more` are other versions of it (lighter amounts), which are right as well."""
    made = _Allowed()
    for version in (workout, *more):
        for part in version.parts:
            if version is workout:
                made.part(part)
            body = body_of(part)
            plan = body.plan_rounds if body else None
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
        sides={
            w.movement: w.amount.by_round[0] / 2 for w in workout.works if w.amount.unit == "reps" and w.amount.by_round
        },
        reps_only=tuple(s for s, units in made.counted.items() if units == {"reps"} and s in movements),
    )


def with_said(claims: Claims, lines: Sequence[Sequence[Token]], movements: Mapping[str, Movement]) -> Claims:
    """Allow what the plan's own lines say besides, as in "most of you will get through three to seven rounds"."""
    allowed = {k: set(v) for k, v in claims.allowed.items()}
    metres = {k: set(v) for k, v in claims.metres.items()}
    for tokens in lines:
        for index, token in enumerate(tokens):
            if token.value is None:
                continue
            for subject, values, _ in _subjects(tokens, index, claims, movements):
                slug = subject.removeprefix("@")
                if values and values != _NEVER:
                    in_metres = slug in metres and values == claims.metres[slug]
                    (metres if in_metres else allowed).setdefault(slug, set()).add(token.value)
                break
    return claims.model_copy(
        update={
            "allowed": {k: tuple(sorted(v)) for k, v in allowed.items()},
            "metres": {k: tuple(sorted(v)) for k, v in metres.items()},
        }
    )


def find_slips(
    tokens: Sequence[Token],
    claims: Claims,
    movements: Mapping[str, Movement],
    told: Sequence[tuple[int, int]] = (),
) -> tuple[Slip, ...]:
    """Find claims that the board does not allow, in the order of time; one that is taken back within a few words is corrected.

    `told` are the stretches, in milliseconds, in which the board is told: there a part of a movement's name is enough, since
    recognisers lose words ("thirteen step back").
    """
    parts = _parts_of(movements)
    out: list[Slip] = []
    for index, token in enumerate(tokens):
        if token.value is None or _counted_aloud(tokens, index):
            continue
        subjects = [*_subjects(tokens, index, claims, movements)]
        if not subjects and any(start <= token.start_ms <= end for start, end in told):
            subjects = _by_part(tokens, index, claims, movements, parts)
        if not subjects:
            continue
        subject, values, shown = subjects[0]
        value = _reading(tokens, index, values)
        if not values or value in values or _excused(tokens, index, values, subject):
            continue
        said = f"{value:g}"
        last = out[-1] if out else None
        if last and (last.said, last.about) == (said, shown) and token.start_ms - last.at_ms < SAME_MS:
            continue
        slug = subject.removeprefix("side ").removeprefix("@")
        board = (
            f"{claims.sides[slug]:g}"
            if subject.startswith("side ")
            else claims.written.get(subject.removeprefix("@"), ", ".join(f"{v:g}" for v in values))
        )
        corrected = _taken_back(tokens, index, values)
        words = read_back(tokens[max(0, index - 3) : index + 5])
        out.append(
            Slip(
                at_ms=token.start_ms,
                said=said,
                about=shown,
                board=board,
                words=words,
                corrected=corrected,
                subject=slug,
            )
        )
    return tuple(out)


def _hundreds(tokens: Sequence[Token], index: int) -> float | None:
    """Give what a number and the one before make together where "hundred" is not said or not heard: "one twenty-five" is 125."""
    first, second = tokens[index - 1].value if index else None, tokens[index].value
    if first is None or second is None or not 1 <= first <= 9 or not 10 <= second < 100:
        return None
    return first * 100 + second


def _reading(tokens: Sequence[Token], index: int, values: Sequence[float]) -> float:
    """Give the value that was meant: "one twenty-five" for 120 is 125, not 25."""
    alone, together = tokens[index].value or 0.0, _hundreds(tokens, index)
    if together is None or alone in values:
        return alone

    def far(value: float) -> float:
        return min((abs(value - v) / max(v, 1.0) for v in values), default=0.0)

    return together if far(together) < far(alone) else alone


def _excused(tokens: Sequence[Token], index: int, values: Sequence[float], subject: str) -> bool:
    """Say whether a number is no claim of its own: the "one" of "one twenty", a cut hundred, the end of "three to seven rounds"."""
    if index + 1 < len(tokens) and _hundreds(tokens, index + 1) in values:
        return True
    value = tokens[index].value or 0.0
    if tokens[index].cut and any(v >= 100 and v % 100 == value % 100 for v in values):
        return True
    before = [t for t in tokens[max(0, index - 3) : index] if t.text not in {"a", "the"}]
    return subject == "rounds" and len(before) > 1 and before[-1].text == "to" and before[-2].value is not None


def _subjects(
    tokens: Sequence[Token], index: int, claims: Claims, movements: Mapping[str, Movement]
) -> Iterator[tuple[str, tuple[float, ...], str]]:
    """Give what a number is about, the likeliest first: its subject, the values allowed, how it is called."""
    after = [t.text for t in tokens[index + 1 : index + 1 + NEAR]]
    before = [t.text for t in tokens[max(0, index - NEAR) : index]]
    if after and after[0] in _OTHER:
        return
    if after[:1] in (["round"], ["set"]):
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
                    yield text, _NEVER, f"{name}, in meters"
                elif slug in claims.metres:
                    yield text, claims.metres[slug], name
            elif (
                after[:1] not in (["minute"], ["second"], ["calorie"])
                and slug in claims.allowed
                and (tokens[index].value or 0) > (1 if at == 0 else FEW)
            ):
                longer = _longer_names(slug, movements)
                called = text
                onboard = [s for s in longer if s in claims.written]
                if onboard and slug not in claims.written:
                    # An option's name, where the line on the board has a longer one: the likelier is that a word was lost.
                    called, name = f"@{onboard[0]}", movements[onboard[0]].name.lower()
                yield called, (*claims.allowed[slug], *(v for s in longer for v in claims.allowed.get(s, ()))), name
            return
        if text not in _BETWEEN:
            break
    if len(after) >= 2 and after[0] in {"each", "per"} and after[1] in ALL_SIDE_NAMES and claims.allowed.get("side"):
        values = claims.allowed["side"]
        named = next((t.text[1:] for t in reversed(tokens[max(0, index - SIDE_NEAR) : index]) if t.text[0] == "@"), "")
        # What is wrong is wrong for all of them; what would be right is said of the movement that was named last.
        known = named in claims.sides
        yield (
            f"side {named}" if known else "side",
            values,
            f"each side, {movements[named].name.lower()}" if known else "each side",
        )


def _longer_names(slug: str, movements: Mapping[str, Movement]) -> list[str]:
    """Give the movements whose name holds this one's: of "goblet step-up" a recogniser may leave "step-up"."""
    if slug not in movements:
        return []
    name = movements[slug].name.lower()
    return [s for s, m in movements.items() if s != slug and m.name.lower().endswith(f" {name}")]


def _parts_of(movements: Mapping[str, Movement]) -> dict[str, frozenset[str]]:
    """Give the words of each movement's name, endings off."""
    return {
        slug: frozenset(t.text for t in text_tokens(m.name.replace("-", " "), {}) if t.text not in EMPTY)
        for slug, m in movements.items()
    }


def _by_part(
    tokens: Sequence[Token],
    index: int,
    claims: Claims,
    movements: Mapping[str, Movement],
    parts: Mapping[str, frozenset[str]],
) -> list[tuple[str, tuple[float, ...], str]]:
    """Give what a number is about where only a part of a name stands behind it; what two names share may be either."""
    if (tokens[index].value or 0) <= FEW:
        return []
    hits: Counter[str] = Counter()
    first = ""
    for at, token in enumerate(tokens[index + 1 : index + 2 + NEAR]):
        if (
            tokens[index + at].closes
            or token.value is not None
            or _alike(token.text, _UNITS)
            or token.text in ALL_SIDE_NAMES
        ):
            break
        slugs = (
            [token.text[1:]] if token.text[0] == "@" else [s for s, words in parts.items() if _alike(token.text, words)]
        )
        # The first word may be the name's first one, misheard beyond knowing; a short word is one by itself.
        if not slugs and token.text not in _BETWEEN | EMPTY and (at or len(token.text) < 4):
            break
        slugs = [s for s in slugs if claims.right(s)]
        first = first or (token.text if slugs else "")
        hits.update(slugs)
    if first in _OTHER and sum(hits.values()) < 2:
        return []
    most = max(hits.values(), default=0)
    best = [s for s, n in hits.items() if n == most]
    if not best:
        return []
    values = tuple(
        v for s in best for v in (*claims.right(s), *(w for o in _longer_names(s, movements) for w in claims.right(o)))
    )
    # Of several, the one whose number is nearest is the likeliest.
    value = tokens[index].value or 0.0
    slug = min(best, key=lambda s: min(abs(value - v) for v in claims.right(s)))
    return [(f"@{slug}", values, movements[slug].name.lower() if slug in movements else slug)]


def _alike(text: str, words: Iterable[str]) -> bool:
    """Say whether a word is one of these, or one of them misheard."""
    return any(
        text == w or (min(len(text), len(w)) > 3 and text[0] == w[0] and fuzz.ratio(text, w) >= LIKE_PART)
        for w in words
    )


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
