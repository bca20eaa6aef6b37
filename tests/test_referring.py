"""A board that speaks of another one: `as wk1, +1 round, rest :10 less`."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefing.board.models import body_of
from briefing.board.referring import refers_to
from briefing.board.totals import add_up
from briefing.pipeline import read_plan
from briefing.problems import Stop

FIRST = "---\ntitle: Week One\n---\n4 rounds for time, cap 20:00\n  12 goblet squats\nRest 1:00 between rounds\n"


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("wk3: as wk1, +1 rd, rest :10 less", ("wk1", ("+1 rd", "rest :10 less"))),
        ("same as week one", ("week one", ())),
        ("As many rounds as possible in 12 min", None),
        ("rest as long as the work", None),
        ("as needed", None),
    ],
)
def test_what_speaks_of_another_board(line: str, found: tuple[str, tuple[str, ...]] | None) -> None:
    assert refers_to(line) == found


def test_one_round_more_and_a_shorter_rest(tmp_path: Path) -> None:
    """4 rounds, rest 1:00 become 5 rounds, rest 0:50; the totals are five quarters of before."""
    (tmp_path / "wk1.md").write_text(FIRST)
    (tmp_path / "wk3.md").write_text("wk3: as wk1, +1 rd, rest :10 less, cap 24:00\n")
    part = read_plan(tmp_path / "wk3.md").workout.parts[0]
    body = body_of(part)
    assert body is not None
    assert (body.rounds, body.rest_between_s, part.windows.work_s) == (5, 50, 24 * 60)
    before, after = (add_up(read_plan(tmp_path / f"{n}.md").workout)[0].quantity for n in ("wk1", "wk3"))
    assert after == before * 5 / 4


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("as wk9", "refers-elsewhere"),
        ("as wk3", "refers-elsewhere"),
        ("as wk1, heavier", "change-unread"),
        ("as wk1, -4 rounds", "number-zero"),
    ],
)
def test_what_cannot_be_taken_over(tmp_path: Path, line: str, code: str) -> None:
    """A board that is not there, itself, a change that changes nothing, and one that leaves nothing."""
    (tmp_path / "wk1.md").write_text(FIRST)
    (tmp_path / "wk3.md").write_text(line + "\n")
    with pytest.raises(Stop) as stop:
        read_plan(tmp_path / "wk3.md")
    assert [p.code for p in stop.value.problems if p.level == "error"] == [code]
