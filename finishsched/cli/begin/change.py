"""``change``: one thing of a document, without an editor."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from finishsched.cli.begin.asking import agree, can_ask, show_text
from finishsched.cli.begin.begin import shown_lines, take_back_newest
from finishsched.cli.common import answer, json_option, say_folded, shop_option, world
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from collections.abc import Iterable

    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.written import Written


@click.command("change")
@click.argument("what", required=False)
@click.argument("key", required=False)
@click.argument("value", required=False)
@click.option("--out", is_flag=True, help="Take the key out: what is usual holds again.")
@click.option("--add", metavar="LINE", help="Add a step after WHAT, said as in a notebook.")
@click.option("--before", is_flag=True, help="Of --add: before WHAT.")
@click.option("--remove", is_flag=True, help="Take the step WHAT out of its schedule.")
@click.option("--move", metavar="WHERE", help="Move it up, down, first, last, 'after STAGE/STEP'.")
@click.option("--usual", is_flag=True, help="Of --add: settle every doubt by what is usual.")
@click.option("--show", is_flag=True, help="Show what would change, and write nothing.")
@click.option("--undo", is_flag=True, help="Take back the newest document that was written so.")
@shop_option
@json_option
def command(
    what: str | None,
    key: str | None,
    value: str | None,
    out: bool,
    add: str | None,
    before: bool,
    remove: bool,
    move: str | None,
    usual: bool,
    show: bool,
    undo: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Change KEY of WHAT to VALUE, in its document; every other byte stays as it is.

    WHAT is shop, a job, a piece, a schedule, or a step as schedule/stage/step. Without KEY it lists
    the keys with what they say now. Values are plain words: 'Ana, Rui', '18 degC, 60 %', '10 min to
    15 min between, 12 h to 1 day after'. A step is added, taken out or moved with the options;
    --add takes a stage as schedule/stage too.
    """
    if undo:
        take_back_newest(shop, as_json)
        return
    if what is None:
        raise CommandError(
            "WHAT is missing; write for example finishsched change lid due 2026-12-18"
        )
    of_steps = [name for name, given in
                (("--add", add), ("--remove", remove), ("--move", move)) if given]  # fmt: skip
    _refuse_together(of_steps, key, before=before, usual=usual, add=add)
    with open_shop(shop, world().now()) as workshop:
        if of_steps:
            from finishsched.cli.begin.change_steps import change_steps

            written, beside = change_steps(
                workshop, what, add, move, before=before, usual=usual, asks=not as_json
            )
            _keep(workshop, written, beside, show=show, as_json=as_json)
            return
        if key is None:
            from finishsched.workshop.begin.changing import values_now

            lines = values_now(workshop.papers, workshop.folder, what)
            answer(as_json, lambda: {"what": what, "keys": lines}, lambda: _key_lines(lines))
            return
        if value is None and not out:
            raise CommandError(f"VALUE is missing; write what {key} is to be, or --out for none")
        _change(workshop, (what, key, None if out else value), show=show, as_json=as_json)


def _change(
    workshop: Workshop, asked: tuple[str, str, str | None], *, show: bool, as_json: bool
) -> None:
    from finishsched.workshop.begin.changing import draft_change

    today = world().now().astimezone(workshop.zone).date()
    written = draft_change(workshop.papers, workshop.folder, *asked, today)
    _keep(workshop, written, [], show=show, as_json=as_json)


def _keep(
    workshop: Workshop, written: Written, beside: list[str], *, show: bool, as_json: bool
) -> None:
    """Show a change where somebody looks, write it, and say so, with what stands beside it."""
    from finishsched.workshop.begin.written import put

    changed = written.before != written.after
    asks = can_ask() and not as_json
    if (show or asks) and changed:
        show_text(shown_lines(written))
        for line in beside if asks else []:
            say_folded(line)
    keep = changed and not show and (not asks or agree(f"Write {written.path}?"))
    if keep:
        put(workshop.folder, written, world().now())
    said = "changed" if keep else "nothing was written" if changed else "it says so already"
    answer(
        as_json,
        lambda: {"file": written.path, "what": written.what, "written": keep,
                 "text": written.after, "beside": beside},
        lambda: [*([] if asks else beside), f"{written.path}: {said}"],
    )  # fmt: skip


def _refuse_together(
    of_steps: list[str], key: str | None, *, before: bool, usual: bool, add: str | None
) -> None:
    words = Words()
    if len(of_steps) > 1:
        words.fault(f"{' and '.join(of_steps)}; write one of them")
    if of_steps and key is not None:
        words.fault(f"{of_steps[0]} goes with no KEY; leave {key!r} away")
    if add is None and (before or usual):
        words.fault(f"{'--before' if before else '--usual'} goes with --add; add it, or leave away")
    words.settle()


def _key_lines(keys: dict[str, str]) -> Iterable[str]:
    for key, value in keys.items():
        yield f"{key:<12} {value or '-'}"
