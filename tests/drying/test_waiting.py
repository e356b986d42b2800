"""What a step waits for: to be laid on, to be sanded, in clamps, or to cure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finishsched.drying.figures import Phase
from finishsched.drying.waiting import drying_product, law_of_wait, phase_of, wets
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan, Verb
from finishsched.model.step import steps_of

VARNISH = Product("varnish", "Varnish", ProductKind.VARNISH)


def _steps_of(*plans, stage=StageName.BODY):
    return steps_of(Schedule("s", "S", (Stage(stage, plans),)))


def _steps(*verbs, stage=StageName.BODY):
    plans = (
        StepPlan(f"step-{number}", verb, "so", product="varnish" if verb.lays_coats else None)
        for number, verb in enumerate(verbs)
    )
    return _steps_of(*plans, stage=stage)


@pytest.mark.parametrize(
    ("verbs", "phase"),
    [
        ((Verb.BRUSH, Verb.SAND), Phase.SAND),
        ((Verb.BRUSH, Verb.BRUSH), Phase.RECOAT),
        ((Verb.BRUSH,), Phase.RECOAT),
        ((Verb.GLUE_UP, Verb.SAND), Phase.CLAMP),
    ],
)
def test_what_comes_next_says_what_a_coat_waits_for(verbs, phase):
    """To be sanded a film has to be harder than to be coated; what nothing follows is coated."""
    steps = _steps(*verbs)
    assert phase_of(steps[0], steps) is phase


def test_a_rest_at_the_end_waits_for_the_cure():
    """A rest among coats waits for no more than the next coat does."""
    for stage, phase in ((StageName.CURE, Phase.CURE), (StageName.BODY, Phase.RECOAT)):
        steps = _steps(Verb.REST, stage=stage)
        assert phase_of(steps[0], steps) is phase


def test_a_rest_waits_for_the_last_film_that_was_laid():
    """What is laid later is not waited for."""
    steps = _steps(Verb.BRUSH, Verb.REST, Verb.BRUSH)
    assert drying_product(steps[1], steps, {"varnish": VARNISH}) is VARNISH
    assert drying_product(steps[0], steps, {}) is None


def test_a_filler_wets_the_wood_where_it_is_made_with_water():
    """One in spirits brings no water, and dry sanding none; with water on the paper it does."""
    fillers = {
        name: Product(name, name, ProductKind.FILLER, mechanism=mechanism)
        for name, mechanism in (("water", Mechanism.WATER), ("spirits", Mechanism.SOLVENT))
    }
    found = {}
    for name in fillers:
        (step,) = _steps_of(StepPlan("fill", Verb.FILL, "so", product=name))
        found[name] = wets(step, fillers)
    assert found == {"water": True, "spirits": False}
    for lubricant, wetted in ((None, False), ("water", True)):
        (step,) = _steps_of(StepPlan("level", Verb.LEVEL, "so", lubricant=lubricant))
        assert wets(step, {}) is wetted


def test_a_wait_goes_by_water_in_the_wood_before_any_film():
    """Wet wood waits for its water, a film for what it dries by, and nothing known has no law."""
    wet, film = _steps_of(
        StepPlan("level", Verb.LEVEL, "so", lubricant="water"),
        StepPlan("coat", Verb.BRUSH, "so", product="varnish"),
    )
    products = {"varnish": replace(VARNISH, mechanism=Mechanism.OXIDISING)}
    assert law_of_wait(wet, (wet, film), products).mechanism is Mechanism.WATER
    assert law_of_wait(film, (wet, film), products).mechanism is Mechanism.OXIDISING
    (swept,) = _steps_of(StepPlan("look", Verb.REST, "so"))
    assert law_of_wait(swept, (swept,), products) is None
