"""What the lines do not say: carried on from the step before, asked, or our assumption."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from finishsched.documents.leaves import exact_text, read_quantity
from finishsched.documents.lines.asking import Asking
from finishsched.documents.lines.deciding import Before, Decider
from finishsched.documents.lines.examples import Examples, Sought
from finishsched.documents.lines.said import Notes, SaidItem, SaidRounds, SaidStep
from finishsched.documents.lines.waiting import wait_of
from finishsched.documents.nodes import Items, Node, Text
from finishsched.model.film import BareGrades
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import Product
from finishsched.model.schedule import StageName, Verb
from finishsched.model.verbs import ABRADES
from finishsched.units import CUT, UnitFaultError, show

_BORROWED = ("tool", "amount", "hands_on")
_NAMES = {"tool": "tool", "amount": "amount", "hands_on": "work"}


class Filler:
    """Fills what was not said, in the order of the work."""

    def __init__(
        self,
        products: Mapping[str, Product],
        examples: Examples,
        asking: Asking,
        notes: Notes,
        grades: BareGrades | None,
    ) -> None:
        self._products = products
        self._examples = examples
        self._asking = asking
        self._notes = notes
        self._grades = grades
        self._before = Before()
        self._decider = Decider(products, asking, notes, self._before)

    def work_out(self, items: Sequence[SaidItem]) -> list[SaidItem]:
        """Return the items with verbs, products, cuts and grades: all but what is borrowed."""
        found: list[SaidItem] = []
        for item in items:
            if isinstance(item, SaidRounds):
                for step in item.steps:
                    self._one(step)
                found.append(item)
            else:
                self._one(item)
                found.append(_by_grade(item))
        return found

    def borrow(self, stages: Iterable[tuple[StageName, list[SaidItem]]]) -> None:
        """Fill the rest of each step from the shipped schedules, now that its stage is known."""
        for stage, items in stages:
            for item in items:
                for step in item.steps if isinstance(item, SaidRounds) else [item]:
                    if step.verb is not None:
                        self._borrow(step, step.verb, stage)

    def _one(self, step: SaidStep) -> None:
        self._decider.decide(step)
        if step.verb in ABRADES:
            self._abrading(step)
        elif step.verb is not None and step.verb.lays_coats:
            self._coat(step)
            if self._lays_finish(step):
                self._before.coat = step
        self._letters(step)
        self._decider.loose_words(step)

    def _abrading(self, step: SaidStep) -> None:
        if "lubricant" not in step.values and step.verb is not Verb.RUB_OUT:
            carried = self._before.lubricant if step.verb is Verb.LEVEL else None
            wet = carried.value if isinstance(carried, Text) else "dry"
            step.values["lubricant"] = Text(wet, step.place)
            says = f"{wet}, as before" if isinstance(carried, Text) else wet
            self._notes.assume(step, "lubricant", says)
        if step.verb is Verb.LEVEL:
            self._before.lubricant = step.values.get("lubricant")

    def _coat(self, step: SaidStep) -> None:
        if "grade" in step.values:
            step.how.append(f"with {_spoken_grades(step.values.pop('grade'))}")
            self._notes.assume(step, "how", "paper at a coat: how it is laid on")
        self._decider.product(step)
        if step.of_the_last:
            self._of_the_last(step)
        product = self._products.get(step.text("product") or "")
        if product is not None and product.kind in SHELLACS:
            self._cut(step)
        elif step.thin_by is not None:
            share = round(100 * (1 - step.thin_by), 1)
            step.values["thinned"] = Text(f"{share:g} %", step.place)

    def _lays_finish(self, step: SaidStep) -> bool:
        product = self._products.get(step.text("product") or "")
        return product is None or product.mechanism is not None

    def _of_the_last(self, step: SaidStep) -> None:
        before = self._before.coat
        if (
            before is None
            or before.coats <= step.coats
            or isinstance(before.values.get("coats"), Items)
        ):
            return
        answer = self._asking.of_step(
            step,
            "last",
            f"are these {step.coats} more coats, or the last {step.coats} of the {before.coats}?"
            if step.coats > 1
            else f"is this one coat more, or the last of the {before.coats}?",
            [("more", f"{step.coats} more"), ("of-those", f"of the {before.coats} before")],
            "more",
        )
        if answer == "of-those":
            before.values["coats"] = Text(str(before.coats - step.coats), before.place)

    def _cut(self, step: SaidStep) -> None:
        if "cut" in step.values:
            self._cut_and_thinned(step)
            return
        before = self._before.coat
        carried = _last_cut(before) if before is not None else None
        if carried is None:
            borrowed = self._asking.of_step(
                step, "cut", "which cut?", [(c, f"{c} cut") for c in _CUTS], "2 lb"
            )
            step.values["cut"] = Text(borrowed, step.place)
            return
        if step.thin_by is None:
            step.values["cut"] = Text(carried, step.place)
            self._notes.assume(step, "cut", f"{carried} as before")
            return
        self._thinned_cut(step, carried)

    def _cut_and_thinned(self, step: SaidStep) -> None:
        """Ask of '1 lb thinned 1:1' whether the cut is that before thinning, or after it."""
        cut = step.text("cut")
        if step.thin_by is None or cut is None:
            return
        try:
            to = show(read_quantity(cut, CUT) * step.thin_by, CUT, "lb")
        except UnitFaultError:
            return  # told at its own place
        question = f"is {cut} the cut before it is thinned, or what is laid on?"
        choices = [("before", f"before: {to} is laid on"), ("laid", f"{cut} is laid on")]
        if self._asking.of_step(step, "thin", question, choices, "before") == "before":
            step.values["cut"] = Text(to, step.place)

    def _thinned_cut(self, step: SaidStep, carried: str) -> None:
        try:
            kept = read_quantity(carried, CUT) * (step.thin_by or 1.0)
        except UnitFaultError:
            return  # told at its own place
        to = exact_text(kept, CUT, ("lb",))
        if len(to) > _LONGEST_CUT:
            to = show(kept, CUT, "lb")
        answer = "even"
        if step.coats > 1:
            answer = self._asking.of_step(
                step,
                "thin",
                f"is every coat at {to}, or does each go further down to it?",
                [("even", f"all at {to}"), ("down", f"from {carried} down to {to}")],
                "even",
            )
        step.values["cut"] = Text(to if answer == "even" else carried, step.place)
        if answer == "down":
            step.values["thin_to"] = Text(to, step.place)

    def _letters(self, step: SaidStep) -> None:
        """Write P or CAMI before a grade that has no letter, as the shop means them."""
        node = step.values.get("grade")
        for text in node.items if isinstance(node, Items) else [node]:
            if isinstance(text, Text) and text.value.isdigit() and len(text.value.strip("0")) > 0:
                text.value = f"{self._system(text)}{text.value}"

    def _system(self, text: Text) -> str:
        if self._grades is None:
            choices = [("FEPA", "P grades, as P400"), ("CAMI", "American grades, as CAMI 400")]
            question = "is paper without a letter a P grade, or CAMI?"
            answer = self._asking.at(text.place, "grades", question, choices, "FEPA")
        else:
            answer = self._grades.value
        return "P" if answer == BareGrades.FEPA.value else "CAMI "

    def _borrow(self, step: SaidStep, verb: Verb, stage: StageName) -> None:
        sought = Sought(verb, stage, step.text("product"), step.coats, step.text("lubricant"))
        if verb.does.uses and "product" not in step.values:
            self._take(step, "product", sought, "product")
        if not step.how:
            found = self._examples.borrow(verb.value, sought)
            if found is not None and isinstance(found.node, Text):
                step.how.append(found.node.value)
                self._notes.assume(step, "how", f"how it is done, as in {found.schedule}")
            else:
                step.how.append(verb.value)
                self._notes.assume(step, "how", f"no schedule shows how: {verb.value}")
        for key in _BORROWED:
            if key not in step.values and (key == "hands_on" or verb.lays_coats):
                self._take(step, key, sought, _NAMES[key])
        wait_of(step, sought, self._examples, self._asking, self._notes)

    def _take(self, step: SaidStep, key: str, sought: Sought, name: str) -> None:
        found = self._examples.borrow(key, sought)
        if found is None:
            return
        step.values[key] = found.node
        said = found.node.value if isinstance(found.node, Text) else ""
        self._notes.assume(step, key, f"{name} {said}, as in {found.schedule}")


def _spoken_grades(node: Node) -> str:
    texts = node.items if isinstance(node, Items) else [node]
    return ", ".join(text.value for text in texts if isinstance(text, Text))


_LONGEST_CUT = len("0.125 lb")
_CUTS = ("0.5 lb", "1 lb", "1.5 lb", "2 lb", "2.5 lb", "3 lb")


def _last_cut(step: SaidStep) -> str | None:
    node = step.values.get("thin_to") or step.values.get("cut")
    last = node.items[-1] if isinstance(node, Items) else node
    return last.value if isinstance(last, Text) else None


def _by_grade(step: SaidStep) -> SaidItem:
    """Return several grades in a row as rounds, a grade each."""
    grade = step.values.get("grade")
    if step.verb not in ABRADES or not isinstance(grade, Items) or "coats" in step.values:
        return step
    return SaidRounds(step.place, str(len(grade.items)), [step])
