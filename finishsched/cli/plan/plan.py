"""``plan``: who does what when, for every open piece."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    OR_FORCE,
    answer,
    file_at,
    force_option,
    json_option,
    shop_option,
    why_option,
    world,
)
from finishsched.cli.faults import Exit
from finishsched.cli.plan.plan_names import Gathered, check_names
from finishsched.cli.shop_door import open_shop, tell_clock
from finishsched.cli.working import is_told
from finishsched.cli.working import so_far as tell_so_far

if TYPE_CHECKING:
    from pathlib import Path

    from finishsched.model.hours import Away
    from finishsched.planning.looking import HowFar
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.plan.answers import PlanAnswer
    from finishsched.workshop.plan.hands_and_hours import WhatIf

_DAYS_SHOWN = 3
_OF_WHAT_IFS = ("with_piece", "due", "schedule", "drop", "air", "extra", "away", "by")


@click.command("plan")
@click.option("--by", metavar="DATE", help="As if all that is due later, or not, were due then.")
@click.option(
    "--until-better",
    type=click.FloatRange(0, 3600),
    metavar="SECONDS",
    help="Look for a better plan for so long.",
)
@click.option("--take", is_flag=True, help="Go on by the better plan, where one is found.")
@click.option("--days", type=click.IntRange(1, 366), metavar="N", help="List so many days of work.")
@click.option("--all", "every", is_flag=True, help="List every day of work.")
@click.option("--week", is_flag=True, help="The seven days from today, to print.")
@click.option("--out", metavar="FILE.html", help="With --week: a page to print.")
@force_option
@click.option("--calendar", metavar="FILE.ics", help="Write the plan as a calendar, for a phone.")
@click.option(
    "--with-piece",
    multiple=True,
    metavar="SCHEDULE=AREA",
    help="What if: another piece: wiping-varnish='0.2 m2', or '2 sqft'.",
)
@click.option("--due", multiple=True, metavar="PIECES=DATE", help="What if: another due date.")
@click.option(
    "--schedule", multiple=True, metavar="PIECES=ID", help="What if: another schedule for pieces."
)
@click.option("--drop", multiple=True, metavar="PIECES", help="What if: without these.")
@click.option(
    "--air", metavar="T/H", help="What if: the room were so from now, as 24degC/45%, 75degF/45%."
)
@click.option(
    "--extra",
    multiple=True,
    metavar="'DATE TIMES'",
    help="What if: one more evening, as '2026-11-26 18:00-21:00'.",
)
@click.option(
    "--away",
    multiple=True,
    metavar="'[NAME] DATE'",
    help="What if: somebody, or everybody, were away.",
)
@click.option("--log-away", metavar="'[NAME] DATE'", help="Log that somebody is away, and replan.")
@click.option("--undo-away", is_flag=True, help="Take back the last --log-away, and replan.")
@shop_option
@why_option
@json_option
def command(shop: str | None, as_json: bool, why: bool, **options: Any) -> Exit:
    """Say who does what when, for every open piece.

    Work is placed in the shop's hours and never split; waits run on through the night. Exit status
    1 when a due date is missed, but for a file that was asked for and is written. The plan that was
    shown last is kept to as far as can be.
    """
    now = world().now()
    gathered = Gathered()
    file = gathered.read(lambda: _checked(options))
    with open_shop(shop, now) as workshop:
        tell_clock(workshop, now)
        from finishsched.cli.plan.plan_words import (
            looked_words,
            plan_data,
            plan_lines,
            side_by_side,
        )
        from finishsched.workshop.plan.plans import Asked, plan_answer

        asked_if = _read(workshop, options, gathered)
        asks_if = asked_if != Asked().what_if
        side = asks_if and not as_json
        asked = Asked(what_if=asked_if, insight=not (options["week"] or side), keep=True)
        found = plan_answer(workshop, now, replace(asked, **_search(options)))
        days = None if options["every"] else options["days"] or _DAYS_SHOWN
        looked_s = options["until_better"]
        if asks_if:
            # What plain looking brings without the change must not be put down to the change.
            looked_too = {**_search(options), "take_better": True}
            as_is = plan_answer(workshop, now, Asked(insight=False, **looked_too))
            answer(
                as_json,
                lambda: {**plan_data(found), "as_it_is": plan_data(as_is)},
                lambda: side_by_side(as_is, found, looked_s, offered=as_is.taken),
            )
        elif file is not None:
            said = _write(workshop, found, file, options)
            answer(as_json, lambda: {**plan_data(found), "file": str(file)}, lambda: said)
            return Exit.DONE
        elif options["week"] and not as_json:
            _week(workshop, found)
        else:
            looked = (
                "" if looked_s is None else looked_words(found, looked_s, taken=options["take"])
            )
            answer(
                as_json,
                lambda: plan_data(found),
                lambda: plan_lines(found, days, why=why, looked=looked),
            )
        return Exit.DONE if found.promised else Exit.NO


def _read(workshop: Workshop, options: dict[str, Any], gathered: Gathered) -> WhatIf:
    """Return the what-if that is asked, and log who is away, once every option has been read."""
    from finishsched.cli.plan.plan_asked import read_days_away, what_if

    people = workshop.papers.shop.people
    today = world().now().astimezone(workshop.zone).date()
    asked = gathered.read(lambda: what_if(options, options["air"], options["by"], people, today))
    gathered.read(lambda: check_names(workshop, options))
    if any(options[name] for name in _OF_WHAT_IFS):
        gathered.read(lambda: _refuse_beside_what_if(options))
    away = None
    if options["log_away"] is not None:
        said = options["log_away"]
        away = gathered.read(lambda: read_days_away("--log-away", said, people, today))
    gathered.settle()
    assert asked is not None  # noqa: S101
    _log_away(workshop, away, undo=options["undo_away"])
    return asked


def _search(options: dict[str, Any]) -> dict[str, Any]:
    """Return how long to look for a better plan."""
    seconds = options["until_better"]
    if seconds is None:
        return {"better": True, "take_better": options["take"]}
    return {"look_s": seconds, "take_better": options["take"], "tell": _progress(seconds)}


def _progress(seconds: float) -> Callable[[HowFar], None] | None:
    """Return what tells how far it has come, on the line of a terminal; None where nobody looks."""
    if not is_told():
        return None

    def tell(so_far: HowFar) -> None:
        from finishsched.cli.plan.plan_words import so_far_words

        tell_so_far(so_far_words(so_far, seconds))

    return tell


def _checked(options: dict[str, Any]) -> Path | None:
    """Return the file to write, if any; every option that goes with no other is told."""
    from finishsched.cli.faults import Words

    words, out, calendar = Words(), options["out"], options["calendar"]
    if out is not None and not options["week"]:
        words.fault("--out goes with --week; add it, or leave --out away")
    elif out is not None and not out.lower().endswith((".html", ".htm")):
        words.fault(f"--out: {out!r} is not a page; write a name that ends in .html")
    if calendar is not None and options["week"]:
        words.fault("--calendar and --week; ask for one after the other")
    elif calendar is not None and not calendar.lower().endswith(".ics"):
        # A phone takes a calendar in by this ending, and by nothing else.
        words.fault(f"--calendar: {calendar!r} is not a calendar; write a name that ends in .ics")
    if options["log_away"] is not None and options["undo_away"]:
        words.fault("--log-away and --undo-away; write one of them")
    if math.isnan(options["until_better"] or 0.0):
        words.fault("--until-better: 'nan' is no time; write how many seconds, such as 10")
    words.settle()
    if out is not None:
        return file_at("--out", out)
    return None if calendar is None else file_at("--calendar", calendar)


def _refuse_beside_what_if(options: dict[str, Any]) -> None:
    """Refuse what would keep, log or write: a what-if touches nothing."""
    from finishsched.cli.faults import Words

    words = Words()
    for name in ("--take", "--week", "--calendar", "--log-away", "--undo-away"):
        if options[name.removeprefix("--").replace("-", "_")] not in (None, False):
            words.fault(f"{name}: a what-if touches nothing; ask for {name} without one")
    words.settle()


def _log_away(workshop: Workshop, away: Away | None, *, undo: bool) -> None:
    """Take the entry that somebody is away, or take the last one back."""
    from finishsched.workshop.plan.away import back, log_away

    now = world().now()
    if away is not None:
        log_away(workshop, away, now)
    elif undo:
        back(workshop, now)


def _write(
    workshop: Workshop, found: PlanAnswer, file: Path, options: dict[str, Any]
) -> tuple[str, ...]:
    """Write the week as a page, or the plan as a calendar; say where, and what needs a look."""
    from finishsched.workshop.plan.sentences import promises

    week, force = options["week"], options["force"]
    if week:
        from finishsched.cli.common import write_page
        from finishsched.reports.week import week_page

        write_page(file, "week", week_page(found, workshop.papers.shop.name), force=force)
    else:
        _calendar(workshop, found, file, force=force)
    said = f"the {'week' if week else 'calendar'} is in {file}"
    return (said,) if found.promised else (said, f"  ! {promises(found)}")


def _calendar(workshop: Workshop, found: PlanAnswer, file: Path, *, force: bool) -> None:
    """Write the calendar over an earlier one of this shop; events that are gone are cancelled."""
    from finishsched.cli.faults import CommandError
    from finishsched.documents.plain_files import read_plain
    from finishsched.reports.calendar import (
        EmptyCalendarError,
        NotOurCalendarError,
        blocks_of,
        calendar_text,
        waits_of,
    )
    from finishsched.reports.pages import write_lines
    from finishsched.workshop.views.row_views import row_views
    from finishsched.workshop.views.views import due_answer

    due = due_answer(workshop, found.now)
    # What is the same for twelve fronts rings once.
    rows = row_views(workshop, due.clocks, found.now)
    alike = replace(due, clocks=tuple(row.view for row in rows))
    blocks = (*blocks_of(found), *waits_of(alike, found))
    try:
        earlier = b"" if force or not file.exists() else read_plain(file)
        text = calendar_text(workshop.papers.shop.name, blocks, found.now, earlier)
    except NotOurCalendarError as error:
        raise CommandError(f"--calendar: {file.name} is {error}; {OR_FORCE}") from None
    except EmptyCalendarError as error:
        raise CommandError(f"{error}: no calendar was written", status=Exit.NO) from None
    write_lines(file, (text.decode("utf-8"),))


def _week(workshop: Workshop, found: PlanAnswer) -> None:
    from finishsched.cli.common import say_folded
    from finishsched.cli.plan.plan_words import week_lines

    for line in week_lines(found, workshop.papers.shop.name):
        say_folded(line)
