"""The exact model's rules about what is shared: hands and their hours, set-ups, stores, rooms."""

from __future__ import annotations

from finishsched.planning.exact.hands import draw_hands
from finishsched.planning.exact.parts import Draft
from finishsched.planning.exact.rooms import draw_rule
from finishsched.planning.exact.stores import draw_store


def draw_resources(draft: Draft) -> None:
    """Draw everything that activities share."""
    problem = draft.facts.problem
    for hands in problem.hands:
        draw_hands(draft, hands)
    for store in problem.stores:
        draw_store(draft, store)
    for rule in problem.rules:
        draw_rule(draft, rule)
