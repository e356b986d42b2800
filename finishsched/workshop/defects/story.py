"""What was done to one piece until a defect was seen, and how much of each wait it had."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from finishsched.drying.waiting import wets
from finishsched.journal.events import Event, StepDone
from finishsched.model.doing import Lays
from finishsched.model.kinds import COLOURS
from finishsched.model.product import Product, ProductKind
from finishsched.model.step import Step
from finishsched.model.verbs import LAYS_COATS, Verb
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of
from finishsched.workshop.standing.where import cure_room

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

LOGGED_LATE = timedelta(minutes=5)
"""An entry may be so far off what it tells of (our assumption): no wait was short by less."""


class Done(NamedTuple):
    """One step that was done, and the entry that says so."""

    step: Step
    event: Event


@dataclass(frozen=True, slots=True)
class Story:
    """What was done to one piece until a defect was seen, cut where it is looked at."""

    workshop: Workshop
    standing: Standing
    at: datetime
    done: tuple[Done, ...]
    """What was done by then, in the order of the work."""
    in_hand: Step | None
    waits: dict[str, Laid]

    @property
    def coats(self) -> list[Done]:
        """The coats of finish among it."""
        return [one for one in self.done if one.step.verb.lays_coats]

    @property
    def layers(self) -> list[Done]:
        """All among it that lay something on the face."""
        return [one for one in self.done if one.step.verb.lays]

    @property
    def in_question(self) -> Done | None:
        """What the defect came from, or after: the last coat, else the last filler or colour.

        A filler that nothing was laid over yet comes before the seal below it.
        """
        layers = self.layers
        if layers and layers[-1].step.verb is Verb.FILL:
            return layers[-1]
        laid = self.coats or layers
        return laid[-1] if laid else None

    @property
    def after_coats(self) -> tuple[Done, ...]:
        """What was done after the last coat."""
        return self.since(LAYS_COATS, self.done)

    def before(self, one: Done) -> tuple[Done, ...]:
        """Return what was done before ``one``."""
        return self.done[: self.done.index(one)]

    def after(self, one: Done) -> tuple[Done, ...]:
        """Return what was done after ``one``."""
        return self.done[self.done.index(one) + 1 :]

    def since(self, verbs: Iterable[Verb], among: Sequence[Done]) -> tuple[Done, ...]:
        """Return what of ``among`` was done after the last step of these verbs, or all of it."""
        wanted = tuple(verbs)
        places = [i for i, (step, _) in enumerate(among) if step.verb in wanted]
        return tuple(among[places[-1] + 1 :]) if places else tuple(among)

    def product(self, step: Step) -> Product | None:
        """Return what a step lays or uses."""
        return self.workshop.papers.products.get(step.product or "")


def story_of(workshop: Workshop, standing: Standing, step: Step | None, at: datetime) -> Story:
    """Return what was done to a piece up to ``step`` (None: any) by ``at``."""
    progress = standing.progress
    last = step.number if step is not None else len(standing.steps)
    done = tuple(
        Done(done_step, event)
        for done_step, event in (progress.done if progress is not None else ())
        if event.at <= at and done_step.number <= last
    )
    live = [event for event in workshop.book().live(standing.ref) if event.at <= at]
    waits = waits_of(standing.piece, standing.steps, live)
    return Story(workshop, standing, at, done, step or standing.step, waits)


def products_of(story: Story) -> dict[str, Product]:
    """Return every product of the shop by its id."""
    return dict(story.workshop.papers.products)


def is_of(story: Story, step: Step, kind: ProductKind) -> bool:
    """Tell whether what a step lays or uses is of a kind."""
    product = story.product(step)
    return product is not None and product.kind is kind


def colours(story: Story, step: Step) -> bool:
    """Tell whether a step lays colour on the wood or in a film."""
    product = story.product(step)
    return step.verb.does.lays is Lays.COLOUR or (product is not None and product.kind in COLOURS)


def wetted_by(story: Story, step: Step) -> bool:
    """Tell whether a step brings water that is not a filler's own."""
    return step.verb is not Verb.FILL and wets(step, products_of(story))


def share_of_wait(story: Story, laid: Laid | None, until: datetime) -> float | None:
    """Return the drying of a wait until then over what it needs; None for no wait."""
    return cure_room(story.workshop).dried_share(laid, until) if laid is not None else None


def waited(story: Story, wet: Done) -> float | None:
    """Return how much of the film's own waits before a coat was taken; None where there is none.

    Those are the wait of what was laid last and any rest since; what was wetted dries apart.
    """
    before = story.before(wet)
    laid = max((at for at, (step, _) in enumerate(before) if step.verb.lays), default=0)
    own = [step for step, _ in before[laid:] if step.verb.lays or step.verb is Verb.REST]
    until = wet.event.at + LOGGED_LATE
    return least(share_of_wait(story, story.waits.get(step.key), until) for step in own)


def rested(story: Story) -> float | None:
    """Return how much of the rests since the last coat was taken; None where there is none.

    A rest that was ended counts until then, one that goes on until the defect was seen.
    """
    after = story.after_coats
    next_at = [*(event.at for _, event in after[1:]), story.at][: len(after)]
    rests = ((step, end) for (step, _), end in zip(after, next_at, strict=True))
    return least(
        share_of_wait(story, story.waits.get(step.key), end)
        for step, end in rests
        if step.verb is Verb.REST
    )


def redried(story: Story, wet: Done) -> float | None:
    """Return how much of the wait after a wetted step went by before the next coat."""
    coats = (event.at for step, event in story.coats if step.number > wet.step.number)
    return share_of_wait(story, story.waits.get(wet.step.key), next(coats, story.at))


def until_next(story: Story, one: Done) -> float | None:
    """Return how much of a step's wait went by before what was done next."""
    following = (event.at for _, event in story.after(one))
    return share_of_wait(story, story.waits.get(one.step.key), next(following, story.at))


def amount_share(story: Story, one: Done) -> float | None:
    """Return what a step took over what its schedule gives it; None where that is not known."""
    step, event = one
    what, standing = event.what, story.standing
    if not isinstance(what, StepDone):
        return None
    laid = Laid(standing.piece, step, standing.steps, what, event.at, seq=event.seq)
    return cure_room(story.workshop).share_laid(laid)


def covered(story: Story) -> Iterator[tuple[Step, float | None]]:
    """Give each layer with how dry it was when something else came over it: every one counts."""
    for (below, _), (above, event) in pairwise(story.layers):
        if below.product != above.product:
            yield below, share_of_wait(story, story.waits.get(below.key), event.at)


def least(shares: Iterable[float | None]) -> float | None:
    """Return the least that is known."""
    return min((share for share in shares if share is not None), default=None)


def most(shares: Iterable[float | None]) -> float | None:
    """Return the most that is known."""
    return max((share for share in shares if share is not None), default=None)
