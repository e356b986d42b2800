"""How a new value is written at its place: on the line, or on lines of its own."""

from __future__ import annotations

import math
from typing import Any

import yaml

from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.writing import to_yaml

_STRING = "tag:yaml.org,2002:str"
_LIST = "tag:yaml.org,2002:seq"
_KEYS = "tag:yaml.org,2002:map"
_LONG = 72


def fits_on_line(node: Node) -> bool:
    """Tell whether a value is written on the line of its key as a rule."""
    if isinstance(node, Text):
        return "\n" not in node.value and len(node.value) <= _LONG
    return node.on_one_line or not (node.items if isinstance(node, Items) else node.entries)


def on_line(node: Node) -> str:
    """Return a value on one line, such as may stand within brackets too."""
    inner: list[Any] = [_flow(node)]
    wrapped = yaml.SequenceNode(_LIST, inner, flow_style=True)
    width: Any = math.inf
    text: str = yaml.serialize(wrapped, Dumper=yaml.SafeDumper, width=width, allow_unicode=True)
    return text.strip()[1:-1]


def entry_on_line(key: str, node: Node) -> str:
    """Return ``key: value`` on one line."""
    return f"{on_line(Text(key))}: {on_line(node)}"


def entry(key: str, node: Node, column: int) -> str:
    """Return ``key: value`` on as many lines as is usual, all but the first indented."""
    return _indented(to_yaml(Fields([(Text(key), node)])), column)


def item(node: Node, column: int) -> str:
    """Return ``- value`` on as many lines as is usual, all but the first indented."""
    return _indented(to_yaml(Items([node])), column)


def _indented(text: str, column: int) -> str:
    first, *others = text.rstrip("\n").split("\n")
    margin = " " * column
    return "\n".join([first, *(margin + line if line.strip() else line for line in others)])


def _flow(node: Node) -> yaml.Node:
    if isinstance(node, Text):
        if "\n" in node.value:
            return yaml.ScalarNode(_STRING, node.value, style='"')
        tag = _own_tag(node.value) if node.bare else _STRING
        return yaml.ScalarNode(tag, node.value)
    if isinstance(node, Items):
        items: list[Any] = [_flow(each) for each in node.items]
        return yaml.SequenceNode(_LIST, items, flow_style=True)
    pairs: list[Any] = [(_flow(key), _flow(value)) for key, value in node.entries]
    return yaml.MappingNode(_KEYS, pairs, flow_style=True)


def _own_tag(value: str) -> str:
    """Return what YAML itself takes a bare value for, so that it is written without quotes.

    In brackets a time of day such as 22:00 cannot be: it would be quoted, and tagged as a number.
    """
    if ":" in value:
        return _STRING
    for tag, pattern in yaml.SafeDumper.yaml_implicit_resolvers.get(value[:1], []):
        if pattern.match(value):
            return str(tag)
    return _STRING
