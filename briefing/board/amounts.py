"""Numbers as they stand on a board, and how high one can be."""

from __future__ import annotations

import re

from briefing.units import Unit

# Above these a number is taken for a slip of the hand. Our choice: the highest sensible board, times about ten.
MOST: dict[Unit, int] = {"reps": 5_000, "m": 100_000, "s": 4 * 3600, "cal": 3_000}


def read_number(raw: str) -> tuple[float, str | None]:
    """Read a number with a decimal comma or thousands in it; the second value says how an unclear one was read.

    `1.000` is one thousand, `22,5` is twenty-two and a half, `2,000` is two thousand.
    """
    compact = re.sub(r"\s", "", raw)
    if re.fullmatch(r"-?\d{1,3}(?:[.,]\d{3})+", compact):
        value = float(re.sub(r"[.,]", "", compact))
        return value, (f'"{raw}" was read as {value:,.0f}' if "." in compact else None)
    return float(compact.replace(",", ".")), None
