"""The introduction of a series: whom it is for, how the videos belong together, the kit, when to stop."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from briefing.library.models import KitItem
from briefing.outline.cautions import stop
from briefing.outline.material import Material
from briefing.outline.models import Line, Segment
from briefing.telling.kit import kit_card, kit_words, stays
from briefing.telling.numbers import count_words
from briefing.telling.sentences import a_an, join_words, lower_first, upper_first

_KIND_WORDS = {
    "briefing": "briefing",
    "warm-up": "warm-up",
    "workout": "video of the workout itself",
    "cool-down": "cool-down",
}


class Offered(NamedTuple):
    """What the workouts of a series come with: kinds of video, versions by name, in how many workouts each; the kit of all videos."""

    workouts: int
    kinds: Mapping[str, int]
    versions: Mapping[str, int]
    kit: tuple[KitItem, ...]


def compose_introduction(m: Material, series: str, offered: Offered, first: str | None) -> tuple[Segment, ...]:
    """Compose the introduction: only what the series has is promised; `first` is the title to begin with."""
    m = m.begun()
    voice = m.voice
    welcome: list[Line] = []
    if m.settings.greeting:
        welcome.append(m.line("greeting", "promise/greeting", m.settings.greeting, "hello", source="series.md"))
    text = voice.say("intro welcome", series=series, members=m.settings.members or "alone")
    welcome.append(m.line("promise", "promise/series", text, series, must=True, source=voice.source("intro welcome")))
    how = [*_kinds(m, offered), *_versions(m, offered), *_kit(m, offered)]
    last: list[Line] = []
    if first:
        last.append(
            m.line(
                "go",
                "go/start",
                voice.say("intro start", title=first),
                f"begin: {first}",
                must=True,
                source=voice.source("intro start"),
            )
        )
    if m.settings.sign_off:
        last.append(m.line("sign-off", "go/sign-off", m.settings.sign_off, "goodbye", source="series.md"))
    card = "unsure? ask your doctor first"
    asks = m.line(
        "ask-first", "stop/ask-first", voice.say("intro ask"), card, must=True, source=voice.source("intro ask")
    )
    segments = [
        Segment(kind="promise", title="Welcome", lines=tuple(welcome)),
        Segment(kind="how", title="How it works", lines=tuple(how)),
        Segment(kind="stop", title="When to stop", lines=(*stop(m), asks)),
    ]
    if last:
        segments.append(Segment(kind="go", title="Where to begin", lines=tuple(last)))
    return tuple(segments)


def _how(m: Material, name: str, ident: str, card: str, **values: str) -> Line:
    return m.line("how", f"how/{ident}", m.voice.say(name, **values), card, must=True, source=m.voice.source(name))


def _kinds(m: Material, offered: Offered) -> list[Line]:
    """Say which videos there are for every workout, and which for some."""
    lines = []
    for name, some in (("intro how", False), ("intro how some", True)):
        kinds = [k for k in _KIND_WORDS if offered.kinds.get(k) and (offered.kinds[k] < offered.workouts) == some]
        if kinds:
            words = join_words([a_an(_KIND_WORDS[k]) for k in kinds])
            lines.append(_how(m, name, "some-kinds" if some else "kinds", " · ".join(kinds), kinds=words))
    if offered.kinds.get("briefing"):
        lines.append(_how(m, "intro briefing", "briefing", "briefing first"))
    return lines


def _versions(m: Material, offered: Offered) -> list[Line]:
    """Say which versions every workout has, and which only some have."""
    everywhere = [v for v, n in offered.versions.items() if n == offered.workouts]
    some = {v: n for v, n in offered.versions.items() if 0 < n < offered.workouts}
    if len(everywhere) + len(some) < 2:
        return []
    words = join_words([lower_first(v) for v in everywhere])
    lines = [_how(m, "intro versions", "versions", " · ".join(everywhere).lower(), versions=words)]
    for version, count in some.items():
        values = {"some": upper_first(count_words(count)), "version": lower_first(version)}
        key = "intro version one" if count == 1 else "intro version some"
        lines.append(_how(m, key, f"version-{version}", f"{count} of {offered.workouts}: {version.lower()}", **values))
    return [*lines, _how(m, "intro choose", "choose", "choose by the test")]


def _kit(m: Material, offered: Offered) -> list[Line]:
    """Say what is fetched over the series, and what has to be where one trains."""
    lines = []
    for name, kit in (
        ("intro kit", [k for k in offered.kit if not stays(k)]),
        ("intro place", [k for k in offered.kit if stays(k)]),
    ):
        if kit:
            text = m.voice.say(name, kit=join_words([kit_words(k) for k in kit]))
            card = " · ".join(kit_card(k) for k in kit)
            ident = f"how/{name.split()[1]}"
            lines.append(m.line("kit", ident, text, card, must=True, source=m.voice.source(name)))
    return lines
