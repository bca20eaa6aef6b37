"""Which planned line was said where: an exact alignment of lines with stretches of the take.

The take is cut into chunks at the ends of sentences and captions. `gain[i][j]` is what line i is worth against the stretch that ends
with chunk j: the weight of the meaning it shares with it, as a share of the line's own weight, above a threshold. In order,

    best[i][j] = max(best[i-1][j], best[i][j-1], best[i-1][j-span] + gain(i, j-span+1 … j))     span = 1 … SPAN

is computed exactly; so lines may be skipped, and talk may stand between them. What is left is looked for anywhere, for lines that were
moved, the best first. A word weighs more the rarer it is among the lines; numbers and movements weigh most.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from briefing.problems import Model
from briefing.take.words import EMPTY, Token

# How many chunks one line may take; chunks are sentences or captions. Our choice.
SPAN = 4
# A line counts as said where so much of its meaning is there. Our choice, tried on takes with a tenth of the words misheard.
SAID = 0.46
# A chunk without a full stop is closed after so many tokens, so that captions without punctuation are cut as well.
MOST_TOKENS = 14
# Lines so near in the plan may stand in one chunk. Our choice.
BESIDE = 4
NUMBER_WEIGHT, MOVEMENT_WEIGHT = 1.6, 1.2


_COUNTED_IN = frozenset({"round", "minute", "second"})


class Chunk(Model):
    """A piece of the take: its tokens by index, its time."""

    first: int
    last: int
    start_ms: int
    end_ms: int


class Match(Model):
    """A line that was said: which (its index), from which chunk to which, how much of it was there, whether it was moved."""

    line: int
    first: int
    last: int
    share: float
    moved: bool = False


def chunks_of(tokens: Sequence[Token], ends: Sequence[int]) -> tuple[Chunk, ...]:
    """Cut tokens into chunks; `ends` are the milliseconds at which a sentence or a caption ends."""
    closing = sorted(set(ends))
    out: list[Chunk] = []
    first, at = 0, 0
    for index, token in enumerate(tokens):
        while at < len(closing) and closing[at] < token.end_ms:
            at += 1
        closed = at < len(closing) and closing[at] == token.end_ms
        if closed or index - first + 1 >= MOST_TOKENS or index == len(tokens) - 1:
            out.append(Chunk(first=first, last=index, start_ms=tokens[first].start_ms, end_ms=token.end_ms))
            first = index + 1
    return tuple(out)


def weigh(lines: Sequence[Sequence[Token]]) -> dict[str, float]:
    """Give the weight of each token: the rarer among the lines, the heavier; numbers and movements most, empty words none."""
    seen = Counter(t for line in lines for t in {x.text for x in line})
    out = {}
    for text, count in seen.items():
        if text in EMPTY:
            out[text] = 0.0
            continue
        weight = math.log(1 + len(lines) / count)
        out[text] = weight * (NUMBER_WEIGHT if text[0].isdigit() else MOVEMENT_WEIGHT if text[0] == "@" else 1.0)
    return out


def align(lines: Sequence[Sequence[Token]], tokens: Sequence[Token], chunks: Sequence[Chunk]) -> tuple[Match, ...]:
    """Align lines with chunks: in order first, exactly; what is left anywhere. Gives the lines that were said, by line."""
    lines, tokens = [_with_units(line) for line in lines], _with_units(tokens)
    weights = weigh(lines)
    gains = _gains(lines, tokens, chunks, weights)
    ordered = _in_order(len(lines), len(chunks), gains)
    said = {m.line for m in ordered}
    taken = {c for m in ordered for c in range(m.first, m.last + 1)}
    moved = []
    left = sorted(
        ((g, i, a, b) for (i, b), (g, a) in gains.items() if i not in said), key=lambda x: (-x[0], x[1], x[2])
    )
    for gain, line, first, last in left:
        if line not in said and not taken & set(range(first, last + 1)):
            said.add(line)
            moved.append(Match(line=line, first=first, last=last, share=gain, moved=True))
    # A line may share a chunk with its neighbours where a caption holds both, or have it where it fits better than what is there: the
    # signs to stop, said in full at the very end, are no repetition. The same words later in the plan are another line.
    for gain, line, first, last in left:
        there = [m for m in ordered if m.first <= last and first <= m.last]
        beside = any(abs(m.line - line) <= BESIDE for m in there)
        if line not in said and gain >= (1 + SAID) / 2 and (beside or all(_fits_better(gain, line, m) for m in there)):
            said.add(line)
            moved.append(Match(line=line, first=first, last=last, share=gain, moved=not beside))
    return tuple(sorted([*ordered, *moved], key=lambda m: m.line))


def _with_units(tokens: Sequence[Token]) -> list[Token]:
    """Let a number before a unit be another word than the number alone: eight rounds say nothing of eight burpees."""
    after = [*tokens[1:], None]
    return [
        replace(t, text=f"{t.text} {n.text}") if t.value is not None and n is not None and n.text in _COUNTED_IN else t
        for t, n in zip(tokens, after, strict=True)
    ]


def _fits_better(gain: float, line: int, there: Match) -> bool:
    return gain > there.share or (gain == there.share and line < there.line)


def _gains(
    lines: Sequence[Sequence[Token]], tokens: Sequence[Token], chunks: Sequence[Chunk], weights: dict[str, float]
) -> dict[tuple[int, int], tuple[float, int]]:
    """Give, for each line and the last chunk of a stretch, the best share and the first chunk; below the threshold nothing."""
    bags = [Counter(t.text for t in tokens[c.first : c.last + 1]) for c in chunks]
    spans: list[list[Counter[str]]] = [[bag] for bag in bags]
    for last in range(len(chunks)):
        for span in range(1, min(SPAN, last + 1)):
            spans[last].append(spans[last][-1] + bags[last - span])
    holders: dict[str, set[int]] = {}
    for number, bag in enumerate(bags):
        for text in bag:
            holders.setdefault(text, set()).add(number)
    out = {}
    for i, line in enumerate(lines):
        wanted = Counter(t.text for t in line if weights.get(t.text, 0.0) > 0)
        whole = sum(weights[t] * n for t, n in wanted.items())
        if not whole:
            continue
        candidates = {
            c + extra for t in wanted for c in holders.get(t, ()) for extra in range(SPAN) if c + extra < len(chunks)
        }
        for last in candidates:
            best = (0.0, last)
            for span, bag in enumerate(spans[last]):
                share = sum(weights[t] * min(n, bag[t]) for t, n in wanted.items()) / whole
                # A longer stretch has to bring something: a little is taken off for each chunk more.
                share -= 0.03 * span
                best = max(best, (share, last - span))
            if best[0] >= SAID:
                out[(i, last)] = best
    return out


def _in_order(lines: int, chunks: int, gains: dict[tuple[int, int], tuple[float, int]]) -> list[Match]:
    best = [[0.0] * (chunks + 1) for _ in range(lines + 1)]
    for i in range(1, lines + 1):
        row, above = best[i], best[i - 1]
        for j in range(1, chunks + 1):
            value = max(above[j], row[j - 1])
            found = gains.get((i - 1, j - 1))
            if found is not None:
                value = max(value, above[found[1]] + found[0])
            row[j] = value
    out, i, j = [], lines, chunks
    while i and j:
        found = gains.get((i - 1, j - 1))
        if (
            found is not None
            and best[i][j] == best[i - 1][found[1]] + found[0]
            and best[i][j] > max(best[i - 1][j], best[i][j - 1])
        ):
            out.append(Match(line=i - 1, first=found[1], last=j - 1, share=found[0]))
            i, j = i - 1, found[1]
        elif best[i][j] == best[i - 1][j]:
            i -= 1
        else:
            j -= 1
    return out[::-1]
