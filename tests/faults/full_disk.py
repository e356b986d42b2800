"""Every command on a disk that is full: what it says, and with which status it ends.

    python tests/faults/full_disk.py FOLDER

FOLDER is on a small disk of its own, such as ``mount -t tmpfs -o size=2m tmpfs FOLDER`` makes. A
demo shop is put there and the rest of the disk is filled; then each command is called. Looking must
work, logging must be refused in one line, and nothing half made may be left.
"""

from __future__ import annotations

import io
import os
import shutil
import sys
from contextlib import redirect_stderr, redirect_stdout, suppress
from datetime import UTC, datetime
from pathlib import Path

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.store import Journal
from finishsched.workshop.demo.demo import make_demo

NOTEBOOK = "piece,date,entry,text\ntea-chest/lid,2026-01-02,note,a line of the notebook\n"
LOOKS = (
    ("due",),
    ("plan",),
    ("film", "tea-chest/lid"),
    ("stock",),
    ("need", "tea-chest"),
    ("air",),
    ("pace",),
    ("rags",),
    ("cautions",),
    ("store",),
    ("vent",),
    ("check",),
    ("sheet", "tea-chest/lid"),
    ("record", "tea-chest/lid", "--text"),
    ("schedules",),
    ("bench", "--json"),
    ("log", "tea-chest/lid", "entries"),
    ("check", "--journal"),
    ("defect", "tea-chest/lid", "blush"),
    ("cost", "tea-chest/lid"),
    ("choose", "--wood", "walnut", "--sheen", "gloss"),
    ("help", "pad"),
    ("mix", "--cut", "2 lb", "--makes", "250 ml"),
    ("settings",),
    ("reduce", "--from", "3 lb", "--to", "1 lb", "--have", "200 ml"),
    ("blend", "--have", "2 lb: 100 ml", "--have", "1 lb: 50 ml"),
    ("gauge", "--wet", "5 g", "--dry", "1.02 g"),
    ("parts", "--thin", "25 %", "--makes", "100 ml"),
    ("compare", "tea-chest/lid,letter-box/slope"),
    ("say", "--of", "padded-shellac-open-pored"),
    ("backup", "--check", "../kept.zip"),
)
WRITES = (
    ("log", "tea-chest/lid", "note", "full"),
    ("air", "--add", "--temperature", "20 C", "--humidity", "50 %"),
    ("stock", "--bought", "pumice: 500 g"),
    ("record", "tea-chest/lid", "--out", "lid.html"),
    ("sheet", "tea-chest/lid", "--out", "sheet.html"),
    ("begin", "Tray", "--faces", "220 x 140 mm", "--wood", "ash", "--usual"),
    ("change", "tea-chest/lid", "due", "2030-12-20"),
    ("rags", "flat outdoors"),
    ("settings", "theme", "light"),
    ("completion", "bash", "--install"),
    ("import", "--notebook", "../past.csv"),
    ("stock", "--labels", "--out", "labels.html"),
    ("plan", "--week", "--out", "week.html"),
    ("plan", "--calendar", "plan.ics"),
    ("backup", "shop.zip"),
    ("export", "--journal", "shop.jsonl"),
    ("export", "--tables", "tables"),
    ("new", "other"),
    ("restore", "../kept.zip", "again"),
    ("demo", "--out", "other-demo"),
    ("log", "tea-chest/lid", "--reading", "found flaking at the left edge"),
    ("compare", "tea-chest/lid,letter-box/slope", "--out", "beside.html"),
    ("say", "../lines.txt", "--as", "My own way", "--keep"),
)


def main(folder: Path) -> None:
    """Fill the disk and call every command; print how each ended."""
    shop = folder / "shop"
    make_demo(shop, datetime.now(UTC))
    _call(folder, shop, ("backup", str(folder / "kept.zip")))
    (folder / "past.csv").write_text(NOTEBOOK, "utf-8")
    (folder / "lines.txt").write_text("sand 120, 180\nwet sand 500, 3 h\n", "utf-8")
    _fill(folder / "filler")
    before = _listing(folder)
    for kind, commands in (("looks", LOOKS), ("writes", WRITES)):
        for words in commands:
            status, said = _call(shop, shop, words)
            left = sorted(_listing(folder) - before)
            print(f"{kind:<7}{' '.join(words):<58.58}{status}  {said:<60.60}  {left or ''}")  # noqa: T201
            for name in left:
                with suppress(OSError):
                    path = folder / name
                    shutil.rmtree(path) if path.is_dir() else path.unlink()
    (folder / "filler").unlink()
    with Journal.open(shop / "journal.db") as journal:
        print("journal:", journal.check() or "sound")  # noqa: T201


def _call(cwd: Path, shop: Path, words: tuple[str, ...]) -> tuple[int, str]:
    out, err = io.StringIO(), io.StringIO()
    variables = {
        "FINISHSCHED_DATA": str(cwd / "data"),
        "FINISHSCHED_SHOP": str(shop),
        "FINISHSCHED_SETTINGS": str(cwd / "settings.yaml"),
        "HOME": str(cwd),
    }
    os.chdir(cwd)
    with redirect_stdout(out), redirect_stderr(err):
        status = run(words, Surroundings(cwd=cwd, variables=variables))
    lines = err.getvalue().splitlines()
    return int(status), lines[-1].removeprefix(str(cwd)) if lines else ""


def _fill(file: Path) -> None:
    with file.open("wb", buffering=0) as filler:
        for size in (65_536, 4096, 1):
            with suppress(OSError):
                while filler.write(b"\0" * size):
                    pass


def _listing(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve())
