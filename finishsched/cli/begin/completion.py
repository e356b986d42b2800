"""``completion``: let the shell complete what finishsched knows."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import click

from finishsched.cli.common import answer, json_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.outgoing import say_json, say_text

_SHELLS = ("bash", "zsh", "fish")
_MARK = "# completes finishsched"


@click.command("completion")
@click.argument("shell", required=False)
@click.option("--install", is_flag=True, help="Put it where the shell finds it, for good.")
@json_option
def command(shell: str | None, install: bool, as_json: bool) -> None:
    """Print what lets SHELL complete commands, options, pieces and schedules: bash, zsh or fish.

    With --install it is kept, and the shell's own file gets one line that reads it; a second time
    changes nothing. SHELL is the one that runs here when it is left out.
    """
    named = shell or Path(world().variables.get("SHELL", "")).name
    if named not in _SHELLS:
        raise CommandError(f"no completion for {named or 'a shell of no name'!r}; write "
                           f"{', '.join(_SHELLS[:-1])} or {_SHELLS[-1]}")  # fmt: skip
    script = script_for(named)
    if not install:
        # A shell reads it: nothing may be folded in it.
        if as_json:
            say_json({"shell": named, "script": script})
        else:
            say_text(script.rstrip("\n") + "\n")
        return
    file, changed = _install(named, script)
    said = [f"kept in {file}", *([f"one line was added to {changed}"] if changed else [])]
    answer(
        as_json,
        lambda: {"shell": named, "file": str(file), "changed": str(changed) if changed else None},
        lambda: [*said, "it works in the next shell that is opened"],
    )


def script_for(shell: str) -> str:
    """Return the script by which a shell asks finishsched what to complete."""
    from click.shell_completion import BashComplete, FishComplete, ZshComplete

    from finishsched.cli.program import program

    kinds = {"bash": BashComplete, "zsh": ZshComplete, "fish": FishComplete}
    # The shell's own version is no matter here: what bash 4.4 needs is told by the shell itself.
    made = kinds[shell](program, {}, "finishsched", "_FINISHSCHED_COMPLETE")
    return made.source_template % made.source_vars()


def _install(shell: str, script: str) -> tuple[Path, Path | None]:
    """Write the script, and a line into the shell's own file where it would not find it itself."""
    from finishsched.workshop.base.write_whole import write_chunks

    home = Path(world().variables.get("HOME") or Path.home())
    if shell == "fish":
        file = home / ".config/fish/completions/finishsched.fish"
        own = None
    else:
        file = world().data_dir().parent / "finishsched-completion" / f"finishsched.{shell}"
        own = home / f".{shell}rc"
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        write_chunks(file, [script.encode("utf-8")])
    except OSError:
        with suppress(OSError):  # it holds something, or was there before
            file.parent.rmdir()
        raise
    if own is None:
        return file, None
    text = own.read_text("utf-8") if own.is_file() else ""
    if _MARK in text:
        return file, None
    ready = (
        "autoload -U compinit && compinit\n" if shell == "zsh" and "compinit" not in text else ""
    )
    gap = "" if not text or text.endswith("\n") else "\n"
    write_chunks(own, [f"{text}{gap}{ready}. '{file}'  {_MARK}\n".encode()])
    return file, own
