"""Recorded is frozen: what was said in a recorded video is kept, and held against what would be said now."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from briefing.outline.models import Outline
from briefing.problems import Model, Place, Problem
from briefing.sources.guard import is_ordinary

FOLDER = Path(".briefing") / "recorded"
# What each video said when it was last built: where `recorded:` is set later, together with a change, it is this that was filmed.
SAID = Path(".briefing") / "said"


class Recorded(Model):
    """What a recorded video says: its lines by id, the segment of each, the videos it refers to, its number in the series."""

    lines: dict[str, str]
    segments: dict[str, str]
    refers: tuple[str, ...] = ()
    number: str | None = None


def freeze(outline: Outline, refers: Iterable[str]) -> Recorded:
    """Keep what an outline says."""
    lines = {line.id: line.text for line in outline.lines}
    segments = {line.id: s.title for s in outline.segments for line in s.lines}
    return Recorded(lines=lines, segments=segments, refers=tuple(sorted(set(refers))), number=outline.video)


def recorded_file(key: str) -> Path:
    """Give where the words of a recorded video are kept, below the coach's folder."""
    return FOLDER / f"{key}.json"


def said_file(key: str) -> Path:
    """Give where the words of the last build of a video are kept, below the coach's folder."""
    return SAID / f"{key}.json"


def kept_words(folder: Path, key: str) -> Recorded | None:
    """Give what a recorded video says: what was frozen, else what it said when it was last built; None where neither is known."""
    if is_ordinary(folder / recorded_file(key)):
        return read_recorded(folder / recorded_file(key))
    return read_recorded(folder / said_file(key))


def read_recorded(path: Path) -> Recorded | None:
    """Read what was kept; None where nothing usable was."""
    try:
        kept = Recorded.model_validate_json(path.read_bytes()) if is_ordinary(path) else None
    except (OSError, ValueError):
        return None
    return kept if kept is not None and kept.segments.keys() == kept.lines.keys() else None


def write_recorded(recorded: Recorded) -> bytes:
    """Write what is kept, as a file that people can read."""
    return (json.dumps(recorded.model_dump(mode="json"), ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode()


def unknown(key: str, place: Place) -> Problem:
    """Say that what a recorded video said is not known (warning `recorded-unknown`)."""
    message = (
        f'"{key}" is recorded, and what it said then was not kept, or cannot be read; its documents stay as they are'
    )
    suggestion = "the line without recorded, and a build, if the documents may be written anew"
    return Problem(level="warning", code="recorded-unknown", message=message, suggestion=suggestion, place=place)


def since(recorded: Recorded, now: Recorded, titles: Iterable[str], place: Place) -> list[Problem]:
    """Say what has changed since a video was recorded, and which segments would have to be recorded again.

    Problems (warnings): `recorded-words` (lines whose words have changed, with their segments), `recorded-refers` (a video it
    names is not in the series any more).
    """
    out = []
    changed = [i for i, text in recorded.lines.items() if i in now.lines and now.lines[i] != text]
    new = [i for i in now.lines if i not in recorded.lines]
    gone = [i for i in recorded.lines if i not in now.lines]
    if changed or new or gone:
        segments = dict.fromkeys(now.segments.get(i) or recorded.segments[i] for i in (*changed, *new, *gone))
        example = changed[0] if changed else (new or gone)[0]
        counts = ", ".join(f"{len(x)} {word}" for x, word in ((changed, "changed"), (new, "new"), (gone, "gone")) if x)
        lines = "line" if len(changed) + len(new) + len(gone) == 1 else "lines"
        said = recorded.lines.get(example) or now.lines.get(example, "")
        out.append(
            Problem(
                level="warning",
                code="recorded-words",
                message=f'this video is recorded, and its words are others now ({counts} {lines}), such as "{said[:60]}"',
                suggestion=f"record again: {', '.join(segments)}",
                place=place,
            )
        )
    known = set(titles)
    for title in recorded.refers:
        if title not in known:
            message = f'this video is recorded, and it speaks of "{title}", which is not in the series any more'
            out.append(Problem(level="warning", code="recorded-refers", message=message, suggestion=None, place=place))
    return out
