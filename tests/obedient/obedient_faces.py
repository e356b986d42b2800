"""Comparing what two faces of the program say at one moment; each difference is told in words."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from finishsched.bench.at_hand.side import side_of
from finishsched.model.names import in_words
from finishsched.units import VOLUME, read
from finishsched.workshop.base.workshop import Workshop

if TYPE_CHECKING:
    from obedient import Maker

ALIKE = 0.01
"""The share by which figures that are reckoned by one account may differ."""
FILM_ALIKE = 0.06
"""Amounts are told in two digits, so that film may move by a twentieth as it is logged."""
MINUTE = timedelta(minutes=1)


CUTTING = frozenset({"too-few-coats", "edges-first", "cuts-through", "through-the-wood"})
"""The rules of ``check`` that tell of paper going through what is not to be lost."""


def compare_with_plan(maker: Maker, best: dict | None, plan: dict) -> None:
    """Tell where the plan has something else first at this very moment."""
    soon = maker.now + MINUTE
    first = [
        (step["piece"], step["step"])
        for step in plan["steps"]
        if step["person"] and datetime.fromisoformat(step["start"]) <= soon
    ]
    named = (best["piece"], best["step"]) if best else None
    if best and best["only_dry_check"] and best["piece"] in [piece for piece, _ in first]:
        return  # the plan names the rest that begins by itself after that check
    if first and named not in first:
        maker.found.append(f"at {maker.now}: the plan has {first}, due names {named}")


def compare_bench(maker: Maker, best: dict | None) -> None:
    """Tell where the bench's large letters stand on another piece than ``due`` names."""
    with Workshop.open(maker.folder, maker.now) as workshop:
        side = side_of(workshop, maker.now)
    hands = maker.asked("due")["suggested"]["hands"]
    named = best["piece"] if best and hands else ""
    if side.first != named:
        maker.found.append(f"at {maker.now}: the bench has {side.first!r}, due names {named!r}")


def compare_clocks(maker: Maker, due: dict, plan: dict) -> None:
    """Tell where the plan lets the next step begin sooner than the clock of a wait has it."""
    ready = {one["piece"]: datetime.fromisoformat(one["ready_likely"]) for one in due["clocks"]}
    starts: dict[str, list[datetime]] = defaultdict(list)
    for step in plan["steps"]:
        if step["person"] and not step["under_way"]:
            starts[step["piece"]].append(datetime.fromisoformat(step["start"]))
    for piece, likely in ready.items():
        first = min(starts.get(piece, [likely]))
        if first < likely - MINUTE and likely > maker.now + MINUTE:
            maker.found.append(f"at {maker.now}: {piece} is likely ready {likely}, planned {first}")


def cuts_told(maker: Maker) -> list[str]:
    """Return what ``check`` says of papers that go through."""
    found = maker.asked("check")["findings"]
    return [finding["message"] for finding in found if finding["rule"] in CUTTING]


def compare_check(maker: Maker, view: dict) -> None:
    """Tell where ``film`` asks to confirm an abrading for odds that ``check`` found no fault with.

    ``film`` knows what was logged, and who does as told has logged what ``check`` reckoned with.
    """
    confirm = maker.asked("film", view["piece"])["confirm"]
    if not confirm["needed"] or confirm["odds_percent"] is None:
        return
    maker.asked_first.append(view["step"])
    if not maker.cuts:
        maker.found.append(
            f"at {maker.now}: check passed {view['piece']} {view['step']}, film asks: "
            f"{' '.join(confirm['words'])}"
        )


def compare_cuts(maker: Maker) -> None:
    """Tell, once all is finished, where ``check`` warned of a paper and ``film`` never asked."""
    if maker.cuts and not maker.asked_first:
        maker.found.append(f"check says {maker.cuts[0]}; film asked nothing")


def compare_amounts(maker: Maker, row: dict, view: dict) -> None:
    """Tell where ``need`` and ``due`` reckon another amount, likely or at either end."""
    job, name = view["piece"].split("/")
    coats = maker.asked("need", job)["pieces"]
    wanted = in_words(row["pieces"])
    mine = [
        coat for coat in coats if coat["step_key"] == view["step_key"] and coat["piece"] == wanted
    ]
    unit = "g" if row.get("takes_g") is not None else "ml"
    for due_key, need_key in (("takes", "amount"), ("takes_low", "low"), ("takes_high", "high")):
        told = row[f"{due_key}_{unit}"]
        needed = sum(coat[f"{need_key}_{unit}"] or 0.0 for coat in mine)
        pad = sum(coat["pad_ml"] for coat in mine) - (row["pad_ml"] or 0.0)
        if told is None or abs(told - (needed - pad)) > ALIKE * told:
            maker.found.append(
                f"at {maker.now}: {name} {view['step']}: due {due_key} {told} {unit}, need {needed}"
            )


def compare_film(maker: Maker, view: dict, before: float | None) -> float | None:
    """Return the likely film that a coat is said to leave; tell where logging it changed that."""
    film = maker.asked("film", view["piece"])
    row = next(one for one in film["steps"] if one["step"] == view["step_key"])
    left = float(row["film_um"]["likely"])
    if before is not None and abs(left - before) > max(0.3, FILM_ALIKE * before):
        maker.found.append(
            f"at {maker.now}: {view['piece']} {view['step']}: film {before:.1f} um, "
            f"once logged {left:.1f} um"
        )
    return left


def left_in(maker: Maker, jar: str) -> float:
    """Return how much ``stock`` says is left in a jar or a tin, in ml; nothing of none."""
    if not jar:
        return 0.0
    stock = maker.asked("stock")
    left_ml = {one["batch"]: one["left_ml"] for one in stock["batches"]}
    left_ml |= {one["lot"]: one["left_ml"] for one in stock["lots"]}
    return float(left_ml.get(jar) or 0.0)


def compare_stock(maker: Maker, row: dict, view: dict, before_ml: float) -> None:
    """Tell where a coat that was logged drew another amount than ``due`` told for it."""
    if not maker.told_jar or " let down to " in view["product"]:
        return  # of such a coat the jar gives a part, and the rest is alcohol
    drawn_ml = before_ml - left_in(maker, maker.told_jar)
    told_ml = row["takes_ml"] + row["pad_first_ml"]
    if abs(drawn_ml - told_ml) > ALIKE * told_ml:
        maker.found.append(
            f"at {maker.now}: {row['name']} {view['step']}: due told {told_ml:.2f} ml of "
            f"{maker.told_jar}, stock fell by {drawn_ml:.2f} ml"
        )


def compare_mix(maker: Maker, view: dict, product: str, makes: str) -> None:
    """Tell where ``due`` has another jar mixed than is needed for all jobs under way.

    A job that is not begun counts for itself alone.
    """
    job = view["piece"].partition("/")[0]
    batches = [*maker.asked("need", "all")["batches"], *maker.asked("need", job)["batches"]]
    planned_ml = [float(one["makes_ml"]) for one in batches if one["product"] == product]
    told_ml = read(makes, VOLUME)
    if planned_ml and all(abs(told_ml / ml - 1) > FILM_ALIKE for ml in planned_ml):
        maker.found.append(f"at {maker.now}: due has {makes} mixed, need {planned_ml} ml")


def compare_seals(maker: Maker, view: dict) -> None:
    """Tell where the coats at hand of one step take other amounts together than ``need`` counts."""
    job, step = view["piece"].partition("/")[0], view["step_key"]
    now = (one for one in maker.asked("due")["now"] if one["step_key"] == step)
    # A coat that only waits for its dry check is laid: need counts it no more.
    at_hand = {one["piece"] for one in now if one["state"] == "to do"}
    rows = [row for row in maker.asked("due")["rows"] if set(row["pieces"]) <= at_hand]
    names = {in_words(row["pieces"]) for row in rows}
    coats = [one for one in maker.asked("need", job)["pieces"] if one["step_key"] == step]
    wanted_ml = sum(one["amount_ml"] or 0.0 for one in coats if one["piece"] in names)
    told_ml = sum(row["takes_ml"] or 0.0 for row in rows)
    if abs(told_ml - wanted_ml) > ALIKE * wanted_ml:
        maker.found.append(
            f"at {maker.now}: {view['step']} at hand: due {told_ml:.2f} ml, need {wanted_ml:.2f} ml"
        )
