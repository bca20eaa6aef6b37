"""Reading settings from the head of a series or a workout: one table of entries."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from briefing.problems import Found, Problem
from briefing.settings.models import TEACH_LEVELS, Length, Series, Settings, Teach, Tried, Words
from briefing.sources.head import Head, check_keys, nearest, read_head
from briefing.sources.text import Text
from briefing.units import M_PER_FT, M_PER_IN, PEOPLE, read_clock

# Speaking pace in words: the 5th percentile of 118 speakers is 0.91, the 95th 1.44; these three are our choice inside it.
PACES: dict[str, float] = {"brisk": 0.88, "typical": 1.0, "calm": 1.15}
LEAST_K, MOST_K = 0.5, 2.5


class Unusable(ValueError):  # noqa: N818 - becomes a problem at the entry's place
    """A value of the head that cannot be used: what was expected, and what would work."""

    def __init__(self, message: str, suggestion: str) -> None:
        super().__init__(message)
        self.message, self.suggestion = message, suggestion


@dataclass(frozen=True)
class Entry:
    """One entry that the head may have: how it is read, where it may stand, an example and what it means."""

    key: str
    field: str
    read: Callable[[Head, str], Any]
    where: frozenset[str]
    example: str
    means: str


def _text(head: Head, key: str) -> str | None:
    value = head.text(key)
    if value is None:
        raise Unusable("a few words were expected", "words behind the colon")
    return " ".join(value.split())


def _words(head: Head, key: str) -> tuple[Words, ...]:
    return tuple(Words(text=text, place=place) for text, place in head.words(key))


def _teach(head: Head, key: str) -> tuple[Teach, ...]:
    """Read `{push-up: short, run: name-only}`."""
    entry = head.entries[key]
    if not isinstance(entry.value, dict):
        raise Unusable("movements with full, short or name-only were expected", "{push-up: short}")
    out = []
    for name, level in entry.value.items():
        written = level.value.strip().lower() if isinstance(level.value, str) else ""
        if written not in TEACH_LEVELS:
            raise Unusable(
                f'"{written}" is not a way to teach', nearest(written, TEACH_LEVELS) or ", ".join(TEACH_LEVELS)
            )
        out.append(Teach(movement=Words(text=name, place=level.key_place), level=written))
    return tuple(out)


def _tried(head: Head, key: str) -> Tried:
    """Read `16:40, steady`; without a word it was a steady person."""
    time, _, who = (p.strip().lower() for p in (_text(head, key) or "").partition(","))
    seconds = read_clock(time)
    if seconds is None or seconds == 0:
        raise Unusable(f'"{time}" is not a time', "16:40, steady")
    if who and who not in PEOPLE:
        raise Unusable(f'"{who}" is not a kind of person', nearest(who, PEOPLE) or ", ".join(PEOPLE))
    return Tried(seconds=seconds, person=who or "steady", place=head.entries[key].place)


def read_length(text: str) -> Length:
    """Read `9:00`, `at most 9:00`, `about 9:00`, `9 min`; from one second to two hours.

    Raises Unusable where it is none of these.
    """
    match = re.fullmatch(r"\s*(?P<how>at most|about|up to|max\.?)?\s*(?P<time>.+?)\s*", text, re.IGNORECASE)
    seconds = read_clock(match["time"]) if match else None
    if match is None or seconds is None or not 0 < seconds <= 7200:
        raise Unusable(f'"{text.strip()}" is not a length', "9:00, at most 9:00, or about 9:00")
    return Length(seconds=seconds, about=(match["how"] or "").lower() == "about")


def _length(head: Head, key: str) -> Length:
    return read_length(_text(head, key) or "").model_copy(update={"place": head.entries[key].place})


def _metres(head: Head, key: str) -> float | None:
    text = (_text(head, key) or "").lower()
    if text in {"none", "no", "outdoors", "open sky", "no ceiling"}:
        return None
    match = re.fullmatch(
        r"(\d+(?:[.,]\d+)?)\s*(m|metres?|meters?|cm|ft|feet|')(?:\s*(\d{1,2})\s*(?:in|\"|inches)?)?", text
    )
    if not match:
        raise Unusable(f'"{text}" is not a height or distance', "2.4 m, or 8 ft")
    number = float(match[1].replace(",", "."))
    value = number * {"m": 1.0, "c": 0.01}.get(match[2][0], M_PER_FT) + int(match[3] or 0) * M_PER_IN
    if not 0 < value <= 30:
        raise Unusable(f'"{text}" is outside 0 to 30 m', "2.4 m")
    return round(value, 3)


def _pace(head: Head, key: str) -> float:
    text = (_text(head, key) or "").lower()
    if text in PACES:
        return PACES[text]
    number = text.replace(",", ".")
    if not re.fullmatch(r"\d(?:\.\d{1,3})?", number) or not LEAST_K <= float(number) <= MOST_K:
        raise Unusable(f'"{text}" is not a speaking pace', "brisk, typical or calm")
    return float(number)


_BOTH = frozenset({"series", "workout"})
_SERIES = frozenset({"series"})
_WORKOUT = frozenset({"workout"})

ENTRIES: tuple[Entry, ...] = (
    Entry("title", "title", _text, _BOTH, "Slack Water", "The name of the workout, or of the series."),
    Entry("length", "length", _length, _BOTH, "9:00", "At most so long; `about 9:00` fills the time up; absent, nothing is left out."),
    Entry("feel", "feel", _text, _WORKOUT, "strong legs, steady breath", "How it should feel, in your words."),
    Entry("aim", "aim", _text, _WORKOUT, "under 20 minutes", "What a good result is."),
    Entry("filmed", "filmed", _text, _BOTH, "garage", "Where you film."),
    Entry("kit", "kit", _words, _BOTH, "[1 dumbbell, 1 step]", "What has to be there, with how many of each."),
    Entry("say", "say", _words, _WORKOUT, "[goblet squat / heels lift]", "Lines that are always said: a card phrase, or movement / card phrase."),
    Entry("skip", "skip", _words, _WORKOUT, "[run / elbows back]", "Lines that are not said, named in the same way."),
    Entry("teach", "teach", _teach, _WORKOUT, "{push-up: short, run: name-only}", "How much of a movement is taught: full, short, or its name alone."),
    Entry("order", "order", _words, _WORKOUT, "[run, push-up]", "The order in which movements are shown: names, or `cheapest`; absent, the board's."),
    Entry("film", "film", _words, _WORKOUT, "cheapest", "The order in which they are filmed: names, `board`, or `cheapest`."),
    Entry("score", "score", _text, _WORKOUT, "total push-ups", "What is written down, where the board does not say."),
    Entry("tried", "tried", _tried, _WORKOUT, "16:40, steady", "Your own trial: it moves the estimated times by one factor, which is shown."),
    Entry("ceiling", "ceiling_m", _metres, _BOTH, "2.4 m", "How high the members' rooms are; `none` outdoors."),
    Entry("next", "next_up", _text, _BOTH, "the warm-up", "What the members watch after this video."),
    Entry("coach", "coach", _text, _SERIES, "Maren Oldt", "Your name."),
    Entry("greeting", "greeting", _text, _SERIES, "Hello, Maren here.", "How you begin, word for word."),
    Entry("sign_off", "sign_off", _text, _SERIES, "See you on the other side.", "How you end, word for word."),
    Entry("members", "members", _text, _SERIES, "at home, in garages, in the park", "Where members train."),
    Entry("reading_distance", "reading_distance_m", _metres, _SERIES, "3 m", "How far you stand from your cue cards."),
    Entry("speaking_pace", "k", _pace, _SERIES, "typical", "How fast you speak: brisk, typical, calm, or a number (more is slower)."),
)  # fmt: skip
_VIDEOS = "videos"


def read_settings(head: Head, where: str) -> tuple[dict[str, Any], list[Problem]]:
    """Read the settings that stand in a head; `where` is "series" or "workout".

    Gives only the fields that are there, for `Settings.model_copy(update=…)`. Problems (errors): `unknown-key`,
    `setting`.
    """
    known = [e.key for e in ENTRIES if where in e.where] + ([_VIDEOS] if where == "series" else [])
    problems = check_keys(head, known, f"a {where}")
    values: dict[str, Any] = {}
    for entry in ENTRIES:
        if where not in entry.where or entry.key not in head.entries:
            continue
        try:
            values[entry.field] = entry.read(head, entry.key)
        except Unusable as stop:
            problems.append(
                Problem(level="error", code="setting", message=f"{entry.key}: {stop.message}", suggestion=stop.suggestion,
                        place=head.entries[entry.key].place)
            )  # fmt: skip
    return values, problems


def read_series(text: Text) -> Found[Series]:
    """Read a series file: settings and `videos:`, the workout files in order."""
    head, problems = read_head(text)
    values, more = read_settings(head, "series")
    title = values.pop("title", None)
    videos = tuple(Words(text=t, place=p) for t, p in head.words(_VIDEOS))
    series = Series(title=title, settings=Settings(**values), videos=videos, file=text.name)
    return Found(series, (*problems, *more))


def nearest_video(name: str, names: tuple[str, ...]) -> str | None:
    """Give the workout file that is most like a name in `videos:`."""
    return nearest(name, names)
