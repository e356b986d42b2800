"""Where the coats of a sheet come from: each jar is mixed once, and named for what it serves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finishsched.workshop.base.answers import StepSheet

LET_DOWN = " let down to "


class JarsOfSteps:
    """Tells of a schedule's steps, asked for in their order, which jar is mixed and which is there.

    What lives long enough is mixed once: later steps of the same strength take from that jar.
    """

    def __init__(self) -> None:
        self._mixed_at: dict[str, int] = {}
        """By the coat that a jar serves, the step for which it was mixed."""

    def of(self, coats: Sequence[StepSheet]) -> Iterator[tuple[str, str]]:
        """Give what is mixed, or taken from which jar, for the coats of one step, from which on."""
        served: set[str] = set()
        for sheet in coats:
            if not sheet.mix or sheet.step.key in served:
                continue
            served.update(sheet.for_coats)
            from_ = f"from coat {sheet.step.coat}: " if sheet is not coats[0] else ""
            label, text = self._jar(sheet, len(coats) > 1)
            title = sheet.product.partition(LET_DOWN)[0]
            yield label, f"{from_}{title}: {text}"

    def _jar(self, sheet: StepSheet, several: bool) -> tuple[str, str]:  # noqa: FBT001  # a count
        """Return what a coat comes from: a mix, the jar of an earlier step, one on the shelf."""
        key = sheet.step.key
        takes = _of_the_first(sheet.taken) if several else sheet.taken
        if sheet.jar:
            return "take", f"{takes}, from {sheet.jar}"
        if sheet.as_bought:
            return "take", takes
        if key in self._mixed_at:
            return "take", f"{takes}, from the jar of step {self._mixed_at[key]}"
        self._mixed_at |= dict.fromkeys(sheet.for_coats, sheet.step.number)
        parts = " + ".join(f"{line.amount} {line.what}" for line in sheet.mix)
        gives = f", {sheet.mix_gives}" if sheet.mix_gives else ""
        makes = _of_the_first(sheet.mix_makes) if several else sheet.mix_makes
        return "mix", f"{parts} = {makes}{gives}"


def _of_the_first(text: str) -> str:
    """Return what is said of the coat in hand as said of the first of several."""
    return text.replace("this one takes", "the first takes").replace("this coat", "the first coat")
