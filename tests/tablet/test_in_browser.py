"""The bench on a tablet, worked by a real browser whose screen is touched.

Everything is done by points on glass and read off what is drawn; nothing is typed but a note.
"""

import math
import os
import re
import shutil
import signal
import time
from contextlib import contextmanager

import pytest
from hands import BROWSER, DRIVER, IS_CHOSEN, PATIENCE_S, WHY_NOT, tablet
from seen import CHANGED_UNDER_A_FINGER, DRESSED, SEEN_BY_A_FINGER, contrast, wear
from served import port_of_our_own, serving

from finishsched.bench.drawing.themes import THEMES
from finishsched.bench.touch.page import COLOURS
from finishsched.journal.payloads import DryNotYet, DryReady, Noted, StepDone, Undone
from finishsched.journal.store import Journal

pytestmark = [
    pytest.mark.skipif(BROWSER is None or DRIVER is None, reason=WHY_NOT),
]

TABLET, TABLET_UPRIGHT = (1280, 800), (800, 1280)
PHONE, PHONE_LYING = (390, 844), (844, 390)
SCREENS = [TABLET, TABLET_UPRIGHT, PHONE, PHONE_LYING]
TEN_INCHES_MM = 254.0
FINGER_PX = 44
"""WCAG 2.2, success criterion 2.5.5 Target Size (Enhanced), W3C 2023."""

LEAST_ARC_MIN = 20.0
"""Of the height of a letter that is to be read with ease, seen from where it is read: 20 to 22
minutes of arc preferred, 16 at least. ISO 9241-303, Ergonomics of human-system interaction,
Requirements for electronic visual displays, ISO 2011; from memory."""
ACROSS_THE_ROOM_MM = 2000.0

VISIBLE_TARGETS = """
[...document.querySelectorAll('button, input, textarea')].filter(e => e.checkVisibility())
  .map(e => [e.innerText || e.name, e.getBoundingClientRect()])
  .map(([words, box]) => [words, box.width, box.height])
"""


@pytest.fixture(scope="module")
def shop(made, tmp_path_factory):
    """Return a demo shop that this module works in."""
    return shutil.copytree(made, tmp_path_factory.mktemp("browser") / "shop")


@pytest.fixture(scope="module")
def served(shop, tmp_path_factory):
    """Return it, served."""
    with serving(shop, tmp_path_factory.mktemp("own")) as one:
        yield one


@pytest.fixture(scope="module")
def browser():
    """Return a browser, shared because it takes seconds to begin."""
    with tablet() as one:
        yield one


@pytest.fixture
def page(browser, served):
    """Return the bench on a tablet lying down, unlocked by the one tap, with the board on view."""
    browser.turn(*TABLET)
    if not browser.is_at(served.address):
        browser.open(f"{served.address}#{served.key}")
        browser.tap("#cover-button")
        browser.until("document.getElementById('cover').hidden")
    browser.go_home()
    yield browser
    assert browser.faults() == []


def events(shop, kind):
    """Return what stands in the journal of a shop, of one kind."""
    with Journal.open_or_look(shop / "journal.db") as journal:
        return [one for one in journal.events() if isinstance(one.what, kind)]


@contextmanager
def logs(shop, kind):
    """Wait, after what is done within, until one more entry of a kind stands in the journal."""
    before = len(events(shop, kind))
    yield
    give_up = time.monotonic() + PATIENCE_S
    while len(events(shop, kind)) == before:
        assert time.monotonic() < give_up, kind
        time.sleep(0.1)
    assert len(events(shop, kind)) == before + 1


def choose(page, title, said):
    """Have the row of a piece chosen, by touch, and the button for the next thing about it."""
    page.choose_row(title)
    page.until("document.querySelector('#hand .main').innerText.includes(arguments[0])", said)


def test_it_rings_after_one_tap_and_tells_of_a_server_that_ended(browser, made, tmp_path):
    """A check that is due rings by sound and shake, but not before the tap that browsers want.

    A server that ended is told large; one that was begun anew has a new key, and the page says so.
    """
    shop = shutil.copytree(made, tmp_path / "shop")
    port = port_of_our_own()
    with serving(shop, tmp_path, "--port", port) as first:
        browser.turn(*TABLET_UPRIGHT)
        browser.open(f"{first.address}#{first.key}")
        browser.until_said("Sunburst lid")
        assert browser.run("counted") == {"strokes": 0, "shakes": 0, "locks": 0, "released": 0}
        browser.tap("#cover-button")
        browser.until("document.body.dataset.rings === '1'")
        assert browser.run("counted.strokes") > 1
        assert browser.run("counted.shakes") > 1
        assert browser.run("document.body.dataset.sound") == "on"
        first.end()
        browser.until("document.getElementById('cover-title').innerText === 'NO CONNECTION'")
    with serving(shop, tmp_path, "--port", port):
        browser.until("document.getElementById('cover-title').innerText === 'SCAN ANEW'")
    browser.faults()  # of a server that was not there


def test_the_key_does_not_stay_in_the_address(page, served):
    """What is left in the address bar, the history and the page's memory opens nothing."""
    assert served.key not in page.run("location.href")
    assert served.key not in page.run("JSON.stringify([localStorage, sessionStorage])")


OPENED = ["", "more", "app.do('next-thing')", "app.do('air')"]


def opened(page, what):
    """Open the sheet, or what a key of the board opens, by its button in the sheet."""
    if what:
        page.tap(".more")
    if what not in {"", "more"}:
        page.tap(f'#sheet [data-action="{what}"]')
        page.until("document.body.dataset.on !== 'board'")


@pytest.mark.parametrize("opens", OPENED)
def test_every_target_is_as_large_as_a_finger(page, opens):
    """No button, field or row is lower or narrower than 44 CSS px, and none leaves the screen."""
    opened(page, opens)
    for size in SCREENS:
        page.turn(*size)
        page.until("innerWidth === arguments[0]", size[0])
        # The bench draws itself anew for the new screen, and a busy machine takes its time.
        page.until("document.querySelectorAll('.row').length > 1")
        for words, width, height in page.run(VISIBLE_TARGETS):
            assert min(width, height) >= FINGER_PX, (size, words)
        assert page.run("document.documentElement.scrollWidth") <= size[0]
        line_px = page.run("document.querySelectorAll('.row')[1].offsetTop")
        assert 2 * line_px >= FINGER_PX


def test_everything_grows_by_an_option(page):
    """Larger makes letters and targets larger, stays so, and smaller takes it back."""
    before = page.run("document.querySelector('#hand button').getBoundingClientRect().height")
    page.tap(".more")
    page.tap('#sheet [data-action="page larger"]')
    page.tap('#sheet [data-action="page larger"]')
    page.tap("#sheet .other")
    larger = page.run("document.querySelector('#hand button').getBoundingClientRect().height")
    assert larger == pytest.approx(1.3 * before, rel=0.05)
    # The rows grow once the bench has drawn itself anew.
    page.until("document.querySelectorAll('.row')[1].offsetTop === arguments[0]", round(1.3 * 22))
    page.tap(".more")
    page.tap('#sheet [data-action="page smaller"]')
    page.tap('#sheet [data-action="page smaller"]')
    assert page.run("localStorage.getItem('finishsched.scale')") == "1"


def test_no_button_changes_under_a_finger(page):
    """What is offered meanwhile comes when the finger is lifted, and the tap is of what it saw."""
    seen = page.driver.execute_async_script(CHANGED_UNDER_A_FINGER)
    assert seen == {"held": "ready", "taps": [["ready", 1]], "after": "other"}


def test_a_finger_taps_what_stood_there_when_it_was_aimed(page):
    """Of changes closer than a person answers, a tap is of what stood there before them all.

    240 ms: Card, Moran and Newell, The Psychology of Human-Computer Interaction, 1983.
    """
    assert page.driver.execute_async_script(SEEN_BY_A_FINGER) == [1, 1, 1, 1, 1, 3]


def test_what_is_tapped_while_the_bench_hears_nothing_is_done_once_it_does(page, served):
    """A row, and at once what is about no piece: neither is lost, however busy the bench is."""
    page.choose_row("Sunburst lid")
    (bench,) = served.benches()
    os.kill(bench, signal.SIGSTOP)
    try:
        page.tap_row("Writing slope")
        page.tap_button("app.do('plan')")
    finally:
        os.kill(bench, signal.SIGCONT)
    page.until_said("Plan: today")
    page.go_home()
    page.until(IS_CHOSEN, "Writing slope")
    page.choose_row("Sunburst lid")


def test_large_letters_are_read_from_two_metres(page):
    """On a screen of ten inches the state and its time are as high as ISO 9241-303 prefers."""
    for size in (TABLET, TABLET_UPRIGHT):
        page.turn(*size)
        page.until("innerWidth === arguments[0]", size[0])
        lines = page.text_with("██").split("\n")
        first = next(number for number, line in enumerate(lines) if "██" in line)
        height = next(n for n, line in enumerate(lines[first:]) if "█" not in line)
        line_px = page.run("document.querySelectorAll('.row')[1].offsetTop")
        mm_per_px = TEN_INCHES_MM / math.hypot(*size)
        letters_mm = height * line_px * mm_per_px
        arc_min = math.degrees(math.atan(letters_mm / ACROSS_THE_ROOM_MM)) * 60
        assert arc_min >= LEAST_ARC_MIN


_WATCHED = """
window.watched = {stale: false, sizes: new Set()};
const home = document.getElementById('screen');
new MutationObserver(() => {
  if (home.classList.contains('stale')) watched.stale = true;
  else watched.sizes.add(home.querySelectorAll('.row').length);
}).observe(home, {attributes: true, childList: true});
"""


@pytest.mark.parametrize("opens", OPENED)
def test_every_text_of_the_page_is_readable(page, opens):
    """4.5:1 for text and 3:1 for what bounds a button, in both themes (WCAG 2.2: 1.4.3, 1.4.11)."""
    opened(page, opens)
    for theme in THEMES:
        wear(page, theme)
        for words, text, ground, border, around in page.run(DRESSED):
            assert contrast(text, ground) >= 4.5, (theme, words)
            if border:
                assert max(contrast(border, around), contrast(ground, around)) >= 3.0, (
                    theme,
                    words,
                )

    wear(page, "dark")


def test_the_page_wears_the_colours_of_the_bench_before_it_is_told_them(page):
    """What its sheet of styles says for the first moment is what the dark theme says."""
    told = page.run(
        "[...document.styleSheets[0].cssRules].find(r => r.selectorText === ':root').cssText"
    )
    known = THEMES["dark"]
    for name, ours in COLOURS.items():
        wanted = known.variables.get(ours) or getattr(known, ours)
        assert f"--{name}: {wanted.lower()}" in told.lower()


def test_no_picture_of_two_sizes_is_ever_shown(page):
    """When the tablet is turned, the old picture stays, dimmed, until the new one is whole."""
    rows = "document.querySelectorAll('.row').length"
    lying = page.run(rows)
    page.driver.execute_script(_WATCHED)
    page.turn(*TABLET_UPRIGHT)
    page.until("watched.stale && !document.getElementById('screen').classList.contains('stale')")
    upright = page.run(rows)
    assert upright > 40
    assert set(page.run("[...watched.sizes]")) <= {lying, upright}


def test_a_dry_check_is_made_by_three_taps(page, shop):
    """The row, the next thing, and ready: the check stands in the journal."""
    choose(page, "Sunburst lid", "make the dry check")
    page.tap_button("app.do('next-thing')")
    page.until_on("card", "screen.ready")
    with logs(shop, DryNotYet):
        page.tap_button("screen.not_ready")
    page.until_on("board")
    with logs(shop, Undone):
        page.tap_button("app.do('undo')")
    choose(page, "Sunburst lid", "make the dry check")
    page.tap_button("app.do('next-thing')")
    page.until_on("card", "screen.ready")
    with logs(shop, DryReady):
        page.tap_button("screen.ready")


def test_a_piece_is_begun_by_taps(page):
    """Every question of the form has an answer already: take it, write it, and it is listed."""
    page.tap_button("app.do('begin')")
    page.until_on("form", "screen.hand_in")
    page.tap_button("screen.hand_in")
    page.until_on("card")
    page.leave_by_row("Write it: its wood is sanded", "board")
    page.until_said("A piece")


def test_a_sitting_is_worked_by_taps(page, shop):
    """Coats go on by one button, undo takes the last back, the screen stays awake, and it ends."""
    choose(page, "Writing slope", "press when done: pad")
    page.tap_button("app.do('sitting')")
    page.until_on("card", "screen.begin")
    page.tap_button("screen.more(1)")
    page.tap_button("screen.begin")
    page.until_on("sitting", "screen.coated")
    page.until("counted.locks === 1")
    with logs(shop, StepDone):
        page.tap_button("screen.coated")
    page.until_said("logged: Writing slope")
    with logs(shop, Undone):
        page.tap_button("screen.undo")
    page.until_said("taken back: Writing slope")
    with logs(shop, StepDone):
        page.tap_button("screen.coated")
    page.until_said("logged: Writing slope")
    page.tap_button("screen.end")
    page.until_on("board")
    page.until("counted.released === 1")


def test_it_says_where_a_browser_cannot_keep_the_screen_awake(page):
    """Over plain http on a network there is no such thing: the page says so, once it matters."""
    page.driver.execute_script("delete Navigator.prototype.wakeLock")
    page.tap(".more")
    assert "awake" in page.run("document.getElementById('sheet').innerText")
    page.tap('#sheet [data-action^="page stays on"]')
    page.until("document.getElementById('word').innerText.includes('screen awake')")
    page.tap('#sheet [data-action^="page stays on"]')


def test_a_finger_turns_what_is_longer_than_the_screen(page):
    """A stroke upwards turns the keys on by as many lines as the finger went."""
    page.turn(*PHONE)
    page.tap(".more")
    page.tap("#sheet [data-action=\"app.do('help')\"]")
    page.until_said("Keys in force")
    page.touch(180, 500, to=200)
    page.until(
        "![...document.querySelectorAll('.row')].some(r => r.textContent.includes('Keys in force'))"
    )
    assert page.run("document.body.dataset.on") == "card"


def test_a_note_is_written_with_the_keyboard_of_the_tablet(page):
    """A field of the page, its letters in the bench, and the note in the piece's log."""
    page.open_by_more("app.do('note')", "form")
    page.until_on("form", "screen.hand_in")
    page.type("#fields input", "grain lifts at the mitre – ärgerlich")
    page.tap_button("screen.hand_in")
    page.until_on("board")
    page.tap(".more")
    page.tap("#sheet [data-action=\"app.do('entries')\"]")
    page.until_said("grain lifts at the mitre – ärgerlich")


def test_a_lost_connection_is_told_large_and_found_again(page, shop):
    """The line goes and comes back by itself: the same form is open, with what was typed."""
    page.open_by_more("app.do('note')", "form")
    page.until_on("form", "screen.hand_in")
    page.type("#fields input", "half a note")
    page.network(is_there=False)
    page.until("document.getElementById('cover-title').innerText === 'NO CONNECTION'")
    assert re.match(
        r"since \d\d:\d\d, \d+ s", page.run("document.getElementById('cover-words').innerText")
    )
    letters_px = page.run(
        "parseFloat(getComputedStyle(document.getElementById('cover-title')).fontSize)"
    )
    assert letters_px >= 60
    page.network(is_there=True)
    page.until("document.getElementById('cover').hidden")
    page.until_on("form", "screen.hand_in")
    assert page.run("document.querySelector('#fields input').value") == "half a note"
    page.faults()  # of a network that was not there
    with logs(shop, Noted):
        page.tap_button("screen.hand_in")
    assert events(shop, Noted)[-1].what.text == "half a note"


def test_nothing_is_asked_for_from_outside(page):
    """Every address that the browser asked for in this module is of this machine."""
    asked = page.asked_for()
    assert len(asked) > 10
    here = re.compile(r"(https?|ws)://127\.0\.0\.1:\d+/|about:blank|data:,?$")
    assert [url for url in asked if not here.match(url)] == []
