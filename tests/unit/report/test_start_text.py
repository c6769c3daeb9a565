from takeoff.job.starting import start_job
from takeoff.report.start_text import start_text
from tests.house.walking import ROOT

PANEL = ROOT / "samples" / "ferry-hall" / "wall-panel.dxf"


def test_edits_are_numbered_with_their_line_and_the_values_in_them(tmp_path):
    document = start_job([PANEL], tmp_path)
    lines = start_text(document).splitlines()
    first, second = document["edits"][:2]
    assert f"1. {first['file']}:{first['line']}: {first['what']} (2 values on 2 lines)" in lines
    assert f"2. {second['file']}:{second['line']}: {second['what']}" in lines


def test_a_terminal_is_not_overrun(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = start_text(start_job([PANEL]), width=60)
    long = [line for line in text.splitlines() if len(line) > 60]
    assert all(len(line.split()) <= 2 for line in long)  # a path is never broken


def test_one_edit_is_one(tmp_path):
    document = start_job([PANEL], tmp_path)
    text = start_text({**document, "edits": document["edits"][:1]})
    assert "1 edit, 2 values left, then takeoff bid" in text
