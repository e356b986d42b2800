"""Steps of a schedule added, taken out or moved, for ``change``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.cli.begin.asking import can_ask
from finishsched.cli.begin.say import ask_doubt
from finishsched.cli.common import world
from finishsched.cli.faults import CommandError

if TYPE_CHECKING:
    from finishsched.documents.lines.said import Doubt
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.stepping import Added
    from finishsched.workshop.begin.written import Written


def change_steps(
    workshop: Workshop,
    what: str,
    add: str | None,
    move: str | None,
    *,
    before: bool,
    usual: bool,
    asks: bool,
) -> tuple[Written, list[str]]:
    """Return the schedule as it would be, and what a person should see beside it.

    Without ``add`` and ``move`` the step goes.

    Raises:
        CommandError: for a line that cannot be read, or a doubt that nobody settles.

    """
    from finishsched.workshop.begin.stepping import draft_moved, draft_removed

    if add is not None:
        return _added(workshop, what, add, before=before, usual=usual, asks=asks and can_ask())
    if move is not None:
        return draft_moved(workshop.papers, workshop.folder, what, move), []
    return draft_removed(workshop.papers, workshop.folder, what), []


def _added(
    workshop: Workshop, what: str, line: str, *, before: bool, usual: bool, asks: bool
) -> tuple[Written, list[str]]:
    from finishsched.workshop.begin.stepping import draft_added

    answers: dict[str, str] = {}

    def read() -> Added:
        papers, folder, now = workshop.papers, workshop.folder, world().now()
        return draft_added(papers, folder, what, line, answers, now, before=before)

    found = read()
    while found.doubts and not usual and not found.faults:
        doubt = found.doubts[0]
        if not asks:
            raise CommandError(f"{doubt.question} {_said_in_the_line(doubt)}, or add --usual")
        answers[doubt.key] = ask_doubt(doubt, line)
        found = read()
    if found.written is None:
        raise CommandError(*(f"--add, sign {f.column}: {f.without_place}" for f in found.faults))
    beside = [f"our assumption: {each.says}" for each in found.assumed]
    beside += [f"taken: {d.usual}; {d.question}" for d in found.doubts]
    beside += [f"{f.severity}: {f.without_place} [{f.rule}]" for f in found.findings]
    return found.written, beside


def _said_in_the_line(doubt: Doubt) -> str:
    """Return how the line itself would settle a doubt."""
    words = [word for word, _ in doubt.choices]
    if "how" in words:
        return "put it in quotes, or leave it out"
    return f"say so in the line ({' or '.join(words)})"
