"""The thread beside the bench."""

import queue
import threading

import pytest
from fakes import NOW
from real_shop import PATIENCE_S

from finishsched.bench.asking.back_room import BackRoom
from finishsched.workshop.base.entries import RefusedError


@pytest.fixture
def room(demo):
    """Return a back room on the demo shop, and what takes its next answer."""
    told = queue.Queue()
    back = BackRoom(demo.folder, lambda: NOW, told.put)

    def next_one():
        told.get(timeout=PATIENCE_S).deliver()

    yield back, next_one
    back.close()


def test_an_answer_comes_back_from_a_workshop_of_its_own(room, demo):
    """The question is asked of another workshop on the same folder, on another thread."""
    back, next_one = room
    found = []
    back.ask("x", lambda shop: (shop, threading.current_thread()), found.append, found.append)
    next_one()
    shop, thread = found[0]
    assert shop is not demo
    assert shop.folder == demo.folder
    assert thread is not threading.current_thread()


def test_a_refusal_comes_back_in_words(room):
    """What goes wrong is told, and the room goes on."""
    back, next_one = room
    found = []

    def refuse(_):
        raise RefusedError("no such piece", "see them first")

    back.ask("x", refuse, found.append, lambda words: found.append(f"failed: {words}"))
    next_one()
    back.ask("y", lambda _: 1 / 0, found.append, lambda words: found.append(f"failed: {words}"))
    next_one()
    back.ask("z", lambda _: "well", found.append, found.append)
    next_one()
    assert found == ["failed: no such piece; see them first", "failed: division by zero", "well"]


def test_a_newer_question_takes_the_place_of_an_older(room):
    """While one is answered, of two with the same name only the newer waits."""
    back, next_one = room
    found = []
    go_on, begun = threading.Event(), threading.Event()

    def slow(_):
        begun.set()
        go_on.wait(PATIENCE_S)

    back.ask("slow", slow, found.append, found.append)
    assert begun.wait(PATIENCE_S)
    back.ask("x", lambda _: "old", found.append, found.append)
    back.ask("x", lambda _: "new", found.append, found.append)
    go_on.set()
    next_one()
    next_one()
    assert found == [None, "new"]


def test_closing_waits_for_nobody(room):
    """A search that goes on and on does not keep the bench open; it can see that it should end."""
    back, _ = room
    ended = threading.Event()
    begun = threading.Event()

    def search(_):
        begun.set()
        while not back.closing:
            threading.Event().wait(0.005)
        ended.set()

    back.ask("search", search, lambda _: None, lambda _: None)
    assert begun.wait(PATIENCE_S)
    back.close()
    assert ended.wait(PATIENCE_S)


def test_a_shop_that_cannot_be_opened_is_told(tmp_path):
    """Whoever waits for an answer hears why there is none."""
    told = queue.Queue()
    back = BackRoom(tmp_path / "nowhere", lambda: NOW, told.put)
    found = []
    back.ask("x", lambda _: "well", found.append, lambda words: found.append(f"failed: {words}"))
    told.get(timeout=PATIENCE_S).deliver()
    back.close()
    assert found[0].startswith("failed: ")
