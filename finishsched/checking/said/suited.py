"""The piece that a schedule's own words say it is for: one wood, and perhaps a veneer."""

from __future__ import annotations

import re

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.model.job import Face, Piece
from finishsched.model.woods import woods_of

OF_WOOD = (
    "oily-wood", "epoxy-on-oily", "resin-bleeds", "colour-blotches", "iron-on-tannin",
    "alkali-without-tannin", "alkali-on-tannin", "filler-needless", "pores-unfilled",
)  # fmt: skip
"""Rules about pieces that ask for nothing but the wood."""
OF_VENEER = ("through-the-wood", "veneer-through", "veneer-flooded")
"""Those that ask for a veneer's thickness too."""
_MM = re.compile(r"veneer\D{0,20}(\d+(?:\.\d+)?) ?mm|(\d+(?:\.\d+)?) ?mm\}?[^.;\d]{0,20}veneer")


def suited_piece(case: ScheduleCase) -> PieceCase | None:
    """Return a piece of the one wood that ``suits`` names, else the title; None for none or more.

    Who names several woods lays the schedule out for whichever bears it.
    """
    schedule = case.schedule
    named = next((text for text in (schedule.suits, schedule.title) if woods_of(text)), "")
    woods = woods_of(named)
    if len(woods) != 1:
        return None
    said = _MM.search(f"{schedule.suits}. {schedule.title}. {schedule.notes}".lower())
    piece = Piece(
        "suited",
        f"a piece of {woods[0].name}",
        schedule.id,
        (Face("face", stated_area_m2=0.1), Face("back", stated_area_m2=0.1)),
        species=woods[0].name,
        veneer_mm=float(said[1] or said[2]) if said else None,
    )
    return PieceCase(piece, case, shop=case.shop, beside_its_schedule=True)


def codes_for(case: PieceCase) -> tuple[str, ...]:
    """Return the codes of the rules that such a piece can be asked."""
    return (*OF_WOOD, *OF_VENEER) if case.piece.veneer_mm else OF_WOOD
