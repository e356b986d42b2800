"""What may stand after any command as well as before it: ``-q`` and ``--verbose``."""

from __future__ import annotations

from functools import wraps
from typing import Any

import click

QUIET, VERBOSE, TOLD = "finishsched.quiet", "finishsched.verbose", "finishsched.told"
"""Under these the running program keeps what is to be said beside its answer."""


def take_beside(name: str, command: click.Command) -> None:
    """Have a command take what stands before it too; hidden, so that its help stays short."""
    plain = command.callback
    if plain is None or any("--verbose" in parameter.opts for parameter in command.params):
        return
    command.params += [
        _hidden("-q", "--quiet", sets=QUIET),
        _hidden("--verbose", sets=VERBOSE),
    ]

    @wraps(plain)
    def telling(*given: Any, **named: Any) -> Any:
        from finishsched.cli.shop_door import tell_around, tell_places

        if click.get_current_context().meta.get(VERBOSE):
            tell_places(named.get("shop"))
        tell_around(name)
        return plain(*given, **named)

    command.callback = telling


def is_quiet() -> bool:
    """Tell whether the running command is to say its answer only."""
    context = click.get_current_context(silent=True)
    return context is not None and bool(context.meta.get(QUIET))


def told_here() -> set[str]:
    """Return the notices that the running command said; to be added to."""
    context = click.get_current_context(silent=True)
    told: set[str] = set() if context is None else context.meta.setdefault(TOLD, set())
    return told


def _hidden(*names: str, sets: str) -> click.Option:
    def keep(ctx: click.Context, _: click.Parameter, given: bool) -> None:
        if given:
            ctx.meta[sets] = True

    return click.Option([*names], is_flag=True, hidden=True, expose_value=False, callback=keep)
