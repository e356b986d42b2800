"""Files that nobody but the user may read, from the first moment that they are there."""

from __future__ import annotations

import os
from pathlib import Path

from finishsched.workshop.base.write_whole import beside, sweep


def write_private(file: Path, data: bytes) -> None:
    """Write a file that its owner alone may read, wholly or not at all, over what stood there.

    Its folder is made, as private, where it is not there.

    Raises:
        OSError: when it cannot be written; what stood there is as it was.

    """
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    sweep(file)
    making = beside(file)
    try:
        with os.fdopen(os.open(making, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as made:
            made.write(data)
            made.flush()
            os.fsync(made.fileno())
        making.replace(file)
    finally:
        making.unlink(missing_ok=True)
