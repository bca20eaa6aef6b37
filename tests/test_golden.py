"""Golden files, to be read, not only updated: the demo's scripts and outlines, and eight workouts' papers.

The papers are what members get (handout, description), the call sheet and the cards, of the workouts in `cases/papers/`: loads,
pairs, every kind of rest, a buy-in, two parts, sets, intervals, not for time.

`pytest tests/test_golden.py --update-golden` writes them anew; a missing or an unused one fails.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from briefing.clock.simulate import simulate
from briefing.pipeline import Briefed, brief
from briefing.sources.folders import built_in
from briefing.write.deck import Deck
from briefing.write.documents import DOCUMENTS, Form, Given, write_document
from briefing.write.templates import Templates
from tests.conftest import DEMOS

GOLDEN = Path(__file__).parent / "golden"
PAPERS = Path(__file__).parent / "cases" / "papers"
KEPT = ("script", "filming", "outline")
KEPT_PAPERS: tuple[tuple[str, Form], ...] = (
    ("handout", "md"),
    ("description", "txt"),
    ("calls", "md"),
    ("cards", "txt"),
)


def wanted() -> dict[str, tuple[str, str, Form]]:
    demo: dict[str, tuple[str, str, Form]] = {f"{name}.{key}.md": (name, key, "md") for name in DEMOS for key in KEPT}
    for path in sorted(PAPERS.glob("*.md")):
        demo |= {f"{path.stem}.{key}.{form}": (path.stem, key, form) for key, form in KEPT_PAPERS}
    return demo


@pytest.fixture(scope="module")
def briefed(demos: dict[str, Briefed]) -> dict[str, Briefed]:
    return demos | {p.stem: brief(p) for p in sorted(PAPERS.glob("*.md"))}


def cards_text(deck: Deck) -> str:
    """Write cards as text: their place, their rows of type, their foot."""
    out = []
    for card in deck.cards:
        out.append(f"{card.number}. {card.clock} {card.title} / {card.head}" + (f" {card.part}" if card.part else ""))
        out += [f"   {'! ' if e.must else ''}{' | '.join(r.text for r in e.rows)}" for e in card.entries]
        out += [f"   > {' | '.join(card.foot)}"]
    return "\n".join(out) + "\n"


def written(made: Briefed, key: str, form: Form) -> bytes:
    plan = made.plan
    run, slow = (simulate(plan.workout, plan.movements, who, effort=plan.effort) for who in ("steady", "easy"))
    given = Given(made.outline, plan.movements, Templates((built_in("templates"),)), run, slow)
    if key == "cards":
        return cards_text(given.deck).encode()
    return write_document(next(d for d in DOCUMENTS if d.key == key), form, given)


@pytest.mark.parametrize("file", wanted())
def test_golden(file: str, briefed: dict[str, Briefed], request: pytest.FixtureRequest) -> None:
    name, key, form = wanted()[file]
    text = written(briefed[name], key, form)
    assert written(briefed[name], key, form) == text, "the second run differs"
    path = GOLDEN / file
    if request.config.getoption("--update-golden"):
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(text)
    assert path.is_file(), f"{path} is missing; --update-golden writes it"
    assert path.read_text(encoding="utf-8") == text.decode()


def test_no_golden_file_is_unused() -> None:
    assert {p.name for p in GOLDEN.iterdir()} == set(wanted())
