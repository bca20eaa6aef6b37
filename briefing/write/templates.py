"""Filling a template: the coach's own first, everything that is filled in escaped, a slip in a template is a problem."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import jinja2

from briefing.problems import Place, Problem, Stop
from briefing.units import write_clock

_MARKS = re.compile(r"([\\`*_\[\]<>|~])")
_LINE_START = re.compile(r"^(\s*\d*)([#+.)-])(?=\s)")


def escape_markdown(value: object) -> str:
    """Write a value so that Markdown shows it as it is: `<script>` and `*` are text, a line stays one line."""
    text = " ".join(str(value).split()) if isinstance(value, str) else str(value)
    return _LINE_START.sub(r"\1\\\2", _MARKS.sub(r"\\\1", text))


@dataclass
class Templates:
    """Templates from some folders, the coach's own first. Each is compiled once."""

    folders: tuple[Path, ...]
    _kinds: dict[str, jinja2.Environment] = field(default_factory=dict)

    def fill(self, name: str, values: Mapping[str, Any]) -> str:
        """Fill the template `name` (`script.md`, `page.html`).

        Raises Stop with a problem at the template's line where a template has a slip.
        """
        kind = name.rsplit(".", 1)[-1]
        try:
            return self._environment(kind).get_template(name).render(**values)
        except jinja2.TemplateSyntaxError as error:
            raise Stop([self._problem(name, error.lineno, error.message or "a slip in the template")]) from error
        except jinja2.TemplateNotFound as error:
            raise Stop([self._problem(name, 1, f'there is no template "{error.name}"')]) from error
        except jinja2.TemplateError as error:
            line = _line_in_template(error, name)
            raise Stop([self._problem(name, line, error.message or "a slip in the template")]) from error

    def _environment(self, kind: str) -> jinja2.Environment:
        if kind not in self._kinds:
            # Markdown is escaped by finalize, HTML by autoescape.
            environment = jinja2.Environment(
                loader=jinja2.FileSystemLoader([str(f) for f in self.folders]),
                undefined=jinja2.StrictUndefined,
                autoescape=kind == "html",  # noqa: S701
                trim_blocks=True,
                lstrip_blocks=True,
                keep_trailing_newline=True,
            )
            if kind == "md":
                environment.finalize = escape_markdown
            environment.filters["clock"] = lambda tenths: write_clock(tenths / 10)
            self._kinds[kind] = environment
        return self._kinds[kind]

    def _problem(self, name: str, line: int, message: str) -> Problem:
        folder = next((f for f in self.folders if (f / name).is_file()), None)
        shown = str(folder / name) if folder else name
        return Problem(
            level="error",
            code="template",
            message=f"the template cannot be filled here: {message}",
            suggestion="the built-in template of the same name, as a start",
            place=Place(file=shown, line=max(1, line)),
        )


def _line_in_template(error: Exception, name: str) -> int:
    line, trace = 1, error.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename.endswith(name):
            line = trace.tb_lineno
        trace = trace.tb_next
    return line
