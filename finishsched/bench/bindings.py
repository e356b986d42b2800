"""The keys of the bench as Textual takes them, and those that are in force."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual.binding import Binding

from finishsched.bench.keys import Key, shown


def binding(key: Key) -> Binding:
    """Return a key of the table as Textual takes it."""
    return Binding(
        key.keys,
        key.action,
        key.words,
        tooltip=key.tooltip,
        id=key.id,
        group=Binding.Group(key.group),
    )


def in_force(bindings: Iterable[Binding]) -> dict[str, str]:
    """Return for each id the keys that work now, ``space, enter``, in the order they came."""
    keys: dict[str, list[str]] = {}
    for binding in bindings:
        if binding.id:
            keys.setdefault(binding.id, []).append(shown(binding.key))
    return {id_: ", ".join(names) for id_, names in keys.items()}


def first_key(force: Mapping[str, str], id_: str) -> str:
    """Return the first key in force for ``id_``, or nothing."""
    return force.get(id_, "").split(", ")[0]
