"""What the commands share: their common options, and how an answer leaves the program."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from finishsched.cli.faults import CommandError
from finishsched.cli.outgoing import clean, say, say_json
from finishsched.cli.surroundings import Surroundings
from finishsched.model.reason import Reason
from finishsched.model.shop import ShownUnits

Command = TypeVar("Command", bound=Callable[..., Any])

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON object on stdout.")
shop_option = click.option("--shop", metavar="DIR", help="The shop folder to work in.")
OR_FORCE = "name another, or write over it with --force"
force_option = click.option(
    "--force", is_flag=True, help="Write over a file that this command did not write."
)
DRY_RUN = "finishsched.dry-run"
"""Under this the running program keeps that nothing is to be logged."""


def _keep_dry_run(ctx: click.Context, _: click.Parameter, given: bool) -> None:
    if given:
        ctx.meta[DRY_RUN] = True


dry_run_option = click.option(
    "--dry-run",
    is_flag=True,
    expose_value=False,
    callback=_keep_dry_run,
    help="Answer as if it were logged, and log nothing.",
)
why_option = click.option("--why", is_flag=True, help="Add the rule, the inputs and the source.")


def world() -> Surroundings:
    """Return the surroundings of the running command."""
    found = click.get_current_context().find_object(Surroundings)
    assert found is not None  # noqa: S101
    return found


def shop_named(option: str | None) -> Path | None:
    """Return the shop folder for the running command, or None where there is none."""
    from finishsched.workshop.base.place import find_shop

    here = world()
    named = option or click.get_current_context().meta.get("finishsched.shop")
    return find_shop(named, here.variables, here.cwd, here.data_dir)


def folder_at(name: str, text: str) -> Path:
    """Return the folder that a person names.

    Raises:
        CommandError: when it names no place: an unknown home, a link that leads to itself.

    """
    try:
        return (world().cwd / Path(text).expanduser()).resolve()
    except (RuntimeError, OSError, ValueError):
        raise CommandError(f"{name}: {text!r} is no place; name a folder that can be") from None


def file_at(name: str, text: str) -> Path:
    """Return the file to be written that a person names, in a folder that is there.

    Raises:
        CommandError: when it names no place, or a shop's journal, which nothing writes over.

    """
    from finishsched.workshop.base.place import JOURNAL_FILE

    path = folder_at(name, text)
    if path.name.startswith(JOURNAL_FILE):
        raise CommandError(f"{name}: so is a shop's journal called: {text!r}; name another")
    if path.is_dir() or not path.parent.is_dir():
        raise CommandError(f"{name}: {text!r} names no file in a folder that is there")
    return path


def page_file_at(name: str, text: str) -> Path:
    """Return the file for a page that a person names, in a folder that is there.

    Raises:
        CommandError: when it names no place, or no page.

    """
    file = file_at(name, text)
    if file.suffix.lower() not in (".html", ".htm"):
        raise CommandError(f"{name}: {text!r} is not a page; write a name that ends in .html")
    return file


def write_page(file: Path, kind: str, page: str, *, force: bool) -> None:
    """Write a page for a person, over an earlier one of its kind.

    Raises:
        CommandError: when something else is there, unless ``force``, or it cannot be written.

    """
    from finishsched.reports import pages

    try:
        pages.write_page(file, kind, page, force=force)
    except pages.NotOursError as error:
        raise CommandError(f"{error}; {OR_FORCE}") from None
    except OSError as error:
        raise CommandError(f"{file}: {error.strerror}; name another") from None


def answer(
    as_json: bool,
    data: Callable[[], Mapping[str, Any]],
    lines: Callable[[], Iterable[str]],
) -> None:
    """Print an answer the one way or the other; of a dry run it says that it is one."""
    is_tried = only_tries()
    if as_json:
        say_json({**data(), "dry_run": True} if is_tried else data())
        return
    if is_tried:
        say_folded("dry run: this is what would be said, and nothing is logged")
    for line in lines():
        say_folded(line)


def only_tries() -> bool:
    """Tell whether the running command is to log nothing."""
    return bool(click.get_current_context().meta.get(DRY_RUN))


def say_folded(line: str) -> None:
    """Print one line for people, folded where it is too wide."""
    for part in wrapped(line).split("\n"):
        say(part)


def of_several(each: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """Return the answers about several pieces as one object; that about one is itself."""
    return each[0] if len(each) == 1 else {"pieces": list(each)}


def wrapped(line: str) -> str:
    """Fold a line that is too wide, its later parts set in under its first words."""
    line = clean(line)
    columns = world().columns
    if len(line) <= columns:
        return line
    indent = len(line) - len(line.lstrip())
    return textwrap.fill(
        line,
        columns,
        subsequent_indent=" " * (indent + 2),
        break_long_words=False,
        break_on_hyphens=False,
    )


def why_lines(reasons: Iterable[Reason], units: ShownUnits) -> Iterable[str]:
    """Give each reason in words, its figures in the shop's units: rule, inputs, source."""
    for reason in why_data(reasons, units):
        yield f"  why  {reason['rule']}"
        if reason["inputs"]:
            yield f"       with {', '.join(reason['inputs'])}"
        yield f"       from {reason['source']}"


def why_data(reasons: Iterable[Reason], units: ShownUnits) -> list[dict[str, Any]]:
    """Return reasons as JSON values, their words as people read them."""
    from finishsched.model.said import told, told_marks
    from finishsched.workshop.base.shown import tell_in

    tell = tell_in(units)
    return [
        {
            "rule": told_marks(told(reason.rule, tell), tell),
            "inputs": [told(words, tell) for words in reason.inputs],
            "source": told_marks(reason.source, tell),
        }
        for reason in reasons
    ]
