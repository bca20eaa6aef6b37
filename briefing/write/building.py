"""Building: all documents of a briefing in memory first, then on the disk, so that a workout is whole or untouched."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from briefing.settings.models import VideoKind
from briefing.write.documents import DOCUMENTS, Document, Given, write_document


def documents_named(keys: Iterable[str], kind: VideoKind = "briefing") -> tuple[Document, ...]:
    """Give the documents of a kind of video with these keys, all of them for none; in the table's order."""
    wanted = set(keys)
    return tuple(d for d in DOCUMENTS if kind in d.kinds and (not wanted or d.key in wanted))


def write_documents(given: Given, documents: Iterable[Document], into: Path) -> dict[Path, bytes]:
    """Write documents in all their forms; gives the content for each path below `into`.

    Raises Stop where a template has a slip.
    """
    return {into / f"{d.key}.{form}": write_document(d, form, given) for d in documents for form in d.forms}
