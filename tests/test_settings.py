"""Settings: each entry of the head has its field and is read from its own example; numbers are read as what they mean."""

from __future__ import annotations

import pytest

from briefing.settings.models import Settings
from briefing.settings.reading import ENTRIES, Entry, read_settings
from briefing.sources.head import read_head
from briefing.sources.text import Text

# What the example of each entry is read as: a row of the table without a row here fails.
READ = {
    "title": "Slack Water",
    "length": {"seconds": 540, "about": False},
    "feel": "strong legs, steady breath",
    "aim": "under 20 minutes",
    "filmed": "garage",
    "kit": ["1 dumbbell", "1 step"],
    "say": ["goblet squat / heels lift"],
    "skip": ["run / elbows back"],
    "teach": [("push-up", "short"), ("run", "name-only")],
    "order": ["run", "push-up"],
    "film": ["cheapest"],
    "score": "total push-ups",
    "tried": {"seconds": 1000, "person": "steady"},
    "ceiling": 2.4,
    "next": "the warm-up",
    "coach": "Maren Oldt",
    "greeting": "Hello, Maren here.",
    "sign_off": "See you on the other side.",
    "members": "at home, in garages, in the park",
    "reading_distance": 3.0,
    "paper": "A4",
    "screen": {"long_mm": 217.0, "short_mm": 136.0},
    "eyesight": 1.0,
    "card_place": {"right_m": 0.0, "up_m": -0.1},
    "cards": "phrases",
    "say_as": [("EMOM", "e-mom"), ("kg", "kilograms")],
    "speaking_pace": 1.0,
}


def read(text: str, where: str) -> tuple[dict[str, object], list[str]]:
    head, problems = read_head(Text.of(f"---\n{text}\n---\n", f"{where}.md"))
    values, more = read_settings(head, where)
    return values, [p.message for p in (*problems, *more)]


def plain(value: object) -> object:
    """Give a value without its places."""
    if isinstance(value, tuple):
        return [plain(v) if not isinstance(v, tuple) else v for v in value]
    dumped = getattr(value, "model_dump", None)
    if dumped is None:
        return value
    fields = {k: v for k, v in dumped().items() if k != "place"}
    if set(fields) == {"text"}:
        return fields["text"]
    return (fields["movement"]["text"], fields["level"]) if set(fields) == {"movement", "level"} else fields


def test_each_row_has_its_field() -> None:
    assert [e.key for e in ENTRIES if e.field not in Settings.model_fields] == []


def test_each_row_is_held_here() -> None:
    assert [e.key for e in ENTRIES if e.key not in READ] == []
    assert set(READ) == {e.key for e in ENTRIES}


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.key)
def test_each_entry_is_read_from_its_example(entry: Entry) -> None:
    for where in entry.where:
        values, problems = read(f"{entry.key}: {entry.example}", where)
        assert problems == []
        assert plain(values[entry.field]) == READ[entry.key]
        assert plain(getattr(Settings().with_(**values), entry.field)) == READ[entry.key]
    elsewhere = {"series", "workout"} - entry.where
    for where in elsewhere:
        assert len(read(f"{entry.key}: {entry.example}", where)[1]) == 1


def test_an_update_is_validated() -> None:
    with pytest.raises(ValueError, match="no_such_field"):
        Settings().with_(no_such_field=1)
    with pytest.raises(ValueError, match="reading_distance_m"):
        Settings().with_(reading_distance_m="far")


@pytest.mark.parametrize(
    ("written", "metres"),
    [("2.4 m", 2.4), ("2,4 m", 2.4), ("240 cm", 2.4), ("8 ft", 2.438), ("8 ft 2 in", 2.489), ("outdoors", None)],
)
def test_heights(written: str, metres: float | None) -> None:
    assert read(f"ceiling: {written}", "workout")[0]["ceiling_m"] == metres


@pytest.mark.parametrize(
    ("written", "k"), [("brisk", 0.88), ("typical", 1.0), ("calm", 1.15), ("1.2", 1.2), ("0,9", 0.9)]
)
def test_paces(written: str, k: float) -> None:
    assert read(f"speaking_pace: {written}", "series")[0]["k"] == k


@pytest.mark.parametrize(
    "line",
    [
        "ceiling: 240",
        "ceiling: 31 m",
        "speaking_pace: 2.6",
        "speaking_pace: quick",
        "length: 3:00:00",
        "length: soon",
        "tried: 16:40, quick",
        "tried: 0:00",
        "teach: {push-up: half}",
        "eyesight: 2.1",
        "cards: words",
    ],
)
def test_what_cannot_be_used_is_one_problem(line: str) -> None:
    assert sum(len(read(line, where)[1]) for where in ("series", "workout")) >= 1
    assert min(len(read(line, where)[1]) for where in ("series", "workout")) <= 1


def test_lengths() -> None:
    for words, seconds, about in (("9:00", 540, False), ("about 9:00", 540, True), ("at most 9 min", 540, False)):
        assert plain(read(f"length: {words}", "workout")[0]["length"]) == {"seconds": seconds, "about": about}


def test_a_trial_without_a_word_was_a_steady_person_s() -> None:
    assert plain(read("tried: 16:40", "workout")[0]["tried"]) == {"seconds": 1000, "person": "steady"}
    assert plain(read("tried: 16:40, brisk", "workout")[0]["tried"]) == {"seconds": 1000, "person": "brisk"}
