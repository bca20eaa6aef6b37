"""What goes wrong ends in one sentence, with the coach's files as they were: odd names, odd files, a machine that says no."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from briefing.cli import watch as watching
from briefing.cli.build import BUILT, Wish, build_all
from briefing.cli.trouble import said_of
from briefing.problems import Stop
from briefing.settings.reading import ENTRIES, read_series, read_settings
from briefing.sources.head import MOST_HEAD, read_head
from briefing.sources.text import MOST_LINE, Text, read_text
from briefing.take.kept import read_log
from tests import wild
from tests.test_cli import GOOD, run

needs_posix = pytest.mark.skipif(not hasattr(os, "geteuid"), reason="needs a POSIX system")
ONLY = Wish(only=("script", "filming"))


def one_code(head: str) -> str:
    found, problems = read_head(Text.of(f"---\n{head}\n---\nFor time\n", "a.md"))
    del found
    assert len(problems) == 1, problems
    place = problems[0].place
    assert place is not None
    assert 1 <= place.line <= head.count("\n") + 3
    return problems[0].code


@pytest.mark.parametrize(
    ("head", "code"),
    [
        ("a1: &1 [x, x]\na2: &2 [*1, *1, *1, *1, *1, *1, *1, *1]\na3: [*2, *2, *2, *2, *2, *2, *2, *2]", "head-refused"),
        ("it's: &a [x]\nb: [it's, *a, it's]", "head-refused"),
        ("a: &é x\nb: *é", "head-refused"),
        ("? &1 a\n: b", "head-refused"),
        ("a: !1 b", "head-refused"),
        ("- " * 3000, "head-unreadable or head-too-deep"),
        ("a: " + "[" * 400 + "]" * 400, "head-too-deep"),
        (f"a: |\n{' x' * 30}\n" + "\n".join("  long" * 100 for _ in range(MOST_HEAD // 500)), "head-too-long"),
        ('a: "b\\x07c"', "control-character"),
        ('a: "b\\x1bc"', "control-character"),
        ('a: "b\\0c"', "control-character"),
        ('a: "b\\ud800c"', "control-character"),
        ('a: "b\\ufffec"', "control-character"),
        ('a: "b\\u202ec"', "control-character"),
        ('"a\\x07": b', "control-character"),
        ('a: [x, "b\\x07"]', "control-character"),
        ('a: "\\U99999999"', "head-unreadable"),
        ("%YAML 99999999999999999999999999999.1\na: b", "head-unreadable"),
    ],
    ids=lambda text: str(text)[:30],
)  # fmt: skip
def test_a_head_holds_nothing_that_grows_and_nothing_that_no_document_shows(head: str, code: str) -> None:
    assert one_code(head) in code.split(" or ")


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\u0085", "\u202e", "\u2066", "\ufffe", "\uffff", "\ufdd0"])
def test_no_text_turns_its_direction_or_steers_the_terminal(sign: str, tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    path.write_text(f"For time\n  20 bur{sign}pees\n", encoding="utf-8")
    (problem,) = read_text(path).problems
    assert problem.code == "control-character"
    assert problem.place is not None
    assert (problem.place.line, problem.place.column) == (2, 9)


def test_a_line_has_a_longest_length_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    path.write_text("For time\n  20 burpees" + ", a" * MOST_LINE + "\n", encoding="utf-8")
    (problem,) = read_text(path).problems
    assert problem.code == "line-too-long"
    assert "5,000 are the most" in problem.message
    assert read_text(path, anywhere=True).value is not None


@pytest.mark.parametrize("segment", ["²", "٣", "9" * 5000, "-1", ""])
def test_a_segment_of_a_log_is_a_plain_number(segment: str) -> None:
    log = f"title\ncolumns\n0:00:01.0\tstart\t{segment}\n0:00:02.0\tkeep\t{segment}\n"
    assert {p.code for p in read_log(Text.of(log, "log.txt")).problems} == {"log-line", "nothing-kept"}


@needs_posix
def test_one_odd_name_does_not_stop_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "day.md").write_text(GOOD, encoding="utf-8")
    (tmp_path / "movements").mkdir()
    odd = os.fsdecode(b"caf\xe9.md")
    for path in (tmp_path / odd, tmp_path / "movements" / odd):
        path.write_text(GOOD, encoding="utf-8")
    (tmp_path / "\x1b[31mred\u202e.md").write_text(GOOD, encoding="utf-8")
    os.mkfifo(tmp_path / "pipe.md")
    (tmp_path / "lost.md").symlink_to(tmp_path / "nowhere.md")
    build_all(tmp_path, tmp_path, tmp_path / BUILT, ONLY)
    said = capsys.readouterr()
    assert "a name that is no text here" in said.err
    assert "pipe.md" in said.err
    assert "lost.md" in said.err
    assert all(c.isprintable() or c == "\n" for c in said.err + said.out)
    assert (tmp_path / BUILT / "day" / "script.md").is_file()


@needs_posix
@pytest.mark.parametrize("name", [b"caf\xe9.md", b"x" * 300 + b".md", b"x" * 300, b"a\x1bb.md", b"loop.md", b"pipe.md"])
@pytest.mark.parametrize("command", ["build", "check"])
def test_a_name_that_no_file_has_is_said_in_a_sentence(name: bytes, command: str, tmp_path: Path) -> None:
    (tmp_path / "loop.md").symlink_to(tmp_path / "loop.md")
    os.mkfifo(tmp_path / "pipe.md")
    done = run(command, os.fsdecode(name), cwd=tmp_path)
    assert done.returncode in (1, 2), done.stderr
    assert done.stderr.strip()
    assert all(c.isprintable() or c == "\n" for c in done.stderr)


@needs_posix
def test_a_folder_whose_own_name_is_no_text(tmp_path: Path) -> None:
    folder = tmp_path / os.fsdecode(b"caf\xe9")
    folder.mkdir()
    (folder / "day.md").write_text(GOOD, encoding="utf-8")
    done = run("build", ".", "--only", "script", cwd=folder)
    assert done.returncode == 0, done.stderr
    assert run("build", folder, "--only", "script").returncode == 1


def test_a_long_name_for_a_movement_is_said(tmp_path: Path) -> None:
    done = run("movement", "new", "x" * 300, "--in", tmp_path)
    assert done.returncode in (1, 2)
    assert "too long" in done.stderr
    assert not (tmp_path / "movements").exists() or not list((tmp_path / "movements").iterdir())


def test_a_bug_is_one_sentence_even_where_nothing_can_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words, status = said_of(ZeroDivisionError("ours"))
    assert status == 3
    log = Path(words.rsplit(" ", maxsplit=1)[-1])
    assert "ZeroDivisionError: ours" in log.read_text(encoding="utf-8")
    log.unlink()

    def nowhere(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tempfile.NamedTemporaryFile", nowhere)
    assert said_of(ZeroDivisionError("ours")) == (
        "something is wrong in briefing itself; there is no place to write down what happened", 3
    )  # fmt: skip
    assert said_of(OSError(28, "No space left on device", str(tmp_path / "a.md")))[1] == 3
    assert said_of(OSError(36, "File name too long", "x" * 300)) == (
        f'this name is too long for a file: "{"x" * 40}…{"x" * 20}"', 1
    )  # fmt: skip
    assert said_of(MemoryError())[1] == 3


def test_watching_goes_on_whatever_happens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for error in (OSError(28, "No space left on device"), ZeroDivisionError("ours"), Stop([])):

        def breaks(*_: object, error: Exception = error) -> bool:
            raise error

        monkeypatch.setattr(watching, "build_all", breaks)
        assert not watching._build(tmp_path)
    assert "no space left on device" in capsys.readouterr().err
    monkeypatch.setattr(watching, "build_all", lambda *_: True)
    assert watching._build(tmp_path)


@needs_posix
@pytest.mark.parametrize(
    "broken", ["cache is a file", "cache is closed", "record is a folder", "state is a file", "built is a file"]
)
def test_broken_places_end_in_a_sentence_and_the_coachs_files_stay(
    broken: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, cache = tmp_path / "videos", tmp_path / "cache"
    folder.mkdir()
    (folder / "day.md").write_text(GOOD, encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    match broken:
        case "cache is a file":
            cache.write_text("", encoding="utf-8")
        case "cache is closed":
            (cache / "briefing").mkdir(parents=True)
            (cache / "briefing").chmod(0o000)
        case "record is a folder":
            (folder / ".briefing" / "built.json").mkdir(parents=True)
        case "state is a file":
            (folder / ".briefing").write_text("", encoding="utf-8")
        case _:
            (folder / BUILT).write_text("mine", encoding="utf-8")
    done = run("build", folder, "--only", "script")
    assert done.returncode == (0 if broken.startswith("cache") else 3), done.stderr
    assert (folder / "day.md").read_text(encoding="utf-8") == GOOD
    assert not broken.startswith("built") or (folder / BUILT).read_text(encoding="utf-8") == "mine"
    assert not list(folder.rglob("*.part"))


def test_a_reader_that_goes_away_is_no_trouble(tmp_path: Path) -> None:
    path = tmp_path / "day.md"
    path.write_text(GOOD, encoding="utf-8")
    command = f"{sys.executable} -m briefing outline {path} | head -1"
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
    done = subprocess.run(command, shell=True, capture_output=True, text=True, check=False, env=env)  # noqa: S602
    assert "Traceback" not in done.stderr
    assert "Exception" not in done.stderr


SERIES_KEYS = ("full_again_weeks", "videos", *(e.key for e in ENTRIES))
WILD = (*wild._NUMBERS, *wild._HUGE, *wild._ODD, "9" * 4000 + "%", "1:" + "9" * 4000, "9" * 400 + " m", f"[{'9' * 400} dumbbells]",
        f"{{a: {'9' * 400}}}",
        f"{'9' * 400} x {'9' * 400} mm", f"about {'9' * 400}:00", f"{'9' * 400}:00, steady",
        "[[a]]", "{a: [b]}", "[{a: b}]", "''", "~", "null")  # fmt: skip


@pytest.mark.parametrize("key", SERIES_KEYS)
def test_any_value_of_an_entry_is_read_or_refused(key: str) -> None:
    for value in WILD:
        text = Text.of(f"---\n{key}: {value}\n---\nFor time\n", "series.md")
        assert all(p.message for p in read_series(text).problems)
        found, _ = read_head(text)
        read_settings(found, "workout")
    for entry in ("workout", "kind", "date", "recorded", "new_people"):
        for value in WILD:
            read_series(Text.of(f"---\nvideos:\n  - {{workout: a.md, {entry}: {value}}}\n---\n", "series.md"))


@pytest.mark.parametrize(
    "words",
    [
        ["say", "x", "--pace", "nan"],
        ["say", "x", "--pace", "inf"],
        ["outline", "day.md", "--length", "9" * 5000 + ":00"],
        ["pace", "x.vtt", "--talk", "²:00-1:00"],
        ["pace", "x.vtt", "--log-starts", "x"],
        ["series", ".", "--page", ""],
        ["clock", "day.md", "--svg", ""],
        ["clock", "day.md", "--svg", ".."],
        ["movements", "x" * 5000],
        ["movement", "new", "a\x07b"],
        ["review", "x.vtt", "day.md", "--into", ""],
    ],
    ids=lambda words: " ".join(words)[:30],
)
def test_an_odd_option_is_a_sentence(words: list[str], tmp_path: Path) -> None:
    (tmp_path / "day.md").write_text(GOOD, encoding="utf-8")
    (tmp_path / "series.md").write_text("---\ntitle: T\nvideos: [day.md]\n---\n", encoding="utf-8")
    before = {p: p.read_bytes() for p in tmp_path.iterdir()}
    done = run(*words, cwd=tmp_path)
    assert done.returncode in (1, 2), done.stderr
    assert done.stderr.strip()
    assert {p: p.read_bytes() for p in tmp_path.iterdir()} == before


def test_nothing_of_a_folder_leads_out_in_any_command(tmp_path: Path) -> None:
    """A link in place of the folder that a command writes into: a sentence, and nothing written."""
    elsewhere, folder = tmp_path / "elsewhere", tmp_path / "theirs"
    elsewhere.mkdir()
    folder.mkdir()
    (folder / "day.md").write_text(GOOD, encoding="utf-8")
    for name in ("built", ".briefing", "movements", "review"):
        (folder / name).symlink_to(elsewhere, target_is_directory=True)
    asked: tuple[tuple[str | Path, ...], ...] = (
        ("build", folder),
        ("movement", "new", "Tide squat", "--in", folder),
        ("clock", folder / "day.md", "--svg", folder / "review" / "a.svg"),
    )
    for words in asked:
        done = run(*words)
        assert done.returncode == 1, (words, done.stderr)
        assert "leads out" in done.stderr
        assert list(elsewhere.iterdir()) == []
