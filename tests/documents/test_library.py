"""Finding what is shipped."""

from __future__ import annotations

import pytest

from finishsched.documents import library
from finishsched.documents.references import unknown_names


def test_every_file_is_named_by_its_id():
    """A shipped file's name is the id that other documents use for it."""
    assert tuple(library.shipped_schedules()) == library.schedule_names()
    assert tuple(library.shipped_products()) == library.product_names()
    assert library.schedule_names()
    assert library.product_names()


def test_every_name_within_the_library_is_known():
    """The shipped schedules use shipped products only, and use them as they can be."""
    documents = [library.shipped_schedule(name) for name in library.schedule_names()]
    documents += [library.shipped_product(name) for name in library.product_names()]
    assert unknown_names(documents, {}, {}) == []


def test_the_text_keeps_its_comments():
    """What is shown of a shipped schedule is the file as its author wrote it."""
    name = library.schedule_names()[0]
    assert f"schedule: {name}\n" in library.schedule_text(name)
    product = library.product_names()[0]
    assert f"product: {product}\n" in library.product_text(product)


@pytest.mark.parametrize("name", ["none-such", "../pyproject", "products/water", ""])
def test_a_name_leads_nowhere_else(name):
    """A name that is not listed is not looked for, so that none leads out of the folder."""
    for find in (library.shipped_schedule, library.shipped_product, library.schedule_text):
        with pytest.raises(KeyError):
            find(name)
