"""The schedules and products that are shipped.

They are kept beside the package in a source tree, where they are easy to find and to add to, and
within the package in a wheel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from importlib import resources
from importlib.resources.abc import Traversable
from typing import TypeVar

from finishsched.documents.document import Document
from finishsched.documents.kept import read
from finishsched.model.product import Product
from finishsched.model.recipe import WithRecipes
from finishsched.model.schedule import Schedule

Model = TypeVar("Model", Product, Schedule)

_SUFFIX = ".yaml"


@lru_cache(maxsize=1)
def _shipped_folder() -> Traversable:
    """Return the folder of the shipped schedules; products are in its ``products``."""
    package = resources.files("finishsched")
    in_wheel = package / "shipped"
    return in_wheel if in_wheel.is_dir() else package / ".." / "schedules"


def schedule_names() -> tuple[str, ...]:
    """Return the ids of the shipped schedules, in the order of the alphabet."""
    return _names(_shipped_folder())


def product_names() -> tuple[str, ...]:
    """Return the ids of the shipped products, in the order of the alphabet."""
    return _names(_products_folder())


def schedule_text(name: str) -> str:
    """Return the shipped schedule as it is written, with its comments.

    Raises:
        KeyError: when no such schedule is shipped.

    """
    return _bytes(_shipped_folder(), name).decode("utf-8")


def product_text(name: str) -> str:
    """Return the shipped product as it is written, with its comments.

    Raises:
        KeyError: when no such product is shipped.

    """
    return _bytes(_products_folder(), name).decode("utf-8")


def shipped_schedule(name: str) -> Document:
    """Return one shipped schedule, with the places in its file.

    Raises:
        KeyError: when no such schedule is shipped.

    """
    return _document(_shipped_folder(), name, "schedule")


def shipped_product(name: str) -> Document:
    """Return one shipped product, with the places in its file.

    Raises:
        KeyError: when no such product is shipped.

    """
    return _document(_products_folder(), name, "product")


@lru_cache(maxsize=1)
def shipped_schedules() -> Mapping[str, Schedule]:
    """Return the shipped schedules by their id, each read when it is first asked for."""
    return _Shelf(schedule_names(), lambda name: shipped_schedule(name).model, Schedule)


@lru_cache(maxsize=1)
def shipped_products() -> Mapping[str, Product]:
    """Return the shipped products by their id, each read when it is first asked for."""
    shelf = _Shelf(product_names(), lambda name: shipped_product(name).model, Product)
    return WithRecipes(shelf)


class _Shelf(Mapping[str, Model]):
    """Documents by their name, read one by one: a shop seldom uses more than a few of them."""

    def __init__(
        self, names: tuple[str, ...], load: Callable[[str], object], cls: type[Model]
    ) -> None:
        self._names = dict.fromkeys(names)
        self._load = load
        self._cls: type[Model] = cls
        self._loaded: dict[str, Model] = {}

    def __getitem__(self, name: str) -> Model:
        if name not in self._loaded:
            if name not in self._names:
                raise KeyError(name)
            model = self._load(name)
            assert isinstance(model, self._cls)  # noqa: S101
            self._loaded[name] = model
        return self._loaded[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def __contains__(self, name: object) -> bool:
        return name in self._names


def _products_folder() -> Traversable:
    return _shipped_folder() / "products"


def _names(folder: Traversable) -> tuple[str, ...]:
    files = (entry.name for entry in folder.iterdir() if entry.name.endswith(_SUFFIX))
    return tuple(sorted(name.removesuffix(_SUFFIX) for name in files))


def _bytes(folder: Traversable, name: str) -> bytes:
    if name not in _names(folder):
        raise KeyError(name)
    return (folder / f"{name}{_SUFFIX}").read_bytes()


def _document(folder: Traversable, name: str, kind: str) -> Document:
    return read(_bytes(folder, name), f"{name}{_SUFFIX}", kind)
