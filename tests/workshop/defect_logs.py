"""Made-up logs of pieces that went wrong, told through the journal of a real shop folder."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from finishsched.journal.events import AirRead, BatchMixed, NewEvent
from finishsched.model.shop import Air
from finishsched.units import DURATION, read
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.where import find

BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
SHELLAC, WAXY = "shellac-dewaxed-blonde", "shellac-waxy-orange"
VARNISH, LACQUER, TUNG = "oil-varnish", "nitrocellulose-lacquer", "tung-oil"
MONTH = timedelta(days=30.4)

SHOP = "shop: Made-up bench\ntime_zone: UTC\nusual_air: {temperature: 20 degC, humidity: 50 %}\n"
DYE = """\
product: water-dye
title: Dye
kind: stain
mechanism: water
hazards: []
rags: harmless
sources: {hazards: made up, rags: made up}
"""


def _one(verb, how, wait="", **keys):
    lines = [f"      - {verb}: {how}"]
    lines += [f"        {name}: {value}" for name, value in keys.items() if value]
    if wait:
        lines += [f"        wait: {{earliest: {wait}, likely: {wait}}}", "        dry_check: dry"]
    return "\n".join(lines)


def sand(grade, **keys):
    """Return a sanding of the wood, dry."""
    return "prepare", _one("sand", "with the grain", grade=grade, lubricant="dry", **keys), ""


def tack():
    """Return a tacking off."""
    return "body", _one("tack off", "clean dry cloth"), ""


def coat(verb="pad", product=SHELLAC, wait="30 min", stage="body", amount="15 ml/m2", **keys):
    """Return one coat and its wait."""
    cut = keys.pop("cut", "1.5 lb" if "shellac" in product else "")
    keys = {"product": product, "cut": cut, "amount": amount, **keys}
    return stage, _one(verb, "as usual", wait, **keys), wait


def seal(**keys):
    """Return a seal coat."""
    return coat(stage="seal", cut="1 lb", wait="2 h", amount="20 ml/m2", **keys)


def level(grade="P400", lubricant="mineral-spirits", wait="2 h"):
    """Return a levelling of the film."""
    wait = "" if lubricant == "dry" else wait
    return "body", _one("level", "flat block", wait, grade=grade, lubricant=f"{lubricant}"), wait


def spirit_off():
    """Return a flashing off with alcohol."""
    return "polish", _one("spirit off", "straight", "1 h", product="denatured-alcohol"), "1 h"


def fill(product="oil-paste-filler", wait="48 h"):
    """Return a filling of the pores."""
    return "fill", _one("fill", "across", wait, product=product, amount="60 ml/m2"), wait


def dye():
    """Return a staining of the wood."""
    return "prepare", _one("wipe", "flood", "12 h", product="water-dye"), "12 h"


def rub_out():
    """Return a rubbing out with oil and powder."""
    keys = {"product": "rottenstone", "lubricant": "mineral-oil"}
    return "polish", _one("rub out", "straight strokes", **keys), ""


def oil(product="boiled-linseed-oil", wait="24 h", amount="20 ml/m2", **keys):
    """Return a coat of oil by the cloth."""
    return coat("wipe", product, wait, amount=amount, **keys)


def wiping(wait="12 h"):
    """Return a coat of wiping varnish."""
    return coat("wipe", "wiping-varnish", wait, amount="25 ml/m2")


def brushed(product=VARNISH, wait="20 h", amount="80 ml/m2", **keys):
    """Return a brushed coat."""
    return coat("brush", product, wait, amount=amount, **keys)


def sprayed(product=LACQUER, wait="2 h", amount="130 ml/m2", **keys):
    """Return a sprayed coat."""
    return coat("spray", product, wait, amount=amount, **keys)


def waterborne(wait="3 h", **keys):
    """Return a brushed coat of waterborne."""
    return coat("brush", "waterborne-clear", wait, amount="80 ml/m2", **keys)


def pumice(wait="24 h"):
    """Return a filling with pumice under an alcohol pad."""
    keys = {"product": "pumice", "lubricant": "denatured-alcohol"}
    return "fill", _one("fill", "small circles", wait, **keys), wait


def glued(product="cold-press-veneer-glue", wait="48 h"):
    """Return a laying of veneer."""
    return "prepare", _one("glue up", "press", wait, product=product, amount="150 g/m2"), wait


def tape_off(wait="24 h"):
    """Return a stripping of tape with a damp sponge."""
    return "prepare", _one("strip tape", "damp, peel", wait, product="water"), wait


def raise_grain(wait="4 h"):
    """Return a damping of the bare wood."""
    return "prepare", _one("raise grain", "damp sponge", wait, product="water"), wait


def stain(product="spirit-dye", wait="2 h"):
    """Return a staining of the wood."""
    return "prepare", _one("stain", "flood and wipe", wait, product=product), wait


def bleach(wait="12 h"):
    """Return a bleaching of the wood, not rinsed."""
    return "prepare", _one("bleach", "brush on", wait, product="oxalic-acid"), wait


def wash(product="mineral-spirits", wait="1 h"):
    """Return a washing with a solvent."""
    return "body", _one("wash", "wet cloths", wait, product=product), wait


def rest(wait="7 days", stage="level"):
    """Return a rest."""
    return stage, _one("rest", "on pins", wait), wait


def rub(grade="", lubricant="", product=""):
    """Return a rubbing out."""
    keys = {"grade": grade, "product": product, "lubricant": lubricant}
    return "polish", _one("rub out", "straight strokes", **keys), ""


def wax(product="paste-wax"):
    """Return a waxing."""
    return "cure", _one("wax", "thin, buff", "24 h", product=product), "24 h"


def last(turn, wait):
    """Return a coat with the long wait before paper."""
    stage, text, _ = turn
    lines = [line for line in text.splitlines() if "wait:" not in line and "dry_check" not in line]
    long = [f"        wait: {{earliest: {wait}, likely: {wait}}}", "        dry_check: hard"]
    return stage, "\n".join([*lines, *long]), wait


@dataclass
class Told:
    """One log: the steps, how they were really done, and what a practitioner names first."""

    name: str
    seen: str
    cause: str
    steps: list
    air: tuple | None = (20.0, 50.0, 0.1)
    """None where nobody read it."""
    species: str = "cherry"
    veneer_mm: float | None = None
    shares: dict = field(default_factory=dict)
    """Share of the wait after a step (from 1) that was taken; 1.1 for the others."""
    used: dict = field(default_factory=dict)
    """Times the schedule's amount, by step; every other coat has just that."""
    batch_months: float | None = None
    in_hand: int = 0
    """How many steps at the end are not done yet."""
    later: float | timedelta = 0.1
    """Share of the last wait that had gone by when it was seen, or a span."""
    not_yet: int = 0
    air_later: tuple | None = None
    gaps: dict = field(default_factory=dict)
    """Days that went by before a step, beside its wait."""
    notes: dict = field(default_factory=dict)
    """What was noted when a step was done."""
    wood_moisture: float | None = None
    """Of the wood in percent, as measured before the first step."""
    sanding_near: int | None = None
    """Another piece was sanded dry ten minutes before this step."""
    called: str = ""
    """What the defect is called here; a bar between two that it may be called."""


def _schedule(name, steps):
    order = ("prepare", "seal", "fill", "body", "level", "polish", "cure")
    text, stage = [f"schedule: {name}\ntitle: T\nsource: common practice\nstages:"], ""
    for number, (own, body, _) in enumerate(steps):
        if own != stage and (not stage or order.index(own) > order.index(stage)):
            stage = own
            text.append(f"  - stage: {stage}\n    steps:")
        first, _, rest = body.partition("\n")
        text.append("\n".join([first, f"        id: s{number}", *filter(None, [rest])]))
    return "\n".join(text) + "\n"


def _folder(told, folder):
    job = (
        "job: j\ntitle: J\npieces:\n"
        "  - piece: p\n    title: P\n    schedule: made-up\n"
        f"    species: {told.species}\n"
        + (f"    veneer: {told.veneer_mm} mm\n" if told.veneer_mm else "")
        + "    faces:\n      - {face: top, area: 0.1 m2}\n"
        "  - piece: q\n    title: Q\n    schedule: sanding\n"
        "    faces:\n      - {face: top, area: 0.1 m2}\n"
    )
    texts = {
        "shop.yaml": SHOP,
        "jobs/j.yaml": job,
        "schedules/made-up.yaml": _schedule("made-up", told.steps),
        "schedules/sanding.yaml": _schedule("sanding", [sand("P120")]),
        "products/water-dye.yaml": DYE,
    }
    for name, text in texts.items():
        (folder / name).parent.mkdir(exist_ok=True, parents=True)
        (folder / name).write_text(text)
    return folder


def tell(told, folder):
    """Return the open shop with the log written, and the instant when the defect was seen."""
    workshop = Workshop.open(_folder(told, folder), BEGIN)
    assert not workshop.papers.faults, workshop.papers.faults
    at = BEGIN
    if told.batch_months is not None:
        mixed_at = at - told.batch_months * MONTH
        mixed = BatchMixed("jar", SHELLAC, 500.0, cut_g_per_l=180.0)
        workshop.append(lambda _: NewEvent(mixed_at, None, mixed), at)
    _air(workshop, told.air, at - timedelta(hours=1))
    log_entry(workshop, Entry(What.START, "p"), at)
    done = len(told.steps) - told.in_hand
    for number, step in enumerate(find(workshop, "p").steps[:done], start=1):
        at = _work(workshop, told, number, step, at)
    after = find(workshop, "p").steps[done - 1].wait
    wait_s = after.likely_s if after else 3600.0
    later = told.later
    seen_at = at + (later if isinstance(later, timedelta) else timedelta(seconds=wait_s * later))
    if told.air_later:
        _air(workshop, told.air_later, at + timedelta(minutes=1))
    for number in range(told.not_yet):
        checked = at + (seen_at - at) * (number + 1) / (told.not_yet + 1)
        log_entry(workshop, Entry(What.NOT_READY, "p"), checked)
    if told.not_yet == 0 and told.in_hand and find(workshop, "p").progress.waiting:
        log_entry(workshop, Entry(What.READY, "p"), seen_at - timedelta(seconds=1))
    return workshop, seen_at


def _work(workshop, told, number, step, at):
    """Do one step, after the wait of the one before it."""
    if find(workshop, "p").progress.waiting:
        before = find(workshop, "p").step
        share = told.shares.get(number - 1, 1.1)
        at += timedelta(seconds=before.wait.likely_s * share)
        log_entry(workshop, Entry(What.READY, "p"), at)
    at += timedelta(days=told.gaps.get(number, 0))
    if told.sanding_near == number:
        near = at + timedelta(minutes=1)
        log_entry(workshop, Entry(What.START, "q"), near)
        log_entry(workshop, Entry(What.DONE, "q"), near)
    at += timedelta(minutes=11)
    _air(workshop, told.air, at)
    amount = None
    if step.spread is not None and step.verb.lays_coats:
        amount = step.spread.ml_per_m2 * 0.1 * told.used.get(number, 1.0)
        amount /= 1 - step.verb.does.lost_share
    own = step.product == SHELLAC and told.batch_months is not None
    done = Entry(
        What.DONE,
        "p",
        text=told.notes.get(number, ""),
        batch="jar" if own else "",
        amount_ml=amount,
        moisture_percent=told.wood_moisture if number == 1 else None,
    )
    log_entry(workshop, done, at)
    return at


def _air(workshop, air, at):
    if air is None:
        return
    read = AirRead(Air(air[0], air[1], air[2], at), "made up")
    workshop.append(lambda _: NewEvent(at, None, read), at)


def hours(text):
    """Return a span that is written as schedules write it."""
    return timedelta(seconds=read(text, DURATION))


# What most made-up logs are told in: a padded finish of eight coats, oiled pads, sanded wood.
PAD = coat()
BODY = [seal(), *[PAD] * 7, last(PAD, "20 h")]
OILED = coat(lubricant="mineral-oil")
BARE = [sand("P180"), sand("P240"), tack()]
DAY = timedelta(days=1)
ALL = dict.fromkeys


def said(seen, called, cause, steps, **more):
    """Return a log that is known by what was said of it."""
    return Told(seen, seen, cause, steps, called=called, **more)
