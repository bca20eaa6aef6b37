"""Units: how a time is written and read, numbers without a needless point."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefing.units import read_clock, read_moment, write_clock, write_number


@pytest.mark.parametrize(
    ("seconds", "written"),
    [(0, "0:00"), (45, "0:45"), (59.4, "0:59"), (59.5, "1:00"), (720, "12:00"), (3599.5, "1:00:00"), (3723, "1:02:03")],
)
def test_a_time_is_rounded_to_the_second(seconds: float, written: str) -> None:
    assert write_clock(seconds) == written


@pytest.mark.parametrize(
    ("words", "seconds"),
    [
        ("9:00", 540), (":45", 45), ("1:02:03", 3723), ("90 s", 90), ("12 min", 720), ("18'", 1080), ("2 h", 7200),
        ("9:59", 599), ("9:60", None), ("9:6", None), ("-1:00", None), ("90", None), ("soon", None), ("1:2:3:4", None),
    ],
)  # fmt: skip
def test_a_time_is_read(words: str, seconds: int | None) -> None:
    assert read_clock(words) == seconds


@given(st.integers(min_value=0, max_value=99 * 3600))
def test_what_is_written_is_read_again(seconds: int) -> None:
    assert read_clock(write_clock(seconds)) == seconds


def test_the_start_of_a_recording_is_a_bare_zero() -> None:
    assert (read_moment("0"), read_moment("0:12"), read_moment("12")) == (0, 12, None)


@pytest.mark.parametrize(("value", "written"), [(20.0, "20"), (22.5, "22.5"), (0.1 + 0.2, "0.3")])
def test_numbers(value: float, written: str) -> None:
    assert write_number(value) == written
