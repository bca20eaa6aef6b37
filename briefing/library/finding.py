"""Finding a movement by any of its names, the coach's own first; each file is read at most once."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from pydantic import ValidationError
from rapidfuzz import fuzz, process

from briefing.library.models import Movement
from briefing.library.names import name_key, slug_of
from briefing.library.reading import Draft, read_draft, resolve
from briefing.problems import Place, Problem, has_errors
from briefing.sources import readings
from briefing.sources.guard import pages_in
from briefing.sources.head import read_head
from briefing.sources.text import Text, read_text

MOST_LEVELS = 2
# How the built-in movement is called that a coach's file of the same name hides and builds on.
_HIDDEN = "hidden:"


class Library:
    """The movements of some folders; a file in an earlier folder hides one of the same slug in a later one.

    `shown_from` is the folder that file names are shown against. Reading is lazy: a movement is read when it is asked
    for by slug, names are taken from the heads alone.
    """

    def __init__(self, folders: tuple[Path, ...], built_in: Path | None = None, shown_from: Path | None = None) -> None:
        self._folders = folders
        self._built_in = built_in
        self._shown_from = shown_from
        self._read: dict[str, Movement | None] = {}
        self._problems: dict[str, tuple[Problem, ...]] = {}
        self._names: dict[str, str] | None = None
        self._spoken: dict[str, str] = {}
        self._clashes: list[Problem] = []
        self._patterns: dict[str, tuple[Movement, ...]] = {}
        self._made_from: dict[str, str] = {}
        self._changed: set[str] = set()

    def slugs(self) -> tuple[str, ...]:
        """Give all slugs, sorted."""
        return tuple(sorted(self._files()))

    def find(self, name: str) -> str | None:
        """Give the slug of the movement that answers to this name, None where there is none."""
        files = self._files()
        slug = slug_of(name)
        if slug in files:
            return slug
        return self._index().get(name_key(name))

    def keys(self) -> Mapping[str, str]:
        """Give the slug of each name's key (`name_key`); a file's own slug is a name of it, too."""
        if not hasattr(self, "_all_keys"):
            own = {name_key(slug.replace("-", " ")): slug for slug in self._files()}
            self._all_keys = {**own, **self._index()}
        return self._all_keys

    def spoken_names(self) -> tuple[str, ...]:
        """Give all names of all movements as they are written, in small letters."""
        self._index()
        return tuple(self._spoken)

    def nearest(self, name: str, most: int = 3) -> tuple[str, ...]:
        """Give the names that are most like this one, the nearest first; names that are far off are left out."""
        self._index()
        words = [*self._spoken]
        hits = process.extract(name.lower(), words, scorer=fuzz.WRatio, limit=most * 3, score_cutoff=70)
        out = dict.fromkeys(self._spoken[hit[0]] for hit in hits)
        return tuple(out)[:most]

    def get(self, slug: str) -> Movement | None:
        """Give the movement of a slug, None where its file is missing or cannot be used (its problems say why)."""
        if slug not in self._read:
            self._load(slug, ())
        return self._read.get(slug)

    def with_pattern(self, pattern: str) -> tuple[Movement, ...]:
        """Give all movements of a pattern, by slug; only the files whose head names it are read."""
        if pattern not in self._patterns:
            line = f"pattern: {pattern}"
            hidden = self._hidden()
            hits = [
                s
                for s, path in sorted(self._files().items())
                if _head_holds(path, line) or (s in hidden and _head_holds(hidden[s], line))
            ]
            found = (self.get(s) for s in hits)
            self._patterns[pattern] = tuple(m for m in found if m is not None and m.pattern == pattern)
        return self._patterns[pattern]

    def problems(self, slug: str) -> tuple[Problem, ...]:
        """Give the problems of a movement's own file."""
        self.get(slug)
        return self._problems.get(slug, ())

    def name_clashes(self) -> tuple[Problem, ...]:
        """Give a problem for each name that two movements answer to."""
        self._index()
        return tuple(self._clashes)

    def lineage(self, slug: str) -> tuple[Path, ...]:
        """Give the files a movement is made of: its own, the built-in one that it changes, then those it builds on."""
        out: list[Path] = []
        at: str | None = slug
        while at is not None and (path := self._files().get(at)) is not None and path not in out:
            out.append(path)
            movement = self.get(at)
            hidden = self._hidden().get(at)
            if at in self._changed and hidden is not None:
                out.append(hidden)
            at = movement.builds_on if movement is not None else None
        return tuple(out)

    def file_of(self, slug: str) -> Path | None:
        """Give the file a slug is read from."""
        return self._files().get(slug)

    def _files(self) -> dict[str, Path]:
        if not hasattr(self, "_found"):
            found: dict[str, Path] = {}
            hidden: dict[str, Path] = {}
            for folder in self._folders:
                for path in pages_in(folder):
                    if found.setdefault(path.stem, path) != path:
                        hidden.setdefault(path.stem, path)
            self._found, self._found_hidden = found, hidden
        return self._found

    def _hidden(self) -> dict[str, Path]:
        """Give the files that a file of the same slug in an earlier folder hides."""
        self._files()
        return self._found_hidden

    def _path(self, key: str) -> Path | None:
        if key.startswith(_HIDDEN):
            return self._hidden().get(key.removeprefix(_HIDDEN))
        return self._files().get(key)

    def _named(self, builds_on: str, key: str) -> str:
        """Give the key of what is built on: of a movement's own name the one that it hides."""
        if builds_on == key and builds_on in self._hidden():
            self._changed.add(key)
            return _HIDDEN + builds_on
        return builds_on

    def _shown(self, path: Path) -> str:
        if self._shown_from is not None and path.is_relative_to(self._shown_from):
            return str(path.relative_to(self._shown_from))
        return f"movements/{path.name}" if self._built_in and path.parent == self._built_in else str(path)

    def _load(self, slug: str, trail: tuple[str, ...]) -> Movement | None:
        if slug in self._read:
            return self._read[slug]
        path = self._path(slug)
        self._read[slug] = None
        if path is None:
            return None
        text = read_text(path, self._shown(path))
        if text.value is None:
            self._problems[slug] = text.problems
            return None
        name, made_from = readings.name_for(path), self._all_of(text.value, slug, path, trail)
        kept = _kept(name, made_from)
        if kept is not None:
            self._read[slug], self._problems[slug] = kept, ()
            return kept
        draft = read_draft(text.value, slug.removeprefix(_HIDDEN))
        problems = list(draft.problems)
        parent = self._parent(draft.value, problems, (*trail, slug)) if draft.value else None
        if draft.value is not None and not has_errors(problems):
            made = resolve(draft.value, parent, from_coach=path.parent != self._built_in)
            problems += made.problems
            self._read[slug] = None if has_errors(problems) else made.value
        self._problems[slug] = tuple(problems)
        read = self._read[slug]
        plain = read is not None and (_builds_on_line(text.value) is None) == (read.builds_on is None)
        if made_from is not None and read is not None and plain and not problems:
            readings.keep(name, made_from, read.model_dump_json().encode())
        return read

    def _all_of(self, text: Text, slug: str, path: Path, trail: tuple[str, ...]) -> str | None:
        """Give all that a movement is made from as one text: its file and, by the same rule, what it builds on.

        None where that is not plain to see; then the movement is read, and what is wrong with it is said.
        """
        above = ""
        line = _builds_on_line(text)
        if line is not None:
            named = re.fullmatch(r"builds_on: ([a-z0-9-]+)", line)
            way = (*trail, slug)
            parent = self._named(named[1], slug) if named is not None else None
            if parent is None or parent in way or _levels(way) > MOST_LEVELS or self._load(parent, way) is None:
                return None
            if parent not in self._made_from:
                return None
            above = self._made_from[parent]
        own = path.parent != self._built_in
        self._made_from[slug] = "\n".join((slug, text.name, str(own), *text.lines, above))
        return self._made_from[slug]

    def _parent(self, draft: Draft, problems: list[Problem], trail: tuple[str, ...]) -> Movement | None:
        slug = draft.fields.get("builds_on")
        if slug is None:
            return None
        place = draft.places.get("builds_on") or Place(file=draft.file, line=1)
        slug = self._named(slug, trail[-1])
        if slug in trail:
            message = f"builds_on goes round in a circle: {' → '.join((*trail, slug))}"
            problems.append(Problem(level="error", code="builds-on-circle", message=message, place=place))
            return None
        if _levels(trail) > MOST_LEVELS:
            message = f"builds_on goes over more than two levels: {' → '.join((*trail, slug))}"
            problems.append(Problem(level="error", code="builds-on-deep", message=message, place=place))
            return None
        parent = self._load(slug, trail)
        if parent is None:
            there = slug in self._files()
            near = (
                None if there else next(iter(process.extractOne(slug, [*self._files()], score_cutoff=65) or ()), None)
            )
            problems.append(
                Problem(
                    level="error",
                    code="builds-on-unknown",
                    message=f'"{slug}", which this builds on, has errors'
                    if there
                    else f'there is no movement "{slug}" to build on',
                    suggestion=near,
                    place=place,
                )
            )
        return parent

    def _index(self) -> dict[str, str]:
        if self._names is not None:
            return self._names
        names: dict[str, str] = {}
        for slug, path in self._files().items():
            words = list(quick_names(path, self._shown(path)))
            hidden = self._hidden().get(slug)
            if hidden is not None and _head_holds(path, f"builds_on: {slug}"):
                words = list(dict.fromkeys([*words, *quick_names(hidden, self._shown(hidden))]))
            for word in words:
                key = name_key(word)
                other = names.setdefault(key, slug)
                if other != slug:
                    self._clashes.append(
                        Problem(
                            level="error",
                            code="name-twice",
                            message=f'"{word}" is a name of two movements: {other} and {slug}',
                            suggestion=f"a name in {slug}.md that {other}.md does not have",
                            place=Place(file=self._shown(path), line=1),
                        )
                    )
                self._spoken.setdefault(word.lower(), words[0].lower())
        self._names = names
        return names


def _levels(trail: tuple[str, ...]) -> int:
    """Count the levels of a trail; changing the built-in movement of the same name is none."""
    return sum(not key.startswith(_HIDDEN) for key in trail)


def _builds_on_line(text: Text) -> str | None:
    return next((line.rstrip() for line in text.lines if line.startswith("builds_on:")), None)


def _kept(name: str, made_from: str | None) -> Movement | None:
    reading = readings.recall(name, made_from) if made_from is not None else None
    try:
        return Movement.model_validate_json(reading) if reading is not None else None
    except ValidationError:
        return None


def _head_holds(path: Path, line: str) -> bool:
    try:
        with path.open(encoding="utf-8", errors="replace") as stream:
            return line in stream.read(2000)
    except OSError:
        return False


def quick_names(path: Path, shown: str) -> Iterator[str]:
    """Give a movement's names without reading all of it: its name, what else it is called, its own plural.

    The lines are read as they are nearly always written; anything else goes through the whole reader of heads.
    """
    try:
        with path.open(encoding="utf-8", errors="replace") as stream:
            lines = stream.read(4000).removeprefix("\ufeff").split("\n")
    except OSError:
        return
    name, also, plural, odd = None, "", "", False
    for line in lines[1:40]:
        if line.rstrip() == "---":
            break
        if line.startswith("name:"):
            name = line[5:].split(" #")[0].strip()
        elif line.startswith("plural:"):
            plural = line[7:].split(" #")[0].strip()
        elif line.startswith("also:"):
            also = line[5:].split(" #")[0].strip()
            odd = not re.fullmatch(r"\[(?!')[^\[\]\"#]*\]", also)
    if name and not odd and name[0] not in "\"'|>":
        yield name
        yield from (w.strip() for w in (*also.strip("[]").split(","), plural) if w.strip())
        return
    text = read_text(path, shown)
    if text.value is not None:
        head, _ = read_head(text.value)
        yield from (w for key in ("name", "also", "plural") for w, _ in head.words(key))
