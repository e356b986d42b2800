"""The user's own settings, read from where they are kept."""

from __future__ import annotations

from pathlib import Path

from finishsched.model.settings import Settings


def read_settings(file: Path) -> Settings:
    """Return the settings of a file; the usual ones where there is none.

    Raises:
        DocumentFaultsError: when the file has faults.

    """
    if not file.is_file():
        return Settings()
    from finishsched.documents.kept import load  # noqa: PLC0415  # only where there is one

    model = load(file, kind="settings").model
    assert isinstance(model, Settings)  # noqa: S101
    return model
