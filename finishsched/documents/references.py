"""Faults across documents: names that nothing has, and products that cannot be used so."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping, MutableMapping
from dataclasses import dataclass
from typing import cast

from finishsched.documents.document import Document
from finishsched.documents.faults import Fault
from finishsched.documents.nodes import Path
from finishsched.documents.unread import Unread, names_unread
from finishsched.documents.wording import did_you_mean
from finishsched.model.job import Job
from finishsched.model.kinds import SHELLACS
from finishsched.model.lubricants import LUBRICANT_WORDS
from finishsched.model.product import Product
from finishsched.model.recipe import in_a_circle
from finishsched.model.schedule import Rounds, Schedule, StepPlan
from finishsched.model.shop import Shop
from finishsched.model.woods_described import OwnWood, is_material, not_a_material
from finishsched.near import either


def unknown_names(
    documents: Iterable[Document],
    products: Mapping[str, Product],
    schedules: Mapping[str, Schedule],
    unread: Iterable[Unread] = (),
    woods: Iterable[OwnWood] = (),
) -> list[Fault]:
    """Return the faults of ``documents`` against the ``products`` and ``schedules`` there are.

    Those in ``documents`` themselves count as being there too, and so do those that could not be
    read; the names in these are looked up as far as they can be made out. A name that is not known
    is a fault, and so is a cut of a product that has none, and thinning one that no product thins.
    ``woods`` are those that the shop around them describes itself.
    """
    documents = list(documents)
    shops = (document.model for document in documents if isinstance(document.model, Shop))
    own_woods = (*woods, *(wood for shop in shops for wood in shop.woods))
    own_products = {d.model.id: d.model for d in documents if isinstance(d.model, Product)}
    own_schedules = {d.model.id for d in documents if isinstance(d.model, Schedule)}
    # ChainMap asks for mutable mappings in its types, and never writes to any but the first.
    shelf = cast("MutableMapping[str, Product]", products)
    all_products: Mapping[str, Product] = ChainMap(own_products, shelf)
    unread = tuple(unread)
    hidden: dict[str, set[str]] = {"product": set(), "schedule": set()}
    for one in unread:
        hidden.setdefault(one.kind, set()).add(one.id)
    all_schedules = own_schedules.union(schedules, hidden["schedule"])
    faults = [
        fault for one in unread for fault in names_unread(one, all_products, all_schedules, hidden)
    ]
    for document in documents:
        check = _Check(document, all_products, frozenset(hidden["product"]))
        if isinstance(document.model, Job):
            faults += check.job(document.model, all_schedules)
            faults += check.inlays(document.model, own_woods)
        elif isinstance(document.model, Schedule):
            faults += check.schedule(document.model)
        elif isinstance(document.model, Product):
            faults += check.product(document.model)
        elif isinstance(document.model, Shop):
            faults += check.shop(document.model)
    return sorted(faults)


@dataclass(frozen=True, slots=True)
class _Check:
    document: Document
    products: Mapping[str, Product]
    hidden: frozenset[str] = frozenset()
    """Products whose own documents could not be read."""

    def job(self, job: Job, schedules: Iterable[str]) -> Iterator[Fault]:
        known = set(schedules)
        for position, piece in enumerate(job.pieces):
            for turn, name in enumerate(piece.schedules):
                if name not in known:
                    path: Path = ("pieces", position, "schedule")
                    if piece.then:
                        path = ("pieces", position, "schedules", turn)
                    yield self._unknown("schedule", name, known, path)

    def inlays(self, job: Job, own: tuple[OwnWood, ...]) -> Iterator[Fault]:
        for position, piece in enumerate(job.pieces):
            for turn, inlay in enumerate(piece.inlays):
                if not is_material(inlay.material, own):
                    path = ("pieces", position, "inlay", turn, "material")
                    yield self._fault(path, *not_a_material(inlay.material), "unknown-name")

    def schedule(self, schedule: Schedule) -> Iterator[Fault]:
        for path, step in _steps(schedule):
            yield from self.known_product(step.product, (*path, "product"))
            if step.lubricant not in LUBRICANT_WORDS:
                yield from self.known_product(step.lubricant, (*path, "lubricant"))
            yield from self._usable(step, path)

    def shop(self, shop: Shop) -> Iterator[Fault]:
        for position, pack in enumerate(shop.packs):
            yield from self.known_product(pack.product, ("packs", position, "product"))

    def product(self, product: Product) -> Iterator[Fault]:
        yield from self.known_product(product.thinner, ("thinner",))
        for position, part in enumerate(product.recipe.parts if product.recipe else ()):
            yield from self.known_product(part.product, ("recipe", "of", position, "product"))
        if in_a_circle(product, self.products):
            yield self._fault(
                ("recipe",),
                f"{product.id!r} is made of itself, by way of its parts",
                "let one of them be bought, or made of something else",
            )

    def known_product(self, name: str | None, path: Path) -> Iterator[Fault]:
        if name is not None and name not in self.products and name not in self.hidden:
            yield self._unknown("product", name, self.products, path)

    def _usable(self, step: StepPlan, path: Path) -> Iterator[Fault]:
        product = self.products.get(step.product or "")
        if product is None:
            return
        if step.cut_g_per_l and not product.kind.is_shellac:
            yield self._fault(
                (*path, "cut"),
                f"{product.id!r} is {product.kind.value} and has no cut",
                f"leave it out; only {either(SHELLACS)} has one",
            )
        if any(step.thinned_percent) and product.thinner is None:
            yield self._fault(
                (*path, "thinned"),
                f"{product.id!r} names no thinner",
                "leave it out, or add 'thinner:' to the product",
            )

    def _unknown(self, noun: str, name: str, known: Iterable[str], path: Path) -> Fault:
        otherwise = f"check the name, or add a {noun} of that name"
        remedy = did_you_mean(name, known, otherwise)
        return self._fault(path, f"there is no {noun} {name!r}", remedy, "unknown-name")

    def _fault(self, path: Path, message: str, remedy: str, rule: str = "bad-value") -> Fault:
        line, column = self.document.place(*path)
        return Fault(self.document.name, line, column, message, remedy, rule)


def _steps(schedule: Schedule) -> Iterator[tuple[Path, StepPlan]]:
    """Give each step as written with its path in the document."""
    for stage_at, stage in enumerate(schedule.stages):
        for item_at, item in enumerate(stage.steps):
            path: Path = ("stages", stage_at, "steps", item_at)
            if isinstance(item, Rounds):
                for step_at, step in enumerate(item.steps):
                    yield (*path, "steps", step_at), step
            else:
                yield path, item
