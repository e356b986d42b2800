"""The abrasives that came on a piece until a defect was seen, and the dust that they left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from finishsched.checking.defects.evidence import Evidence
from finishsched.model.grades import UnknownGradeError, grade_of
from finishsched.model.lubricants import is_wet
from finishsched.model.product import ProductKind
from finishsched.model.step import Step
from finishsched.model.verbs import ABRADES, LAYS_COATS, Verb
from finishsched.workshop.defects.story import Done, Story, colours, is_of


def with_paper(found: Evidence, story: Story) -> Evidence:
    """Add what the abrasives say, the one in hand among them."""
    hand = story.in_hand if story.in_hand is not None and _rubs(story.in_hand) else None
    rubbed = [step for step, _ in story.done if _rubs(step)]
    if hand is not None and hand not in rubbed:
        rubbed.append(hand)
    sanded = [step for step in rubbed if step.verb is Verb.SAND]
    film = [step for step in rubbed if step.verb is not Verb.SAND]
    after_coats = {step.key for step, _ in story.after_coats}
    last_film = [step for step in film if step.key in after_coats or step == story.in_hand]
    grains = _grains(story, last_film or sanded)
    return replace(
        found,
        papered=hand is not None or any(_rubs(step) for step, _ in story.after_coats),
        abraded=bool(rubbed),
        colour_cut=_colour_cut(story, hand),
        grade=(rubbed[-1].grade or rubbed[-1].product or "") if rubbed else "",
        grade_um=next(_grains(story, rubbed[-1:]), None),
        finest_on_wood_um=min(_grains(story, sanded), default=None),
        grade_jump=max((coarse / fine for coarse, fine in pairwise(grains)), default=None),
        lubricated=is_wet(film[-1].lubricant) if film else None,
        levellings=sum(step.verb is Verb.LEVEL for step, _ in story.done),
        wood_sandings=sum(step.verb is Verb.SAND for step, _ in story.done),
    )


def _colour_cut(story: Story, hand: Step | None) -> bool | None:
    """Tell whether an abrasive came since the colour was laid; None where none was."""
    coloured = [at for at, one in enumerate(story.done) if colours(story, one.step)]
    if not coloured:
        return None
    since = story.done[coloured[0] + 1 :]
    return hand is not None or any(_rubs(step) for step, _ in since)


def with_dust(found: Evidence, story: Story, coat: Done) -> Evidence:
    """Add whether something dry was abraded before a coat, and its dust tacked off."""
    between = story.since(LAYS_COATS, story.before(coat))
    rubbed = [at for at, one in enumerate(between) if _rubs(one.step)]
    if not rubbed or is_wet(between[rubbed[-1]].step.lubricant):
        return replace(found, dust_made=False, tacked=None)
    since = between[rubbed[-1] + 1 :]
    tacked = any(step.verb is Verb.TACK_OFF for step, _ in since)
    return replace(found, dust_made=True, tacked=tacked)


def _rubs(step: Step) -> bool:
    return step.verb in ABRADES


def _grains(story: Story, steps: Iterable[Step]) -> Iterator[float]:
    """Give the mean grain of each step, in um, whose grade is known."""
    bare = story.workshop.papers.shop.film.bare_grades
    for step in steps:
        named = step.grade or (step.product if is_of(story, step, ProductKind.POWDER) else None)
        if named:
            try:
                yield grade_of(named, bare).grain_um
            except UnknownGradeError:
                continue
