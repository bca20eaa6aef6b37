"""Figures for cards: a number, what it counts, what stands beneath."""

from __future__ import annotations

from briefing.board.models import Work
from briefing.board.totals import shares_sides
from briefing.library.models import Movement
from briefing.problems import Model
from briefing.telling.phrases import many_words, name_words
from briefing.units import with_unit, write_clock


class Figure(Model):
    """A number for the card: the number alone, what it counts, what stands beneath (`20`, `step-ups`, `10 each leg`)."""

    number: str
    label: str
    under: str | None = None


def amount_card(work: Work) -> str:
    """Write an amount for a card: `20`, `200 m`, `1:00`, `15 cal`, `max`, `21-15-9`."""
    amount = work.amount
    if amount.most:
        return "max"
    if amount.varies:
        return "-".join(str(n) for n in amount.by_round) + ("-…" if amount.step else "")
    number = amount.in_round(0)
    if amount.unit == "s":
        return write_clock(number)
    written = f"{number}–{amount.at_most}" if amount.at_most else f"{number:,}"
    if len(work.amounts) > 1:
        written += f" / {work.amounts[1].in_round(0):,}"
    return with_unit(written, amount.unit)


def sides_card(work: Work) -> str | None:
    """Write the count of a side for a card: `10 each leg`."""
    amount = work.amount
    if not shares_sides(work) or amount.most or amount.varies or amount.in_round(0) % 2:
        return None
    half = amount.in_round(0) // 2
    return f"{write_clock(half) if amount.unit == 's' else half} each {work.side_word or 'side'}"


def load_card(work: Work) -> str | None:
    """Write the loads for a card: `22.5 / 15 kg`, `2 × 15 kg`."""
    if work.loads_by_round:
        return ", ".join(
            f"{'max' if work.amount.most else work.amount.in_round(n)} @ {x.written}"
            for n, x in enumerate(work.loads_by_round)
        )
    if not work.loads:
        return None
    return " / ".join((f"{load.count} × " if load.count > 1 else "") + load.written for load in work.loads)


def how_written(work: Work) -> tuple[str, ...]:
    """Write how a line is done, in the board's notation: tempo, effort, pace, unbroken, what the coach adds."""
    said = (
        f"tempo {work.tempo}" if work.tempo else None,
        work.effort,
        f"@ {work.pace}" if work.pace else None,
        "unbroken" if work.unbroken else None,
        work.note,
    )
    return tuple(x for x in said if x)


def work_figure(work: Work, movement: Movement) -> Figure:
    """Give the number of a line of work for the card."""
    one = work.amount.unit != "reps" or (work.amount.in_round(0) == 1 and not work.amount.varies)
    label = name_words(movement) if one else many_words(movement)
    under = " · ".join(x for x in (sides_card(work), load_card(work), *how_written(work)) if x) or None
    return Figure(number=amount_card(work), label=label, under=under)


def work_card(work: Work, movement: Movement) -> str:
    """Write a line of work in one line: `20 goblet step-ups · 10 each leg`."""
    figure = work_figure(work, movement)
    return f"{figure.number} {figure.label}" + (f" · {figure.under}" if figure.under else "")
