"""What a step is to a plan: its key, its room, and whether it makes dust."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal.events import StepDone
from finishsched.model.room import Room
from finishsched.model.schedule import Verb
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.workshop.standing.standing import Standing

DUST = "dust"
USUAL_ROOM = Room("the shop")


def activity_key(ref: str, step: Step) -> str:
    """Return the key of a step of a piece, the same for as long as the schedule's text is."""
    return f"{ref}#{step.key}"


def row_and_step(key: str) -> tuple[str, str]:
    """Return the name of the row and the key of the step that a key is made of."""
    row, _, step = key.partition("#")
    return row, step


def room_of(shop: Shop, step: Step) -> Room:
    """Return the room that a step is done in."""
    rooms = shop.rooms or (USUAL_ROOM,)
    named = [room for room in rooms if step.verb in room.verbs]
    free = [room for room in rooms if not room.verbs]
    return (named or free or list(rooms))[0]


def dusty(step: Step) -> bool:
    """Tell whether a step makes dust: abrading dry does, abrading wet does not."""
    if not step.verb.abrades:
        return False
    return step.lubricant == "dry" or (step.lubricant is None and step.verb is Verb.SAND)


def pot_name(step: Step) -> str:
    """Return what the mix is called that a step is done from: its product, and how it is thinned.

    Steps that share this can be done from one mix.
    """
    thinned = f" {step.thinned_percent:g} %" if step.thinned_percent else ""
    return f"{step.product or ''}{thinned}"


def likeness(step: Step) -> str:
    """Return what a step is like: its verb, paper and product, the same for all that share these.

    Who goes from one to another of the same likeness changes neither paper nor pad nor jar.
    """
    parts = (step.verb.value, step.grade, step.product, step.lubricant)
    return " ".join([str(part) for part in parts if part])


def last_dust(standing: Standing) -> tuple[Step, datetime] | None:
    """Return what made dust last on a piece, and when; None where nothing has.

    Wiping the piece off afterwards does not take the dust out of the air. What was told afterwards
    was done at another time than it says.
    """
    done = standing.progress.done if standing.progress is not None else ()
    for step, event in reversed(done):
        if dusty(step) and not (isinstance(event.what, StepDone) and event.what.told):
            return step, event.at
    return None
