"""Chapters of a video as WebVTT: one cue a segment, contiguous, in the form that players read (W3C WebVTT, chapter cues)."""

from __future__ import annotations

from collections.abc import Sequence

from briefing.outline.models import Outline


def chapters_vtt(outline: Outline) -> str:
    """Write the chapters of the plan; a segment of no length would be no cue, and there is none."""
    return write_chapters(
        [(s.start_tenths * 100, (s.start_tenths + s.tenths) * 100, s.title) for s in outline.segments]
    )


def write_chapters(chapters: Sequence[tuple[int, int, str]]) -> str:
    """Write chapters given as (start, end, title), times in whole milliseconds.

    Titles stay on one line; `&`, `<` and `>` are escaped, and so is `-->`, which a cue must not hold.
    """
    cues = [
        f"{number}\n{vtt_time(start)} --> {vtt_time(end)}\n{_text(title)}\n"
        for number, (start, end, title) in enumerate(chapters, 1)
    ]
    return "WEBVTT\n\n" + "\n".join(cues)


def vtt_time(ms: int) -> str:
    """Write a time as `HH:MM:SS.mmm`; a hundred hours are legal."""
    seconds, rest = divmod(ms, 1000)
    minutes, secs = divmod(seconds, 60)
    hours, mins = divmod(minutes, 60)
    return f"{hours:02d}:{mins:02d}:{secs:02d}.{rest:03d}"


def chapter_clock(tenths: int) -> str:
    """Write a chapter's start as video sites read it: `0:00`, rounded down so that no title comes late."""
    minutes, seconds = divmod(tenths // 10, 60)
    return f"{minutes}:{seconds:02d}"


def _text(title: str) -> str:
    return " ".join(title.split()).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
