"""From a tree of nodes to YAML text that is pleasant to read and to go on writing in."""

from __future__ import annotations

from typing import Any

import yaml

from finishsched.documents.nodes import Items, Node, Text

_STRING = "tag:yaml.org,2002:str"
_LIST = "tag:yaml.org,2002:seq"
_WIDTH = 90  # PyYAML breaks a line at the first space after this, not the last before
_LONG = 72
_KEYS = "tag:yaml.org,2002:map"


class _Dumper(yaml.SafeDumper):
    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:  # noqa: ARG002, FBT001, FBT002
        """Indent the items of a list below its key, which PyYAML leaves flush with it."""
        super().increase_indent(flow, False)  # noqa: FBT003


def to_yaml(root: Node) -> str:
    """Return ``root`` as YAML, in which any YAML reader takes text for text."""
    text: str = yaml.serialize(_to_yaml(root), Dumper=_Dumper, width=_WIDTH, allow_unicode=True)
    return text


def _to_yaml(node: Node) -> yaml.Node:
    if isinstance(node, Text):
        return _scalar(node)
    if isinstance(node, Items):
        items: list[Any] = [_to_yaml(item) for item in node.items]
        return yaml.SequenceNode(_LIST, items, flow_style=node.on_one_line or not items)
    pairs: list[Any] = [(_to_yaml(key), _to_yaml(value)) for key, value in node.entries]
    return yaml.MappingNode(_KEYS, pairs, flow_style=node.on_one_line or not pairs)


def _scalar(node: Text) -> yaml.ScalarNode:
    if node.bare:
        return yaml.ScalarNode(_own_tag(node.value), node.value)
    if "\n" in node.value:
        return yaml.ScalarNode(_STRING, node.value + "\n", style="|")
    if len(node.value) > _LONG:
        return yaml.ScalarNode(_STRING, node.value, style=">")
    return yaml.ScalarNode(_STRING, node.value)


def _own_tag(value: str) -> str:
    """Return what YAML itself would take a bare value for, so that it is written without quotes.

    A time of day such as 22:00 is quoted: in brackets it would be tagged as a number.
    """
    if ":" in value:
        return _STRING
    first = value[:1]
    for tag, pattern in yaml.SafeDumper.yaml_implicit_resolvers.get(first, []):
        if pattern.match(value):
            return str(tag)
    return _STRING
