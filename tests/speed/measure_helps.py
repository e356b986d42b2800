"""Whether what is said to help does: each line, done, in shops written as documents. A table.

    .venv/bin/python tests/speed/measure_helps.py [--shops 10] [--pieces 6]

Each shop is planned, and the plan kept. Then what a line says is done: an hour is added after the
last of a day, a place to the rack, warmth to the room, a room apart for the dust. What that brings
stands beside what was said, in hours. Nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import re
import tempfile
from datetime import timedelta
from pathlib import Path

from document_shops import NOW, write_shop

from finishsched.documents.formats.hours import read_extra
from finishsched.model.shop import Air
from finishsched.planning.hours import instant_of
from finishsched.workshop.base.spans import today
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import PlanAnswer
from finishsched.workshop.plan.hands_and_hours import NOTHING_ELSE, WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer

DUSTY = "rooms:\n  - {room: sanding, for: [sand, level, rub out, cut back, scrape, burnish]}"
TENTH = 0.1


def done(folder: Path, what: str, plan: PlanAnswer) -> PlanAnswer:
    """Do what a line says, plan again, and undo it."""
    file = folder / "shop.yaml"
    text = file.read_text("utf-8")
    what_if = NOTHING_ELSE
    if what.startswith("one more hour on "):
        what_if = _an_hour(what.removeprefix("one more hour on "), plan)
    elif what.startswith("one more place in "):
        more = re.sub(r"capacity: (\d+)", lambda found: f"capacity: {int(found[1]) + 1}", text)
        file.write_text(more, "utf-8")
    elif what.startswith("the room at "):
        what_if = _warmer(text, what)
    else:
        file.write_text(text.replace("rooms:", DUSTY), "utf-8")
    try:
        with Workshop.open(folder, NOW) as workshop:
            return plan_answer(workshop, NOW, Asked(what_if=what_if, insight=False, better=True))
    finally:
        file.write_text(text, "utf-8")


def _an_hour(day: str, plan: PlanAnswer) -> WhatIf:
    """Return an hour more after the last hours of a day."""
    windows = [
        window
        for window in plan.problem.hands[0].windows
        if window.end_min > plan.problem.now_min
        and today(instant_of(window.start_min), plan.zone) == day
    ]
    ends = instant_of(windows[-1].end_min).astimezone(plan.zone)
    later = ends + timedelta(hours=1)
    return WhatIf(extras=(read_extra(f"{ends:%Y-%m-%d %H:%M}-{later:%H:%M}"),))


def _warmer(shop: str, what: str) -> WhatIf:
    """Return the room as warm as a line says, as damp as it is."""
    celsius = re.search(r"([\d.]+) degC", what)
    humidity = re.search(r"humidity: (\d+) %", shop)
    assert celsius is not None
    assert humidity is not None
    return WhatIf(air=Air(float(celsius[1]), float(humidity[1])))


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--shops", type=int, default=10)
    asked.add_argument("--pieces", type=int, default=6)
    args = asked.parse_args()
    lines = true = 0
    for seed in range(args.shops):
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            write_shop(folder, args.pieces, seed)
            with Workshop.open(folder, NOW) as workshop:
                plan = plan_answer(workshop, NOW, Asked(keep=True, better=True))
            for each in plan.helps:
                then = done(folder, each.what, plan)
                # What a change brings is offered, and there for whoever takes it.
                found = then.score if then.better is None else then.better.score
                later, ends = found.late_min, found.finish_min
                # So is what needs no change at all, and no line is credited with that.
                now = plan.score if plan.better is None else plan.better.score
                less_late, saves = now.late_min - later, now.finish_min - ends
                holds = all(
                    abs(brought - said) <= max(1, TENTH * abs(said))
                    for brought, said in ((less_late, each.less_late_min), (saves, each.saves_min))
                )
                lines += 1
                true += holds
                hoped = (each.less_late_min / 60, each.saves_min / 60)
                said = f"said {hoped[0]:.1f} less late, {hoped[1]:.1f} sooner"
                brought = f"brought {less_late / 60:.1f}, {saves / 60:.1f}"
                print(f"{seed:>3}  {each.what:<36} {said:<40} {brought:<22} {holds}", flush=True)
    print(f"{true} of {lines} lines true within a tenth")


if __name__ == "__main__":
    main()
