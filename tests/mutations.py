"""A mutation run: small bugs put into a copy of the project, one at a time; the tests that matter have to catch each.

`python -m tests.mutations` runs all of them, `python -m tests.mutations telling sheet` those whose file or name has one of
these words. Prints which were caught and which survived, and ends with status 1 where fewer than nine in ten were caught.
`tests/test_mutations.py` holds that each of them still fits the text it changes.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent.parent
# Our choice: of a hundred small bugs ninety have to be seen by the tests.
LEAST_CAUGHT = 0.9


class Mutation(NamedTuple):
    """One small bug: the file, the text that is there once, what stands in its place, and the tests that should see it."""

    name: str
    file: str
    old: str
    new: str
    tests: str


TOLD = "tests/test_told_everywhere.py"
TELLING = "tests/test_telling.py"
GOLDEN = "tests/test_golden.py"
PAPERS = f"{TELLING} {GOLDEN}"
CLOCK = "tests/test_clock.py tests/test_clock_properties.py"
DECK = "tests/test_deck.py"
SERIES = "tests/test_series.py"

MUTATIONS: tuple[Mutation, ...] = (
    # What survived before there were golden papers.
    Mutation("kilos and pounds swapped when spoken", "briefing/telling/phrases.py",
             "'kilos' if match[2] == 'kg' else 'pounds'", "'pounds' if match[2] == 'kg' else 'kilos'", TELLING),
    Mutation("papers without rest", "briefing/telling/board.py",
             "for rest in rests_of(part) if whole is None)", "for rest in () if whole is None)", PAPERS),
    Mutation("papers without cap", "briefing/telling/heads.py",
             "if capped and w.work_s and part.span_s is None:", "if capped and w.work_s and part.carries_on:", PAPERS),
    Mutation("the first movement's safety notes only", "briefing/outline/teaching.py",
             "in (m.of(slug) for slug in m.shown):\n        points", "in (m.of(slug) for slug in m.shown[:1]):\n        points", GOLDEN),
    Mutation("a tally box short", "briefing/outline/sheet.py",
             "return min(40, rounds) if rounds else 12", "return min(40, rounds - 1) if rounds else 12", GOLDEN),
    Mutation("description without cautions", "briefing/write/documents.py",
             '"chapters": [(chapter_clock(s.start_tenths), s.title) for s in outline.segments],\n        "cautions": sheet.cautions,',
             '"chapters": [(chapter_clock(s.start_tenths), s.title) for s in outline.segments],\n        "cautions": (),', GOLDEN),
    Mutation("a ceiling in centimeters ten times too high", "briefing/settings/reading.py",
             '{"m": 1.0, "c": 0.01}', '{"m": 1.0, "c": 0.1}', "tests/test_settings.py"),
    Mutation("the ceiling check 15 cm lax", "briefing/check/workout.py",
             "if ceiling < height and not any", "if ceiling + 0.15 < height and not any", "tests/test_checks.py"),
    Mutation("the first next action lost on its card", "briefing/write/deck.py",
             'for x in re.split(r",\\s+", action) for y', 'for x in re.split(r",\\s+", action)[1:] for y', DECK),
    # telling
    Mutation("no rest as needed", "briefing/telling/rests.py", "    if rest_s is None:\n", "    if rest_s is None and sets:\n", PAPERS),
    Mutation("a rest as long as the work is lost", "briefing/telling/rests.py",
             "    if not body.rest_ratio:\n", "    if body.rest_ratio != 2:\n", PAPERS),
    Mutation("twice the rest is half of it", "briefing/telling/rests.py",
             '2.0: "twice as long", 0.5: "half as long"', '2.0: "half as long", 0.5: "twice as long"', TELLING),
    Mutation("work and rest swapped on the board", "briefing/telling/rests.py",
             "{over.denominator}:{over.numerator}", "{over.numerator}:{over.denominator}", TELLING),
    Mutation("no range of a rest", "briefing/telling/rests.py",
             'return write_clock(seconds) + (f"-', 'return write_clock(seconds) + (f"" and f"-', TELLING),
    Mutation("a rest after a round is one round late", "briefing/telling/rests.py",
             'f"Rest {clock} after round {number}"', 'f"Rest {clock} after round {number + 1}"', PAPERS),
    Mutation("no rest between sets of sets", "briefing/telling/rests.py",
             "    return found.pop() if len(found) == 1 else None", "    return None", TELLING),
    Mutation("a buy-in is the body", "briefing/board/models.py",
             "c.any_order, len(c.items))", "not c.any_order, -len(c.items))", TELLING),
    Mutation("not for time is lost", "briefing/telling/heads.py",
             '+ " not for time" if rounds and rounds > 1 else "Not for time"', 'if rounds and rounds > 1 else ""', PAPERS),
    Mutation("any order is lost", "briefing/telling/heads.py", 'out.append("any order")', 'out.append("")', PAPERS),
    Mutation("the plan is lost", "briefing/telling/heads.py",
             "    if body and body.plan_rounds:\n", "    if body and body.plan_rounds == 1:\n", PAPERS),
    Mutation("in pairs is lost", "briefing/telling/board.py", "if team := team_words(part):", "if (team := team_words(part)) and whole:", PAPERS),
    Mutation("one works, all rest", "briefing/telling/sharing.py", "0 if part.team_size == 2 else 1", "1", TELLING),
    Mutation("RPE is lost", "briefing/telling/figures.py", "        work.effort,\n", "        None,\n", PAPERS),
    Mutation("unbroken is lost", "briefing/telling/figures.py", '"unbroken" if work.unbroken else None', "None", PAPERS),
    Mutation("the aim is lost", "briefing/telling/board.py",
             'if part.target and part.goal != "heaviest":', "if part.target and part.sets:", PAPERS),
    Mutation("a finish is called a buy-in", "briefing/telling/board.py", 'else "Finish: "', 'else "Buy-in: "', PAPERS),
    Mutation("the heavier load alone", "briefing/telling/notation.py",
             'for load in loads) + f" {unit}"', 'for load in loads[:1]) + f" {unit}"', GOLDEN),
    Mutation("two dumbbells are one", "briefing/telling/notation.py",
             'f"{loads[0].count} x " if loads[0].count > 1', 'f"{loads[0].count} x " if loads[0].count > 2', GOLDEN),
    Mutation("halves are wholes on paper", "briefing/telling/notation.py",
             'half = write_clock(number // 2) if amount.unit == "s" else str(number // 2)',
             'half = write_clock(number) if amount.unit == "s" else str(number)', PAPERS),
    Mutation("an interrupt's first time is lost", "briefing/telling/interrupts.py",
             'return f"Every {write_clock(trigger.every_s)} from {write_clock(trigger.from_s)}"',
             'return f"Every {write_clock(trigger.every_s)} from 0:00"', GOLDEN),
    Mutation("options without reasons", "briefing/telling/notation.py",
             'return f"or {words}" + (f" ({reasons})" if reasons else "")', 'return f"or {words}"', PAPERS),
    Mutation("seconds after a minute are lost", "briefing/telling/numbers.py",
             "    if secs:\n        parts.append", "    if secs and not minutes:\n        parts.append", "tests/test_phrases.py"),
    Mutation("down and up swapped in a tempo", "briefing/telling/phrases.py",
             "down, low, up, top = re.findall", "up, low, down, top = re.findall", f"tests/test_phrases.py {GOLDEN}"),
    Mutation("heavy loads are lighter", "briefing/outline/workout.py",
             'heavier=load_words(loads["heavier"]), lighter=load_words(loads["lighter"])',
             'heavier=load_words(loads["lighter"]), lighter=load_words(loads["heavier"])', TOLD),
    Mutation("what improvised kit may not do is not said", "briefing/telling/kit.py",
             '"reach" in x.space.overhead or x.flies', '"reach" in x.space.overhead', "tests/test_outline.py"),
    # problems, units, sources, settings
    Mutation("clock times are cut, not rounded", "briefing/units.py", "whole = int(seconds + 0.5)", "whole = int(seconds)", "tests/test_units.py"),
    Mutation("a pound is 0.4536 kg", "briefing/units.py", "KG_PER_LB = 0.45359237", "KG_PER_LB = 0.4536", "tests/outside/test_units.py"),
    Mutation("9:60 is a time", "briefing/units.py", "int(p) > 59 for p in parts[1:]", "int(p) > 60 for p in parts[1:]", "tests/test_units.py"),
    Mutation("about is at most", "briefing/settings/reading.py", '.lower() == "about")', '.lower() == "at most")', "tests/test_settings.py"),
    Mutation("a calm coach is typical", "briefing/settings/reading.py", '"calm": 1.15', '"calm": 1.0', "tests/test_settings.py"),
    Mutation("whoever tried it was easy", "briefing/settings/reading.py", 'person=who or "steady"', 'person=who or "easy"', "tests/test_settings.py"),
    # library, board
    Mutation("a step up lands", "briefing/library/models.py", 'and self.pattern != "lunge"', "", "tests/test_library.py tests/test_normal.py tests/test_outline.py"),
    Mutation("totals of one round", "briefing/board/totals.py", "for n in range(cycle.rounds))", "for n in range(1))", "tests/test_board.py"),
    Mutation("a minute of marching is halved", "briefing/board/totals.py",
             '(work.amount.unit == "reps" or work.sides_written)', "True", f"tests/test_board.py {GOLDEN}"),
    Mutation("one of two weights is lifted", "briefing/board/loads.py", "load.kg * load.count", "load.kg", "tests/test_normal.py"),
    Mutation("a rest after the last window", "briefing/board/models.py", "if window >= self.count:", "if window > self.count:", f"{CLOCK} tests/test_board.py"),
    Mutation("rests between turns are lost", "briefing/board/models.py",
             "return self.turn_gap_s if self.turn and window % self.turn == 0 else self.gap_s", "return self.gap_s", f"{CLOCK} {GOLDEN}"),
    # clock
    Mutation("n rounds have n rests", "briefing/clock/simulate.py",
             "(rest_us or cycle.rest_ratio) and r + 1 != rounds", "(rest_us or cycle.rest_ratio)", f"{CLOCK} {GOLDEN}"),
    Mutation("an interrupt at the very end counts", "briefing/clock/simulate.py",
             "while self.due < self.now < self.limit:", "while self.due <= self.now < self.limit:", CLOCK),
    Mutation("nobody slows down", "briefing/clock/people.py", "SLOW = 0.25", "SLOW = 0.0", f"{CLOCK} {GOLDEN}"),
    Mutation("a cap is a minute longer", "briefing/clock/simulate.py",
             "min(longest, start + windows.work_s * _US)", "min(longest, start + windows.work_s * _US + 60 * _US)", f"{CLOCK}"),
    Mutation("planned shares leave a rest over", "briefing/clock/simulate.py",
             "return tuple((each + 1 if r < over else each) * unit", "return tuple(each * unit", CLOCK),
    Mutation("the easy person is given more", "briefing/clock/scaling.py", "SHARE = 0.9", "SHARE = 1.0", f"{CLOCK} {GOLDEN}"),
    # speech
    Mutation("sentences have no pause", "briefing/speech/seconds.py", "        + SENTENCE_MS * len", "        + 0 * len", "tests/test_seconds.py"),
    Mutation("counted repetitions take no time", "briefing/outline/material.py",
             "shown += round(10 * show.reps * self.rate_s(movement))", "shown += 0", f"{GOLDEN} tests/test_outline.py"),
    Mutation("forty is fourty", "briefing/units.py", '"forty"', '"fourty"', "tests/test_spoken.py tests/outside/test_numbers_against_num2words.py"),
    Mutation("the band is narrow", "briefing/speech/seconds.py", "STRETCH_VARIANCE_S * likely_talk_s)", "0 * likely_talk_s)", "tests/test_seconds.py"),
    # outline
    Mutation("ties go to more seconds", "briefing/outline/fit.py",
             "gain, cost = item.worth * scale - item.tenths, item.tenths", "gain, cost = item.worth * scale + item.tenths, item.tenths", "tests/test_fit.py"),
    Mutation("what a line needs is left out", "briefing/outline/fit.py",
             "parent = item.needs if item.needs is not None and item.needs not in must else None", "parent = None", "tests/test_fit.py"),
    Mutation("when to stop is no must", "briefing/outline/cautions.py",
             "STOP_CARD, must=True, source=", "STOP_CARD, must=False, source=", "tests/test_outline.py"),
    Mutation("the cap is no must", "briefing/outline/workout.py",
             'f"{write_clock(cap)} cap",\n            must=True,', 'f"{write_clock(cap)} cap",\n            must=False,', f"{GOLDEN}"),
    Mutation("a stop sign is missing on paper", "briefing/outline/cautions.py", "at a cold sweat, at short breath", "at short breath", GOLDEN),
    Mutation("the option that needs no room is not said with the run", "briefing/outline/options.py",
             '_PLACE_REASONS = frozenset({"small room", "wet ground", "quiet"})', '_PLACE_REASONS = frozenset({"quiet"})', GOLDEN),
    Mutation("a coach's skip is ignored", "briefing/outline/outline.py", "if line.id in gone:", "if line.id in gone and line.must:", "tests/test_outline.py"),
    # check
    Mutation("planned rounds that do not divide pass", "briefing/check/workout.py", "if total % plan:", "if total < plan:", "tests/test_checks.py"),
    Mutation("odd numbers have halves", "briefing/check/workout.py", "            if number % 2:\n                yield", "            if number % 2 > 1:\n                yield", "tests/test_checks.py"),
    Mutation("forced work that never comes passes", "briefing/check/workout.py", "first is not None and first >= clock", "first is not None and first > clock + 600", "tests/test_checks.py"),
    # write
    Mutation("chapters begin a second late", "briefing/write/chapters.py", "divmod(tenths // 10, 60)", "divmod(tenths // 10 + 1, 60)", GOLDEN),
    Mutation("the handout leaves out what stands in", "briefing/write/documents.py", '"stand_ins": sheet.stand_ins,', '"stand_ins": (),', GOLDEN),
    Mutation("the handout has no options", "briefing/telling/board.py",
             "    yield from (BoardLine(level, option_board", "    return\n    yield from (BoardLine(level, option_board", PAPERS),
    Mutation("calls of the clock are late", "briefing/write/calls.py", "start += part.clock_s + part.rest_after_s", "start += part.clock_s", GOLDEN),
    Mutation("a rest as needed is 45 seconds on the call sheet", "briefing/write/calls.py",
             'return "Rest as long as you need." if as_needed', 'return "Rest as long as you need." if not as_needed', GOLDEN),
    Mutation("the other side is called at once", "briefing/write/calls.py", "return start + (end - start) * (half - done) / quantity", "return start + (end - start) * (half - done) / quantity / 2", GOLDEN),
    Mutation("numbers on the cards are not huge", "briefing/write/deck.py", 'if len(group) == 1 and group[0].entry.kind == "figure":', "if len(group) > 5:", DECK),
    Mutation("a must is not bold", "briefing/write/deck.py", "rows = self._set(words.label, self.room_em, bold=line.must)",
             "rows = self._set(words.label, self.room_em)", DECK),
    Mutation("an edited file is written over", "briefing/write/saving.py", "(there is None or _sum(there) not in known):", "there is None:", "tests/test_saving.py"),
    Mutation("set-up is filmed before the lens", "briefing/write/documents.py", 'rank = {"movement": 1, "change": 2}', 'rank = {"movement": -1, "change": 2}', GOLDEN),
    # series, take
    Mutation("never taught in full again", "briefing/series/teaching.py", "> dt.timedelta(weeks=weeks):", "> dt.timedelta(weeks=99 * weeks):", SERIES),
    Mutation("new people see a recap", "briefing/series/teaching.py", "    if fact.new_people:\n", "    if fact.new_people and not slug:\n", SERIES),
    Mutation("a changed movement builds nothing", "briefing/series/changes.py", "changed = [k for k in now if before.get(k) != now[k]]", "changed = [k for k in now if k not in before]", SERIES),
    Mutation("a pace from three words", "briefing/take/pace.py", "if talk_s < LEAST_TALK_S or base_s <= 0:", "if base_s <= 0:", "tests/test_pace.py"),
    Mutation("one hundred twenty is 121", "briefing/take/counting.py", 'return part + _TENS[word], "tens"', 'return part + _TENS[word] + 1, "tens"', "tests/test_review.py tests/test_pace.py"),
    Mutation("captions run late", "briefing/take/transcript.py", "start = cue.start_ms + (cue.end_ms - cue.start_ms) * at // whole", "start = cue.start_ms", "tests/test_transcript.py"),
    Mutation("lines that are said twice count twice", "briefing/take/align.py",
             "if line not in said and not taken & set(range(first, last + 1)):", "if not taken & set(range(first, last + 1)):", "tests/test_review.py"),
    # cli
    Mutation("errors end with 0", "briefing/cli/showing.py", "raise click.exceptions.Exit(1)", "raise click.exceptions.Exit(0)", "tests/test_cli.py"),
)  # fmt: skip


def copy_of_the_tree(folder: Path) -> None:
    """Copy what tests need into a folder."""
    for name in ("briefing", "movements", "templates", "tests", ".github"):
        if (HERE / name).is_dir():
            shutil.copytree(HERE / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE"):
        shutil.copy(HERE / name, folder / name)


def caught(mutation: Mutation, folder: Path) -> bool:
    """Put one bug into the copy, run its tests, take it out again; say whether one of them failed."""
    path = folder / mutation.file
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(mutation.old, mutation.new), encoding="utf-8")
    # Warnings of Hypothesis' own, and its memory of examples, are no part of what is asked here.
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *mutation.tests.split()]
    env = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=False)
    finally:
        path.write_text(text, encoding="utf-8")
    return done.returncode == 1


def main(words: list[str]) -> int:
    """Run the mutations whose name or file has one of these words, all where there are none."""
    chosen = [m for m in MUTATIONS if not words or any(w in m.name or w in m.file for w in words)]
    survived = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        copy_of_the_tree(folder)
        for mutation in chosen:
            seen = caught(mutation, folder)
            print(f"{'caught  ' if seen else 'SURVIVED'} {mutation.name} ({mutation.file})", flush=True)
            if not seen:
                survived.append(mutation)
    share = 1 - len(survived) / max(1, len(chosen))
    print(f"{len(chosen) - len(survived)} of {len(chosen)} caught, {share:.0%}")
    return 0 if share >= LEAST_CAUGHT else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
