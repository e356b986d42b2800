"""What somebody on the network may try, on this machine only: nothing is answered or reached."""

import json
import zlib

import aiohttp
import pytest
from served import browser, serving_here

from finishsched.tablet import sessions
from finishsched.tablet.connections import HEADERS

ASKED = [
    *(("GET", path) for path in ("/page/lock.html", "/page/index.html", "/papers", "/bench")),
    *(
        ("GET", path)
        for path in ("/papers/week", "/enter", "/leave", "/nothing", "/../../etc/passwd")
    ),
    *(("POST", path) for path in ("/", "/leave", "/bench", "/papers/week", "/nothing")),
    *((method, "/") for method in ("GET", "HEAD", "PUT", "DELETE", "OPTIONS", "TRACE", "MADE-UP")),
]


def set_cookie_of(answer):
    """Return what a server set, by its parts."""
    return [part.strip() for part in answer.headers["Set-Cookie"].split(";")]


@pytest.mark.parametrize(("method", "path"), ASKED)
async def test_without_a_session_everything_is_401(here, method, path):
    """Whatever is asked, the answer is 401, and only the lock page has a body."""
    async with browser(here, enters=False) as session:
        answer = await session.request(method, here.origin + path)
        body = await answer.text()
    assert answer.status == 401
    assert set(HEADERS.items()) <= set(answer.headers.items())
    assert bool(body) == (method == "GET" and path == "/")
    assert "aiohttp" not in str(answer.headers)
    assert "Access-Control-Allow-Origin" not in answer.headers


@pytest.mark.parametrize("key", ["", "k", "x" * 900, "ключ", None, 7, {"a": []}, ["a"]])
async def test_a_wrong_key_is_no_key(here, key):
    """Nothing but the key opens, whatever its form."""
    async with browser(here, enters=False) as session:
        answer = await session.post(here.address + "enter", json={"key": key})
        assert answer.status == 401
        assert "Set-Cookie" not in answer.headers


BODIES = [b"", b"{", b"[" * 1000, b"\xff\xfe", b'"key"', b"x" * 100_000]


@pytest.mark.parametrize("body", BODIES, ids=range(len(BODIES)))
async def test_what_is_no_key_at_all_is_401(here, body):
    """A body that is no JSON, too deep, no text or too long is a wrong key."""
    async with browser(here, enters=False) as session:
        answer = await session.post(here.address + "enter", data=body)
        assert answer.status == 401


async def test_what_is_packed_is_not_unpacked(here):
    """Not even the right key: a little that unpacks to a lot costs nothing."""
    packed = zlib.compress(json.dumps({"key": here.key}).encode())
    bomb = zlib.compress(bytes(50_000_000))
    async with browser(here, enters=False) as session:
        for body in (packed, bomb):
            headers = {"Content-Encoding": "deflate"}
            answer = await session.post(here.address + "enter", data=body, headers=headers)
            assert answer.status == 401


def test_the_key_is_compared_in_constant_time(monkeypatch):
    """It is compared by what does not tell how much of it was right, at one length always."""
    seen = []

    def compare(one, other):
        seen.append((len(one), len(other)))
        return one == other

    monkeypatch.setattr(sessions.hmac, "compare_digest", compare)
    known = sessions.Sessions("abcde-fghjk", lambda: 0.0)
    assert known.enter("abcd") is None
    assert known.enter("ABCDE fghjk") is not None
    assert seen == [(32, 32), (32, 32)]


def test_each_start_has_a_key_of_its_own():
    """Of a thousand keys none comes twice, and none is short."""
    keys = {sessions.new_key() for _ in range(1000)}
    assert len(keys) == 1000
    assert {len(key) for key in keys} == {23}


async def test_guesses_are_counted_by_where_they_come_from(here):
    """After ten wrong keys even the right one waits, from there; elsewhere it opens."""
    async with browser(here, enters=False) as session:
        for _ in range(10):
            assert (await session.post(here.address + "enter", json={"key": "no"})).status == 401
        answer = await session.post(here.address + "enter", json={"key": here.key})
        assert answer.status == 401
        assert 0 < int(answer.headers["Retry-After"]) <= 60
    elsewhere = aiohttp.TCPConnector(local_addr=("127.0.0.2", 0))
    headers = {"Origin": here.origin}
    async with aiohttp.ClientSession(connector=elsewhere, headers=headers) as session:
        answer = await session.post(here.address + "enter", json={"key": here.key})
        assert answer.status == 204


def test_guesses_are_forgotten_in_a_minute_and_never_pile_up():
    """The count holds for a minute; of a thousand addresses more the oldest is let go."""
    now = [0.0]
    guesses = sessions.Guesses(lambda: now[0])
    for _ in range(30):
        guesses.wrong("fe80::1")
    assert guesses.wait_s("fe80::2") == 60.0, "one network of a machine counts as one"
    now[0] = 61.0
    assert guesses.wait_s("fe80::1") == 0.0
    for each in range(3000):
        guesses.wrong(f"10.0.{each // 250}.{each % 250}")
    assert len(guesses._wrong) == 1000


async def test_a_session_is_kept_from_scripts_and_other_pages(here):
    """Its cookie says so, and a session that was left is none."""
    async with browser(here, enters=False) as session:
        answer = await session.post(here.address + "enter", json={"key": here.key})
        assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= set(set_cookie_of(answer))
        assert (await session.get(here.address)).status == 200
        token = set_cookie_of(answer)[0]
        assert (await session.post(here.address + "leave")).status == 204
        again = {"Cookie": token}
        assert (await session.get(here.address + "papers", headers=again)).status == 401


async def test_nothing_of_an_earlier_start_opens(lid, tmp_path):
    """The session and the key of one start are worth nothing at the next."""
    async with serving_here(lid, tmp_path) as first, browser(first) as session:
        cookie = next(iter(session.cookie_jar)).value
    async with serving_here(lid, tmp_path) as second, browser(second, enters=False) as session:
        replayed = {"Cookie": f"finishsched-{second.port}={cookie}"}
        assert (await session.get(second.address, headers=replayed)).status == 401
        answer = await session.post(second.address + "enter", json={"key": first.key})
        assert answer.status == 401


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": "https://127.0.0.1"},
        {"Origin": "http://localhost:1"},
        {"Host": "elsewhere.example"},
        {"Host": "127.0.0.1"},
        {"Host": "localhost.elsewhere.example"},
    ],
)
@pytest.mark.parametrize("path", ["papers", "bench", "leave"])
async def test_another_page_or_name_gets_nothing_even_with_the_session(here, headers, path):
    """A page elsewhere, and a name turned to this machine, are refused, WebSockets too."""
    async with browser(here) as session:
        headers = {"Origin": here.origin, **headers}
        if path == "bench":
            with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
                await session.ws_connect(here.address + path, headers=headers)
            assert refused.value.status == 403
            return
        method = "POST" if path == "leave" else "GET"
        answer = await session.request(method, here.address + path, headers=headers)
        assert answer.status == 403
        assert await answer.read() == b""
    assert here.benches() == []


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
async def test_a_page_that_only_shows_ours_gets_nothing(here, site):
    """What a browser fetches for a page elsewhere, a picture or a script, is refused."""
    async with browser(here) as session:
        del session.headers["Origin"]
        headers = {"Sec-Fetch-Site": site}
        assert (await session.get(here.address + "papers", headers=headers)).status == 403
        with pytest.raises(aiohttp.WSServerHandshakeError):
            await session.ws_connect(here.address + "bench")
