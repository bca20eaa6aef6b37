"""`briefing clock`: the workout worked through for three kinds of people."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.board.models import body_of
from briefing.check.workout import check_clock
from briefing.cli.naming import Command, Named
from briefing.cli.showing import print_json, save_named, say, show_problems, stop_with
from briefing.clock.answer import work_through
from briefing.clock.scaling import scale
from briefing.clock.simulate import simulate
from briefing.clock.tally import partitions
from briefing.pipeline import Plan, read_plan
from briefing.problems import Stop
from briefing.telling.phrases import many_words
from briefing.units import PEOPLE, write_clock
from briefing.write.clock_picture import clock_svg, clock_text
from briefing.write.promised import clock_json


@click.command(cls=Command, example="briefing clock breakwater.md --svg clock.svg")
@click.argument("file", cls=Named, what="A workout, such as slack-water.md.", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the answers as JSON.")
@click.option("--svg", type=click.Path(path_type=Path, dir_okay=False), help="Write the picture as SVG.")
def clock(file: Path, *, as_json: bool, svg: Path | None) -> None:
    """Work the workout through for brisk, steady and easy people: times, scores, what is forced in, how to split it."""
    try:
        plan = read_plan(file)
    except Stop as stop:
        stop_with(stop.problems, as_json=as_json, beside=file.parent)
        return
    answers = work_through(plan.workout, plan.movements, effort=plan.effort)
    problems = (*plan.problems, *check_clock(plan.workout, answers))
    runs = [simulate(plan.workout, plan.movements, who, effort=plan.effort) for who in PEOPLE]
    if svg is not None:
        picture = clock_svg(runs, plan.movements, plan.workout.title).encode()
        try:
            save_named(svg, picture, plan.desk.folder or file.parent)
        except Stop as stop:
            stop_with(stop.problems, as_json=as_json, beside=file.parent)
            return
    if as_json:
        print_json(clock_json(plan.workout, answers, problems).model_dump(mode="json"))
        return
    say(plan.workout.title)
    for person in answers.people:
        extra = f", forced in {person.interrupts} times" if person.interrupts else ""
        say(f"  {person.person:<7} {person.score}{extra}")
    for slug in answers.untimed:
        many = many_words(plan.movements[slug])
        say(
            f"  not timed: {many}: no file says how long they take. They are reckoned at an ordinary pace here, so tell nobody these times"
        )
    say("")
    for run in runs:
        say(f"  {run.person:<7} {clock_text(run)} {write_clock(run.end_s)}")
    say("          = work   ! forced in   . rest, change, break")
    if any(p.team for p in plan.workout.parts):
        say(
            "\nshared work is worked out as if one person did all of it: with two, the one who rests comes back fresher"
        )
    if plan.tried_words:
        say(f"\n{plan.tried_words}")
    _show_partitions(plan)
    _show_scaling(plan)
    show_problems(problems, file.parent)


def _show_partitions(plan: Plan) -> None:
    for number, part in enumerate(plan.workout.parts):
        body = body_of(part)
        if body is None or not body.any_order:
            continue
        say("\nways to split it (the longest round of brisk / steady / easy people):")
        for way in partitions(plan.workout, plan.movements, number, effort=plan.effort):
            amounts = " + ".join(f"{a.quantity} {many_words(plan.movements[a.movement])}" for a in way.amounts)
            times = " / ".join(write_clock(max(t.round_s)) if t.round_s else "-" for t in way.times)
            fits = [t.person for t in way.times if t.fits]
            planned = "   <- planned" if body.plan_rounds == way.rounds else ""
            between = (
                f"   between two interrupts: {', '.join(fits) or 'nobody'}"
                if any(t.fits is not None for t in way.times)
                else ""
            )
            say(f"  {way.rounds:>3} x {amounts}   {times}{between}{planned}")


def _show_scaling(plan: Plan) -> None:
    rows = []
    for who in PEOPLE:
        made = scale(plan.workout, plan.movements, who, effort=plan.effort)
        if made.fits and made.factor < 1:
            amounts = ", ".join(
                f"{'-'.join(map(str, a.by_round))} {'' if a.unit == 'reps' else a.unit + ' '}{many_words(plan.movements[a.movement])}"
                for a in made.amounts
            )
            rows.append(f"  {who:<7} {amounts}   done at {write_clock(made.end_s)}")
    if rows:
        say("\nto finish inside nine tenths of the cap, or of each interval (amounts as on the board, a line each):")
        for row in rows:
            say(row)
