"""What the bench looks like: few pictures, on an invented shop at a frozen instant."""

from collections.abc import Callable

import pytest
from fakes import bench

Compare = Callable[..., bool]


def test_bench_80x24(snap_compare: Compare) -> None:
    """The bench at the usual size of a terminal, dark."""
    assert snap_compare(bench(flash=False), terminal_size=(80, 24))


def test_bench_60x20(snap_compare: Compare) -> None:
    """The bench on the smallest screen that it is made for."""
    assert snap_compare(bench(flash=False), terminal_size=(60, 20))


def test_bench_120x40_light(snap_compare: Compare) -> None:
    """The bench with room, light."""
    assert snap_compare(bench(theme="light", flash=False), terminal_size=(120, 40))


def test_bench_80x24_no_colour(monkeypatch: pytest.MonkeyPatch, snap_compare: Compare) -> None:
    """The bench where colours are turned off."""
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(bench(flash=False), terminal_size=(80, 24))


def test_dry_check_60x20(snap_compare: Compare) -> None:
    """The dry check and its two answers on the smallest screen."""
    assert snap_compare(bench(flash=False), press=["space"], terminal_size=(60, 20))
