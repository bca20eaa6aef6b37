"""A template from somebody else: it sees values, calls next to nothing, reads nothing else, and comes to an end."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from briefing.cli.build import BUILT, Wish, build_all
from briefing.pipeline import Briefed
from briefing.problems import Stop
from briefing.sources.folders import built_in
from briefing.write.documents import DOCUMENTS, Form, Given, write_document
from briefing.write.templates import MOST_BARS, MOST_SIGNS, MOST_TEMPLATE, MOST_WORD, MOST_WRITTEN, Templates

GOOD = "---\nkit: [1 dumbbell]\n---\n3 rounds for time, cap 12:00\n  10 goblet squats\n  10 push-ups\n"


@pytest.fixture
def values(demos: dict[str, Briefed]) -> dict[str, object]:
    outline = demos["breakwater"].outline
    return {"title": "T", "segments": outline.segments, "big": "x" * 500_000, "numbers": [1, 2, 3], "given": str.upper}


def fill(template: str, values: dict[str, object], folder: Path, kind: str = "md") -> str:
    (folder / f"script.{kind}").write_text(template, encoding="utf-8")
    return Templates((folder, built_in("templates"))).fill(f"script.{kind}", values)


def refused(template: str, values: dict[str, object], folder: Path, kind: str = "md") -> str:
    with pytest.raises(Stop) as stop:
        fill(template, values, folder, kind)
    (problem,) = stop.value.problems
    assert problem.place is not None
    assert problem.place.file == str(folder / f"script.{kind}")
    assert "Traceback" not in problem.message
    return problem.message


@pytest.mark.parametrize(
    "reach",
    [
        "cycler.__init__.__globals__.os.popen('touch PWNED').read()",
        "title.__class__",
        "title['__class__']",
        "''.__class__.__mro__[-1].__subclasses__()",
        "segments[0].__class__",
        "numbers | map(attribute='__class__') | first",
        "numbers | sort(attribute='__class__')",
        "segments[0].parse_file('/etc/passwd')",
        "segments[0].parse_raw('x', proto='pickle', allow_pickle=True)",
        "segments[0].model_dump()",
        "segments[0].model_fields",
        "segments[0].lines[0].model_copy(update={})",
        "'{0.__class__}'.format(title)",
        "'{0.__class__}'.format_map({'0': title})",
        "lipsum.__globals__",
        "joiner()",
        "namespace(a=1)",
        "self.__init__",
        "numbers.append(4)",
        "title | attr('__class__')",
        "range.__self__",
    ],
)
@pytest.mark.parametrize("kind", ["md", "html", "txt"])
def test_nothing_inside_python_can_be_reached(reach: str, kind: str, tmp_path: Path, values: dict[str, object]) -> None:
    refused("{{ " + reach + " }}", values, tmp_path, kind)
    assert not Path("PWNED").exists()


@pytest.mark.parametrize(
    "endless",
    [
        "{% for x in range(10 ** 10) %}a{% endfor %}",
        "{% for x in range(90000) %}{% for y in range(90000) %}a{% endfor %}{% endfor %}",
        "{% for x in range(90000) %}{% for y in range(90000) if false %}a{% endfor %}{% endfor %}",
        "{% for x in range(90000) recursive %}{{ loop(range(90000)) }}{% endfor %}",
        "{% macro f(n) %}{% if n %}{{ f(n - 1) }}{{ f(n - 1) }}{% endif %}{% endmacro %}{{ f(60) }}",
        "{% macro f(n) %}{{ f(n) }}{% endmacro %}{{ f(1) }}",
        "{% macro f(n, x) %}{% if n %}{{ f(n - 1, [x, x]) }}{% endif %}{% endmacro %}{{ f(60, 1) }}",
        "{% macro f(n, x) %}{% if n %}{{ f(n - 1, x ~ x) }}{% endif %}{% endmacro %}{{ f(60, 'a') }}",
        "{% macro f(n, x) %}{% if n %}{{ f(n - 1, x + x) }}{% endif %}{% endmacro %}{{ f(60, 'a') }}",
        "{% macro f(n, x) %}{% if n %}{{ f(n - 1, x * x) }}{% endif %}{% endmacro %}{{ f(60, 9) }}",
        "{{ 'a' * 10 ** 9 }}",
        "{{ 10 ** 10 ** 10 }}",
        "{{ '%1000000000d' % 1 }}",
        "{{ '{:1000000000}'.format(1) }}",
        "{{ 'a'.ljust(1000000000) }}",
        "{{ 'a' | center(1000000000) }}",
        "{{ big | replace('x', big) }}",
        "{{ numbers | join(big ~ big) | length }}{{ range(90000) | join(big) }}",
        "{% for x in range(90000) %}{{ big == big[1:] }}{% endfor %}",
        "{% for x in range(90000) %}{{ 'y' in big }}{% endfor %}",
        "{% for x in range(90000) %}{{ big[1:] | length }}{% endfor %}",
        "{% for x in range(90000) %}{{ big }}{% endfor %}",
        "{% for x in range(90000) %}" + "{{ 1 }}" * 10_000 + "{% endfor %}",
        "{% for x in range(90000) %}" + "word " * 10_000 + "{% endfor %}",
        "{% set x %}" + "{% for i in range(9) %}" * 15 + "abc" + "{% endfor %}" * 15 + "{% endset %}",
        "{% include 'script.md' %}",
        "{% extends 'script.md' %}",
        "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}",
        "{{ " + "1+" * 20_000 + "1 }}",
        "{% if 1 %}" * 300 + "{% endif %}" * 300,
        "a" * (MOST_TEMPLATE + 1),
        "{{ big }}",
        "word " * (MOST_WRITTEN // 5 + 1),
        "{% for x in range(5000) %}- x\n{% endfor %}",
        "a" * (MOST_WORD + 1),
        "|" * (MOST_BARS + 1),
        "<a " * (MOST_SIGNS + 1),
    ],
    ids=lambda text: text[:40],
)
def test_every_template_comes_to_an_end(endless: str, tmp_path: Path, values: dict[str, object]) -> None:
    """Nothing here measures time: without the meter each of these runs for hours, or out of memory."""
    refused(endless, values, tmp_path)


@pytest.mark.parametrize(
    "slip", ["{{ 1 / 0 }}", "{{ title + 1 }}", "{{ numbers | sum(attribute='x') }}", "{{ -title }}"]
)
def test_what_goes_wrong_in_a_template_is_a_problem_at_its_line(
    slip: str, tmp_path: Path, values: dict[str, object]
) -> None:
    with pytest.raises(Stop) as stop:
        fill(f"\n\n{slip}\n", values, tmp_path)
    (problem,) = stop.value.problems
    assert problem.place is not None
    assert problem.place.line == 3


def test_a_slip_in_an_included_template_is_named_there(tmp_path: Path, values: dict[str, object]) -> None:
    (tmp_path / "part.md").write_text("one\n{{ 1 / 0 }}\n", encoding="utf-8")
    with pytest.raises(Stop) as stop:
        fill("a\nb\n{% include 'part.md' %}\n", values, tmp_path)
    place = stop.value.problems[0].place
    assert place is not None
    assert (place.file, place.line) == (str(tmp_path / "part.md"), 2)


def test_what_a_layout_needs_works(tmp_path: Path, values: dict[str, object]) -> None:
    made = fill(
        "{% macro row(a, b) %}{{ a }} = {{ b }}; {% endmacro %}"
        "{% for s in segments %}{{ loop.index }}{{ loop.cycle('a', 'b') }} {{ s.title.upper() | truncate(12) }}\n{% endfor %}"
        "{{ row(1, 2) }}{{ numbers | map('string') | join(' + ') }} {{ numbers | select('odd') | list | length }} "
        "{{ {'a': 1}.items() | list | length }} {{ 3 * 4 + 2 ** 3 }} {{ title ~ '!' }} {{ 'a,b'.split(',')[1] }}"
        "{% set all = segments | map(attribute='title') | join(', ') %}{{ all | length > 5 }} {{ 'x' in all }}",
        values,
        tmp_path,
    )
    assert "1 = 2;1 + 2 + 3 2 1 20 T! bTrue" in made


@pytest.mark.parametrize("name", ["../secret.md", "/etc/hostname", ".hidden.md", "sub/part.md", "\x00"])
def test_a_template_is_found_by_its_plain_name_alone(name: str, tmp_path: Path, values: dict[str, object]) -> None:
    (tmp_path / "secret.md").write_text("secret", encoding="utf-8")
    folder = tmp_path / "templates"
    (folder / "sub").mkdir(parents=True)
    (folder / "sub" / "part.md").write_text("secret", encoding="utf-8")
    (folder / ".hidden.md").write_text("secret", encoding="utf-8")
    refused("{% include name %}", values | {"name": name}, folder)


def coachs_folder(folder: Path) -> Path:
    (folder / "templates").mkdir(parents=True)
    (folder / "movements").mkdir()
    (folder / "day.md").write_text(GOOD, encoding="utf-8")
    return folder


def built_words(folder: Path) -> bytes:
    return b"".join(p.read_bytes() for p in sorted((folder / BUILT).rglob("*")) if p.is_file())


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs a POSIX system")
def test_nothing_outside_of_the_folder_is_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Links out of the folder and pipes in it: the build says so and goes on with what is left."""
    (tmp_path / "secret.md").write_text("hidden treasure\n", encoding="utf-8")
    (tmp_path / "squat.md").write_text("---\nname: Hidden treasure\n---\n\nYou sit.\n", encoding="utf-8")
    folder = coachs_folder(tmp_path / "theirs")
    (folder / "templates" / "part.md").symlink_to(tmp_path / "secret.md")
    (folder / "templates" / "script.md").write_text("{% include 'part.md' %}", encoding="utf-8")
    (folder / "movements" / "goblet-squat.md").symlink_to(tmp_path / "squat.md")
    (folder / "other.md").symlink_to(tmp_path / "secret.md")
    os.mkfifo(folder / "movements" / "pipe.md")
    os.mkfifo(folder / "templates" / "handout.md")
    assert not build_all(folder, folder, folder / BUILT, Wish(only=("script", "filming")))
    said = capsys.readouterr().err
    for name in (
        "templates/part.md",
        "templates/handout.md",
        "movements/goblet-squat.md",
        "movements/pipe.md",
        "other.md",
    ):
        assert name in said, said
    assert "hidden treasure" not in said.lower()
    (folder / "templates" / "script.md").unlink()
    build_all(folder, folder, folder / BUILT, Wish(only=("script", "filming")))
    assert b"idden treasure" not in built_words(folder)
    assert b"goblet" in built_words(folder)


def test_a_shelf_that_leads_out_is_not_looked_into(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "script.md").write_text("hidden treasure\n", encoding="utf-8")
    folder = tmp_path / "theirs"
    folder.mkdir()
    (folder / "day.md").write_text(GOOD, encoding="utf-8")
    (folder / "templates").symlink_to(elsewhere, target_is_directory=True)
    assert build_all(folder, folder, folder / BUILT, Wish(only=("script",)))
    assert "leads out of this folder" in capsys.readouterr().err
    assert b"hidden treasure" not in built_words(folder)


def test_a_link_inside_the_folder_is_followed(tmp_path: Path) -> None:
    folder = coachs_folder(tmp_path / "mine")
    (folder / "shared").mkdir()
    (folder / "shared" / "script.md").write_text("# Mine: {{ title }}\n", encoding="utf-8")
    (folder / "templates" / "script.md").symlink_to(folder / "shared" / "script.md")
    (folder / "templates" / "broken.md").write_text("", encoding="utf-8")
    assert build_all(folder, folder, folder / BUILT, Wish(only=("script",)))
    assert (folder / BUILT / "day" / "script.md").read_text(encoding="utf-8") == "# Mine: Day\n"


@pytest.mark.parametrize("form", ["pdf", "docx"])
@pytest.mark.parametrize(
    "page",
    [
        "|" + "a|" * 50 + "\n|" + "---|" * 50 + "\n|" + "word word word word word word word word word |" * 50 + "\n",
        "  " * 40 + "- x\n",
        "".join("  " * n + "- x\n" for n in range(200)),
        "> " * 200 + "x\n",
    ],
    ids=["wide", "deep", "deeper", "quoted"],
)
def test_a_page_that_cannot_be_laid_out_is_the_templates_problem(
    page: str, form: Form, tmp_path: Path, demos: dict[str, Briefed]
) -> None:
    (tmp_path / "script.md").write_text(page, encoding="utf-8")
    briefed = demos["breakwater"]
    given = Given(briefed.outline, briefed.plan.movements, Templates((tmp_path, built_in("templates"))))
    document = next(d for d in DOCUMENTS if d.key == "script")
    try:
        assert write_document(document, form, given)
    except Stop as stop:
        (problem,) = stop.problems
        assert "does not fit on a page" in problem.message
