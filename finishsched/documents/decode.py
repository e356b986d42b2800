"""Read documents into the model, and write the model as documents."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.document import AnyModel, Document, content
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.formats.job import JOB
from finishsched.documents.formats.product import PRODUCT
from finishsched.documents.formats.schedule import SCHEDULE
from finishsched.documents.formats.settings import SETTINGS
from finishsched.documents.formats.shop import SHOP
from finishsched.documents.nodes import Fields, Node, Text, places
from finishsched.documents.old_words import OLD_WORDS, renew
from finishsched.documents.parsing import parse
from finishsched.documents.records import Record
from finishsched.documents.step_ids import add_ids, drop_ids
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.near import either

KINDS: Mapping[str, Record[Any]] = {
    "product": PRODUCT,
    "schedule": SCHEDULE,
    "job": JOB,
    "shop": SHOP,
    "settings": SETTINGS,
}
"""The kinds of documents, by the key that each begins with."""


def read(data: bytes, name: str, kind: str | None = None) -> Document:
    """Return the document in ``data``; ``name`` is for the faults.

    Raises:
        DocumentFaultsError: with every fault found; also when ``kind`` is given and the document
            is of another kind.

    """
    root = parse(data, name)
    reading = Reading(name)
    try:
        found = _kind_of(root, kind, reading)
        located = places(root)
        old: tuple[Text, ...] = ()
        if found == "schedule":
            old = renew(root)
            add_ids(root, reading)
        model = KINDS[found].read(root, reading)
    except UnreadableError:
        raise DocumentFaultsError(reading.faults) from None
    if reading.faults:
        raise DocumentFaultsError(reading.faults)
    return Document(name, found, model, located, _notices(old, name))


def load(path: Path, kind: str | None = None, name: str | None = None) -> Document:
    """Return the document in the file at ``path``; ``name`` is for the faults, if not the path.

    Raises:
        DocumentFaultsError: as ``read`` does, and when the file cannot be read.

    """
    named = name or str(path)
    return read(content(path, named), named, kind)


def tree_of(path: Path) -> Node | None:
    """Return what stands in a document that need not be free of faults; None if it is no YAML."""
    try:
        return parse(content(path, str(path)), str(path))
    except DocumentFaultsError:
        return None


def dump(model: AnyModel) -> str:
    """Return ``model`` as YAML that reads back as exactly the same model."""
    kind = kind_of_model(model)
    root = KINDS[kind].write(model)
    if kind == "schedule":
        drop_ids(root)
    from finishsched.documents.writing import to_yaml  # noqa: PLC0415  # only to write one

    return to_yaml(root)


def kind_of_model(model: AnyModel) -> str:
    """Return the kind of the document that ``model`` is written as."""
    return next(kind for kind, record in KINDS.items() if record.cls is type(model))


def _notices(old: tuple[Text, ...], name: str) -> tuple[Fault, ...]:
    """Return one notice for each old word, at the first place where it stands."""
    first = {key.value: key for key in reversed(old)}
    return tuple(
        Fault(
            name,
            *key.place,
            f"in a step '{word}:' is now called '{OLD_WORDS[word]}:'; it is still read",
            f"write '{OLD_WORDS[word]}:'",
            "old-word",
            "advice",
        )
        for word, key in sorted(first.items())
    )


def _kind_of(root: Node, wanted: str | None, reading: Reading) -> str:
    if not isinstance(root, Fields) or not root.entries:
        raise reading.refuse(
            root.place,
            "a document is keys with values",
            f"write its kind first: {either([f'{kind}:' for kind in KINDS])}",
            "unknown-kind",
        )
    key = root.entries[0][0]
    if wanted is not None and key.value in KINDS and key.value != wanted:
        raise reading.refuse(
            key.place,
            f"this is a document of the kind {key.value!r}, and {wanted!r} is wanted here",
            f"give a document that begins with '{wanted}:'",
            "unknown-kind",
        )
    if key.value not in KINDS:
        raise reading.refuse(
            key.place,
            f"a document does not begin with {quoted(key.value)}",
            _first_key(root, key.value),
            "unknown-kind",
        )
    return key.value


def _first_key(root: Fields, first: str) -> str:
    later = next((key.value for key, _ in root.entries if key.value in KINDS), None)
    return f"put '{later}:' first" if later else did_you_mean(first, KINDS)
