"""A zip file read a piece at a time: within limits, and as far as it is sound.

Where the list at a zip file's end is lost, what stands before each member still tells its name and
sum; so a backup that was cut short gives back all that came before the cut. The layout is that of
the APPNOTE (PKWARE, version 6.3.10, 2022), section 4.3.7.
"""

from __future__ import annotations

import mmap
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from finishsched.documents.plain_files import open_plain, size_words

MOST_BYTES = 8 * 1024**3
"""What a backup may unfold to, where a person names no other limit."""
MOST_TIMES = 200
"""How many times its size a backup may unfold to: journals come to about twenty."""
FREE_BYTES = 64 * 1024**2
"""Below this the share is not looked at."""
PIECE_BYTES = 256 * 1024

_LOCAL = struct.Struct("<4sHHHHHIIIHH")
_SIGNATURE = b"PK\x03\x04"
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_BROKEN = (
    *(zipfile.BadZipFile, zlib.error, struct.error, OSError, EOFError),
    *(ValueError, TypeError, KeyError, RuntimeError, IndexError, MemoryError),
)
"""How reading a damaged zip file ends, by where the damage is."""


class ArchiveFaultError(Exception):
    """A zip file, or a member of it, that cannot be read: why, in words."""


class TooMuchError(ArchiveFaultError):
    """A zip file that unfolds to more than it may."""


@dataclass(frozen=True, slots=True)
class _Loose:
    """A member known from what stands before it."""

    begin: int
    method: int
    crc: int


class Archive:
    """An open zip file. Every method raises ArchiveFaultError."""

    def __init__(self, path: Path, most_bytes: int = MOST_BYTES) -> None:
        self._left_bytes = most_bytes
        self._most_bytes = most_bytes
        self._given_bytes = 0
        self._loose: dict[str, _Loose] = {}
        self._zip: zipfile.ZipFile | None = None
        self._stack = ExitStack()
        try:
            file = self._stack.enter_context(open_plain(path, max(most_bytes, MOST_BYTES)))
            self._bytes = path.stat().st_size
        except OSError as error:
            raise ArchiveFaultError(error.strerror or str(error)) from None
        try:
            self._zip = self._stack.enter_context(zipfile.ZipFile(file))
        except _BROKEN:
            self._find_loose_or_close(file.fileno())

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._stack.close()

    @property
    def whole(self) -> bool:
        """True when the list of members at the end is there."""
        return self._zip is not None

    @property
    def names(self) -> tuple[str, ...]:
        """The name of every member, in the order of the file."""
        names = self._zip.namelist() if self._zip else self._loose
        return tuple(dict.fromkeys(name for name in names if not name.endswith("/")))

    def refuse_too_much(self) -> None:
        """Refuse a file whose members together say that they are more than may be.

        What they say need not be true, so it is watched while they unfold too.
        """
        if self._zip is not None:
            self._watch(sum(member.file_size for member in self._zip.infolist()))

    def pieces(self, name: str) -> Iterator[bytes]:
        """Give a member piece by piece; damage shows by its sum at the end at the latest."""
        pieces = self._listed(name) if self._zip else self._found(name)
        try:
            for piece in pieces:
                self._given_bytes += len(piece)
                self._watch(self._given_bytes)
                yield piece
        except ArchiveFaultError:
            raise
        except Exception as error:  # each way of packing has errors of its own
            raise ArchiveFaultError("it is damaged") from error

    def read(self, name: str, most_bytes: int) -> bytes:
        """Return a member that is small."""
        found = bytearray()
        for piece in self.pieces(name):
            found += piece
            if len(found) > most_bytes:
                raise ArchiveFaultError(f"{name} in it is larger than {size_words(most_bytes)}")
        return bytes(found)

    def _watch(self, unfolded: int) -> None:
        if unfolded > self._most_bytes:
            raise TooMuchError(
                f"it would unfold to more than {size_words(self._most_bytes)}; "
                "if it is truly yours, allow more with --most"
            )
        if unfolded > FREE_BYTES and unfolded > MOST_TIMES * self._bytes:
            raise TooMuchError(
                f"it would unfold to more than {MOST_TIMES} times its size, as no backup does"
            )

    def _listed(self, name: str) -> Iterator[bytes]:
        assert self._zip is not None  # noqa: S101
        if self._zip.getinfo(name).compress_type not in _METHODS:
            # Of other packings a few bytes unfold to any size at once, and no limit is kept.
            raise ArchiveFaultError("it is packed in a way that no backup is")
        with self._zip.open(name) as member:
            while piece := member.read(PIECE_BYTES):
                yield piece

    def _found(self, name: str) -> Iterator[bytes]:
        member = self._loose[name]
        if member.method != zipfile.ZIP_DEFLATED:
            raise ArchiveFaultError("it is damaged")
        unfolder, crc, at = zlib.decompressobj(-15), 0, member.begin
        while not unfolder.eof:
            packed = unfolder.unconsumed_tail or self._mapped[at : at + PIECE_BYTES]
            if not packed:
                raise ArchiveFaultError("its end is missing")
            at += 0 if unfolder.unconsumed_tail else len(packed)
            piece = unfolder.decompress(packed, PIECE_BYTES)
            crc = zlib.crc32(piece, crc)
            yield piece
        if crc != member.crc:
            raise ArchiveFaultError("it is damaged")

    def _find_loose_or_close(self, handle: int) -> None:
        try:
            self._find_loose(handle)
        except BaseException:
            self._stack.close()
            raise

    def _find_loose(self, handle: int) -> None:
        if self._bytes == 0:
            raise ArchiveFaultError("it is empty")
        self._mapped = self._stack.enter_context(mmap.mmap(handle, 0, access=mmap.ACCESS_READ))
        at = self._mapped.find(_SIGNATURE)
        while at >= 0:
            self._take_loose(at)
            at = self._mapped.find(_SIGNATURE, at + 4)
        if not self._loose:
            raise ArchiveFaultError("it is no zip file")

    def _take_loose(self, at: int) -> None:
        head = self._mapped[at : at + _LOCAL.size]
        if len(head) < _LOCAL.size:
            return
        _, _, _, method, _, _, crc, _, _, name_bytes, more_bytes = _LOCAL.unpack(head)
        begin = at + _LOCAL.size
        name = self._mapped[begin : begin + name_bytes].decode("utf-8", "replace")
        if name and name.isprintable() and method in _METHODS:
            self._loose.setdefault(name, _Loose(begin + name_bytes + more_bytes, method, crc))
