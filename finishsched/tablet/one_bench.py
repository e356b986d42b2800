"""What the process of one screen runs: the bench, with a page in the place of a terminal.

Nothing else of the machine is reached by it: no file is handed out, no address opened, no command
of the user's own run.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.touch.page import in_page
from finishsched.documents.user_settings import read_settings
from finishsched.refusals import RefusalError
from finishsched.tablet import packets
from finishsched.workshop.base.workshop import Workshop


def main(shop: str, settings_file: str) -> None:
    """Run the bench of one screen on a shop."""
    try:
        settings = replace(read_settings(Path(settings_file)), notify=())
        with Workshop.open(Path(shop), _now()) as workshop:
            door = ShopDoor(workshop)
            app = BenchApp(door, now=_now, settings=settings, surface=in_page)
            app.run()
            status = app.return_code or 0
    except RefusalError as error:
        refused = packets.said("refused", lines=list(error.lines))
        sys.stdout.buffer.write(packets.PRELUDE + refused)
        sys.stdout.flush()
        status = 0
    sys.exit(status)


def _now() -> datetime:
    return datetime.now(UTC)
