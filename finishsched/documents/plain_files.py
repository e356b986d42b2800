"""Read files that a person names: plain ones only, and none without end.

A pipe would be waited for for ever, a device would fill the memory.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import BinaryIO

MOST_BYTES = 256 * 1024**2
"""More than any document, notebook, log of readings or picture has."""


def open_plain(path: Path, most_bytes: int = MOST_BYTES) -> BinaryIO:
    """Open a plain file of at most ``most_bytes`` to be read.

    Raises:
        OSError: when it cannot be opened, is no plain file, or is larger.

    """
    # Opening a pipe would wait for whoever writes into it.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        _refuse_odd(os.fstat(handle), path, most_bytes)
    except BaseException:
        os.close(handle)
        raise
    return os.fdopen(handle, "rb")


def _refuse_odd(status: os.stat_result, path: Path, most_bytes: int) -> None:
    if stat.S_ISDIR(status.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not stat.S_ISREG(status.st_mode):
        raise OSError(errno.EINVAL, "it is no plain file", str(path))
    if status.st_size > most_bytes:
        raise OSError(errno.EFBIG, f"it is larger than {size_words(most_bytes)}", str(path))


def read_plain(path: Path, most_bytes: int = MOST_BYTES) -> bytes:
    """Return the bytes of a plain file of at most ``most_bytes``.

    Raises:
        OSError: as ``open_plain`` does.

    """
    with open_plain(path, most_bytes) as file:
        return file.read(most_bytes + 1)


def size_words(size: int) -> str:
    """Return a number of bytes in words, such as ``8 GB``."""
    for name, unit in (("GB", 1024**3), ("MB", 1024**2), ("kB", 1024)):
        if size >= unit:
            return f"{size / unit:.3g} {name}"
    return f"{size} bytes"
