"""Lines of a notebook read as a shop would."""

from __future__ import annotations

from finishsched.documents import library
from finishsched.documents.lines.read import Context, read_lines
from finishsched.model.film import BareGrades

PRODUCTS = library.shipped_products()


def said(text: str, grades: BareGrades | None = BareGrades.FEPA, answers=None):
    """Read lines as a shop would that has the shipped products and schedules."""
    shipped = tuple(library.shipped_schedules().values())
    context = Context(PRODUCTS, shipped, grades, answers or {})
    return read_lines(text, "notebook", context, "own")


def steps(found):
    """Return the steps as written, in order, rounds opened."""
    assert found.schedule is not None, [str(fault) for fault in found.faults]
    return list(found.schedule.step_plans())
