"""What stands beside the amounts of a row where others are told before it.

One jar that several rows take from says how far it goes after those before; of two jars that are to
be mixed each has a name of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from finishsched.workshop.amounts.jars import Jars
from finishsched.workshop.base.answers import PieceView


@dataclass(slots=True)
class _Taken:
    """What rows take from a jar, and which they are."""

    ml: float = 0.0
    titles: list[str] = field(default_factory=list)


def by_turns(views: Iterable[PieceView], jars: Jars) -> list[PieceView]:
    """Return the views, in their order, each told of what those before it leave of its jar.

    Each by itself may have enough in a jar that is not enough for all of them, and would call the
    jar that it mixes by the next name that is free.
    """
    taken: dict[str, _Taken] = {}
    mixed: dict[str, str] = {}
    found = []
    for view in views:
        sheet = view.sheet
        if sheet is not None and sheet.log_mix:
            if sheet.log_mix not in mixed:
                mixed[sheet.log_mix] = jars.to_log(sheet, len(mixed)).log_mix
            found.append(view._replace(sheet=sheet._replace(log_mix=mixed[sheet.log_mix])))
        elif sheet is not None and sheet.jar_name and sheet.coats_ml and view.clock is None:
            before = taken.setdefault(sheet.jar_name, _Taken())
            told = jars.after_others(sheet, before.ml, before.titles)
            found.append(view._replace(sheet=told))
            before.ml += sum(sheet.coats_ml)
            before.titles.append(view.title)
        else:
            found.append(view)
    return found
