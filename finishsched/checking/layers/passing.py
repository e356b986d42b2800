"""What passes over a layer and leaves nothing there, as the table of layers names it."""

from __future__ import annotations

from collections.abc import Callable

from finishsched.checking.moves import Move
from finishsched.model.doing import Wets
from finishsched.model.grades import Form, form_of
from finishsched.model.how import tells
from finishsched.model.product import ProductKind
from finishsched.model.verbs import Verb

ACIDS = r"\b(?:vinegar|acetic|citric|acids?)\b"
AMMONIA = r"\bammonia\b"
ALKALIS = r"\b(?:borax|(?:washing |baking |caustic )?soda|bicarbonate|ammonia|lye)\b"
"""What washes and neutralisers are made of, as their steps say it."""


def work_of(move: Move) -> str | None:
    """Return the table's word for what a step does to the layer that lies there; None for nothing.

    A damp cloth is no soaking, and wet paper less than one: films bear it within hours.
    """
    return next((work for work, does in _WORKS if does(move)), None)


def brings_acid(move: Move) -> bool:
    """Tell whether a step that cleans does so with an acid, by its words or its product."""
    return move.verb.does.cleans and tells(_words(move), ACIDS)


def _words(move: Move) -> str:
    product = f"{move.product.id} {move.product.title}" if move.product else ""
    return f"{move.step.how}. {move.step.tool}. {product}"


def _soaks(move: Move) -> bool:
    soaks = move.wets is Wets.WATER  # tape, raised grain, what rinses a bleach
    return soaks or (move.verb is Verb.WASH and move.wets_with_water)


def _soaks_with(pattern: str) -> Callable[[Move], bool]:
    cleans = (Verb.NEUTRALISE, Verb.WASH)
    return lambda move: move.verb in cleans and tells(_words(move), pattern)


def _rubs(move: Move) -> bool:
    """Tell whether paper or powder rubs; wool with wax on it only makes a wax even."""
    kinds = [one.kind for one in move.brings]
    paper = bool(move.step.grade) and form_of(move.step.grade or "") is Form.SHEET
    rubs = paper or ProductKind.POWDER in kinds
    return move.verb.rubs_film and rubs and ProductKind.WAX not in kinds


def _thins(move: Move) -> bool:
    return not move.wets_with_water and any(one.kind is ProductKind.THINNER for one in move.brings)


_WORKS: tuple[tuple[str, Callable[[Move], bool]], ...] = (
    ("work.steam", lambda move: move.verb is Verb.STEAM),
    ("work.knife", lambda move: move.verb is Verb.BURN_IN),
    ("work.burnish", lambda move: move.verb is Verb.BURNISH),
    ("work.tape", lambda move: move.verb is Verb.MASK),
    ("work.soak.acid", _soaks_with(ACIDS)),
    ("work.soak.ammonia", _soaks_with(AMMONIA)),
    ("work.soak.alkali", _soaks_with(ALKALIS)),
    ("work.soak.tape", lambda move: move.verb is Verb.STRIP_TAPE and not move.pulls_dry),
    ("work.soak.grain", lambda move: move.verb is Verb.RAISE_GRAIN),
    ("work.soak", _soaks),
    ("work.paper", lambda move: move.verb.abrades and move.wets_with_water),
    ("work.alcohol", lambda move: move.verb.does.cleans and move.kind is ProductKind.ALCOHOL),
    ("work.thinner", lambda move: move.verb.does.cleans and _thins(move)),
    ("work.rub.thinner", lambda move: move.verb.rubs_film and _thins(move)),
    ("work.rub", _rubs),
)
"""The first that a step does is what it is called by."""
