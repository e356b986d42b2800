"""The page's own terminal beside a reference one: the same bytes show the same cells.

The reference is pyte (Python Terminal Emulator), a library that follows ECMA-48 and the VT100.
"""

import asyncio
import json

import pyte
import pytest
from hands import BROWSER, DRIVER, WHY_NOT, tablet
from served import browser as session_of
from served import page as page_of
from served import serving

pytestmark = [
    pytest.mark.skipif(BROWSER is None or DRIVER is None, reason=WHY_NOT),
]

WIDTH, HEIGHT = 60, 30

FED = """
const [parts, columns, rows, done] = arguments;
import('/page/screen.js').then(({Screen}) => {
  const screen = new Screen(columns, rows);
  let bells = 0;
  screen.onBell = () => { bells += 1; };
  for (const part of parts) screen.feed(part);
  done({
    signs: screen.signs.map(row => row.join('')),
    styles: screen.styles.map(row => row.map(
      s => [s.fg, s.bg, s.bold, s.slant, s.under, s.reverse])),
    bells,
  });
}, fault => done({fault: String(fault)}));
"""

WRITTEN = {
    "text at places": "\x1b[3;5Hhere\x1b[1;1Hthere\x1b[30;57Hedge",
    "colours": "\x1b[2;2H\x1b[38;2;10;20;30;48;2;200;100;0mred\x1b[0m plain "
    "\x1b[1;3;4;7mall\x1b[22;23;24;27mnone",
    "old colours": "\x1b[5;1H\x1b[31;44mold\x1b[39;49m new \x1b[92;103mbright",
    "letters of other scripts": "\x1b[4;1Hä\u0301 – × ° ½ é̂ Ω ж",
    "wide letters": "\x1b[6;1H木工 ok",
    "what is passed over": "\x1b[?1003h\x1b]0;title\x07\x1b[?2026$p\x1b[7;1Hstill here\x1b[?25l",
    "new lines": "\x1b[8;3Hone\r\ntwo",
    "over what was there": "\x1b[9;1Hunderneath\x1b[9;3HOVER",
    "wiped": "gone\x1b[2J\x1b[1;1Hstays",
    "wiped to the end of the line": "\x1b[1;1Hlong line\x1b[1;5H\x1b[K",
}


@pytest.fixture(scope="module")
def browser(made, tmp_path_factory):
    """Return a browser on a page of ours, so that its modules can be asked for."""
    with serving(made, tmp_path_factory.mktemp("own")) as served, tablet() as one:
        one.open(f"{served.address}#{served.key}")
        one.served = served
        yield one


def of_page(browser, parts):
    """Return what the page's terminal shows of some parts."""
    shown = browser.driver.execute_async_script(FED, parts, WIDTH, HEIGHT)
    assert "fault" not in shown, shown
    return shown


def of_reference(text):
    """Return what the reference shows of a text."""
    screen = pyte.Screen(WIDTH, HEIGHT)
    pyte.Stream(screen).feed(text)
    return screen


def signs(screen):
    """Return the rows of the reference; the second half of a wide sign is nothing there too."""
    return ["".join(screen.buffer[y][x].data for x in range(WIDTH)) for y in range(HEIGHT)]


def colour(told):
    """Return a colour of the page as the reference tells it."""
    if told.startswith("rgb"):
        return "".join(f"{int(each):02x}" for each in told[4:-1].split(","))
    return told.lstrip("#") or "default"


@pytest.mark.parametrize("what", WRITTEN)
def test_what_is_written_shows_as_in_the_reference(browser, what):
    """Each thing that a bench may write shows the same signs."""
    shown = of_page(browser, [WRITTEN[what]])
    assert shown["signs"] == signs(of_reference(WRITTEN[what]))


@pytest.mark.parametrize("what", ["colours", "text at places", "over what was there"])
def test_it_looks_as_in_the_reference(browser, what):
    """Colours, weight, slant, underline and reversal of every cell agree."""
    shown = of_page(browser, [WRITTEN[what]])
    reference = of_reference(WRITTEN[what])
    for y, row in enumerate(shown["styles"]):
        for x, (fg, bg, bold, slant, under, reverse) in enumerate(row):
            cell = reference.buffer[y][x]
            assert (colour(fg), colour(bg)) == (cell.fg, cell.bg)
            assert [bold, slant, under, reverse] == [
                cell.bold, cell.italics, cell.underscore, cell.reverse,
            ]  # fmt: skip


@pytest.mark.parametrize("size", [1, 2, 3, 7, 64])
def test_a_stream_that_comes_in_pieces_shows_the_same(browser, size):
    """Wherever the network cuts it, nothing of a sequence is taken for text."""
    text = "".join(WRITTEN[what] for what in WRITTEN if what != "wiped")
    parts = [text[at : at + size] for at in range(0, len(text), size)]
    assert of_page(browser, parts)["signs"] == of_page(browser, [text])["signs"]


def test_no_text_does_more_than_show_itself(browser):
    """Unfinished and foreign sequences of any length draw nothing and end nothing."""
    text = "\x1b[" + "9" * 5000 + "\x1b[1;1Hsafe\x1b]" + "x" * 5000 + "\x07\x1b[999;999H\x1b[0Jend"
    shown = of_page(browser, [text])
    assert shown["signs"][0].startswith("safe")


def test_a_bench_looks_as_in_the_reference(browser):
    """All that a real bench draws in its first moments, cell by cell."""
    drawn = asyncio.run(drawn_by_a_bench(browser.served))
    shown = of_page(browser, [drawn])
    reference = signs(of_reference(drawn))
    assert any("Sunburst lid" in row for row in reference)
    assert shown["signs"] == reference


async def drawn_by_a_bench(served):
    """Return what a bench writes until its list and its plan stand."""
    async with (
        session_of(served) as session,
        page_of(session, served, width=WIDTH, height=HEIGHT) as opened,
    ):
        await opened.until(lambda one: b"Sunburst lid" in one.drawn and len(one.drawn) > 9000)
        return opened.drawn.decode()


def test_json_of_the_page_is_plain(browser):
    """Nothing that the screen keeps of a text is more than text."""
    shown = of_page(browser, ["\x1b[1;1H<img src=x onerror=alert(1)>"])
    assert json.dumps(shown["signs"][0]).startswith('"<img')
