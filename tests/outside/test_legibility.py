"""The cards' sizes, contrast and gaze angles against figures and programs from outside the project."""

from __future__ import annotations

import pytest
from fontpkg_atkinson_hyperlegible import ROOT  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from PIL import ImageFont

from briefing.settings.models import CardPlace, Settings
from briefing.settings.reading import EYESIGHTS
from briefing.write.cards import SCREEN_FRAMES
from briefing.write.gaze import SIDEWAYS_DEG, UPDOWN_DEG, farthest_m, gaze_deg, gaze_words
from briefing.write.palette import PAIRS, contrast
from briefing.write.sheets import PAPERS, fit_paper, fit_type, paper_of
from briefing.write.type import arcmin_of, capital_mm, face, reads_from_m, size_mm, width_em


# Worked from h = 2·D·tan(θ/2), for the 16, 20 and 22 minutes of arc of ISO 9241-303.
@pytest.mark.parametrize(
    ("distance", "arcmin", "height"),
    [
        (1, 16, 4.65),
        (1, 20, 5.82),
        (1, 22, 6.4),
        (2, 16, 9.31),
        (2, 20, 11.64),
        (2, 22, 12.8),
        (3, 16, 13.96),
        (3, 20, 17.45),
        (3, 22, 19.2),
    ],
)
def test_capital_height_for_an_angle(distance: float, arcmin: float, height: float) -> None:
    assert capital_mm(distance, arcmin) == pytest.approx(height, abs=0.006)


# FAA rule distance/200 (17.2'), a German insurer's rule distance/155 (22.2'): second-hand, both as angles.
@pytest.mark.parametrize(("part", "arcmin"), [(200, 17.2), (155, 22.2)])
def test_rules_of_thumb_agree(part: float, arcmin: float) -> None:
    assert capital_mm(2, arcmin) == pytest.approx(2000 / part, rel=0.003)


def test_the_height_is_the_capital_s_and_not_the_em_s() -> None:
    # 20' at 2 m is a capital of 11.64 mm. Were it taken as the em, the type would be 33 pt.
    em_pt = size_mm(2, 20) / 25.4 * 72
    assert em_pt == pytest.approx(11.64 / 0.668 / 25.4 * 72, rel=0.001)
    assert em_pt > 1.4 * 33


def test_the_capital_height_is_the_one_in_the_font_and_of_its_letter_h() -> None:
    for bold in (False, True):
        font = TTFont(ROOT / "files" / f"AtkinsonHyperlegible-{'Bold' if bold else 'Regular'}.ttf")
        assert face(bold=bold).capital_em == font["OS/2"].sCapHeight / font["head"].unitsPerEm == 0.668
        assert font["glyf"][font.getBestCmap()[ord("H")]].yMax == pytest.approx(668, abs=2)


@pytest.mark.parametrize("text", ["10 each leg", "Weight to your chest", "22:00 cap", "chest tight · dizzy"])
def test_widths_agree_with_freetype(text: str) -> None:
    # FreeType, by way of Pillow, with kerning switched off as on the cards.
    for bold in (False, True):
        font = ImageFont.truetype(str(face(bold=bold).path), 1000, layout_engine=ImageFont.Layout.BASIC)
        apart = sum(font.getlength(c) for c in text)
        assert width_em(text, bold=bold) * 1000 == pytest.approx(apart, rel=0.001)


def test_angle_and_distance_turn_back() -> None:
    for distance in (0.5, 1.0, 2.5, 4.0):
        em = size_mm(distance, 18)
        assert arcmin_of(em, distance) == pytest.approx(18, rel=1e-6)
        assert reads_from_m(em, 18) == pytest.approx(distance, rel=1e-6)


# Measured before the project began, five lines at 3 m with capitals of 20': A4 landscape holds 20 characters in 6 rows; that was
# counted with an average letter of any text, a card phrase has narrower ones.
def test_a4_at_three_metres_holds_about_twenty_characters() -> None:
    fitting = fit_paper(paper_of("A4"), 3.0, needed_em=6.0)
    average = width_em("the whole foot on the step and the weight at your side") / 54
    assert 19 <= fitting.frame.width_em / average <= 26
    assert fitting.arcmin == pytest.approx(20, abs=0.1)
    assert fitting.readable


# ISO 9241-303: at least 16 minutes of arc; the foot of a card is set no smaller either.
@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: p.key)
def test_a_paper_is_at_least_sixteen_minutes_or_says_that_it_is_not(paper: object) -> None:
    for distance in (0.7, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0):
        fitting = fit_paper(paper, distance, needed_em=6.0)  # type: ignore[arg-type]
        assert fitting.readable == (fitting.arcmin >= 16 - 1e-6)
        assert fitting.arcmin <= 22 + 1e-6
        if fitting.readable:
            assert fitting.arcmin * fitting.frame.small_em >= 16 - 1e-6


# A phone of 64 x 139 mm at 3 m: 9 characters in one row at 20' (project measurement); so it must be said to be too small.
def test_a_phone_at_three_metres_is_too_small() -> None:
    assert not fit_type("phone", (139.0, 64.0), 3.0, needed_em=6.0).readable
    assert not fit_type("phone", (64.0, 139.0), 3.0, needed_em=6.0).readable


# Acuity 0.5 and 0.4 need 1.4 and 1.75 times the size: DIN 1450:2013 as its public calculator explains it, second-hand.
def test_eyesight_allowance() -> None:
    assert (EYESIGHTS["weaker"], EYESIGHTS["weak"]) == (1.4, 1.75)
    usual = fit_paper(paper_of("A4"), 2.0, needed_em=6.0)
    weak = fit_paper(paper_of("A4"), 2.0, eyesight=1.75, needed_em=6.0)
    assert weak.em_mm / usual.em_mm == pytest.approx(1.75 * weak_share(usual.arcmin, weak.arcmin / 1.75), rel=0.001)


def weak_share(usual_arcmin: float, weak_arcmin: float) -> float:
    return weak_arcmin / usual_arcmin


# Gaze angles worked with the arc tangent; limits 1.2 and 1.7 degrees: van Eijk et al. 2010, QoMEX.
@pytest.mark.parametrize(
    ("offset", "distance", "angle"), [(0.05, 1, 2.86), (0.1, 2, 2.86), (0.1, 3, 1.91), (0.15, 1.5, 5.71)]
)
def test_gaze_angle(offset: float, distance: float, angle: float) -> None:
    assert gaze_deg(offset, distance) == pytest.approx(angle, abs=0.006)


@pytest.mark.parametrize(("distance", "side_mm", "updown_mm"), [(1, 20.9, 29.7), (2, 41.9, 59.4), (3, 62.8, 89.0)])
def test_where_a_card_may_stand(distance: float, side_mm: float, updown_mm: float) -> None:
    assert farthest_m(SIDEWAYS_DEG, distance) * 1000 == pytest.approx(side_mm, abs=0.06)
    assert farthest_m(UPDOWN_DEG, distance) * 1000 == pytest.approx(updown_mm, abs=0.06)


def test_advice_names_the_angle_and_the_phone() -> None:
    beside = gaze_words(Settings(reading_distance_m=2.0, card_place=CardPlace(right_m=0.1)))
    assert "2.9° to the side" in beside[0]
    assert "Move the card" in beside[0]
    below = gaze_words(Settings(reading_distance_m=2.0, card_place=CardPlace(up_m=-0.1)))
    assert "2.9° down" in below[0]
    assert "still passes" in below[0]
    near = gaze_words(Settings(reading_distance_m=3.0, card_place=CardPlace(up_m=0.08)))
    assert "nobody will notice" in near[0]
    assert any("cannot show the cards" in x for x in beside)


# WCAG 2.2 SC 1.4.3 and 1.4.6, definitions of contrast ratio and relative luminance; examples worked from them, the first
# four published by the W3C.
@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [
        ("#3366cc", "#000000", 3.91),
        ("#e3660e", "#ffffff", 3.40),
        ("#fff000", "#ffffff", 1.19),
        ("#ffffff", "#6e747b", 4.72),
        ("#000000", "#ffffff", 21.0),
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
        ("#595959", "#ffffff", 7.00),
        ("#5a5a5a", "#ffffff", 6.90),
        ("#ffff00", "#000000", 19.56),
        ("#0000ff", "#ffffff", 8.59),
        ("#ff0000", "#ffffff", 3.998),
    ],
)
def test_contrast_examples(first: str, second: str, ratio: float) -> None:
    assert contrast(first, second) == pytest.approx(ratio, abs=0.006)


def test_every_pair_of_colours_has_seven_to_one() -> None:
    for ink, ground, least in PAIRS:
        assert contrast(ink, ground) >= least >= 7.0, (ink, ground)


def test_a_bank_card_is_85_60_mm() -> None:
    # ISO/IEC 7810, ID-1: 85.60 x 53.98 mm. The page measures its screen with it.
    from briefing.sources.folders import built_in  # noqa: PLC0415

    assert "BANK_CARD_MM = 85.6;" in (built_in("templates") / "cards.html").read_text(encoding="utf-8")
    assert len(SCREEN_FRAMES) >= 5
