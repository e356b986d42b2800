"""Sentences about where pieces stand that several faces say."""

from __future__ import annotations

import os
from pathlib import Path


def reads_anew_words(done: int, of: int, folder: Path) -> str:
    """Say how far the finding of finished pieces has come, ``done`` of ``of``.

    It is done once where ``folder`` takes what was found, and each time where it does not.
    """
    once = ", once" if os.access(folder, os.W_OK) else ""
    return f"finding the finished pieces anew{once}: {100 * done // max(of, 1)} % of {of}"
