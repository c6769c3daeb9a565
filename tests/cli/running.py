"""Whole runs of the command, in the process of the test."""

from __future__ import annotations

import json
from dataclasses import dataclass

import jsonschema
import pytest
from pydantic import TypeAdapter

from takeoff.cli import app
from takeoff.documents import SCHEMAS
from tests.house.schemas import path_of


@dataclass(frozen=True, slots=True)
class Run:
    """What a run printed, and its exit status."""

    out: str
    err: str
    status: int

    @property
    def document(self):
        """The one JSON document on standard output, held against its schema."""
        document = json.loads(self.out)
        TypeAdapter(SCHEMAS[document["schema"]]).validate_python(document, strict=True)
        jsonschema.validate(document, json.loads(path_of(document["schema"]).read_text("utf-8")))
        return document


@pytest.fixture
def run(monkeypatch, capsys):
    """Run the command with some words."""

    def runner(*words):
        monkeypatch.setattr("sys.argv", ["takeoff", *map(str, words)])
        with pytest.raises(SystemExit) as left:
            app.main()
        captured = capsys.readouterr()
        assert "Traceback" not in captured.out + captured.err
        return Run(captured.out, captured.err, left.value.code or 0)

    return runner
