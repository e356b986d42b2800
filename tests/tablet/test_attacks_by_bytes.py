"""What a page, a program or a stranger may send and never gets through: bytes, frames, files."""

import asyncio
import re
import sys
from contextlib import suppress

import aiohttp
import pytest
from served import browser, page, serving_here, until

from finishsched.tablet import bench_process, connections, socket
from finishsched.tablet.page_files import PageFiles


async def raw(here, asked):
    """Send bytes as they are, and return all that comes back."""
    reader, writer = await asyncio.open_connection("127.0.0.1", here.port)
    writer.write(asked)
    answer = b""
    with suppress(ConnectionResetError):  # what was not read to its end is cut off
        while part := await reader.read(65536):
            answer += part
    writer.close()
    return answer


MAY_I = b"Content-Length: 9\r\nExpect: 100-continue\r\n\r\n"
NO_REQUESTS = {
    "the whole address": b"GET http://127.0.0.1/ HTTP/1.1\r\n\r\n",
    "two names": b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
    "a tunnel": b"CONNECT 127.0.0.1:22 HTTP/1.1\r\nHost: x\r\n\r\n",
    "a greeting in TLS": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + bytes(64) + b"\r\n\r\n",
    "a long path": b"GET /" + b"a" * 20_000 + b" HTTP/1.1\r\n\r\n",
    "many lines": b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 20_000 + b"\r\n",
    "everything": b"OPTIONS * HTTP/1.1\r\nHost: x\r\n\r\n",
    "may I": b"POST /enter HTTP/1.1\r\nHost: x\r\n" + MAY_I,
    "may I elsewhere": b"POST /x HTTP/1.1\r\nHost: x\r\n" + MAY_I,
    "two lengths": b"POST /enter HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\n"
    b"Transfer-Encoding: chunked\r\n\r\n",
}


@pytest.mark.parametrize("asked", NO_REQUESTS.values(), ids=NO_REQUESTS)
async def test_what_is_no_request_says_nothing(lid, tmp_path, asked):
    """It gets a 401 without a body at most, and no word about who answers."""
    async with serving_here(lid, tmp_path, linger_s=0.2) as here:
        answer = await raw(here, asked)
    assert not answer or re.match(rb"HTTP/1.[01] 401 ", answer)
    assert not answer or answer.endswith(b"\r\n\r\n")
    assert b"aiohttp" not in answer
    assert b"Traceback" not in answer


async def test_one_address_takes_no_more_than_its_places(here):
    """Of 200 connections 24 stay; somebody else is answered meanwhile, and later all are again."""
    opened = [await asyncio.open_connection("127.0.0.1", here.port) for _ in range(200)]

    async def ends(reader):
        with suppress(ConnectionError):
            assert await reader.read(1) == b""

    ending = [asyncio.create_task(ends(reader)) for reader, _ in opened]
    most = connections.MOST_CONNECTIONS_OF_ONE
    await until(lambda: sum(one.done() for one in ending) >= len(opened) - most)
    elsewhere = aiohttp.TCPConnector(local_addr=("127.0.0.2", 0))
    async with aiohttp.ClientSession(connector=elsewhere) as session:
        assert (await session.get(here.address)).status == 401
    assert [one.done() for one in ending].count(False) == most
    for _, writer in opened:
        writer.transport.abort()

    async def is_answered():
        try:
            async with aiohttp.ClientSession() as session:
                return (await session.get(here.address)).status == 401
        except aiohttp.ClientConnectionError:
            return False

    while not await is_answered():
        await asyncio.sleep(0.05)


@pytest.mark.parametrize("begun", [b"", b"GET / HT", b"POST /enter HTTP/1.1\r\nHost: x\r\n"])
async def test_who_asks_for_nothing_is_not_waited_for(here, monkeypatch, begun):
    """A connection that never ends its request is ended, however much of it there is."""
    monkeypatch.setattr(connections, "HEAD_S", 0.2)
    assert await raw(here, begun) == b""


async def test_a_body_that_never_comes_is_not_waited_for(here, monkeypatch):
    """The answer to a request whose body is held back has a deadline too."""
    monkeypatch.setattr(connections, "ANSWER_S", 0.2)
    host = here.origin.removeprefix("http://").encode()
    head = b"POST /enter HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\n" % (host, host)
    assert await raw(here, head + b"Content-Length: 100\r\n\r\n{") == b""


async def test_a_frame_that_is_too_long_ends_its_connection(here):
    """It is not read to its end, and the server goes on."""
    async with browser(here) as session, page(session, here) as one:
        await one.until(lambda seen: seen.drawn)
        await one.say("type", "x" * 100_000)
        with pytest.raises(ConnectionError) as ended:
            await one.until(lambda _: False)
        assert ended.value.args[0].data == aiohttp.WSCloseCode.MESSAGE_TOO_BIG
        async with page(session, here) as other:
            await other.until(lambda seen: seen.drawn)


async def test_what_no_page_says_does_nothing(here):
    """Words that there are not, values of a wrong kind and bytes are passed over."""
    odd = [
        '["deliver_chunk_request", {"key": "x", "size": 9}]',
        '["quit", {}]', '["exit", {}]', '["resize", {"width": 1e99, "height": -5}]',
        '["resize", {"width": true}]', '["tap", {"of": 1, "action": "app.suspend_process"}]',
        '["tap", {"of": [], "action": "app.quit"}]', '["type", {"a": 1}]', "[" * 50_000,
        "null", "[]", "{}", '"x"', "\x00", '["typed", {"of": 1, "field": "x", "value": "y"}]',
    ]  # fmt: skip
    async with browser(here) as session, page(session, here) as one:
        await one.until(lambda seen: "pad coat 4 of 10" in seen.text)
        for text in odd:
            await one.socket.send_str(text)
        await one.socket.send_bytes(b"\x00" * 1000)
        one.told.clear()
        await one.say("ping", 7)
        await one.until(lambda seen: seen.was_told("pong") == 7)
        one.drawn = b""
        await one.say("resize", {"width": 90, "height": 30})
        await one.until(lambda seen: "pad coat 4 of 10" in seen.text)
        assert len(here.benches()) == 1


async def test_a_socket_that_asks_for_no_bench_is_closed(here, monkeypatch):
    """Who says something else first, or nothing, gets none."""
    monkeypatch.setattr(socket, "OPEN_S", 0.2)
    async with browser(here) as session:
        for said in ('["type", "x"]', "", None):
            async with session.ws_connect(here.address + "bench") as one:
                if said is not None:
                    await one.send_str(said)
                assert (await one.receive()).type is aiohttp.WSMsgType.CLOSE
    assert here.benches() == []


def in_place_of_a_bench(program):
    """Return what begins a program that speaks as a bench does."""

    async def begin(*_told, **_named):
        pipe = asyncio.subprocess.PIPE
        command = (sys.executable, "-c", program)
        return await asyncio.create_subprocess_exec(*command, stdin=pipe, stdout=pipe)

    return begin


ENDLESS = """
import sys
sys.stdout.buffer.write(b"__GANGLION__\\n")
while True:
    sys.stdout.buffer.write(b"D" + (65536).to_bytes(4, "big") + bytes(65536))
"""


async def test_a_screen_that_takes_nothing_holds_up_nobody(here, monkeypatch):
    """Who does not read is let go of, with little kept for it; other screens go on meanwhile."""
    monkeypatch.setattr(socket, "SLOW_S", 0.5)
    handed, ended = [], []

    async def counted(line, drawn, draw=socket.PageLine.draw):
        handed.append(len(drawn))
        await draw(line, drawn)

    def told(line, end=socket.PageLine.end):
        ended.append(line)
        end(line)

    monkeypatch.setattr(socket.PageLine, "draw", counted)
    monkeypatch.setattr(socket.PageLine, "end", told)
    async with browser(here) as session:
        with monkeypatch.context() as only_now:
            only_now.setattr(bench_process, "begin", in_place_of_a_bench(ENDLESS))
            slow = await session.ws_connect(here.address + "bench")
            slow._response.connection.transport.pause_reading()
            await slow.send_json(["open", {}])
            await until(lambda: handed)
        async with page(session, here) as other:
            await other.until(lambda seen: "pad coat 4 of 10" in seen.text)
            await until(lambda: ended)
            assert sum(handed) < 10_000_000
        slow._response.connection.transport.abort()


HANDS_OUT = """
import json, sys
def say(word):
    told = json.dumps(word).encode()
    sys.stdout.buffer.write(b"M" + len(told).to_bytes(4, "big") + told)
sys.stdout.buffer.write(b"__GANGLION__\\n")
say({"type": "open_url", "url": "file:///etc/passwd", "new_tab": True})
say({"type": "deliver_file_start", "key": "k", "path": "/etc/passwd", "open_method": "browser"})
say(["no", "word"])
say({"type": "ring"})
sys.stdout.flush()
sys.stdin.buffer.read()
"""


async def test_a_bench_hands_out_no_file_and_opens_no_address(here, monkeypatch):
    """Whatever the toolkit would have a page open or load, the page is not told of it."""
    monkeypatch.setattr(bench_process, "begin", in_place_of_a_bench(HANDS_OUT))
    async with browser(here) as session, page(session, here) as one:
        await one.until(lambda seen: seen.was_told("ring") is not None)
        assert [word for word, _ in one.told] == ["opened", "ring"]
        assert (await session.get(here.address + "download/k")).status == 404


async def test_no_file_beside_the_page_is_served(here):
    """Every way out of the folder of the page leads nowhere; its own files are there."""
    ways = [
        "../limits.py", "..%2flimits.py", "%2e%2e/limits.py", "....//limits.py", "..\\limits.py",
        "/etc/passwd", "%2fetc%2fpasswd", "index.html/../../limits.py", "index.html%00.py",
        ".", "", "lock.html", "INDEX.HTML",
    ]  # fmt: skip
    async with browser(here) as session:
        cookies = "; ".join(f"{one.key}={one.value}" for one in session.cookie_jar)
        host = here.origin.removeprefix("http://")
        for way in ways:
            head = f"GET /page/{way} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookies}\r\n\r\n"
            answer = await raw(here, head.encode())
            assert b" 404 " in answer.split(b"\r\n")[0], way
            assert answer.endswith(b"\r\n\r\n"), way
        answer = await session.get(here.address + "page/index.html")
        assert (answer.status, answer.content_type) == (200, "text/html")


def test_a_link_in_the_page_leads_nowhere(tmp_path):
    """Only plain files of the folder itself have a name."""
    (tmp_path / "page").mkdir()
    (tmp_path / "page" / "index.html").write_text("in", "utf-8")
    (tmp_path / "secret").write_text("out", "utf-8")
    (tmp_path / "page" / "link.html").symlink_to(tmp_path / "secret")
    (tmp_path / "page" / "folder").symlink_to(tmp_path)
    files = PageFiles(tmp_path / "page")
    assert files.read("index.html") == (b"in", "text/html")
    assert files.read("link.html") is None
    assert files.read("folder/secret") is None
