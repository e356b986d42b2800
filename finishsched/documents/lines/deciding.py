"""What a step does, where its words leave that open: from what it is done with, or asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finishsched.documents.lines.asking import Asking
from finishsched.documents.lines.names import WETS, kinds_of
from finishsched.documents.lines.product_words import FAMILIES, USUAL_PRODUCTS, USUAL_WAYS
from finishsched.documents.lines.said import Notes, SaidStep
from finishsched.documents.nodes import Node, Text
from finishsched.model.doing import Lays
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import StageName, Verb
from finishsched.model.verbs import ABRADES, VERBS

_DONE_WITH = tuple(verb for verb in VERBS if verb.does.told_by_product)
_ONLY_WITH = tuple(verb for verb in _DONE_WITH if verb.does.lays not in (Lays.NOTHING, Lays.FILLER))
"""What is done with no other kinds of product; pores may be filled with a finish too."""
_OF_COATS = ("coats", "cut", "amount", "product", "thinned")


@dataclass(slots=True)
class Before:
    """What the steps so far leave to carry on."""

    coat: SaidStep | None = None
    lubricant: Node | None = None


class Decider:
    """Says what each step does, and with which products."""

    def __init__(
        self, products: Mapping[str, Product], asking: Asking, notes: Notes, before: Before
    ) -> None:
        self._products = products
        self._asking = asking
        self._notes = notes
        self._before = before
        self._asked_words = 0

    def decide(self, step: SaidStep) -> None:
        """Give the step its verb, and put a thinner where it belongs at such a step."""
        if step.as_before:
            self._like_before(step)
        self._verb(step)
        self._by_product(step)
        self._wets(step)

    def product(self, step: SaidStep) -> None:
        """Settle which product lays a coat: named, carried on from the coats before, or asked."""
        named = step.text("product")
        if named is not None and named not in FAMILIES:
            return
        before = self._before.coat
        carried = before.values.get("product") if before is not None else None
        if isinstance(carried, Text) and self._is_of(carried.value, named):
            step.values["product"] = Text(carried.value, step.place)
            if named is None:
                self._notes.assume(step, "product", f"{carried.value} as before")
            return
        kinds = FAMILIES[named] if named else (SHELLACS if "cut" in step.values else ())
        self._ask_product(step, kinds)

    def loose_words(self, step: SaidStep) -> None:
        """Ask what words mean that nothing knows; usually they are how it is done."""
        if not step.loose:
            return
        words = ", ".join(text.value for text in step.loose)
        first = step.loose[0].place
        key = "words" if first.line != self._asked_words else f"words-{first.column}"
        self._asked_words = first.line
        question = f"{words!r:.80} is none of the known words: is it how it is done?"
        choices = [("how", "yes, in your own words"), ("out", "no, leave it out")]
        if self._asking.of_step(step, key, question, choices, "how") == "how":
            step.how.append(words)

    def _like_before(self, step: SaidStep) -> None:
        """Take what is not said from the coats before: 'third coat the same way'."""
        before = self._before.coat
        if before is None:
            self._notes.fault(step.place, "there are no coats before", "write what is done")
            return
        said = {key: value for key, value in before.values.items() if key != "coats"}
        step.values = said | step.values
        step.waits = step.waits or dict(before.said_waits)
        step.how = step.how or list(before.how)
        step.verb = step.verb or before.verb
        self._notes.assume(step, "verb", f"as in line {before.line}")

    def _verb(self, step: SaidStep) -> None:
        laid = self._before.coat is not None
        if step.verb is Verb.SAND and laid:
            step.verb = Verb.LEVEL
            self._notes.assume(step, "verb", "sanding a film is levelling it")
        elif step.verb is Verb.LEVEL and step.text("reach") == "scuff" and not laid:
            step.verb = Verb.SAND
            step.values.pop("reach")
            step.how.append("lightly, just to take the shine")
            self._notes.assume(step, "verb", "scuffing bare wood is sanding it lightly")
        if step.verb is None:
            step.verb = self._done_with(step) or self._unsaid(step)

    def _done_with(self, step: SaidStep) -> Verb | None:
        kinds = kinds_of(step.text("product"), self._products)
        verb = next((verb for verb in _DONE_WITH if _fits(verb, kinds)), None)
        if verb is not None:
            self._notes.assume(step, "verb", f"done with such a product: {verb.value}")
        elif kinds == (ProductKind.POWDER,):
            usual = Verb.FILL if self._before.coat is None else Verb.RUB_OUT
            question = "is the powder worked into the pores, or is the film rubbed with it?"
            choices = [(Verb.FILL.value, "into the pores"), (Verb.RUB_OUT.value, "the film")]
            verb = Verb(self._asking.of_step(step, "powder", question, choices, usual.value))
        return verb

    def _unsaid(self, step: SaidStep) -> Verb | None:
        said, laid = step.values, self._before.coat is not None
        if (
            any(key in said for key in _OF_COATS)
            or step.thin_by is not None
            or step.stage is StageName.SEAL
        ):
            return self._way_of_coating(step)
        if "grade" in said:
            verb = Verb.LEVEL if laid else Verb.SAND
            self._notes.assume(step, "verb", f"paper on its own means {verb.value}")
            return verb
        if step.waits:
            self._notes.assume(step, "verb", "a time on its own means a rest")
            return Verb.REST
        if step.thinner is not None:
            self._notes.assume(step, "verb", "with nothing but that it is cleaned")
            return Verb.TACK_OFF
        if all(fault.line != step.line for fault in self._notes.faults):
            self._notes.fault(
                step.place, "this does not say what is done", "begin with sand, pad, level or so"
            )
        return None

    def _way_of_coating(self, step: SaidStep) -> Verb:
        kinds = kinds_of(step.text("product"), self._products)
        before = self._before.coat
        if (
            before is not None
            and before.verb is not None
            and (not kinds or {*kinds} & {*kinds_of(before.text("product"), self._products)})
        ):
            self._notes.assume(step, "verb", f"{before.verb.value} as before")
            return before.verb
        choices = [(v.value, f"{v.value} it on") for v in Verb if v.lays_coats]
        usual = USUAL_WAYS.get(kinds[0] if kinds else None, Verb.PAD)
        question = "how are these coats laid on?"
        return Verb(self._asking.of_step(step, "way", question, choices, usual.value))

    def _by_product(self, step: SaidStep) -> None:
        """Change what is done where its product says that the trade calls it otherwise."""
        kinds = kinds_of(step.text("product"), self._products)
        if step.verb is not None and step.verb.lays_coats and _fits(Verb.STAIN, kinds):
            self._notes.assume(step, "verb", f"{step.verb.value} a dye or stain on: stain")
            step.how.append(step.verb.value)
            step.verb = Verb.STAIN
        elif step.verb is Verb.GLAZE and "cut" in step.values:
            question = "is this a coloured glaze, or thin last coats?"
            choices = [("pad", "thin coats, padded on"), ("glaze", "a coloured glaze")]
            step.verb = Verb(self._asking.of_step(step, "glaze", question, choices, "pad"))
        if step.verb in _ONLY_WITH and kinds and not {*kinds} & {*step.verb.does.uses}:
            self._notes.fault(
                step.place,
                f"{step.verb.value} is not done with {step.text('product')}",
                "write a line for each thing that is done",
            )
        cut = step.text("cut")
        if step.verb is Verb.FILL and cut is not None and _fits(Verb.FILL, kinds) is False:
            step.values.pop("cut")
            step.how.append(f"with shellac of {cut}")
            self._notes.assume(step, "how", f"worked in with shellac of {cut}")
        named = step.text("product")
        on_paper = step.verb in ABRADES and step.verb is not Verb.RUB_OUT
        if named in FAMILIES and step.verb is not None and not (step.verb.lays_coats or on_paper):
            self._ask_product(step, FAMILIES[str(named)])
        elif named is None and step.verb in _DONE_WITH:
            self._ask_product(step, step.verb.does.uses)

    def _wets(self, step: SaidStep) -> None:
        """Take a thinner for what it is at such a step: on the paper, in the coat, on the cloth."""
        on_paper = {*kinds_of(step.text("product"), self._products)} & {*WETS, ProductKind.OIL}
        if on_paper and step.verb in ABRADES and step.verb is not Verb.RUB_OUT:
            moved = step.values.pop("product")
            step.thinner = moved if isinstance(moved, Text) else None
        thinner, step.thinner = step.thinner, None
        if thinner is None or step.verb is None:
            return
        laid_with = step.thin_by is not None or step.values.keys() & {
            "coats",
            "cut",
            "thinned",
            "product",
        }
        if step.verb in ABRADES:
            step.values.setdefault("lubricant", self._one_of(step, thinner))
        elif step.verb.lays_coats and laid_with:
            step.how.append(f"with {thinner.value.replace('-', ' ')}")
        else:
            self._with_nothing_else(step)
            step.values.setdefault("product", self._one_of(step, thinner))

    def _with_nothing_else(self, step: SaidStep) -> None:
        """Take padding or wiping with a thinner alone for what the trade calls it."""
        instead = {Verb.WIPE: Verb.TACK_OFF, Verb.PAD: Verb.SPIRIT_OFF}
        if step.verb in instead:
            said, step.verb = step.verb, instead[step.verb]
            says = f"{said.value} with nothing but that: {step.verb.value}"
            self._notes.assume(step, "verb", says)

    def _one_of(self, step: SaidStep, named: Text) -> Text:
        """Return one product of those that a name stands for."""
        if named.value in self._products:
            return named
        kinds = kinds_of(named.value, self._products)
        fitting = [p for p in self._products.values() if p.kind in kinds]
        usual = self._choose(step, "with", f"which {named.value} is it?", fitting)
        return named if usual is None else Text(usual, named.place)

    def _is_of(self, product: str, family: str | None) -> bool:
        found = self._products.get(product)
        return family is None or (found is not None and found.kind in FAMILIES[family])

    def _ask_product(self, step: SaidStep, kinds: Sequence[ProductKind]) -> None:
        fitting = [
            product
            for product in self._products.values()
            if (product.kind in kinds if kinds else product.mechanism is not None)
        ]
        chosen = self._choose(step, "product", "which product is it?", fitting)
        if chosen is not None:
            step.values["product"] = Text(chosen, step.place)

    def _choose(
        self, step: SaidStep, key: str, question: str, fitting: Sequence[Product]
    ) -> str | None:
        if not fitting:
            return None
        names = [product.id for product in fitting]
        usual = next((name for name in USUAL_PRODUCTS if name in names), names[0])
        if len(names) == 1:
            self._notes.assume(step, "product", f"{usual}: the only one of its kind here")
            return usual
        choices = [(product.id, product.title) for product in fitting]
        return self._asking.of_step(step, key, question, choices, usual)


def _fits(verb: Verb, kinds: Sequence[ProductKind]) -> bool:
    return bool(kinds) and {*kinds} <= {*verb.does.uses}
