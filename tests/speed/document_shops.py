"""Made-up shops written as documents, and opened as any shop is: for planning them by the ton.

Evenings and Saturdays, days away, a rack, one room with its dust rule, the shipped schedules, and a
due date on three pieces of four. The same for a seed; all of it is invented.
"""

from __future__ import annotations

import random
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from finishsched.planning.problem import Problem
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.plans import shop_sound

NOW = datetime(2026, 3, 2, 17, 0, tzinfo=UTC)
SCHEDULES = (
    "padded-shellac-closed-pored",
    "padded-shellac-open-pored",
    "padded-shellac-pattern",
    "french-polish-with-oil",
    "quick-shellac-insides",
    "wiping-varnish",
    "wiped-oil",
    "waterborne-over-shellac",
    "oil-varnish-over-shellac",
)
WORK_DAYS_A_PIECE = 1.2
"""Fitted so that about half the due dates cannot all be met by a plain rule."""
LONGEST_CURE_DAYS = 30
NAMES = ("Ada", "Ben")
MANY_PIECES = 200


def documents(pieces: int, seed: int, people: int = 0) -> dict[str, str]:
    """Return the texts of a shop with so many open pieces, by the names of their files.

    Where nobody says how many ``people`` there are, two work from 200 pieces on.
    """
    chance = random.Random(f"documents {pieces} {seed}")  # noqa: S311 - made-up shops
    people = people or (2 if pieces >= MANY_PIECES else 1)
    texts = {"shop.yaml": _shop(pieces, people, chance)}
    for first in range(0, pieces, 4):
        here = range(first, min(first + 4, pieces))
        lines = [f"job: job{first:03d}", f"title: Job {first}", "pieces:"]
        for piece in here:
            lines += _piece(piece, pieces, people, chance)
        texts[f"jobs/job{first:03d}.yaml"] = "\n".join(lines) + "\n"
    return texts


def _shop(pieces: int, people: int, chance: random.Random) -> str:
    away = sorted(chance.sample(range(120), 8))
    days = ", ".join(f'"{(NOW + timedelta(days=day)).date()}"' for day in away)
    names = ", ".join(NAMES[:people])
    return f"""\
shop: Measured shop
time_zone: Europe/Lisbon
people: [{names}]
usual_air: {{temperature: {chance.choice((17, 19, 21))} degC, humidity: 50 %}}
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
away: [{days}]
rooms:
  - {{room: shed, settle: 15 min}}
stores:
  - {{store: rack, capacity: {max(4, pieces // 3)}, for: [pad, brush, wipe], held: wait}}
"""


def _piece(piece: int, pieces: int, people: int, chance: random.Random) -> list[str]:
    lines = [
        f"  - piece: p{piece:03d}",
        f"    title: Piece {piece}",
        f"    schedule: {chance.choice(SCHEDULES)}",
        f"    faces: [{{face: all, area: {chance.uniform(0.03, 0.25):.2f} m2}}]",
    ]
    days = LONGEST_CURE_DAYS + WORK_DAYS_A_PIECE * pieces / people
    if chance.random() < 0.75:
        due: date = (NOW + timedelta(days=chance.uniform(0.4, 1.0) * days)).date()
        lines.append(f"    due: {due}")
    return lines


def write_shop(folder: Path, pieces: int, seed: int, people: int = 0) -> None:
    """Write the documents into a folder."""
    for name, text in documents(pieces, seed, people).items():
        file = folder / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, "utf-8")


def document_problem(pieces: int, seed: int, people: int = 0) -> Problem:
    """Return the problem of a shop as the workshop makes it of the documents."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        write_shop(folder, pieces, seed, people)
        with Workshop.open(folder, NOW) as workshop:
            return shop_sound(workshop, NOW)[1].problem
