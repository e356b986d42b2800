"""``change``: one thing of a document, without an editor."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from finishsched.cli.begin.asking import agree, can_ask, show_text
from finishsched.cli.begin.begin import shown_lines, take_back_newest
from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from collections.abc import Iterable

    from finishsched.workshop.base.workshop import Workshop


@click.command("change")
@click.argument("what", required=False)
@click.argument("key", required=False)
@click.argument("value", required=False)
@click.option("--out", is_flag=True, help="Take the key out: what is usual holds again.")
@click.option("--show", is_flag=True, help="Show what would change, and write nothing.")
@click.option("--undo", is_flag=True, help="Take back the newest document that was written so.")
@shop_option
@json_option
def command(
    what: str | None,
    key: str | None,
    value: str | None,
    out: bool,
    show: bool,
    undo: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Change KEY of WHAT to VALUE, in its document; every other byte stays as it is.

    WHAT is shop, a job, a piece, a schedule, or a step as schedule/stage/step. Without KEY it lists
    the keys with what they say now. Lists are written with semicolons between.
    """
    if undo:
        take_back_newest(shop, as_json)
        return
    if what is None:
        raise CommandError(
            "WHAT is missing; write for example finishsched change lid due 2026-12-18"
        )
    with open_shop(shop, world().now()) as workshop:
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
    from finishsched.workshop.begin.written import put

    written = draft_change(workshop.papers, workshop.folder, *asked)
    changed = written.before != written.after
    asks = can_ask() and not as_json
    if (show or asks) and changed:
        show_text(shown_lines(written))
    keep = changed and not show and (not asks or agree(f"Write {written.path}?"))
    if keep:
        put(workshop.folder, written, world().now())
    said = "changed" if keep else "nothing was written" if changed else "it says so already"
    answer(
        as_json,
        lambda: {"file": written.path, "what": written.what, "written": keep,
                 "text": written.after},
        lambda: [f"{written.path}: {said}"],
    )  # fmt: skip


def _key_lines(keys: dict[str, str]) -> Iterable[str]:
    for key, value in keys.items():
        yield f"{key:<12} {value or '-'}"
