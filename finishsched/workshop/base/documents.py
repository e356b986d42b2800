"""The shop folder: where it is, and the documents in it.

shop.yaml      the shop
jobs/          one file a job
schedules/     the shop's own schedules, beside the shipped ones
products/      the shop's own products, beside the shipped ones
journal.db     what happened
"""

from __future__ import annotations

import os
import stat
from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping, MutableMapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeVar, cast

from finishsched.model.job import Job, Piece
from finishsched.model.product import Product
from finishsched.model.recipe import WithRecipes
from finishsched.model.schedule import Schedule, schedule_of
from finishsched.model.shop import Shop
from finishsched.model.woods_described import OwnWood, with_own_woods
from finishsched.workshop.base.place import FOLDERS, SHOP_FILE
from finishsched.workshop.base.resting import Rested, Resting, Stamped, resting_in

if TYPE_CHECKING:
    from finishsched.documents.document import Document
    from finishsched.documents.faults import Fault
    from finishsched.documents.unread import Unread

Named = TypeVar("Named", Product, Schedule, Job)

_JOBS = f"{FOLDERS[0]}/"


@dataclass(frozen=True, slots=True)
class Papers:
    """Every document that the shop works by, and the faults of those that could not be read."""

    shop: Shop
    in_hand: tuple[Job, ...]
    """The jobs but those at rest."""
    schedules: Mapping[str, Schedule]
    products: Mapping[str, Product]
    faults: tuple[Fault, ...]
    resting: Resting = field(default_factory=Resting)
    """The jobs whose every piece is put by, read only where they are asked for."""
    files: Mapping[str, Stamped] = field(default_factory=dict)
    """By the name of a job in hand its document's file as it was read, where nothing is wrong."""

    @property
    def jobs(self) -> tuple[Job, ...]:
        """Every job, those at rest too: each of these is read for it."""
        return (*self.in_hand, *self.resting.jobs)

    @property
    def titles(self) -> Mapping[str, str]:
        """By the id of every job its title; of those at rest none is read."""
        return dict(self.resting.titles()) | {job.id: job.title for job in self.in_hand}

    def job_called(self, name: str) -> Job | None:
        """Return the job of that id or title, whose capitals do not count; None for none."""
        wanted = name.lower()
        for job in self.in_hand:
            if wanted in (job.id, job.title.lower()):
                return job
        at_rest = (id_ for id_, title in self.resting.titles() if wanted in (id_, title.lower()))
        return next(filter(None, map(self.resting.job, at_rest)), None)

    def pieces(self) -> Iterator[tuple[str, Job, Piece]]:
        """Give each piece with its reference ``job/piece`` and its job, those alike one by one.

        Woods of the shop's own are described in them; ``jobs`` are as their documents have them.
        """
        return self._pieces_of(self.jobs)

    def pieces_in_hand(self) -> Iterator[tuple[str, Job, Piece]]:
        """Give the same of all jobs but those at rest."""
        return self._pieces_of(self.in_hand)

    def pieces_at_rest(self, refs: Iterable[str]) -> Iterator[tuple[str, Job, Piece]]:
        """Give the same of those of ``refs`` whose job is at rest, reading no other."""
        wanted = set(refs)
        jobs = (self.resting.job(id_) for id_ in dict.fromkeys(map(job_of, refs)))
        found = self._pieces_of(job for job in jobs if job is not None)
        return (named for named in found if named[0] in wanted)

    def _pieces_of(self, jobs: Iterable[Job]) -> Iterator[tuple[str, Job, Piece]]:
        for written in jobs:
            job = with_own_woods(written, self.shop.woods)
            for piece in job.each_piece():
                yield f"{job.id}/{piece.id}", job, piece

    @property
    def own_schedules(self) -> Mapping[str, Schedule]:
        """The schedules that are documents of the shop, without the shipped ones."""
        every = self.schedules
        return every.maps[0] if isinstance(every, ChainMap) else every

    def schedule_of(self, piece: Piece) -> Schedule | None:
        """Return the schedule that a piece is finished by as it now reads, or all of its several.

        None where one of them cannot be read.
        """
        return schedule_of(piece.schedules, self.schedules)


def shop_document(folder: Path) -> Shop:
    """Return the shop of ``folder``.

    Raises:
        DocumentFaultsError: with every fault of its document.

    """
    from finishsched.documents.kept import load  # noqa: PLC0415  # only when there is a shop

    model = load(folder / SHOP_FILE, kind="shop").model
    assert isinstance(model, Shop)  # noqa: S101
    return model


def stamps(folder: Path) -> tuple[Stamped, ...]:
    """Return every document's file, in the order of their names, each looked at once."""
    try:
        status = (folder / SHOP_FILE).stat()
        found = [Stamped(SHOP_FILE, status.st_mtime_ns, status.st_size)]
    except OSError:
        found = [Stamped(SHOP_FILE, 0, -1)]
    for within in FOLDERS:
        with suppress(OSError), os.scandir(folder / within) as entries:
            found += sorted(filter(None, (_stamped(entry, within) for entry in entries)))
    return tuple(found)


def read_papers(folder: Path, stamped: Iterable[Stamped] | None = None) -> Papers:
    """Read every document of the shop but those at rest, and the shipped ones.

    Documents are named by their path within ``folder``. ``stamped`` are the files as they were just
    now, where that was asked already.
    Faults are gathered, never raised: a document with faults is left out, and the rest still works.
    """
    files = stamps(folder) if stamped is None else tuple(stamped)
    of_jobs = [one for one in files if one.name.startswith(_JOBS)]
    others = _read_in(folder, (one.name for one in files if not one.name.startswith(_JOBS)))
    own = {one.model.id: one.model for one in others.documents if isinstance(one.model, Schedule)}
    resting = resting_in(folder, of_jobs, own)
    read = _read_but(folder, of_jobs, resting)
    names = {one.model.id for one in read.documents if isinstance(one.model, Job)}
    if any(one.job in names for one in resting):
        # Two of one name are a fault, which is told where both are read.
        resting = [one for one in resting if one.job not in names]
        read = _read_but(folder, of_jobs, resting)
    papers = papers_of(_both(others, read), folder)
    return replace(
        papers,
        resting=Resting(resting, lambda names: _jobs_in(folder, names)),
        files=_sound_files(read, of_jobs, papers.faults),
    )


def _both(others: Sheaf, of_jobs: Sheaf) -> Sheaf:
    """Return the documents of the jobs among the others, as one reading gives them."""
    shop = [one for one in others.documents if isinstance(one.model, Shop)]
    rest = [one for one in others.documents if not isinstance(one.model, Shop)]
    return Sheaf(
        [*shop, *of_jobs.documents, *rest],
        [*others.faults, *of_jobs.faults],
        [*others.unread, *of_jobs.unread],
    )


def _read_in(folder: Path, names: Iterable[str]) -> Sheaf:
    return read_all([folder / name for name in names], folder)


def _read_but(folder: Path, of_jobs: Iterable[Stamped], resting: Iterable[Rested]) -> Sheaf:
    """Read the documents of the jobs but those at rest."""
    at_rest = {one.name for one in resting}
    return _read_in(folder, (one.name for one in of_jobs if one.name not in at_rest))


def _jobs_in(folder: Path, names: Iterable[str]) -> list[Job]:
    """Return the jobs in some documents; one that cannot be read now is left out."""
    documents = _read_in(folder, names).documents
    return [one.model for one in documents if isinstance(one.model, Job)]


def _sound_files(
    read: Sheaf, of_jobs: Iterable[Stamped], faults: Iterable[Fault]
) -> dict[str, Stamped]:
    """Return by the id of its job the file of each document in which nothing is wrong."""
    stamp_of = {one.name: one for one in of_jobs}
    faulty = {fault.file for fault in faults}
    return {
        document.model.id: stamp_of[document.name]
        for document in read.documents
        if isinstance(document.model, Job) and document.name not in faulty
    }


def papers_of(sheaf: Sheaf, folder: Path) -> Papers:
    """Return the papers of the shop in ``folder``, of whose documents ``sheaf`` is all."""
    documents, faults = sheaf.documents, [*sheaf.faults]
    shops = [d.model for d in documents if isinstance(d.model, Shop)]
    products, schedules = on_the_shelf(documents, faults)
    jobs = _by_id(documents, Job, faults)
    faults += _references(sheaf, products, schedules)
    return Papers(
        shop=shops[0] if shops else Shop(name=folder.name),
        in_hand=tuple(jobs.values()),
        schedules=schedules,
        products=products,
        faults=tuple(sorted(faults)),
    )


def products_at_hand(folder: Path | None) -> Mapping[str, Product]:
    """Return every product of the shop in ``folder`` over the shipped ones; these without one."""
    paths = [p for p in document_paths(folder) if p.parent.name == "products"] if folder else []
    return on_the_shelf(read_all(paths, folder).documents, [])[0]


def on_the_shelf(
    documents: list[Document], faults: list[Fault]
) -> tuple[Mapping[str, Product], Mapping[str, Schedule]]:
    """Return the products and schedules of ``documents`` over the shipped ones.

    A second one of the same id is noted among ``faults``.
    """
    from finishsched.documents import library  # noqa: PLC0415  # dear: only when there is a shop

    products = WithRecipes(_over(_by_id(documents, Product, faults), library.shipped_products()))
    return products, _over(_by_id(documents, Schedule, faults), library.shipped_schedules())


def name_faults(sheaf: Sheaf, around: Sheaf) -> list[Fault]:
    """Return the names in ``sheaf`` that neither it, ``around`` nor what is shipped has."""
    products, schedules = on_the_shelf(around.documents, [])
    shops = (one.model for one in around.documents if isinstance(one.model, Shop))
    return _references(sheaf, products, schedules, tuple(w for shop in shops for w in shop.woods))


def document_paths(folder: Path) -> list[Path]:
    """Return the path of every document of the shop in ``folder``."""
    return [folder / one.name for one in stamps(folder)]


def _stamped(entry: os.DirEntry[str], within: str) -> Stamped | None:
    """Tell a document from an editor's lock or swap file, and from what would never end."""
    if not entry.name.endswith((".yaml", ".yml")) or entry.name.startswith("."):
        return None
    with suppress(OSError):
        status = entry.stat()
        if stat.S_ISREG(status.st_mode):
            return Stamped(f"{within}/{entry.name}", status.st_mtime_ns, status.st_size)
    return None


class Sheaf(NamedTuple):
    """Documents read together: those without fault, the faults of the others, and their trees."""

    documents: list[Document]
    faults: list[Fault]
    unread: list[Unread]


def read_all(paths: list[Path], folder: Path | None = None) -> Sheaf:
    """Read the documents at ``paths``, named by their path within ``folder`` where one is given."""
    from finishsched.documents.faults import DocumentFaultsError  # noqa: PLC0415
    from finishsched.documents.kept import load  # noqa: PLC0415

    sheaf = Sheaf([], [], [])
    for path in paths:
        name = path.relative_to(folder).as_posix() if folder else None
        try:
            sheaf.documents.append(load(path, name=name))
        except DocumentFaultsError as error:
            sheaf.faults.extend(error.faults)
            from finishsched.documents.decode import tree_of  # noqa: PLC0415  # a fault
            from finishsched.documents.unread import unread_from  # noqa: PLC0415

            unread = unread_from(name or str(path), tree_of(path))
            sheaf.unread.extend([unread] if unread else [])
    return sheaf


def job_of(ref: str) -> str:
    """Return the id of the job that a piece belongs to."""
    return ref.partition("/")[0]


def _by_id(documents: list[Document], cls: type[Named], faults: list[Fault]) -> dict[str, Named]:
    """Return the documents of one kind by their id; a second one of the same id is a fault."""
    from finishsched.documents.faults import Fault  # noqa: PLC0415

    found: dict[str, Named] = {}
    places: dict[str, str] = {}
    for document in documents:
        model = document.model
        if not isinstance(model, cls):
            continue
        if model.id in found:
            line, column = document.places.get((document.kind,), (1, 1))
            faults.append(
                Fault(
                    document.name,
                    line,
                    column,
                    f"{document.kind} {model.id!r} stands in {places[model.id]} too",
                    "give one of them another name",
                    "duplicate-name",
                )
            )
            continue
        found[model.id] = model
        places[model.id] = document.name
    return found


def _over(own: dict[str, Named], shipped: Mapping[str, Named]) -> Mapping[str, Named]:
    """Return the shop's own over the shipped ones, which are still read only when asked for."""
    # ChainMap asks for mutable mappings in its types, and never writes to any but the first.
    return ChainMap(own, cast("MutableMapping[str, Named]", shipped))


def _references(
    sheaf: Sheaf,
    products: Mapping[str, Product],
    schedules: Mapping[str, Schedule],
    woods: tuple[OwnWood, ...] = (),
) -> list[Fault]:
    from finishsched.documents.references import unknown_names  # noqa: PLC0415

    return unknown_names(sheaf.documents, products, schedules, sheaf.unread, woods)
