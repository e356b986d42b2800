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
from typing import TYPE_CHECKING, TypeVar, cast

from finishsched.model.job import Job, Piece
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.workshop.place import FOLDERS, SHOP_FILE

if TYPE_CHECKING:
    from finishsched.documents.decode import Document
    from finishsched.documents.faults import Fault

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
        """Give each piece with its reference ``job/piece`` and its job."""
        for job in self.jobs:
            for piece in job.pieces:
                yield f"{job.id}/{piece.id}", job, piece


def shop_document(folder: Path) -> Shop:
    """Return the shop of ``folder``.

    Raises:
        DocumentFaultsError: with every fault of its document.

    """
    from finishsched.documents.decode import load  # noqa: PLC0415  # dear: only when there is a shop

    model = load(folder / SHOP_FILE, kind="shop").model
    assert isinstance(model, Shop)  # noqa: S101
    return model


def stamps(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """Return what changes when a document of the shop changes: each file's name, time and size."""
    found = []
    for path in _document_paths(folder):
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
    from finishsched.documents import library  # noqa: PLC0415  # dear: only when there is a shop

    documents, faults = _read_all(_document_paths(folder), folder)
    shops = [d.model for d in documents if isinstance(d.model, Shop)]
    products = _over(_by_id(documents, Product, faults), library.shipped_products())
    schedules = _over(_by_id(documents, Schedule, faults), library.shipped_schedules())
    jobs = _by_id(documents, Job, faults)
    faults += _references(documents, products, schedules)
    return Papers(
        shop=shops[0] if shops else Shop(name=folder.name),
        jobs=tuple(jobs.values()),
        schedules=schedules,
        products=products,
        faults=tuple(sorted(faults)),
    )


def check_documents(paths: list[Path], folder: Path | None) -> tuple[Fault, ...]:
    """Return every fault of the documents at ``paths``, in the order of the paths.

    Names of products and schedules are looked for among the shipped ones, those of the shop in
    ``folder`` or else of the shop that a path lies in, and those of ``paths`` themselves.
    """
    from finishsched.documents import library  # noqa: PLC0415

    documents, faults = _read_all(paths)
    around = _read_all(_paths_around(paths, folder))[0]
    products = _over(_by_id(around, Product, []), library.shipped_products())
    schedules = _over(_by_id(around, Schedule, []), library.shipped_schedules())
    faults += _references(documents, products, schedules)
    order = {str(path): number for number, path in enumerate(paths)}
    return tuple(sorted(faults, key=lambda fault: (order.get(fault.file, 0), fault)))


def _paths_around(paths: list[Path], folder: Path | None) -> list[Path]:
    """Return the shop's documents that are not among ``paths``."""
    folders = [folder] if folder else []
    folders += [p for path in paths for p in path.resolve().parents if (p / SHOP_FILE).is_file()]
    given = {path.resolve() for path in paths}
    return [p for shop in dict.fromkeys(folders) for p in _document_paths(shop) if p not in given]


def _document_paths(folder: Path) -> list[Path]:
    paths = [folder / SHOP_FILE]
    for name in FOLDERS:
        paths += sorted(path for path in (folder / name).glob("*.y*ml") if _is_document(path))
    return paths


def _is_document(path: Path) -> bool:
    """Tell a document from an editor's lock or swap file, and from what would never end."""
    hidden = path.name.startswith(".")
    return path.suffix in (".yaml", ".yml") and not hidden and path.is_file()


def _read_all(paths: list[Path], folder: Path | None = None) -> tuple[list[Document], list[Fault]]:
    from finishsched.documents.decode import load  # noqa: PLC0415
    from finishsched.documents.faults import DocumentFaultsError  # noqa: PLC0415

    documents: list[Document] = []
    faults: list[Fault] = []
    for path in paths:
        try:
            name = path.relative_to(folder).as_posix() if folder else None
            documents.append(load(path, name=name))
        except DocumentFaultsError as error:
            faults += error.faults
    return documents, faults


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
    documents: list[Document], products: Mapping[str, Product], schedules: Mapping[str, Schedule]
) -> list[Fault]:
    from finishsched.documents.references import unknown_names  # noqa: PLC0415

    return unknown_names(documents, products, schedules)
