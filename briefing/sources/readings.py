"""Readings kept on the disk: what a text was read as, so that the same text is not read again by the next command.

A reading counts only with the fingerprint of all that it was made from: the text itself, the program's own files and the
libraries that read it. So a changed text is always read anew, whatever the size and the time of its file. What is kept is
JSON in the user's cache folder; where that cannot be written, or holds something else, everything is read as if there were none.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from functools import cache
from importlib.util import find_spec
from pathlib import Path

# A reading depends on how these read a text and check a value.
_READ_BY = ("markdown_it", "pydantic", "ruamel.yaml")


def recall(name: str, made_from: str) -> bytes | None:
    """Give the reading that is kept under a name; None where there is none, or where it was made from something else.

    `made_from` is everything that the reading depends on, as text, except the program itself.
    """
    folder = _folder()
    if folder is None:
        return None
    try:
        head, _, reading = (folder / f"{name}.json").read_bytes().partition(b"\n")
    except OSError:
        return None
    return reading if head == _sum(made_from, reading) else None


def keep(name: str, made_from: str, reading: bytes) -> None:
    """Keep a reading under a name, in place of the one before. Where the machine cannot write, nothing is kept."""
    folder = _folder()
    if folder is None:
        return
    part = None
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, part = tempfile.mkstemp(dir=folder, suffix=".part")
        with os.fdopen(handle, "wb") as stream:
            stream.write(_sum(made_from, reading) + b"\n" + reading)
        Path(part).replace(folder / f"{name}.json")
    except OSError:
        if part is not None:
            Path(part).unlink(missing_ok=True)


def name_for(path: Path) -> str:
    """Give the name under which a file's reading is kept: one for each file, so that the cache grows no larger than the shelf."""
    folder, _, stem = str(path.absolute()).removesuffix(".md").rpartition(os.sep)
    plain = "".join(c if c.isalnum() and c.isascii() else "-" for c in stem)[:60]
    return f"{plain}-{hashlib.sha256(os.fsencode(f'{folder}{os.sep}{stem}')).hexdigest()[:12]}"


def _folder() -> Path | None:
    """Give the cache folder by the XDG Base Directory Specification; None for somebody without a home."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    if Path(named).is_absolute():
        return Path(named) / "briefing"
    try:
        return Path.home() / ".cache" / "briefing"
    except RuntimeError:
        return None


def _sum(made_from: str, reading: bytes) -> bytes:
    """Give one fingerprint of what a reading was made from, the program, and the reading itself, so that half a file is seen."""
    made = hashlib.sha256(_program())
    made.update(made_from.encode())
    made.update(hashlib.sha256(reading).digest())
    return made.hexdigest().encode()


@cache
def _program() -> bytes:
    """Give where the program and the libraries lie, with the size and the time of their files: another version reads anew."""
    package = Path(__file__).resolve().parent.parent
    origins = [(spec := find_spec(name)) and spec.origin for name in _READ_BY]
    rooms = [str(package), *(entry.path for entry in os.scandir(package) if entry.is_dir())]
    files = [entry.path for room in rooms for entry in os.scandir(room) if entry.name.endswith(".py")]
    stats = [(path, os.stat(path)) for path in sorted({*files, *(o for o in origins if o)})]  # noqa: PTH116 - a hundred files
    return "\n".join(f"{path} {stat.st_size} {stat.st_mtime_ns}" for path, stat in stats).encode()
