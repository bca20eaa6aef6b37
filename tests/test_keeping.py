"""What a coach wrote stays, whichever command is told to write there; what is recorded is frozen."""

from __future__ import annotations

import html
import re
from pathlib import Path
from urllib.parse import unquote

import pytest

from briefing.cli.build import BUILT, Wish, build_all
from briefing.pipeline import brief, coach_folder
from briefing.settings.pace_file import PACE_FILE, OwnWords, PaceRecord, own_words, write_pace
from briefing.sources.folders import built_in
from briefing.sources.text import Text
from briefing.take.transcript import write_vtt
from briefing.write.documents import DOCUMENTS
from briefing.write.index import IndexRow, index_html
from briefing.write.templates import Templates
from tests.taking import make_take
from tests.test_cli import run

DAY = "---\ntitle: Gannet\n---\n\n3 rounds for time, cap 12:00\n  {n} goblet squats\n  10 push-ups\n"
ONLY = Wish(only=("script", "description"))


def build(path: Path, wish: Wish = ONLY) -> bool:
    folder = path if path.is_dir() else coach_folder(path)
    return build_all(path, folder, folder / BUILT, wish)


def script_of(folder: Path, name: str = "gannet") -> str:
    return (folder / BUILT / name / "script.md").read_text(encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "videos"
    made.mkdir()
    (made / "gannet.md").write_text(DAY.format(n=20), encoding="utf-8")
    return made


def series(folder: Path, *videos: str) -> None:
    lines = "".join(f"  - {video}\n" for video in videos)
    (folder / "series.md").write_text(f"---\ntitle: Sea birds\nvideos:\n{lines}---\n\nMy notes.\n", encoding="utf-8")


def test_no_option_replaces_what_a_coach_wrote(folder: Path) -> None:
    series(folder, "gannet.md")
    before = {p: p.read_bytes() for p in folder.iterdir()}
    done = run("clock", folder / "gannet.md", "--svg", folder / "gannet.md")
    assert done.returncode == 0
    assert "gannet.new.md" in done.stderr
    assert run("series", folder, "--page", folder / "series.md").returncode == 0
    assert {p: p.read_bytes() for p in before} == before
    # And what stands beside them is no workout of the folder.
    (folder / "series.md").unlink()
    checked = run("check", folder)
    assert checked.stdout.startswith("1 file checked"), checked.stdout + checked.stderr


def test_a_picture_that_is_ours_is_drawn_again(folder: Path) -> None:
    svg = folder / "clock.svg"
    assert run("clock", folder / "gannet.md", "--svg", svg).returncode == 0
    first = svg.read_bytes()
    (folder / "gannet.md").write_text(DAY.format(n=30), encoding="utf-8")
    done = run("clock", folder / "gannet.md", "--svg", svg)
    assert svg.read_bytes() != first
    assert "stays" not in done.stderr


def test_a_review_replaces_neither_captions_nor_edits(folder: Path) -> None:
    take = make_take(brief(folder / "gannet.md").outline, 3, paraphrase=0)
    captions = folder / "captions.vtt"
    captions.write_text(write_vtt(take.transcript.cues), encoding="utf-8")
    was = captions.read_bytes()
    done = run("review", captions, folder / "gannet.md", "--into", folder, "--names")
    assert done.returncode == 0, done.stderr
    assert captions.read_bytes() == was
    # Another take, with the first one's captions still there under the name that --names writes.
    other = folder.parent / "other.vtt"
    other.write_text(write_vtt(take.transcript.cues[5:]), encoding="utf-8")
    done = run("review", other, folder / "gannet.md", "--into", folder, "--names")
    assert captions.read_bytes() == was
    assert "captions.new.vtt" in done.stderr
    into = folder / BUILT / "gannet"
    assert build(folder)
    (into / "description.txt").write_text("mine", encoding="utf-8")
    assert run("review", captions, folder / "gannet.md", "--into", into).returncode == 0
    assert (into / "description.txt").read_text(encoding="utf-8") == "mine"
    (into / "review.md").write_text("my thoughts", encoding="utf-8")
    done = run("review", captions, folder / "gannet.md", "--into", into)
    assert (into / "review.md").read_text(encoding="utf-8") == "my thoughts"
    assert "you edited" in done.stderr


def test_notes_around_the_pace_stay_where_they_are(folder: Path) -> None:
    """Above the table, between its rows, below it; writing again changes nothing more."""
    record = PaceRecord(file="a.vtt", date="2027-01-01", talk_s=120.0, base_s=100.0)
    page = write_pace([record])
    head, row = page.rsplit("| a.vtt", 1)
    mine = head.replace("| recording", "I had a cold in March.\n\n* filmed early\n\n| recording")
    mine += "Between.\n| a.vtt" + row + "\nBelow.\n"
    own = own_words(Text.of(mine, PACE_FILE))
    assert own == OwnWords(above=("I had a cold in March.", "", "* filmed early"), below=("Between.", "", "Below."))
    again = write_pace([record], own)
    assert own_words(Text.of(again, PACE_FILE)) == own
    for words in ("I had a cold in March.", "* filmed early", "Between.", "Below."):
        assert again.count(words) == 1
    (folder / PACE_FILE).write_text(mine, encoding="utf-8")
    done = run("pace", "--in", folder, "--remove", "a.vtt")
    assert done.returncode == 0, done.stderr
    kept = (folder / PACE_FILE).read_text(encoding="utf-8")
    for words in ("I had a cold in March.", "* filmed early", "Between.", "Below."):
        assert words in kept


def test_a_recorded_video_is_left_alone_when_its_file_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    series(folder, "{workout: gannet.md}")
    assert build(folder)
    was = script_of(folder)
    series(folder, "{workout: gannet.md, recorded: 2027-01-10}")
    (folder / "gannet.md").write_text(DAY.format(n=24), encoding="utf-8")
    for path in (folder / "gannet.md", folder):
        for wish in (ONLY, Wish(only=("script",), everything=True)):
            assert build(path, wish)
            assert script_of(folder) == was
    said = capsys.readouterr()
    assert said.out.count("left as it is") == 4
    # What was filmed is what was built then, though `recorded:` was set together with a change.
    assert said.err.count("recorded-words") + said.err.count("its words are others now") >= 1


def test_what_was_recorded_is_what_was_built_last(folder: Path) -> None:
    series(folder, "{workout: gannet.md}")
    assert build(folder)
    (folder / "gannet.md").write_text(DAY.format(n=24), encoding="utf-8")
    series(folder, "{workout: gannet.md, recorded: 2027-01-10}")
    assert build(folder)
    kept = (folder / ".briefing" / "recorded" / "gannet.json").read_text(encoding="utf-8")
    assert "Twenty goblet squats" in kept
    assert "Twenty-four goblet squats" not in kept


@pytest.mark.parametrize("broken", ["{", "[]", '{"lines": {"a": "b"}, "segments": {}}', "\udcff"])
def test_a_recorded_video_of_which_nothing_is_known_is_left_alone(
    broken: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    series(folder, "{workout: gannet.md, recorded: 2027-01-10}")
    assert build(folder)
    was = script_of(folder)
    kept = folder / ".briefing" / "recorded" / "gannet.json"
    kept.write_bytes(broken.encode(errors="surrogateescape"))
    (folder / "gannet.md").write_text(DAY.format(n=24), encoding="utf-8")
    assert build(folder)
    assert script_of(folder) == was
    assert "what it said then was not kept" in capsys.readouterr().err


def test_a_recorded_video_that_was_never_built_is_built_once(folder: Path) -> None:
    series(folder, "{workout: gannet.md, recorded: 2027-01-10}")
    assert build(folder)
    was = script_of(folder)
    (folder / "gannet.md").write_text(DAY.format(n=24), encoding="utf-8")
    assert build(folder)
    assert script_of(folder) == was


def test_the_file_that_is_named_is_the_file_that_is_built(folder: Path) -> None:
    """Not another of its name: in a folder below the series, with another ending, in the series' own list."""
    (folder / "sub").mkdir()
    (folder / "sub" / "gannet.md").write_text(DAY.format(n=7).replace("Gannet", "Young gannet"), encoding="utf-8")
    (folder / "gannet.txt").write_text(DAY.format(n=5).replace("Gannet", "Plain gannet"), encoding="utf-8")
    series(folder, "gannet.md", "sub/gannet.md")
    assert build(folder / "sub" / "gannet.md")
    assert build(folder / "gannet.txt")
    assert build(folder / "gannet.md")
    assert script_of(folder, "gannet").startswith("# Gannet")
    assert script_of(folder, "sub/gannet").startswith("# Young gannet")
    assert script_of(folder, "gannet.txt").startswith("# Plain gannet")
    assert build(folder, Wish(only=("script", "description"), everything=True))
    assert script_of(folder, "sub/gannet").startswith("# Young gannet")
    assert script_of(folder, "gannet").startswith("# Gannet")


@pytest.mark.parametrize("name", ["..", "../other.md", "/etc/passwd", ".briefing/x.md", "a\\b.md", "x" * 300 + ".md"])
def test_a_video_lies_in_its_folder(name: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder.parent / "other.md").write_text(DAY.format(n=20), encoding="utf-8")
    series(folder, f"'{name}'")
    before = set(folder.parent.rglob("*"))
    assert not build(folder)
    assert set(folder.parent.rglob("*")) == before
    assert "series.md" in capsys.readouterr().err


def test_two_workouts_never_share_a_folder_of_documents(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "gannet-short.md").write_text(DAY.format(n=7), encoding="utf-8")
    assert build(folder)
    was = script_of(folder, "gannet-short")
    assert not build(folder / "gannet.md", Wish(only=("script",), short=True))
    assert "gannet-short.md" in capsys.readouterr().err
    assert script_of(folder, "gannet-short") == was


@pytest.mark.parametrize(
    "name",
    [
        "Slack Water",
        "a|b",
        "a[b](c)",
        "100%",
        "no #1",
        "why?",
        "<b>",
        "it's",
        'a"b',
        "ä",
        "a_b*c",
        "x&amp;y",
        "sub/x",
        "a>b",
    ],
)
def test_odd_names_have_links_that_lead_somewhere(name: str) -> None:
    rows = [IndexRow(name=name, kind="briefing", title=name)]
    page = index_html(rows, None, Templates((built_in("templates"),))).decode()
    links = [unquote(html.unescape(link)) for link in re.findall(r'href="([^"]+)"', page)]
    assert f"{name}/script.md" in links
    assert len(links) == len(DOCUMENTS) - 1
    assert page.count("<td>") == 6


def test_a_workout_with_errors_stays_on_the_index_page(folder: Path) -> None:
    assert build(folder, Wish())
    (folder / "gannet.md").write_text("For time\n  soon\n", encoding="utf-8")
    (folder / "petrel.md").write_text(DAY.format(n=9), encoding="utf-8")
    assert not build(folder, Wish())
    page = (folder / BUILT / "index.html").read_text(encoding="utf-8")
    assert "Gannet" in page
    assert "not built: 1 error" in page
    assert 'href="gannet/outline.html"' in page


def test_how_a_folder_is_spelled_builds_nothing_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert build(folder)
    monkeypatch.chdir(folder)
    for path in (Path(), Path("../videos"), folder.resolve()):
        capsys.readouterr()
        assert build(path)
        assert "nothing has changed" in capsys.readouterr().out


def test_what_goes_elsewhere_leaves_the_coachs_folder_alone(folder: Path) -> None:
    """Also its record: the folder may be one that cannot be written in."""
    elsewhere = folder.parent / "elsewhere"
    before = sorted(folder.rglob("*"))
    for n in (20, 30):
        (folder / "gannet.md").write_text(DAY.format(n=n), encoding="utf-8")
        done = run("clock", folder / "gannet.md", "--svg", elsewhere / "clock.svg")
        assert done.returncode == 0, done.stderr
        assert "stays" not in done.stderr
    assert sorted(folder.rglob("*")) == before
    (elsewhere / "clock.svg").write_text("mine", encoding="utf-8")
    run("clock", folder / "gannet.md", "--svg", elsewhere / "clock.svg")
    assert (elsewhere / "clock.svg").read_text(encoding="utf-8") == "mine"
