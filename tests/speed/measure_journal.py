"""How a journal's length tells in time and memory: ratios in one run, for people to compare.

    python tests/speed/measure_journal.py 1000 10000 100000
    python tests/speed/measure_journal.py --finished 1000 100000 1000000

For each number of entries a demo shop is filled up: with notes on a piece in hand, and with a tenth
as many readings of the air, up to a hundred thousand; with ``--finished`` with jobs of five pieces
that were finished one after another over ten years, and whose documents are all still there. Each
command is a cold process, after one that read everything for the first time; its figures are its
own processor time, best of ``RUNS``, and the most memory that it held.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from long_shops import PIECE, lived_in, noted

RUNS = 3
COMMANDS = (
    ("due",),
    ("log", PIECE, "note", "a"),
    ("film", PIECE),
    ("record", PIECE, "--text"),
    ("plan",),
    ("export", "--journal", "out.jsonl", "--force"),
)
ONE_RUN = """
import resource, sys, os
from finishsched.cli.run import run
out, sys.stdout = sys.stdout, open(os.devnull, "w")
run(sys.argv[1:])
used = resource.getrusage(resource.RUSAGE_SELF)
try:  # what resource tells may be of the process that began this one
    held = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
    kilobytes = int(held.split()[1])
except OSError:
    kilobytes = used.ru_maxrss
print(used.ru_utime + used.ru_stime, kilobytes // 1024, file=out)
"""

BEGUN = (sys.executable, "-c", ONE_RUN)


def measured(shop: Path, words: tuple[str, ...]) -> tuple[float, int]:
    """Return the best processor time in seconds, and the memory in MB, of a command."""
    words = tuple(str(shop / word) if word.endswith(".jsonl") else word for word in words)
    command = [*BEGUN, "--shop", str(shop), *words]
    found = []
    for _ in range(RUNS):
        said = subprocess.run(command, capture_output=True, text=True, check=True)
        seconds, megabytes = said.stdout.split()
        found.append((float(seconds), int(megabytes)))
    return min(found)


def main(lengths: list[int], *, finished: bool) -> None:
    """Measure, and print each as a ratio to the shortest journal's."""
    least: dict[tuple[str, ...], float] = {}
    for length in lengths:
        with tempfile.TemporaryDirectory() as place:
            shop = Path(place) / "shop"
            (lived_in if finished else noted)(shop, length, datetime.now(UTC))
            subprocess.run([*BEGUN, "--shop", str(shop), "due"], capture_output=True, check=True)
            for words in COMMANDS:
                seconds, megabytes = measured(shop, words)
                base = least.setdefault(words, seconds)
                print(
                    f"{length:>9,}  {words[0]:<8} {seconds:6.2f} s  "
                    f"{seconds / base:5.2f} times  {megabytes:>5} MB",
                    flush=True,
                )


if __name__ == "__main__":
    main(
        [int(word) for word in sys.argv[1:] if word.isdigit()],
        finished="--finished" in sys.argv[1:],
    )
