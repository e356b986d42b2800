"""Damage journals and backups at random, and see what comes back of them.

    python tests/faults/damage.py 80 300

So many journals get flipped bytes, and so many backups are flipped, cut or filled with zeros in
part. Each is read and restored; the table tells how many entries and files came back, how many were
told to be lost, and how often something else than a plain refusal ended it.
"""

from __future__ import annotations

import io
import random
import shutil
import sys
import tempfile
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from datetime import UTC, datetime
from pathlib import Path

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.salvage import salvage
from finishsched.journal.store import Journal
from finishsched.refusals import RefusalError
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.keeping.backups import back_up
from finishsched.workshop.keeping.restoring import restore

NOW = datetime.now(UTC)
COMMANDS = (("due",), ("check",), ("export", "--tables", "tables"), ("backup", "../kept.zip"))


def flipped(data: bytes, chance: random.Random, flips: int) -> bytes:
    """Return bytes of which some bits are turned."""
    changed = bytearray(data)
    for at in chance.sample(range(len(changed)), flips):
        changed[at] ^= 1 << chance.randrange(8)
    return bytes(changed)


def journals(shop: Path, place: Path, rounds: int, chance: random.Random) -> None:
    """Flip bytes in journals; read, look and restore each."""
    whole = (shop / "journal.db").read_bytes()
    with Journal.open(shop / "journal.db") as journal:
        wanted = len(journal.events())
    sound = set(salvage(shop / "journal.db").rows)
    seen: Counter[str] = Counter()
    for number in range(rounds):
        trial = place / f"trial-{number}"
        shutil.copytree(shop, trial / "shop")
        bad = trial / "shop" / "journal.db"
        bad.write_bytes(flipped(whole, chance, 1 + number % 3))
        seen["tried"] += 1
        try:
            with Journal.open_or_look(bad) as journal:
                book = journal.book()
                for piece in book.filed:
                    book.live(piece)
                seen["read"] += 1
                seen["damage shown by reading"] += bool(journal.lost)
                seen["damage shown by a full check"] += bool(journal.check())
            done = restore(trial / "shop", trial / "new")
            back = set(salvage(trial / "new" / "journal.db").rows)
        except JournalFaultError as error:
            seen[f"refused: {error.message.rpartition(': ')[2]}"] += 1
            continue
        seen["entries there were"] += wanted
        seen["entries that came back as they were"] += len(back & sound)
        seen["told to be lost or changed"] += len(done.lost)
        seen["lost without a word"] += max(0, wanted - len(back & sound) - len(done.lost))
        if number % 10 == 0:
            for words in COMMANDS:
                world = Surroundings(cwd=trial / "shop", variables={"FINISHSCHED_DATA": str(trial)})
                with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
                    status = int(run(words, world))
                seen[f"{words[0]} ended with {status}"] += 1
                if status == 3:
                    print((trial / "last-fault.txt").read_text("utf-8"))  # noqa: T201
        shutil.rmtree(trial)
    _print("journals", seen)


def archives(shop: Path, place: Path, rounds: int, chance: random.Random) -> None:
    """Flip bytes in backups, cut them, zero parts of them; restore each."""
    back_up(shop, place / "whole.zip", "trial", NOW, UTC)
    whole = (place / "whole.zip").read_bytes()
    seen: Counter[str] = Counter()
    for number in range(rounds):
        begin = chance.randrange(len(whole))
        bad = (
            flipped(whole, chance, 1 + number % 5),
            whole[:begin],
            whole[:begin] + bytes(200) + whole[begin + 200 :],
        )[number % 3]
        (place / "bad.zip").write_bytes(bad)
        seen["tried"] += 1
        try:
            done = restore(place / "bad.zip", place / "new")
        except RefusalError:
            seen["refused in one line"] += 1
            continue
        seen["came back"] += 1
        seen["came back whole"] += not done.lost
        seen["files that came back"] += done.files
        seen["told to be lost"] += len(done.lost)
        shutil.rmtree(place / "new")
    _print("archives", seen)


def _print(what: str, seen: Counter[str]) -> None:
    print(what)  # noqa: T201
    for name, count in seen.items():
        print(f"  {name:<44} {count:>7}")  # noqa: T201


def main(many_journals: int, many_archives: int) -> None:
    """Damage so many of each."""
    chance = random.Random(20260301)  # noqa: S311  # the same damage in every run
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        make_demo(place / "shop", NOW)
        journals(place / "shop", place, many_journals, chance)
        archives(place / "shop", place, many_archives, chance)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
