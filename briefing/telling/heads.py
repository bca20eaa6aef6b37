"""The head of a part in the notation of the board: how it is done, and the clauses behind it.

5 rounds for time, cap 22:00
8 x (1:00 hard / 1:00 easy) run
2 sets of (4 x 300 m run, rest 1:00), 3:00 between sets
"""

from __future__ import annotations

from collections.abc import Mapping

from briefing.board.models import Amount, Cycle, Part, Work, body_of
from briefing.board.totals import rounds_of
from briefing.library.models import Movement
from briefing.telling.notation import Style, listed, movement_of, own_numbers, work_board
from briefing.telling.phrases import name_words
from briefing.telling.rests import block_rest_s, clock_range, gap_board, rest_time
from briefing.units import write_clock

# Scores that the form says by itself.
_USUAL_SCORES = frozenset(
    {"time", "the last minute that was whole", "rounds and repetitions", "repetitions", "load", "nothing"}
)


def head_board(part: Part) -> str:
    """Write the head of a part with its clauses; "" where nothing is said about how it is done."""
    return ", ".join(x for x in (_head(part), *_clauses(part)) if x)


def score_board(part: Part) -> str | None:
    """Write what is written down, where the form does not say it."""
    counted = part.scheme == "amrap" and part.score == "repetitions"
    return f"score: {part.score}" if part.score and (counted or part.score not in _USUAL_SCORES) else None


def whole_board(part: Part, movements: Mapping[str, Movement], style: Style) -> str | None:
    """Write a part whose work and form make one line: an effort and a recovery in turn, sets of sets of one thing.

    None where the form stands above its work.
    """
    return _in_turn(part, movements) or _sets_of(part, movements, style)


def only_work(part: Part) -> Work | None:
    """Give the work of a part that has no other line; None where there is more."""
    items = [i for c in part.cycles for i in c.items]
    only = items[0] if len(items) == 1 and len(part.stations) == 1 else None
    return only if isinstance(only, Work) else None


def _in_turn(part: Part, movements: Mapping[str, Movement]) -> str | None:
    """Write `8 x (1:00 hard / 1:00 easy) run`: one movement, how hard in turn."""
    w, work = part.windows, only_work(part)
    if work is None or not work.effort or not w.gap_doing or not w.gap_s or not w.work_s or part.scheme != "intervals":
        return None
    fills = work.amount.most or (work.amount.unit == "s" and work.amount.by_round == (w.work_s,))
    bare = work.model_copy(update={"effort": None})
    if not fills or len(work.amounts) > 1 or work.loads or work.loads_by_round or work.sides_written:
        return None
    if bare.tempo or bare.pace or bare.unbroken or bare.note:
        return None
    name = name_words(movement_of(work, movements))
    return f"{w.count} x ({write_clock(w.work_s)} {work.effort} / {write_clock(w.gap_s)} {w.gap_doing}) {name}"


def _sets_of(part: Part, movements: Mapping[str, Movement], style: Style) -> str | None:
    """Write `2 sets of (4 x 300 m run, rest 1:00), 3:00 between sets`: one thing in sets of sets."""
    body, work = body_of(part), only_work(part)
    if work is None or body is None or part.scheme != "sets" or not _blocks(body) or _other_rests(body):
        return None
    if work.amount.varies or work.loads_by_round or _clauses(part):
        return None
    inner = f"{body.block} x {work_board(work, movements, style, own=False)}"
    if body.rest_between_s or body.rest_between_s is None:
        inner += f", rest {rest_time(body.rest_between_s, body.rest_at_most_s, body.rest_doing)}"
    rest_s = block_rest_s(body)
    return f"{_blocks(body)} sets of ({inner})" + (f", {write_clock(rest_s)} between sets" if rest_s else "")


def _blocks(body: Cycle) -> int:
    """Give how many sets of rounds there are; 0 where rounds are not put together."""
    return body.rounds // body.block if body.block and body.rounds and body.rounds > body.block else 0


def _other_rests(body: Cycle) -> bool:
    apart = set(range(body.block, body.rounds or 0, body.block)) if block_rest_s(body) else set()
    return bool(body.rest_ratio) or any(n not in apart for n, _ in body.rest_after)


def _head(part: Part) -> str:  # noqa: PLR0911 - one row for each form
    w, rounds, body = part.windows, rounds_of(part), body_of(part)
    clock = write_clock(w.work_s or 0)
    ladder = None if own_numbers(part) else next((x for x in part.works if x.amount.varies), None)
    on_the_clock = _clock_head(part)
    if on_the_clock is not None:
        return on_the_clock
    match part.scheme:
        case "open-ladder" if ladder is not None:
            return f"{listed(ladder)}, {clock}"
        case "amrap" | "open-ladder":
            return f"AMRAP {clock}"
        case "max-reps":
            return f"Max reps in {clock}"
        case "sets" if w.count > 1 and not w.gap_s:
            return f"Every {clock} for {w.count} sets"
        case "every":
            return f"Every {clock} for {w.count} rounds" + _each_window(body)
        case "intervals" if part.goal == "most" and not any(x.amount.most for x in part.works):
            return f"{w.count} x AMRAP {clock}" + (f" / {gap_board(w)}" if w.gap_s else "")
        case "intervals" | "sets" if w.count > 1:
            turns = rounds if len(part.stations) > 1 else w.count
            return f"{clock} on / {gap_board(w)} for {turns} rounds" + _each_window(body)
        case "sets":
            return _rounds_head(rounds or 1, body, sets=True)
        case "build-to-max":
            return f"Build to {part.target or 'a heavy 1'}" + (f" in {clock}" if w.work_s else "")
        case "for-quality" if ladder is not None:
            return f"{listed(ladder)}, not for time"
        case "for-quality":
            return _rounds_head(rounds, body) + " not for time" if rounds and rounds > 1 else "Not for time"
        case "for-time" if ladder is not None:
            return listed(ladder) + " for time"
        case "for-time" if rounds and rounds > 1 and not _lists(part):
            return _rounds_head(rounds, body) + (" for time" if part.score else "")
        case _:
            return "For time" if part.score else ""


def _lists(part: Part) -> bool:
    """Say whether a line shows a list of numbers of its own, which tells how many rounds there are."""
    return any(x.amount.varies and not x.loads_by_round for x in part.works)


def _rounds_head(rounds: int, body: Cycle | None, *, sets: bool = False) -> str:
    blocks = _blocks(body) if body else 0
    if body and blocks:
        return f"{blocks} sets of {body.block} rounds"
    name = "set" if sets else "round"
    return f"{rounds} {name}{'s' if rounds != 1 else ''}"


def _each_window(body: Cycle | None) -> str:
    """Write how often a window's work is gone through, where that is more than once."""
    return f", {body.rounds} rounds each" if body and body.rounds and body.rounds > 1 else ""


def _clock_head(part: Part) -> str | None:
    """Write the head of a part on a common clock or of one that rises by the minute; None for every other part."""
    rounds = rounds_of(part)
    numbers = next((x.amount for x in part.works if x.amount.step), None)
    if part.span_s is not None:
        span = clock_range(*part.span_s)
        if part.goal == "most" and part.scheme != "max-reps":
            return f"{span}: AMRAP"
        return f"{span}: {rounds} rounds" if rounds and rounds > 1 else f"{span}:"
    if numbers is not None and part.goal == "complete":
        climb = "minute n: n" if numbers.by_round[0] == numbers.step == 1 else _climb(numbers)
        return climb if part.until_missed else f"{climb} for {write_clock(60 * part.windows.count)}"
    return None


def _climb(numbers: Amount) -> str:
    return f"minute 1: {numbers.in_round(0)}, minute 2: {numbers.in_round(1)}, …"


def _clauses(part: Part) -> list[str]:
    out = []
    body, w = body_of(part), part.windows
    if body and body.any_order:
        out.append("any order")
    if body and body.plan_rounds:
        out.append(f"plan {body.plan_rounds} rounds")
    capped = part.goal in {"time", "quality"} or (part.sets and w.count == 1)
    if capped and w.work_s and part.span_s is None:
        out.append(f"cap {write_clock(w.work_s)}")
    if part.carries_on:
        out.append("carry on where you left off")
    return out
