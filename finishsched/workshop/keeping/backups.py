"""A whole shop in one file.

The file is a plain zip: the documents and pictures as they lie in the folder, the journal as JSON
Lines, and a list of the SHA-256 of each. Any program that opens zip files can open it in fifty
years. What cannot be kept, or is not sound, is told, and all else is kept.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from pathlib import Path
from typing import BinaryIO, TextIO

from finishsched.documents.plain_files import open_plain
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.lines import copy_lines
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import JOURNAL_FILE
from finishsched.workshop.base.write_whole import being_made, beside
from finishsched.workshop.keeping.archive import MOST_BYTES, PIECE_BYTES

JOURNAL_LINES = "journal.jsonl"
DAMAGED_FILE = "journal.damaged.db"
"""Under this name a damaged journal's own file is kept beside what is sound of it."""
LIST = "backup.json"
FORMAT = "finishsched backup"
FORMAT_VERSION = 1


@dataclass(frozen=True, slots=True)
class BackedUp:
    """What a backup holds."""

    file: Path
    files: int
    bytes: int
    lost: tuple[str, ...] = ()
    """What is not sound in the shop, in words: the rest was kept."""
    left_out: tuple[str, ...] = ()
    """What was left out because a backup cannot hold it, each by its name and why."""


def back_up(folder: Path, out: Path, program: str, now: datetime, zone: tzinfo) -> BackedUp:
    """Write everything of the shop in ``folder`` to the zip file ``out``: whole, or not at all.

    Raises:
        RefusedError: when ``out`` is there already, or cannot be written.

    """
    if out.exists():
        raise RefusedError(f"{out} is there already", "nothing is written over; name another file")
    packer = _Packer(folder, program, now.astimezone(zone))
    try:
        with being_made(out, over=False) as made:
            packer.pack(made, beside(out.with_name(JOURNAL_LINES)))
    except FileExistsError:
        raise RefusedError(f"{out} is there already", "name another file") from None
    except OSError as error:
        raise RefusedError(
            f"{out}: cannot be written ({error.strerror or error})", "name a file elsewhere"
        ) from None
    return BackedUp(out, len(packer.sums), packer.bytes, tuple(packer.lost), tuple(packer.left_out))


@dataclass(slots=True)
class _Packer:
    folder: Path
    program: str
    at: datetime
    sums: dict[str, str] = field(default_factory=dict)
    bytes: int = 0
    lost: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)

    def pack(self, made: BinaryIO, lines: Path) -> None:
        """Write the zip file into ``made``; ``lines`` is where the journal's may be meanwhile."""
        with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
            for known, path in self._sources():
                try:
                    self._take(archive, known, path)
                except OSError as error:
                    self.left_out.append(f"{known}: {error.strerror or error}")
            self._take_journal(archive, lines)
            archive.writestr(self._member(LIST), self._list())

    def _take(self, archive: zipfile.ZipFile, known: str, path: Path) -> None:
        sum_, size = hashlib.sha256(), 0
        with (
            open_plain(path, MOST_BYTES) as source,
            archive.open(self._member(known), "w", force_zip64=True) as member,
        ):
            while piece := source.read(PIECE_BYTES):
                member.write(piece)
                sum_.update(piece)
                size += len(piece)
        self.sums[known] = sum_.hexdigest()
        self.bytes += size

    def _take_journal(self, archive: zipfile.ZipFile, lines: Path) -> None:
        """Keep the journal; of a damaged one what is sound, and its file beside that."""
        journal = self.folder / JOURNAL_FILE
        log = journal.with_name(f"{JOURNAL_FILE}-wal")
        if not journal.exists():
            if log.exists():
                self.lost.append(
                    f"{JOURNAL_FILE} is gone, and only its log is there: kept as it is"
                )
                self._take(archive, f"{DAMAGED_FILE}-wal", log)
            return
        try:
            with lines.open("x", encoding="utf-8", newline="") as file:
                self.lost += copy_lines(journal, self.program, lambda all_: _anew(file, all_))
            self._take(archive, JOURNAL_LINES, lines)
        except JournalFaultError as error:
            self.lost.append(str(error))
        finally:
            lines.unlink(missing_ok=True)
        if self.lost:
            self._take(archive, DAMAGED_FILE, journal)
            if log.exists():
                self._take(archive, f"{DAMAGED_FILE}-wal", log)

    def _sources(self) -> Iterator[tuple[str, Path]]:
        """Give every file of the shop but the journal and earlier backups; nothing hidden.

        What a link leads to is taken in, since it may lie where the backup's reader cannot go.
        """
        walked = {self.folder.resolve()}
        for place, names, files in os.walk(self.folder, followlinks=True):
            names[:] = sorted(name for name in names if self._is_walked(Path(place), name, walked))
            for name in sorted(files):
                path = Path(place) / name
                known = path.relative_to(self.folder).as_posix()
                own = known.startswith(JOURNAL_FILE) or known in (LIST, JOURNAL_LINES)
                if not (name.startswith(".") or own or self._is_left_out(known, path)):
                    yield known, path

    def _is_walked(self, place: Path, name: str, walked: set[Path]) -> bool:
        if name.startswith("."):
            return False
        path = place / name
        if not path.is_symlink():
            return True
        real = path.resolve()
        if any(real == known or real in known.parents for known in walked):
            known = path.relative_to(self.folder).as_posix()
            self.left_out.append(f"{known}: the link leads back to a folder that holds it")
            return False
        walked.add(real)
        return True

    def _is_left_out(self, known: str, path: Path) -> bool:
        try:
            mode = path.stat().st_mode
        except OSError as error:
            self.left_out.append(f"{known}: {error.strerror}")
            return True
        if not stat.S_ISREG(mode):
            self.left_out.append(f"{known}: it is no plain file")
            return True
        if not _is_utf8(known):
            raise RefusedError(
                f"the name of {known!r} is no UTF-8 text, which a backup needs",
                "give that file another name",
            )
        return is_backup(path)

    def _member(self, name: str) -> zipfile.ZipInfo:
        member = zipfile.ZipInfo(name, (max(self.at.year, 1980), *self.at.timetuple()[1:6]))
        member.external_attr = 0o644 << 16
        member.compress_type = zipfile.ZIP_DEFLATED
        return member

    def _list(self) -> str:
        data = {
            "format": FORMAT,
            "version": FORMAT_VERSION,
            "program": self.program,
            "made": self.at.isoformat(timespec="seconds"),
            "sha256": self.sums,
        }
        return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _anew(file: TextIO, lines: Iterator[str]) -> None:
    """Write lines from the beginning of a file, over those of an earlier try."""
    file.seek(0)
    file.truncate()
    file.writelines(lines)


def is_backup(path: Path) -> bool:
    """Tell whether a file is a backup of ours: each would hold all those before it."""
    if path.suffix.lower() != ".zip":
        return False
    try:
        with zipfile.ZipFile(path) as archive:
            return LIST in archive.namelist()
    except Exception:  # noqa: BLE001  # whatever a damaged file does, it is kept as any other
        return False


def _is_utf8(name: str) -> bool:
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True
