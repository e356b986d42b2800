"""The plan beside the work: it follows entries; a better one is offered, and taken as it is."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.planning.exact import ExactAnswer, ExactStatus, WorkerFault, WorkerNews
from finishsched.planning.going_on.steady import NOTICED_MIN
from finishsched.planning.judging.checker import check
from finishsched.planning.quick import first_plan, quick_plan, re_decode
from finishsched.planning.replan import Change, ChangeKind
from finishsched.workshop.base.spans import wall
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan import better as plan_search
from finishsched.workshop.plan.better import PlanSearch, Stage
from finishsched.workshop.plan.change_sentences import Changed, changed_since
from finishsched.workshop.plan.follow import follow_plan
from finishsched.workshop.plan.memory import Remembered, recall, remember
from finishsched.workshop.plan.plans import Asked, plan_answer, shop_sound

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
DAYS = 5


class Solver:
    """Stands in for the solver's process: says what it is told to say."""

    def __init__(self, problem, start, *, limit_s, workers):
        self.problem, self.start_plan, self.limit_s = problem, start, limit_s
        self.workers = workers
        self.started = self.cancelled = False
        self.news = WorkerNews()
        self.fault = None

    def start(self):
        """Begin."""
        self.started = True

    def poll(self):
        """Return what is new."""
        if self.fault:
            raise self.fault
        return self.news

    def cancel(self):
        """End."""
        self.cancelled = True


class Solvers(list):
    """Makes them, and keeps each."""

    def __call__(self, *args, **more):
        """Make one."""
        self.append(Solver(*args, **more))
        return self[-1]


@pytest.fixture
def begun_late(workshop):
    """Return the shop, in which a plan is shown that begins days later than it could."""
    problem = shop_sound(workshop, NOW)[1].problem
    from_min = problem.now_min + DAYS * 1440
    later = replace(
        problem, activities=tuple(replace(a, release_min=from_min) for a in problem.activities)
    )
    shown = Remembered(first_plan(later), problem.now_min, workshop.book().last_seq)
    assert remember(workshop.folder, shown)
    return workshop


@pytest.fixture
def late(begun_late, monkeypatch):
    """Return the same, as if no bound ever proved a plan, so that the solver has its turn."""
    monkeypatch.setattr(plan_search, "none_worth_offering", lambda *_: False)
    return begun_late


def never():
    """Let it go on."""
    return False


def placed(plan):
    """Return what is when."""
    return {(p.key, p.start_min, p.by) for p in plan.placed}


def test_a_search_tells_what_the_plan_has_late(begun_late):
    """As soon as it looked: the same pieces, by as much, as the plan that is asked for tells."""
    for job in (begun_late.folder / "jobs").glob("*.yaml"):
        job.write_text(job.read_text().replace("due: 2026-12-20", "due: 2026-11-26"))
    with Workshop.open(begun_late.folder, NOW) as shop:
        told = PlanSearch(NOW, worker=Solvers()).go_on(shop, lambda: True).late_min
        answer = plan_answer(shop, NOW, Asked(insight=False))
    assert told
    assert told == {piece.ref: piece.late_min for piece in answer.pieces if piece.late_min}


def test_a_better_plan_is_found_and_the_one_shown_stays(late):
    """It passes the checker, ends days earlier, and nothing is kept by looking."""
    before = recall(late.folder)
    found = PlanSearch(NOW, worker=Solvers()).go_on(late, never)
    assert found.better is not None
    assert not check(shop_sound(late, NOW)[1].problem, found.better.plan)
    assert found.better.saves_min >= (DAYS - 1) * 1440
    assert recall(late.folder) == before


def test_what_is_offered_is_what_is_taken(late):
    """Taken at once the plan kept is the one that was offered, place by place."""
    better = PlanSearch(NOW, worker=Solvers()).go_on(late, never).better
    asked = Asked(insight=False, keep=True, offered=better.plan)
    again = plan_answer(late, NOW, asked)
    assert placed(again.better.plan) == placed(better.plan)
    assert not again.taken
    taken = plan_answer(late, NOW, replace(asked, take_better=True))
    assert taken.taken
    assert taken.better is None
    assert taken.changes
    assert placed(recall(late.folder).plan) == placed(better.plan)


def test_what_is_no_better_any_more_is_not_taken(late):
    """Once the plan shown is as good, the offer is withdrawn, and taking it moves nothing."""
    better = PlanSearch(NOW, worker=Solvers()).go_on(late, never).better
    asked = Asked(insight=False, keep=True, offered=better.plan, take_better=True)
    plan_answer(late, NOW, asked)
    kept = recall(late.folder).plan
    again = plan_answer(late, NOW, asked)
    assert not again.taken
    assert again.better is None
    assert placed(recall(late.folder).plan) == placed(kept)


def test_it_makes_way_when_it_is_told_to_stop_and_goes_on_later(late):
    """A search that is stopped is not over, and comes to the same end when it is asked again."""
    search = PlanSearch(NOW, worker=Solvers())
    assert search.go_on(late, lambda: True).stage is Stage.QUICK
    found = search.go_on(late, never)
    assert found.stage is Stage.EXACT
    assert found.better is not None


def test_it_begins_from_what_was_found_before(late):
    """A plan that is offered stays so, though the search is stopped before it finds any."""
    better = PlanSearch(NOW, worker=Solvers()).go_on(late, never).better
    found = PlanSearch(NOW, better.plan, worker=Solvers()).go_on(late, lambda: True)
    assert found.better is not None
    assert found.better.saves_min >= better.saves_min


def test_the_solver_begins_where_the_quick_planner_ended(late):
    """It is started once with the best plan, leaves a core free, and is then only listened to."""
    solvers = Solvers()
    search = PlanSearch(NOW, exact_s=7, worker=solvers)
    first = search.go_on(late, never)
    search.go_on(late, never)
    (solver,) = solvers
    assert solver.started
    assert solver.limit_s == 7
    assert solver.workers >= 1
    assert solver.start_plan == first.better.plan


def test_where_the_bound_leaves_nothing_to_gain_nobody_looks_on(begun_late):
    """No solver is started for it, and once it is the plan that is shown no search is begun."""
    solvers = Solvers()
    found = PlanSearch(NOW, worker=solvers).go_on(begun_late, never)
    assert found.is_over
    asked = Asked(insight=False, keep=True, offered=found.better.plan, take_better=True)
    assert plan_answer(begun_late, NOW, asked).taken
    again = PlanSearch(NOW, worker=solvers).go_on(begun_late, never)
    assert again.is_over
    assert again.better is None
    assert not solvers


def test_what_the_solver_says_is_offered(late):
    """A plan that it finds on its way is offered; its answer ends the search."""
    solvers = Solvers()
    search = PlanSearch(NOW, worker=solvers)
    problem = shop_sound(late, NOW)[1].problem
    quick = quick_plan(problem, rounds=50)
    search.go_on(late, lambda: True)
    search._stage = search._start_solver(problem)
    solvers[0].news = WorkerNews(better=quick)
    found = search.go_on(late, never)
    assert found.stage is Stage.EXACT
    assert found.better.plan == quick
    solvers[0].news = WorkerNews(
        answer=ExactAnswer(quick, proven=True, bound_min=None, status=ExactStatus.OPTIMAL)
    )
    assert search.go_on(late, never).is_over


def test_a_worse_or_broken_plan_of_the_solver_is_never_offered(late):
    """What does not pass the checker is not shown, whoever made it."""
    solvers = Solvers()
    search = PlanSearch(NOW, worker=solvers)
    first = search.go_on(late, never)
    plan = first.better.plan
    solvers[0].news = WorkerNews(better=replace(plan, placed=plan.placed[:1] * len(plan.placed)))
    after = search.go_on(late, never).better
    assert after.plan == plan
    problem = shop_sound(late, NOW)[1].problem
    solvers[0].news = WorkerNews(better=re_decode(problem, ()))
    after = search.go_on(late, never).better
    assert after.plan == plan


def test_a_solver_that_fails_ends_the_search_and_nothing_else(late):
    """The quick planner's plan is still offered."""
    solvers = Solvers()
    search = PlanSearch(NOW, worker=solvers)
    first = search.go_on(late, never)
    solvers[0].fault = WorkerFault("gone")
    found = search.go_on(late, never)
    assert found.is_over
    assert found.better == first.better


def test_cancelling_ends_the_solver_and_offers_nothing(late):
    """Whoever cancels hears no more of it, before it began as well as after."""
    solvers = Solvers()
    search = PlanSearch(NOW, worker=solvers)
    search.go_on(late, never)
    search.cancel()
    assert solvers[0].cancelled
    assert search.go_on(late, never).better is None
    unbegun = PlanSearch(NOW, worker=solvers)
    unbegun.cancel()
    assert unbegun.go_on(late, never).is_over
    assert len(solvers) == 1


def test_another_plan_that_is_kept_ends_it_the_same_one_does_not(late):
    """The gain is told against the plan that is shown."""
    solvers = Solvers()
    search = PlanSearch(NOW, worker=solvers)
    better = search.go_on(late, never).better
    plan_answer(late, NOW, Asked(insight=False, keep=True))
    assert search.go_on(late, never).stage is Stage.EXACT
    asked = Asked(insight=False, keep=True, offered=better.plan, take_better=True)
    plan_answer(late, NOW, asked)
    assert search.go_on(late, never).is_over
    assert solvers[0].cancelled


def test_without_a_solver_or_a_plan_it_is_over_at_once(late, monkeypatch):
    """The solver is an extra; a shop without a plan has nothing to be better than."""
    monkeypatch.setattr(plan_search, "solver_is_there", lambda: False)
    found = PlanSearch(NOW).go_on(late, never)
    assert found.is_over
    assert found.better is not None
    (late.folder / ".plan.json").unlink()
    assert PlanSearch(NOW).go_on(late, never).is_over


def test_the_solver_itself_comes_to_an_end(late):
    """With the real solver in its process a search ends, and its plan is no worse."""
    pytest.importorskip("ortools")
    search = PlanSearch(NOW, exact_s=20)
    first = search.go_on(late, never)
    assert first.stage is Stage.EXACT
    assert search._worker.wait(600)
    found = search.go_on(late, never)
    assert found.is_over
    assert found.better.score <= first.better.score


def test_a_plan_follows_only_what_was_logged(workshop):
    """Time alone makes no plan; an entry or a document that was edited does."""
    first = follow_plan(workshop, NOW, None)
    assert first.answer is not None
    later = NOW + timedelta(hours=1)
    workshop.mark_looked(later)
    assert follow_plan(workshop, later, first.mark).answer is None
    assert follow_plan(workshop, NOW, None).answer is None  # one is shown, and nothing was logged
    shop = workshop.folder / "shop.yaml"
    shop.write_text(shop.read_text() + "# edited\n")
    told = []
    edited = follow_plan(workshop, later, first.mark, changed=lambda: told.append("changed"))
    assert edited.answer is not None
    assert told == ["changed"]


def moved(plan, key, kind, minutes, by="Ada"):
    """Return a move of one step to where the plan has it."""
    is_min = next(int(s.start.timestamp()) // 60 for s in plan.steps if s.key == key)
    way = {ChangeKind.LATER: -1, ChangeKind.SOONER: 1}.get(kind, 0)
    was_min = is_min + way * minutes
    return Change(kind, key, minutes, was_min, is_min, by, kind is ChangeKind.HANDS)


def test_what_moved_is_said_in_a_line_and_piece_by_piece(workshop):
    """The line names the gravest, with when it is now and how much else moved."""
    plan = plan_answer(workshop, NOW, Asked(insight=False))
    assert changed_since(plan) == Changed()
    lid = [s.key for s in plan.steps if s.ref == "box/lid"]
    body = [s.key for s in plan.steps if s.ref == "box/body"]
    later = [moved(plan, key, ChangeKind.LATER, 180) for key in lid[1:3]]
    later.append(moved(plan, body[3], ChangeKind.LATER, 120))
    said = changed_since(replace(plan, changes=tuple(later)))
    second = next(s for s in plan.steps if s.key == lid[1])
    at = wall(second.start, NOW, plan.zone)
    assert said.line == f"The lid, {second.step.title} later, now {at}; 2 more moved"
    assert len(said.sentences) == 2
    missed = Change(ChangeKind.MISSED, body[2], 90)
    said = changed_since(replace(plan, changes=(*later, missed)))
    assert said.line.startswith("! The body, pad coat 2 of 2: its window is missed by 1 h 30; 3 s")


def test_a_few_minutes_and_what_is_only_new_are_no_news(workshop):
    """Every entry shifts what waits for it a little; a step put back is what the undo meant."""
    plan = plan_answer(workshop, NOW, Asked(insight=False))
    first, second = plan.steps[0].key, plan.steps[1].key
    little = moved(plan, first, ChangeKind.SOONER, NOTICED_MIN // 6)
    assert changed_since(replace(plan, changes=(little,))) == Changed()
    new = Change(ChangeKind.NEW, second, 0, None, 0)
    found = changed_since(replace(plan, changes=(little, new)))
    assert not found.line
    assert found.sentences
    hands = moved(plan, first, ChangeKind.HANDS, 0)
    assert "now for" in changed_since(replace(plan, changes=(hands,))).line
