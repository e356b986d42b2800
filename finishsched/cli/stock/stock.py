"""``stock``: what is on the shelf, and entries about what was bought, mixed and counted."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    force_option,
    json_option,
    shop_option,
    why_option,
    world,
    write_page,
)
from finishsched.cli.faults import CommandError, Exit, Words
from finishsched.cli.shop_door import open_shop, read_day, tell_notices
from finishsched.units import CUT, DURATION, MASS, SHARE, VOLUME, Measure

if TYPE_CHECKING:
    from finishsched.journal.events import Event
    from finishsched.safety.cautions import Caution
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.stock.shelf_entries import StockEntry

_LEFT_MASS = replace(MASS, above_minimum=False)
_LEFT_VOLUME = replace(VOLUME, above_minimum=False)
"""Nothing may be left, though nothing cannot be bought."""

_NOT_GIVEN = (None, (), False)
_GOES_WITH = {
    "--name": ("--bought",),
    "--cut": ("--mixed",),
    "--thinned": ("--mixed",),
    "--makes": ("--mixed",),
    "--product": ("--mixed",),
    "--from": ("--mixed",),
    "--like": ("--mixed",),
    "--on": ("--bought", "--mixed", "--left", "--tested"),
    "--note": ("--bought", "--mixed", "--left", "--tested"),
    "--by": ("--bought", "--mixed", "--left", "--tested", "--undo"),
    "--out": ("--labels",),
}


@click.command("stock")
@click.option(
    "--bought", metavar="'PRODUCT: AMOUNT'", help="A lot: 'pumice: 500 g', 'P240: 10 sheets'."
)
@click.option("--name", metavar="LOT", help="With --bought: what the lot is called.")
@click.option("--mixed", metavar="NAME", help="Log a batch, such as 'jar 5', drawn from lots.")
@click.option("--cut", metavar="CUT", help="With --mixed: such as '2 lb'.")
@click.option("--thinned", metavar="PERCENT", help="With --mixed: share of thinner, for varnish.")
@click.option(
    "--makes", metavar="VOLUME", help="With --mixed: how much; with --like as much again."
)
@click.option("--product", metavar="PRODUCT", help="With --mixed: of which product.")
@click.option(
    "--from", "from_", multiple=True, metavar="LOT", help="With --mixed: lots to draw on."
)
@click.option("--like", metavar="BATCH", help="With --mixed: one to repeat, from the same lots.")
@click.option("--left", metavar="'NAME: AMOUNT'", help="Log a count: 'jar 2: 4 floz', 'P240: 3'.")
@click.option("--tested", metavar="'JAR: TIME'", help="A drop on glass: 'jar 4: 3 h', or soft.")
@click.option("--undo", metavar="NAME", help="Take back the newest entry about a lot or batch.")
@click.option("--on", metavar="DAY", help="When it was: 2026-11-25, yesterday, a date and time.")
@click.option("--by", metavar="NAME", help="Whose hands.")
@click.option("--note", metavar="TEXT", help="Anything worth remembering.")
@click.option("--labels", is_flag=True, help="Print a label for each batch.")
@click.option("--out", metavar="FILE.html", help="With --labels: a sheet to print and cut.")
@force_option
@dry_run_option
@shop_option
@why_option
@json_option
def command(shop: str | None, why: bool, force: bool, as_json: bool, **written: Any) -> None:
    """List what is on the shelf, with ages, or log what was bought, mixed or counted.

    Papers, wool, pad covers, cloths and tape are bought and counted too: 'P240: 10 sheets', 'cloth:
    20', 'tape: 50 m'. What is left of them is reckoned from the work logged, and a second count
    tells how long yours last.

    Without an option it lists. One of --bought, --mixed, --left, --tested and --undo makes an
    entry.
    """
    options = {
        f"--{name.rstrip('_')}": value for name, value in written.items() if value not in _NOT_GIVEN
    }
    reader = Words()
    action = _action(reader, options)
    entry = _READ[action](reader, options) if action in _READ else None
    out = _out_file(reader, options.get("--out"))
    reader.settle()
    now = world().now()
    with open_shop(shop, now) as workshop:
        tell_notices(workshop, now)
        if entry is not None:
            _log(workshop, entry(workshop.zone), now, as_json=as_json)
        elif action == "--labels":
            _labels(workshop, now, out, force=force, as_json=as_json)
        else:
            _list(workshop, now, why=why, as_json=as_json)


def _action(reader: Words, options: dict[str, Any]) -> str:
    """Return the one option that says what to do, and refuse those that do not go with it."""
    actions = [name for name in ("--bought", "--mixed", "--left", "--tested", "--undo", "--labels")
               if name in options]  # fmt: skip
    if len(actions) > 1:
        reader.fault(f"{' and '.join(actions)} are one entry each; give them one by one")
    for name, fitting in _GOES_WITH.items():
        if name in options and not set(fitting) & set(actions):
            reader.fault(f"{name} goes with {' or '.join(fitting)}; add that, or leave it out")
    return actions[0] if actions else ""


_Entry = Callable[[tzinfo], "StockEntry"]
"""An entry, once the shop's zone says what its day means."""


def _bought(reader: Words, options: dict[str, Any]) -> _Entry:
    product, amount = _named_amount(reader, "--bought", options["--bought"])
    supplied = _supplied(reader, "--bought", product, amount, options)
    if supplied is not None:
        return supplied
    measure, value = reader.read_any("--bought", amount, (MASS, VOLUME))

    def entry(zone: tzinfo) -> StockEntry:
        from finishsched.workshop.stock.shelf_entries import Bought

        return Bought(
            product=product,
            amount_g=value if measure is MASS else None,
            amount_ml=value if measure is VOLUME else None,
            name=options.get("--name", ""),
            **_about(options, zone),
        )

    return entry


def _mixed(reader: Words, options: dict[str, Any]) -> _Entry:
    cut, thinned = options.get("--cut"), options.get("--thinned")
    # A two-part mix has no strength; whether the product is one, its document tells.
    two_part = cut is None and thinned is None and options.get("--product") is not None
    two_part = two_part or options.get("--like") is not None
    if (cut is None) == (thinned is None) and not two_part:
        reader.fault("--mixed needs a strength; write one of --cut '2 lb' and --thinned '50 %'")
    cut_g_per_l = reader.read("--cut", cut, CUT)
    thinned_percent = reader.read("--thinned", thinned, SHARE)
    if thinned_percent is not None and thinned_percent >= 100:
        reader.fault("--thinned: 100 % leaves nothing to thin; write a smaller share")
    makes = options.get("--makes")
    as_before = makes is None and options.get("--like") is not None
    makes_ml = 0.0 if as_before else reader.need("--makes", makes, VOLUME)

    def entry(zone: tzinfo) -> StockEntry:
        from finishsched.workshop.stock.shelf_entries import Mixed

        return Mixed(
            name=options["--mixed"],
            makes_ml=makes_ml,
            cut_g_per_l=cut_g_per_l,
            thinned_percent=thinned_percent,
            product=options.get("--product", ""),
            like=options.get("--like", ""),
            lots=tuple(options.get("--from", ())),
            **_about(options, zone),
        )

    return entry


def _left(reader: Words, options: dict[str, Any]) -> _Entry:
    name, amount = _named_amount(reader, "--left", options["--left"])
    supplied = _supplied(reader, "--left", name, amount, options)
    if supplied is not None:
        return supplied
    measure: Measure | None = None
    value = 0.0
    if amount.lower() != "empty":
        measure, value = reader.read_any("--left", amount, (_LEFT_VOLUME, _LEFT_MASS))

    def entry(zone: tzinfo) -> StockEntry:
        from finishsched.workshop.stock.shelf_entries import Counted

        return Counted(
            name=name,
            left_g=value if measure is _LEFT_MASS else None,
            left_ml=value if measure is _LEFT_VOLUME else None,
            **_about(options, zone),
        )

    return entry


def _supplied(
    reader: Words, option: str, name: str, amount: str, options: dict[str, Any]
) -> _Entry | None:
    """Return the entry about papers, cloths or tape; None for what is a product or a batch."""
    from finishsched.model.supplies import Supply, SupplyFaultError, read_supply

    try:
        supply = read_supply(name, amount)
    except SupplyFaultError as fault:
        reader.fault(f"{option}: {fault}")
        supply = Supply("", "", 0.0)  # never entered: the fault is told first
    if supply is None:
        return None

    def entry(zone: tzinfo) -> StockEntry:
        from finishsched.workshop.stock.shelf_entries import Supplied

        return Supplied(supply, bought=option == "--bought", **_about(options, zone))

    return entry


def _tested(reader: Words, options: dict[str, Any]) -> _Entry:
    name, found = _named_amount(reader, "--tested", options["--tested"])
    soft = not name or found.lower() == "soft"
    hard_after_s = None if soft else reader.need("--tested", found, DURATION)

    def entry(zone: tzinfo) -> StockEntry:
        from finishsched.workshop.stock.shelf_entries import DropTested

        return DropTested(name, hard_after_s, **_about(options, zone))

    return entry


def _undo(reader: Words, options: dict[str, Any]) -> _Entry:  # noqa: ARG001  # nothing to read
    def entry(zone: tzinfo) -> StockEntry:  # noqa: ARG001
        from finishsched.workshop.stock.shelf_entries import TakenBack

        return TakenBack(options["--undo"], options.get("--by", ""))

    return entry


_READ = {
    "--bought": _bought,
    "--mixed": _mixed,
    "--left": _left,
    "--tested": _tested,
    "--undo": _undo,
}


_EXAMPLES = {"--bought": "shellac-garnet: 250 g", "--tested": "jar 4: 3 h"}


def _named_amount(reader: Words, option: str, text: str) -> tuple[str, str]:
    """Return the name and the amount of ``NAME: AMOUNT``."""
    name, colon, amount = text.rpartition(":")
    if not (colon and name.strip() and amount.strip()):
        example = _EXAMPLES.get(option, "jar 2: 120 ml")
        reader.fault(f"{option}: {text!r} is no name and amount; write for example '{example}'")
        return "", "1 g"
    return " ".join(name.split()), amount.strip()


def _about(options: dict[str, Any], zone: tzinfo) -> dict[str, Any]:
    return {
        "at": read_day(options.get("--on"), zone),
        "by": options.get("--by", ""),
        "note": " ".join(options.get("--note", "").split()),
    }


def _out_file(reader: Words, out: str | None) -> Path | None:
    if out is None:
        return None
    path = world().cwd / Path(out).expanduser()
    if path.suffix.lower() not in (".html", ".htm"):
        reader.fault(f"--out: {out!r} is not a page; write a name that ends in .html")
    return path


def _log(workshop: Workshop, entry: StockEntry, now: datetime, *, as_json: bool) -> None:
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.cli.stock.stock_words import after_stock_entry
    from finishsched.journal.events import as_json as event_json
    from finishsched.workshop.log.log import remarks_on
    from finishsched.workshop.stock.shop_stock import log_stock, shop_stock

    event = log_stock(workshop, entry, now)
    remarks = remarks_on(workshop, event, now)
    stock = shop_stock(workshop, now)
    answer_minding(
        _cautions(workshop, event),
        lambda: {"event": event_json(event), "warnings": list(remarks)},
        lambda: after_stock_entry(event.what, entry, stock, remarks),
        as_json=as_json,
    )


def _cautions(workshop: Workshop, event: Event) -> tuple[Caution, ...]:
    """Return what to mind at a batch just mixed; nothing at other entries about stock."""
    from finishsched.journal.events import BatchMixed
    from finishsched.safety.cautions import mixing_cautions

    if not isinstance(event.what, BatchMixed):
        return ()
    product = workshop.papers.products.get(event.what.product)
    return mixing_cautions([product] if product is not None else ())


def _list(workshop: Workshop, now: datetime, *, why: bool, as_json: bool) -> None:
    from finishsched.cli.stock.stock_words import stock_data, stock_lines
    from finishsched.workshop.stock.shop_stock import shop_stock
    from finishsched.workshop.stock.supplies import supplies_of, wetted_from

    stock = shop_stock(workshop, now)
    lots = [row.lot for row in stock.lots if row.usable]
    supplies = (*supplies_of(workshop), *wetted_from(workshop, lots))
    answer(
        as_json,
        lambda: stock_data(stock, supplies),
        lambda: stock_lines(stock, supplies, why=why),
    )


def _labels(
    workshop: Workshop, now: datetime, out: Path | None, *, force: bool, as_json: bool
) -> None:
    from finishsched.cli.stock.stock_words import label_data, label_lines
    from finishsched.workshop.papers.labels import jar_labels
    from finishsched.workshop.stock.shop_stock import shop_stock

    labels = jar_labels(shop_stock(workshop, now), workshop.papers.products)
    if out is None:
        answer(
            as_json,
            lambda: {"labels": [label_data(label) for label in labels], "file": None},
            lambda: label_lines(labels),
        )
        return
    if not labels:
        raise CommandError("there is no batch to label; log one with stock --mixed", status=Exit.NO)
    from finishsched.reports.labels import label_sheet

    write_page(out, "labels", label_sheet(labels, workshop.papers.shop.name), force=force)
    said: Iterable[str] = (f"{len(labels)} labels in {out}",)
    answer(
        as_json,
        lambda: {"labels": [label_data(label) for label in labels], "file": str(out)},
        lambda: said,
    )
