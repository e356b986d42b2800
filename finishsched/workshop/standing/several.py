"""Several pieces by one name: a list, those alike, a job, a pattern, all, or those at one step."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from fnmatch import fnmatchcase
from typing import NamedTuple, Protocol, TypeVar

from finishsched.journal.progress import Book
from finishsched.model.names import natural
from finishsched.workshop.base.entries import RefusedError, SeveralRefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.finding import loosely, unknown_piece
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import Rank, together
from finishsched.workshop.standing.where import named_among, standings


class _OfPiece(Protocol):
    @property
    def ref(self) -> str: ...


Answer = TypeVar("Answer")
OfPiece = TypeVar("OfPiece", bound=_OfPiece)

ALL = "all"
"""The word for every piece that is not finished."""
TOGETHER = "together"
"""The word for whatever is at the same step as the pieces named before it."""
_SPAN = re.compile(r"(?P<stem>.+)-(?P<first>[0-9]{1,6}) (?:to|and) (?P<last>[0-9]{1,6})")
_SIGNS = frozenset("*?[")
"""Of these a pattern has one at least."""


class Chosen(NamedTuple):
    """The pieces that a name stands for."""

    standings: tuple[Standing, ...]
    apart: tuple[Standing, ...] = ()
    """Pieces that are alike with some of these, and left out because they are at another step."""


def find_several(
    workshop: Workshop, text: str, book: Book | None = None, *, finished: bool = False
) -> tuple[Standing, ...]:
    """Return every piece that ``text`` names, each once, in the order in which it names them.

    ``text`` is a list with commas. Each part is a piece, the id that pieces alike have together, a
    span of them such as ``front-3 to 7``, a job, a pattern such as ``front-*``, ``all``, or
    ``together`` for what is at the same step as those before it; a minus before a part leaves out
    what it names. Of more than one, those that are finished are left out, unless ``finished`` or
    all of them are.

    Raises:
        SeveralRefusedError: for parts that name nothing, or more than one thing; all of them.

    """
    return choose_in(workshop, text, book, finished=finished).standings


def choose_in(
    workshop: Workshop,
    text: str,
    book: Book | None = None,
    *,
    finished: bool = False,
    agreeing: bool = False,
) -> Chosen:
    """Return what ``text`` names in the shop, as ``choose`` does.

    What is put by is meant where nothing else is called so, and, with ``finished``, beside it.

    Raises:
        SeveralRefusedError: as ``find_several`` does.

    """
    known = standings(workshop, book)
    every = named_among(workshop, text, book) if finished else known
    try:
        return choose(every, text, finished=finished, agreeing=agreeing)
    except RefusedError:
        named = named_among(workshop, text, book)
        if len(named) == len(every):
            raise
    return choose(named, text, finished=finished, agreeing=agreeing)


def choose(
    known: Sequence[Standing], text: str, *, finished: bool = False, agreeing: bool = False
) -> Chosen:
    """Return what ``text`` names among ``known``, as ``find_several`` says.

    With ``agreeing``, pieces that are alike are named together only as far as they are at the same
    step; the others are ``apart``, each of which has its own name.
    """
    chooser = _Chooser(known, finished=finished, agreeing=agreeing)
    found: dict[str, Standing] = {}
    refusals: list[RefusedError] = []
    for part in text.split(","):
        name = part.strip()
        if not name:
            continue
        try:
            if name.startswith("-"):
                for standing in chooser.named(name[1:].strip()):
                    found.pop(standing.ref, None)
            elif name == TOGETHER and not chooser.is_piece(name):
                found |= {s.ref: s for s in chooser.at_the_step_of(found.values())}
            else:
                found |= {s.ref: s for s in chooser.named(name)}
        except RefusedError as error:
            refusals.append(error)
    if not refusals and not found:
        refusals.append(RefusedError(f"{text!r} names no piece", "name one, or several with ','"))
    if refusals:
        if len(refusals) == 1:
            raise refusals[0]
        raise SeveralRefusedError([("", one) for one in refusals])
    apart = tuple(s for ref, s in chooser.apart.items() if ref not in found)
    return Chosen(tuple(found.values()), apart)


def of_each(found: Iterable[OfPiece], ask: Callable[[OfPiece], Answer]) -> tuple[Answer, ...]:
    """Return what ``ask`` answers of every piece, or of none.

    Raises:
        SeveralRefusedError: with every refusal and its piece; of one piece the refusal itself.

    """
    pieces = tuple(found)
    answers: list[Answer] = []
    refusals: list[tuple[str, RefusedError]] = []
    for piece in pieces:
        try:
            answers.append(ask(piece))
        except RefusedError as error:
            refusals.append((piece.ref, error))
    if refusals:
        raise refusals[0][1] if len(pieces) == 1 else SeveralRefusedError(refusals)
    return tuple(answers)


def _is_single(known: Iterable[Standing], text: str) -> bool:
    """Tell whether ``text`` is the name of one piece, and of nothing else."""
    return any(text in (s.ref, s.ref.partition("/")[2]) for s in known)


class _Chooser:
    def __init__(self, known: Sequence[Standing], *, finished: bool, agreeing: bool) -> None:
        self._known = sorted(known, key=lambda standing: natural(standing.ref))
        self._finished = finished
        self._agreeing = agreeing
        self.apart: dict[str, Standing] = {}

    def is_piece(self, name: str) -> bool:
        return _is_single(self._known, name)

    def named(self, name: str) -> tuple[Standing, ...]:
        one = [s for s in self._known if s.ref == name] or [
            s for s in self._known if s.ref.partition("/")[2] == name
        ]
        if one:
            return _only(name, one)
        alike = [s for s in self._known if s.piece.alike and name in _alike_names(s)]
        if alike:
            if len({s.ref.partition("/")[0] for s in alike}) > 1:
                jobs = dict.fromkeys(f"{s.ref.partition('/')[0]}/{name}" for s in alike)
                raise unknown_piece(name, list(jobs), [])
            return self._of_alike(alike)
        if name == ALL or _SIGNS & set(name):
            wanted = (s for s in self._known if name == ALL or _fits(s, name))
            return self._several(list(wanted), name)
        if span := _SPAN.fullmatch(name):
            return self._span(span["stem"], int(span["first"]), int(span["last"]))
        of_job = [s for s in self._known if s.ref.partition("/")[0] == name]
        meant = loosely(name, {s.ref: s.piece.title for s in self._known}) if not of_job else []
        if meant:
            return _only(name, [s for s in self._known if s.ref in meant])
        return self._several(of_job, name)

    def _span(self, stem: str, first: int, last: int) -> tuple[Standing, ...]:
        """Return the pieces of a span as it is told: ``front-3 to 7``, ``front-1 and 2``."""
        numbers = range(first, min(last, first + len(self._known)) + 1)
        return tuple(one for number in numbers for one in self.named(f"{stem}-{number}"))

    def at_the_step_of(self, found: Iterable[Standing]) -> Iterator[Standing]:
        ranks = {Rank.of(standing) for standing in found}
        if not ranks:
            raise RefusedError(
                f"{TOGETHER!r} has no piece before it", f"write for example lid,{TOGETHER}"
            )
        return (s for s in self._known if s.step is not None and Rank.of(s) in ranks)

    def _of_alike(self, alike: list[Standing]) -> tuple[Standing, ...]:
        open_ones = self._open(alike)
        if not self._agreeing:
            return open_ones
        largest = max(together(open_ones), key=len)
        self.apart |= {s.ref: s for s in open_ones if s not in largest}
        return largest

    def _several(self, found: list[Standing], name: str) -> tuple[Standing, ...]:
        if found:
            return self._open(found)
        names = [s.ref for s in self._known]
        groups = [_alike_names(s)[1] for s in self._known if s.piece.alike]
        jobs = [s.ref.partition("/")[0] for s in self._known]
        raise unknown_piece(name, [], list(dict.fromkeys([*names, *groups, *jobs])))

    def _open(self, found: list[Standing]) -> tuple[Standing, ...]:
        left = [s for s in found if s.progress is None or not s.progress.finished]
        return tuple(found if self._finished or not left else left)


def _only(name: str, found: list[Standing]) -> tuple[Standing, ...]:
    if len(found) > 1:
        raise unknown_piece(name, [s.ref for s in found], [])
    return tuple(found)


def _alike_names(standing: Standing) -> tuple[str, str]:
    """Return what pieces alike are called together, with their job and without."""
    job = standing.ref.partition("/")[0]
    return f"{job}/{standing.piece.alike}", standing.piece.alike


def _fits(standing: Standing, pattern: str) -> bool:
    own = standing.ref.partition("/")[2]
    return fnmatchcase(standing.ref, pattern) or fnmatchcase(own, pattern)
