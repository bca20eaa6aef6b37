"""Saving: whole files or none, never over something that a person wrote or edited, never outside of what was named.

Everything that any command writes goes through here: documents and whatever an option names (`save_all`), a first draft for a
person to fill in (`save_new`), a page that a person and the program write together (`save_back`), and what the program itself
remembers in `.briefing/` (`keep_state`).
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import secrets
import stat
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from briefing.problems import Place, Problem, Stop
from briefing.sources.guard import is_ordinary, lies_in

STATE = Path(".briefing")
RECORD = STATE / "built.json"
# What is being written: where a build is killed half-way, the next one knows its own files by this and takes none for an edit.
WRITING = STATE / "writing.json"
What = Literal["written", "same", "beside"]
Why = Literal["", "edited", "not ours"]
# Whose half-written file it is: the machine, the process, something random.
_PART = re.compile(r"\.briefing-([0-9a-f]{6})-([0-9]{1,9})-[0-9a-f]{8}\.part")
# Our choice: after a day nobody is still writing it, whatever machine it was.
_OLD_S = 86_400
_MOST_BESIDE = 99


@dataclass(frozen=True)
class Saved:
    """What became of one file: `written`, `same` (nothing to do), or `beside`: `of` is a person's and stays, ours is `path`.

    `why` says of a file beside whether `of` was ours and is edited now, or was never known as ours.
    """

    path: Path
    what: What
    of: Path
    why: Why = ""


def save_all(
    files: Mapping[Path, bytes], folder: Path, within: Path | None = None, *, adopt: bool = False
) -> tuple[Saved, ...]:
    """Save files; each is whole or not there. The record of their sha256 sums is kept in a coach's folder.

    A file whose content is not what we last wrote is a person's: it stays, ours is written beside it as `name.new.ext`. Nothing is
    written outside of `within` (the coach's folder itself, unless a person named another), links followed. `adopt` takes a file that
    is to the byte what would be written for ours, as after the record was lost; captions of a person's can be that by chance.
    Raises Stop where a link leads out, OSError where the machine cannot write.
    """
    for path in files:
        _hold_inside(path, within or folder)
    for parent in {p.parent for p in files}:
        _clear(parent)
    record, begun = read_record(folder), read_record(folder, WRITING)
    keys = {path: _key(path, folder) for path in files}
    keep_state(WRITING, _json(begun | {keys[path]: _sum(c) for path, c in files.items()}), folder)
    saved, ours = [], {}
    for path, content in files.items():
        key, there = keys[path], _content_of(path)
        known = {record.get(key), begun.get(key), *(record.get(_key(p, folder)) for p in _names_beside(path, most=1))}
        if _is_there(path) and there != content and (there is None or _sum(there) not in known):
            beside = _beside(path, content, folder, record, begun)
            if _content_of(beside) != content:
                write_whole(beside, content)
            ours[_key(beside, folder)] = _sum(content)
            saved.append(Saved(beside, "beside", path, "edited" if key in record else "not ours"))
            continue
        if there == content:
            saved.append(Saved(path, "same", path))
        else:
            write_whole(path, content)
            saved.append(Saved(path, "written", path))
        if adopt or there != content or _sum(content) in known:
            ours[key] = _sum(content)
        ours |= dict.fromkeys(_clear_beside(path, folder, record), "")
    # Read again: another build may have written its own meanwhile.
    made = read_record(folder) | ours
    keep_state(RECORD, _json({key: one for key, one in made.items() if one}), folder)
    # What another video was about to write when it was killed stays known until that one is built.
    if left := {key: value for key, value in begun.items() if key not in set(keys.values())}:
        keep_state(WRITING, _json(left), folder)
    else:
        (folder / WRITING).unlink(missing_ok=True)
    return tuple(saved)


def save_new(files: Mapping[Path, bytes], within: Path) -> tuple[Saved, ...]:
    """Save files for a person to fill in, from then on theirs: what is there already is never touched (`same`)."""
    saved = []
    for path, content in files.items():
        _hold_inside(path, within)
        _clear(path.parent)
        there = _is_there(path)
        if not there:
            write_whole(path, content)
        saved.append(Saved(path, "same" if there else "written", path))
    return tuple(saved)


def save_back(path: Path, content: bytes, was: bytes | None, within: Path) -> Saved:
    """Save a page that a person writes in, too, made from what stood in it (`was`, None for a new one).

    Where it has changed since it was read, it stays, and ours is written beside it.
    """
    _hold_inside(path, within)
    _clear(path.parent)
    at = path.resolve() if path.is_symlink() else path
    if _content_of(at) != was or (was is None and _is_there(at)):
        beside = next(p for p in _names_beside(path) if not _is_there(p))
        write_whole(beside, content)
        return Saved(beside, "beside", path, "edited")
    if was == content:
        return Saved(path, "same", path)
    write_whole(at, content)
    return Saved(path, "written", path)


def room_of(named: Path, folder: Path) -> Path:
    """Give the room that what a person named may be written in: the coach's folder if it seems to lie there, else what was named.

    The record of what is written lies in that room, too: nothing is written into a folder that is only read from.
    """
    return folder if named.absolute().is_relative_to(folder.absolute()) else named


def keep_state(name: Path, content: bytes, folder: Path) -> None:
    """Keep what the program remembers of a coach's folder; `name` is a path below it that begins with `.briefing`."""
    path = folder / name
    _hold_inside(path, folder)
    _clear(path.parent)
    write_whole(path, content)


def kept_words(saved: Iterable[Saved]) -> tuple[str, ...]:
    """Say what was kept because it is a person's, a sentence each."""
    why = {"edited": "you edited {}", "not ours": "{} was there and is not known as one that was written here"}
    return tuple(f"{why[s.why].format(s.of)}: it stays, the new one is {s.path.name}" for s in saved if s.why)


def read_record(folder: Path, which: Path = RECORD) -> dict[str, str]:
    """Read which files we wrote, by path below the folder; an unreadable record counts as none."""
    try:
        found = json.loads((_content_of(folder / which) or b"{}").decode("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {str(k): str(v) for k, v in found.items()} if isinstance(found, dict) else {}


def write_whole(path: Path, content: bytes) -> None:
    """Write a file by way of another one in the same folder, so that nobody ever sees half of it. For this module alone.

    A file that is there keeps its permissions; a new one has those that the machine gives.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".briefing-{_machine()}-{os.getpid()}-{secrets.token_hex(4)}.part")
    try:
        with os.fdopen(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666), "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if is_ordinary(path):
            part.chmod(stat.S_IMODE(path.stat().st_mode))
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _hold_inside(path: Path, within: Path) -> None:
    """Raise Stop where a path names no file, or does not really lie where it seems to lie."""
    if path.name in {"", ".."}:
        message, suggestion = f'"{path}" is a folder; a file was expected', "the name of a file in it"
        place = Place(file=str(path), line=1)
        raise Stop([Problem(level="error", code="file-is-folder", message=message, suggestion=suggestion, place=place)])
    if lies_in(path.parent, within):
        return
    message = f'"{path.parent}" is a link that leads out of "{within}", and nothing outside of it is written'
    suggestion = "a folder in place of the link, or --into with the folder that it leads to"
    place = Place(file=str(path.parent), line=1)
    raise Stop([Problem(level="error", code="file-leads-out", message=message, suggestion=suggestion, place=place)])


def _clear(folder: Path) -> None:
    """Take away what builds that were killed left half-written: files of our own name alone, of processes that are gone."""
    try:
        found = [(entry, match) for entry in os.scandir(folder) if (match := _PART.fullmatch(entry.name))]
    except OSError:
        return
    for entry, (machine, process) in ((e, m.groups()) for e, m in found):
        try:
            old = time.time() - entry.stat(follow_symlinks=False).st_mtime > _OLD_S
            if old or (machine == _machine() and not _runs(int(process))):
                Path(entry.path).unlink(missing_ok=True)
        except OSError:
            continue


def _runs(process: int) -> bool:
    if os.name == "nt":
        # There, asking would be a signal: only its age says that nobody is writing it any more.
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


@cache
def _machine() -> str:
    name = os.uname().nodename if hasattr(os, "uname") else os.environ.get("COMPUTERNAME", "")
    return hashlib.sha256(os.fsencode(name)).hexdigest()[:6]


def _names_beside(path: Path, most: int = _MOST_BESIDE) -> Iterable[Path]:
    for number in range(1, most + 1):
        yield path.with_name(f"{path.stem}.new{f'-{number}' if number > 1 else ''}{path.suffix}")


def _beside(path: Path, content: bytes, folder: Path, record: Mapping[str, str], begun: Mapping[str, str]) -> Path:
    """Give the first name beside a file that is free, or holds what we wrote there: an edited `.new` is a person's, too."""
    for beside in _names_beside(path):
        there, key = _content_of(beside), _key(beside, folder)
        if not _is_there(beside) or there == content:
            return beside
        if there is not None and _sum(there) in {record.get(key), begun.get(key)}:
            return beside
    raise FileExistsError(17, "there are too many new versions beside this file", str(path))


def _clear_beside(path: Path, folder: Path, record: Mapping[str, str]) -> list[str]:
    """Take away new versions of ours beside a file that is up to date again; gives their keys."""
    gone = []
    for beside in _names_beside(path):
        key, there = _key(beside, folder), _content_of(beside)
        if key not in record:
            break
        if there is not None and _sum(there) == record[key]:
            beside.unlink(missing_ok=True)
        gone.append(key)
    return gone


def _is_there(path: Path) -> bool:
    return path.is_symlink() or path.exists()


def _content_of(path: Path) -> bytes | None:
    """Give what an ordinary file holds; None for a link, a folder, a pipe, or nothing."""
    return path.read_bytes() if not path.is_symlink() and is_ordinary(path) else None


def _json(record: Mapping[str, str]) -> bytes:
    return (json.dumps(record, indent=1, sort_keys=True) + "\n").encode()


def _key(path: Path, folder: Path) -> str:
    """Give the name in the record: below the folder, or the whole path; the same however the path was spelled."""
    real, home = path.parent.resolve() / path.name, folder.resolve()
    return real.relative_to(home).as_posix() if real.is_relative_to(home) else real.as_posix()


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
