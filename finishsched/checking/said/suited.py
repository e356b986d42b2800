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
OF_TWO = ("colour-runs",)
"""What is asked where two woods lie side by side."""
OF_VENEER = ("through-the-wood", "veneer-through", "veneer-flooded")
"""Those that ask for a veneer's thickness too."""
_LET_IN = re.compile(r"\b(?:with|beside|banding|stringing|inlay|inlaid|lines?|marquetry)\b")
_MM = re.compile(r"veneer\D{0,20}(\d+(?:\.\d+)?) ?mm|(\d+(?:\.\d+)?) ?mm\}?[^.;\d]{0,20}veneer")


def suited_piece(case: ScheduleCase) -> PieceCase | None:
    """Return a piece of the one wood that ``suits`` names, else the title; None for none or more.

    Who names several woods lays the schedule out for whichever bears it; of two that are let into
    each other the piece is of both.
    """
    schedule = case.schedule
    named = next((text for text in (schedule.suits, schedule.title) if woods_of(text)), "")
    woods = woods_of(named)
    if len(woods) != 1 and not (len(woods) == 2 and _LET_IN.search(named.lower())):
        return None
    said = _MM.search(f"{schedule.suits}. {schedule.title}. {schedule.notes}".lower())
    piece = Piece(
        "suited",
        f"a piece of {woods[0].name}",
        schedule.id,
        (Face("face", stated_area_m2=0.1), Face("back", stated_area_m2=0.1)),
        species=" and ".join(wood.name for wood in woods),
        veneer_mm=float(said[1] or said[2]) if said else None,
    )
    return PieceCase(piece, case, shop=case.shop, beside_its_schedule=True)


def codes_for(case: PieceCase) -> tuple[str, ...]:
    """Return the codes of the rules that such a piece can be asked."""
    of_wood = OF_TWO if " and " in case.piece.species else OF_WOOD
    return (*of_wood, *OF_VENEER) if case.piece.veneer_mm else of_wood
