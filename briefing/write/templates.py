"""Filling a template: the coach's own first, everything that is filled in escaped, a slip in a template is a problem."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import FunctionType
from typing import Any

import jinja2

from briefing.problems import Place, Problem, Stop
from briefing.sources.text import read_text
from briefing.units import write_clock
from briefing.write.sandbox import GIVEN, METER, MOST_UNITS, Meter, Sandbox

_MARKS = re.compile(r"([\\`*_\[\]<>|~])")
# What would begin a heading, a list, a rule, or make a heading of the line above; and what would be read as another character.
_LINE_START = re.compile(r"^([0-9]{0,9})([#+=.)-])(?=\s|$|[#=-])")
_ENTITY = re.compile(r"&(?=#?\w+;)")


def escape_markdown(value: object) -> str:
    """Write a value so that Markdown shows it as it is: `<script>` and `*` are text, a line stays one line."""
    text = " ".join(str(value).split()) if isinstance(value, str) else str(value)
    return _LINE_START.sub(r"\1\\\2", _ENTITY.sub(r"\&", _MARKS.sub(r"\\\1", text)))


# Our choice: the longest of the built-in templates has 34,000 characters.
MOST_TEMPLATE = 200_000
# Our choice, each at least five times what the largest of the demo's documents has: a page is written in up to four forms, and what
# lays it out takes more than linear time for words without an end, tables of a thousand columns, or lists of fifty thousand lines.
MOST_WRITTEN, MOST_LINES, MOST_WORD, MOST_BARS, MOST_SIGNS = 100_000, 4_000, 300, 60, 1_000


@dataclass
class Templates:
    """Templates from some folders, the coach's own first and the built-in ones last. Each is compiled once.

    All are filled in a sandbox (see `sandbox`); what the coach's own may do in all is limited, since a folder may come from
    somebody else.
    """

    folders: tuple[Path, ...]
    _kinds: dict[str, Sandbox] = field(default_factory=dict)

    def fill(self, name: str, values: Mapping[str, Any]) -> str:
        """Fill the template `name` (`script.md`, `page.html`).

        Raises Stop with a problem at the template's line where one of the coach's own has a slip, does what a template may not,
        or more than any page needs.
        """
        shelf = Shelf(self.folders)
        own = shelf.own(name)
        METER.set(Meter(MOST_UNITS if own else None))
        GIVEN.set(tuple(v for v in values.values() if isinstance(v, FunctionType)))
        try:
            filled = self._environment(name.rsplit(".", 1)[-1], shelf).get_template(name).render(**values)
        except Stop:
            raise
        except jinja2.TemplateNotFound as error:
            raise Stop([self._problem(error, name, f'there is no template "{error.name}"')]) from error
        except jinja2.TemplateError as error:
            raise Stop([self._problem(error, name, error.message or "a slip in the template")]) from error
        except (RecursionError, SyntaxError, MemoryError) as error:
            if not own:
                raise
            message = "it includes itself, or is nested too deeply"
            raise Stop([self._problem(error, name, message)]) from error
        except Exception as error:
            # Only what a template of the coach's own reckons can go wrong in a hundred ways; in ours it is a bug.
            if not own:
                raise
            raise Stop([self._problem(error, name, str(error) or type(error).__name__)]) from error
        if own and not name.endswith(".html") and (words := _too_large(filled)):
            raise Stop([self._problem(None, name, words)])
        return filled

    def blame(self, name: str, error: Exception) -> Stop | None:
        """Give the problem of one of the coach's own templates whose page could not be laid out; None for the built-in ones."""
        if not Shelf(self.folders).own(name):
            return None
        return Stop([self._problem(error, name, "what it writes does not fit on a page")])

    def _environment(self, kind: str, shelf: Shelf) -> Sandbox:
        if kind not in self._kinds:
            # Markdown is escaped by finalize, HTML by autoescape.
            environment = Sandbox(shelf, html=kind == "html", finalize=escape_markdown if kind == "md" else None)
            environment.filters["clock"] = lambda tenths: write_clock(tenths / 10)
            self._kinds[kind] = environment
        return self._kinds[kind]

    def _problem(self, error: BaseException | None, name: str, message: str) -> Problem:
        file, line = _place_of(error, self.folders)
        if file is None:
            file = next((f / name for f in self.folders if (f / name).is_file()), Path(name))
        return Problem(
            level="error",
            code="template",
            message=f"the template cannot be filled here: {message}",
            suggestion="the built-in template of the same name, as a start",
            place=Place(file=str(file), line=max(1, line)),
        )


class Shelf(jinja2.BaseLoader):
    """Finds templates by their plain names in some folders, the coach's own first; reads nothing that lies elsewhere."""

    def __init__(self, folders: tuple[Path, ...]) -> None:
        self.folders = folders

    def own(self, name: str) -> bool:
        """Say whether a template is the coach's own: not from the last folder, which is the built-in one."""
        return any(_there(folder / name) for folder in self.folders[:-1])

    def get_source(self, environment: jinja2.Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        """Give a template's text. Raises Stop where its file cannot be read, TemplateNotFound where there is none."""
        del environment
        if template == Path(template).name and not template.startswith("."):
            for folder in self.folders:
                path = folder / template
                if _there(path):
                    return _text_of(path), str(path), lambda: True
        raise jinja2.TemplateNotFound(template)


def _too_large(filled: str) -> str:
    """Say what is too large in a page that a template wrote, "" where nothing is."""
    lines = filled.split("\n")
    found = (
        (len(filled), MOST_WRITTEN, "characters"),
        (len(lines), MOST_LINES, "lines"),
        (max(map(len, filled.split()), default=0), MOST_WORD, "characters in one word"),
        (max(line.count("|") for line in lines), MOST_BARS, "columns in a table"),
        (filled.count("<") + filled.count("&"), MOST_SIGNS, 'signs "<" and "&"'),
    )
    return next(
        (f"it writes {count:,} {what}; {most:,} are the most" for count, most, what in found if count > most), ""
    )


def _there(path: Path) -> bool:
    try:
        return path.exists() or path.is_symlink()
    except (OSError, ValueError):
        return False


def _text_of(path: Path) -> str:
    found = read_text(path)
    if found.value is None:
        raise Stop(found.problems)
    text = "\n".join(found.value.lines)
    if len(text) > MOST_TEMPLATE:
        message = f"this template has {len(text):,} characters; {MOST_TEMPLATE:,} are the most"
        raise Stop([Problem(level="error", code="template", message=message, place=Place(file=str(path), line=1))])
    return text


def _place_of(error: BaseException | None, folders: tuple[Path, ...]) -> tuple[Path | None, int]:
    """Give the template and the line in which something went wrong: the innermost one."""
    if isinstance(error, jinja2.TemplateSyntaxError):
        return (Path(error.filename) if error.filename else None), error.lineno
    found: tuple[Path | None, int] = (None, 1)
    trace = error.__traceback__ if error is not None else None
    while trace is not None:
        path = Path(trace.tb_frame.f_code.co_filename)
        if path.parent in folders:
            found = (path, trace.tb_lineno)
        trace = trace.tb_next
    return found
