"""``schedules``: which there are to choose from, and the text of one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option
from finishsched.cli.faults import CommandError
from finishsched.near import nearest

if TYPE_CHECKING:
    from finishsched.model.said import Teller
    from finishsched.model.schedule import Schedule


@click.command("schedules")
@click.argument("name", required=False)
@shop_option
@json_option
def command(name: str | None, shop: str | None, as_json: bool) -> None:
    """List the schedules to choose from, or print one, NAME, as a document to copy and change."""
    schedules, tell = _known(shop)
    if name is None:
        answer(
            as_json,
            lambda: {"schedules": [_data(schedule, tell) for schedule in schedules.values()]},
            lambda: _lines(schedules, tell),
        )
        return
    _refuse_unknown(name, schedules)
    text = _text(name, schedules[name])
    answer(as_json, lambda: {**_data(schedules[name], tell), "text": text}, text.splitlines)


def schedule_named(name: str, shop: str | None) -> Schedule:
    """Return a schedule of the shop found from here, or a shipped one.

    Raises:
        CommandError: when there is none of that name.

    """
    schedules, _ = _known(shop)
    _refuse_unknown(name, schedules)
    return schedules[name]


def _refuse_unknown(name: str, schedules: Mapping[str, Schedule]) -> None:
    if name not in schedules:
        near = nearest(name, schedules)
        remedy = f"did you mean {near!r}?" if near else "finishsched schedules lists them"
        raise CommandError(f"no schedule {name!r}; {remedy}")


def _known(shop: str | None) -> tuple[Mapping[str, Schedule], Teller]:
    """Return the schedules of the shop found from here and how it tells figures.

    Where there is no shop, those shipped, with figures as they are kept.
    """
    folder = shop_named(shop)
    if folder is not None:
        from finishsched.workshop.base.documents import read_papers
        from finishsched.workshop.base.shown import tell_in

        papers = read_papers(folder)
        return dict(sorted(papers.schedules.items())), tell_in(papers.shop.units)
    from finishsched.documents.library import shipped_schedules
    from finishsched.model.said import in_kept_units

    return dict(sorted(shipped_schedules().items())), in_kept_units


def _text(name: str, schedule: Schedule) -> str:
    """Return the document itself when it is a shipped one, with its comments; else its content."""
    from finishsched.documents.library import schedule_text, shipped_schedules

    if shipped_schedules().get(name) == schedule:
        return schedule_text(name)
    from finishsched.documents.decode import dump

    return dump(schedule)


def _data(schedule: Schedule, tell: Teller) -> dict[str, object]:
    from finishsched.model.said import told_marks
    from finishsched.model.step import steps_of

    return {
        "schedule": schedule.id,
        "title": schedule.title,
        "suits": told_marks(schedule.suits, tell),
        "look": schedule.look,
        "steps": len(steps_of(schedule)),
    }


def _lines(schedules: Mapping[str, Schedule], tell: Teller) -> Iterable[str]:
    from finishsched.model.said import told_marks

    for schedule in schedules.values():
        yield schedule.id
        yield f"  {schedule.title}"
        if schedule.suits:
            yield f"  for {told_marks(schedule.suits, tell)}"
