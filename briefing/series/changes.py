"""What a video was built from, and why it has to be built again: a fingerprint of everything that goes into it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import Path

RECORD = Path(".briefing") / "inputs.json"

# What an input is called when it has changed: the part of its name before the colon, in words.
_WORDS = {
    "workout": "the workout",
    "workout of": "workout",
    "series": "the series",
    "movement": "movement",
    "template": "template",
    "taught": "what the series teaches before it",
    "program": "the program",
    "pace": "your speaking pace",
    "wish": "what was asked for",
}


def sum_of(content: bytes | str) -> str:
    """Give a short fingerprint of some content."""
    return hashlib.sha256(content.encode() if isinstance(content, str) else content).hexdigest()[:20]


def sums_of_files(kind: str, paths: Iterable[Path]) -> dict[str, str]:
    """Give the fingerprints of files, named `kind: file name`; a file that is not there is left out."""
    out = {}
    for path in paths:
        try:
            out[f"{kind}: {path.stem}"] = sum_of(path.read_bytes())
        except OSError:
            continue
    return out


def why_again(before: Mapping[str, str] | None, now: Mapping[str, str]) -> str | None:
    """Say why a video has to be built again: "movement goblet squat changed"; None where nothing has changed."""
    if before is None:
        return "not built before"
    changed = [k for k in now if before.get(k) != now[k]]
    changed += [k for k in before if k not in now and not k.startswith("row ")]
    if not changed:
        return None
    words = []
    for name in sorted(set(changed)):
        kind, _, rest = name.partition(": ")
        said = _WORDS.get(kind, kind)
        words.append(
            f"{said} {rest.replace('-', ' ')} changed"
            if rest and kind in {"movement", "template", "workout of"}
            else f"{said} changed"
        )
    return ", ".join(dict.fromkeys(words))


def read_inputs(folder: Path) -> dict[str, dict[str, str]]:
    """Read what each video was built from the last time; an unreadable record counts as none."""
    try:
        found = json.loads((folder / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(found, dict):
        return {}
    return {str(k): {str(a): str(b) for a, b in v.items()} for k, v in found.items() if isinstance(v, dict)}


def write_inputs(inputs: Mapping[str, Mapping[str, str]]) -> bytes:
    """Write the record of what each video was built from."""
    return (json.dumps(inputs, indent=1, sort_keys=True) + "\n").encode()
