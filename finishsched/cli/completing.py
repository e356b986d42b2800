"""What the shell completes: pieces, jobs, schedules, products, defects and pages, by parameter."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

import click
from click.shell_completion import CompletionItem

from finishsched.cli.surroundings import Surroundings

Source = Callable[[Path | None], Iterable[tuple[str, str]]]
"""Gives each name with what it is, for the shop found from here."""


def completed(name: str, command: click.Command) -> None:
    """Let each parameter of a command complete the names that it takes."""
    for param in command.params:
        source = _SOURCES.get(f"{name}.{param.name}") or _SOURCES.get(param.name or "")
        if source is not None:
            # click has no other door for a parameter that is made already.
            vars(param)["shell_complete"] = _completer(source)


def _completer(source: Source) -> Callable[[click.Context, str], list[CompletionItem]]:
    def complete(ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        try:
            rows = list(source(_shop(ctx)))
        except (OSError, ValueError):
            return []  # no shop, or one that cannot be read: nothing to complete by
        low = incomplete.lower()
        return [CompletionItem(n, help=what) for n, what in rows if n.lower().startswith(low)]

    return complete


def _shop(ctx: click.Context) -> Path | None:
    from finishsched.workshop.base.place import find_shop

    world = ctx.find_object(Surroundings)
    if world is None:
        return None
    named = ctx.params.get("shop") or ctx.find_root().params.get("shop")
    return find_shop(named, world.variables, world.cwd, world.data_dir)


def _pieces(folder: Path | None) -> Iterable[tuple[str, str]]:
    if folder is None:
        return
    from finishsched.workshop.base.documents import read_papers

    seen: dict[str, int] = {}
    pieces = list(read_papers(folder).pieces_in_hand())
    for _, _, piece in pieces:
        seen[piece.id] = seen.get(piece.id, 0) + 1
    for ref, _, piece in pieces:
        yield (piece.id if seen[piece.id] == 1 else ref), piece.title


def _jobs(folder: Path | None) -> Iterable[tuple[str, str]]:
    if folder is None:
        return
    from finishsched.workshop.base.documents import read_papers

    yield from read_papers(folder).titles.items()


def _pieces_and_jobs(folder: Path | None) -> Iterable[tuple[str, str]]:
    yield from _pieces(folder)
    yield from _jobs(folder)


def _schedules(folder: Path | None) -> Iterable[tuple[str, str]]:
    if folder is None:
        from finishsched.documents.library import schedule_names

        yield from ((name, "") for name in schedule_names())
        return
    from finishsched.workshop.base.documents import read_papers

    yield from ((each.id, each.title) for each in read_papers(folder).schedules.values())


def _products(folder: Path | None) -> Iterable[tuple[str, str]]:
    if folder is None:
        from finishsched.documents.library import product_names

        yield from ((name, "") for name in product_names())
        return
    from finishsched.workshop.base.documents import read_papers

    yield from ((name, "") for name in read_papers(folder).products)


def _defects(_: Path | None) -> Iterable[tuple[str, str]]:
    from finishsched.checking.defects.seen import Seen

    yield from ((seen.value, "") for seen in Seen)


def _pages(_: Path | None) -> Iterable[tuple[str, str]]:
    from finishsched.cli.commands import COMMANDS
    from finishsched.workshop.papers.handbook import topics

    yield from ((topic, "") for topic in topics())
    yield from ((name, entry.summary) for name, entry in COMMANDS.items())


def _rules(_: Path | None) -> Iterable[tuple[str, str]]:
    from finishsched.checking.registry import RULES

    yield from ((rule.code, rule.title) for rule in RULES.values())


def _whats(folder: Path | None) -> Iterable[tuple[str, str]]:
    yield "shop", "the place and the people"
    yield from _pieces_and_jobs(folder)
    yield from _schedules(folder)
    if folder is not None:
        from finishsched.workshop.base.documents import read_papers
        from finishsched.workshop.begin.stepping import step_names

        for name, schedule in read_papers(folder).schedules.items():
            yield from ((f"{name}/{step}", "") for step in step_names(schedule))


def _entries(_: Path | None) -> Iterable[tuple[str, str]]:
    from finishsched.workshop.base.entries import What

    yield from ((what.value, "") for what in What)


def _settings(_: Path | None) -> Iterable[tuple[str, str]]:
    from finishsched.workshop.begin.changing import SETTING_KEYS

    yield from ((key, "") for key in SETTING_KEYS)


def _shells(_: Path | None) -> Iterable[tuple[str, str]]:
    yield from (("bash", ""), ("zsh", ""), ("fish", ""))


_SOURCES: dict[str, Source] = {
    "piece": _pieces,
    "record.piece": _pieces_and_jobs,
    "again.piece": _pieces_and_jobs,
    "job": _jobs,
    "product": _products,
    "seen": _defects,
    "topic": _pages,
    "explain": _rules,
    "log.words": _entries,
    "schedules.name": _schedules,
    "schedule": _schedules,
    "change.what": _whats,
    "settings.key": _settings,
    "completion.shell": _shells,
}
"""By command and parameter, else by the parameter alone."""
