"""`briefing movements`: find movements, or show one in full."""

from __future__ import annotations

from pathlib import Path

import click

from briefing.cli.naming import Command, Named
from briefing.cli.showing import say
from briefing.library.models import Movement, Point
from briefing.outline.phrases import kit_card
from briefing.pipeline import open_library


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
    say(f"{m.name}\n{m.what}\n")
    about = [
        m.pattern or "",
        ", ".join(kit_card(k) for k in m.kit) or "no kit",
        f"works hard on {', '.join(m.works_hard_on) or 'nothing'}",
    ]
    say(" · ".join(a for a in about if a))
    if m.also:
        say("also: " + ", ".join(m.also))
    sections: tuple[tuple[str, tuple[Point, ...]], ...] = (
        ("Counts when", m.counts_when),
        ("Points", m.points),
        ("Build-up", m.build_up),
        ("Faults", m.faults),
        ("Easier", m.easier),
        ("Harder", m.harder),
        ("Safety", m.safety),
        ("Handling", m.handling),
    )
    for title, points in sections:
        if points:
            say(f"\n{title}")
            for p in points:
                why = f" ({', '.join(p.reasons)})" if hasattr(p, "reasons") and p.reasons else ""
                notice = f"{p.notice} → " if hasattr(p, "notice") else ""
                say(f"  {p.card}{why}: {notice}{p.say}")
    say(f"\nfrom {path}")
