"""One coat's amount as every face has it, side by side: due, need, log, film, record and stock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from obedient import Maker
from obedient_shops import AREA_M2

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.film.solids import cut_solids
from finishsched.model.verbs import Verb
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.papers.records import record_of

PIECE = "row/panel-1"


@dataclass(frozen=True)
class Said:
    """What one face says of the coat: in ml, and in words where it is told in words."""

    face: str
    likely_ml: float
    low_ml: float | None = None
    high_ml: float | None = None
    words: str = ""


def one_amount(folder: Path, units: str, turns: int = 12) -> list[Said]:
    """Work a padded panel so far, then ask every face of the next coat, and log it from its jar."""
    maker = Maker.of_panels(folder, units, "padded-shellac-closed-pored", 1)
    maker.jars = True
    assert maker.work(turns) == []
    row, view = _next_coat(maker)
    coat = next(
        one for one in maker.asked("need", "row")["pieces"] if one["step_key"] == view["step_key"]
    )
    film = next(
        one for one in maker.asked("film", PIECE)["steps"] if one["step"] == view["step_key"]
    )
    before = _left(maker, row["jar"])
    logged = maker.log(PIECE, "done", "--batch", row["jar"].partition(",")[0])
    assert logged is not None
    told = logged["events"][-1]
    text = maker.told_in_words("log", PIECE, "entries").splitlines()[-1]
    with Workshop.open(maker.folder, maker.now) as workshop:
        line = record_of(workshop, PIECE, maker.now).work[-1]
    return [
        _ranged("due", row, "takes", row["mix_makes"]),
        _ranged("need", coat, "amount", ""),
        Said("log", told["amount_ml"], words=text.rpartition("about ")[2].partition(" of ")[0]),
        _film(film, coat),
        Said("record", told["amount_ml"], words=line.amount),
        Said("stock", before - _left(maker, row["jar"])),
    ]


def _next_coat(maker: Maker) -> tuple[dict, dict]:
    """Go on to the next coat that is in hand with nothing before it, and a jar to take it from."""
    for _ in range(60):
        due = maker.asked("due")
        best = due["suggested"]["best"]
        if best is None:
            maker.wait_for(due)
            continue
        maker.now = max(maker.now, datetime.fromisoformat(best["start"]))
        if best["dry_check_first"] and not best["only_dry_check"]:
            maker.log(PIECE, "ready")
            due = maker.asked("due")
            if due["rows"][0]["jar"]:
                return due["rows"][0], due["now"][0]
        maker.work(maker.turns + 1)
    raise AssertionError("no coat came")


def _ranged(face: str, told: dict, likely: str, words: str) -> Said:
    low, high = ("takes_low", "takes_high") if likely == "takes" else ("low", "high")
    return Said(face, told[f"{likely}_ml"], told[f"{low}_ml"], told[f"{high}_ml"], words)


def _film(row: dict, coat: dict) -> Said:
    """Return what film says lies there, as what was used for it: losses put back on."""
    solids = cut_solids(coat["cut_lb_per_gal"] * G_PER_L_IN_A_POUND_CUT)
    per_um = AREA_M2 / solids
    does = Verb.PAD.does
    laid = row["laid_um"]
    return Said(
        "film",
        laid["likely"] * per_um / (1 - does.lost_share),
        laid["low"] * per_um / (1 - does.least_lost_share),
        laid["high"] * per_um / (1 - does.lost_share),
    )


def _left(maker: Maker, jar: str) -> float:
    name = jar.partition(",")[0]
    batches = maker.asked("stock")["batches"]
    return next(float(one["left_ml"]) for one in batches if one["batch"] == name)
