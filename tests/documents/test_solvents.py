"""Faults of the keys that tell of solvents, limits and storage, each with its place."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.solvent import FlameClass, Liquid, LocalLimit, SolventShare, StorageLimit

PRODUCT = """\
product: mine
title: Mine
kind: varnish
hazards: []
rags: harmless
solvents: {solvents}
sources: {{hazards: x, rags: x, solvents: x}}
"""
SHOP = "shop: Mine\n"


def faults_of(text):
    """Return the faults of a document as text."""
    with pytest.raises(DocumentFaultsError) as caught:
        read(text.encode(), "x.yaml")
    return [str(fault) for fault in caught.value.faults]


def test_shares_limits_and_places_are_read():
    """By volume or by weight; ppm; a class, or all of them together."""
    product = read(
        PRODUCT.format(
            solvents="[{solvent: toluene, by_volume: 40 %}, {solvent: ethanol, by_mass: 5 %}]"
        ).encode(),
        "x",
    ).model
    assert product.solvents == (
        SolventShare(Liquid.TOLUENE, by_volume_percent=40.0),
        SolventShare(Liquid.ETHANOL, by_mass_percent=5.0),
    )
    shop = read(
        (
            SHOP + "limits: [{solvent: ethanol, most: 500 ppm}]\n"
            "storage: [{place: steel, class: IB, most: 10 l}, {place: steel, most: 5 gal}]\n"
            "alcohol: {strength: 95 %vol, methanol: 5 %}\n"
        ).encode(),
        "x",
    ).model
    assert shop.limits == (LocalLimit(Liquid.ETHANOL, 500.0),)
    assert shop.storage[0] == StorageLimit("steel", 10_000.0, FlameClass.IB)
    assert shop.storage[1].flame_class is None
    assert shop.alcohol.methanol_percent == 5.0


def test_none_and_nothing_said_are_not_the_same():
    """``[]`` says that nothing leaves it; without the key nobody has said."""
    assert read(PRODUCT.format(solvents="[]").encode(), "x").model.solvents == ()
    without = PRODUCT.format(solvents="[]").replace("solvents: []\n", "")
    assert read(without.encode(), "x").model.solvents is None


@pytest.mark.parametrize(
    ("solvents", "said"),
    [
        ("[{solvent: ethanol}]", "share is given nowhere"),
        ("[{solvent: ethanol, by_mass: 5 %, by_volume: 5 %}]", "share is given twice"),
        ("[{solvent: ethanl, by_mass: 5 %}]", "did you mean 'ethanol'"),
        ("[{solvent: ethanol, by_mass: 5}]", "no unit"),
        (
            "[{solvent: ethanol, by_mass: 70 %}, {solvent: toluene, by_mass: 40 %}]",
            "more than the whole",
        ),
    ],
)
def test_shares_that_cannot_be(solvents, said):
    """One share each, of a known liquid, and together no more than the whole."""
    (fault,) = faults_of(PRODUCT.format(solvents=solvents))
    assert said in fault
    assert fault.startswith("x.yaml:6:")


def test_solvents_need_a_source():
    """As every figure of a product does."""
    text = PRODUCT.format(solvents="[]").replace(", solvents: x", "")
    assert "'solvents' has no source" in faults_of(text)[0]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("limits: [{solvent: ethanol, most: 500}]", "no unit"),
        ("limits: [{most: 500 ppm}]", "no 'solvent'"),
        ("storage: [{place: a, class: IX, most: 1 l}]", "'IX' is not a class"),
        ("storage: [{place: a}]", "no 'most'"),
        ("alcohol: {strength: 95 %vol, methanol: 105 %}", "outside"),
    ],
)
def test_limits_and_places_that_cannot_be(lines, said):
    """Each fault names its line."""
    (fault,) = faults_of(SHOP + lines + "\n")
    assert said in fault
    assert fault.startswith("x.yaml:2:")
