"""A browser of this machine's own, touched as a tablet is: by points on glass, and nothing else."""

import base64
import json
import shutil
import time
from contextlib import contextmanager, suppress

from selenium import webdriver
from selenium.webdriver.chrome.service import Service

PATIENCE_S = 60
"""A machine that is busy with other tests answers within this; never asserted."""
SHORTLY_S = 2
"""After so long it is looked again where the page stands."""
WHILE_S = 15
"""After so long what opens nothing was not heard."""
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
BROWSER = next(filter(None, map(shutil.which, BROWSERS)), None)
DRIVER = shutil.which("chromedriver")
WHY_NOT = "needs a Chromium and its chromedriver from the system's packages"
_STEADY_S = 0.2
"""What stands where it stood so long ago is taken to stay there."""
_OPTIONS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
    "--hide-scrollbars", "--autoplay-policy=user-gesture-required",
    "--disable-background-networking",
)  # fmt: skip
# What a test cannot hear, feel or see of a tablet is counted as it is asked of it.
_COUNTED = """
window.counted = {strokes: 0, shakes: 0, locks: 0, released: 0};
const start = OscillatorNode.prototype.start;
OscillatorNode.prototype.start = function (...at) {
  counted.strokes += 1;
  return start.apply(this, at);
};
Navigator.prototype.vibrate = function () { counted.shakes += 1; return true; };
if (window.WakeLock) {
  WakeLock.prototype.request = async function () {
    counted.locks += 1;
    const lock = new EventTarget();
    lock.release = async () => { counted.released += 1; };
    return lock;
  };
}
"""
_BOX = "document.querySelector(arguments[0])?.getBoundingClientRect()"
_ROWS = "[...document.querySelectorAll('.row')]"
_IN_ROW = "r.textContent.includes(arguments[0])"
IS_CHOSEN = f"{_ROWS}.some(r => r.textContent.startsWith('›') && {_IN_ROW})"
_RUNS = "[...document.querySelectorAll('.row span')]"


class Tablet:
    """One page in a browser."""

    def __init__(self, driver):
        self.driver = driver
        self.requests = []

    def turn(self, width, height):
        """Have a screen of so many CSS px."""
        measures = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": True}
        self._browser("Emulation.setDeviceMetricsOverride", **measures)
        self._browser("Emulation.setTouchEmulationEnabled", enabled=True)

    def open(self, address):
        """Go to an address, and wait until the bench is there."""
        self.driver.get("about:blank")
        self.driver.get(address)
        self.until("document.body.dataset.on")
        self.faults()  # the door's own 401, before the key was given

    def is_at(self, address):
        """Tell whether the page of an address is open, and its bench with it."""
        is_here = self.driver.current_url.startswith(address)
        return is_here and self.run("document.body.dataset.line === 'open'")

    def go_home(self):
        """Close by taps whatever lies over the board."""
        if self.run("!document.getElementById('sheet').hidden"):
            self.tap("#sheet > .other")
        for _ in range(20):
            on = self.until("document.body.dataset.on")
            if on == "board":
                return
            # A tap on what has just been drawn anew does nothing: a person would tap again. What
            # just closed by itself has no button any more.
            with suppress(TimeoutError):
                self.tap(_of("screen.end" if on == "sitting" else "screen.close"), SHORTLY_S)
                self.until("document.body.dataset.on !== arguments[0]", on, patience_s=SHORTLY_S)
        raise TimeoutError("the board stays covered", self.text())

    def run(self, script, *given):
        """Return what an expression of the page comes to."""
        return self.driver.execute_script(f"return ({script})", *given)

    def until(self, script, *given, patience_s=PATIENCE_S):
        """Wait until an expression of the page is so, and return it."""
        give_up = time.monotonic() + patience_s
        while not (found := self.run(script, *given)):
            if time.monotonic() > give_up:
                raise TimeoutError(script, given, self.text())
            time.sleep(0.05)
        return found

    def text(self):
        """Return what the screen of the bench says."""
        return self.run(f"{_ROWS}.map(r => r.textContent).join('\\n')")

    def text_with(self, text):
        """Wait until the screen says something, and return all that it says then."""
        all_of_it = f"{_ROWS}.map(r => r.textContent).join('\\n')"
        return self.until(f"(all => all.includes(arguments[0]) && all)({all_of_it})", text)

    def until_said(self, text):
        """Wait until the screen says something."""
        self.until(f"{_ROWS}.some(r => r.textContent.includes(arguments[0]))", text)

    def until_on(self, screen, action=""):
        """Wait until another screen of the bench is on, with a button of that action."""
        self.until("document.body.dataset.on === arguments[0]", screen)
        if action:
            self.until("document.querySelector(arguments[0])", _of(action))

    def tap(self, css, patience_s=PATIENCE_S):
        """Touch the middle of an element, once it is there and can be touched."""
        self.until(
            "(e => e && (e.scrollIntoView({block: 'nearest'}), e.checkVisibility()))"
            "(document.querySelector(arguments[0]))",
            css,
            patience_s=patience_s,
        )
        where, box = None, False
        while where != box:  # what is drawn a moment later may stand elsewhere
            where = box
            time.sleep(_STEADY_S)
            box = self.until(f"{_BOX}.toJSON()", css, patience_s=patience_s)
        self.touch(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)

    def tap_button(self, action):
        """Touch the button of an action."""
        self.tap(_of(action))

    def open_by_more(self, action, screen):
        """Open a screen from the list of all keys, once more where a busy bench lost the tap."""
        for _ in range(3):
            self.tap(".more")
            self.tap(f'#sheet [data-action="{action}"]')
            with suppress(TimeoutError):
                self.until("document.body.dataset.on === arguments[0]", screen, patience_s=WHILE_S)
                return
        raise TimeoutError(action, self.text())

    def tap_row(self, text):
        """Touch the lowest row of the bench's screen that has a text by itself, or with a gap."""
        found = f"{_RUNS}.findLast(s => s.textContent.trim().split(/  +/)[0] === arguments[0])"
        where, box = None, False
        while where != box:  # what is drawn a moment later may stand elsewhere
            where = box
            time.sleep(_STEADY_S)
            box = self.until(f"{found}?.getBoundingClientRect().toJSON()", text)
        self.touch(box["x"] + 8, box["y"] + box["height"] / 2)

    def choose_row(self, text):
        """Touch the row that begins with a text, again where it moved away under the finger."""
        while not self.run(IS_CHOSEN, text):
            self.tap_row(text)
            with suppress(TimeoutError):
                self.until(IS_CHOSEN, text, patience_s=SHORTLY_S)

    def leave_by_row(self, text, screen):
        """Touch a row that leads to another screen, again where it moved away under the finger."""
        is_there = "document.body.dataset.on === arguments[0]"
        while not self.run(is_there, screen):
            with suppress(TimeoutError):
                self.tap_row(text)
                self.until(is_there, screen, patience_s=10 * SHORTLY_S)

    def touch(self, x, y, to=None):
        """Put a finger on the glass, draw it to another height, and take it off."""
        self._finger("touchStart", x, y)
        for step in range(1, 6) if to is not None else ():
            self._finger("touchMove", x, y + (to - y) * step / 5)
        self._browser("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    def type(self, css, text):
        """Type into a field of the page, in the place of what stands there."""
        self.tap(css)
        self.run("document.querySelector(arguments[0]).select()", css)
        self._browser("Input.insertText", text=text)

    def network(self, *, is_there):
        """Take the tablet out of the network, or back into it."""
        usual = {"latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}
        self._browser("Network.emulateNetworkConditions", offline=not is_there, **usual)

    def picture(self, file):
        """Keep what is on the screen."""
        png = self._browser("Page.captureScreenshot", format="png")["data"]
        file.write_bytes(base64.b64decode(png))

    def asked_for(self):
        """Return every address that the browser asked for since it was begun."""
        for entry in self.driver.get_log("performance"):
            message = json.loads(entry["message"])["message"]
            told = message["params"]
            if message["method"] == "Network.requestWillBeSent":
                self.requests.append(told["request"]["url"])
            elif message["method"] == "Network.webSocketCreated":
                self.requests.append(told["url"])
        return self.requests

    def faults(self):
        """Return what the page complained of."""
        return [e["message"] for e in self.driver.get_log("browser") if e["level"] == "SEVERE"]

    def _finger(self, kind, x, y):
        self._browser("Input.dispatchTouchEvent", type=kind, touchPoints=[{"x": x, "y": y}])

    def _browser(self, command, **more):
        return self.driver.execute_cdp_cmd(command, more)


def _of(action):
    return f'#hand [data-action="{action}"], #sheet [data-action="{action}"]'


@contextmanager
def tablet():
    """Have a browser for as long as it is needed."""
    options = webdriver.ChromeOptions()
    options.binary_location = BROWSER
    for option in _OPTIONS:
        options.add_argument(option)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(DRIVER))
    try:
        driver.execute_cdp_cmd("Network.enable", {})
        driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": _COUNTED})
        yield Tablet(driver)
    finally:
        driver.quit()
