"""How heavy: a test that somebody can do at home, long enough for this workout."""

from __future__ import annotations

import re

from briefing.board.models import Part, Work, body_of
from briefing.board.totals import rounds_of
from briefing.library.models import Movement
from briefing.outline.material import Material, taught
from briefing.outline.models import Line
from briefing.speech.numbers import cardinal_words
from briefing.telling.numbers import count_words
from briefing.telling.phrases import name_words
from briefing.telling.shape import share_of


def tested(m: Material, movement: Movement) -> bool:
    """Say whether a test tells how heavy: not where the board names a share of one's best, or builds up to a heavy set."""
    works = [(p, w) for p in m.workout.parts for w in p.works if w.movement == movement.slug]
    settled = works and all(p.goal == "heaviest" or any(x.percent is not None for x in w.loads) for p, w in works)
    return bool(movement.load_test) and not settled


def first_tested(m: Material) -> Movement | None:
    """Give the first movement whose weight is found by a test."""
    return next((x for x in taught(m) if tested(m, x)), None)


def heavy_line(m: Material, movement: Movement, where: str) -> Line:
    """Say how heavy, as a test that somebody can do at home, long enough for the sets of this workout."""
    shown = [x for x in taught(m) if tested(m, x)]
    before = [k for x in shown[: shown.index(movement)] for k in x.kit]
    shared = any(set(k.names) & set(own.names) for k in before for own in movement.kit)
    key = "heavy shared" if shared else "heavy"
    text = m.voice.say(key, name=name_words(movement), test=load_test_words(m, movement))
    card = f"how heavy: {movement.name.lower()}"
    return m.line("heavy", f"{where}/heavy/{movement.slug}", text, card, movement=movement, source=movement.file)


# Our choice: nobody tests a weight with more than this in one go; longer sets are cut up anyway.
TEST_MOST_REPS = 20


_NUMBER_WORDS = {cardinal_words(n): n for n in range(1, 100)}


_TEST_COUNT = re.compile(r"\b([a-z]+(?:-[a-z]+)?) (times|meters|seconds)\b")


_ONE_SIDE = re.compile(r"\b(?:each|that) (?:arm|leg|hand|side)\b")


def load_test_words(m: Material, movement: Movement) -> str:
    """Give the load test with the number that this workout needs, where that is more than the library's.

    A weight that one can squat ten times is too heavy for six rounds of twenty. In sets without a clock the number is the
    set's own.
    """
    test = str(movement.load_test)
    found = _TEST_COUNT.search(test)
    written = _NUMBER_WORDS.get(found[1]) if found else None
    if found is None or written is None:
        return test
    unit = {"times": "reps", "meters": "m", "seconds": "s"}[found[2]]
    own_set, needed = False, 0
    for part in m.workout.parts:
        for work in part.works:
            if work.movement != movement.slug or work.amount.unit != unit or work.amount.most:
                continue
            number = _in_one_go(part, work)
            if work.sides != "both" and _ONE_SIDE.search(test):
                number = -(-number // 2)
            own_set, needed = own_set or part.sets, max(needed, number)
    if unit == "reps":
        needed = min(needed, TEST_MOST_REPS)
    number = needed if own_set and needed else max(written, needed)
    test = test[: found.start(1)] + count_words(number) + test[found.end(1) :]
    return _RESERVE.sub("half as many again", test) if _goes_on(m, movement) else test


def _in_one_go(part: Part, work: Work) -> int:
    """Give the largest amount that a line asks for at a time: of a round, or of a planned round."""
    body = body_of(part)
    rounds = body.plan_rounds if body is not None and body.any_order and work in body.items else None
    share = share_of(work, rounds) if rounds else work
    return max(share.amount.by_round)


# Our choice: a weight for several rounds leaves room for half as many again, not for two more.
_RESERVE = re.compile(r"\b(?:two|three|five) more\b(?= still in you)")


MANY_ROUNDS = 3


def _goes_on(m: Material, movement: Movement) -> bool:
    """Say whether a movement comes back round after round without a rest as long as one needs."""
    return any(
        not part.sets
        and part.goal != "heaviest"
        and any(w.movement == movement.slug for w in part.works)
        and (_rounds_ahead(part) or MANY_ROUNDS) >= MANY_ROUNDS
        for part in m.workout.parts
    )


def _rounds_ahead(part: Part) -> int | None:
    """Give how often a part's work comes round; None where that is open."""
    body = body_of(part)
    if body is not None and body.any_order:
        return body.plan_rounds or 1
    return max(rounds_of(part) or 1, part.windows.count) if rounds_of(part) or part.windows.count > 1 else None
