"""The notation for people: each form with the items it is read as, one example and one sentence. The pages show it.

A coach need not write it so: these are examples of what is understood, in one of many ways to write it. A rule in `board/items.py`
whose item belongs to no form here is demanded by a test.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Form:
    """One form: its name, the kinds of items it is read as, an example, and what it means."""

    name: str
    items: tuple[str, ...]
    example: str
    means: str


def _form(name: str, items: str, example: str, means: str) -> Form:
    return Form(name, tuple(items.split()), example, means)


FORMS: tuple[Form, ...] = (
    _form("part", "part", "Part A", "A new part; it has its own clock."),
    _form("section", "heading", "Warm-up", "A warm-up and a cool-down go into those videos and into no total; other titles name their part."),
    _form("for time", "for_time rounds_for_time", "5 rounds for time", "Do all of it as fast as you move well; the score is the time."),
    _form("for quality", "quality accumulate", "5 rounds not for time", "No clock and no score: each repetition done well."),
    _form("max reps", "max_in most most_open", "Max reps in 2:00", "As many repetitions of one thing as the time allows."),
    _form("amrap", "amrap amrap_open", "AMRAP 12:00", "As many rounds and repetitions as the time allows."),
    _form("every minute", "emom emom_open", "EMOM 15", "A new start at the top of every minute; what is left of the minute is rest."),
    _form("every", "every every_open", "Every 2:00 for 7 rounds", "A new start every so often; what is left of the time is rest."),
    _form("intervals", "intervals", "0:40 on / 0:20 off", "Work for the first time, rest for the second, again and again."),
    _form("intervals, counted", "intervals", "5 x 3:00 on / 1:30 off", "So many stretches of work with a rest between them."),
    _form("hard and easy", "intervals", "8 x (1:00 hard / 1:00 easy) run", "The rest is done, too: easily."),
    _form("stretches", "stretch", "1:00 on", "So long a stretch of work; what the rest is stands behind it."),
    _form("stations", "station_time stations", "2:00 each station", "So long at each of the lines below."),
    _form("one more each minute", "climb until_missed", "minute n: n", "One in the first minute, two in the second, and so on, until a minute is not enough."),
    _form("build to", "build", "Build to a heavy 3 in 15:00", "Sets that get heavier until one more would not be clean."),
    _form("numbers", "numbers bad_list back_down", "21-15-9", "A round for each number; every line does that number in it."),
    _form("sets", "sets", "4 sets", "So many sets, untimed; rest as long as you need unless a rest is written."),
    _form("sets of one thing", "sets_of", "5 x 5 back squats @ 80%", "So many sets of so many; `3x8`, `3 sets of 8` and the name first as well."),
    _form("a load for each set", "amount percent percents", "5 back squats @ 60%, 5 @ 70%, 3 @ 80%", "Sets whose numbers and loads change."),
    _form("sets of sets", "block", "2 sets of (4 x 300 m run, rest 1:00), 3:00 between sets", "What stands in the brackets is gone through so many times."),
    _form("superset", "superset label", "A1 3 x 8 goblet squats", "A1 and A2 are done in turn, set by set; `superset` says the same."),
    _form("complex", "complex complex_of plus_work", "2 power cleans + 1 push jerk @ 70 kg", "One after the other without putting the weight down."),
    _form("rounds", "rounds rounds_all", "3 rounds", "So many times through the lines below."),
    _form("any order", "any_order", "Any order", "The numbers are totals; split them as you like."),
    _form("cap", "cap bad_cap in_time duration bad_time", "cap 22:00", "When the clock gets there, the workout is over."),
    _form("plan", "plan bad_plan", "plan 6 rounds", "How you would split the totals: so many equal rounds."),
    _form("rest between rounds", "rest no_rest", "Rest 1:00 between rounds", "A rest between one round and the next: none after the last."),
    _form("rest as range or walk", "rest", "Rest 2:00-3:00, walk", "From so long to so long; what is done in it."),
    _form("rest among the work", "rest rest_word rest_left ready", "Rest 1:00", "Between two lines: part of the round. Below the last one: between the rounds."),
    _form("rest as long", "rest_long", "rest as long as the work", "A rest between rounds as long as the round before it took; work:rest 1:2 is twice as long."),
    _form("rest after a round", "rest_after", "Rest 2:00 after round 3", "A rest after this round only."),
    _form("rest between parts", "rest_parts", "Rest 3:00 between parts", "A rest before the next part begins."),
    _form("in pairs", "team", "In pairs", "Two people share the work."),
    _form("how a team shares", "share swap", "one works, one rests", "Split as you like, a round each, a relay, a change every so much, or together."),
    _form("carry on", "carry_on", "carry on where you left off", "The next stretch starts where the last one stopped."),
    _form("start again", "start_again", "start again each time", "Every stretch starts with the first line."),
    _form("aim", "aim", "aim for under 12:00", "What a good result would be."),
    _form("score", "score", "score: total reps", "What is written down."),
    _form("work", "work kit load two_numbers height remaining", "20 goblet squats @ 24/16 kg", 'How much of what; two loads are heavier and lighter. A bare "deadlift" is read by its load and by your kit.'),
    _form("how", "effort tempo pace how_hard unbroken manner note again", "10 back squats @ 60 kg, tempo 31X1, RPE 8", "Tempo is seconds down, at the bottom, up, at the top; `x` is as fast as you can."),
    _form("sides", "side oneside oneside_of work_side alternating total stated_total", "12 push presses, 6 each arm", "How the sides share it; totals count both together."),
    _form("option", "or scale_to", "or 1:00 marching in place (no room)", "Another way to do the line above, with the reason for it; `scale pull-ups to ring rows` as well."),
    _form("interrupt", "every_from at_times on_break penalty first_at first_with", "Every 3:00 from 0:00: 12 mountain climbers", "Work that the clock forces in; `At 5:00 and 10:00: …`, `Every put down: …` as well."),
    _form("once", "buy_in cash_out then", "Buy-in: 400 m run", "Before or after the rounds."),
    _form("after each", "after_each", "100 m run after each round", "Work behind every round, also the last."),
)  # fmt: skip
# What joins, fills or encloses, and is no form of its own.
SMALL_PIECES = frozenset({"open", "close", "joiner", "filler", "goes_on", "all_loads"})
