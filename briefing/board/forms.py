"""The notation as a table: one row for each form that can stand at the head of a part or between its lines.

A line such as `5 rounds for time, cap 22:00` is a row of clauses; each clause is one form. A row more is a form more:
its pattern, what it does to the part under construction, an example and a sentence of explanation, which the pages
that describe the notation show.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from briefing.board.models import Goal, Rest, Work
from briefing.units import read_clock

# A time on a board: 12:00, :40, 12 min, 18', 90 s.  A bare number is minutes where the form says so.
T = r"(?:\d{0,3}:\d{2}(?::\d{2})?|\d{1,4}\s*(?:minutes?|mins?|min\b|m\b|'|seconds?|secs?|sec\b|s\b|\"|hours?|hrs?|h\b))"
_N = r"\d{1,4}"
_ROUNDS = r"(?:rounds?|rds?|r)"


class CannotRead(ValueError):  # noqa: N818 - not an error of the program: the reader makes a problem of it
    """A clause has the shape of a form, but a value in it is not usable; `at` is the value."""

    def __init__(self, code: str, message: str, suggestion: str | None, at: str) -> None:
        super().__init__(message)
        self.code, self.message, self.suggestion, self.at = code, message, suggestion, at


@dataclass
class PartDraft:
    """A part under construction: what the forms have said about it, and the lines below."""

    line: int
    name: str | None = None
    goal: Goal | None = None
    sets: bool = False
    rounds: int | None = None
    open_rounds: bool = False
    cap_s: int | None = None
    window_s: int | None = None
    gap_s: int = 0
    windows: int | None = None
    total_s: int | None = None
    rest_between_s: int | None = 0
    rest_ratio: float | None = None
    rest_after: list[tuple[int, int]] = field(default_factory=list)
    span_s: tuple[int, int] | None = None
    until_missed: bool = False
    any_order: bool = False
    plan_rounds: int | None = None
    numbers: tuple[int, ...] = ()
    step: int = 0
    carries_on: bool = False
    team: str | None = None
    target: str | None = None
    score: str | None = None
    rest_after_s: int = 0
    section: Literal["before", "body", "after"] = "body"
    before: list[Work | Rest] = field(default_factory=list)
    body: list[tuple[str | None, Work | Rest]] = field(default_factory=list)
    after: list[Work | Rest] = field(default_factory=list)
    after_each: list[Work] = field(default_factory=list)
    said: set[str] = field(default_factory=set)
    broken: bool = False


Act = Callable[[PartDraft, "re.Match[str]"], None]


@dataclass(frozen=True)
class Form:
    """One form of the notation. `opens`: this clause begins a part (or a new one, where one has begun with work).

    `repeats`: it may stand more than once in a part. `before_work`: its work may follow with nothing in between.
    """

    name: str
    pattern: re.Pattern[str]
    act: Act
    example: str
    means: str
    opens: bool = True
    repeats: bool = False
    before_work: bool = False


def seconds(words: str, *, bare_minutes: bool = False) -> int:
    """Read a time or say what would work; a bare number counts as minutes where the form takes it so."""
    value = read_clock(words)
    if value is None and bare_minutes and words.strip().isdigit():
        value = int(words) * 60
    if value is None:
        raise CannotRead("time-unreadable", f'"{words.strip()}" is not a time', "12:00, or 12 min", words.strip())
    if value == 0:
        raise CannotRead("number-zero", f'"{words.strip()}" is no time at all', "12:00", words.strip())
    if value > 6 * 3600:
        raise CannotRead("number-absurd", f'"{words.strip()}" is longer than six hours', "22:00", words.strip())
    return value


def whole(words: str, most: int = 200) -> int:
    """Read a number of rounds or sets, from 1 to `most`."""
    value = int(words)
    if value == 0:
        raise CannotRead("number-zero", f'"{words}" is nothing to do', "a number from 1", words)
    if value > most:
        raise CannotRead("number-absurd", f'"{words}" is more than anybody does ({most} at the most here)', None, words)
    return value


def _for_time(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "time"
    if m["n"]:
        p.rounds = whole(m["n"])
    if m["t"]:
        p.cap_s = seconds(m["t"], bare_minutes=True)


def _rounds(p: PartDraft, m: re.Match[str]) -> None:
    p.rounds = whole(m["n"])


def _quality(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "quality"
    if m["n"]:
        p.rounds = whole(m["n"])


def _sets(p: PartDraft, m: re.Match[str]) -> None:
    p.sets, p.goal = True, "complete"
    p.rounds = whole(m["n"])


def _amrap(p: PartDraft, m: re.Match[str]) -> None:
    p.goal, p.open_rounds = "most", True
    if m["n"]:
        p.windows = whole(m["n"])
    p.window_s = seconds(m["t"] or m["t2"], bare_minutes=True)
    if m["off"]:
        p.gap_s = seconds(m["off"], bare_minutes=True)


def _every(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "complete"
    p.window_s = seconds(m["t"], bare_minutes=True)
    if m["n"]:
        p.windows = whole(m["n"])
    elif m["total"]:
        p.total_s = seconds(m["total"], bare_minutes=True)


def _every_minute(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "complete"
    p.window_s = 60 * int(m["k"] or 1)
    if m["n"]:
        p.windows = whole(m["n"])
    else:
        p.total_s = seconds(m["t"] or m["t2"], bare_minutes=True)


def _intervals(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "most"
    p.window_s = seconds(_as_seconds(m["work"]))
    p.gap_s = seconds(_as_seconds(m["rest"]))
    p.windows = whole(m["n"]) if m["n"] else None
    p.said.add("intervals")


def _as_seconds(words: str) -> str:
    """In `40/20` both numbers are seconds."""
    return words + " s" if words.strip().isdigit() else words


def _cap(p: PartDraft, m: re.Match[str]) -> None:
    p.cap_s = seconds(m["t"] or m["t2"], bare_minutes=True)


def _any_order(p: PartDraft, _: re.Match[str]) -> None:
    p.any_order = True


def _plan(p: PartDraft, m: re.Match[str]) -> None:
    p.plan_rounds = whole(m["n"])


def _rest_between(p: PartDraft, m: re.Match[str]) -> None:
    p.rest_between_s = None if m["need"] else seconds(m["t"] or m["t2"])


def _rest_as_long(p: PartDraft, m: re.Match[str]) -> None:
    work, rest = float(m["work"] or 1), float(m["rest"] or 1)
    if not work:
        raise CannotRead("number-zero", f'"{m[0].strip()}" has no work in it', "rest as long as the work", m[0].strip())
    p.rest_ratio = rest / work


def _rest_after_rounds(p: PartDraft, m: re.Match[str]) -> None:
    rest_s = seconds(m["t"] or m["t2"])
    if m["value"]:
        rounds = [n for n, reps in enumerate(p.numbers, 1) if reps == int(m["value"])]
        if not rounds:
            raise CannotRead(
                "round-unknown", f"no round has the number {m['value']}", "Rest 1:00 after round 3", m[0].strip()
            )
        p.rest_after += [(n, rest_s) for n in rounds]
        return
    p.rest_after += [(whole(number), rest_s) for number in re.findall(r"\d+", m["list"])]


def _stretches(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "most"
    p.window_s = seconds(m["t"] or m["t2"])
    p.windows = whole(m["n"]) if m["n"] else None
    p.said.add("intervals")


def _climb(p: PartDraft, m: re.Match[str]) -> None:
    first, second = (int(m["a"]), int(m["b"])) if m["a"] else (1, 2)
    if second <= first:
        raise CannotRead("scheme-unclear", f'"{m[0].strip()}" does not rise', "minute n: n burpees", m[0].strip())
    p.goal, p.window_s, p.numbers, p.step = "complete", 60, (_scheme_number(str(first)), second), second - first
    if m["t"]:
        p.total_s = seconds(m["t"], bare_minutes=True)
    else:
        p.until_missed = True
        p.score = p.score or "the last minute that was whole"


def _rest_parts(p: PartDraft, m: re.Match[str]) -> None:
    p.rest_after_s = seconds(m["t"])


def numbers_of(words: str) -> tuple[tuple[int, ...], int]:
    """Read a list of numbers, one for each round, and the step by which it goes on for ever (0: it ends).

    Raises CannotRead where it does not say how it goes on.
    """
    words = words.replace("…", "...")
    if "..." in words or "etc" in words.lower():
        return _go_on(words)
    return tuple(_scheme_number(n) for n in re.findall(r"\d+", words)), 0


def _numbers(p: PartDraft, m: re.Match[str]) -> None:
    p.numbers, p.step = numbers_of(m["list"])
    if p.step:
        p.open_rounds = True
    p.goal = p.goal or "time"
    if m["t"]:
        p.goal, p.window_s = "most", seconds(m["t"], bare_minutes=True)
    if not p.open_rounds:
        p.rounds = len(p.numbers)


def _go_on(words: str) -> tuple[tuple[int, ...], int]:
    """Read `10-9-8-...-1` (all numbers down to 1) or `2-4-6-...` (on and on, gives its step)."""
    before, after = re.split(r"\.\.\.|etc\.?", words, maxsplit=1)
    first = [_scheme_number(n) for n in re.findall(r"\d+", before)]
    last = re.findall(r"\d+", after)
    if len(first) < 2:
        raise CannotRead("scheme-unclear", f'"{words.strip()}" does not say how it goes on', "2-4-6-8-…", words.strip())
    step = first[-1] - first[-2]
    if not last:
        if step <= 0:
            raise CannotRead(
                "scheme-unclear", f'"{words.strip()}" goes down without an end', "10-9-8-…-1", words.strip()
            )
        return tuple(first), step
    end = _scheme_number(last[-1])
    if step == 0 or (end - first[-1]) % step or (end - first[-1]) // step < 0:
        raise CannotRead(
            "scheme-unclear",
            f'"{words.strip()}" does not reach {end} in steps of {abs(step)}',
            "10-9-8-…-1",
            words.strip(),
        )
    return (*first, *range(first[-1] + step, end + (1 if step > 0 else -1), step)), 0


def _scheme_number(word: str) -> int:
    value = int(word)
    if not 0 < value <= 1000:
        raise CannotRead(
            "number-zero" if not value else "number-absurd", f'"{word}" is not a number of reps', None, word
        )
    return value


def _build_to(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "heaviest"
    p.window_s = seconds(m["t"], bare_minutes=True) if m["t"] else None
    p.target = f"a heavy {m['reps']}"
    p.numbers = (_scheme_number(m["reps"]),)


def _max_reps(p: PartDraft, m: re.Match[str]) -> None:
    p.goal = "most"
    p.window_s = seconds(m["t"] or m["t2"], bare_minutes=True)
    p.said.add("max")


def _part(p: PartDraft, m: re.Match[str]) -> None:
    p.name = (m["name"] or m["name2"]).upper()


def _team(p: PartDraft, m: re.Match[str]) -> None:
    p.team = ", ".join(x for x in (p.team, m[0].strip().lower()) if x)


def _carry_on(p: PartDraft, _: re.Match[str]) -> None:
    p.carries_on = True


def _start_again(p: PartDraft, _: re.Match[str]) -> None:
    p.carries_on = False


def _score(p: PartDraft, m: re.Match[str]) -> None:
    p.score = m["what"].strip()


def _row(name: str, pattern: str, act: Act, example: str, means: str, **may: bool) -> Form:
    return Form(name, re.compile(rf"^\s*(?:{pattern})\s*[.:]?\s*$", re.IGNORECASE), act, example, means, **may)


_OF = r"(?:\s+of)?"
_REST = rf"(?:rest|off)\s+(?P<t>{T})"

# The forms, most special first: the first that fits a whole clause is taken.
FORMS: tuple[Form, ...] = (
    _row(
        "part",
        r"(?:part\s+(?P<name>[a-h1-9])|(?P<name2>[a-h])[.)])",
        _part,
        "Part A",
        "A new part; it has its own clock.",
    ),
    _row(
        "for time",
        rf"(?:(?P<n>{_N})\s*(?:{_ROUNDS}\s*)?)?(?:for time|ft|rft)(?:\s+in\s+(?P<t>{T}))?{_OF}",
        _for_time,
        "5 rounds for time",
        "Do all of it as fast as you move well; the score is the time.",
        before_work=True,
    ),
    _row(
        "for quality",
        rf"(?:(?P<n>{_N})\s*(?:{_ROUNDS})?\s*)?(?:not for time|nft|for quality|untimed){_OF}",
        _quality,
        "5 rounds not for time",
        "No clock and no score: each repetition done well.",
    ),
    _row(
        "max reps",
        rf"(?:max(?:imum)?\s+(?:reps|effort)\s+in\s+(?P<t>{T})|(?P<t2>{T})\s+max(?:\s+reps)?)",
        _max_reps,
        "Max reps in 2:00",
        "As many repetitions of one thing as the time allows.",
        before_work=True,
    ),
    _row(
        "amrap",
        rf"(?:(?P<n>{_N})\s*[x×]\s*)?(?:(?:amrap|as many rounds(?: and reps)?(?: as possible)?)(?:\s+(?:in|of|for))?\s*[:-]?\s*(?P<t>{T}|\d+)"
        rf"|(?P<t2>{T})\s*amrap)(?:\s*/\s*(?P<off>{T}|\d+)\s*(?:off|rest))?{_OF}",
        _amrap,
        "AMRAP 12:00",
        "As many rounds and repetitions as the time allows.",
        before_work=True,
    ),
    _row(
        "every minute",
        rf"(?:e(?P<k>\d)?mom|every minute(?: on the minute)?)(?:\s*[x×]\s*(?P<n>\d+)(?:\s*{_ROUNDS})?|(?:\s+for)?\s*(?P<t>{T}|\d+)){_OF}|(?P<t2>{T})\s*emom{_OF}",
        _every_minute,
        "EMOM 15",
        "A new start at the top of every minute; what is left of the minute is rest.",
        before_work=True,
    ),
    _row(
        "every",
        rf"every\s+(?P<t>{T})(?:\s*(?:for|x|×|,)\s*(?:(?P<n>{_N})\s*(?:{_ROUNDS}|sets?|times|x)?|(?P<total>{T})(?:\s+in (?:all|total))?))?{_OF}",
        _every,
        "Every 2:00 for 7 rounds",
        "A new start every so often; what is left of the time is rest.",
        before_work=True,
    ),
    _row(
        "intervals",
        rf"(?:intervals?(?:\s+of)?\s*:?\s+)?(?:work\s+)?(?P<work>{T}|\d+)\s*(?:on|work)?\s*(?:/|,\s*rest|rest|and)\s*(?P<rest>{T}|\d+)\s*(?:off|rest)?"
        rf"(?:\s*(?:[x×]|for)\s*(?P<n>{_N})\s*(?:{_ROUNDS})?)?",
        _intervals,
        "0:40 on / 0:20 off",
        "Work for the first time, rest for the second, again and again.",
    ),
    _row(
        "intervals, counted",
        rf"(?P<n>{_N})\s*(?:{_ROUNDS}\s+of|[x×])\s*(?P<work>{T})\s*(?:on|work)?\s*(?:/|,)\s*(?P<rest>{T})\s*(?:off|rest)?",
        _intervals,
        "5 x 3:00 on / 1:30 off",
        "So many stretches of work with a rest between them.",
        before_work=True,
    ),
    _row(
        "stretches",
        rf"(?:(?P<n>{_N})\s*(?:[x×]|{_ROUNDS}\s+of)\s*)?(?:work\s+(?P<t>{T})|(?P<t2>{T})\s*(?:on|of work|work))",
        _stretches,
        "1:00 on",
        "So long a stretch of work; what the rest is stands behind it.",
    ),
    _row(
        "one more each minute",
        r"(?:(?:every minute|emom)\s*[,:]?\s*)?(?:min(?:ute)?\s+n\s*[:=]\s*n|min(?:ute)?\s*1\s*[:=]?\s*(?P<a>\d+)(?:\s+reps?)?\s*[,;]\s*min(?:ute)?\s*2\s*[:=]?\s*(?P<b>\d+)(?:\s+reps?)?"
        rf"(?:\s*[,;]\s*min(?:ute)?\s*3\s*[:=]?\s*\d+(?:\s+reps?)?)?\s*[,;]?\s*(?:…|\.\.\.|and so on|etc))(?:\s*,?\s*(?:for|until)\s+(?:(?P<t>{T})|(?:you|the minute).*))?",
        _climb,
        "minute n: n",
        "One in the first minute, two in the second, and so on, until a minute is not enough.",
    ),
    _row(
        "build to",
        rf"build (?:up )?to (?:a |your )?heavy\s*(?P<reps>\d+)(?:\s*(?:in|,)\s*(?P<t>{T}))?",
        _build_to,
        "Build to a heavy 3 in 15:00",
        "Sets that get heavier until one more would not be clean.",
    ),
    _row(
        "numbers",
        rf"(?P<list>\d+(?:\s*[-–—/]\s*\d+){{2,}}(?:\s*[-–—]?\s*(?:…|\.\.\.|etc\.?)(?:\s*[-–—]?\s*\d+)?)?|\d+\s*[-–—]\s*\d+\s*[-–—]?\s*(?:…|\.\.\.|etc\.?)(?:\s*[-–—]?\s*\d+)?)"
        rf"(?:\s+(?:reps?|for time|ft|of))*(?:\s*,?\s*(?P<t>{T}))?",
        _numbers,
        "21-15-9",
        "A round for each number; every line does that number in it.",
    ),
    _row(
        "sets",
        rf"(?P<n>{_N})\s*(?:sets?{_OF}|[x×])",
        _sets,
        "4 sets",
        "So many sets, untimed; rest as long as you need unless a rest is written.",
    ),
    _row(
        "rounds",
        rf"(?P<n>{_N})\s*{_ROUNDS}{_OF}",
        _rounds,
        "3 rounds",
        "So many times through the lines below.",
        before_work=True,
    ),
    _row(
        "any order",
        r"(?:in\s+)?any order|(?:partition|split)(?:\s+(?:it|them|as you like|any ?way|any way you like|how you like))*",
        _any_order,
        "Any order",
        "The numbers are totals; split them as you like.",
        repeats=True,
    ),
    _row(
        "cap",
        rf"(?:time\s*)?(?:cap|tc)\s*(?:of\s+|:\s*)?(?P<t>[^\s,;][^,;]*?)|(?P<t2>{T})\s*(?:time\s*)?cap",
        _cap,
        "cap 22:00",
        "When the clock gets there, the workout is over.",
        opens=False,
    ),
    _row(
        "plan",
        rf"plan\s+(?P<n>{_N})\s*{_ROUNDS}?",
        _plan,
        "plan 6 rounds",
        "How you would split the totals: so many equal rounds.",
        opens=False,
    ),
    _row(
        "rest between rounds",
        rf"(?:rest\s+(?:(?P<t>{T})|(?P<need>as (?:needed|nec\.?|necessary)))\s*(?:between|after each|after every|btw\.?)\s*(?:the\s+)?(?:{_ROUNDS}|sets?|each|it)?"
        rf"|(?P<t2>{T})\s+(?:rest|off)\s+between(?:\s+{_ROUNDS}|\s+sets?)?)",
        _rest_between,
        "Rest 1:00 between rounds",
        "A rest between one round and the next: none after the last.",
        opens=False,
    ),
    _row(
        "rest as long",
        r"(?:rest\s+)?(?:between(?:\s+rounds)?\s+)?(?:as long as (?:the (?:work|round|set)(?: took)?|it took|you worked)|equal to (?:the )?work|(?:work\s*(?::|to|/)\s*rest\s*(?::|=)?\s*)(?P<work>\d)\s*(?::|to)\s*(?P<rest>\d)|1\s*(?::|to)\s*1(?:\s+(?:work(?:\s*(?:to|[:/])\s*rest)?|rest))?)(?:\s+between(?:\s+rounds)?)?",
        _rest_as_long,
        "rest as long as the work",
        "A rest between rounds as long as the round before it took; work:rest 1:2 is twice as long.",
        opens=False,
    ),
    _row(
        "rest after a round",
        rf"(?:rest\s+(?P<t>{T})|(?P<t2>{T})\s*(?:rest|off))\s+after\s+(?:the\s+)?(?:(?P<value>\d+)['’]?s|(?:{_ROUNDS}|sets?)\s*(?P<list>\d+(?:(?:\s*,\s*|\s+and\s+|\s*&\s*)\d+)*))",
        _rest_after_rounds,
        "Rest 2:00 after round 3",
        "A rest after this round only.",
        opens=False,
        repeats=True,
    ),
    _row(
        "rest between parts",
        rf"rest\s+(?P<t>{T})\s+(?:between|before|then)\s*(?:parts?|the next(?: part)?|part [a-h])?",
        _rest_parts,
        "Rest 3:00 between parts",
        "A rest before the next part begins.",
        opens=False,
    ),
    _row(
        "in pairs",
        r"(?:in pairs|pairs|with a partner|partners?|(?:in\s+)?teams? of (?:two|2))(?:\s+[^\s,;][^,;]*)?|(?:one|1) works?(?:\s+[^\s,;][^,;]*)?(?:,\s*(?:one|1|the other|partner)\s+rests?)?"
        r"|(?:one|1|the other|partner)\s+rests?|alternat\w+ rounds|you go,? i go|share (?:the )?(?:reps|work|it)[^,;]*",
        _team,
        "In pairs",
        "Two people share the work.",
        opens=False,
        repeats=True,
    ),
    _row(
        "carry on",
        r"(?:carry on|pick up|continue)(?:\s+from)?\s+where you (?:left|stopped)(?:\s*off)?",
        _carry_on,
        "carry on where you left off",
        "The next stretch starts where the last one stopped.",
        opens=False,
    ),
    _row(
        "start again",
        r"start (?:again|over)(?:\s+each (?:time|round))?|from the top each time",
        _start_again,
        "start again each time",
        "Every stretch starts with the first line.",
        opens=False,
    ),
    _row(
        "aim",
        r"aim(?:ing)?\s*(?:for|:)?\s+(?P<what>.+)|(?P<what2>leave .+ in the tank)",
        lambda p, m: setattr(p, "target", (m["what"] or m["what2"]).strip()),
        "aim for under 12:00",
        "What a good result would be.",
        opens=False,
    ),
    _row(
        "score",
        r"score\s*[:=]?\s*(?:is\s+)?(?P<what>.+)",
        _score,
        "score: total reps",
        "What is written down.",
        opens=False,
    ),
)

# `A) 5 rounds for time`: the letter of a part and its first line together.
# `In pairs, one works: AMRAP 16:00`: who works, and behind the colon a line of its own.
TEAM_AND_LINE = re.compile(
    r"^\s*(?P<head>(?:in pairs|pairs|with a partner|in teams? of)[^:]*):\s+(?P<rest>\S.*)$", re.IGNORECASE
)
PART_AND_LINE = re.compile(r"^\s*(?P<head>(?:part\s+)?[A-H][.):])\s+(?P<rest>\S.*)$")
REST_LINE = re.compile(
    rf"^\s*(?:(?:rest|off)\s*(?::\s*)?(?:(?P<t>{T})|(?P<need>as (?:needed|nec\.?|necessary)))?|(?P<t2>{T})\s+(?:rest|off))\s*\.?\s*$",
    re.IGNORECASE,
)
# `0:00-4:00: 400 m run`, `4-10 AMRAP: …`: a stretch of a clock that goes on; see where it is read for how it is told from a range.
SPAN = re.compile(
    rf"^\s*(?:min(?:ute)?s?\s*)?(?P<a>{T}|\d{{1,2}})\s*(?:-|–|—|to)\s*(?P<b>{T}|\d{{1,2}})\s*(?:min(?:ute)?s?)?\s*[:=.)]?\s*(?:\s(?P<rest>\S.*))?$",
    re.IGNORECASE,
)
# `minute n: n burpees`, `minute 1: 1 burpee, minute 2: 2 burpees, …`: the form and its work on one line.
CLIMB_WORK = re.compile(
    rf"^\s*(?:every minute\s*[,:]?\s*)?min(?:ute)?\s*(?:n\s*[:=]\s*n\s+(?P<work>(?!for\b|until\b)[a-z][^,;]*?)|1\s*[:=]?\s*(?P<a>\d+)\s+(?P<work1>(?!reps?\b)[a-z][^,;]*?)\s*[,;]\s*min(?:ute)?\s*2\s*[:=]?\s*(?P<b>\d+)[^,;…]*?(?:[,;]\s*min(?:ute)?\s*3[^,;…]*)?\s*[,;]?\s*(?:…|\.\.\.|and so on|etc))"
    rf"(?P<tail>\s*,?\s*(?:for|until)\s+(?:{T}|(?:you|the minute).*))?\s*\.?\s*$",
    re.IGNORECASE,
)
# Lines in which the work stands before what is done with it, or with the form around it: the head that they mean, and the
# work. `accumulate` has no clock; a list with "in 7 min" behind its work is on the clock.
TURNED: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(rf"^\s*{pattern}\s*\.?\s*$", re.IGNORECASE), head)
    for pattern, head in (
        (rf"(?P<work>max(?:imum)?\s+[a-z].*?)\s+in\s+(?P<t>{T})", "Max reps in {t}"),
        (
            rf"(?P<list>\d+(?:\s*[-–—]\s*\d+)+\s*[-–—]?\s*(?:…|\.\.\.))\s*(?P<work>[a-z].*?)\s+in\s+(?P<t>{T})",
            "{list}, {t}",
        ),
        (rf"accumulate\s+(?P<work>{T}(?:\s+(?:of|in))?\s+[a-z].*)", "Not for time"),
        (r"(?P<work>\d+\s+[a-z][^,;]*?)\s+for time", "For time"),
    )
)
# A list of numbers and its work, where the list is the work's own: below a line that says how it is done.
OWN_NUMBERS = re.compile(
    r"^\s*(?P<list>\d+(?:\s*[-–—]\s*\d+){2,}(?:\s*[-–—]?\s*(?:…|\.\.\.)(?:\s*[-–—]?\s*\d+)?)?|\d+\s*[-–—]\s*\d+\s*[-–—]?\s*(?:…|\.\.\.)(?:\s*[-–—]?\s*\d+)?)(?:\s*(?:m|met(?:er|re)s?))?\s+(?P<work>[A-Za-z].*)$"
)
INTERRUPT = re.compile(
    rf"^\s*(?:every\s+(?P<every>{T}|\d+|minute)\s*(?:min\b)?(?:\s*,?\s*(?:(?:from|starting at|start(?:ing)?)\s+(?P<from>{T}|\d+|zero|the start)))?"
    rf"|at\s+(?P<at>{T}(?:\s*(?:,|and|&)\s*{T})*)"
    r"|(?:on |each |every )+(?P<brk>break|put[- ]?down|set[- ]?down|drop|time you (?:stop|break|rest|put it down))(?:\s+of\s+[\w ]+)?)"
    r"\s*(?:[:=](?!\d\d\b)|\s-\s|\s–\s)\s*(?P<work>\S.*)$",
    re.IGNORECASE,
)
# The same without its colon: read as an interrupt, and said so.
INTERRUPT_LOOSE = re.compile(
    rf"^\s*every\s+(?P<every>{T}|\d+)\s*,?\s*(?:(?:from|starting at)\s+(?P<from>{T}|\d+))?\s*(?:do\s+)?(?P<work>\d+\s*(?!rounds|rds|sets|times)[a-z].*)$",
    re.IGNORECASE,
)
STATION = re.compile(
    r"^\s*(?:(?:min(?:ute)?\s*)?(?P<n>\d{1,2})\s*[.):]\s+|(?P<odd>odd|even)(?:\s+min(?:ute)?s?)?(?:\s*[:.)-]\s*|\s+(?=\d)))(?P<work>.*)$",
    re.IGNORECASE,
)
SECTION = re.compile(
    r"^\s*(?P<which>buy[- ]?in|start with|first|to start|cash[- ]?out|finish(?: with)?|to finish|then|after that)\s*[:.]?\s+(?P<work>\S.*)$|^\s*(?P<bare>buy[- ]?in|start with|to start|cash[- ]?out|finish|to finish)\s*:?\s*$",
    re.IGNORECASE,
)
# `5 x 5 back squats`, `4 sets of 8 rows`: sets and their work on one line.
SETS_OF = re.compile(
    r"^\s*(?P<head>(?P<n>\d{1,2})\s*(?:sets?\s+of|[x×]))\s*(?P<work>\d+(?:\s*[-–]\s*\d+)?\s+[A-Za-z].*)$", re.IGNORECASE
)
# `21-15-9 thrusters`: the list of numbers and its work on one line.
NUMBERS_THEN_WORK = re.compile(
    r"^\s*(?P<head>\d+(?:(?:\s*[-–—]\s*\d+){2,}|(?:/\d+){2,})(?:\s*[-–—]?\s*(?:…|\.\.\.)(?:\s*[-–—]?\s*\d+)?)?)(?:\s*(?:m|met(?:er|re)s?))?\s+(?P<work>[A-Za-z].*)$"
)
AFTER_EACH = re.compile(
    r"^\s*\+?\s*(?P<work>.+?)\s+(?:after each(?: round| set)?|after every round)\s*$", re.IGNORECASE
)
