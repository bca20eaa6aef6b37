"""Nothing outside a coach's folder is read or written: where a path really lies, links followed.

A folder may come from somebody else, with a link in it that leads to a file of the person who builds it. The commands and the
page that shows a folder share this guard.
"""

from __future__ import annotations

import stat
from collections.abc import Iterator
from pathlib import Path

from briefing.problems import unprintable

# Where the coach's own movements and templates lie: a link in one of these may lead to any file of the coach's folder.
SHELVES = ("movements", "templates")


def lies_in(path: Path, folder: Path) -> bool:
    """Say whether a path, which need not be there, really lies in a folder: links are followed, `..` counts."""
    try:
        return path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        return False


def leads_out(path: Path) -> bool:
    """Say whether a file is a link that leads out of the coach's folder: the one it stands in, or the one above its shelf."""
    if not path.is_symlink():
        return False
    parent = path.absolute().parent
    return not lies_in(path, parent.parent if parent.name in SHELVES else parent)


def pages_in(folder: Path, pattern: str = "*.md") -> Iterator[Path]:
    """Give the files of a folder in order: ordinary ones with a name that is text, and none that is a link which leads out."""
    for path in sorted(folder.glob(pattern)):
        if is_text(path.name) and is_ordinary(path) and not leads_out(path):
            yield path


def refused_in(folder: Path) -> Iterator[Path]:
    """Give what `pages_in` leaves out: links that lead out, pipes, devices, lost links, names that are no text."""
    for path in sorted(folder.glob("*")):
        if not is_text(path.name) or leads_out(path) or not (is_ordinary(path) or path.is_dir()):
            yield path


def is_text(name: str) -> bool:
    """Say whether a name can be read: file systems hold any bytes, and some are no text, or steer a terminal."""
    return not unprintable(name) and "\n" not in name


def is_ordinary(path: Path) -> bool:
    """Say whether a path is an ordinary file: reading from a pipe or a device might never end."""
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except (OSError, ValueError):
        return False
