"""Run the exact planner beside the program, in a process of its own.

So nothing that the solver does holds up a screen, not even loading it; and to cancel is to end the
process, which takes no longer while a model is being built than later. The two speak in lines of
JSON: the request in; better plans and at last the answer out.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from dataclasses import dataclass

from finishsched.model.plain import from_plain, to_plain
from finishsched.planning.exact.answer import ExactAnswer
from finishsched.planning.problem import Plan, Problem

KINDER = 5
"""How much the process steps back for others, in the steps of ``nice``."""


class WorkerFault(RuntimeError):  # noqa: N818  # a fault, like any other
    """The process ended without an answer."""


@dataclass(frozen=True, slots=True)
class Request:
    """What the process is asked."""

    problem: Problem
    start: Plan
    """The plan to begin from."""
    limit_s: float
    """For how many seconds to look."""
    workers: int | None = None
    """How many cores to use; all when None."""
    seed: int = 0
    """For whatever the solver leaves to chance."""


@dataclass(frozen=True, slots=True)
class WorkerNews:
    """What has come from the process since it was last asked."""

    better: Plan | None = None
    """The newest better plan, if there is a new one."""
    answer: ExactAnswer | None = None
    """The answer, once and for all, when it has ended."""


class ExactWorker:
    """The exact planner in another process; to be started once."""

    def __init__(
        self,
        problem: Problem,
        start: Plan,
        *,
        limit_s: float,
        workers: int | None = None,
        seed: int = 0,
    ) -> None:
        """Prepare to ask; nothing is started yet.

        Args:
            problem: what to plan.
            start: the plan to begin from.
            limit_s: for how many seconds to look.
            workers: how many cores to use; all when None.
            seed: for whatever the solver leaves to chance.

        """
        self._request = Request(problem, start, limit_s, workers, seed)
        self._process: subprocess.Popen[str] | None = None
        self._lock = threading.Lock()
        self._better = ""
        """The newest better plan, as it came; the next two likewise."""
        self._answer = ""
        self._fault = ""
        self._ended = threading.Event()
        self._cancelled = False

    @property
    def running(self) -> bool:
        """Whether it has been started, and has neither answered nor been cancelled."""
        was_started = self._process is not None
        is_over = self._ended.is_set() or self._cancelled
        return was_started and not is_over

    def start(self) -> None:
        """Begin, and return at once."""
        # It looks for modules where this process does.
        search_path = os.pathsep.join(filter(None, sys.path))
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "finishsched.planning.exact.child"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
            env={**os.environ, "PYTHONPATH": search_path},
        )
        talking = threading.Thread(
            target=self._talk,
            args=(self._process,),
            daemon=True,
        )
        talking.start()

    def poll(self) -> WorkerNews:
        """Return what is new, and wait for nothing.

        Raises:
            WorkerFault: when the process ended without an answer, though nobody cancelled it.

        """
        with self._lock:
            better, self._better = self._better, ""
            answer = self._answer
        if self._cancelled:
            return WorkerNews()
        if self._ended.is_set() and not answer:
            raise WorkerFault(self._fault or "the exact planner ended without an answer")
        return WorkerNews(
            from_plain(Plan, json.loads(better)) if better else None,
            from_plain(ExactAnswer, json.loads(answer)) if answer else None,
        )

    def cancel(self) -> None:
        """End the process; nothing more comes from it. Twice, or too late, is no fault."""
        self._cancelled = True
        if self._process is not None:
            self._process.kill()

    def wait(self, timeout_s: float) -> bool:
        """Wait until it has ended, but no longer; return whether it has. Not for screens."""
        return self._ended.wait(timeout_s)

    def _talk(self, process: subprocess.Popen[str]) -> None:
        """Ask the process and hear what it says, until it ends; run on a thread of its own."""
        try:
            with process:
                self._say_and_hear(process)
        except (OSError, ValueError):
            pass  # its end of the pipe is gone: it was cancelled, or poll tells of the fault
        finally:
            self._ended.set()

    def _say_and_hear(self, process: subprocess.Popen[str]) -> None:
        """Write the request, and keep the newest of each kind of line that comes back."""
        assert process.stdin is not None and process.stdout is not None  # noqa: S101, PT018
        process.stdin.write(json.dumps(to_plain(self._request)) + "\n")
        process.stdin.flush()
        for line in process.stdout:
            kind, _, text = line.partition(" ")
            with self._lock:
                if kind == "better":
                    self._better = text
                elif kind == "answer":
                    self._answer = text
                elif kind == "fault":
                    self._fault = str(json.loads(text))
