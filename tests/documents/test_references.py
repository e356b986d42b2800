"""Faults across documents: names, cuts and thinners."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import read
from finishsched.documents.references import unknown_names
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Schedule

PRODUCTS = {
    "blonde-flakes": Product("blonde-flakes", "Blonde", ProductKind.FLAKES, thinner="alcohol"),
    "alcohol": Product("alcohol", "Alcohol", ProductKind.ALCOHOL),
    "varnish": Product("varnish", "Varnish", ProductKind.VARNISH),
}
SCHEDULES = {"padded": Schedule("padded", "Padded", ())}


def document(step: str):
    """Return a schedule whose one step is in rounds, its lines at column 13 from line 9."""
    text = (
        "schedule: own\ntitle: Own\nsource: mine\nstages:\n  - stage: body\n    steps:\n"
        "      - rounds: 2\n        steps:\n          - "
        + step.replace("\n", "\n            ")
        + "\n"
    )
    return read(text.encode(), "s.yaml")


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        ("pad: a\nproduct: blonde-flaks",
         "s.yaml:10:22: there is no product 'blonde-flaks'; did you mean 'blonde-flakes'?"),
        ("level: a\nlubricant: alcool",
         "s.yaml:10:24: there is no product 'alcool'; did you mean 'alcohol'?"),
        ("pad: a\nproduct: varnish\ncut: 2 lb",
         ("s.yaml:11:18: 'varnish' is varnish and has no cut; "
          "leave it out; only flakes or shellac has one")),
        ("brush: a\nproduct: varnish\nthinned: 50 %",
         ("s.yaml:11:22: 'varnish' names no thinner; "
          "leave it out, or add 'thinner:' to the product")),
    ],
)  # fmt: skip
def test_each_fault_of_a_schedule_has_its_place(step, expected):
    """A name or a use that cannot be is told at the value that says it."""
    assert [str(f) for f in unknown_names([document(step)], PRODUCTS, SCHEDULES)] == [expected]


@pytest.mark.parametrize(
    "step",
    [
        "level: a\nlubricant: water",
        "level: a\nlubricant: soapy water",
        "pad: a\nproduct: blonde-flakes\ncut: 2 lb\nthinned: 10 %\nlubricant: alcohol",
    ],
)
def test_what_is_known_is_no_fault(step):
    """Known products, and lubricants that need no product, pass."""
    assert unknown_names([document(step)], PRODUCTS, SCHEDULES) == []


def test_a_job_names_schedules_and_a_product_its_thinner():
    """Names in jobs and products are looked up too, and all faults come sorted."""
    job = read(
        b"job: a\ntitle: A\npieces:\n  - {piece: b, title: B, schedule: paded,"
        b" faces: [{face: c, area: 1 m2}]}\n  - {piece: c, title: B, schedule: own,"
        b" faces: [{face: c, area: 1 m2}]}\n",
        "j.yaml",
    )
    product = read(
        b"product: p\ntitle: P\nkind: oil\nthinner: zzz\nhazards: []\nrags: harmless\n"
        b"sources: {hazards: x, rags: x}\n",
        "p.yaml",
    )
    own = document("pad: a\nproduct: p")
    faults = unknown_names([product, job, own], PRODUCTS, SCHEDULES)
    assert [(f.file, f.line, f.column, f.rule) for f in faults] == [
        ("j.yaml", 4, 36, "unknown-name"),
        ("p.yaml", 4, 10, "unknown-name"),
    ]
    assert faults[0].remedy == "did you mean 'padded'?"


def test_a_shop_buys_products_that_there_are():
    """A pack of an unknown product is told at its name, in a shop too."""
    shop = read(
        b"shop: A\npacks:\n  - {product: alcohol, size: 1 l}\n  - {product: varnsh, size: 1 l}\n",
        "shop.yaml",
    )
    assert [str(fault) for fault in unknown_names([shop], PRODUCTS, SCHEDULES)] == [
        "shop.yaml:4:15: there is no product 'varnsh'; did you mean 'varnish'?"
    ]
