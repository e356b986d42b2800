"""What a lot or a jar may be called on the shelf."""

from __future__ import annotations

import unicodedata
from datetime import date

from finishsched.journal.shelf import Shelf
from finishsched.model.product import Product
from finishsched.workshop.base.entries import RefusedError

LONGEST_NAME = 60


def new_name(text: str, shelf: Shelf) -> str:
    """Return a name as it goes on a label.

    Raises:
        RefusedError: for none, one that cannot be printed or is too long, and one that is taken.

    """
    name = " ".join(text.split())
    if not name:
        raise RefusedError("a batch or lot without a name", "give it one, such as 'jar 5'")
    if any(unicodedata.category(sign).startswith("C") for sign in name):
        raise RefusedError(
            f"{name!r:.60} has signs that cannot be printed", "write letters and digits"
        )
    if len(name) > LONGEST_NAME:
        raise RefusedError(
            f"{name[:20]!r}... is too long for a label", f"keep it under {LONGEST_NAME} letters"
        )
    if name in shelf.names:
        raise RefusedError(
            f"there is a {name!r} already", f"write another name, such as {_free(name, shelf)!r}"
        )
    return name


def lot_name(product: Product, day: date, shelf: Shelf) -> str:
    """Return the name of a lot that nobody named: by what it is and when it came."""
    name = f"{product.id} {day}"
    return _free(name, shelf) if name in shelf.names else name


def _free(name: str, shelf: Shelf) -> str:
    numbers = range(2, len(shelf.names) + 3)
    return next(f"{name} ({n})" for n in numbers if f"{name} ({n})" not in shelf.names)
