"""A shop that stays open works out again only what an entry changed, and comes to the same."""

from contextlib import suppress
from datetime import UTC, datetime, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.refusals import RefusalError
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.standing.where import cure_room, standings
from finishsched.workshop.views.views import bench_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
TOLD = st.tuples(
    st.sampled_from(["lid", "body", "lid,body"]),
    st.sampled_from(
        [What.START, What.DONE, What.DONE, What.READY, What.NOT_READY, What.NOTE, What.SKIPPED,
         What.UNDO, What.DEFECT, What.ANEW, What.WAIT]
    ),
)  # fmt: skip


def _log(workshop, turn, piece, what):
    texts = {What.WAIT: "patch glued, 2 h", What.DEFECT: "cloudy"}
    text = texts.get(what, "so" if what in (What.NOTE, What.SKIPPED, What.ANEW) else "")
    with suppress(RefusalError):
        log_entries(workshop, Entry(what, piece, text=text), NOW + timedelta(hours=3 * turn))


@settings(max_examples=30, suppress_health_check=list(HealthCheck))
@given(told=st.lists(TOLD, max_size=14))
def test_an_open_shop_stands_as_one_that_is_opened_anew(tmp_path_factory, folder, told):
    """After every entry, undo and new beginning all stands, and is told, as by a new reading."""
    place = tmp_path_factory.mktemp("shop")
    for file in folder.rglob("*.yaml"):
        copy = place / file.relative_to(folder)
        copy.parent.mkdir(exist_ok=True)
        copy.write_text(file.read_text())
    with Workshop.open(place, NOW) as stays:
        bench_view(stays, NOW)
        for turn, (piece, what) in enumerate(told):
            _log(stays, turn, piece, what)
            with Workshop.open(place, NOW) as anew:
                assert standings(stays) == standings(anew)
                assert cure_room(stays)._checks == cure_room(anew)._checks
        later = NOW + timedelta(hours=3 * len(told))
        with Workshop.open(place, NOW) as anew:
            assert bench_view(stays, later).pieces == bench_view(anew, later).pieces


def test_what_no_entry_is_about_is_not_worked_out_again(workshop):
    """An entry about one piece, by this program or another, leaves the other as it was."""
    _log(workshop, 0, "lid,body", What.DONE)
    lid, body = standings(workshop)
    _log(workshop, 1, "lid", What.NOTE)
    with Workshop.open(workshop.folder, NOW) as other:
        _log(other, 2, "lid", What.DONE)
    changed, same = standings(workshop)
    assert same is body
    assert changed is not lid


def test_a_snapshot_is_read_once(workshop):
    """Two pieces begun by the same text one after the other are worked by one reading of it."""
    _log(workshop, 0, "lid", What.DONE)
    standings(workshop)
    _log(workshop, 1, "body", What.DONE)
    lid, body = standings(workshop)
    assert lid.schedule == body.schedule
    assert lid.schedule is body.schedule
