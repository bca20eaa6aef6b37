"""Colours against WCAG 2.2 (success criteria 1.4.3, 1.4.6; the definitions of contrast ratio and relative luminance)."""

from __future__ import annotations

import pytest

from briefing.write.palette import PAIRS, contrast


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [
        # Computed from the W3C's definition; the last four are printed by the W3C itself.
        ("#000000", "#ffffff", 21.0),
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
        ("#595959", "#ffffff", 7.00),
        ("#ffff00", "#000000", 19.56),
        ("#ff0000", "#ffffff", 4.00),
        ("#3366cc", "#000000", 3.91),
        ("#e3660e", "#ffffff", 3.40),
        ("#fff000", "#ffffff", 1.19),
        ("#ffffff", "#6e747b", 4.72),
    ],
)
def test_the_formula(first: str, second: str, ratio: float) -> None:
    assert contrast(first, second) == pytest.approx(ratio, abs=0.006)
    assert contrast(first, second) == contrast(second, first)


@pytest.mark.parametrize(("text", "ground", "least"), PAIRS)
def test_every_text_can_be_read(text: str, ground: str, least: float) -> None:
    assert contrast(text, ground) >= least
