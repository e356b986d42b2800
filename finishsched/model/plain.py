"""Turn model objects into plain JSON values and back, exactly, and name them by their content."""

from __future__ import annotations

import dataclasses
import hashlib
import json
import types
from collections.abc import Callable, Mapping
from datetime import date, datetime
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

Model = TypeVar("Model")

_canonical = json.JSONEncoder(
    sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
).encode


class PlainFormError(ValueError):
    """Plain data that is not the wanted model object."""


def to_plain(value: Any) -> Any:
    """Return a model object as JSON values; fields at their default are left out."""
    return _writer(cast("Any", type(value)))(value)


def from_plain(cls: type[Model], data: Any) -> Model:
    """Return the model object that ``to_plain`` made ``data`` of.

    Keys that the class does not know are passed over, so that an older program can read what a
    newer one wrote.

    Raises:
        PlainFormError: when ``data`` has not the shape of ``cls``.

    """
    try:
        return cast("Model", _reader(cast("Any", cls))(data))
    except (TypeError, ValueError, KeyError, AttributeError) as error:
        raise PlainFormError(f"no {cls.__name__}: {error}") from error


def canonical_json(value: Any) -> str:
    """Return the one JSON text of a model object: keys sorted, no spaces."""
    return _canonical(to_plain(value))


def text_hash(text: str) -> str:
    """Return the SHA-256 of ``text`` as UTF-8, in hex."""
    return hashlib.sha256(text.encode()).hexdigest()


@cache
def _writer(kind: Any) -> Callable[[Any], Any]:
    """Return what writes objects of one type, worked out once, as ``_reader`` is."""
    if dataclasses.is_dataclass(kind):
        return _dataclass_writer(kind)
    if issubclass(kind, Enum):
        return lambda value: value.value
    if issubclass(kind, date):
        return lambda value: value.isoformat()
    if hasattr(kind, "_fields"):
        # Written as a list it could never be read back by name.
        raise TypeError(f"{kind.__name__} is kept, so it must be a dataclass, not a named tuple")
    if issubclass(kind, tuple | list):
        return lambda value: [to_plain(item) for item in value]
    if issubclass(kind, Mapping):
        return lambda value: {str(key): to_plain(item) for key, item in value.items()}
    return lambda value: value


_ALREADY_PLAIN = frozenset({str, float, int, bool, type(None)})


def _dataclass_writer(kind: Any) -> Callable[[Any], Any]:
    defaults = [(field.name, _default_of(field)) for field in dataclasses.fields(kind)]

    def write(value: Any) -> Any:
        items = [(name, getattr(value, name), default) for name, default in defaults]
        return {
            name: item if type(item) in _ALREADY_PLAIN else to_plain(item)
            for name, item, default in items
            if default is dataclasses.MISSING or item != default
        }

    return write


def _default_of(field: dataclasses.Field[Any]) -> Any:
    if field.default_factory is not dataclasses.MISSING:
        return field.default_factory()
    return field.default


@cache
def _reader(wanted: Any) -> Callable[[Any], Any]:
    """Return what reads one type, worked out once: a journal holds thousands of entries."""
    origin, inner = get_origin(wanted), get_args(wanted)
    if origin in (Union, types.UnionType):
        return _union_reader(inner)
    if origin is tuple:
        return _tuple_reader(_reader(inner[0]))
    if origin is not None and issubclass(origin, Mapping):
        return _mapping_reader(_reader(inner[1]))
    if dataclasses.is_dataclass(wanted) and isinstance(wanted, type):
        return _dataclass_reader(wanted)
    return _scalar_reader(wanted)


def _scalar_reader(wanted: Any) -> Callable[[Any], Any]:
    if issubclass(wanted, Enum):
        return _enum_reader(wanted)
    if wanted in (datetime, date):
        return cast("Callable[[Any], Any]", wanted.fromisoformat)

    def read(data: Any) -> Any:
        if type(data) is wanted:
            return data
        if wanted is float and type(data) is int:
            return float(data)
        raise TypeError(f"{wanted.__name__} is wanted, not {data!r:.40}")

    return read


def _enum_reader(wanted: type[Enum]) -> Callable[[Any], Any]:
    members = {member.value: member for member in wanted}

    def read(data: Any) -> Any:
        # A plan names thousands of them, and an enumeration is slow to ask.
        found = members.get(data) if type(data) is str else None
        return wanted(data) if found is None else found

    return read


def _tuple_reader(item: Callable[[Any], Any]) -> Callable[[Any], Any]:
    def read(data: Any) -> Any:
        if not isinstance(data, list):
            raise TypeError(f"a list is wanted, not {data!r:.40}")
        return tuple(map(item, data))

    return read


def _mapping_reader(item: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda data: MappingProxyType({key: item(value) for key, value in data.items()})


def _union_reader(choices: tuple[Any, ...]) -> Callable[[Any], Any]:
    records = [choice for choice in choices if choice is not type(None)]
    may_be_none = len(records) < len(choices)
    one = _reader(records[0]) if len(records) == 1 else _one_of(records)
    return lambda data: None if data is None and may_be_none else one(data)


def _one_of(records: list[Any]) -> Callable[[Any], Any]:
    """Return what reads whichever record has all the fields that it needs."""
    readers = [(_required(record), _reader(record)) for record in records]

    def read(data: Any) -> Any:
        fitting = [reader for required, reader in readers if required <= set(data)]
        if len(fitting) != 1:
            raise TypeError(f"cannot tell what {sorted(data)!r:.60} is")
        return fitting[0](data)

    return read


def _dataclass_reader(wanted: Any) -> Callable[[Any], Any]:
    hints = get_type_hints(wanted)
    readers = {field.name: _reader(hints[field.name]) for field in dataclasses.fields(wanted)}

    def read(data: Any) -> Any:
        if not isinstance(data, dict):
            raise TypeError(f"{wanted.__name__} is wanted, not {data!r:.40}")
        known = {name: readers[name](item) for name, item in data.items() if name in readers}
        return wanted(**known)

    return read


def _required(record: Any) -> frozenset[str]:
    return frozenset(
        field.name
        for field in dataclasses.fields(record)
        if field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
    )
