"""Cautions at the end of an answer, in words and as JSON values."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from finishsched.cli.common import answer

if TYPE_CHECKING:
    from finishsched.safety.cautions import Caution


def _caution_lines(cautions: Sequence[Caution]) -> Iterable[str]:
    """Say cautions, each in a line, and that the data sheet comes first; nothing for none."""
    from finishsched.safety.cautions import DEFERRAL

    for caution in cautions:
        yield f"  mind: {caution.text}"
    if cautions:
        yield f"        {DEFERRAL}"


def _caution_data(cautions: Sequence[Caution]) -> dict[str, Any]:
    """Return cautions as JSON values."""
    from finishsched.safety.cautions import DEFERRAL

    return {"cautions": [caution.text for caution in cautions], "deferral": DEFERRAL}


def answer_minding(
    cautions: Sequence[Caution],
    data: Callable[[], dict[str, Any]],
    lines: Callable[[], Iterable[str]],
    *,
    as_json: bool,
) -> None:
    """Give an answer with what to mind at it: at its end, and in its JSON."""
    answer(
        as_json,
        lambda: {**data(), **_caution_data(cautions)},
        lambda: (*lines(), *_caution_lines(cautions)),
    )
