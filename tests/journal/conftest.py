"""What the journal's tests share: an instant, a journal in a fresh folder, and a few steps."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.journal.store import Journal
from finishsched.model.schedule import StageName, Verb, Wait
from finishsched.model.step import Step

OVERNIGHT = Wait(earliest_s=8 * 3600.0, likely_s=12 * 3600.0)


@pytest.fixture
def now() -> datetime:
    """Return a fixed instant."""
    return datetime(2026, 3, 1, 8, 30, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return where a journal is to be, in a fresh folder."""
    return tmp_path / "journal.db"


@pytest.fixture
def journal(path: Path) -> Iterator[Journal]:
    """Give a new, open journal."""
    with Journal.open(path) as opened:
        yield opened


def make_step(number: int, verb: Verb, wait: Wait | None) -> Step:
    """Return a step of one coat."""
    return Step(
        number=number,
        key=f"body/{verb.value}:1.{number}",
        stage=StageName.BODY,
        verb=verb,
        how="with the grain",
        coat=1,
        coats=1,
        round=1,
        rounds=1,
        wait=wait,
    )


@pytest.fixture(scope="session")
def steps() -> tuple[Step, ...]:
    """Return a sanding that needs no wait, two coats that do, and a rubbing that does not."""
    return (
        make_step(1, Verb.SAND, None),
        make_step(2, Verb.PAD, OVERNIGHT),
        make_step(3, Verb.PAD, OVERNIGHT),
        make_step(4, Verb.RUB_OUT, None),
    )
