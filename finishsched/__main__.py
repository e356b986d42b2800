"""``python -m finishsched``, and the program's one way in and out."""

from __future__ import annotations

import gc
import sys

from finishsched.cli.run import run

OBJECTS_BEFORE_A_LOOK = 400_000
"""How many objects more are made before Python looks for those that hold each other: by itself it
looks after 700, and a command that is over in half a second spends a twentieth of it on that. The
bench has made 120,000 when it first shows, and then looks more often."""


def main() -> None:
    """Run the command line and leave with its status."""
    gc.set_threshold(OBJECTS_BEFORE_A_LOOK)
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
