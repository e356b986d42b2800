"""HTTPS by a certificate of the shop's own: private, kept, and told by its fingerprint."""

import hashlib
import socket
import ssl
import stat
from datetime import UTC, datetime, timedelta

import aiohttp
import pytest
from cryptography import x509
from served import serving

from finishsched.tablet.certificate import Certificate, CertificateError, kept_certificate

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


def made(file):
    """Return the certificate in a file."""
    return x509.load_pem_x509_certificate(file.read_bytes())


def names_of(certificate):
    """Return the names that a certificate is for."""
    kind = x509.SubjectAlternativeName
    found = made(certificate.file).extensions.get_extension_for_class(kind).value
    return {str(name.value) for name in found}


def test_it_is_made_once_and_nobody_else_may_read_it(tmp_path):
    """The second start finds the first one's; key, certificate and folder are the user's alone."""
    first = kept_certificate(tmp_path / "tablet", "192.168.1.20", NOW)
    print_ = first.fingerprint()
    again = kept_certificate(tmp_path / "tablet", "192.168.1.20", NOW + timedelta(days=300))
    assert again.fingerprint() == print_
    assert stat.S_IMODE(first.key_file.stat().st_mode) == 0o600
    assert stat.S_IMODE(first.file.stat().st_mode) == 0o600
    assert stat.S_IMODE(first.file.parent.stat().st_mode) == 0o700
    assert names_of(first) == {"localhost", "127.0.0.1", "192.168.1.20"}


def test_it_is_made_anew_where_it_would_not_do(tmp_path):
    """Another address, its end within two weeks, and a file that is damaged each bring another."""
    folder = tmp_path / "tablet"
    prints = {kept_certificate(folder, "192.168.1.20", NOW).fingerprint()}
    moved = kept_certificate(folder, "192.168.1.33", NOW)
    assert names_of(moved) >= {"192.168.1.20", "192.168.1.33"}
    prints.add(moved.fingerprint())
    late = made(moved.file).not_valid_after_utc - timedelta(days=13)
    prints.add(kept_certificate(folder, "192.168.1.33", late).fingerprint())
    moved.key_file.write_bytes(b"no key")
    prints.add(kept_certificate(folder, "192.168.1.33", late).fingerprint())
    assert len(prints) == 4


def test_it_lasts_no_longer_than_browsers_take(tmp_path):
    """CA/Browser Forum, Baseline Requirements for TLS server certificates, 6.3.2: 398 days."""
    kept = made(kept_certificate(tmp_path, "shop.local", NOW).file)
    lasts = kept.not_valid_after_utc - kept.not_valid_before_utc
    assert lasts <= timedelta(days=398)
    usage = kept.extensions.get_extension_for_class(x509.BasicConstraints).value
    assert not usage.ca, "a screen that trusts it trusts nothing else by it"


def test_two_files_that_do_not_go_together_are_refused(tmp_path):
    """The refusal names both, and nobody is asked for a password."""
    one = kept_certificate(tmp_path / "one", "192.168.1.20", NOW)
    other = kept_certificate(tmp_path / "other", "192.168.1.20", NOW)
    with pytest.raises(CertificateError, match="certificate-key"):
        Certificate(one.file, other.key_file).context()


async def test_the_bench_is_served_by_it(lid, tmp_path):
    """A browser that knows the certificate verifies it, and what is told is what is shown to it."""
    with serving(lid, tmp_path, "--https") as served:
        file = tmp_path / "tablet" / "certificate.pem"
        knows = ssl.create_default_context(cafile=file)
        port = int(served.origin.rpartition(":")[2])
        with (
            socket.create_connection(("127.0.0.1", port)) as plain,
            knows.wrap_socket(plain, server_hostname="127.0.0.1") as secured,
        ):
            shown = hashlib.sha256(secured.getpeercert(binary_form=True)).hexdigest()
            assert secured.version() in ("TLSv1.2", "TLSv1.3")
        assert served.said["certificate_sha256"].replace(":", "").lower() == shown
        connector = aiohttp.TCPConnector(ssl=knows)
        headers = {"Origin": served.origin}
        jar = aiohttp.CookieJar(unsafe=True)
        async with aiohttp.ClientSession(
            connector=connector, headers=headers, cookie_jar=jar
        ) as session:
            answer = await session.post(served.address + "enter", json={"key": served.key})
            assert answer.status == 204
            assert "Secure" in answer.headers["Set-Cookie"]
            async with session.ws_connect(served.address + "bench") as opened:
                await opened.send_json(["open", {"width": 80, "height": 24}])
                assert (await opened.receive_json())[0] == "opened"
        with socket.create_connection(("127.0.0.1", port)) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            assert b"HTTP" not in plain.recv(1000), "nothing is answered that is not encrypted"
