"""What the bench looks like: few pictures, on an invented shop at a frozen instant."""

from collections.abc import Callable

import pytest
from fakes import CAUTIONS, HOUR, NOW, ZONE, bench
from textual.app import App
from textual.pilot import Pilot

from finishsched.bench.at_hand.side import Side
from finishsched.bench.pages.defect_pages import seen_card
from finishsched.bench.screens.film import FilmCard, Seen
from finishsched.bench.screens.page import Paragraph
from finishsched.bench.screens.plan import PlanFacts, PlanScreen
from finishsched.film.drawing import Section
from finishsched.planning.problem import Plan, Score
from finishsched.workshop.plan.answers import Better, Help, PlanAnswer, PlannedPiece
from finishsched.workshop.plan.timeline import Bar, Row, Stretch, Timeline
from finishsched.workshop.safety.cautions_today import caution_hash

Compare = Callable[..., bool]


def test_bench_80x24(snap_compare: Compare) -> None:
    """The bench at the usual size of a terminal, dark."""
    assert snap_compare(bench(flash=False), terminal_size=(80, 24))


def test_bench_60x20(snap_compare: Compare) -> None:
    """The bench on the smallest screen that it is made for."""
    assert snap_compare(bench(flash=False), terminal_size=(60, 20))


def test_bench_120x40_light(snap_compare: Compare) -> None:
    """The bench with room, light."""
    assert snap_compare(bench(theme="light", flash=False), terminal_size=(120, 40))


def test_bench_80x24_no_colour(monkeypatch: pytest.MonkeyPatch, snap_compare: Compare) -> None:
    """The bench where colours are turned off."""
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(bench(flash=False), terminal_size=(80, 24))


def test_dry_check_60x20(snap_compare: Compare) -> None:
    """The dry check and its two answers on the smallest screen."""
    assert snap_compare(bench(flash=False), press=["space"], terminal_size=(60, 20))


SIDE = Side(
    now=(
        "begin within 15 min: Lid, sunburst veneer: dry check, then pad coat 4 of 6, 6 min",
        "with ten minutes: Inner tray: level P400, 4 min",
    ),
    vapour="vapour 43 % of the limits, most today 45 % at 17:12",
    rags="rags can catch fire by themselves: Wiping varnish",
    read=frozenset(caution_hash(caution) for caution in CAUTIONS),
)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
def test_board_with_all_beside_it(snap_compare: Compare, size: tuple[int, int]) -> None:
    """The board with rags about, what to do now, the vapour, and cautions read today."""
    app = bench(flash=False)
    app.beside.side = SIDE
    assert snap_compare(app, terminal_size=size)


def opened(*screens: object) -> Callable[[Pilot[None]], object]:
    """Return what opens screens over the board before the picture is taken."""

    async def open_them(pilot: Pilot[None]) -> None:
        await pilot.pause()  # the board first, or it is drawn behind by half
        for screen in screens:
            pilot.app.push_screen(screen)  # type: ignore[call-overload]
        await pilot.pause()

    return open_them


def test_film_60x20(snap_compare: Compare) -> None:
    """A piece in section on the smallest screen."""
    said = (
        Paragraph("-", "film 16 um (8 to 26); relief still to fill 16 um (0 to 88)"),
        Paragraph("-", "that is more than the 5 % that this shop goes without asking"),
    )
    card = FilmCard("Film: Lid, sunburst veneer", Seen(Section(16, 16, 16, 60, 447)), said)
    app = bench(flash=False)
    assert snap_compare(app, run_before=opened(card), terminal_size=(60, 20))


def test_defect_list_60x20_light(snap_compare: Compare) -> None:
    """The list of what may be seen, light, on the smallest screen."""
    app: App[None] = bench(flash=False, theme="light")
    card = seen_card("Lid, sunburst veneer")
    assert snap_compare(app, run_before=opened(card), terminal_size=(60, 20))


def a_plan() -> PlanFacts:
    """Return a plan of two pieces, one of them at risk, with a better one on offer."""

    def bar(what: Stretch, start: float, hours: float, ref: str = "", amount: int = 1) -> Bar:
        begins = NOW + start * HOUR
        return Bar(what, begins, begins + hours * HOUR, ref=ref, amount=amount)

    lid, tray = bar(Stretch.WORK, 0.3, 0.5, "a/lid"), bar(Stretch.WORK, 1.4, 0.4, "a/tray")
    shown = Timeline(
        NOW,
        NOW + 48 * HOUR,
        ZONE,
        hands=(Row("Ana", (bar(Stretch.OPEN, -1, 4), lid, tray)), Row("Rui", ())),
        pieces=(
            Row("a/lid", (lid, bar(Stretch.WAIT, 0.8, 2.5), bar(Stretch.MAYBE, 3.3, 1.5))),
            Row("a/tray", (bar(Stretch.WAIT, -3, 3.5), tray, bar(Stretch.WAIT, 1.8, 9))),
        ),
        stores=(Row("rack", (bar(Stretch.HELD, 0.8, 4, amount=2),), capacity=2),),
    )
    end = NOW + 400 * HOUR
    plan = Plan(())
    score = Score(0, 0, 0, 0, 0, 0, 0, 0)
    pieces = (
        PlannedPiece("a/lid", "Lid", end.date(), end, end, late_odds=0.3, slack_min=400),
        PlannedPiece("a/tray", "Tray", end.date(), end, end, late_odds=0.0, slack_min=900),
    )
    answer = PlanAnswer(
        now=NOW,
        zone=ZONE,
        people=("Ana", "Rui"),
        problem=None,  # type: ignore[arg-type]  # nothing of it is drawn
        plan=plan,
        score=score,
        steps=(),
        pieces=pieces,
        finish=end,
        lower_bound=NOW,
        proven=False,
        faults=(),
        changes=(),
        decides=("a/lid: steps 49 to 64, 45 min of work and 9 d of waits",),
        helps=(Help("the room at 23 degC", 2174, 0),),
        better=Better(plan, score, saves_min=130, less_late_min=0),
        notes=(),
    )
    return PlanFacts(answer, shown)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
def test_plan(snap_compare: Compare, size: tuple[int, int]) -> None:
    """The coming days, with a promise at risk and a better plan on offer."""
    screen = PlanScreen()
    screen.facts = a_plan()
    assert snap_compare(bench(flash=False), run_before=opened(screen), terminal_size=size)
