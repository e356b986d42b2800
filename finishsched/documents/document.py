"""A document that was read, and what stands in its file."""

from __future__ import annotations

import errno
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.nodes import Path as NodePath
from finishsched.documents.nodes import Place
from finishsched.model.job import Job
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.settings import Settings
from finishsched.model.shop import Shop

AnyModel: TypeAlias = Product | Schedule | Job | Shop | Settings

MOST_BYTES = 1_000_000
"""A document is no longer than this."""


@dataclass(frozen=True, slots=True)
class Document:
    """A document that has been read without fault."""

    name: str
    """The file, as the faults name it."""
    kind: str
    model: AnyModel
    places: Mapping[NodePath, Place]
    """Where each value stands, by its path of keys and positions: ``('stages', 0, 'steps')``."""
    notices: tuple[Fault, ...] = ()
    """What is read all the same, and is written otherwise today: advice, no faults."""

    def place(self, *path: str | int) -> Place:
        """Return the place of the value at ``path``, or of the nearest thing that holds it."""
        while path not in self.places:
            path = path[:-1]
        return self.places[path]


def content(path: Path, name: str) -> bytes:
    """Return as much of a document's file as can matter; ``name`` is for the fault.

    Raises:
        DocumentFaultsError: when the file cannot be read; a pipe or a device would never end.

    """
    try:
        return _bytes(path)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        remedy = "check the name of the file"
        fault = Fault(name, 1, 1, f"cannot be read: {reason}", remedy, "no-file")
        raise DocumentFaultsError([fault]) from None


def _bytes(path: Path) -> bytes:
    if path.exists() and not path.is_file():
        raise OSError(errno.EINVAL, "it is no plain file")
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)
