"""Settings as one frozen value, and a series as its settings with its videos in order."""

from __future__ import annotations

import datetime as dt
from pathlib import PurePosixPath
from typing import Any, Literal, get_args

from pydantic import Field

from briefing.problems import Model, Place
from briefing.units import Person

PaperKey = Literal["A4", "letter", "A5", "A6", "index card"]
Density = Literal["phrases", "sentences"]


class Words(Model):
    """Some words from a file, with their place."""

    text: str
    place: Place


class Length(Model):
    """The promised length: at most so many seconds, or `about` so many (the time is filled up)."""

    seconds: int = Field(ge=1)
    about: bool = False
    place: Place | None = None


TeachLevel = Literal["full", "short", "name-only"]
TEACH_LEVELS: tuple[str, ...] = get_args(TeachLevel)


class Teach(Model):
    """How much of a movement is taught: full, short (recap, two points), or its name alone."""

    movement: Words
    level: TeachLevel


class Tried(Model):
    """The coach's own trial of a workout: so many seconds, as this kind of person."""

    seconds: int = Field(ge=1)
    person: Person
    place: Place | None = None


class Screen(Model):
    """The picture of the screen that shows the cards, in millimeters, the long side first."""

    long_mm: float
    short_mm: float


class CardPlace(Model):
    """Where the middle of the card stands from the lens, in meters: to the right and up (negative: left, below)."""

    right_m: float = 0.0
    up_m: float = 0.0


class Settings(Model):
    """All settings of one video, flown down from built-in, series, workout and command line.

    `k` is the speaking pace (1.0 is typical, more is slower), `talk_s` the seconds of the coach's own talk that it was
    measured on (None: not measured). `say_as` is the coach's own list of (written, spoken). `ceiling_m` is the height of the
    room, None outdoors or unknown. `eyesight` is the factor on the type size of the cards; `screen` and `card_place` are None
    where they are not known.
    """

    title: str | None = None
    length: Length | None = None
    feel: str | None = None
    aim: str | None = None
    filmed: str | None = None
    kit: tuple[Words, ...] | None = None
    say: tuple[Words, ...] = ()
    skip: tuple[Words, ...] = ()
    teach: tuple[Teach, ...] = ()
    order: tuple[Words, ...] = ()
    film: tuple[Words, ...] = ()
    score: str | None = None
    tried: Tried | None = None
    ceiling_m: float | None = None
    coach: str | None = None
    greeting: str | None = None
    sign_off: str | None = None
    next_up: str | None = None
    members: str | None = None
    reading_distance_m: float = 3.0
    paper: PaperKey = "A4"
    screen: Screen | None = None
    eyesight: float = 1.0
    card_place: CardPlace | None = None
    cards: Density = "phrases"
    say_as: tuple[tuple[str, str], ...] = ()
    k: float = 1.0
    talk_s: float | None = None

    def with_(self, **values: Any) -> Settings:
        """Give these settings with others in their place, each validated; an unknown name or a wrong value is a slip of ours."""
        return Settings.model_validate({name: getattr(self, name) for name in type(self).model_fields} | values)


VideoKind = Literal["introduction", "briefing", "warm-up", "workout", "cool-down"]
VIDEO_KINDS: tuple[str, ...] = get_args(VideoKind)


def stem_of(file: str) -> str:
    """Give the name under which a workout file's documents stand: its path below the coach's folder without `.md`."""
    path = PurePosixPath(file).as_posix() if file else ""
    return path.removesuffix(".md")


class Video(Model):
    """One video of a series: its kind, the workout file it belongs to (an introduction has none), and its dates.

    `new_people` says that people are in it who have seen nothing yet. `recorded` freezes its outline.
    """

    kind: VideoKind = "briefing"
    workout: Words | None = None
    date: dt.date | None = None
    recorded: dt.date | None = None
    new_people: bool = False
    place: Place

    @property
    def file(self) -> str:
        """Its workout file below the coach's folder, "" for an introduction; a name without an ending is one of a `.md`."""
        if self.workout is None:
            return ""
        path = PurePosixPath(self.workout.text)
        return str(path) if path.suffix else f"{path}.md"

    @property
    def stem(self) -> str:
        """The name of its workout file (see `stem_of`), "" for an introduction."""
        return stem_of(self.file)

    @property
    def key(self) -> str:
        """Its name among the built documents: `slack-water`, `slack-water-warm-up`, `introduction`."""
        if self.kind == "briefing":
            return self.stem
        return f"{self.stem}-{self.kind}" if self.stem else self.kind


class Series(Model):
    """A series: its settings, its videos in order, after how many weeks a movement is taught in full again."""

    title: str | None = None
    settings: Settings = Settings()
    videos: tuple[Video, ...] = ()
    full_again_weeks: int = 4
    notes: str = ""
    file: str
