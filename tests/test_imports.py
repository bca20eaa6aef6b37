"""The house: a module imports from rooms to its left, never to its right; imports inside functions count too."""

from __future__ import annotations

import ast
from pathlib import Path

import briefing

PACKAGE = Path(briefing.__file__).parent
# From left to right. A room may import from rooms before it and from itself.
ORDER = (
    ("problems", "units", "codes"),
    ("sources",),
    ("settings",),
    ("library",),
    ("board",),
    ("clock",),
    ("speech",),
    ("telling",),
    ("outline",),
    ("check",),
    ("write",),
    ("series",),
    ("take",),
    ("pipeline",),
    ("cli",),
)
RANK = {room: rank for rank, rooms in enumerate(ORDER) for room in rooms}


def _room(module: str) -> str:
    return module.split(".")[1] if module.count(".") else ""


def test_every_room_has_its_place() -> None:
    rooms = {
        p.stem if p.is_file() else p.name
        for p in PACKAGE.iterdir()
        if p.suffix == ".py" or (p.is_dir() and (p / "__init__.py").is_file())
    }
    assert rooms - {"__init__", "__main__"} <= set(RANK), rooms - set(RANK)


def test_imports_go_one_way() -> None:
    wrong = []
    for path in PACKAGE.rglob("*.py"):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        here = parts[0]
        if here in {"__init__", "__main__", "data"}:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = (
                [a.name for a in node.names]
                if isinstance(node, ast.Import)
                else [node.module or ""]
                if isinstance(node, ast.ImportFrom)
                else []
            )
            for name in names:
                room = _room(name) if name.startswith("briefing") else ""
                if room and RANK[room] > RANK[here]:
                    wrong.append(f"{path.relative_to(PACKAGE)}:{getattr(node, 'lineno', 0)} imports {name}")
    assert wrong == []


def test_no_room_is_called_by_what_it_is_not() -> None:
    names = {p.stem for p in PACKAGE.rglob("*.py")} | {p.name for p in PACKAGE.rglob("*") if p.is_dir()}
    assert not names & {"utils", "helpers", "common", "misc", "base", "manager"}
