"""``schedules``: which there are to choose from, and the text of one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option
from finishsched.cli.faults import CommandError
from finishsched.near import nearest

if TYPE_CHECKING:
    from finishsched.model.schedule import Schedule


@click.command("schedules")
@click.argument("name", required=False)
@shop_option
@json_option
def command(name: str | None, shop: str | None, as_json: bool) -> None:
    """List the schedules to choose from, or print one, NAME, as a document to copy and change."""
    schedules = _schedules(shop)
    if name is None:
        answer(
            as_json,
            lambda: {"schedules": [_data(schedule) for schedule in schedules.values()]},
            lambda: _lines(schedules),
        )
        return
    _refuse_unknown(name, schedules)
    text = _text(name, schedules[name])
    answer(as_json, lambda: {**_data(schedules[name]), "text": text}, text.splitlines)


def schedule_named(name: str, shop: str | None) -> Schedule:
    """Return a schedule of the shop found from here, or a shipped one.

    Raises:
        CommandError: when there is none of that name.

    """
    schedules = _schedules(shop)
    _refuse_unknown(name, schedules)
    return schedules[name]


def _refuse_unknown(name: str, schedules: Mapping[str, Schedule]) -> None:
    if name not in schedules:
        near = nearest(name, schedules)
        remedy = f"did you mean {near!r}?" if near else "finishsched schedules lists them"
        raise CommandError(f"no schedule {name!r}; {remedy}")


def _schedules(shop: str | None) -> Mapping[str, Schedule]:
    folder = shop_named(shop)
    if folder is not None:
        from finishsched.workshop.base.documents import read_papers

        return dict(sorted(read_papers(folder).schedules.items()))
    from finishsched.documents.library import shipped_schedules

    return dict(sorted(shipped_schedules().items()))


def _text(name: str, schedule: Schedule) -> str:
    """Return the document itself when it is a shipped one, with its comments; else its content."""
    from finishsched.documents.library import schedule_text, shipped_schedules

    if shipped_schedules().get(name) == schedule:
        return schedule_text(name)
    from finishsched.documents.decode import dump

    return dump(schedule)


def _data(schedule: Schedule) -> dict[str, object]:
    from finishsched.model.step import steps_of

    return {
        "schedule": schedule.id,
        "title": schedule.title,
        "suits": schedule.suits,
        "look": schedule.look,
        "steps": len(steps_of(schedule)),
    }


def _lines(schedules: Mapping[str, Schedule]) -> Iterable[str]:
    for schedule in schedules.values():
        yield schedule.id
        yield f"  {schedule.title}"
        if schedule.suits:
            yield f"  for {schedule.suits}"
