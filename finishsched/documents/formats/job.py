"""The format of a job: pieces with their faces, and when they are due."""

from __future__ import annotations

from finishsched.documents.codec import ListOf
from finishsched.documents.formats.accepted import ACCEPTED, accepted_once
from finishsched.documents.formats.schedule import LOOK
from finishsched.documents.leaves import DAY, ID, LINE, PROSE, quantity, whole
from finishsched.documents.nodes import Fields, Items, Place, Text
from finishsched.documents.records import Draft, Key, Record
from finishsched.model.job import Face, Job, Piece
from finishsched.units import AREA, FILM, LENGTH

_LENGTH = quantity(LENGTH, "mm", "in")


def _sides_or_area(draft: Draft) -> None:
    sides = [key for key in ("length", "width") if key in draft.written]
    if "area" in draft.written and sides:
        draft.fault(
            "a face has both its sides and its area", "keep the sides or the area", at="area"
        )
    elif "area" not in draft.written and not sides:
        draft.missing("length", "with 'width:', or 'area:' alone")
    elif "area" not in draft.written:
        draft.missing("length", "the other side")
        draft.missing("width", "the other side")


def _pieces_have_names_of_their_own(draft: Draft) -> None:
    pieces = draft.node("pieces")
    if not isinstance(pieces, Items):
        return
    seen: dict[str, Place] = {}
    for piece in pieces.items:
        name = piece.get("piece") if isinstance(piece, Fields) else None
        if not isinstance(name, Text):
            continue
        first = seen.setdefault(name.value, name.place)
        if first != name.place:
            draft.reading.note(
                name.place,
                f"there are two pieces {name.value!r}: on line {first.line}, "
                f"column {first.column}, and here",
                "give one of them another id",
                "duplicate-key",
            )


FACE = Record(
    Face,
    "a face",
    (
        Key("face", LINE, "which it is, such as top", "name", required=True),
        Key("length", _LENGTH, "one side", "length_mm"),
        Key("width", _LENGTH, "the other side", "width_mm"),
        Key("area", quantity(AREA, "m2", "sqft", "sqin"), "instead of sides", "stated_area_m2"),
        Key("count", whole("a count", 1, 1000), "how many alike"),
    ),
    (_sides_or_area,),
    on_one_line=True,
)
PIECE = Record(
    Piece,
    "a piece",
    (
        Key("piece", ID, "its id within the job", "id", required=True),
        Key("title", LINE, "what people call it", required=True),
        Key("schedule", ID, "the id of the schedule that it is finished by", required=True),
        Key("species", LINE, "of the wood that shows"),
        Key("veneer", _LENGTH, "thickness of the veneer", "veneer_mm"),
        Key(
            "relief",
            quantity(FILM, "um", "mil"),
            "how deep the hollows are that the finish has to fill, after any filler",
            "relief_um",
        ),
        Key("sheen", LOOK, "how much it should shine"),
        Key("due", DAY, "when it is due, if before the job"),
        Key("notes", PROSE, "anything else"),
        Key(
            "faces",
            ListOf(FACE, "faces", at_least=1),
            "the surfaces that get the finish",
            required=True,
        ),
    ),
)
JOB = Record(
    Job,
    "a job",
    (
        Key("job", ID, "its id, the same as the file's name", "id", required=True),
        Key("title", LINE, "what people call it", required=True),
        Key("customer", LINE, "whom it is for"),
        Key("due", DAY, "when all of it is due"),
        Key("notes", PROSE, "anything else"),
        ACCEPTED,
        Key(
            "pieces",
            ListOf(PIECE, "pieces", at_least=1),
            "what is finished as a whole, each",
            required=True,
        ),
    ),
    (_pieces_have_names_of_their_own, accepted_once),
)
