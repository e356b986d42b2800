"""Run one command and turn every ending into lines on stderr and an exit status."""

from __future__ import annotations

import errno
import io
import os
import shutil
import sys
from collections.abc import Iterable, Sequence

import click

from finishsched.cli.faults import Exit
from finishsched.cli.outgoing import say
from finishsched.cli.surroundings import Surroundings
from finishsched.refusals import RefusalError

_MAY_NOT = "make it readable and writable for you, or name another place"
_NO_ROOM = "make room on the disk, or name another place, then do it again"
_BY_ERROR = {
    errno.EACCES: _MAY_NOT,
    errno.EPERM: _MAY_NOT,
    errno.EROFS: _MAY_NOT,
    errno.ENOSPC: _NO_ROOM,
    errno.EDQUOT: _NO_ROOM,
    errno.EFBIG: _NO_ROOM,
}


def run(arguments: Sequence[str], surroundings: Surroundings | None = None) -> int:
    """Run the command line on ``arguments`` and return its exit status."""
    from finishsched.cli.program import program

    _never_fail_to_print()
    try:
        world = surroundings or _here()
    except OSError as error:
        _say([f"the folder you stand in cannot be read: {error.strerror}; go to another one"])
        return Exit.WRONG_USE
    try:
        status = program.main(
            list(arguments), prog_name="finishsched", standalone_mode=False, obj=world
        )
        if sys.stdout is not None:
            sys.stdout.flush()
    except SystemExit:
        # click itself ends the program so, and only so, when the reader of our output has gone:
        # its status of 1 would say that the answer is no.
        return Exit.DONE
    except BrokenPipeError:
        # The reader of our output has gone; writing to it again at exit would raise once more.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    except (KeyboardInterrupt, click.Abort):
        return Exit.INTERRUPTED
    except Exception as error:  # noqa: BLE001  # the one place where no traceback may pass
        return _end(error, world)
    return int(status) if isinstance(status, int) else Exit.DONE


def _never_fail_to_print() -> None:
    """Have signs that the other end cannot take replaced, in click's own pages of help too."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _here() -> Surroundings:
    columns = shutil.get_terminal_size((100, 24)).columns
    at_terminal = sys.stdout is not None and sys.stdout.isatty()
    can_ask = at_terminal and sys.stdin is not None and sys.stdin.isatty()
    return Surroundings(
        at_terminal=at_terminal, ask=input if can_ask else None, columns=max(40, columns)
    )


def _end(error: Exception, world: Surroundings) -> int:
    lines, status = _explain(error, world)
    _say(lines)
    return status


def _explain(error: Exception, world: Surroundings) -> tuple[Iterable[str], int]:
    if isinstance(error, RefusalError):
        return error.lines, error.status
    if isinstance(error, click.ClickException):
        context = getattr(error, "ctx", None)
        path = context.command_path if context is not None else "finishsched"
        return [f"{path}: {_one_line(error.format_message())}"], Exit.WRONG_USE
    if isinstance(error, OSError):
        remedy = _BY_ERROR.get(error.errno or 0, "name another place, or do it again")
        why = f"{error.filename or 'a file'}: {error.strerror or error}"
        return [f"{why}; {remedy}"], Exit.WRONG_USE
    return [_keep_for_repair(error, world)], Exit.BROKEN


def _one_line(message: str) -> str:
    return " ".join(message.split())


def _say(lines: Iterable[str]) -> None:
    for line in lines:
        say(line, err=True)


def _keep_for_repair(error: Exception, world: Surroundings) -> str:
    """Write the details of a fault of our own to a file, and say where they are."""
    import traceback

    from finishsched import __version__

    words = f"a fault inside finishsched {__version__}: {type(error).__name__}"
    try:
        folder = world.data_dir()
        folder.mkdir(parents=True, exist_ok=True)
        file = folder / "last-fault.txt"
        file.write_text("".join(traceback.format_exception(error)), "utf-8")
    except OSError:
        return f"{words}; nothing was changed by it"
    return f"{words}; nothing was half written, and the details are in {file}"
