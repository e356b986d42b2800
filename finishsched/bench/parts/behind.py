"""What works behind the board: the back room of the open shop, and what is asked of it first."""

from __future__ import annotations

from collections.abc import Callable

from finishsched.bench.asking.back_room import Answered, BackRoom
from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import Host
from finishsched.bench.parts.beside import Beside, unheard
from finishsched.bench.parts.plan import Plan
from finishsched.bench.ready import make_ready


class Behind:
    """Opens the back room once there is a shop, and lets go of it."""

    def __init__(self, host: Host, desk: Desk, beside: Beside, plan: Plan) -> None:
        self._host = host
        self._desk = desk
        self._beside = beside
        self._plan = plan
        self.room: BackRoom | None = None
        """The back room, while it is open."""

    def open(self, tell: Callable[[Answered], object], quiet_s: float) -> None:
        """Open it, and once the board is there have looked at what stands beside the pieces.

        A better plan is looked for once nothing was logged for ``quiet_s`` seconds.
        """
        if self._desk.workshop is not None:
            self.room = BackRoom(self._desk.workshop.folder, self._host.now, tell)
            self._plan.ask_of(self.room)
            self._host.call_after_refresh(lambda: self._begin(quiet_s))

    def _begin(self, quiet_s: float) -> None:
        if self.room is not None:
            self._beside.begin(self.room)
            self.room.ask("make ready", make_ready, unheard, unheard)
            self._plan.begin(quiet_s)

    def close(self) -> None:
        """Let go of what works in the background."""
        self._plan.close()
        if self.room is not None:
            self.room.close()
            self.room = None
