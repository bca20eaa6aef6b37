"""Saving: whole files or none, and what a person edited is never lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefing.write import saving
from briefing.write.saving import RECORD, WRITING, read_record, save_all, write_whole


def test_what_was_not_there_is_written(tmp_path: Path) -> None:
    path = tmp_path / "built" / "a.md"
    (saved,) = save_all({path: b"one"}, tmp_path)
    assert (saved.what, path.read_bytes()) == ("written", b"one")
    (saved,) = save_all({path: b"one"}, tmp_path)
    assert saved.what == "same"
    (saved,) = save_all({path: b"two"}, tmp_path)
    assert (saved.what, path.read_bytes()) == ("written", b"two")


def test_what_a_person_edited_stays(tmp_path: Path) -> None:
    path = tmp_path / "a.docx"
    save_all({path: b"one"}, tmp_path)
    path.write_bytes(b"mine")
    (saved,) = save_all({path: b"two"}, tmp_path)
    assert (saved.what, saved.path.name) == ("beside", "a.new.docx")
    assert path.read_bytes() == b"mine"
    assert saved.path.read_bytes() == b"two"
    # And again: the edit is still an edit.
    (saved,) = save_all({path: b"three"}, tmp_path)
    assert saved.what == "beside"
    assert path.read_bytes() == b"mine"


def test_a_file_of_the_coachs_own_with_our_name_stays(tmp_path: Path) -> None:
    path = tmp_path / "script.md"
    path.write_bytes(b"mine from before")
    (saved,) = save_all({path: b"ours"}, tmp_path)
    assert saved.what == "beside"
    assert path.read_bytes() == b"mine from before"


def test_a_broken_record_loses_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    save_all({path: b"one"}, tmp_path)
    (tmp_path / RECORD).write_text("{broken", encoding="utf-8")
    assert read_record(tmp_path) == {}
    (saved,) = save_all({path: b"two"}, tmp_path)
    assert saved.what == "beside"
    assert path.read_bytes() == b"one"


def test_a_full_disk_leaves_the_old_file_and_no_rubbish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.md"
    write_whole(path, b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("briefing.write.saving.os.fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.md"]


def test_what_a_killed_build_wrote_is_no_edit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Killed between a file and the record: the next build has other words, and still knows the file as its own."""
    a, b = tmp_path / "a.md", tmp_path / "b.md"
    save_all({a: b"one", b: b"one"}, tmp_path)
    real, written = write_whole, []

    def dies(path: Path, content: bytes) -> None:
        if path == b:
            raise KeyboardInterrupt
        real(path, content)
        written.append(path)

    monkeypatch.setattr(saving, "write_whole", dies)
    with pytest.raises(KeyboardInterrupt):
        save_all({a: b"two", b: b"two"}, tmp_path)
    monkeypatch.setattr(saving, "write_whole", real)
    assert a.read_bytes() == b"two"
    assert [s.what for s in save_all({tmp_path / "c.md": b"other video"}, tmp_path)] == ["written"]
    assert [s.what for s in save_all({a: b"three", b: b"three"}, tmp_path)] == ["written", "written"]
    assert not (tmp_path / WRITING).exists()
    b.write_bytes(b"mine")
    assert [s.what for s in save_all({b: b"four"}, tmp_path)] == ["beside"]
