"""Where this person's finishsched keeps what can always be made again."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path


@lru_cache(maxsize=1)
def cache_folder() -> Path | None:
    """Return the user's folder for what can be made again; None where that cannot be told."""
    named = os.environ.get("FINISHSCHED_CACHE")
    if named:
        return Path(named)
    from platformdirs import user_cache_path  # noqa: PLC0415  # only where none is named

    try:
        return user_cache_path("finishsched")
    except (OSError, RuntimeError):
        return None
