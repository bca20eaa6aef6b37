"""The road as one function that reads like a recipe: from a workout file to a fitted outline."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from briefing import __version__
from briefing.board.models import Workout
from briefing.board.reading import read_board
from briefing.check.movement import check_library_movement, check_movement
from briefing.check.workout import check_clock, check_outline, check_workout
from briefing.clock.answer import Clock, work_through
from briefing.clock.scaling import make_lighter, scale
from briefing.clock.simulate import NORMAL, Effort, simulate
from briefing.clock.tally import uncapped
from briefing.library.finding import Library
from briefing.library.models import KitItem, Movement
from briefing.library.names import slug_of
from briefing.outline.closing import all_versions
from briefing.outline.compose import compose, compose_short, with_action
from briefing.outline.introducing import Offered, compose_introduction
from briefing.outline.material import Material, gather_kit, listed_kit, merge_kit
from briefing.outline.models import LeftOut, Outline, Segment
from briefing.outline.order import Order, arrange, cheapest, cost_of, stations_of
from briefing.outline.outline import Fitted, fit_segments, steer, with_seconds
from briefing.outline.sheet import make_sheet
from briefing.outline.warming import (
    BREATHING,
    MOST_DRILLS,
    MOST_S,
    MOST_STRETCHES,
    RAISERS,
    Chosen,
    choose,
    compose_cool_down,
    compose_warm_up,
    kit_shown,
    loads,
)
from briefing.outline.wording import Voice, Wording, read_wording
from briefing.problems import Found, Place, Problem, Stop, has_errors, sort_problems
from briefing.series.changes import sum_of, sums_of_files
from briefing.series.teaching import Fact, Taught, teach_levels
from briefing.settings.models import Length, Series, Settings, TeachLevel, Tried, Video, VideoKind, Words, stem_of
from briefing.settings.pace_file import PACE_FILE, Combined, combined, read_pace
from briefing.settings.reading import read_series, read_settings
from briefing.sources.folders import built_in, shelf_problems, shelves
from briefing.sources.guard import is_ordinary, lies_in, pages_in
from briefing.sources.head import nearest, recall_head
from briefing.sources.text import Text, read_text
from briefing.speech.seconds import Pace
from briefing.telling.kit import kit_card
from briefing.units import write_clock

SERIES_FILE = "series.md"


@dataclass(frozen=True)
class Page:
    """One workout file as it was read: its text, the settings in its head, the board, all problems of the file."""

    text: Text
    own: dict[str, Any]
    title: str
    workout: Workout | None
    problems: tuple[Problem, ...]
    refers: tuple[Path, ...] = ()

    @property
    def sum(self) -> str:
        """The fingerprint of its text."""
        return sum_of("\n".join(self.text.lines))


@dataclass(frozen=True)
class Desk:
    """What is read once for a coach's folder: series, library, wording, and the problems found on the way.

    Each workout file is read once, too; what the series teaches where is worked out when it is first asked for.
    """

    folder: Path | None
    series: Series | None
    library: Library
    wording: Wording
    problems: tuple[Problem, ...] = ()
    pace: Combined | None = None
    pages: dict[Path, Page] = field(default_factory=dict, compare=False)
    reading: set[Path] = field(default_factory=set, compare=False)
    sums: dict[str, dict[str, str]] = field(default_factory=dict, compare=False)

    def movement_sums(self, slug: str) -> dict[str, str]:
        """Give the fingerprints of the files that a movement is made of, each file read once for all videos."""
        if slug not in self.sums:
            self.sums[slug] = sums_of_files("movement", self.library.lineage(slug))
        return self.sums[slug]

    @cached_property
    def numbers(self) -> dict[str, str]:
        """Which video of the series each one is, by its key: "2 of 12"; the first where two have one key."""
        keys = [v.key for v in self.series.videos] if self.series else []
        return {key: f"{at} of {len(keys)}" for at, key in reversed(list(enumerate(keys, 1)))}

    @cached_property
    def series_words(self) -> str:
        """What the series itself gives to every video, as text: its title and its settings."""
        return f"{self.series.title if self.series else ''} {self._own.model_dump_json()}"

    @cached_property
    def pace_words(self) -> str:
        """How fast this coach speaks, as text."""
        return f"{self._own.k} {self._own.talk_s}"

    @cached_property
    def _own(self) -> Settings:
        return _settled(self.series, self.pace, {})

    def stem(self, path: Path) -> str:
        """Give the name of a workout file in this folder, as a video of the series has it."""
        below = path.relative_to(self.folder) if self.folder is not None and path.is_relative_to(self.folder) else path
        return stem_of(below.as_posix())

    def page(self, path: Path) -> Page:
        """Read a workout file, once. Raises Stop where the file itself cannot be read."""
        if path not in self.pages:
            self.pages[path] = _read_page(path, self)
        return self.pages[path]

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """What counts of each video of the series; a workout that cannot be read teaches nothing."""
        if self.series is None or self.folder is None:
            return ()
        return tuple(self._fact(v, self.folder) for v in self.series.videos)

    def _fact(self, video: Video, folder: Path) -> Fact:
        fact = Fact(key=video.key, kind=video.kind, title=video.key, date=video.date, new_people=video.new_people)
        if video.kind == "introduction":
            return fact.model_copy(update={"title": "the introduction"})
        try:
            page = self.page(folder / video.file)
        except Stop:
            return fact
        if page.workout is None:
            return fact
        asked = {slug: t.level for t in page.own.get("teach", ()) if (slug := self.library.find(t.movement.text))}
        options = tuple(dict.fromkeys(o.work.movement for w in page.workout.works for o in w.options))
        reasons = tuple(dict.fromkeys(r for w in page.workout.works for o in w.options for r in o.reasons))
        return fact.model_copy(
            update={
                "title": page.title,
                "movements": page.workout.movements,
                "options": options,
                "reasons": reasons,
                "asked": asked,
            }
        )

    @cached_property
    def template_sums(self) -> dict[str, str]:
        """The fingerprints of all templates, the coach's own under a name of their own: the same for every video."""
        out: dict[str, str] = {}
        for folder in shelves(self.folder, "templates"):
            kind = "template" if folder == built_in("templates") else "template yours"
            out |= sums_of_files(kind, pages_in(folder, "*"))
        return out

    @cached_property
    def levels(self) -> dict[str, dict[str, Taught]]:
        """How each briefing of the series teaches its movements, by the video's key."""
        return teach_levels(self.facts, self.series.full_again_weeks if self.series else 4)

    def taught_in_briefing(self, key: str) -> dict[str, Taught]:
        """How one briefing teaches its movements: only those before it count, so no later workout is read for it."""
        if self.series is None or self.folder is None or "facts" in vars(self):
            return self.levels.get(key, {})
        briefings = [v for v in self.series.videos if v.kind == "briefing"]
        at = next((n for n, v in enumerate(briefings) if v.key == key), None)
        if at is None:
            return {}
        before = [self._fact(v, self.folder) for v in briefings[: at + 1]]
        return teach_levels(before, self.series.full_again_weeks).get(key, {})


@dataclass(frozen=True)
class Plan:
    """A workout that was read: its settings, the board, its movements, the problems so far and the text they stand in."""

    desk: Desk
    settings: Settings
    workout: Workout
    movements: dict[str, Movement]
    text: Text
    problems: tuple[Problem, ...]
    shown: tuple[str, ...] = ()
    filmed: tuple[str, ...] | None = None
    levels: dict[str, TeachLevel] = field(default_factory=dict)
    taught_in: dict[str, str] = field(default_factory=dict)

    @cached_property
    def effort(self) -> Effort:
        """How the clock's times are moved by the coach's own trial: one factor on all rates, found once (it takes 30 simulations)."""
        tried = self.settings.tried
        return Effort(factor=factor_tried(self.workout, self.movements, tried)) if tried else NORMAL

    @property
    def tried_words(self) -> str:
        """Say what the trial changed, "" where there was none."""
        tried = self.settings.tried
        if tried is None:
            return ""
        return f"your trial of {write_clock(tried.seconds)} ({tried.person}) moves all times by a factor of {self.effort.factor:.2f}"


def open_desk(folder: Path, shown_from: Path | None = None) -> Desk:
    """Open a coach's folder: its series if there is one, the movements and wording with the coach's own first."""
    shown = shown_from or folder
    series, problems = _series(folder, shown)
    library = Library(shelves(folder, "movements"), built_in("movements"), shown)
    wording, wording_problems = read_wording(shelves(folder, "templates"), shown)
    pace, pace_problems = learned_pace(folder, shown)
    refused = (*shelf_problems(folder, "movements"), *shelf_problems(folder, "templates"))
    return Desk(folder, series, library, wording, (*problems, *wording_problems, *pace_problems, *refused), pace)


def own_settings(folder: Path) -> Settings:
    """Give what a coach's folder sets for everything: the series' settings and the learned pace."""
    series, _ = _series(folder, folder)
    pace, _ = learned_pace(folder, folder)
    return _settled(series, pace, {})


def pace_in(settings: Settings) -> Pace:
    """Give the speaking pace that settings hold."""
    return Pace(k=settings.k, calibrated_talk_s=settings.talk_s)


def open_library(folder: Path) -> Library:
    """Open the movements of a coach's folder and the built-in ones."""
    return Library(shelves(folder, "movements"), built_in("movements"), folder)


def library_beside(path: Path) -> Library:
    """Give the library that a movement's file is checked in: the movements beside it, and the built-in ones."""
    ours = built_in("movements")
    folders = (ours,) if path.parent.resolve() == ours.resolve() else (path.parent, ours)
    return Library(folders, ours)


def check_movement_file(path: Path, library: Library | None = None) -> tuple[Problem, ...]:
    """Give all problems of one movement file, of the coach's own or of the built-in library.

    For many files of one folder, `library` is the one beside them, so that each file is read once.
    """
    text = read_text(path)
    if text.value is None:
        return text.problems
    library = library or library_beside(path)
    movement = library.get(path.stem)
    problems = list(library.problems(path.stem))
    problems += [p for p in library.name_clashes() if p.place and p.place.file and Path(p.place.file).name == path.name]
    if movement is not None:
        problems += check_movement(movement, library)
        if not movement.from_coach:
            problems += check_library_movement(movement, library)
    return sort_problems(problems)


def coach_folder(workout: Path) -> Path:
    """Give the folder that a workout belongs to: the nearest one above it with a series file, else the one it is in."""
    for folder in (workout.parent, workout.parent.parent):
        if (folder / SERIES_FILE).is_file():
            return folder
    return workout.parent


@dataclass(frozen=True)
class TradeRow:
    """What is said at one length: `lost` counts the lines that each movement (or segment) loses, most first."""

    promised_s: int
    fits: bool
    tenths: int
    lines: int
    lost: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class TradeOff:
    """What is said at several lengths, the shortest length that holds what must be said, and the one that leaves nothing out."""

    rows: tuple[TradeRow, ...]
    shortest_tenths: int
    everything_tenths: int


@dataclass(frozen=True)
class Briefed:
    """A workout that was briefed: the outline, what it was made from, and the clock's answers."""

    plan: Plan
    clock: Clock
    outline: Outline


def brief(path: Path, *, length: Length | None = None, desk: Desk | None = None, short: bool = False) -> Briefed:
    """Brief one workout: read it, work it through, compose, time, fit, check.

    `length` from the command line wins over the workout's and the series'. `short` is the version for people who have seen
    it before, fitted to 90 seconds. Raises Stop with all problems where a person's file has errors.
    """
    plan = read_plan(path, desk)
    if short:
        length = Length(seconds=SHORT_S)
    if length is not None:
        plan = replace(plan, settings=plan.settings.with_(length=length))
    ready = prepare(plan, short=short)
    settings = plan.settings
    fitted = fit_segments(ready.segments, settings.length.seconds * 10 if settings.length else None, ready.pace)
    outline = _assemble(plan, fitted, ready)
    checked = [*check_outline(outline, fitted.fit, plan.workout), *check_clock(plan.workout, ready.clock)]
    _stop_on_errors(plan.problems, checked)
    outline = outline.model_copy(update={"problems": sort_problems((*plan.problems, *checked))})
    return Briefed(plan, ready.clock, outline)


def inputs_of(video: Video, desk: Desk, wish: str) -> dict[str, str]:
    """Give the fingerprints of everything that a video is built from; `wish` is what the command asks for.

    Raises Stop where its workout cannot be read.
    """
    series = desk.series
    out = {
        "program": sum_of(__version__),
        "series": sum_of(f"{desk.numbers.get(video.key)} {desk.series_words}"),
        "pace": sum_of(desk.pace_words),
        "wish": sum_of(wish),
    }
    out |= desk.template_sums
    if video.kind == "introduction":
        out["taught"] = sum_of(str([(f.key, f.title, f.movements) for f in desk.facts]))
        files = dict.fromkeys(v.file for v in series.videos if v.kind != "introduction") if series else {}
        for file in files:
            path = (desk.folder or Path()) / file
            out |= {f"workout of: {stem_of(file)}": desk.page(path).sum} if is_ordinary(path) else {}
        for slug in dict.fromkeys(s for f in desk.facts for s in f.movements):
            out |= desk.movement_sums(slug)
        return out
    page = desk.page((desk.folder or Path()) / video.file)
    out["workout"] = page.sum
    for there in page.refers:
        out[f"workout of: {there.stem}"] = desk.page(there).sum
    out["taught"] = sum_of(str(desk.levels.get(video.stem)))
    works = page.workout.works if page.workout else ()
    slugs = dict.fromkeys([*(w.movement for w in works), *(o.work.movement for w in works for o in w.options)])
    if video.kind in {"warm-up", "cool-down"}:
        slugs |= dict.fromkeys([m.slug for m in desk.library.with_pattern("mobility")])
    for slug in slugs:
        out |= desk.movement_sums(slug)
    return out


def brief_video(video: Video, desk: Desk, *, length: Length | None = None) -> Briefed:
    """Brief one video of a series, whatever its kind. Raises Stop where a person's file has errors."""
    folder = desk.folder or Path()
    if video.kind == "introduction":
        return _introduce(video, desk)
    path = folder / video.file
    if video.kind in {"briefing", "workout"}:
        made = brief(path, length=length, desk=desk)
        if video.kind == "briefing":
            return made
        number = desk.numbers.get(video.key)
        return replace(made, outline=made.outline.model_copy(update={"video": number, "kind": video.kind}))
    plan = read_plan(path, desk)
    plan = replace(plan, settings=plan.settings.with_(length=length))
    clock = work_through(plan.workout, plan.movements, effort=plan.effort)
    chosen = _chosen(plan, video.kind)
    extra = [m for s in (RAISERS if video.kind == "warm-up" else BREATHING) if (m := desk.library.get(s)) is not None]
    more = {m.slug: m for m in (*extra, *(c.movement for c in chosen))}
    material = make_material(replace(plan, movements={**plan.movements, **more}), clock)
    if video.kind == "warm-up":
        called = any(f.kind == "workout" and f.stem == video.stem for f in desk.series.videos) if desk.series else False
        segments = compose_warm_up(material, chosen, extra, called=called)
        kit = kit_shown(material.kit, chosen)
    else:
        segments = compose_cool_down(material, chosen, extra[0] if extra else None)
        kit = kit_shown((), chosen)
    return _finish(replace(plan, movements={**plan.movements, **more}), clock, material, segments, video, kit)


def _introduce(video: Video, desk: Desk) -> Briefed:
    """Brief the introduction: it has no workout of its own, and the kit of all of them."""
    series = desk.series
    assert series is not None  # noqa: S101 - a video stands in a series
    _stop_on_errors(desk.problems)
    title = series.title or "Introduction"
    nothing = Workout(title=title, parts=(), file=series.file)
    settings = _settled(desk.series, desk.pace, {"title": title, "length": None})
    plan = Plan(desk, settings, nothing, {}, Text.of("", series.file), ())
    clock = work_through(nothing, {})
    material = Material(settings, nothing, {}, clock, nothing, Voice(desk.wording))
    first = next((f.title for f in desk.facts if f.kind == "briefing"), None)
    offered = offered_by(desk)
    segments = compose_introduction(material, title, offered, first)
    return _finish(plan, clock, material, segments, video, offered.kit)


def offered_by(desk: Desk) -> Offered:
    """Give what the workouts of a series come with. A workout that cannot be read offers nothing."""
    kinds: Counter[str] = Counter()
    versions: Counter[str] = Counter()
    kit: list[KitItem] = []
    at_home: list[KitItem] = []
    stems: set[str] = set()
    for video in desk.series.videos if desk.series else ():
        if video.kind == "introduction":
            continue
        kinds[video.kind] += 1
        try:
            plan = read_plan((desk.folder or Path()) / video.file, desk)
        except Stop:
            continue
        if video.kind == "briefing":
            material = make_material(plan, work_through(plan.workout, plan.movements, effort=plan.effort))
            versions.update(v.name for v in all_versions(material))
        if video.stem not in stems:
            stems.add(video.stem)
            kit += listed_kit(plan.settings, (plan.movements[w.movement] for w in plan.workout.works))
        if video.kind in {"warm-up", "cool-down"}:
            at_home += kit_shown((), _chosen(plan, video.kind))
    return Offered(len(stems), kinds, versions, merge_kit([*kit, *at_home]))


def _chosen(plan: Plan, kind: VideoKind) -> tuple[Chosen, ...]:
    """Choose the drills of a warm-up, or the stretches of a cool-down, for what a steady person's workout loads."""
    worked = loads(simulate(plan.workout, plan.movements, "steady", effort=plan.effort), plan.movements)
    unit, most = ("reps", MOST_DRILLS) if kind == "warm-up" else ("seconds", MOST_STRETCHES)
    return choose(plan.desk.library.with_pattern("mobility"), worked, unit, most)


def _finish(
    plan: Plan,
    clock: Clock,
    material: Material,
    segments: tuple[Segment, ...],
    video: Video,
    kit: Sequence[KitItem],
) -> Briefed:
    """Time and fit the segments of a video that is no briefing; nothing of the briefing's checks is said twice.

    `kit` is what this video takes.
    """
    pace = pace_in(plan.settings)
    acted = tuple(with_action(material, segments, at) for at in range(len(segments)))
    timed = with_seconds(acted, pace, plan.settings.say_as)
    length = plan.settings.length
    most_s = length.seconds if length else None if video.kind == "introduction" else MOST_S
    fitted = fit_segments(timed, most_s * 10 if most_s else None, pace)
    outline = _assemble(plan, fitted, Ready(material, clock, timed, (), pace))
    title = outline.title if video.kind == "introduction" else f"{plan.workout.title}: {video.kind}"
    number = plan.desk.numbers.get(video.key)
    workout = outline.workout.model_copy(update={"notes": ""})
    sheet = outline.sheet.model_copy(update={"kit": tuple(kit_card(k) for k in kit), "stand_ins": ()})
    named = {"title": title, "video": number, "kind": video.kind, "workout": workout, "sheet": sheet}
    return Briefed(plan, clock, outline.model_copy(update=named))


# Our choice: what somebody who has seen the briefing watches again before the clock starts.
SHORT_S = 90


@dataclass(frozen=True)
class Ready:
    """Everything up to the fit: the material, the clock's answers, all lines with their seconds, what was skipped, the pace."""

    material: Material
    clock: Clock
    segments: tuple[Segment, ...]
    skipped: tuple[LeftOut, ...]
    pace: Pace


def prepare(plan: Plan, *, short: bool = False) -> Ready:
    """Work a plan through, compose, time and steer all its lines. Raises Stop where a wish fits no line."""
    clock = work_through(plan.workout, plan.movements, effort=plan.effort)
    material = make_material(plan, clock)
    pace = pace_in(plan.settings)
    segments = with_seconds(compose(material), pace, plan.settings.say_as)
    skipped: tuple[LeftOut, ...] = ()
    if short:
        segments = compose_short(material, segments)
    else:
        # What the coach skips has its seconds, too: they see what it would cost.
        segments, skipped, problems = steer(segments, plan.settings)
        _stop_on_errors(plan.problems, problems)
    return Ready(material, clock, segments, skipped, pace)


def trade_off(path: Path, minutes: Sequence[int] = (5, 6, 7, 8, 9, 10, 11, 12)) -> TradeOff:
    """Fit one workout to several lengths. Raises Stop where a person's file has errors."""
    ready = prepare(read_plan(path))
    everything = fit_segments(ready.segments, None, ready.pace).fit
    rows = []
    for minute in minutes:
        fitted = fit_segments(ready.segments, 600 * minute, ready.pace)
        lost = Counter(ready.segments[x.segment].title for x in fitted.left_out)
        rows.append(
            TradeRow(60 * minute, fitted.fit.fits, fitted.fit.tenths, len(fitted.fit.chosen), tuple(lost.most_common()))
        )
    return TradeOff(tuple(rows), everything.shortest_tenths, everything.everything_tenths)


def read_plan(path: Path, desk: Desk | None = None) -> Plan:
    """Read a workout with its settings and movements, and check it. Raises Stop where there are errors."""
    if desk is None:
        name = read_text(path, _shown(path, None))
        if name.value is None:
            raise Stop(name.problems)
        desk = open_desk(coach_folder(path), path.parent)
    page = desk.page(path)
    settings = _settled(desk.series, desk.pace, page.own).with_(title=page.title)
    problems = [*desk.problems, *page.problems]
    workout = page.workout
    if workout is None:
        raise Stop(problems)
    movements = _movements(desk.library, workout, problems)
    _stop_on_errors(problems)
    problems += check_workout(workout, movements, settings)
    taught = desk.taught_in_briefing(desk.stem(path))
    levels = {slug: t.level for slug, t in taught.items()}
    levels |= {
        slug: t.level
        for t in settings.teach
        if (slug := _taught(t.movement, workout.movements, desk.library, problems))
    }
    shown = _wanted_order(settings.order, workout, movements, desk, problems)
    filmed = _wanted_order(settings.film, workout, movements, desk, problems) if settings.film else None
    _stop_on_errors(problems)
    taught_in = {slug: t.taught_in for slug, t in taught.items() if t.taught_in}
    return Plan(desk, settings, workout, movements, page.text, tuple(problems), shown, filmed, levels, taught_in)


def _read_page(path: Path, desk: Desk) -> Page:
    """Read one workout file: text, head, settings, board. Raises Stop where it cannot be read at all."""
    if desk.folder is not None and not lies_in(path, desk.folder):
        raise Stop([_outside(path, desk)])
    text = read_text(path, _shown(path, desk))
    if text.value is None:
        raise Stop(text.problems)
    head, head_problems = recall_head(text.value, path)
    if any(p.code == "head-not-closed" for p in head_problems):
        raise Stop(head_problems)
    own, own_problems = read_settings(head, "workout")
    title = own.get("title") or path.stem.replace("-", " ").replace("_", " ").title()
    kit = listed_kit(_settled(desk.series, desk.pace, own), ())
    names = frozenset(n for item in kit for n in item.names) or None

    def other(name: str) -> Workout | None:
        there = path.parent / f"{slug_of(name)}.md"
        if there == path or there in desk.reading or not is_ordinary(there):
            return None
        try:
            page = desk.page(there)
        except Stop:
            return None
        refers.extend((there, *page.refers))
        return page.workout

    refers: list[Path] = []
    desk.reading.add(path)
    board = read_board(text.value, head.body_line, desk.library, title, names, other)
    desk.reading.discard(path)
    problems = (*head_problems, *own_problems, *board.problems)
    return Page(text.value, own, title, board.value, problems, tuple(refers))


# Our choice: a trial that moves all times by more than this was another workout, or another kind of person.
LEAST_FACTOR, MOST_FACTOR = 0.5, 2.0


def factor_tried(workout: Workout, movements: Mapping[str, Movement], tried: Tried) -> float:
    """Give the factor on all rates with which the clock gives the time of the coach's own trial, by halving (0.5 to 2)."""
    low, high = LEAST_FACTOR, MOST_FACTOR
    free = uncapped(workout)
    for _ in range(30):
        middle = (low + high) / 2
        if simulate(free, movements, tried.person, effort=Effort(factor=middle)).end_s < tried.seconds:
            low = middle
        else:
            high = middle
    return round((low + high) / 2, 3)


def _taught(words: Words, taught: Sequence[str], library: Library, problems: list[Problem]) -> str | None:
    """Give the slug of a movement of this workout that the coach names; another name is a problem with the nearest."""
    slug = library.find(words.text)
    if slug in taught:
        return slug
    names = [m.name.lower() for t in taught if (m := library.get(t)) is not None]
    message = f'"{words.text}" is not a movement of this workout'
    suggestion = nearest(words.text, names) or "one of: " + ", ".join(names)
    problems.append(
        Problem(level="error", code="not-in-workout", message=message, suggestion=suggestion, place=words.place)
    )
    return None


def _wanted_order(
    wanted: Sequence[Words], workout: Workout, movements: Mapping[str, Movement], desk: Desk, problems: list[Problem]
) -> tuple[str, ...]:
    """Give the order that `order:` or `film:` asks for: names first, the others as on the board; `cheapest` is computed."""
    board = workout.movements
    words = [w.text.lower() for w in wanted]
    if words in ([], ["board"]):
        return board
    if words == ["cheapest"]:
        taught = [movements[s] for s in board]
        return cheapest(list(stations_of(taught, gather_kit(taught)).values())).movements
    found = [_taught(w, board, desk.library, problems) for w in wanted]
    return arrange(board, [s for s in found if s])


def make_material(plan: Plan, clock: Clock) -> Material:
    """Put together what composing works with."""
    smaller = scale(plan.workout, plan.movements, "easy", effort=plan.effort)
    lighter = make_lighter(plan.workout, smaller)
    voice = Voice(plan.desk.wording)
    return Material(
        settings=plan.settings,
        workout=plan.workout,
        movements=plan.movements,
        clock=clock,
        lighter=lighter,
        voice=voice,
        shown=plan.shown,
        levels=plan.levels,
        taught_in=plan.taught_in,
        find=plan.desk.library.get,
    )


def _assemble(plan: Plan, fitted: Fitted, ready: Ready) -> Outline:
    series, settings = plan.desk.series, plan.settings
    return Outline(
        title=plan.workout.title,
        video=plan.desk.numbers.get(stem_of(Path(plan.text.name).as_posix())),
        series=series.title if series else None,
        length=settings.length,
        settings=settings,
        workout=plan.workout,
        segments=fitted.segments,
        left_out=(*fitted.left_out, *ready.skipped),
        low_tenths=fitted.low_tenths,
        high_tenths=fitted.high_tenths,
        shortest_tenths=fitted.fit.shortest_tenths,
        everything_tenths=fitted.fit.everything_tenths,
        pace_note=ready.pace.source_words,
        sheet=make_sheet(ready.material).model_copy(update={"built_from": _built_from(plan)}),
        **_orders(plan),
    )


def _built_from(plan: Plan) -> tuple[str, ...]:
    """Name the movements of a workout, each with six signs that change when its file changes."""
    out = []
    for slug in plan.shown:
        files = b"".join(path.read_bytes() for path in plan.desk.library.lineage(slug))
        out.append(f"{plan.movements[slug].name.lower()} {sum_of(files)[:6]}")
    return tuple(out)


def _orders(plan: Plan) -> dict[str, Order]:
    """Give the order shown, the one filmed and the cheapest, each with what it costs."""
    stations = stations_of([plan.movements[s] for s in plan.shown], gather_kit([plan.movements[s] for s in plan.shown]))
    best = cheapest([stations[s] for s in plan.workout.movements])
    return {
        "shown": cost_of([stations[s] for s in plan.shown]),
        "filmed": cost_of([stations[s] for s in plan.filmed]) if plan.filmed is not None else best,
        "best": best,
    }


def _beside(path: Path, shown_from: Path) -> Found[Text]:
    """Read a file that may be missing; a file that is not there is no problem."""
    if not path.is_symlink() and not path.exists():
        return Found(None, ())
    return read_text(path, str(path.relative_to(shown_from)) if path.is_relative_to(shown_from) else str(path))


def _series(folder: Path, shown_from: Path) -> tuple[Series | None, tuple[Problem, ...]]:
    text = _beside(folder / SERIES_FILE, shown_from)
    if text.value is None:
        return None, text.problems
    found = read_series(text.value, folder / SERIES_FILE)
    return found.value, found.problems


def learned_pace(folder: Path, shown_from: Path) -> tuple[Combined | None, tuple[Problem, ...]]:
    """Give the pace that was learned from the coach's own recordings, None where there is none."""
    text = _beside(folder / PACE_FILE, shown_from)
    if text.value is None:
        return None, text.problems
    found = read_pace(text.value)
    return (combined(found.value) if found.value else None), found.problems


def _settled(series: Series | None, pace: Combined | None, own: dict[str, Any]) -> Settings:
    """Let settings flow down: built-in, series, workout. A pace that was measured wins over one that was chosen."""
    above = series.settings if series else Settings()
    measured = {"k": pace.k, "talk_s": pace.talk_s} if pace else {}
    return above.with_(**(own | measured))


def _movements(library: Library, workout: Workout, problems: list[Problem]) -> dict[str, Movement]:
    """Give the movements of a board, its warm-up, its cool-down and its options; what the board carries comes with it."""
    around = [w for p in (*workout.warm_up, *workout.cool_down) for w in p.works]
    works = [*workout.works, *around]
    slugs = dict.fromkeys(w.movement for w in works)
    slugs.update(dict.fromkeys(o.work.movement for w in works for o in w.options))
    carried = {m.slug: m for m in workout.carried}
    found: dict[str, Movement] = {}
    for slug in slugs:
        movement = carried.get(slug) or library.get(slug)
        problems += library.problems(slug) if slug not in carried else ()
        if movement is not None:
            found[slug] = movement
    return found


def _shown(path: Path, desk: Desk | None) -> str:
    if desk is not None and desk.folder is not None and path.is_relative_to(desk.folder):
        return str(path.relative_to(desk.folder))
    return str(path) if not path.is_absolute() else path.name


def _outside(path: Path, desk: Desk) -> Problem:
    shown = _shown(path, desk)
    message = f'"{shown}" lies outside of the folder "{desk.folder}", and nothing outside of it is read'
    suggestion = "the file itself in that folder"
    return Problem(
        level="error", code="file-leads-out", message=message, suggestion=suggestion, place=Place(file=shown, line=1)
    )


def _stop_on_errors(*problems: tuple[Problem, ...] | list[Problem]) -> None:
    everything = [p for group in problems for p in group]
    if has_errors(everything):
        raise Stop(everything)
