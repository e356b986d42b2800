"""No cause is named for what it cannot have befallen: every cause, product and tool."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.ranking import Known, diagnose
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Reading
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

FILMS = ("shellac", "lacquer", "varnish", "waterborne")
EVERY = (*FILMS, "oil", "filler", "stain", "wax")
TOOLS = ("pad", "brush", "wipe", "spray")


def _rows() -> dict[str, tuple[frozenset[str], frozenset[str]]]:
    text = (Path(__file__).parent / "what_befalls_what.txt").read_text("utf-8")
    lines = [line.split(" | ") for line in text.splitlines() if not line.startswith("#")]
    return {cause: (_all(kinds, EVERY), _all(tools, TOOLS)) for cause, kinds, tools in lines}


def _all(cell: str, every: tuple[str, ...]) -> frozenset[str]:
    groups = {"any": every, "films": FILMS}
    return frozenset(one for word in cell.split() for one in groups.get(word, (word,)))


ROWS = _rows()
SAID = {
    "": "nothing",
    "the jar of old alcohol was wet, the pad ran dry, too soon, heavy coat, flash": "much",
}
"""What a maker may say besides; no word makes a cause possible that cannot have been."""


def test_every_cause_has_its_row() -> None:
    """The rows are those of the table of causes, so that a new cause is thought of here too."""
    known = {cause.id for defect in CATALOGUE.values() for cause in defect.causes}
    assert set(ROWS) == known


@pytest.mark.parametrize("said", SAID, ids=SAID.values())
@pytest.mark.parametrize("kind", EVERY)
def test_no_cause_is_named_for_what_it_cannot_have_befallen(kind: str, said: str) -> None:
    """Of every defect, by every tool: what is named can befall what was laid, as it was laid."""
    wrong = set()
    for seen, tool in product(Seen, TOOLS):
        coat = Evidence(laid=True, kind=ProductKind(kind), verb=Verb(tool), said=said)
        for one in diagnose(seen, coat).causes:
            kinds, tools = ROWS[one.cause.id]
            if kind not in kinds or tool not in tools:
                wrong.add((one.cause.id, kind, tool))
    assert not wrong, sorted(wrong)


def test_what_must_be_laid_first_is_not_named_on_bare_wood() -> None:
    """Nothing laid yet: no cause of a finish or a tool is named, unless the log forgot a coat.

    It did where the defect is none of bare wood: then all of it that a log can tell is told.
    """
    wrong = set()
    for seen, defect in CATALOGUE.items():
        named = {one.cause.id for one in diagnose(seen, Evidence(laid=False)).causes}
        if named != {cause.id for cause in defect.causes if not cause.only_said}:
            wrong |= {one for one in named if ROWS[one] != (frozenset(EVERY), frozenset(TOOLS))}
    assert not wrong, sorted(wrong)


def test_what_the_log_knows_not_to_have_been_rules_a_cause_out() -> None:
    """Of every cause that needs something: the log denies it, and it is ruled out.

    Where the log says nothing it may be, but for what only words tell.
    """
    causes = [cause for defect in CATALOGUE.values() for cause in defect.causes if cause.needs]
    assert len({cause.id for cause in causes}) > 40
    for cause in causes:
        denied = {sign: Reading(-1.0, "") for signs in cause.needs for sign in signs}
        assert Known(Evidence(), denied, denied, {}, {}).rules_out(cause), cause.id
        assert Known(Evidence(), {}, {}, {}, {}).rules_out(cause) is cause.only_said, cause.id
