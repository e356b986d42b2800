"""A maker who does exactly as told, and everything in which the program then contradicts itself.

The real commands are run in this process, at an instant of our choosing. The maker asks ``due``,
does what it names in the amount and at the time that it names, logs it, and asks again, until every
piece is finished. Whatever is refused, whatever two commands say differently at one moment, and
whatever changes because of obedience is a contradiction.
"""

from __future__ import annotations

import io
import json
import os
import re
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings

BEGIN = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
UNITS = {
    "g": "{volume: ml, mass: g, temperature: degC}",
    "oz": "{volume: floz, mass: oz, temperature: degF}",
}
SHOP = """\
shop: Row of benches
people: [Ada]
time_zone: Europe/Lisbon
hours: [Mon-Sun 8:00-22:00]
units: {units}
rooms:
  - {{room: shop, volume: 60 m3, air_flow: 120 m3/h, mixing: 3}}
"""
PIECE = """\
  - piece: panel-{number}
    title: Panel {number}
    schedule: {schedule}
    species: cherry
    veneer: 0.9 mm
    faces: [{{face: top, area: 0.06 m2}}]
"""
SLOWEST_AGAIN = 0.745
"""Looks at the bell that are always 'ready' bring a likely time no lower than to three quarters."""
MOST_TURNS = 600
PLAN_EVERY = 3
"""At how many turns once the plan is asked as well, which takes longest."""


class StuckError(Exception):
    """Nothing can be begun, and nothing is ever said to become free."""


@dataclass
class Maker:
    """One maker in one shop."""

    folder: Path
    units: str
    schedule: str
    pieces: int
    now: datetime = BEGIN
    found: list[str] = field(default_factory=list)
    """Contradictions, in words."""
    turns: int = 0
    known: set[str] = field(default_factory=set)
    """Pieces that were begun."""

    def set_up(self) -> None:
        """Write the shop and its job."""
        (self.folder / "jobs").mkdir(parents=True)
        units = UNITS[self.units]
        (self.folder / "shop.yaml").write_text(SHOP.format(units=units))
        pieces = "".join(
            PIECE.format(number=number, schedule=self.schedule)
            for number in range(1, self.pieces + 1)
        )
        text = f"job: row\ntitle: A row of panels\npieces:\n{pieces}"
        (self.folder / "jobs/row.yaml").write_text(text)

    def work(self, most_turns: int = MOST_TURNS) -> list[str]:
        """Work until all is finished or so many turns are over; return the contradictions."""
        self.set_up()
        self.call("plan")
        while self.turns < most_turns:
            due = self.asked("due")
            self.turns += 1
            best = due["suggested"]["best"]
            if self.turns % PLAN_EVERY == 0:
                self.compare_with_plan(best)
            if best is None or not due["suggested"]["hands"]:
                if not due["now"] and not due["next"] and not due["clocks"]:
                    return self.found
                self.wait_for(due)
                continue
            self.obey(best, due)
        return self.found

    def obey(self, best: dict, due: dict) -> None:
        """Do the one thing that was named, and log it."""
        piece = best["piece"]
        start = datetime.fromisoformat(best["start"])
        self.now = max(self.now, start)
        shown = due["now"]
        if piece not in self.known:
            shown = _next(self.log(piece, "start")) or shown
            self.known.add(piece)
            if best["rest_follows"]:
                return
        if best["dry_check_first"]:
            shown = _next(self.log(piece, "ready")) or shown
        if best["only_dry_check"]:
            return
        self.now += timedelta(minutes=best["minutes"])
        view = next((one for one in shown if one["piece"] == piece), None)
        used = _told(view) if view is not None and view["step_key"] == best["step"] else None
        done = self.log(piece, "done", *(["--used", used] if used else []))
        if done is not None:
            self.look_at_clock(piece, used)

    def look_at_clock(self, piece: str, used: str | None) -> None:
        """Tell where a told amount changed a wait, or looks at the bell shortened it too far."""
        clocks = self.asked("due")["clocks"]
        for clock in (one for one in clocks if one["piece"] == piece):
            why = " ".join(clock["why"])
            if used and (film := re.search(r"the coat ([\d.]+) times the schedule's", why)):
                step = clock["step"]
                self.found.append(f"{piece} {step}: the told {used} counts as {film[1]} coats")
            learnt = re.search(r"the checks make ([\d.]+) of it", why)
            if learnt and float(learnt[1]) < SLOWEST_AGAIN:
                self.found.append(f"{piece} {clock['step']}: passes alone make {learnt[1]} of it")

    def compare_with_plan(self, best: dict | None) -> None:
        """Tell where the plan has something else first at this very moment."""
        steps = self.asked("plan")["steps"]
        soon = self.now + timedelta(minutes=1)
        first = [
            (step["piece"], step["step_key"] if "step_key" in step else step["step"])
            for step in steps
            if step["person"] and datetime.fromisoformat(step["start"]) <= soon
        ]
        named = (best["piece"], best["step"]) if best else None
        if best and best["only_dry_check"] and best["piece"] in [piece for piece, _ in first]:
            return  # the plan names the rest that begins by itself after that check
        if first and named not in first:
            self.found.append(f"at {self.now}: the plan has {first}, due names {named}")

    def wait_for(self, due: dict) -> None:
        """Go on to when something is said to become free."""
        suggested = due["suggested"]
        named = [each["until"] for each in suggested["held"] if each["until"]]
        named += [suggested["next_hours"]] if suggested["next_hours"] else []
        named += [clock["ready_likely"] for clock in due["clocks"]]
        ahead = [at for text in named if (at := datetime.fromisoformat(text)) > self.now]
        if not ahead:
            raise StuckError(f"at {self.now}: nothing can be begun, and nothing says when")
        self.now = min(ahead) + timedelta(seconds=1)

    def log(self, piece: str, *words: str) -> dict | None:
        """Log an entry; a refusal of what was told is a contradiction."""
        status, out, err = self.call("log", piece, *words)
        if status:
            self.found.append(f"at {self.now}: log {piece} {' '.join(words)} is refused: {err}")
            self._refused += 1
            if self._refused > 3:
                raise StuckError(err)
            return None
        return json.loads(out)

    _refused: int = 0

    def asked(self, *words: str) -> dict:
        """Return the JSON answer of a command."""
        _, out, err = self.call(*words)
        if not out:
            raise StuckError(err)
        return json.loads(out)

    def call(self, *words: str) -> tuple[int, str, str]:
        """Run one command, with --json, at this instant."""
        world = Surroundings(
            now=lambda: self.now,
            cwd=self.folder,
            variables={"FINISHSCHED_DATA": str(self.folder / "data")},
            at_terminal=False,
        )
        out, err = io.StringIO(), io.StringIO()
        before = Path.cwd()
        os.chdir(self.folder)
        try:
            with redirect_stdout(out), redirect_stderr(err):
                status = run([*words, "--json"], world)
        finally:
            os.chdir(before)
        return int(status), out.getvalue(), err.getvalue().strip()


def _next(logged: dict | None) -> list[dict]:
    """Return what an entry said that comes next."""
    return logged["next"] if logged is not None else []


def _told(view: dict) -> str | None:
    """Return the amount that was named for this very coat; None where it is for several."""
    amount, _, coats = (view.get("mix_makes") or "").partition(" for ")
    return amount if coats.startswith("this coat") else None
