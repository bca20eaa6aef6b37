"""Readings kept on the disk: the same value as reading anew, never an old one, and no trouble where nothing can be kept."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from briefing.library.finding import Library
from briefing.outline.wording import read_wording
from briefing.sources import readings
from briefing.sources.folders import built_in
from briefing.sources.head import read_head, recall_head
from briefing.sources.text import Text

FIRST = "---\nname: Tide squat\n---\n\nA squat.\n\n## Technique points\n\n- **Weight close** — Hold it high.\n"
ABOVE = FIRST.replace("Tide squat", "Neap squat").replace("Weight close", "Chest up")
SECOND = FIRST.replace("name: Tide squat", "name: Tide squat\nbuilds_on: neap-squat")


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "briefing"


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    folder = tmp_path / "movements"
    folder.mkdir()
    (folder / "tide-squat.md").write_text(FIRST, encoding="utf-8")
    return folder


def _point(shelf: Path) -> str:
    movement = Library((shelf,)).get("tide-squat")
    assert movement is not None
    return movement.points[0].card


def test_what_is_kept_is_what_was_read(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = built_in("movements")
    first, again = (Library((folder,), folder) for _ in range(2))
    read = [first.get(slug) for slug in first.slugs()]
    assert len([*cache.glob("*.json")]) == len(read)
    monkeypatch.setattr("briefing.library.finding.read_draft", None)  # nothing is read a second time
    assert [again.get(slug) for slug in again.slugs()] == read


def test_a_changed_file_is_read_anew_though_its_size_and_time_are_the_same(cache: Path, shelf: Path) -> None:
    path = shelf / "tide-squat.md"
    assert _point(shelf) == "Weight close"
    before = path.stat()
    path.write_text(FIRST.replace("Weight close", "Weight clear"), encoding="utf-8")
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert path.stat().st_size == before.st_size
    assert _point(shelf) == "Weight clear"
    assert len([*cache.glob("*")]) == 1


def test_a_change_in_what_it_builds_on_is_noticed(cache: Path, shelf: Path) -> None:
    (shelf / "tide-squat.md").write_text(SECOND, encoding="utf-8")
    (shelf / "neap-squat.md").write_text(ABOVE, encoding="utf-8")
    assert _point(shelf) == "Chest up"
    assert len([*cache.glob("*.json")]) == 2
    (shelf / "neap-squat.md").write_text(ABOVE.replace("Chest up", "Chest high"), encoding="utf-8")
    assert _point(shelf) == "Chest high"


@pytest.mark.parametrize("line", ["builds_on:   neap-squat", 'builds_on: "neap-squat"', '"builds_on": neap-squat'])
def test_what_is_not_plain_to_see_is_not_kept(cache: Path, shelf: Path, line: str) -> None:
    (shelf / "tide-squat.md").write_text(SECOND.replace("builds_on: neap-squat", line), encoding="utf-8")
    (shelf / "neap-squat.md").write_text(ABOVE, encoding="utf-8")
    assert _point(shelf) == "Chest up"
    assert [p.name.partition("-squat")[0] for p in cache.glob("*.json")] == ["neap"]


def test_another_program_reads_anew(cache: Path, shelf: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    del cache
    _point(shelf)
    name = readings.name_for(shelf / "tide-squat.md")
    made_from = "\n".join(("tide-squat", str(shelf / "tide-squat.md"), "True", *FIRST.split("\n"), ""))
    assert readings.recall(name, made_from) is not None
    monkeypatch.setattr(readings, "_program", lambda: b"another")
    assert readings.recall(name, made_from) is None


@pytest.mark.parametrize("broken", [b"", b"\n", b"{}", b"\xff\xfe\x00", b"0" * 64 + b"\n{}"])
def test_a_broken_file_is_as_good_as_none(cache: Path, shelf: Path, broken: bytes) -> None:
    _point(shelf)
    (kept,) = cache.glob("*.json")
    whole = kept.read_bytes()
    for content in (broken, whole[:-10], whole.replace(b"Hold it high", b"Hold it here")):
        kept.write_bytes(content)
        assert _point(shelf) == "Weight close"
        assert kept.read_bytes() == whole


TIDE = Path("my-videos") / "tide.md"
HEAD = """---
title: "Tide \\u00e9: 1"
# a note
kit: [dumbbell, "2 steps"]
order: []
say_as: {EMOM: e-mom, "135": [a, {b: c}]}
length:
---

AMRAP 12:00
"""


@pytest.mark.parametrize(
    "written", [HEAD, "---\n---\n", "---\n", "AMRAP 12:00\n", "---\na: 1\na: 2\n---\n", "---\n[\n---\n"]
)
@pytest.mark.usefixtures("cache")
def test_a_head_that_was_kept_is_the_head_that_was_read(written: str) -> None:
    text = Text.of(written, "tide.md")
    assert recall_head(text, TIDE) == recall_head(text, TIDE) == read_head(text)
    other = Text.of(written.replace("12:00", "14:00"), "tide.md")
    assert recall_head(other, TIDE) == read_head(other)


def test_a_head_is_read_anew_when_it_changes_and_only_then(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    recall_head(Text.of(HEAD, "tide.md"), TIDE)
    changed = Text.of(HEAD.replace("Tide", "Neap"), "tide.md")
    assert recall_head(changed, TIDE) == read_head(changed)
    recall_head(changed, Path("other-videos") / "tide.md")
    assert len([*cache.glob("*.json")]) == 2
    monkeypatch.setattr("briefing.sources.head.read_head", None)
    assert recall_head(changed, TIDE)[0].text("title") == "Neap \u00e9: 1"


@pytest.mark.usefixtures("cache")
def test_phrases_that_were_kept_are_those_that_were_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own = tmp_path / "templates"
    own.mkdir()
    (own / "wording.md").write_text("## hello\n\n- Hi there, {nobody}.\n\n## helo\n\n- Hi.\n", encoding="utf-8")
    folders = (own, built_in("templates"))
    first = read_wording(folders, tmp_path)
    monkeypatch.setattr("briefing.outline.wording.markdown", None)
    assert read_wording(folders, tmp_path) == first
    assert {p.code for p in first[1]} >= {"unknown-phrase"}


def test_where_nothing_can_be_kept_everything_is_read(
    cache: Path, shelf: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache.parent.mkdir()
    cache.write_text("a file where the folder would be", encoding="utf-8")
    assert _point(shelf) == "Weight close"
    cache.unlink()
    cache.mkdir()
    (cache / f"{readings.name_for(shelf / 'tide-squat.md')}.json").mkdir()
    assert _point(shelf) == "Weight close"
    assert [p.suffix for p in cache.iterdir()] == [".json"]
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(Path, "home", _nobody)
    assert _point(shelf) == "Weight close"


def test_a_relative_cache_folder_is_none(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "cache")
    monkeypatch.setenv("HOME", str(tmp_path))
    readings.keep("one", "", b"1")
    assert [str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*.json")] == [".cache/briefing/one.json"]


def _nobody() -> Path:
    raise RuntimeError("no home")


def test_the_cache_forgets_what_nobody_uses(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now, day = 1_800_000_000.0, 86_400
    ages = {"today.json": 0, "spring.json": 80, "winter.json": 91, "half.part": 2, "now.part": 0, "notes.txt": 400}
    for name, days in ages.items():
        (tmp_path / name).write_bytes(b"x" * 100)
        os.utime(tmp_path / name, (now - days * day, now - days * day))
    readings.forget(tmp_path, now)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["notes.txt", "now.part", "spring.json", "today.json"]
    monkeypatch.setattr(readings, "MOST_BYTES", 250)
    readings.forget(tmp_path, now)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["notes.txt", "now.part", "today.json"]


def test_a_process_looks_through_the_cache_when_it_keeps_something(
    cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(readings, "_since", [])
    cache.mkdir(parents=True, exist_ok=True)
    old = cache / "old.json"
    old.write_bytes(b"x")
    os.utime(old, (1, 1))
    readings.keep("new", "words", b"reading")
    assert not old.exists()
    monkeypatch.setattr(readings, "MOST_BYTES", 2000)
    for number in range(100):
        readings.keep(f"n{number}", "words", b"x" * 50)
    assert sum(p.stat().st_size for p in cache.iterdir()) < 2500


def test_what_is_used_stays(cache: Path) -> None:
    readings.keep("used", "words", b"reading")
    (path,) = cache.glob("used*")
    os.utime(path, (1, 1))
    assert readings.recall("used", "words") == b"reading"
    assert path.stat().st_mtime > 86_400
