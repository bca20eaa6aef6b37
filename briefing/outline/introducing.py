"""The introduction of a series: whom it is for, how the videos belong together, the kit, when to stop."""

from __future__ import annotations

from collections.abc import Sequence

from briefing.library.models import KitItem
from briefing.outline.material import Material
from briefing.outline.models import Line, Segment
from briefing.outline.opening import stop
from briefing.outline.phrases import a_an, join_words, kit_card, kit_words

_KIND_WORDS = {
    "briefing": "briefing",
    "warm-up": "warm-up",
    "workout": "video of the workout itself",
    "cool-down": "cool-down",
}


def compose_introduction(
    m: Material, series: str, kinds: Sequence[str], kit: Sequence[KitItem], first: str | None
) -> tuple[Segment, ...]:
    """Compose the introduction; `kinds` are the kinds of video that the series has, `first` the title to begin with."""
    voice = m.voice
    welcome: list[Line] = []
    if m.settings.greeting:
        welcome.append(m.line("greeting", "promise/greeting", m.settings.greeting, "hello", source="series.md"))
    text = voice.say("intro welcome", series=series, members=m.settings.members or "alone")
    welcome.append(m.line("promise", "promise/series", text, series, must=True, source=voice.source("intro welcome")))
    how: list[Line] = []
    named = [a_an(_KIND_WORDS[k]) for k in _KIND_WORDS if k in kinds]
    if named:
        text = voice.say("intro how", kinds=join_words(named))
        how.append(
            m.line(
                "how",
                "how/kinds",
                text,
                " · ".join(k for k in _KIND_WORDS if k in kinds),
                must=True,
                source=voice.source("intro how"),
            )
        )
    how += [
        m.line(
            "how",
            f"how/{name}",
            voice.say(f"intro {name}"),
            name,
            rank=rank,
            must=True,
            source=voice.source(f"intro {name}"),
        )
        for rank, name in enumerate(("briefing", "versions"))
    ]
    if kit:
        text = voice.say("intro kit", kit=join_words([kit_words(k) for k in kit]))
        how.append(
            m.line(
                "kit",
                "how/kit",
                text,
                " · ".join(kit_card(k) for k in kit),
                must=True,
                source=voice.source("intro kit"),
            )
        )
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
        "ask-first", "stop/ask-first", voice.say("ask first"), card, must=True, source=voice.source("ask first")
    )
    segments = [
        Segment(kind="promise", title="Welcome", lines=tuple(welcome)),
        Segment(kind="how", title="How it works", lines=tuple(how)),
        Segment(kind="stop", title="When to stop", lines=(*stop(m), asks)),
    ]
    if last:
        segments.append(Segment(kind="go", title="Where to begin", lines=tuple(last)))
    return tuple(segments)
