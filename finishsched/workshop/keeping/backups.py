"""A whole shop in one file, and the shop made again from it.

The file is a plain zip: the documents and pictures as they lie in the folder, the journal as JSON
Lines, and a list of the SHA-256 of each. Any program that opens zip files can open it in fifty
years.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path, PurePosixPath

from finishsched.journal.files import give_name
from finishsched.journal.lines import LinesFaultError, journal_lines, restore_lines
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import JOURNAL_FILE, SHOP_FILE

JOURNAL_LINES = "journal.jsonl"
LIST = "backup.json"
FORMAT = "finishsched backup"
FORMAT_VERSION = 1
MOST_BYTES = 8 * 1024**3
"""No shop is larger; what claims to be would fill the disk."""

_BROKEN = (
    *(zipfile.BadZipFile, zlib.error, struct.error, OSError, EOFError),
    *(ValueError, TypeError, KeyError, RuntimeError),
)
"""How reading a damaged zip file or list ends, by where the damage is."""
_DAMAGED = (zlib.error, struct.error, RuntimeError, TypeError, UnicodeDecodeError)
"""Of these, what says nothing to a person."""


@dataclass(frozen=True, slots=True)
class BackedUp:
    """What a backup holds."""

    file: Path
    files: int
    bytes: int


def back_up(folder: Path, out: Path, program: str, now: datetime, zone: tzinfo) -> BackedUp:
    """Write everything of the shop in ``folder`` to the zip file ``out``: whole, or not at all.

    Raises:
        RefusedError: when ``out`` is there already, or cannot be written.
        JournalFaultError: when the journal cannot be read.

    """
    if out.exists():
        raise RefusedError(f"{out} is there already", "nothing is written over; name another file")
    with tempfile.TemporaryDirectory(prefix="finishsched-") as scratch:
        lines = Path(scratch) / JOURNAL_LINES
        sources = dict(_sources(folder))
        if (folder / JOURNAL_FILE).exists():
            with lines.open("w", encoding="utf-8", newline="") as file:
                file.writelines(journal_lines(folder / JOURNAL_FILE, program))
            sources[JOURNAL_LINES] = lines
        try:
            return _zip(sources, out, program, now.astimezone(zone))
        except OSError as error:
            raise RefusedError(
                f"{out}: cannot be written ({error.strerror})", "name a file elsewhere"
            ) from None


def restore(file: Path, folder: Path) -> BackedUp:
    """Make in ``folder``, which is new or empty, the shop that ``file`` was made of.

    Raises:
        RefusedError: when ``folder`` holds anything, or ``file`` is no whole backup of ours.
        JournalFaultError: when the journal cannot be written.

    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise RefusedError(
            f"{folder} is there already, and not empty", "restore into a folder that is new"
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    making = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    try:
        try:
            done = _unzip(file, making)
        except _BROKEN as error:
            raise _no_backup(file, _in_words(error)) from None
        if folder.exists():
            folder.rmdir()
        making.replace(folder)
    except BaseException:
        shutil.rmtree(making, ignore_errors=True)
        raise
    return BackedUp(file, done[0], done[1])


def _sources(folder: Path) -> Iterator[tuple[str, Path]]:
    """Give every file of the shop but the journal itself and earlier backups; nothing hidden.

    Links are left out too: what they lead to lies elsewhere.
    """
    for place, names, files in os.walk(folder):
        names[:] = sorted(name for name in names if not name.startswith("."))
        for name in sorted(files):
            path = Path(place) / name
            known = path.relative_to(folder).as_posix()
            own = known.startswith(JOURNAL_FILE) or known in (LIST, JOURNAL_LINES)
            if name.startswith(".") or own or path.is_symlink() or _is_backup(path):
                continue
            if not _is_utf8(known):
                raise RefusedError(
                    f"the name of {known!r} is no UTF-8 text, which a backup needs",
                    "give that file another name",
                )
            yield known, path


def _is_backup(path: Path) -> bool:
    """Tell whether a file is a backup of ours: each would hold all those before it."""
    if path.suffix.lower() != ".zip":
        return False
    try:
        with zipfile.ZipFile(path) as archive:
            return LIST in archive.namelist()
    except _BROKEN:
        return False


def _is_utf8(name: str) -> bool:
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True


def _zip(sources: Mapping[str, Path], out: Path, program: str, at: datetime) -> BackedUp:
    handle, name = tempfile.mkstemp(prefix=f".{out.name}-", dir=out.parent)
    making = Path(name)
    sums: dict[str, str] = {}
    size = 0
    try:
        with os.fdopen(handle, "wb") as raw:
            with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
                for known, path in sources.items():
                    data = path.read_bytes()
                    sums[known] = hashlib.sha256(data).hexdigest()
                    size += len(data)
                    archive.writestr(_member(known, at), data, zipfile.ZIP_DEFLATED)
                archive.writestr(_member(LIST, at), _listed(sums, program, at))
            raw.flush()
            os.fsync(raw.fileno())
        making.chmod(0o644)
        if not give_name(making, out):
            raise RefusedError(f"{out} is there already", "name another file")
    finally:
        making.unlink(missing_ok=True)
    return BackedUp(out, len(sums), size)


def _member(name: str, at: datetime) -> zipfile.ZipInfo:
    member = zipfile.ZipInfo(name, (max(at.year, 1980), *at.timetuple()[1:6]))
    member.external_attr = 0o644 << 16
    return member


def _listed(sums: Mapping[str, str], program: str, at: datetime) -> str:
    data = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "program": program,
        "made": at.isoformat(timespec="seconds"),
        "sha256": sums,
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _unzip(file: Path, making: Path) -> tuple[int, int]:
    with zipfile.ZipFile(file) as archive:
        listed = json.loads(archive.read(LIST))
        if not isinstance(listed, dict) or listed.get("format") != FORMAT:
            raise ValueError("it was made by another program")
        if listed.get("version") != FORMAT_VERSION:
            raise ValueError("it was made by a later release; update finishsched")
        sums = dict(listed["sha256"])
        _refuse_strange(archive, sums)
        for known, wanted in sums.items():
            data = archive.read(known)
            if hashlib.sha256(data).hexdigest() != wanted:
                raise ValueError(f"{known} is not what was kept")
            _put(making, known, data)
        return len(sums), sum(archive.getinfo(known).file_size for known in sums)


def _refuse_strange(archive: zipfile.ZipFile, sums: Mapping[str, str]) -> None:
    if SHOP_FILE not in sums:
        raise ValueError(f"there is no {SHOP_FILE} in it")
    if sum(member.file_size for member in archive.infolist()) > MOST_BYTES:
        raise ValueError("it would unfold to more than 8 GB")
    for known in sums:
        if leads_out(known):
            raise ValueError(f"the name {known!r} in it leads out of the shop's folder")


def leads_out(known: str, *, windows: bool = os.name == "nt") -> bool:
    """Tell whether a name of a backup may lead out of the folder that it is put into.

    What parts folders or names a drive on Windows is a plain sign elsewhere, and may stand in the
    name of a picture.
    """
    path = PurePosixPath(known)
    if windows and ("\\" in known or ":" in known or not known.isprintable()):
        return True
    return path.is_absolute() or ".." in path.parts or path.as_posix() != known


def _put(making: Path, known: str, data: bytes) -> None:
    if known == JOURNAL_LINES:
        try:
            # Only a line feed ends a line: texts may hold other separators of lines.
            restore_lines(io.StringIO(data.decode("utf-8"), newline="\n"), making / JOURNAL_FILE)
        except LinesFaultError as error:
            raise ValueError(f"{known}: {error}") from None
        return
    path = making / known
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


def _in_words(error: Exception) -> str:
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    if isinstance(error, _DAMAGED):
        return "it is damaged"
    return str(error.args[0]) if error.args else "it is damaged"


def _no_backup(file: Path, why: str) -> RefusedError:
    return RefusedError(
        f"{file} cannot be restored: {why}", "give a file that finishsched backup wrote"
    )
