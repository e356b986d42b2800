"""The words of a step clause by clause: which are said, which denied, which only supposed.

A step's words are orders, mostly a run of short clauses: ``flood it, leave 15 minutes, never let it
skin``. What follows ``not``, ``never`` or ``instead of`` is denied to the end of its clause; what
follows ``if``, ``until`` or ``would`` is supposed, and nobody says that it is done.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

MOST_DENIED = 8
"""A denial reaches over so many words, and no further than its clause (our assumption)."""
MOST_INSTEAD = 6
"""What is done instead of something else is named in so many words (our assumption)."""

MOST_BEFORE_WHEN = 1
"""After so many words a ``while`` or ``after`` still stands in the denial: never straight after."""


class Word(NamedTuple):
    """One word as it stands in a sentence."""

    spoken: str
    stem: str
    at: int
    """Its place in the sentence, in characters."""
    clause: int
    denied: bool
    supposed: bool
    behind_denial: bool
    """True for the first word after what denies: no edge, not on an edge."""


class Sentence(NamedTuple):
    """One sentence: its text, in lower case, and the words that count."""

    text: str
    words: tuple[Word, ...]


class Grammar(NamedTuple):
    """The words that do something to those about them, as ``words.txt`` lists them."""

    passed_over: frozenset[str]
    denies: frozenset[str]
    instead: frozenset[str]
    begins: frozenset[str]
    supposes: frozenset[str]
    modal: frozenset[str]
    doings: frozenset[str]
    """By their stems: what an order begins with."""
    places: frozenset[str]
    """Words that say where: in, on, near."""


_SENTENCES = re.compile(r"[^.;!?\n]*(?:\.(?=\S)[^.;!?\n]*)*").finditer
_TOKENS = re.compile(r"[a-z]+(?:'[a-z]+)?|\d+(?:[.,]\d+)?|[,:()]|--").finditer
_MARKS = ",:()--"
_ARTICLES = ("a", "an", "the")
_UNTIL = ("until", "till")
"""A denial reaches over them: never hold it there until it smokes."""
_TURNS = ("so", "but", "because", "though", "although")
"""They end a denial of one word too: no mask, so a scarf; no flakes but syrup."""
_DENIES_TWICE = ("without", "skip", "omit", "forget", "avoid")
"""After a denial these say that it is done: never without a mask."""
_LIT = (
    r"\b(?:heater|stove|fire|flame|spark|cigarette|pipe|burner|candle|hot ?plate|"
    r"pilot(?: light| flame)?)s?"
)
_ALL = r"(?:(?:the|every|any|all) )*"
_HARMS = (
    r"(?<!not )(?<!never )(?<!n't )\bcatch(?:es)? fire\b|\benough to (?:light|start|set)\b|"
    r"\b(?:rusts? under|goes? (?:limp|floppy))\b|\bnot safe\b|"
    r"\b(?:creeps?|travels?|spreads?) (?:\w+ ){0,4}to\b"
)
"""What tells of the harm and not of the work: a clause with it warns."""
_WEATHER = r"(?:frost|cold|damp|wet|heat|sun|light|draughts?|drafts?|dust|air)"
_LOOKS_ON = (
    r"(?:\w+ ){0,2}(?:sees?|seen|notic|look|mind|cares?\b|know|find|tell|ask|complain|die|hurt|"
    r"harm|ill\b|will\b|else)"
)
"""What nobody does is denied; what nobody sees, minds or dies of is told all the same."""
_SPAN = r"(?:(?:many|some|several|ten|a few|\d+) )?(?:years|months|weeks|days|hours)\b"
"""How long: for years. That for begins no clause."""
_STARTS = r"(?:beginning|start|first|one|end|edge|here|side)"
"""From these a thing is only reckoned: keep it moving from one end to the other."""
_AS_ONE = tuple(
    (re.compile(pattern), word)
    for pattern, word in (
        (r"\b(?:not|nothing) (?:only|just|but|(?:less|more|later|sooner) than)\b", "only"),
        (r"\bno (?:(?:more|less|later|sooner) than|matter)\b", "only"),
        (r"\bwhy not\b", "why"),
        (r"\bat once\b", "straightaway"),
        (r"\bno (?:good|use|way)\b", "useless"),
        (
            (
                r"\bout of (?=(?:the |all |any |direct |full |bright |strong )*"
                r"(?:sun\w*|draughts?|drafts?|reach|winds?|dust|light|damp|rain|way|heat|cold))"
            ),
            "insteadof ",
        ),
        (
            (
                r"\b(?:instead of|rather than|in (?:place|lieu) of|as opposed to|other than|"
                r"(?:well |far )?away from|clear of|far from|free (?:of|from)|unlike)\b"
            ),
            "insteadof",
        ),
        (r"\b(?:or else|otherwise|or (?=(?:it|they|you|he|she)\b))", "orelse "),
        (r"\bas (?:if|though)\b", "asif"),
        (
            rf"{_LIT}(?:(?:,|,? and|,? or) {_LIT})* (?:(?:is|are|kept|stays?) )?(?:out|off)\b",
            "unlit",
        ),
        (_HARMS, "harms"),
        (rf"\b(?:turn|switch|shut|put) (?:off|out) {_ALL}(?={_LIT})", "insteadof "),
        (rf"\b(?:nobody|no one)\b(?= \w)(?! {_LOOKS_ON})", "not"),
        (r"\bwith no\b", "without"),
        (r"\bnowhere near\b", "insteadof"),
        (r"\b(in|into) the skip\b", r"\1 the bin"),
        (
            (
                r"\b(?:it|that|they)'d (?=(?:only|just|be|come|go|look|leave|lift|ruin|rust|melt|"
                r"tint|turn|eat|run|spoil|take|make)\b)"
            ),
            "would ",
        ),
        (
            (
                r"\b(?:is|are) (?:only )?for (?=(?:the|sanding|later|washing|cleaning|another|"
                r"other)\b)|\bstays? "
                r"(?=in its (?:case|box)\b|at the sink\b|on the shelf\b|at home\b)"
            ),
            "harms ",
        ),
        (r"\b(?:any(?:one|body)|those|people) who\b|\bwhoever\b", "if"),
        (rf"\bfor (?={_SPAN})", ""),
        (
            (
                r"\b(\w+) (?:is|are) (?:not (?:needed|wanted|necessary|required)|needless|"
                r"unneeded|unnecessary|superfluous)\b"
            ),
            r"not \1",
        ),
        (
            r"\bthrow (?:away|out)\b|\bget rid of\b|\bstop (?=\w+ing\b)|\boff the flame\b",
            "insteadof",
        ),
        (rf"\bkeeps? (?:\w+ ){{1,4}}from\b(?! (?:the )?{_STARTS}\b)", "keep insteadof"),
        (rf"\bkept from (?=(?:the )?{_WEATHER}\b)", "keep insteadof "),
        (r", (?:and )?so\b", " so"),
        (r"\b(stops?|saves?) (?:\w+ ){1,4}from\b", r"\1 insteadof"),
        (r"\b(?:just |exactly )?as you (?:would|do|might)\b", "like"),
        (r"\bkeep ((?:\w+ ){1,4})out\b", r"keep insteadof \1"),
        (r"\b(\w+) (?:is |are )?kept out\b", r"insteadof \1"),
        (r"\b(?:no|not) longer\b", "not"),
        (r"(?<=[a-z])'ll\b", " will"),
        (r"(?<!\w)'em\b", "them"),
        (r"\bas (\w+) as (?:ever )?(?:i|you|we|he|she|it|they) (?:could|can)\b", r"as \1 as able"),
        (r"(?<=[a-z])'ve\b", " have"),
        (r"(?<=[a-z])'re\b", " are"),
        (r"\bneed(?:s)? (?:no|not)\b|\bneedn't\b|\bno (?:need|call) (?:for|of|to)\b", "not"),
    )
)
"""Several words that do one thing, in the order in which they are made one."""


def sentences_of(text: str, stem_of: Callable[[str], str], grammar: Grammar) -> Iterator[Sentence]:
    """Give each sentence of ``text`` with its words; a full stop or a semicolon ends one."""
    for found in _SENTENCES(made_one(text)):
        words = tuple(_words(found[0], stem_of, grammar))
        if words:
            yield Sentence(found[0], _with_modals(words, grammar))


def made_one(text: str) -> str:
    """Return a text in lower case in which several words that do one thing are one."""
    said = text.lower().replace("\u2019", "'").replace(" - ", ", ")
    said = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", said)
    said = re.sub(r"(?<=[a-z])'s\b", "", said)
    for pattern, word in _AS_ONE:
        said = pattern.sub(word, said)
    return said


class _State:
    """What holds for the next word of a sentence."""

    def __init__(self, grammar: Grammar) -> None:
        self.grammar = grammar
        self.clause = 0
        self.left = 0
        self.instead = False
        self.supposed = False
        self.denied_places: set[str] = set()
        self.denied = 0
        """How many words it denied by now."""
        self.behind_denial = False

    def new_clause(self, *, denial_ends: bool, turns: bool = False) -> None:
        self.clause += 1
        if denial_ends and self.denied > (0 if turns else MOST_BEFORE_WHEN):
            self.left, self.instead = 0, False

    def deny(self, *, instead: bool) -> None:
        self.left = MOST_INSTEAD if instead else MOST_DENIED
        self.instead, self.behind_denial = instead, True
        self.denied_places, self.denied = set(), 0


def _words(text: str, stem_of: Callable[[str], str], grammar: Grammar) -> Iterator[Word]:
    tokens = [(found[0], found.start()) for found in _TOKENS(text)]
    state = _State(grammar)
    for place, (spoken, at) in enumerate(tokens):
        ahead = [one for one, _ in tokens[place + 1 : place + 8]]
        if spoken in _MARKS:
            state.supposed = False
            goes_on = _goes_on(ahead, state, stem_of)
            state.denied = state.denied if goes_on else MOST_DENIED
            state.new_clause(denial_ends=not goes_on)
            continue
        stem = stem_of(spoken)
        _turn(spoken, stem, ahead, state, stem_of)
        if state.left and spoken in _DENIES_TWICE:
            state.left = 0
            continue
        if spoken in grammar.denies or spoken in grammar.instead:
            state.deny(instead=spoken in grammar.instead)
            continue
        if spoken in grammar.passed_over:
            continue
        if state.left and spoken in grammar.places:
            state.denied_places.add(spoken)
        denied = state.left > 0
        behind = denied and state.behind_denial
        yield Word(spoken, stem, at, state.clause, denied, state.supposed, behind)
        state.left, state.denied = max(0, state.left - 1), state.denied + 1
        state.behind_denial = False


def _turn(
    spoken: str, stem: str, ahead: Sequence[str], state: _State, stem_of: Callable[[str], str]
) -> None:
    """Have a word begin a clause, suppose what follows it, or end a denial."""
    grammar = state.grammar
    if spoken in grammar.supposes:
        state.new_clause(denial_ends=spoken not in _UNTIL)
        state.supposed = True
    elif spoken in grammar.begins:
        state.new_clause(denial_ends=True, turns=spoken in _TURNS)
        state.supposed = state.supposed and spoken == "and"
    elif (
        spoken == "and" and ahead and (ahead[0] in _ARTICLES or stem_of(ahead[0]) in grammar.doings)
    ):
        state.new_clause(denial_ends=True)
    elif state.instead and state.left < MOST_INSTEAD and stem in grammar.doings:
        state.left, state.instead = 0, False


def _goes_on(ahead: Sequence[str], state: _State, stem_of: Callable[[str], str]) -> bool:
    """Tell whether a denial holds beyond a comma: never in the sun, on a stove or by a fire."""
    if not state.left or not ahead:
        return False
    clause = list(ahead[: ahead.index(",")]) if "," in ahead else list(ahead)
    listed = "or" in clause or "nor" in clause
    same_place = ahead[0] in state.denied_places
    begins = stem_of(ahead[0]) in state.grammar.doings and ahead[0] not in ("or", "nor")
    return (listed or same_place) and not begins


def _with_modals(words: Sequence[Word], grammar: Grammar) -> tuple[Word, ...]:
    """Return the words; a clause with ``would`` or ``is useless`` in it says not what is done."""
    supposed = {word.clause for word in words if word.spoken in grammar.modal}
    return tuple(
        word._replace(supposed=True) if word.clause in supposed else word for word in words
    )
