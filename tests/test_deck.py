"""The deck: rows that fit, breaks at phrases, one thought a card, the same numbers twice, never smaller type."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.outline.models import Outline
from briefing.pipeline import Briefed, brief_video, open_desk
from briefing.settings.models import Density
from briefing.settings.reading import ENTRIES, read_settings
from briefing.sources.folders import demo_folder
from briefing.sources.head import read_head
from briefing.sources.text import Text
from briefing.write.cards import screen_decks, script_json
from briefing.write.deck import (
    _ABOUT,
    BEFORE_FILMING,
    FOOT_GAP_EM,
    MOST_FIGURES,
    MOST_LINES,
    NUMBER_EM,
    PITCH_EM,
    Card,
    Deck,
    letter_problem,
    make_deck,
    needed_em,
)
from briefing.write.documents import card_problems
from briefing.write.rows import break_rows, pieces_of, widest_piece_em
from briefing.write.sheets import PAPERS, Frame, fit_paper, fitting_problem, paper_of
from briefing.write.type import in_font, lacking, width_em
from tests.conftest import DEMOS

DISTANCES = (1.5, 2.0, 3.0, 4.0)
DENSITIES: tuple[Density, ...] = ("phrases", "sentences")


def decks_of(outline: Outline) -> list[Deck]:
    least = needed_em(outline)
    papers = [
        make_deck(outline, fit_paper(p, d, needed_em=least).frame, density)
        for p, d, density in itertools.product(PAPERS, DISTANCES, DENSITIES)
    ]
    return papers + [d for some in screen_decks(outline).values() for d in some]


def a4_deck(outline: Outline, distance: float = 3.0) -> Deck:
    return make_deck(outline, fit_paper(paper_of("A4"), distance, needed_em=needed_em(outline)).frame)


# Rows


@pytest.mark.parametrize(
    ("text", "room", "rows"),
    [
        ("10 each leg", 5.5, ("10 each leg",)),
        ("20 goblet step-ups · 10 each leg", 8.0, ("20 goblet", "step-ups", "10 each leg")),
        ("chest tight · dizzy · sharp pain: stop", 10.0, ("chest tight · dizzy", "sharp pain: stop")),
        ("Weight to your chest", 7.0, ("Weight", "to your chest")),
        ("every 3:00 · first 3:00 · 6 each leg", 8.0, ("every 3:00", "first 3:00", "6 each leg")),
        ("", 5.0, ()),
    ],
)
def test_rows_break_at_phrases(text: str, room: float, rows: tuple[str, ...]) -> None:
    assert break_rows(text, room) == rows


@pytest.mark.parametrize("text", ["10 each leg", "200 m", "22.5 kg", "2 × 15 kg", "15 cal", "6 each arm", "→ stop"])
def test_what_belongs_together_is_one_piece(text: str) -> None:
    assert pieces_of(text) == (text,)
    assert pieces_of(f"and then {text} again")[2] == text


WORDS = (
    "10", "each", "leg", "200", "m", "×", "kg", "squat-hold", "→", "·", "a", "the", "goblet", "1:00", "—", "dizzy,",
    "supercalifragilistic",
)  # fmt: skip


@given(st.lists(st.sampled_from(WORDS), max_size=30), st.floats(2.5, 20.0), st.booleans())
@settings(max_examples=300, deadline=None)
def test_every_row_fits_and_no_word_is_lost(words: list[str], room: float, bold: bool) -> None:  # noqa: FBT001
    text = " ".join(words)
    rows = break_rows(text, room, bold=bold)
    assert all(width_em(r, bold=bold) <= room + 1e-6 for r in rows)
    assert "".join("".join(rows).split()).replace("·", "") == "".join(text.split()).replace("·", "")
    if widest_piece_em(text, bold=bold) <= room:
        for piece in pieces_of(text):
            assert not piece.strip(" ·") or any(piece.strip(" ·") in row for row in rows), piece


# Cards


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_leaves_a_card_on_any_paper_or_screen(name: str, demos: dict[str, Briefed]) -> None:
    for deck in decks_of(demos[name].outline):
        for card in deck.cards:
            foot = FOOT_GAP_EM + len(card.foot) * PITCH_EM * deck.frame.small_em if card.foot else 0.0
            assert card.height_em + foot <= deck.frame.height_em + 1e-6, (deck.frame, card.words)
            assert len(card.entries) <= MOST_LINES
            assert sum(e.kind == "figure" for e in card.entries) <= MOST_FIGURES
            for row in (r for e in card.entries for r in e.rows):
                assert row.x_em + row.width_em <= deck.frame.width_em + 1e-6, row.text
                # Never smaller than the foot's type, which is the least that can be read.
                assert row.size_em >= deck.frame.small_em - 1e-9
            for text in card.foot:
                assert (width_em(text) + 0.85) * deck.frame.small_em <= deck.frame.width_em + 1e-6


@pytest.mark.parametrize("name", DEMOS)
def test_every_line_stands_on_the_cards_with_its_time(name: str, demos: dict[str, Briefed]) -> None:
    outline = demos[name].outline
    for deck in decks_of(outline):
        said = {i for card in deck.cards for i in card.lines}
        assert said == {line.id for line in outline.lines}
        assert [c.number for c in deck.cards] == list(range(1, len(deck.cards) + 1))
        assert sum(c.end_tenths - c.start_tenths for c in deck.cards) == outline.tenths
        assert all(a.end_tenths <= b.start_tenths for a, b in itertools.pairwise(deck.cards))
        for index, segment in enumerate(outline.segments):
            mine = [c for c in deck.cards if c.segment == index]
            assert mine[0].start_tenths == segment.start_tenths
            assert mine[-1].end_tenths == segment.start_tenths + segment.tenths


@pytest.mark.parametrize("name", DEMOS)
def test_sentences_hold_every_word_in_order(name: str, demos: dict[str, Briefed]) -> None:
    outline = demos[name].outline
    deck = make_deck(outline, Frame(width_em=10.5, height_em=6.0), "sentences")
    words = " ".join(c.words for c in deck.cards if c.kind in {"lines", "floor"})
    assert "".join(words.split()) == "".join("".join(x.text for x in outline.lines).split())


@pytest.mark.parametrize("name", DEMOS)
def test_the_repeat_shows_the_very_same_numbers(name: str, demos: dict[str, Briefed]) -> None:
    outline = demos[name].outline
    first, again = (next(n for n, s in enumerate(outline.segments) if s.kind == k) for k in ("workout", "again"))
    for deck in decks_of(outline):
        numbers: list[list[Card]] = [
            [c for c in deck.cards if c.segment == n and c.kind == "numbers"] for n in (first, again)
        ]
        assert [c.entries for c in numbers[0]] == [c.entries for c in numbers[1]]
        assert bool(numbers[0]) == (deck.density == "phrases")


@pytest.mark.parametrize("name", DEMOS)
def test_first_the_camera_last_the_ticks(name: str, demos: dict[str, Briefed]) -> None:
    outline = demos[name].outline
    deck = a4_deck(outline)
    assert deck.cards[0].kind == "camera"
    assert tuple(e.label for e in deck.cards[0].entries) == BEFORE_FILMING
    for index, segment in enumerate(outline.segments):
        mine = [c for c in deck.cards if c.segment == index]
        ticks = [e for c in mine if c.kind == "tick" for e in c.entries]
        musts = [x for x in segment.lines if x.must]
        body = [c for c in mine if c.kind not in {"tick", "action"}]
        if len(body) > 1 and musts:
            assert len(ticks) >= len(musts)
            assert [c.kind for c in mine if c.kind != "action"][-1] == "tick"
        else:
            assert not ticks


def test_what_is_said_from_the_floor_has_cards_of_two_lines(demos: dict[str, Briefed]) -> None:
    for name in ("breakwater", "long-swell"):
        outline = demos[name].outline
        down = {x.id for x in outline.lines if x.sight == "face down"}
        deck = a4_deck(outline)
        floor = [c for c in deck.cards if c.kind == "floor"]
        assert {i for c in floor for i in c.lines} == down
        assert down
        assert all(len(c.entries) <= 2 for c in floor)


def test_a_must_is_marked_by_form(demos: dict[str, Briefed]) -> None:
    deck = a4_deck(demos["slack-water"].outline)
    for entry in (e for c in deck.cards if c.kind in {"lines", "numbers"} for e in c.entries):
        labels = [r for r in entry.rows if r.role == "label"]
        assert all(r.bold == entry.must for r in labels), entry.label


def test_the_coach_s_notes_stand_in_between(brief_text: Callable[..., Briefed]) -> None:
    text = "AMRAP 10:00\n  10 push-ups\n  12 goblet squats\n\n## Notes\n\nMark the turn.\n\nThe goblet squat needs the mat.\n"
    outline = brief_text(text).outline
    deck = a4_deck(outline)
    notes = [c for c in deck.cards if c.kind == "note"]
    assert notes[0].segment == -1
    assert outline.segments[notes[-1].segment].title == "Goblet squat"
    assert "needs the mat" in " ".join(notes[-1].words.split())


def test_the_same_outline_gives_the_same_deck(demos: dict[str, Briefed]) -> None:
    assert a4_deck(demos["breakwater"].outline) == a4_deck(demos["breakwater"].outline)


def test_more_room_never_needs_more_cards(demos: dict[str, Briefed]) -> None:
    outline = demos["slack-water"].outline
    counts = [len(a4_deck(outline, d).cards) for d in (4.0, 3.0, 2.5)]
    assert counts == sorted(counts, reverse=True)


# What is said when it does not work


def test_a_medium_that_is_too_small_is_said_so(demos: dict[str, Briefed]) -> None:
    outline = demos["slack-water"].outline
    small = outline.model_copy(update={"settings": outline.settings.model_copy(update={"paper": "index card"})})
    (problem,) = card_problems(small)
    assert (problem.level, problem.code) == ("warning", "cards-too-far")
    assert "index card" in problem.message
    assert problem.suggestion
    # What is suggested works.
    near = float(problem.suggestion.split("reading_distance: ")[1].split(" m")[0])
    assert fitting_problem(fit_paper(paper_of("index card"), near, needed_em=needed_em(outline))) is None
    assert card_problems(outline) == ()


def test_letters_that_the_font_lacks_are_told_and_replaced(demos: dict[str, Briefed]) -> None:
    assert lacking("Weight → chest") == ()
    assert lacking("Тяга ☐") == ("Т", "я", "г", "а", "☐")
    assert in_font("ḍ → Т") == "d → ?"
    assert letter_problem(demos["slack-water"].outline) is None


def test_a_page_s_data_cannot_end_its_script() -> None:
    assert "<" not in script_json({"title": "</script><script>alert(1)</script>\u2028"})


# Settings


def _settings(text: str) -> tuple[dict[str, object], list[str]]:
    head, _ = read_head(Text.of(f"---\n{text}\n---\n", "series.md"))
    values, problems = read_settings(head, "series")
    return values, [p.message for p in problems]


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("paper: a5", "paper", "A5"),
        ("paper: Index card", "paper", "index card"),
        ("eyesight: weaker", "eyesight", 1.4),
        ("eyesight: 1.2", "eyesight", 1.2),
        ("screen: 217 x 136 mm", "screen", {"long_mm": 217.0, "short_mm": 136.0}),
        ("screen: 13.6 x 21.7 cm", "screen", {"long_mm": 217.0, "short_mm": 136.0}),
        ("screen: 10.1 in", "screen", {"long_mm": 217.5, "short_mm": 136.0}),
        ("card_place: 10 cm below", "card_place", {"right_m": 0.0, "up_m": -0.1}),
        ("card_place: 8 cm left and 5 cm above the lens", "card_place", {"right_m": -0.08, "up_m": 0.05}),
        ("cards: sentences", "cards", "sentences"),
        ("reading_distance: 2.5 m", "reading_distance_m", 2.5),
    ],
)
def test_settings_of_the_cards(text: str, field: str, value: object) -> None:
    values, problems = _settings(text)
    assert not problems
    found = values[field]
    assert (found.model_dump() if hasattr(found, "model_dump") else found) == value


@pytest.mark.parametrize(
    "text",
    [
        "paper: papyrus",
        "eyesight: 3",
        "screen: large",
        "screen: 3 x 2 mm",
        "card_place: near",
        "card_place: 40 m left",
        "cards: words",
        "reading_distance: none",
        "reading_distance: 20 m",
    ],
)
def test_a_setting_that_cannot_be_used_is_one_problem(text: str) -> None:
    _, problems = _settings(text)
    assert len(problems) == 1


def test_the_examples_of_the_entries_are_read() -> None:
    for entry in ENTRIES:
        if entry.key in {"paper", "screen", "eyesight", "card_place", "cards", "reading_distance"}:
            _, problems = _settings(f"{entry.key}: {entry.example}")
            assert not problems, entry.key


def test_drills_are_not_headed_as_safety(tmp_path: Path) -> None:
    """A warm-up's drill is shown and its movements are built up; no line of a movement falls back on another head."""
    copytree(demo_folder(), tmp_path, dirs_exist_ok=True)
    desk = open_desk(tmp_path)
    assert desk.series is not None
    for video in desk.series.videos:
        if video.kind in {"warm-up", "cool-down"}:
            outline = brief_video(video, desk).outline
            kinds = {"drill", "stretch", "breathe", "prepare"}
            heads = {
                _ABOUT[line.kind] for s in outline.segments if s.movement for line in s.lines if line.kind in kinds
            }
            assert heads <= {"see it", "build it up"}
            assert heads


def test_a_long_next_action_is_whole_on_its_card(demos: dict[str, Briefed]) -> None:
    """What the coach does next is never cut: the cards of a segment hold each word of it, in the foot or as a card."""
    outline = demos["slack-water"].outline
    held = 0
    for frame in (Frame(width_em=9.5, height_em=4.0), Frame(width_em=14.5, height_em=5.6)):
        deck = make_deck(outline, frame)
        for index, segment in enumerate(outline.segments):
            mine = [c for c in deck.cards if c.segment == index]
            actions = [c for c in mine if c.kind == "action"]
            said = " ".join(c.words for c in actions) if actions else " ".join(mine[-1].foot)
            assert said.replace(",", "").split() == segment.next_action.replace(",", "").split()
            held += bool(actions)
    assert held


def test_what_must_be_said_is_bold_and_a_number_alone_is_huge(demos: dict[str, Briefed]) -> None:
    huge = 0
    for name in DEMOS:
        deck = a4_deck(demos[name].outline)
        for card in deck.cards:
            for entry in (e for e in card.entries if e.kind == "phrase"):
                assert all(r.bold == entry.must for r in entry.rows if r.role == "label"), entry
            if card.kind == "numbers" and len(card.entries) == 1:
                huge += any(r.role == "number" and r.size_em > NUMBER_EM for r in card.entries[0].rows)
    assert huge
