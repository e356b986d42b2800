"""What a command may know of the world outside: the time, the folder, the variables.

Handed in, so that a test can put a command at any instant and in any place.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The outside world of one run."""

    now: Callable[[], datetime] = lambda: datetime.now(UTC)
    cwd: Path = field(default_factory=Path.cwd)
    variables: Mapping[str, str] = field(default_factory=lambda: os.environ)
    at_terminal: bool = True
    """True when a person looks at standard output."""
    ask: Callable[[str], str] | None = None
    """Asks a person at the terminal and returns the line that they type; None without one.

    Raises EOFError when there is nothing more to read.
    """
    columns: int = 100
    """How wide the lines for people may be."""

    def data_dir(self) -> Path:
        """Return the user's data folder for finishsched."""
        from platformdirs import user_data_path

        return Path(self.variables.get("FINISHSCHED_DATA") or user_data_path("finishsched"))

    def settings_file(self) -> Path:
        """Return where the user's settings are kept."""
        from platformdirs import user_config_path

        named = self.variables.get("FINISHSCHED_SETTINGS")
        return Path(named) if named else user_config_path("finishsched") / "settings.yaml"
