"""Markdown read once and walked once: the blocks of a text in order, for whoever sets them (HTML, DOCX, PDF)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from typing import Literal, NamedTuple, Protocol

from markdown_it import MarkdownIt
from markdown_it.token import Token

ListKind = Literal["bullet", "number"]


@cache
def _markdown() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")


@lru_cache(maxsize=4)
def tokens_of(markdown: str) -> tuple[Token, ...]:
    """Read a Markdown text; nobody may change the tokens, since one text is written in several forms."""
    return tuple(_markdown().parse(markdown))


def as_html(markdown: str) -> str:
    """Give the body of a page; raw HTML in the text stays text."""
    reader = _markdown()
    return str(reader.renderer.render(tokens_of(markdown), reader.options, {}))


class Run(NamedTuple):
    """Some words of one look; a hard break has no words."""

    text: str
    bold: bool = False
    italic: bool = False
    breaks: bool = False


class Where(NamedTuple):
    """Where a paragraph stands: in which lists, the outer one first; `mark` where it begins an item: a number, 0 for a bullet."""

    lists: tuple[ListKind, ...] = ()
    mark: int | None = None
    quoted: bool = False


class Sink(Protocol):
    """What takes the blocks of a text in order."""

    def heading(self, level: int, inline: Token) -> None:
        """Take a heading."""

    def paragraph(self, inline: Token, where: Where) -> None:
        """Take a paragraph, of a list item too."""

    def table(self, rows: Sequence[Sequence[Token]]) -> None:
        """Take a table: its cells row by row, the first row its head."""

    def code(self, lines: Sequence[str]) -> None:
        """Take lines that stay as they are."""


def walk(tokens: Sequence[Token], sink: Sink) -> None:
    """Give a text's blocks to a sink, in order."""
    lists: list[tuple[ListKind, int]] = []
    begins = quoted = False
    index = 0
    while index < len(tokens):
        token = tokens[index]
        match token.type:
            case "heading_open":
                sink.heading(int(token.tag[1]), tokens[index + 1])
                index += 2
            case "table_open":
                rows, index = _table_rows(tokens, index)
                sink.table(rows)
            case "bullet_list_open":
                lists.append(("bullet", 0))
            case "ordered_list_open":
                lists.append(("number", 0))
            case "bullet_list_close" | "ordered_list_close":
                lists.pop()
            case "list_item_open":
                begins = True
            case "blockquote_open" | "blockquote_close":
                quoted = token.type == "blockquote_open"
            case "inline":
                mark = None
                if lists and begins:
                    kind, number = lists[-1]
                    mark = number + 1 if kind == "number" else 0
                    lists[-1] = (kind, mark)
                    begins = False
                sink.paragraph(token, Where(tuple(k for k, _ in lists), mark, quoted))
            case "fence" | "code_block":
                sink.code(token.content.rstrip("\n").split("\n"))
            case _:
                pass
        index += 1


def runs_of(inline: Token) -> Iterator[Run]:
    """Give the runs of a paragraph: its words with their look, a soft break as a blank."""
    bold = italic = 0
    for child in inline.children or ():
        match child.type:
            case "strong_open":
                bold += 1
            case "strong_close":
                bold -= 1
            case "em_open":
                italic += 1
            case "em_close":
                italic -= 1
            case "hardbreak":
                yield Run("", breaks=True)
            case "softbreak":
                yield Run(" ", bool(bold), bool(italic))
            case "text" | "code_inline":
                yield Run(child.content, bool(bold), bool(italic))
            case _:
                pass


def _table_rows(tokens: Sequence[Token], index: int) -> tuple[list[list[Token]], int]:
    """Give the cells of the table that opens at an index, row by row, and the index at which it closes."""
    rows: list[list[Token]] = []
    while tokens[index].type != "table_close":
        if tokens[index].type == "tr_open":
            rows.append([])
        elif tokens[index].type == "inline":
            rows[-1].append(tokens[index])
        index += 1
    return rows, index


def plain_words(markdown: str) -> list[str]:
    """Give the words of a Markdown text without its marks, for holding documents against each other."""
    out: list[str] = []
    for token in tokens_of(markdown):
        if token.type == "inline":
            out += re.findall(r"\S+", "".join(" " if run.breaks else run.text for run in runs_of(token)))
    return out
