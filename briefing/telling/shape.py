"""The shape of a part: what kind of work it is, how often one goes through it, what is done once."""

from __future__ import annotations

import re

from briefing.board.models import Amount, Cycle, Part, Work, body_of
from briefing.board.totals import ladders_differ, rounds_of
from briefing.telling.figures import Figure
from briefing.telling.numbers import count_words, rounds_words, time_words, times_words
from briefing.telling.phrases import numbers_words
from briefing.telling.sentences import join_words
from briefing.units import write_clock


def shape(part: Part) -> tuple[str, dict[str, str]]:
    """Give the phrase for the shape of a part, and what fills it."""
    jobs = _jobs(part)
    rounds = rounds_of(part)
    w = part.windows
    if part.span_s is not None:
        return _span_shape(part, jobs)
    if _minute_ladder(part) is not None:
        return _climb_shape(part)
    match part.scheme:
        case "amrap":
            return "shape amrap", {"time": time_words(w.work_s or 0), "jobs": jobs}
        case "max-reps":
            return "shape max", {"time": time_words(w.work_s or 0)}
        case "open-ladder":
            said = join_words([count_words(n) for n in _climb(part)], last="then")
            return "shape open numbers", {"numbers": said, "time": time_words(w.work_s or 0)}
        case "every" if len(part.stations) > 1:
            return "shape stations", {
                "time": time_words(w.work_s or 0),
                "stations": f"{count_words(len(part.stations))} stations",
                "times": times_words(rounds or 1) + " round",
            }
        case "every":
            return "shape every", {
                "time": time_words(w.work_s or 0),
                "times": times_words(w.count) + _over(w.count),
                "jobs": jobs,
            }
        case "intervals":
            turns = times_words(w.count)
            if len(part.stations) > 1:
                turns = f"{count_words(len(part.stations))} jobs in turn, {times_words(rounds or 1)} round"
            rest = time_words(w.gap_s) + (f", {w.gap_doing}" if w.gap_doing else "")
            return "shape intervals", {"work": time_words(w.work_s or 0), "rest": rest, "times": turns}
        case "sets":
            return "shape sets", {"sets": sets_words(part)}
        case "build-to-max":
            target = re.sub(r"\d+", lambda n: count_words(int(n[0])), part.target or "a heavy set")
            timed = {"time": time_words(w.work_s)} if w.work_s else {}
            return "shape heavy time" if timed else "shape heavy", {"target": target, **timed}
        case "for-quality":
            return "shape quality", {"rounds": rounds_words(rounds or 1), "jobs": jobs}
        case "for-time":
            return _time_shape(part, jobs)


def sets_words(part: Part) -> str:
    """Say how many sets, or sets of sets: `five sets`, `two sets of four rounds`."""
    body = body_of(part)
    rounds = body.rounds if body and body.rounds else 1
    if body and body.block > 1 and rounds > body.block:
        return f"{_counted(rounds // body.block, 'set')} of {rounds_words(body.block)}"
    return _counted(rounds, "set")


def _counted(number: int, name: str) -> str:
    return f"{count_words(number)} {name}{'s' if number != 1 else ''}"


def repeats(part: Part) -> bool:
    """Say whether it is known that a part has more than one round."""
    rounds = rounds_of(part)
    return rounds is not None and rounds > 1


def _jobs(part: Part) -> str:
    body = body_of(part)
    count = sum(isinstance(i, Work) for i in body.items) if body else 0
    return f"{count_words(count)} job{'s' if count != 1 else ''}"


def _time_shape(part: Part, jobs: str) -> tuple[str, dict[str, str]]:
    """Give the phrase for a part for time: any order, numbers by round, rounds, or once through."""
    rounds = rounds_of(part)
    numbers = next((i.amount for i in part.works if i.amount.varies), None)
    values = {"jobs": jobs, "clock": " for time" if part.score == "time" else ""}
    body = body_of(part)
    if rounds == 1 and len(part.works) == 1:
        return "shape one", values
    if body and body.block > 1 and rounds and rounds > body.block:
        return "shape rounds", values | {"rounds": sets_words(part)}
    if body and body.any_order:
        return "shape any order", values
    if ladders_differ(part):
        return "shape ladders", values | {"rounds": rounds_words(rounds or 1)}
    if numbers is not None:
        return "shape numbers", values | {"numbers": numbers_words(numbers)}
    if rounds and rounds > 1:
        return "shape rounds", values | {"rounds": rounds_words(rounds)}
    return "shape once", values


def _minute_ladder(part: Part) -> Amount | None:
    """Give the amount that rises from minute to minute; None where nothing does."""
    return next((w.amount for w in part.works if w.amount.step and part.goal == "complete"), None)


def _climb_shape(part: Part) -> tuple[str, dict[str, str]]:
    numbers = _minute_ladder(part)
    assert numbers is not None  # noqa: S101 - the caller asked
    until = "until a minute is not enough" if part.until_missed else f"for {time_words(60 * part.windows.count)}"
    first, second = (count_words(numbers.in_round(n)) for n in (0, 1))
    return "shape climb", {"first": first, "second": second, "until": until}


def _span_shape(part: Part, jobs: str) -> tuple[str, dict[str, str]]:
    """Give the phrase for a stretch of a common clock: "From four to ten minutes on the clock: …"."""
    assert part.span_s is not None  # noqa: S101 - the caller asked
    start, end = part.span_s
    whole = start % 60 == 0 and end % 60 == 0 and start
    times = {
        "from": "the start" if not start else count_words(start // 60) if whole else time_words(start),
        "to": time_words(end),
    }
    rounds = rounds_of(part)
    if part.scheme == "max-reps":
        return "shape span max", times
    if part.goal == "most":
        return "shape span most", times | {"jobs": jobs}
    if rounds and rounds > 1:
        return "shape span rounds", times | {"rounds": rounds_words(rounds), "jobs": jobs}
    return "shape span", times | {"jobs": jobs}


def _climb(part: Part) -> tuple[int, ...]:
    amount = next(w.amount for w in part.works if w.amount.step)
    return tuple(amount.in_round(n) for n in range(3))


def _over(count: int) -> str:
    return " over" if count > 2 else ""


def shape_card(part: Part) -> str:
    """Write the shape for a card: `5 ROUNDS`, `AMRAP 12:00`, `EVERY 2:00 × 7`."""
    figure = shape_figure(part)
    return f"{figure.number} {figure.label}".strip()


def shape_figure(part: Part) -> Figure:
    """Give the number of a shape for the card."""
    w, rounds = part.windows, rounds_of(part)
    clock = write_clock(w.work_s or 0)
    match part.scheme:
        case "amrap" | "max-reps" | "open-ladder":
            return Figure(number=clock, label="as many as you can")
        case "every" if part.span_s:
            return Figure(number="–".join(write_clock(s) for s in part.span_s), label="on the clock")
        case "every" if part.until_missed:
            return Figure(number="+1", label="each minute")
        case "every":
            return Figure(number=clock, label=f"each, × {w.count}")
        case "intervals":
            return Figure(number=f"{clock} / {write_clock(w.gap_s)}", label=f"work, rest × {w.count}")
        case "build-to-max":
            return Figure(number=clock if w.work_s else "↑", label=part.target or "build up")
        case _:
            body = body_of(part)
            if body and body.any_order:
                jobs = sum(isinstance(i, Work) for i in body.items)
                return Figure(number=str(jobs), label=f"job{'s' if jobs != 1 else ''}, any order")
            numbers = next((x.amount for x in part.works if x.amount.varies), None)
            if numbers is not None and not ladders_differ(part):
                return Figure(number="-".join(str(n) for n in numbers.by_round), label="reps" + _untimed(part))
            return _rounds_figure(part, rounds or 1)


def _rounds_figure(part: Part, rounds: int) -> Figure:
    body = body_of(part)
    if body and body.block > 1 and rounds > body.block:
        return Figure(number=f"{rounds // body.block} × {body.block}", label="sets of rounds" + _untimed(part))
    name = "set" if part.sets else "round"
    return Figure(number=str(rounds), label=name + ("" if rounds == 1 else "s") + _untimed(part))


def _untimed(part: Part) -> str:
    return ", not for time" if part.goal == "quality" else ""


def once_key(part: Part, cycle: Cycle) -> str | None:
    """Give the phrase for what is done once, before or after the rounds; None for the rounds themselves and for stations."""
    body = body_of(part)
    if cycle is body or body is None or len(part.stations) > 1:
        return None
    cycles = [id(c) for c in part.cycles]
    return "once before" if cycles.index(id(cycle)) < cycles.index(id(body)) else "once after"


def share_of(work: Work, rounds: int) -> Work:
    """Give the line with its amounts divided by the planned rounds (whole numbers; a check holds that they divide)."""
    amounts = tuple(
        a.model_copy(update={"by_round": tuple(max(1, n // rounds) for n in a.by_round)}) for a in work.amounts
    )
    return work.model_copy(update={"amounts": amounts, "note": None})
