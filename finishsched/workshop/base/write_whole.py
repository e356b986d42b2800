"""Write a file wholly or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from pathlib import Path


def write_chunks(file: Path, chunks: Iterable[bytes]) -> None:
    """Write ``chunks`` beside the file's place and move them there, over what stood there.

    Raises:
        OSError: when they cannot be written; what stood there is as it was.

    """
    handle, name = tempfile.mkstemp(prefix=f".{file.name}-", dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as made:
            made.writelines(chunks)
        Path(name).chmod(0o644)
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
