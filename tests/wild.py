"""Texts as nobody writes them, and nearly as somebody does: what the standing fuzz run feeds to every reader.

Everything comes from a seeded generator, so that a number names its text for ever. A text begins as something that can be read and
is then spoiled: wild characters, huge and tiny numbers, very long lines, nesting, what stands there again and again.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence

from briefing.problems import Place
from briefing.sources.folders import built_in
from briefing.take.transcript import Cue, write_srt, write_vtt
from tests.reading_cases import read_cases

_ODD = tuple(
    "\u0000 \u0007 \u001b[31m \u0085 \u00a0 \u00ad \u0301 \u0660 \u06f7 \u200b \u200d \u2028 \u202e \u2066 \u2212 \u2044 \u3000 \ufeff \ufffd \ufffe "
    "½ ¼ ² ③ Ⅳ × ÷ – — … ′ ″ ’ “ ” « » · • → ± ≈ № µ ß İ ı ſ ﬁ Ω Å é e\u0301 日 本 語 ١٢ ५ 𝟙𝟚 🏋️ 👩‍🚒 𐐷".split(" ")
)
_NUMBERS = tuple(
    "0 00 1 01 -1 -0 +5 1.5 1,5 1,000 10,00 1e9 1e-9 0x10 1_000 99 100 999 1000 9999 100000 1000000 ½ 1½ 3/4 24/16 50/35/20 ∞ NaN "
    "0.1 .5 5. 1:00 0:00 00:00 1:60 99:99 1:00:00 25:00:00 :30 30: 0:0 ² ١٢ １２".split(" ")
)
_HUGE = ("9" * 309, "1" + "0" * 400, "9" * 5000, "0." + "0" * 400 + "1", "1" * 4301, "-" + "9" * 50, "9" * 20 + ":00")
_UNITS = tuple(
    "kg lb lbs pood m km mi yd ft in cm s sec min h cal kcal reps rounds sets % RPE each ea side arm leg".split(" ")
)
_WORDS = tuple(
    "for time rounds of AMRAP EMOM every then rest between after cap plan any order score total buy-in finish on off max reps in build to "
    "a heavy not quality part A pairs or as wk1 with without at from and x tempo alternating each unbroken straight".split(
        " "
    )
)
_NAMES = tuple(
    "goblet squats|push-ups|burpees|run|row|bike|goblet step-ups|air squats|mountain climbers|dumbbell push presses|kettlebell swings|"
    "plank|side plank|deadlifts|pull-ups|box jumps|reverse lunges|farmer carry|jumping jacks|tide squats|goblet sqaut|ring thing".split(
        "|"
    )
)
_KIT = tuple(
    "1 dumbbell|2 dumbbells|1 kettlebell|1 step|1 box|barbell|rower|bike|pull-up bar|1 wall|99999 dumbbells|rope|sandbag".split(
        "|"
    )
)

_LIBRARY = tuple(p.read_text(encoding="utf-8") for p in sorted(built_in("movements").glob("*.md"))[::7])
_SCRIPT = (built_in("templates") / "script.md").read_text(encoding="utf-8")
_WORDING = (built_in("templates") / "wording.md").read_text(encoding="utf-8").split("\n## ")[1:]
_SPOKEN = tuple(
    line[2:] for section in _WORDING for line in section.split("\n") if line.startswith("- ") and "{" not in line
)
BOARDS = tuple(case.given for case in read_cases("boards.md"))


def amount(rng: random.Random) -> str:
    """Give a number, mostly one that could be meant."""
    pick = rng.random()
    if pick < 0.75:
        return str(rng.choice((5, 6, 8, 10, 12, 15, 20, 30, 50, 100)))
    return rng.choice(_NUMBERS) if pick < 0.97 else rng.choice(_HUGE)


def clock(rng: random.Random) -> str:
    """Give a time, mostly one that could be meant."""
    if rng.random() < 0.85:
        return rng.choice(("0:20", "0:40", "1:00", "2:00", "5:00", "8:00", "12:00", "20:00", "40 s", "10 min", "12"))
    return rng.choice(_NUMBERS)


def _work(rng: random.Random) -> str:
    name = rng.choice(_NAMES)
    words = rng.choice(
        (
            f"{amount(rng)} {name}",
            f"{amount(rng)} {name}",
            f"{amount(rng)} {name} @ {amount(rng)}/{amount(rng)} kg",
            f"{amount(rng)} {name}, {amount(rng)} each arm",
            f"{amount(rng)} {name}, alternating",
            f"{amount(rng)} {rng.choice(_UNITS)} {name}",
            f"{clock(rng)} {name}",
            f"{amount(rng)}/{amount(rng)} {name}",
            f"{amount(rng)}-{amount(rng)}-{amount(rng)} {name}",
            name,
            f"max {name}",
            f"{amount(rng)} {name}, tempo 31X1, RPE {amount(rng)}",
            f"{amount(rng)} {name} + {amount(rng)} {rng.choice(_NAMES)}",
        )
    )
    return "  " * rng.randrange(3) + words


def _form(rng: random.Random) -> str:
    n, t, u = amount(rng), clock(rng), clock(rng)
    return rng.choice(
        (
            f"{n} rounds for time, cap {t}", f"{n} rounds for time", f"AMRAP {t}", f"EMOM {n}", f"Every {t} for {n} rounds",
            f"{t} on / {u} off, {n} rounds", f"{n} x {t} on / {u} off", f"{n}-{amount(rng)}-{amount(rng)}", f"{n} sets", "For time",
            f"Any order; plan {n} rounds; cap {t}", f"Build to a heavy {n} in {t}", f"Max reps in {t}", "minute n: n", f"{n} rounds not for time",
            f"Every {t} from {u}: {_work(rng).strip()}", f"At {t} and {u}: {_work(rng).strip()}", f"Every put down: {_work(rng).strip()}",
            f"Rest {t} between rounds", f"Rest {t} after round {n}", f"Rest {t} between parts", f"Part {rng.choice('ABCD')}", "In pairs",
            f"or {_work(rng).strip()} (no room)", f"Buy-in: {_work(rng).strip()}", f"Finish: {_work(rng).strip()}", f"{t}-{u}: AMRAP",
            f"{_work(rng).strip()} after each round", f"aim for under {t}", "score: total reps", "carry on where you left off", f"as wk1, +{n} round",
            " ".join(rng.choices(_WORDS, k=rng.randrange(1, 8))),
        )
    )  # fmt: skip


_HEADS = ("3 rounds for time, cap 12:00", "5 rounds for time", "AMRAP 12:00", "EMOM 12", "Every 2:00 for 6 rounds", "0:40 on / 0:20 off, 8 rounds",
          "For time", "4 sets", "Any order; plan 5 rounds; cap 20:00", "3 rounds not for time", "In pairs\nAMRAP 15:00")  # fmt: skip
_CLAUSES = ("Rest 1:00 between rounds", "Every 3:00 from 0:00: 12 mountain climbers", "    or 12 step-ups (shoulder)", "aim for under 12:00",
            "Finish: 400 m run", "Rest 3:00 between parts\nPart B\nAMRAP 6:00\n  10 burpees", "100 m run after each round")  # fmt: skip


_TAME = tuple(n for n in _NAMES[:-3] if n not in {"farmer carry", "run", "row", "bike", "plank", "side plank"})


def _plain_board(rng: random.Random) -> str:
    lines = [rng.choice(_HEADS)]
    for name in rng.sample(_TAME, rng.randrange(1, 5)):
        tame = f"  {rng.choice((5, 8, 10, 12, 20, 30))} {name}"
        lines.append(
            rng.choice(
                (
                    tame,
                    tame,
                    f"{tame} @ 24/16 kg",
                    "  200 m run",
                    "  0:40 plank",
                    f"{tame}, {rng.choice(('alternating', 'slow', 'unbroken'))}",
                )
            )
        )
    return "\n".join([*lines, *rng.sample(_CLAUSES, rng.choice((0, 0, 1, 2)))]) + "\n"


def board(rng: random.Random) -> str:
    """Give a board: a plain one, one of the text cases, or lines put together from all forms of the notation."""
    pick = rng.random()
    if pick < 0.45:
        return _plain_board(rng)
    if pick < 0.75:
        return rng.choice(BOARDS)
    lines = [_work(rng) if rng.random() < 0.7 else _form(rng) for _ in range(rng.randrange(1, 9))]
    return "\n".join([_form(rng), *lines]) + "\n"


def value(rng: random.Random) -> str:
    """Give a value of a head."""
    plain = (amount, clock, lambda r: r.choice(_WORDS), lambda r: f'"{r.choice(_NAMES)}"', lambda r: f"[{r.choice(_KIT)}, {r.choice(_KIT)}]",
             lambda r: f"{{{r.choice(_NAMES)}: {r.choice(('short', 'full', 'name-only'))}}}", lambda r: r.choice(_ODD),
             lambda r: r.choice(("yes", "no", "none", "garage", "cheapest", "A4", "2.4 m", "217 x 136 mm", "10 cm below", "about 9:00", "&a x", "*a", "!x y")),
             lambda r: f'"a\\x{r.randrange(256):02x}b\\u{r.choice(("d800", "202e", "fffe", "00e9"))}"', lambda r: f"2027-{r.randrange(14):02d}-{r.randrange(33):02d}")  # fmt: skip
    return rng.choice(plain)(rng)


def head(rng: random.Random, keys: Sequence[str]) -> str:
    """Give a head with some of these keys, between its two lines."""
    lines = [f"{rng.choice(keys)}: {value(rng)}" for _ in range(rng.randrange(0, 7))]
    return "\n".join(["---", *lines, "---"]) + "\n"


WORKOUT_KEYS = (
    "title",
    "length",
    "feel",
    "aim",
    "filmed",
    "kit",
    "say",
    "skip",
    "teach",
    "order",
    "film",
    "score",
    "tried",
    "ceiling",
    "next",
)
SERIES_KEYS = (*WORKOUT_KEYS, "coach", "greeting", "sign_off", "members", "reading_distance", "paper", "screen", "eyesight", "card_place",
               "cards", "say_as", "speaking_pace", "full_again_weeks")  # fmt: skip
MOVEMENT_KEYS = ("name", "also", "plural", "kit", "sides", "counts", "works_hard_on", "space", "position", "camera", "seconds_per_rep",
                 "pace_source", "builds_on", "leave_out", "pattern")  # fmt: skip


def workout(rng: random.Random) -> str:
    """Give a workout file: a head or none, a board, notes or none."""
    notes = f"\n## Notes\n{' '.join(rng.choices((*_WORDS, *_ODD, '# x', '&amp;', '- a'), k=rng.randrange(30)))}\n"
    first = rng.choice(("", "---\nlength: 9:00\n---\n", "---\nlength: about 6:00\nfeel: steady\n---\n"))
    if rng.random() < 0.25:
        first = head(rng, WORKOUT_KEYS)
    return first + board(rng) + (notes if rng.random() < 0.3 else "")


def series(rng: random.Random) -> str:
    """Give a series file with some videos."""
    kinds = ("briefing", "warm-up", "workout", "cool-down", "introduction", "party")
    names = ("day.md", "day", "other.md", "sub/day.md", "../day.md", "..", "day.txt", "", "x" * 300, "a\u202eb.md")
    videos = [
        rng.choice(
            (
                f"  - {rng.choice(names)}",
                f"  - {{workout: {rng.choice(names)}, kind: {rng.choice(kinds)}, date: {value(rng)}, recorded: {value(rng)}}}",
                f"  - {{kind: {rng.choice(kinds)}, new_people: {value(rng)}}}",
                f"  - {value(rng)}",
            )
        )
        for _ in range(rng.randrange(5))
    ]
    return head(rng, SERIES_KEYS).removesuffix("---\n") + "videos:\n" + "\n".join(videos) + "\n---\n\nNotes.\n"


def movement(rng: random.Random) -> str:
    """Give a movement file: one of the library's, or one of its parts in any order."""
    if rng.random() < 0.6:
        return re.sub(r"^(name: ).*", r"\1Tide squat", rng.choice(_LIBRARY), count=1, flags=re.MULTILINE)
    titles = (
        "Technique points",
        "Build-up",
        "Common faults",
        "Regressions",
        "Progressions",
        "Safety",
        "Counts when",
        "Recap",
        "Note",
        "Call-out",
        "Else",
    )
    out = [head(rng, MOVEMENT_KEYS).replace("---\n", "---\nname: Tide squat\n", 1), "\nYou sit down and stand up.\n"]
    for title in rng.sample(titles, rng.randrange(1, 8)):
        out.append(f"\n## {title}\n")
        for _ in range(rng.randrange(4)):
            mark = rng.choice(("-", "1.", "*", "  -", ""))
            dash = rng.choice((" — ", " - ", " – ", ": ", " "))
            out.append(f"{mark} **{rng.choice(_NAMES)}** ({rng.choice(('knee', amount(rng) + ' reps', 'from the side', 'no room'))}){dash}"
                       f"{' '.join(rng.choices((*_WORDS, '→', '->', *_ODD), k=rng.randrange(12)))}.\n")  # fmt: skip
    return "".join(out)


def transcript(rng: random.Random) -> str:
    """Give captions of some minutes, in one of the three forms: what a coach might say, or anything."""
    at, cues = rng.randrange(3000), []
    spoken = rng.random() < 0.6
    for _ in range(rng.randrange(1, 60)):
        end = at + rng.randrange(200, 9000)
        words = (
            [rng.choice(_SPOKEN)]
            if spoken and rng.random() < 0.95
            else rng.choices((*_WORDS, *_NAMES, *_ODD, "twenty", "12", "um", "<b>", "-->"), k=rng.randrange(1, 16))
        )
        cues.append(Cue(start_ms=at, end_ms=end, text=" ".join(words).replace("\u0000", ""), place=Place(line=1)))
        at = end + rng.randrange(-300, 2000)
    if rng.random() < 0.3:
        return "\n".join(f"[{c.start_ms // 60000}:{c.start_ms // 1000 % 60:02d}] {c.text}" for c in cues)
    return write_vtt(cues) if rng.random() < 0.6 else write_srt(cues)


def log(rng: random.Random) -> str:
    """Give a log of the cards on screen."""
    rows = ["Cards", "clock\twhat\tsegment"]
    for second in range(rng.randrange(12)):
        segment = rng.choice(("1", "2", "3", *_NUMBERS, *_HUGE[:2]))
        rows.append(
            f"0:{second // 6:02d}:{second * 10 % 60:02d}.{rng.randrange(10)}\t{rng.choice(('start', 'keep', 'stop', ''))}\t{segment}"
        )
    return "\n".join(rows) + "\n"


def pace(rng: random.Random) -> str:
    """Give a page of speaking paces."""
    rows = [f"| {rng.choice(('a.vtt', 'b|c.vtt', *_ODD))} | 2027-{rng.randrange(14):02d}-{rng.randrange(32):02d} | {amount(rng)} | {amount(rng)} | {amount(rng)} |"
            for _ in range(rng.randrange(6))]  # fmt: skip
    return (
        "# Speaking pace\n\nMine.\n\n| recording | date | seconds of talk | typical seconds | pace |\n| --- | --- | --- | --- | --- |\n"
        + "\n".join(rows)
        + "\n\nBelow.\n"
    )


def saying(rng: random.Random) -> str:
    """Give a text that is said."""
    return " ".join(
        rng.choices(
            (*_WORDS, *_NAMES, *_NUMBERS, *_UNITS, *_ODD, "24/16 kg", "3x10", "1:30.", "5'", "A1)"),
            k=rng.randrange(1, 30),
        )
    )


def wording(rng: random.Random) -> str:
    """Give a page of phrases of one's own: some of the built-in ones, or anything."""
    if rng.random() < 0.6:
        return "# Mine\n\n" + "\n".join(f"## {section}" for section in rng.sample(_WORDING, 3))
    names = ("hello", "goodbye", "promise", "cap", "kit", "nothing like it")
    out = ["# Mine\n"]
    for _ in range(rng.randrange(1, 5)):
        out.append(  # noqa: PERF401 - a page grows line by line
            f"\n## {rng.choice(names)}\n"
            + "".join(
                f"- {saying(rng)} {{{rng.choice(('title', 'time', 'x', '', '0'))}}}\n" for _ in range(rng.randrange(3))
            )
        )
    return "".join(out)


def template(rng: random.Random) -> str:
    """Give a template of one's own: the built-in one, or anything."""
    if rng.random() < 0.5:
        return _SCRIPT
    parts = (
        "{{ title }}", "{% for s in segments %}", "{% endfor %}", "{% if series %}", "{% endif %}", "{{ s.title | upper }}", "{{ loop.index }}",
        "{{ tenths | clock }}", "{{ title.__class__ }}", "{{ range(100000) | list }}", "{% include 'script.md' %}", "{{ 10 ** 10 ** 10 }}", "{{ 1 / 0 }}",
        "{{ title * 1000000000 }}", "{% set x = title ~ title %}", "{{ x }}", "{{ segments[0].lines }}", "{{ s.parse_file('x') }}", "{{", "%}", "{% raw %}",
        "{% macro m(n) %}{{ m(n - 1) }}{% endmacro %}{{ m(9) }}", "{{ segments | map(attribute='title') | join(', ') }}", "text\n", "# x\n", "- y\n",
        "{% for x in range(99999) %}{% for y in range(99999) %}{% endfor %}{% endfor %}", "{{ notes | length }}", "{{ '%9999999d' % 1 }}", "<script>",
    )  # fmt: skip
    return "".join(rng.choices(parts, k=rng.randrange(1, 12)))


def spoil(text: str, rng: random.Random) -> str:
    """Spoil a text at some places, as a slip of the hand, a broken file, or somebody's malice does."""
    for _ in range(rng.choice((0, 0, 0, 1, 1, 2, 4))):
        lines = text.split("\n")
        at = rng.randrange(len(lines))
        line = lines[at]
        spot = rng.randrange(len(line) + 1)
        match rng.randrange(12):
            case 0:
                lines[at] = line[:spot] + rng.choice(_ODD) + line[spot:]
            case 1:
                lines[at] = line[:spot] + line[spot + 1 :]
            case 2:
                lines.insert(at, rng.choice(lines))
            case 3:
                del lines[at]
            case 4:
                lines[at] = line[:spot] + rng.choice((*_NUMBERS, *_HUGE)) + line[spot:]
            case 5:
                lines[at] = line + rng.choice((", a", " ", "x", "(", "5 ", "- ", "@", "|", "'", "&amp;")) * rng.choice(
                    (3, 40, 400, 1500, 6000)
                )
            case 6:
                lines[at] = rng.choice(("[", "(", "{", "> ", "- ", "  ")) * rng.choice((3, 30, 300)) + line
            case 7:
                lines[at:at] = [line] * rng.choice((3, 30, 120))
            case 8:
                lines[at] = line.replace(" ", rng.choice(("", "  ", "\t", "\u00a0", "\u2009", " " * 500)))
            case 9:
                lines[at] = line.upper() if rng.random() < 0.5 else line.lower()
            case 10:
                lines[at] = line[:spot]
            case _:
                lines[at] = "".join(rng.sample(line, len(line)))
        text = "\n".join(lines)
    return text.replace("\n", "\r\n") if rng.random() < 0.02 else text


KINDS: dict[str, tuple[int, Callable[[random.Random], str]]] = {
    "workout": (40, workout),
    "series": (8, series),
    "movement": (10, movement),
    "transcript": (8, transcript),
    "log": (3, log),
    "pace": (3, pace),
    "saying": (8, saying),
    "wording": (4, wording),
    "template": (8, template),
}
"""What is fed to the readers: how often of all, and who makes it."""


def text_of(seed: int, number: int) -> tuple[str, str]:
    """Give the kind and the text of an input: the same for the same two numbers, on every machine."""
    rng = random.Random(f"{seed}/{number}")  # noqa: S311 - a seeded one is what is wanted
    kind = rng.choices([*KINDS], [weight for weight, _ in KINDS.values()])[0]
    return kind, spoil(KINDS[kind][1](rng), rng)
