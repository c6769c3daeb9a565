import pytest

from takeoff.errors import ErrorKind
from takeoff.facade import checking
from takeoff.facade.checking import check


@pytest.mark.parametrize("fault", [RecursionError, MemoryError])
def test_a_drawing_too_deep_or_too_large_is_refused_and_the_next_one_checked(monkeypatch, fault):
    def broken(path, **options):
        raise fault

    monkeypatch.setattr(checking, "read_drawing", broken)
    checked = check(["a.stl", "b.stl"], unit="mm")
    assert [one.error.kind for one in checked.drawings] == [ErrorKind.DRAWING] * 2
    assert fault.__name__ in checked.drawings[0].error.text


def test_the_hash_of_a_refused_file_is_still_given(tmp_path):
    path = tmp_path / "a.stl"
    path.write_bytes(b"")
    [row] = check(path, unit="mm").to_dict()["files"]
    assert row["sha256"] == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert row["error"] is not None
