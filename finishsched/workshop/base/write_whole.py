"""Write a file wholly or not at all: on the disk before it has its name."""

from __future__ import annotations

import os
import re
import shutil
import stat
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path
from typing import BinaryIO

from finishsched.journal.events import random_id
from finishsched.journal.files import give_name, make_name_durable
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import CHANGES_LOCK, FOLDERS

OLD_S = 3600.0
"""What a program that was killed left half made is swept away after so long."""
_MAKING = ".making"
_LEFT = re.compile(r"\..+\.[0-9a-f]{32}\.making(-wal|-shm)?")
"""Names that only this program gives: those of ``beside``, and what SQLite keeps at them."""


def write_chunks(file: Path, chunks: Iterable[bytes]) -> None:
    """Write ``chunks`` beside the file's place and move them there, over what stood there.

    Raises:
        OSError: when they cannot be written; what stood there is as it was.

    """
    with being_made(file) as made:
        made.writelines(chunks)


def write_lines(file: Path, lines: Iterable[str]) -> None:
    """Write ``lines`` as UTF-8 with their own line ends, as ``write_chunks`` writes bytes.

    Raises:
        OSError: when they cannot be written; what stood there is as it was.

    """
    write_chunks(file, (line.encode() for line in lines))


def write_new(folder: Path, name: str, ending: str, text: str) -> Path:
    """Write ``text`` into ``folder`` under ``name``, numbered where that is taken; return where.

    Raises:
        RefusedError: when it cannot be written.

    """
    for number in count(1):
        file = folder / f"{name}{'' if number == 1 else f'-{number}'}{ending}"
        try:
            with being_made(file, over=False) as made:
                made.write(text.encode("utf-8"))
        except FileExistsError:
            continue
        except OSError as error:
            raise RefusedError(f"{file.name} cannot be written", error.strerror or "") from None
        return file
    raise AssertionError("numbers have no end")


@contextmanager
def being_made(file: Path, *, over: bool = True) -> Iterator[BinaryIO]:
    """Give a file to write, which gets the name ``file`` once all of it is on the disk.

    Raises:
        FileExistsError: when something has that name already, and it is not to be written over.
        OSError: when it cannot be written; what stood there is as it was.

    """
    sweep(file)
    making = beside(file)
    try:
        # By the umask, as what people make themselves.
        with making.open("xb") as made:
            yield made
            made.flush()
            os.fsync(made.fileno())
        _give(making, file, over=over)
    except OSError as error:
        # A full disk is told by the file that was to be written, not by none.
        error.filename = str(file)
        raise
    finally:
        making.unlink(missing_ok=True)


def beside(path: Path) -> Path:
    """Return a name, beside ``path``, under which it can be made; ``sweep`` knows it again."""
    return path.with_name(f".{path.name}.{random_id()}{_MAKING}")


def sweep(path: Path) -> None:
    """Remove what killed programs left beside ``path``, whatever they made there, once it is old.

    What is made by a dated name, as a backup is, is never made by that name again.
    """
    with suppress(OSError):
        for name in os.listdir(path.parent):  # noqa: PTH208  # a shop has thousands of documents
            if name.startswith(".") and _LEFT.fullmatch(name):
                _sweep_one(path.parent / name)


def sweep_shop(folder: Path) -> None:
    """Remove what killed programs left in a shop's folder, once it is old.

    A change that was cut short may never be made again, so opening the shop is what sweeps it.
    """
    for place in (folder, *(folder / name for name in FOLDERS)):
        sweep(place / "any")
    _sweep_one(folder / CHANGES_LOCK)


def _sweep_one(left: Path) -> None:
    with suppress(OSError):
        if time.time() - left.stat().st_mtime < OLD_S:
            return
        if left.is_dir():
            shutil.rmtree(left)
        else:
            left.unlink()


def _give(making: Path, file: Path, *, over: bool) -> None:
    if not over:
        if not give_name(making, file):
            raise FileExistsError(f"{file} is there already")
        return
    with suppress(OSError):
        making.chmod(stat.S_IMODE(file.stat().st_mode))
    making.replace(file)
    make_name_durable(file.parent)
