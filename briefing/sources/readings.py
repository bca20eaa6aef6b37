"""Readings kept on the disk: what a text was read as, so that the same text is not read again by the next command.

A reading counts only with the fingerprint of all that it was made from: the text itself, the program's own files and the
libraries that read it. So a changed text is always read anew, whatever the size and the time of its file. What is kept is
JSON in the user's cache folder (at most 50 MB, and nothing that was not used for ninety days); where that cannot be written, or holds
something else, everything is read as if there were none.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
import time
from functools import cache
from importlib.util import find_spec
from pathlib import Path

# Our choice: a season's pause is no reason to read everything again, and a year's folder of movements has some 5 MB.
KEEP_DAYS = 90
MOST_BYTES = 50_000_000
_DAY_S = 86_400
# A reading depends on how these read a text and check a value.
_READ_BY = ("markdown_it", "pydantic", "ruamel.yaml")


def recall(name: str, made_from: str) -> bytes | None:
    """Give the reading that is kept under a name; None where there is none, or where it was made from something else.

    `made_from` is everything that the reading depends on, as text, except the program itself.
    """
    folder = _folder()
    if folder is None:
        return None
    path = folder / f"{name}.json"
    try:
        head, _, reading = path.read_bytes().partition(b"\n")
        if time.time() - path.stat().st_mtime > _DAY_S:
            # It is used: its time is the last day on which it was.
            os.utime(path)
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
        _forget_now_and_then(folder, len(reading))
    except OSError:
        if part is not None:
            Path(part).unlink(missing_ok=True)


# Since the cache was last looked through, by this process: so many bytes were kept; None where it has not been yet.
_since: list[int] = []


def _forget_now_and_then(folder: Path, kept: int) -> None:
    """Look through the cache with the first reading that a process keeps, then whenever a tenth of what it may hold is new."""
    if not _since or _since[0] + kept > MOST_BYTES // 10:
        _since[:] = [0]
        forget(folder, time.time())
    else:
        _since[0] += kept


def forget(folder: Path, now_s: float) -> None:
    """Take away what nobody has used for `KEEP_DAYS`, then what was used longest ago, until no more than `MOST_BYTES` are left.

    Only files of the names that are written here: readings, and what a process that was killed left half-written. Raises OSError
    where the folder cannot be read.
    """
    found = []
    for entry in os.scandir(folder):
        if not entry.name.endswith((".json", ".part")) or not entry.is_file(follow_symlinks=False):
            continue
        stat = entry.stat(follow_symlinks=False)
        age_s = now_s - stat.st_mtime
        if age_s > (_DAY_S if entry.name.endswith(".part") else KEEP_DAYS * _DAY_S):
            Path(entry.path).unlink(missing_ok=True)
        else:
            found.append((age_s, stat.st_size, entry.path))
    size = sum(one for _, one, _ in found)
    for _, one, path in sorted(found, reverse=True):
        if size <= MOST_BYTES:
            return
        Path(path).unlink(missing_ok=True)
        size -= one


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
