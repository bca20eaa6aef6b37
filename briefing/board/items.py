"""What a line of a board can hold: a table of rules over kinds of tokens, each with its cost.

A rule is a row of slots. A slot names the kinds that fit it (`time|num`), what it is called (`t:`), and whether it may be
missing (`?`). Which items a line is made of is decided over the whole line: the cover that costs least (`board/cover.py`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from briefing.board.tokens import Token

# Groups of kinds that stand in for each other in many rules.
_GROUPS = {
    "AMOUNT": "num|qty|time|pair|qtypair|timepair|range|qtyrange|timerange|list",
    "SETS": "num|qty|time|pair|qtypair|range|qtyrange|timerange",
    "MINUTES": "time|num",
    "SPAN": "time|num|timerange|range",
    "GAP": "comma|dash|slash|and|plus|colon|semi",
}


@dataclass(frozen=True, slots=True)
class Slot:
    """One place of a rule."""

    kinds: frozenset[str]
    name: str | None
    optional: bool


@dataclass(frozen=True)
class Rule:
    """A rule of the table: the item it makes, its slots, its cost, and one example of it for the pages."""

    item: str
    slots: tuple[Slot, ...]
    cost: float
    firsts: frozenset[str] = field(repr=False)


@dataclass(frozen=True, slots=True)
class Item:
    """A piece of a line that was read: its kind, its columns from 0, its tokens by the names of their slots, its cost."""

    kind: str
    start: int
    end: int
    slots: Mapping[str, Token]
    cost: float

    def __getitem__(self, name: str) -> Token:
        return self.slots[name]

    def get(self, name: str) -> Token | None:
        """Give the token of a slot that may be missing."""
        return self.slots.get(name)


def _rule(item: str, pattern: str, cost: float) -> Rule:
    slots = []
    for word in pattern.split():
        name, _, kinds = word.rpartition(":")
        optional = kinds.endswith("?")
        bare = kinds.rstrip("?")
        fit = frozenset(k for kind in bare.split("|") for k in _GROUPS.get(kind, kind).split("|"))
        slots.append(Slot(fit, name or None, optional))
    firsts: frozenset[str] = frozenset()
    for slot in slots:
        firsts |= slot.kinds
        if not slot.optional:
            break
    return Rule(item, tuple(slots), cost, firsts)


_TABLE: tuple[tuple[str, float, str], ...] = (
    # Work: a movement with how much of it, in either order.
    ("work", 0.0, "a:AMOUNT n:name"),
    ("work", 0.1, "a:AMOUNT times|of|dash n:name"),
    ("work", 0.1, "a:AMOUNT of n:name"),
    ("work", 0.1, "a:AMOUNT u:unit of? n:name"),
    ("work", 0.1, "a:AMOUNT s:side n:name"),
    ("work", 0.1, "a:AMOUNT s:side of n:name"),
    ("work", 0.2, "a:AMOUNT h:how_hard n:name"),
    ("work", 0.1, "a:num k:count_kit n:name"),
    ("work", 0.1, "a:AMOUNT l:load n:name"),
    ("work", 0.2, "a:AMOUNT p:pair n:name"),
    ("work", 0.1, "a:AMOUNT alt n:name"),
    ("work", 0.2, "n:name a:AMOUNT"),
    ("work", 0.2, "n:name times|colon|dash|for|equals a:AMOUNT"),
    ("work", 0.4, "n:name in|for a:time|timerange"),
    ("work", 0.2, "n:name colon times a:AMOUNT"),
    ("work", 0.2, "n:name a:num u:unit"),
    ("work", 0.3, "u:unit of? n:name"),
    ("work", 0.3, "n:name u:unit"),
    ("work", 0.3, "n:name u:unit a:num|list"),
    ("work", 0.3, "u:unit n:name a:num|list"),
    ("work", 0.5, "n:name"),
    ("accumulate", 0.0, "c:accumulate a:AMOUNT in|of|for? to? n:name"),
    ("scale_to", 0.0, "o:or n:name to|for|with|dash|equals|colon m:name"),
    ("station_time", 0.1, "t:time for|on|in|of? s:per_station"),
    ("most", 0.1, "m:max u:unit? of? n:name"),
    ("most", 0.1, "m:max u:unit? of? n:name in t:time"),
    ("most", 0.2, "m:max of? s:side? n:name"),
    ("most", 0.2, "n:name dash|colon? m:max"),
    ("most", 0.2, "t:time m:max u:unit? n:name"),
    ("most", 0.3, "n:name m:amrap"),
    ("most_open", 0.9, "m:max u:unit?"),
    ("sets_of", 0.6, "s:num times a:SETS"),
    ("sets_of", 0.5, "s:num sets of|times|dash|colon? a:SETS"),
    ("sets_of", 0.2, "s:num n:name of|for a:time"),
    ("sets_of", 0.0, "s:num times m:max"),
    ("sets_of", 0.1, "s:num sets of|times? m:max"),
    ("sets_of", 0.0, "s:num times a:SETS n:name"),
    ("sets_of", 0.0, "s:num times a:SETS alt n:name"),
    ("sets_of", 0.1, "s:num times a:SETS s2:side n:name"),
    ("sets_of", 0.0, "s:num times m:max u:unit? of? n:name"),
    ("sets_of", 0.0, "s:num sets of|times|dash? a:SETS of? n:name"),
    ("sets_of", 0.1, "s:num sets of|times|dash? m:max u:unit? of? n:name"),
    ("sets_of", 0.1, "n:name GAP? s:num times a:SETS"),
    ("sets_of", 0.1, "n:name GAP? s:num times m:max"),
    ("sets_of", 0.1, "n:name GAP? s:num sets of|times|dash|colon? a:SETS"),
    ("sets_of", 0.1, "n:name GAP? s:range times a:SETS"),
    ("sets_of", 0.1, "s:range times a:SETS n:name"),
    ("sets_of", 0.1, "s:range sets of|times? a:SETS n:name"),
    ("sets_of", 0.1, "s:range sets of|times? a:SETS"),
    ("sets_of", 0.1, "n:name GAP? s:range sets of|times? a:SETS"),
    ("sets_of", 0.0, "s:num times a:SETS k:count_kit n:name"),
    ("block", 0.0, "s:num sets of? open"),
    ("block", 0.0, "s:num times open"),
    ("block", 0.0, "s:num rounds of? open"),
    ("amount", 1.4, "a:AMOUNT"),
    ("amount", 1.4, "about a:AMOUNT"),
    ("complex_of", 0.2, "c:complex_counts"),
    # How it is done.
    ("load", 0.1, "l:load"),
    ("load", 1.0, "times l:load"),
    ("load", 0.1, "with? l:load k:kit"),
    ("load", 0.1, "with? l:load k:kit s:side"),
    ("load", 0.1, "with? l:load s:side"),
    ("load", 0.1, "k:kit colon|at? l:load"),
    ("load", 0.3, "k:kit colon|at? p:pair"),
    ("load", 0.4, "k:kit colon|at? q:num"),
    ("load", 0.2, "at p:pair"),
    ("load", 0.3, "with k:count_kit"),
    ("load", 0.2, "k:count_kit l:load"),
    ("load", 0.2, "k:count_kit open? w:weights close?"),
    ("load", 0.2, "w:weights"),
    ("load", 0.3, "k:count_kit at? p:pair"),
    ("load", 0.2, "h:how_hard l:load"),
    ("two_numbers", 0.7, "p:pair"),
    ("kit", 0.8, "k:count_kit"),
    ("kit", 1.2, "with? k:kit"),
    ("percent", 0.0, "p:percent"),
    ("percent", 0.1, "at p:percent"),
    ("effort", 0.1, "e:effort"),
    ("tempo", 0.0, "t:tempo"),
    ("pace", 0.1, "p:pace"),
    ("pace", 0.2, "at|dash p:pace"),
    ("height", 0.5, "h:height"),
    ("how_hard", 0.5, "h:how_hard"),
    ("unbroken", 0.0, "u:unbroken"),
    ("total", 0.2, "t:total"),
    ("side", 0.1, "s:side"),
    ("side", 0.15, "a:AMOUNT s:side"),
    ("oneside", 0.1, "o:oneside"),
    ("oneside_of", 0.1, "a:num o:oneside"),
    ("work_side", 0.0, "a:num n:name o:oneside"),
    ("work_side", 0.1, "a:num o:oneside n:name"),
    ("alternating", 0.1, "a:alt"),
    ("remaining", 0.1, "r:remaining"),
    # Heads.
    ("for_time", 0.0, "f:for_time of?"),
    ("for_time", 0.1, "f:for_time in t:MINUTES"),
    ("rounds_for_time", 0.0, "n:num rounds? f:for_time of?"),
    ("rounds_for_time", 0.0, "n:num f:rft of?"),
    ("rounds_for_time", 0.0, "f:for_time GAP? n:num rounds of?"),
    ("for_time", 0.2, "f:rft"),
    ("rounds", 0.0, "n:num rounds of?"),
    ("rounds", 0.3, "n:num manner|how_hard rounds of?"),
    ("rounds", 0.1, "n:range rounds of?"),
    ("rounds", 0.05, "n:num rounds side|all|per_station"),
    ("rounds", 0.3, "times n:num rounds?"),
    ("rounds", 0.2, "times|for n:num rounds"),
    ("rounds", 0.2, "rounds dash|colon|equals n:num"),
    ("rounds", 0.8, "n:num times rounds?"),
    ("rounds", 0.8, "n:num times through?"),
    ("rounds", 0.2, "w:twice"),
    ("rounds_all", 0.0, "n:num rounds of all"),
    ("quality", 0.0, "n:num rounds? q:nft of?"),
    ("quality", 0.0, "q:nft"),
    ("sets", 0.1, "n:num sets of?"),
    ("sets", 0.1, "n:range sets of?"),
    ("sets", 0.1, "times n:num sets"),
    ("amrap", 0.0, "a:amrap in|of|for|dash|colon|times? t:MINUTES of?"),
    ("amrap", 0.0, "t:time a:amrap of?"),
    ("amrap", 0.4, "t:num a:amrap of?"),
    ("amrap", 0.1, "t:time dash|colon|comma a:amrap of?"),
    ("amrap", 0.0, "n:num times a:amrap in|of|for|dash|colon? t:MINUTES"),
    ("amrap", 0.0, "n:num times a:amrap in|of|for|dash|colon? t:MINUTES slash o:MINUTES off?"),
    ("amrap", 0.0, "n:num times t:time a:amrap of?"),
    ("amrap", 0.1, "n:num times t:time a:amrap slash|comma o:time off|rest?"),
    ("amrap", 0.1, "n:num rounds|sets of t:time a:amrap"),
    ("amrap", 0.0, "a:amrap in|of|for|dash|colon? t:MINUTES times n:num rounds|sets?"),
    ("amrap_open", 0.3, "a:amrap of|in|for?"),
    ("emom", 0.0, "e:emom for|times|of|dash|colon? t:time of?"),
    ("emom", 0.0, "e:emom for|of|dash|colon? m:num of?"),
    ("emom", 0.0, "t:time e:emom of?"),
    ("emom", 0.3, "m:num e:emom of?"),
    ("emom", 0.0, "e:emom times|for n:num rounds|sets?"),
    ("emom", 0.0, "e:emom n:num rounds|sets"),
    ("emom", 0.0, "e:emom for t:MINUTES"),
    ("emom", 0.0, "n:num rounds e:emom"),
    ("emom_open", 0.4, "e:emom"),
    ("every", 0.0, "every e:time for|times|comma|dash? n:num rounds|sets|times?"),
    ("every", 0.2, "every e:num for|times|comma|dash? n:num rounds|sets|times"),
    ("every", 0.0, "every e:time for|times|comma|dash|until|in? t:time"),
    ("every", 0.1, "every e:time on_the e2:MINUTES for|times|comma|dash? t:time"),
    ("every", 0.1, "every e:time on_the e2:MINUTES for|times|comma|dash? n:num rounds|sets|times?"),
    ("every", 0.1, "n:num rounds|sets comma|dash|of? every e:time"),
    ("every", 0.1, "n:num times every e:time"),
    ("every_open", 0.3, "every e:time"),
    ("every_open", 0.2, "every e:time on_the e2:MINUTES"),
    ("every_open", 0.3, "on_the e:time"),
    ("every_from", 0.1, "every e:MINUTES comma? from f:MINUTES"),
    ("every_from", 0.1, "every e:MINUTES on_the e2:MINUTES comma? from f:MINUTES"),
    ("every_from", 0.1, "every e:MINUTES comma? from? z:at_start"),
    ("every_from", 0.1, "e:emom from f:MINUTES"),
    ("every_from", 0.1, "e:emom from? z:at_start"),
    ("at_times", 0.1, "in t:time"),
    ("at_times", 0.2, "in t:MINUTES comma|and u:MINUTES"),
    ("at_times", 0.2, "in t:MINUTES comma|and u:MINUTES comma|and and? v:MINUTES"),
    ("at_times", 0.2, "in t:MINUTES comma|and u:MINUTES comma|and and? v:MINUTES comma|and and? w:MINUTES"),
    ("first_with", 0.2, "s:start_with n:name"),
    ("first_at", 0.2, "from f:MINUTES"),
    ("first_at", 0.2, "from? z:at_start"),
    ("on_break", 0.0, "b:break equals|colon|comma|penalty_do?"),
    ("penalty", 0.4, "p:penalty_do"),
    ("intervals", 0.0, "w:time on slash|comma|and|dash? r:time to? off"),
    ("intervals", 0.0, "w:time on slash|comma|and|dash? r:time off times|for|comma n:num rounds|sets?"),
    ("intervals", 0.0, "n:num times w:time on slash|comma|and|dash? r:time off"),
    ("intervals", 0.0, "n:num times w:time on? slash|comma|and? r:time off?"),
    ("intervals", 0.0, "n:num rounds|sets of w:time on? slash|comma|and|dash? r:time off?"),
    ("intervals", 0.0, "n:num times open w:time h:how_hard|on slash|comma|and|dash? r:time e:how_hard|off|doing close"),
    ("intervals", 0.1, "n:num times w:time h:how_hard|on slash|comma|and|dash? r:time e:how_hard|off|doing"),
    ("intervals", 0.1, "n:num rounds|sets of w:time h:how_hard|on slash|comma|and|dash? r:time e:how_hard|off|doing"),
    ("intervals", 0.1, "w:time h:how_hard|on slash|comma|and|dash? r:time e:how_hard|off|doing times|for n:num rounds?"),
    ("intervals", 0.2, "w:time h:how_hard|on slash|comma|and|dash? r:time e:off|doing"),
    ("intervals", 0.0, "intervals? colon? wr:timepair"),
    ("intervals", 0.0, "intervals? colon? wr:timepair times|for n:num rounds|sets?"),
    ("intervals", 0.0, "n:num times wr:timepair"),
    ("intervals", 0.0, "wr:pair|timepair times|for t:time"),
    ("intervals", 0.1, "n:num times wr:pair"),
    ("intervals", 0.1, "wr:pair times n:num rounds|sets?"),
    ("intervals", 0.1, "intervals of? colon? wr:pair"),
    ("intervals", 0.1, "wr:pair intervals"),
    ("intervals", 0.2, "wr:pair on? off"),
    ("intervals", 0.2, "on w:time comma|slash? off r:time"),
    ("intervals", 0.2, "on w:time comma|slash? rest r:time"),
    ("intervals", 0.2, "w:num on slash|comma|and|dash? r:num off"),
    ("intervals", 0.2, "w:num on slash|comma|and|dash? r:num off times|for|comma n:num rounds|sets?"),
    ("stretch", 0.2, "w:time on"),
    ("stretch", 0.2, "n:num times w:time on"),
    ("stretch", 0.2, "n:num rounds of w:time on"),
    ("build", 0.0, "b:build to? h:heavy? n:num"),
    ("build", 0.0, "b:build to? h:heavy? k:single"),
    ("build", 0.0, "b:build to? h:heavy n:num"),
    ("build", 0.0, "b:build to? h:heavy k:single"),
    ("build", 0.0, "b:build to? r:rm"),
    ("build", 0.0, "t:time to? b:build to? h:heavy? n:num"),
    ("build", 0.0, "t:time to? b:build to? h:heavy? k:single"),
    ("build", 0.0, "t:time to? b:build to? h:heavy"),
    ("build", 0.2, "h:heavy k:single"),
    ("build", 0.3, "h:heavy n:num"),
    ("build", 0.3, "r:rm"),
    ("build", 0.3, "b:build to? h:heavy"),
    ("build", 0.3, "b:build to? m:max"),
    ("max_in", 0.1, "m:max u:unit? in t:time"),
    ("max_in", 0.2, "t:time m:max u:unit?"),
    ("numbers", 0.1, "l:list u:unit? of?"),
    ("numbers", 0.1, "l:list for_time"),
    ("numbers", 0.1, "l:list s:side"),
    ("back_down", 0.6, "b:back_down"),
    ("stated_total", 0.1, "equals? a:AMOUNT total"),
    ("pause", 0.0, "t:time p:pause"),
    ("pause", 0.0, "p:pause t:time"),
    ("again", 0.3, "t:time h:how_hard"),
    ("percents", 0.0, "at? p:percents"),
    ("cap", 0.0, "cap of|colon|dash|in|for|equals|at? t:MINUTES"),
    ("cap", 0.0, "t:time cap"),
    ("cap", 0.3, "cap w:name"),
    ("bad_cap", 0.0, "cap of|colon|dash|in|for|equals? t:badtime"),
    ("bad_time", 0.5, "t:badtime"),
    ("bad_list", 0.5, "t:badlist"),
    ("in_time", 0.2, "in t:time"),
    ("in_time", 0.2, "for t:time"),
    ("duration", 0.9, "t:time"),
    ("duration", 0.3, "t:time total"),
    ("duration", 0.3, "total colon|equals? t:time"),
    ("any_order", 0.0, "a:any_order"),
    ("plan", 0.1, "plan colon|for? n:num rounds?"),
    ("bad_plan", 0.5, "plan w:name rounds?"),
    # Rests.
    ("rest", 0.0, "rest for|colon|dash? t:SPAN"),
    ("rest", 0.0, "rest for|colon|dash? t:SPAN comma? d:doing"),
    ("rest", 0.0, "rest for|colon|dash? t:SPAN open? d:doing close?"),
    ("rest", 0.0, "t:time|timerange of? rest"),
    ("rest", 0.1, "t:time|timerange of? off"),
    ("rest", 0.0, "rest for|colon|dash? t:SPAN b:between"),
    ("rest", 0.0, "rest for|colon|dash? t:SPAN comma? d:doing b:between"),
    ("rest", 0.0, "rest n:as_needed comma? d:doing b:between?"),
    ("rest", 0.0, "t:time|timerange of? rest|off b:between"),
    ("rest", 0.0, "t:time|timerange b:between"),
    ("rest", 0.1, "b:between colon|comma? rest? t:time|timerange rest?"),
    ("rest", 0.2, "t:time|timerange d:doing rest|off?"),
    ("rest", 0.2, "d:doing t:time|timerange rest|off?"),
    ("rest", 0.2, "t:time|timerange d:doing rest|off? b:between"),
    ("rest", 0.3, "t:time|timerange rest|off d:doing"),
    ("rest", 0.2, "t:time|timerange manner|how_hard rest|off"),
    ("rest", 0.2, "rest d:doing for? t:time|timerange"),
    ("rest", 0.0, "rest n:as_needed"),
    ("rest", 0.0, "rest n:as_needed b:between"),
    ("rest", 0.1, "rest b:between n:as_needed"),
    ("rest", 0.6, "rest b:between"),
    ("rest", 0.1, "rest d:doing b:between?"),
    ("rest", 0.3, "d:doing off|rest|b:between"),
    ("rest", 0.1, "q:qty d:doing rest|off?"),
    ("rest", 0.1, "q:qty d:doing rest|off? b:between"),
    ("rest", 0.1, "rest q:qty d:doing b:between?"),
    ("rest", 0.6, "d:doing"),
    ("rest_word", 0.6, "rest"),
    ("rest_word", 0.7, "off"),
    ("rest_left", 0.0, "rest r:remaining"),
    ("rest_left", 0.0, "r:remaining off|rest"),
    ("rest_long", 0.0, "rest? b:between? l:as_long rest?"),
    ("rest_long", 0.1, "rest? colon? w:ratio"),
    ("rest_after", 0.0, "rest t:time a:after_round"),
    ("rest_after", 0.0, "t:time rest|off a:after_round"),
    ("rest_parts", 0.0, "rest t:MINUTES p:between_parts"),
    ("rest_parts", 0.1, "t:time rest? p:between_parts"),
    ("rest_parts", 0.4, "rest t:time then"),
    ("no_rest", 0.0, "n:no_rest"),
    # What joins and divides.
    ("buy_in", 0.2, "b:buy_in colon?"),
    ("cash_out", 0.2, "c:cash_out colon?"),
    ("then", 0.1, "t:then colon|comma?"),
    ("after_each", 0.1, "a:after_each"),
    ("or", 0.1, "o:or colon?"),
    ("plus_work", 0.1, "plus"),
    ("label", 0.0, "l:label"),
    ("part", 0.0, "p:part"),
    ("heading", 0.3, "h:heading colon|dash?"),
    ("heading", 0.2, "h:heading open? t:time close? colon|dash?"),
    ("heading", 0.2, "h:heading colon|dash t:time"),
    ("stations", 0.1, "n:num s:stations"),
    ("superset", 0.1, "s:superset"),
    ("complex", 0.2, "k:kit? c:complex l:load?"),
    ("all_loads", 0.4, "all k:kit"),
    # Teams.
    ("team", 0.1, "t:team colon?"),
    ("team", 0.0, "t:team_of n:num colon?"),
    ("share", 0.0, "s:share"),
    ("swap", 0.0, "s:swap a:qty|time|num rounds?"),
    ("swap", 0.1, "s:swap rounds"),
    ("carry_on", 0.0, "c:carry_on"),
    ("start_again", 0.0, "s:start_again"),
    ("climb", 0.0, "c:minute_n"),
    ("until_missed", 0.2, "u:until_missed"),
    ("goes_on", 0.3, "g:goes_on"),
    ("ready", 0.5, "a:as_needed"),
    ("open", 0.3, "open"),
    ("close", 0.3, "close"),
    ("joiner", 0.02, "comma|semi|dash|slash|and|dot|colon|bullet|quote|equals|at|about"),
    ("manner", 0.8, "m:manner"),
    ("filler", 0.05, "f:dumbfiller"),
    ("filler", 0.9, "f:of|in|for|to|with|and|on_the|times|all|from|every|rounds|sets|on"),
)  # fmt: skip
RULES: tuple[Rule, ...] = tuple(_rule(item, pattern, cost) for item, cost, pattern in _TABLE)
BY_FIRST: dict[str, tuple[Rule, ...]] = {
    kind: tuple(r for r in RULES if kind in r.firsts) for kind in sorted({k for r in RULES for k in r.firsts})
}


def items_at(start: int, tokens: Mapping[int, Sequence[Token]], after: Mapping[int, int]) -> list[Item]:
    """Give every item that can begin at a column, the cheapest of each kind and end.

    `tokens` are the tokens by their first column, `after` gives for the end of a token the column of the next one.
    """
    found: dict[tuple[str, int], Item] = {}
    kinds = dict.fromkeys(t.kind for t in tokens.get(start, ()))
    rules = dict.fromkeys(rule for kind in kinds for rule in BY_FIRST.get(kind, ()))
    for rule in rules:
        _match(rule, 0, start, start, start, {}, rule.cost, tokens, after, found)
    return list(found.values())


def _match(  # noqa: PLR0913, PLR0917 - the state of a search
    rule: Rule,
    slot_at: int,
    start: int,
    at: int,
    end: int,
    taken: dict[str, Token],
    cost: float,
    tokens: Mapping[int, Sequence[Token]],
    after: Mapping[int, int],
    found: dict[tuple[str, int], Item],
) -> None:
    if slot_at == len(rule.slots):
        if end > start:
            key = (rule.item, end)
            if key not in found or found[key].cost > cost:
                found[key] = Item(rule.item, start, end, dict(taken), cost)
        return
    slot = rule.slots[slot_at]
    for token in tokens.get(at, ()):
        if token.kind in slot.kinds:
            here = {**taken, slot.name: token} if slot.name else taken
            _match(rule, slot_at + 1, start, after[token.end], token.end, here, cost + token.cost, tokens, after, found)
    if slot.optional:
        _match(rule, slot_at + 1, start, at, end, taken, cost, tokens, after, found)
