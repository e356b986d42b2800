"""The process that the worker starts: one request from standard input, lines of JSON out."""

from __future__ import annotations

import json
import os
import sys
import threading
from typing import Any

from finishsched.model.plain import from_plain, to_plain
from finishsched.planning.exact import exact_plan
from finishsched.planning.exact.answer import SolverMissingError
from finishsched.planning.exact.worker import KINDER, Request


def main() -> None:
    """Answer the request; end at once when whoever asked is gone."""
    if hasattr(os, "nice"):
        os.nice(KINDER)
    request = from_plain(Request, json.loads(sys.stdin.readline()))
    threading.Thread(target=_end_with_parent, daemon=True).start()
    try:
        answer = exact_plan(
            request.problem,
            request.start,
            limit_s=request.limit_s,
            workers=request.workers,
            seed=request.seed,
            on_better=lambda plan: _say("better", to_plain(plan)),
        )
    except SolverMissingError as error:
        _say("fault", str(error))
    else:
        _say("answer", to_plain(answer))


def _say(kind: str, data: Any) -> None:
    """Tell whoever asked one thing, in a line of its own: what it is, and then the thing.

    Args:
        kind: what it is, in a word.
        data: the thing, in plain values.

    """
    sys.stdout.write(f"{kind} {json.dumps(data)}\n")
    sys.stdout.flush()


def _end_with_parent() -> None:
    """End at once when whoever asked has closed the pipe, as it does when it ends."""
    sys.stdin.read()
    os._exit(1)


if __name__ == "__main__":
    main()
