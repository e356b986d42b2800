"""The plan: it follows the entries, and has a screen of its own.

A plan is made in the back room. What an entry moved is said once; a better plan is offered.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.asking.back_room import BackRoom
from finishsched.bench.asking.desk import Desk
from finishsched.bench.asking.plan_watch import PlanWatch
from finishsched.bench.host import REMARK_S, Doings, Host
from finishsched.bench.parts.beside import Beside

if TYPE_CHECKING:
    from textual.timer import Timer

    from finishsched.bench.screens.plan import PlanFacts, PlanScreen
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.plan.answers import Better, PlanAnswer
    from finishsched.workshop.plan.change_sentences import Changed

TAKEN_S = 4.0
RISK = "looking at what is at risk"
TAKEN = "The better plan is taken: what to do now follows it."
NOT_TAKEN = "The plan that was offered is no better any more, so the plan stays as it is."


class Plan:
    """Has the plan follow what is logged, shows it, and takes the better one when told to."""

    def __init__(self, host: Host, desk: Desk, beside: Beside) -> None:
        self._host = host
        self._desk = desk
        self._beside = beside
        self._back: BackRoom | None = None
        self.watch: PlanWatch | None = None
        self._screen: PlanScreen | None = None
        self.late_min: Mapping[str, int] = {}
        """By piece that is after its due date in the plan as it was made last: by how much."""
        self.unsaid = ""
        """What the last entry did to the plan, while something else lies over the board."""
        self.doings: Doings = {"plan": self.open}

    def ask_of(self, back: BackRoom) -> None:
        """Have plans made in ``back``."""
        self._back = back

    def begin(self, quiet_s: float) -> None:
        """Follow from now on; ``quiet_s`` is how long nothing must have been logged to search."""
        if self._back is not None:
            self.watch = PlanWatch(self._back, self, self._host.now, quiet_s)
            self.follow()

    def close(self) -> None:
        """End every search."""
        if self.watch is not None:
            self.watch.close()
        self.watch = self._back = None

    def follow(self) -> None:
        """Have the plan follow what was logged, and say what the last entry moved."""
        self._say_changed()
        if self.watch is not None:
            self.watch.follow(self._desk.taken, self._desk.heard)

    def open(self) -> None:
        """Show the coming days; they are worked out in the back room."""
        from finishsched.bench.screens.plan import PlanScreen  # noqa: PLC0415

        if self._host.open_shop() is None or self._back is None:
            return
        self.unsaid = ""  # the screen tells it
        self._screen = PlanScreen()
        self._host.open_card(self._screen)
        self._ask("planning", RISK)
        if self.watch is not None:
            self.watch.look_now()

    def take(self, better: Better) -> None:
        """Go on by the better plan that is shown."""
        self._ask("taking the better plan", RISK, take=better)

    def _ask(self, busy: str, then: str, *, take: Better | None = None) -> None:
        """Ask for a plan, first without, then with what takes longer to know of it."""
        from finishsched.workshop.plan.change_sentences import changed_since  # noqa: PLC0415
        from finishsched.workshop.plan.plans import Asked, plan_answer  # noqa: PLC0415

        back, now = self._back, self._host.now()
        if back is None:
            return
        better = take or (self.watch.offer if self.watch else None)
        asked = Asked(
            insight=not then,
            keep=True,
            take_better=take is not None,
            offered=better.plan if better else None,
        )

        def ask(workshop: Workshop) -> tuple[PlanAnswer, Changed]:
            answer = plan_answer(workshop, now, asked)
            return answer, changed_since(answer)

        def planned(found: tuple[PlanAnswer, Changed]) -> None:
            answer, changed = found
            if take is not None:
                self._host.say(TAKEN if answer.taken else NOT_TAKEN, seconds=TAKEN_S)
            if self.watch is not None:
                self.watch.planned(answer, changed)
            self._show_answer(answer, then)

        self._show(lambda facts: replace(facts, busy=busy))
        back.ask("plan", ask, planned, self._unplanned)

    # What the watch tells.

    def plan_follows(self, answer: PlanAnswer, moved: str) -> None:
        """Take the plan that was made anew after an entry, and say what it moved."""
        if self._open_screen is None:
            self.unsaid = moved or self.unsaid
        self._show_answer(answer, RISK)

    def offer_changed(self) -> None:
        """Show what is offered now, on the board and in the plan."""
        self._show(lambda facts: facts)
        self._host.repaint()

    def late_follows(self, late_min: Mapping[str, int]) -> None:
        """Take by how much the plan has pieces after their due dates, and show it."""
        if late_min != self.late_min:
            self.late_min = late_min
            self._host.repaint()

    def call_later_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""
        return self._host.call_in(seconds, call)

    @property
    def offer_words(self) -> str:
        """What is gained by a plan that was found; empty for none."""
        better = self.watch.offer if self.watch is not None else None
        if better is None:
            return ""
        from finishsched.workshop.plan.sentences import gain_words  # noqa: PLC0415  # not before

        return gain_words(better.saves_min, better.less_late_min)

    def _say_changed(self) -> None:
        """Say what an entry did to the plan, once nothing lies over the board."""
        if not self.unsaid or self._host.cards():
            return
        said, self.unsaid = words.plain(self.unsaid), ""
        plan_key = self._host.key_for("plan")
        tail = f"; {plan_key} shows it" if plan_key else ""
        self._host.say(f"plan: {said}{tail}", seconds=REMARK_S)

    # Its screen.

    def _show_answer(self, answer: PlanAnswer, then: str) -> None:
        """Show a plan where its screen is open, and have what to do now follow it."""
        late = ((piece, piece.refs or (piece.ref,)) for piece in answer.pieces if piece.late_min)
        self.late_follows({ref: piece.late_min for piece, refs in late for ref in refs})
        if self._open_screen is not None:
            from finishsched.bench.screens.plan import DAYS  # noqa: PLC0415
            from finishsched.workshop.plan.timeline import timeline_of  # noqa: PLC0415

            shown = timeline_of(answer, DAYS)
            self._show(lambda f: replace(f, answer=answer, shown=shown, busy=then, fault=""))
            if then:
                self._ask(then, "")
        self._beside.ask_anew()
        self.follow()

    def _unplanned(self, fault: str) -> None:
        self._show(lambda facts: replace(facts, busy="", fault=fault))

    def _show(self, change: Callable[[PlanFacts], PlanFacts]) -> None:
        """Show what changes in the plan's screen, with what is offered and looked for now."""
        screen, watch = self._open_screen, self.watch
        if screen is None:
            return
        facts = change(screen.facts)
        if watch is not None:
            answer = facts.answer and replace(facts.answer, better=watch.offer)
            facts = replace(
                facts,
                answer=answer,
                looking=watch.is_looking,
                changed=watch.changed,
                changed_at=watch.changed_at,
            )
        screen.show(facts)

    @property
    def _open_screen(self) -> PlanScreen | None:
        return self._screen if self._screen in self._host.cards() else None
