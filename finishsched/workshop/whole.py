"""Write a small file wholly or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(file: Path, data: bytes) -> None:
    """Write ``data`` beside the file's place and move it there, over what stood there.

    Raises:
        OSError: when it cannot be written; what stood there is as it was.

    """
    handle, name = tempfile.mkstemp(prefix=f"{file.name}-", dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as made:
            made.write(data)
        Path(name).chmod(0o644)
        Path(name).replace(file)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise
