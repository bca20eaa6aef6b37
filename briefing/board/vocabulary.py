"""The words of a board: units, key words, titles of sections, small words. A row more is a spelling more.

What coaches write is common practice, no source.
"""

from __future__ import annotations

import re
from typing import Any

from briefing.library.models import KIT
from briefing.library.names import plural_of
from briefing.units import KG_PER_LB, M_PER_FT, M_PER_MI, M_PER_YD, NUMBER_WORDS, Unit

# What is counted, in all its spellings: the unit, and how many of ours one of it is.
_UNITS: tuple[tuple[str, Unit, float], ...] = (
    ("reps rep repetitions repetition", "reps", 1),
    ("m meter meters metre metres mtr mtrs mts mt", "m", 1),
    ("km kms k kilometer kilometers kilometre kilometres", "m", 1000),
    ("mi mile miles", "m", M_PER_MI),
    ("yd yds yard yards", "m", M_PER_YD),
    ("ft feet foot", "m", M_PER_FT),
    ("cal cals calorie calories kcal kcals", "cal", 1),
    ('s sec secs second seconds "', "s", 1),
    ("min mins minute minutes '", "s", 60),
    ("h hr hrs hour hours", "s", 3600),
)  # fmt: skip
UNIT_SPELLINGS: dict[str, tuple[Unit, float]] = {
    word: (unit, factor) for words, unit, factor in _UNITS for word in words.split()
}
# Kilograms of one, for loads. A pood is 16.38 kg; kettlebells are sold as 16 kg for one. From memory.
KG_OF = {"kg": 1.0, "lb": KG_PER_LB, "pood": 16.0}

NUMBERS_IN_WORDS: dict[str, int] = {w: n for w, n in NUMBER_WORDS.items() if n}

# Key words: what a phrase is, its value, and how much it costs to take it so. Words are apart by one blank.
_ROWS: tuple[tuple[str, Any, float, str], ...] = (
    # heads
    ("for_time", None, 0.0, "for time; ft; 4 time; f/t; as fast as possible; as fast as you can; for speed; against the clock; time trial"),
    ("rft", None, 0.0, "rft; rounds for time; rds for time; rds ft; rounds ft; rd for time; r for time"),
    ("nft", None, 0.0, "not for time; nft; for quality; no rush; untimed; no clock; no time; for form; quality; not timed; take your time; own pace; at your own pace; no score"),
    ("amrap", None, 0.0, "amrap; amraps; as many rounds as possible; as many rounds and reps as possible; as many reps as possible; as many rounds as you can; as many rounds and reps as you can; as many as possible; as many as you can; max rounds; max rounds and reps; most rounds; as many reps as you can; amreps"),
    ("emom", 60, 0.0, "emom; every minute on the minute; every minute; each minute; every min; every min on the min; on the minute; top of the minute; at the top of every minute; each minute on the minute"),
    ("every", None, 0.0, "every; each; e"),
    ("on_the", None, 0.0, "on the"),
    ("on", None, 0.0, "on; work; work for; working; of work; go"),
    ("off", None, 0.0, "off; rest; change; recover; recovery; transition; rec; water; drink"),
    ("intervals", None, 0.0, "intervals; interval; intervals of; interval of"),
    ("rounds", None, 0.0, "rounds; round; rds; rd; rnds; rnd; times through; x through; times round; times around; circuits; circuit; laps; rounds through; r; legs; leg; ladders; ladder"),
    ("sets", None, 0.0, "sets; set"),
    ("times", None, 0.0, "x; times"),
    ("twice", 2, 0.0, "twice; two times; twice through"),
    ("cap", None, 0.0, "cap; time cap; timecap; tc; time limit; limit; cut off; cutoff; capped at; t/c"),
    ("max", None, 0.0, "max; maximum; max effort; max reps; max rep; max out; as many; amap"),
    ("build", None, 0.0, "build; build up; build to; build up to; work up; work to; work up to; find; find a; find your; establish; establish a; ramp; ramp up; ramp to; go for; up to"),
    ("heavy", None, 0.0, "heavy; heavy set of; a heavy; a heavy set of; your heavy; today's heavy; the heaviest; heaviest; heavy set; a heavy set; heavy one; a heavy one"),
    ("single", 1, 0.0, "single"), ("single", 2, 0.0, "double; heavy double"), ("single", 3, 0.0, "triple"), ("single", 1, 0.2, "heavy single"),
    ("single", 3, 0.2, "heavy triple"),
    ("any_order", None, 0.0, "any order; in any order; partition; partition as you like; partition as needed; partition any way; partition how you like; partition as desired; split as you like; split any way; split any way you like; split them as you like; split it as you like; split how you like; any way you like"),
    ("plan", None, 0.0, "plan; plan on"),
    ("buy_in", None, 0.0, "buy in; buyin; to start; start with; to begin; begin with"),
    ("cash_out", None, 0.0, "cash out; cashout; to finish; finish; finish with; finisher; end with; to end; buy out; buyout; at the end"),
    ("after_each", None, 0.0, "after each; after each round; after every round; after each set; after every set; after every; after each one; each round; between rounds do"),
    ("then", None, 0.0, "then; and then; after that; followed by; next; afterwards; straight into; directly into; right into; into; immediately into; go into; thereafter"),
    # rests
    ("rest", None, 0.0, "rest; rests; recover; recovery; off; rest for; take; break; breather; rec; drink; water"),
    ("no_rest", None, 0.0, "no rest; without rest; no rests; no breaks; no break"),
    ("between", None, 0.0, "between; between rounds; between sets; between each; between each round; between each set; btw; btw rounds; btw sets; b/w; b/w rounds; b/w sets; in between; in between rounds; in between sets; bw rounds; bw sets; bt rounds; between the rounds; between the sets; after each; after each round; after each set; after every round; after every set; between efforts; between reps; between intervals; between amraps; between rds; btw rds; after each rd; per round; per set; bet sets; bet rounds; between ladders; between each ladder; between laps; btw ladders; between reps"),
    ("between_parts", None, 0.0, "between parts; before the next part; before part; before the next; before next part; between each part"),
    ("as_needed", None, 0.0, "as needed; as nec; as necessary; as required; as you need; when needed; when you need it; as much as you need; as long as you need; as long as needed; until ready; till ready; until recovered; as you like; asn; when you need to; when you need; as you need to; whenever you need; when you like; whenever"),
    ("remaining", None, 0.0, "remaining; in remaining; in remaining time; in the remaining time; in the remaining; remaining time; the remaining time; the rest of the time; rest of the time; time left; in the time left; in time left; whatever's left; with whatever's left; whatever is left; with what's left; what's left; what is left; in the time that is left; the remainder; remainder; remainder of the time; with remaining time; in the rest of the minute; rest of the minute; rest of minute; remainder of the minute; until the minute is up; in remaining minutes; till the end; until the end; in what is left; with the time left; for the remaining time; for the rest; until the top of the next minute"),
    ("as_long", 1.0, 0.0, "as long as the work; as long as the round; as long as it took; as long as the set; as long as you worked; as long as the round took; as long as your partner works; equal to work; equal to the work; same as work; equal rest; 1:1; 1 to 1; work rest 1:1; 1:1 work rest; 1:1 rest; 1:1 work to rest"),
    ("doing", "walk", 0.3, "walk; easy walk; walking; walk back; walk recovery; slow walk; walk back to start; walk back recovery; walking recovery; walk rec; walk down; walk back down; walk slowly"),
    ("doing", "jog", 0.3, "jog; easy jog; jogging; jog back; jog recovery; slow jog; float; jog back recovery; jog back to start; jog rec; jog down; jog back down; easy jog rec; jog slowly"),
    ("doing", "easy", 0.6, "easy spin; easy row; easy ride"),
    # how
    ("through", None, 0.0, "through; thru"),
    ("unbroken", None, 0.0, "unbroken; ub; without breaking; no breaking; in one go"),
    ("total", None, 0.0, "total; in total; in all; (t); altogether; all together; overall"),
    ("alt", None, 0.0, "alternating; alternate; alt; alt.; alternating legs; alternating arms; alternating sides; alternating hands; alternate sides; alternate legs; alternate arms; switching sides; switch sides; alt legs; alt arms; alt sides"),
    ("complex", None, 0.0, "complex; without putting it down; without putting down; don't put it down; do not put the bar down; don't put the bar down; without setting it down; unbroken complex; dont put it down; dont put the bar down; without dropping it"),
    ("superset", None, 0.0, "superset; as a superset; in a superset; supersets; super set; back to back; giant set; tri set; triset"),
    ("how_hard", "building", 0.3, "building; climbing; increasing; adding weight; add weight; getting heavier; going up; increase each set; build each set; increase weight each set; heavier each set; build"),
    ("how_hard", "easy", 0.4, "easy; light; relaxed; gently; gentle; slow; slowly; easily; smooth; chill"),
    ("how_hard", "moderate", 0.4, "moderate; medium; steady; mod; controlled; tempo"),
    ("how_hard", "hard", 0.4, "hard; heavy; fast; sprint; all out; max effort; max; quick; quickly; strong"),
    # team
    ("team", None, 0.0, "in pairs; pairs; in a pair; with a partner; w/ a partner; partner; partners; partner workout; partner wod; with partner; w/ partner; in partners; partner work; p/w; pair workout"),
    ("team_of", None, 0.0, "teams of; team of; in teams of; in a team of; in groups of; groups of; in team of"),
    ("share", "share", 0.0, "swap as needed; switch as needed; change as needed; rotate as needed; split as needed; split as you like; split the work; split the reps; share the reps; share reps; share the work; split evenly; split reps; divide as you like; divide as needed; split work as needed; split however you like; split how you like; share as you like; shared; break up as needed; break up as you like; share however you like; split as you want; one bar; reps shared"),
    ("share", "turns", 0.0, "one works one rests; one works, one rests; one works the others rest; one works, the others rest; one works, the other rests; one works the other rests; one works while the other rests; one person works; 1 works 1 rests; one working one resting; one works; one works at a time; one person working at a time; one at a time; 1 working; 1 works; only one works; only one works at a time; one rests; 1 rests; other rests; the other rests; partner rests; one person works at a time; 1 person works; one partner works; one partner works at a time; one partner working at a time"),
    ("share", "rounds", 0.0, "i go you go; igyg; ygig; you go i go; i go / you go; you go / i go; alternating rounds; alternate rounds; alternating full rounds; alternate full rounds; alternate each round; a round each; one round each; taking turns by round; partners alternate rounds; partner alternates rounds; igyg full rounds; i go you go full rounds; full rounds each; full rounds; one does a full round; one does a round; one full round each; a full round each; swap after each round; switch after each round; change after each round"),
    ("share", "relay", 0.0, "relay; relay style; switch when p1 returns; switch when partner returns; swap when p1 returns; swap when partner returns; change when p1 returns; switch when they return; swap when they are back; until p1 returns; until partner returns; until your partner returns; until your partner is back; until p1 is back; until partner is back; then switch; then swap; and switch; switch roles; swap roles; then switch roles; as a relay; one works until the other is back; one works until the next is back; one works while the other runs; one runs while the other works; while the other runs; while partner runs; while partner rows; while p2 runs; while the other rows; while the other holds; while partner holds; while p2 holds; swap when; switch when; change when; swap over when"),
    ("share", "together", 0.0, "synchro; together; in sync; sync; side by side; both work; both partners; you both work; in unison; synced; synchronised; synchronized"),
    ("swap", None, 0.0, "swap every; switch every; change every; swap each; switch each; rotate every; change over every; swap at; switch at; swap; switch"),
    # the clock
    ("carry_on", None, 0.0, "carry on where you left off; pick up where you left off; pick up from where you left off; continue where you left off; carry on from where you left off; carry on where you stopped; pick up where you stopped; continue from where you left off; start where you left off; resume where you left off; carry on; keep going where you left off; where you left off"),
    ("start_again", None, 0.0, "start again; start again each time; start over; start over each time; from the top each time; restart each time; start from the top; back to the start each time; start fresh each time"),
    ("from", None, 0.0, "from; starting at; starting from; start at; starting; first at; beginning at; first one at"),
    ("at_start", 0, 0.0, "zero; the start; from the start; from the beginning; starting now; incl start; including 0; including the start; including at the start; start included; starting at zero; from zero; starting at the start; from go; also at the start; at the start too; incl 0:00; including 0:00"),
    ("start_with", None, 0.0, "start with; starting with; start on; begin with; starting on"),
    ("break", None, 0.0, "every break; each break; on each break; on every break; every time you stop; each time you stop; every time you break; each time you break; every time you put it down; each time you put it down; every put down; each put down; every drop; each drop; every time you rest; each time you rest; on every put down; on each put down; every set down; each set down; every time you drop; each time you drop; every time the bar goes down; when you break; if you break; if you drop; if you put it down; if you stop; penalty; each time you put the bar down; every time you put the bar down; every time you set it down; each time you set it down; whenever you stop; whenever you break; whenever you put it down; every time the bar touches the floor; each time the bar touches the floor; per break; for each break; for every break"),
    ("penalty_do", None, 0.0, "do; perform; complete; you do; you owe; = "),
    ("score", None, 0.0, "score; scoring; score is; result; your score is; record; write down; note down; log"),
    ("aim", None, 0.0, "aim; aim for; aiming for; goal; target; aim to; target time; goal is; goal time; try for; shoot for; leave"),
    ("stations", None, 0.0, "stations; station; stops; exercises; moves; movements; move"),
    ("until", None, 0.0, "until; till"),
    ("pause", None, 0.0, "pause; hold at the bottom; hold at the top; pause at the bottom; pause at the top"),
    ("back_down", None, 0.0, "then back down; and back down; back down; down again; then down again; and down again; and back again; then back up; back up; and back up"),
    ("all", None, 0.0, "all; each; apiece; of each; each exercise; of everything; each movement; everything"),
    ("minute_n", (1, 2, (-1, -1)), 0.0, "minute n: n; min n: n; minute n = n; min n = n; death by"),
    ("accumulate", None, 0.0, "accumulate; accumulated; collect; hold for a total of; total of"),
    ("per_station", None, 0.0, "each station; per station; at each station; on each station; each exercise; per exercise; each movement; per movement; a station; every station; each; on each"),
    ("or", None, 0.0, "or; or else; alternatively; alternative; sub; scale; scaled; scaled to; option; otherwise; scale to; sub for; sub with; swap for; replace with"),
    # small words
    ("of", None, 0.0, "of; of the following; the following; following; as follows"), ("for", None, 0.0, "for; over"), ("in", None, 0.0, "in; within; under; at"),
    ("to", None, 0.0, "to; a; to a; up to a; an; your; to your"), ("with", None, 0.2, "with; w/; w; using; use; and"), ("and", None, 0.0, "and; &; plus; n"),
    ("dumbfiller", None, 0.3, "just; some; few; lots of; more; today; please; only; the; let's; lets; go; ok; okay; so; we; do; now; guys; all; team; everyone; folks; hi; hello; hey; morning; good morning; this; is; it; that's it; thats it; enjoy; have fun; good luck; lol; xx; about; approx; approximately; ca; roughly; circa; nice; simple; quick one; here we go; we have; we've got; you'll do; you do; perform; complete; main part; will be; gonna; workout; wod; program; session; as; also; still; again; each; your; own; a; an; and; once; up; rotating; rotate; on your own; on ur own; everyone"),
    ("goes_on", None, 0.0, "etc; and so on; and so forth; ..."),
)  # fmt: skip
# Kit in all its spellings.
KIT_SPELLINGS: dict[str, str] = {
    **{form: kit for kit in KIT for form in (kit, plural_of(kit))},
    "db": "dumbbell", "dbs": "dumbbell", "kb": "kettlebell", "kbs": "kettlebell", "bb": "barbell", "bar": "barbell", "bars": "barbell",
       "plates": "plates", "plate": "weight plate", "sb": "sandbag", "bag": "sandbag", "med ball": "medicine ball", "mb": "medicine ball",
       "wall ball": "ball", "rope": "jump rope", "ring": "rings", "bands": "band", "pvc": "broomstick", "stick": "broomstick",
       "weight": "weight", "weights": "weight", "vest": "vest",
}  # fmt: skip
# Titles of sections: what they are.
_HEADINGS: tuple[tuple[str, str], ...] = (
    ("warm-up", "warm up; warmup; wu; w/u; warm ups; general warm up; specific warm up; prep; movement prep; activation; mobility; mobilise; mobilize; prime; primer; get warm; warming up; wup"),
    ("cool-down", "cool down; cooldown; cd; c/d; stretch out; stretching; wind down; to cool down; cooling down; stretch"),
    ("main", "main; main part; main set; main session; main block; main workout; metcon; met con; conditioning; workout; wod; session; circuit; engine; cardio; the work; work; amrap block; intervals block; emom block; part"),
    ("strength", "strength; strength work; lift; lifting; lifts; weights; barbell; heavy; power; oly; weightlifting"),
    ("skill", "skill; skills; skill work; technique; tech; practice; drill; drills; gymnastics"),
    ("accessory", "accessory; accessories; accessory work; assistance; extra; extras; core; abs; core work; pump; bodybuilding"),
    ("finisher", "finisher; burnout; burn out; to finish off; bonus; last bit"),
)  # fmt: skip
# Words that say where or on what one moves: a bare distance below such a title is done so.
VENUES: dict[str, str] = {
    "track": "run", "run": "run", "running": "run", "road": "run", "trail": "run", "hill": "run", "hills": "run", "hilly": "run", "sprints": "run", "treadmill": "run",
    "row": "row", "rowing": "row", "rower": "row", "erg": "row", "bike": "ride", "cycling": "ride", "spin": "ride",
}  # fmt: skip
# What stands behind a movement's name and says how or where, never which movement. What follows them is a remark on the line.
PREPOSITIONS = frozenset(
    [
        "with",
        "w/",
        "w",
        "at",
        "to",
        "from",
        "over",
        "on",
        "in",
        "into",
        "holding",
        "and",
        "around",
        "round",
        "through",
        "behind",
        "using",
        "between",
        "against",
        "off",
        "up",
        "down",
        "without",
        "per",
        "for",
        "by",
        "as",
        "until",
        "while",
        "keep",
        "each",
    ]
)
# Directions and manners that may stand behind a name and change nothing of what is done.
MANNERS = frozenset(
    [
        "calm",
        "easy",
        "hard",
        "slow",
        "slowly",
        "fast",
        "quick",
        "quickly",
        "controlled",
        "smooth",
        "strict",
        "steady",
        "relaxed",
        "light",
        "heavy",
        "lying",
        "standing",
        "seated",
        "there",
        "back",
        "forward",
        "forwards",
        "backward",
        "backwards",
        "bwd",
        "fwd",
        "practice",
        "only",
        "please",
        "tall",
        "deep",
        "full",
        "outside",
        "inside",
        "indoors",
        "outdoors",
    ]
)

# Words of remarks, never of a movement's name.
SMALL_WORDS = frozenset(
    [
        "dont",
        "wont",
        "cant",
        "ur",
        "u",
        "till",
        "your",
        "you",
        "the",
        "a",
        "an",
        "is",
        "are",
        "be",
        "it",
        "if",
        "when",
        "then",
        "not",
        "no",
        "don't",
        "do",
        "keep",
        "stay",
        "focus",
        "remember",
        "breathe",
        "try",
        "make",
        "sure",
        "move",
        "listen",
        "well",
        "today",
    ]
)
# Words for the body and how it is held: a clause of nothing else says how ("knees high", "chest up").
BODY_WORDS = frozenset(
    [
        "knees",
        "hips",
        "chest",
        "elbows",
        "arms",
        "legs",
        "feet",
        "heels",
        "back",
        "head",
        "shoulders",
        "hands",
        "eyes",
        "core",
        "tall",
        "high",
        "low",
        "up",
        "down",
        "straight",
        "bent",
        "locked",
        "tight",
        "wide",
        "narrow",
        "flat",
        "wrists",
        "toes",
    ]
)
# A clause that begins with one of these, or has it as its small word, is read by the table or not at all.
NEVER_CLAUSES = frozenset(
    ["rest", "then", "every", "each", "per", "for", "or", "cap", "into", "between", "until", "max", "min", "no"]
)


def _phrases() -> dict[str, tuple[tuple[str, Any, float], ...]]:
    out: dict[str, list[tuple[str, Any, float]]] = {}
    for kind, value, cost, words in _ROWS:
        for phrase in words.split("; "):
            key = " ".join(phrase.replace("-", " ").replace(" / ", "/").split())
            out.setdefault(key, []).append((kind, value, cost))
    for section, words in _HEADINGS:
        for phrase in words.split("; "):
            out.setdefault(" ".join(phrase.replace("-", " ").split()), []).append(("heading", section, 0.2))
    for word, (unit, _) in UNIT_SPELLINGS.items():
        if word.isalpha() and len(word) > 1:
            out.setdefault(word, []).append(("unit", unit, 0.2))
    for word, kit in KIT_SPELLINGS.items():
        # "KBS" alone is the swing, sooner than a heap of kettlebells.
        out.setdefault(word, []).append(("kit", kit, 1.5 if word == "kbs" else 0.1))
    return {key: tuple(rows) for key, rows in out.items()}


PHRASES = _phrases()
FIRST_OF_PHRASES = frozenset(re.split(r"[ /:&]", p)[0] or p[0] for p in PHRASES)
LONGEST_PHRASE = 12
