"""Showing problems and JSON: the same way in every command."""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextvars import ContextVar
from pathlib import Path

import click

from briefing.problems import Problem, has_errors, plain, show_problem, sort_problems
from briefing.sources.guard import is_ordinary, leads_out
from briefing.sources.text import MOST_BYTES, Text
from briefing.write.saving import Saved, kept_words, room_of, save_all

CODES: ContextVar[bool] = ContextVar("codes", default=False)
"""Whether the codes of what needs attention are asked for (`--codes`)."""


def say(text: str = "", *, err: bool = False) -> None:
    """Print a line; whatever could steer the terminal, as a name of a file may hold, is not passed on to it."""
    click.echo(plain(text), err=err)


def show_problems(problems: Iterable[Problem], beside: Path | None = None) -> None:
    """Print problems to standard error, each with its line from the file and the place marked."""
    texts: dict[str, list[str] | None] = {}
    for problem in sort_problems(problems):
        lines = None
        if problem.place and problem.place.file:
            name = problem.place.file
            if name not in texts:
                texts[name] = _lines(name, beside)
            lines = texts[name]
        click.echo(show_problem(problem, lines, codes=CODES.get()), err=True)


def stop_with(problems: Iterable[Problem], *, as_json: bool, beside: Path | None = None) -> None:
    """Show problems (as JSON on standard output with `--json`) and exit 1 if there is an error among them."""
    found = sort_problems(problems)
    if as_json:
        from briefing.write.promised import problems_json  # noqa: PLC0415 - not needed in the terminal

        print_json(problems_json(found).model_dump(mode="json"))
    else:
        show_problems(found, beside)
    if has_errors(found):
        raise click.exceptions.Exit(1)


def show_kept(saved: Iterable[Saved]) -> None:
    """Say what was kept because a person wrote or edited it."""
    for words in kept_words(saved):
        say(words, err=True)


def save_named(path: Path, content: bytes, folder: Path) -> None:
    """Save what an option names, and say so; a file of a person's stays. Raises Stop where a link leads out of the folder."""
    room = room_of(path.parent, folder)
    (saved,) = save_all({path: content}, room, room)
    show_kept([saved])
    say(f"wrote {saved.path}", err=True)


def print_json(value: object) -> None:
    """Print an object as JSON."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=2))


def _lines(name: str, beside: Path | None) -> list[str] | None:
    """Give the lines of a file as the reader cut them; None where it cannot be shown."""
    for path in (*((beside / name,) if beside else ()), Path(name)):
        try:
            # What is not read because it lies elsewhere is not shown either.
            if is_ordinary(path) and not leads_out(path) and path.stat().st_size <= MOST_BYTES:
                return list(Text.of(path.read_text(encoding="utf-8", errors="replace"), name).lines)
        except OSError:
            continue
    return None
