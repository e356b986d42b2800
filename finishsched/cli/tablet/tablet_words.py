"""What ``tablet`` says once it serves: an address, a code to scan, and how it ends.

The key is shown to a person at a terminal and to nobody else: where standard output is kept, as a
service's is, it stands in a file that only the same user may read, for as long as it is of use.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from finishsched.cli.common import answer, say_folded, world
from finishsched.cli.outgoing import can_show, say, say_dark_on_light

_BLOCKS = "█▀▄"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a shop is served, and what opens it."""

    shop: str
    address: str
    key: str
    file: Path | None
    """Where the address with its key stands; None where it is shown."""
    fingerprint: str
    """Of its certificate; empty where nothing is encrypted."""
    is_open: bool
    """That others than this machine can reach it."""

    @property
    def to_scan(self) -> str:
        """Return the address with its key: in the part that a browser sends to nobody."""
        return f"{self.address}#{self.key}"


@contextmanager
def key_file(text: str, port: int) -> Iterator[Path | None]:
    """Keep an address with its key in a private file, unless a person looks at the terminal."""
    if world().at_terminal:
        yield None
        return
    from finishsched.tablet.private_files import write_private

    file = world().data_dir() / f"tablet-{port}.txt"
    write_private(file, f"{text}\n".encode())
    try:
        yield file
    finally:
        file.unlink(missing_ok=True)


def begun(place: Place, *, as_json: bool) -> None:
    """Say where the bench is to be had."""
    if as_json or place.file is not None:
        answer(as_json, lambda: _data(place), lambda: _lines_of_file(place))
        return
    for_whom = "the shop's network" if place.is_open else "this machine only"
    say_folded(f"{place.shop}: the bench in a browser, for {for_whom}")
    _draw(place.to_scan)
    say(place.to_scan)
    for line in _beside(place):
        say_folded(line)
    say_folded("Whoever has this address can log entries. ctrl-c ends it, and all benches.")


def _beside(place: Place) -> Iterator[str]:
    """Give what is to be known of how it is carried."""
    if place.fingerprint:
        # Two lines, as browsers show it, to be compared sign by sign.
        half = len(place.fingerprint) // 2 + 1
        yield "its certificate, SHA-256: compare once on each screen"
        yield f"  {place.fingerprint[:half]}"
        yield f"  {place.fingerprint[half:]}"
    elif place.is_open:
        yield "not encrypted: whoever is in this network can read along; --https hides it"


def _draw(address: str) -> None:
    """Draw the code to scan, as this terminal can show it."""
    from finishsched.tablet.code_to_scan import code_lines

    known, blocks = world().variables, can_show(_BLOCKS)
    coloured = blocks and not known.get("NO_COLOR") and known.get("TERM") != "dumb"
    lines = code_lines(address, columns=world().columns, dark_on_light=coloured, blocks=blocks)
    if not lines:
        say_folded("Too narrow here for the code to scan; widen the terminal, or type this:")
    elif coloured:
        say_dark_on_light(lines)
    else:
        for line in lines:
            say(line)
        say_folded("The code is drawn for a dark terminal. Where it cannot be read, type this:")


def _data(place: Place) -> dict[str, object]:
    return {
        "address": place.address,
        "key_file": None if place.file is None else str(place.file),
        "network": place.is_open,
        "certificate_sha256": place.fingerprint or None,
    }


def _lines_of_file(place: Place) -> tuple[str, ...]:
    return (
        f"{place.shop}: the bench in a browser at {place.address}",
        f"the address with its key stands in {place.file}, for you only",
        *_beside(place),
    )
