"""The type of the cards: the font, its capital height and advance widths, and how large it must be for a distance.

Sizes are heights of an em in millimeters (`…_mm`), widths are shares of an em (`…_em`), angles are minutes of arc.
"""

from __future__ import annotations

import base64
import math
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

FAMILY = "Atkinson Hyperlegible"
MM_PER_PT = 25.4 / 72

# Character height at the eye. Source: ISO 9241-303, at least 16 minutes of arc, 20 to 22 preferred.
LEAST_ARCMIN = 16.0
GOOD_ARCMIN = 20.0
AMPLE_ARCMIN = 22.0

# The one mark that a card phrase may hold and the font lacks. It is drawn; its width is our choice.
ARROW = "→"
ARROW_EM = 1.0
# What a letter that the font lacks may take, where another font stands in: the em square. Our choice, on the safe side.
UNKNOWN_EM = 1.0
NO_LETTER = 0xFFFF


@dataclass(frozen=True)
class Face:
    """One weight of the font, as far as setting needs it: where it lies, capital height and advances in ems."""

    path: Path
    capital_em: float
    advances_em: dict[int, float]


@cache
def face(*, bold: bool = False) -> Face:
    """Read a weight of Atkinson Hyperlegible from its file.

    Source of the capital height: `sCapHeight` of the font's OS/2 table, 668 of 1000 units; advances are those of its
    `hmtx` table, as the PDF writer reads them.
    """
    # Imported here: it takes longer than reading a workout, and most commands set no type.
    from fontpkg_atkinson_hyperlegible import ROOT  # type: ignore[import-untyped,unused-ignore]  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFontFile  # type: ignore[import-untyped]  # noqa: PLC0415

    path = Path(ROOT) / "files" / f"AtkinsonHyperlegible-{'Bold' if bold else 'Regular'}.ttf"
    font = TTFontFile(str(path))
    # The PDF writer counts in thousandths of an em, and keeps what stands for a missing shape under the last code.
    advances = {code: wide / 1000 for code, wide in font.charWidths.items() if code != NO_LETTER}
    return Face(path=path, capital_em=font.capHeight / 1000, advances_em=advances)


def font_base64(*, bold: bool = False) -> str:
    """Give the font's file as base64, unchanged, for embedding in a page."""
    return base64.b64encode(face(bold=bold).path.read_bytes()).decode("ascii")


# Laying out a deck for many screens measures the same rows again and again.
@lru_cache(maxsize=1 << 16)
def width_em(text: str, *, bold: bool = False) -> float:
    """Give the width of a text in ems, from the font's own advances, without kerning.

    `10 each leg` is 5.06 in regular weight. A letter that the font lacks counts as a whole em.
    """
    advances = face(bold=bold).advances_em
    return sum(ARROW_EM if c == ARROW else advances.get(ord(c), UNKNOWN_EM) for c in text)


def lacking(text: str) -> tuple[str, ...]:
    """Give the letters of a text that the font has no shape for, each once, in order; marks that we draw are none."""
    known = face().advances_em
    return tuple(dict.fromkeys(c for c in text if ord(c) not in known and c != ARROW and not c.isspace()))


def in_font(text: str) -> str:
    """Give a text in letters that the font has, for forms that embed no other: `ș` becomes `s`, what has no like `?`."""
    known = face().advances_em
    out = []
    for letter in text:
        if ord(letter) in known or letter == ARROW:
            out.append(letter)
            continue
        plain = "".join(c for c in unicodedata.normalize("NFKD", letter) if ord(c) in known)
        out.append(" " if letter.isspace() else plain or ("" if unicodedata.combining(letter) else "?"))
    return "".join(out)


def column_widths(rows: Sequence[Sequence[str]], size: float, wide: float, pad: float = 8) -> list[float]:
    """Share a width in points over columns: each has its longest word, the rest goes to those with more text."""
    texts = [[r[c] for r in rows] for c in range(len(rows[0]))]
    least = [max(width_em(w, bold=True) for t in column for w in (t.split() or [""])) * size + pad for column in texts]
    spare = max(0.0, wide - sum(least))
    # By the root: else the longest text would take it all.
    more = [max(0.0, max(width_em(t) for t in c) * size - x) ** 0.5 for c, x in zip(texts, least, strict=True)]
    whole = sum(more) or 1.0
    return [(x + spare * m / whole) * min(1.0, wide / sum(least)) for x, m in zip(least, more, strict=True)]


def capital_mm(distance_m: float, arcmin: float) -> float:
    """Give how tall a capital must be to be seen at an angle: `capital_mm(2, 20)` is 11.64.

    h = 2 · D · tan(θ / 2); the angle is the one at the eye.
    """
    return 2000 * distance_m * math.tan(math.radians(arcmin / 60) / 2)


def size_mm(distance_m: float, arcmin: float) -> float:
    """Give the type size (the em) at which the font's capitals are seen at an angle from a distance."""
    return capital_mm(distance_m, arcmin) / face().capital_em


def arcmin_of(em_mm: float, distance_m: float) -> float:
    """Give the angle at which the capitals of a type size are seen from a distance."""
    return math.degrees(2 * math.atan(em_mm * face().capital_em / (2000 * distance_m))) * 60


def reads_from_m(em_mm: float, arcmin: float = LEAST_ARCMIN) -> float:
    """Give the distance from which a type size is seen at an angle; farther away it is too small."""
    return em_mm * face().capital_em / (2000 * math.tan(math.radians(arcmin / 60) / 2))
