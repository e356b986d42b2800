"""A shop made again: from its backup, or from a damaged folder, all that is sound of it.

What is not sound is told by name. A rehearsal does the same in a place that is thrown away.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from finishsched.journal.faults import JournalFaultError
from finishsched.journal.lines import Copied, make_of, restore_lines
from finishsched.journal.lines_reader import LinesFaultError
from finishsched.journal.salvage import salvage
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import JOURNAL_FILE, SHOP_FILE
from finishsched.workshop.base.write_whole import beside, sweep
from finishsched.workshop.keeping.archive import (
    MOST_BYTES,
    Archive,
    ArchiveFaultError,
    TooMuchError,
)
from finishsched.workshop.keeping.backups import (
    FORMAT,
    FORMAT_VERSION,
    JOURNAL_LINES,
    LIST,
    is_backup,
)

MOST_LIST_BYTES = 64 * 1024**2
_DEVICE = re.compile(r"con|prn|aux|nul|(com|lpt)[0-9]", re.IGNORECASE)
"""Names that Windows has for devices, whatever ending is put to them (its own documentation of file
names, from memory)."""


@dataclass(slots=True)
class Restored:
    """What came back."""

    folder: Path
    files: int = 0
    bytes: int = 0
    entries: int = 0
    lost: list[str] = field(default_factory=list)
    """What is not sound, each by its name and in words."""


def restore(source: Path, folder: Path, most_bytes: int = MOST_BYTES) -> Restored:
    """Make in ``folder``, which is new or empty, the shop that ``source`` is or was made of.

    ``source`` is a backup, or a shop's folder that is damaged. All that is sound comes back.

    Raises:
        RefusedError: when ``folder`` holds anything, or ``source`` is no backup of ours, or would
            write elsewhere or unfold to more than ``most_bytes``.

    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise RefusedError(
            f"{folder} is there already, and not empty", "restore into a folder that is new"
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    sweep(folder)
    making = beside(folder)
    making.mkdir()
    try:
        done = _restored(source, making, most_bytes)
        if folder.exists():
            folder.rmdir()
        making.replace(folder)
    except BaseException:
        shutil.rmtree(making, ignore_errors=True)
        raise
    done.folder = folder
    return done


def rehearse(source: Path, most_bytes: int = MOST_BYTES) -> Restored:
    """Restore ``source`` into a place that is thrown away, and tell what would come back.

    Raises:
        RefusedError: as ``restore`` does.

    """
    with tempfile.TemporaryDirectory(prefix="finishsched-") as scratch:
        return restore(source, Path(scratch) / "shop", most_bytes)


def _restored(source: Path, making: Path, most_bytes: int) -> Restored:
    if source.is_dir():
        return _from_folder(source, making)
    try:
        with Archive(source, most_bytes) as archive:
            return _Unpacker(archive, making).unpack()
    except ArchiveFaultError as error:
        remedy = "give a file that finishsched backup wrote"
        raise RefusedError(f"{source} cannot be restored: {error}", remedy) from None


def _from_folder(source: Path, making: Path) -> Restored:
    """Copy a shop's documents and pictures, and of its journal all that is sound."""
    if not (source / SHOP_FILE).exists() and not (source / JOURNAL_FILE).exists():
        raise RefusedError(
            f"{source} holds neither {SHOP_FILE} nor {JOURNAL_FILE}", "name a shop's folder"
        )
    done = Restored(making)
    for path in sorted(source.rglob("*")):
        known = path.relative_to(source)
        hidden = any(part.startswith(".") for part in known.parts)
        if hidden or known.name.startswith(JOURNAL_FILE) or not path.is_file() or is_backup(path):
            continue
        try:
            (making / known).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, making / known)
        except OSError as error:
            done.lost.append(f"{known.as_posix()}: {error.strerror}")
            continue
        done.files += 1
        done.bytes += path.stat().st_size
    if (source / JOURNAL_FILE).is_file():
        _take_journal_file(source / JOURNAL_FILE, making, done)
    return done


def _take_journal_file(file: Path, making: Path, done: Restored) -> None:
    try:
        found = salvage(file)
        make_of(found, making / JOURNAL_FILE)
    except JournalFaultError as error:
        done.lost.append(str(error))
        return
    done.files += 1
    done.entries = len(found.rows)
    done.lost += found.lost


class _Unpacker:
    """Takes out of a backup all that is sound."""

    def __init__(self, archive: Archive, making: Path) -> None:
        self._archive = archive
        self._making = making
        self._done = Restored(making)

    def unpack(self) -> Restored:
        """Put every member in its place.

        Raises:
            ArchiveFaultError: when it is no backup of ours.
            RefusedError: when it cannot be written.

        """
        sums = self._list()
        self._archive.refuse_too_much()
        names = [name for name in self._archive.names if name != LIST]
        for known in (*names, *sums):
            if leads_out(known):
                raise ArchiveFaultError(f"the name {known!r} in it leads out of the shop's folder")
        for known in names:
            if _is_never_kept(known):
                self._done.lost.append(f"{known}: it is no file that a backup holds")
            elif known in sums or not sums:
                self._take(known, sums.get(known))
        self._done.lost += [f"{known}: it is not there" for known in sums if known not in names]
        self._look_at_shop()
        return self._done

    def _list(self) -> Mapping[str, str]:
        """Return the sum of each file by its name; none where the list itself is lost.

        Raises:
            ArchiveFaultError: when it is a list of something else, or of a later release.

        """
        if LIST not in self._archive.names:
            if self._archive.whole:
                raise ArchiveFaultError(f"there is no {LIST} in it")
            self._done.lost.append(f"{LIST}: the end of the file is missing")
            return {}
        try:
            listed = json.loads(self._archive.read(LIST, MOST_LIST_BYTES))
        except TooMuchError:
            raise
        except (ArchiveFaultError, ValueError, RecursionError):
            self._done.lost.append(f"{LIST}: it is damaged, and with it the sum of every file")
            return {}
        if not isinstance(listed, dict) or listed.get("format") != FORMAT:
            raise ArchiveFaultError("it was made by another program")
        if listed.get("version") != FORMAT_VERSION:
            raise ArchiveFaultError("it was made by a later release; update finishsched")
        sums = listed.get("sha256")
        if not isinstance(sums, dict) or not all(isinstance(sum_, str) for sum_ in sums.values()):
            raise ArchiveFaultError(f"{LIST} in it holds no sums")
        return sums

    def _take(self, known: str, wanted: str | None) -> None:
        """Put one file in its place, or tell why not; a journal as far as it is sound."""
        if cannot_be_named(known):
            self._done.lost.append(f"{known}: no file of this system can be called so")
            return
        path = self._making / (f"{known}.making" if known == JOURNAL_LINES else known)
        sum_, size, why = hashlib.sha256(), 0, ""
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as file:
                for piece in self._archive.pieces(known):
                    file.write(piece)
                    sum_.update(piece)
                    size += len(piece)
        except TooMuchError:
            raise
        except ArchiveFaultError as error:
            why = str(error)
        except FileExistsError:
            # Where large and small letters are one, two names of another system may be.
            self._done.lost.append(f"{known}: another file of it has the same name here")
            return
        except OSError as error:
            raise RefusedError(
                f"{known} cannot be written ({error.strerror})", "make room, or name another folder"
            ) from None
        if not why and wanted is not None and sum_.hexdigest() != wanted:
            why = "it is not what was kept"
        if known == JOURNAL_LINES:
            self._take_journal(path, why)
            return
        if why:
            path.unlink()
            self._done.lost.append(f"{known}: {why}")
            return
        self._done.files += 1
        self._done.bytes += size

    def _take_journal(self, lines: Path, why: str) -> None:
        try:
            copied = _journal_of(lines, self._making / JOURNAL_FILE, why)
        except JournalFaultError as error:
            self._done.lost.append(str(error))
            return
        finally:
            lines.unlink()
        self._done.files += 1
        self._done.entries = copied.entries
        self._done.lost += ([f"{JOURNAL_LINES}: {why}"] if why else []) + list(copied.lost)

    def _look_at_shop(self) -> None:
        if not self._done.files:
            raise ArchiveFaultError("nothing in it is sound")
        if not (self._making / SHOP_FILE).is_file():
            self._done.lost.append(f"{SHOP_FILE} is lost: a bare one was written; mend it")
            (self._making / SHOP_FILE).write_text("shop: Restored shop\n", "utf-8")


def _journal_of(lines: Path, journal: Path, why: str) -> Copied:
    """Make a journal of its lines: of all, or of those that are sound."""
    try:
        if not why:
            with _opened(lines) as whole:
                return restore_lines(whole, journal)
    except LinesFaultError:
        pass
    with _opened(lines) as some:
        return restore_lines(some, journal, salvaging=True)


def _opened(lines: Path) -> io.TextIOWrapper:
    # Only a line feed ends a line: texts may hold other separators of lines.
    return lines.open(encoding="utf-8", errors="replace", newline="\n")


def _is_never_kept(known: str) -> bool:
    """Tell whether no backup of ours holds a file of that name: the program's own, or hidden."""
    hidden = any(part.startswith(".") for part in PurePosixPath(known).parts)
    return hidden or known.casefold().startswith(JOURNAL_FILE)


def cannot_be_named(known: str, *, windows: bool = os.name == "nt") -> bool:
    """Tell whether Windows keeps a name for a device, or can end none so."""
    if not windows:
        return False
    parts = PurePosixPath(known).parts
    return any(
        part.endswith((" ", ".")) or _DEVICE.fullmatch(part.partition(".")[0].rstrip()) is not None
        for part in parts
    ) or any(sign in known for sign in '<>"|?*')


def leads_out(known: str, *, windows: bool = os.name == "nt") -> bool:
    """Tell whether a name of a backup may lead out of the folder that it is put into.

    What parts folders or names a drive on Windows is a plain sign elsewhere, and may stand in the
    name of a picture.
    """
    path = PurePosixPath(known)
    if windows and ("\\" in known or ":" in known or not known.isprintable()):
        return True
    return "\0" in known or path.is_absolute() or ".." in path.parts or path.as_posix() != known
