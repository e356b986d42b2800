"""The JSON Schemas: up to date, valid, and at one with the reader."""

from __future__ import annotations

import json
from importlib import resources

import jsonschema
import pytest
import yaml

from finishsched.documents import library
from finishsched.documents.decode import KINDS
from finishsched.documents.schemas import schema, schema_text

GOOD = {
    "job": "job: a\ntitle: A\ndue: 2026-12-18\npieces:\n  - piece: b\n    title: B\n"
    "    schedule: c\n    faces: [{face: top, length: 220 mm, width: 8 1/2 in, count: 2}]\n",
    "shop": "shop: A\npeople: [Ana]\nunits: {volume: ml}\nalcohol: {strength: 95 %vol}\n"
    "usual_air: {temperature: 19 degC, humidity: 55 %}\n"
    "jars: [250 ml]\npacks: [{product: a, size: 250 g, price: 18.50 EUR}]\n",
    "settings": "settings: bench\ntheme: dark\nbell: no\nkeys: {log-coat: 'space,l'}\n",
}


def as_texts(text: str):
    """Return a document as plain lists and dicts of strings, no YAML reading applied."""
    return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506


def validator(kind: str):
    """Return a validator of one kind of document."""
    return jsonschema.Draft202012Validator(schema(kind))


@pytest.mark.parametrize("kind", KINDS)
def test_the_file_is_what_the_format_makes(kind):
    """A schema is never edited by hand: run python -m finishsched.documents.schemas."""
    file = resources.files("finishsched") / "documents" / "schemas" / f"{kind}.json"
    assert json.loads(file.read_text("utf-8")) == schema(kind)
    assert file.read_text("utf-8") == schema_text(kind)


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_a_schema_and_describes_every_key(kind):
    """Editors get a valid draft 2020-12 schema with a description for each key."""
    made = schema(kind)
    jsonschema.Draft202012Validator.check_schema(made)
    for record in (made, *made.get("$defs", {}).values()):
        assert all(key["description"] for key in record["properties"].values())


@pytest.mark.parametrize("name", library.schedule_names())
def test_shipped_schedules_fit(name):
    """Every shipped schedule is good by its schema too, as texts and as YAML reads it."""
    validator("schedule").validate(as_texts(library.schedule_text(name)))
    validator("schedule").validate(yaml.safe_load(library.schedule_text(name)))


@pytest.mark.parametrize("name", library.product_names())
def test_shipped_products_fit(name):
    """Every shipped product is good by its schema too, as texts and as YAML reads it."""
    validator("product").validate(as_texts(library.product_text(name)))
    validator("product").validate(yaml.safe_load(library.product_text(name)))


@pytest.mark.parametrize(("kind", "text"), GOOD.items())
def test_good_documents_fit(kind, text):
    """Jobs, shops and settings fit their schemas."""
    validator(kind).validate(as_texts(text))


@pytest.mark.parametrize(
    ("kind", "old", "new"),
    [
        ("job", "220 mm", "220"), ("job", "title: A", "titel: A"), ("job", "count: 2", "count: x"),
        ("job", "2026-12-18", "soon"), ("shop", "95 %vol", "95"), ("shop", "55 %", "[]"),
        ("shop", "250 ml", "250"), ("shop", "250 g", "250"), ("shop", "18.50 EUR", "18.50"),
        ("settings", "dark", "dusk"), ("settings", "bell: no", "bell: maybe"),
        ("settings", "log-coat", "Log Coat"),
    ],
)  # fmt: skip
def test_an_editor_underlines_the_commonest_mistakes(kind, old, new):
    """A bare number, a misspelt key or word and a wrong shape do not fit."""
    text = GOOD[kind]
    assert old in text
    assert not validator(kind).is_valid(as_texts(text.replace(old, new, 1)))


def test_a_step_is_one_verb_with_completion_for_all():
    """The schema offers every verb and wants exactly one."""
    step = schema("schedule")["$defs"]["step"]
    verbs = {one["required"][0] for one in step["oneOf"]}
    assert {"sand", "tack off", "spirit off", "rest"} <= verbs <= set(step["properties"])
