import pytest

from takeoff.errors import ErrorKind
from takeoff.facade import checking
from takeoff.facade.checking import check
from tests.unit.files.dxf_text import dxf, polyline, rectangle, saved


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


def drawn(folder, *names):
    """Draw the same panel into several files."""
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        saved(folder, dxf(polyline(rectangle(0, 0, 600, 400))), name)


def names(checked):
    return [one.path.name for one in checked.drawings]


def test_patterns_are_expanded_in_order_and_reach_into_folders(tmp_path):
    drawn(tmp_path, "b.dxf", "a.dxf", "site/c.dxf")
    assert names(check(str(tmp_path / "*.dxf"), unit="mm")) == ["a.dxf", "b.dxf"]
    assert names(check(tmp_path / "**" / "*.dxf", unit="mm")) == ["a.dxf", "b.dxf", "c.dxf"]


def test_a_file_that_is_named_twice_counts_once(tmp_path):
    drawn(tmp_path, "a.dxf", "b.dxf")
    checked = check([tmp_path / "b.dxf", tmp_path / "*.dxf", tmp_path / "a.*"], unit="mm")
    assert names(checked) == ["b.dxf", "a.dxf"]


def test_a_pattern_that_no_file_matches_is_refused_beside_the_others(tmp_path):
    drawn(tmp_path, "a.dxf")
    checked = check([tmp_path / "*.dwg", tmp_path / "a.dxf"], unit="mm")
    assert [one.error is None for one in checked.drawings] == [False, True]
    assert checked.drawings[0].error.text.startswith("no file has a name of this pattern")


def test_a_name_with_brackets_is_a_name_where_the_file_is_there(tmp_path):
    drawn(tmp_path, "panel [rev 2].dxf")
    assert not check(tmp_path / "panel [rev 2].dxf", unit="mm").refused


def test_a_name_that_no_file_can_have_is_refused():
    assert check("a\0*.dxf", unit="mm").refused
