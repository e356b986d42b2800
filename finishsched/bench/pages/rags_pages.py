"""Where the rags went: the two good places, each with one key, or another in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.at_hand.side import titles_of_rows
from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.screens.page import Paragraph
from finishsched.bench.typed.reading import FormFaultError, RagsWent
from finishsched.workshop.safety.rags import RagsAnswer, open_rags

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

OTHER = "other"
PLACES = ("flat outdoors in one layer", "under water in a closed metal can")


def rags_card(workshop: Workshop, now: datetime) -> ChoiceCard:
    """Ask where the rags went that are open."""
    found = open_rags(workshop, now)
    if not found.rags:
        told = (Paragraph("", "No rags are open: nothing that can heat by itself was used."),)
        return ChoiceCard("Rags", "", (), before=told)
    choices = [*(Choice(place, place) for place in PLACES), Choice(OTHER, "somewhere else")]
    return ChoiceCard(
        "Where did the rags go?",
        "log it",
        choices,
        tuple(_open(found, workshop)),
        _deferral(found),
    )


def _open(found: RagsAnswer, workshop: Workshop) -> list[Paragraph]:
    said = []
    titles = titles_of_rows(workshop, found.now)
    for one in found.rags:
        named = dict.fromkeys(titles.get(ref, ref) for ref in one.refs)
        since = words.wall(one.since, found.now, workshop.zone)
        said.append(Paragraph("!", f"{one.title}, since {since}: {', '.join(named)}", "bold"))
    told = dict.fromkeys(one.words for one in found.rags)
    return [*said, *(Paragraph("", text) for text in told)]


def _deferral(found: RagsAnswer) -> tuple[Paragraph, ...]:
    return (Paragraph("", found.deferral, "$text-muted"),)


def where_form() -> FormCard:
    """Return the form for another place."""

    def read(values: Mapping[str, str]) -> RagsWent:
        where = values["where"].strip()
        if not where:
            raise FormFaultError("write where the rags went")
        return RagsWent(where)

    return FormCard("Rags", [Field("where", "where they went")], read)
