"""What activities and lags name that there is not: hands, stores, other activities."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from finishsched.planning.plan_fault import FaultKind, PlanFault, Say, Sound
from finishsched.planning.problem import Activity, Lag, Problem, Use


def known_activities(problem: Problem, say: Say) -> Sound:
    """Take out whatever activities name that there is not.

    Args:
        problem: whose activities may name hands, stores and other activities.
        say: tells what people call an activity, by its key.

    """
    names = _Names(problem)
    faults: list[PlanFault] = []
    kept: list[Activity] = []
    for activity in problem.activities:
        strange = names.strange(activity)
        for name in strange:
            sentence = f"{say(activity.key)} names {name}, which there is not"
            faults.append(_unknown(activity.key, sentence))
        kept.append(names.without_strange(activity) if strange else activity)
    known = replace(problem, activities=tuple(kept))
    return Sound(known, tuple(faults))


class _Names:
    """All that an activity may name."""

    def __init__(self, problem: Problem) -> None:
        self.keys = {activity.key for activity in problem.activities}
        self.hands = {each.name for each in problem.hands}
        self.stores = {store.name for store in problem.stores}
        self.done = {each.key for each in problem.done}

    def strange(self, activity: Activity) -> list[str]:
        """Return what an activity names that there is not; what is done needs no hands any more."""
        by = () if activity.key in self.done else activity.by
        untils = [use.until for use in activity.uses if use.until is not None]
        hands = _without_known(by, self.hands)
        stores = _without_known([use.store for use in activity.uses], self.stores)
        ends = _without_known(untils, self.keys)
        found = [f"hands {name!r}" for name in hands]
        found += [f"store {name!r}" for name in stores]
        found += [f"{key!r}" for key in ends]
        return found

    def without_strange(self, activity: Activity) -> Activity:
        """Return an activity without that; with strange hands where it has no others."""
        by = tuple([name for name in activity.by if name in self.hands])
        first_named = activity.by[:1]
        uses: list[Use] = []
        for use in activity.uses:
            if use.store in self.stores:
                ends = use.until in self.keys
                uses.append(use if ends else replace(use, until=None))
        return replace(
            activity,
            by=by or first_named,
            uses=tuple(uses),
        )


def _without_known(names: Iterable[str], known: Collection[str]) -> list[str]:
    """Return those of some names that there are not, in the order in which they were said.

    Args:
        names: what somebody says.
        known: what there is.

    """
    return [name for name in names if name not in known]


def known_lags(problem: Problem, say: Say) -> Sound:
    """Take out the lags of activities that there are not.

    Args:
        problem: whose lags may name activities that there are not.
        say: tells what people call an activity, by its key.

    """
    keys = {activity.key for activity in problem.activities}
    faults: list[PlanFault] = []
    kept: list[Lag] = []
    for lag in problem.lags:
        missing = [key for key in (lag.before, lag.after) if key not in keys]
        for key in missing:
            there = lag.after if key == lag.before else lag.before
            sentence = f"{say(there)} is tied to {key!r}, which there is not"
            faults.append(_unknown(there, sentence))
        if not missing:
            kept.append(lag)
    known = replace(problem, lags=tuple(kept))
    return Sound(known, tuple(faults))


def _unknown(key: str, sentence: str) -> PlanFault:
    """Return that an activity names something that there is not.

    Args:
        key: the activity.
        sentence: what it names.

    """
    return PlanFault(
        kind=FaultKind.UNKNOWN,
        keys=(key,),
        minutes=0,
        sentence=sentence,
        remedy="correct the name",
    )
