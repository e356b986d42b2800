"""The man page, made of the same text as every ``--help``."""

from __future__ import annotations

from collections.abc import Iterator

import click

from finishsched import __version__
from finishsched.cli.commands import COMMANDS, GROUPS


def man_page(program: click.Command) -> str:
    """Return the manual page of the program with all its commands, for man(1)."""
    return "\n".join(_lines(program)) + "\n"


def _lines(program: click.Command) -> Iterator[str]:
    yield f'.TH FINISHSCHED 1 "" "finishsched {__version__}" "User commands"'
    yield ".SH NAME"
    yield f"finishsched \\- {_plain(_first_line(program)).rstrip('.').lower()}"
    yield ".SH SYNOPSIS"
    yield ".B finishsched"
    yield "[OPTIONS] COMMAND [ARGUMENTS]"
    yield ".SH DESCRIPTION"
    yield _plain(" ".join((program.epilog or "").split()))
    context = click.Context(program, info_name="finishsched")
    assert isinstance(program, click.Group)  # noqa: S101
    for group in GROUPS:
        yield f'.SH "{group.upper()}"'
        for name, entry in COMMANDS.items():
            if entry.group == group:
                command = program.get_command(context, name)
                assert command is not None  # noqa: S101
                yield from _command_lines(name, command, context)
    yield ".SH EXIT STATUS"
    yield "0 done; 1 the answer is no; 2 wrong use or bad input."


def _command_lines(name: str, command: click.Command, parent: click.Context) -> Iterator[str]:
    context = click.Context(command, info_name=name, parent=parent)
    pieces = " ".join(command.collect_usage_pieces(context))
    yield f'.SS "{_plain(f"finishsched {name} {pieces}")}"'
    for paragraph in (command.help or "").split("\n\n"):
        yield ".PP"
        yield _plain(" ".join(paragraph.split()))
    for param in command.params:
        record = param.get_help_record(context)
        if record is not None:
            yield ".TP"
            yield f".B {_plain(record[0])}"
            yield _plain(record[1])
    for example in COMMANDS[name].examples:
        yield ".PP"
        yield f".EX\n{_plain(f'finishsched {example}')}\n.EE"


def _first_line(command: click.Command) -> str:
    return (command.help or "").strip().splitlines()[0]


def _plain(text: str) -> str:
    """Return text with nothing in it that man would take for a sign of its own."""
    safe = text.replace("\\", "\\e").replace("-", "\\-")
    return f"\\&{safe}" if safe.startswith((".", "'")) else safe
