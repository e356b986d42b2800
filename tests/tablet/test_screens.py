"""Several screens on one journal, screens that are lost and come back, and screens that close."""

import asyncio
import sqlite3
import sys
from unittest.mock import AsyncMock, Mock, call

from served import browser, page, until

from finishsched.tablet import bench_process, screens
from finishsched.tablet.bench_process import BenchProcess, Size


def coats_on(shop):
    """Return how many steps are logged as done."""
    with sqlite3.connect(f"file:{shop}/journal.db?mode=ro", uri=True) as journal:
        return journal.execute("select count(*) from events where kind = 'step-done'").fetchone()[0]


async def test_an_entry_on_one_screen_shows_on_the_other(here):
    """A coat that is logged on one bench is seen by the other without anybody touching it."""
    before = coats_on(here.folder)
    async with (
        browser(here) as session,
        page(session, here) as tablet,
        page(session, here) as phone,
    ):
        for one in (tablet, phone):
            await one.until(lambda seen: "pad coat 4 of 10" in seen.text)
        phone.drawn = b""
        await tablet.say("type", " ")
        await tablet.until(lambda seen: "logged" in seen.text)
        await phone.until(lambda seen: "5 of 10" in seen.text or "nearly" in seen.text)
    assert coats_on(here.folder) == before + 1


async def test_every_screen_looks_as_soon_as_something_is_written(here, monkeypatch):
    """Even a bench that would not look by itself shows what a terminal logs."""
    told = []

    async def heard(bench, word, say=BenchProcess.say, **more):
        told.append(word)
        await say(bench, word, **more)

    monkeypatch.setattr(BenchProcess, "say", heard)
    async with browser(here) as session, page(session, here) as tablet:
        await tablet.until(lambda seen: "pad coat 4 of 10" in seen.text)
        told.clear()
        command = [sys.executable, "-m", "finishsched", "--shop", str(here.folder)]
        process = await asyncio.create_subprocess_exec(*command, "log", "lid", "note", "from afar")
        assert await process.wait() == 0
        await until(lambda: "look" in told)


async def test_two_presses_at_one_moment_log_one_coat(here):
    """Two people press at once: one coat is logged, and the other one is told that it was not.

    A bench that comes to its key only once it saw the other's coat asks for the check of that one.
    """
    before = coats_on(here.folder)
    async with (
        browser(here) as session,
        page(session, here) as tablet,
        page(session, here) as phone,
    ):
        both = (tablet, phone)
        for one in both:
            await one.until(lambda seen: "pad coat 4 of 10" in seen.text)
            one.drawn = b""
        await asyncio.gather(*(one.say("type", " ") for one in both))
        not_logged = ("Refused", "Dry check: ")

        def is_told(one):
            return any(words in one.text for words in ("logged", *not_logged))

        await asyncio.gather(*(one.until(is_told) for one in both))
        assert coats_on(here.folder) == before + 1
        told_not = [any(words in one.text for words in not_logged) for one in both]
    assert sorted(told_not) == [False, True]


async def test_a_page_that_closes_ends_its_bench(here):
    """Shutting the page ends the process of its bench; that of another page goes on."""
    async with browser(here) as session, page(session, here) as stays:
        async with page(session, here) as closes:
            await closes.until(lambda one: one.drawn)
            assert len(here.benches()) == 2
        await until(lambda: len(here.benches()) == 1)
        await stays.until(lambda one: one.drawn)


async def test_a_lost_page_comes_back_to_its_bench(here):
    """What was open on the bench is open when the page is back, and all of it is drawn again."""
    async with browser(here) as session:
        async with page(session, here) as lost:
            await lost.until(lambda one: "pad coat 4 of 10" in one.text)
            (bench,) = here.benches()
            await lost.say("type", "b")
            await lost.until(lambda one: "Begin a piece" in one.title)
            key = lost.was_told("opened")["bench"]
            lost.lose()
        async with page(session, here, key=key) as back:
            assert not back.was_told("opened")["anew"]
            await back.until(lambda one: "Begin a piece" in one.title and b"?1049h" in one.drawn)
            await back.until(lambda one: "pad coat 4 of 10" in one.text)
            assert here.benches() == [bench]


async def test_a_page_that_never_comes_back_is_not_waited_for(here, monkeypatch):
    """After a while the bench of a lost page ends too."""
    monkeypatch.setattr(screens, "HOLD_S", 0.1)
    async with browser(here) as session:
        async with page(session, here) as lost:
            await lost.until(lambda one: one.drawn)
            lost.lose()
        await until(lambda: not here.benches())


async def test_nobody_comes_back_by_a_wrong_key_of_a_bench(here):
    """A key that is no bench's opens a new one, and leaves the other alone."""
    async with browser(here) as session, page(session, here) as one:
        key = one.was_told("opened")["bench"]
        async with page(session, here, key=key[:-1] + "?") as other:
            assert other.was_told("opened")["anew"]
            await other.until(lambda seen: seen.drawn)
            assert len(here.benches()) == 2


async def test_more_screens_than_may_be_are_told_so(here, monkeypatch):
    """The last place is taken; a lost one makes room."""
    monkeypatch.setattr(screens, "MOST_BENCHES", 1)
    async with browser(here) as session:
        async with page(session, here) as first:
            await first.until(lambda one: one.drawn)
            async with session.ws_connect(here.address + "bench") as socket:
                await socket.send_json(["open", {}])
                assert await socket.receive_json() == ["full", {"open": 1}]
            first.lose()
        async with page(session, here) as second:
            assert second.was_told("opened")["anew"]


async def test_the_bench_that_is_left_says_so(here):
    """Its own key ends it, and the page is told."""
    async with browser(here) as session, page(session, here) as one:
        await one.until(lambda seen: "pad coat 4 of 10" in seen.text)
        await one.say("type", "q")
        await one.until(lambda seen: seen.was_told("left"))
        await until(lambda: not here.benches())


async def test_a_shop_that_cannot_be_opened_is_told_in_words(here):
    """The page hears why there is no bench."""
    (here.folder / "journal.db").write_bytes(b"no journal" * 1000)
    async with browser(here) as session, page(session, here) as one:
        await one.until(lambda seen: seen.was_told("left") or "journal" in seen.text)


async def test_the_bench_that_waits_longest_makes_room(here, monkeypatch):
    """Of two lost screens it is the one that was lost first, whichever was opened first."""
    monkeypatch.setattr(screens, "MOST_BENCHES", 2)
    lost = []

    def heard(open_ones, screen, line, lose=screens.Screens.lose):
        lose(open_ones, screen, line)
        lost.append(screen)

    monkeypatch.setattr(screens.Screens, "lose", heard)
    async with browser(here) as session:
        async with page(session, here) as opened_first:
            key = opened_first.was_told("opened")["bench"]
            async with page(session, here) as lost_first:
                lost_first.lose()
            await until(lambda: len(lost) == 1)
            opened_first.lose()
        await until(lambda: len(lost) == 2)
        async with page(session, here) as third:
            assert third.was_told("opened")["anew"]
            async with page(session, here, key=key) as back:
                assert not back.was_told("opened")["anew"]


async def test_a_machine_that_has_no_process_left_says_so(here, monkeypatch):
    """The page is told, and the screen that got no bench takes nobody's place."""

    async def none_left(*_told, **_named):
        raise BlockingIOError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(screens, "MOST_BENCHES", 1)
    async with browser(here) as session:
        with monkeypatch.context() as only_now:
            only_now.setattr(bench_process, "begin", none_left)
            async with page(session, here) as one:
                await one.until(lambda seen: seen.was_told("left"))
                assert "Resource temporarily unavailable" in one.was_told("left")["why"]
        async with page(session, here) as other:
            await other.until(lambda seen: seen.drawn)


async def test_a_ring_that_nobody_heard_is_heard_by_who_comes_back():
    """It rang while the connection was lost: the page rings as soon as it is there again, once."""
    screen, size, lines = (
        screens.Screen(),
        Size(80, 24),
        [AsyncMock(end=Mock()), AsyncMock(end=Mock())],
    )
    await screen.hear("ring", {})
    for line in lines:
        await screen.take_up(line, size, anew=False)
    rings = [line.tell.await_args_list.count(call("ring")) for line in lines]
    assert rings == [1, 0]
