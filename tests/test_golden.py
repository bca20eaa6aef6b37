"""Golden files: the demo's scripts and outlines as they are written, to be read, not only updated.

`pytest tests/test_golden.py --update-golden` writes them anew; a missing or an unused one fails.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from briefing.pipeline import Briefed
from briefing.sources.folders import built_in
from briefing.write.documents import DOCUMENTS, Given, write_document
from briefing.write.templates import Templates
from tests.conftest import DEMOS

GOLDEN = Path(__file__).parent / "golden"
KEPT = ("script", "filming", "outline")


def wanted() -> dict[str, tuple[str, str]]:
    return {f"{name}.{key}.md": (name, key) for name in DEMOS for key in KEPT}


@pytest.mark.parametrize("file", wanted())
def test_golden(file: str, demos: dict[str, Briefed], request: pytest.FixtureRequest) -> None:
    name, key = wanted()[file]
    document = next(d for d in DOCUMENTS if d.key == key)
    given = Given(demos[name].outline, demos[name].plan.movements, Templates((built_in("templates"),)))
    written = write_document(document, "md", given)
    assert write_document(document, "md", given) == written, "the second run differs"
    path = GOLDEN / file
    if request.config.getoption("--update-golden"):
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(written)
    assert path.is_file(), f"{path} is missing; --update-golden writes it"
    assert path.read_text(encoding="utf-8") == written.decode()


def test_no_golden_file_is_unused() -> None:
    assert {p.name for p in GOLDEN.glob("*.md")} == set(wanted())
