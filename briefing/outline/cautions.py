"""What holds for every workout: when to stop, who asks a doctor first, what else keeps people safe. Early, once, short; all on paper.

The signs of the chest follow the American Heart Association's list (pressure or pain in the chest, pain that spreads, short breath,
cold sweat, light-headedness); the muscle signs follow US CDC/NIOSH (cramps beyond what is expected, dark urine, weakness); starting
slowly after a break follows Clarkson 1993; the stop signs in pregnancy follow the American College of Obstetricians and Gynecologists'
list (bleeding, fluid, regular contractions, short breath before the effort, dizziness, headache, chest pain, calf pain or swelling). All
from memory, put in our own words.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from briefing.library.models import Movement, Version, kit_word
from briefing.outline.material import Material
from briefing.outline.material import known as taught
from briefing.outline.models import Line
from briefing.outline.wording import upper_first

# Shown on every handout, whatever the workout is.
CAUTIONS: tuple[str, ...] = (
    (
        "Stop and call your local emergency number at pressure, squeezing or pain in your chest, at pain that spreads to an arm, your "
        "back, neck or jaw, at a cold sweat, at short breath that does not settle, or if you turn faint. Keep your phone within reach."
    ),
    (
        "Stop for the day if something hurts sharply. See a doctor the same day if your muscles cramp or ache far beyond what you "
        "expect, feel weak, or your urine turns dark like tea or cola."
    ),
    "Keep children and animals away from where you train, and water beside you. In the heat: slower, shorter, more shade.",
    "New, or back after a break? Do fewer repetitions than you could, and add some each week. With a fever, or feeling ill: rest.",
    (
        "Ask your doctor or midwife before you begin if you have a heart, kidney or metabolic condition or high blood pressure, an injury "
        "or an operation not long ago, are pregnant or have given birth lately, or are not sure."
    ),
    (
        "Pregnant? Stop and call your midwife or doctor at bleeding or fluid, belly pain or contractions, a headache, dizziness, "
        "chest pain, short breath at rest, or a painful or swollen calf."
    ),
    (
        "If you leak, or feel heaviness or a bulge in your pelvis, take the easier way without jumps or with less weight, and have it "
        "looked at by a pelvic-floor physiotherapist."
    ),
    "Follow the rules of the place where you train. This sheet does not replace them, or a doctor.",
)


# What a card shows of it, here and where it is said again; a tight chest comes first, since somebody has to call.
STOP_CARD = "chest: stop, call · dizzy, pain: stop"


def stop(m: Material) -> list[Line]:
    """When to stop, and a phone within reach: in every video."""
    return [m.line("stop", "stop/when", m.voice.say("stop"), STOP_CARD, must=True, source=m.voice.source("stop"))]


def before_all(m: Material) -> list[Line]:
    """When to stop, who asks first, and what this workout calls for besides: each in one breath."""
    lines = stop(m)
    card = "ask your doctor or midwife first?"
    lines.append(
        m.line(
            "ask-first", "stop/ask-first", m.voice.say("ask first"), card, must=True, source=m.voice.source("ask first")
        )
    )
    for caution in SPOKEN:
        if caution.called_for(m):
            ident, text = f"stop/{caution.phrase.replace(' ', '-')}", m.voice.say(caution.phrase)
            lines.append(m.line("caution", ident, text, caution.card, must=True, source=m.voice.source(caution.phrase)))
    return lines


# Our choice: from here on an easy person's workout is long enough to need a drink.
LONG_S = 20 * 60
_OUTDOORS_M = 6.0


def _flies_or_falls(m: Material) -> bool:
    """A weight is swung, thrown or held overhead, or somebody jumps: nobody else may stand there."""
    return any(
        x.lands or "pins" in x.risks or (_weighted(x) and (x.flies or "reach" in x.space.overhead)) for x in taught(m)
    )


def _weighted(movement: Movement) -> bool:
    return any(kit_word(n).weight for k in movement.kit for n in k.names)


def _long_or_outdoors(m: Material) -> bool:
    far = any(x.pattern == "run" and x.space.floor_m and max(x.space.floor_m) > _OUTDOORS_M for x in taught(m))
    return far or m.clock.of("easy").end_s >= LONG_S


class Caution(NamedTuple):
    """A caution that is said where the workout calls for it: the phrase, the card, and what calls for it."""

    phrase: str
    card: str
    called_for: Callable[[Material], bool]


SPOKEN: tuple[Caution, ...] = (
    Caution("caution nobody near", "no children, no animals near", _flies_or_falls),
    Caution("caution heat", "water beside you", _long_or_outdoors),
)


def pelvis(m: Material, movement: Movement) -> list[Line]:
    """What leaking or heaviness means: with the first movement that presses on the pelvic floor."""
    text = m.voice.repeat("caution pelvis")
    if "pelvic floor" not in movement.works_hard_on or not m.first_time(text):
        return []
    ident, source = f"{movement.slug}/safety/pelvis", m.voice.source("caution pelvis")
    card = "leaking, heaviness: easier way"
    return [m.line("safety", ident, text, card, must=True, movement=movement, source=source)]


# What is for pregnancy and after birth begins with it in the library; a briefing says it once for all, early, and on paper it stands
# above them all.
_ASK = "ask your midwife or doctor first, then "


def without_asking(version: Version) -> str:
    """Give an easier version's words without the asking first, which is said once for the whole workout."""
    return upper_first(version.say[len(_ASK) :]) if version.say.lower().startswith(_ASK) else version.say
