"""The JSON Schemas of all documents; ``python -m tests.house.schemas`` writes them."""

from __future__ import annotations

import json
from pathlib import Path

from pydantic import TypeAdapter

from takeoff.documents import SCHEMAS
from tests.house.walking import ROOT

FOLDER = ROOT / "takeoff" / "data" / "schemas"


def path_of(name: str) -> Path:
    """Give the file that the schema of a document is shipped in."""
    return FOLDER / f"{name.removeprefix('takeoff.').replace('/', '-')}.schema.json"


def schema_text(name: str) -> str:
    """Write the schema of a document as it is shipped."""
    schema = TypeAdapter(SCHEMAS[name]).json_schema()
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": name}
    return json.dumps({**head, **schema}, indent=1, ensure_ascii=False) + "\n"


def main() -> None:
    """Write every schema."""
    for name in SCHEMAS:
        path_of(name).write_text(schema_text(name), encoding="utf-8")


if __name__ == "__main__":
    main()
