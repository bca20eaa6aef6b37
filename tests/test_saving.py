"""Saving: whole files or none, and what a person edited is never lost."""

from __future__ import annotations

import ast
import os
import shutil
from pathlib import Path

import pytest

import briefing
from briefing.problems import Stop
from briefing.write import saving
from briefing.write.saving import (
    RECORD,
    WRITING,
    kept_words,
    read_record,
    room_of,
    save_all,
    save_back,
    save_new,
    write_whole,
)


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


def test_an_edited_new_version_is_a_persons_too(tmp_path: Path) -> None:
    path, beside = tmp_path / "script.md", tmp_path / "script.new.md"
    path.write_bytes(b"mine")
    save_all({path: b"one"}, tmp_path)
    beside.write_bytes(b"mine, too")
    (saved,) = save_all({path: b"two"}, tmp_path)
    assert saved.path.name == "script.new-2.md"
    assert (path.read_bytes(), beside.read_bytes(), saved.path.read_bytes()) == (b"mine", b"mine, too", b"two")
    (again,) = save_all({path: b"three"}, tmp_path)
    assert again.path == saved.path


def test_a_new_version_that_was_there_before_is_a_persons(tmp_path: Path) -> None:
    for name in ("script.md", "script.new.md"):
        (tmp_path / name).write_bytes(b"mine")
    (saved,) = save_all({tmp_path / "script.md": b"ours"}, tmp_path)
    assert saved.path.name == "script.new-2.md"
    assert (tmp_path / "script.new.md").read_bytes() == b"mine"


def test_a_new_version_that_was_accepted_is_no_edit(tmp_path: Path) -> None:
    path, beside = tmp_path / "a.md", tmp_path / "a.new.md"
    save_all({path: b"one"}, tmp_path)
    path.write_bytes(b"mine")
    save_all({path: b"two"}, tmp_path)
    beside.replace(path)
    (saved,) = save_all({path: b"three"}, tmp_path)
    assert (saved.what, path.read_bytes()) == ("written", b"three")


def test_a_new_version_goes_when_the_file_is_ours_again(tmp_path: Path) -> None:
    path, beside = tmp_path / "a.md", tmp_path / "a.new.md"
    save_all({path: b"one"}, tmp_path)
    path.write_bytes(b"mine")
    save_all({path: b"two"}, tmp_path)
    path.unlink()
    save_all({path: b"two"}, tmp_path)
    assert not beside.exists()
    assert set(read_record(tmp_path)) == {"a.md"}


def test_where_it_is_called_from_makes_no_edit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, other = tmp_path / "videos", tmp_path / "other"
    folder.mkdir()
    other.mkdir()
    monkeypatch.chdir(tmp_path)
    for path in (Path("out/a.md"), tmp_path / "out" / "a.md", other / ".." / "out" / "a.md"):
        (saved,) = save_all({path: str(path).encode()}, folder, path.parent)
        assert saved.what == "written"
    monkeypatch.chdir(other)
    assert save_all({Path("../out/a.md"): b"x"}, folder, Path("../out"))[0].what == "written"


def test_it_says_whether_somebody_edited_it_or_nothing_is_known_of_it(tmp_path: Path) -> None:
    """A folder that was copied without its record: nobody edited anything, and nobody is told so."""
    for name in ("a.md", "b.md"):
        save_all({tmp_path / name: b"one"}, tmp_path)
    (tmp_path / "a.md").write_bytes(b"mine")
    assert "you edited" in kept_words(save_all({tmp_path / "a.md": b"two"}, tmp_path))[0]
    shutil.rmtree(tmp_path / ".briefing")
    (words,) = kept_words(save_all({tmp_path / "b.md": b"two"}, tmp_path))
    assert "is not known" in words
    assert "edited" not in words
    # What is the same as before is known again, without a word.
    shutil.rmtree(tmp_path / ".briefing")
    assert kept_words(save_all({tmp_path / "b.md": b"one"}, tmp_path, adopt=True)) == ()
    assert kept_words(save_all({tmp_path / "b.md": b"three"}, tmp_path)) == ()


def test_what_is_the_same_by_chance_is_not_ours(tmp_path: Path) -> None:
    path = tmp_path / "captions.vtt"
    path.write_bytes(b"one")
    assert save_all({path: b"one"}, tmp_path)[0].what == "same"
    assert save_all({path: b"two"}, tmp_path)[0].what == "beside"
    assert path.read_bytes() == b"one"


def test_a_folder_or_a_link_in_place_of_a_file_stays(tmp_path: Path) -> None:
    (tmp_path / "a.md").mkdir()
    (tmp_path / "mine.md").write_bytes(b"mine")
    (tmp_path / "b.md").symlink_to(tmp_path / "mine.md")
    saved = save_all({tmp_path / "a.md": b"ours", tmp_path / "b.md": b"ours"}, tmp_path)
    assert [s.path.name for s in saved] == ["a.new.md", "b.new.md"]
    assert (tmp_path / "mine.md").read_bytes() == b"mine"
    assert (tmp_path / "b.md").is_symlink()


def test_nothing_is_written_where_a_link_leads_out(tmp_path: Path) -> None:
    folder, elsewhere = tmp_path / "theirs", tmp_path / "elsewhere"
    folder.mkdir()
    elsewhere.mkdir()
    (folder / "built").symlink_to(elsewhere, target_is_directory=True)
    for path in (folder / "built" / "day" / "script.md", folder / "sub" / ".." / ".." / "elsewhere" / "x.md"):
        for save in (save_all, save_new):
            with pytest.raises(Stop) as stop:
                save({path: b"ours"}, folder)
            assert stop.value.problems[0].code == "file-leads-out"
    assert room_of(folder / "built", folder) == folder
    assert room_of(elsewhere, folder) == elsewhere
    (folder / ".briefing").symlink_to(elsewhere, target_is_directory=True)
    with pytest.raises(Stop):
        save_all({folder / "a.md": b"ours"}, folder)
    assert list(elsewhere.iterdir()) == []


def test_a_draft_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    assert save_new({path: b"draft"}, tmp_path)[0].what == "written"
    assert save_new({path: b"other"}, tmp_path)[0].what == "same"
    assert path.read_bytes() == b"draft"


def test_a_page_that_was_saved_meanwhile_stays(tmp_path: Path) -> None:
    path = tmp_path / "page.md"
    assert save_back(path, b"one", None, tmp_path).what == "written"
    assert save_back(path, b"two", b"one", tmp_path).what == "written"
    path.write_bytes(b"mine")
    saved = save_back(path, b"three", b"two", tmp_path)
    assert (saved.what, path.read_bytes(), saved.path.read_bytes()) == ("beside", b"mine", b"three")
    assert save_back(path, b"four", None, tmp_path).path.name == "page.new-2.md"


def test_what_a_killed_build_left_half_written_is_cleared(tmp_path: Path) -> None:
    gone = os.fork()
    if gone == 0:
        os._exit(0)
    os.waitpid(gone, 0)
    machine = saving._machine()
    left = tmp_path / f".briefing-{machine}-{gone}-0123abcd.part"
    theirs = [
        tmp_path / ".briefing-notes.part",
        tmp_path / "take.part",
        tmp_path / f".briefing-{machine}-{os.getpid()}-0123abcd.part",
        tmp_path / f".briefing-ffffff-{gone}-0123abcd.part",
    ]
    for path in (left, *theirs):
        path.write_bytes(b"half")
    save_all({tmp_path / "a.md": b"one"}, tmp_path)
    assert not left.exists()
    assert all(path.exists() for path in theirs)


def test_permissions_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    before = os.umask(0o027)
    try:
        save_all({path: b"one"}, tmp_path)
    finally:
        os.umask(before)
    assert path.stat().st_mode & 0o777 == 0o640
    path.chmod(0o600)
    save_all({path: b"two"}, tmp_path)
    assert path.stat().st_mode & 0o777 == 0o600


def test_there_is_one_way_to_write() -> None:
    """No module but these writes, moves or takes away a file; the readings have their own folder, the log of a bug has another."""
    package = Path(briefing.__file__).parent
    allowed = {"write/saving.py", "sources/readings.py", "cli/trouble.py"}
    names = {"write_text", "write_bytes", "mkdir", "unlink", "rename", "rmdir", "touch", "chmod", "symlink_to", "write_whole",
             "mkstemp", "NamedTemporaryFile", "makedirs", "rmtree", "copyfile", "copytree", "move"}  # fmt: skip
    wrong = []
    for path in package.rglob("*.py"):
        name = path.relative_to(package).as_posix()
        if name in allowed:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and names & {a.name for a in node.names}:
                wrong.append(f"{name}:{node.lineno}")
            if not isinstance(node, ast.Call):
                continue
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            modes = [a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
            opens = called == "open" and any(set("wax+") & set(mode) for mode in modes if len(mode) <= 3)
            if called in names or opens:
                wrong.append(f"{name}:{node.lineno} calls {called}")
    assert wrong == []
