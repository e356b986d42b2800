"""The part of the bench that has the plan: it follows the entries, and has a screen of its own.

A plan is made in the back room. What an entry moved is said once; a better plan is offered.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from finishsched.bench import keys, words
from finishsched.bench.back_room import BackRoom
from finishsched.bench.plan_watch import PlanWatch
from finishsched.bench.reading_app import ReadingApp

if TYPE_CHECKING:
    from textual.timer import Timer

    from finishsched.bench.screens.plan import PlanFacts, PlanScreen
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.plan.answers import Better, PlanAnswer
    from finishsched.workshop.plan.change_sentences import Changed

REMARK_S, TAKEN_S = 12.0, 4.0
RISK = "looking at what is at risk"
TAKEN = "The better plan is taken: what to do now follows it."
NOT_TAKEN = "The plan that was offered is no better any more, so the plan stays as it is."


class PlanApp(ReadingApp):
    """Has the plan follow what is logged, shows it, and takes the better one when told to."""

    QUIET_S: ClassVar[float] = 2.0
    """How long nothing must have been logged before a better plan is looked for."""

    _back: BackRoom | None = None
    _watch: PlanWatch | None = None
    _sided_at = 0
    _unsaid = ""
    """What the last entry did to the plan, while something else lies over the board."""

    @abstractmethod
    def follow(self) -> None:
        """Have the plan follow what was logged, and ask for what stands beside the pieces."""

    def action_plan(self) -> None:
        """Show the coming days; they are worked out in the back room."""
        from finishsched.bench.screens.plan import PlanScreen  # noqa: PLC0415

        if self._open_workshop() is None or self._back is None:
            return
        self._unsaid = ""  # the screen tells it
        self.push_screen(PlanScreen())
        self._plan("planning", RISK)
        if self._watch is not None:
            self._watch.look_now()

    def on_plan_screen_taken(self, message: PlanScreen.Taken) -> None:
        """Go on by the better plan that is shown."""
        self._plan("taking the better plan", RISK, take=message.better)

    def _plan(self, busy: str, then: str, *, take: Better | None = None) -> None:
        """Ask for a plan, first without, then with what takes longer to know of it."""
        from finishsched.workshop.plan.change_sentences import changed_since  # noqa: PLC0415
        from finishsched.workshop.plan.plans import Asked, plan_answer  # noqa: PLC0415

        back, now = self._back, self._now()
        if back is None:
            return
        better = take or (self._watch.offer if self._watch else None)
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
                self.notify(TAKEN if answer.taken else NOT_TAKEN, timeout=TAKEN_S)
            if self._watch is not None:
                self._watch.planned(answer, changed)
            self._show_answer(answer, then)

        self._show_plan(lambda facts: replace(facts, busy=busy))
        back.ask("plan", ask, planned, self._unplanned)

    def plan_follows(self, answer: PlanAnswer, moved: str) -> None:
        """Take the plan that was made anew after an entry, and say what it moved."""
        if self._plan_screen is None:
            self._unsaid = moved or self._unsaid
        self._show_answer(answer, RISK)

    def _show_answer(self, answer: PlanAnswer, then: str) -> None:
        """Show a plan where its screen is open, and have what to do now follow it."""
        if self._plan_screen is not None:
            from finishsched.bench.screens.plan import DAYS  # noqa: PLC0415
            from finishsched.workshop.plan.timeline import timeline_of  # noqa: PLC0415

            shown = timeline_of(answer, DAYS)
            self._show_plan(lambda f: replace(f, answer=answer, shown=shown, busy=then, fault=""))
            if then:
                self._plan(then, "")
        self._sided_at = 0
        self.follow()

    def offer_changed(self) -> None:
        """Show what is offered now, on the board and in the plan."""
        self._show_plan(lambda facts: facts)
        self._paint()

    def call_later_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""
        return self.set_timer(seconds, call)

    @property
    def offer_words(self) -> str:
        """What is gained by a plan that was found; empty for none."""
        better = self._watch.offer if self._watch is not None else None
        if better is None:
            return ""
        from finishsched.workshop.plan.sentences import gain_words  # noqa: PLC0415  # not before

        return gain_words(better.saves_min, better.less_late_min)

    def _say_changed(self) -> None:
        """Say what an entry did to the plan, once nothing lies over the board."""
        if not self._unsaid or len(self.screen_stack) != 1:
            return
        said, self._unsaid = words.plain(self._unsaid), ""
        plan_key = keys.first_key(self._board.force, "plan")
        tail = f"; {plan_key} shows it" if plan_key else ""
        self.notify(f"plan: {said}{tail}", timeout=REMARK_S, markup=False)

    def _unplanned(self, fault: str) -> None:
        self._show_plan(lambda facts: replace(facts, busy="", fault=fault))

    def _show_plan(self, change: Callable[[PlanFacts], PlanFacts]) -> None:
        """Show what changes in the plan's screen, with what is offered and looked for now."""
        screen, watch = self._plan_screen, self._watch
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
    def _plan_screen(self) -> PlanScreen | None:
        from finishsched.bench.screens.plan import PlanScreen  # noqa: PLC0415

        found = [screen for screen in self.screen_stack if isinstance(screen, PlanScreen)]
        return found[-1] if found else None
