"""The list of small bugs for `python -m tests.mutations` still fits the text that it changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.mutations import HERE, MUTATIONS, Mutation


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: m.name)
def test_each_small_bug_has_its_place(mutation: Mutation) -> None:
    text = (HERE / mutation.file).read_text(encoding="utf-8")
    assert text.count(mutation.old) == 1, f"{mutation.file} has {text.count(mutation.old)} of {mutation.old!r}"
    assert mutation.old != mutation.new
    assert all((HERE / Path(t)).is_file() for t in mutation.tests.split())


def test_there_are_enough_of_them_in_all_rooms() -> None:
    assert len(MUTATIONS) >= 60
    assert len({m.name for m in MUTATIONS}) == len(MUTATIONS)
    rooms = {m.file.split("/")[1].removesuffix(".py") for m in MUTATIONS}
    assert rooms >= {
        "units",
        "settings",
        "library",
        "board",
        "clock",
        "speech",
        "telling",
        "outline",
        "check",
        "write",
        "series",
        "take",
        "cli",
    }
