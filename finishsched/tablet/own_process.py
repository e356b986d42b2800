"""Processes of this program's own, which do one thing for the server."""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Mapping

_PROGRAM = "import sys; from finishsched.tablet.{} import main; main(*sys.argv[1:])"
_NOT_INHERITED = ("NO_COLOR", "COLUMNS", "LINES", "FINISHSCHED_PLAIN")
"""Variables that tell of the terminal that the server runs in, and not of a page."""


async def begin(
    module: str, *told: str, variables: Mapping[str, str], heard: bool
) -> asyncio.subprocess.Process:
    """Begin a module of this folder in a process of its own; ``heard`` lets it be spoken to."""
    return await asyncio.create_subprocess_exec(
        *(sys.executable, "-P", "-c", _PROGRAM.format(module), *told),
        stdin=asyncio.subprocess.PIPE if heard else asyncio.subprocess.DEVNULL,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
        env={**_surroundings(), **variables},
        # A ctrl-c in the server's terminal is the server's to answer.
        start_new_session=True,
    )


def _surroundings() -> dict[str, str]:
    """Return the variables of a process that is found where this program was."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if name not in _NOT_INHERITED and not name.startswith("TEXTUAL")
    }
    return kept | {"PYTHONUTF8": "1", "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
