"""How the work grows with the text, whatever the machine: time of this process alone, large against small in one run."""

from __future__ import annotations

import time
from collections.abc import Callable

# Our choice: eight times the text may take 24 times as long (a linear one takes 8 times, a squared one 64 times).
TIMES, MOST = 8, 24.0
# Below this a measurement is noise; the texts are long enough to be above it, or so quick that nothing has to be held.
LEAST_S = 0.02


def grows_too_fast(run: Callable[[int], object], size: int) -> float | None:
    """Give how much longer `run` takes for eight times the size, where that is more than it may be; else None."""
    small, large = (min(_took(run, n) for _ in range(3)) for n in (size, TIMES * size))
    ratio = large / max(small, LEAST_S)
    return ratio if ratio > MOST else None


def _took(run: Callable[[int], object], size: int) -> float:
    started = time.process_time()
    run(size)
    return time.process_time() - started
