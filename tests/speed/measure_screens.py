"""How soon screens follow each other, and what a screen costs: a table, never an assertion.

Run it from the top folder: .venv/bin/python tests/speed/measure_screens.py
"""

import asyncio
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tablet"))

from served import browser, page, serving_here, until

TURNS = 8


def make_shop(folder):
    """Make a shop with one piece that waits for a coat."""
    ours = [sys.executable, "-m", "finishsched"]
    subprocess.run([*ours, "new", str(folder)], check=True, capture_output=True)
    (folder / "jobs/first-box.yaml").unlink()
    done = ["--done", "sanded to P220, sealed, 3 coats since yesterday 18:30, dry"]
    named = ["--shop", str(folder), "begin", "Lid", "--wood", "walnut", "--usual"]
    subprocess.run([*ours, *named, *done], check=True, capture_output=True)


def memory_mb(process):
    """Return how much memory a process has for itself and shares, in millions of bytes."""
    for line in Path(f"/proc/{process}/status").read_text("utf-8").splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1000
    return 0.0


async def follow(one, other, key, word):
    """Press a key on one screen; return in how many seconds the other one shows a word."""
    other.drawn = b""
    pressed = time.monotonic()
    await one.say("type", key)
    await other.until(lambda seen: word in seen.text)
    return time.monotonic() - pressed


async def measure():
    """Print the table."""
    place = Path(tempfile.mkdtemp())
    make_shop(place / "shop")
    async with serving_here(place / "shop", place) as here, browser(here) as session:
        began = time.monotonic()
        async with page(session, here) as one:
            await one.until(lambda seen: "pad coat 4" in seen.text)
            print(f"a bench is drawn after        {time.monotonic() - began:5.2f} s")
            print(f"a bench has                   {memory_mb(here.benches()[0]):5.0f} MB")
            async with page(session, here) as other:
                await other.until(lambda seen: "pad coat 4" in seen.text)
                shown = []
                for _ in range(TURNS):
                    shown.append(await follow(one, other, " ", "drying"))
                    await asyncio.sleep(2)
                    shown.append(await follow(one, other, "u", "to do"))
                    await asyncio.sleep(2)
                shown.sort()
                likely, most = shown[len(shown) // 2], shown[-1]
                print(f"an entry shows elsewhere after {likely:4.2f} s, at most {most:.2f} s")
        closed = time.monotonic()
        await until(lambda: not here.benches())
        print(f"closed pages have no bench after {time.monotonic() - closed:4.2f} s")


if __name__ == "__main__":
    asyncio.run(measure())
