"""The review as a page: Markdown first, from which the HTML is made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from briefing.library.models import Movement
from briefing.outline.models import Outline
from briefing.take.review import Misheard, Review, slip_words
from briefing.take.transcript import Transcript, write_vtt
from briefing.units import write_clock
from briefing.write.chapters import chapter_clock, write_chapters
from briefing.write.documents import Given, description_values, page_html, tidy_markdown
from briefing.write.markdown import as_html
from briefing.write.templates import Templates, escape_markdown


def review_markdown(made: Review) -> str:
    """Write a review as Markdown: what was wrong, not said, late, planned against real, film again, what comes of the take."""
    e = escape_markdown
    out = [f"# Review: {e(made.title)}", ""]
    out += [f"{e(made.against)}", ""] if made.against else []
    wrong = [s for s in made.slips if not s.corrected]
    mended = [s for s in made.slips if s.corrected]
    out += ["## Wrong", "", *([f"- {e(slip_words(s))}" for s in wrong] or ["Nothing."]), ""]
    if mended:
        out += ["Corrected while speaking:", "", *[f"- {e(slip_words(s))}" for s in mended], ""]
    out += ["## Not said", "", *_not_said(made), ""]
    if made.late:
        out += ["Said late (it belongs into the first 90 seconds):", ""]
        out += [f"- {write_clock(s.start_ms / 1000)} {e(s.line.card)}" for s in made.late] + [""]
    out += ["## Planned and real", "", "| segment | planned | real | why |", "| --- | --- | --- | --- |"]
    for row in made.segments:
        real = write_clock(row.real_s) if row.real_s is not None else "–"
        out.append(f"| {e(row.title)} | {write_clock(row.planned_s)} | {real} | {e(row.why)} |")
    out += ["", "## Film again", ""]
    for again in made.again:
        how = (
            "a text in the picture is enough"
            if again.by_text
            else f"camera: {again.camera}, about {again.seconds:.0f} s"
        )
        out.append(f"- **{e(again.segment)}** ({how}):")
        out += [f"  - {e(sentence)}" for sentence in again.sentences]
    if not made.again:
        out.append("Nothing.")
    out += ["", "## From the take", "", "Texts for the picture:", ""]
    out += [
        f"- {write_clock(t.start_ms / 1000)} to {write_clock(t.end_ms / 1000)}: {e(t.text)}" for t in made.on_screen
    ] or ["- none"]
    if made.misheard:
        out += ["", "Names in the captions to put right, if you agree (`--names` writes the captions with them):", ""]
        out += [f"- {write_clock(x.at_ms / 1000)} {e(x.written)} → {e(x.name)}" for x in made.misheard]
    out += [
        "",
        "Chapters:",
        "",
        *[f"- {chapter_clock(start // 100)} {e(title)}" for start, _, title in real_chapters(made)],
    ]
    return "\n".join(out).rstrip() + "\n"


def _not_said(made: Review) -> list[str]:
    """List what was not said: the must-say lines one by one, the others by segment; of a segment that is not in the take its name."""
    e = escape_markdown
    lacking = Counter(made.segment_of[x.id] for x in made.not_said if x.must)
    # Of a movement that is not in the take its name is enough: its lines stand below, to be filmed. One or two lines are named.
    absent = {row.title for row in made.segments if row.start_ms is None and lacking[row.title] not in {1, 2}}
    must = [x for x in made.not_said if x.must and made.segment_of[x.id] not in absent]
    out = [f"- ● {e(x.card)}: {e(x.text)}" for x in must]
    gone = [f"{e(title)} ({count})" for title, count in lacking.items() if title in absent]
    if gone:
        out += [
            *([""] if out else []),
            f"● Not in this take at all, with so many lines that must be said: {', '.join(gone)}.",
        ]
    if not out:
        out.append("Everything that must be said was said.")
    rest: dict[str, list[str]] = {}
    for x in made.not_said:
        if not x.must and made.segment_of[x.id] not in absent:
            rest.setdefault(made.segment_of[x.id], []).append(x.card)
    if rest:
        out += ["", "Planned as well, and not heard:", ""]
        out += [f"- {e(title)}: {e('; '.join(cards))}" for title, cards in rest.items()]
    elif not gone:
        out += ["", "Nothing else is missing."]
    return out


def review_html(made: Review, templates: Templates) -> bytes:
    """Write a review as a page. Raises Stop where the page's template has a slip."""
    body = (
        as_html(review_markdown(made))
        .replace("<table>", '<div class="scroll"><table>')
        .replace("</table>", "</table></div>")
    )
    return page_html(templates, "Review", made.title, body)


def real_chapters(made: Review) -> list[tuple[int, int, str]]:
    """Give the chapters with the real times: segments that were found in order, contiguous from the start to the end."""
    starts: list[tuple[int, str]] = []
    for row in made.segments:
        if row.start_ms is not None and (not starts or row.start_ms > starts[-1][0]):
            starts.append((row.start_ms, row.title))
    if not starts:
        return []
    starts[0] = (0, starts[0][1])
    ends = [*(s for s, _ in starts[1:]), max(made.talk_end_ms, starts[-1][0] + 1)]
    return [(start, end, title) for (start, title), end in zip(starts, ends, strict=True)]


def captions_put_right(transcript: Transcript, misheard: Sequence[Misheard]) -> str:
    """Write the take's captions as WebVTT, with the names of movements as the library has them; nothing else is changed."""
    cues = []
    for cue in transcript.cues:
        text = cue.text
        for name in misheard:
            if cue.start_ms <= name.at_ms <= cue.end_ms:
                text = text.replace(name.written, name.name, 1)
        cues.append(cue.model_copy(update={"text": text}))
    return write_vtt(cues)


def description_of_take(made: Review, outline: Outline, movements: Mapping[str, Movement], templates: Templates) -> str:
    """Write the plan's description with the chapters of the take. Raises Stop where the template has a slip."""
    values = description_values(Given(outline, dict(movements), templates))
    chapters = [(chapter_clock(start // 100), title) for start, _, title in real_chapters(made)]
    return tidy_markdown(templates.fill("description.txt", values | {"chapters": chapters}))


def chapters_of_take(made: Review) -> str:
    """Write the chapters of the take as WebVTT."""
    return write_chapters(real_chapters(made))
