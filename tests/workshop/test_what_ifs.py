"""What-ifs: they touch nothing, do what they say, and are compared with one plan."""

from dataclasses import replace
from datetime import date

import pytest

from finishsched.documents.formats.hours import read_away, read_extra
from finishsched.model.shop import Air
from finishsched.planning.judging.checker import check
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.plan import plans
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer

from .conftest import NOW

HOURS = 'hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]\n'
KEEP, PLAIN = Asked(keep=True, insight=False), Asked(insight=False)


@pytest.fixture
def shop(folder):
    """Return the shop with hours of its own, open."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + HOURS)
    with Workshop.open(folder, NOW) as opened:
        yield opened


def coat_of(plan):
    """Return the lid's first coat as planned."""
    return next(s for s in plan.steps if (s.ref, s.step.number) == ("box/lid", 2))


def test_what_if_touches_nothing(shop, folder):
    """Asking about other pieces, dates, hours, air and schedules changes no file."""
    plan_answer(shop, NOW, KEEP)
    before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    for what_if in (
        WhatIf(pieces=(("more", "two-coats", 0.3),)),
        WhatIf(due={"lid": date(2026, 11, 26)}),
        WhatIf(extras=(read_extra("2026-11-26 9:00-12:00"),)),
        WhatIf(away=(read_away("Ada 2026-11-25"),)),
        WhatIf(drop=frozenset({"lid"})),
        WhatIf(schedules={"lid": "wiped-oil"}),
    ):
        plan = plan_answer(
            shop, NOW, Asked(what_if=what_if, insight=False, keep=True, better=True, rounds=5)
        )
        assert check(plan.problem, plan.plan) == ()
    assert {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()} == before


def test_what_is_compared_with_is_planned_once_for_what_ifs_in_a_row(shop, monkeypatch):
    """Two what-ifs ask three plans, one of them without either; after an entry all anew."""
    asked = []
    every = plans.replan

    def counting(*given, **named):
        asked.append(given)
        return every(*given, **named)

    monkeypatch.setattr(plans, "replan", counting)
    for day in (27, 28):
        plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(by=date(2026, 11, day))))
    assert len(asked) == 3
    log_entry(shop, Entry(What.NOTE, "lid", text="so"), NOW)
    plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(by=date(2026, 11, 27))))
    assert len(asked) == 5


def test_what_ifs_do_what_they_say(shop):
    """More hours are used, a dropped piece is gone, a warmer room dries sooner."""
    as_is = plan_answer(shop, NOW, PLAIN)

    def asked(**what):
        return plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(**what), better=True, rounds=5))

    assert asked(extras=(read_extra("Thu 2026-11-26 9:00-12:00"),)).finish < as_is.finish
    assert {p.ref for p in asked(drop=frozenset({"lid"})).pieces} == {"box/body"}
    assert len(asked(pieces=(("more", "two-coats", 0.3),)).pieces) == 3
    coat, plain = coat_of(asked(air=Air(30.0, 40.0))), coat_of(as_is)
    assert coat.ready_likely - coat.end < plain.ready_likely - plain.end
    with pytest.raises(RefusedError, match="no schedule 'two-coat'; did you mean 'two-coats'"):
        asked(schedules={"lid": "two-coat"})
    with pytest.raises(RefusedError, match="no piece"):
        asked(drop=frozenset({"lit"}))
