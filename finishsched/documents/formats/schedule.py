"""The format of a schedule: the stages and steps that finish a kind of piece."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.documents.codec import Codec, JsonSchema, Leaf, ListOf, Reading
from finishsched.documents.formats.accepted import ACCEPTED, accepted_once
from finishsched.documents.formats.steps import STEP, STEP_IN_ROUNDS, one_for_each_round
from finishsched.documents.leaves import ID, LINE, PROSE, one_of, whole, word
from finishsched.documents.nodes import Fields, Node
from finishsched.documents.records import Key, Record
from finishsched.model.kinds import ProductKind
from finishsched.model.readings import LOOKS
from finishsched.model.schedule import Rounds, Schedule, Stage, StageName, StepPlan

OLD_FILMS = tuple(kind.value for kind in ProductKind if kind.row.old_film_um is not None)
_OLD_FILM = one_of("a finish that is there already", OLD_FILMS)
OVER = Leaf(
    _OLD_FILM.noun,
    lambda text: ProductKind(_OLD_FILM.from_text(text)),
    lambda kind: _OLD_FILM.to_text(kind.value),
    _OLD_FILM.described,
    "shellac",
)
LOOK = one_of("a look", LOOKS)
"""How much the finish shines, for schedules and pieces."""


@dataclass(frozen=True, slots=True)
class _OnlyStep:
    """What a group of rounds is made of: steps, and no group again."""

    def read(self, node: Node, reading: Reading) -> StepPlan:
        if isinstance(node, Fields) and node.get("rounds"):
            raise reading.refuse(node.place, "rounds within rounds", "put the steps in one group")
        return STEP_IN_ROUNDS.read(node, reading)

    def write(self, value: StepPlan) -> Node:
        return STEP_IN_ROUNDS.write(value)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        return STEP_IN_ROUNDS.schema(shared)


_STEP_IN_ROUNDS: Codec[StepPlan] = _OnlyStep()

ROUNDS = Record(
    Rounds,
    "a group of rounds",
    (
        Key("rounds", whole("a number of rounds", 2, 50), "how often it is done", required=True),
        Key(
            "steps",
            ListOf(_STEP_IN_ROUNDS, "steps", at_least=1),
            "the steps of one round",
            required=True,
        ),
    ),
    (one_for_each_round,),
)


@dataclass(frozen=True, slots=True)
class _StepOrRounds:
    """What a stage is made of: a group if it says ``rounds``, else a step."""

    def read(self, node: Node, reading: Reading) -> StepPlan | Rounds:
        grouped = isinstance(node, Fields) and (node.get("rounds") or node.get("steps"))
        return ROUNDS.read(node, reading) if grouped else STEP.read(node, reading)

    def write(self, value: StepPlan | Rounds) -> Node:
        return ROUNDS.write(value) if isinstance(value, Rounds) else STEP.write(value)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        return {"anyOf": [STEP.schema(shared), ROUNDS.schema(shared)]}


_ITEM: Codec[StepPlan | Rounds] = _StepOrRounds()

STAGE = Record(
    Stage,
    "a stage",
    (
        Key("stage", word("a stage", StageName), "which it is", "name", required=True),
        Key("steps", ListOf(_ITEM, "steps", at_least=1), "in the order of the work", required=True),
    ),
)
SCHEDULE = Record(
    Schedule,
    "a schedule",
    (
        Key("schedule", ID, "its id, the same as the file's name", "id", required=True),
        Key("title", LINE, "what people call it", required=True),
        Key("suits", LINE, "which woods and work it is for"),
        Key("look", LOOK, "how much it shines"),
        Key("over", OVER, "the finish that is there already; leave out for bare wood"),
        Key("source", LINE, "what it rests on, or 'common practice'", required=True),
        Key("notes", PROSE, "anything else"),
        ACCEPTED,
        Key(
            "stages",
            ListOf(STAGE, "stages", at_least=1),
            "in the order of the work",
            required=True,
        ),
    ),
    (accepted_once,),
)
