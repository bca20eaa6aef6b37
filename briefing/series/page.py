"""The series at a glance as text and as a page, with its table as a picture."""

from __future__ import annotations

from html import escape

from briefing.series.overview import Overview
from briefing.telling.kit import kit_card
from briefing.units import write_clock
from briefing.write import palette
from briefing.write.documents import page_html
from briefing.write.markdown import as_html
from briefing.write.templates import Templates, escape_markdown

_LEFT, _CELL, _ROW, _TOP = 240, 46, 26, 150
# A cell is told by its shape: full is a filled square, a recap a framed one, a name a line, an option a small ring.
_SHAPES = {
    "full": '<rect x="{x}" y="{y}" width="18" height="18" fill="{ink}"/>',
    "recap": '<rect x="{x}" y="{y}" width="18" height="18" fill="none" stroke="{ink}" stroke-width="2"/>',
    "name": '<line x1="{x}" x2="{x2}" y1="{my}" y2="{my}" stroke="{ink}" stroke-width="3"/>',
    "option": '<circle cx="{mx}" cy="{my}" r="5" fill="none" stroke="{ink}" stroke-width="2"/>',
}


def overview_text(made: Overview) -> list[str]:
    """Give the table and what follows from it as lines for the terminal."""
    width = max([8, *(len(name) for name, _ in made.rows)])
    columns = [v[:14] for v in made.videos]
    out = [made.title, "", " " * width + "  " + "  ".join(f"{c:<14}" for c in columns)]
    out += [f"{name:<{width}}  " + "  ".join(f"{cell:<14}" for cell in cells) for name, cells in made.rows]
    out += ["", *_facts(made)]
    return [line.rstrip() for line in out]


def overview_html(made: Overview, templates: Templates) -> bytes:
    """Write the page. Raises Stop where the page's template has a slip."""
    head = ["", *(escape_markdown(v) for v in made.videos)]
    lines = [
        f"# {escape_markdown(made.title)}",
        "",
        "| " + " | ".join(head) + " |",
        "| " + " | ".join("---" for _ in head) + " |",
    ]
    lines += [
        "| " + " | ".join([escape_markdown(name), *(c or "–" for c in cells)]) + " |" for name, cells in made.rows
    ]
    lines += ["", *(f"- {escape_markdown(x)}" for x in _facts(made))]
    body = (
        as_html("\n".join(lines))
        .replace("<table>", '<div class="scroll"><table>')
        .replace("</table>", "</table></div>")
    )
    first, _, rest = body.partition("</h1>")
    return page_html(
        templates, "Series", made.title, f'{first}</h1>\n<div class="scroll">{overview_svg(made)}</div>{rest}'
    )


def overview_svg(made: Overview) -> str:
    """Draw the table: a row a movement, a column a briefing, a shape for how it is taught."""
    width = _LEFT + _CELL * max(1, len(made.videos)) + 120
    height = _TOP + _ROW * len(made.rows) + 46
    words = "; ".join(f"{name}: {', '.join(c or 'not at all' for c in cells)}" for name, cells in made.rows)
    out = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" style="max-width:{width}px" '
            f'aria-label="{escape(words, quote=True)}" font-family="system-ui, sans-serif" font-size="13">'
        )
    ]
    for column, video in enumerate(made.videos):
        x = _LEFT + column * _CELL + 12
        out.append(
            f'<text transform="translate({x},{_TOP - 12}) rotate(-55)" fill="{palette.INK}">{escape(video)}</text>'
        )
    for row, (name, cells) in enumerate(made.rows):
        y = _TOP + row * _ROW
        out.append(f'<text x="{_LEFT - 12}" y="{y + 14}" text-anchor="end" fill="{palette.INK}">{escape(name)}</text>')
        out += [_shape(cell, _LEFT + column * _CELL, y) for column, cell in enumerate(cells) if cell]
    x, y = 12, _TOP + _ROW * len(made.rows) + 16
    for word, label in (("full", "in full"), ("recap", "recap"), ("name", "name only"), ("option", "option only")):
        out.append(_shape(word, x, y))
        out.append(f'<text x="{x + 26}" y="{y + 14}" fill="{palette.INK}">{label}</text>')
        x += 120
    out.append("</svg>")
    return "\n".join(out)


def _shape(word: str, x: int, y: int) -> str:
    return _SHAPES[word].format(x=x, y=y, x2=x + 18, mx=x + 9, my=y + 9, ink=palette.ACCENT)


def _facts(made: Overview) -> list[str]:
    out = [
        f"minutes in all: {write_clock(made.minutes_s)}",
        "kit over the series: " + (", ".join(kit_card(k) for k in made.kit) or "none"),
    ]
    out += [f"{title} refers to {', '.join(others)}" for title, others in made.depends]
    return out + [f"never said: {x}" for x in made.never]
