"""Colour from a gun is as flammable in the air as any other mist."""

from finishsched.documents.library import shipped_products
from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan, Verb
from finishsched.model.step import steps_of
from finishsched.safety.cautions import cautions_for


def _told(how):
    plan = StepPlan("dye", Verb.STAIN, how, product="lacquer-thinner")
    steps = steps_of(Schedule("mine", "Mine", (Stage(StageName.PREPARE, (plan,)),)))
    return " ".join(
        one.text for one in cautions_for(steps[0], [shipped_products()["lacquer-thinner"]])
    )


def test_a_stain_laid_by_gun_has_the_cautions_of_a_gun():
    """Wiped on it has none of them (fire codes; common practice)."""
    assert "bonded to earth" in _told("misted on, gravity gun")
    assert "bonded to earth" not in _told("wiped on and off")
