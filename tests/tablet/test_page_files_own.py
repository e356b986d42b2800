"""The files of the page as they are written: read anywhere, whether there is a browser or not."""

import re

import pytest

from finishsched.tablet.page_files import PAGE

FILES = sorted(PAGE.iterdir())
MODULES = [file for file in FILES if file.suffix == ".js"]
OUTSIDE = re.compile(r"""(?:https?|wss?|ftp)://(?!www\.w3\.org/2000/svg)|["'(]//|\bdata:\w+/""")
USED = re.compile(r'(?:from |import )"\./([a-z]+\.js)"|(?:src|href)="/page/([a-z.]+)"')


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_no_file_names_another_machine(file):
    """No font, script, picture or line is fetched from outside: none even has an address for it."""
    assert OUTSIDE.search(file.read_text("utf-8")) is None


def test_each_file_is_used_and_each_that_is_used_is_there():
    """What the page and its modules ask for is what there is, the door's own page beside."""
    used = {"index.html", "lock.html"}
    for file in FILES:
        found = USED.findall(file.read_text("utf-8"))
        used |= {module or asset for module, asset in found}
    assert used == {file.name for file in FILES}


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.name)
def test_a_module_is_short_and_says_what_it_is_for(file):
    """As every module of the house: it begins with a comment, and has fewer than 400 lines."""
    lines = file.read_text("utf-8").splitlines()
    assert lines[0].startswith("// ")
    assert len(lines) < 400


def test_the_page_runs_nothing_that_stands_in_it():
    """No script, style or handler in the page itself: the policy of the server forbids them."""
    page = (PAGE / "index.html").read_text("utf-8")
    assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\bstyle=|\bon[a-z]+=", page)
