"""By which addresses this machine is found on the shop's network; nobody is asked for it."""

from __future__ import annotations

import ipaddress
import socket
from contextlib import suppress

from finishsched.refusals import RefusalError

THIS_MACHINE = "127.0.0.1"
_SEND_BUFFER_BYTES = 128 * 1024
_USUAL_PORTS = (80, 443)
"""Browsers leave these out."""
_ANYWHERE = ("192.168.255.254", "10.255.255.254", "172.31.255.254", "192.0.2.1")
"""Where a network of a house or a shop may be (RFC 1918), and nowhere (RFC 5737)."""


class AddressError(RefusalError):
    """An address that is not served on."""


def address_on_network() -> str:
    """Return the address of this machine on its network.

    Nothing is sent: the system is only asked by which of its addresses it would.

    Raises:
        AddressError: when it is on none.

    """
    for target in _ANYWHERE:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
            asked.connect((target, 9))
            found = str(asked.getsockname()[0])
            if _is_of_a_shop(found):
                return found
    raise AddressError(
        "this machine is on no network of a shop that was found",
        "join it to one, or name its address with --address",
    )


def checked(address: str) -> str:
    """Return an address that a person names, once it is one to be served on.

    Raises:
        AddressError: when it is none, or one of the open internet.

    """
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        raise AddressError(
            f"{address!r} is no address", "write it as 192.168.1.20", "--address"
        ) from None
    if not _is_of_a_shop(address):
        raise AddressError(
            f"{address} is no address of a shop's own network",
            "the bench is not for the open internet; leave it out, or name one as 192.168.1.20",
            "--address",
        )
    return str(known)


def _is_of_a_shop(address: str) -> bool:
    """Tell whether an address leads no farther than a house: a private one, one of its own."""
    known = ipaddress.ip_address(address)
    return known.is_private and not (known.is_unspecified or known.is_multicast)


def listen_at(address: str, port: int) -> socket.socket:
    """Return a socket that listens there and nowhere else.

    Raises:
        AddressError: when it cannot.

    """
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        # What the system keeps for a screen that does not read; every connection has it from here.
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, _SEND_BUFFER_BYTES)
        listening.bind((address, port))
    except OSError as error:
        listening.close()
        raise AddressError(
            f"port {port} of {address}: {error.strerror}", "name another with --port"
        ) from None
    return listening


def hosts_of(address: str, port: int, name: str | None = None) -> frozenset[str]:
    """Return the names that a browser may ask for by: each with the port, where it says that."""
    names = {in_address(address), *([name] if name else [])}
    if ipaddress.ip_address(address).is_loopback:
        names.add("localhost")
    said = [f"{{}}:{port}", *(["{}"] if port in _USUAL_PORTS else [])]
    return frozenset(form.format(each) for each in names for form in said)


def in_address(address: str) -> str:
    """Return an address as it stands in a longer one."""
    return f"[{address}]" if ":" in address else address
