"""JSON Schemas of the documents, made from their formats, for editors that complete and check.

``python -m finishsched.documents.schemas`` writes them anew; a test sees that nobody forgot.
"""

from __future__ import annotations

import json
from pathlib import Path

from finishsched.documents.codec import JsonSchema
from finishsched.documents.decode import KINDS

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema(kind: str) -> JsonSchema:
    """Return the JSON Schema (draft 2020-12) of one kind of document."""
    shared: dict[str, JsonSchema] = {}
    body = KINDS[kind].closed_object(shared)
    made: JsonSchema = {"$schema": DIALECT, "title": f"finishsched {kind}", **body}
    return made | ({"$defs": dict(sorted(shared.items()))} if shared else {})


def schema_text(kind: str) -> str:
    """Return the schema of one kind as the text of its file."""
    return json.dumps(schema(kind), indent=2, ensure_ascii=False) + "\n"


def write_all(folder: Path) -> None:
    """Write the schema of every kind into ``folder``."""
    for kind in KINDS:
        (folder / f"{kind}.json").write_text(schema_text(kind), "utf-8")
