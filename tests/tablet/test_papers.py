"""The papers of the shop at the same address: to read and to print, never to write."""

import hashlib
import re
import shutil
import sqlite3

import pytest
from served import browser, serving

DOING_SOMETHING = re.compile(
    r"<script|<iframe|<form|\son\w+=|(src|href)=\"(?!data:|#)", re.IGNORECASE
)


@pytest.fixture(scope="module")
def served(made, tmp_path_factory):
    """Return a shop, served to all tests here: they only ask."""
    place = tmp_path_factory.mktemp("papers")
    with serving(shutil.copytree(made, place / "shop"), place) as one:
        yield one


def as_it_stands(folder):
    """Return every document and every entry of a shop."""
    with sqlite3.connect(folder / "journal.db") as journal:
        entries = journal.execute("select * from events order by seq").fetchall()
    files = {
        path.relative_to(folder): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith("journal.db")
    }
    return entries, files


async def test_every_paper_is_there_and_nothing_is_written(served):
    """Each paper that is listed is a page that needs nothing beside it; the shop is as it was."""
    before = as_it_stands(served.folder)
    async with browser(served) as session:
        listed = await (await session.get(served.address + "papers")).json()
        kinds = {one["paper"] for one in listed["papers"]}
        assert kinds == {"week", "labels", "sheet", "record"}
        for kind in sorted(kinds):
            of = next(one["of"] for one in listed["papers"] if one["paper"] == kind)
            answer = await session.get(f"{served.address}papers/{kind}", params={"of": of})
            page = await answer.text()
            assert answer.status == 200, page
            assert f'content="finishsched {kind}"' in page
            assert not DOING_SOMETHING.search(page)
            policy = answer.headers["Content-Security-Policy"]
            assert policy.startswith("default-src 'none'")
            assert "script" not in policy
    assert as_it_stands(served.folder) == before


@pytest.mark.parametrize(
    ("asked", "status"),
    [
        ("papers/record?of=no-such-piece", 409),
        ("papers/record?of=../../etc/passwd", 409),
        ("papers/record?of=%00", 400),
        ("papers/sheet?of=" + "a" * 3000, 400),
        ("papers/list", 404),
        ("papers/backup", 404),
    ],
)
async def test_what_is_no_paper_is_refused_in_words(served, asked, status):
    """A piece that there is not, a path, or another paper gets no page."""
    async with browser(served) as session:
        answer = await session.get(served.address + asked)
        assert answer.status == status
        assert answer.content_type == "text/plain" or not await answer.read()
