"""A short piece of the standing fuzz run, bounded by count; and that the run finds what it looks for, and makes it small."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import fuzz
from tests.fuzz import Broken, Tally, main, run
from tests.wild import KINDS, text_of

COUNT = 160
# The same inputs on every machine, and others than those of the first seed, which everybody runs.
SEED = 24


def test_a_short_run_finds_nothing() -> None:
    tally = Tally()
    failures = run(SEED, iter(range(COUNT)), bound_s=None, tally=tally, shrink=False)
    assert failures == [], "\n".join(
        f"{f.what}: --seed {f.seed} --first {f.number} --count 1\n{f.where}" for f in failures
    )
    assert sum(tally.seen.values()) == COUNT
    assert set(tally.seen) == set(KINDS)
    assert sum(tally.read.values()) > COUNT / 4, "nearly nothing can be read: such a run says little"


def test_a_number_names_its_text_for_ever() -> None:
    assert [text_of(1, n) for n in range(50)] == [text_of(1, n) for n in range(50)]
    assert text_of(1, 1) != text_of(2, 1)


def test_what_breaks_is_made_small(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def breaks(text: str, folder: Path, documents: bool) -> None:  # noqa: FBT001 - as the table has it
        del folder, documents
        if "AMRAP" in text:
            raise Broken("no such word", text)
        if "EMOM" in text:
            raise ZeroDivisionError

    monkeypatch.setitem(fuzz.READERS, "saying", breaks)
    assert main(["--kind", "saying", "--count", "1500", "--bound", "60"]) == 1
    said = capsys.readouterr().out
    assert "no such word" in said
    assert "\n    'AMRAP'\n" in said
    assert "\n    'EMOM'\n" in said
    assert "2 different failures" in said
    assert (
        main(["--kind", "saying", "--count", "300", "--without", "no such word", "--without", "ZeroDivisionError in "])
        == 0
    )
