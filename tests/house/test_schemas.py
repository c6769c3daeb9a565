"""The JSON Schemas that are shipped are those of the documents, and documents keep to them."""

from __future__ import annotations

import json

import jsonschema
import pytest

import takeoff
from takeoff.documents import SCHEMAS
from tests.house.schemas import FOLDER, path_of, schema_text
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


def schema_of(document: dict[str, object]) -> dict[str, object]:
    schema: dict[str, object] = json.loads(path_of(str(document["schema"])).read_text("utf-8"))
    return schema


@pytest.mark.parametrize("name", SCHEMAS)
def test_the_schema_is_that_of_the_document(name: str) -> None:
    assert path_of(name).read_text(encoding="utf-8") == schema_text(name), (
        "write them anew: python -m tests.house.schemas"
    )


def test_no_schema_is_left_over() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {path_of(name).name for name in SCHEMAS}


@pytest.mark.parametrize("job", ["job.toml", "panels.toml", "pour-day.toml"])
def test_a_bid_keeps_to_its_schema(job: str) -> None:
    document = json.loads(json.dumps(takeoff.bid(SAMPLES / job).to_dict()))
    jsonschema.validate(document, schema_of(document))
    if document["pour_day"] is not None:
        jsonschema.validate(document["pour_day"], schema_of(document["pour_day"]))


def test_a_document_that_lacks_a_key_is_found() -> None:
    document = json.loads(json.dumps(takeoff.check(SAMPLES / "wall-panel.dxf").to_dict()))
    del document["files"][0]["pieces"][0]["area_m2"]
    with pytest.raises(jsonschema.ValidationError, match="'area_m2' is a required property"):
        jsonschema.validate(document, schema_of(document))
