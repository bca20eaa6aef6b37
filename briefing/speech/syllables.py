"""How many syllables a word has, by its spelling.

No dictionary: on human speech it improved the mean error of the seconds by 0.03 points, which nobody can feel.
"""

from __future__ import annotations

import re
from functools import lru_cache

_COUNTED = {
    "ache": 1,
    "aches": 1,
    "aisle": 1,
    "area": 3,
    "areas": 3,
    "argue": 2,
    "business": 2,
    "chaos": 2,
    "create": 2,
    "creates": 2,
    "created": 3,
    "evening": 2,
    "everybody": 4,
    "everyone": 3,
    "everything": 3,
    "everywhere": 3,
    "fluid": 2,
    "headache": 2,
    "headaches": 2,
    "hundred": 2,
    "hundreds": 2,
    "idea": 3,
    "ideas": 3,
    "karate": 3,
    "linear": 3,
    "lion": 2,
    "maybe": 2,
    "moreover": 3,
    "naked": 2,
    "ratio": 3,
    "ratios": 3,
    "recipe": 3,
    "recipes": 3,
    "sacred": 2,
    "soldier": 2,
    "w": 3,
    "wicked": 2,
}
"""Words that the rule gets wrong, counted by hand; another one is one row."""

_VOWELS = "aeiouyàáâãäåæèéêëìíîïòóôõöøœùúûüýÿ"
_GROUP = f"[{_VOWELS}]+"

_HEADS = (
    "side|some|fore|there|where(?!ver)|home|life|time|line|base|safe|fire|white|wide|more|store|face|space|place|use|"
    "like|horse|house|bare|nose|skate|pipe"
)
# An e that is written and not said. Each needs another vowel before it ("the" and "bed" keep theirs).
_SILENT = (
    # the first half of a compound: sideways, somewhere, whiteboard, safety
    rf"^(?:{_HEADS})(?=[bcdfghjklmnpqrstvwxz]+[aeiouy])",
    # before an ending: safely, careful, movement; said in supplement, settlement
    rf"[{_VOWELS}][^{_VOWELS}]*[^{_VOWELS}l]e(?=(?:ment|ments)$)",
    rf"[{_VOWELS}][^{_VOWELS}]*[^{_VOWELS}]e(?=(?:ly|ful|fully|less|lessly|ness)$)",
    # pressed, not lifted, not settled
    rf"[{_VOWELS}][^{_VOWELS}]*(?<![{_VOWELS}td])(?<![bcdfgkpstz]l)e(?=d$)",
    # planes, not lunges, presses, ankles, metres
    rf"[{_VOWELS}][^{_VOWELS}]*(?<![{_VOWELS}sxzcg])(?<![sc]h)(?<![bcdfgkpstz]l)(?<![tbc]r)e(?=s$)",
    # plane, not ankle, metre
    rf"[{_VOWELS}][^{_VOWELS}]*(?<![{_VOWELS}])(?<![bcdfgkpstz]l)(?<![tbc]r)e$",
)

_SILENT_UE = rf"(?<=[{_VOWELS}])([gn]?[gq])ue(?=[sd]?$)"  # technique, fatigue, tongue

# Vowels that stand beside each other and are both said: one syllable more than there are groups.
_APART = (
    r"(?<![cstgxl])ia(?!ge?$)"  # media, variable; not special, carriage, Australian
    r"|(?<![cstgxnl])io|(?<=[cst])io(?![nu])|iu|iet"  # cardio, physio, radius, diet; not motion, union, million
    r"|(?<![ct])ien(?=t|c)|^scien"  # client, science, experience; not patient
    rf"|(?<=[{_VOWELS}][b-df-hj-np-tv-xz])ie(?=rs?$|st$)"  # heavier, easiest
    rf"|(?<=[{_VOWELS}][b-df-hj-np-tv-xz][b-df-hj-np-tv-xz])ie(?=rs?$|st$)"  # carrier, healthiest
    r"|(?<![gq])ua|uou|(?<![gq])ue(?=[nlt])|(?<![gqbc])ui(?=n|ty)|(?<=d)uo"  # manual, fluent, genuine
    r"|eo(?![unp])|eu(?=[sm]$)"  # video, gluteus
    r"|^rea(?=ct|li[stz])|^crea(?=ti|to)|^ideal|oe(?=[mt])|^coo(?=p[et]|rd)|(?<=m)yo"  # react, creative, poem
    r"|[aeiou](?=ing)|(?<=[b-df-hj-np-tv-xz])y(?=ing)"  # seeing, trying
)
_CONSONANT_Y = r"(?<=[aeiou])y(?=[aeiou])(?!e[sd]?$)"
_SAID_M = r"(?:[aiy]s|th)ms?$"  # mechanism, spasm, rhythm
_NOT = r"(?<=[dst])n't$"


@lru_cache(maxsize=8192)
def count_syllables(word: str) -> int:
    """Give the syllables of one word, as in `kettlebell` → 3; at least 1 for any word.

    A word is letters, with an apostrophe where one is written; what else stands in it is passed over. A spelled
    single letter has 1, W has 3. Vowels are counted in groups, a silent e is taken off, and vowels that are both
    said are counted apart. Source: rules of our own, held against counts of the CMU pronouncing dictionary
    (in the tests).
    """
    said = word.lower().replace("’", "'")
    if said in _COUNTED:
        return _COUNTED[said]
    stem, _, ending = said.partition("'")
    more = 0
    if re.search(_NOT, said):
        stem, more = stem.removesuffix("n"), 1  # didn't
    elif ending:
        if ending == "t":
            stem = stem.removesuffix("n")  # don't
        loud_s = ending == "s" and stem.endswith(("s", "x", "z", "ch", "sh", "ce", "ge", "se"))
        loud_ending = ending in {"ll", "ve", "d"} and stem[-1:] not in _VOWELS
        more = int(loud_s or loud_ending)
    return max(1, _count_stem(stem) + more)


def _count_stem(stem: str) -> int:
    if stem in _COUNTED:
        return _COUNTED[stem]
    if "e" in stem:
        for pattern in _SILENT:
            stem = re.sub(pattern, _without_last, stem)
        stem = re.sub(_SILENT_UE, r"\1", stem)
    if "y" in stem:
        stem = re.sub(_CONSONANT_Y, "j", stem)
    extra = len(re.findall(_APART, stem)) + ("m" in stem and bool(re.search(_SAID_M, stem)))
    return len(re.findall(_GROUP, stem)) + extra


def _without_last(match: re.Match[str]) -> str:
    return match[0].removesuffix("e")
