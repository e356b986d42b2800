"""``tablet``: the bench on a tablet or phone, through its browser."""

from __future__ import annotations

from importlib.util import find_spec

import click

from finishsched.cli.common import json_option, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop

_PORT = 8427
_NEEDS = ("aiohttp", "segno", "cryptography")


@click.command("tablet")
@click.option("--network", is_flag=True, help="For the shop's network, not only this machine.")
@click.option("--address", metavar="IP", help="With --network: which address of this machine.")
@click.option(
    "--port", type=click.IntRange(0, 65535), default=_PORT, metavar="N", show_default=True,
    help="Where to listen; 0 for any that is free.",
)  # fmt: skip
@shop_option
@json_option
def command(network: bool, address: str | None, port: int, shop: str | None, as_json: bool) -> None:
    """Serve the bench to browsers, until ctrl-c: it prints an address and a code to scan.

    Only this machine can reach it, unless --network is given; then whoever is in the shop's network
    and has the key in the address. The key is new at each start.
    """
    if missing := [name for name in _NEEDS if find_spec(name) is None]:
        raise CommandError(
            f"a tablet needs what is not installed ({', '.join(missing)}); "
            "pip install 'finishsched[tablet]' adds it"
        )
    if address is not None and not network:
        raise CommandError("--address goes with --network; add it, or leave --address away")
    from finishsched.cli.tablet.tablet_words import Place, begun, key_file
    from finishsched.tablet import addresses
    from finishsched.tablet.guard import Names
    from finishsched.tablet.program import Serving, serve
    from finishsched.tablet.sessions import new_key

    with open_shop(shop, world().now()) as workshop:
        folder, name = workshop.folder, workshop.papers.shop.name
    at = addresses.THIS_MACHINE
    if network:
        at = addresses.checked(address) if address else addresses.address_on_network()
    listening = addresses.listen_at(at, port)
    port = listening.getsockname()[1]
    key, scheme = new_key(), "http"
    address = f"{scheme}://{addresses.in_address(at)}:{port}/"
    names = Names(addresses.hosts_of(at, port), scheme)
    serving = Serving(folder.resolve(), world().settings_file(), listening, names, key)
    with key_file(f"{address}#{key}", port) as file:
        place = Place(name, address, key, file, is_open=network)
        serve(serving, lambda: begun(place, as_json=as_json))
