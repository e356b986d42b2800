"""What is dumped reads back as exactly the same model, to the last bit of every float."""

from __future__ import annotations

import pytest
import yaml
from drawn_models import jobs, lines, products, schedules, settings_, shops
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.documents import library
from finishsched.documents.decode import dump, read
from finishsched.documents.faults import DocumentFaultsError

SLOW = settings(
    max_examples=25, deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip


def same_again(model) -> None:
    """Check that ``model`` dumped and read is itself, and that the text is stable."""
    text = dump(model)
    again = read(text.encode(), "x").model
    assert again == model, text
    assert dump(again) == text
    assert yaml.safe_load(text) is not None  # any YAML reader can read it too


@SLOW
@given(products)
def test_products_come_back_the_same(model):
    """Every product that can be loaded survives dumping and loading exactly."""
    same_again(model)


@SLOW
@given(schedules)
def test_schedules_come_back_the_same(model):
    """Every schedule does: lists by coat and by round, waits of all forms, ids of both sorts."""
    same_again(model)


@SLOW
@given(jobs)
def test_jobs_come_back_the_same(model):
    """Every job does, by sides or by area."""
    same_again(model)


@SLOW
@given(shops | settings_)
def test_shops_and_settings_come_back_the_same(model):
    """Every shop and every person's settings do."""
    same_again(model)


@pytest.mark.parametrize("name", library.schedule_names())
def test_shipped_schedules_come_back_the_same(name):
    """What is shipped is pleasant to read after dumping and exactly the same."""
    same_again(library.shipped_schedule(name).model)


@pytest.mark.parametrize("name", library.product_names())
def test_shipped_products_come_back_the_same(name):
    """Figures with rounding in their unit survive as well."""
    same_again(library.shipped_product(name).model)


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("2 lb", "2 lb"), ("1 1/2 lb", "1.5 lb"), ("240 g/L", "240 g/L"), ("200 g/l", "200 g/L"),
        ("20 %w/v", "200 g/L"), ("1.5 lb/impgal", "1.5 lb/impgal"),
    ],
)  # fmt: skip
def test_cuts_are_written_as_the_trade_does(written, shown):
    """A dumped cut is a round number in a unit of the trade wherever there is one."""
    text = (
        "schedule: a\ntitle: A\nsource: b\nstages:\n  - stage: body\n    steps:\n"
        f"      - pad: c\n        product: d\n        cut: {written}\n"
    )
    assert f"cut: {shown}\n" in dump(read(text.encode(), "x").model)


SHIPPED = [
    *(library.schedule_text(name).encode() for name in library.schedule_names()),
    *(library.product_text(name).encode() for name in library.product_names()),
]


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(SHIPPED),
    st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 6), st.binary(max_size=4) | st.sampled_from(
            [b"\n", b": ", b"- ", b"[", b"}", b"'", b"\t", b"&a ", b"*a", b"9" * 30, b"none", b"%"]
        )),
        min_size=1, max_size=4,
    ),
)  # fmt: skip
def test_a_damaged_document_is_read_or_has_faults(data, wounds):
    """However a real document is damaged, nothing but faults with places in it comes out."""
    for where, cut_out, put_in in wounds:
        at = int(where * len(data))
        data = data[:at] + put_in + data[at + cut_out :]
    try:
        read(data, "x")
    except DocumentFaultsError as error:
        lines_there = data.count(b"\n") + data.count(b"\r") + 1
        for fault in error.faults:
            assert 1 <= fault.line <= lines_there
            assert fault.column >= 1
            assert "\n" not in str(fault)


_KEYS = st.sampled_from(
    ["stages", "steps", "stage", "pad", "cut", "coats", "wait", "rounds", "faces", "pieces", "id",
     "units", "dries", "sources", "keys", "amount", "hands_on", "thin_to", "at", "title", "packs",
     "size", "price", "tools", "jars"]
)  # fmt: skip
_LEAVES = st.sampled_from(
    ["1", "2 lb", "none", "", "-1 degC", "x" * 100, "5 min + + 4", "1/0 lb", "P99", "1e999 g",
     "lb/gal/", "0", "½ lb", "  ", "degC/degC", "²"]
) | lines  # fmt: skip
_VALUES = st.deferred(
    lambda: _LEAVES | st.lists(_VALUES, max_size=3) | st.dictionaries(_KEYS, _VALUES, max_size=3)
)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(["product", "schedule", "job", "shop", "settings"]),
    st.dictionaries(_KEYS, _VALUES, max_size=6),
)
def test_the_wrong_shape_anywhere_is_a_fault(kind, body):
    """Lists, texts and keys in each other's places never break the reading."""
    text = yaml.safe_dump({kind: "a", **body}, sort_keys=False)
    with pytest.raises(DocumentFaultsError):
        read(text.encode() + b"odd: 1\n", "x")
