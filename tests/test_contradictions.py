"""What one line of a movement says against another: each contradiction is found, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from briefing.check.movement import check_library_movement, check_movement
from briefing.sources.folders import built_in
from tests.test_library import codes, make

HARD = """---
name: Tide hang
pattern: pull
kit: [1 pull-up bar]
works_hard_on: [shoulder, knee]
seconds_per_rep: {brisk: 1.8, steady: 2.4, easy: 3.2}
pace_source: common practice
---

You hang from a bar and pull yourself up.

## Technique points
- **Shoulders first** — Pull your shoulders down.
- **Under control** — Come down under control.
- **Knees where toes point** — Point your knees where your toes point.

## Regressions
- **On the floor** (shoulder) — Row under a heavy table.
- **Half as many** (knee, new to it; half the count) — Do half: lower yourself from a chair.

## Safety
- **Test the bar** — Pull hard on the bar once.
- **Sore later** — Do only a few slow ways down: they can leave you very sore.
"""


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ((("Come down under control.", "Take two counts down."),), "tempo-rate"),
        ((("Row under a heavy table.", "Row on low rings."),), "easier-kit"),
        (
            (
                (
                    "## Safety",
                    "- **Swing it** (tired today; [swing](kettlebell-swing.md)) — Swing it up to your chest.\n\n## Safety",
                ),
            ),
            "kit-unsaid",
        ),
        ((("pattern: pull", "pattern: pull\nrisks: [drops]"),), "entry-test"),
        ((("kit: [1 pull-up bar]", "kit: [1 barbell]"), ("pattern: pull", "pattern: squat")), "entry-test"),
        (
            (("kit: [1 pull-up bar]", "kit: [1 rings]"), ("pattern: pull", "pattern: push\nposition: hanging")),
            "entry-test",
        ),
        (
            (
                ("kit: [1 pull-up bar]", "kit: [1 wall]"),
                ("pattern: pull", "pattern: push\nposition: floor\nspace: {floor: 2 x 2 m, overhead: reach}"),
            ),
            "entry-test",
        ),
        (
            (
                ("pattern: pull", "pattern: pull\nrisks: [pins]"),
                (
                    "## Technique",
                    (
                        "## Entry test\n- **Can you** — This one is only for you if you can hang.\n"
                        "- **Everybody else** — Everybody else rows.\n\n## Technique"
                    ),
                ),
            ),
            "way-out",
        ),
        ((("## Safety", "## Breath\nBreathe in, and let the air go when you stand.\n\n## Safety"),), "breath-held"),
        ((("they can leave you very sore", "rest well"),), "slow-lowering"),
        ((("(knee, new to it; half the count) — Do half: lower", "(knee, new to it) — Lower"),), "slow-lowering"),
        ((("Do half: lower yourself", "Lower yourself"),), "half-said"),
        ((("Row under a heavy table.", "Step into a band, or row under a heavy table."),), "band-out"),
        ((("Point your knees where your toes point.", "Push your knees out over your little toes."),), "knee-place"),
    ],
    ids=lambda x: x if isinstance(x, str) else "",
)
def test_each_contradiction_is_found(tmp_path: Path, changes: tuple[tuple[str, str], ...], code: str) -> None:
    words = HARD
    for old, new in changes:
        assert old in words
        words = words.replace(old, new)
    library = make(tmp_path, tide_hang=words)
    movement = library.get("tide-hang")
    assert library.problems("tide-hang") == ()
    assert movement is not None
    assert codes(check_movement(movement, library)) == [code]


def test_the_hard_movement_passes_all_checks(tmp_path: Path) -> None:
    library = make(tmp_path, tide_hang=HARD)
    movement = library.get("tide-hang")
    assert movement is not None
    assert check_movement(movement, library) == []


@pytest.mark.parametrize(
    ("slug", "old", "new", "code"),
    [
        ("air-squat", "you see your knees drift toward each other", "you see your back round", "fault-seen"),
        ("goblet-squat", "you feel the weight pulling your arms forward", "you feel your seat drop", "plain-words"),
        ("one-arm-row", "", "", "start-named"),
    ],
)
def test_what_only_the_built_in_library_is_held_to(tmp_path: Path, slug: str, old: str, new: str, code: str) -> None:
    words = (built_in("movements") / f"{slug}.md").read_text(encoding="utf-8")
    if old:
        assert old in words
        words = words.replace(old, new)
    else:
        words = re.sub(r"(?i)\b(?:feet|foot|heels?)\b", "body", words)
    library = make(tmp_path, **{slug.replace("-", "_"): words})
    movement = library.get(slug)
    assert movement is not None
    assert code in codes(check_library_movement(movement, library))
