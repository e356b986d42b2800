"""Documents as they were read before, kept so that only what is new is read again.

Reading one takes the YAML parser, every format and the units library, which is most of the time of
a short command. What came of it is kept in the user's folder for such things, named by the bytes of
the document and by the program's own, never by the time: it is that reading, or it is not found.
It can always be made again. A shop folder holds none of it, so that none comes with one.
"""

from __future__ import annotations

import copyreg
import hashlib
import io
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any
from zlib import crc32

from finishsched import __version__
from finishsched.documents.cache_folder import cache_folder
from finishsched.documents.document import Document, content
from finishsched.documents.plain_files import read_plain

MOST_KEPT = 10_000
"""Of about so many readings that are kept, the oldest half go."""
_LOOKED_THROUGH = 64
"""One in so many, by its random name, has the others counted: thousands are not each time."""
_MOST_BYTES = 64 * 1024**2
_SUM_BYTES = 4
_OURS = ("finishsched.model.", "finishsched.documents.")
_PLAIN = {"datetime": {"date", "time", "datetime", "timedelta"}}


def load(path: Path, kind: str | None = None, name: str | None = None) -> Document:
    """Return the document in the file at ``path``, as ``decode.load`` does.

    Raises:
        DocumentFaultsError: as ``decode.load`` does.

    """
    named = name or str(path)
    return read(content(path, named), named, kind)


def read(data: bytes, name: str, kind: str | None = None) -> Document:
    """Return the document in ``data``, as ``decode.read`` does.

    Raises:
        DocumentFaultsError: as ``decode.read`` does.

    """
    file = _file_of(data, name)
    found = _kept(file) if file is not None else None
    if found is not None and kind in {None, found.kind}:
        return found
    from finishsched.documents import decode  # noqa: PLC0415  # dear: what all this is to spare

    document = decode.read(data, name, kind)
    if file is not None:
        with suppress(OSError):  # a full disk, or a folder that may not be written: as ever then
            _keep(document, file)
    return document


def _file_of(data: bytes, name: str) -> Path | None:
    """Return where the reading of these bytes under this name is kept, or would be."""
    folder = cache_folder()
    if folder is None:
        return None
    digest = hashlib.sha256(f"{_stamp()}\0{name}\0".encode("utf-8", "surrogateescape"))
    digest.update(data)
    return folder / "documents" / f"{digest.hexdigest()}.read"


@lru_cache(maxsize=1)
def _stamp() -> str:
    """Return what changes when the program may read a document otherwise than before."""
    package = Path(__file__).parents[1]
    found = [f"{__version__} {sys.version}"]
    with suppress(OSError):
        for folder in (package, package / "documents", package / "model"):
            found += sorted(_files_of(folder, deep=folder is not package))
    return "\n".join(found)


def _files_of(folder: Path, *, deep: bool) -> Iterator[str]:
    for entry in os.scandir(folder):
        if entry.name.endswith((".py", ".txt")):
            status = entry.stat()
            yield f"{entry.name} {status.st_mtime_ns} {status.st_size}"
        elif deep and entry.is_dir() and entry.name != "__pycache__":
            yield from _files_of(Path(entry.path), deep=True)


def _kept(file: Path) -> Document | None:
    """Return what is kept in a file; None where there is none, or nothing of use in it."""
    try:
        data = read_plain(file, _MOST_BYTES)
        if data[:_SUM_BYTES] != _sum(data[_SUM_BYTES:]):
            return None
        found = _Reader(io.BytesIO(data[_SUM_BYTES:])).load()
    except Exception:  # noqa: BLE001  # what is no such file can fail in any way, and is read anew
        return None
    return found if isinstance(found, Document) else None


def _keep(document: Document, file: Path) -> None:
    file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    made = file.with_suffix(f".{os.getpid()}")
    packed = io.BytesIO()
    _writer(packed).dump(document)
    try:
        made.write_bytes(_sum(packed.getvalue()) + packed.getvalue())
        made.replace(file)
    finally:
        made.unlink(missing_ok=True)
    if int(file.name[:8], 16) % _LOOKED_THROUGH == 0:
        _sweep(file.parent)


def _sum(packed: bytes) -> bytes:
    """Return by what a reading that changed on the disk is known."""
    return crc32(packed).to_bytes(_SUM_BYTES)


def _sweep(folder: Path) -> None:
    every = list(folder.iterdir())
    if len(every) > MOST_KEPT:
        for old in sorted(every, key=lambda one: one.stat().st_mtime_ns)[: MOST_KEPT // 2]:
            old.unlink(missing_ok=True)


def _writer(file: Any) -> pickle.Pickler:
    writer = pickle.Pickler(file, protocol=5)
    writer.dispatch_table = copyreg.dispatch_table.copy()
    writer.dispatch_table[MappingProxyType] = _as_mapping
    return writer


def _as_mapping(value: MappingProxyType[Any, Any]) -> tuple[Callable[..., Any], tuple[Any]]:
    return _mapping_of, (dict(value),)


def _mapping_of(values: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    """Return the mapping, which nothing can change, that was kept as ``values``."""
    return MappingProxyType(values)


class _Reader(pickle.Unpickler):
    """Makes nothing but documents, the model's own nouns, and dates."""

    def find_class(self, module: str, name: str) -> Any:
        # A name with a dot would lead through a module of ours to whatever that has imported.
        if "." not in name and (module.startswith(_OURS) or name in _PLAIN.get(module, ())):
            found = super().find_class(module, name)
            if isinstance(found, type) or found is _mapping_of:
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no part of a document")
