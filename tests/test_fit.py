"""The exact fit: against every subset, against HiGHS, and its promises."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from briefing.outline.fit import Fit, Item, close_must, fit
from briefing.pipeline import Briefed, prepare


def forest(seed: int, size: int, kind: str = "random") -> tuple[list[Item], int]:
    rng = random.Random(seed)  # noqa: S311 - a seeded one is what a test wants
    items = []
    for i in range(size):
        tenths = rng.randint(5, 120)
        worth = {"random": rng.randint(0, 100), "correlated": max(0, tenths + rng.randint(-2, 2)), "worthless": 0}[kind]
        needs = rng.randrange(i) if i and rng.random() < 0.4 else None
        items.append(Item(tenths=tenths, worth=worth, must=rng.random() < 0.15, needs=needs))
    must = sum(items[i].tenths for i in close_must(items))
    whole = sum(i.tenths for i in items)
    return items, must + rng.randint(0, max(0, whole - must))


def allowed(items: list[Item], chosen: set[int]) -> bool:
    return all(i.needs is None or i.needs in chosen for n, i in enumerate(items) if n in chosen) and all(
        n in chosen for n, i in enumerate(items) if i.must
    )


def best_of_all(items: list[Item], capacity: int) -> tuple[int, int]:
    best = (-1, 0)
    for bits in product((False, True), repeat=len(items)):
        chosen = {n for n, b in enumerate(bits) if b}
        tenths = sum(items[n].tenths for n in chosen)
        if tenths <= capacity and allowed(items, chosen):
            best = max(best, (sum(items[n].worth for n in chosen), -tenths))
    return best[0], -best[1]


@pytest.mark.parametrize("seed", range(60))
def test_the_best_of_all_subsets(seed: int) -> None:
    items, capacity = forest(seed, 10, ("random", "correlated", "worthless")[seed % 3])
    found = fit(items, capacity)
    assert (found.worth, found.tenths) == best_of_all(items, capacity)
    assert allowed(items, set(found.chosen))


def highs(items: list[Item], capacity: int) -> tuple[int, int] | None:
    """Worth and tenths by HiGHS (scipy.optimize.milp, mip_rel_gap 0), ties broken as ours; None: nothing fits."""
    n = len(items)
    scale = sum(i.tenths for i in items) + 1
    rows = [[float(i.tenths) for i in items]]
    upper = [float(capacity)]
    for index, item in enumerate(items):
        if item.needs is not None:
            row = [0.0] * n
            row[index], row[item.needs] = 1.0, -1.0
            rows.append(row)
            upper.append(0.0)
    result = milp(
        c=[-float(i.worth * scale - i.tenths) for i in items],
        constraints=LinearConstraint(np.array(rows), ub=np.array(upper)),
        integrality=np.ones(n),
        bounds=Bounds(np.array([1.0 if i.must else 0.0 for i in items]), np.ones(n)),
        options={"mip_rel_gap": 0.0},
    )
    if result.status == 2:
        return None
    assert result.success
    chosen = [i for i, x in enumerate(result.x) if x > 0.5]
    return sum(items[i].worth for i in chosen), sum(items[i].tenths for i in chosen)


KINDS = ("random", "correlated", "worthless", "infeasible", "without slack")


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_as_highs_on_sixty_instances_of_each_kind(kind: str) -> None:
    """An independent solver: HiGHS, by way of scipy.optimize.milp."""
    for seed in range(60):
        base = kind if kind in {"correlated", "worthless"} else "random"
        items, capacity = forest(hash_of(kind) + seed, 12 + seed // 3, base)
        must = sum(items[i].tenths for i in close_must(items))
        if kind == "infeasible":
            items = [*items, Item(tenths=10, worth=1, must=True)]
            capacity = must + 9
        elif kind == "without slack":
            capacity = must
        found, theirs = fit(items, capacity), highs(items, capacity)
        if theirs is None:
            assert not found.fits
        else:
            assert (found.worth, found.tenths) == theirs, (kind, seed)


def hash_of(kind: str) -> int:
    return 10_000 * (KINDS.index(kind) + 1)


def test_the_same_as_highs_on_the_demo_briefings(demos: dict[str, Briefed]) -> None:
    for briefed in demos.values():
        lines = [line for s in prepare(briefed.plan).segments for line in s.lines]
        index = {line.id: i for i, line in enumerate(lines)}
        items = [
            Item(tenths=x.tenths, worth=x.worth, must=x.must, needs=index[x.needs] if x.needs else None) for x in lines
        ]
        for minutes in (5, 7, 9, 12):
            found = fit(items, 600 * minutes)
            assert (found.worth, found.tenths) == highs(items, 600 * minutes)


def test_must_say_lines_alone_too_long() -> None:
    items = [Item(tenths=50, worth=1, must=True), Item(tenths=60, worth=1, must=True), Item(tenths=1, worth=99)]
    found = fit(items, 100)
    assert not found.fits
    assert found.chosen == (0, 1)
    assert found.shortest_tenths == 110


def test_must_pulls_what_it_needs() -> None:
    items = [Item(tenths=10, worth=0), Item(tenths=10, worth=0, needs=0), Item(tenths=10, worth=0, must=True, needs=1)]
    assert fit(items, 30).chosen == (0, 1, 2)


def test_no_limit_takes_all() -> None:
    items, _ = forest(1, 20)
    assert fit(items, None).chosen == tuple(range(20))


def test_a_circle_of_needs_is_refused() -> None:
    with pytest.raises(ValueError, match="circle"):
        fit([Item(tenths=1, worth=1, needs=1), Item(tenths=1, worth=1, needs=0)], 1)
    with pytest.raises(ValueError, match="circle"):
        fit([Item(tenths=1, worth=1, needs=1, must=True), Item(tenths=1, worth=1, needs=0)], 1)


def test_ties_go_to_fewer_tenths_then_to_earlier_lines() -> None:
    same = [Item(tenths=20, worth=5), Item(tenths=10, worth=5), Item(tenths=10, worth=5)]
    assert fit(same, 10).chosen == (1,)
    assert fit(same, 20).chosen == (1, 2)


_ITEM = st.tuples(st.integers(1, 40), st.integers(0, 30), st.booleans(), st.integers(0, 30))


@given(st.lists(_ITEM, max_size=25), st.integers(0, 600), st.integers(0, 200))
@settings(max_examples=150, deadline=None)
def test_a_longer_promise_never_has_less_worth(
    rows: list[tuple[int, int, bool, int]], capacity: int, more: int
) -> None:
    items = [
        Item(tenths=t, worth=w, must=m and n % 5 == 0, needs=p % n if n and p % 2 else None)
        for n, (t, w, m, p) in enumerate(rows)
    ]
    short, long = fit(items, capacity), fit(items, capacity + more)
    if short.fits:
        assert short.tenths <= capacity
        assert long.worth >= short.worth
    _again(items, short, capacity)


def _again(items: list[Item], found: Fit, capacity: int) -> None:
    """Fitting what was fitted changes nothing."""
    place = {old: new for new, old in enumerate(found.chosen)}
    kept = []
    for i in found.chosen:
        needs = items[i].needs
        kept.append(items[i].model_copy(update={"needs": place.get(needs) if needs is not None else None}))
    if found.fits:
        assert fit(kept, capacity).chosen == tuple(range(len(kept)))
