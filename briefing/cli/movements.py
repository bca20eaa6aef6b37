"""`briefing movements`: find movements, or show one in full."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import say
from briefing.library.models import NO_STAND_IN, BuildStep, Fault, Movement, Point, Version, kit_word
from briefing.outline.wording import upper_first
from briefing.pipeline import open_library
from briefing.problems import Place
from briefing.telling.kit import kit_card
from briefing.units import PEOPLE, write_number


@click.command(cls=Command, example="briefing movements --kit dumbbell --avoid shoulder")
@click.argument("words", cls=Named, what="Words that its name, its other names, its pattern or its kit hold.", nargs=-1)
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Your folder (its movements/ come first).",
)
@click.option("--kit", "kit", multiple=True, help="Only what can be done with this kit (or none).")
@click.option("--avoid", "avoid", multiple=True, help="Leave out what works hard on this body area.")
@click.option("--pattern", "pattern", help="Only this pattern: squat, hinge, push …")
def movements(
    words: tuple[str, ...], folder: Path, kit: tuple[str, ...], avoid: tuple[str, ...], pattern: str | None
) -> None:
    """List movements whose name, other names, pattern or kit hold all WORDS; a whole name shows that movement in full."""
    library = open_library(folder)
    name = " ".join(words)
    slug = library.find(name) if name else None
    if slug is not None and not (kit or avoid or pattern):
        movement = library.get(slug)
        if movement is not None:
            _show_one(movement, library.file_of(slug))
            return
    hits = [m for s in library.slugs() if (m := library.get(s)) is not None and _fits(m, words, kit, avoid, pattern)]
    if not hits:
        near = library.nearest(name) if name else ()
        say(f'no movement fits "{name}"' + (f"; try {' · '.join(near)}" if near else ""), err=True)
        raise click.exceptions.Exit(1)
    width = max(len(m.name) for m in hits)
    for m in hits:
        own = "yours" if m.from_coach else ""
        say(
            f"{m.name:<{width}}  {m.pattern or '':<10} {', '.join(kit_card(k) for k in m.kit) or 'no kit'}  {own}".rstrip()
        )
    say(f"{len(hits)} of {len(library.slugs())}")


def _fits(
    m: Movement, words: tuple[str, ...], kit: tuple[str, ...], avoid: tuple[str, ...], pattern: str | None
) -> bool:
    text = " ".join([*m.names, m.pattern or "", *(n for k in m.kit for n in k.names)]).lower()
    if not all(w.lower() in text for w in words):
        return False
    if pattern and m.pattern != pattern.lower():
        return False
    if any(a.lower() in m.works_hard_on for a in avoid):
        return False
    return not kit or all(set(k.names) & {w.lower() for w in kit} for k in m.kit)


def _show_one(m: Movement, path: Path | None) -> None:
    """Print all that a movement's file says, inherited lines with the file they are from."""
    say(f"{m.name}\n{m.what}\n")
    for label, words in _about(m):
        if words:
            say(f"{label}: {words}")
    for title, points in _sections(m):
        if points:
            say(f"\n{title}")
            for p in points:
                inherited = "" if p.place.file == m.file else f"  [{p.place.file}]"
                say(f"  {p.card}{_bracket(p)}: {_words(p)}{inherited}")
    for title, line in (("Breath", m.breath), ("Load test", m.load_test), ("Note", m.note)):
        if line:
            say(f"\n{title}\n  {line}")
    say(f"\nfrom {path}")


def _about(m: Movement) -> Iterator[tuple[str, str]]:
    """Give what stands in the head, in words."""
    yield "also", ", ".join(m.also)
    yield "said for many", m.plural
    yield "pattern", m.pattern or ""
    yield "kit", ", ".join(kit_card(k) for k in m.kit) or "no kit"
    yield (
        "without it",
        "; ".join(f"no {kit}: {'nothing' if says == NO_STAND_IN else says}" for kit, says in m.stand_ins.items()),
    )
    yield "sides", m.sides
    yield "counted in", ", ".join(m.counts)
    yield "works hard on", ", ".join(m.works_hard_on) or "nothing"
    yield "can go wrong alone", ", ".join(m.risks)
    floor = (
        f"{write_number(m.space.floor_m[0])} x {write_number(m.space.floor_m[1])} m" if m.space.floor_m else "any floor"
    )
    yield "space", floor + (f", {m.space.overhead} overhead" if m.space.overhead != "none" else "")
    yield "seen", f"{m.position}, from the {m.camera}"
    for unit, rates in m.seconds_for.items():
        one = {"reps": "repetition", "m": "metre", "cal": "calorie", "s": "second"}[unit]
        numbers = ", ".join(f"{who} {write_number(rates.of(who))}" for who in PEOPLE)
        yield f"seconds for one {one}", numbers
    yield "rates from", m.pace_source or ""
    yield "builds on", m.builds_on or ""
    yield "recap", m.recap or ""
    yield "call-out", m.call_out or ""


def _sections(m: Movement) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Give the bullets, in the order in which they are said."""
    return (
        ("Entry test", m.entry),
        ("Counts when", m.counts_when),
        ("Does not count", m.does_not_count),
        ("Build-up", m.build_up),
        ("Technique points", m.points),
        ("Common faults", m.faults),
        ("Easier", m.easier),
        ("Harder", m.harder),
        ("Safety", (*_kit_points(m), *m.safety)),
        ("Handling", m.handling),
        ("Where you feel it", m.feel),
    )


def _kit_points(m: Movement) -> tuple[Point, ...]:
    """Give what is said for safety because of the kit."""
    names = dict.fromkeys(n for k in m.kit for n in k.names)
    there = [s for n in names if (s := kit_word(n).safety) is not None]
    return tuple(Point(card=upper_first(s.card), say=s.say, place=Place(file="the kit", line=1)) for s in there)


def _bracket(p: Point) -> str:
    """Give what stands in a bullet's bracket: a version's reasons, link and count, a step's repetitions, side and manner."""
    parts: list[str] = []
    if isinstance(p, Version):
        parts = [*p.reasons, *([p.movement] if p.movement else []), *([p.count] if p.count != "same count" else [])]
    if isinstance(p, BuildStep):
        many = f"{p.reps} reps" if p.reps else f"{p.hold_s} s" if p.hold_s else ""
        parts = [*([many] if many else []), f"from the {p.camera}", p.how]
    return f" ({', '.join(parts)})" if parts else ""


def _words(p: Point) -> str:
    return f"{p.notice} → {p.say}" if isinstance(p, Fault) else p.say
