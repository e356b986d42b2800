"""Quantities stand in a document as they were typed: inches stay inches, and ounces ounces."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from finishsched.documents.decode import read
from finishsched.documents.document import AnyModel
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.leaves import read_quantity
from finishsched.units import AREA, LENGTH, MASS, TEMPERATURE, VOLUME, Measure, UnitFaultError
from finishsched.workshop.begin.written import Written

Typed = Mapping[tuple[Measure, float], str]
"""Quantities as somebody typed them, by what they come to in the unit that is kept."""

_MEASURES = (LENGTH, AREA, VOLUME, MASS, TEMPERATURE)
_TYPED = re.compile(r"(?:\d+ )?\d[\d./]* ?[A-Za-z]+\d?")
_WRITTEN = re.compile(r"\b(?P<key>\w+): (?P<said>[\d.]+ [A-Za-z]+\d?)(?=$|[ ,}])")


def as_typed(text: str) -> Typed:
    """Return each quantity of a text that somebody typed, such as ``shell 1/64 in in 1/32 in``."""
    return {
        (measure, value): said
        for said in _TYPED.findall(text)
        for measure, value in _readings(said)
    }


def in_typed_units(written: Written, typed: Typed, document: AnyModel) -> str:
    """Return the text to be written with the quantities of its new lines as they were ``typed``.

    It reads as ``document``, as the text does that it was given; where it would not, that stays.
    """

    def said(found: re.Match[str]) -> str:
        words = (typed.get(reading) for reading in _readings(found["said"]))
        return f"{found['key']}: {next(filter(None, words), found['said'])}"

    old = set((written.before or "").splitlines())
    lines = (
        line if line in old or line.lstrip().startswith("#") else _WRITTEN.sub(said, line)
        for line in written.after.splitlines()
    )
    after = "\n".join(lines) + "\n"
    try:
        same = read(after.encode("utf-8"), written.path).model == document
    except DocumentFaultsError:
        same = False
    return after if same else written.after


def _readings(said: str) -> Iterator[tuple[Measure, float]]:
    """Give every measure that a quantity can be of, with what it comes to in the unit kept."""
    for measure in _MEASURES:
        try:
            yield measure, read_quantity(said.strip(), measure)
        except UnitFaultError:
            continue
