"""The take against the plan: hand-written takes, takes from a seeded generator, takes of something else."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import jiwer
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefing.board.models import Workout
from briefing.clock.scaling import smaller_workouts
from briefing.library.finding import Library
from briefing.pipeline import Briefed, brief
from briefing.series.recorded import freeze
from briefing.sources.folders import demo_folder
from briefing.sources.text import Text
from briefing.take.frozen import as_recorded
from briefing.take.kept import cut, read_log
from briefing.take.page import captions_put_right, description_of_take, real_chapters, review_html, review_markdown
from briefing.take.review import Review, review
from briefing.take.transcript import Transcript, read_transcript, write_vtt
from briefing.take.words import names_of, text_tokens
from briefing.write.templates import Templates
from tests.conftest import DEMOS
from tests.reading_cases import Case, read_cases
from tests.taking import Made, make_take
from tests.test_cli import run

CASES = read_cases("takes.md")


def lighter(briefed: Briefed) -> Sequence[Workout]:
    plan = briefed.plan
    return smaller_workouts(plan.workout, plan.movements)


def hold(briefed: Briefed, transcript: Transcript) -> Review:
    found = review(briefed.outline, briefed.plan.movements, transcript, lighter(briefed))
    assert found.value is not None, found.problems
    return found.value


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.title)
def test_a_hand_written_take(case: Case, demos: dict[str, Briefed]) -> None:
    name, _, words = case.given.partition("\n")
    transcript = read_transcript(Text.of(words, "take.txt"))
    assert transcript.value is not None
    made = hold(demos[name], transcript.value)
    slips = {(s.said, s.about.split(",")[0]) for s in made.slips if not s.corrected}
    corrected = {(s.said, s.about.split(",")[0]) for s in made.slips if s.corrected}
    missing = {x.id for x in made.not_said if x.must}
    late = {s.line.id for s in made.late}
    said = {s.line.id for s in made.said}
    noted = set()
    for note in case.expected.splitlines():
        kind, _, rest = note.partition(" ")
        if kind in {"slip", "corrected"}:
            number, _, about = rest.partition(" about ")
            assert (number, about) in (slips if kind == "slip" else corrected), (slips, corrected)
            noted.add((number, about))
        else:
            where = {"missing": missing, "late": late, "said": said}[kind]
            assert any(rest in i for i in where), (rest, sorted(where))
    assert slips <= noted, f"false alarms: {slips - noted}"


# The finder was tuned on takes of these seeds; the bars are held on the others, which nobody looked at while tuning.
TUNED, HELD_OUT = range(25), range(1000, 1025)
# Workouts that nothing was tuned on.
OTHERS = {
    "gannet": "5 rounds for time, cap 22:00\n  15 kettlebell swings\n  12 push presses, 6 each arm\n  250 m run\n",
    "spindrift": "AMRAP 12:00\n  14 push-ups\n  22 air squats\n  8 burpees\n",
    "lee-shore": "Every 2:00 for 7 rounds\n  16 sit-ups\n  9 box jumps\n  18 mountain climbers, alternating\n",
}


@dataclass
class Counts:
    """What was found in takes: slips whose number is still in the transcript, those whose number is not, dropped lines, alarms."""

    found: int = 0
    planted: int = 0
    garbled_found: int = 0
    garbled: int = 0
    lost_found: int = 0
    lost: int = 0
    false_slips: int = 0
    false_missing: int = 0
    minutes: float = 0.0

    def count(self, made: Made, got: Review, briefed: Briefed) -> None:
        """Count one take. A slip is found where its number is named for its movement at its time."""
        loud = [s for s in got.slips if not s.corrected]
        used: set[int] = set()
        for slip in made.slips:
            name = briefed.plan.movements[slip.movement].name.lower()
            near = [
                i
                for i, s in enumerate(loud)
                if name in s.about and slip.start_ms - 1000 <= s.at_ms <= slip.end_ms + 1000
            ]
            used |= set(near)
            found = any(float(loud[i].said) == slip.said for i in near)
            if slip.heard:
                self.planted, self.found = self.planted + 1, self.found + found
            else:
                self.garbled, self.garbled_found = self.garbled + 1, self.garbled_found + bool(near)
        missing, lost = {x.id for x in got.not_said if x.must}, set(made.dropped)
        self.lost, self.lost_found = self.lost + len(lost), self.lost_found + len(missing & lost)
        self.false_slips += len(loud) - len(used)
        self.false_missing += len(missing - lost)
        self.minutes += made.transcript.end_ms / 60_000

    @property
    def slips(self) -> float:
        """The share of slips found of those that can be found."""
        return self.found / self.planted

    @property
    def dropped(self) -> float:
        """The share of dropped must-say lines found."""
        return self.lost_found / self.lost

    @property
    def false(self) -> float:
        """False alarms in ten minutes of talk: numbers, and lines called not said that were."""
        return 10 * (self.false_slips + self.false_missing) / self.minutes


def measure(error_rate: float, briefings: Mapping[str, Briefed], seeds: Iterable[int]) -> Counts:
    """Make takes of these seeds, each with two slips and two must-say lines dropped, and count what is found."""
    counts = Counts()
    for seed in seeds:
        for briefed in briefings.values():
            made = make_take(briefed.outline, seed, error_rate=error_rate, slips=2, drop=2)
            counts.count(made, hold(briefed, made.transcript), briefed)
    return counts


def brief_others(folder: Path) -> dict[str, Briefed]:
    out = {}
    for name, board in OTHERS.items():
        (folder / f"{name}.md").write_text(f"---\nlength: 9:00\n---\n\n{board}", encoding="utf-8")
        out[name] = brief(folder / f"{name}.md")
    return out


def test_slips_and_dropped_lines_at_a_word_error_rate_of_ten(demos: dict[str, Briefed]) -> None:
    """On takes that were not tuned on. Counted are the slips whose wrong number is still in the transcript (nine of ten)."""
    counts = measure(0.10, demos, HELD_OUT)
    assert counts.planted > 120
    assert counts.slips >= 0.95
    assert counts.dropped >= 0.95
    assert counts.false <= 1.0


def test_the_same_on_workouts_that_were_not_tuned_on(tmp_path: Path) -> None:
    counts = measure(0.10, brief_others(tmp_path), range(1000, 1010))
    assert counts.planted > 45
    assert counts.slips >= 0.95
    assert counts.dropped >= 0.95
    assert counts.false <= 1.0


def test_clean_takes(demos: dict[str, Briefed]) -> None:
    counts = measure(0.0, demos, TUNED)
    assert counts.garbled == 0
    assert counts.slips >= 0.98
    assert counts.dropped == 1.0
    assert counts.false <= 0.5


def test_the_generator_mishears_as_much_as_it_says(demos: dict[str, Briefed]) -> None:
    """Word error rate measured independently, by jiwer."""
    for rate in (0.05, 0.10, 0.20):
        made = make_take(demos["slack-water"].outline, 3, error_rate=rate, paraphrase=0)
        clean = make_take(demos["slack-water"].outline, 3, error_rate=0, paraphrase=0)
        measured = jiwer.wer(clean.clean.lower().replace(".", "").replace(",", ""), made.words.lower().replace(",", ""))
        assert 0.5 * rate <= measured <= 2.5 * rate + 0.05


def test_a_take_as_planned_has_nothing_to_film_again(demos: dict[str, Briefed]) -> None:
    for name in DEMOS:
        made = make_take(demos[name].outline, 1, paraphrase=0)
        got = hold(demos[name], made.transcript)
        assert [x.id for x in got.not_said if x.must] == []
        assert got.again == ()
        chapters = real_chapters(got)
        assert chapters[0][0] == 0
        assert all(a[1] == b[0] for a, b in pairwise(chapters))
        assert len(got.on_screen) >= 3


def test_swapped_segments_are_said_all_the_same(demos: dict[str, Briefed]) -> None:
    outline = demos["slack-water"].outline
    swapped = outline.model_copy(
        update={"segments": (*outline.segments[:4], outline.segments[5], outline.segments[4], *outline.segments[6:])}
    )
    got = hold(demos["slack-water"], make_take(swapped, 2, paraphrase=0).transcript)
    assert [x.id for x in got.not_said if x.must] == []
    assert any(s.moved for s in got.said)


def test_another_take_is_known_as_such(demos: dict[str, Briefed]) -> None:
    words = "[0:00] Today we bake bread. You need flour and water and a little salt, and a warm place. "
    words += "\n".join(
        f"[{n}:00] Knead it for a while and let it rest, and then fold it again with your hands." for n in range(1, 9)
    )
    transcript = read_transcript(Text.of(words, "bread.txt")).value
    assert transcript is not None
    found = review(demos["breakwater"].outline, demos["breakwater"].plan.movements, transcript)
    assert found.value is None
    assert [p.code for p in found.problems] == ["another-take"]


def test_words_and_numbers() -> None:
    def values(text: str) -> list[float]:
        return [t.value for t in text_tokens(text, {}) if t.value is not None]

    assert values("two hundred") == [200]
    assert values("200 meters") == [200]
    assert values("one hundred and twenty squats and ten more") == [120, 10]
    assert values("twenty two point five kilos") == [22.5]
    assert values("twenty, um, two") == [22]
    assert values("one two three") == [1, 2, 3]
    assert values("thirteen seventeen") == [13, 17]
    assert values("one hundred, one hundred twenty seven") == [100, 127]
    assert values("twtnty squats") == [20]


def test_names_are_heard_a_little_off(library: Library) -> None:
    squat = library.get("goblet-squat")
    assert squat is not None
    names = names_of({"goblet-squat": squat})
    for heard in ("goblet squats", "goblit squats", "gob squat", "goblet squad"):
        assert [t.text for t in text_tokens(heard, names)] == ["@goblet-squat"], heard


def test_the_page_and_the_command(tmp_path: Path, demos: dict[str, Briefed]) -> None:
    made = make_take(demos["slack-water"].outline, 5, slips=1, drop=1, paraphrase=0.3)
    got = hold(demos["slack-water"], made.transcript)
    page = review_markdown(got)
    assert "## Film again" in page
    assert "the board says" in page
    assert b"</html>" in review_html(got, Templates((demo_folder().parent.parent / "templates",)))
    folder = tmp_path / "videos"
    run("start", folder)
    (tmp_path / "take.vtt").write_text(write_vtt(made.transcript.cues), encoding="utf-8")
    done = run("review", tmp_path / "take.vtt", folder / "slack-water.md", "--into", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    assert "Speaking pace of this take" in done.stdout
    assert {p.name for p in (tmp_path / "out").glob("[!.]*")} == {
        "review.md",
        "review.html",
        "description.txt",
        "chapters.vtt",
    }
    found = json.loads(run("review", tmp_path / "take.vtt", folder / "slack-water.md", "--json").stdout)
    assert [s["corrected"] for s in found["slips"]].count(False) >= 1
    assert run("review", tmp_path / "nothing.vtt", folder / "slack-water.md").returncode == 1


@given(st.text(alphabet="abcdefgh 0123456789.,", max_size=200))
@settings(max_examples=40, deadline=None)
def test_any_words_at_all_are_reviewed_or_refused(demos_once: dict[str, Briefed], words: str) -> None:
    transcript = read_transcript(Text.of("[0:00] stop " + words, "x.txt")).value
    if transcript is not None:
        found = review(demos_once["long-swell"].outline, demos_once["long-swell"].plan.movements, transcript)
        assert found.value is not None or found.problems


@pytest.fixture(scope="module")
def demos_once(demos: dict[str, Briefed]) -> dict[str, Briefed]:
    return demos


def test_terse_figures_count_as_said(demos: dict[str, Briefed]) -> None:
    """A take of the first segments alone is still a take of this workout, and "cap is 22 minutes" says the cap."""
    words = """[0:00] Slack Water today.
[0:05] If your chest gets tight or you turn dizzy or something hurts sharply, stop and sit down.
[0:14] The workout. Five rounds. Twenty goblet step-ups, ten each leg. Twelve dumbbell push presses, six each arm.
[0:24] Then you run two hundred meters. Between rounds you rest one minute. Cap is twenty two minutes.
"""
    transcript = read_transcript(Text.of(words, "short.txt")).value
    assert transcript is not None
    made = hold(demos["slack-water"], transcript)
    assert made.slips == ()
    workout = {x.card for x in made.not_said if x.must and x.id.startswith("workout/")}
    assert not workout & {"5 rounds", "22:00 cap", "1:00 rest between rounds"}


def test_names_in_captions_are_put_right_on_request(demos: dict[str, Briefed]) -> None:
    words = "[0:00] Five rounds. Twenty goblit step-ups, ten each leg.\n[0:09] Twelve dumbbell push presses, six each arm.\n"
    transcript = read_transcript(Text.of(words, "short.txt")).value
    assert transcript is not None
    made = hold(demos["slack-water"], transcript)
    assert [(m.written, m.name) for m in made.misheard] == [("goblit step-ups", "goblet step-ups")]
    again = read_transcript(Text.of(captions_put_right(transcript, made.misheard), "again.vtt")).value
    assert again is not None
    assert [c.text for c in again.cues] == [c.text.replace("goblit", "goblet") for c in transcript.cues]


LOG = """Slack Water: log of the cards; 0:00:00.0 is 2027-01-05 09:12:44
clock\twhat\tsegment\ttake\tplanned\ttitle
0:00:00.0\tstart\t3\t1\t0:38\tThe workout
0:00:08.0\tagain\t3\t1\t0:38\tThe workout
0:00:10.0\tstart\t3\t2\t0:38\tThe workout
0:00:12.0\tcard\t3\t2\t0:38\t5 rounds
0:00:30.0\tkeep\t3\t2\t0:38\tThe workout
smudge
0:00:32.0\tstart\t2\t1\t0:09\tWhen to stop
0:00:40.5\tkeep\t2\t1\t0:09\tWhen to stop
"""
RECORDING = """[0:05] The workout. Five rounds. Fifteen goblet step-ups, oh no.
[0:15] The workout. Five rounds. Twenty goblet step-ups, ten each leg. Twelve dumbbell push presses, six each arm.
[0:26] Then you run two hundred meters. Between rounds you rest one minute.
[0:37] If your chest feels tight, you turn dizzy, or something hurts sharply, stop and sit down.
[0:46] Was that good? I think it was.
"""


def test_the_log_of_the_cards_says_which_takes_count() -> None:
    kept = read_log(Text.of(LOG, "log.txt"))
    assert [p.code for p in kept.problems] == ["log-line"]
    assert kept.value is not None
    assert [(k.segment, k.start_ms, k.end_ms) for k in kept.value] == [(2, 32_000, 40_500), (3, 10_000, 30_000)]
    transcript = read_transcript(Text.of(RECORDING, "take.txt")).value
    assert transcript is not None
    made = cut(transcript, kept.value, 5_000)
    assert made is not None
    assert [c.text.split(".")[0].split(",")[0] for c in made.cues] == [
        "If your chest feels tight",
        "The workout",
        "Then you run two hundred meters",
    ]
    assert made.cues[1].start_ms == 8_500 + 500
    assert cut(transcript, kept.value, 5_000_000) is None
    assert [p.code for p in read_log(Text.of("a\nb\n", "log.txt")).problems] == ["nothing-kept"]


def test_a_review_with_a_log_on_the_command_line(tmp_path: Path) -> None:
    (tmp_path / "take.txt").write_text(RECORDING, encoding="utf-8")
    (tmp_path / "log.txt").write_text(LOG, encoding="utf-8")
    file = str(demo_folder() / "slack-water.md")
    args = ["review", str(tmp_path / "take.txt"), file, "--log", str(tmp_path / "log.txt"), "--log-starts"]
    done = run(*args, "0:05", "--into", str(tmp_path / "out"), "--names")
    assert done.returncode == 0
    assert "15" not in done.stdout.partition("## Not said")[0]
    assert {p.name for p in (tmp_path / "out").glob("[!.]*")} == {
        "review.md",
        "review.html",
        "chapters.vtt",
        "description.txt",
        "captions.vtt",
    }
    assert run(*args, "later").returncode == 2
    nothing = run(*args, "59:00")
    assert nothing.returncode == 1
    assert "nothing is said in the takes that were kept" in nothing.stderr + nothing.stdout


def test_the_description_has_the_takes_own_times(demos: dict[str, Briefed]) -> None:
    briefed = demos["slack-water"]
    made = make_take(briefed.outline, 5)
    got = hold(briefed, made.transcript)
    templates = Templates((demo_folder().parent.parent / "templates",))
    text = description_of_take(got, briefed.outline, briefed.plan.movements, templates)
    chapters = text.partition("CHAPTERS\n")[2].partition("\n\n")[0].splitlines()
    assert [c.partition(" ")[2] for c in chapters] == [s.title for s in briefed.outline.segments]
    planned = [f"{s.start_tenths // 600}:{s.start_tenths // 10 % 60:02d}" for s in briefed.outline.segments]
    assert [c.partition(" ")[0] for c in chapters] != planned
    first = briefed.outline.segments[4].lines[0]
    said = next(s for s in got.said if s.line.id == first.id)
    assert f"{said.start_ms // 60_000}:{said.start_ms // 1000 % 60:02d} {briefed.outline.segments[4].title}" in chapters


def test_a_recorded_video_is_held_against_what_was_frozen(tmp_path: Path) -> None:
    folder = tmp_path / "videos"
    folder.mkdir()
    board = "---\ntitle: Gannet\n---\n\n3 rounds for time, cap 12:00\n  {n} goblet squats\n  10 push-ups\n"
    (folder / "gannet.md").write_text(board.format(n=20), encoding="utf-8")
    (folder / "series.md").write_text(
        "---\ntitle: Sea birds\nvideos:\n  - {workout: gannet.md, recorded: 2027-01-10}\n---\n", encoding="utf-8"
    )
    take = make_take(brief(folder / "gannet.md").outline, 3, paraphrase=0)
    (tmp_path / "take.vtt").write_text(write_vtt(take.transcript.cues), encoding="utf-8")

    def slips() -> tuple[str, list[tuple[str, str]]]:
        done = run("review", tmp_path / "take.vtt", folder / "gannet.md", "--json")
        assert done.returncode == 0, done.stderr
        found = json.loads(done.stdout)
        return found["against"], [(s["said"], s["board"]) for s in found["slips"]]

    assert slips() == ("Recorded 2027-01-10, and not built since: held against the plan of now.", [])
    assert run("build", folder, "--only", "script").returncode == 0
    (folder / "gannet.md").write_text(board.format(n=24), encoding="utf-8")
    against, found = slips()
    assert against == "Held against what was planned when it was recorded, 2027-01-10."
    assert found == []
    wrong = write_vtt(
        [
            c.model_copy(
                update={"text": c.text.replace("Twenty goblet", "24 goblet").replace("twenty goblet", "24 goblet")}
            )
            for c in take.transcript.cues
        ]
    )
    (tmp_path / "take.vtt").write_text(wrong, encoding="utf-8")
    assert ("24", "20") in slips()[1]


def test_what_was_said_wrong_is_filmed_again_and_not_called_missing(demos: dict[str, Briefed]) -> None:
    for briefed in demos.values():
        lines = {x.id: x for x in briefed.outline.lines}
        for seed in range(4):
            made = make_take(briefed.outline, seed, slips=2)
            got = hold(briefed, made.transcript)
            again = [sentence for a in got.again for sentence in a.sentences]
            assert sorted(again) == sorted(lines[f"workout/1/{s.movement}"].text for s in made.slips)
            assert all(a.by_text for a in got.again)
            assert [x.id for x in got.not_said if x.must] == []


def test_the_frozen_lines_are_put_back(demos: dict[str, Briefed]) -> None:
    """Then a safety note stood there that is gone now, another line said something else, and one was not planned yet."""
    now = demos["slack-water"].outline
    gone, changed, new = (
        "run/safety/see-your-way",
        "workout/1/goblet-step-up",
        "run/safety/walk-it-off",
    )
    kept = freeze(now, ())
    texts = {i: t for i, t in kept.lines.items() if i != new} | {changed: "Sixteen goblet step-ups, so eight each leg."}
    then = kept.model_copy(update={"lines": texts})
    without = now.model_copy(
        update={
            "segments": tuple(
                s.model_copy(update={"lines": tuple(x for x in s.lines if x.id != gone)}) for s in now.segments
            )
        }
    )
    made = as_recorded(without, then)
    assert {x.id: x.text for x in made.lines} == texts
    lines = {x.id: x for x in made.lines}
    assert lines[gone].must
    figure = lines[changed].figure
    assert figure is not None
    assert (figure.number, figure.label) == ("16", "goblet step-ups")
    assert [x.id for x in made.segments[0].lines] == [x.id for x in now.segments[0].lines]
    assert gone in {x.id for s in made.segments if s.title == "Run" for x in s.lines}
    as_kept = kept.model_copy(update={"lines": dict(sorted(kept.lines.items()))})
    assert as_recorded(now, as_kept).lines == now.lines
