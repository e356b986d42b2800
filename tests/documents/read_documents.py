"""Documents for tests of reading them, and what reading gives."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.schedule import Schedule

PRODUCT = """\
product: oil
title: An oil
kind: oil
hazards: []
rags: self-heating
sources:
  hazards: label
  rags: common practice
"""
SCHEDULE = """\
schedule: plain
title: Plain
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: flakes
        cut: 2 lb
"""
JOB = """\
job: box
title: A box
pieces:
  - piece: lid
    title: Lid
    schedule: plain
    faces:
      - {face: top, length: 220 mm, width: 160 mm}
"""


def faults_of(text: str, kind: str | None = None):
    """Return the faults that reading ``text`` gives."""
    with pytest.raises(DocumentFaultsError) as caught:
        read(text.encode(), "x.yaml", kind)
    return caught.value.faults


def summary(text: str):
    """Return each fault's place and rule."""
    return [(f.line, f.column, f.rule) for f in faults_of(text)]


def step(*lines: str) -> str:
    """Return a schedule with one step, its first line at line 7 and its keys at column 9."""
    head = SCHEDULE[: SCHEDULE.index("      - pad")]
    return head + "      - " + "\n        ".join(lines) + "\n"


def rounds(*lines: str, count: str = "3") -> str:
    """Return a schedule with one step in rounds, at line 9, its keys at column 13."""
    head = SCHEDULE[: SCHEDULE.index("      - pad")]
    return f"{head}      - rounds: {count}\n        steps:\n          - " + (
        "\n            ".join(lines) + "\n"
    )


def the_step(text: str):
    """Return the first step of a schedule."""
    model = read(text.encode(), "x").model
    assert isinstance(model, Schedule)
    return next(model.step_plans())
