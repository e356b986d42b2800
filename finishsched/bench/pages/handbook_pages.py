"""The handbook on the bench: a page with what to read next, the groups, the topics of a group."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.page import Paragraph
from finishsched.model.shop import ShownUnits
from finishsched.workshop.papers.handbook import GROUPS, Kind, Page, page

GROUP, TOPIC, ALL = "group:", "topic:", "all"
"""What an answer begins with, to tell what it leads to."""


def next_card(answer: str, units: ShownUnits) -> ChoiceCard:
    """Return the card that ``answer`` of another leads to, its figures in ``units``."""
    if answer.startswith(TOPIC):
        return _page_card(answer.removeprefix(TOPIC), units)
    if answer.startswith(GROUP):
        return _topics_card(answer.removeprefix(GROUP))
    return _groups_card()


def _page_card(topic: str, units: ShownUnits) -> ChoiceCard:
    """Return the page on a topic, with the topics to read next."""
    shown = page(topic, units)
    to_read = [Choice(f"{TOPIC}{each}", page(each).title) for each in shown.see_also]
    return ChoiceCard(
        shown.title,
        "read on",
        [*to_read, Choice(ALL, "every topic")],
        before=tuple(_paragraphs(shown)),
        after=(Paragraph("", f"Sources: {shown.sources}", "$text-muted"),),
    )


def _groups_card() -> ChoiceCard:
    """Return the groups of the topics."""
    choices = [
        Choice(f"{GROUP}{group}", group, ", ".join(topics)) for group, topics in GROUPS.items()
    ]
    return ChoiceCard("The handbook", "open it", choices)


def _topics_card(group: str) -> ChoiceCard:
    """Return the topics of a group."""
    choices = [Choice(f"{TOPIC}{topic}", page(topic).title) for topic in GROUPS[group]]
    return ChoiceCard(f"The handbook: {group}", "read it", [*choices, Choice(ALL, "every topic")])


def _paragraphs(shown: Page) -> Iterator[Paragraph]:
    before: Kind | None = None
    for block in shown.blocks:
        if before is not None and not (before is Kind.ITEM and block.kind is Kind.ITEM):
            yield Paragraph("", "")
        before = block.kind
        if block.kind is Kind.SHOWN:
            yield from (Paragraph("", _kept(line)) for line in block.text.splitlines())
            continue
        text = block.text.replace("`", "")
        style = "bold" if block.kind is Kind.HEADING else ""
        yield Paragraph("-" if block.kind is Kind.ITEM else "", text, style)


def _kept(line: str) -> str:
    """Return a line whose indent and columns no wrapping closes up."""
    return line.replace("  ", "\u00a0\u00a0")
