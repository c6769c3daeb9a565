"""A face coat that grows too old between packed walls and the pour is noted."""

from __future__ import annotations

import pytest

import takeoff
from takeoff.job.covering import covered_late
from takeoff.notes import NoteCode
from tests.unit.job.test_riders import clocked


@pytest.fixture(scope="module")
def plan(tmp_path_factory):
    return takeoff.plan(clocked(tmp_path_factory.mktemp("panels"))).plan


def test_what_is_covered_in_time_is_not_noted(plan):
    assert covered_late(plan, 3.0 * 3600.0) == ()


def test_what_is_covered_late_is_noted_with_its_age(plan):
    notes = covered_late(plan, 1800.0)
    assert {note.code for note in notes} == {NoteCode.COVERED_LATE}
    assert {note.where for note in notes} == {f"wall panel {copy}" for copy in range(1, 7)}
    assert "24 min of the longest wait are kept to" in notes[0].text
