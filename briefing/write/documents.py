"""The documents as one table: a template (or the deck) and the forms it is written in."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from markupsafe import Markup

from briefing.clock.simulate import Run
from briefing.library.models import Movement
from briefing.outline.models import Line, Outline, Segment, Show
from briefing.problems import Problem, Stop, show_problem
from briefing.settings.models import VideoKind
from briefing.telling.kit import kit_card, kit_words
from briefing.telling.sentences import join_words, upper_first
from briefing.units import write_clock
from briefing.write import palette
from briefing.write.calls import calls_of
from briefing.write.cards import cards_html
from briefing.write.cards_docx import cards_docx
from briefing.write.cards_pdf import cards_pdf
from briefing.write.chapters import chapter_clock, chapters_vtt
from briefing.write.deck import THOUGHTS, Deck, letter_problem, make_deck, needed_em
from briefing.write.gaze import gaze_words
from briefing.write.markdown import as_html
from briefing.write.pages_docx import as_docx, dense_size
from briefing.write.pages_pdf import as_pdf
from briefing.write.sheets import Fitting, fit_paper, fitting_problem, fitting_words, paper_of
from briefing.write.templates import Templates
from briefing.write.timeline import timeline_svg

Form = Literal["md", "html", "docx", "pdf", "txt", "vtt"]
SPOKEN: frozenset[VideoKind] = frozenset({"introduction", "briefing", "warm-up", "cool-down"})


@dataclass(frozen=True)
class Given:
    """What a document is written from; for the call sheet, `run` is a steady person's workout and `slow` an easy person's."""

    outline: Outline
    movements: dict[str, Movement]
    templates: Templates
    run: Run | None = None
    slow: Run | None = None

    @cached_property
    def fitting(self) -> Fitting:
        """How the type of the cards sits on this coach's paper."""
        return _fitting(self.outline)

    @cached_property
    def deck(self) -> Deck:
        """The cards on paper: the same for each form."""
        return make_deck(self.outline, self.fitting.frame, self.outline.settings.cards)


@dataclass(frozen=True)
class Document:
    """One document: its key (the file name), its heading, what it is for, its forms, who writes it, for which kinds of video.

    `values` fills the template `key`.md or `key`.txt. `dense` is laid out on one page, `timeline` has the picture on top.
    """

    key: str
    heading: str
    purpose: str
    forms: tuple[Form, ...]
    values: Callable[[Given], dict[str, Any]] | None = None
    kinds: frozenset[VideoKind] = SPOKEN
    dense: bool = False
    timeline: bool = False


def outline_values(given: Given) -> dict[str, Any]:
    """Give what the outline's template is filled with."""
    outline = given.outline
    return {
        **_about(outline),
        "promised": outline.length.seconds * 10 if outline.length else 0,
        "about": outline.length is not None and outline.length.about,
        "shortest": outline.shortest_tenths,
        "everything": outline.everything_tenths,
        "segments": [_segment_values(s) | {"out": _left_out_of(outline, s)} for s in outline.segments],
        "filming": _filming_rows(given),
        "orders": _orders_words(given),
        "problems": [show_problem(p) for p in outline.problems],
    }


def script_values(given: Given) -> dict[str, Any]:
    """Give what the script's template is filled with: the lines as paragraphs, what is shown beside them."""
    outline = given.outline
    segments = [
        {
            "title": s.title,
            "start_tenths": s.start_tenths,
            "paragraphs": _paragraphs(s),
            "next_action": s.next_action,
        }
        for s in outline.segments
    ]
    notes = [" ".join(p.split()) for p in outline.workout.notes.split("\n\n") if p.strip()]
    return {**_about(outline), "segments": segments, "notes": notes}


def filming_values(given: Given) -> dict[str, Any]:
    """Give what the filming list's template is filled with."""
    outline = given.outline
    overhead = any(given.movements[s.movement].space.overhead != "none" for s in outline.segments if s.movement)
    return {
        **_about(outline),
        "filmed": outline.settings.filmed,
        "segments": outline.segments,
        "kit": outline.sheet.kit,
        "space": outline.sheet.space or "",
        "filming": _filming_rows(given),
        "orders": _orders_words(given),
        "minutes": max(10, 3 * round(outline.tenths / 600)),
        "overhead": overhead,
    }


def setup_values(given: Given) -> dict[str, Any]:
    """Give what the set-up sheet's template is filled with: the filming list's values, and how the cards can be read."""
    outline = given.outline
    problem = letter_problem(outline)
    return {
        **filming_values(given),
        "fitting": fitting_words(given.fitting),
        "gaze": gaze_words(outline.settings),
        "letters": [f"{problem.message[0].upper()}{problem.message[1:]}."] if problem else [],
    }


def card_problems(outline: Outline) -> tuple[Problem, ...]:
    """Give the warnings about a briefing's printed cards: `cards-too-far`, `cards-letters`."""
    found = (fitting_problem(_fitting(outline)), letter_problem(outline))
    return tuple(p for p in found if p is not None)


def handout_values(given: Given) -> dict[str, Any]:
    """Give what the handout's template is filled with."""
    outline, sheet = given.outline, given.outline.sheet
    return {
        **_about(outline),
        "coach": outline.settings.coach,
        "board": _board_values(outline),
        "totals": join_words(list(sheet.totals)),
        "feel": outline.settings.feel,
        "aim": outline.settings.aim,
        "finish": "; ".join(f"{who} people {done}" for who, done in sheet.finish),
        "untimed": join_words(list(sheet.untimed)),
        "kit": sheet.kit,
        "space": sheet.space or "",
        "stand_ins": sheet.stand_ins,
        "versions": [{"name": v.name, "rest": v.text.removeprefix(v.name)} for v in sheet.versions],
        "tally": sheet.tally,
        "boxes": " ".join(["☐"] * sheet.tally_boxes),
        "score": sheet.score,
        "cautions": sheet.cautions,
        "built_from": ", ".join(sheet.built_from),
        "safety": sheet.safety,
        "easier": [{"name": name, "lines": lines} for name, lines in sheet.easier],
    }


def description_values(given: Given) -> dict[str, Any]:
    """Give what the description's template is filled with: plain text, no marks."""
    outline, sheet = given.outline, given.outline.sheet
    return {
        **_about(outline),
        "coach": outline.settings.coach,
        "board": [x.replace("    or ", "  or ", 1) for x in sheet.board],
        "kit": sheet.kit,
        "chapters": [(chapter_clock(s.start_tenths), s.title) for s in outline.segments],
        "cautions": sheet.cautions,
        "feel": outline.settings.feel,
    }


def calls_values(given: Given) -> dict[str, Any]:
    """Give what the call sheet's template is filled with."""
    outline = given.outline
    calls = calls_of(outline.workout, given.run, given.movements, given.slow) if given.run else ()
    clocks = [[c for c in calls if c.clock == n] for n in sorted({c.clock for c in calls})]
    return {
        **_about(outline),
        "board": _board_values(outline),
        "untimed": join_words(list(outline.sheet.untimed)),
        "clocks": [
            [{"exact": c.time if c.exact else "", "about": "" if c.exact else c.time, "words": c.words} for c in clock]
            for clock in clocks
        ],
    }


def _board_values(outline: Outline) -> list[dict[str, Any]]:
    return [{"level": (len(x) - len(x.lstrip())) // 2, "text": x.strip()} for x in outline.sheet.board]


# A row more is a document more: its template stands in templates/, a coach's own of the same name wins.
DOCUMENTS: tuple[Document, ...] = (
    Document("outline", "Outline", "preparing: each segment, its lines, a timeline", ("html", "md"), outline_values, timeline=True),
    Document("script", "Script", "reading through: everything that is said, in order", ("md", "docx", "pdf"), script_values),
    Document("cards", "Cue cards", "on camera: card phrases, the numbers huge, the planned clock", ("html", "pdf", "docx")),
    Document("filming", "Filming list", "setting up: what is filmed in which order, from which side, with what", ("md", "pdf"), filming_values),
    Document("setup", "Set-up sheet", "before filming: picture, light, microphone, where the cards stand", ("md", "pdf"), setup_values),
    Document("handout", "Handout", "the members: workout, versions, tally and safety on one page", ("html", "pdf", "docx"), handout_values, frozenset({"briefing"}), dense=True),
    Document("description", "Description", "where the video is shown: two sentences, the workout, kit, chapters, cautions", ("txt",), description_values),
    Document("calls", "Call sheet", "the workout itself: what you call out, on the clock", ("md", "html", "docx"), calls_values, frozenset({"workout"})),
    Document("chapters", "Chapters", "the player: a title for each segment, from the plan", ("vtt",)),
)  # fmt: skip


def write_document(document: Document, form: Form, given: Given) -> bytes:
    """Write one document in one form.

    Raises Stop where a template has a slip.
    """
    match document.key:
        case "cards":
            return _cards(form, given)
        case "chapters":
            return chapters_vtt(given.outline).encode()
        case _:
            return _from_template(document, form, given)


def _cards(form: Form, given: Given) -> bytes:
    outline = given.outline
    if form == "html":
        return cards_html(outline, given.templates).encode()
    paper = paper_of(outline.settings.paper)
    write = cards_docx if form == "docx" else cards_pdf
    return write(given.deck, paper, given.fitting)


def _fitting(outline: Outline) -> Fitting:
    settings = outline.settings
    paper, needed = paper_of(settings.paper), needed_em(outline)
    return fit_paper(paper, settings.reading_distance_m, eyesight=settings.eyesight, needed_em=needed)


def _from_template(document: Document, form: Form, given: Given) -> bytes:
    values = document.values(given) if document.values else {}
    if form == "txt":
        return tidy_markdown(given.templates.fill(f"{document.key}.txt", values)).encode()
    markdown = tidy_markdown(given.templates.fill(f"{document.key}.md", values))
    if form == "md":
        return markdown.encode()
    try:
        return _laid_out(document, form, given, markdown)
    except Stop:
        raise
    except Exception as error:
        blamed = given.templates.blame(f"{document.key}.md", error)
        if blamed is None:
            raise
        raise blamed from error


def _laid_out(document: Document, form: Form, given: Given, markdown: str) -> bytes:
    if form == "docx":
        return as_docx(markdown, f"{document.heading}: {given.outline.title}", dense=document.dense)
    if form == "pdf":
        paper = given.outline.settings.paper
        return as_pdf(markdown, f"{document.heading}: {given.outline.title}", paper=paper, dense=document.dense)
    body = as_html(markdown).replace("<table>", '<div class="scroll"><table>').replace("</table>", "</table></div>")
    if document.timeline:
        body = _FOLD.sub(r'<details class="out"><summary>Left out here</summary>\1</details>', body)
        head, _, rest = body.partition("</h1>")
        body = f'{head}</h1>\n<div class="scroll">{timeline_svg(given.outline)}</div>{rest}'
    return page_html(
        given.templates, document.heading, given.outline.title, body, dense=document.dense, size=dense_size(markdown)
    )


def page_html(
    templates: Templates, heading: str, title: str, body: str, *, dense: bool = False, size: float = 10
) -> bytes:
    """Put a body that was made from Markdown into the page's template."""
    page = {
        "heading": heading,
        "title": title,
        "colours": palette.COLOURS,
        "dense": dense,
        "size": size,
        "body": Markup(body),  # noqa: S704 - made by the Markdown writer with raw HTML switched off, and by our pictures
    }
    return templates.fill("page.html", page).encode()


# On the page, what is left out is folded away where it would stand.
_FOLD = re.compile(r"<h3>Left out here</h3>\s*(<ul>.*?</ul>)", re.DOTALL)


def tidy_markdown(text: str) -> str:
    """Make a filled template read well: one blank line between blocks, none at the ends."""
    out: list[str] = []
    for line in text.split("\n"):
        stripped = line.rstrip()
        if stripped or (out and out[-1]):
            out.append(stripped)
    return "\n".join(out).strip("\n") + "\n"


def _about(outline: Outline) -> dict[str, Any]:
    return {
        "title": outline.title,
        "kind": outline.kind,
        "series": outline.series,
        "video": outline.video,
        "tenths": outline.tenths,
        "low": outline.low_tenths,
        "high": outline.high_tenths,
        "pace_note": outline.pace_note,
    }


def _seconds(line: Line) -> str:
    return f"{line.tenths / 10:.1f}"


def _segment_values(segment: Segment) -> dict[str, Any]:
    lines = [
        {
            "must": x.must,
            "text": x.text,
            "card": x.card,
            "seconds": _seconds(x),
            "show_words": show_words(x.show),
            "sight": "" if x.sight == "lens" else x.sight,
        }
        for x in segment.lines
    ]
    return {
        "title": segment.title,
        "start_tenths": segment.start_tenths,
        "tenths": segment.tenths,
        "low_tenths": segment.low_tenths,
        "high_tenths": segment.high_tenths,
        "camera": segment.camera,
        "kit_words": join_words([kit_words(k) for k in segment.kit]),
        "next_action": segment.next_action,
        "lines": lines,
    }


def _left_out_of(outline: Outline, segment: Segment) -> list[dict[str, str]]:
    """Give the lines that would stand in this segment if there were time."""
    return [
        {"card": x.line.card, "seconds": _seconds(x.line), "why": x.why, "text": x.line.text}
        for x in outline.left_out
        if x.line.id.split("/", maxsplit=1)[0] in {segment.kind, segment.movement}
    ]


def show_words(show: Show | None) -> str:
    """Say what is shown beside a line: `3 reps from the side, counted`."""
    if show is None:
        return ""
    side = {"front": "from the front", "side": "from the side", "three-quarter": "from three-quarter"}[show.camera]
    if show.reps:
        return f"{show.reps} rep{'s' if show.reps != 1 else ''} {side}, {show.how}"
    if show.how == "own words":
        return f"teach it in your own words, {write_clock(show.hold_s or 0)}, {side}"
    if show.hold_s:
        return f"{show.hold_s} s {side}, {show.how}"
    return side


def _paragraphs(segment: Segment) -> list[dict[str, str]]:
    """Put lines together to paragraphs: a new one where something is shown, after it, and with each new thought."""
    out: list[dict[str, str]] = []
    run: list[str] = []
    thought: str | None = None

    def flush() -> None:
        if run:
            out.append({"show": "", "text": " ".join(run)})
            run.clear()

    for line in segment.lines:
        shown = show_words(line.show)
        about = THOUGHTS.get(line.kind)
        if about != thought:
            flush()
            thought = about
        if shown:
            flush()
            lead = "" if line.show and line.show.how == "own words" else "Show: "
            out.append({"show": upper_first(f"{lead}{shown}."), "text": line.text})
        else:
            run.append(line.text)
    flush()
    return out


def film_order(outline: Outline) -> list[int]:
    """Give the segments in the order in which they are filmed: to the lens first, then the movements, then the change-over."""
    place = {slug: at for at, slug in enumerate(outline.filmed.movements)}
    rank = {"movement": 1, "change": 2}
    numbered = list(enumerate(outline.segments))
    numbered.sort(key=lambda x: (rank.get(x[1].kind, 0), place.get(x[1].movement or "", 0), x[0]))
    return [number for number, _ in numbered]


def _orders_words(given: Given) -> str:
    """Say what the orders cost: as filmed, as shown, at best."""
    outline = given.outline
    names = [given.movements[s].name for s in outline.filmed.movements]
    if len(names) < 2:
        return ""
    filmed, shown, best = (write_clock(o.cost_s) for o in (outline.filmed, outline.shown, outline.best))
    return f"Filmed in this order: {', '.join(names)}. Changes of kit, camera and breath take about {filmed}; as shown {shown}, at best {best}."


def _filming_rows(given: Given) -> list[dict[str, Any]]:
    rows = []
    for number in film_order(given.outline):
        segment = given.outline.segments[number]
        movement = given.movements.get(segment.movement) if segment.movement else None
        shown = [show_words(x.show) for x in segment.lines if x.show and (x.show.reps or x.show.hold_s)]
        floor = movement.space.floor_m if movement else None
        space = f"{floor[0]:g} x {floor[1]:g} m" if floor else "where you stand"
        if movement and movement.space.overhead != "none":
            space += f", overhead: {movement.space.overhead}"
        rows.append(
            {
                "number": number + 1,
                "title": segment.title,
                "camera": segment.camera,
                "kit": ", ".join(kit_card(k) for k in segment.kit) or "none",
                "space": space,
                "shown": "; ".join(shown) or "to the lens",
                "tenths": segment.tenths,
            }
        )
    return rows
