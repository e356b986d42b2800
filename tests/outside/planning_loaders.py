"""Read published scheduling problems, in the three text formats that they are given in.

Each becomes a problem of our own with one minute for its unit of time, beginning at minute 0:

- ``job_shop``: the first line of numbers has jobs and machines; then one line per job with pairs of
  machine and duration in the order of work, machines counted from 0. Lines that hold anything else
  (``#`` comments, names, rulers of ``+``) are passed over, and what follows the last job too.
- ``project``: PSPLIB's ``.sm``, one mode for each job: the sections ``PRECEDENCE RELATIONS``,
  ``REQUESTS/DURATIONS`` and ``RESOURCEAVAILABILITIES``. Lags go from finish to start and are 0.
- ``project_with_windows``: ProGen/max's ``.sch``: activities and resources; for each activity its
  number, one mode, how many successors, these, and their lags in brackets; then its number, mode,
  duration and demands; then the capacities. Lags go from start to start; a negative lag from j to i
  is a window: j starts at most so long after i.

A machine or a resource becomes a store that an activity uses from its start to its end.
"""

import re
from collections import defaultdict

from finishsched.planning.problem import Activity, Done, Goal, Lag, Problem, Store, Use


class InstanceError(ValueError):
    """Text that is not an instance of its format, or not one that these loaders know."""


def job_shop(text):
    """Return the problem of a job shop."""
    rows = [row for row in map(_whole_numbers, text.splitlines()) if row]
    if not rows or len(rows[0]) != 2:
        raise InstanceError("no line with the number of jobs and machines")
    jobs, machines = rows[0]
    work = rows[1 : jobs + 1]
    if len(work) != jobs or any(len(row) != 2 * machines for row in work):
        raise InstanceError(f"not {jobs} lines of {machines} machines with durations")
    activities, lags = [], []
    for job, row in enumerate(work):
        for place in range(machines):
            machine, duration = row[2 * place], row[2 * place + 1]
            use = Use(f"machine {machine}")
            activities.append(Activity(f"{job}.{place}", duration, goal="all", uses=(use,)))
            if place:
                lags.append(Lag(f"{job}.{place - 1}", f"{job}.{place}"))
    stores = tuple(Store(f"machine {machine}", 1) for machine in range(machines))
    return Problem(tuple(activities), tuple(lags), stores=stores, goals=(Goal("all"),))


def project(text):
    """Return the problem of a PSPLIB project."""
    arcs, durations, demands = {}, {}, {}
    for row in _section(text, "PRECEDENCE RELATIONS"):
        job, modes, count, *after = row
        if modes != 1:
            raise InstanceError(f"job {job} has {modes} modes; only one is known")
        arcs[job] = after[:count]
    for job, _mode, duration, *demand in _section(text, "REQUESTS/DURATIONS"):
        durations[job], demands[job] = duration, demand
    capacities = _section(text, "RESOURCE ?AVAILABILITIES")[-1]
    pairs = [(job, after) for job, all_after in arcs.items() for after in all_after]
    windows = {(job, after): (durations[job], None) for job, after in pairs}
    return _problem(durations, demands, capacities, windows)


def project_with_windows(text):
    """Return the problem of a ProGen/max project."""
    lines = [line for line in text.splitlines() if line.strip()]
    count = int(lines[0].split()[0]) + 2
    forward, backward = {}, {}
    for line in lines[1 : count + 1]:
        lags = [int(lag) for lag in re.findall(r"\[\s*(-?\d+)\s*\]", line)]
        job, modes, many, *after = map(int, re.sub(r"\[[^\]]*\]", " ", line).split())
        if modes != 1 or many != len(after) or many != len(lags):
            raise InstanceError(f"activity {job} has not one mode and a lag for each successor")
        for other, lag in zip(after, lags, strict=True):
            if lag >= 0:
                forward[job, other] = lag
            else:
                backward[other, job] = -lag
    rows = [[int(word) for word in line.split()] for line in lines[count + 1 :]]
    durations = {job: duration for job, _mode, duration, *_demand in rows[:count]}
    demands = {job: demand for job, _mode, _duration, *demand in rows[:count]}
    pairs = forward.keys() | backward.keys()
    windows = {pair: (forward.get(pair), backward.get(pair)) for pair in pairs}
    return _problem(durations, demands, rows[count], windows)


def _problem(durations, demands, capacities, windows):
    """Return the problem; windows have the least and the most from start to start, or None.

    The first activity of a project is its beginning, at minute 0, and as good as done. The last is
    its end, and only as such left out: it becomes the tails of those before it.
    """
    first, last = min(durations), max(durations)
    never = -sum(durations.values()) - sum(least or 0 for least, _most in windows.values())
    tails = defaultdict(int)
    lags = []
    for (before, after), (least, most) in sorted(windows.items()):
        end = durations[before]
        if after == last and most is None and not any(pair[0] == last for pair in windows):
            tails[before] = max(least - end, 0)
            continue
        lags.append(
            Lag(
                str(before),
                str(after),
                never if least is None else least - end,
                None if most is None else most - end,
            )
        )
    kept = {key for lag in lags for key in (lag.before, lag.after)}
    activities = [
        Activity(
            str(job),
            duration,
            goal="all",
            tail_min=tails[job],
            uses=tuple(
                Use(f"R{number}", amount)
                for number, amount in enumerate(demands[job], start=1)
                if amount
            ),
        )
        for job, duration in sorted(durations.items())
        if job != last or str(job) in kept
    ]
    stores = tuple(Store(f"R{number}", size) for number, size in enumerate(capacities, start=1))
    done = (Done(str(first), 0, 0),)
    return Problem(tuple(activities), tuple(lags), stores=stores, goals=(Goal("all"),), done=done)


def _section(text, title):
    """Return the lines of whole numbers after a title, up to the next ruler of asterisks."""
    begin = re.search(title, text)
    if begin is None:
        raise InstanceError(f"no section {title}")
    body = re.split(r"\n\*{3,}", text[begin.end() :])[0]
    return [row for row in map(_whole_numbers, body.splitlines()) if row]


def _whole_numbers(line):
    """Return the numbers of a line that holds nothing else, or none."""
    words = line.partition("#")[0].split()
    return [int(word) for word in words] if all(word.isdigit() for word in words) else []
