"""The ids of steps that are not given one: the verb, then verb-2, verb-3 within the stage.

Which number a step gets depends only on the steps of the same verb before it (those in rounds
counted once, and those with an id of their own counted too), so giving one step an id never
renames another. It is done on the tree of nodes, before reading and after writing; the format
itself sees an id on every step.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from finishsched.documents.codec import Reading
from finishsched.documents.nodes import Fields, Items, Node, Place, Text
from finishsched.model.schedule import Verb

_VERBS = frozenset(verb.value for verb in Verb)


def add_ids(schedule: Node, reading: Reading) -> None:
    """Write an id into every step of the tree that has none, and note ids that clash."""
    taken: dict[tuple[str, str], Place] = {}
    for stage, step, default in _steps(schedule):
        written = step.get("mark")
        if written is None:
            step.entries.append((Text("mark", step.place), Text(default, step.place)))
        own = Text(default, step.place) if written is None else written
        if not isinstance(own, Text):
            continue
        first = taken.setdefault((stage, own.value), own.place)
        if first != own.place:
            reading.note(
                own.place,
                f"two steps of the stage {stage!r} have the mark {own.value!r}: on line "
                f"{first.line}, column {first.column}, and here",
                "write a mark of its own",
                "duplicate-key",
            )


def drop_ids(schedule: Node) -> None:
    """Take out of the tree each id that the step would get by itself."""
    for _, step, default in _steps(schedule):
        step.entries = [
            (key, value)
            for key, value in step.entries
            if not (key.value == "mark" and isinstance(value, Text) and value.value == default)
        ]


def _steps(schedule: Node) -> Iterator[tuple[str, Fields, str]]:
    """Give each step with a verb: its stage's name, its node, and the id it would get."""
    counts: Counter[tuple[str, str]] = Counter()
    for stage in _items(schedule, "stages"):
        named = stage.get("stage")
        name = named.value if isinstance(named, Text) else ""
        for item in _items(stage, "steps"):
            for step in _items(item, "steps") if item.get("steps") else (item,):
                verb = next((key.value for key, _ in step.entries if key.value in _VERBS), None)
                if verb is not None:
                    counts[name, verb] += 1
                    yield name, step, _default_id(verb, counts[name, verb])


def _default_id(verb: str, count: int) -> str:
    plain = verb.replace(" ", "-")
    return plain if count == 1 else f"{plain}-{count}"


def _items(node: Node, key: str) -> Iterator[Fields]:
    found = node.get(key) if isinstance(node, Fields) else None
    if isinstance(found, Items):
        yield from (item for item in found.items if isinstance(item, Fields))
