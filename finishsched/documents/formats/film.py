"""The format of what a shop says about film and abrasives, a record of the shop's document."""

from __future__ import annotations

from finishsched.documents.leaves import quantity, word
from finishsched.documents.records import Key, Record
from finishsched.model.film import BareGrades, FilmRules
from finishsched.units import FILM, SHARE

FILM_RULES = Record(
    FilmRules,
    "the film rules",
    (
        Key(
            "bare_grades",
            word("a system of grades", BareGrades),
            "what a grade without a letter is taken for: FEPA (P400) or CAMI",
        ),
        Key(
            "cut_through_odds",
            quantity(SHARE, "%"),
            "a levelling more likely than this to cut through is confirmed first",
            "cut_through_odds_percent",
        ),
        Key(
            "gauge_error",
            quantity(FILM, "um", "mil"),
            "how far its film gauge may be out",
            "gauge_error_um",
        ),
    ),
    on_one_line=True,
)
