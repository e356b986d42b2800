"""The bench sheet as plain text and as JSON values."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from finishsched.journal.events import utc_text
from finishsched.workshop.papers.bench_sheet import BenchSheet, SheetStep, Tick, TickLine

WIDEST = 80
"""As wide as a page in a usual type."""
LEAST_WIDTH = 40
ROOM_FOR_ALL = 72
"""Narrower than this, only a line is left to write on."""


def sheet_text(sheet: BenchSheet, columns: int) -> Iterator[str]:
    """Give the sheet line by line, none wider than ``columns`` or ``WIDEST``."""
    width = max(LEAST_WIDTH, min(WIDEST, columns))
    made = f"{sheet.made_at.astimezone(sheet.zone):%Y-%m-%d %H:%M}"
    yield from _filled(f"{sheet.title} ({sheet.ref})", width)
    yield from _filled(f"{sheet.shop}, as of {made}", width)
    for name, text in sheet.facts:
        yield from _filled(f"  {name}: {text}", width)
    yield from _filled(f"  {sheet.waits_hold}", width)
    if sheet.dangers:
        yield from ("", "MIND")
        for kind, texts in sheet.dangers:
            for text in texts:
                yield from _filled(f"  {kind}: {text}", width)
    # Steps carry their own cautions too, so the sentence is never left out.
    yield from _filled(f"  {sheet.deferral}", width)
    place = ""
    for step in sheet.steps:
        if step.place != place:
            place = step.place
            yield from ("", place.upper(), "-" * len(place))
        else:
            yield ""
        yield from _step_lines(step, sheet.degrees, width)


def _step_lines(step: SheetStep, degrees: str, width: int) -> Iterator[str]:
    title = ", ".join(filter(None, [step.title, step.grade]))
    time = step.hands_on.rjust(width - len(title))
    yield (title + time).rstrip() if len(title) + len(step.hands_on) < width else title
    yield from _filled(f"  how: {step.how}", width)
    named = (
        ("with", step.tool),
        ("product", step.product),
        *step.mixes,
        ("wet with", step.wet_with),
        *(("mind", text) for text in step.minds),
        *(("wait", text) for text in step.waits),
        ("dry check", step.dry_check),
    )
    for name, text in named:
        if text:
            yield from _filled(f"  {name}: {text}", width)
    for line in step.lines:
        yield from _tick_line(line, degrees, width)


def _tick_line(line: TickLine, degrees: str, width: int) -> Iterator[str]:
    start = f"  [{line.tick.value}] {line.number:>3}  {line.coat:14}"
    if line.at is not None or line.tick is Tick.SKIPPED:
        known = [line.when, line.air, line.by, line.note]
        yield from _filled(f"{start}  {'  '.join(filter(None, known))}", width)
    elif width < ROOM_FOR_ALL:
        yield start + "_" * (width - len(start) - 1)
    else:
        yield f"{start}  ____-__-__ __:__  ____ {degrees} ____ %  ________"


def _filled(text: str, width: int) -> Iterator[str]:
    indent = " " * (len(text) - len(text.lstrip()) + 2)
    yield from textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False)


def sheet_data(sheet: BenchSheet, file: str | None) -> dict[str, Any]:
    """Return the sheet as JSON values."""
    return {
        "piece": sheet.ref,
        "title": sheet.title,
        "file": file,
        "cautions": [
            {"kind": kind, "text": text} for kind, texts in sheet.dangers for text in texts
        ],
        "deferral": sheet.deferral,
        "steps": [_step_data(step) for step in sheet.steps],
    }


def _step_data(step: SheetStep) -> dict[str, Any]:
    return {
        "title": step.title,
        "place": step.place,
        "topic": step.topic,
        "how": step.how,
        "with": step.tool,
        "product": step.product,
        "mix": [text for _, text in step.mixes],
        "grade": step.grade,
        "wet_with": step.wet_with,
        "waits": list(step.waits),
        "dry_check": step.dry_check,
        "cautions": list(step.minds),
        "lines": [
            {
                "number": line.number,
                "key": line.key,
                "coat": line.coat,
                "done": line.tick is Tick.DONE,
                "skipped": line.tick is Tick.SKIPPED,
                "at": utc_text(line.at) if line.at else None,
                "air": line.air,
                "by": line.by,
                "note": line.note,
            }
            for line in step.lines
        ],
    }
