"""The picture of a workout on the clock: one row a person, work, rests and what is forced in, as SVG and as text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from itertools import groupby

from briefing.clock.simulate import Event, Run
from briefing.library.models import Movement
from briefing.units import write_clock
from briefing.write import palette

_WIDTH, _LEFT, _RIGHT, _ROW = 980, 90, 60, 44
# Told apart by height and fill pattern as well as by colour: work fills the row, an interrupt stands out above it.
_HEIGHTS = {
    "work": (10, 24),
    "interrupt": (2, 32),
    "rest": (20, 6),
    "break": (18, 10),
    "change": (20, 6),
    "idle": (20, 6),
}


def clock_svg(runs: Sequence[Run], movements: Mapping[str, Movement], title: str) -> str:
    """Draw the runs of several people, one row each, on a common clock."""
    whole = max((r.end_s for r in runs), default=1.0) or 1.0
    scale = (_WIDTH - _LEFT - _RIGHT) / whole
    height = _ROW * len(runs) + 64
    words = "; ".join(f"{r.person} done at {write_clock(r.end_s)}" for r in runs)
    out = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img" '
            f'aria-label="{escape(f"{title}: {words}", quote=True)}" font-family="system-ui, sans-serif" font-size="13">'
        ),
        f'<rect width="{_WIDTH}" height="{height}" fill="{palette.PAPER}"/>',
    ]
    shades = _shades(runs)
    for row, run in enumerate(runs):
        y = 8 + row * _ROW
        out.append(f'<text x="{_LEFT - 12}" y="{y + 26}" text-anchor="end" fill="{palette.INK}">{run.person}</text>')
        for event in _joined(run.events):
            top, tall = _HEIGHTS[event.kind]
            x, width = _LEFT + event.start_s * scale, max(0.4, (event.end_s - event.start_s) * scale)
            fill = palette.WARN if event.kind == "interrupt" else shades.get(event.movement, palette.LINE)
            name = movements[event.movement].name if event.movement in movements else event.kind
            label = f"<title>{escape(name)} {write_clock(event.start_s)} to {write_clock(event.end_s)}</title>"
            out.append(
                f'<rect x="{x:.1f}" y="{y + top}" width="{width:.1f}" height="{tall}" fill="{fill}">{label}</rect>'
            )
        out.append(
            f'<text x="{_LEFT + run.end_s * scale + 6:.1f}" y="{y + 26}" fill="{palette.INK}">{write_clock(run.end_s)}</text>'
        )
    bottom = 8 + _ROW * len(runs)
    step = next(s for s in (30, 60, 120, 300, 600, 1800, 3600, 86400) if whole / s <= 14)
    for second in range(0, int(whole) + 1, step):
        x = _LEFT + second * scale
        out.append(
            f'<text x="{x:.1f}" y="{bottom + 14}" text-anchor="middle" fill="{palette.QUIET}">{write_clock(second)}</text>'
        )
    x = float(_LEFT)
    for slug, shade in shades.items():
        name = movements[slug].name if slug in movements else slug
        out.append(f'<rect x="{x:.0f}" y="{bottom + 26}" width="14" height="14" fill="{shade}"/>')
        out.append(f'<text x="{x + 20:.0f}" y="{bottom + 38}" fill="{palette.INK}">{escape(name)}</text>')
        x += 34 + 7.2 * len(name)
    if any(e.kind == "interrupt" for r in runs for e in r.events):
        out.append(f'<rect x="{x:.0f}" y="{bottom + 22}" width="8" height="22" fill="{palette.WARN}"/>')
        out.append(f'<text x="{x + 14:.0f}" y="{bottom + 38}" fill="{palette.INK}">forced in</text>')
    out.append("</svg>")
    return "\n".join(out) + "\n"


def clock_text(run: Run, width: int = 60) -> str:
    """Draw one person's run in a line of text: `=` work, `!` forced in, `.` rest, change and break."""
    whole = run.end_s or 1.0
    marks = {"work": "=", "interrupt": "!"}
    out = []
    for cell in range(width):
        start, end = cell * whole / width, (cell + 1) * whole / width
        inside = [
            (min(e.end_s, end) - max(e.start_s, start), e.kind)
            for e in run.events
            if e.end_s > start and e.start_s < end
        ]
        forced = sum(s for s, kind in inside if kind == "interrupt")
        kind = "interrupt" if forced > 0.25 * (end - start) else max(inside, default=(0.0, "idle"))[1]
        out.append(marks.get(kind, "."))
    return "".join(out)


def _shades(runs: Sequence[Run]) -> dict[str, str]:
    """Give each movement its shade, in the order of its first repetition; four shades that also differ in lightness."""
    shades = (palette.ACCENT, "#5d8f87", "#9dbdb6", "#33443f")
    slugs = dict.fromkeys(e.movement for r in runs for e in r.events if e.kind == "work" and e.movement)
    return {slug: shades[i % len(shades)] for i, slug in enumerate(slugs)}


def _joined(events: Sequence[Event]) -> list[Event]:
    """Put neighbouring stretches of one kind and movement together."""
    out = []
    for _, group in groupby(events, key=lambda e: (e.kind, e.movement, e.part)):
        found = list(group)
        out.append(found[0]._replace(end_s=found[-1].end_s))
    return out
