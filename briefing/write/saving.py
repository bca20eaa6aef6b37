"""Saving: whole files or none, and never over something that a person edited."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

RECORD = Path(".briefing") / "built.json"
# What is being written: where a build is killed half-way, the next one knows its own files by this and takes none for an edit.
WRITING = Path(".briefing") / "writing.json"
What = Literal["written", "same", "beside"]


@dataclass(frozen=True)
class Saved:
    """What became of one file: `written`, `same` (nothing to do), or `beside` (a person edited it; ours has another name)."""

    path: Path
    what: What


def save_all(files: Mapping[Path, bytes], folder: Path) -> tuple[Saved, ...]:
    """Save files below a coach's folder; each is whole or not there, the record of sha256 sums is kept beside them.

    A file whose content is not what we last wrote was edited by a person: it stays, ours is written beside it as
    `name.new.ext`. Raises OSError where the machine cannot write.
    """
    record = read_record(folder)
    begun = read_record(folder, WRITING)
    write_whole(folder / WRITING, _json(begun | {_key(path, folder): _sum(c) for path, c in files.items()}))
    saved = []
    for path, content in files.items():
        key = _key(path, folder)
        there = path.read_bytes() if path.is_file() else None
        if there is not None and there != content and _sum(there) not in {record.get(key), begun.get(key)}:
            beside = path.with_name(f"{path.stem}.new{path.suffix}")
            write_whole(beside, content)
            saved.append(Saved(beside, "beside"))
            continue
        if there == content:
            saved.append(Saved(path, "same"))
        else:
            write_whole(path, content)
            saved.append(Saved(path, "written"))
        record[key] = _sum(content)
    write_whole(folder / RECORD, _json(record))
    # What another video was about to write when it was killed stays known until that one is built.
    if left := {key: value for key, value in begun.items() if key not in {_key(p, folder) for p in files}}:
        write_whole(folder / WRITING, _json(left))
    else:
        (folder / WRITING).unlink(missing_ok=True)
    return tuple(saved)


def read_record(folder: Path, which: Path = RECORD) -> dict[str, str]:
    """Read which files we wrote, by path below the folder; an unreadable record counts as none."""
    try:
        found = json.loads((folder / which).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(k): str(v) for k, v in found.items()} if isinstance(found, dict) else {}


def write_whole(path: Path, content: bytes) -> None:
    """Write a file by way of a temporary one in the same folder, so that nobody ever sees half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".briefing-", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _json(record: Mapping[str, str]) -> bytes:
    return (json.dumps(record, indent=1, sort_keys=True) + "\n").encode()


def _key(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix() if path.is_relative_to(folder) else path.as_posix()


def _sum(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
