"""The format of people with hours and skills of their own, of rooms, fixtures and preparing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import cast

from finishsched.documents.codec import JsonSchema, ListOf, UnreadableError
from finishsched.documents.formats.hours import HOURS, decimal
from finishsched.documents.leaves import LINE, YES_NO, quantity, whole, word
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.records import Draft, Key, Record
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.model.hours import Away, Extra, Person
from finishsched.model.room import Fixture, HeldFor, Preparing, Room
from finishsched.model.schedule import Verb
from finishsched.model.shop import Shop
from finishsched.units import AIR_FLOW, DURATION, SPACE

_VERB = word("a verb", Verb)
_VERBS = ListOf(_VERB, "verbs", or_one=True, on_one_line=True)
_MINUTES = quantity(DURATION, "min", "h", "s")

PERSON = Record(
    Person,
    "a person",
    (
        Key("name", LINE, "what they are called", required=True),
        Key("skills", _VERBS, "what they can do; without it, everything"),
        Key("hours", HOURS, "their own hours, instead of the shop's"),
    ),
)
ROOM = Record(
    Room,
    "a room",
    (
        Key("room", LINE, "what it is called", "name", required=True),
        Key("for", _VERBS, "the work that is done there", "verbs"),
        Key("settle", _MINUTES, "how long dust hangs in its air", "settle_s"),
        Key("apart", YES_NO, "whether no dust is made while something wet lies there"),
        Key("volume", quantity(SPACE, "m3", "cuft"), "length by width by height", "volume_m3"),
        Key(
            "air_flow",
            quantity(AIR_FLOW, "m3/h", "cfm"),
            "fresh air that comes in, as measured or by the fan's label",
            "air_flow_m3_per_h",
        ),
        Key(
            "mixing",
            decimal("a mixing factor", 1.0, 10.0),
            "how badly fresh air mixes: 1 for perfectly, up to 10",
            "mixing_factor",
        ),
    ),
    on_one_line=True,
)
FIXTURE = Record(
    Fixture,
    "a store",
    (
        Key("store", LINE, "what it is, such as rack", "name", required=True),
        Key("capacity", whole("a capacity", 1, 1000), "how many pieces at once", required=True),
        Key("for", _VERBS, "the steps that need one", "verbs", required=True),
        Key("held", word("a time", HeldFor), "while at work, during the wait, or both"),
    ),
    on_one_line=True,
)
PREPARING = Record(
    Preparing,
    "setting up",
    (
        Key("for", _VERB, "the kind of work", "verb", required=True),
        Key("before", _MINUTES, "to get ready", "before_s"),
        Key("after", _MINUTES, "to clear up", "after_s"),
    ),
    on_one_line=True,
)


@dataclass(frozen=True, slots=True)
class PeopleKey:
    """People as names, or as records where one has hours or skills of their own."""

    name: str = "people"
    says: str = "who works there: names, or records with skills and hours of their own"

    @property
    def names(self) -> tuple[str, ...]:
        """The key."""
        return (self.name,)

    def read(self, draft: Draft) -> None:
        """Read names and records, into the names and the persons."""
        node = draft.node(self.name)
        if node is None:
            return
        before = len(draft.reading.faults)
        if not isinstance(node, Items):
            draft.read(self.name, "people", ListOf(LINE, "people"))
            return
        found: list[Person] = []
        for item in node.items:
            with suppress(UnreadableError):
                found.append(self._one(item, draft))
        if len(draft.reading.faults) == before:
            draft.values["people"] = tuple(person.name for person in found)
            draft.values["persons"] = tuple(p for p in found if p != Person(p.name))

    def _one(self, item: Node, draft: Draft) -> Person:
        if isinstance(item, Fields):
            return PERSON.read(item, draft.reading)
        return Person(LINE.read(item, draft.reading))

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:  # noqa: ARG002
        """Give a name, or a record for one who has more."""
        shop = cast("Shop", model)
        more = {person.name: person for person in shop.persons}
        if shop.people:
            items: list[Node] = [
                PERSON.write(more.pop(name)) if name in more else LINE.write(name)
                for name in shop.people
            ]
            yield Text(self.name), Items(items, on_one_line=not shop.persons)

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:
        """Put in the key with its description."""
        either = {"anyOf": [LINE.schema(shared), PERSON.schema(shared)]}
        schema["properties"][self.name] = {
            "description": self.says,
            "type": "array",
            "items": either,
        }


def known_names(draft: Draft) -> None:
    """Check that only people of the shop are away or do extra hours, and nobody is there twice."""
    people: tuple[str, ...] = draft.values.get("people", ())
    persons: tuple[Person, ...] = draft.values.get("persons", ())
    for person in persons:
        if people.count(person.name) > 1:
            draft.fault(f"there are two {quoted(person.name)}", "name one otherwise", at="people")
    for key in ("away", "extra"):
        attribute = "extras" if key == "extra" else key
        entries: tuple[Away | Extra, ...] = draft.values.get(attribute, ())
        for name in dict.fromkeys(entry.who for entry in entries):
            if name and name not in people:
                remedy = did_you_mean(name, people, "name one of the people")
                draft.fault(f"nobody here is called {quoted(name)}", remedy, at=key)


def names_of_their_own(draft: Draft) -> None:
    """Check that no two rooms, and no two stores, have the same name."""
    for key in ("rooms", "stores"):
        named: tuple[Room | Fixture, ...] = draft.values.get(key, ())
        names = [one.name for one in named]
        for name in dict.fromkeys(name for name in names if names.count(name) > 1):
            draft.fault(f"there are two {key} {quoted(name)}", "give one another name", at=key)
