"""Reading one line of work: how much, of what, with what, how the sides share it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from rapidfuzz import fuzz, process

from briefing.board.amounts import MOST, UNIT_WORDS, ReadAmount, find_loads, read_amount
from briefing.board.models import Amount, Load, Option, Work
from briefing.library.finding import Library
from briefing.library.models import KIT, REASONS, UNIT_OF, Movement
from briefing.library.names import plural_of
from briefing.problems import Place, Problem
from briefing.sources.text import Text
from briefing.units import Unit

# Other spellings of the reasons for an option, as coaches write them on a board.
REASON_WORDS: dict[str, str] = {
    "no room": "small room",
    "no space": "small room",
    "indoors": "small room",
    "apartment": "quiet",
    "neighbours": "quiet",
    "neighbors": "quiet",
    "no noise": "quiet",
    "no jumping": "no impact",
    "low impact": "no impact",
    "beginner": "new to it",
    "beginners": "new to it",
    "new": "new to it",
    "tired": "tired today",
    "back": "low back",
    "knees": "knee",
    "hips": "hip",
    "shoulders": "shoulder",
    "wrists": "wrist",
    "elbows": "elbow",
    "ankles": "ankle",
    "pregnant": "pregnant or after birth",
    "wet": "wet ground",
    "rain": "wet ground",
    "lighter": "too heavy",
}
# Our choice: nobody holds a heavier weight than this in one hand here, and no bar is lighter than that.
# Our choice as well: a box is 30 inches high at the most, so a larger number is centimetres.
HIGHEST_IN = 30
HEAVIEST_HELD_KG, LIGHTEST_BAR_KG = 45.0, 15.0
_HELD = ("dumbbell", "kettlebell", "barbell")
# What a number in brackets can be the weight of; the height of a box is none.
_WEIGHTS = frozenset(name for name, word in KIT.items() if word.weight) | {"ball"}
_KIT_WORD = re.compile(r"\b(?:dbs?|dumbbells?|kbs?|kettlebells?|bbs?|bar|barbells?)\b", re.IGNORECASE)
# What coaches call kit in a reason ("no bar"), beside the words of the kit list.
KIT_SHORT = frozenset({"db", "dbs", "kb", "kbs", "bb", "weight", "weights", "machine", "kit", "equipment"})
_SIDE_WORDS = r"(?:arms?|legs?|sides?|hands?|feet|foot)"
_EACH_NUMBER = re.compile(
    rf"^\s*(?P<number>\d+|:\d\d|\d+:\d\d)\s*(?:m|s|sec|reps)?\s*(?:each|ea\.?|per|a|every|/)\s*(?P<word>{_SIDE_WORDS})?\s*$",
    re.IGNORECASE,
)
_EACH = re.compile(
    rf"(?:[,\s]|^)(?:(?:each|ea\.?|per|/)\s*(?P<word>{_SIDE_WORDS})|e/s|each|ea\.?|both sides)\s*$", re.IGNORECASE
)
_ALTERNATING = re.compile(
    r"(?:^|[\s,(])(?:alternating|alternate|alt\.?)(?:\s+(?:legs|arms|sides|hands))?(?=[\s,)]|$)", re.IGNORECASE
)
_TOTAL = re.compile(r"\(\s*(?:t|total|in all)\s*\)|\bin (?:all|total)\b|\btotal\b", re.IGNORECASE)
_MOST = re.compile(
    r"^\s*(?:max(?:imum)?(?:[ -]effort)?|amrap|as many (?:\w+ )?as possible(?: of)?)\s+(?:(?P<unit>reps?|cals?|calories|met(?:er|re)s?)\s+(?:of\s+)?)?",
    re.IGNORECASE,
)
# What a number with its unit could look like, for a line that has none.
_EXAMPLE_AMOUNT: dict[Unit, str] = {"reps": "20 ", "m": "200 m ", "s": "1:00 ", "cal": "12 cal "}
# Our choice: shorter stretches on a machine are not rowed or ridden.
LEAST_MACHINE_M = 100
_COUNTED_IN = re.compile(r"^\s*(?P<unit>cals?|calories|met(?:er|re)s?)\s+(?:of\s+)?(?=[a-z])", re.IGNORECASE)
_LEFT = re.compile(
    r"\s+in (?:the )?(?:remaining|rest of the|left ?over)(?: time)?\s*$|\s+in the time (?:that is )?left\s*$",
    re.IGNORECASE,
)
_NOTE_SPLIT = re.compile(r"\s+(?=(?:with|w/|at|to|from|over|on|in|holding|and back|\+ bk)\b)", re.IGNORECASE)
# `30 snatches 22,5/15`: two loads without their unit at the end of the name.
_BARE_LOADS = re.compile(r"(?<=[A-Za-z)])\s+\d+(?:[.,]\d+)?\s*/\s*\d+(?:[.,]\d+)?\s*$")
_ABOUT = re.compile(r"\s*(?:~|about|approx\.?|ca\.?)?\s*(?P<amount>\d+)\s*(?P<unit>m|km|yd|ft|s|sec|min)?\s*")
_BEHIND = re.compile(
    r"(?:\s+[x×]\s*|\s+)(?P<amount>\d*:\d{2}|\d[\d.,]*\s*(?:m|km|k|yd|ft|mi|cal|s|sec|min|meters?|metres?)|\d{1,4})(?=\s*(?:,|$))",
    re.IGNORECASE,
)
# What stands behind a name without a comma: `goblet squats tempo 31X1`, `squats @ RPE 8`, `push-ups unbroken`.
_HOW = re.compile(
    r"(?<=[A-Za-z)])\s+(?:tempo\s+@?\s*\d-?\d-?[\dx]-?[\dx]|@\s*\d-?\d-?[\dx]-?[\dx](?![\d.,]|\s*(?:kg|lb|%|/))|@?\s*(?:rpe|effort)\s*\d+(?:\s*(?:of|/|out of)\s*10)?|unbroken)\s*(?=,|$)",
    re.IGNORECASE,
)
# `@ 22.5/15`, `@ 60`: a load without its unit.
_AT_LOAD = re.compile(r"\s+@\s*(?:2\s*[x×]\s*)?\d+(?:[.,]\d+)?(?:\s*/\s*\d+(?:[.,]\d+)?)?\s*(?=,|\(|$)")
_TEMPO = re.compile(r"^\s*(?:tempo\s*)?(?:@\s*)?(\d-?\d-?[\dx]-?[\dx])\s*(?:tempo)?\s*$", re.IGNORECASE)
_EFFORT = re.compile(
    r"^\s*(?:@\s*)?(?:(?:rpe|effort)\s*\d+(?:\s*(?:of|/|out of)\s*10)?|\d+\s*(?:of|/|out of)\s*(?:10|ten))\s*$",
    re.IGNORECASE,
)


@dataclass
class LineReader:
    """Reads lines of work against a library and collects problems.

    `varying` says that the header gives the numbers round by round (21-15-9), so that a line needs none; `kit` has the
    words of the kit that the coach listed, None where there is no list.
    """

    text: Text
    library: Library
    problems: list[Problem] = field(default_factory=list)
    varying: Amount | None = None
    most_is_meant: bool = False
    kit: frozenset[str] | None = None

    def work(self, line: int, start: int, words: str, *, as_option: bool = False) -> Work | None:
        """Read `words`, which stand in `line` from column `start` (counted from 0); None where it cannot be used."""
        return _Reading(self, line, start, words, as_option).work()

    def option(self, line: int, start: int, words: str, of: Work) -> Option | None:
        """Read what follows "or": another way to do `of`, its reasons in brackets; the amount is `of`'s if none stands there."""
        reasons: list[str] = []
        written: list[str] = []
        for bracket in list(re.finditer(r"\(([^()]*)\)", words)):
            found = [_reason(part) for part in re.split(r"[,;/]| or ", bracket[1])]
            if all(found):
                reasons += [r for r in found if r]
                written += [part.strip().lower() for part in re.split(r"[,;/]| or ", bracket[1])]
            elif not find_loads(bracket[1])[0] and not _TOTAL.search(bracket[0]):
                self._unknown_reason(line, start + bracket.start(1), bracket[1])
            else:
                continue
            words = words[: bracket.start()] + " " * len(bracket[0]) + words[bracket.end() :]
        reader = _Reading(self, line, start, words, as_option=True)
        work = reader.work(default=of)
        return (
            None
            if work is None
            else Option(work=work, reasons=tuple(dict.fromkeys(reasons)), written_reasons=tuple(written))
        )

    def error(self, code: str, message: str, suggestion: str | None, place: Place) -> None:
        """Collect an error."""
        self.problems.append(Problem(level="error", code=code, message=message, suggestion=suggestion, place=place))

    def note(self, code: str, message: str, suggestion: str | None, place: Place) -> None:
        """Collect a warning about how something was read."""
        self.problems.append(Problem(level="warning", code=code, message=message, suggestion=suggestion, place=place))

    def _unknown_reason(self, line: int, start: int, words: str) -> None:
        known = (*REASONS, *REASON_WORDS)
        best = process.extractOne(words.lower().strip(), known, scorer=fuzz.ratio, score_cutoff=60)
        self.error(
            "unknown-reason",
            f'"{words.strip()}" is not a reason that an option can have',
            best[0] if best else "one of: " + ", ".join(REASONS),
            self.text.place(line, start + 1, start + 1 + len(words)),
        )


def _reason(words: str) -> str | None:
    bare = re.sub(r"^if (?:you have |there is |your )?", "", words.strip().lower())
    if bare in REASONS or bare in REASON_WORDS:
        return REASON_WORDS.get(bare, bare)
    # "no step", "no dumbbells", "no bar": kit that is not there, by its whole name or by the last word of it.
    missing = bare.removeprefix("no ")
    known = {form for k in KIT for name in (k, k.split()[-1]) for form in (name, plural_of(name))}
    return "no kit" if bare.startswith("no ") and missing in known | KIT_SHORT else None


@dataclass
class _Reading:
    reader: LineReader
    line: int
    start: int
    words: str
    as_option: bool

    def work(self, default: Work | None = None) -> Work | None:
        total_meant = bool(_TOTAL.search(self.words))
        words = _HOW.sub(lambda m: "," + m[0][1:], _blank(self.words, _TOTAL))
        words = self._bare_load(words)
        brackets = [m[1] for m in re.finditer(r"\(([^()]*)\)", words)]
        loads, words = self._loads(words)
        bare = re.sub(r"\([^()]*\)", lambda m: " " * len(m[0]), words)
        alternating = bool(_ALTERNATING.search(bare))
        bare = _blank(bare, _ALTERNATING, keep=", ")
        most = _MOST.match(bare)
        amount = None if most else read_amount(bare)
        rest_at = most.end() if most else amount.end if amount else 0
        if amount is not None and amount.broken:
            value = amount.written.split("/")[0].replace(",", ".")
            whole = int(float(value)) if re.fullmatch(r"[\d.]+", value) else 1
            self.reader.error(
                "number-fraction",
                f'"{amount.written}" is no whole number of repetitions',
                f"{whole} or {whole + 1}",
                self._place(0, max(1, len(amount.written))),
            )
            return None
        if amount is None and most is None:
            amount, bare = _amount_behind(bare, brackets)
        own, bare = _counted_in(bare) if amount is None and most is None else (None, bare)
        says = _qualifiers(_clauses(bare, rest_at))
        name_start, name = _trim(says.name_at, _BARE_LOADS.sub("", says.name))
        if not name and most is None and amount is None:
            self.reader.error(
                "line-unread",
                f'"{self.words.strip()}" is no line of work',
                "20 goblet squats",
                self._place(0, len(self.words.rstrip())),
            )
            return None
        found = self._movement(name_start, name, amount)
        if found is None:
            return None
        movement, note = found
        amounts = self._amounts(amount, movement, default, most=bool(most))
        if most and most["unit"] and amounts:
            unit: Unit = "cal" if most["unit"][0] in "cC" else "m" if most["unit"][0] in "mM" else "reps"
            amounts = (Amount(unit=unit, most=True),)
        if amounts is None:
            return None
        if own is None and amount is None and self._meant_as_calories(amounts, movement):
            own = "cal"
        amounts = tuple(a.model_copy(update={"unit": own}) for a in amounts) if own else amounts
        each = says.each or says.per_side is not None or _pair(amount)
        amounts = self._share(amounts, amount, says.per_side, each=says.each, total_meant=total_meant)
        given, behind = loads, _BARE_LOADS.search(says.name)
        loads = given or tuple(x for b in brackets for x in _bracket_load(b, movement, name))
        if behind and not loads:
            loads = _bracket_load(behind[0], movement, name)
        chosen = self._by_kit(name, movement, loads)
        if chosen is not movement and not given:
            loads = tuple(x for b in brackets for x in _bracket_load(b, chosen, name))
        movement = chosen
        sides = "alternating" if alternating else "each" if each and movement.sides == "both" else movement.sides
        options = self._bracket_options(brackets)
        notes = [note] if note else []
        notes += says.notes
        notes += [_height(b, movement) for b in brackets if not options and _is_note(b, movement, name)]
        if not self.as_option and not options:
            self._stray_reasons(movement, name)
        return Work(
            movement=movement.slug,
            written=name,
            sides=sides,
            sides_written=alternating or each,
            side_word=(says.side_word or _usual_side(movement)) if sides != "both" else None,
            amounts=amounts,
            loads=loads,
            options=options,
            effort=says.effort,
            tempo=says.tempo,
            unbroken=says.unbroken,
            note=", ".join(notes) or None,
            place=self._place(0, len(self.words.rstrip())),
        )

    def _meant_as_calories(self, amounts: tuple[Amount, ...], movement: Movement) -> bool:
        """Say whether the numbers of a list are calories on a machine that counts them (21-15-9: row), and say so.

        Nobody rows nine meters: common practice, no source.
        """
        if "calories" not in movement.counts or not amounts[0].by_round or amounts[0].unit != "m":
            return False
        listed = self.reader.varying
        if listed is None or listed.unit != "reps" or max(amounts[0].by_round) >= LEAST_MACHINE_M:
            return False
        name = movement.name.lower()
        self.reader.note(
            "unit-read",
            f'"{self.words.strip()}" was read in calories',
            f"cal {name}   (or, line by line: {amounts[0].by_round[0]} m {name})",
            self._place(0, len(self.words.rstrip())),
        )
        return True

    def _bare_load(self, words: str) -> str:
        """Read `@ 22.5/15` as kilos, and say so: a load has its unit."""
        match = _AT_LOAD.search(words)
        if match is None or find_loads(words)[0]:
            return words
        written = match[0].strip(" @,")
        start = match.start() + match[0].index(written)
        pounds = f"{written} lb"
        self.reader.note(
            "load-unit",
            f'"{written}" has no unit; it was read as kilos',
            f"@ {written} kg   (or: @ {pounds})",
            self._place(start, start + len(written)),
        )
        # The columns behind it move by three; nothing behind a load is shown with its place.
        return words[: match.end()].rstrip() + " kg " + words[match.end() :]

    def _bracket_options(self, brackets: list[str]) -> tuple[Option, ...]:
        """Read `(80 singles / :40 line hops)`: brackets in which each piece is work of its own stand instead of the line."""
        out = []
        for bracket in brackets:
            said_or = re.match(r"\s*or\s+", bracket)
            pieces = re.split(r"\s*/\s+|\s+/\s*|\s+or\s+", bracket[said_or.end() :] if said_or else bracket)
            quiet = LineReader(self.reader.text, self.reader.library)
            works = [
                quiet.work(self.line, self.start + self.words.find(p), p) for p in pieces if said_or or read_amount(p)
            ]
            if len(works) == len(pieces) and all(works) and not quiet.problems:
                out += [Option(work=w) for w in works if w is not None]
        return tuple(out)

    def _by_kit(self, name: str, movement: Movement, loads: tuple[Load, ...]) -> Movement:
        """Choose between the versions of a bare name ("deadlift") by the load and by the kit that is listed.

        Nothing is chosen in silence where it could be either: a load that both a bar and a dumbbell can have is said as read.
        """
        if _KIT_WORD.search(name):
            return movement
        library = self.reader.library
        versions = {kind: m for kind in _HELD if (slug := library.find(f"{kind} {name}")) and (m := library.get(slug))}
        mine = next((n for k in movement.kit for n in k.names if n in _HELD), None)
        if mine is None or len({m.slug for m in versions.values()} | {movement.slug}) < 2:
            return movement
        versions.setdefault(mine, movement)
        heaviest = max((load.kg for load in loads if load.kg is not None), default=0.0)
        listed = self.reader.kit
        bar = versions.get("barbell")
        if bar is not None and (heaviest > HEAVIEST_HELD_KG or any(load.percent is not None for load in loads)):
            return bar
        at_hand = [k for k in versions if listed is not None and k in listed]
        if at_hand and mine not in at_hand:
            return versions[at_hand[0]]
        if (
            bar is not None
            and mine != "barbell"
            and heaviest >= LIGHTEST_BAR_KG
            and (not at_hand or "barbell" in at_hand)
        ):
            self.reader.note(
                "kit-read",
                f'"{name}" was read as {movement.name.lower()}',
                f"{bar.name.lower()}, or {movement.name.lower()}",
                self._place(0, len(self.words.rstrip())),
            )
        return movement

    def _stray_reasons(self, movement: Movement, name: str) -> None:
        """Say that a reason stands behind an option: `10 squats (knee)` tells nobody what to do for a knee."""
        for bracket in re.finditer(r"\(([^()]*)\)", self.words):
            if _reason(bracket[1]) and not _bracket_load(bracket[1], movement, name):
                self.reader.error(
                    "reason-without-option",
                    f'"({bracket[1]})" is a reason, and a reason stands behind an option',
                    f"below this line:  or 10 … ({bracket[1]})",
                    self._place(bracket.start(), bracket.end()),
                )

    def _place(self, start: int, end: int) -> Place:
        return self.reader.text.place(self.line, self.start + start + 1, self.start + end + 1)

    def _loads(self, words: str) -> tuple[tuple[Load, ...], str]:
        """Take the loads out, but keep the columns: what is left is as long as before."""
        loads, left = find_loads(words)
        if not loads:
            return (), words
        # find_loads puts one blank in place of what it took; the columns before it are the same.
        cut = next((i for i, (a, b) in enumerate(zip(words, left, strict=False)) if a != b), len(left))
        return loads, left[:cut] + " " * (len(words) - len(left)) + left[cut:]

    def _movement(self, start: int, name: str, amount: ReadAmount | None) -> tuple[Movement, str | None] | None:
        library = self.reader.library
        for candidate, note in _candidates(name):
            slug = library.find(candidate)
            if slug is None:
                continue
            movement = library.get(slug)
            if movement is None:
                self.reader.error(
                    "movement-unusable",
                    f'the movement file of "{candidate}" has errors',
                    f"briefing check {library.file_of(slug)}",
                    self._place(start, start + len(name)),
                )
                return None
            return movement, note
        place = self._place(start, start + max(1, len(name)))
        if not name:
            self.reader.error("movement-missing", "a movement is missing after the number", "20 goblet squats", place)
            return None
        first, _, tail = name.partition(" ")
        near = process.extractOne(first.lower(), UNIT_WORDS, scorer=fuzz.ratio, score_cutoff=60)
        unitish = near is not None or len(first) <= 3
        if tail and amount is not None and amount.unit is None and library.find(tail) and first.isalpha() and unitish:
            self.reader.error(
                "unknown-unit",
                f'"{first}" is not a unit',
                near[0] if near else "one of: reps, m, km, ft, yd, mi, cal, s, min",
                self._place(start, start + len(first)),
            )
            return None
        near_names = library.nearest(name)
        self.reader.error("unknown-movement", f'no movement is called "{name}"', " · ".join(near_names) or None, place)
        return None

    def _amounts(
        self, amount: ReadAmount | None, movement: Movement, default: Work | None, *, most: bool
    ) -> tuple[Amount, ...] | None:
        usual = UNIT_OF[movement.counts[0]]
        if most:
            return (Amount(unit=usual, most=True),)
        if amount is None:
            if default is not None:
                return self._like(default, usual)
            if self.reader.varying is not None:
                return (self.reader.varying.model_copy(update={"unit": usual}),)
            if self.reader.most_is_meant:
                return (Amount(unit=usual, most=True),)
            self.reader.error(
                "amount-missing",
                f'"{self.words.strip()}" has no number',
                ("12 " if _COUNTED_IN.match(self.words) else _EXAMPLE_AMOUNT[usual]) + self.words.strip(),
                self._place(0, len(self.words.rstrip())),
            )
            return None
        unit = amount.unit or ("reps" if usual in {"m", "s", "cal"} else usual)
        place = self._place(0, max(1, len(amount.written)))
        if amount.unit is None and usual != "reps" and "reps" not in movement.counts:
            unit_word = {"m": "m", "s": "s", "cal": "cal"}[usual]
            self.reader.error(
                "unit-missing",
                f'"{amount.written}" has no unit, and "{movement.name}" is not counted in reps',
                f"{amount.written} {unit_word} {self.words[amount.end :].strip()}",
                place,
            )
            return None
        if not self._bounds(amount.value, unit, amount.written, place):
            return None
        if amount.at_most is not None and amount.at_most < amount.value:
            self.reader.error(
                "range-falls",
                f'"{amount.written}" falls: a range rises, and a list of rounds has three numbers or more',
                f"{amount.at_most}-{amount.value}",
                place,
            )
            return None
        if amount.odd:
            self.reader.note("number-read", amount.odd, None, place)
        amounts = [Amount(unit=unit, by_round=(amount.value,), at_most=amount.at_most)]
        if amount.second is not None and amount.second != amount.value:
            if not self._bounds(amount.second, unit, amount.written, place):
                return None
            amounts.append(Amount(unit=unit, by_round=(amount.second,)))
        return tuple(amounts)

    def _like(self, default: Work, usual: Unit) -> tuple[Amount, ...] | None:
        """An option without a number of its own does the number of what it replaces, if both count the same."""
        if default.amount.most:
            return (Amount(unit=usual, most=True),)
        if default.amount.unit == usual:
            return default.amounts
        self.reader.error(
            "amount-missing",
            f'"{self.words.strip()}" counts in another unit than the line above, so it needs its own number',
            {"reps": "or 20 …", "m": "or 200 m …", "s": "or 1:00 …", "cal": "or 12 cal …"}[usual],
            self._place(0, len(self.words.rstrip())),
        )
        return None

    def _bounds(self, value: int, unit: Unit, written: str, place: Place) -> bool:
        if value < 0:
            self.reader.error("number-negative", f'"{written}" is below zero', written.lstrip("-"), place)
        elif value == 0:
            self.reader.error(
                "number-zero", f'"{written}" is nothing to do', "a number from 1, or leave the line out", place
            )
        elif value > MOST[unit]:
            word = {"reps": "reps", "m": "m", "s": "seconds", "cal": "calories"}[unit]
            self.reader.error(
                "number-absurd",
                f'"{written}" is more than anybody does ({MOST[unit]:,} {word} at the most here)',
                None,
                place,
            )
        else:
            return True
        return False

    def _share(
        self,
        amounts: tuple[Amount, ...],
        amount: ReadAmount | None,
        per_side: ReadAmount | None,
        *,
        each: bool,
        total_meant: bool,
    ) -> tuple[Amount, ...]:
        """Make the amount both sides together: `12/12` and `12 each arm` are 24; `12, 6 each arm` is 12."""
        if total_meant:
            return amounts
        if _pair(amount) or (each and per_side is None):
            return tuple(
                a.model_copy(update={"by_round": tuple(2 * n for n in a.by_round), "step": 2 * a.step}) for a in amounts
            )
        if per_side is not None and amounts[0].by_round and len(set(amounts[0].by_round)) == 1:
            whole = amounts[0].by_round[0]
            if 2 * per_side.value != whole:
                self.reader.error(
                    "sides-differ",
                    f"{per_side.value} each side makes {2 * per_side.value}, but the line says {whole}",
                    f"{2 * per_side.value} …, {per_side.value} each side"
                    if whole % 2
                    else f"{whole} …, {whole // 2} each side",
                    self._place(0, len(self.words.rstrip())),
                )
        return amounts


@dataclass
class _Says:
    """What the clauses of a line say besides the amount: the name, the sides, tempo, effort, notes."""

    name_at: int
    name: str
    each: bool = False
    side_word: str | None = None
    per_side: ReadAmount | None = None
    tempo: str | None = None
    effort: str | None = None
    unbroken: bool = False
    notes: list[str] = field(default_factory=list)


def _qualifiers(clauses: list[tuple[int, str]]) -> _Says:
    """Sort the clauses of a line: the first holds the name, the others how it is done."""
    at, main = clauses[0]
    left_over = _LEFT.search(main)
    says = _Says(at, main[: left_over.start()] if left_over else main)
    each = _EACH.search(says.name)
    if each:
        says.each, says.side_word, says.name = True, _side_word(each["word"]), says.name[: each.start()]
    for _, clause in clauses[1:]:
        own = _EACH_NUMBER.match(clause)
        again = _EACH.fullmatch(" " + clause.strip())
        tempo = _TEMPO.match(clause)
        if own:
            says.per_side, says.side_word = read_amount(own["number"]), _side_word(own["word"])
        elif again:
            says.each, says.side_word = True, _side_word(again["word"])
        elif tempo:
            says.tempo = tempo[1]
        elif _EFFORT.match(clause):
            says.effort = clause.strip(" @")
        elif clause.strip().lower() == "unbroken":
            says.unbroken = True
        elif clause.strip():
            says.notes.append(clause.strip())
    return says


def _height(bracket: str, movement: Movement) -> str:
    """Read `(24/20)` behind a box jump as the height of the box, in inches; above 30 it is centimetres. Common practice."""
    match = re.fullmatch(r"\s*(\d{1,3})(?:\s*/\s*(\d{1,3}))?\s*(in|inch(?:es)?|cm|\")?\s*", bracket)
    if match is None or not any("box" in k.names for k in movement.kit):
        return bracket.strip()
    metric = (match[3] or "").lower() == "cm" or (not match[3] and int(match[1]) > HIGHEST_IN)
    heights = " or ".join(h for h in (match[1], match[2]) if h)
    return f"the box {heights} {'centimeters' if metric else 'inches'} high"


def _is_note(bracket: str, movement: Movement, name: str) -> bool:
    """Say whether a bracket is a remark: no load, no distance, no reason."""
    taken = _bracket_load(bracket, movement, name) or find_loads(bracket)[0] or _reason(bracket)
    return not taken and not _ABOUT.fullmatch(bracket)


def _pair(amount: ReadAmount | None) -> bool:
    return amount is not None and amount.second is not None and amount.second == amount.value


def _blank(words: str, pattern: re.Pattern[str], keep: str = "") -> str:
    """Put blanks where the pattern stands, so that columns stay right."""
    return pattern.sub(lambda m: "".join(c if c in keep else " " for c in m[0]), words)


def _clauses(words: str, start: int) -> list[tuple[int, str]]:
    """Cut at commas that are no decimal commas; gives each clause with the column it starts at."""
    out, at = [], start
    for match in re.finditer(r",(?!\d)", words[start:]):
        out.append((at, words[at : start + match.start()]))
        at = start + match.end()
    out.append((at, words[at:]))
    return out


def _trim(start: int, words: str) -> tuple[int, str]:
    """Give a name without blanks, a lone `@` or `x` in front of it or behind it, and where it starts."""
    lead = re.match(r"(?:\s*(?:[@×]|x(?=\s)))*\s*", words, re.IGNORECASE)
    left = lead.end() if lead else 0
    return start + left, re.sub(r"(?:\s*[@×]|\s+x|[\s.:;])+$", "", words[left:], flags=re.IGNORECASE)


def _candidates(name: str) -> list[tuple[str, str | None]]:
    """Names to look for, the whole first, then without what follows "with", "to", … ."""
    name = re.sub(r"\s+", " ", name)
    without_kit = re.sub(
        r"^(?:2|two|a|1|one)\s+(?:dbs?|dumbbells?|kbs?|kettlebells?)\s+", "", name, flags=re.IGNORECASE
    )
    tail_kit = re.sub(
        r"\s+(?:with\s+)?(?:2|two|a|1|one)?\s*\b(?:dbs?|dumbbells?|kbs?|kettlebells?)$", "", name, flags=re.IGNORECASE
    )
    out: list[tuple[str, str | None]] = [(name, None)]
    kit_word = "dumbbell " if re.search(r"\bdbs?\b|dumbbells?", name, re.IGNORECASE) else "kettlebell "
    out += [(kit_word + c, None) for c in (without_kit, tail_kit) if c != name]
    out += [(c, None) for c in (without_kit, tail_kit) if c != name]
    out += [(name[: m.start()], name[m.end() :]) for m in reversed(list(_NOTE_SPLIT.finditer(name)))]
    return out


def _side_word(word: str | None) -> str | None:
    if not word:
        return None
    bare = word.lower().rstrip("s")
    return {"hand": "arm", "feet": "leg", "foot": "leg"}.get(bare, bare)


def _usual_side(movement: Movement) -> str:
    if (
        movement.pattern in {"lunge", "squat", "run", "crawl", "jump"}
        or "leg" in movement.slug
        or "step" in movement.slug
    ):
        return "leg"
    if movement.pattern in {"push", "pull", "overhead", "carry"}:
        return "arm"
    return "leg" if movement.slug.startswith(("mountain", "march")) else "side"


def _counted_in(words: str) -> tuple[Unit | None, str]:
    """Read what is counted where the number stands in a list above: `cal row`; the words keep their columns."""
    match = _COUNTED_IN.match(words)
    if match is None:
        return None, words
    return "cal" if match["unit"][0] in "cC" else "m", " " * match.end() + words[match.end() :]


def _amount_behind(words: str, brackets: list[str]) -> tuple[ReadAmount | None, str]:
    """Read an amount that stands behind the name: `run 400 m`, `plank :40`, `run to the corner and back (~200)`."""
    match = _BEHIND.search(words)
    if match:
        amount = read_amount(match["amount"])
        if amount is not None:
            return replace(amount, end=0), words[: match.start()] + " " * (len(words) - match.start())
    for bracket in brackets:
        about = _ABOUT.fullmatch(bracket)
        if about:
            amount = read_amount(about["amount"] + (" m" if not about["unit"] else ""))
            return (replace(amount, end=0) if amount else None), words
    return None, words


def _bracket_load(words: str, movement: Movement, name: str) -> tuple[Load, ...]:
    """`(15s)` behind a movement with dumbbells is a weight, not seconds; `(22,5/15)` is a load without its unit."""
    heavy = any(set(k.names) & _WEIGHTS for k in movement.kit)
    if not heavy or not re.fullmatch(r"\s*\d+(?:[.,]\d+)?s?(?:\s*/\s*\d+(?:[.,]\d+)?s?)?\s*(?:kgs?|lbs?)?\s*", words):
        return ()
    plain = words.replace("s", "").strip()
    loads, _ = find_loads(plain if re.search(r"kg|lb", plain) else plain + " kg")
    pair = re.search(r"\b(?:2|two)\s+(?:dbs?|dumbbells?|kbs?|kettlebells?)\b", name, re.IGNORECASE)
    two = pair is not None or any(k.count == 2 and set(k.names) & {"dumbbell", "kettlebell"} for k in movement.kit)
    return tuple(load.model_copy(update={"count": 2}) for load in loads) if two else loads
