"""The format of a job: pieces with their faces, and when they are due."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from finishsched.documents.codec import JsonSchema, Leaf, ListOf
from finishsched.documents.formats.accepted import ACCEPTED, accepted_once
from finishsched.documents.formats.schedule import LOOK
from finishsched.documents.leaves import (
    DAY,
    ID,
    LINE,
    PROSE,
    YES_NO,
    exact_text,
    quantity,
    read_quantity,
    whole,
)
from finishsched.documents.nodes import Fields, Items, Node, Place, Text
from finishsched.documents.records import Draft, Key, Record
from finishsched.model.job import Face, Inlay, Job, Piece
from finishsched.units import AREA, FILM, FORCE, LENGTH

_LENGTH = quantity(LENGTH, "mm", "in")
MOST_ALIKE = 99
"""So many pieces at most stand for one entry: more than anybody finishes in one go."""


@dataclass(frozen=True, slots=True)
class ScheduleKeys:
    """``schedule: NAME``, or ``schedules: [NAME, NAME]`` for several one after the other."""

    names: tuple[str, ...] = ("schedule", "schedules")

    def read(self, draft: Draft) -> None:
        """Read the one key or the other; both and neither are faults."""
        one, several = self.names
        if several not in draft.written:
            draft.missing(one, "the id of the schedule that it is finished by")
            draft.read(one, "schedule", ID)
            return
        if one in draft.written:
            draft.fault("a piece has both a schedule and schedules", "keep one of them", at=one)
        draft.read(several, "schedules", _SCHEDULES)
        named = draft.values.pop("schedules", None)
        if named:
            draft.values["schedule"], draft.values["then"] = named[0], named[1:]

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:  # noqa: ARG002
        """Give the key that says it in fewest words."""
        assert isinstance(model, Piece)  # noqa: S101
        one, several = self.names
        if model.then:
            yield Text(several), _SCHEDULES.write(model.schedules)
        else:
            yield Text(one), ID.write(model.schedule)

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:
        """Put in both keys, and that exactly one is wanted."""
        one, several = self.names
        schema["properties"][one] = {
            "description": "the id of the schedule that it is finished by",
            **ID.schema(shared),
        }
        schema["properties"][several] = {
            "description": "instead of schedule: the ids of several, one after the other",
            **_SCHEDULES.schema(shared),
        }
        schema["oneOf"] = [{"required": [name]} for name in self.names]


_SCHEDULES = ListOf(ID, "schedules", at_least=1, on_one_line=True)


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
    several: dict[str, int] = {}
    for piece in pieces.items:
        name = piece.get("piece") if isinstance(piece, Fields) else None
        if not isinstance(piece, Fields) or not isinstance(name, Text):
            continue
        first = seen.setdefault(name.value, name.place)
        count = piece.get("count")
        if isinstance(count, Text) and count.value.isdigit():
            several[name.value] = int(count.value)
        if first != name.place:
            draft.reading.note(
                name.place,
                f"there are two pieces {name.value!r}: on line {first.line}, "
                f"column {first.column}, and here",
                "give one of them another id",
                "duplicate-key",
            )
    _not_named_as_one_of_several(draft, seen, several)


def _not_named_as_one_of_several(
    draft: Draft, seen: Mapping[str, Place], several: Mapping[str, int]
) -> None:
    for name, place in seen.items():
        alike, _, number = name.rpartition("-")
        if alike in several and number.isdigit() and 1 <= int(number) <= several[alike]:
            draft.reading.note(
                place,
                f"{name!r} is one of the {several[alike]} pieces {alike!r} on line "
                f"{seen[alike].line} already",
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


def _in_veneer(text: str) -> float:
    return read_quantity(text.removesuffix("veneer").strip(), LENGTH)


def _one_way_to_stand(draft: Draft) -> None:
    if "proud" in draft.written and "low" in draft.written:
        draft.fault("an inlay stands proud or lies low, not both", "keep one of them", at="low")


INLAY = Record(
    Inlay,
    "an inlay",
    (
        Key(
            "material",
            LINE,
            "shell, bone, horn, brass, plastic, epoxy, a wood, or a patch or seam of the veneer",
            required=True,
        ),
        Key(
            "thickness",
            quantity(LENGTH, "mm", "in"),
            "how thick it is: 0.3 mm, 12 mil",
            "thickness_mm",
            required=True,
        ),
        Key(
            "in",
            Leaf(
                "the veneer beside it",
                _in_veneer,
                lambda mm: f"{exact_text(mm, LENGTH, ('mm', 'in'))} veneer",
                {"type": "string", "examples": ["0.6 mm veneer"]},
                "0.6 mm veneer",
            ),
            "the veneer that it was laid beside, both glued to one ground",
            "in_mm",
        ),
        Key("proud", _LENGTH, "how far it stands above the face", "stated_proud_mm"),
        Key("low", _LENGTH, "how far it lies below the face", "stated_low_mm"),
        Key("area", quantity(AREA, "cm2", "sqin"), "all of it on the piece", "area_m2"),
        Key("width", _LENGTH, "of its parts: a stringing 1 mm, a shell 20 mm", "width_mm"),
        Key(
            "hardness",
            quantity(FORCE, "N", "lbf"),
            "side hardness (Janka) of a wood let in, where its maker knows it",
            "hardness_n",
        ),
    ),
    (_one_way_to_stand,),
    on_one_line=True,
)
PIECE = Record(
    Piece,
    "a piece",
    (
        Key("piece", ID, "its id within the job", "id", required=True),
        Key("title", LINE, "what people call it", required=True),
        ScheduleKeys(),
        Key("count", whole("a count", 1, MOST_ALIKE), "how many alike, each with these faces"),
        Key("species", LINE, "of the wood that shows"),
        Key("veneer", _LENGTH, "thickness of the veneer", "veneer_mm"),
        Key(
            "hardness",
            quantity(FORCE, "N", "lbf"),
            "side hardness (Janka) of its wood, where no table has it: 5200 N, 1170 lbf",
            "hardness_n",
        ),
        Key(
            "relief",
            quantity(FILM, "um", "mil"),
            "how deep the hollows are that the finish has to fill, after any filler",
            "relief_um",
        ),
        Key(
            "inlay",
            ListOf(INLAY, "inlays", or_one=True),
            "what is let into the face beside its wood",
            "inlays",
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
        Key("board", YES_NO, "yes for a sample board, whose pieces are its strips"),
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
