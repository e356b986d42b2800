"""The first picture of the bench: what it showed last, on the screen before anything is read.

Loading the toolkit and reading the shop take longer than a look. So what the board showed last is
kept for each shop and size of screen, and shown at once, dim, below a line that says of when it is.
No figure is kept, neither small nor in large letters: a clock of then is never taken for one of
now. Keys that are pressed on it do nothing, since it may be about another piece by now.

Nothing here imports the toolkit.
"""

from __future__ import annotations

import hashlib
import json
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import FrameType
from typing import Any, NamedTuple

from finishsched.documents.cache_folder import cache_folder
from finishsched.signs import is_plain

OTHER_SCREEN, HIDE_CURSOR = "\x1b[?1049h", "\x1b[?25l"
_BACK = "\x1b[0m\x1b[?25h\x1b[?1049l"
_NO_SCREEN = {"", "dumb", "unknown"}
_ENDED_BY_SIGNAL = 128


class Kept(NamedTuple):
    """A picture as it is kept: of which shop, of when in words, and its lines."""

    shop: str
    moment: str
    lines: tuple[str, ...]


class Picture(NamedTuple):
    """What stands on the screen until the bench does."""

    hand_over: Callable[[], bool]
    """What the bench calls just before it takes the screen; True where a picture is on it."""
    tell: Callable[[str], None]
    """Says in the top line what is done meanwhile, where it takes long."""


NO_PICTURE = Picture(lambda: False, lambda _: None)


def without_figures(line: str) -> str:
    """Return a line of the board with a dot for each digit, and without large letters or bars."""
    return "".join(map(_without, line))


def keep(folder: Path, columns: int, picture: Kept) -> None:
    """Keep a picture for the next time; where that cannot be done, nothing is missed."""
    file = _file(folder, columns, len(picture.lines))
    if file is None:
        return
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        made = file.with_suffix(f".{os.getpid()}")
        made.write_text(json.dumps(picture), "utf-8")
        made.replace(file)


def kept(folder: Path, columns: int, rows: int) -> Kept | None:
    """Return what is kept for a screen of this size; None where there is none."""
    file = _file(folder, columns, rows)
    if file is None:
        return None
    try:
        shop, moment, lines = json.loads(file.read_text("utf-8"))
        return Kept(str(shop), str(moment), tuple(map(str, lines[:rows])))
    except (OSError, ValueError, TypeError):
        return None


def drawn(picture: Kept | None, folder: Path, columns: int) -> str:
    """Return what puts a picture on the screen; without one, only that the shop is read."""
    shop = picture.shop if picture else folder.name
    of_when = f"as it stood {picture.moment}, without its clocks; " if picture else ""
    top = _fit(f" {shop}: {of_when}reading the shop", columns)
    rows = [f"\x1b[1;1H\x1b[7m{top}\x1b[0m\x1b[2m"]
    for number, line in enumerate(picture.lines[1:] if picture else (), start=2):
        rows.append(f"\x1b[{number};1H{_fit(without_figures(line), columns)}")
    return "".join([*rows, "\x1b[0m"])


@contextmanager
def first_picture(folder: Path) -> Iterator[Picture]:
    """Show what the bench of ``folder`` showed last until it takes the screen over.

    Where it never comes to that, the terminal is left as it was.
    """
    screen = _Screen.of_this_process()
    if screen is None:
        yield NO_PICTURE
        return
    try:
        screen.show(folder)
        yield Picture(screen.hand_over, screen.tell)
    finally:
        screen.take_back()


class _Screen:
    """The terminal from its first picture until the bench has it."""

    def __init__(self, out: int, keys: int, was: list[Any]) -> None:
        self._out = out
        self._keys = keys
        self._was = was
        self._is_ours = True

    @classmethod
    def of_this_process(cls) -> _Screen | None:
        """Return the terminal that the toolkit will draw on; None where there is none such."""
        out, keys = sys.__stderr__, sys.__stdin__
        if out is None or keys is None or os.environ.get("TERM", "") in _NO_SCREEN:
            return None
        try:
            import termios  # noqa: PLC0415  # not everywhere
        except ImportError:
            return None
        try:
            if out.isatty() and keys.isatty():
                return cls(out.fileno(), keys.fileno(), termios.tcgetattr(keys.fileno()))
        except (OSError, ValueError, termios.error):
            return None
        return None

    def show(self, folder: Path) -> None:
        """Put the picture on the screen, and let no key show on it."""
        import termios  # noqa: PLC0415  # not everywhere

        with suppress(OSError, termios.error):
            silent = termios.tcgetattr(self._keys)
            silent[3] &= ~(termios.ECHO | termios.ICANON)
            termios.tcsetattr(self._keys, termios.TCSANOW, silent)
            with suppress(ValueError):  # only the main thread may ask
                signal.signal(signal.SIGTERM, _leave)
            columns, rows = os.get_terminal_size(self._out)
            picture = drawn(kept(folder, columns, rows), folder, columns)
            os.write(self._out, f"{OTHER_SCREEN}{HIDE_CURSOR}{picture}".encode("utf-8", "replace"))

    def tell(self, words: str) -> None:
        """Say in the top line what is done meanwhile."""
        with suppress(OSError):
            columns, _ = os.get_terminal_size(self._out)
            line = f"\x1b[1;1H\x1b[7m{_fit(f' {words}', columns)}\x1b[0m"
            os.write(self._out, line.encode("utf-8", "replace"))

    def hand_over(self) -> bool:
        """Leave the screen to the bench, with none of the keys that were pressed meanwhile."""
        self._give_back_keys()
        self._is_ours = False
        return True

    def take_back(self) -> None:
        """Leave the terminal as it was, unless the bench has it."""
        if not self._is_ours:
            return
        with suppress(OSError):
            os.write(self._out, _BACK.encode())
        self._give_back_keys()

    def _give_back_keys(self) -> None:
        import termios  # noqa: PLC0415  # not everywhere

        with suppress(OSError, termios.error):
            termios.tcflush(self._keys, termios.TCIFLUSH)
            termios.tcsetattr(self._keys, termios.TCSANOW, self._was)


def _leave(number: int, _frame: FrameType | None) -> None:
    sys.exit(_ENDED_BY_SIGNAL + number)


def _without(sign: str) -> str:
    if sign.isnumeric():
        return "." if is_plain() else "·"
    is_block = "\u2500" <= sign <= "\u259f" or (sign == "#" and is_plain())
    return " " if is_block or not sign.isprintable() else sign


def _fit(text: str, columns: int) -> str:
    return text[:columns].ljust(columns)


def _file(folder: Path, columns: int, rows: int) -> Path | None:
    place = cache_folder()
    if place is None:
        return None
    name = hashlib.sha256(str(folder).encode("utf-8", "surrogateescape")).hexdigest()[:16]
    return place / "pictures" / f"{name}-{columns}x{rows}.json"


def lines_of(strips: Sequence[str]) -> tuple[str, ...]:
    """Return the lines of a board as they are kept."""
    return tuple(without_figures(line) for line in strips)
