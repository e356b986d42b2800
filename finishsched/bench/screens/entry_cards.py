"""The entries of a piece: one of them is chosen, and then taken back, or told otherwise."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from enum import StrEnum

from finishsched.bench import words
from finishsched.bench.screens.choice import SIGNS, Choice, ChoiceCard
from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.screens.forms import an_amount, details
from finishsched.bench.screens.page import Paragraph
from finishsched.bench.typed import reading
from finishsched.workshop.base.answers import BenchView
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.standing.earlier import Told

EARLIER = "earlier"
"""What the last line answers, where there are more entries than lines."""
ON_A_CARD = len(SIGNS) - 1


class Way(StrEnum):
    """What is done about an entry."""

    BACK = "back"
    OTHERWISE = "otherwise"
    MOVE = "move"


@dataclass(frozen=True, slots=True)
class Chosen:
    """An entry, the pieces that it was given to in one go, and what hangs on it."""

    told: Told
    refs: tuple[str, ...]
    title: str
    """What those pieces are called together."""
    hanging: tuple[str, ...]
    """Later work on top of it, in words; it goes with the entry."""


def entries_card(
    title: str, told: Sequence[Told], now: datetime, zone: tzinfo, skipped: int = 0
) -> ChoiceCard:
    """Return the entries, the newest first, without the ``skipped`` newest of them."""
    newest_first = list(reversed(told))[skipped:]
    choices = [
        Choice(str(one.number), f"{words.wall(one.at, now, zone)}  {one.line}")
        for one in newest_first[:ON_A_CARD]
    ]
    left = len(newest_first) - len(choices)
    if left > 0:
        choices.append(Choice(EARLIER, f"{left} earlier ones"))
    before = () if told else (Paragraph("", "Nothing was logged yet."),)
    return ChoiceCard(f"Entries: {title}", "take it back, or tell it otherwise", choices, before)


def entry_card(chosen: Chosen, now: datetime, zone: tzinfo) -> ChoiceCard:
    """Return what can be done about an entry, what hangs on it told first."""
    told, several = chosen.told, len(chosen.refs) > 1
    back = "Take it back"
    if chosen.hanging:
        more = "what hangs" if len(chosen.hanging) == 1 else f"the {len(chosen.hanging)} that hang"
        back = f"Take it back, with {more} on it"
    other = "its time, its hands" + (", how much, which jar" if told.took else "")
    choices = [
        Choice(Way.BACK, back),
        Choice(Way.OTHERWISE, "Tell it otherwise", f"{other}; the record keeps both"),
    ]
    if told.can_move and not several and not chosen.hanging:
        choices.append(Choice(Way.MOVE, "It was meant for another piece"))
    title = f"{words.wall(told.at, now, zone)}  {told.line}"
    return ChoiceCard(title, "do it", choices, tuple(_before(chosen)))


def _before(chosen: Chosen) -> Iterator[Paragraph]:
    yield Paragraph("", chosen.title)
    for number, said in enumerate(chosen.hanging):
        yield Paragraph("" if number else "on it", said)


def meant_card(told: Told, others: Iterable[tuple[str, str]]) -> ChoiceCard:
    """Ask for which of some pieces, by name and title, an entry was meant."""
    choices = [Choice(ref, title) for ref, title in others]
    return ChoiceCard(f"For which piece was it meant? {told.words}", "move it there", choices)


def amend_form(chosen: Chosen, view: BenchView, now: Callable[[], datetime]) -> FormCard:
    """Return the form that tells an entry otherwise; what is left blank stays as it was."""
    told = chosen.told
    at = words.wall(told.at, now(), view.zone)
    fields = [
        Field("when", "when it was", f"told as {at}; blank leaves it so"),
        Field("by", "by whom", told.by or ", ".join(view.people), suggestions=view.people),
    ]
    if told.took:
        fields += [
            Field("amount", "amount used", f"{an_amount(view)}; for all of them together"),
            Field("batch", "jar", "as written on it"),
        ]
    fields.append(Field("note", "note", "why it is told otherwise"))

    def read(values: Mapping[str, str]) -> Entry:
        (amount_ml, amount_g), at, _ = details(values, now(), view.zone)
        entry = Entry(
            What.AMEND,
            ",".join(chosen.refs),
            text=values["note"].strip(),
            at=at,
            by=values["by"].strip(),
            batch=values.get("batch", "").strip(),
            amount_ml=amount_ml,
            amount_g=amount_g,
            number=told.number,
        )
        if not (at or entry.by or entry.batch or (amount_ml, amount_g) != (None, None)):
            raise reading.FormFaultError("write what was otherwise")
        return entry

    return FormCard(f"Told otherwise: {told.words}, {chosen.title}", fields, read, widens=False)


def taken_back(chosen: Chosen) -> tuple[Entry, str]:
    """Return the undo of an entry with all that hangs on it, and what is said of it."""
    told = chosen.told
    undo = Entry(What.UNDO, ",".join(chosen.refs), number=told.number, and_later=True)
    with_it = f", with {'; '.join(chosen.hanging)}" if chosen.hanging else ""
    return undo, f"taken back: {chosen.title}, {told.words}{with_it}"
