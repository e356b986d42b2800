"""Sizes stand in a document as they were typed: 8 x 5 in stays inches."""

from __future__ import annotations

import re

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.leaves import read_quantity
from finishsched.model.job import Job
from finishsched.units import AREA, LENGTH, UnitFaultError
from finishsched.workshop.begin.face_words import sizes_as_typed
from finishsched.workshop.begin.written import Written

_SIZE = re.compile(r"\b(?P<key>length|width|area): (?P<size>[^,}\n]+)")


def in_typed_units(written: Written, faces: str, document: Job) -> str:
    """Return the text to be written with the sizes of its new faces as ``faces`` were typed.

    It reads as ``document``, as the text does that it was given; where it would not, that stays.
    """
    typed = sizes_as_typed(faces)

    def said(found: re.Match[str]) -> str:
        measure = AREA if found["key"] == "area" else LENGTH
        try:
            value = read_quantity(found["size"].strip(), measure)
        except UnitFaultError:
            return found[0]
        return f"{found['key']}: {typed.get((measure, value), found['size'])}"

    old = set((written.before or "").splitlines())
    lines = (
        line if line in old or line.lstrip().startswith("#") else _SIZE.sub(said, line)
        for line in written.after.splitlines()
    )
    after = "\n".join(lines) + "\n"
    try:
        same = read(after.encode("utf-8"), written.path, "job").model == document
    except DocumentFaultsError:
        same = False
    return after if same else written.after
