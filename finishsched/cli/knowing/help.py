"""``help``: the handbook, a page at a time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_named, world

if TYPE_CHECKING:
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.papers.handbook import Page

WIDEST = 80
"""Longer lines are hard to read on."""
LEAST_WIDTH = 40


@click.command("help")
@click.argument("topic", nargs=-1, metavar="[TOPIC]")
@click.option("--man", is_flag=True, help="Print the manual page for man.")
@json_option
def command(topic: tuple[str, ...], man: bool, as_json: bool) -> None:
    """Read the page on TOPIC in the handbook, or list all topics.

    TOPIC is a step such as pad, or anything else that bare help lists. For a command, such as
    reduce, it says where to read of it.
    """
    if man:
        from finishsched.cli.knowing.man_page import man_page
        from finishsched.cli.outgoing import say_text
        from finishsched.cli.program import program

        say_text(man_page(program))
        return
    name = " ".join(topic)
    if not name:
        answer(as_json, _list_data, _list_lines)
        return
    from finishsched.cli.program import COMMANDS
    from finishsched.workshop.papers.handbook import page, topic_named, topics

    if name in COMMANDS and name not in topics():
        _point(name, as_json=as_json)
        return
    found = page(topic_named(name) or name, _units())
    answer(as_json, lambda: _page_data(found), lambda: _page_lines(found))


def _units() -> ShownUnits:
    """Return the units of the shop that one stands in; or metric where there is none."""
    from finishsched.documents.faults import DocumentFaultsError
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.base.documents import shop_document

    folder = shop_named(None)
    try:
        return shop_document(folder).units if folder else ShownUnits()
    except DocumentFaultsError:
        return ShownUnits()


def _width() -> int:
    return max(LEAST_WIDTH, min(WIDEST, world().columns))


def _list_lines() -> Iterator[str]:
    from finishsched.workshop.papers.handbook import GROUPS, page

    wide = max(len(topic) for group in GROUPS.values() for topic in group)
    yield "The handbook: finishsched help TOPIC"
    for group, topics in GROUPS.items():
        yield ""
        yield group
        for topic in topics:
            yield f"  {topic:{wide}}  {_about(page(topic))}".rstrip()


def _about(shown: Page) -> str:
    """Return the title without the topic's own name, which stands beside it."""
    before, colon, after = shown.title.partition(": ")
    return after if colon else before


def _page_lines(shown: Page) -> Iterator[str]:
    from finishsched.cli.program import COMMANDS
    from finishsched.workshop.papers.handbook import page_lines

    yield from page_lines(shown, _width())
    if shown.id in COMMANDS:
        yield f"There is a command of that name too: finishsched {shown.id} --help"


def _point(name: str, *, as_json: bool) -> None:
    """Say where a command is explained."""
    from finishsched.cli.program import COMMANDS, TOPICS

    summary, topic = COMMANDS[name].summary, TOPICS.get(name)
    lines = [f"{name}: {summary}", f"  its options: finishsched {name} --help"]
    if topic:
        lines.append(f"  to read more: finishsched help {topic}")
    answer(
        as_json,
        lambda: {"command": name, "summary": summary, "topic": topic},
        lambda: lines,
    )


def _list_data() -> dict[str, Any]:
    from finishsched.workshop.papers.handbook import page, topics

    return {
        "topics": [
            {"topic": shown.id, "title": shown.title, "group": shown.group}
            for shown in map(page, topics())
        ]
    }


def _page_data(shown: Page) -> dict[str, Any]:
    return {
        "topic": shown.id,
        "title": shown.title,
        "group": shown.group,
        "text": shown.text,
        "see_also": list(shown.see_also),
        "sources": shown.sources,
    }
