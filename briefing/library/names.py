"""How a name on a board is matched with a name of the library: case, dashes, plurals, abbreviations do not matter."""

from __future__ import annotations

import re
from functools import lru_cache

# What coaches write short, word by word. Common practice, no source. A row more is a spelling more.
SHORT: dict[str, str] = {
    "db": "dumbbell",
    "dbs": "dumbbell",
    "kb": "kettlebell",
    "kbs": "kettlebell",
    "bb": "barbell",
    "oh": "overhead",
    "sq": "squat",
    "sqs": "squat",
    "dl": "deadlift",
    "dls": "deadlift",
    "pu": "push up",
    "du": "double under",
    "dus": "double under",
    "su": "single under",
    "sus": "single under",
    "c&j": "clean and jerk",
    "c+j": "clean and jerk",
    "c+p": "clean and press",
    "c&p": "clean and press",
    "sa": "one arm",
    "sl": "single leg",
    "rdl": "romanian deadlift",
    "rdls": "romanian deadlift",
    "sn": "snatch",
    "gob": "goblet",
    "plk": "plank",
    "hspu": "handstand push up",
    "t2b": "toes to bar",
    "ttb": "toes to bar",
    "mu": "muscle up",
    "mus": "muscle up",
    "mtn": "mountain",
    "ext": "extension",
    "bwd": "backward",
    "fwd": "forward",
    "ctb": "chest to bar",
    "farmers": "farmer",
    "farmer's": "farmer",
    "&": "and",
    "+": "and",
    "w/": "with",
}
_PHRASES: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"\b(?:single|1|one)[ -]arm\b"), "one arm"),
    (re.compile(r"\b(?:one|1)[ -]leg(?:ged)?\b|\bsingle[ -]leg(?:ged)?\b"), "single leg"),
    (re.compile(r"\bround[ -]the\b"), "around the"),
)
# Each phrase above has one of these; most names have none. All names of the library get their key in one command.
_IN_PHRASES = ("arm", "leg", "round")
_GAPS = dict.fromkeys(map(ord, "-–—_/"), " ")


@lru_cache(maxsize=8192)
def name_key(name: str) -> str:
    """Give the key under which a name is found: `"Goblet step-ups"` and `"gob step ups"` have the same."""
    lower = name.lower().replace("’", "'")
    if lower.strip() == "kbs":  # alone it is the swing, before another word it is kettlebells
        lower = "kettlebell swing"
    words: list[str] = []
    for word in lower.translate(_GAPS).split():
        bare = word.strip(".,;:()[]*\"'")
        words += SHORT.get(bare, bare).split() if bare else []
    joined = " ".join(words)
    if any(word in joined for word in _IN_PHRASES):
        for pattern, instead in _PHRASES:
            joined = pattern.sub(instead, joined)
    return "".join(_singular(w) for w in joined.split())


def slug_of(name: str) -> str:
    """Give the file name of a movement's name: `Goblet squat` is `goblet-squat`."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def plural_of(name: str) -> str:
    """Give the plural by the plain rule: `step-up` step-ups, `push press` push presses, `row` rows."""
    if re.search(r"(?:s|x|z|ch|sh)$", name):
        return name + "es"
    if re.search(r"[^aeiou]y$", name):
        return name[:-1] + "ies"
    return name + "s"


def one_of(name: str) -> str:
    """Give the name of one of it: `tyre flips` is a tyre flip."""
    if re.search(r"(?:ss|us|is)$", name.lower()) or len(name) < 4:
        return name
    if name.lower().endswith("ies") and len(name) > 4:
        return name[:-3] + "y"
    if re.search(r"(?:ch|sh|x|ss|z|[^aeo]us)es$", name.lower()):
        return name[:-2]
    return name[:-1] if name.lower().endswith("s") else name


def _singular(word: str) -> str:
    if word.endswith(("sses", "xes", "zes", "ches", "shes")):
        return word[:-2]
    if len(word) > 3 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 2 and word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    return word
