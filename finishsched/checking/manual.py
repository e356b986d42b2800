"""What the rules say of themselves: one rule in full, the list of all, and the page of both."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from finishsched.checking.registry import GROUPS
from finishsched.checking.rule import Example, Kind, Rule
from finishsched.checking.rules.stacked import sources_told

_WIDTH = 100
_FENCE = "```"
_HOW = (
    "An **error** spoils the work, **advice** may. A rule is silenced in the document itself, with "
    "a reason: `accepted: [{rule: CODE, because: why}]`. `finishsched check --explain CODE` "
    "shows what stands here of one rule."
)
_WHERE = {
    Kind.SCHEDULE: "under stages:",
    Kind.PIECE: "under pieces:",
    Kind.SHOP: "in shop.yaml",
    Kind.PRODUCT: "in a product",
}


def explained(rule: Rule) -> Iterator[str]:
    """Give one rule in full, line by line: what, why, what to do, an example of either, source."""
    yield f"{rule.code}: {rule.title} ({rule.severity.value}, in {_either(rule.looks_at)})"
    yield f"  why   {rule.why}"
    yield f"  do    {rule.remedy}"
    yield f"  told of, {_WHERE[rule.example.kind]}{_besides(rule.example)}"
    yield from _fragment(rule.example.wrong)
    yield "  not told of"
    yield from _fragment(rule.example.right)
    for title, text in (("shop.yaml", rule.example.shop), ("schedule mine", rule.example.stages)):
        if text:
            yield f"  beside it, in {title}"
            yield from _fragment(text)
    yield f"  from  {rule.source}"
    titles = sources_told(rule.code)
    if titles:
        yield f"  rows  {titles}"
    if rule.looks_at != ("products",):
        yield f"  silent with  accepted: [{{rule: {rule.code}, because: ...}}]"


def listed() -> Iterator[str]:
    """Give every rule in a line, in its groups."""
    widest = max(len(rule.code) for group in GROUPS.values() for rule in group)
    for name, group in GROUPS.items():
        yield name
        for rule in group:
            yield f"  {rule.code:<{widest}}  {rule.severity.value:<6}  {rule.title}"


def page() -> str:
    """Return the page of all rules, in markdown: the one that is kept beside them."""
    parts: list[str] = [
        "# The rules of the checker",
        "Written by `python -m finishsched.checking`; a test sees that nobody forgot.",
        _HOW,
    ]
    for name, group in GROUPS.items():
        parts.append(f"## {name.capitalize()}")
        parts += [part for rule in group for part in _section(rule)]
    return "\n\n".join(_folded(part) for part in parts) + "\n"


def _section(rule: Rule) -> Iterator[str]:
    """Give one rule as parts of the page: its words, and both sides of its example."""
    yield f"### {rule.code}"
    yield f"{rule.title}: {rule.severity.value}, in {_either(rule.looks_at)}. {rule.why}"
    yield f"{rule.remedy[0].upper()}{rule.remedy[1:]}. Source: {rule.source}."
    example = rule.example
    yield f"Told of, {_WHERE[example.kind].rstrip(':')}{_besides(example)}:"
    yield _fenced(example.wrong)
    yield "Not told of:"
    yield _fenced(example.right)
    for title, text in (("`shop.yaml`", example.shop), ("the schedule `mine`", example.stages)):
        if text:
            yield f"Beside it, in {title}:"
            yield _fenced(text)


def _fenced(text: str) -> str:
    return f"{_FENCE}yaml\n{text.rstrip()}\n{_FENCE}"


def _folded(part: str) -> str:
    if part.startswith(("#", _FENCE)):
        return part
    return textwrap.fill(part, _WIDTH, break_on_hyphens=False)


def _either(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _besides(example: Example) -> str:
    return f", {example.besides}" if example.besides else ""


def _fragment(text: str) -> Iterator[str]:
    for line in text.splitlines():
        yield f"      {line}"
