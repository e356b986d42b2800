"""What stands beside the pieces: what to do now, vapour, rags, what the rules find.

All of it is asked of the back room. Nothing here is needed to log the work.
"""

from __future__ import annotations

from dataclasses import replace

from finishsched.bench import words
from finishsched.bench.asking.back_room import BackRoom
from finishsched.bench.asking.desk import Desk
from finishsched.bench.at_hand.side import LOOKING, NOTHING, Findings, Side, findings_of, side_of
from finishsched.bench.host import Host
from finishsched.bench.telling.notices import Notices
from finishsched.workshop.base.answers import LogLine

NEVER = -1


class Beside:
    """Keeps it, and has it asked for anew when the desk has a new view."""

    def __init__(self, host: Host, desk: Desk, notices: Notices) -> None:
        self._host = host
        self._desk = desk
        self._notices = notices
        self._back: BackRoom | None = None
        self.side: Side = NOTHING
        self.findings: Findings = {}
        self._asked_at = NEVER
        self._found_at: object = None
        self._heads: tuple[tuple[str, tuple[LogLine, ...]], ...] = ()

    def begin(self, back: BackRoom) -> None:
        """Ask ``back`` from now on."""
        self._back = back
        self.follow()

    def follow(self) -> None:
        """Ask anew, if the desk has a view that it was not asked for."""
        if self._back is None or self._desk.asks == self._asked_at:
            return
        back, now, taken = self._back, self._host.now(), self._desk.taken
        self._asked_at = self._desk.asks
        self._forget_what_was_logged()

        def take(side: Side) -> None:
            # What was asked before an entry does not know of it, and is asked anew since.
            if taken == self._desk.taken:
                self._take_side(side)

        back.ask("side", lambda shop: side_of(shop, now), take, self._untold)
        logged = (now.hour, *((piece.ref, piece.log[:1]) for piece in self._desk.view.pieces))
        if logged != self._found_at:
            self._found_at = logged
            back.ask("findings", lambda shop: findings_of(shop, now), self._take_findings, unheard)

    def _forget_what_was_logged(self) -> None:
        """After an entry, show no more what to do now as it was known before it."""
        heads = tuple((piece.ref, piece.log[:1]) for piece in self._desk.view.pieces)
        if self._heads and dict(heads) != dict(self._heads) and self.side.now:
            self.side = replace(self.side, now=(LOOKING,), left=("", ""), later={})
        self._heads = heads

    def ask_anew(self) -> None:
        """Ask anew, as the plan moved on."""
        self._asked_at = NEVER
        self.follow()

    def rags_are_gone(self) -> None:
        """Drop the reminder; the next answer will not have it either."""
        self.side = replace(self.side, rags="")

    def _take_side(self, side: Side) -> None:
        self.side = side
        self._host.repaint()

    def _take_findings(self, findings: Findings) -> None:
        self.findings = findings
        self._host.repaint()

    def _untold(self, fault: str) -> None:
        self._notices.add(f"what stands beside the pieces cannot be told: {words.plain(fault)}")
        self._host.repaint()


def unheard(_: object) -> None:
    """Say nothing: it is asked again, and the screens that need it tell the fault."""
