"""What a key of the work says where there is no piece to work on: which key comes next."""

from __future__ import annotations

from collections.abc import Callable

from finishsched.bench.host import Doings, Host

OF_A_PIECE = frozenset(
    {"next-thing", "sitting", "log-coat", "entries", "note", "own", "defect", "skip", "apart"}
    | {"join", "adopt", "film", "why"}
)
"""Keys that act on the piece shown large."""


def with_a_piece(host: Host, *parts: Doings) -> Doings:
    """Return what the keys of all parts do, those of a piece only where there is one."""

    def guarded(do: Callable[[], None]) -> Callable[[], None]:
        def asked() -> None:
            if host.large_piece() is None:
                host.say(f"no piece is open; {host.key_for('begin')} begins one")
            else:
                do()

        return asked

    every = {id_: do for part in parts for id_, do in part.items()}
    return {id_: guarded(do) if id_ in OF_A_PIECE else do for id_, do in every.items()}
