"""The shipped documents, read once, for the tests that judge them as a finisher would."""

from __future__ import annotations

from pathlib import Path

import pytest

from finishsched.documents.decode import load
from finishsched.model.recipe import WithRecipes

SHIPPED = Path(__file__).parents[2] / "schedules"
SCHEDULE_FILES = sorted(SHIPPED.glob("*.yaml"))
PRODUCT_FILES = sorted(SHIPPED.glob("products/*.yaml"))


def stem(path):
    """Name a parametrised test after the file."""
    return path.stem


@pytest.fixture(scope="session")
def products():
    """Every shipped product by its id."""
    found = [load(path).model for path in PRODUCT_FILES]
    return WithRecipes({product.id: product for product in found})


@pytest.fixture(scope="session")
def schedules():
    """Every shipped schedule by its id."""
    found = [load(path).model for path in SCHEDULE_FILES]
    return {schedule.id: schedule for schedule in found}


@pytest.fixture(scope="session", params=SCHEDULE_FILES, ids=stem)
def schedule(request):
    """Each shipped schedule in turn."""
    return load(request.param).model


@pytest.fixture(scope="session", params=PRODUCT_FILES, ids=stem)
def product(request, products):
    """Each shipped product in turn, one that is made of others as its parts tell it."""
    return products[request.param.stem]


@pytest.fixture(scope="session", params=[*SCHEDULE_FILES, *PRODUCT_FILES], ids=stem)
def shipped_file(request):
    """Each shipped file in turn."""
    return request.param
