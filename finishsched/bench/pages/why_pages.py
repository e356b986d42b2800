"""What the pages to read say: why, and every notice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo

from finishsched.bench import words
from finishsched.bench.screens.page import Paragraph
from finishsched.checking.rule import Finding, Severity
from finishsched.numerals import counted
from finishsched.workshop.base.answers import PieceView

_LONGEST_HEAD = 14


def why(
    piece: PieceView, now: datetime, zone: tzinfo, findings: Sequence[Finding] = ()
) -> Iterator[Paragraph]:
    """Give the reasons of a piece's state, its clock's facts, then what the rules find."""
    yield from _standing(piece, now, zone)
    if findings:
        yield Paragraph("", "")
        yield Paragraph("", "what the rules find in it and its schedule", "bold $text-primary")
    for found in findings:
        style = "bold $text-warning" if found.severity is Severity.ERROR else ""
        yield Paragraph(found.severity.value, f"{found.message}; {found.remedy}", style)
        yield Paragraph("", f"finishsched check --explain {found.code}", "$text-muted")


def _standing(piece: PieceView, now: datetime, zone: tzinfo) -> Iterator[Paragraph]:
    yield Paragraph("", f"{piece.mark} {piece.word}", "bold")
    for reason in (*piece.why, *piece.how_much) or ("No reasons were given.",):
        yield _reason(reason)
    clock = piece.clock
    if clock is None:
        return
    yield Paragraph("", "")
    instants = {
        "laid": clock.laid_at,
        "earliest": clock.earliest_at,
        "likely": clock.likely_at,
        "slow end": clock.latest_at,
        "window closes": clock.next_by_at,
    }
    for name, instant in instants.items():
        if instant is not None:
            told = words.wall if name == "laid" else words.reckoned
            text = f"{told(instant, now, zone)}, {words.away(instant, now)}"
            yield Paragraph(name, text)
    yield Paragraph(
        "not yet", f"said {counted(clock.not_yet, 'time')}" if clock.not_yet else "never said"
    )


def _reason(text: str) -> Paragraph:
    """Put the first word or two of a reason into the margin, where a colon sets them apart."""
    head, colon, rest = text.partition(": ")
    return Paragraph(head, rest) if colon and len(head) <= _LONGEST_HEAD else Paragraph("", text)


def notices(every: tuple[str, ...], still_open: tuple[str, ...]) -> Iterator[Paragraph]:
    """Give every notice, the newest first; dismissed ones are muted."""
    if not every:
        yield Paragraph("", "None so far.")
    for text in every:
        style = "bold" if text in still_open else "$text-muted"
        yield Paragraph("*" if text in still_open else "·", text, style)
