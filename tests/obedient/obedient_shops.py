"""The shops that an obedient maker works in: panels of every schedule, and the shipped jobs."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from obedient import Maker

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
AREA_M2 = 0.06
PIECE = """\
  - piece: {name}
    title: {title}
    schedule: {schedule}
    species: cherry
    veneer: 0.9 mm
    faces: [{{face: top, area: 0.06 m2}}]
"""
TOO_THIN = """\
schedule: too-thin
title: Paper through the last coats
source: made up
stages:
  - stage: prepare
    steps:
      - {sand: block, grade: P220, lubricant: dry}
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 2
        amount: 15 ml/m2
        wait: {earliest: 1 h, likely: 2 h}
        dry_check: lifts dry powder
      - {level: block, grade: P320, lubricant: dry}
"""
SHIPPED = {"demo": ("demo", "--out"), "starter": ("new",)}
"""Shops with jobs that come with the program, and the command that writes each."""


@dataclass(frozen=True)
class Job:
    """Where the work comes from: documents that are written, or a shop that is shipped."""

    texts: tuple[tuple[str, str], ...] = ()
    """The path and the text of each document."""
    shipped: str = ""
    units: str = ""

    def write(self, folder: Path, maker: Maker) -> None:
        """Write the shop."""
        if self.shipped:
            self._write_shipped(folder, maker)
        for path, text in self.texts:
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_text(text)

    def _write_shipped(self, folder: Path, maker: Maker) -> None:
        folder.mkdir(parents=True)
        maker.call(*SHIPPED[self.shipped], "shop")
        maker.folder = folder / "shop"
        shop = maker.folder / "shop.yaml"
        lines = shop.read_text().splitlines()
        kept = [line for line in lines if not line.startswith("units:")]
        shop.write_text("\n".join([*kept, f"units: {UNITS[self.units]}", ""]))
        due = maker.asked("due")
        views = [*due["now"], *due["next"]]
        maker.known |= {view["piece"] for view in views if view["state"] != "not begun"}


def panels(units: str, schedule: str, pieces: int, *, alike: bool = False) -> Job:
    """Return a job of so many panels, each by itself or all as one entry of its document."""
    if alike:
        listed = PIECE.format(name="panel", title="Panel", schedule=schedule)
        listed += f"    count: {pieces}\n"
    else:
        listed = "".join(
            PIECE.format(name=f"panel-{number}", title=f"Panel {number}", schedule=schedule)
            for number in range(1, pieces + 1)
        )
    return Job(
        (
            ("shop.yaml", SHOP.format(units=UNITS[units])),
            ("jobs/row.yaml", f"job: row\ntitle: A row of panels\npieces:\n{listed}"),
        )
    )


def with_schedule(job: Job, text: str) -> Job:
    """Return the job with one more schedule in its shop."""
    name = text.partition("\n")[0].removeprefix("schedule: ")
    return Job((*job.texts, (f"schedules/{name}.yaml", text)))
