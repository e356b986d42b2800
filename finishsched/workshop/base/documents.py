"""The shop folder: where it is, and the documents in it.

shop.yaml      the shop
jobs/          one file a job
schedules/     the shop's own schedules, beside the shipped ones
products/      the shop's own products, beside the shipped ones
journal.db     what happened
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping, MutableMapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeVar, cast

from finishsched.model.job import Job, Piece
from finishsched.model.product import Product
from finishsched.model.recipe import WithRecipes
from finishsched.model.schedule import Schedule, schedule_of
from finishsched.model.shop import Shop
from finishsched.model.woods_described import OwnWood, with_own_woods
from finishsched.workshop.base.place import FOLDERS, SHOP_FILE

if TYPE_CHECKING:
    from finishsched.documents.document import Document
    from finishsched.documents.faults import Fault
    from finishsched.documents.unread import Unread

Named = TypeVar("Named", Product, Schedule, Job)


@dataclass(frozen=True, slots=True)
class Papers:
    """Every document that the shop works by, and the faults of those that could not be read."""

    shop: Shop
    jobs: tuple[Job, ...]
    schedules: Mapping[str, Schedule]
    products: Mapping[str, Product]
    faults: tuple[Fault, ...]

    def pieces(self) -> Iterator[tuple[str, Job, Piece]]:
        """Give each piece with its reference ``job/piece`` and its job, those alike one by one.

        Woods of the shop's own are described in them; ``jobs`` are as their documents have them.
        """
        for written in self.jobs:
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


def stamps(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """Return what changes when a document of the shop changes: each file's name, time and size."""
    found = []
    for path in document_paths(folder):
        try:
            status = path.stat()
        except OSError:
            continue
        found.append((str(path), status.st_mtime_ns, status.st_size))
    return tuple(found)


def read_papers(folder: Path) -> Papers:
    """Read every document of the shop, and the shipped ones.

    Documents are named by their path within ``folder``.
    Faults are gathered, never raised: a document with faults is left out, and the rest still works.
    """
    return papers_of(read_all(document_paths(folder), folder), folder)


def papers_of(sheaf: Sheaf, folder: Path) -> Papers:
    """Return the papers of the shop in ``folder``, of whose documents ``sheaf`` is all."""
    documents, faults = sheaf.documents, [*sheaf.faults]
    shops = [d.model for d in documents if isinstance(d.model, Shop)]
    products, schedules = on_the_shelf(documents, faults)
    jobs = _by_id(documents, Job, faults)
    faults += _references(sheaf, products, schedules)
    return Papers(
        shop=shops[0] if shops else Shop(name=folder.name),
        jobs=tuple(jobs.values()),
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
    paths = [folder / SHOP_FILE]
    for name in FOLDERS:
        paths += sorted(path for path in (folder / name).glob("*.y*ml") if _is_document(path))
    return paths


def _is_document(path: Path) -> bool:
    """Tell a document from an editor's lock or swap file, and from what would never end."""
    hidden = path.name.startswith(".")
    return path.suffix in (".yaml", ".yml") and not hidden and path.is_file()


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
