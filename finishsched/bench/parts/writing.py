"""What is written down in a form: an entry with its details, a note, the air, a batch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.bench.asking.desk import Desk, Refusal
from finishsched.bench.at_hand.next_thing import step_title
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.defects import Defects
from finishsched.bench.parts.entries import Entries
from finishsched.bench.parts.rags import Rags
from finishsched.bench.parts.work import Work
from finishsched.model.shop import Air
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, What

if TYPE_CHECKING:
    from finishsched.bench.screens.form import FormCard, Offer


class Writing:
    """Opens the forms, and takes what they offer to where it belongs."""

    def __init__(
        self, host: Host, desk: Desk, entries: Entries, work: Work, rags: Rags, defects: Defects
    ) -> None:
        self._host = host
        self._desk = desk
        self._entries = entries
        self._work = work
        self._rags = rags
        self._defects = defects
        self.doings: Doings = {
            "log-coat": self.log_details,
            "note": lambda: self._open_words(What.NOTE),
            "own": self.own,
            "skip": self.skip,
            "air": self.air,
            "mixing": self.mixing,
        }

    def log_details(self) -> None:
        """Log the next thing with its amount, batch, person and time."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        piece = self._host.large_piece()
        if piece is None or piece.state is State.FINISHED:
            return
        if piece.state is State.NOT_BEGUN:
            self._work.ask_to_start(piece)
            return
        self._host.open_card(forms.log_form(piece, self._desk.view, self._host.now))

    def skip(self) -> None:
        """Leave out the step in hand, with a reason; what is done already cannot be left out."""
        piece = self._host.large_piece()
        if piece is not None and piece.clock is not None:
            key = self._host.key_for("next-thing")
            said = f"{step_title(piece)} is done, and only its wait is left: {key} checks it."
            self._host.say(said)
            return
        self._open_words(What.SKIPPED)

    def own(self) -> None:
        """Give the piece a wait or a step of its own, which no schedule says."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        if piece := self._host.large_piece():
            self._host.open_card(forms.own_form(piece, self._desk.view.zone, self._host.now))

    def air(self) -> None:
        """Write down a reading of the air."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        self._host.open_card(forms.air_form(self._desk.view, self._host.now))

    def mixing(self) -> None:
        """Open the mixing view on the cut of the piece shown large."""
        from finishsched.bench.screens import forms  # noqa: PLC0415

        stock = self._desk.stock(self._host.now())
        if isinstance(stock, Refusal):
            self._host.say_refused(stock)
            return
        piece = self._host.large_piece()
        self._host.open_card(forms.mixing_form(piece, self._desk.view, stock))

    def offered(self, form: FormCard, offer: Offer) -> None:
        """Hand in what a form offers; a refusal goes back to the form, with all that was typed."""
        if isinstance(offer, Entry) and offer.what is What.DEFECT and not offer.seen:
            self._defects.ask_which(offer, lambda named: self._settle(form, named))
            return
        piece = None
        if isinstance(offer, Entry) and offer.what is What.DONE:
            piece = self._desk.piece(offer.piece)
        if piece is not None:
            self._work.confirmed(piece, lambda: self._settle(form, offer))
        else:
            self._settle(form, offer)

    def _settle(self, form: FormCard, offer: Offer) -> None:
        refusal = self._take(offer, widens=form.widens)
        if refusal is not None:
            form.refuse(refusal.text)
            return
        form.dismiss("")
        if isinstance(offer, Entry) and offer.what is What.DEFECT:
            self._defects.explain(offer.piece.split(","))

    def _take(self, offer: Offer, *, widens: bool) -> Refusal | None:
        # The form that offers it has loaded them.
        from finishsched.bench.typed.reading import RagsWent  # noqa: PLC0415
        from finishsched.bench.typed.seeing import SurfaceSeen  # noqa: PLC0415
        from finishsched.workshop.stock.shelf_entries import Mixed  # noqa: PLC0415

        if isinstance(offer, Entry):
            said = f"logged: {self._whose(offer, widens=widens)}, {self._what(offer)}"
            return self._entries.hand_in(offer, said, widens=widens)
        if isinstance(offer, RagsWent):
            return self._rags.log(offer.where)
        if isinstance(offer, SurfaceSeen):
            title = self._desk.title_of([offer.piece])
            return self._entries.hand_in_readings(offer, f"logged: {title}, {offer.words}")
        if isinstance(offer, Mixed):
            return self._entries.hand_in_batch(offer)
        assert isinstance(offer, Air)  # noqa: S101  # what is begun or changed has its own part
        return self._entries.hand_in_air(offer)

    def _open_words(self, what: What) -> None:
        from finishsched.bench.screens import forms  # noqa: PLC0415

        if piece := self._host.large_piece():
            self._host.open_card(forms.words_form(what, piece))

    def _whose(self, entry: Entry, *, widens: bool) -> str:
        """Return what the pieces of an entry are called: all of a row where it widens."""
        refs = entry.piece.split(",")
        if widens:
            refs = [each for ref in refs for each in self._desk.refs_of(ref)]
        return self._desk.title_of(refs)

    def _what(self, entry: Entry) -> str:
        if entry.what is What.AMEND:
            return "told otherwise"
        if entry.what.is_own_step:
            return entry.text
        piece = self._desk.piece(entry.piece) if entry.what is What.DONE else None
        in_hand = piece is not None and piece.step is not None and piece.step.key == entry.step
        return step_title(piece) if piece is not None and in_hand else entry.what.value
