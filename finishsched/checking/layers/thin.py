"""What is laid thin: how little of a coat's wait it wants, and what is a wash coat."""

from __future__ import annotations

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.moves import Move
from finishsched.drying.figures import Phase, mechanism_of
from finishsched.drying.laws import NORMAL_DRY_FILM_UM, interval_factor, product_law
from finishsched.film.solids import solids_of
from finishsched.model.product import Mechanism, Product
from finishsched.model.verbs import Verb

MOST_WASH_SOLIDS = 0.131
"""Of a coat that leaves the pores open: shellac of 1.5 lb (common practice), or any other finish
thinned as far."""
MOST_WASH_COATS = 2
"""More of them shut the pores together (common practice)."""
THIN_SEAL_SOLIDS = 0.20
"""Of a finish thinned by half: a wash coat too, say some (contested)."""
LEAST_SHARE = 0.02
"""Of a wait, however thin the coat: minutes (our assumption)."""


def share_of_wait(case: ScheduleCase, move: Move) -> float:
    """Return how much of a full coat's wait the one that ``move`` lays wants, up to 1.

    By the law that its solvent leaves by: what lies below softens again and counts, and bare wood
    holds the solvent back. Films that react or join are no sooner done for being thin, or nobody
    printed that they are.
    """
    product = move.product
    if product is None or not move.is_film or mechanism_of(product) is not Mechanism.SOLVENT:
        return 1.0
    law = product_law(product, Phase.RECOAT)
    line = case.ledger[move.at][1]
    if law is None:
        return 1.0
    below_um = line.before.film_um.likely
    laid = law.laid(
        max(LEAST_SHARE, line.laid_um.likely / NORMAL_DRY_FILM_UM),
        first_on_wood=case.on_bare_wood and not any(one.is_film for one in case.before(move)),
        film_below_um=below_um,
    )
    return min(1.0, max(LEAST_SHARE, interval_factor(laid, law.reference)))


def is_wash_coat(move: Move) -> bool:
    """Tell whether a coat is so thin that pores stay open and colour still goes in."""
    solids = _solids(move)
    return solids is not None and solids <= MOST_WASH_SOLIDS


def seals_under_wax(case: ScheduleCase) -> bool:
    """Tell whether wax is the finish, and what lies below it only keeps dirt out of the wood."""
    films = case.films
    waxed = bool(films) and any(one.verb is Verb.WAX for one in case.after(films[-1]))
    return waxed and len(films) <= MOST_WASH_COATS and all(map(is_wash_coat, films))


def is_thin_seal(move: Move) -> bool:
    """Tell whether a coat is thinned so far that some take it for a wash coat."""
    solids = _solids(move)
    return solids is not None and solids <= THIN_SEAL_SOLIDS and bool(move.step.thinned_percent)


def _solids(move: Move) -> float | None:
    """Return the volume solids of what a step lays, 0 to 1; None where nobody says how thin."""
    product: Product | None = move.product
    if product is None or not move.is_film:
        return None
    said = move.step.cut_g_per_l or product.volume_solids_percent
    if product.kind.is_shellac and not said:
        return None
    return solids_of(product, move.step.cut_g_per_l, move.step.thinned_percent)[0].likely
