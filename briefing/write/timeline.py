"""The picture of the timeline: each segment a bar as wide as it is long, with its start; the promise as a line."""

from __future__ import annotations

from html import escape

from briefing.outline.models import Outline
from briefing.units import write_clock
from briefing.write import palette

_WIDTH, _ROW, _LEFT, _RIGHT = 980, 30, 270, 70


def timeline_svg(outline: Outline) -> str:
    """Draw the timeline as SVG, one row a segment, readable without colour; a title and a description for screen readers."""
    promised = outline.length.seconds * 10 if outline.length else 0
    whole = max(outline.tenths, promised, 1)
    scale = (_WIDTH - _LEFT - _RIGHT) / whole
    height = _ROW * len(outline.segments) + 46
    out = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img" '
            f'aria-label="{escape(_words(outline), quote=True)}" font-family="system-ui, sans-serif" font-size="14">'
        )
    ]
    lengths: list[str] = []
    for at, segment in enumerate(outline.segments):
        y = 8 + at * _ROW
        x = _LEFT + segment.start_tenths * scale
        width = max(2.0, segment.tenths * scale)
        must = sum(line.tenths for line in segment.lines if line.must) * scale
        out.append(
            f'<text x="{_LEFT - 62}" y="{y + 16}" text-anchor="end" fill="{palette.INK}">{escape(_cut(segment.title))}</text>'
        )
        out.append(
            f'<text x="{_LEFT - 12}" y="{y + 16}" text-anchor="end" fill="{palette.QUIET}">{write_clock(segment.start_tenths / 10)}</text>'
        )
        out.append(
            f'<rect x="{x:.1f}" y="{y}" width="{width:.1f}" height="{_ROW - 8}" fill="{palette.ACCENT_SOFT}" stroke="{palette.ACCENT}"/>'
        )
        if must >= 1:
            out.append(f'<rect x="{x:.1f}" y="{y}" width="{must:.1f}" height="{_ROW - 8}" fill="{palette.ACCENT}"/>')
        # Set last and on paper of their own: the line of the promise may go through them.
        lengths.append(
            f'<text x="{x + width + 6:.1f}" y="{y + 16}" fill="{palette.INK}" stroke="{palette.PAPER}" stroke-width="5" '
            f'paint-order="stroke">{write_clock(segment.tenths / 10)}</text>'
        )
    bottom = 8 + len(outline.segments) * _ROW
    step = 60 if whole <= 12 * 600 else 120
    for second in range(0, whole // 10 + 1, step):
        x = _LEFT + second * 10 * scale
        out.append(
            f'<line x1="{x:.1f}" x2="{x:.1f}" y1="4" y2="{bottom}" stroke="{palette.LINE}" stroke-dasharray="2 4"/>'
        )
        out.append(
            f'<text x="{x:.1f}" y="{bottom + 18}" text-anchor="middle" fill="{palette.QUIET}" font-size="12">{write_clock(second)}</text>'
        )
    if promised:
        x = _LEFT + promised * scale
        out.append(
            f'<line x1="{x:.1f}" x2="{x:.1f}" y1="2" y2="{bottom + 4}" stroke="{palette.WARN}" stroke-width="2"/>'
        )
        words = f"promised {write_clock(promised / 10)}"
        out.append(
            f'<text x="{x:.1f}" y="{bottom + 34}" text-anchor="end" fill="{palette.WARN}" font-size="12">{words}</text>'
        )
    out += [*lengths, "</svg>"]
    return "\n".join(out)


def _words(outline: Outline) -> str:
    rows = ", ".join(f"{s.title} at {write_clock(s.start_tenths / 10)}" for s in outline.segments)
    return f"Timeline of {write_clock(outline.tenths / 10)}: {rows}"


def _cut(title: str, most: int = 26) -> str:
    return title if len(title) <= most else title[: most - 1].rstrip() + "…"
