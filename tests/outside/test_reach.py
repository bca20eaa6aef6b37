"""Room overhead and on the floor against body sizes (ANSUR II 2012, open data, 4,082 men and 1,986 women)."""

from __future__ import annotations

import pytest

from briefing.check.workout import HEAD_M, HELD_WEIGHT_M, JUMP_M, REACH_M
from briefing.library.finding import Library

# Standing overhead fingertip reach, men: mean 226.5 cm, 95th percentile 243.8; stature 95th 187.0 (computed from the data).
REACH_95_M, REACH_MEAN_M, STATURE_95_M = 2.438, 2.265, 1.870
# Reach by adding up body segments (Drillis & Contini 1966): shoulder .818, arm .186 + .146 + .108 of stature; too short by 5.5 cm.
SEGMENTS = 0.818 + 0.186 + 0.146 + 0.108
ARM_SPAN_95_M = 1.957


def test_the_reach_of_the_tall_not_the_summed_segments() -> None:
    assert pytest.approx(REACH_95_M, abs=0.005) == REACH_M
    assert SEGMENTS * 1.756 < REACH_MEAN_M - 0.05
    assert SEGMENTS * STATURE_95_M < REACH_M
    assert pytest.approx(STATURE_95_M, abs=0.005) == HEAD_M
    assert 0 < HELD_WEIGHT_M < 0.3


def test_a_jump_is_the_published_one() -> None:
    """Vertical jump of men of 21 to 25: 22.2 in (Patterson & Peterson 2004, MSSE 36(5):S114)."""
    assert pytest.approx(22.2 * 0.0254, abs=0.005) == JUMP_M


def test_overhead_in_a_seven_foot_room_is_worth_a_note() -> None:
    """Least height of a habitable room: 7 ft (IRC R305.1, second-hand); 89 % of men can touch it."""
    assert REACH_MEAN_M > 7 * 0.3048


def test_every_movement_with_arms_overhead_says_so(library: Library) -> None:
    for slug in library.slugs():
        movement = library.get(slug)
        assert movement is not None
        name = movement.name.lower()
        if any(w in name for w in ("snatch", "jerk", "thruster", "push press", "overhead")) and movement.kit:
            assert "reach" in movement.space.overhead, slug


def test_arms_out_sideways_fit_the_floor(library: Library) -> None:
    """Arm span of men, 95th percentile: 195.7 cm (computed from the data)."""
    jack = library.get("jumping-jack")
    assert jack is not None
    assert jack.space.floor_m is not None
    assert max(jack.space.floor_m) >= ARM_SPAN_95_M
