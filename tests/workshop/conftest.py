"""A small shop of our own, at an instant of our choosing."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.workshop.base.workshop import Workshop

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

SHOP = """\
shop: Test bench
time_zone: Europe/Lisbon
people: [Ada]
usual_air: {temperature: 20 degC, humidity: 50 %}
"""
SCHEDULE = """\
schedule: two-coats
title: Two coats
source: common practice
stages:
  - stage: prepare
    steps:
      - sand: with the grain
        grade: P180
        hands_on: 4 min + 10 min/m2
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        thin_to: 1 lb
        coats: 2
        amount: 15 ml/m2
        hands_on: 2 min + 10 min/m2
        wait:
          between: {earliest: 1 h, likely: 2 h}
          after: {earliest: 8 h, likely: 12 h, next_by: 3 days}
        dry_check: no cool spot under the hand
  - stage: polish
    steps:
      - wax: thin, then buff
        hands_on: 3 min
"""
JOB = """\
job: box
title: A box
due: 2026-12-20
pieces:
  - piece: lid
    title: The lid
    schedule: two-coats
    species: cherry
    faces:
      - {face: top, length: 400 mm, width: 250 mm}
  - piece: body
    title: The body
    schedule: two-coats
    faces:
      - {face: all round, area: 0.2 m2}
"""


@pytest.fixture
def folder(tmp_path):
    """Return a shop folder with two pieces that are not begun."""
    for name, text in (
        ("shop.yaml", SHOP),
        ("schedules/two-coats.yaml", SCHEDULE),
        ("jobs/box.yaml", JOB),
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    return tmp_path


@pytest.fixture
def workshop(folder):
    """Return the shop, open."""
    with Workshop.open(folder, NOW) as opened:
        yield opened


@pytest.fixture
def at():
    """Return an instant so many minutes after the beginning."""
    return lambda minutes: NOW + timedelta(minutes=minutes)
