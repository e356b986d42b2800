"""Every row of the table of woods, walked through each room that has to know it."""

import ast
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import finishsched
from finishsched.drying.species import UNKNOWN_KG_PER_M3, density_kg_per_m3
from finishsched.film.materials import janka_n
from finishsched.film.species import UNKNOWN_HOLLOW_UM, pores_hollow_um, wants_filling
from finishsched.mixing.amount import Pores, pores_of
from finishsched.model.inlays import INLAYS, inlays_in
from finishsched.model.woods import (
    Degree,
    DustHarm,
    Oil,
    PoreClass,
    PoreSize,
    Wood,
    by_name,
    table,
    woods_of,
)
from finishsched.model.woods_described import OwnWood, in_full
from finishsched.safety.dust import dust_of

NAMES = sorted(by_name())


def test_eighty_woods_and_no_name_twice():
    """The table is as wide as the trade's, and a name means one wood."""
    names = [name.lower() for row, _ in table() for name in row]
    assert len(table()) >= 80
    assert len(names) == len(set(names))


@pytest.mark.parametrize("name", NAMES)
def test_every_room_knows_it(name):
    """Amounts, film, drying and dust each find the wood by each of its names."""
    (wood,) = woods_of(f"{name} veneer")
    assert wood.name == name
    assert pores_of(name) is (Pores.OPEN if wood.fill else Pores.CLOSED)
    assert wants_filling(name) is wood.fill
    assert pores_hollow_um(name) != UNKNOWN_HOLLOW_UM
    assert density_kg_per_m3(name) == wood.kg_per_m3
    assert janka_n(name) == wood.janka_n
    said = " ".join(dust_of(name))
    assert (DustHarm.SENSITISES in wood.dust) == ("allergy" in said)
    assert (DustHarm.LUNGS in wood.dust) == ("asthma" in said)
    assert (DustHarm.POISONOUS in wood.dust) == ("poisonous" in said)


def test_rows_are_within_what_wood_is():
    """Densities, shrinkage and pores as wood has them: tangential over radial, no pores in pine."""
    for _, wood in table():
        assert 200 <= wood.kg_per_m3 <= 1300
        if wood.shrinks_tangential_percent is not None:
            assert 2 < wood.shrinks_radial_percent < wood.shrinks_tangential_percent < 13
        assert (wood.pores == "softwood") == (wood.pore_class is PoreClass.NONE)
        assert wood.fill or wood.size is not PoreSize.LARGE


def test_the_longest_name_counts():
    """African blackwood is one wood, and walnut shell is no shell."""
    assert [wood.name for wood in woods_of("African blackwood and maple")] == [
        "african blackwood",
        "maple",
    ]
    assert [wood.botanical for wood in woods_of("eastern red cedar")] == ["Juniperus virginiana"]
    assert not any(one.name == "shell" for one in inlays_in("walnut shell"))
    assert [one.name for one in inlays_in("hornbeam with horn")] == ["horn"]


def test_the_shops_own_wood_goes_first():
    """What the shop says of a wood holds before the table."""
    own = Wood("maple", PoreClass.OPEN, PoreSize.LARGE)
    (found,) = woods_of("maple", (own,))
    assert found.fill
    assert (
        woods_of("quince", (Wood("quince", PoreClass.CLOSED, PoreSize.SMALL),))[0].name == "quince"
    )


@given(st.text(max_size=60))
def test_any_words_are_read(words):
    """No text breaks the reader, and what it names is in the table."""
    assert all(wood.name in by_name() for wood in woods_of(words))
    assert all(one in INLAYS for one in inlays_in(words))


def test_an_unknown_wood_may_be_likened_to_a_known_one():
    """Said to be like pear, quince is taken as pear by every room."""
    assert [wood.name for wood in woods_of("quince like pear")] == ["pear"]
    assert density_kg_per_m3("quince like pear") == density_kg_per_m3("pear")
    assert pores_of("ziricote like rosewood") is Pores.OPEN
    assert "allergy" in " ".join(dust_of("ziricote like rosewood"))


def test_a_wood_is_described_where_it_is_named():
    """In every room quince is what its maker says, and the wood that it is like is none of them."""
    said = "maple and quince (like pear, oily, bleeds in alcohol, dust irritates, 720 kg/m3)"
    maple, quince = woods_of(said)
    assert (maple.name, quince.name) == ("maple", "quince")
    assert quince.oily
    assert quince.bleeds_in == ("alcohol",)
    assert quince.pore_class is woods_of("pear")[0].pore_class
    assert density_kg_per_m3("quince (720 kg/m3)") == 720
    assert pores_of("quince (open pores)") is Pores.OPEN
    assert wants_filling("quince (open pores)")
    assert "allergy" in " ".join(dust_of("quince (dust brings on allergy)"))


OWN = (
    OwnWood("quince", "like pear, oily, bleeds in alcohol"),
    OwnWood("old quince", "open pores"),
    OwnWood("pear", "blotches"),
)


def test_a_wood_of_the_shop_is_described_once_for_all_pieces():
    """Each by its own words, the longer name first, over the table and beside woods of it."""
    maple, quince = woods_of(in_full("Maple with Quince", OWN))
    assert (maple.name, quince.name) == ("maple", "quince")
    assert quince.oily
    assert woods_of(in_full("old quince", OWN))[0].fill
    assert woods_of(in_full("pear", OWN))[0].blotches is Degree.YES
    assert woods_of(in_full("quince (closed pores)", OWN))[0].oil is Oil.NONE
    assert in_full("maple and rosewood", OWN) == "maple and rosewood"


def test_brackets_that_describe_nothing_change_nothing():
    """A remark behind a wood stays a remark."""
    assert woods_of("ash (from the garden)") == woods_of("ash")
    assert woods_of("quince (from the garden)") == ()


def test_an_unknown_wood_is_taken_as_unknown():
    """Where no wood is known every room says so in its own way."""
    assert woods_of("quince") == ()
    assert pores_of("quince") is Pores.UNKNOWN
    assert wants_filling("quince") is None
    assert density_kg_per_m3("quince") == UNKNOWN_KG_PER_M3


def test_no_room_keeps_a_list_of_woods_of_its_own():
    """Three names of woods side by side in a literal are a copy of a column of the table."""
    copies = []
    root = Path(finishsched.__file__).parent
    for path in sorted(root.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Tuple | ast.Set | ast.List):
                words = [one.value for one in node.elts if isinstance(one, ast.Constant)]
            elif isinstance(node, ast.Dict):
                words = [one.value for one in node.keys if isinstance(one, ast.Constant)]
            else:
                continue
            if sum(word in by_name() for word in words) >= 3:
                copies.append(f"{path.relative_to(root).as_posix()}:{node.lineno}")
    assert copies == []


def test_a_wood_may_be_called_by_its_name_and_wood():
    """Cherrywood is cherry; rosewood and boxwood are woods of their own, plywood is none."""
    assert [wood.name for wood in woods_of("cherrywood and Maplewood")] == ["cherry", "maple"]
    assert [wood.name for wood in woods_of("rosewood, boxwood")] == ["rosewood", "boxwood"]
    assert woods_of("plywood") == ()
