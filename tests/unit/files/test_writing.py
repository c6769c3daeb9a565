import os

import pytest

from takeoff.errors import OutputError
from takeoff.files.writing import write_files, write_new_files


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


def test_a_folder_in_the_place_of_a_file_leaves_all_as_it_was(tmp_path):
    (tmp_path / "bid.xlsx").mkdir()
    with pytest.raises(OutputError, match=r"bid\.xlsx is a folder there; name another folder"):
        write_files(tmp_path, {"bid.json": b"{}", "bid.xlsx": b"", "bid.html": b""})
    assert [path.name for path in tmp_path.iterdir()] == ["bid.xlsx"]


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path):
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(OutputError, match=r"out: cannot write there: .* name another folder"):
        write_files(tmp_path / "out", {"a.json": b"{}"})


@pytest.mark.parametrize("there", ["job.toml", "shop.toml"])
def test_a_file_that_is_there_is_not_written_over_and_no_other_is_left(tmp_path, there):
    (tmp_path / there).write_bytes(b"mine")
    with pytest.raises(OutputError, match=rf"{there}: is there already and is not written over"):
        write_new_files(tmp_path, {"job.toml": b"new", "shop.toml": b"new"})
    assert [path.name for path in tmp_path.iterdir()] == [there]
    assert (tmp_path / there).read_bytes() == b"mine"


@pytest.mark.parametrize(
    ("there", "remedy"),
    [
        (["job.toml"], "with -o, or remove job.toml first"),
        (["shop.toml"], "with -o, or remove shop.toml first"),
        (["job.toml", "shop.toml"], "with -o, or remove job.toml and shop.toml first"),
    ],
)
def test_the_files_to_remove_are_named(tmp_path, there, remedy):
    for name in there:
        (tmp_path / name).write_bytes(b"mine")
    with pytest.raises(OutputError, match=remedy):
        write_new_files(tmp_path, {"job.toml": b"new", "shop.toml": b"new"})
    assert sorted(path.name for path in tmp_path.iterdir()) == there


def test_a_link_to_nowhere_is_not_written_over(tmp_path):
    (tmp_path / "job.toml").symlink_to(tmp_path / "gone.toml")
    with pytest.raises(OutputError, match=r"job\.toml: is there already"):
        write_new_files(tmp_path, {"job.toml": b"new"})
    assert not (tmp_path / "gone.toml").exists()


def test_new_files_are_written_whole_into_a_new_folder(tmp_path):
    written = write_new_files(tmp_path / "out", {"job.toml": b"a", "shop.toml": b"b"})
    assert [path.read_bytes() for path in written] == [b"a", b"b"]
    assert len(list((tmp_path / "out").iterdir())) == 2


def test_a_full_disk_leaves_none_of_the_new_files(tmp_path, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_new_files(tmp_path, {"job.toml": b"a", "shop.toml": b"b"})
    assert list(tmp_path.iterdir()) == []


def test_new_files_do_not_go_into_a_file(tmp_path):
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(OutputError, match=r"out: is a file, not a folder"):
        write_new_files(tmp_path / "out", {"job.toml": b"a"})
    with pytest.raises(OutputError, match="name another folder"):
        write_new_files(tmp_path / "out" / "deep", {"job.toml": b"a"})
    assert (tmp_path / "out").read_bytes() == b"mine"
