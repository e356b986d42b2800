"""The lines of a journal, read one by one: what they hold, and every fault of theirs."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from typing import Any

from finishsched.journal.derived import COLUMNS
from finishsched.journal.events import Row, from_row
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.salvage import snapshots_named
from finishsched.model.plain import text_hash
from finishsched.refusals import RefusalsError

FORMAT = "finishsched journal"
FORMAT_VERSION = 1
MOST_FAULTS = 50
KEYS = tuple(COLUMNS.split(", "))
canonical = json.JSONEncoder(
    sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
).encode


class LinesFaultError(RefusalsError):
    """Lines that are no whole journal: every fault, each with the number of its line."""

    def __init__(self, faults: Iterable[tuple[int, str]]) -> None:
        self.faults = tuple(faults)
        super().__init__(f"line {line}: {what}" for line, what in self.faults)


class LinesReader:
    """Takes line after line, and keeps every fault."""

    def __init__(self, *, salvaging: bool = False) -> None:
        self.snapshots: dict[str, str] = {}
        self.faults: list[tuple[int, str]] = []
        self.last_seq = 0
        self._salvaging = salvaging
        self._named: dict[str, int] = {}
        self._seal = hashlib.sha256()
        self._count = 0
        self._sealed = False

    def rows(self, lines: Iterable[str]) -> Iterator[Row]:
        """Give the entries that the lines hold."""
        for number, line in enumerate(lines, start=1):
            if len(self.faults) >= MOST_FAULTS and not self._salvaging:
                return
            self._count = number
            row = self._taken(number, line)
            if row is not None:
                yield row
            ended = line if line.endswith("\n") else f"{line}\n"
            self._seal.update(ended.encode("utf-8", "surrogatepass"))

    def settle(self) -> None:
        """End the reading.

        Raises:
            LinesFaultError: with every fault.

        """
        self._look_at_the_end()
        for hash_, number in self._named.items():
            if hash_ not in self.snapshots and not self.faults:
                self.faults.append((number, f"names snapshot {hash_[:12]}, which is not there"))
        if self.faults:
            raise LinesFaultError(self.faults)

    def lost(self) -> tuple[str, ...]:
        """Return in words what is not sound of the lines."""
        self._look_at_the_end()
        return tuple(f"journal, line {number}: {what}" for number, what in self.faults)

    def _look_at_the_end(self) -> None:
        if self._count == 0:
            self.faults.append((1, "there is nothing; give a file that export --journal wrote"))
        elif not self._sealed and (self._salvaging or not self.faults):
            self.faults.append((self._count, "the end is missing: the copy was cut short"))

    def _taken(self, number: int, line: str) -> Row | None:
        try:
            return self._read(number, json.loads(line))
        except (ValueError, KeyError, TypeError, RecursionError, JournalFaultError) as error:
            said = error.message if isinstance(error, JournalFaultError) else _in_words(error)
            self.faults.append((number, said))
            return None

    def _read(self, number: int, data: Any) -> Row | None:
        if not isinstance(data, dict):
            raise TypeError("no JSON object")
        if self._sealed:
            raise ValueError("something stands after the end")
        if number == 1:
            _refuse_foreign(data)
        elif "snapshot" in data:
            self._take_snapshot(data["snapshot"], data["text"])
        elif "sha256" in data:
            self._take_seal(number, data)
        else:
            return self._entry(number, data)
        return None

    def _take_snapshot(self, hash_: object, text: object) -> None:
        if not isinstance(hash_, str) or not isinstance(text, str):
            raise TypeError("a snapshot's name and text are wanted as texts")
        if text_hash(text) != hash_ and not self._salvaging:
            raise ValueError(f"snapshot {hash_[:12]} is not the text that it was")
        self.snapshots[hash_] = text

    def _entry(self, number: int, data: dict[str, Any]) -> Row:
        body = data["body"]
        text = body if isinstance(body, str) else canonical(body)
        row: Row = (*(data[key] for key in KEYS[:-1]), text)
        wanted = self.last_seq + 1
        if row[0] != wanted and not (self._salvaging and type(row[0]) is int and row[0] > wanted):
            raise ValueError(f"entry {row[0]!r:.40} stands where entry {wanted} would")
        from_row(row)
        self.last_seq = row[0]
        for hash_ in snapshots_named(row):
            self._named.setdefault(hash_, number)
        return row

    def _take_seal(self, number: int, data: dict[str, Any]) -> None:
        self._sealed = True
        if data["lines"] != number - 1 or data["sha256"] != self._seal.hexdigest():
            raise ValueError("the lines before are not those that were written: one was changed")


def _refuse_foreign(data: dict[str, Any]) -> None:
    if data.get("format") != FORMAT:
        raise ValueError("not a journal of ours; give a file that export --journal wrote")
    if data.get("version") != FORMAT_VERSION:
        raise ValueError(f"of version {data.get('version')!r}, and this program reads 1; update it")


def _in_words(error: Exception) -> str:
    if isinstance(error, json.JSONDecodeError):
        return f"not JSON ({error.msg})"
    if isinstance(error, KeyError):
        return f"without {error.args[0]!r}"
    return f"{error}"
