"""What papers do to a face: the one in hand, the next that levels, one that somebody asks about."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import FaceLine, FaceState, enter_face, taken_in
from finishsched.film.ledger import Laid
from finishsched.film.odds import Stakes
from finishsched.film.outlook import (
    coarsest_safe,
    coats_until_safe,
    finest_that_levels,
    nearest,
    reach_allowed,
)
from finishsched.model.film import Reach
from finishsched.model.grades import Grade
from finishsched.model.product import Product
from finishsched.model.ranges import Range
from finishsched.workshop.base.words import one_line
from finishsched.workshop.film.facts import Entry
from finishsched.workshop.film.shown import Levelling, LevelQuestion

NO_STAKES = Stakes()


@dataclass(frozen=True, slots=True)
class Coming:
    """A ledger and what of it is past, to be asked about the papers that come."""

    entries: Sequence[Entry]
    lines: Sequence[FaceLine]
    past: Collection[int]
    """The indexes of the lines that have happened."""
    hand: int | None
    """That of the step in hand."""
    most_odds: float
    hands: Mapping[str, tuple[float, ...]]
    products: Mapping[str, Product]
    known: dict[int, Levelling] = field(default_factory=dict)
    """What was asked of it before, by the index of the line: the same paper is asked for often."""

    def paper(self) -> Levelling | None:
        """Return what the paper of the step in hand does; None where that is no paper."""
        if self.hand is None or self.hand in self.past or not self._abrades(self.hand):
            return None
        return self._at(self.hand)

    def next_paper(self) -> FaceLine | None:
        """Return the line of the next paper on the whole piece; None where none comes."""
        return next((self.lines[index] for index in self._ahead() if self._abrades(index)), None)

    def next_levelling(self) -> Levelling | None:
        """Return what the next paper on a film does at its place in the work."""
        for index in self._ahead():
            if self._abrades(index) and self.lines[index].odds is not None:
                return self._at(index)
        return None

    def level_now(self, state: FaceState, question: LevelQuestion | None) -> Levelling | None:
        """Return what paper does to the face as it is now.

        The one that somebody asks about; else that of the step in hand, else the next levelling.
        """
        index = next(self._ahead(), len(self.lines))
        here = self.lines[index].stakes if index < len(self.lines) else NO_STAKES
        if question is not None:
            stroke = Stroke(
                question.grade,
                question.reach or _reach_of_now(state),
                question.wet,
                backing=self._backing_from(index),
            )
            last = index if index < len(self.lines) and self._abrades(index) else index - 1
            return self._levelling(enter_face(stroke, state, here), index, last)
        if (paper := self.paper()) is not None:
            return paper
        for number in range(index, len(self.lines)):
            work = self.lines[number].work
            levels = isinstance(work, Stroke) and work.reach is not None
            if levels and self.lines[number].odds is not None:
                found = self._levelling(enter_face(work, state, here), index, number)
                return replace(found, number=self._number_of(number))
        return None

    def _number_of(self, index: int) -> int:
        """Return the number of the step at a line; 0 where that is the step in hand."""
        reckoned = self.entries[index].reckoned
        return 0 if index == self.hand or reckoned is None else reckoned.step.number

    def _ahead(self) -> Iterator[int]:
        return (index for index in range(len(self.lines)) if index not in self.past)

    def _abrades(self, index: int) -> bool:
        return isinstance(self.lines[index].work, Stroke)

    def _backing_from(self, index: int) -> Backing:
        """Return what is behind the next paper; a block where none comes."""
        works = (line.work for line in self.lines[index:])
        return next((work.backing for work in works if isinstance(work, Stroke)), Backing.WORKED)

    def _next_grade(self, index: int) -> Grade | None:
        """Return the grade of the next paper after the line ``index``; None where none comes."""
        works = (line.work for line in self.lines[index + 1 :])
        return next((work.grade for work in works if isinstance(work, Stroke)), None)

    def _coat_by(self, index: int) -> tuple[Laid, str] | None:
        """Return the coat nearest to the line ``index``: the one laid last, or else the next."""
        for number in (*reversed(range(index)), *range(index, len(self.lines))):
            work, reckoned = self.lines[number].work, self.entries[number].reckoned
            if isinstance(work, Laid) and reckoned is not None:
                step = reckoned.step
                product = self.products.get(step.product or "")
                title = one_line(product.title) if product else step.product or ""
                return work, f"{step.verb.value}: {title}" if title else step.verb.value
        return None

    def _at(self, index: int) -> Levelling:
        if index not in self.known:
            self.known[index] = self._levelling(self.lines[index], index, index)
        return self.known[index]

    def _levelling(self, line: FaceLine, index: int, last: int) -> Levelling:
        """Return what ``line`` does; its coats are those about ``index``, papers after ``last``."""
        stroke, face, stakes = line.work, line.before, line.stakes
        assert isinstance(stroke, Stroke)  # noqa: S101
        coat, most = self._coat_by(index), self.most_odds
        # On bare wood no coat makes a paper safe: it is sanded before any.
        filling = coat[0] if coat and stroke.reach is not None else None
        return Levelling(
            grade=stroke.grade,
            reach=stroke.reach,
            wet=stroke.wet,
            film_um=face.film_um,
            takes_um=line.taken_um,
            takes_in=tuple(_takes_in(line)),
            stands=tuple(face.steps_um().items()),
            odds=line.odds,
            losses=line.losses,
            worst=line.worst,
            safe=line.worst is None or line.worst.odds <= most,
            bearing=nearest(line, self.hands),
            coarsest=self._coarsest(line, stroke, self._next_grade(last)),
            finest=finest_that_levels(face),
            allowed=reach_allowed(replace(stroke, rubs=False), face, most, stakes),
            more_coats=coats_until_safe(stroke, filling, face, most, stakes) if filling else None,
            coat=coat[1] if coat else "",
        )

    def _coarsest(self, line: FaceLine, stroke: Stroke, next_grade: Grade | None) -> Grade | None:
        """Return the coarsest grade that serves; None where nothing sets a limit to it.

        Where wood may show without a loss, only the scratches that the next paper takes out do.
        """
        shows = line.worst is None and line.odds is not None and line.odds > self.most_odds
        if shows and next_grade is None:
            return None
        return coarsest_safe(
            stroke, line.before, self.most_odds, line.stakes, next_grade=next_grade
        )


def _takes_in(line: FaceLine) -> Iterator[tuple[str, Range]]:
    """Give by name what comes off every zone but the field."""
    for part in line.before.parts[1:]:
        yield part.zone.name, taken_in(part.zone.name, line)


def _reach_of_now(state: FaceState) -> Reach | None:
    """Return how far a grade goes that somebody asks about: bare wood is sanded, film levelled."""
    return Reach.LEVEL if state.likely.film_um > 0 else None
