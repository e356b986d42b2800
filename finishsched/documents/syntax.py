"""The YAML parser's complaints, in the words of someone who only wants the list read."""

from __future__ import annotations

import re

import yaml

from finishsched.documents.nodes import NOWHERE, Place

_QUOTE_IT = "put the text in quotes"

# What the parser says (of its context and its problem), what is wrong, what would be right.
_WORDS: tuple[tuple[str, str, str], ...] = (
    (r"scanning an (alias|anchor)", "'*' or '&' begins a reference", _QUOTE_IT),
    (
        r"character '\\t' that cannot start|tab character",
        "a tab stands where only spaces may",
        "indent with spaces",
    ),
    (r"character ('[^']+'|\"'\") that cannot start", "{0} cannot begin a text", _QUOTE_IT),
    (
        r"mapping values are not allowed",
        "a ':' stands where no key can end",
        "put text that holds ': ' in quotes, or line the key up with the others",
    ),
    (
        r"sequence entries are not allowed",
        "a '-' stands where no list can begin",
        "put the list on lines of its own below the key",
    ),
    (r"mapping keys are not allowed", "a '?' stands where it cannot", _QUOTE_IT),
    (r"quoted scalar.*(unexpected|end of stream|separator)", "a quote is never closed", "close it"),
    (
        r"unknown escape character ('[^']*')",
        "a backslash with {0} says nothing in double quotes",
        "use single quotes, or write the backslash twice",
    ),
    (r"escape", "an escape in double quotes is wrong", "use single quotes"),
    (r"flow sequence", "a list in [ ] is not closed or lacks a comma", "write [a, b, c]"),
    (r"flow mapping", "a list of keys in { } is not closed or lacks a comma", "write {a: 1, b: 2}"),
    (r"expected ':'|simple key", "a line without a ':'", "write 'key: value'"),
    (
        r"expected <block end>|block mapping|block collection|block sequence",
        "this does not line up with what is above it",
        "indent the keys of one group alike",
    ),
    (
        r"chomping|indentation indicator|block scalar",
        "text after '|' or '>'",
        "put it on the next line",
    ),
    (r"directive", "a line begins with '%'", _QUOTE_IT),
    (r"tag", "'!' begins a tag, which is not used here", _QUOTE_IT),
    (r"document start", "something stands after the end of the document", "take it out"),
)
_OTHERWISE = ("this cannot be read as YAML", "check the indentation, colons and quotes just above")


def plain_words(error: yaml.YAMLError) -> tuple[Place, str, str]:
    """Return the place of a syntax error, what is wrong and what would be right."""
    said = " ".join(
        str(part)
        for part in (getattr(error, "context", None), getattr(error, "problem", None))
        if part
    )
    for pattern, message, remedy in _WORDS:
        found = re.search(pattern, said)
        if found:
            return _place_of(error, said), _filled(message, found), remedy
    return _place_of(error, said), *_OTHERWISE


def _filled(message: str, found: re.Match[str]) -> str:
    return message.replace("{0}", found.group(1)) if "{0}" in message else message


def _place_of(error: yaml.YAMLError, said: str) -> Place:
    """Return where to look: for a quote never closed where it opens, else where reading stopped."""
    mark = getattr(error, "problem_mark", None)
    if mark is None or ("quoted scalar" in said and "escape" not in said):
        mark = getattr(error, "context_mark", None) or mark
    return Place(mark.line + 1, mark.column + 1) if mark else NOWHERE
