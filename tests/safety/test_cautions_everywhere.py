"""Every caution there is a cause for, walked to where a person reads it."""

import pytest

from finishsched.model.doing import Care
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan
from finishsched.model.step import steps_of
from finishsched.model.verbs import Verb
from finishsched.safety import labels
from finishsched.safety.cautions import Danger, cautions_for
from finishsched.workshop.papers import bench_sheet

PLAIN = Product("plain", "Plain", ProductKind.VARNISH)
LEFT_TO_THE_LABEL = {
    # Gas and aerosols: nothing that a schedule lays comes so.
    "H220", "H222", "H223", "H229", "H280",
    # Explosives and oxidisers are chemicals, which are cautioned by their names.
    "H240", "H241", "H242", "H250", "H251", "H252", "H270", "H271", "H272", "H227", "H290",
    # What is swallowed is none of a step's doing.
    "H300", "H301", "H302", "H303", "H304", "H305",
    # Too slight for a word at the step.
    "H313", "H316", "H320", "H333", "H362",
    # What goes into drains.
    "H400", "H401", "H402", "H410", "H411", "H412", "H413", "H420",
}  # fmt: skip


def step_of(verb, **given):
    """Return the only step of a schedule."""
    stage = Stage(StageName.BODY, (StepPlan("one", verb, "so", **given),))
    return steps_of(Schedule("mine", "Mine", (stage,), source="made up"))[0]


@pytest.mark.parametrize("code", sorted(labels._MEANINGS))
def test_every_hazard_statement_is_cautioned_of_or_left_to_the_label(code):
    """A code that the labels can read says something at the step too, or is named here with why."""
    labelled = Product("one", "One", ProductKind.VARNISH, hazards=(code,))
    found = cautions_for(step_of(Verb.BRUSH, product="one"), [labelled])
    assert bool(found) != (code in LEFT_TO_THE_LABEL)


@pytest.mark.parametrize("care", list(Care), ids=str)
def test_every_care_of_a_verb_has_its_caution(care):
    """A step whose verb has it says more than one whose verb has none, with what it is done with.

    Hot glue and mist hurt by what is glued or sprayed: each is given what makes it do so.
    """
    burning = Product("hot", "Hot varnish", ProductKind.VARNISH, hazards=("H226",))
    verbs = [verb for verb in Verb if care in verb.does.care]
    assert verbs
    at_rest = set(cautions_for(step_of(Verb.REST, product="hot"), [burning]))
    for verb in verbs:
        assert set(cautions_for(step_of(verb, product="hot"), [burning])) > at_rest


def test_every_danger_has_its_word_on_paper():
    """The bench sheet names each kind of danger, and lists the gravest first."""
    assert set(bench_sheet._KINDS) == set(Danger)
    assert len(set(bench_sheet._KINDS.values())) == len(Danger)


@pytest.mark.parametrize("verb", list(Verb), ids=str)
def test_own_cautions_come_with_every_verb(verb):
    """Whatever a step or its product says by itself is told, once each, after the graver."""
    own = Product("one", "One", ProductKind.VARNISH, hazards=("H225",), cautions=("mind the lid",))
    found = cautions_for(step_of(verb, product="one", cautions=("mind the seams",)), [own])
    assert [caution.text for caution in found].count("mind the lid") == 1
    assert [caution.text for caution in found].count("mind the seams") == 1
    assert list(found) == sorted(found)
