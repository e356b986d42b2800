"""A maker who does exactly as told, and everything in which the program then contradicts itself.

The real commands are run in this process, at an instant of our choosing. The maker asks ``due``,
does what it names in the amount and at the time that it names, logs it, and asks again, until every
piece is finished. Whatever is refused, whatever is remarked on, whatever two commands say
differently at one moment, and whatever changes because of obedience is a contradiction.
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

from obedient_faces import (
    compare_amounts,
    compare_bench,
    compare_check,
    compare_clocks,
    compare_cuts,
    compare_film,
    compare_mix,
    compare_seals,
    compare_stock,
    compare_with_plan,
    cuts_told,
    left_in,
)
from obedient_shops import Job, panels

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.model.schedule import Verb

BEGIN = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
SLOWEST_AGAIN = 0.75
"""Looks at the bell that are always 'ready' bring a likely time no lower than to three quarters."""
ROUNDED = 0.005
"""How far a factor that is told may be from what is meant."""
MOST_TURNS = 600
ABRADING = frozenset(verb.value for verb in Verb if verb.abrades)
PLAN = ("plan", "--week")
"""The plan as it stands, without what would help and the odds of lateness, which take longest."""
FACES_EVERY = 5
"""At how many turns once all faces are compared, which takes longest."""


class StuckError(Exception):
    """Nothing can be begun, and nothing is ever said to become free."""


@dataclass
class Maker:
    """One maker in one shop."""

    folder: Path
    job: Job
    now: datetime = BEGIN
    jars: bool = False
    """True for one who mixes what is told, keeps it in a jar, and logs the jar and no amount."""
    found: list[str] = field(default_factory=list)
    """Contradictions, in words."""
    turns: int = 0
    coats: int = 0
    known: set[str] = field(default_factory=set)
    """Pieces that were begun."""
    mixed: int = 0
    told_jar: str = ""
    """The jar that the coat in hand is told to be taken from."""
    cuts: list[str] = field(default_factory=list)
    """What ``check`` says of papers that go through."""
    asked_first: list[str] = field(default_factory=list)
    """What ``film`` asked to confirm, for the odds of a loss."""
    film_asked: set[tuple[int, str, float | None]] = field(default_factory=set)
    """Steps, each with what it takes, of which ``film`` was asked."""
    _refused: int = 0
    _answers: dict[tuple[str, ...], dict] = field(default_factory=dict)
    """What was answered since the last entry, at ``_answered_at``."""
    _answered_at: datetime = BEGIN

    @classmethod
    def of_panels(
        cls, folder: Path, units: str, schedule: str, pieces: int, *, alike: bool = False
    ) -> Maker:
        """Return a maker of so many panels; one who measures by ounces keeps jars."""
        return cls(folder, panels(units, schedule, pieces, alike=alike), jars=units == "oz")

    def work(self, most_turns: int = MOST_TURNS) -> list[str]:
        """Work until all is finished or so many turns are over; return the contradictions."""
        if not self.turns:
            self.job.write(self.folder, self)
            due = self.asked("due")
            compare_with_plan(self, due["suggested"]["best"], self.asked(*PLAN))
            self.cuts = cuts_told(self)
        while self.turns < most_turns:
            due = self.asked("due")
            self.turns += 1
            best = due["suggested"]["best"]
            if self.turns % FACES_EVERY == 0:
                compare_bench(self, best)
                plan = self.asked(*PLAN)
                compare_with_plan(self, best, plan)
                compare_clocks(self, due, plan)
            if best is None or not due["suggested"]["hands"]:
                if not due["now"] and not due["next"] and not due["clocks"]:
                    compare_cuts(self)
                    return self.found
                self.wait_for(due)
                continue
            self.obey(best, due)
        return self.found

    def obey(self, best: dict, due: dict) -> None:
        """Do the one thing that was named, and log it; with pieces alike, on all of them."""
        start = datetime.fromisoformat(best["start"])
        self.now = max(self.now, start)
        row = _row_of(best, due)
        if not set(row["pieces"]) <= self.known and row["state"] == "not begun":
            begun = self.log(row["name"], "start")
            self.known |= set(row["pieces"])
            if best["rest_follows"] or begun is None:
                return
        elif best["dry_check_first"]:
            self.log(row["name"], "ready")
        if best["only_dry_check"]:
            return
        # What is told of the coat is told again once the dry check is over.
        again = self.asked("due")
        row = _row_of(best, again)
        shown = {view["piece"]: view for view in again["now"]}
        view = shown.get(best["pieces"][0])
        if view is None or view["step_key"] != best["step"]:
            self.found.append(f"at {self.now}: named {best['step']}, shown {view and view['step']}")
            return
        self.now += timedelta(minutes=best["minutes"])
        self.do(row, view)

    def do(self, row: dict, view: dict) -> None:
        """Do a step on the pieces of a row, with the amount that is told for it."""
        words: list[str] = []
        self.told_jar = ""
        takes = told_amount(row["mix_makes"])
        if takes is not None:
            self.coats += 1
            if self.coats % FACES_EVERY == 1:
                compare_amounts(self, row, view)
                compare_seals(self, view)
            words = self.amount_words(row, view, takes)
        before = None
        if self.is_new_to_film(view):
            if view["step"].partition(" ")[0] in ABRADING:
                compare_check(self, view)
            elif takes is not None and self.coats % FACES_EVERY == 1:
                before = compare_film(self, view, None)
        left_ml = left_in(self, self.told_jar)
        done = self.log(row["name"], "done", *words)
        if done is None:
            return
        compare_stock(self, row, view, left_ml)
        for clock in self.asked("due")["clocks"]:
            if clock["piece"] in row["pieces"]:
                self.look_at_clock(clock, " ".join(words))
        if before is not None:
            compare_film(self, view, before)

    def is_new_to_film(self, view: dict) -> bool:
        """Tell whether film was not asked about this step yet, of a piece of this size."""
        asked = (view["steps_in_all"], view["step_key"], view["takes_ml"])
        is_new = asked not in self.film_asked
        self.film_asked.add(asked)
        return is_new

    def amount_words(self, row: dict, view: dict, takes: str) -> list[str]:
        """Return how the coat is logged: with its amount, or out of the jar that was mixed."""
        if not self.jars:
            return ["--used", takes]
        jar = row["jar"]
        if not jar:
            jar = self.mix(row, view)
        if not jar:
            return ["--used", takes]
        self.told_jar = jar.partition(",")[0]
        # Every other coat names no jar: it is taken from the one that was told.
        return ["--batch", self.told_jar] if self.coats % 2 else []

    def mix(self, row: dict, view: dict) -> str:
        """Mix what is told, put it on the shelf, and return what ``due`` then names."""
        strength = _strength_words(view["product"])
        if strength is None:
            return ""
        self.mixed += 1
        makes = _amount(row["mix_makes"].partition(" for ")[0])
        product = self.product_of(view)
        compare_mix(self, view, product, makes)
        name = f"told jar {self.mixed}"
        status, _, err = self.call(
            "stock", "--mixed", name, "--product", product, *strength, "--makes", makes
        )
        if status:
            self.found.append(f"at {self.now}: stock --mixed {makes} is refused: {err}")
            return ""
        rows = self.asked("due")["rows"]
        now = next(one for one in rows if one["name"] == row["name"])
        if not now["jar"]:
            self.found.append(f"at {self.now}: {name} of {makes} was mixed, due says {now['mix']}")
        return str(now["jar"])

    def product_of(self, view: dict) -> str:
        """Return the id of what a step lays, as ``need`` has it."""
        job = view["piece"].partition("/")[0]
        coats = self.asked("need", job)["pieces"]
        return next(str(one["product"]) for one in coats if one["step_key"] == view["step_key"])

    def look_at_clock(self, clock: dict, used: str) -> None:
        """Tell where a told amount changed a wait, or looks at the bell shortened it too far."""
        piece, step, why = clock["piece"], clock["step"], " ".join(clock["why"])
        if used and (film := re.search(r"the coat ([\d.]+) times the schedule's", why)):
            self.found.append(f"{piece} {step}: the told {used} counts as {film[1]} coats")
        learnt = re.search(r"the checks make ([\d.]+) of it", why)
        others = re.search(r"book and other waits alone say ([\d.]+) times", why)
        kin = float(others[1]) if others else 1.0
        passes = "0 held a 'not yet'" in why
        least = SLOWEST_AGAIN * (kin - ROUNDED) - ROUNDED
        if learnt and passes and float(learnt[1]) < least:
            self.found.append(f"{piece} {step}: passes alone make {learnt[1]} of it")

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
        """Log an entry; a refusal of what was told is a contradiction, and so is a remark."""
        status, out, err = self.call("log", piece, *words)
        if status:
            self.found.append(f"at {self.now}: log {piece} {' '.join(words)} is refused: {err}")
            self._refused += 1
            if self._refused > 3:
                raise StuckError(err)
            return None
        logged: dict = json.loads(out)
        for remark in logged["warnings"]:
            self.found.append(f"at {self.now}: log {piece} {' '.join(words)}: {remark}")
        return logged

    def asked(self, *words: str) -> dict:
        """Return the JSON answer of a command; asked again at once, the one that it gave."""
        if self.now != self._answered_at:
            self._answers.clear()
            self._answered_at = self.now
        if words not in self._answers:
            _, out, err = self.run([*words, "--json"])
            if not out:
                raise StuckError(err)
            self._answers[words] = json.loads(out)
        return self._answers[words]

    def told_in_words(self, *words: str) -> str:
        """Return what a command says to people."""
        return self.run([*words])[1]

    def call(self, *words: str) -> tuple[int, str, str]:
        """Run one command that may write, with --json, at this instant."""
        self._answers.clear()
        return self.run([*words, "--json"])

    def run(self, words: list[str]) -> tuple[int, str, str]:
        """Run one command at this instant; return its status, what it says, and its errors."""
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
                status = run(words, world)
        finally:
            os.chdir(before)
        return int(status), out.getvalue(), err.getvalue().strip()


def _row_of(best: dict, due: dict) -> dict:
    """Return the row of what is to be done now: a piece by itself, or those that stand as one."""
    return next(row for row in due["rows"] if set(row["pieces"]) >= set(best["pieces"]))


def told_amount(makes: str) -> str | None:
    """Return the amount that is told for this very coat; None where none is."""
    whole, _, apart = makes.partition("; this one takes ")
    return _amount(apart or whole.partition(" for ")[0]) or None


def _amount(told: str) -> str:
    """Return an amount as it is typed, without what is said beside it."""
    return re.split(r" \(|, ", told)[0]


def _strength_words(product: str) -> list[str] | None:
    """Return how strong a batch is to be, as ``stock`` takes it; None for what is not mixed."""
    product = product.partition(" let down to ")[0]
    if cut := re.search(r", ([\d.]+)-lb cut$", product):
        return ["--cut", f"{cut[1]} lb"]
    if cut := re.search(r", ([\d.]+ \S+) cut$", product):
        return ["--cut", cut[1]]
    if thinned := re.search(r", ([\d.]+) % thinned$", product):
        return ["--thinned", f"{thinned[1]} %"]
    return None
