"""Whole workouts of every form: each number, rest, cap, load, option and caution on every surface that members and coach see."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings

from briefing.board.models import Amount, Cycle, Load, Part, Station, Work, Workout
from briefing.clock.simulate import simulate
from briefing.library.models import Movement
from briefing.outline.cautions import CAUTIONS
from briefing.outline.outline import fit_segments
from briefing.pipeline import Desk, Plan, _assemble, open_desk, prepare
from briefing.settings.models import Settings
from briefing.sources.folders import built_in
from briefing.sources.text import Text
from briefing.telling.board import board_lines, write_board
from briefing.telling.notation import PAPER
from briefing.write.documents import DOCUMENTS, Given, write_document
from briefing.write.templates import Templates
from tests.whole_workouts import FORMS, PLACE, Fact, Made, workouts

TEMPLATES = Templates((built_in("templates"),))


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return open_desk(tmp_path_factory.mktemp("desk"))


def given_of(workout: Workout, desk: Desk) -> Given:
    """Compose a workout, everything of it said, as if it had been read."""
    slugs = [*(w.movement for w in workout.works), *(o.work.movement for w in workout.works for o in w.options)]
    carried = {m.slug: m for m in workout.carried}
    movements = {s: m for s in dict.fromkeys(slugs) if (m := carried.get(s) or desk.library.get(s)) is not None}
    plan = Plan(desk, Settings(title="Made Up"), workout, movements, Text.of("", "made.md"), (), workout.movements)
    ready = prepare(plan)
    outline = _assemble(plan, fit_segments(ready.segments, None, ready.pace), ready)
    run, slow = (simulate(workout, movements, who) for who in ("steady", "easy"))
    return Given(outline, movements, TEMPLATES, run, slow)


def text_of(key: str, given: Given) -> str:
    """Give a document's words: Markdown where it is made from Markdown, without its marks."""
    document = next(d for d in DOCUMENTS if d.key == key)
    form = "txt" if key == "description" else "md"
    words = write_document(document, form, given).decode()  # type: ignore[arg-type]
    return words.replace("\\", "")


def surfaces(given: Given) -> dict[str, str]:
    """Give what each surface says, in words."""
    outline = given.outline
    cards = [" ".join(x for x in (e.number, e.label, e.under) if x) for c in given.deck.cards for e in c.entries]
    return {
        "board": write_board(outline.workout, given.movements, PAPER),
        "handout": text_of("handout", given),
        "description": text_of("description", given),
        "calls": text_of("calls", given),
        "script": text_of("script", given),
        "cards": "\n".join(cards),
    }


def found(words: str, text: str) -> bool:
    """Say whether words stand in a text as words, not as a piece of a larger number."""
    return re.search(rf"(?<![\w.:,]){re.escape(words)}(?!\w)(?![.,:]\d)", text, re.IGNORECASE) is not None


def missing(fact: Fact, said: dict[str, str]) -> list[str]:
    out = []
    for surface, text in said.items():
        wanted = fact.said if surface == "script" else fact.card if surface == "cards" else (fact.written,)
        if wanted and not any(found(w, text) if w[0].isalnum() else w in text for w in wanted):
            out.append(f"{fact.what}: {wanted} on {surface}")
    return out


def everything_told(made: Made, desk: Desk) -> None:
    given_ = given_of(made.workout, desk)
    said = surfaces(given_)
    lost = [x for fact in made.facts for x in missing(fact, said)]
    lines = [x.words for x in board_lines(made.workout, given_.movements, PAPER) if x.words]
    lost += [
        f"{line!r} on {name}"
        for name in ("handout", "description", "calls")
        for line in lines
        if line not in said[name]
    ]
    safety = {p.say for s in made.workout.movements for p in given_.movements[s].safety}
    lost += [f"{point!r} on {name}" for name in ("handout", "script") for point in safety if point not in said[name]]
    lost += [f"{x[:30]!r} on {name}" for name in ("handout", "description") for x in CAUTIONS if x not in said[name]]
    assert not lost, "\n".join([*lost, said["board"], str(made.forms)])


@given(made=workouts())
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_everything_is_told_everywhere(made: Made, desk: Desk) -> None:
    everything_told(made, desk)


@pytest.mark.parametrize("form", FORMS)
def test_every_form_is_told(form: str, desk: Desk) -> None:
    @given(made=workouts(forms=(form,)))
    @settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
    def told(made: Made) -> None:
        everything_told(made, desk)

    told()


def test_heavier_and_lighter_are_said_for_what_they_are(desk: Desk) -> None:
    loads = (Load(written="24 kg", kg=24, group="heavier"), Load(written="16 kg", kg=16, group="lighter"))
    swings = Work(
        movement="kettlebell-swing",
        written="swings",
        amounts=(Amount(unit="reps", by_round=(20,)),),
        loads=loads,
        place=PLACE,
    )
    part = Part(stations=(Station(cycles=(Cycle(items=(swings,), rounds=3),)),), score="time", place=PLACE)
    given_ = given_of(Workout(title="Made Up", parts=(part,), file="made.md"), desk)
    (line,) = [x for s in given_.outline.segments for x in s.lines if x.kind == "loads"]
    assert re.search(r"heavier\W.*24 kilos.*lighter\W.*16 kilos", line.text.lower())
    assert (line.card, line.must) == ("24 kg / 16 kg", True)
    assert "3 rounds for time" in surfaces(given_)["calls"]


def test_a_movement_that_no_file_has_is_told_by_its_name(desk: Desk) -> None:
    """Nothing is known of it but its name: every surface has it, and none says more."""
    keg = Movement(slug="keg-carry", name="Keg carry", plural="keg carries", file="made.md", carried=True)
    works = (
        Work(movement="keg-carry", written="keg carries", amounts=(Amount(unit="reps", by_round=(23,)),), place=PLACE),
        Work(movement="push-up", written="push-ups", amounts=(Amount(unit="reps", by_round=(29,)),), place=PLACE),
    )
    part = Part(stations=(Station(cycles=(Cycle(items=works, rounds=3),)),), score="time", place=PLACE)
    said = surfaces(given_of(Workout(title="Made Up", parts=(part,), carried=(keg,), file="made.md"), desk))
    assert [name for name, text in said.items() if not found("keg carries", text)] == []
    assert [name for name, text in said.items() if not (found("23", text) or found("twenty-three", text))] == []
