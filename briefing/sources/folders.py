"""Where files are found: the coach's own beside their workouts first, then the built-in ones."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

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
    """Give the folders to look in, the coach's own (`beside`/movements) first; only those that exist."""
    own = [beside / shelf] if beside is not None and (beside / shelf).is_dir() else []
    return (*own, built_in(shelf))
