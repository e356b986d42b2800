"""The checker's findings: of documents, each at its place, and of a piece as it is worked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from finishsched.checking.cases import PieceCase, ScheduleCase, ShopCase
from finishsched.checking.findings import (
    accepted_out,
    product_findings,
    schedule_findings,
    shop_findings,
    told_once,
)
from finishsched.checking.findings import piece_findings as findings_of_piece
from finishsched.checking.rule import Finding
from finishsched.documents.faults import Fault
from finishsched.model.hours import Hours, RuleHours
from finishsched.model.job import Job, Piece
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule, schedule_of
from finishsched.model.shop import Air, Shop
from finishsched.model.step import steps_of
from finishsched.model.stock import Batch
from finishsched.model.woods_described import with_own_woods
from finishsched.workshop.base.documents import (
    Papers,
    Sheaf,
    document_paths,
    name_faults,
    on_the_shelf,
    papers_of,
    read_all,
)
from finishsched.workshop.base.place import JOURNAL_FILE, SHOP_FILE

if TYPE_CHECKING:
    from finishsched.documents.document import Document
    from finishsched.journal.progress import Book
    from finishsched.workshop.base.workshop import Workshop

_A_MONDAY = datetime(2026, 1, 5, tzinfo=UTC)
_WEEKS, _WEEKS_BY_RULE = 6, 14
"""How far hours are looked at; a rule may speak of one day a month."""


def check_folder(folder: Path, now: datetime) -> tuple[Fault, ...]:
    """Return all that is wrong with the documents of the shop in ``folder``, by file and place.

    Documents are named by their path within ``folder``. What the rules find comes with it, as
    faults whose ``rule`` is the rule's code.
    """
    sheaf = read_all(document_paths(folder), folder)
    faults = (*papers_of(sheaf, folder).faults, *_notices(sheaf.documents))
    home = folder if _has_jobs(sheaf.documents) else None
    with _book(home) as book:
        around = _around(sheaf.documents, book, _schedules_of(sheaf.documents))
        return tuple(sorted({*faults, *_by_rules(sheaf.documents, around, now)}))


def check_files(paths: list[Path], folder: Path | None, now: datetime) -> tuple[Fault, ...]:
    """Return all that is wrong with the documents at ``paths``, in the order of the paths.

    Names of products and schedules are looked for among the shipped ones, those of the shop in
    ``folder`` or else of the shop that a path lies in, and those of ``paths`` themselves; jobs and
    schedules are judged by that shop's air, hours and journal.
    """
    sheaf = read_all(paths)
    homes = _homes(paths, folder)
    given = {path.resolve() for path in paths}
    at_home = chain.from_iterable(map(document_paths, homes))
    others = read_all([path for path in at_home if path.resolve() not in given])
    faults = [*sheaf.faults, *name_faults(sheaf, others), *_notices(sheaf.documents)]
    home = homes[0] if homes and _has_jobs(sheaf.documents) else None
    with _book(home) as book:
        every = [*sheaf.documents, *others.documents]
        around = _around(every, book, _schedules_of(sheaf.documents))
        faults += _by_rules(sheaf.documents, around, now)
    order = {str(path): number for number, path in enumerate(paths)}
    return tuple(sorted(set(faults), key=lambda fault: (order.get(fault.file, 0), fault)))


def check_drafts(drafts: list[Document], folder: Path | None, now: datetime) -> tuple[Fault, ...]:
    """Return what is wrong with documents that are not written yet, by their names and places.

    They stand in for those of the shop in ``folder`` that are called the same.
    """
    names = {draft.name for draft in drafts}
    paths = document_paths(folder) if folder else []
    kept = [p for p in paths if folder and p.relative_to(folder).as_posix() not in names]
    others = read_all(kept, folder)
    faults = name_faults(Sheaf(drafts, [], []), others)
    home = folder if _has_jobs(drafts) else None
    with _book(home) as book:
        around = _around([*drafts, *others.documents], book)
        faults += _by_rules(drafts, around, now)
    return tuple(sorted(set(faults)))


def piece_findings(
    workshop: Workshop, name: str, now: datetime | None = None
) -> tuple[Finding, ...]:
    """Return what the rules find in a piece and the schedule that it runs by, the gravest first.

    What the schedule and the job accept is left out. With ``now``, dates and jars are looked at.

    Raises:
        RefusedError: for an unknown piece.

    """
    book = workshop.book()
    from finishsched.workshop.standing.where import find  # noqa: PLC0415  # dear

    standing = find(workshop, name, book)
    if standing.schedule is None or standing.of:
        return ()
    papers = workshop.papers
    around = _Around(papers.shop, papers.products, papers.schedules, book)
    case = around.schedule_case(standing.schedule)
    accepted = standing.job.accepted if standing.job else ()
    of_piece = findings_of_piece(around.piece_case(standing.piece, standing.job, case, now))
    silent = {one.rule for one in accepted}
    told = [one for one in told_once(of_piece) if one.code not in silent]
    found = (*schedule_findings(case), *told)
    return tuple(sorted(found, key=lambda finding: finding.severity, reverse=True))


def findings_on(
    papers: Papers,
    piece: Piece,
    job: Job,
    case: ScheduleCase,
    book: Book | None,
    now: datetime | None,
) -> tuple[Finding, ...]:
    """Return what the rules find in a schedule, and in a piece that is not written yet on it.

    Where it is told what time it is ``now``, its due date is judged as well.
    """
    around = _Around(papers.shop, papers.products, papers.schedules, book)
    of_piece = findings_of_piece(around.piece_case(piece, job, case, now))
    return (*schedule_findings(case), *told_once(of_piece))


def open_spans(shop: Shop) -> tuple[tuple[int, int], ...]:
    """Return when hands are in the shop in some plain weeks, in minutes; none where it says not.

    Holidays, days away and extra evenings are left out: a rule speaks of the usual weeks.
    """
    if not shop.hours and not any(person.hours for person in shop.persons):
        return ()
    from finishsched.planning.hours import hours_of, minute_of, windows_of  # noqa: PLC0415  # dear

    every = [hours_of(shop, name) for name in shop.people or ("",)]
    by_rule = [_week_of(line) for hours in every for line in _rules_of(hours)]
    begin = max((_A_MONDAY, *by_rule))
    end = begin + timedelta(weeks=_WEEKS_BY_RULE if by_rule else _WEEKS)
    spans = sorted(
        (window.start_min, window.end_min)
        for hours in every
        for window in windows_of(Hours(hours.lines), UTC, minute_of(begin), minute_of(end))
    )
    joined: list[tuple[int, int]] = []
    for start, close in spans:
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(close, joined[-1][1]))
        else:
            joined.append((start, close))
    return tuple(joined)


def _rules_of(hours: Hours) -> Iterator[RuleHours]:
    return (line for line in hours.lines if isinstance(line, RuleHours))


def _week_of(rule: RuleHours) -> datetime:
    day = rule.start.replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=UTC)
    return day + timedelta(days=-day.weekday() % 7)


@dataclass(frozen=True)
class _Around:
    """What documents are judged by: a shop, what it knows, and what its journal says."""

    shop: Shop | None
    products: Mapping[str, Product]
    schedules: Mapping[str, Schedule]
    book: Book | None = None
    looked_at: frozenset[str] = frozenset()
    """The schedules whose documents are looked at with them."""

    def schedule_case(self, schedule: Schedule) -> ScheduleCase:
        shop = self.shop or Shop("")
        return ScheduleCase(schedule, self.products, shop, read_air=self._read_air)

    def piece_case(
        self,
        piece: Piece,
        job: Job | None,
        case: ScheduleCase,
        now: datetime | None,
        path: tuple[str | int, ...] = (),
    ) -> PieceCase:
        refs = [f"{job.id}/{one.id}" if job else one.id for one in piece.each()]
        windows = any(m.step.wait and m.step.wait.next_by_s is not None for m in case.moves)
        spans = self._spans if windows else ()
        # Of pieces that are alike nothing is over before it is over on the last of them.
        passed = frozenset.intersection(*(self._passed(ref, case.schedule) for ref in refs))
        beside = self.looked_at.issuperset(piece.schedules)
        return PieceCase(
            piece,
            case,
            job,
            path,
            shop=self.shop,
            open_min=spans,
            now=now,
            passed=passed,
            batches=self._batches,
            beside_its_schedule=beside,
        )

    @cached_property
    def _spans(self) -> tuple[tuple[int, int], ...]:
        return open_spans(self.shop) if self.shop else ()

    @cached_property
    def _read_air(self) -> Air | None:
        if self.book is None:
            return None
        from finishsched.workshop.defects.air_of_late import air_of_late  # noqa: PLC0415

        return air_of_late(self.book)

    def _passed(self, ref: str, schedule: Schedule) -> frozenset[str]:
        if self.book is None or ref not in self.book.pieces:
            return frozenset()
        from finishsched.journal.progress import StepStatus, piece_progress  # noqa: PLC0415

        steps = steps_of(schedule)
        statuses = piece_progress(self.book, ref, steps).statuses
        pairs = zip(steps, statuses, strict=True)
        return frozenset(step.key for step, status in pairs if status is not StepStatus.TO_DO)

    @cached_property
    def _batches(self) -> tuple[Batch, ...]:
        if self.book is None:
            return ()
        from finishsched.journal.shelf import shelf  # noqa: PLC0415

        return tuple(shelf(self.book).batches)


def _notices(documents: list[Document]) -> Iterator[Fault]:
    for document in documents:
        yield from document.notices


def _schedules_of(documents: list[Document]) -> frozenset[str]:
    return frozenset(one.model.id for one in documents if isinstance(one.model, Schedule))


def _has_jobs(documents: list[Document]) -> bool:
    return any(isinstance(document.model, Job) for document in documents)


def _around(
    documents: list[Document], book: Book | None, looked_at: frozenset[str] = frozenset()
) -> _Around:
    shops = [d.model for d in documents if isinstance(d.model, Shop)]
    products, schedules = on_the_shelf(documents, [])
    return _Around(shops[0] if shops else None, products, schedules, book, looked_at)


@contextmanager
def _book(home: Path | None) -> Iterator[Book | None]:
    """Give what the journal says, read as it is asked; None where there is none to be read."""
    if home is None or not (home / JOURNAL_FILE).is_file():
        yield None
        return
    from finishsched.journal.faults import JournalFaultError  # noqa: PLC0415
    from finishsched.journal.store import Journal  # noqa: PLC0415

    with ExitStack() as opened:
        try:
            journal = opened.enter_context(Journal.open_or_look(home / JOURNAL_FILE))
            book = journal.book()
        except JournalFaultError:
            book = None
        yield book


def _homes(paths: list[Path], folder: Path | None) -> list[Path]:
    """Return the shops that documents are looked at in: the one named, and those they lie in."""
    found = [folder] if folder else []
    for path in paths:
        found += [p for p in path.resolve().parents if (p / SHOP_FILE).is_file()]
    return list(dict.fromkeys(found))


def _by_rules(documents: list[Document], around: _Around, now: datetime) -> Iterator[Fault]:
    for document in documents:
        for finding in _findings(document, around, now):
            line, column = document.place(*finding.path)
            yield Fault(
                document.name,
                line,
                column,
                finding.message,
                finding.remedy,
                finding.code,
                finding.severity.value,
            )


def _findings(document: Document, around: _Around, now: datetime) -> tuple[Finding, ...]:
    model = document.model
    if isinstance(model, Schedule):
        return schedule_findings(around.schedule_case(model))
    if isinstance(model, Job):
        return _job_findings(model, around, now)
    if isinstance(model, Shop):
        return shop_findings(ShopCase(model, frozenset(str(p[0]) for p in document.places if p)))
    return product_findings(model) if isinstance(model, Product) else ()


def _job_findings(job: Job, around: _Around, now: datetime) -> tuple[Finding, ...]:
    found: list[Finding] = []
    known = with_own_woods(job, around.shop.woods) if around.shop else job
    for at, piece in enumerate(known.pieces):
        schedule = schedule_of(piece.schedules, around.schedules)
        if schedule is not None:
            case = around.schedule_case(schedule)
            found += findings_of_piece(around.piece_case(piece, job, case, now, ("pieces", at)))
    # A date of the whole job is told of once, not for each of its pieces.
    once = {(one.code, one.path): one for one in reversed(found)}
    return accepted_out(reversed(once.values()), job.accepted)
