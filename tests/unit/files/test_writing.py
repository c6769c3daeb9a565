import os

import pytest

from takeoff.errors import OutputError
from takeoff.files.writing import write_files


def test_files_are_written_into_a_new_folder(tmp_path):
    written = write_files(tmp_path / "deep" / "out", {"a.json": b"{}", "b.csv": b"x"})
    assert [path.read_bytes() for path in written] == [b"{}", b"x"]
    assert sorted(path.name for path in (tmp_path / "deep" / "out").iterdir()) == [
        "a.json",
        "b.csv",
    ]


def test_an_older_file_is_replaced(tmp_path):
    (tmp_path / "a.json").write_bytes(b"old")
    write_files(tmp_path, {"a.json": b"new"})
    assert (tmp_path / "a.json").read_bytes() == b"new"


def test_a_failure_leaves_the_older_files_as_they_were(tmp_path, monkeypatch):
    (tmp_path / "a.json").write_bytes(b"old")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_files(tmp_path, {"a.json": b"new", "b.csv": b"x"})
    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]
    assert (tmp_path / "a.json").read_bytes() == b"old"


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path):
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(OutputError, match=r"out: cannot write there: .* name another folder"):
        write_files(tmp_path / "out", {"a.json": b"{}"})
