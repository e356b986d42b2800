"""A piece's film: the ledger of its steps as done and as planned, and what it answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING

from finishsched.film.drawing import Section
from finishsched.film.face import FaceLine, FaceState, FaceWork, run_face
from finishsched.film.learning import Methods
from finishsched.film.ledger import Laid
from finishsched.film.limits import bears, limit_of
from finishsched.film.odds import Stakes
from finishsched.film.outlook import (
    coats_until_filled,
    filling,
    level_from,
)
from finishsched.film.stakes import stakes_of
from finishsched.film.works import start_of
from finishsched.journal.progress import StepStatus
from finishsched.journal.shelf import shelf
from finishsched.model.film import FilmRules
from finishsched.model.reason import Reason
from finishsched.model.said import Said
from finishsched.numerals import counted
from finishsched.workshop.amounts.uses import Ledger, habits_of
from finishsched.workshop.base.entries import NotToBeReadError
from finishsched.workshop.film.before import NOTHING_TO_SAY, said_before
from finishsched.workshop.film.coming import Coming
from finishsched.workshop.film.facts import (
    Entry,
    entries_of,
    gauged_work,
    known_methods,
    terms_of,
)
from finishsched.workshop.film.hand import hands_of
from finishsched.workshop.film.rows import row_of
from finishsched.workshop.film.shown import (
    BeforeLevelling,
    FilmAnswer,
    FilmRow,
    LevelFrom,
    LevelQuestion,
)
from finishsched.workshop.film.spots import spot_works, spots_told
from finishsched.workshop.standing.standing import BEGUN_ANEW, Standing
from finishsched.workshop.standing.where import as_beside, find

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop


def film_answer(
    workshop: Workshop,
    name: str,
    now: datetime | None = None,  # noqa: ARG001  # asked as every answer is; no clock decides it
    question: LevelQuestion | None = None,
) -> FilmAnswer:
    """Return the ledger of one piece, by ``job/piece`` or its own name, and what it answers.

    ``question`` asks about a grade of one's own choice on the film as it is; without it the next
    levelling of the schedule is looked at.

    Raises:
        RefusedError: for an unknown piece, or one whose schedule cannot be read.

    """
    kept, asked = _kept_of(workshop), (name, question)
    if asked not in kept.known:
        kept.known[asked] = _answer(_case(workshop, name, question))
    return kept.known[asked]


def film_now(workshop: Workshop, name: str) -> FaceState:
    """Return the face of one piece as it is now: ``film_answer(...).now``, and nothing ahead.

    Raises:
        RefusedError: as ``film_answer`` does.

    """
    kept = _kept_of(workshop)
    if name not in kept.faces:
        case = _case(workshop, name, None)
        start, works, stakes = _course(case)
        done = _lines_past(case)
        lines = run_face(works[:done], start, stakes[:done])
        kept.faces[name] = lines[-1].after if lines else start
    return kept.faces[name]


def _lines_past(case: _Case) -> int:
    """Return how many lines there are up to the last that has happened."""
    past = (number for number, entry in enumerate(case.entries, start=1) if case.is_past(entry))
    return max(past, default=0)


@dataclass(slots=True)
class _Answers:
    """Answers by one state of the journal, kept until an entry is written: each is dear to make."""

    seq: int = -1
    known: dict[tuple[str, LevelQuestion | None], FilmAnswer] = field(default_factory=dict)
    faces: dict[str, FaceState] = field(default_factory=dict)
    """As they are now."""


def _kept_of(workshop: Workshop) -> _Answers:
    kept, book = workshop.held(_Answers, _Answers), workshop.book()
    if kept.seq != book.last_seq:
        kept.seq = book.last_seq
        kept.known.clear()
        kept.faces.clear()
    return kept


def before_step_in_hand(workshop: Workshop, name: str) -> BeforeLevelling:
    """Return what to say before the step in hand of one piece, as ``before_levelling`` does.

    Only what leads up to that step is reckoned, so that a key answers at once.

    Raises:
        RefusedError: as ``film_answer`` does.

    """
    case = _case(workshop, name, None)
    steps = [entry.reckoned.step if entry.reckoned else None for entry in case.entries]
    step = case.standing.step
    if step is None or step not in steps or not step.verb.abrades:
        return NOTHING_TO_SAY
    hand = steps.index(step)
    start, works, stakes = _course(case)
    lines = run_face(works[: hand + 1], start, stakes[: hand + 1])
    row = row_of(case.entries[hand], lines[hand], case.standing.progress)
    units = workshop.papers.shop.units
    return said_before(row, _before(lines, hand, start), case.rules, units)


def _case(workshop: Workshop, name: str, question: LevelQuestion | None) -> _Case:
    book = workshop.book()
    standing = find(workshop, name, book)
    if standing.of:
        # A spot is a zone of its piece's face.
        standing = find(workshop, standing.of, book)
    if standing.schedule is None:
        raise NotToBeReadError(
            f"{standing.ref} has no schedule that can be read: {standing.piece.schedule!r}",
            "see finishsched check, and correct the job or the schedule",
        )
    everyone = as_beside(workshop, standing, book)
    ledger = Ledger(book, workshop.papers, shelf(book), habits_of(workshop, book).pads)
    known = known_methods(everyone, ledger)
    terms = terms_of(standing, ledger, known)
    spots = spot_works(standing, everyone, ledger, known)
    entries = entries_of(standing, book, terms, spots)
    return _Case(workshop, standing, entries, known, question, hands_of(book))


@dataclass(frozen=True, slots=True)
class _Case:
    """All that an answer is made of."""

    workshop: Workshop
    standing: Standing
    entries: list[Entry]
    known: Methods
    question: LevelQuestion | None
    hands: Mapping[str, tuple[float, ...]]
    """This hand's own tests, by material."""

    @property
    def rules(self) -> FilmRules:
        return self.workshop.papers.shop.film

    @property
    def most_odds(self) -> float:
        return self.rules.cut_through_odds_percent / 100

    def is_past(self, entry: Entry) -> bool:
        """Tell whether a line has happened already."""
        if entry.reading is not None:
            return not (entry.reading.on_spot and entry.reading.on_spot.ahead)
        progress = self.standing.progress
        assert entry.reckoned is not None  # noqa: S101
        if progress is None:
            return False
        return progress.status_of(entry.reckoned.step) is not StepStatus.TO_DO


def _answer(case: _Case) -> FilmAnswer:
    standing, papers = case.standing, case.workshop.papers
    start, works, stakes = _course(case)
    lines = run_face(works, start, stakes)
    progress = standing.progress
    pairs = zip(case.entries, lines, strict=True)
    rows = tuple(row_of(entry, line, progress) for entry, line in pairs)
    past = [index for index, entry in enumerate(case.entries) if case.is_past(entry)]
    state = lines[past[-1]].after if past else start
    end = lines[-1].after if lines else start
    hand = next((i for i, row in enumerate(rows) if row.step and row.step == standing.step), None)
    coat = next((line.work for line in reversed(lines) if isinstance(line.work, Laid)), None)
    laid = {step.product for step in standing.steps if step.verb.lays_coats and step.product}
    limit = limit_of(tuple(papers.products[id_] for id_ in sorted(laid) if id_ in papers.products))
    coming = Coming(case.entries, lines, past, hand, case.most_odds, case.hands, papers.products)
    left = coats_until_filled(coat, end.field) if coat and end.relief_um.likely > 0 else None
    return FilmAnswer(
        ref=standing.ref,
        title=standing.piece.title,
        rules=case.rules,
        units=papers.shop.units,
        now=state,
        end=end,
        rows=rows,
        hand=standing.step.line_of(len(standing.steps)) if standing.step else "",
        in_hand=rows[hand] if hand is not None else None,
        before=_before(lines, hand, start) if hand is not None else state,
        next_levelling=coming.next_levelling(),
        level_now=coming.level_now(state, case.question),
        paper=coming.paper(),
        filled=_filled(case.entries, lines),
        level_from=tuple(_level_from(case, lines)),
        more_to_fill=left,
        limit=limit,
        bears=bears(end.film_um, limit),
        veneer_at_first_um=start.field.veneer_at_first_um,
        coats=sum(isinstance(line.work, Laid) for line in lines),
        section=_section_of(state),
        spots=tuple(spots_told(standing.ref, state, coming.next_paper())),
        assumed=tuple(dict.fromkeys((*_anew(standing), *(n for row in rows for n in row.notes)))),
        reasons=tuple(_reasons(case, rows)),
    )


def _course(case: _Case) -> tuple[FaceState, list[FaceWork], Sequence[Stakes]]:
    """Return the face at first, what is done to it in order, and what is at stake at each."""
    standing, products = case.standing, case.workshop.papers.products
    start = start_of(standing.piece, standing.steps, products, standing.over)
    works = [_work(entry, case.rules) for entry in case.entries]
    steps = [entry.reckoned.step if entry.reckoned else None for entry in case.entries]
    return start, works, stakes_of(works, steps, products, standing.piece)


def _anew(standing: Standing) -> tuple[str, ...]:
    return (BEGUN_ANEW,) if standing.earlier and standing.piece.veneer_mm else ()


def _work(entry: Entry, rules: FilmRules) -> FaceWork:
    if entry.reading is not None:
        return gauged_work(entry.reading, rules.gauge_error_um)
    return entry.reckoned.work if entry.reckoned is not None else None


def _section_of(state: FaceState) -> Section:
    """Return a state's likely values as they are drawn."""
    course = state.likely
    veneer = state.veneer_um
    return Section(
        course.film_um,
        course.relief_um,
        course.surface_um,
        course.hollow_um,
        veneer.likely if veneer else None,
    )


def _before(lines: Sequence[FaceLine], index: int, start: FaceState) -> FaceState:
    return lines[index - 1].after if index else start


def _level_from(case: _Case, lines: Sequence[FaceLine]) -> Iterator[LevelFrom]:
    """Give of every inlay, seam and patch from when on it is level, and how it ends."""
    ends = lines[-1].after.steps_um() if lines else {}
    for name, index in level_from(lines).items():
        yield LevelFrom(name, _place(case.entries, index), ends[name])


def _filled(entries: Sequence[Entry], lines: Sequence[FaceLine]) -> tuple[str, str]:
    """Return in words where the relief is filled, likely and at worst; empty where it never is."""
    found = filling(lines)
    return _place(entries, found.likely), _place(entries, found.at_worst)


def _place(entries: Sequence[Entry], index: int | None) -> str:
    if index is None:
        return ""
    steps = [entry.reckoned.step for entry in entries[: index + 1] if entry.reckoned is not None]
    return f"{steps[-1].place}, step {steps[-1].number}" if steps else "the beginning"


def _reasons(case: _Case, rows: Sequence[FilmRow]) -> Iterator[Reason]:
    """Give each way of reckoning once, with the inputs of the step where it is first met."""
    seen: set[tuple[str | Said, ...]] = set()
    for row in rows:
        if row.reason is None or not row.changes:
            continue
        mark = (row.reason.rule, *row.reason.inputs)
        if mark not in seen:
            seen.add(mark)
            number = f"step {row.step.number}" if row.step else "gauge"
            yield replace(row.reason, inputs=(number, *row.reason.inputs))
    methods = {(row.step.product, row.step.verb) for row in rows if row.step and row.changes}
    for (product, verb), method in case.known.items():
        if (product, verb) not in methods:
            continue
        spread, film = method.spread, method.film
        if spread.readings or film.readings:
            yield Reason(
                f"this shop's own figures for {verb.value} {product}",
                (
                    f"amount x {spread.range.likely:.2f}, by {counted(spread.readings, 'entry')}",
                    f"film x {film.range.likely:.2f}, by {counted(film.readings, 'gauge reading')}",
                ),
                "weighed against the start by their variances, a normal prior",
            )
