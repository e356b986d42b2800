"""``tablet``: the bench on a tablet or phone, through its browser."""

from __future__ import annotations

import re
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import file_at, json_option, shop_option, world
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from finishsched.tablet.certificate import Certificate

_PORT = 8427
NEEDS = ("aiohttp", "segno", "cryptography")
_NAME = re.compile(r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*")
"""A name of a machine (RFC 1123)."""


@click.command("tablet")
@click.option("--network", is_flag=True, help="For the shop's network, not only this machine.")
@click.option("--address", metavar="IP", help="With --network: which address of this machine.")
@click.option("--name", metavar="NAME", help="With --network: the name that screens ask for it by.")
@click.option("--port", type=click.IntRange(0, 65535), default=_PORT, metavar="N",
              show_default=True, help="Where to listen; 0 for any that is free.")  # fmt: skip
@click.option("--https", is_flag=True, help="Encrypted, by a certificate of the shop's own.")
@click.option("--certificate", metavar="FILE", help="With --https: one of yours, in PEM.")
@click.option("--certificate-key", metavar="FILE", help="With --certificate: its key, in PEM.")
@shop_option
@json_option
def command(shop: str | None, as_json: bool, **options: Any) -> None:
    """Serve the bench to browsers, until ctrl-c: it prints an address and a code to scan.

    Only this machine can reach it, unless --network is given; then whoever is in the shop's network
    and has the key in the address. The key is new at each start.
    """
    if missing := [name for name in NEEDS if find_spec(name) is None]:
        raise CommandError(
            f"a tablet needs what is not installed ({', '.join(missing)}); "
            "pip install 'finishsched[tablet]' adds it"
        )
    _refuse_lonely(options)
    from finishsched.cli.tablet.tablet_words import Place, begun, key_file
    from finishsched.documents.user_settings import read_settings
    from finishsched.tablet import addresses
    from finishsched.tablet.guard import Names
    from finishsched.tablet.program import Serving, serve
    from finishsched.tablet.sessions import new_key

    settings = world().settings_file()
    read_settings(settings)  # its faults are told here, and not on every screen
    with open_shop(shop, world().now()) as workshop:
        folder, title = workshop.folder.resolve(), workshop.papers.shop.name
    at = _address(options)
    certificate = _certificate(options, options["name"] or at)
    tls = certificate.context() if certificate else None
    listening = addresses.listen_at(at, options["port"])
    port = listening.getsockname()[1]
    key, scheme = new_key(), "https" if tls else "http"
    address = f"{scheme}://{options['name'] or addresses.in_address(at)}:{port}/"
    names = Names(addresses.hosts_of(at, port, options["name"]), scheme)
    with key_file(f"{address}#{key}", port) as file:
        print_ = certificate.fingerprint() if certificate else ""
        place = Place(title, address, key, file, print_, is_open=options["network"])
        serve(
            Serving(folder, settings, listening, names, key, tls),
            lambda: begun(place, as_json=as_json),
        )


def _refuse_lonely(options: dict[str, Any]) -> None:
    """Refuse every option without the one that it goes with, and what is no name."""
    words = Words()
    for name, other in (("address", "network"), ("name", "network"), ("certificate", "https")):
        if options[name] is not None and not options[other]:
            words.fault(f"--{name} goes with --{other}; add it, or leave --{name} away")
    if (options["certificate"] is None) != (options["certificate_key"] is None):
        words.fault("--certificate and --certificate-key go together; name both files")
    name = options["name"]
    if name is not None and not _NAME.fullmatch(name):
        words.fault(f"--name: {name!r} is no name of a machine; write it as shop.local")
    words.settle()


def _address(options: dict[str, Any]) -> str:
    from finishsched.tablet import addresses

    if not options["network"]:
        return addresses.THIS_MACHINE
    named = options["address"]
    return addresses.checked(named) if named else addresses.address_on_network()


def _certificate(options: dict[str, Any], name: str) -> Certificate | None:
    """Return the certificate to serve by: the one that is named, or the shop's own."""
    if not options["https"]:
        return None
    from finishsched.tablet.certificate import Certificate, kept_certificate

    if options["certificate"] is None:
        return kept_certificate(world().settings_file().parent / "tablet", name, world().now())
    file = file_at("--certificate", options["certificate"])
    return Certificate(file, file_at("--certificate-key", options["certificate_key"]))
