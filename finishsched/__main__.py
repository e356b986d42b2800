"""``python -m finishsched``, and the program's one way in and out."""

from __future__ import annotations

import sys

from finishsched.cli.run import run


def main() -> None:
    """Run the command line and leave with its status."""
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
