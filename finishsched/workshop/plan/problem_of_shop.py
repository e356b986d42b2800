"""From the shop to a planning problem: what is still to do, and all that it has to keep to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property
from types import MappingProxyType

from finishsched.drying.figures import mechanism_of
from finishsched.drying.integral import AHEAD_S
from finishsched.factors import DAY_MIN
from finishsched.model.product import Mechanism, Product
from finishsched.model.room import Fixture, HeldFor, preparing_for
from finishsched.model.schedule import Verb
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.planning.hours import minute_of
from finishsched.planning.problem import (
    Activity,
    Bare,
    Done,
    Goal,
    Hands,
    Lag,
    Pot,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.workshop.plan.assumed import (
    BEGIN_AGAIN_MIN,
    SITTING_SLACK_MIN,
    assumed,
    scuff_min,
)
from finishsched.workshop.plan.hands_ahead import due_minute, hands_ahead
from finishsched.workshop.plan.hands_and_hours import Place, able
from finishsched.workshop.plan.step_in_shop import (
    DUST,
    USUAL_ROOM,
    activity_key,
    dusty,
    likeness,
    pot_name,
    room_of,
)
from finishsched.workshop.plan.waits_ahead import WaitRange
from finishsched.workshop.plan.work_left import PlanStep, ShopProblem, Work
from finishsched.workshop.standing.sitting import Sittings, goes_on, sittings_of


def problem_of(works: Iterable[Work], place: Place, days: int | None = None) -> ShopProblem:
    """Return the problem of finishing ``works``; hours reach ``days`` ahead, or far enough."""
    builder = _Builder(place)
    known = {work.ref: work for work in works}
    for work in known.values():
        builder.add(work)
    for work in known.values():
        builder.join(work)
    ahead = days or builder.days_wanted()
    problem = Problem(
        activities=tuple(builder.activities),
        lags=tuple(builder.lags),
        hands=(*hands_ahead(place, ahead), *builder.missing.values()),
        stores=tuple(Store(store.name, store.capacity) for store in place.shop.stores),
        rules=tuple(
            RoomRule(room.name, DUST, round(room.settle_s / 60))
            for room in place.shop.rooms or (USUAL_ROOM,)
            if room.apart
        ),
        set_ups=tuple(_set_ups(place.shop, builder.activities)),
        pots=tuple(builder.pots.values()),
        goals=tuple(
            Goal(ref, due_minute(work.due, place) if work.due else None)
            for ref, work in known.items()
        ),
        done=tuple(builder.done),
        now_min=place.now_min,
    )
    notes = (*dict.fromkeys(builder.notes), *assumed(place.shop, problem))
    return ShopProblem(
        problem, MappingProxyType(known), MappingProxyType(builder.steps), tuple(notes)
    )


def _set_ups(shop: Shop, activities: Iterable[Activity]) -> Iterator[SetUp]:
    """Give the set-up of each kind of work there is that takes one."""
    kinds = {activity.kind for activity in activities}
    for verb in Verb:
        own = preparing_for(verb, shop.set_up)
        takes = [math.ceil(s / 60) for s in (own.before_s, own.after_s, own.at_end_s)]
        if verb.value in kinds and any(takes):
            yield SetUp(verb.value, *takes)


class _Builder:
    """Adds piece after piece to what becomes a problem."""

    def __init__(self, place: Place) -> None:
        self.place = place
        self.activities: list[Activity] = []
        self.lags: list[Lag] = []
        self.done: list[Done] = []
        self.steps: dict[str, PlanStep] = {}
        self.notes: list[str] = []
        self.missing: dict[str, Hands] = {}
        """Hands with a skill that nobody here has."""
        self.pots: dict[str, Pot] = {}
        """By name, what is mixed and does not keep."""
        self._longest_min = 0
        self._fits: dict[tuple[str, str], bool] = {}
        """By piece and first coat of a sitting, whether it can be had in one go."""
        self._sittings: dict[str, Sittings] = {}
        self._by_skill = {verb: able(place.shop, place.people, verb) for verb in Verb}
        self._waits: dict[tuple[str, str], WaitRange | None] = {}
        """By piece and step: asked once for the step, and once for the sitting it is part of."""

    def add(self, work: Work) -> None:
        """Add a piece: what was laid last, and all that is left."""
        before = self._past(work) if work.before is not None else ""
        self._stirred(work)
        elapsed = 0
        last = work.left[-1] if work.left else None
        for step in work.left:
            wait = self._wait(work, step)
            key = activity_key(work.ref, step)
            self.steps[key] = PlanStep(work.ref, step, wait)
            activity = self._activity(key, work, step, wait, tail=step is last)
            if not activity.by and not self._begins_alone(before):
                activity = replace(activity, by=self.place.people)
            self.activities.append(activity)
            self._mind(work, step, activity, wait)
            if before:
                self.lags.append(self._lag(before, key, work, step))
            before = key
            elapsed += activity.minutes + (wait.likely_min if wait else 0)
        self._longest_min = max(self._longest_min, elapsed)

    def join(self, work: Work) -> None:
        """Let the step of a piece that waits for a line beside it come after that line."""
        held = f"{work.of}#{work.holds}"
        laid = [work.before.step] if work.before else []
        steps = [*laid, *work.left]
        if not work.of or held not in self.steps or not steps:
            return
        last = activity_key(work.ref, steps[-1])
        wait = self.steps[last].wait
        self.lags.append(Lag(last, held, wait.likely_min if wait else 0))

    def days_wanted(self) -> int:
        """Return how many days ahead hours can be needed, with as many again to spare."""
        work_min = sum(activity.minutes for activity in self.activities if activity.by)
        hours_min = 0
        for hands in hands_ahead(self.place, 28):
            hours_min += sum(window.end_min - window.start_min for window in hands.windows)
        a_day_min = max(10.0, hours_min / 29)
        days_of_waits = self._longest_min / DAY_MIN
        days_of_work = work_min / a_day_min
        return 45 + math.ceil(2 * (days_of_waits + days_of_work))

    def _past(self, work: Work) -> str:
        laid = work.before
        assert laid is not None  # noqa: S101
        key = activity_key(work.ref, laid.step)
        wait = self.place.waits.running(laid)
        if not work.waiting:
            wait = WaitRange(0, 0, 0, wait.next_by_min)
        self.steps[key] = PlanStep(work.ref, laid.step, wait)
        tail = not work.left
        activity = self._activity(key, work, laid.step, wait, tail=tail)
        end = minute_of(laid.at, up=True)
        is_known = laid.done.by in self.place.people
        by = laid.done.by if is_known and activity.by else None
        self.activities.append(activity)
        self.done.append(Done(key, end - activity.minutes, end, by))
        return key

    def _stirred(self, work: Work) -> None:
        """Add what was done last where its dust has not settled: nobody coats beside it."""
        if work.stirred is None:
            return
        step, at = work.stirred
        key, end = activity_key(work.ref, step), minute_of(at, up=True)
        settles_min = math.ceil(room_of(self.place.shop, step).settle_s / 60)
        if key in self.steps or end + settles_min <= self.place.now_min:
            return
        self.steps[key] = PlanStep(work.ref, step, None)
        # Whose hands it was does not matter any more.
        activity = replace(self._activity(key, work, step, None, tail=False), by=())
        self.activities.append(activity)
        self.done.append(Done(key, end - activity.minutes, end))

    def _mind(self, work: Work, step: Step, activity: Activity, wait: WaitRange | None) -> None:
        """Note work that outlasts its pot or its glue, and a wait that has no end in this air."""
        product = self._product(step)
        what = f"{work.ref} {step.number} {step.title}"
        good_min = self.place.waits.pot_life_min(product) if product is not None else None
        is_glued = product is not None and step.verb is Verb.GLUE_UP
        open_min = product.open_s / 60 if product and is_glued and product.open_s else None
        for life_min, words in ((good_min, "its mix is good for"), (open_min, "its glue is open")):
            if life_min is not None and activity.minutes > life_min:
                self.notes.append(
                    f"{what} takes {activity.minutes} min and {words} {life_min:.0f} min: do it "
                    "in parts, or with more hands"
                )
        if wait is not None and wait.likely_min * 60 >= AHEAD_S - 60:
            self.notes.append(f"{what} does not dry in the air foreseen: 60 days are reckoned")

    def _activity(
        self, key: str, work: Work, step: Step, wait: WaitRange | None, *, tail: bool
    ) -> Activity:
        minutes = work.hands_on_min(step)
        idle = step.verb.does.rests and minutes == 0
        by = () if idle else self._by_skill[step.verb]
        product = self._product(step)
        if not idle and not by:
            by = (f"somebody who can {step.verb.value}",)
            self.missing[by[0]] = Hands(by[0], ())
        return Activity(
            key=key,
            minutes=0 if idle else max(1, minutes),
            by=by,
            goal=work.ref,
            tail_min=wait.likely_min if wait is not None and tail else 0,
            room=room_of(self.place.shop, step).name,
            kind=step.verb.value,
            like=likeness(step),
            stirs=(DUST,) if dusty(step) else (),
            bare=self._bare(step, product, wait),
            uses=tuple(self._uses(work, step, wait)),
            pot=self._pot(step, product, minutes),
        )

    def _pot(self, step: Step, product: Product | None, minutes: int) -> str:
        """Return the pot that a step is done from; empty where one life of it is too short."""
        life_min = self.place.waits.pot_life_min(product) if product is not None else None
        if product is None or life_min is None or minutes > life_min:
            return ""
        name = pot_name(step)
        self.pots[name] = Pot(name, life_min)
        return name

    def _product(self, step: Step) -> Product | None:
        return self.place.products.get(step.product) if step.product else None

    def _begins_alone(self, before: str) -> bool:
        """Tell whether a rest begins as soon as what is before it ends, with nobody there.

        After a coat it runs from that coat. After other work it does not begin where a dry check
        comes first, nor as the first step of all: somebody has to look, and to log it, though that
        takes next to no time.
        """
        if not before:
            return False
        if self.steps[before].step.leaves_film_wet:
            return True
        wait = self.steps[before].wait
        return wait is None or not wait.likely_min

    def _bare(
        self, step: Step, product: Product | None, wait: WaitRange | None
    ) -> tuple[Bare, ...]:
        if not step.verb.lays_coats or wait is None:
            return ()
        return (Bare(DUST, self.place.waits.dust_free_min(product, wait)),)

    def _uses(self, work: Work, step: Step, wait: WaitRange | None) -> Iterator[Use]:
        for store in self.place.shop.stores:
            if step.verb in store.verbs:
                yield _use(store, wait, len(work.refs))

    def _lag(self, before: str, after: str, work: Work, step: Step) -> Lag:
        earlier = self.steps[before]
        wait = earlier.wait
        if wait is None or (step.verb.does.rests and earlier.step.leaves_film_wet):
            return Lag(before, after)
        pot = self._pot_life_min(earlier.step, step)
        if pot is not None and self._gone(before, pot):
            self.notes.append(
                f"{work.ref} {step.number} {step.title}: the mix of the step before it is past its "
                f"life of {pot} min; mix anew"
            )
        elif pot is not None:
            most = min(pot, wait.next_by_min or pot)
            return Lag(before, after, wait.likely_min, max(most, wait.likely_min))
        if wait.next_by_min is None:
            return self._in_one_sitting(before, after, work, step) or Lag(
                before, after, wait.likely_min
            )
        most = max(wait.next_by_min, wait.likely_min)
        can_be_mended = earlier.step.verb is not Verb.GLUE_UP
        remedy = scuff_min(work.pieces) if can_be_mended else None
        return Lag(before, after, wait.likely_min, most, remedy)

    def _in_one_sitting(self, before: str, after: str, work: Work, step: Step) -> Lag | None:
        """Return the lag between two coats of a sitting that can be had in one go; None for others.

        One that is not begun is never split, however much sooner that would end: a charged pad and
        a soft film cannot be kept till tomorrow. Once it is begun hands go on while there are
        hours, and what is left over is begun again. Whoever was called away goes on when it can be.
        """
        earlier = self.steps[before].step
        if not goes_on(earlier, step):
            return None
        sittings = self._sittings_of(work)
        run = sittings.left[step.number]
        if not self._fits_in_one(work, run):
            return None
        # While hands go round the others of a block, the first of them waits already.
        least = max(0, self._likely_min(before) - work.round_min(earlier))
        apart = max(0, self._wait_min(work, earlier))
        whole = sittings.whole[step.number]
        is_begun = any(each.key not in sittings.keys_left for each in whole)
        remedy = BEGIN_AGAIN_MIN if is_begun else None
        most = max(least, apart) + SITTING_SLACK_MIN
        return Lag(before, after, least, most, remedy, in_one_sitting=True)

    def _sittings_of(self, work: Work) -> Sittings:
        """Return the sittings of a piece, found once for all its coats."""
        if work.ref not in self._sittings:
            self._sittings[work.ref] = sittings_of(work.left, work.steps)
        return self._sittings[work.ref]

    def _likely_min(self, key: str) -> int:
        wait = self.steps[key].wait
        return wait.likely_min if wait is not None else 0

    def _fits_in_one(self, work: Work, run: tuple[Step, ...]) -> bool:
        """Tell whether any hours are long enough for a run of coats; noted where none are."""
        known = (work.ref, run[0].key)
        if known in self._fits:
            return self._fits[known]
        work_min = sum(max(1, work.hands_on_min(each)) for each in run)
        waits_min = sum(self._wait_min(work, each) for each in run[:-1])
        set_up = preparing_for(run[0].verb, self.place.shop.set_up)
        beside_min = math.ceil(set_up.before_s / 60) + math.ceil(set_up.clearing_s / 60)
        length = work_min + waits_min
        fits = self._fits[known] = length + beside_min <= self._longest_session_min
        if not fits:
            self.notes.append(
                f"{work.title}: {len(run)} coats minutes apart ({run[0].verb.value}) take "
                f"{length} min in one go, longer than any hours here: the sitting is split"
            )
        return fits

    def _wait(self, work: Work, step: Step) -> WaitRange | None:
        """Return the wait that is yet to begin after a step."""
        known = (work.ref, step.key)
        if known not in self._waits:
            self._waits[known] = self.place.waits.ahead(work.piece, step, work.steps)
        return self._waits[known]

    def _wait_min(self, work: Work, step: Step) -> int:
        wait = self._wait(work, step)
        return max(0, wait.likely_min - work.round_min(step)) if wait is not None else 0

    @cached_property
    def _longest_session_min(self) -> int:
        windows = [w for hands in hands_ahead(self.place, 28) for w in hands.windows]
        longest_first = sorted([w.end_min - w.start_min for w in windows], reverse=True)
        # One evening that is longer for once is no reason to put off every sitting to it.
        return next(iter(longest_first[1:] or longest_first), 0)

    def _gone(self, before: str, life_min: int) -> bool:
        """Tell whether a mix that was used for what is done has set by now, so no hurry helps."""
        ends = [done.end_min for done in self.done if done.key == before]
        return bool(ends) and self.place.now_min > ends[0] + life_min

    def _pot_life_min(self, before: Step, after: Step) -> int | None:
        """Return the life of a pot that both steps are done from; None where there is none.

        The same two-part product again before the first coat has had time to set is the same pot.
        """
        product = self._product(before)
        if product is None or product.pot_life_s is None or before.product != after.product:
            return None
        if mechanism_of(product) is not Mechanism.TWO_PART or before.wait is None:
            return None
        life_min = self.place.waits.pot_life_min(product)
        sets_first = life_min is None or before.wait.likely_s >= life_min * 60
        return None if sets_first else life_min


def _use(store: Fixture, wait: WaitRange | None, pieces: int) -> Use:
    hold = wait.likely_min if wait is not None and store.held is not HeldFor.WORK else 0
    from_start = store.held is not HeldFor.WAIT
    return Use(store.name, amount=pieces, from_start=from_start, hold_min=hold)
