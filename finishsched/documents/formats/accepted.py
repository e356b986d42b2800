"""The format of what a document accepts: rules of the checker that it is silent about, and why."""

from __future__ import annotations

from finishsched.documents.codec import ListOf
from finishsched.documents.leaves import ID, LINE
from finishsched.documents.nodes import Fields, Items, Text
from finishsched.documents.records import Draft, Key, Record
from finishsched.model.accepted import Accepted

_ACCEPTED = Record(
    Accepted,
    "an accepted rule",
    (
        Key("rule", ID, "its code, as finishsched check --rules lists it", required=True),
        Key("because", LINE, "why it does not hold here", required=True),
    ),
    on_one_line=True,
)
ACCEPTED = Key(
    "accepted",
    ListOf(_ACCEPTED, "accepted rules"),
    "rules of the checker that are silent here, each with its reason",
)
"""For the documents that are checked by rules: schedules, jobs and shops."""


def accepted_once(draft: Draft) -> None:
    """Check that no rule is accepted twice."""
    written = draft.node("accepted")
    if not isinstance(written, Items):
        return
    seen: set[str] = set()
    for item in written.items:
        rule = item.get("rule") if isinstance(item, Fields) else None
        if not isinstance(rule, Text):
            continue
        if rule.value in seen:
            draft.reading.note(
                rule.place,
                f"{rule.value!r} is accepted twice",
                "keep one of them",
                "duplicate-key",
            )
        seen.add(rule.value)
