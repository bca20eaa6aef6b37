"""Where files are found: the coach's own beside their workouts first, then the built-in ones."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from briefing.problems import Place, Problem, plain
from briefing.sources.guard import is_text, lies_in, refused_in

Shelf = Literal["movements", "templates"]


def built_in(shelf: Shelf) -> Path:
    """Give the built-in folder: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "data" / shelf
    return installed if installed.is_dir() else package.parent / shelf


def demo_folder() -> Path:
    """Give the folder with the demo series, which travels inside the package."""
    return Path(__file__).resolve().parent.parent / "demo"


def shelves(beside: Path | None, shelf: Shelf) -> tuple[Path, ...]:
    """Give the folders to look in, the coach's own (`beside`/movements) first; only those that exist.

    A folder that is a link which leads out of the coach's folder is not looked into (`shelf_problems` says so).
    """
    own = (
        []
        if beside is None or not (beside / shelf).is_dir() or not lies_in(beside / shelf, beside)
        else [beside / shelf]
    )
    return (*own, built_in(shelf))


def shelf_problems(beside: Path, shelf: Shelf) -> tuple[Problem, ...]:
    """Name what is not read in the coach's own folder of movements or templates.

    Problems (warnings): `file-leads-out` (a link that leads out of the coach's folder), `file-unreadable` (a pipe, a device, a lost link).
    """
    folder = beside / shelf
    if not folder.is_dir():
        return ()
    if not lies_in(folder, beside):
        message = f'the folder "{shelf}" is a link that leads out of this folder; nothing in it is read'
        suggestion = f'a folder "{shelf}" of its own, with copies of the files'
        place = Place(file=shelf, line=1)
        return (Problem(level="warning", code="file-leads-out", message=message, suggestion=suggestion, place=place),)
    return _refused(folder, f"{shelf}/")


def refused_pages(folder: Path) -> tuple[Problem, ...]:
    """Name the pages of a coach's folder itself that are not read (warnings, as in `shelf_problems`)."""
    return _refused(folder, "", ".md")


def _refused(folder: Path, shown_in: str, ending: str = "") -> tuple[Problem, ...]:
    out = []
    for path in refused_in(folder):
        if not path.name.endswith(ending):
            continue
        name, code = plain(f"{shown_in}{path.name}"), "file-unreadable"
        what, suggestion = "not an ordinary file", "an ordinary file in its place"
        if not is_text(path.name):
            what, suggestion = "a name that is no text here", "another name for this file"
        elif path.is_symlink():
            what, code, suggestion = (
                "a link that leads nowhere, or out of this folder",
                "file-leads-out",
                "the file itself in its place",
            )
        message, place = f'"{name}" is {what}; it is not read', Place(file=name, line=1)
        out.append(Problem(level="warning", code=code, message=message, suggestion=suggestion, place=place))
    return tuple(out)
