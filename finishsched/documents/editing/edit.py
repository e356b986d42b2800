"""The text of a document, changed at single places so that it reads as another model."""

from __future__ import annotations

from collections.abc import Collection

from finishsched.documents.decode import KINDS, kind_of_model, read
from finishsched.documents.document import AnyModel
from finishsched.documents.editing.changes import Pen
from finishsched.documents.editing.spans import spans
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.nodes import Fields
from finishsched.documents.old_words import old_words_in, write_old
from finishsched.documents.parsing import parse
from finishsched.documents.step_ids import drop_ids
from finishsched.refusals import RefusalError


class CannotPlaceError(RefusalError, ValueError):
    """A change that this text has no plain place for; nothing was written."""

    def __init__(self, name: str) -> None:
        super().__init__("the change has no plain place in this text", "make it in an editor", name)


def edited(text: str, name: str, new: AnyModel) -> str:
    """Return ``text`` changed only where it must be to read as ``new``.

    ``name`` is for the faults. A comment within what is taken out goes with it; where a value is
    written anew its comments stay above it; everything else is kept to the byte.

    Raises:
        DocumentFaultsError: when ``text`` has faults as it is, or is of another kind.
        CannotPlaceError: when the change cannot be placed.

    """
    kind = kind_of_model(new)
    old = read(text.encode("utf-8"), name, kind).model
    if old == new:
        return text
    # A text in old words stays in them: a change elsewhere is no cause to rename its keys.
    words = old_words_in(parse(text.encode("utf-8"), name)) if kind == "schedule" else frozenset()
    was, at = _tree(old, words), spans(text)
    pen = Pen(text, was, at)
    pen.fields(was, _tree(new, words), at)
    changed = pen.text()
    try:
        if read(changed.encode("utf-8"), name, kind).model == new:
            return changed
    except DocumentFaultsError:
        pass
    raise CannotPlaceError(name)


def _tree(model: AnyModel, words: Collection[str]) -> Fields:
    """Return the model as the keys and values that it is written by, in the old ``words``."""
    kind = kind_of_model(model)
    root = KINDS[kind].write(model)
    if kind == "schedule":
        drop_ids(root)
        write_old(root, words)
    assert isinstance(root, Fields)  # noqa: S101  # every kind of document is a record
    return root
