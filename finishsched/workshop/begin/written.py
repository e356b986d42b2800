"""Documents written by the program: shown before, put on the disk whole, and taken back again."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import CHANGES_FILE, CHANGES_LOCK
from finishsched.workshop.base.write_whole import write_chunks

_LOCK_DEAD_S = 10.0
"""A lock older than this was left behind by a program that died."""
_MOST_KEPT = 50


@dataclass(frozen=True, slots=True)
class Written:
    """One document before and after a change, neither of which is on the disk by itself."""

    path: str
    """Within the shop folder, with strokes."""
    what: str
    """What it is, in a few words: ``begin the piece tea-box/lid``."""
    before: str | None
    """None for a document that was not there."""
    after: str
    pieces: tuple[str, ...] = ()
    """The pieces that it begins, as ``job/piece``."""

    @property
    def is_new(self) -> bool:
        """True for a document that was not there before."""
        return self.before is None


def text_at(folder: Path, path: str) -> str | None:
    """Return the text of a document as it is, with its line ends; None where there is none."""
    try:
        return (folder / path).read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None


def put(folder: Path, written: Written, now: datetime) -> None:
    """Write a document, unless it is other than the change began from.

    Raises:
        RefusedError: when somebody else wrote it meanwhile, and it is as they left it; or when it
            cannot be written, and is as it was.

    """
    with _alone(folder):
        if text_at(folder, written.path) != written.before:
            raise RefusedError(
                f"{written.path} was written by somebody else meanwhile",
                "look at it again, and make the change anew",
            )
        kept = [*_kept(folder), _line(written, now)]
        _keep(folder, kept[-_MOST_KEPT:])
        target = folder / written.path
        target.parent.mkdir(exist_ok=True)
        write_chunks(target, [written.after.encode("utf-8")])


def newest(folder: Path) -> Written | None:
    """Return the document that was written last and not taken back; None for none."""
    kept = _in_force(folder)
    return _written(kept[-1]) if kept else None


def undo(folder: Path) -> Written:
    """Take the newest written document back to what it was before, and return what was undone.

    Raises:
        RefusedError: when there is none, the document was changed since, or it cannot be written.

    """
    with _alone(folder):
        kept = _in_force(folder)
        if not kept:
            raise RefusedError(
                "no document was written by finishsched here", "there is nothing to undo"
            )
        last = _written(kept[-1])
        if text_at(folder, last.path) != last.after:
            raise RefusedError(
                f"{last.path} was changed since: {last.what}", "change it back in an editor"
            )
        if last.before is None:
            (folder / last.path).unlink()
        else:
            write_chunks(folder / last.path, [last.before.encode("utf-8")])
        _keep(folder, kept[:-1])
        return last


def _line(written: Written, now: datetime) -> str:
    return json.dumps(
        {
            "at": now.isoformat(timespec="seconds"),
            "path": written.path,
            "what": written.what,
            "before": written.before,
            "after": written.after,
            "pieces": list(written.pieces),
        },
        ensure_ascii=False,
    )


def _kept(folder: Path) -> list[str]:
    try:
        lines = (folder / CHANGES_FILE).read_text("utf-8").splitlines()
    except (FileNotFoundError, UnicodeDecodeError):
        return []
    return [line for line in lines if line.startswith("{") and line.endswith("}")]


def _in_force(folder: Path) -> list[str]:
    """Return what is kept, without a change at the end that never reached its document.

    It is kept first, so that a program that is stopped in between leaves one of those.
    """
    kept = _kept(folder)
    while kept:
        last = _written(kept[-1])
        if last.before == last.after or text_at(folder, last.path) != last.before:
            break
        kept.pop()
    return kept


def _keep(folder: Path, lines: list[str]) -> None:
    write_chunks(folder / CHANGES_FILE, [f"{line}\n".encode() for line in lines])


def _written(line: str) -> Written:
    try:
        found = json.loads(line)
        pieces = tuple(found.get("pieces", ()))
        return Written(found["path"], found["what"], found["before"], found["after"], pieces)
    except (ValueError, KeyError, TypeError):
        raise RefusedError(
            f"{CHANGES_FILE} cannot be read", "take it out of the folder; nothing else needs it"
        ) from None


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep two programs from writing documents of one shop at the same time.

    Raises:
        RefusedError: when another one is at it, or nothing can be written.

    """
    try:
        with _locked(folder / CHANGES_LOCK):
            yield
    except OSError as error:
        raise RefusedError(
            f"{folder}: its documents cannot be written ({error.strerror or error})",
            "nothing was changed; make room, or the folder writable for you, then do it again",
        ) from None


@contextmanager
def _locked(lock: Path) -> Iterator[None]:
    for _ in range(100):
        try:
            os.close(os.open(lock, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            break
        except FileExistsError:
            _pass_a_dead_lock(lock)
            time.sleep(0.02)
    else:
        raise RefusedError("another program is writing a document of this shop", "try again")
    try:
        yield
    finally:
        lock.unlink(missing_ok=True)


def _pass_a_dead_lock(lock: Path) -> None:
    try:
        if time.time() - lock.stat().st_mtime > _LOCK_DEAD_S:
            lock.unlink(missing_ok=True)
    except OSError:
        return
