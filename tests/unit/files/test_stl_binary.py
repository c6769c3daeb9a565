"""Facets of binary STL files."""

import hashlib
from pathlib import Path

import numpy as np
import pytest

from takeoff.errors import UnreadableError
from takeoff.files import stl_binary
from takeoff.files.stl_binary import binary_facets
from takeoff.files.stl_kind import StlFile, StlKind, recognised
from tests.unit.files.stl_written import binary_stl
from tests.unit.geometry.meshes_made import box, plate


@pytest.fixture
def facets(tmp_path):
    """Write a file and read its facets."""

    def written(data):
        path = tmp_path / "a.stl"
        path.write_bytes(data)
        return binary_facets(recognised(path))

    return written


@pytest.mark.parametrize("at_once", [1, 5, 64, 1000])
def test_corners_come_as_stored(monkeypatch, facets, at_once):
    monkeypatch.setattr(stl_binary, "_CHUNK_FACETS", at_once)
    mesh = plate()
    data = binary_stl(mesh)
    found = facets(data)
    corners = (mesh.points_m * 1000)[mesh.triangles].reshape(-1, 3)
    assert np.array_equal(found.points[found.number], corners)
    assert found.points.dtype == np.float32
    assert found.farthest == np.abs(corners).max()
    assert found.sha256 == hashlib.sha256(data).hexdigest()
    assert found.extra == 0


@pytest.mark.parametrize(
    "tail",
    [
        pytest.param(b"\r\nend of export", id="few"),
        pytest.param(bytes(500), id="zeros"),
        pytest.param(b"made by a program on a machine. " * 90, id="words"),
        pytest.param(b"\xff" * 500, id="ones"),
        pytest.param(b"\x01\x00\x80\x7f" * 125, id="no numbers"),
        pytest.param(b"\0" * 3_000_000, id="many"),
    ],
)
def test_what_follows_the_facets_is_counted_and_hashed(facets, tail):
    data = binary_stl(box()) + tail
    found = facets(data)
    assert found.extra == len(tail)
    assert len(found.number) == 36
    assert found.sha256 == hashlib.sha256(data).hexdigest()


@pytest.mark.parametrize("declared", [0, 4, 11])
def test_facets_beyond_the_declared_count_are_refused(facets, declared):
    with pytest.raises(
        UnreadableError, match=f"declares {declared} facets, but {12 - declared} more"
    ):
        facets(binary_stl(box(), declared=declared))


@pytest.mark.parametrize("cut", [1, 50, 51, 590])
def test_a_file_cut_short_is_refused_with_both_counts(facets, cut):
    data = binary_stl(box(), header=b"cut")
    whole = 12 - -(-cut // 50)
    with pytest.raises(UnreadableError, match=f"declares 12 facets.* hold {whole} whole ones"):
        facets(data[:-cut])


def test_a_file_cut_while_it_is_read_is_refused(tmp_path):
    path = tmp_path / "a.stl"
    path.write_bytes(binary_stl(box()))
    file = recognised(path)
    path.write_bytes(binary_stl(box())[:-60])
    with pytest.raises(UnreadableError, match="cut short"):
        binary_facets(file)


def test_a_count_of_four_billion_is_refused_at_once(facets):
    with pytest.raises(UnreadableError, match="declares 4294967295 facets"):
        facets(binary_stl(box(), declared=2**32 - 1))


def test_more_facets_than_can_be_numbered_are_refused_before_any_is_read():
    count = 2**31 // 3 + 1
    huge = StlFile(Path("hall.stl"), StlKind.BINARY, size=84 + 50 * count, declared=count)
    with pytest.raises(UnreadableError, match=f"holds {count} facets, and at most 715827882"):
        binary_facets(huge)


@pytest.mark.parametrize("with_hash", [True, False])
def test_the_hash_is_left_out_where_nobody_asks_for_it(tmp_path, with_hash):
    path = tmp_path / "a.stl"
    path.write_bytes(binary_stl(box()))
    found = binary_facets(recognised(path), with_hash=with_hash)
    assert bool(found.sha256) is with_hash
    assert len(found.points) == 8


def test_a_coordinate_that_signals_that_it_is_no_number_comes_without_a_warning(facets):
    data = bytearray(binary_stl(box()))
    data[96:100] = b"\x01\x00\x80\x7f"
    found = facets(bytes(data))
    assert np.isnan(found.farthest)
