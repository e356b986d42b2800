"""The week as a page to print."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser
from types import SimpleNamespace
from zoneinfo import ZoneInfo

from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step
from finishsched.planning.problem import HeldBy
from finishsched.reports.week import week_page
from finishsched.workshop.plan.answers import PlannedStep

NOW = datetime(2026, 11, 25, 16, 0, tzinfo=UTC)
HOW = "thin ovals, edge to edge"


def step(hours, *, title="lid", how=HOW, person="Nell", wait_h=0.0, coat=1):
    """Return a coat of twenty minutes so many hours from now."""
    start = NOW + timedelta(hours=hours)
    end = start + timedelta(minutes=20)
    ready = end + timedelta(hours=wait_h)
    return PlannedStep(
        key=f"chest/lid#pad:{coat}",
        ref="chest/lid",
        title=title,
        step=Step(coat, f"pad:{coat}", StageName.BODY, Verb.PAD, how, coat, 3, 1, 1),
        person=person,
        start=start,
        end=end,
        ready_earliest=ready,
        ready_likely=ready,
        ready_latest=ready,
        held_by=HeldBy.NOTHING,
        held_back_by="",
    )


def page(*steps, people=("Nell",), zone="UTC", shop="Thistle Row"):
    """Return the page of a plan with these steps."""
    plan = SimpleNamespace(now=NOW, zone=ZoneInfo(zone), people=people, steps=steps)
    return week_page(plan, shop)


class Words(HTMLParser):
    """Reads the words of a page's days, each cell and heading for itself."""

    def __init__(self, text):
        super().__init__()
        self.days = []
        self._inside = False
        self.feed(text)

    def handle_starttag(self, tag, _attrs):
        """Begin a day at its heading, and another cell at each cell."""
        if tag == "h2":
            self.days.append([""])
            self._inside = True
        elif tag == "td":
            self.days[-1].append("")

    def handle_endtag(self, tag):
        """End with the days."""
        self._inside = self._inside and tag != "main"

    def handle_data(self, data):
        """Keep words."""
        if self._inside:
            self.days[-1][-1] += " ".join(data.split())


def test_each_of_seven_days_has_its_work_and_when_it_is_ready():
    """Today's coat with its times and its wait, and six days that say that there is no work."""
    days = Words(page(step(2, wait_h=4))).days
    assert len(days) == 7
    heading, box, when, what, ready = days[0]
    assert (heading, box, when) == ("Wed 25 Nov20 min of work", "", "18:00-18:20")
    assert (what, ready) == (f"lid, 1 pad coat 1 of 3{HOW}", "ready 22:20")
    assert [day[0] for day in days[1:3]] == ["Thu 26 NovNo work.", "Fri 27 NovNo work."]


def test_how_is_said_once_a_day():
    """Of three coats alike today the first says how, and tomorrow's first again."""
    steps = [step(2, coat=1), step(3, coat=2), step(26, coat=3)]
    assert page(*steps).count(HOW) == 2


def test_the_day_is_the_shops_own():
    """Work at half past eleven in the evening in UTC is tomorrow's in a zone east of it."""
    days = Words(page(step(7.5), zone="Europe/Helsinki")).days
    assert days[1][2] == "01:30-01:50"


def test_names_stand_only_where_there_are_several():
    """One person needs no column of names; two do. Waits without hands are no work to do."""
    assert "Nell" not in page(step(2))
    assert "Nell" in page(step(2), people=("Nell", "Tam"))
    assert "20 min of work" not in page(step(2, person=""))


def test_every_text_is_escaped():
    """A shop or a piece may be named like markup; the page shows it and does not run it."""
    evil = "<script>alert(1)</script>"
    text = page(step(2, title=evil, how=evil), shop=evil, people=(evil, "Tam"))
    assert "<script" not in text
    assert text.count("&lt;script&gt;") == 4


def test_pieces_alike_are_told_ready_from_the_first_to_the_last():
    """Three worked one after another in 20 min: the first is ready 13 min 20 before the last."""
    alike = replace(step(0, wait_h=1.0), refs=("a", "b", "c"))
    assert alike.first_ready == alike.ready_likely - timedelta(minutes=13, seconds=20)
    assert alike.ready_words(UTC) == "17:07 to 17:20"
    assert step(0, wait_h=1.0).ready_words(UTC) == "17:20"
    assert step(0).ready_words(UTC) == ""
    over_midnight = replace(step(6.8, wait_h=0.9), refs=("a", "b", "c"))
    assert over_midnight.ready_words(UTC) == "23:49 to Thu 00:02"
