"""The workshop: opens a shop folder, answers every question and takes every entry."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Self

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.journal.store import Journal
from finishsched.model.shop import Air
from finishsched.workshop.base import documents as shop_folder
from finishsched.workshop.base.answers import (
    AirView,
    BenchView,
    DueAnswer,
    PieceView,
    State,
    Window,
)
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.base.place import JOURNAL_FILE
from finishsched.workshop.base.zone import zone_of
from finishsched.workshop.standing.air_view import air_view
from finishsched.workshop.standing.cure import CureRoom, Laid, waits_of
from finishsched.workshop.standing.finding import unknown_piece
from finishsched.workshop.standing.notices import nobody_looked, notices
from finishsched.workshop.standing.reckoning import standings_of
from finishsched.workshop.standing.standing import BEGUN_ANEW, Standing, urgency, view_of
from finishsched.workshop.standing.windows import beside, windows

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from finishsched.workshop.air.hygrometer.reading import HygrometerLog
    from finishsched.workshop.air.hygrometer.times import Order
    from finishsched.workshop.air.imported import AirImport
    from finishsched.workshop.stock.needs import NeedAnswer
    from finishsched.workshop.stock.shelf_entries import StockEntry
    from finishsched.workshop.stock.stock import StockAnswer


@dataclass(slots=True)
class _Read:
    """What has been read, kept until something changes."""

    papers: Papers
    room: CureRoom
    stamps: tuple[tuple[str, int, int], ...]
    version: int
    seq: int = -1
    standings: tuple[Standing, ...] = ()


class Workshop:
    """One open shop folder. Not for use by two threads at once."""

    def __init__(self, folder: Path, journal: Journal, now: datetime) -> None:
        self._folder = folder
        self._journal = journal
        self._read = self._read_documents()
        self._nobody_since = nobody_looked(journal.last_look(), now)
        self._began: tuple[str, ...] = ()
        self._lent: Mapping[str, str] = {}

    @classmethod
    def open(cls, folder: Path, now: datetime) -> Workshop:
        """Open the shop in ``folder``; its journal is made when there is none yet.

        Raises:
            JournalFaultError: when the journal cannot be opened.

        """
        file = folder / JOURNAL_FILE
        found = file.exists()
        journal = Journal.open_or_look(file)
        opened = cls(folder, journal, now)
        if not found:
            opened._began = ("no journal was here: a new one was begun",)
        elif journal.only_looked_at:
            opened._began = ("the journal cannot be written here: look, but nothing is logged",)
        return opened

    def close(self) -> None:
        """Let go of the journal."""
        self._journal.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def folder(self) -> Path:
        """Where the shop is."""
        return self._folder

    @property
    def papers(self) -> Papers:
        """The documents as last read."""
        return self._read.papers

    @property
    def zone(self) -> tzinfo:
        """The shop's time zone, or the machine's."""
        return zone_of(self.papers.shop)

    @property
    def room(self) -> CureRoom:
        """The cure clocks, over the air as last read."""
        self.standings()
        return self._read.room

    def book(self) -> Book:
        """Return everything that the journal says now."""
        return self._journal.book()

    def every_event(self) -> tuple[events.Event, ...]:
        """Return every entry in the order of writing, undone ones and undos too."""
        return self._journal.events()

    def append(self, build: Callable[[Book], NewEvent], now: datetime) -> events.Event:
        """Write the entry that ``build`` makes of the journal as it is inside the write lock.

        Raises:
            JournalFaultError: when it cannot be kept; the journal is as it was.

        """
        return self._journal.append(build, now)

    def append_all(
        self, build: Callable[[Book], Sequence[NewEvent]], now: datetime
    ) -> tuple[events.Event, ...]:
        """Write several entries or none, as ``append`` writes one."""
        return self._journal.append_all(build, now)

    @contextmanager
    def trying(self, snapshots: Mapping[str, str]) -> Iterator[None]:
        """While it lasts, answer for books with entries not yet written, and their snapshots."""
        self._lent = snapshots
        try:
            yield
        finally:
            self._lent = {}
            self._read.seq = -1

    def _text_of(self, hash_: str) -> str:
        return self._lent.get(hash_) or self._journal.snapshot(hash_)

    def changed(self) -> bool:
        """Tell whether another process wrote, or a document was edited, since last asked."""
        version, stamps = self._journal.data_version(), shop_folder.stamps(self._folder)
        if version == self._read.version and stamps == self._read.stamps:
            return False
        if stamps != self._read.stamps:
            self._read = self._read_documents()
        self._read.version = version
        return True

    def _read_documents(self) -> _Read:
        stamps = shop_folder.stamps(self._folder)
        papers = shop_folder.read_papers(self._folder)
        zone = zone_of(papers.shop)
        room = CureRoom(papers.products, papers.shop.usual_air, zone, papers.shop.units.temperature)
        return _Read(papers, room, stamps, self._journal.data_version())

    def bench_view(self, now: datetime) -> BenchView:
        """Return everything that the bench shows, as it stands at ``now``."""
        shop = self.papers.shop
        return BenchView(
            shop=shop.name,
            now=now,
            zone=self.zone,
            units=shop.units,
            people=shop.people,
            air=self._air(now),
            pieces=self._views(now),
            alcohol=shop.alcohol,
            tools=shop.tools,
            notices=self._notices(now),
            windows=self._windows(now),
        )

    def due(self, now: datetime) -> DueAnswer:
        """Return what can be done now, what is next, and every running clock."""
        views = self._views(now)
        return DueAnswer(
            now=now,
            zone=self.zone,
            at_hand=tuple(v for v in views if v.state.wants_hands or v.state is State.NOT_BEGUN),
            coming=tuple(v for v in views if v.state in (State.NEARLY, State.DRYING)),
            clocks=tuple(v for v in views if v.clock is not None),
            notices=self._notices(now),
            windows=self._windows(now),
        )

    def piece(self, name: str, now: datetime) -> PieceView:
        """Return one piece by ``job/piece``, or by its own name where only one has it."""
        return view_of(self.find(name), self._read.room, now)

    def need(
        self, job: str, now: datetime, pieces: tuple[str, ...] = (), *, whole: bool = False
    ) -> NeedAnswer:
        """Return what ``job`` takes, less what stands on the shelf at ``now``.

        Of ``pieces`` only, where some are named; pieces begun are reckoned from their step in
        hand, or from their first when ``whole``.

        Raises:
            RefusedError: for a job or piece that there is not.
            DocumentFaultsError: when the job's document has faults.

        """
        from finishsched.workshop.stock.needs import NeedQuestion, need_answer  # noqa: PLC0415  # dear

        book = self._journal.book()
        question = NeedQuestion(job, pieces, whole)
        stock = self.stock(now)
        return need_answer(question, self.standings(book), self.papers, book, stock)

    def log(self, entry: Entry, now: datetime) -> events.Event:
        """Take an entry, and return it once it is safe on the disk.

        Raises:
            RefusedError: when it cannot be true; the journal is as it was.
            JournalFaultError: when it cannot be kept; the journal is as it was.

        """
        from finishsched.workshop.standing.ledger import new_event  # noqa: PLC0415
        from finishsched.workshop.stock.drawing import measured  # noqa: PLC0415  # dear, and only to log

        people = self.papers.shop.people
        if people and not entry.by:
            entry = replace(entry, by=people[0])

        def build(book: Book) -> NewEvent:
            # Read inside the write lock: another process may have logged since we last looked.
            standing = self.find(entry.piece, book)
            written = self.papers.schedules.get(standing.piece.schedule)
            new = new_event(entry, standing, written, book, now)
            if not (isinstance(new.what, events.StepDone) and new.what.batch):
                return new
            done = measured(new.what, shelf(book), self.papers.products, self.papers.shop)
            return replace(new, what=done)

        return self._journal.append(build, now)

    def stock(self, now: datetime) -> StockAnswer:
        """Return every lot and batch with its age, what is left, and whether to trust it."""
        from finishsched.workshop.stock.stock import (  # noqa: PLC0415  # dear, and few commands need it
            Judge,
            coat_needs,
            stock_answer,
        )

        judge = Judge(self.papers.products, now, coat_needs(self.standings()))
        return stock_answer(shelf(self._journal.book()), judge, self.zone, self.papers.shop.units)

    def log_stock(self, entry: StockEntry, now: datetime) -> events.Event:
        """Take an entry about stock, and return it once it is safe on the disk.

        Raises:
            RefusedError: when it cannot be true; the journal is as it was.
            JournalFaultError: when it cannot be kept; the journal is as it was.

        """
        from finishsched.workshop.stock.shelf_ledger import stock_event  # noqa: PLC0415  # only to log

        papers = self.papers
        return self._journal.append(
            lambda book: stock_event(entry, book, papers.products, papers.shop, self.zone, now), now
        )

    def remarks(self, event: events.Event, now: datetime) -> tuple[str, ...]:
        """Return what a person should hear about an entry just taken; none of it refuses it."""
        from finishsched.workshop.stock.drawing import Listener  # noqa: PLC0415  # dear, and only to log
        from finishsched.workshop.stock.stock import Judge  # noqa: PLC0415

        listener = Listener(
            shelf(self._journal.book()), Judge(self.papers.products, now), self.papers.shop
        )
        what = event.what
        if isinstance(what, events.PieceStarted) and what.anew:
            return (BEGUN_ANEW,) if self.find(event.piece or "").piece.veneer_mm else ()
        if isinstance(what, events.BatchMixed):
            return tuple(listener.of_mixing(what))
        if not isinstance(what, events.StepDone) or event.piece is None:
            return ()
        steps = {step.key: step for step in self.find(event.piece).steps}
        return tuple(listener.of_coat(what, event.at, steps.get(what.step)))

    def add_air(
        self, air: Air, now: datetime, source: str = "by hand", surface_c: float | None = None
    ) -> events.Event:
        """Log a reading of the air, and of the floor or the work; its own instant, or ``now``."""
        from finishsched.workshop.air.reading_entries import air_entry  # noqa: PLC0415  # only to log

        return self._journal.append(lambda _: air_entry(air, now, source, surface_c), now)

    def import_air(
        self, text: str, name: str, now: datetime, dates: Order | None = None
    ) -> AirImport:
        """Log every reading in the text of a hygrometer's file called ``name``, or none.

        Raises:
            HygrometerFaultError: when the file cannot be made out; the journal is as it was.

        """
        from finishsched.workshop.air.hygrometer.reading import read_hygrometer  # noqa: PLC0415  # dear

        return self.keep_air((read_hygrometer(text, name, self.zone, now, dates),), now)[0]

    def keep_air(self, logs: Sequence[HygrometerLog], now: datetime) -> tuple[AirImport, ...]:
        """Log what is new in files of readings: all of it, or nothing when that fails."""
        from finishsched.workshop.air.imported import keep_air  # noqa: PLC0415  # few commands need it

        return keep_air(self._journal, logs, self.papers.shop.usual_air.movement_m_per_s, now)

    def mark_looked(self, now: datetime) -> None:
        """Keep that somebody has the shop before the eyes, for the next one who opens it."""
        self._journal.look(now)

    def _views(self, now: datetime) -> tuple[PieceView, ...]:
        views = (view_of(standing, self._read.room, now) for standing in self.standings())
        return beside(sorted(views, key=urgency), self._windows(now))

    def standings(self, book: Book | None = None) -> tuple[Standing, ...]:
        """Return where every piece stands, by the journal as it is or as ``book`` has it."""
        book = book or self._journal.book()
        if self._read.seq != book.last_seq:
            self._read.standings = standings_of(book, self.papers, self._text_of)
            self._read.room.take(book, self._waits(book))
            self._read.seq = book.last_seq
        return self._read.standings

    def _waits(self, book: Book) -> Iterator[Laid]:
        """Give every wait that the journal knows of, for what its dry checks teach."""
        for standing in self._read.standings:
            if standing.progress is not None:
                live = book.live(standing.ref)
                yield from waits_of(standing.piece, standing.steps, live).values()
                for life in standing.earlier:
                    yield from waits_of(standing.piece, life.steps, life.entries).values()

    def find(self, name: str, book: Book | None = None) -> Standing:
        """Return one piece by ``job/piece``, or by its own name where only one has it.

        Raises:
            RefusedError: when there is none, or more than one.

        """
        standings = self.standings(book)
        found = [s for s in standings if s.ref == name] or [
            s for s in standings if s.ref.partition("/")[2] == name
        ]
        if len(found) == 1:
            return found[0]
        raise unknown_piece(name, [s.ref for s in found], [s.ref for s in standings])

    def _air(self, now: datetime) -> AirView:
        return air_view(self._journal.book(), self.room.course, self.papers.shop.usual_air, now)

    def _windows(self, now: datetime) -> tuple[Window, ...]:
        shelved = shelf(self._journal.book())
        return windows(self.standings(), shelved, self._read.room, self.papers.products, now)

    def _notices(self, now: datetime) -> tuple[str, ...]:
        began = (*self._began, *filter(None, [self._nobody_since]))
        last = self._journal.book().last_logged_at
        return (*began, *notices(last, self.papers.faults, self.standings(), now))
