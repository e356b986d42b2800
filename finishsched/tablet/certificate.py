"""The certificate of a shop: made once, kept in private, and told by its fingerprint.

It is signed by itself: nobody else vouches for it, so a person compares its fingerprint with the
one that the terminal shows, once for each screen.
"""

from __future__ import annotations

import ipaddress
import ssl
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from finishsched.refusals import RefusalError
from finishsched.tablet.private_files import write_private

_LASTS = timedelta(days=397)
"""Browsers take no certificate for longer (CA/Browser Forum, Baseline Requirements 6.3.2, 2020)."""
_RENEWED = timedelta(days=14)
"""So long before its end a new one is made."""
_ALWAYS = ("localhost", "127.0.0.1")


class CertificateError(RefusalError):
    """A certificate or its key that cannot be used."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """A certificate with its key, as files."""

    file: Path
    key_file: Path

    def context(self) -> ssl.SSLContext:
        """Return what serves by it.

        Raises:
            CertificateError: when one of the two is not there, or they do not belong together.

        """
        missing = [str(file) for file in (self.file, self.key_file) if not file.is_file()]
        if missing:
            raise CertificateError(
                f"there is no file {' and no '.join(missing)}", "name two that are there, in PEM"
            )
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        try:
            context.load_cert_chain(self.file, self.key_file, password=_no_password)
        except (ssl.SSLError, ValueError):
            raise CertificateError(
                f"{self.file} is no certificate that goes with {self.key_file}",
                "name the two that belong together, in PEM, the key without a password",
            ) from None
        return context

    def fingerprint(self) -> str:
        """Return its SHA-256 as browsers show it."""
        digest = x509.load_pem_x509_certificate(self.file.read_bytes()).fingerprint(hashes.SHA256())
        return ":".join(f"{byte:02X}" for byte in digest)


def _no_password() -> str:
    """Give none, so that nobody is asked at the terminal."""
    return ""


def kept_certificate(folder: Path, address: str, now: datetime) -> Certificate:
    """Return the shop's own certificate for an address, made where there is none that will do.

    Raises:
        OSError: when it cannot be kept.

    """
    kept = Certificate(folder / "certificate.pem", folder / "certificate-key.pem")
    names = [*_ALWAYS, address]
    known = _names_in_force(kept, now)
    if set(names) <= set(known):
        return kept
    key = ec.generate_private_key(ec.SECP256R1())
    # A screen that knew the shop by another address of it still does.
    made = _signed(key, list(dict.fromkeys([*names, *known])), now)
    key_text = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    write_private(kept.key_file, key_text)
    write_private(kept.file, made.public_bytes(serialization.Encoding.PEM))
    return kept


def _names_in_force(kept: Certificate, now: datetime) -> list[str]:
    """Return what a certificate is for; nothing where it cannot be used, or not for long."""
    try:
        kept.context()
        found = x509.load_pem_x509_certificate(kept.file.read_bytes())
        names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (OSError, ValueError, CertificateError, x509.ExtensionNotFound):
        return []
    if not found.not_valid_before_utc <= now <= found.not_valid_after_utc - _RENEWED:
        return []
    return [str(name.value) for name in names]


def _signed(key: ec.EllipticCurvePrivateKey, names: list[str], now: datetime) -> x509.Certificate:
    title = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "finishsched, this shop's own")])
    return (
        x509.CertificateBuilder()
        .subject_name(title)
        .issuer_name(title)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now - timedelta(days=1) + _LASTS)
        .add_extension(x509.SubjectAlternativeName(map(_as_name, names)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )


def _as_name(name: str) -> x509.GeneralName:
    with suppress(ValueError):
        return x509.IPAddress(ipaddress.ip_address(name))
    return x509.DNSName(name)
