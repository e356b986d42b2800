"""What every way back to the wood is made of: film off, wood sanded, colour and film laid again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rule import PRACTICE
from finishsched.factors import DAY_S
from finishsched.film.grade_steps import between
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.schedule import HandsOn, StepPlan, Verb, Wait, Waits

BELOW_REST = Wait(3 * DAY_S, 7 * DAY_S, 14 * DAY_S)
"""For oil, stain or filler that was covered before it was dry; the table of layers asks three days
under most finishes (B. Flexner, "Water-based finish over oil stain", trade column, 2016)."""

COARSEST_LAST_UM = 82.0
"""P180: what the wood has last before colour or a clear film, by hand (common practice)."""

FINEST_LAST_UM = 58.0
"""P240 (common practice)."""


_WHERE_PALE = "where the blade went into the wood and it is paler; where film is left it takes none"


class Undoing(NamedTuple):
    """One way: what it is called, its steps, and where it is from."""

    title: str
    recipe: Callable[[WorkedWith], Plans | None]
    source: str = PRACTICE
    where_bare: str = ""
    """What it is called where no film of this work lies yet, so that none is taken off."""

    def title_for(self, used: WorkedWith) -> str:
        """Return what it is called, by what its steps do there."""
        return self.where_bare if self.where_bare and not taken_off(used) else self.title


def taken_off(used: WorkedWith) -> Plans:
    """Return the taking off of the film and of its dust; nothing where there is none."""
    if used.bare or used.coat is None:
        return ()
    return (r.strip(used),) if used.melts else (r.strip(used), r.tack_off())


def laid_again(
    used: WorkedWith, *, sealed: bool = True, coats: int | None = None, how: str = ""
) -> Plans:
    """Return what was taken off, laid anew; nothing on bare wood, whose coats are still to come.

    As many ``coats`` as lay there, where nobody says other. Oil goes into wood, and lies on a seal
    as a sticky skin.
    """
    if used.bare or used.coat is None:
        return ()
    seals = sealed and used.seal is not None and not used.oiled and not used.fills_ahead
    seal = (r.seal(used, "one thin quick pass over all"),) if seals else ()
    glaze = (r.again(used.glaze),) if sealed and used.glaze is not None else ()
    return (
        *seal,
        *glaze,
        *(() if used.fills_ahead else (r.coats(used, coats or used.coats_laid, how),)),
    )


def put_back(used: WorkedWith, *between: StepPlan, sealed: bool = True) -> Plans | None:
    """Return film off, what is done to the wood, and the film laid again; None for nothing.

    What melts a film off takes a dye along, which is then laid again before all else; a blade takes
    it along where it goes into the wood.
    """
    off = taken_off(used)
    lost = bool(off) and not used.filler_laid
    if lost and not used.melts:
        used = replace(used, colour_again=used.colour_again or _WHERE_PALE)
    has_it = any(plan.id == "stain" for plan in between)
    between = (*between, *(coloured_again(used) if lost and not has_it else ()))
    plans = (*off, *between, *laid_again(used, sealed=sealed))
    return plans or None


def washed_twice(used: WorkedWith) -> Plans:
    """Return the washing off of what one wash only spreads."""
    again = replace(r.clean(used), how="once more, fresh cloths and fresh spirits, all over")
    return r.clean(used), again


def key(used: WorkedWith) -> StepPlan:
    """Return the rubbing dull of what is sound, for the next coat to hold on to."""
    how = "all that is sound, until it is one even grey; no shine is left anywhere"
    return replace(r.level(used, how, "dry", Reach.SCUFF), id="key", grade=("P320",))


def rest_below() -> StepPlan:
    """Return the rest for what was covered before it was dry."""
    return StepPlan(
        "rest",
        Verb.REST,
        "warm, dry, moving air, until what lay below is hard",
        waits=Waits(BELOW_REST),
        dry_check="no smell of oil, a white cloth stays clean, a nail leaves no mark",
    )


def sanded(used: WorkedWith) -> Plans:
    """Return the sanding of the wood by hand, grade by grade, to one that shows no scratch.

    The piece's own grades; where they end coarse or leap, what made the scratches is not taken
    again.
    """
    how = "by hand with the grain, on a block, until the last scratch is gone; look in a low light"
    every = list(dict.fromkeys(filter(None, (step.grade for step in used.sands))))
    # Finer than that, wood takes colour no more.
    own = [one for one in every if grade_of(one).grain_um >= FINEST_LAST_UM] or every[:1]
    last_um = grade_of(own[-1]).grain_um
    if last_um > COARSEST_LAST_UM:
        own = [own[-1], *between(last_um, COARSEST_LAST_UM, 1.0)]
    return tuple(replace(sand_last(used), how=how, grade=(grade,)) for grade in _no_leap(own))


def _no_leap(grades: Sequence[str]) -> Iterator[str]:
    """Give ``grades`` with those between, where one cannot take out the scratches of the last."""
    yield grades[0]
    for coarse, fine in pairwise(grades):
        yield from between(grade_of(coarse).grain_um, grade_of(fine).grain_um)
        yield fine


def sand_last(used: WorkedWith) -> StepPlan:
    """Return one sanding with the finest paper that the wood had."""
    own = used.sand
    return StepPlan(
        "sand",
        Verb.SAND,
        "with the grain, on a block, light and even",
        grade=(own.grade if own and own.grade else "P240",),
        lubricant="dry",
        hands_on=HandsOn(3.0, 20.0),
        cautions=(r.VENEER_CAUTION,),
    )


def coloured_again(used: WorkedWith) -> Plans:
    """Return the piece's own colour laid on the wood once more; nothing where it has none."""
    own = used.stain
    if own is None or not used.stained:
        return ()
    again = StepPlan(
        "stain",
        own.verb,
        f"{r.otherwise(used.colour_again)} all of it, a trial on a hidden place first",
        product=own.product,
        tool=own.tool,
        spread=own.spread,
        hands_on=own.hands_on,
        waits=Waits(own.wait) if own.wait else Waits(r.SEAL_REST),
        dry_check=own.dry_check or r.NO_COLOUR,
    )
    return (again,)


def fibres_cut(used: WorkedWith) -> Plans:
    """Return the cutting of the fibres that water raised, and their dust taken off."""
    how = "the raised fibres only, two or three strokes with the grain"
    return replace(sand_last(used), how=how, reach=(Reach.SCUFF,)), r.tack_off()
