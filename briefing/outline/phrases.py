"""The words of `briefing/telling/`, under the name by which teaching and closing still ask for them."""

from briefing.telling.figures import work_card, work_figure
from briefing.telling.kit import kit_card, kit_words
from briefing.telling.numbers import count_words, rounds_words, time_words, times_words
from briefing.telling.phrases import doing_words, many_words, name_words, numbers_words, work_words
from briefing.telling.reasons import SAID_REASONS, has_load, why_words
from briefing.telling.sentences import join_words, sentence

__all__ = [
    "SAID_REASONS",
    "count_words",
    "doing_words",
    "has_load",
    "join_words",
    "kit_card",
    "kit_words",
    "many_words",
    "name_words",
    "numbers_words",
    "rounds_words",
    "sentence",
    "time_words",
    "times_words",
    "why_words",
    "work_card",
    "work_figure",
    "work_words",
]
