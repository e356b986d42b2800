"""The waits of a step: those that were said, put in their places, and those that were not."""

from __future__ import annotations

from finishsched.documents.leaves import exact_text, read_quantity
from finishsched.documents.lines.asking import Asking
from finishsched.documents.lines.clauses import Clauses
from finishsched.documents.lines.cutting import cut_lines
from finishsched.documents.lines.examples import Examples, Sought
from finishsched.documents.lines.names import Names
from finishsched.documents.lines.said import Notes, SaidStep
from finishsched.documents.lines.words import EARLIEST_SHARE
from finishsched.documents.nodes import Fields, Node, Text
from finishsched.units import DURATION, UnitFaultError

_UNITS = ("week", "day", "h", "min", "s")
_SHORT_S = 3600.0
"""A wait shorter than this, with several coats, is taken for the one between them."""
DRY_CHECK = "no smell and no drag; a folded corner of the paper lifts dry powder"
"""Where no example has one (our assumption)."""


def wait_of(
    step: SaidStep, sought: Sought, examples: Examples, asking: Asking, notes: Notes
) -> None:
    """Put the waits, and the dry check that ends them, into the step's values."""
    _place_bare(step, asking)
    if not step.waits and not step.no_wait:
        found = examples.borrow("wait", sought)
        if found is not None and (sought.verb.lays_coats or _wets(sought)):
            step.values["wait"] = found.node
            notes.assume(step, "wait", f"wait {spoken(found.node)}, as in {found.schedule}")
    elif step.waits:
        if step.coats > 1 and "after" not in step.waits:
            _after_the_last(step, sought, examples, notes)
        for when in step.waits:
            _with_earliest(step, when, notes)
        step.values["wait"] = said_waits(step)
    if "wait" in step.values and "dry_check" not in step.values:
        check = examples.borrow("dry_check", sought)
        step.values["dry_check"] = check.node if check else Text(DRY_CHECK, step.place)
        said = check.node.value if check and isinstance(check.node, Text) else DRY_CHECK
        notes.assume(step, "dry_check", f"dry check: {said}")


def said_waits(step: SaidStep) -> Node:
    """Return the waits as the document has them: one, or by when."""
    if set(step.waits) == {"after"}:
        return step.waits["after"]
    order = [when for when in ("first", "between", "after") if when in step.waits]
    return Fields([(Text(when, step.place), step.waits[when]) for when in order], step.place)


def _wets(sought: Sought) -> bool:
    verb = sought.verb
    if not (verb.does.must_dry or verb.abrades or verb.does.cleans):
        return False  # a mask, a stick of shellac: nothing of it has to dry
    return not (sought.lubricant == "dry" and sought.verb.value in ("sand", "level", "rub out"))


def _place_bare(step: SaidStep, asking: Asking) -> None:
    """Say when a time is waited that does not say it itself."""
    bare = step.waits.pop("", None)
    if bare is None:
        return
    if step.coats == 1 or "between" in step.waits:
        when = "after"
    elif "after" in step.waits:
        when = "between"
    else:
        likely = bare.get("likely")
        text = likely.value if isinstance(likely, Text) else ""
        when = asking.of_step(
            step,
            "wait",
            f"is {text} waited between the coats, or after the last?",
            [("between", "between the coats"), ("after", "after the last")],
            "between" if _seconds(text) < _SHORT_S else "after",
        )
    step.waits[when] = bare


def _after_the_last(step: SaidStep, sought: Sought, examples: Examples, notes: Notes) -> None:
    found = examples.borrow("wait", sought)
    after = (
        found.node.get("after") or found.node if found and isinstance(found.node, Fields) else None
    )
    if isinstance(after, Fields) and after.get("likely") is not None and found is not None:
        step.waits["after"] = after
        notes.assume(step, "wait", f"{spoken(after)} after the last, as in {found.schedule}")
    else:
        step.waits["after"] = step.waits.get("between") or next(iter(step.waits.values()))


def _with_earliest(step: SaidStep, when: str, notes: Notes) -> None:
    wait = step.waits[when]
    likely = wait.get("likely")
    if wait.get("earliest") is not None or not isinstance(likely, Text):
        return
    seconds = _seconds(likely.value)
    earliest = exact_text(round(seconds * EARLIEST_SHARE), DURATION, _UNITS)
    entries: list[tuple[Text, Node]] = [
        (Text("earliest", likely.place), Text(earliest, likely.place))
    ]
    step.waits[when] = Fields([*entries, *wait.entries], wait.place)
    notes.assume(step, "wait", f"{likely.value} is the likely time, {earliest} the earliest")


def _seconds(text: str) -> float:
    try:
        return read_quantity(text, DURATION)
    except UnitFaultError:
        return 0.0  # told at its own place, when the value is read


def spoken(wait: Node) -> str:
    """Return a wait in a few words."""
    if not isinstance(wait, Fields):
        return wait.value if isinstance(wait, Text) else ""
    times = [wait.get(name) for name in ("earliest", "likely", "latest")]
    texts = [time.value for time in times if isinstance(time, Text)]
    if texts:
        return " to ".join(texts)
    return ", ".join(f"{spoken(value)} {key.value}" for key, value in wait.entries)


def waits_in_words(text: str) -> Node | None:
    """Return the waits that words say: ``2 h to 3 h between, 12 h to 1 day after``.

    None where they say something else beside, or leave the earliest open.
    """
    notes = Notes("waits")
    line = next(iter(cut_lines(text)), None)
    if line is None:
        return None
    step = Clauses(line, Names({}, frozenset()), notes).read()
    bare = step.waits.pop("", None)
    if bare is not None:
        step.waits.setdefault("after", bare)
    said_else = (step.verb, *step.values, *step.how, *step.loose, *notes.faults)
    whole = all(wait.get("earliest") is not None for wait in step.waits.values())
    if not step.waits or not whole or any(said_else):
        return None
    return said_waits(step)
