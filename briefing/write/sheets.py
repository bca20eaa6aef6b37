"""What the cards stand on: sheets of paper and screens, how much type fits at a distance, and what to do if it does not."""

from __future__ import annotations

from briefing.problems import Model, Problem
from briefing.settings.models import PaperKey
from briefing.write.type import (
    AMPLE_ARCMIN,
    GOOD_ARCMIN,
    LEAST_ARCMIN,
    MM_PER_PT,
    arcmin_of,
    face,
    reads_from_m,
    size_mm,
)


class Paper(Model):
    """A card of paper, landscape, and how many lie on a sheet of the printer.

    All in millimeters. `margin_mm` is what stays white around the type: most printers reach no farther than 5 mm.
    """

    key: PaperKey
    width_mm: float
    height_mm: float
    sheet_width_mm: float
    sheet_height_mm: float
    across: int = 1
    down: int = 1
    margin_mm: float = 8.0

    @property
    def on_a_sheet(self) -> int:
        """How many cards lie on one sheet."""
        return self.across * self.down


# Source of the sizes: ISO 216 for A4, A5 and A6; ANSI/ASME Y14.1 for letter, 8.5 x 11 in; an index card is 5 x 3 in.
PAPERS: tuple[Paper, ...] = (
    Paper(key="A4", width_mm=297, height_mm=210, sheet_width_mm=297, sheet_height_mm=210),
    Paper(key="letter", width_mm=279.4, height_mm=215.9, sheet_width_mm=279.4, sheet_height_mm=215.9),
    Paper(key="A5", width_mm=210, height_mm=148, sheet_width_mm=210, sheet_height_mm=297, down=2, margin_mm=7),
    Paper(key="A6", width_mm=148, height_mm=105, sheet_width_mm=297, sheet_height_mm=210, across=2, down=2, margin_mm=6),
    Paper(
        key="index card", width_mm=127, height_mm=76.2, sheet_width_mm=297, sheet_height_mm=210, across=2, down=2, margin_mm=5
    ),
)  # fmt: skip


class Frame(Model):
    """The room for the type of a card in ems: entries and foot together; `small_em` is the size of the foot."""

    width_em: float
    height_em: float
    small_em: float = LEAST_ARCMIN / GOOD_ARCMIN


class Fitting(Model):
    """How type sits on a medium at a distance.

    `em_mm` is the type size, `arcmin` the angle of its capitals, `readable` whether that is at least the least one
    (times the eyesight allowance), `from_m` the distance from which it can be read.
    """

    name: str
    frame: Frame
    em_mm: float
    distance_m: float
    arcmin: float
    readable: bool
    from_m: float

    @property
    def em_pt(self) -> float:
        """The type size in points."""
        return self.em_mm / MM_PER_PT

    @property
    def capital_mm(self) -> float:
        """The height of a capital in millimeters."""
        return self.em_mm * face().capital_em


# The lowest frame holds three rows, white, and one row of foot; our choice: less is no card.
LEAST_ROWS_EM = 3.0 + 0.5
ROW_EM = 1.16
# From here on there is room enough to set the type at 22 minutes of arc. Our choice.
AMPLE_WIDTH_EM, AMPLE_HEIGHT_EM = 13.0, 6.0
# The strip for the hand above the card (workout, segment, clock): as high as this on paper, in type for arm's length.
HAND_MM = 7.0
# The head row in type for the distance: planned clock and number of the card.
HEAD_EM = 1.15


def least_height_em(small_em: float) -> float:
    """Give how high a frame must be at least: three rows of type and one of foot."""
    return LEAST_ROWS_EM + ROW_EM * small_em


def paper_of(key: str) -> Paper:
    """Give the paper of a name."""
    return next(p for p in PAPERS if p.key == key)


def fit_paper(paper: Paper, distance_m: float, *, eyesight: float = 1.0, needed_em: float = 0.0) -> Fitting:
    """Fit the type to a paper."""
    wide, high = paper.width_mm - 2 * paper.margin_mm, paper.height_mm - 2 * paper.margin_mm - HAND_MM
    return fit_type(f"{paper.key} landscape", (wide, high), distance_m, eyesight=eyesight, needed_em=needed_em)


def fit_type(
    name: str, size: tuple[float, float], distance_m: float, *, eyesight: float = 1.0, needed_em: float = 0.0
) -> Fitting:
    """Fit the type to a room of so many millimeters: at 22 minutes of arc where there is plenty, else 20, 18, 16.

    `needed_em` is the widest piece that is never broken. Where not even the least size fits, the type is set as large
    as fits and `readable` is false.
    """
    wide, high = size
    for arcmin in (AMPLE_ARCMIN, GOOD_ARCMIN, 18.0, LEAST_ARCMIN):
        em = size_mm(distance_m, arcmin * eyesight)
        frame = _frame(wide, high, em, arcmin)
        ample = frame.width_em >= AMPLE_WIDTH_EM and frame.height_em >= AMPLE_HEIGHT_EM
        fits = frame.width_em >= needed_em and frame.height_em >= least_height_em(frame.small_em)
        if fits and (ample or arcmin < AMPLE_ARCMIN):
            return _fitting(name, frame, em, distance_m, eyesight)
    # Here the foot is as large as the rest, so that all of the card can be read from the distance that is named.
    em = min(wide / max(needed_em, 1.0), high / (least_height_em(1.0) + HEAD_EM))
    return _fitting(name, _frame(wide, high, em, LEAST_ARCMIN), em, distance_m, eyesight)


def _frame(wide: float, high: float, em: float, arcmin: float) -> Frame:
    small = LEAST_ARCMIN / min(arcmin, GOOD_ARCMIN)
    # Rounded down, so that what fits the frame fits the paper.
    return Frame(
        width_em=int(wide / em * 1000) / 1000, height_em=int((high / em - HEAD_EM) * 1000) / 1000, small_em=small
    )


def _fitting(name: str, frame: Frame, em: float, distance_m: float, eyesight: float) -> Fitting:
    arcmin = arcmin_of(em, distance_m)
    return Fitting(
        name=name,
        frame=frame,
        em_mm=em,
        distance_m=distance_m,
        arcmin=arcmin,
        readable=arcmin >= LEAST_ARCMIN * eyesight - 1e-6,
        from_m=reads_from_m(em, LEAST_ARCMIN * eyesight),
    )


def fitting_words(fitting: Fitting) -> str:
    """Say how large the type is, or that it is too small and what would help."""
    if fitting.readable:
        return (
            f"{fitting.name}: capitals {fitting.capital_mm:.1f} mm tall, {fitting.arcmin:.0f} minutes of arc from "
            f"{fitting.distance_m:g} m; they can be read from up to {_down(fitting.from_m)} m."
        )
    return (
        f"{fitting.name} cannot be read from {fitting.distance_m:g} m: the largest type that fits can be read from "
        f"{_down(fitting.from_m)} m. {upper_help(fitting)}"
    )


def upper_help(fitting: Fitting) -> str:
    """Say what would help where a medium is too small: closer, larger, fewer words."""
    larger = "A4 or letter" if fitting.name.split()[0] not in {"A4", "letter"} else "a screen of laptop size"
    return f"Stand closer, use {larger}, or use fewer words (card phrases, not sentences)."


def fitting_problem(fitting: Fitting) -> Problem | None:
    """Give the warning for a medium that cannot be read from the distance, None where it can."""
    if fitting.readable:
        return None
    return Problem(
        level="warning",
        code="cards-too-far",
        message=f"cue cards on {fitting.name} cannot be read from {fitting.distance_m:g} m; "
        f"the largest type that fits can be read from {_down(fitting.from_m)} m",
        suggestion=f"reading_distance: {_down(fitting.from_m)} m, or a larger paper: or screen:, or cards: phrases",
    )


def _down(metres: float) -> str:
    return f"{int(metres * 10) / 10:.1f}"
