"""Conversions against the international yard and pound (agreement of 1959; NIST SP 811) and arithmetic from them."""

from __future__ import annotations

import pytest

from briefing import units


def test_the_exact_factors() -> None:
    assert units.KG_PER_LB == 0.45359237
    assert units.M_PER_IN == 0.0254
    assert units.M_PER_FT == 0.3048
    assert units.M_PER_YD == 0.9144
    assert units.M_PER_MI == 1609.344
    assert pytest.approx(units.M_PER_FT, rel=1e-12) == 12 * units.M_PER_IN
    assert pytest.approx(units.M_PER_MI, rel=1e-12) == 1760 * units.M_PER_YD


@pytest.mark.parametrize(
    ("lb", "kg"), [(135, 61.235), (95, 43.091), (45, 20.412), (35, 15.876), (53, 24.040), (70, 31.751), (20, 9.072)]
)
def test_common_loads(lb: float, kg: float) -> None:
    assert round(lb * units.KG_PER_LB, 3) == kg


def test_common_lengths() -> None:
    assert round(400 / units.M_PER_YD, 3) == 437.445
    assert round(50 * units.M_PER_FT, 2) == 15.24
    assert [round(n * units.M_PER_IN * 100, 2) for n in (20, 24, 30)] == [50.8, 60.96, 76.2]


@pytest.mark.parametrize(
    ("written", "seconds"),
    [
        ("16:00", 960),
        ("1:02:03", 3723),
        (":45", 45),
        ("0:45", 45),
        ("90 s", 90),
        ("12 min", 720),
        ("18'", 1080),
        ("1 h", 3600),
    ],
)
def test_times(written: str, seconds: int) -> None:
    assert units.read_clock(written) == seconds


@pytest.mark.parametrize("written", ["12:75", "-3:00", "soon", "", "1:2", "12", "1:00:99", "٣:00"])
def test_what_is_no_time(written: str) -> None:
    assert units.read_clock(written) is None


def test_writing_rounds_to_whole_seconds() -> None:
    assert [units.write_clock(s) for s in (0, 59.6, 720, 3661)] == ["0:00", "1:00", "12:00", "1:01:01"]
