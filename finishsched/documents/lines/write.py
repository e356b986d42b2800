"""From a schedule to the lines of a notebook, which read back to the same schedule."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator

from finishsched.documents.formats.schedule import SCHEDULE
from finishsched.documents.lines.cutting import quote
from finishsched.documents.lines.read import ADD_NOTHING
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.step_ids import drop_ids
from finishsched.model.schedule import Schedule, Verb

_WIDTH = 96
_VERBS = frozenset(verb.value for verb in Verb)


def lines_of(schedule: Schedule) -> str:
    """Return ``schedule`` in lines, with the line that says that nothing is to be added."""
    root = SCHEDULE.write(schedule)
    drop_ids(root)
    assert isinstance(root, Fields)  # noqa: S101  # a schedule is a record
    return "\n".join([*_head(root), "", *_stages(root)]) + "\n"


def _head(root: Fields) -> Iterator[str]:
    for key, value in root.entries:
        if key.value in ("schedule", "look", "over") and isinstance(value, Text):
            yield f"{key.value} {value.value}"
        elif key.value == "accepted":
            for accepted in _fields(value):
                because = quote(_text(accepted, "because"))
                yield f"silent {_text(accepted, 'rule')} because {because}"
        elif isinstance(value, Text):
            yield f"{key.value} {quote(value.value)}"
    yield ADD_NOTHING


def _stages(root: Fields) -> Iterator[str]:
    for stage in _fields(root.get("stages")):
        yield f"{_text(stage, 'stage')}:"
        for item in _fields(stage.get("steps")):
            if item.get("rounds") is None:
                yield _step(item, 2)
                continue
            yield f"  {_text(item, 'rounds')} rounds:"
            for step in _fields(item.get("steps")):
                yield _step(step, 4)


def _step(step: Fields, indent: int) -> str:
    verb, how = next((k.value, v) for k, v in step.entries if k.value in _VERBS)
    first = verb
    if step.get("coats") is not None:
        first += f" {_each(step.get('coats'))} coats"
    if step.get("product") is not None:
        first += f" of {_text(step, 'product')}"
    clauses = [first, *_clauses(step), f"how {quote(_word(how))}"]
    cautions = [f"caution {quote(_word(caution))}" for caution in _items(step.get("cautions"))]
    return _on_lines([*clauses, *cautions], indent)


def _on_lines(clauses: list[str], indent: int) -> str:
    """Put clauses on lines that end with a comma where they go on."""
    lines, line = [], clauses[0]
    for clause in clauses[1:]:
        if indent + len(line) + len(clause) + 3 > _WIDTH:
            lines.append(f"{line},")
            line = f"    {clause}"
        else:
            line = f"{line}, {clause}"
    return textwrap.indent("\n".join([*lines, line]), " " * indent)


def _clauses(step: Fields) -> Iterator[str]:
    for key, says in _SAYS.items():
        node = step.get(key)
        if node is not None:
            yield says(node)


def _waits(node: Node | None) -> str:
    if not isinstance(node, Fields):
        return "no wait"
    if node.get("after") is None:
        return _wait(node)
    ends = {"first": " after the first", "between": " between", "after": " after the last"}
    waits = [(key.value, value) for key, value in node.entries]
    return ", ".join(_wait(wait) + ends[when] for when, wait in waits if isinstance(wait, Fields))


def _wait(wait: Fields) -> str:
    times = [_text(wait, name) for name in ("earliest", "likely", "latest") if wait.get(name)]
    by = f" next within {_text(wait, 'next_by')}" if wait.get("next_by") else ""
    return " to ".join(times) + by


def _each(node: Node | None) -> str:
    return " / ".join(_word(item) for item in _items(node))


def _items(node: Node | None) -> list[Node]:
    if node is None:
        return []
    return node.items if isinstance(node, Items) else [node]


def _fields(node: Node | None) -> list[Fields]:
    return [item for item in _items(node) if isinstance(item, Fields)]


def _word(node: Node | None) -> str:
    return node.value if isinstance(node, Text) else ""


def _text(fields: Fields, key: str) -> str:
    return _word(fields.get(key))


def _lubricant(node: Node | None) -> str:
    word = _word(node)
    return word if word in ("dry", "soapy water") else f"lubricant {word}"


_SAYS: dict[str, Callable[[Node | None], str]] = {
    "grade": _each,
    "lubricant": _lubricant,
    "cut": _each,
    "thin_to": lambda node: f"thin to {_word(node)}",
    "thinned": lambda node: f"thinned {_each(node)}",
    "reach": lambda node: f"reach {_each(node)}",
    "amount": _word,
    "hands_on": lambda node: f"work {_word(node)}",
    "wait": _waits,
    "mark": lambda node: f"called {_word(node)}",
    "tool": lambda node: f"with {quote(_word(node))}",
    "dry_check": lambda node: f"check {quote(_word(node))}",
}
"""Each key of a step in the words of a line."""
