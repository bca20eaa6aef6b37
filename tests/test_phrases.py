"""Words: articles, plurals, halves, times, reasons."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from briefing.library.finding import Library
from briefing.library.models import REASONS
from briefing.library.reading import read_kit_item
from briefing.outline.wording import Voice, read_wording, tidy
from briefing.pipeline import Briefed
from briefing.sources.folders import built_in
from briefing.telling import kit, numbers, reasons, sentences


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("200-meter run", "a 200-meter run"),
        ("80-meter carry", "an 80-meter carry"),
        ("800-meter run", "an 800-meter run"),
        ("eleven-meter crawl", "an eleven-meter crawl"),
        ("eighteen-meter crawl", "an eighteen-meter crawl"),
        ("100-meter run", "a 100-meter run"),
        ("one-kilometer run", "a one-kilometer run"),
        ("air squat", "an air squat"),
        ("unilateral row", "a unilateral row"),
    ],
)
def test_a_and_an(words: str, said: str) -> None:
    assert sentences.a_an(words) == said


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (60, "one minute"),
        (1320, "22 minutes"),
        (40, "40 seconds"),
        (90, "one minute thirty"),
        (720, "twelve minutes"),
        (1, "one second"),
        (3900, "one hour five minutes"),
        (0, "zero"),
    ],
)
def test_times(seconds: int, said: str) -> None:
    assert numbers.time_words(seconds) == said


def test_distances_and_counts() -> None:
    assert [numbers.metres_words(m) for m in (1, 200, 1000, 1500, 2000)] == [
        "one meter",
        "200 meters",
        "a kilometer",
        "1.5 kilometers",
        "two kilometers",
    ]
    assert numbers.rounds_words(1) == "one round"
    assert numbers.times_words(2) == "twice"
    assert numbers.count_words(1200) == "1,200"
    assert numbers.count_words(20) == "twenty"


def test_a_sentence_begins_with_a_word() -> None:
    assert sentences.sentence("120 goblet squats") == "One hundred twenty goblet squats"
    assert sentences.sentence("ten push-ups") == "Ten push-ups"
    assert sentences.sentence("1:00 of plank") == "1:00 of plank"


def test_joining() -> None:
    assert sentences.join_words(["a"]) == "a"
    assert sentences.join_words(["a", "b"]) == "a and b"
    assert sentences.join_words(["a", "b", "c"]) == "a, b and c"
    assert sentences.join_words(["a, x", "b"]) == "a, x, and b"


def test_every_reason_can_be_said() -> None:
    for reason in REASONS:
        said = reasons.why_words((reason,))
        assert said.startswith("If "), reason
        assert said.endswith(",")


def test_reasons_that_share_a_verb() -> None:
    assert reasons.why_words(("knee", "ankle")) == "If your knees or ankles complain,"
    assert reasons.why_words(("low back",)) == "If your low back complains,"
    assert reasons.why_words(("shoulder", "new to it")) == "If your shoulders complain or this is new to you,"
    assert reasons.why_words(("no kit",), ("no step",)) == "No step?"
    assert reasons.why_words(()) == "Or:"


def test_kit_that_stays_where_it_is_is_not_counted() -> None:
    for written, said, card in (
        ("1 wall", "a firm wall", "a firm wall"),
        ("pull-up bar", "a pull-up bar that holds you", "a pull-up bar that holds you"),
        ("1 table or bench", "a table or a bench", "a table or a bench"),
        ("1 rings", "one pair of rings", "one pair of rings"),
        ("1 rack", "a rack with safety bars", "a rack with safety bars"),
        ("plates", "spare plates", "spare plates"),
        ("1 barbell", "one barbell with its plates and collars", "1 barbell"),
        ("1 barbell or broomstick", "one barbell or broomstick", "1 barbell or broomstick"),
        ("2 dumbbells or kettlebells", "two dumbbells or kettlebells", "2 dumbbells or kettlebells"),
    ):
        item = read_kit_item(written)
        assert item is not None, written
        assert (kit.kit_words(item), kit.kit_card(item)) == (said, card)


def test_fixed_kit_is_gone_to_and_the_rest_fetched(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text(
        "3 rounds for time\n10 goblet squats\n30 s wall sit\n5 pull-ups\n10 kettlebell swings\n"
    ).outline
    actions = [s.next_action for s in outline.segments]
    assert any("go to the wall" in a for a in actions), actions
    assert any("go to the bar" in a for a in actions), actions
    assert any("fetch one" in a for a in actions), actions
    assert not any("fetch one wall" in a or "fetch a " in a for a in actions), actions
    kit = next(line.text for line in outline.lines if line.kind == "kit")
    assert "a firm wall" in kit
    assert kit.endswith("Pause here and get it all ready.")


def test_the_second_weight_is_fetched_too(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text("3 rounds for time\n6 get-ups, 3 each arm\n40 m front-rack carry\n").outline
    action = next(s.next_action for s in outline.segments if s.movement == "get-up")
    assert "fetch one more" in action, action


def test_a_movement_without_load_is_too_easy_not_too_light(library: Library) -> None:
    plank, press = library.get("plank"), library.get("dumbbell-press")
    assert plank is not None
    assert press is not None
    assert reasons.why_words(("too light",), (), plank) == "If it is too easy,"
    assert reasons.why_words(("too heavy",), (), plank) == "If it is too hard,"
    assert reasons.why_words(("too light",), (), press) == "If it is too light,"


def test_a_harder_plank_is_for_whom_it_is_too_easy(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text("3 rounds for time\n30 s plank\n10 goblet squats\n").outline
    harder = [(x.movement, x.text) for x in outline.lines if x.kind == "harder"]
    assert {m for m, _ in harder} == {"plank", "goblet-squat"}
    asked = {m: {t.split("? ")[0] for movement, t in harder if movement == m} for m, _ in harder}
    assert asked == {"plank": {"Too easy", "Want more of it"}, "goblet-squat": {"Too light", "Want more of it"}}


@pytest.mark.parametrize("missing", ["dumbbells", "bar", "pull-up bar", "stairs", "rope", "wall"])
def test_kit_that_is_not_there_is_a_reason_and_the_answer_has_a_verb(
    brief_text: Callable[..., Briefed], missing: str
) -> None:
    outline = brief_text(f"3 rounds for time\n10 burpees\n  or 12 table rows (no {missing})\n").outline
    said = [line.text for line in outline.lines if line.kind == "option"]
    assert said == [f"No {missing}? Do twelve table rows."]


def test_one_of_a_thing_is_singular(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text("For time\n1 burpee\n1 round\n2 push-ups\n").outline
    text = " ".join(line.text for line in outline.lines)
    assert "One burpee." in text
    assert "1 burpees" not in text
    assert "one burpees" not in text


def test_tidy_mends_joints() -> None:
    assert tidy("a  b .  c..") == "A b. C."


def test_a_coachs_own_phrase_replaces_ours(tmp_path: Path) -> None:
    own = tmp_path / "templates"
    own.mkdir()
    (own / "wording.md").write_text(
        "# Mine\n\n## cap\n- At {time} the gun goes.\n- {time}, then stop.\n", encoding="utf-8"
    )
    wording, problems = read_wording((own, built_in("templates")), tmp_path)
    assert problems == ()
    voice = Voice(wording)
    assert [voice.say("cap", time="nine minutes") for _ in range(3)] == [
        "At nine minutes the gun goes.",
        "Nine minutes, then stop.",
        "At nine minutes the gun goes.",
    ]
    assert voice.source("cap") == "templates/wording.md / cap"


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("## capp\n- At {time}.\n", "unknown-phrase"),
        ("## cap\n- At {tiem}.\n", "unknown-brace"),
        ("## cap\nno bullet\n", "phrase-empty"),
    ],
)
def test_slips_in_the_wording_are_problems(tmp_path: Path, words: str, code: str) -> None:
    own = tmp_path / "templates"
    own.mkdir()
    (own / "wording.md").write_text(words, encoding="utf-8")
    _, problems = read_wording((own, built_in("templates")), tmp_path)
    assert [q.code for q in problems] == [code]
    assert problems[0].place is not None
