"""Where every piece of the shop stands, worked out from the book and the documents."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING, TypeVar

from finishsched.journal.events import Event, PieceStarted, ReworkTaken, ScheduleAdopted
from finishsched.journal.progress import Book, progress_of, running
from finishsched.model.job import Job, Piece
from finishsched.model.plain import from_plain
from finishsched.model.schedule import Schedule
from finishsched.model.step import Step
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.standing.beside import Beside, piece_beside, taken_beside
from finishsched.workshop.standing.finding import following, wait_before
from finishsched.workshop.standing.rework import worked_steps
from finishsched.workshop.standing.sheets import made_of, step_sheet
from finishsched.workshop.standing.standing import LOG_LINES_SHOWN, Life, Standing, log_lines
from finishsched.workshop.standing.waits import waits_of

if TYPE_CHECKING:
    from finishsched.checking.defects.rework import Rework

Model = TypeVar("Model", Schedule, Piece, "Rework")


@dataclass(frozen=True, slots=True)
class Worked:
    """What was read of snapshots and worked out of documents: the same for every book."""

    snapshots: dict[tuple[type, str], object] = field(default_factory=dict)
    sheets: dict[tuple[object, ...], tuple[object, StepSheet]] = field(default_factory=dict)
    """Each with its schedule: pieces that are alike want the same, and each is dear to make."""


def standings_of(
    book: Book,
    papers: Papers,
    text_of: Callable[[str], str],
    known: Mapping[str, tuple[Standing, ...]],
    worked: Worked,
    refs: Collection[str],
) -> dict[str, tuple[Standing, ...]]:
    """Return where the pieces ``refs`` stand, each with what is worked beside it.

    By ``book``; ``text_of`` gives the snapshot of a hash; what is ``known`` of a piece still holds,
    and what was ``worked`` out by these ``papers``.
    """
    reckoner = _Reckoner(book, papers, text_of, worked)
    found: dict[str, tuple[Standing, ...]] = {}
    for named in reckoner.pieces(known, refs):
        ref = named[0]
        if ref not in known:
            beside = tuple(reckoner.beside(*named))
            itself = replace(reckoner.standing(*named), beside=tuple(map(_as_seen, beside)))
            found[ref] = (itself, *beside)
        else:
            found[ref] = known[ref]
    return found


class OneByOne:
    """Where single pieces stand by one book after another, as entries come to it.

    A standing holds what an entry is judged by, and nothing of what is only shown: neither sheets
    nor log. It is worked out again only where an entry came that can move the piece on: a notebook
    of thousands of rows asks after each.
    """

    def __init__(self, papers: Papers, text_of: Callable[[str], str]) -> None:
        self._papers = papers
        self._text_of = text_of
        self._named = {named[0]: named for named in papers.pieces_in_hand()}
        self._worked = Worked()
        self._known: dict[str, tuple[tuple[int, str], Standing]] = {}

    def standing(self, ref: str, book: Book) -> Standing | None:
        """Return where a piece stands by ``book``; None for what is worked beside one."""
        work = book.work(ref)
        mark = (len(work), work[-1].id if work else "")
        known = self._known.get(ref)
        if known is not None and known[0] == mark:
            return known[1]
        reckoner = _Reckoner(book, self._papers, self._text_of, self._worked)
        named = self._named.get(ref) or reckoner.without_document(ref)
        if named is None:
            return None
        beside = tuple(map(_as_seen, reckoner.beside(*named)))
        found = replace(reckoner.judged(*named), beside=beside)
        if not beside:  # entries about what is worked beside it move that on, and count here
            self._known[ref] = mark, found
        return found


def _as_seen(line: Standing) -> Beside:
    """Return a line of work beside a piece as that piece sees it."""
    over = line.progress is not None and line.progress.finished
    return Beside(line.ref, line.piece.title, line.holds, over)


def _goes_on(written: Schedule, running: Schedule | None) -> bool:
    """Tell whether more schedules follow the one that a piece was finished by."""
    return running is not None and written.goes_on_from(running)


@dataclass(frozen=True, slots=True)
class _Reckoner:
    book: Book
    papers: Papers
    text_of: Callable[[str], str]
    worked: Worked

    def pieces(
        self, known: Mapping[str, tuple[Standing, ...]], refs: Collection[str]
    ) -> Iterator[tuple[str, Job | None, Piece]]:
        """Give the pieces ``refs``: those of every job, and those begun whose document is gone."""
        named = {each[0]: each for each in self.papers.pieces_in_hand()}
        missing = [ref for ref in refs if ref not in named]
        named |= {each[0]: each for each in self.papers.pieces_at_rest(missing)}
        for ref in refs:
            found: tuple[str, Job | None, Piece] | None = named.get(ref)
            if found is None and ref in known:
                found = (ref, None, known[ref][0].piece)
            found = found or self.without_document(ref)
            if found is not None:
                yield found

    def without_document(self, ref: str) -> tuple[str, Job | None, Piece] | None:
        """Return a piece that was begun as its snapshot has it; None where none was."""
        started = running(self.book, ref)
        return (ref, None, self._snapshot(Piece, started.piece_hash)) if started else None

    def judged(self, ref: str, job: Job | None, piece: Piece) -> Standing:
        """Return where a piece stands, with nothing of what is only shown."""
        work = self.book.work(ref)
        begun = running(self.book, ref)
        if begun:
            schedule: Schedule | None = self._snapshot(Schedule, begun.schedule_hash)
        else:
            schedule = self.papers.schedule_of(piece)
        steps = worked_steps(schedule, work, self.text_of)
        progress = progress_of(work, steps) if begun else None
        return Standing(
            ref, piece, job, schedule, steps, progress, None, None, (), changed_schedule=False
        )

    def standing(self, ref: str, job: Job | None, piece: Piece) -> Standing:
        """Return where a piece stands, with all that is shown of it."""
        book = self.book
        judged = self.judged(ref, job, piece)
        written, schedule, steps = self.papers.schedule_of(piece), judged.schedule, judged.steps
        progress, current = judged.progress, judged.step
        waits = waits_of(piece, steps, book.work(ref)) if progress else {}
        return replace(
            judged,
            sheet=self._sheet(schedule, steps, current, piece),
            next_sheet=self._sheet(schedule, steps, following(steps, current), piece),
            log=log_lines(book.newest(ref, LOG_LINES_SHOWN), steps, shown_of(self.papers.shop)),
            changed_schedule=progress is not None
            and written is not None
            and schedule != written
            and not (progress.finished and not _goes_on(written, schedule)),
            laid=waits.get(current.key) if current and progress and progress.waiting else None,
            before=wait_before(steps, current, waits),
            earlier=tuple(self._earlier(book.work(ref))),
        )

    def beside(self, ref: str, job: Job | None, piece: Piece) -> Iterator[Standing]:
        """Give what is worked beside a piece, each as a small piece of its own."""
        taken_up = taken_beside(self.book.work(ref))
        if not taken_up:
            return
        from finishsched.checking.defects.rework import (  # noqa: PLC0415  # where one was taken
            Rework,
            rework_steps,
            schedule_of_rework,
        )

        for event in taken_up:
            taken = event.what
            assert isinstance(taken, ReworkTaken)  # noqa: S101
            rework = self._snapshot(Rework, taken.rework_hash)
            schedule, steps = schedule_of_rework(rework), rework_steps(rework, taken.number)
            spot = piece_beside(piece, taken, rework.area_m2)
            live = (event, *self.book.work(taken.beside))
            progress = progress_of(live, steps)
            current, waits = progress.current, waits_of(spot, steps, live)
            yield Standing(
                ref=taken.beside,
                piece=spot,
                job=job,
                schedule=schedule,
                steps=steps,
                progress=progress,
                sheet=self._sheet(schedule, steps, current, spot),
                next_sheet=self._sheet(schedule, steps, following(steps, current), spot),
                log=log_lines(
                    (event, *self.book.newest(taken.beside, LOG_LINES_SHOWN)),
                    steps,
                    shown_of(self.papers.shop),
                ),
                changed_schedule=False,
                laid=waits.get(current.key) if current and progress.waiting else None,
                before=wait_before(steps, current, waits),
                of=ref,
                holds=taken.before,
                bare=rework.bare,
            )

    def _earlier(self, live: tuple[Event, ...]) -> Iterator[Life]:
        """Give each life that ended in a new beginning, with the steps that it was worked by."""
        starts = [at for at, event in enumerate(live) if isinstance(event.what, PieceStarted)]
        if len(starts) < 2:
            return
        for begin, end in pairwise((0, *starts[1:])):
            entries = live[begin:end]
            payloads = [event.what for event in entries]
            texts = [what for what in payloads if isinstance(what, PieceStarted | ScheduleAdopted)]
            schedule = self._snapshot(Schedule, texts[-1].schedule_hash)
            steps = worked_steps(schedule, entries, self.text_of)
            yield Life(entries, steps, tuple(self._spots_of(entries)))

    def _spots_of(self, entries: tuple[Event, ...]) -> Iterator[tuple[str, tuple[Step, ...]]]:
        """Give what was worked beside a piece by some of its entries, each with its steps."""
        from finishsched.checking.defects.rework import Rework, rework_steps  # noqa: PLC0415

        for event in entries:
            what = event.what
            if isinstance(what, ReworkTaken) and what.beside:
                rework = self._snapshot(Rework, what.rework_hash)
                yield what.beside, rework_steps(rework, what.number)

    def _sheet(
        self, schedule: Schedule | None, steps: tuple[Step, ...], step: Step | None, piece: Piece
    ) -> StepSheet | None:
        if step is None:
            return None
        papers = self.papers
        # A schedule tells its steps; a rework of one piece may be called as that of another, and
        # moves the numbers of the steps after it: what they tell then is kept for no other time.
        reworked = any(other.is_rework for other in steps)
        of = (id(schedule), step.key, piece.area_m2, made_of(piece))
        known = None if reworked else self.worked.sheets.get(of)
        if known is None:
            made = step_sheet(
                steps, step, piece.area_m2, papers.products, papers.shop, made_of(piece)
            )
            if reworked:
                return made
            # With its schedule, which keeps that one's identity from being given to another.
            known = self.worked.sheets[of] = schedule, made
        return known[1]

    def _snapshot(self, cls: type[Model], content: str) -> Model:
        known = self.worked.snapshots.get((cls, content))
        if not isinstance(known, cls):
            known = from_plain(cls, json.loads(self.text_of(content)))
            self.worked.snapshots[cls, content] = known
        return known
