"""Each check of a workout can fail, says where, and what would work; a suggestion that is followed removes the problem."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefing.check.workout import WORKOUT_CHECKS
from briefing.pipeline import brief
from briefing.problems import Problem, Stop

CASES: dict[str, str] = {
    "plan-uneven": "For time, any order; plan 7 rounds\n  120 air squats\n",
    "sides-odd": "For time\n  13 forward lunges, alternating\n",
    "sides-read": "For time\n  12 push presses\n",
    "interrupt-too-long": "For time, cap 20:00\n  100 air squats\nEvery 0:30 from 0:00: 20 burpees\n",
    "interrupt-long": "For time, cap 20:00\n  100 air squats\nEvery 1:00 from 0:00: 12 burpees\n",
    "interrupt-never": "For time, cap 5:00\n  100 air squats\nEvery 8:00 from 8:00: 5 burpees\n",
    "window-overrun": "Every 1:00 for 5 rounds\n  30 burpees\n",
    "kit-missing": "---\nkit: [1 step]\n---\nFor time\n  20 goblet squats\n",
    "kit-count": "---\nkit: [1 dumbbell]\n---\nFor time\n  40 m farmer carry\n",
    "kit-word": "---\nkit: [200 dumbbells]\n---\nFor time\n  20 goblet squats\n",
    "ceiling": "---\nceiling: 2.3 m\n---\nFor time\n  20 push presses, 10 each arm\n",
    "option-far": "For time\n  20 air squats\n    or 20:00 plank (knee)\n",
    "no-score": "Every 2:00 for 5 rounds\n  10 burpees\n",
    "other-name": "For time\n  20 goblet squats\n\n## Notes\nSay that the front-loaded squat comes first.\n",
    "very-many": "For time\n  200 air squats\n",
    "cap-below-rest": "5 rounds for time, cap 4:00\n  5 burpees\nRest 1:00 between rounds\n",
    "cap-nobody": "For time, cap 3:00\n  300 burpees\n",
    "cap-everybody": "For time, cap 30:00\n  10 burpees\n",
}
# A change that follows the suggestion.
MENDED: dict[str, tuple[str, str]] = {
    "plan-uneven": ("plan 7", "plan 6"),
    "sides-odd": ("13", "14"),
    "sides-read": ("12 push presses", "12 push presses, 6 each arm"),
    "interrupt-never": ("cap 5:00", "cap 12:00"),
    "kit-missing": ("[1 step]", "[1 step, 1 dumbbell]"),
    "kit-count": ("[1 dumbbell]", "[2 dumbbells]"),
    "kit-word": ("200 dumbbells", "1 dumbbell"),
    "other-name": ("front-loaded squat", "goblet squat"),
    "ceiling": ("10 each arm\n", "10 each arm\n    or 20 push-ups (low ceiling)\n"),
    "option-far": ("20:00 plank", "0:40 plank"),
    "no-score": ("Every", "score: total time\nEvery"),
    "cap-below-rest": ("cap 4:00", "cap 20:00"),
    "cap-nobody": ("cap 3:00", "cap 30:00"),
}


def problems_of(text: str, folder: Path) -> list[Problem]:
    path = folder / "day.md"
    path.write_text(text, encoding="utf-8")
    try:
        return list(brief(path).outline.problems)
    except Stop as stop:
        return list(stop.problems)


@pytest.mark.parametrize("code", CASES)
def test_the_check_can_fail_and_says_where(code: str, tmp_path: Path) -> None:
    found = [p for p in problems_of(CASES[code], tmp_path) if p.code == code]
    assert len(found) == 1, problems_of(CASES[code], tmp_path)
    assert found[0].place is not None
    assert found[0].place.file == "day.md"
    assert found[0].message[0].islower() or found[0].message[0] in '"0123456789'


@pytest.mark.parametrize("code", MENDED)
def test_a_suggestion_that_is_followed_removes_the_problem(code: str, tmp_path: Path) -> None:
    before, after = MENDED[code]
    text = CASES[code]
    if code == "no-score":
        text = "---\nscore: total burpees\n---\n" + text
    else:
        assert before in text
        text = text.replace(before, after)
    assert code not in [p.code for p in problems_of(text, tmp_path)]


def test_every_check_of_the_table_has_a_case() -> None:
    assert {c.code for c in WORKOUT_CHECKS} - set(CASES) - {"area-unanswered"} == set()


def test_an_area_that_nobody_answers(tmp_path: Path) -> None:
    (tmp_path / "movements").mkdir()
    (tmp_path / "movements" / "tide-squat.md").write_text(
        "---\nname: Tide squat\nworks_hard_on: [knee, neck]\n---\n\nYou sit.\n\n## Technique points\n- **Sit down low** — Sit down.\n"
        "- **Stand tall again** — Stand.\n- **Breathe out hard** — Breathe.\n\n## Regressions\n- **To a chair** (knee) — Sit down.\n\n"
        "## Safety\n- **Clear floor** — Clear the floor.\n",
        encoding="utf-8",
    )
    found = [p for p in problems_of("For time\n  20 tide squats\n", tmp_path) if p.code == "area-unanswered"]
    assert ["neck" in p.message and "knee" not in p.message for p in found] == [True]


def test_a_trial_moves_the_times(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    board = "5 rounds for time, cap 40:00\n  20 goblet squats\n  10 burpees\n"
    path.write_text(board, encoding="utf-8")
    plain = brief(path)
    steady = plain.clock.of("steady").finish_s
    assert steady is not None
    path.write_text(
        f"---\ntried: {int(steady * 1.3) // 60}:{int(steady * 1.3) % 60:02d}, steady\n---\n{board}", encoding="utf-8"
    )
    tried = brief(path)
    moved = tried.clock.of("steady").finish_s
    assert moved is not None
    assert abs(moved - int(steady * 1.3)) <= 3
    assert 1.2 < tried.plan.effort.factor < 1.5
    assert "your trial of" in tried.plan.tried_words


@pytest.mark.parametrize(
    ("line", "low", "high"),
    [
        # Reach 2.44 m and a weight of 0.15 m in the hands; a head at 1.87 m and a jump of 0.56 m or a step of 0.52 m.
        ("20 push presses, 10 each arm", "2.58 m", "2.59 m"),
        ("20 box jumps", "2.42 m", "2.43 m"),
        ("20 step-ups", "2.38 m", "2.39 m"),
    ],
)
def test_a_ceiling_is_too_low_to_the_centimeter(line: str, low: str, high: str, tmp_path: Path) -> None:
    found = [
        [p.code for p in problems_of(f"---\nceiling: {ceiling}\n---\nFor time\n  {line}\n", tmp_path)].count("ceiling")
        for ceiling in (low, high)
    ]
    assert found == [1, 0]
