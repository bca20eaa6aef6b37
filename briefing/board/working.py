"""A line of work made whole: its movement, how much of it, how the sides share it, with what."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from rapidfuzz import fuzz

from briefing.board.amounts import MOST
from briefing.board.drafts import LoadDraft, WorkDraft
from briefing.board.models import Amount, Load, Option, Work
from briefing.board.modifiers import modified
from briefing.board.naming import NameRead
from briefing.board.reasons import height_of
from briefing.board.tokens import LoadWords, Quantity
from briefing.board.vocabulary import KG_OF, KIT_SPELLINGS
from briefing.library.finding import Library
from briefing.library.models import KIT, UNIT_OF, KitItem, Movement, Sides
from briefing.library.names import SHORT, one_of, plural_of, slug_of
from briefing.problems import Place, Problem
from briefing.sources.text import Text
from briefing.units import Unit, write_clock, write_number

# Our choice: nobody holds a heavier weight than this in one hand here, and no bar is lighter than that.
HEAVIEST_HELD_KG, LIGHTEST_BAR_KG = 45.0, 15.0
# Our choice: shorter stretches are not rowed or ridden, and no run on a board is shorter than the second.
LEAST_MACHINE_M, LEAST_RUN_M = 100, 20
# A bare number up to this in front of a run is kilometres or minutes, not metres. Our choice.
MOST_KM = 42
# Pairs of loads that are plates in pounds and nothing round in kilos. Common practice, no source.
POUNDS = frozenset(
    {(50, 35), (95, 65), (135, 95), (115, 80), (115, 75), (155, 105), (185, 125), (185, 135), (225, 155), (225, 145), (53, 35),
     (70, 53), (35, 26), (75, 55), (65, 45), (205, 145), (275, 185), (315, 205), (275, 205), (30, 20), (20, 14), (14, 10)}
) - {(30, 20)}  # fmt: skip
_HELD = ("dumbbell", "kettlebell", "barbell")
_KIT_WORD = re.compile(r"\b(?:dbs?|dumbbells?|kbs?|kettlebells?|bbs?|bar|barbells?)\b", re.IGNORECASE)
_UNIT_WORD: dict[Unit, str] = {"reps": "reps", "m": "m", "s": "seconds", "cal": "calories"}


@dataclass
class Context:
    """What a part says for all its lines: the numbers of its list, whether a bare name means as many as possible."""

    varying: Quantity | None = None
    most_is_meant: bool = False
    as_you_like: bool = False
    load: LoadDraft | None = None
    quiet: bool = False


@dataclass
class Worker:
    """Makes works of drafts and collects problems and the movements that no file has; `made` has the work of each draft, by its id."""

    text: Text
    library: Library
    kit: frozenset[str] | None = None
    problems: list[Problem] = field(default_factory=list)
    carried: dict[str, Movement] = field(default_factory=dict)
    made: dict[int, Work] = field(default_factory=dict)

    # --- problems ---------------------------------------------------------------------------------------------------

    def error(self, code: str, message: str, suggestion: str | None, place: Place) -> None:
        """Collect an error."""
        self.problems.append(Problem(level="error", code=code, message=message, suggestion=suggestion, place=place))

    def ask(self, code: str, message: str, suggestion: str | None, place: Place) -> None:
        """Collect a question: what was read, and what else it could be."""
        self.problems.append(Problem(level="warning", code=code, message=message, suggestion=suggestion, place=place))

    def note(self, code: str, message: str, suggestion: str | None, place: Place) -> None:
        """Collect a note about how something was read."""
        self.problems.append(Problem(level="note", code=code, message=message, suggestion=suggestion, place=place))

    def place(self, draft: WorkDraft) -> Place:
        """Give the place of a line of work."""
        return self.text.place(draft.line, draft.start + 1, draft.end + 1)

    def movement(self, slug: str) -> Movement | None:
        """Give a movement of the library or one that is carried."""
        return self.carried.get(slug) or self.library.get(slug)

    # --- a line of work ---------------------------------------------------------------------------------------------

    def work(self, draft: WorkDraft, context: Context, like: Work | None = None) -> Work | None:
        """Make a line of work whole; None where an error leaves nothing. `like` is the work that an option stands for."""
        movement = self._movement(draft)
        if movement is None:
            return None
        load = draft.load or context.load
        loads = () if any(x is not None for _, x, _ in draft.by_round) else self._loads(draft, load, movement)
        movement = self._by_kit(draft, movement, loads, load.kit if load is not None else None)
        if draft.load is None and context.load is not None and not _takes(movement, context.load):
            loads = ()
        amounts = self._amounts(draft, movement, context, like)
        if amounts is None:
            return None
        amounts = self._shared(draft, amounts)
        each = draft.each or draft.own_side is not None or _even_pair(draft.amount) or draft.one_side is not None
        sides: Sides = (
            "alternating" if draft.alternating else "each" if each and movement.sides == "both" else movement.sides
        )
        options = tuple(
            o for o in (self._option(d, r, w, draft, context, amounts, movement) for d, r, w in draft.options) if o
        )
        notes = [height_of(n, movement) for n in draft.notes]
        self.made[id(draft)] = made = Work(
            movement=movement.slug,
            written=draft.name.written,
            sides=sides,
            sides_written=draft.alternating or each,
            side_word=(_side_word(draft.side_word) or movement.usual_side) if sides != "both" else None,
            amounts=amounts,
            loads=loads,
            loads_by_round=self._loads_by_round(draft, movement),
            joined=draft.joined,
            options=options,
            effort=", ".join(dict.fromkeys([*draft.efforts, *_manners(draft.name)])) or None,
            tempo=draft.tempo,
            pace=draft.pace,
            unbroken=draft.unbroken,
            note=", ".join(notes) or None,
            place=self.place(draft),
        )
        return made

    def _option(  # noqa: PLR0913, PLR0917 - what stands above an option decides how it is read
        self, draft: WorkDraft, reasons: tuple[str, ...], written: tuple[str, ...], above: WorkDraft, context: Context,
        amounts: tuple[Amount, ...], movement: Movement,
    ) -> Option | None:  # fmt: skip
        like = Work(movement=movement.slug, written="", amounts=amounts, place=self.place(above))
        work = self.work(draft, Context(most_is_meant=context.most_is_meant, as_you_like=context.as_you_like), like)
        return Option(work=work, reasons=reasons, written_reasons=written) if work else None

    # --- which movement ---------------------------------------------------------------------------------------------

    def _movement(self, draft: WorkDraft) -> Movement | None:
        name = draft.name
        place = self.text.place(draft.line, draft.name_start + 1, draft.name_end + 1)
        if name.slug is None:
            return self._carry(draft, place)
        base = self.library.get(name.slug)
        if base is None:
            self.error(
                "movement-unusable",
                f'the movement file of "{name.written}" has errors',
                f"briefing check {self.library.file_of(name.slug)}",
                place,
            )
            return None
        if name.slip is not None:
            self.note("spelling-read", f'"{name.written}" was read as "{base.name.lower()}"', None, place)
        made = modified(base, name.modifiers, place)
        if made is base:
            return base
        known = self.library.get(made.slug)
        if known is not None:
            return known
        self.carried.setdefault(made.slug, made)
        return self.carried[made.slug]

    def _carry(self, draft: WorkDraft, place: Place) -> Movement:
        words = " ".join(SHORT.get(w.lower(), w) for w in draft.name.written.split())
        single = one_of(words)
        slug = slug_of(single) or "movement"
        if slug not in self.carried:
            name = single[:1].upper() + single[1:] if not single.isupper() else single
            self.carried[slug] = Movement(
                slug=slug,
                name=name,
                plural=words.lower() if single != words else plural_of(single.lower()),
                kit=tuple(
                    KitItem(names=(k,))
                    for k in dict.fromkeys(KIT_SPELLINGS[w] for w in words.lower().split() if w in KIT_SPELLINGS)
                    if k in KIT
                ),
                counts=("reps", "metres", "seconds", "calories"),
                file=self.text.name,
                carried=True,
            )
            near = self.likely(words)
            message = f'the library has no "{words}"; it is carried under this name, and you teach it in your own words'
            suggestion = (
                (" · ".join(near) + f', or briefing movement new "{name}"')
                if near
                else f'briefing movement new "{name}"'
            )
            self.ask("movement-carried", message, suggestion, place)
        return self.carried[slug]

    def likely(self, words: str) -> list[str]:
        """Give known names that spelling or shared words make likely for a name that no file has; the nearest first, at most two."""
        out = []
        mine = set(words.lower().split())
        for name in self.library.nearest(words, 6):
            close = fuzz.ratio(name, words.lower()) >= 82
            shared = mine & set(re.split(r"[\s-]", name))
            if close or (len(shared) >= 2 and len(shared) >= len(mine) - 1):
                out.append(name)
        return out[:2]

    def _by_kit(self, draft: WorkDraft, movement: Movement, loads: tuple[Load, ...], named: str | None) -> Movement:
        """Choose between the versions of a bare name ("deadlift") by the load and by the kit that is listed.

        Nothing is chosen in silence where it could be either: a load that both a bar and a dumbbell can have is said as read.
        """
        name = draft.name.written
        if _KIT_WORD.search(name) or draft.name.slug is None or movement.slug in self.carried:
            return movement
        plain = (draft.name.slip or name).lower()
        versions = {
            kind: m
            for kind in _HELD
            if (slug := self.library.find(f"{kind} {plain}")) and (m := self.library.get(slug))
        }
        mine = next((n for k in movement.kit for n in k.names if n in _HELD), None)
        if named in versions:
            return movement if _holds(movement, named) else versions[named]
        if mine is None or len({m.slug for m in versions.values()} | {movement.slug}) < 2:
            return movement
        versions.setdefault(mine, movement)
        heaviest = max((load.kg for load in loads if load.kg is not None), default=0.0)
        bar = versions.get("barbell")
        percent = any(x.percent is not None for x in loads) or any(
            x is not None and x.percent is not None for _, x, _ in draft.by_round
        )
        if bar is not None and (heaviest > HEAVIEST_HELD_KG or percent):
            return bar
        at_hand = [k for k in versions if self.kit is not None and k in self.kit]
        if at_hand and mine not in at_hand:
            return versions[at_hand[0]]
        if bar is not None and mine != "barbell" and heaviest >= LIGHTEST_BAR_KG and (not at_hand or len(at_hand) > 1):
            self.ask(
                "kit-read",
                f'"{name}" was read as {movement.name.lower()}',
                f"{bar.name.lower()}, or {movement.name.lower()}",
                self.place(draft),
            )
        return movement

    # --- how much ---------------------------------------------------------------------------------------------------

    def _amounts(
        self, draft: WorkDraft, movement: Movement, context: Context, like: Work | None
    ) -> tuple[Amount, ...] | None:
        usual = UNIT_OF[movement.counts[0]]
        if draft.most:
            return (Amount(unit=draft.unit or usual, most=True),)
        if draft.by_round:
            return self._amounts_by_round(draft, usual)
        quantity = draft.amount
        if quantity is None:
            return self._without_number(draft, movement, context, like, usual)
        unit = self._unit(draft, quantity, movement)
        place = self.place(draft)
        if not all(self._possible(v, unit, quantity.written, place) for v in quantity.values):
            return None
        if quantity.odd:
            self.note("number-read", quantity.odd, None, place)
        values = tuple(self._factor(draft, quantity, movement, unit) * v for v in quantity.values)
        whole = tuple(round(v) for v in values)
        if unit == "reps" and any(v != int(v) for v in values):
            self.error(
                "number-fraction",
                f'"{quantity.written.strip()}" is no whole number of repetitions',
                f"{int(values[0])} or {int(values[0]) + 1}",
                place,
            )
            return None
        match quantity.form:
            case "range":
                return (Amount(unit=unit, by_round=whole[:1], at_most=whole[1]),)
            case "pair" if whole[0] == whole[1]:
                return (Amount(unit=unit, by_round=whole[:1]),)
            case "pair":
                return (Amount(unit=unit, by_round=whole[:1]), Amount(unit=unit, by_round=whole[1:]))
            case "ladder":
                return (Amount(unit=unit, by_round=whole, step=quantity.step),)
            case _:
                return (Amount(unit=unit, by_round=whole),)

    def _amounts_by_round(self, draft: WorkDraft, usual: Unit) -> tuple[Amount, ...] | None:
        numbers = [q for q, _, _ in draft.by_round if q is not None]
        unit: Unit = next((q.unit for q in numbers if q.unit), "reps" if usual != "s" else usual)
        values = [round(q.values[0]) for q in numbers]
        if not all(self._possible(v, unit, str(v), self.place(draft)) for v in values):
            return None
        return (Amount(unit=unit, by_round=tuple(values)),)

    def _without_number(
        self, draft: WorkDraft, movement: Movement, context: Context, like: Work | None, usual: Unit
    ) -> tuple[Amount, ...] | None:
        unit = draft.unit or usual
        if like is not None:
            if like.amount.most or not like.amount.by_round:
                return (like.amount.model_copy(update={"unit": unit}),)
            if like.amount.unit == unit or (movement.carried or _counts(movement, like.amount.unit)):
                return like.amounts
            self.error(
                "amount-missing",
                f'"{draft.name.written}" is counted in another way than the line above, so it needs its own number',
                None,
                self.place(draft),
            )
            return None
        if context.varying is not None:
            return self._of_list(draft, movement, context.varying, unit)
        if context.most_is_meant:
            return (Amount(unit=unit, most=True),)
        if context.as_you_like:
            return (Amount(unit=unit),)
        if movement.carried:
            # What is no movement of the library and has no number is a remark as well as a movement: asked, never refused.
            self.ask(
                "amount-missing", f'"{draft.name.written}" has no number: it was set aside', None, self.place(draft)
            )
        elif not context.quiet:
            self.error("amount-missing", f'"{draft.name.written}" has no number', None, self.place(draft))
        return None

    def _of_list(self, draft: WorkDraft, movement: Movement, varying: Quantity, usual: Unit) -> tuple[Amount, ...]:
        """Give the numbers of a part's list to a line; nobody rows nine metres, and so a bare row is read in calories."""
        unit: Unit = varying.unit or usual
        values = tuple(round(v) for v in varying.values)
        machine = "calories" in movement.counts and usual == "m" and draft.unit is None
        if varying.unit is None and machine and max(values) < LEAST_MACHINE_M:
            unit = "cal"
            name = movement.name.lower()
            self.ask(
                "unit-read",
                f'"{draft.name.written}" was read in calories',
                f"cal {name}   (or, line by line: {values[0]} m {name})",
                self.place(draft),
            )
        elif varying.unit is None and unit == "s" and not _only(movement, "s"):
            unit = "reps"
        return (Amount(unit=unit, by_round=values, step=varying.step),)

    def _unit(self, draft: WorkDraft, quantity: Quantity, movement: Movement) -> Unit:
        """Give the unit of an amount; where none stands there and two are likely, the likelier is taken and asked about."""
        if draft.unit is not None and quantity.unit is None:
            return draft.unit
        if quantity.unit is not None:
            return quantity.unit
        usual = UNIT_OF[movement.counts[0]]
        if usual == "reps" or movement.carried or "reps" in movement.counts:
            return "reps"
        value, place, name = quantity.values[0], self.place(draft), movement.name.lower()
        number = write_number(value)
        if usual == "s":
            self.ask(
                "unit-unclear",
                f'"{draft.name.written} {number}" has no unit: read as {number} seconds',
                f"{number} s {name}   (or: {number} reps {name})",
                place,
            )
            return "s"
        if "calories" in movement.counts and value < LEAST_MACHINE_M:
            self.ask(
                "unit-unclear",
                f'"{number} {name}" has no unit: read as {number} calories',
                f"{number} cal {name}   (or: {number} m, or {number} min {name})",
                place,
            )
            return "cal"
        if usual == "m" and value <= MOST_KM:
            self.ask(
                "unit-unclear",
                f'"{number} {name}" has no unit: read as {number} km',
                f"{number} km {name}   (or: {number} min, or {number} m {name})",
                place,
            )
            return "m"
        if usual == "m" and movement.pattern != "run":
            message = f'"{name} {number}" has no unit: read as {number} m'
            self.ask("unit-unclear", message, f"{number} m {name}   (or: {number} s {name})", place)
            return "m"
        if usual == "m":
            self.note("unit-read", f'"{number} {name}" was read as {number} m', None, place)
            return "m"
        return usual

    def _factor(self, draft: WorkDraft, quantity: Quantity, movement: Movement, unit: Unit) -> int:
        """Give a thousand where a bare number was read as kilometres."""
        bare = quantity.unit is None and draft.unit is None and unit == "m" and UNIT_OF[movement.counts[0]] == "m"
        return 1000 if bare and quantity.values[0] <= MOST_KM and "calories" not in movement.counts else 1

    def _possible(self, value: float, unit: Unit, written: str, place: Place) -> bool:
        shown = written.strip()
        if value < 0:
            self.error("number-negative", f'"{shown}" is below zero', None, place)
        elif value == 0:
            self.error("number-zero", f'"{shown}" is nothing to do', "leave the line out", place)
        elif value > MOST[unit]:
            self.error(
                "number-absurd",
                f'"{shown[:40]}" is more than anybody does ({MOST[unit]:,} {_UNIT_WORD[unit]} at the most here)',
                None,
                place,
            )
        else:
            return True
        return False

    # --- sides ------------------------------------------------------------------------------------------------------

    def _shared(self, draft: WorkDraft, amounts: tuple[Amount, ...]) -> tuple[Amount, ...]:
        """Make the amount both sides together: `12/12` and `12 each arm` are 24; `12, 6 each arm` is 12."""
        if draft.total:
            return amounts
        if draft.own_side is not None and not draft.each:
            self._agree(draft, amounts[0])
            return amounts
        if _even_pair(draft.amount) or draft.each or draft.one_side:
            return tuple(
                Amount(
                    unit=a.unit,
                    by_round=tuple(2 * n for n in a.by_round),
                    step=2 * a.step,
                    most=a.most,
                    at_most=2 * a.at_most if a.at_most else None,
                )
                for a in amounts
            )
        return amounts

    def _agree(self, draft: WorkDraft, amount: Amount) -> None:
        side = draft.own_side
        if side is None or len(set(amount.by_round)) != 1:
            return
        each, whole = round(side.values[0]), amount.by_round[0]
        if 2 * each == whole:
            return
        write = write_clock if amount.unit == "s" else str
        suggestion = f"{write(2 * each)} …, {write(each)} each side" + (
            "" if whole % 2 else f", or {write(whole)} …, {write(whole // 2)} each side"
        )
        self.error(
            "sides-differ",
            f"{write(each)} each side makes {write(2 * each)}, but the line says {write(whole)}",
            suggestion,
            self.place(draft),
        )

    # --- loads ------------------------------------------------------------------------------------------------------

    def _loads(self, draft: WorkDraft, load: LoadDraft | None, movement: Movement) -> tuple[Load, ...]:
        if load is None:
            return ()
        if load.words is None and load.percent is not None:
            self._fits_repetitions(draft, load)
            return (Load(written=load.percent_written or f"{load.percent:g}%", percent=load.percent),)
        if load.words is None:
            return ()
        made = self._of_words(draft, load, movement)
        if load.percent is not None and made:
            made = tuple(Load(**{**dict(x), "percent": load.percent}) for x in made)
        return made

    def _of_words(self, draft: WorkDraft, load: LoadDraft, movement: Movement) -> tuple[Load, ...]:
        words: LoadWords = load.words  # type: ignore[assignment]  # the caller has looked
        place = self.text.place(draft.line, load.start + 1, load.end + 1) if load.end else self.place(draft)
        count = max(words.count, load.count, _pair_of(movement, load) if words.count == 1 and load.count == 1 else 1)
        if words.unit == "bw":
            share = f"{words.values[0]:g} × bodyweight" if words.values[0] != 1 else "bodyweight"
            return (Load(written=share, count=1),)
        unit = words.unit or "kg"
        if words.unit is None and len(words.values) == 2 and (words.values[0], words.values[1]) in POUNDS:
            a, b = (write_number(v) for v in words.values)
            self.ask(
                "load-unit", f'"{words.written}" has no unit: read as kilos', f"{a}/{b} kg   (or: {a}/{b} lb)", place
            )
        elif words.unit is None and words.written.startswith("@"):
            self.note("load-unit", f'"{words.written}" has no unit: read as kilos', None, place)
        if any(v <= 0 or v > 1000 for v in words.values):
            self.error("number-absurd", f'"{words.written[:40]}" is no weight that anybody lifts', None, place)
            return ()
        kilos = [round(v * KG_OF[unit], 3) for v in words.values]
        shown = [f"{write_number(v)} {unit}" for v in words.values]
        if len(kilos) == 1:
            return (Load(written=shown[0], kg=kilos[0], count=count),)
        order = sorted(range(2), key=lambda i: -kilos[i])
        return tuple(
            Load(written=shown[i], kg=kilos[i], count=count, group=group)
            for group, i in zip(("heavier", "lighter"), order, strict=True)
        )

    def _fits_repetitions(self, draft: WorkDraft, load: LoadDraft) -> None:
        """Ask where more than can be lifted once is to be lifted several times."""
        numbers = draft.amount.values if draft.amount is not None else ()
        several = max(numbers, default=0) > 1 or draft.most
        if load.percent is not None and load.percent > 100 and several:
            number = write_number(max(numbers)) if numbers else "as many as possible"
            message = f"{load.percent:g} percent is more than can be lifted once, and {number} are written"
            self.ask("percent-high", message, None, self.text.place(draft.line, load.start + 1, load.end + 1))

    def _loads_by_round(self, draft: WorkDraft, movement: Movement) -> tuple[Load, ...]:
        out: list[Load] = []
        for quantity, load, _ in draft.by_round:
            made = self._loads(_with_amount(draft, quantity), load, movement) if load else ()
            if not made:
                return ()
            out.append(made[0])
        return tuple(out)


def _with_amount(draft: WorkDraft, quantity: Quantity | None) -> WorkDraft:
    return WorkDraft(
        line=draft.line,
        start=draft.start,
        end=draft.end,
        name=draft.name,
        name_start=draft.name_start,
        name_end=draft.name_end,
        amount=quantity,
    )


def _counts(movement: Movement, unit: Unit) -> bool:
    return unit in {UNIT_OF[c] for c in movement.counts}


def _only(movement: Movement, unit: Unit) -> bool:
    return {UNIT_OF[c] for c in movement.counts} == {unit}


def _even_pair(quantity: Quantity | None) -> bool:
    return quantity is not None and quantity.form == "pair" and quantity.values[0] == quantity.values[1]


def _side_word(word: str | None) -> str | None:
    if not word:
        return None
    bare = word.lower().rstrip("s")
    return {"hand": "arm", "foot": "leg", "feet": "leg", "way": "side", "direction": "side"}.get(bare, bare)


def _manners(name: NameRead) -> Iterable[str]:
    return (m.name for m in name.modifiers if m.how and m.name not in {"full", "strict", "standing", "bodyweight"})


def _holds(movement: Movement, kit: str | None) -> bool:
    return any(kit in k.names for k in movement.kit)


def _takes(movement: Movement, load: LoadDraft) -> bool:
    """Say whether a load that stands on a line of its own can be for a movement."""
    if load.kit is not None:
        return _holds(movement, load.kit) or (movement.carried and any(load.kit in k.names for k in movement.kit))
    return any(KIT[n].weight for k in movement.kit for n in k.names if n in KIT)


def _pair_of(movement: Movement, load: LoadDraft) -> int:
    """Give two where the movement is done with two of what the load names: a dumbbell in each hand."""
    two = any(k.count == 2 and set(k.names) & {"dumbbell", "kettlebell"} for k in movement.kit)
    return (
        2
        if two and load.words is not None and load.words.written.rstrip().endswith("s") and load.words.unit is None
        else 1
    )
