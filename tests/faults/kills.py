"""Kill commands at random instants: nothing acknowledged is lost, nothing half made is left.

    python tests/faults/kills.py 60

Each command of the table is run so many times in a copy of the demo's shop, and killed somewhere
between its begin and a little after its usual end. Then the journal must be sound and hold all of
the entry or none of it, all of it if that was said; a file or folder must be there whole or not at
all; and what a later run finds half made beside it, once that is old, must be swept.
"""

from __future__ import annotations

import io
import os
import random
import re
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.lines import check_lines
from finishsched.journal.store import Journal
from finishsched.workshop.base.place import CHANGES_LOCK
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.keeping.restoring import rehearse

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
LID, SLOPE = "tea-chest/lid", "letter-box/slope"
OLD_S = 7200.0
NOTEBOOK = "piece,date,entry,text\n" + "".join(
    f"tea-chest/lid,2026-10-{1 + number % 28:02},note,line {number}\n" for number in range(300)
)


@dataclass(frozen=True)
class Kind:
    """One command: its words, what of it is made, and how what was made is looked at."""

    words: tuple[str, ...]
    makes: str = ""
    is_whole: Callable[[Path], bool] = lambda _made: True


def whole_lines(file: Path) -> bool:
    """Tell whether an exported journal reads to its seal."""
    with file.open(encoding="utf-8", newline="\n") as lines:
        check_lines(lines)
    return True


def whole_page(file: Path) -> bool:
    """Tell whether a page was written to its end."""
    return file.read_text("utf-8").rstrip().endswith("</html>")


def whole_shop(folder: Path) -> bool:
    """Tell whether a shop opens, and its journal is sound."""
    with Journal.open(folder / "journal.db") as journal:
        return (folder / "shop.yaml").is_file() and journal.check() == []


KINDS = {
    "log ready": Kind(("log", LID, "ready")),
    "log a sitting": Kind(("log", SLOPE, "done", "--coats", "2", "--every", "1 min")),
    "log with pictures": Kind(("log", SLOPE, "done", "--picture", "a.png", "--picture", "b.png")),
    "log early": Kind(("log", LID, "early", "the guests are here")),
    "log undo": Kind(("log", LID, "undo")),
    "log note on all": Kind(("log", "all", "note", "the stove was out")),
    "log reading": Kind(("log", LID, "--reading", "gloss 60: 42")),
    "air": Kind(("air", "--add", "--temperature", "20 C", "--humidity", "50 %")),
    "stock": Kind(("stock", "--bought", "pumice: 500 g")),
    "rags": Kind(("rags", "flat outdoors")),
    "import notebook": Kind(("import", "--notebook", "past.csv")),
    "import journal": Kind(("import", "--journal", "kept.jsonl", "--shop", "bare")),
    "plan": Kind(("plan",)),
    "plan week": Kind(("plan", "--week", "--out", "week.html"), "week.html", whole_page),
    "record": Kind(("record", LID, "--out", "lid.html"), "lid.html", whole_page),
    "export journal": Kind(("export", "--journal", "out.jsonl"), "out.jsonl", whole_lines),
    "export tables": Kind(("export", "--tables", "tables")),
    "backup": Kind(("backup", "out.zip"), "out.zip", lambda file: not rehearse(file).lost),
    "restore": Kind(("restore", "kept.zip", "again"), "again", whole_shop),
    "new": Kind(("new", "other"), "other", whole_shop),
    "begin": Kind(("begin", "Tray of ash", "--faces", "220 x 140 mm", "--wood", "ash", "--usual")),
    "change": Kind(("change", LID, "due", "2026-12-20")),
}


def prepare(shop: Path) -> None:
    """Make the shop that each trial gets a copy of."""
    make_demo(shop, NOW)
    for name in ("a.png", "b.png"):
        (shop / name).write_bytes(b"\x89PNG\r\n\x1a\n")
    (shop / "past.csv").write_text(NOTEBOOK, "utf-8")
    for words in (
        ("backup", "kept.zip"),
        ("export", "--journal", "kept.jsonl"),
        ("new", "bare"),
    ):
        assert call(shop, words) == 0


def call(shop: Path, words: Sequence[str]) -> int:
    """Run one command quietly and return its status."""
    variables = {"FINISHSCHED_DATA": str(shop / ".data")}
    world = Surroundings(now=lambda: NOW, cwd=shop, variables=variables)
    os.chdir(shop)
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
        return int(run(words, world))


def run_and_kill(shop: Path, kind: Kind, after_s: float | None) -> tuple[bool, float]:
    """Run a command in a process of its own; return whether it ended well, and how long it took."""
    begun = time.monotonic()
    child = os.fork()
    if child == 0:
        os._exit(call(shop, kind.words))
    while after_s is None or time.monotonic() - begun < after_s:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return status == 0, time.monotonic() - begun
        time.sleep(0.002)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return status == 0, time.monotonic() - begun


def entries(shop: Path) -> tuple[int, int]:
    """Return how many entries the shop and the bare one hold; each must be sound."""
    found = []
    for folder in (shop, shop / "bare"):
        with Journal.open(folder / "journal.db") as journal:
            assert journal.check() == [], journal.check()
            found.append(journal.book().last_seq)
    return found[0], found[1]


def listing(shop: Path) -> set[str]:
    """Return every file and folder of the shop; what SQLite keeps beside an open journal aside."""
    names = {path.relative_to(shop).as_posix() for path in shop.rglob("*")}
    return {name for name in names if not name.endswith(("-wal", "-shm"))}


def one_kind(name: str, template: Path, place: Path, rounds: int, chance: random.Random) -> None:
    """Kill one command so often, and print what came of it."""
    kind, seen, names = KINDS[name], Counter[str](), set[str]()
    shop = place / "trial"

    def fresh() -> None:
        shutil.rmtree(shop, ignore_errors=True)
        shutil.copytree(template, shop)

    fresh()
    before = entries(shop)
    well, usual_s = run_and_kill(shop, kind, None)
    assert well, name
    after, made = entries(shop), listing(shop)
    for _ in range(rounds):
        fresh()
        well, _ = run_and_kill(shop, kind, chance.uniform(0.0, 1.2 * usual_s))
        seen["ended" if well else "killed"] += 1
        found = entries(shop)
        seen["there"] += found == after
        seen["lost"] += well and found != after
        seen["half"] += found not in (before, after)
        result = shop / kind.makes
        seen["lost"] += bool(kind.makes and well and not result.exists())
        seen["half"] += bool(kind.makes and result.exists() and not kind.is_whole(result))
        left = listing(shop) - made - listing(template)
        seen["odd"] += sum(".making" not in odd and odd != CHANGES_LOCK for odd in left)
        seen["left"] += bool(left)
        if left:
            seen["not swept"] += not swept(shop, kind, left)
            names.update(re.sub(r"\.[0-9a-f]{32}", "", path.partition("/")[0]) for path in left)
    print(  # noqa: T201
        f"{name:<20}{rounds:>5} tried{seen['killed']:>5} killed{seen['there']:>5} there"
        f"{seen['lost']:>4} lost{seen['half']:>4} half{seen['odd']:>4} odd names"
        f"{seen['left']:>4} with temporaries{seen['not swept']:>4} not swept {sorted(names)}",
        flush=True,
    )


def swept(shop: Path, kind: Kind, left: set[str]) -> bool:
    """Run the command once more when what it left is old; tell whether all of that is gone."""
    then = time.time() - OLD_S
    for name in left:
        os.utime(shop / name, (then, then))
    result = shop / kind.makes
    if kind.makes and result.exists():
        shutil.rmtree(result) if result.is_dir() else result.unlink()
    run_and_kill(shop, kind, None)
    return not [name for name in left if (shop / name).exists()]


def main(rounds: int, names: Sequence[str]) -> None:
    """Kill each command so often."""
    chance = random.Random(20260301)  # noqa: S311  # the same instants in every run
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        os.environ["FINISHSCHED_CACHE"] = str(place / "cache")
        template = place / "template"
        prepare(template)
        for name in names or KINDS:
            one_kind(name, template, place, rounds, chance)


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
