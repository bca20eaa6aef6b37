"""Movements: reading one, inheriting, finding by name; the built-in library passes every check."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.check.movement import MOVEMENT_CHECKS, check_library_movement, check_movement
from briefing.library.finding import Library
from briefing.library.models import Movement
from briefing.library.names import name_key, plural_of, slug_of
from briefing.library.reading import read_draft, resolve
from briefing.library.template import movement_template
from briefing.problems import Problem
from briefing.sources.folders import built_in
from briefing.sources.text import Text
from briefing.speech.numbers import cardinal_words

SMALL = """---
name: Tide squat
kit: [1 dumbbell]
works_hard_on: [knee]
---

You sit down and stand up.

## Technique points
- **Weight close** — Hold it high.
- **Sit down** -- Sit between your heels.
- **Stand tall** - Finish tall.

## Regressions
- **To a chair** (knee, new to it; half the count) — Sit down to a chair, half as many.

## Safety
- **Clear floor** — Clear the floor.

## Common faults
- **Heels lift** — you feel your toes -> Sit back first.
"""


def make(folder: Path, **files: str) -> Library:
    (folder / "movements").mkdir(exist_ok=True)
    for name, words in files.items():
        (folder / "movements" / f"{name.replace('_', '-')}.md").write_text(words, encoding="utf-8")
    return Library((folder / "movements", built_in("movements")), built_in("movements"), folder)


def codes(problems: tuple[Problem, ...] | list[Problem]) -> list[str]:
    return [p.code for p in problems]


def test_the_smallest_movement_is_enough(tmp_path: Path) -> None:
    library = make(tmp_path, tide_squat=SMALL)
    movement = library.get("tide-squat")
    assert library.problems("tide-squat") == ()
    assert movement is not None
    assert [p.card for p in movement.points] == ["Weight close", "Sit down", "Stand tall"]
    assert movement.easier[0].reasons == ("knee", "new to it")
    assert movement.easier[0].count == "half the count"
    assert movement.faults[0].notice == "you feel your toes"
    assert movement.plural == "tide squats"
    assert movement.from_coach
    assert movement.points[1].place.line == 11


def test_the_coachs_own_comes_first(tmp_path: Path) -> None:
    own = SMALL.replace("Tide squat", "Push-up")
    library = make(tmp_path, push_up=own)
    movement = library.get("push-up")
    assert movement is not None
    assert movement.points[0].card == "Weight close"


def test_inheriting(tmp_path: Path) -> None:
    child = """---
name: High tide squat
builds_on: tide-squat
leave_out: [Stand tall]
---
## Technique points
- **weight close** — Hold it higher still.
- **Breathe out** — Breathe out on the way up.
"""
    library = make(tmp_path, tide_squat=SMALL, high_tide_squat=child)
    movement = library.get("high-tide-squat")
    assert library.problems("high-tide-squat") == ()
    assert movement is not None
    assert [p.say for p in movement.points] == [
        "Hold it higher still.",
        "Sit between your heels.",
        "Breathe out on the way up.",
    ]
    assert movement.kit[0].names == ("dumbbell",)
    assert movement.name == "High tide squat"


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("name: Tide squat\n", ""), "name-missing"),
        (("name:", "nmae:"), "unknown-key"),
        (("[1 dumbbell]", "[1 dumbell]"), "kit-word"),
        (("[knee]", "[kneee]"), "not-one-of"),
        (("## Technique points", "## Tecnique points"), "unknown-heading"),
        (("- **Weight close** — Hold it high.", "- Hold it high."), "item-shape"),
        (("- **Weight close** — Hold it high.", "- **Weight close**"), "item-shape"),
        (("you feel your toes -> Sit back first.", "you feel your toes."), "fault-arrow"),
        (("(knee, new to it;", "(kne, new to it;"), "reason"),
        (("- **Sit down** --", "- **Weight close** --"), "card-twice"),
        (("works_hard_on", "builds_on: nothing-here\nworks_hard_on"), "builds-on-unknown"),
        (("works_hard_on", "builds_on: tide-squat\nworks_hard_on"), "builds-on-circle"),
        (("works_hard_on", "leave_out: [Nothing here]\nworks_hard_on"), "leave-out-unknown"),
        (("works_hard_on", "seconds_per_rep: {brisk: 3, steady: 2, easy: 1}\nworks_hard_on"), "rates-order"),
        (("works_hard_on", "seconds_per_rep: {brisk: fast, steady: 2, easy: 3}\nworks_hard_on"), "number"),
        (("works_hard_on", "seconds_per_rep: 2\nworks_hard_on"), "rates-shape"),
        (("works_hard_on", "space: big\nworks_hard_on"), "space-shape"),
    ],
)
def test_one_mistake_is_one_problem(tmp_path: Path, change: tuple[str, str], code: str) -> None:
    assert change[0] in SMALL
    library = make(tmp_path, tide_squat=SMALL.replace(*change))
    assert codes(library.problems("tide-squat")) == [code]


def test_no_technique_points_is_an_error(tmp_path: Path) -> None:
    words = SMALL.split("## Technique points", maxsplit=1)[0]
    library = make(tmp_path, tide_squat=words)
    assert codes(library.problems("tide-squat")) == ["no-points"]
    assert library.get("tide-squat") is None


def test_two_movements_of_one_name(tmp_path: Path) -> None:
    library = make(tmp_path, tide_squat=SMALL, other=SMALL)
    assert "name-twice" in codes(library.name_clashes())


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("- **Stand tall** - Finish tall.\n", ""), "few-points"),
        (("Hold it high.", "Hold it " + "very " * 25 + "high."), "line-long"),
        (("**Weight close**", "**Weight**"), "card-words"),
        (("Hold it high.", "Hold the 24 kg high."), "not-reusable"),
        (("Hold it high.", "Hold it high for five rounds."), "not-reusable"),
        (("Hold it high.", "Don't let it drop."), "say-what-to-do"),
        (("(knee, new to it;", "(new to it;"), "area-unanswered"),
        (("Sit down to a chair, half as many.", "Half squats."), "version-short"),
        (("(knee, new to it;", "(knee; [to a chair](no-such-file.md);"), "link-unknown"),
        (("(knee, new to it;", "(knee, pregnant or after birth;"), "ask-first"),
    ],
)
def test_each_check_of_a_movement_can_fail(tmp_path: Path, change: tuple[str, str], code: str) -> None:
    assert change[0] in SMALL
    words = SMALL.replace(*change)
    if code == "link-unknown":
        words = words.replace(
            "- **To a chair** (knee; [to a chair](no-such-file.md);",
            "- **To a chair** (knee; [to a chair](no-such-file.md);",
        )
    library = make(tmp_path, tide_squat=words)
    movement = library.get("tide-squat")
    assert library.problems("tide-squat") == ()
    assert movement is not None
    assert codes(check_movement(movement, library)) == [code]
    assert any(code in {c.code, *_SAME_CHECK.get(c.code, ())} for c in MOVEMENT_CHECKS)


_SAME_CHECK = {"line-long": ("card-words",)}


def test_the_small_movement_passes_all_checks(tmp_path: Path) -> None:
    library = make(tmp_path, tide_squat=SMALL)
    movement = library.get("tide-squat")
    assert movement is not None
    assert check_movement(movement, library) == []


def test_the_library_has_no_problem(library: Library) -> None:
    problems = [p for s in library.slugs() for p in library.problems(s)]
    problems += list(library.name_clashes())
    problems += [p for s in library.slugs() if (m := library.get(s)) for p in check_movement(m, library)]
    assert [f"{p.place.file if p.place else ''}: {p.message}" for p in problems] == []


def test_the_library_is_found_by_any_spelling(library: Library) -> None:
    for written, slug in (
        ("goblet squats", "goblet-squat"),
        ("Gob Sq", "goblet-squat"),
        ("PUSH UPS", "push-up"),
        ("pushups", "push-up"),
        ("marching in place", "march-in-place"),
        ("DB push press", "dumbbell-push-press"),
        ("mountain climbers", "mountain-climber"),
        ("KB swings", "kettlebell-swing"),
    ):
        assert library.find(written) == slug, written
    assert library.find("underwater basket press") is None


def test_a_slip_of_the_hand_has_the_right_name_near(library: Library) -> None:
    assert library.nearest("goblet sqaut")[0] == "goblet squat"
    assert "push-up" in library.nearest("psuh-up")


def test_every_other_name_leads_home(library: Library) -> None:
    for slug in library.slugs():
        movement = library.get(slug)
        assert movement is not None, slug
        for name in (*movement.names, movement.plural):
            assert library.find(name) == slug, f"{name} leads to {library.find(name)}, not to {slug}"


def test_names() -> None:
    assert [plural_of(w) for w in ("squat", "push press", "lunge", "carry", "box")] == [
        "squats",
        "push presses",
        "lunges",
        "carries",
        "boxes",
    ]
    assert slug_of("Dumbbell push press") == "dumbbell-push-press"
    assert name_key("SA row") == name_key("one-arm rows") == name_key("single arm row")


@given(st.text(max_size=400))
@settings(max_examples=200, deadline=None)
def test_any_text_at_all_is_no_exception(words: str) -> None:
    text = Text.of(words, "x.md")
    found = read_draft(text, "x")
    assert found.value is not None
    made = resolve(found.value, None, from_coach=True)
    assert made.value is None or isinstance(made.value, Movement)
    for problem in (*found.problems, *made.problems):
        if problem.place is not None and problem.place.file == "x.md":
            assert problem.place.line <= len(text.lines) + 1


FULL = "goblet-squat"


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("## Call-out\n", "## Call-out\nAnd one and two and "), "call-out"),
        (("seconds_per_rep: {", "# seconds_per_rep: {"), "no-rate"),
        (("pace_source:", "# pace_source:"), "no-pace-source"),
        (("- **Heels lift** — you feel", "- **Heels lift** — they feel"), "fault-alone"),
    ],
)
def test_each_check_of_the_built_in_library_can_fail(tmp_path: Path, change: tuple[str, str], code: str) -> None:
    words = (built_in("movements") / "air-squat.md").read_text(encoding="utf-8")
    assert change[0] in words
    library = make(tmp_path, air_squat=words.replace(*change))
    movement = library.get("air-squat")
    assert movement is not None, library.problems("air-squat")
    assert codes(check_library_movement(movement, library)) == [code]


@pytest.mark.parametrize(
    ("slug", "old", "new"),
    [
        ("calf-stretch", ", and then change legs.", "."),
        ("one-arm-row", "", ""),
    ],
)
def test_what_is_done_on_each_side_says_when_to_change(tmp_path: Path, slug: str, old: str, new: str) -> None:
    words = (built_in("movements") / f"{slug}.md").read_text(encoding="utf-8")
    if old:
        assert old in words
        words = words.replace(old, new, 1)
    else:
        words = re.sub(r"(?im)^.*(?:change|with the other).*$", "You pull a dumbbell to your ribs.", words)
    library = make(tmp_path, **{slug.replace("-", "_"): words})
    movement = library.get(slug)
    assert movement is not None
    assert "other-side" in codes(check_library_movement(movement, library))


def test_what_the_warm_up_says_of_a_drill_says_both_sides(library: Library) -> None:
    drills = [m for s in library.slugs() if (m := library.get(s)) and m.pattern == "mobility" and m.sides == "each"]
    assert len(drills) >= 6
    for m in drills:
        assert re.search(r"change|other", m.what), m.slug


def test_who_squats_alone_is_told_the_way_out(library: Library) -> None:
    squat = library.get("back-squat")
    assert squat is not None
    assert ("rack",) in [k.names for k in squat.kit]
    said = " ".join(p.say for p in squat.safety)
    assert "safety bars" in said
    assert "goblet squats" in said


@pytest.mark.parametrize("slug", ["handstand-push-up", "wall-walk", "pike-push-up", "inchworm", "kneeling-reach"])
def test_a_head_that_goes_down_is_asked_about_first(library: Library, slug: str) -> None:
    movement = library.get(slug)
    assert movement is not None
    said = " ".join(p.say for p in (*movement.entry, *movement.safety))
    for word in ("high blood pressure", "eye trouble", "pregnancy", "doctor", "midwife"):
        assert word in said, word


def test_a_sharp_pain_never_means_going_on(library: Library) -> None:
    for slug in library.slugs():
        movement = library.get(slug)
        assert movement is not None
        for p in movement.feel:
            if re.search(r"\bsharp\b", p.say):
                assert re.search(r"\bmeans? stop\b", p.say), f"{slug}: {p.say}"


def test_list_lengths_of_the_library(tmp_path: Path) -> None:
    library = make(tmp_path, tide_squat=SMALL)
    movement = library.get("tide-squat")
    assert movement is not None
    found = codes(check_library_movement(movement, library))
    assert found.count("list-length") == 3
    assert {"no-recap", "call-out", "no-rate"} <= set(found)


def test_the_built_in_library_passes_its_own_checks(library: Library) -> None:
    assert len(library.slugs()) >= 120
    problems = [p for s in library.slugs() if (m := library.get(s)) for p in check_library_movement(m, library)]
    assert [f"{p.place.file if p.place else ''}: {p.message}" for p in problems] == []


def test_a_new_movement_file_says_what_is_left_open_and_nothing_of_it_is_said(tmp_path: Path) -> None:
    for builds_on in (None, "push-up"):
        words = movement_template("Tide turn", builds_on)
        library = make(tmp_path, tide_turn=words)
        problems = library.problems("tide-turn")
        assert set(codes(problems)) == {"unfilled"}
        assert library.get("tide-turn") is None
        # Each open line once, and nothing that is open is overlooked.
        lines = {n for n, line in enumerate(words.split("\n"), 1) if re.search(r"\[…|: …", line) and line[:1] != "#"}
        places = [p.place.line for p in problems if p.place]
        assert sorted(places) == sorted(lines)


def test_a_new_movement_file_that_is_filled_in_is_a_movement(tmp_path: Path) -> None:
    words = movement_template("Tide turn")
    filled = {
        "pattern": "squat",
        "kit": "[]",
        "sides": "both",
        "counts": "[reps]",
        "works_hard_on": "[knee]",
        "space": "{floor: 1 x 1 m, overhead: none}",
        "position": "standing",
        "camera": "side",
    }
    for key, value in filled.items():
        words = re.sub(rf"(?m)^{key}: .*$", f"{key}: {value}", words)
    numbers = iter(range(1, 100))
    words = re.sub(r"\[…[^\]]*\]", lambda _: f"Turn like tide {cardinal_words(next(numbers))}", words)
    library = make(tmp_path, tide_turn=words)
    movement = library.get("tide-turn")
    assert library.problems("tide-turn") == ()
    assert movement is not None
    assert (movement.pattern, movement.works_hard_on) == ("squat", ("knee",))


def test_every_load_test_has_one_number_that_a_workout_can_replace(library: Library) -> None:
    """A set of twenty asks for another weight than a set of eight, so the test takes the workout's number."""
    numbers = "|".join(cardinal_words(n) for n in range(1, 100))
    for slug in library.slugs():
        movement = library.get(slug)
        test = movement.load_test if movement else None
        if test is not None:
            assert len(re.findall(rf"\b(?:{numbers}) (?:times|meters|seconds)\b", test)) == 1, (slug, test)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("stand_ins: {dumbbel: use a jug}", "kit-word"),
        ("stand_ins: a jug", "stand-in-shape"),
        ("stand_ins: {dumbbell: }", "stand-in-shape"),
        ("risks: [bites]", "not-one-of"),
    ],
)
def test_a_slip_in_stand_ins_or_risks_is_one_problem(tmp_path: Path, line: str, code: str) -> None:
    library = make(tmp_path, tide_squat=SMALL.replace("works_hard_on", f"{line}\nworks_hard_on"))
    assert codes(library.problems("tide-squat")) == [code]


CHANGED = """---
builds_on: push-up
---
## Technique points
- **Push the floor away** — Push the floor away, Maren's way.
"""


def test_one_sentence_of_a_built_in_movement_is_changed_without_copying_it(tmp_path: Path, library: Library) -> None:
    own = make(tmp_path, push_up=CHANGED)
    mine, theirs = own.get("push-up"), library.get("push-up")
    assert own.problems("push-up") == ()
    assert mine is not None
    assert theirs is not None
    said = {p.card: p.say for p in mine.points}
    assert said == {p.card: p.say for p in theirs.points} | {
        "Push the floor away": "Push the floor away, Maren's way.",
    }
    assert (
        mine.model_copy(update={"points": theirs.points, "from_coach": False, "file": theirs.file, "builds_on": None})
        == theirs
    )
    assert own.find("press-up") == "push-up"
    assert own.lineage("push-up") == (tmp_path / "movements" / "push-up.md", built_in("movements") / "push-up.md")
    # What builds on it takes the change along.
    close = own.get("close-grip-push-up")
    assert close is not None
    assert "Maren's way" in " ".join(p.say for p in close.points)


def test_what_is_changed_may_itself_build_on_others(tmp_path: Path, library: Library) -> None:
    words = CHANGED.replace("push-up", "push-jerk").replace("Push the floor away", "Stand before you lower")
    own = make(tmp_path, push_jerk=words)
    mine, theirs = own.get("push-jerk"), library.get("push-jerk")
    assert own.problems("push-jerk") == ()
    assert mine is not None
    assert theirs is not None
    assert mine.builds_on == theirs.builds_on == "barbell-push-press"
    assert mine.names == theirs.names
    assert len(own.lineage("push-jerk")) == 4


def test_a_changed_movement_may_have_a_name_of_its_own(tmp_path: Path) -> None:
    own = make(tmp_path, push_up=CHANGED.replace("builds_on", "name: Floor push\nbuilds_on"))
    movement = own.get("push-up")
    assert movement is not None
    assert (movement.name, movement.plural) == ("Floor push", "floor pushes")
    assert own.find("floor push") == own.find("press-up") == "push-up"


def test_a_movement_that_hides_nothing_cannot_build_on_itself(tmp_path: Path) -> None:
    library = make(tmp_path, tide_squat=SMALL.replace("works_hard_on", "builds_on: tide-squat\nworks_hard_on"))
    assert codes(library.problems("tide-squat")) == ["builds-on-circle"]


def test_a_changed_movement_is_read_the_same_again(tmp_path: Path) -> None:
    first = make(tmp_path, push_up=CHANGED).get("push-up")
    again = make(tmp_path, push_up=CHANGED)
    assert again.get("push-up") == first
    assert len(again.lineage("push-up")) == 2


def test_a_changed_drill_is_still_a_drill(tmp_path: Path) -> None:
    words = CHANGED.replace("push-up", "arm-circle").replace("Push the floor away", "Start small")
    library = make(tmp_path, arm_circle=words)
    assert "arm-circle" in [m.slug for m in library.with_pattern("mobility")]


@pytest.mark.parametrize("name", ["A: b", "- x", 'a "b" c', "a #1", "yes\\no", "Übung", "*go"])
def test_a_new_movement_of_any_name_is_found_by_it(tmp_path: Path, name: str) -> None:
    for builds_on in (None, "push-up"):
        library = make(tmp_path, tide_turn=movement_template(name, builds_on))
        assert library.find(name) == "tide-turn"
        assert set(codes(library.problems("tide-turn"))) == {"unfilled"}
