"""What tests share: the built-in library, and briefing a text as if it stood in a coach's folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from briefing.library.finding import Library
from briefing.pipeline import Briefed, brief
from briefing.settings.models import Length
from briefing.sources.folders import built_in, demo_folder

DEMOS = ("slack-water", "breakwater", "long-swell")


@pytest.fixture(scope="session", autouse=True)
def cache_of_this_run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Keep readings in a folder of this run alone, never in the cache of the person who runs the tests."""
    with pytest.MonkeyPatch.context() as patch:
        folder = tmp_path_factory.mktemp("cache")
        patch.setenv("XDG_CACHE_HOME", str(folder))
        yield folder


@pytest.fixture(scope="session")
def library() -> Library:
    folder = built_in("movements")
    return Library((folder,), folder)


@pytest.fixture(scope="session")
def demos() -> dict[str, Briefed]:
    return {name: brief(demo_folder() / f"{name}.md") for name in DEMOS}


@pytest.fixture
def brief_text(tmp_path: Path) -> Callable[..., Briefed]:
    """Brief a workout file's text; `length` in seconds."""

    def run(text: str, name: str = "test-day.md", length: int | None = None) -> Briefed:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return brief(path, length=Length(seconds=length) if length else None)

    return run


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """CI allows no skip: what is missing there is a mistake, not a circumstance."""
    skipped = terminalreporter.stats.get("skipped", [])
    if skipped and os.environ.get("CI"):
        terminalreporter.write_line(f"{len(skipped)} skipped, and CI allows none", red=True)


def pytest_sessionfinish(session: pytest.Session) -> None:
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if reporter is not None and os.environ.get("CI") and reporter.stats.get("skipped"):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
