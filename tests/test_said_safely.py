"""What can hurt somebody who trains alone, held as what is said: workouts of one movement, their spoken lines and the handout.

The facts of the trade in here are common practice, no source, except where a source stands beside them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from briefing.library.finding import Library
from briefing.library.models import KIT, Movement
from briefing.library.template import movement_template
from briefing.outline.models import Line
from briefing.pipeline import Briefed
from briefing.problems import Stop
from briefing.sources.folders import built_in
from briefing.write.documents import DOCUMENTS, Given, write_document
from briefing.write.templates import Templates

Brief = Callable[..., Briefed]
# In five minutes only what must be said is said, and little more.
SHORT_S = 300


def one(brief_text: Brief, work: str, **more: int) -> Briefed:
    return brief_text(f"3 rounds for time\n  {work}\n", **more)


def lines_of(briefed: Briefed, *kinds: str) -> list[Line]:
    return [x for x in briefed.outline.lines if not kinds or x.kind in kinds]


def said(briefed: Briefed, *kinds: str) -> str:
    return " ".join(x.text for x in lines_of(briefed, *kinds))


def must(briefed: Briefed) -> str:
    return " ".join(x.text for x in briefed.outline.lines if x.must)


def handout(briefed: Briefed) -> str:
    document = next(d for d in DOCUMENTS if d.key == "handout")
    given = Given(briefed.outline, briefed.plan.movements, Templates((built_in("templates"),)))
    return re.sub(r"\s+", " ", write_document(document, "html", given).decode().replace("&#39;", "'"))


# --- 1 to 3: what stands in for kit -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "work", ["10 box jumps", "10 jumping pull-ups", "10 burpee box step-overs", "10 slow negative pull-ups"]
)
def test_nobody_jumps_on_a_bench(brief_text: Brief, work: str) -> None:
    briefed = one(brief_text, work)
    for words in (said(briefed, "stand-in", "kit"), " ".join(briefed.outline.sheet.stand_ins)):
        assert "bench" not in words
        assert "chair" not in words
    assert "No box?" in said(briefed, "stand-in")
    if work == "10 box jumps":
        assert said(briefed, "stand-in") == "No box? Jump on the floor."
        assert "No box? Jump on the floor." in handout(briefed)


def test_a_stand_in_of_one_movement_is_not_that_of_another(brief_text: Brief) -> None:
    head = "---\nkit: [1 box]\n---\n"
    mixed = brief_text(f"{head}3 rounds for time\n  10 box jumps\n  10 box step-overs\n  10 step-ups\n")
    assert said(mixed, "stand-in") == (
        "No box? Use a solid step that can neither tip nor slide, for everything but the box jump and the box step-over. "
        "No box for the box jump? Jump on the floor. "
        "No box for the box step-over? Step over a line on the floor with high knees."
    )


@pytest.mark.parametrize("work", ["8 band-assisted pull-ups", "8 pull-ups"])
def test_nobody_stands_in_a_towel(brief_text: Brief, work: str) -> None:
    briefed = one(brief_text, work)
    assert "towel" not in said(briefed, "stand-in")
    assert "towel" not in " ".join(briefed.outline.sheet.stand_ins)
    if "band" in work:
        assert "No band? Row under a heavy table that can neither tip nor slide, and stay between its legs." in said(
            briefed, "stand-in"
        )
        assert "No band? Row under a heavy table that can neither tip nor slide, and stay between its legs." in handout(
            briefed
        )


def test_a_band_that_is_pulled_apart_may_be_a_towel(brief_text: Brief) -> None:
    assert "No band? Hold a towel wide" in said(one(brief_text, "15 band pull-aparts"), "stand-in")


@pytest.mark.parametrize("work", ["20 lateral hops", "10 lateral burpees"])
def test_nobody_jumps_over_what_is_hard_or_rolls(brief_text: Brief, work: str) -> None:
    briefed = one(brief_text, work)
    assert said(briefed, "stand-in") == "No cone or towel? Use a line on the floor."
    for words in (said(briefed, "stand-in", "kit"), handout(briefed)):
        assert "bottle" not in words
        assert not re.search(r"\ba shoe\b", words)


def test_a_board_with_a_dumbbell_to_jump_over_is_told_not_to(brief_text: Brief) -> None:
    briefed = one(brief_text, "10 burpees over the dumbbell", length=SHORT_S)
    assert "never over a dumbbell" in must(briefed)
    assert "never over a dumbbell" in handout(briefed)


def test_no_stand_in_is_what_was_asked_for() -> None:
    for name, word in KIT.items():
        assert word.made_of is None or word.made_of in KIT, name


@pytest.mark.parametrize(
    ("work", "kit"), [("10 bench dips", "bench or chair"), ("100 m sandbag carry", "sandbag or backpack")]
)
def test_what_is_missing_does_not_stand_in_for_itself(brief_text: Brief, work: str, kit: str) -> None:
    assert f"No {kit}?" not in said(one(brief_text, work), "stand-in")


# --- 4 and 5: upside down ---------------------------------------------------------------------------------------------


def test_who_does_a_handstand_push_up_is_said_before_anybody_kicks_up(brief_text: Brief) -> None:
    briefed = one(brief_text, "5 handstand push-ups", length=420)
    mine = [x for x in briefed.outline.lines if x.movement == "handstand-push-up"]
    kinds = [x.kind for x in mine]
    entry = [x for x in mine if x.kind == "entry"]
    assert all(x.must for x in entry)
    assert (
        "only for you if you can hold a handstand at the wall for twenty seconds and come down calmly" in entry[0].text
    )
    assert entry[1].text.startswith("Everybody else keeps their feet on the floor")
    before = " ".join(x.text for x in mine[: max(n for n, k in enumerate(kinds) if k == "entry") + 1])
    for word in ("high blood pressure", "eye trouble", "pregnancy", "a mat for your head", "ceiling"):
        assert word in before
    assert "step" not in kinds[: kinds.index("entry")]
    assert kinds.index("entry") == 1


@pytest.mark.parametrize("level", ["full", "short", "name-only"])
def test_an_entry_test_is_said_however_little_is_taught(brief_text: Brief, level: str) -> None:
    head = f"---\nteach: {{handstand push-up: {level}}}\n---\n"
    briefed = brief_text(f"{head}3 rounds for time\n  5 handstand push-ups\n")
    assert "only for you if you can hold a handstand" in must(briefed)


def test_a_handstand_leaves_the_head_its_room(library: Library) -> None:
    movement = library.get("handstand-push-up")
    assert movement is not None
    words = " ".join(p.say for p in (*movement.points, *movement.build_up, *movement.faults))
    assert "two hands' lengths from the wall" in words
    assert "a hand's width ahead of your fingertips" in words
    assert "closer to the wall" not in words


# --- 6, 7: collars and locks ------------------------------------------------------------------------------------------

COLLARS = "Close both collars of the barbell before every set."
LOCKS = "If your dumbbell has screw-on locks, tighten them before every set."


def movements_with(library: Library, kit: str) -> list[Movement]:
    found = [m for s in library.slugs() if (m := library.get(s)) is not None]
    return [m for m in found if any(kit in k.names for k in m.kit)]


@pytest.mark.parametrize(("kit", "sentence", "least"), [("barbell", COLLARS, 15), ("dumbbell", LOCKS, 25)])
def test_collars_and_locks_are_said_with_every_movement(
    library: Library, brief_text: Brief, kit: str, sentence: str, least: int
) -> None:
    movements = movements_with(library, kit)
    assert len(movements) >= least
    for movement in movements:
        work = (
            f"100 m {movement.name}"
            if movement.counts[0] == "metres"
            else f"0:30 {movement.name}"
            if movement.counts[0] == "seconds"
            else f"5 {movement.name}"
        )
        briefed = one(brief_text, work)
        assert must(briefed).count(sentence) == 1, movement.slug
        assert sentence in briefed.outline.sheet.safety, movement.slug


def test_a_kettlebell_has_no_locks(brief_text: Brief) -> None:
    briefed = brief_text("---\nkit: [1 kettlebell]\n---\n3 rounds for time\n  10 swings\n")
    assert "screw" not in said(briefed)
    assert "screw" not in " ".join(briefed.outline.sheet.safety)


@pytest.mark.parametrize("work", ["15 swings", "10 sumo deadlift high pulls"])
def test_a_dumbbell_held_by_its_end_is_in_one_piece(brief_text: Brief, work: str) -> None:
    briefed = brief_text(f"---\nkit: [1 dumbbell]\n---\n3 rounds for time\n  {work}\n", length=SHORT_S)
    assert "only if it is made in one piece: screwed-on plates can come off" in must(briefed)
    assert "screwed-on plates can come off" in handout(briefed)


# --- 8, 9: slow ways down, bands --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "work", ["8 pull-ups", "8 chin-ups", "8 chest-to-bar pull-ups", "8 jumping pull-ups", "4 slow negative pull-ups"]
)
def test_slow_ways_down_are_few_and_have_their_caution(brief_text: Brief, work: str) -> None:
    """Many slow lowerings by somebody new to them: Clarkson 1993; US CDC/NIOSH on muscle breakdown (from memory)."""
    briefed = one(brief_text, work, length=SHORT_S)
    assert "they can leave you very sore" in must(briefed)
    assert "they can leave you very sore" in handout(briefed)


def test_the_jump_to_the_bar_is_half_as_many_and_ends_in_a_step_down(library: Library, brief_text: Brief) -> None:
    for work in ("pull-up", "chin-up"):
        movement = library.get(work)
        assert movement is not None
        version = next(v for v in movement.easier if v.card == "Jump to the top")
        assert version.count == "half the count"
        assert "do half" in version.say
        assert "step down" in version.say
        assert "down slowly" not in said(one(brief_text, f"8 {work}s"), "easier")


@pytest.mark.parametrize("work", ["8 pull-ups", "8 chin-ups", "8 chest-to-bar pull-ups", "8 band-assisted pull-ups"])
def test_whoever_is_sent_into_a_band_is_told_the_way_out(brief_text: Brief, work: str) -> None:
    briefed = one(brief_text, work, length=SHORT_S)
    words = must(briefed)
    if re.search(r"\binto (?:a|the) band\b", words):
        assert re.search(r"hold (?:it|the band) down as you take your foot out", words)
    for text in (said(one(brief_text, work)), handout(briefed)):
        if re.search(r"\b(?:in|into) (?:a|the) band\b", text, re.IGNORECASE):
            assert re.search(r"hold (?:it|the band) down as you take your foot out", text)


# --- 10: the ceiling above a box --------------------------------------------------------------------------------------


def test_the_ceiling_above_a_box_jump_is_looked_at(brief_text: Brief) -> None:
    briefed = one(brief_text, "10 box jumps", length=SHORT_S)
    assert "Stand on the box with your arms up, and check that there is still air for the jump." in must(briefed)
    assert "check that there is still air for the jump" in handout(briefed)


# --- 11: ways out of a missed lift ------------------------------------------------------------------------------------

LONG = "For time, cap 30:00\n  5 barbell snatches\n  5 overhead squats\n  5 push jerks\n  5 barbell thrusters\n"


def test_every_way_out_is_said_once_in_a_short_briefing(brief_text: Brief) -> None:
    briefed = brief_text(LONG, length=540)
    words = said(briefed)
    for sentence in (
        "If the bar falls in front of you, push it away, let go, and jump back.",
        "If the bar falls behind you, let it go, and take a big jump forward.",
        "If you get stuck at the bottom, drop your elbows, push the bar off in front of you, and jump back.",
        "Load only what you can lower by hand when your plates are iron or your floor is thin.",
        "Reach up with the bar once, look at the ceiling, and clear the floor in front and behind.",
        COLLARS,
        "With high blood pressure, breathe out on every way up.",
    ):
        assert words.count(sentence) == 1, sentence
        assert sentence in must(briefed), sentence
        assert sentence in briefed.outline.sheet.safety, sentence


@pytest.mark.parametrize("work", ["5 front squats", "5 back squats"])
def test_a_squatter_is_told_the_way_out_from_under_the_bar(brief_text: Brief, work: str) -> None:
    assert "If you get stuck" in must(one(brief_text, work, length=SHORT_S))


# --- 12: entry tests --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("work", "test"),
    [
        ("6 ring dips", "ten deep dips on bars"),
        ("5 barbell snatches", "press and overhead squat the empty bar under control"),
        ("5 hang snatches", "press and overhead squat the empty bar under control"),
        ("5 overhead squats", "overhead squat a broomstick"),
    ],
)
def test_who_is_not_ready_does_something_else(brief_text: Brief, work: str, test: str) -> None:
    briefed = one(brief_text, work, length=SHORT_S)
    entry = said(briefed, "entry")
    assert "only for you if you can" in entry
    assert test in entry
    assert "Everybody else" in entry
    segment = next(x for x in briefed.outline.segments if x.movement)
    assert [x.kind for x in segment.lines][:3] == ["what", "entry", "entry"]
    assert test in handout(briefed)


def test_what_can_pin_drop_or_invert_somebody_has_an_entry_test(library: Library) -> None:
    risky = [m for s in library.slugs() if (m := library.get(s)) is not None and m.risks]
    assert len(risky) >= 12
    for movement in risky:
        words = " ".join(p.say for p in movement.entry)
        assert "only for you if you can" in words, movement.slug
        assert "Everybody else" in words, movement.slug


def test_a_movement_file_may_forbid_a_stand_in(tmp_path: Path, brief_text: Brief) -> None:
    (tmp_path / "movements").mkdir()
    own = (built_in("movements") / "box-jump.md").read_text(encoding="utf-8")
    own = own.replace("stand_ins: {box: jump on the floor}", "stand_ins: {box: none}")
    (tmp_path / "movements" / "box-jump.md").write_text(own, encoding="utf-8")
    briefed = one(brief_text, "10 box jumps")
    assert said(briefed, "stand-in") == ""
    assert briefed.outline.sheet.stand_ins == ()


# --- what holds for every workout -------------------------------------------------------------------------------------


def test_pregnancy_is_named_early_and_a_midwife_once(brief_text: Brief) -> None:
    board = "5 rounds for time\n  15 swings\n  10 goblet squats\n  10 push-ups\n  200 m run\n"
    briefed = brief_text(board, length=540)
    first = next(n for n, s in enumerate(briefed.outline.segments) if s.movement)
    early = " ".join(x.text for s in briefed.outline.segments[:first] for x in s.lines if x.must)
    for word in (
        "regnant",
        "doctor or midwife",
        "fever",
        "injured",
        "operated on",
        "health condition",
        "phone",
        "arm, your neck or jaw",
    ):
        assert word in early, word
    everything = brief_text(board)
    assert said(everything).count("midwife") == 1
    assert handout(everything).count("Ask your doctor or midwife before you begin") == 1
    assert "sk your midwife or doctor first, then" not in handout(everything)


def test_what_the_workout_calls_for_is_said_and_nothing_else(brief_text: Brief) -> None:
    hard = brief_text("Every 1:00 for 25 rounds\n  10 swings\n  5 box jumps\n")
    assert said(hard, "caution") == "Keep children and animals away. Have water beside you, and go slower in the heat."
    assert said(hard).count("If you leak, or feel heaviness in your pelvis") == 1
    calm = brief_text("3 rounds for time\n  5 push-ups\n  5 reverse lunges\n")
    assert said(calm, "caution") == ""
    assert "leak" not in said(calm)


def test_every_handout_holds_the_general_cautions(brief_text: Brief) -> None:
    page = handout(brief_text("3 rounds for time\n  5 push-ups\n  5 reverse lunges\n"))
    for words in (
        "squeezing or pain in your chest",
        "an arm, your back, neck or jaw",
        "phone within reach",
        "children and animals",
        "water beside you",
        "In the heat",
        "With a fever",
        "an operation not long ago",
        "bleeding or fluid",
        "leak, or feel heaviness",
        "dark like tea or cola",
        "does not replace them, or a doctor",
    ):
        assert words in page, words


def test_in_an_easier_version_its_own_end_counts(brief_text: Brief) -> None:
    assert said(one(brief_text, "20 air squats")).count("In an easier version, its own end counts") == 1


@pytest.mark.parametrize(
    ("board", "room"),
    [
        ("5 rounds for time\n  20 goblet squats\n", "twenty times fresh, with half as many again still in you"),
        ("AMRAP 12:00\n  12 goblet squats\n", "twelve times fresh, with half as many again still in you"),
        ("For time, any order; plan 6 rounds\n  120 goblet squats\n  60 push-ups\n", "half as many again"),
        ("5 sets of 5 goblet squats\nrest 2:00 between sets\n", "five times fresh, with two more still in you"),
        ("For time\n  20 goblet squats\n", "twenty times fresh, with two more still in you"),
    ],
)
def test_the_weight_leaves_room_for_the_rounds_that_follow(brief_text: Brief, board: str, room: str) -> None:
    assert room in said(brief_text(board), "heavy")


def test_a_movement_that_is_not_filled_in_stops_the_briefing(tmp_path: Path, brief_text: Brief) -> None:
    (tmp_path / "movements").mkdir()
    (tmp_path / "movements" / "tide-turn.md").write_text(movement_template("Tide turn"), encoding="utf-8")
    with pytest.raises(Stop) as stop:
        brief_text("3 rounds for time\n  10 tide turns\n")
    assert {p.code for p in stop.value.problems if p.level == "error"} == {"movement-unusable"}


def test_who_does_it_comes_before_what_everybody_else_does(library: Library) -> None:
    for slug in library.slugs():
        movement = library.get(slug)
        assert movement is not None
        if movement.entry:
            assert "only for you if you can" in movement.entry[0].say, slug
            assert movement.entry[1].say.startswith("Everybody else"), slug


def test_nobody_is_sent_away_from_a_pull_up(brief_text: Brief) -> None:
    assert "children" not in said(one(brief_text, "8 pull-ups"))
    assert "Keep children and animals away." in said(one(brief_text, "10 swings"))


def test_the_first_easier_version_answers_the_hardest_worked_area(brief_text: Brief) -> None:
    for work, area in (
        ("10 swings", "low back"),
        ("8 pull-ups", "shoulders"),
        ("10 box jumps", "knees"),
        ("5 barbell presses", "shoulders"),
    ):
        first = next(x for x in one(brief_text, work).outline.lines if x.kind == "easier")
        assert first.must
        assert area in first.text.split(",")[0], first.text


def test_what_takes_kit_that_is_not_there_comes_last(brief_text: Brief) -> None:
    without = lines_of(one(brief_text, "8 pull-ups"), "easier")
    assert "table" in without[0].text
    assert "band" not in " ".join(x.text for x in without[:2])
    rings = brief_text("---\nkit: [1 pull-up bar, 1 rings]\n---\n3 rounds for time\n  8 pull-ups\n")
    assert "low rings" in lines_of(rings, "easier")[0].text
