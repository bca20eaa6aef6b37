"""A person's text file: read whole, checked once, then looked at line by line."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from briefing.problems import UNPRINTABLE, Found, Place, Problem
from briefing.sources.guard import is_ordinary, leads_out

# A page of movement or workout is a few thousand bytes. Our choice: above this it is another kind of file.
MOST_BYTES = 1_000_000
# Our choice: the longest line of a page here has some 700 characters; a transcript may be one line for an hour of talk.
MOST_LINE = 5_000
MOST_LINE_ANYWHERE = 200_000


@dataclass(frozen=True)
class Text:
    """A file's text as lines, with the name it is shown under.

    Lines are cut at line feeds alone (after CR LF was made LF): form feeds and U+2028 stay inside their line, as an
    editor counts them.
    """

    name: str
    lines: tuple[str, ...]

    @classmethod
    def of(cls, text: str, name: str) -> Text:
        """Cut a string into lines; a byte-order mark at its start is left out."""
        body = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        return cls(name, tuple(body.split("\n")))

    def place(self, line: int, column: int = 1, end_column: int | None = None) -> Place:
        """Give a place in this text; line and columns from 1."""
        length = len(self.lines[line - 1]) if line <= len(self.lines) else 0
        end = end_column if end_column is not None else max(column, length + 1)
        return Place(file=self.name, line=line, column=column, end_column=max(column, end))


def read_text(path: Path, name: str | None = None, *, anywhere: bool = False) -> Found[Text]:
    """Read a file that a person wrote: UTF-8, not empty, at most a megabyte, no control characters.

    A link that leads out of its folder is not followed, except `anywhere`: for captions and logs that a person names.
    Problems (all errors): `file-missing`, `file-is-folder`, `file-unreadable`, `file-leads-out`, `file-too-large`,
    `file-not-utf8`, `file-empty`, `line-too-long`, `control-character`.
    """
    shown = name or str(path)
    whole = Place(file=shown, line=1)

    def stop(code: str, message: str, suggestion: str | None = None, place: Place = whole) -> Found[Text]:
        return Found(None, (Problem(level="error", code=code, message=message, suggestion=suggestion, place=place),))

    try:
        if not anywhere and leads_out(path):
            return stop(
                "file-leads-out",
                f'"{shown}" is a link that leads out of its folder, and nothing outside of it is read',
                "the file itself in place of the link",
            )
        if path.is_dir():
            return stop("file-is-folder", f'"{shown}" is a folder; a file was expected', f"one of the files in {shown}")
        if not path.exists():
            return stop("file-missing", f'there is no file "{shown}"')
        if not is_ordinary(path):
            return stop("file-unreadable", f'"{shown}" is not an ordinary file')
        size = path.stat().st_size
        if size > MOST_BYTES:
            return stop(
                "file-too-large",
                f"this file has {size / 1_000_000:.1f} MB; a page of at most {MOST_BYTES // 1_000_000} MB was expected",
            )
        raw = path.read_bytes()
    except OSError as error:
        return stop("file-unreadable", f'"{shown}" cannot be read: {(error.strerror or "unknown reason").lower()}')
    try:
        decoded = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        return stop(
            "file-not-utf8",
            f"byte 0x{raw[error.start]:02x} is not UTF-8 text",
            "save the file as UTF-8 in your editor",
            Place(file=shown, line=line, column=column, end_column=column + 1),
        )
    text = Text.of(decoded, shown)
    if not any(line.strip() for line in text.lines):
        return stop("file-empty", "the file is empty")
    most = MOST_LINE_ANYWHERE if anywhere else MOST_LINE
    problems = (*_long_lines(text, most), *_control_characters(text))
    return Found(None if problems else text, problems)


def _long_lines(text: Text, most: int) -> list[Problem]:
    """Name the lines that are longer than any that is read."""
    return [
        Problem(
            level="error",
            code="line-too-long",
            message=f"this line has {len(line):,} characters; {most:,} are the most",
            suggestion="the same in several lines",
            place=text.place(number, most + 1),
        )
        for number, line in enumerate(text.lines, 1)
        if len(line) > most
    ][:20]


def _control_characters(text: Text) -> list[Problem]:
    """Name the first control character of each line; a tab is allowed."""
    out = []
    for number, line in enumerate(text.lines, 1):
        found = UNPRINTABLE.search(line)
        if found is None:
            continue
        column = found.start() + 1
        out.append(
            Problem(
                level="error",
                code="control-character",
                message=f"here is a character (U+{ord(found[0]):04X}) that no document can show",
                suggestion="delete it and type the line again",
                place=text.place(number, column, column + 1),
            )
        )
        if len(out) >= 20:
            break
    return out
