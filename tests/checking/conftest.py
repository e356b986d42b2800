"""Fragments of documents, made whole and judged by every rule."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.checking.cases import PieceCase, ScheduleCase, ShopCase
from finishsched.checking.findings import (
    piece_findings,
    product_findings,
    schedule_findings,
    shop_findings,
)
from finishsched.checking.rule import Kind
from finishsched.documents.decode import read
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.product import Mechanism, Product, ProductKind, RagHabit
from finishsched.model.shop import Shop
from finishsched.model.stock import Batch
from finishsched.workshop.defects.checks import open_spans

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
NEEDED_STAGES = "- stage: body\n  steps:\n    - {rest: on pins}\n"

MADE_UP = (
    Product("satin-varnish", "Satin varnish", ProductKind.VARNISH, Mechanism.OXIDISING),
    Product("walnut-stain", "Walnut stain", ProductKind.STAIN, Mechanism.WATER),
    Product(
        "danish-oil",
        "Danish oil",
        ProductKind.OIL,
        Mechanism.OXIDISING,
        volume_solids_percent=60.0,
        rags=RagHabit.SELF_HEATING,
    ),
    Product("wood-bleach", "Two-part wood bleach", ProductKind.BLEACH, Mechanism.WATER),
    Product("wood-lye", "Lye", ProductKind.ALKALI, Mechanism.WATER),
    Product("sanding-sealer", "Sanding sealer", ProductKind.LACQUER, Mechanism.SOLVENT),
    Product("bare-thinner", "Bare thinner", ProductKind.THINNER, hazards=("H225",)),
    Product(
        "two-part-clear",
        "Two-part clear",
        ProductKind.VARNISH,
        Mechanism.TWO_PART,
        volume_solids_percent=50.0,
    ),
)
"""Products that no shop has, for rules that the shipped ones give no cause to."""


@dataclass
class Judge:
    """Says which rules tell of a fragment."""

    products: Mapping[str, Product] = field(
        default_factory=lambda: {**shipped_products(), **{p.id: p for p in MADE_UP}}
    )

    def schedule(self, stages: str, look: str = "") -> set[str]:
        """Return the codes that tell of a schedule with these stages."""
        return {finding.code for finding in schedule_findings(self.case(stages, look))}

    def case(self, stages: str, look: str = "") -> ScheduleCase:
        """Return a schedule with these stages, as rules look at it."""
        says = f"look: {look}\n" if look else ""
        text = f"schedule: mine\ntitle: Mine\nsource: common practice\n{says}stages:\n"
        model = read((text + textwrap.indent(stages, "  ")).encode(), "mine.yaml").model
        return ScheduleCase(model, self.products)

    def piece(
        self, keys: str, shop: str = "", stages: str = "", jar_days: float | None = None
    ) -> set[str]:
        """Return the codes that tell of a piece with these keys."""
        text = "job: box\ntitle: Box\npieces:\n  - " + keys.strip().replace("\n", "\n    ") + "\n"
        job = read(text.encode(), "box.yaml").model
        (piece,) = job.pieces
        schedules = {**shipped_schedules()}
        schedules["mine"] = self.case(stages or NEEDED_STAGES).schedule
        where = read(f"shop: Corner\n{shop}".encode(), "shop.yaml").model if shop else None
        mixed = NOW - timedelta(days=jar_days or 0)
        jar = Batch("jar", "shellac-dewaxed-blonde", mixed, 500.0, 400.0, 240.0)
        case = PieceCase(
            piece,
            ScheduleCase(schedules[piece.schedule], self.products, where or Shop("")),
            job,
            ("pieces", 0),
            where,
            open_spans(where) if where else (),
            NOW,
            batches=(jar,) if jar_days is not None else (),
        )
        return {finding.code for finding in piece_findings(case)}

    def shop(self, text: str) -> set[str]:
        """Return the codes that tell of a shop."""
        document = read(text.encode(), "shop.yaml")
        written = frozenset(str(path[0]) for path in document.places if path)
        return {finding.code for finding in shop_findings(ShopCase(document.model, written))}

    def product(self, text: str) -> set[str]:
        """Return the codes that tell of a product."""
        return {f.code for f in product_findings(read(text.encode(), "mine.yaml").model)}

    def example(self, rule, text: str) -> set[str]:
        """Return the codes that tell of one side of a rule's own example."""
        example = rule.example
        if example.kind is Kind.PIECE:
            jar_days = 365.0 if "mixed a year ago" in example.besides else None
            return self.piece(text, example.shop, example.stages, jar_days)
        if example.kind is Kind.SHOP:
            return self.shop(text)
        if example.kind is Kind.PRODUCT:
            return self.product(text)
        look = example.besides.rpartition("look is ")[2] if "look is" in example.besides else ""
        return self.schedule(text, look)


@pytest.fixture(scope="session")
def judge() -> Judge:
    """Return what judges fragments."""
    return Judge()
