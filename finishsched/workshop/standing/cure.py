"""The cure clocks of a shop: every wait over the real air, by what the shop has learnt."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, tzinfo

from finishsched.drying.clock import STEADY, CureClock, Need, Pace, book_need, cure_clock
from finishsched.drying.course import Course, Readings
from finishsched.drying.dry_checks import Check, Group
from finishsched.drying.figures import mechanism_of
from finishsched.drying.forecast import Reading
from finishsched.drying.integral import DryingSums
from finishsched.drying.laws import (
    HUMIDITY_CAVEAT,
    SCHEDULE_AIR,
    Law,
    air_doubt,
    law_of,
)
from finishsched.drying.learning import PRIORS, Learnt, learn
from finishsched.drying.limits import (
    CoatAhead,
    CoatWarning,
    heavy_film,
    warnings_before,
)
from finishsched.drying.redry import Layer, redrying
from finishsched.drying.species import density_kg_per_m3
from finishsched.drying.waiting import drying_product, law_of_wait, phase_of, wets
from finishsched.factors import DAY_S, HOUR_S
from finishsched.journal.progress import Book
from finishsched.journal.told_air import AirFigures
from finishsched.model.product import Mechanism, Product
from finishsched.model.said import Teller, told, told_marks
from finishsched.model.schedule import Verb, Wait
from finishsched.model.shop import Air
from finishsched.model.step import Step
from finishsched.workshop.base.spans import span, up_to_the_minute
from finishsched.workshop.standing.air_view import surface_at
from finishsched.workshop.standing.coat_laid import share_laid
from finishsched.workshop.standing.of_waits import OfWaits
from finishsched.workshop.standing.own_pace import Own, counted, own_paces
from finishsched.workshop.standing.pace_over_air import OverAir, pace_words, uneven_words
from finishsched.workshop.standing.pads import NO_PADS, Pads
from finishsched.workshop.standing.waits import (
    Laid,
    rest_and_coat,
    wait_kind,
)

QUARTER_S = 900
AIR_BEFORE_S = 60 * 86_400.0
"""For so long before the first piece was begun the air is known: more than its pattern needs."""
TENTH_Z = 1.28155
"""Standard deviations from the middle of a normal spread to its outer tenth (any normal table)."""
SETTLES_H, EVERY_H = 72, 6
"""What veneer dries to is the mean humidity of the last three days (our assumption)."""
WETTED_PERCENT = 28.0
"""Moisture of a wetted layer: about fibre saturation (USDA Wood Handbook, chapter 4: 30 %)."""


class CureRoom:
    """Knows the air over time and what dry checks taught; answers for every wait."""

    def __init__(
        self, products: Mapping[str, Product], usual: Air, zone: tzinfo, tell: Teller
    ) -> None:
        self.tell = tell
        """By which figures are told."""
        self._products = products
        self._usual = usual
        self._zone = zone
        self._offsets_s: dict[float, float] = {}
        """By the instant at which a day or a quarter of an hour begins."""
        self._pads = NO_PADS
        self._known_seq = 0
        self._since_s = -math.inf
        self._undone: frozenset[int] = frozenset()
        self._course = self._new_course(())
        self._sums = DryingSums(self._course)
        self._surface: tuple[datetime, float] | None = None
        self._last_entry_at: datetime | None = None
        self._checks: tuple[Check, ...] = ()
        self._own: Mapping[Group, Own] = {}
        self._learnt: dict[Group, Learnt] = {}
        self._laws = OfWaits(self._law_of)

    def take(
        self, book: Book, waits: Iterable[Laid], begun_at: datetime | None, pads: Pads
    ) -> None:
        """Take in what the journal says now: readings of the air, and dry checks as evidence.

        ``begun_at`` is the first instant that anybody asks for the air of. What was read long
        before it is left on the disk: a shop with a logger has a hundred thousand readings.
        """
        self._take_air(book, begun_at.timestamp() - AIR_BEFORE_S if begun_at else -math.inf)
        self._pads = pads
        self._laws.forget()
        self._surface = book.told_air.last_surface()
        self._last_entry_at = book.last_logged_at
        self._own = own_paces(book)
        self._checks = counted(
            (check for laid in waits for check in self._evidence(laid)), self._own
        )
        self._learnt = {}

    def reach_back(self, book: Book, begun_s: float) -> None:
        """Take in the air since then too, for a piece that was begun at ``begun_s``."""
        if begun_s - AIR_BEFORE_S < self._since_s:
            self._take_air(book, begun_s - AIR_BEFORE_S)

    def clock(self, laid: Laid, now: datetime) -> CureClock:
        """Return the clock of a wait as it stands at ``now``, its ends by the minute.

        The earliest stays to the second: in a sitting a pad is not held up for less than a minute.
        """
        wait, law = self.wait(laid), self.law(laid)
        assert wait is not None  # noqa: S101
        clock = cure_clock(
            wait, laid.at, laid.not_yet_at, now, pace=self._pace(law), need=self.need(laid, wait)
        )
        return replace(
            clock,
            likely_at=up_to_the_minute(clock.likely_at),
            latest_at=up_to_the_minute(clock.latest_at),
            next_by_at=clock.next_by_at and up_to_the_minute(clock.next_by_at),
        )

    def wait(self, laid: Laid) -> Wait | None:
        """Return the step's wait, lengthened where wetted veneer needs longer to dry again.

        A rest that runs from a coat is at least as long as that coat's own wait.
        """
        wait = rest_and_coat(laid)
        wetted = self.redrying(laid)
        if wait is None or wetted is None:
            return wait
        return Wait(
            earliest_s=max(wait.earliest_s, wetted.earliest_s),
            likely_s=max(wait.likely_s, wetted.likely_s),
            latest_s=max(book_need(wait).latest_s, wetted.latest_s),
            next_by_s=wait.next_by_s,
        )

    def redrying(self, laid: Laid) -> Need | None:
        """Return how long the wetted veneer takes to dry again; None where none was wetted."""
        if laid.piece.veneer_mm is None or not wets(laid.step, self._products):
            return None
        layer = Layer(laid.piece.veneer_mm, 1, density_kg_per_m3(laid.piece.made_of))
        found = redrying(layer, WETTED_PERCENT, self._room_of(laid.at))
        return Need(found.low_s, found.likely_s, found.high_s)

    def _room_of(self, at: datetime) -> Air:
        """Return the air that wood of this room comes to rest with, at a schedule's warmth.

        The pace of drying runs over the real air already; what it dries to is the mean humidity of
        the days before.
        """
        hours = range(0, SETTLES_H, EVERY_H)
        seen = [self._course.at(at.timestamp() - HOUR_S * hour) for hour in hours]
        humidity = sum(air.humidity_percent for air in seen) / len(seen)
        return replace(SCHEDULE_AIR, humidity_percent=humidity)

    def need(self, laid: Laid, wait: Wait) -> Need:
        """Return what the wait needs here: the book's, until there is evidence."""
        learnt = self.learnt(self.group(laid))
        book = book_need(wait)
        if learnt is None:
            return book
        early, late = _log_ends(learnt)
        doubt = self._air_doubt(laid)
        early, late = math.hypot(early, doubt), math.hypot(late, doubt)
        # However quick the shop has been, nobody is sent to look before the schedule's earliest.
        likely_s = max(book.earliest_s, book.likely_s * learnt.factor)
        earliest_s, latest_s = likely_s * math.exp(-early), likely_s * math.exp(late)
        if learnt.checks == 0 and not learnt.overruled:
            earliest_s = min(earliest_s, book.earliest_s * learnt.factor)
            latest_s = max(latest_s, book.latest_s * learnt.factor)
        return Need(earliest_s, likely_s, latest_s)

    def _air_doubt(self, laid: Laid) -> float:
        """Return by how much a range is wider, as a log, for air unlike the schedule's."""
        law = self.law(laid)
        if law is None:
            return 0.0
        return TENTH_Z * air_doubt(law, self._course.at(laid.at.timestamp()))

    def learnt(self, group: Group | None) -> Learnt | None:
        """Return what the shop's checks say of one kind of wait; None for a wait of no product."""
        if group is None:
            return None
        if group not in self._learnt:
            own = self._own.get(group, Own())
            products = {group.product, *(check.product for check in self._checks)}
            dries_by = {name: self._mechanism(name) for name in products}
            priors = {name: PRIORS[by] for name, by in dries_by.items() if by is not None}
            self._learnt[group] = learn(
                self._checks, group, priors=priors, overrule=own.factor, at=self._last_entry_at
            )
        return self._learnt[group]

    def groups(self) -> tuple[Group, ...]:
        """Return every kind of wait that a dry check speaks of, or that a person has set."""
        found = dict.fromkeys([check.group for check in self._checks] + list(self._own))
        return tuple(sorted(found))

    def group(self, laid: Laid) -> Group | None:
        """Return the kind of wait that a wait is learnt with."""
        product = drying_product(laid.step, laid.steps, self._products)
        return Group(product.id, wait_kind(laid.step, self._products)) if product else None

    def law(self, laid: Laid) -> Law | None:
        """Return the law that a wait dries by; None where nothing is known to dry."""
        return self._laws.of(laid)

    def _law_of(self, laid: Laid) -> Law | None:
        law = law_of_wait(laid.step, laid.steps, self._products)
        of_a_coat = laid.step.verb is Verb.GLUE_UP or not wets(laid.step, self._products)
        return law.laid(self.share_laid(laid) or 1.0) if law and of_a_coat else law

    def why(self, laid: Laid, clock: CureClock) -> Iterator[str]:
        """Give in words what makes a wait, whose ``clock`` it is, other than the book says."""
        law, now = self.law(laid), clock.now
        if law is None:
            yield "no product of the schedule dries here: the wait runs by the clock on the wall"
            return
        air = self._course.at(now.timestamp())
        yield from self._in_all(laid, clock)
        yield f"air: {pace_words(law, air, self.tell)}"
        yield f"air: {self._course.origin(now.timestamp())}"
        learnt = self.learnt(self.group(laid))
        if learnt is not None:
            yield f"checks: {learnt.words}; {learnt.evidence}"
            if learnt.others:
                yield f"checks: book and other waits alone say {learnt.kin:.2g} times the book"
            yield from [learnt.advice] if learnt.advice else []
        wetted = self.redrying(laid)
        if wetted is not None:
            yield (
                f"water: the veneer was wetted, and likely takes {span(wetted.likely_s)} to dry "
                "again by diffusion (plane sheet, Crank; real panels take 2 to 4 times "
                "that, our assumption). You do not want water under "
                "the next coat: it comes back as white bloom and lifted seams"
            )
        rule, source = told(law.reason.rule, self.tell), law.reason.source
        yield f"{rule} ({told_marks(source, self.tell)})"
        yield HUMIDITY_CAVEAT

    def _in_all(self, laid: Laid, clock: CureClock) -> Iterator[str]:
        """Say what the whole wait comes to here, and what made the book's time that."""
        wait = self.wait(laid)
        if wait is None:
            return
        book, need = book_need(wait), self.need(laid, wait)
        here_s = (clock.likely_at - laid.at).total_seconds()
        factors = [f"the air since then makes {here_s / max(1.0, need.likely_s):.2f} of it"]
        learnt = self.learnt(self.group(laid))
        if learnt is not None and abs(learnt.factor - 1) > 0.005:
            factors.append(f"the checks make {learnt.factor:.2f} of it")
        if need.likely_s == book.earliest_s < book.likely_s:
            factors.append("never before the schedule's earliest")
        if laid.not_yet_at:
            factors.append("moved on by the last 'not yet'")
        planned = rest_and_coat(laid)
        longer = planned is not None and wait.likely_s > planned.likely_s
        whence = "the wetted veneer alone needs" if longer else "the book says"
        yield (
            f"in all likely {span(here_s, up=True)}, where {whence} {span(book.likely_s)}: "
            + "; ".join(factors)
        )

    def warnings(
        self,
        step: Step,
        steps: tuple[Step, ...],
        now: datetime,
        moisture_percent: float | None = None,
    ) -> tuple[CoatWarning, ...]:
        """Return what speaks against laying a coat now: the air, the night, floor and wood.

        ``moisture_percent`` is the wood's, where it was measured.
        """
        product = self._products.get(step.product or "")
        law = law_of(product, phase_of(step, steps), SCHEDULE_AIR) if product else None
        if law is None or product is None or not step.verb.lays_coats:
            return ()
        surface_c = surface_at(self._surface, now)
        coat = CoatAhead(law, step.verb, product.kind, surface_c, moisture_percent, self.tell)
        now_s = now.timestamp()
        return warnings_before(coat, self._course.at(now_s), self._course, now_s)

    def share_laid(self, laid: Laid) -> float | None:
        """Return the coat as laid over the coat as scheduled, where its amount tells that."""
        return share_laid(laid, self._products, self._pads)

    def heavy(self, laid: Laid) -> CoatWarning | None:
        """Return what a coat laid much heavier than scheduled means; None for others."""
        law = self.law(laid)
        return heavy_film(law) if law is not None else None

    def dried_share(self, laid: Laid, until: datetime) -> float | None:
        """Return the drying from a coat ``until`` then over its likely need; None for no wait."""
        wait = self.wait(laid)
        if wait is None:
            return None
        dried_s = self._pace(self.law(laid)).progress_s(laid.at, until)
        return dried_s / max(1.0, self.need(laid, wait).likely_s)

    def closes_at(self, laid: Laid) -> datetime | None:
        """Return when the window for the step after a wait closes; None where there is none."""
        if laid.step.wait is None or laid.step.wait.next_by_s is None:
            return None
        closes_at = self._pace(self.law(laid)).when(laid.at, laid.step.wait.next_by_s)
        return up_to_the_minute(closes_at)

    def when(self, law: Law, start: datetime, amount_s: float) -> datetime:
        """Return when what goes by ``law`` since ``start`` has gone ``amount_s``."""
        return self._pace(law).when(start, amount_s)

    def pace_words(self, laid: Laid, now: datetime) -> str:
        """Return 'slower than the book because 14 degC' and the like; empty within a tenth."""
        law = self.law(laid)
        return uneven_words(law, self._course.at(now.timestamp()), self.tell) if law else ""

    @property
    def course(self) -> Course:
        """The air over time."""
        return self._course

    def _pace(self, law: Law | None) -> Pace:
        return OverAir(self._sums, law) if law is not None else STEADY

    def _mechanism(self, product: str) -> Mechanism | None:
        found = self._products.get(product)
        return mechanism_of(found) if found else None

    def _evidence(self, laid: Laid) -> Iterator[Check]:
        wait, group = self.wait(laid), self.group(laid)
        looked = [*laid.not_yet_at, *([laid.ready_at] if laid.ready_at else [])]
        if wait is None or group is None or not looked or wait.likely_s <= 0:
            return
        pace = self._pace(self.law(laid))
        not_yet_s = max((pace.progress_s(laid.at, at) for at in laid.not_yet_at), default=0.0)
        ready_s = pace.progress_s(laid.at, laid.ready_at) if laid.ready_at else float("inf")
        if ready_s > 0:
            yield Check(
                group.product,
                group.kind,
                wait.likely_s,
                max(0.0, not_yet_s),
                ready_s,
                at=max(looked),
            )

    def _take_air(self, book: Book, since_s: float) -> None:
        """Add the readings that are new; begin anew when an old one was undone or is wanted now."""
        told = book.told_air
        goes_on = self._known_seq and book.last_seq >= self._known_seq
        if goes_on and told.undone == self._undone and since_s >= self._since_s:
            for figures in told.figures(self._known_seq, self._since_s):
                self._sums.add(Reading(*figures))
        else:
            self._since_s = since_s
            self._course = self._new_course(told.figures(since_s=since_s))
            self._sums = DryingSums(self._course)
        self._known_seq, self._undone = book.last_seq, told.undone

    def _new_course(self, air: Sequence[AirFigures]) -> Course:
        # Sorted and no impossible ones among them, as told; of several at one instant the greatest.
        single = {figures[0]: figures for figures in air}.values()
        readings = Readings(tuple(map(Reading._make, single)))
        return Course(readings, self._usual, self._utc_offset_s)

    def _utc_offset_s(self, at_s: float) -> float:
        # Asked thousands of times; clocks are changed on few days, at a whole quarter of an hour.
        day_s = at_s // DAY_S * DAY_S
        offset_s = self._offset_at_s(day_s)
        if offset_s == self._offset_at_s(day_s + DAY_S):
            return offset_s
        return self._offset_at_s(at_s // QUARTER_S * QUARTER_S)

    def _offset_at_s(self, at_s: float) -> float:
        found = self._offsets_s.get(at_s)
        if found is None:
            offset = datetime.fromtimestamp(at_s, UTC).astimezone(self._zone).utcoffset()
            found = self._offsets_s[at_s] = offset.total_seconds() if offset else 0.0
        return found


def _log_ends(learnt: Learnt) -> tuple[float, float]:
    """Return how far, as logs, the early and the late end of the next wait are from its likely."""
    return math.log(learnt.factor / learnt.earliest), math.log(learnt.latest / learnt.factor)
