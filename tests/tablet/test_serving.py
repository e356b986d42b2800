"""The command serves the bench to a browser, and leaves nothing behind."""

import signal

import pytest
from served import benches_on, browser, page, until


async def test_a_page_gets_the_bench_of_the_shop(served):
    """With the key a page opens a bench, which draws the shop's pieces for it."""
    async with browser(served) as session:
        answer = await session.get(served.address)
        assert answer.status == 200
        async with page(session, served) as opened:
            await opened.until(lambda one: b"Tea chest" in one.drawn or b"lid" in one.drawn)
            assert opened.was_told("opened")["anew"]
            assert len(served.benches()) == 1


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
async def test_it_ends_with_all_its_benches(served, number):
    """At ctrl-c, a polite kill or a closed terminal it ends as done, and no process stays."""
    async with browser(served) as session, page(session, served) as opened:
        await opened.until(lambda one: one.drawn)
        assert served.end(number) == 0
    assert benches_on(served.folder) == []
    assert not served.key_file.exists()


async def test_a_server_that_is_killed_takes_its_benches_along(served):
    """Nobody can answer that signal: each bench ends when nobody speaks to it any more."""
    async with browser(served) as session, page(session, served) as opened:
        await opened.until(lambda one: one.drawn)
        served.end(signal.SIGKILL)
        await until(lambda: benches_on(served.folder) == [])
