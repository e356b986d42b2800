"""The rule of edges: paper that the face bears, and edges and corners do not."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.cutting import about_cut, bare_colour, cuts, goes_through
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.film.abrading import Backing
from finishsched.film.zones import backing_of

ALREADY_KEPT_OFF = "lay another coat first, or use a finer grade"
"""Where the step says 'off the edges' already, and strays there all the same."""


def _edges_first(case: ScheduleCase) -> Iterator[Found]:
    for cut in cuts(case, case.ledger, of_the_wood=False):
        if cut.edges_only and bare_colour(case, cut.move) is None:
            move = cut.move
            yield Found(
                move.key("grade") if move.step.grade else move.verb_path,
                f"'{move.step.title}' {cut.words}; the face itself bears it",
                ALREADY_KEPT_OFF if _kept_off(move) else "",
                about=about_cut(case, cut),
                follows=True,
            )


def _kept_off(move: Move) -> bool:
    return backing_of(f"{move.step.how} {move.step.tool}") is Backing.KEPT_OFF


def _edges_here(case: PieceCase) -> Iterator[Found]:
    for cut in cuts(case.schedule, case.ledger, of_the_wood=False):
        if cut.edges_only:
            if goes_through(case.schedule):
                return  # the schedule tells of it by itself
            yield Found(
                case.key("schedule"),
                f"on '{case.piece.title}' the step '{cut.move.words}' {cut.words}; the face "
                "itself bears it",
            )
            return


EDGE_RULES = (
    Rule(
        "edges-first",
        "Paper that the face bears, and the edges do not",
        Severity.ADVICE,
        "At an arris less film lies, and paper presses two to five times as hard: everybody sands "
        "through there first. The face is safe; one or two strokes at the edges at the very end "
        "are enough.",
        "keep off the edges, and write 'off the edges' in the step; or lay another coat first",
        "common practice; our ledger zone by zone, edge pressure from pad mechanics, our "
        "assumption within it",
        Example(
            """\
- stage: fill
  steps:
    - fill: across the grain
      product: oil-paste-filler
      amount: 80 ml/m2
      wait: {earliest: 48 h, likely: 72 h}
      dry_check: no smell of spirits
- stage: body
  steps:
    - brush: flow on
      id: first
      product: oil-varnish
      amount: 70 ml/m2
      wait: {earliest: 12 h, likely: 24 h}
      dry_check: lifts dry powder
    - {level: block, grade: P400, reach: level, lubricant: dry}
    - {brush: flow on, id: last, product: oil-varnish, amount: 70 ml/m2}
""",
            ("level: block", "level: block off the edges"),
        ),
        on_schedule=_edges_first,
        on_piece=_edges_here,
    ),
)
