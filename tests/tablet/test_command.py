"""What the command says, refuses and draws."""

import os
import re
import signal
import socket
import stat
import subprocess
import sys
import tomllib
from datetime import UTC, datetime
from pathlib import Path

import pytest
import segno
from served import PATIENCE_S, serving

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.cli.tablet.tablet import NEEDS, command
from finishsched.tablet import addresses, limits
from finishsched.tablet.code_to_scan import code_lines

pty = pytest.importorskip("pty", reason="a terminal of one's own is had where Unix is")
ADDRESS = "https://192.168.178.123:8427/#abcde-fghjk-mnpqr-stuvw"


@pytest.fixture
def call(lid, tmp_path, capsys):
    """Return a caller of the command on the shop with one piece."""

    def call_it(*arguments):
        now = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
        known = {
            "FINISHSCHED_DATA": str(tmp_path / "data"),
            "FINISHSCHED_SETTINGS": str(tmp_path / "settings.yaml"),
        }
        world = Surroundings(now=lambda: now, cwd=lid, variables=known, at_terminal=False)
        status = run(["--shop", str(lid), "tablet", *arguments], world)
        return status, capsys.readouterr()

    return call_it


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--address", "192.168.1.20"], "--address goes with --network"),
        (["--name", "shop.local"], "--name goes with --network"),
        (["--certificate", "a.pem"], "--certificate goes with --https"),
        (
            ["--https", "--certificate", "a.pem", "--certificate-key", "b.pem"],
            "b.pem; name two that are there",
        ),
        (["--https", "--certificate", "a.pem"], "--certificate and --certificate-key go together"),
        (["--network", "--name", "http://x/"], "--name: 'http://x/' is no name of a machine"),
        (["--network", "--address", "8.8.8.8"], "no address of a shop's own network"),
        (["--network", "--address", "224.0.0.1"], "no address of a shop's own network"),
        (["--network", "--address", "shop"], "'shop' is no address"),
        (["--network", "--address", "10.255.1.2"], "name another"),
        (["--https", "--certificate", "shop.yaml", "--certificate-key", "shop.yaml"], "is no cert"),
    ],
)
def test_what_cannot_be_served_is_refused_in_one_line(call, arguments, said):
    """Wrong use ends with status 2 and the remedy; no port is open, and no file is left."""
    status, told = call("--port", "0", *arguments)
    assert status == 2
    assert said in told.err
    assert told.out == ""


def test_several_slips_are_told_at_once(call):
    """Every option that stands alone is named."""
    _, told = call("--address", "10.0.0.1", "--name", "a b", "--certificate-key", "k.pem")
    assert len(told.err.splitlines()) == 4


def test_a_port_that_is_taken_is_told(call):
    """It names the port and the way out."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        status, told = call("--port", port)
    assert status == 2
    assert port in told.err
    assert "--port" in told.err


def test_without_the_extra_it_says_how_to_install_it(call, monkeypatch):
    """Nothing is imported, and nothing served."""
    monkeypatch.setattr("finishsched.cli.tablet.tablet.find_spec", lambda _: None)
    status, told = call()
    assert status == 2
    assert "pip install 'finishsched[tablet]'" in told.err


def test_faults_in_the_settings_are_told_before_any_screen_opens(call, tmp_path):
    """The file and its fault are named; nobody scans a code for that."""
    (tmp_path / "settings.yaml").write_text("settings: bench\ntheme: pink\n", "utf-8")
    status, told = call()
    assert status == 2
    assert "settings.yaml:2" in told.err


class Pointed(socket.socket):
    """A socket that is only pointed somewhere; it has nothing to send by."""

    send = sendto = sendall = sendmsg = None
    own = "192.168.7.7"

    def connect(self, _to):
        """Point it, where there is a way."""
        if not self.own:
            raise OSError(101, "Network is unreachable")

    def getsockname(self):
        """Return by which address it would go."""
        return (self.own, 40000)


def test_the_address_on_the_network_is_found_without_asking_anybody(monkeypatch):
    """A socket is only pointed there; where there is no way, or a public one, it says so."""
    monkeypatch.setattr(socket, "socket", Pointed)
    assert addresses.address_on_network() == "192.168.7.7"
    for own in ("", "8.8.8.8"):
        monkeypatch.setattr(Pointed, "own", own)
        with pytest.raises(addresses.AddressError, match="--address"):
            addresses.address_on_network()


def modules_drawn(lines, *, dark_on_light):
    """Return the modules of a code that is drawn in half blocks."""
    halves = {"█": (True, True), "▀": (True, False), "▄": (False, True), " ": (False, False)}
    rows = []
    for line in lines:
        pairs = [halves[sign] for sign in line]
        rows += [[upper == dark_on_light for upper, _ in pairs]]
        rows += [[lower == dark_on_light for _, lower in pairs]]
    return rows


@pytest.mark.parametrize("dark_on_light", [True, False])
def test_the_code_drawn_is_the_code(dark_on_light):
    """Each half block is a module of the library's own code, with quiet around it."""
    lines = code_lines(ADDRESS, columns=80, dark_on_light=dark_on_light, blocks=True)
    drawn = modules_drawn(lines, dark_on_light=dark_on_light)
    code = [
        [bool(m) for m in row] for row in segno.make_qr(ADDRESS, error="l").matrix_iter(border=2)
    ]
    assert drawn[: len(code)] == code
    assert not any(any(row) for row in drawn[len(code) :])


def test_the_code_fits_a_narrow_terminal_or_is_left_out():
    """Forty columns hold it in blocks; in letters it takes twice as many, and is not half drawn."""
    assert len(code_lines(ADDRESS, columns=40, dark_on_light=True, blocks=True)[0]) <= 40
    assert code_lines(ADDRESS, columns=40, dark_on_light=False, blocks=False) == []
    letters = code_lines(ADDRESS, columns=80, dark_on_light=False, blocks=False)
    assert set("".join(letters)) == {"#", " "}


def at_a_terminal(folder, place, **variables):
    """Run the command at a terminal until it serves, end it, and return all that it printed."""
    master, slave = pty.openpty()
    known = {**os.environ, "FINISHSCHED_DATA": str(place), "TERM": "xterm-256color", **variables}
    process = subprocess.Popen(
        [sys.executable, "-m", "finishsched", "--shop", str(folder), "tablet", "--port", "0"],
        stdin=slave, stdout=slave, stderr=slave, env=known, start_new_session=True,
    )  # fmt: skip
    os.close(slave)
    said = b""
    while b"ctrl-c ends it" not in said:
        said += os.read(master, 65536)
    process.send_signal(signal.SIGINT)
    assert process.wait(PATIENCE_S) == 0
    os.close(master)
    return said.decode()


def test_at_a_terminal_it_shows_the_code_and_the_address(lid, tmp_path):
    """In black on white, whatever the terminal's colours; no file holds the key."""
    said = at_a_terminal(lid, tmp_path)
    assert re.search(r"http://127\.0\.0\.1:\d+/#(\w{5}-){3}\w{5}\r\n", said)
    assert "\x1b[38;5;16m\x1b[48;5;231m" in said
    assert list(tmp_path.glob("tablet-*")) == []


def test_without_colours_it_draws_the_light_parts(lid, tmp_path):
    """No colour is sent, and the code is there."""
    said = at_a_terminal(lid, tmp_path, NO_COLOR="1")
    assert "\x1b[" not in said
    assert "█▀" in said


def test_the_key_is_in_no_output_that_is_kept(lid, tmp_path):
    """What a service's log would get holds no key; its file is private, and goes with the end."""
    with serving(lid, tmp_path) as served:
        assert stat.S_IMODE(served.key_file.stat().st_mode) == 0o600
        port = int(served.origin.rpartition(":")[2])
        for asked in (b"GET /#" + served.key.encode() + b" HTTP/1.1\r\n\r\n", b"\xff" * 100):
            with socket.create_connection(("127.0.0.1", port)) as one:
                one.sendall(asked)
                one.recv(1000)
        assert served.end() == 0
        kept = served.process.stdout.read() + served.process.stderr.read() + str(served.said)
        assert served.key not in kept
        assert kept.count("Traceback") == 0
        assert not served.key_file.exists()


def test_what_the_docs_say_of_it_is_so():
    """Every option that handbook and README name is there, and so are the figures of the page."""
    root = Path(__file__).parents[2]
    page = (root / "finishsched/workshop/papers/pages/tablet.md").read_text("utf-8")
    readme = (root / "README.md").read_text("utf-8")
    of_readme = readme.partition("## On a tablet or a phone")[2].partition("\n## ")[0]
    options = {name for option in command.params for name in option.opts}
    for text in (page, of_readme):
        named = set(re.findall(r"--[a-z-]+", text))
        assert named
        assert named <= options
        assert "pip install 'finishsched[tablet]'" in text
    assert (limits.MOST_BENCHES, limits.HOLD_S) == (8, 120.0)
    assert "eight at most" in page
    assert "waits two minutes" in page
    extras = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = {re.split(r"[>=<]", one)[0] for one in extras["optional-dependencies"]["tablet"]}
    assert wanted == set(NEEDS)
