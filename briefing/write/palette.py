"""The colours of all documents, in one place, so that their contrast can be held against WCAG 2.2.

Ink on paper for text, a dark accent for must-say lines and the timeline; nothing is told by colour alone.
"""

INK = "#1c2321"
PAPER = "#fdfcf8"
QUIET = "#4c5652"
LINE = "#c9cdc6"
ACCENT = "#0b4f4a"
ACCENT_SOFT = "#dcebe6"
WARN = "#7a2e12"
NIGHT_PAPER = "#0e1413"
NIGHT_INK = "#f4f2ea"
NIGHT_QUIET = "#b9c2bd"
NIGHT_ACCENT = "#8fd6c7"

# What a template is given: names and colours, and nothing else of this module.
COLOURS = {name: colour for name, colour in globals().items() if name.isupper() and isinstance(colour, str)}

# Text on ground, with the least contrast that we ask for (7:1 is WCAG 2.2 SC 1.4.6, level AAA).
PAIRS: tuple[tuple[str, str, float], ...] = (
    (INK, PAPER, 7.0),
    (QUIET, PAPER, 7.0),
    (ACCENT, PAPER, 7.0),
    (WARN, PAPER, 7.0),
    (INK, ACCENT_SOFT, 7.0),
    (ACCENT, ACCENT_SOFT, 7.0),
    (PAPER, ACCENT, 7.0),
    (NIGHT_INK, NIGHT_PAPER, 7.0),
    (NIGHT_QUIET, NIGHT_PAPER, 7.0),
    (NIGHT_ACCENT, NIGHT_PAPER, 7.0),
)


def contrast(first: str, second: str) -> float:
    """Give the contrast ratio of two colours (`#rrggbb`), from 1 to 21.

    Source: WCAG 2.2, definitions of contrast ratio and relative luminance.
    """
    light, dark = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
