"""Published scheduling problems, whose optima are known: the exact planner proves each of them.

Job shops: FT06 and FT10 of H. Fisher and G. L. Thompson (1963), in Muth and Thompson (eds.),
Industrial Scheduling, Prentice-Hall; LA01 of S. Lawrence (1984), Carnegie Mellon University. They
are typed in as facts. Projects: PSPLIB j30 of R. Kolisch and A. Sprecher (1996); with windows: the
ProGen/max sets SM and UBO of C. Schwindt (1998) and of B. Franck, K. Neumann and C. Schwindt. These
are read from a folder outside the project, where there is one: FINISHSCHED_BENCHMARKS names it.

The gap of the quick planner to the optimum is printed beside each; ``pytest -rA`` shows it.
"""

import csv
import os
from pathlib import Path

import pytest
from planning_loaders import InstanceError, job_shop, project, project_with_windows

from finishsched.planning.bounds import lower_bound
from finishsched.planning.exact import ExactStatus, exact_plan
from finishsched.planning.judging.checker import check
from finishsched.planning.quick import quick_plan
from finishsched.planning.score import score

pytest.importorskip("ortools", reason="the optional solver is not installed")

NAMED = os.environ.get("FINISHSCHED_BENCHMARKS")
FOLDER = Path(NAMED) if NAMED else None
LOADERS = {".txt": job_shop, ".sm": project, ".sch": project_with_windows}
LIMIT_S = 600
"""For busy machines; on an idle one with two cores the slowest takes five seconds."""

FT06 = """\
6 6
 2  1  0  3  1  6  3  7  5  3  4  6
 1  8  2  5  4 10  5 10  0 10  3  4
 2  5  3  4  5  8  0  9  1  1  4  7
 1  5  0  5  2  5  3  3  4  8  5  9
 2  9  1  3  4  5  5  4  0  3  3  1
 1  3  3  3  5  9  0 10  4  4  2  1
"""

FT10 = """\
10 10
 0 29  1 78  2  9  3 36  4 49  5 11  6 62  7 56  8 44  9 21
 0 43  2 90  4 75  9 11  3 69  1 28  6 46  5 46  7 72  8 30
 1 91  0 85  3 39  2 74  8 90  5 10  7 12  6 89  9 45  4 33
 1 81  2 95  0 71  4 99  6  9  8 52  7 85  3 98  9 22  5 43
 2 14  0  6  1 22  5 61  3 26  4 69  8 21  7 49  9 72  6 53
 2 84  1  2  5 52  3 95  8 48  9 72  0 47  6 65  4  6  7 25
 1 46  0 37  3 61  2 13  6 32  5 21  9 32  8 89  7 30  4 55
 2 31  0 86  1 46  5 74  4 32  6 88  8 19  9 48  7 36  3 79
 0 76  1 69  3 76  5 51  2 85  9 11  6 40  7 89  4 26  8 74
 1 85  0 13  2 61  6  7  8 64  9 76  5 47  3 52  4 90  7 45
"""

LA01 = """\
10 5
 1 21  0 53  4 95  3 55  2 34
 0 21  3 52  4 16  2 26  1 71
 3 39  4 98  1 42  2 31  0 12
 1 77  0 55  4 79  2 66  3 77
 0 83  3 34  2 64  1 19  4 37
 1 54  2 43  4 79  0 92  3 62
 3 69  4 77  1 87  2 87  0 93
 2 38  0 60  1 41  3 24  4 83
 3 17  1 49  4 25  0 44  2 98
 4 77  3 79  2 43  1 75  0 96
"""

TYPED_IN = {"FT06": (FT06, 55), "LA01": (LA01, 666), "FT10": (FT10, 930)}


def published():
    """Return the instances of the folder, with their optimum; None for one that has no plan."""
    table = FOLDER / "OPTIMA.csv" if FOLDER is not None else None
    if table is None or not table.is_file():
        missing = pytest.mark.skip(reason=f"no instances: FINISHSCHED_BENCHMARKS is {FOLDER}")
        return [pytest.param("", None, marks=missing, id="the folder of instances")]
    with table.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if Path(row["file"]).suffix != ".txt"]
    return [
        pytest.param(
            row["file"],
            None if row["optimum"] == "infeasible" else int(row["optimum"]),
            id=row["file"],
        )
        for row in rows
    ]


def solve(name, problem, optimum):
    """Return the exact planner's answer, and print how far the quick planner came."""
    start = quick_plan(problem, rounds=60)
    found = exact_plan(problem, start, limit_s=LIMIT_S)
    quick = score(problem, start)
    broken = f", {quick.hard_late_min} past hard windows" if quick.hard_late_min else ""
    over = f" ({quick.finish_min / optimum - 1:+.1%})" if optimum else ""
    print(f"{name}: optimum {optimum}, quick {quick.finish_min}{over}{broken}")  # noqa: T201
    return start, found


def hold(problem, optimum, start, found):
    """Hold an answer against the published optimum, and both plans against the rules."""
    assert found.status is ExactStatus.OPTIMAL
    assert found.proven
    assert score(problem, found.plan).finish_min == found.bound_min == optimum
    assert not check(problem, found.plan)
    assert lower_bound(problem) <= optimum
    if not start.left_out and not score(problem, start).hard_late_min:
        assert score(problem, start).finish_min >= optimum


@pytest.mark.parametrize("name", TYPED_IN)
def test_job_shops_are_proven_at_their_optimum(name):
    """The exact planner finds the published optimum and proves that there is no better."""
    text, optimum = TYPED_IN[name]
    problem = job_shop(text)
    hold(problem, optimum, *solve(name, problem, optimum))


@pytest.mark.parametrize(("file", "optimum"), published())
def test_projects_are_proven_at_their_optimum(file, optimum):
    """With scarce resources, and with windows: at the published optimum, or told as impossible."""
    assert FOLDER is not None
    path = FOLDER / file
    problem = LOADERS[path.suffix](path.read_text(encoding="utf-8"))
    start, found = solve(file, problem, optimum)
    if optimum is None:
        assert found.status is ExactStatus.INFEASIBLE
    else:
        hold(problem, optimum, start, found)


PROJECT = """\
jobs (incl. supersource/sink ):  4
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0
****
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------
  1      1     0       0    0
  2      1     5       2    0
  3      1     4       1    1
  4      1     0       0    0
****
RESOURCEAVAILABILITIES:
  R 1  R 2
    2    1
****
"""

WINDOWS = """\
2 1 0 0
0 1 2 1 2 [0] [3]
1 1 1 2 [7]
2 1 2 1 3 [-9] [4]
3 1 0
0 1 0 0
1 1 5 1
2 1 4 1
3 1 0 0
1
"""


def test_a_project_is_read():
    """Two jobs that do not fit beside each other take nine, by hand."""
    problem = project(PROJECT)
    assert [activity.minutes for activity in problem.activities] == [0, 5, 4]
    assert [store.capacity for store in problem.stores] == [2, 1]
    assert exact_plan(problem, quick_plan(problem), limit_s=LIMIT_S).bound_min == 9


def test_a_project_with_windows_is_read():
    """The second starts 7 to 9 after the first and takes 4: eleven, by hand."""
    problem = project_with_windows(WINDOWS)
    (lag,) = (lag for lag in problem.lags if (lag.before, lag.after) == ("1", "2"))
    assert (lag.least_min, lag.most_min, lag.remedy_min) == (2, 4, None)
    assert exact_plan(problem, quick_plan(problem), limit_s=LIMIT_S).bound_min == 11


def test_names_rulers_and_blanks_are_passed_over():
    """A file may name its instance, rule lines of plus signs, indent with tabs, end in blanks."""
    dressed = "++++++\n instance ft06\n\n ++++++\n" + FT06.replace("  ", "\t ") + "\n \n"
    assert job_shop(dressed) == job_shop(FT06)
    assert project_with_windows(WINDOWS.replace(" ", "\t ") + "\n\n").activities
    assert project(PROJECT.replace("\n", " \r\n")) == project(PROJECT)


@pytest.mark.parametrize(
    ("loader", "text"),
    [
        (job_shop, "2 2\n0 1 1 2\n"),
        (job_shop, "no numbers\n"),
        (project, PROJECT.replace("   2        1 ", "   2        3 ")),
        (project, "REQUESTS/DURATIONS\n"),
        (project_with_windows, WINDOWS.replace("1 1 1 2 [7]", "1 2 1 2 [7]")),
    ],
    ids=["lines", "numbers", "modes of a job", "sections", "modes of an activity"],
)
def test_what_is_no_instance_is_refused(loader, text):
    """Too few lines, no numbers, several modes, a section that is not there."""
    with pytest.raises(InstanceError):
        loader(text)
