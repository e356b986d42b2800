"""One step of a schedule as rules look at it: what it lays, rubs off, wets and brings."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.film.abrading import usual_reach
from finishsched.film.solids import carries_film
from finishsched.model.doing import Lays, Wets
from finishsched.model.film import Reach
from finishsched.model.grades import is_steel
from finishsched.model.how import tells
from finishsched.model.kinds import SHELLACS
from finishsched.model.lubricants import WATERS, is_wet
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.step import Step
from finishsched.model.verbs import Verb, washes


@dataclass(frozen=True, slots=True)
class Move:
    """One step of a schedule where it stands: in the order of the work, and in its document."""

    at: int
    """From 0, in the order of the work."""
    step: Step
    path: tuple[str | int, ...]
    product: Product | None = None
    lubricant: Product | None = None
    pulls_dry: bool = False
    """True for tape that masked something: gummed tape over a seam is wetted, this is not."""

    @property
    def verb(self) -> Verb:
        """What it does."""
        return self.step.verb

    @property
    def words(self) -> str:
        """The step with its place: ``body, round 2 of 3: level P400``."""
        return f"{self.step.place}: {self.step.title}"

    @property
    def reach(self) -> Reach | None:
        """How far it takes the film down: as the step says, else as its verb does."""
        return self.step.reach or usual_reach(self.verb, self.step.stage)

    @property
    def earliest_s(self) -> float:
        """The least that its wait takes; 0 for none."""
        return self.step.wait.earliest_s if self.step.wait else 0.0

    @property
    def likely_s(self) -> float:
        """What its wait likely takes; 0 for none."""
        return self.step.wait.likely_s if self.step.wait else 0.0

    @property
    def amount_ml_per_m2(self) -> float | None:
        """What it lays on each square metre, in ml; None where it says none, or grams."""
        return self.step.spread.ml_per_m2 if self.step.spread else None

    @property
    def kind(self) -> ProductKind | None:
        """What kind of product it uses; None where that is not known."""
        return self.product.kind if self.product else None

    @property
    def is_film(self) -> bool:
        """True for a coat that lays film; one of an unknown product is taken for it."""
        return self.verb.lays_coats and (self.kind is None or carries_film(self.kind))

    @property
    def is_filler(self) -> bool:
        """True where pores are filled with a filler, not with a powder."""
        return self.verb.does.lays is Lays.FILLER and self.kind in (None, ProductKind.FILLER)

    @property
    def lays(self) -> bool:
        """True for whatever lies on the face afterwards: coat, stain, filler, wax."""
        return self.verb.lays

    @property
    def is_shellac(self) -> bool:
        """True for a coat of shellac."""
        return self.verb.lays_coats and self.kind in SHELLACS

    @property
    def rubs_with_steel(self) -> bool:
        """True for steel wool, by its grade or as the tool in the hand."""
        in_hand = f"{self.step.tool}. {self.step.how}"
        return is_steel(self.step.grade or "") or tells(in_hand, r"\b(?:steel|wire) wool")

    @property
    def is_dry(self) -> bool:
        """True where nothing wets the abrasive."""
        return not is_wet(self.step.lubricant)

    @property
    def brings(self) -> tuple[Product, ...]:
        """What it brings onto the work."""
        return tuple(product for product in (self.product, self.lubricant) if product)

    @property
    def washes(self) -> bool:
        """True where it takes oil and wax off the face."""
        return washes(self.verb, self.product)

    @property
    def wets(self) -> Wets:
        """What it brings onto the face by itself, whatever product it names."""
        return Wets.NOTHING if self.pulls_dry else self.verb.does.wets

    @property
    def must_dry(self) -> bool:
        """True for what leaves something wet, and for a rest."""
        return self.verb.does.must_dry and not self.pulls_dry

    @property
    def wets_with_water(self) -> bool:
        """True where water comes on the face, that of a glue or a coat apart."""
        if self.step.lubricant in WATERS:
            return True
        return any(
            one.mechanism is Mechanism.WATER and one.kind is ProductKind.THINNER
            for one in self.brings
        )

    @property
    def is_wetted(self) -> bool:
        """True where water comes on the face, by the step itself or by what it brings."""
        return self.wets is Wets.WATER or self.wets_with_water

    def key(self, name: str) -> tuple[str | int, ...]:
        """Return the path of one of its keys, or of its verb where that key is not written."""
        written = {
            "wait": self.step.wait,
            "amount": self.step.spread,
            "coats": self.step.coats > 1,
            "cut": self.step.cut_g_per_l,
            "grade": self.step.grade,
            "thinned": self.step.thinned_percent is not None,
            "product": self.step.product,
            "lubricant": self.step.lubricant,
        }
        return (*self.path, name) if written.get(name) else self.verb_path

    @property
    def verb_path(self) -> tuple[str | int, ...]:
        """Return the path of the words after its verb."""
        return (*self.path, self.verb.value)
