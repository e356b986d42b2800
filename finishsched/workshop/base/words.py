"""Entries in words, the same on every face."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from finishsched.journal import events
from finishsched.model.names import in_words
from finishsched.model.readings import Measure, Reading
from finishsched.model.step import Step
from finishsched.numerals import counted, plain_number
from finishsched.workshop.base.shown import Shown, tell_in

_Measured: TypeAlias = (
    events.FilmGauged
    | events.ZoneMeasured
    | events.ZoneStands
    | events.SurfaceRead
    | events.JarTested
    | events.HandTested
    | events.BottleWeighed
)


AS_TOLD = " (reckoned)"
"""Beside a jar that nobody named: it is the one that the coat was told to be taken from."""


def one_line(text: str) -> str:
    """Return text of a person or a document as one line, without control or direction signs.

    Such signs could move the cursor, or turn the order of what stands on a label.
    """
    if text.isprintable():  # as nearly every text is
        return " ".join(text.split())
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def entry_words(what: events.Payload, steps: Mapping[str, Step], shown: Shown) -> str:
    """Return one entry in words, amounts as ``shown`` in the shop."""
    if isinstance(what, events.StepDone):
        return ", ".join([f"done: {_title(what.step, steps)}", *_details(what, shown)])
    if isinstance(what, events.StepSkipped):
        return f"skipped: {_title(what.step, steps)} ({what.reason})"
    if isinstance(what, events.DryReady | events.DryNotYet):
        went_on = "went on" if isinstance(what, events.DryReady) and what.going_on else ""
        title = f"{verdict_of(what)}: {_title(what.step, steps)}"
        return ", ".join(filter(None, [title, went_on, what.note]))
    if isinstance(what, events.PieceStarted | events.Undone):
        return ", ".join(filter(None, [_begun_words(what), what.note]))
    if isinstance(what, _Measured):
        return _measured_words(what, shown)
    return _other_words(what, shown)


def verdict_of(what: events.DryReady | events.DryNotYet) -> str:
    """Return what a dry check found, or that the work went on without one, in a word or two."""
    if isinstance(what, events.WentEarly):
        return "went on early"
    return "ready" if isinstance(what, events.DryReady) else "not yet"


def _other_words(what: events.Payload, shown: Shown) -> str:  # one case a kind
    match what:
        case events.Amended():
            words = _amended_words(what, shown)
        case events.ScheduleAdopted():
            words = f"goes on by the new text of {what.schedule_id}"
        case events.ReworkTaken():
            words = _rework_words(what)
        case events.Noted() | events.DefectSeen():
            words = _remark_words(what, shown)
        case events.RagsDealtWith():
            of = f" of {in_words(what.pieces)}" if what.pieces else ""
            words = f"rags{of}: {what.where}"
        case events.HandsAway():
            words = f"away: {what.who or 'everybody'}, {what.first} to {what.last}"
        case events.CautionsRead():
            words = "cautions read"
        case events.PaceSet() | events.AirRead() | events.PiecesJoined() | events.SuppliesTold():
            words = _shop_words(what, shown)
        case events.PictureAttached():
            words = ", ".join(filter(None, [f"picture: {what.path}", what.caption]))
        case _:
            words = what.kind
    return words


def _supply_words(what: events.SuppliesTold, shown: Shown) -> str:
    """Return ``bought: 10 sheets of P240``, ``counted: 3 cloths``, ``bought: 50 m of tape``."""
    count = shown.supply(what.count, what.unit)
    named = what.unit != "m" and what.unit in what.name
    return f"{'bought' if what.bought else 'counted'}: {count}{'' if named else f' of {what.name}'}"


def drop_words(hard_after_s: float | None) -> str:
    """Say how long a drop on glass took to be hard, in seconds; None for one that stayed soft."""
    if hard_after_s is None:
        return "still soft the next day"
    return f"hard after {plain_number(hard_after_s / 3600, 2)} h"


def _read_words(what: events.SurfaceRead | events.JarTested) -> str:
    if isinstance(what, events.SurfaceRead):
        found = Reading(Measure(what.measure), what.numbers, what.angle_deg, what.grade)
        return f"{found.words}, {what.zone}"
    return f"drop test of {what.batch}: {drop_words(what.hard_after_s)}"


def _remark_words(what: events.Noted | events.DefectSeen, shown: Shown) -> str:
    where = _where(what, shown) if isinstance(what, events.DefectSeen) else ""
    return ", ".join(filter(None, [f"{what.kind}: {what.text}", where]))


def _where(what: events.DefectSeen, shown: Shown) -> str:
    """Say where it is, unless its words say so already, and how large."""
    at = f"at {what.where}" if what.where and what.where not in what.text else ""
    size = shown.spot(what.area_m2) if what.area_m2 else ""
    return ", ".join(filter(None, [at, size]))


def _rework_words(what: events.ReworkTaken) -> str:
    begun = f"rework for {what.seen}" if what.seen else what.option
    beside = f", beside it as {what.beside}" if what.beside else ""
    return f"{begun}: {what.title}{beside}"


def _begun_words(what: events.PieceStarted | events.Undone) -> str:
    if isinstance(what, events.Undone):
        return what.kind
    return f"{'begun anew' if what.anew else 'begun'} on {what.schedule_id}"


def _measured_words(what: _Measured, shown: Shown) -> str:
    if isinstance(what, events.SurfaceRead | events.JarTested):
        return _read_words(what)
    if isinstance(what, events.HandTested):
        wet = "wet" if what.wet else "dry"
        return (
            f"{what.strokes:.0f} strokes of {what.grade} {wet} on {what.on} took "
            f"{tell_in(shown.units)(what.taken_um, 'um')}"
        )
    if isinstance(what, events.ZoneStands):
        how = "proud" if what.stands_um > 0 else "low"
        return f"{what.zone} {shown.um(abs(what.stands_um))} {how}, measured"
    if isinstance(what, events.ZoneMeasured):
        return f"{shown.length(what.left_um / 1000)} left at the {what.zone}, measured"
    if isinstance(what, events.FilmGauged):
        return f"film gauged: {tell_in(shown.units)(what.film_um, 'um')}"
    weighed = shown.mass(what.before_g - what.after_g, 3)
    return f"bottle weighed: {weighed} for {counted(what.coats, 'coat')}"


def _title(key: str, steps: Mapping[str, Step]) -> str:
    step = steps.get(key)
    return f"{step.number}, {step.title}" if step else key


def amount_words(ml: float | None, g: float | None, shown: Shown, *, reckoned: bool = False) -> str:
    """Return an amount that was logged, as it was told; empty for none.

    One that nobody told but that was ``reckoned`` says so, and is no finer than such figures are.
    """
    about, digits = ("about ", 2) if reckoned else ("", 3)
    if g is not None:
        return about + shown.weight(g, digits)
    return about + shown.volume(ml, digits) if ml is not None else ""


def used_words(what: events.StepDone, shown: Shown) -> str:
    """Return what a coat took: with what was mixed for it, and the alcohol that let it down."""
    amount = amount_words(what.amount_ml, what.amount_g, shown, reckoned=what.reckoned)
    if not amount:
        return ""
    mixed = f"{shown.volume(what.mixed_ml, 3)} mixed" if what.mixed_ml else ""
    is_told = shown.is_told(what.let_down_ml)
    let_down = f"{shown.volume(what.let_down_ml)} of it alcohol" if is_told else ""
    apart = ", ".join(filter(None, [mixed, let_down]))
    return f"{amount} ({apart})" if apart else amount


def _details(what: events.StepDone, shown: Shown) -> list[str]:
    amount = used_words(what, shown)
    batch = f"of {what.batch}{AS_TOLD if what.jar_told else ''}" if what.batch else ""
    used = " ".join(word for word in (amount, batch) if word)
    took = f"{what.took_min:.3g} min" if what.took_min is not None else ""
    return [words for words in (used, took, what.note) if words]


def _amended_words(what: events.Amended, shown: Shown) -> str:
    """Return what an amendment tells otherwise; the time is the entry's own from then on."""
    told = [
        "another time" if what.at is not None else "",
        f"the hands of {what.hands}" if what.hands else "",
        amount_words(what.amount_ml, what.amount_g, shown),
        f"{what.took_min:.3g} min" if what.took_min is not None else "",
        f"of {what.batch}" if what.batch else "",
        what.note,
    ]
    return f"amended: {', '.join(filter(None, told))}"


def _pace_words(what: events.PaceSet) -> str:
    waits = f"{what.product}, {what.waits}"
    if what.forget:
        return f"pace of {waits}: earlier checks forgotten"
    if what.factor is None:
        return f"pace of {waits}: as learnt"
    return f"pace of {waits}: {what.factor:g} times the book"


def _shop_words(
    what: events.PaceSet | events.AirRead | events.PiecesJoined | events.SuppliesTold, shown: Shown
) -> str:
    """Return an entry about the whole shop in words."""
    if isinstance(what, events.SuppliesTold):
        return _supply_words(what, shown)
    if isinstance(what, events.PiecesJoined):
        return f"joined: {in_words(what.pieces)}"
    if isinstance(what, events.PaceSet):
        return _pace_words(what)
    return f"air: {shown.degrees(what.air.temperature_c)}, {what.air.humidity_percent:g} %"
