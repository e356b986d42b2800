"""Rules about a piece in its shop: windows and hours, due dates, air, hands, jars."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, time, timedelta

from finishsched.checking.cases import PieceCase
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid
from finishsched.checking.words import duration
from finishsched.mixing.keeping import life_of
from finishsched.model.stock import Batch

SELDOM = 1 / 3
"""Of the minutes at which a coat may be laid: fewer than these, and its window is seldom met."""
LOOKED_AT_MIN = 30
"""How finely the hours are gone through."""
EMPTY_ML = 0.05
"""A jar with no more in it is empty."""


def _window_too_short(case: PieceCase) -> Iterator[Found]:
    for move, share in _windows(case):
        if share == 0:
            yield _window(case, move, "never falls within the hours of this shop")


def _window_seldom(case: PieceCase) -> Iterator[Found]:
    for move, share in _windows(case):
        if 0 < share < SELDOM:
            yield _window(
                case, move, f"falls within the hours of this shop for {100 * share:.0f} % of starts"
            )


def _window(case: PieceCase, move: Move, says: str) -> Found:
    wait = move.step.wait
    times = case.slower(move)
    opens, closes = (wait.likely_s, wait.next_by_s or 0.0) if wait else (0.0, 0.0)
    return Found(
        case.key("schedule"),
        f"the window after '{move.words}' of {case.piece.schedule} is open from "
        f"{duration(opens * times)} to {duration(closes * times)} after it and {says}",
    )


def _windows(case: PieceCase) -> Iterator[tuple[Move, float]]:
    """Give each window that closes, once, with the share of starts that it can be met from."""
    seen = set()
    for move in case.left:
        wait = move.step.wait
        if wait is None or wait.next_by_s is None or not case.open_min:
            continue
        if (wait.likely_s, wait.next_by_s) not in seen:
            seen.add((wait.likely_s, wait.next_by_s))
            per_min = case.slower(move) / 60
            opens, closes = wait.likely_s * per_min, wait.next_by_s * per_min
            yield move, _share_met(case.open_min, opens, closes)


def _share_met(spans: Sequence[tuple[int, int]], opens: float, closes: float) -> float:
    """Return from which share of the minutes in ``spans`` a window later meets one of them."""
    starts = [start for start, _ in spans]
    until = spans[-1][1] - closes
    met = tried = 0
    for begin, end in spans:
        for minute in range(begin, end, LOOKED_AT_MIN):
            if minute > until:
                break
            tried += 1
            at = bisect_right(starts, minute + closes) - 1
            met += at >= 0 and spans[at][1] > minute + opens
    return met / tried if tried else 1.0


def _due_too_soon(case: PieceCase) -> Iterator[Found]:
    due = case.piece.due or (case.job.due if case.job else None)
    if due is None or case.now is None or not case.left:
        return
    needed_s = sum(_least_s(case, move) for move in case.left)
    ready = case.now + timedelta(seconds=needed_s)
    # A date ends latest where the clocks are twelve hours behind UTC.
    ends = datetime.combine(due, time(), UTC) + timedelta(hours=36)
    if ready > ends:
        path = case.key("due") if case.piece.due else ("due",)
        yield Found(
            path,
            f"'{case.piece.title}' is due on {due.isoformat()}, and the earliest waits alone last "
            f"until {ready.date().isoformat()}",
        )


def _least_s(case: PieceCase, move: Move) -> float:
    return move.earliest_s * case.slower(move) + case.hands_s(move)


def _past_its_life(case: PieceCase) -> Iterator[Found]:
    if case.now is None:
        return
    told = set()
    at = case.now
    for move in case.left:
        name = move.step.product or ""
        jars = [jar for jar in case.batches if jar.product == name and jar.left_ml > EMPTY_ML]
        if move.verb.lays_coats and jars and name not in told:
            late = [jar for jar in jars if _is_past(jar, move, at)]
            if len(late) == len(jars):
                told.add(name)
                yield Found(
                    case.key("schedule"),
                    f"'{move.words}' comes on {at.date().isoformat()} as a rule, and "
                    f"{', '.join(jar.name for jar in late)} of {name} is past its life then",
                )
        at += timedelta(seconds=move.likely_s * case.slower(move) + case.hands_s(move))


def _is_past(jar: Batch, move: Move, at: datetime) -> bool:
    life = life_of(move.product, mixed=True)
    over_s = life.over_s or life.typical_s
    return over_s is not None and (at - jar.mixed_at).total_seconds() > over_s


def _nobody_can(case: PieceCase) -> Iterator[Found]:
    if case.shop is None or not case.shop.people:
        return
    limited = {person.name: person.skills for person in case.shop.persons if person.skills}
    if any(name not in limited for name in case.shop.people):
        return
    able = {verb for skills in limited.values() for verb in skills}
    told = set()
    for move in case.left:
        if not move.verb.does.rests and move.verb not in able and move.verb not in told:
            told.add(move.verb)
            yield Found(
                case.key("schedule"),
                f"{case.piece.schedule} has steps of '{move.verb.value}', and none of the people "
                "can do them",
            )


def _pot_life_short(case: PieceCase) -> Iterator[Found]:
    told = set()
    for move in case.left:
        product = move.product
        if product is None or product.pot_life_s is None or product.id in told:
            continue
        work_s = case.hands_s(move)
        if work_s > product.pot_life_s:
            told.add(product.id)
            yield Found(
                case.key("schedule"),
                f"'{move.words}' takes {duration(work_s)} on '{case.piece.title}', and "
                f"{product.id} can be worked for {duration(product.pot_life_s)}",
            )


def _two_coats(window: str) -> str:
    return f"""\
- stage: body
  steps:
    - brush: flow on
      product: oil-varnish
      coats: 2
      wait: {{{window}}}
      dry_check: no tack
"""


TIME_RULES = (
    Rule(
        "window-too-short",
        "A window that the shop's hours never meet",
        Severity.ERROR,
        "Some coats take the next one only within a window. Where hands are never there while it "
        "is open, every coat needs a rub between, or lets go.",
        "scuff between the coats, choose a slower finish, or keep an extra hour for it",
        "makers' data sheets for the window; the shop's own hours",
        Example(
            lid("mine"),
            ("mine", "wiped-oil"),
            Kind.PIECE,
            shop="hours: [Mon-Fri 18:00-20:00]\n",
            stages=_two_coats("earliest: 4 h, likely: 6 h, next_by: 12 h"),
        ),
        on_piece=_window_too_short,
    ),
    Rule(
        "window-seldom",
        "A window that the shop's hours seldom meet",
        Severity.ADVICE,
        "Most coats laid in these hours run out of their window before hands are there again. "
        "The few starts that fit must be planned for.",
        "begin such a coat early on a long day, or scuff between the coats",
        "makers' data sheets for the window; the shop's own hours; a third is our assumption",
        Example(
            lid("mine"),
            ("mine", "wiped-oil"),
            Kind.PIECE,
            shop="hours: [Mon-Fri 18:00-20:00, Sat 9:00-18:00]\n",
            stages=_two_coats("earliest: 4 h, likely: 6 h, next_by: 12 h"),
        ),
        on_piece=_window_seldom,
    ),
    Rule(
        "due-too-soon",
        "Due before it can be ready",
        Severity.ERROR,
        "The least that every wait takes, one after the other, is longer than what is left until "
        "the date. No hours, however long, make film cure sooner.",
        "move the date, or choose a quicker schedule",
        "the schedule's own earliest waits and hands-on times",
        Example(
            lid("tung-oil", "due: 2026-12-01\n"),
            ("due: 2026-12-01", "due: 2027-02-01"),
            Kind.PIECE,
            besides="checked on 2026-11-25, nothing of it begun",
        ),
        on_piece=_due_too_soon,
    ),
    Rule(
        "past-its-life",
        "A jar past its life at the planned date",
        Severity.ADVICE,
        "Old shellac never hardens. A jar that is good today may be past its life when the last "
        "coats of a long schedule come to it.",
        "mix fresh for that step, and try a drop on glass first",
        "the product's own life; printed lives of mixed shellac run from 3 to 12 months",
        Example(
            lid("padded-shellac-pattern"),
            ("padded-shellac-pattern", "wiping-varnish"),
            Kind.PIECE,
            besides="with one jar of shellac-dewaxed-blonde on the shelf, mixed a year ago",
        ),
        on_piece=_past_its_life,
    ),
    Rule(
        "nobody-can",
        "Work that none of the people can do",
        Severity.ERROR,
        "Each of the people has a list of what they can do, and a step of the schedule is on none "
        "of them: it is never planned.",
        "add it to somebody's skills, or choose another schedule",
        "the shop's own words",
        Example(
            lid("sprayed-lacquer-epoxy-fill"),
            ("sprayed-lacquer-epoxy-fill", "padded-shellac-closed-pored"),
            Kind.PIECE,
            shop="people:\n  - {name: Nell, skills: [sand, tack off, pad, level, spirit off]}\n",
        ),
        on_piece=_nobody_can,
    ),
    Rule(
        "pot-life-short",
        "More work than the pot life allows",
        Severity.ADVICE,
        "Once mixed it thickens, whatever you are doing. Half a panel spread with stringy epoxy "
        "is worse than none.",
        "mix it in two lots, and spread each out flat to keep it cool",
        "the product's own pot life; hands-on times of the schedule",
        Example(
            "piece: top\ntitle: Top\nschedule: sprayed-lacquer-epoxy-fill\n"
            "faces: [{face: top, area: 0.6 m2}, {face: under, area: 0.1 m2}]\n",
            ("0.6 m2", "0.1 m2"),
            Kind.PIECE,
        ),
        on_piece=_pot_life_short,
    ),
)
