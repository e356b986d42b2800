"""The forms of the bench: an entry with its details, an entry in words, the air."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta, tzinfo
from typing import TypeVar

from finishsched.bench import words
from finishsched.bench.at_hand.next_thing import step_title
from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.typed import mixing, reading
from finishsched.model.shop import Air, ShownUnits
from finishsched.model.stock import next_jar
from finishsched.workshop.base.answers import BenchView, PieceView, State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.stock.stock import StockAnswer

Part = TypeVar("Part")

_TITLES = {What.NOTE: "Note", What.DEFECT: "Defect", What.SKIPPED: "Skip"}
_ASKED = {
    What.NOTE: "what to keep in mind",
    What.DEFECT: "what you see",
    What.SKIPPED: "the reason, for the finish record",
}
_ANSWERS = {
    What.SKIPPED: ("not needed on this piece", "done in another way", "done before it came here"),
}
_WAITED_FOR = ("patch glued", "mended spot dries", "sand the edge", "wipe off dust")
_HOW_LONG = ("20 min", "1 h", "3 h", "overnight", "tomorrow 8:00")
_OUTCOMES = {
    "r": What.READY, "ready": What.READY, "n": What.NOT_READY, "not yet": What.NOT_READY,
    "e": What.EARLY, "early": What.EARLY,
}  # fmt: skip


def words_form(what: What, piece: PieceView) -> FormCard:
    """Return the form for an entry that is text: a note, a reason to skip."""
    about = f" {step_title(piece)}" if what is What.SKIPPED else ""
    step = piece.step.key if piece.step and what is not What.NOTE else None

    def read(values: Mapping[str, str]) -> Entry:
        text = values["text"].strip()
        if not text:
            raise reading.FormFaultError(f"write {_ASKED[what]}")
        return Entry(what, piece.ref, step=step, text=text)

    field = Field("text", _ASKED[what], answers=_ANSWERS.get(what, ()))
    return FormCard(f"{_TITLES[what]}{about}: {piece.title}", [field], read)


def defect_form(
    refs: Sequence[str], title: str, seen: str, text: str, shown_in: ShownUnits
) -> FormCard:
    """Return the form for a defect of some pieces: its name or the words begun stand there."""

    def read(values: Mapping[str, str]) -> Entry:
        text = values["text"].strip()
        if not text:
            raise reading.FormFaultError(f"write {_ASKED[What.DEFECT]}")
        size = values["size"].strip()
        return Entry(
            What.DEFECT,
            ",".join(refs),
            text=text,
            seen=seen,
            where=values["where"].strip(),
            area_m2=reading.read_spot(size) if size else None,
        )

    size = shown_in.either("8 x 12 mm", "3/8 x 1/2 in")
    fields = [
        Field("text", "what you see", value=text, goes_on=True),
        Field("where", "where", "such as top edge; blank for all over"),
        Field("size", "how large", f"{size}; blank for a finger's breadth"),
    ]
    return FormCard(f"{_TITLES[What.DEFECT]}: {title}", fields, read, widens=False)


def own_form(piece: PieceView, zone: tzinfo, now: Callable[[], datetime]) -> FormCard:
    """Return the form for a wait or a step that no schedule says, which gets a clock beside it."""
    from finishsched.workshop.standing.own_steps import kind_of_own  # noqa: PLC0415

    def read(values: Mapping[str, str]) -> Entry:
        text = values["text"].strip()
        if not text:
            raise reading.FormFaultError("write what is waited for, or done")
        kind = kind_of_own(text)
        span_s, until = reading.read_how_long(values["long"], now(), zone)
        if kind is What.WAIT and span_s is None and until is None:
            raise reading.FormFaultError("how long: write 20 min, or tomorrow 8:00")
        if kind is What.EXTRA and until is not None:
            raise reading.FormFaultError("how long: of a step write how long it takes, 20 min")
        return Entry(kind, piece.ref, text=text, span_s=span_s, until=until)

    def live(values: Mapping[str, str]) -> Iterator[str]:
        entry = read(values)
        if entry.what is What.EXTRA:
            yield f"an extra step beside the schedule: {entry.text}"
        else:
            over = entry.until or now() + timedelta(seconds=entry.span_s or 0.0)
            yield f"a wait beside the schedule, over at {words.wall(over, now(), zone)}"

    fields = [
        Field(
            "text",
            "what is waited for, or done",
            "patch glued; or: sand the edge",
            answers=_WAITED_FOR,
        ),
        Field("long", "how long", "20 min, overnight, or tomorrow 8:00", answers=_HOW_LONG),
    ]
    return FormCard(f"Wait or extra step: {piece.title}", fields, read, live)


def log_form(piece: PieceView, view: BenchView, now: Callable[[], datetime]) -> FormCard:
    """Return the form for the entry that comes next, with its details."""
    if piece.state is State.TO_DO:
        return _done_form(piece, view, now)
    return _check_form(piece, view, now)


def _done_form(piece: PieceView, view: BenchView, now: Callable[[], datetime]) -> FormCard:
    of_what_is_used = [
        Field("amount", "amount used", f"{an_amount(view)}; blank if not measured"),
        Field("batch", "batch", "as written on the jar"),
        Field(
            "air",
            "air at this coat",
            f"{_some_warmth(view)}, 55 %; blank: the room's readings serve",
        ),
    ]
    uses = piece.step is not None and piece.step.product is not None
    fields = [*(of_what_is_used if uses else ()), *_common_fields(view.people)]

    def read(values: Mapping[str, str]) -> Entry:
        (amount_ml, amount_g), at, air = details(values, now(), view.zone)
        return Entry(
            What.DONE,
            piece.ref,
            step=piece.step.key if piece.step else None,
            text=values["note"].strip(),
            at=at,
            by=values["by"].strip(),
            batch=values.get("batch", "").strip(),
            amount_ml=amount_ml,
            amount_g=amount_g,
            air=air,
        )

    return FormCard(f"Done, {step_title(piece)}: {piece.title}", fields, read)


def details(
    values: Mapping[str, str], now: datetime, zone: tzinfo
) -> tuple[tuple[float | None, float | None], datetime | None, Air | None]:
    """Return amount, time and air of an entry, of those fields that there are.

    Raises:
        FormFaultError: with the faults of all fields together.

    """
    faults: list[str] = []

    def read(part: Callable[[], Part], otherwise: Part) -> Part:
        try:
            return part()
        except reading.FormFaultError as fault:
            faults.append(str(fault))
            return otherwise

    nothing: tuple[float | None, float | None] = (None, None)
    amount = read(lambda: reading.read_amount(values.get("amount", "")), nothing)
    at = read(lambda: reading.read_wall_time(values["when"], now, zone), None)
    air = read(lambda: reading.read_coat_air(values.get("air", "")), None)
    if faults:
        raise reading.FormFaultError(". ".join(faults))
    return amount, at, air


def _check_form(piece: PieceView, view: BenchView, now: Callable[[], datetime]) -> FormCard:
    outcome = Field("outcome", "outcome", "ready, not yet, or early and a note why", "ready")
    fields = [outcome, *_common_fields(view.people)]

    def read(values: Mapping[str, str]) -> Entry:
        outcome = _OUTCOMES.get(values["outcome"].strip().lower())
        if outcome is None:
            raise reading.FormFaultError(f"{values['outcome']!r}: write ready, not yet or early")
        return Entry(
            outcome,
            piece.ref,
            step=piece.step.key if piece.step else None,
            text=values["note"].strip(),
            at=reading.read_wall_time(values["when"], now(), view.zone),
            by=values["by"].strip(),
        )

    return FormCard(f"Dry check, {step_title(piece)}: {piece.title}", fields, read)


def _common_fields(people: tuple[str, ...]) -> list[Field]:
    return [
        Field("when", "when", "18:42, or blank for now"),
        Field("by", "by", ", ".join(people) or "who did it", suggestions=people),
        Field("note", "note", "anything worth keeping"),
    ]


def air_form(view: BenchView, now: Callable[[], datetime]) -> FormCard:
    """Return the form for a reading of the air."""
    moving = view.units.either("0.1 m/s", "20 ft/min")
    fields = [
        Field(
            "temperature",
            "temperature",
            f"with its unit, such as {_some_warmth(view)}",
            answers=_warmths_near(view),
        ),
        Field("humidity", "relative humidity", "55 %", answers=_humidities_near(view)),
        Field("movement", "air movement", f"{moving}; blank for still air"),
    ]

    def read(values: Mapping[str, str]) -> Air:
        return reading.read_air(
            values["temperature"], values["humidity"], values["movement"], now()
        )

    return FormCard("The air now", fields, read)


def _warmths_near(view: BenchView) -> tuple[str, ...]:
    """Return the temperatures about the last reading, whole degrees, to be tapped."""
    last_c = round(view.air.answer.temperature_c)
    unit = view.units.temperature
    return tuple(words.temperature(float(last_c + off), unit) for off in range(-3, 4))


def _humidities_near(view: BenchView) -> tuple[str, ...]:
    """Return the humidities about the last reading, two per cent apart, to be tapped."""
    last = round(view.air.answer.humidity_percent)
    near = (last + off for off in range(-6, 7, 2))
    return tuple(f"{percent} %" for percent in near if 0 < percent <= 100)


def an_amount(view: BenchView) -> str:
    """Return an amount as an example, by volume and by weight, in the shop's own units."""
    return view.units.either("15 ml, or 12 g", "0.5 floz, or 0.4 oz")


def _some_warmth(view: BenchView) -> str:
    """Return a temperature as an example, in the unit that the shop likes to see."""
    return words.temperature(19.0, view.units.temperature)


def mixing_form(piece: PieceView | None, view: BenchView, stock: StockAnswer) -> FormCard:
    """Return the mixing view: a cut and a volume in, what to weigh out, one key logs the batch."""
    cut, makes = mixing.first_asked(piece, view)
    bench = mixing.MixingBench(view.alcohol, view.tools, view.units)
    sheet = (piece.sheet or piece.next_sheet) if piece else None
    product = sheet.step.product or "" if sheet and sheet.step.cut_g_per_l else ""
    names = tuple(row.batch.name for row in stock.batches) + tuple(
        row.lot.name for row in stock.lots
    )
    shelf = tuple(
        f"{row.batch.name}, {row.state.value}, {stock.shown.held(row.batch.left_ml)} of {row.title}"
        for row in stock.batches
        if row.usable and product in ("", row.batch.product)
    )
    fields = [
        Field("cut", "cut", view.units.either("2 lb, or 240 g/L", "2 lb"), cut),
        Field("makes", "makes", view.units.either("250 ml, or 1 cup", "8 floz, or 1 cup"), makes),
        Field("name", "jar", "its name, for the label", next_jar(names)),
    ]
    if not product:
        fields.append(_flakes_field(stock))
    about = f": {sheet.product}" if sheet and product else ""
    return FormCard(
        f"Mix{about}",
        fields,
        lambda values: mixing.mixed_entry(values, product, bench),
        lambda values: mixing.mixing_lines(values, bench, shelf, mixing.of_the_step(sheet)),
    )


def _flakes_field(stock: StockAnswer) -> Field:
    """Return the field for the flakes, which a step without a cut leaves open."""
    mixed = [row.batch.product for row in reversed(stock.batches) if row.batch.cut_g_per_l]
    known = tuple(dict.fromkeys(mixed))
    first = known[0] if known else ""
    return Field("product", "flakes", "shellac-dewaxed-blonde", first, known)
