"""Reading settings from the head of a series or a workout: one table of entries."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from briefing.problems import Found, Place, Problem
from briefing.settings.models import (
    TEACH_LEVELS,
    VIDEO_KINDS,
    CardPlace,
    Density,
    Length,
    PaperKey,
    Screen,
    Series,
    Settings,
    Teach,
    Tried,
    Video,
    Words,
)
from briefing.sources.head import Entry as HeadEntry
from briefing.sources.head import Head, check_keys, nearest, read_head, recall_head
from briefing.sources.text import Text
from briefing.units import M_PER_FT, M_PER_IN, PEOPLE, read_clock

# Speaking pace in words: the 5th percentile of 118 speakers is 0.91, the 95th 1.44; these three are our choice inside it.
PACES: dict[str, float] = {"brisk": 0.88, "typical": 1.0, "calm": 1.15}
LEAST_K, MOST_K = 0.5, 2.5
PAPER_NAMES: dict[str, PaperKey] = {"a4": "A4", "letter": "letter", "a5": "A5", "a6": "A6", "index card": "index card"}
# Visual acuity of at least 0.7, 0.5, 0.4. Source: DIN 1450:2013 as its public calculator explains it (second-hand).
EYESIGHTS: dict[str, float] = {"usual": 1.0, "weaker": 1.4, "weak": 1.75}


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


def _say_as(head: Head, key: str) -> tuple[tuple[str, str], ...]:
    """Read `{EMOM: e-mom, kg: kilograms}`."""
    value = head.entries[key].value
    if not isinstance(value, dict):
        raise Unusable("words with the way you say them were expected", "{EMOM: e-mom, kg: kilograms}")
    return tuple((k, v.value.strip()) for k, v in value.items() if isinstance(v.value, str) and v.value.strip())


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


def _distance(head: Head, key: str) -> float:
    value = _metres(head, key)
    # Nearer is a page in the hand, farther is a hall: our choice.
    if value is None or not 0.3 <= value <= 10:
        raise Unusable("a distance of 0.3 to 10 m was expected", "3 m")
    return value


def _paper(head: Head, key: str) -> PaperKey:
    text = (_text(head, key) or "").lower()
    for name, paper in PAPER_NAMES.items():
        if text == name:
            return paper
    raise Unusable(f'"{text}" is not a paper for cards', ", ".join(dict.fromkeys(PAPER_NAMES.values())))


def _screen(head: Head, key: str) -> Screen:
    text = (_text(head, key) or "").lower()
    sides = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(mm|cm)?\s*[x×]\s*(\d+(?:\.\d+)?)\s*(mm|cm)", text)
    across = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:in|inch|inches|\")", text)
    if sides:
        first, second = (
            float(n) * (10 if (unit or sides[4]) == "cm" else 1)
            for n, unit in ((sides[1], sides[2]), (sides[3], sides[4]))
        )
        long_mm, short_mm = max(first, second), min(first, second)
    elif across:
        # Of a diagonal alone the shape is not known: 16 to 10, our choice between tablets (4 to 3) and phones (2 to 1).
        diagonal = float(across[1]) * 25.4
        long_mm, short_mm = diagonal * 16 / 356**0.5, diagonal * 10 / 356**0.5
    else:
        raise Unusable(f'"{text}" is not the size of a screen', "217 x 136 mm, or 10.1 in")
    if not (short_mm >= 40 and long_mm <= 2500):
        raise Unusable(f'"{text}" is outside 40 mm to 2.5 m', "217 x 136 mm, or 10.1 in")
    return Screen(long_mm=round(long_mm, 1), short_mm=round(short_mm, 1))


def _eyesight(head: Head, key: str) -> float:
    text = (_text(head, key) or "").lower().replace(",", ".")
    if text in EYESIGHTS:
        return EYESIGHTS[text]
    if not re.fullmatch(r"[12](?:\.\d{1,2})?", text) or not 1 <= float(text) <= 2:
        raise Unusable(f'"{text}" is not an allowance for eyesight', "usual, weaker, weak, or a number from 1 to 2")
    return float(text)


def _card_place(head: Head, key: str) -> CardPlace:
    text = (_text(head, key) or "").lower()
    right = up = 0.0
    for part in re.split(r"\s*(?:,|\band\b)\s*", text):
        match = re.fullmatch(
            r"(\d+(?:[.,]\d+)?)\s*(mm|cm|m|in)\s+(?:to the\s+)?(below|under|above|over|left|right|beside)(?: the lens| of the lens| it)?",
            part,
        )
        if not match:
            raise Unusable(f'"{part}" is not a place from the lens', "10 cm below, or 8 cm left, 5 cm above")
        metres = float(match[1].replace(",", ".")) * {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": M_PER_IN}[match[2]]
        if match[3] in {"below", "under", "above", "over"}:
            up = metres if match[3] in {"above", "over"} else -metres
        else:
            right = -metres if match[3] == "left" else metres
    if max(abs(right), abs(up)) > 5:
        raise Unusable(f'"{text}" is more than 5 m from the lens', "10 cm below")
    return CardPlace(right_m=round(right, 4), up_m=round(up, 4))


def _density(head: Head, key: str) -> Density:
    text = (_text(head, key) or "").lower()
    if text == "phrases":
        return "phrases"
    if text == "sentences":
        return "sentences"
    raise Unusable(f'"{text}" was not expected', "phrases (to glance at), or sentences (to read out)")


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
    Entry("reading_distance", "reading_distance_m", _distance, _SERIES, "3 m", "How far you stand from your cue cards."),
    Entry("paper", "paper", _paper, _SERIES, "A4", "What cue cards are printed on: A4, letter, A5, A6, index card."),
    Entry("screen", "screen", _screen, _SERIES, "217 x 136 mm", "The picture of the screen that shows your cue cards: its sides, or its diagonal (`10.1 in`)."),
    Entry("eyesight", "eyesight", _eyesight, _SERIES, "usual", "Larger type: usual, weaker (1.4 times), weak (1.75 times), or a number from 1 to 2."),
    Entry("card_place", "card_place", _card_place, _SERIES, "10 cm below", "Where the middle of your cue card stands from the lens: below, above, left, right."),
    Entry("cards", "cards", _density, _BOTH, "phrases", "What stands on printed cue cards: phrases to glance at, or sentences to read out."),
    Entry("say_as", "say_as", _say_as, _SERIES, "{EMOM: e-mom, kg: kilograms}", "How you say what is written: it counts for the seconds."),
    Entry("speaking_pace", "k", _pace, _SERIES, "typical", "How fast you speak: brisk, typical, calm, or a number (more is slower)."),
)  # fmt: skip
# Entries of a series alone that are no settings of a video, with what they mean.
SERIES_ENTRIES: dict[str, str] = {
    "videos": "The videos in order: a workout file for its briefing, or `{workout: slack-water.md, kind: warm-up, date: 2027-01-11}`.",
    "full_again_weeks": "After how many weeks a movement is taught in full again (4).",
}
# What one video of the list may say.
VIDEO_ENTRIES: tuple[str, ...] = ("workout", "kind", "date", "recorded", "new_people")


def read_settings(head: Head, where: str) -> tuple[dict[str, Any], list[Problem]]:
    """Read the settings that stand in a head; `where` is "series" or "workout".

    Gives only the fields that are there, for `Settings.model_copy(update=…)`. Problems (errors): `unknown-key`,
    `setting`.
    """
    known = [e.key for e in ENTRIES if where in e.where] + ([*SERIES_ENTRIES] if where == "series" else [])
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


def read_series(text: Text, path: Path | None = None) -> Found[Series]:
    """Read a series file: its settings, and `videos:`, a list of workout files or of `{workout: …, kind: …, date: …}`.

    Problems (errors): those of the head and its settings; `video-shape`, `video-kind`, `video-date`, `video-twice`,
    `video-outside` (not below the coach's folder), `video-name`.
    A head that was read before from the file at `path` is not read again.
    """
    head, problems = recall_head(text, path) if path is not None else read_head(text)
    values, more = read_settings(head, "series")
    problems += more
    title = values.pop("title", None)
    videos = tuple(_videos(head, problems))
    weeks = head.text("full_again_weeks")
    if weeks is not None and not (weeks.isascii() and weeks.isdigit() and 0 < int(weeks) <= 520):
        place = head.entries["full_again_weeks"].place
        problems.append(_error("setting", f'full_again_weeks: "{weeks}" is not a number of weeks', "4", place))
        weeks = None
    notes = "\n".join(text.lines[head.body_line - 1 :]).strip()
    made = Series(
        title=title,
        settings=Settings(**values),
        videos=videos,
        full_again_weeks=int(weeks or 4),
        notes=notes,
        file=text.name,
    )
    return Found(made, tuple(problems))


def _videos(head: Head, problems: list[Problem]) -> Iterator[Video]:
    entry = head.entries.get("videos")
    if entry is None:
        return
    items = entry.value if isinstance(entry.value, tuple) else (entry,)
    seen: set[str] = set()
    for item in items:
        video = _video(item, problems)
        if video is None:
            continue
        if video.key in seen:
            problems.append(
                _error("video-twice", f'"{video.key}" stands in the list a second time', "one of the two", video.place)
            )
            continue
        seen.add(video.key)
        yield video


def _video(item: HeadEntry, problems: list[Problem]) -> Video | None:
    if isinstance(item.value, str):
        if not item.value.strip():
            return None
        return _sound(Video(workout=Words(text=item.value.strip(), place=item.place), place=item.place), problems)
    if not isinstance(item.value, dict):
        problems.append(
            _error(
                "video-shape",
                "a video is a workout file, or words in braces",
                "{workout: slack-water.md, kind: warm-up}",
                item.place,
            )
        )
        return None
    values = {k: v for k, v in item.value.items() if isinstance(v.value, str)}
    wrong = [k for k in item.value if k not in VIDEO_ENTRIES]
    if wrong:
        near = nearest(wrong[0], VIDEO_ENTRIES) or ", ".join(VIDEO_ENTRIES)
        problems.append(
            _error("unknown-key", f'a video has no entry "{wrong[0]}"', near, item.value[wrong[0]].key_place)
        )
        return None
    kind = _said(values, "kind") or "briefing"
    if kind not in VIDEO_KINDS:
        near = nearest(kind, VIDEO_KINDS) or ", ".join(VIDEO_KINDS)
        problems.append(_error("video-kind", f'"{kind}" is no kind of video', near, values["kind"].place))
        return None
    workout = _said(values, "workout")
    if workout is None and kind != "introduction":
        problems.append(_error("video-shape", f"a {kind} belongs to a workout", "workout: slack-water.md", item.place))
        return None
    video = Video(
        kind=kind,
        workout=Words(text=workout, place=values["workout"].place) if workout else None,
        date=_date(values, "date", problems),
        recorded=_date(values, "recorded", problems),
        new_people=(_said(values, "new_people") or "no").lower() in {"yes", "true"},
        place=item.place,
    )
    return _sound(video, problems)


# Our choice: file systems end at 255 bytes, and the names of what is built are made from these.
MOST_NAME_BYTES = 180


def _sound(video: Video, problems: list[Problem]) -> Video | None:
    """Give a video whose workout file can lie in the coach's folder; None, and a problem, for any other."""
    if video.workout is None:
        return video
    path, place = PurePosixPath(video.file), video.workout.place
    steps = path.parts
    if path.is_absolute() or "\\" in video.file or any(step == ".." or step.startswith(".") for step in steps):
        message = f'"{video.workout.text}" does not lie in this folder'
        problems.append(
            _error("video-outside", message, "the name of a file in this folder, such as slack-water.md", place)
        )
        return None
    if not steps or any(len(step.encode(errors="replace")) > MOST_NAME_BYTES for step in steps):
        problems.append(_error("video-name", "this name is too long for a file", "slack-water.md", place))
        return None
    return video


def _said(values: dict[str, HeadEntry], key: str) -> str | None:
    entry = values.get(key)
    return entry.value.strip() or None if entry is not None and isinstance(entry.value, str) else None


def _date(values: dict[str, HeadEntry], key: str, problems: list[Problem]) -> dt.date | None:
    text = _said(values, key)
    if text is None:
        return None
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        problems.append(_error("video-date", f'"{text}" is not a date', "2027-01-11", values[key].place))
        return None


def _error(code: str, message: str, suggestion: str, place: Place) -> Problem:
    return Problem(level="error", code=code, message=message, suggestion=suggestion, place=place)
