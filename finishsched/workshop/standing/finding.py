"""Finding pieces by name, and steps and waits by where they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from finishsched.model.step import Step
from finishsched.near import nearest
from finishsched.workshop.base.entries import NotToBeReadError, RefusedError
from finishsched.workshop.standing.waits import Laid

_NAMED = 8
"""How many pieces a refusal names."""


def wait_before(
    steps: tuple[Step, ...], current: Step | None, waits: Mapping[str, Laid]
) -> Laid | None:
    """Return the last wait that was over before the step in hand."""
    done = (
        [waits[step.key] for step in steps[: current.number - 1] if step.key in waits]
        if (current)
        else []
    )
    return done[-1] if done else None


def following(steps: tuple[Step, ...], current: Step | None) -> Step | None:
    """Return the step after the one in hand; None after the last."""
    if current is None or current.number >= len(steps):
        return None
    return steps[current.number]


def loosely(name: str, refs: Mapping[str, str]) -> list[str]:
    """Return the pieces of ``refs``, each with its title, that somebody means by ``name``.

    Capitals do not count, spaces are hyphens, and a title names a piece as well as its id. A job
    of one piece names that piece.
    """
    plain = plain_name(name)
    by_id = [ref for ref in refs if plain in (plain_name(ref), plain_name(ref.partition("/")[2]))]
    named = by_id or [ref for ref, title in refs.items() if plain_name(title) == plain]
    alone = _pieces_of(name, refs)
    return named or (alone if len(alone) == 1 else [])


def _pieces_of(job: str, refs: Iterable[str]) -> list[str]:
    return [ref for ref in refs if plain_name(ref.partition("/")[0]) == plain_name(job)]


def plain_name(name: str) -> str:
    """Return a name as it is compared: capitals do not count, and spaces are hyphens."""
    return "-".join(name.casefold().replace("-", " ").split())


def unknown_piece(name: str, several: list[str], known: list[str]) -> RefusedError:
    """Return the refusal of a piece's name, with the nearest one there is."""
    if several:
        return RefusedError(f"{name!r} could be {' or '.join(several)}", "write the whole name")
    of_job = _pieces_of(name, known)
    if of_job:
        why = f"{name!r} is a job of {len(of_job)} pieces, and this is of one"
        return RefusedError(why, f"name {' or '.join(of_job[:_NAMED])}")
    near = nearest(name, [*known, *(r.partition("/")[2] for r in known)])
    if near:
        return NotToBeReadError(f"no piece {name!r}", f"did you mean {near!r}?")
    if not known:
        return NotToBeReadError(f"no piece {name!r}", "the shop has none yet; write a job in jobs/")
    return NotToBeReadError(f"no piece {name!r}", f"there are {', '.join(known[:_NAMED])}")
