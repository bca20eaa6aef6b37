"""Every command, form, check, document, entry, heading and kit word of the code stands in the pages for people."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from briefing.board.forms import FORMS
from briefing.check.movement import MOVEMENT_CHECKS
from briefing.check.workout import WORKOUT_CHECKS
from briefing.cli.main import COMMANDS
from briefing.library.reading import KEYS
from briefing.library.sections import SECTIONS
from briefing.outline.worth import WORTH
from briefing.settings.reading import ENTRIES
from briefing.write.documents import DOCUMENTS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_every_command_stands_in_the_readme() -> None:
    for name in COMMANDS:
        assert f"briefing {name}" in README, name


def test_every_document_stands_in_the_readme() -> None:
    for document in DOCUMENTS:
        assert document.heading.lower() in README.lower(), document.key


def test_every_form_of_the_board_stands_in_the_readme_with_its_sentence() -> None:
    for form in FORMS:
        assert f"`{form.example}`" in README, form.name
        assert form.means in README, form.name


def test_every_entry_stands_in_the_readme_with_its_sentence() -> None:
    for entry in ENTRIES:
        assert f"`{entry.key}`" in README, entry.key
        assert entry.means in README, entry.key


@pytest.mark.parametrize("check", [*WORKOUT_CHECKS, *MOVEMENT_CHECKS], ids=lambda c: c.code)
def test_every_check_stands_in_developers_with_its_sentence(check: object) -> None:
    assert f"`{check.code}`" in DEVELOPERS  # type: ignore[attr-defined]
    assert check.holds in DEVELOPERS  # type: ignore[attr-defined]


def test_every_section_and_key_of_a_movement_stands_in_the_readme() -> None:
    for heading, _, _ in SECTIONS:
        assert f"`{heading.capitalize()}`" in README, heading
    for key in KEYS:
        assert f"`{key}`" in README, key


def test_the_worth_of_every_kind_of_line_can_be_looked_up() -> None:
    code = "\n".join(p.read_text(encoding="utf-8") for p in (ROOT / "briefing" / "outline").glob("*.py"))
    for kind in WORTH:
        assert f'"{kind}"' in code


def test_the_project_speaks_of_itself_alone() -> None:
    words = re.compile(r"\b(?:issue #?\d|helper-\d|subagent|this session|/work/)", re.IGNORECASE)
    for path in [
        *ROOT.glob("*.md"),
        *(ROOT / "briefing").rglob("*.py"),
        *(ROOT / "movements").glob("*.md"),
        *(ROOT / "templates").glob("*"),
    ]:
        assert not words.search(path.read_text(encoding="utf-8")), path
