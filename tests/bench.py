"""Benchmark: ratios in one run, never a timed test.  `python -m tests.bench [fit|clock|brief|search|documents|year|review]`."""

from __future__ import annotations

import io
import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from html import escape
from html.parser import HTMLParser
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import jinja2

from briefing.clock.simulate import simulate
from briefing.outline.fit import close_must, fit
from briefing.pipeline import brief, read_plan
from briefing.sources.folders import built_in, demo_folder
from briefing.units import PEOPLE
from briefing.write.documents import DOCUMENTS, Given, write_document
from briefing.write.templates import Templates
from tests.conftest import DEMOS
from tests.taking import make_take
from tests.test_fit import forest, highs
from tests.test_review import HELD_OUT, TUNED, brief_others, hold, measure


def seconds(run: Callable[[], object], least_s: float = 0.3) -> float:
    """Give the seconds of one call, the best of three rounds of calls that take long enough to be measured."""
    best, count = float("inf"), 1
    while True:
        start = time.perf_counter()
        for _ in range(count):
            run()
        took = time.perf_counter() - start
        if took >= least_s:
            break
        count *= 2
    for _ in range(2):
        start = time.perf_counter()
        for _ in range(count):
            run()
        took = min(took, time.perf_counter() - start)
    return min(best, took / count)


def fit_bench() -> None:
    print("fit: our seconds, HiGHS' seconds, ratio; and the growth with the number of lines")
    before = 0.0
    for size in (50, 100, 200, 400):
        items, _ = forest(7, size)
        capacity = sum(items[i].tenths for i in close_must(items)) + 2400
        ours = seconds(lambda i=items, c=capacity: fit(i, c))  # type: ignore[misc]
        theirs = seconds(lambda i=items, c=capacity: highs(i, c))  # type: ignore[misc]
        growth = f"x {ours / before:.1f} for twice the lines" if before else ""
        print(f"  {size:>4} lines  {ours * 1000:8.1f} ms  {theirs * 1000:8.1f} ms  {theirs / ours:6.1f}  {growth}")
        before = ours


def clock_bench() -> None:
    print("clock: simulations a second, one core")
    for name in ("slack-water", "breakwater", "long-swell"):
        plan = read_plan(demo_folder() / f"{name}.md")
        for person in PEOPLE:
            one = seconds(lambda p=plan, w=person: simulate(p.workout, p.movements, w))  # type: ignore[misc]
            print(f"  {name:<12} {person:<7} {1 / one:8.0f}")


def brief_bench() -> None:
    """Hold one outline in a fresh process against imports alone, with and without readings kept by a run before.

    A bare `import pydantic` loads next to nothing of it: the rest comes in when a first model is made and used, as any program does
    that uses it. Both are measured, and the ratio stands for both.
    """
    print("brief: one outline in a fresh process against the bare imports it needs")
    readers = "import pydantic, markdown_it, ruamel.yaml, click, rapidfuzz"
    used = "\nfrom pydantic import BaseModel, Field\nclass One(BaseModel): at: int = Field(default=0, ge=0)\nOne()"
    ours = f"from pathlib import Path; from briefing.pipeline import brief; brief(Path({str(demo_folder() / 'breakwater.md')!r}))"
    codes = {
        "bare imports": readers,
        "and one model of pydantic's": readers + used,
        "nothing read before": ours,
        "read before": ours,
        "bare imports, read before": "import pydantic, click, rapidfuzz" + used,
    }
    times: dict[str, list[float]] = {name: [] for name in codes}
    with TemporaryDirectory() as folder:
        for turn in range(9):
            for name, code in codes.items():
                kept = Path(folder) / (f"cache-{turn}" if name == "nothing read before" else "cache")
                took = _command([sys.executable, "-c", code], {"XDG_CACHE_HOME": str(kept)})
                # The first turn writes byte code and readings.
                times[name] += [took] if turn else []
    bare, with_model, cold, warm, bare_warm = (median(times[name]) for name in codes)
    print(f"  bare imports {bare * 1000:.0f} ms, and one model of pydantic's {with_model * 1000:.0f} ms")
    print(f"  nothing read before {cold * 1000:.0f} ms: ratio {cold / bare:.2f}, to one model {cold / with_model:.2f}")
    print(f"  read before         {warm * 1000:.0f} ms: ratio {warm / bare:.2f}, to one model {warm / with_model:.2f}")
    print(
        f"  read before needs no Markdown and no YAML: {bare_warm * 1000:.0f} ms with one model, ratio {warm / bare_warm:.2f}"
    )
    once = seconds(lambda: brief(demo_folder() / "breakwater.md"))
    print(f"  in one process, again {once * 1000:.0f} ms")


def search_bench() -> None:
    print("search: `briefing movements` with 1,000 movements against a bare import")
    with TemporaryDirectory() as folder:
        shelf = Path(folder) / "movements"
        shelf.mkdir()
        source = (demo_folder().parent.parent / "movements" / "goblet-squat.md").read_text(encoding="utf-8")
        for number in range(900):
            words = source.replace("name: Goblet squat", f"name: Tide squat {number}").replace(
                "also: [", f"also: [tide {number} x, "
            )
            words = words.split("\nalso:")[0] + "\n" + words.split("\n", 3)[3] if "\nalso:" in words else words
            (shelf / f"tide-squat-{number}.md").write_text(words, encoding="utf-8")
        bare = min(_process("import pydantic, markdown_it") for _ in range(5))
        command = [sys.executable, "-m", "briefing", "movements", "goblet squat", "--in", folder]
        took = min(_command(command) for _ in range(5))
        print(f"  one by name {took * 1000:.0f} ms, bare import {bare * 1000:.0f} ms, ratio {took / bare:.1f}")


BOARDS = (
    "5 rounds for time, cap 22:00\n  {n} goblet step-ups, alternating\n  12 push presses, 6 each arm\n  200 m run\n",
    "AMRAP 12:00\n  {n} push-ups\n  12 air squats\n  8 burpees\n",
    "Every 2:00 for 7 rounds\n  {n} swings @ 24/16 kg\n  6 burpees\n",
    "For time, any order; plan 6 rounds; cap 18:00\n  120 goblet squats\n  60 push-ups\nEvery 3:00 from 3:00: {n} mountain climbers\n",
)
KINDS = ("briefing", "warm-up", "workout", "cool-down")


def make_year(folder: Path, workouts: int) -> None:
    """Write a series of so many workouts, four videos each."""
    lines = ["---", "title: A year by the estuary", "length: 9:00", "videos:"]
    for number in range(workouts):
        (folder / f"week-{number:02d}.md").write_text(
            BOARDS[number % 4].format(n=10 + 2 * (number % 5)), encoding="utf-8"
        )
        lines += [f"  - {{workout: week-{number:02d}.md, kind: {kind}}}" for kind in KINDS]
    (folder / "series.md").write_text("\n".join([*lines, "---", ""]), encoding="utf-8")


def year_bench() -> None:
    print(
        "year: 52 weeks of 4 videos against 13 times 16 videos; one changed movement and one changed workout; peak memory"
    )
    took: dict[int, float] = {}
    for workouts in (4, 52):
        with TemporaryDirectory() as name:
            folder = Path(name)
            make_year(folder, workouts)
            took[workouts] = _command([sys.executable, "-m", "briefing", "build", name])
            again = _command([sys.executable, "-m", "briefing", "build", name])
            (folder / "week-01.md").write_text(BOARDS[1].format(n=30), encoding="utf-8")
            one = _command([sys.executable, "-m", "briefing", "build", name])
            share = f"one workout changed {one:5.2f} s, 1/{took[workouts] / one:.0f} of all"
            print(f"  {4 * workouts:>4} videos {took[workouts]:6.1f} s; nothing changed {again:5.2f} s; {share}")
            # A movement of a quarter of the workouts: everything that says it is built again, nothing else.
            shelf = folder / "movements"
            shelf.mkdir()
            words = (built_in("movements") / "mountain-climber.md").read_text(encoding="utf-8")
            (shelf / "mountain-climber.md").write_text(words.replace("Light feet", "Quiet feet"), encoding="utf-8")
            many = _command([sys.executable, "-m", "briefing", "build", name])
            print(
                f"       a movement of {workouts // 4} workouts changed {many:5.2f} s, {many / took[workouts]:.2f} of all"
            )
    print(f"  growth: 208 videos take {took[52] / (13 * took[4]):.2f} of 13 times 16")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"  peak memory {peak:.0f} MB")


def documents_bench() -> None:
    print("documents of one briefing against the bare writing of the same DOCX and HTML by python-docx and jinja2")
    briefed = brief(demo_folder() / "breakwater.md")

    def ours(forms: set[str]) -> list[bytes]:
        given = Given(briefed.outline, briefed.plan.movements, Templates((built_in("templates"),)))
        return [
            write_document(d, form, given)
            for d in DOCUMENTS
            if "briefing" in d.kinds
            for form in d.forms
            if form in forms
        ]

    documents, pages = [paragraphs_of(x) for x in ours({"docx"})], [pieces_of(x) for x in ours({"html"})]
    # The same words for the script and the cards, and the prose of three more.
    prose = [[" ".join(runs) for _, runs in documents[n]] for n in (0, 1, 2, 2, 2)]

    def bare(*, pdf: bool) -> None:
        for paragraphs in documents:
            bare_docx(paragraphs)
        for page in pages:
            bare_html(page)
        for texts in prose if pdf else ():
            bare_pdf(texts)

    words = sum(len(run) for x in documents for _, runs in x for run in runs)
    print(f"  {len(documents)} DOCX of {words} letters, {len(pages)} HTML of {sum(map(len, pages))} pieces")
    for name, forms in (
        ("DOCX and HTML", {"docx", "html"}),
        ("all documents", {form for d in DOCUMENTS for form in d.forms}),
    ):
        took = seconds(lambda f=forms: ours(f))  # type: ignore[misc]
        for what, pdf in (("the same DOCX and HTML", False), ("and five PDFs by reportlab", True)):
            if pdf <= ("pdf" in forms):
                other = seconds(lambda p=pdf: bare(pdf=p))  # type: ignore[misc]
                print(f"  {name} {took * 1000:.0f} ms; {what} {other * 1000:.0f} ms; ratio {took / other:.2f}")


def paragraphs_of(content: bytes) -> list[tuple[str, list[str]]]:
    """Give a DOCX's paragraphs, those of tables too: the style's name and the text of each run."""
    import docx  # noqa: PLC0415
    from docx.oxml.ns import qn  # noqa: PLC0415
    from docx.text.paragraph import Paragraph  # noqa: PLC0415

    document = docx.Document(io.BytesIO(content))
    found = [Paragraph(p, document) for p in document.element.body.iter(qn("w:p"))]
    return [(str(p.style.name) if p.style else "Normal", [r.text for r in p.runs]) for p in found]


def bare_docx(paragraphs: list[tuple[str, list[str]]]) -> None:
    """Write the same paragraphs and runs as python-docx's own documentation does it, without tables, borders and fonts."""
    import docx  # noqa: PLC0415

    document = docx.Document()
    known = {style.name for style in document.styles}
    for style, runs in paragraphs:
        paragraph = document.add_paragraph(style=style if style in known else None)
        for run in runs:
            paragraph.add_run(run)
    document.save(io.BytesIO())


def bare_pdf(texts: list[str]) -> None:
    """Write the same texts as paragraphs of a PDF, in a font that every reader has."""
    from reportlab.lib.styles import getSampleStyleSheet  # type: ignore[import-untyped]  # noqa: PLC0415
    from reportlab.platypus import Paragraph, SimpleDocTemplate  # type: ignore[import-untyped]  # noqa: PLC0415

    style = getSampleStyleSheet()["Normal"]
    SimpleDocTemplate(io.BytesIO()).build([Paragraph(escape(text), style) for text in texts])


def pieces_of(content: bytes) -> list[tuple[str, str]]:
    """Give the elements and the texts of a page in order."""
    pieces: list[tuple[str, str]] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: object) -> None:
            del attrs
            pieces.append((tag, ""))

        def handle_data(self, data: str) -> None:
            pieces.append(("", data))

    Reader().feed(content.decode())
    return pieces


def bare_html(pieces: list[tuple[str, str]]) -> None:
    """Fill a template with the same elements and texts."""
    shape = "{% for tag, text in pieces %}{% if tag %}<{{ tag }}>{% else %}{{ text }}{% endif %}{% endfor %}"
    jinja2.Environment(autoescape=True).from_string(shape).render(pieces=pieces)


def _process(code: str) -> float:
    return _command([sys.executable, "-c", code])


def _command(words: list[str], more: Mapping[str, str] | None = None) -> float:
    """Run a command, seconds. Byte code is kept, as it is wherever a package is installed; the first run of all writes it."""
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | dict(more or {})
    start = time.perf_counter()
    subprocess.run(words, check=True, capture_output=True, env=kept)
    return time.perf_counter() - start


def review_bench() -> None:
    """Takes from the generator, by word error rate: what is found, what is cried out wrongly, and the time it takes.

    Slips are counted where their wrong number is still in the transcript; the share of those whose number the recogniser garbled, and
    that are pointed at all the same, stands apart.
    """
    demos = {name: brief(demo_folder() / f"{name}.md") for name in DEMOS}
    print(
        "review, takes with two slips and two dropped lines each; false alarms (numbers, lines) in ten minutes of talk"
    )
    print("                            takes  slips found      garbled, seen   dropped  false: numbers  lines")
    with TemporaryDirectory() as folder:
        others = brief_others(Path(folder))
    for name, briefings, seeds in (
        ("tuned on", demos, TUNED),
        ("held out", demos, HELD_OUT),
        ("other workouts", others, HELD_OUT),
    ):
        for rate in (0.0, 0.05, 0.10, 0.20):
            c = measure(rate, briefings, seeds)
            slips = f"{c.found:>4}/{c.planted:<4}{100 * c.slips:4.0f} %"
            garbled = f"{c.garbled_found:>4}/{c.garbled:<4}"
            false = f"{10 * c.false_slips / c.minutes:14.2f} {10 * c.false_missing / c.minutes:6.2f}"
            takes = len(briefings) * len(seeds)
            print(
                f"  {name:<15} {100 * rate:3.0f} % misheard {takes:4}  {slips}  {garbled} {100 * c.dropped:8.0f} % {false}"
            )
    made = make_take(demos["slack-water"].outline, 1, error_rate=0.1, slips=2, drop=2)
    took = seconds(lambda: hold(demos["slack-water"], made.transcript))
    print(f"  ten minutes of talk: {took * 600_000 / made.transcript.end_ms:.2f} s")


BENCHES: dict[str, Callable[[], None]] = {
    "fit": fit_bench,
    "clock": clock_bench,
    "brief": brief_bench,
    "search": search_bench,
    "documents": documents_bench,
    "year": year_bench,
    "review": review_bench,
}


def main() -> None:
    """Run the named benchmarks, all of them for none."""
    for name in sys.argv[1:] or BENCHES:
        BENCHES[name]()


if __name__ == "__main__":
    main()
