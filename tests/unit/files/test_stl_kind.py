"""Binary or text, or something else."""

import numpy as np
import pytest

from takeoff.errors import UnreadableError
from takeoff.files.stl_kind import StlKind, decoded, recognised
from tests.unit.files.stl_written import binary_stl, text_stl
from tests.unit.geometry.meshes_made import box


@pytest.fixture
def kind(tmp_path):
    """Write a file and recognise it."""

    def written(data):
        path = tmp_path / "a.stl"
        path.write_bytes(data)
        return recognised(path)

    return written


@pytest.mark.parametrize(
    "header", [b"", b"solid top", b"solid facet normal 0 0 1", b"\x89PNG", b"PK"]
)
def test_the_size_tells_a_binary_file_whatever_its_header(kind, header):
    found = kind(binary_stl(box(), header=header))
    assert (found.kind, found.declared, found.spare) == (StlKind.BINARY, 12, 0)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda text: text, id="as it is"),
        pytest.param(str.upper, id="upper case"),
        pytest.param(lambda text: "\ufeff\r\n " + text, id="mark and blank line"),
        pytest.param(lambda text: text.replace("\n", "\r"), id="old line ends"),
    ],
)
@pytest.mark.parametrize("code", ["utf-8", "utf-16"])
def test_text_is_told_however_it_is_written(kind, change, code):
    assert kind(change(text_stl(box())).encode(code)).kind is StlKind.TEXT


def test_zero_bytes_behind_the_text_change_nothing(kind):
    assert kind(text_stl(box()).encode() + bytes(500)).kind is StlKind.TEXT
    with pytest.raises(UnreadableError, match="too few for a binary STL"):
        kind(b"solid top" + bytes(40))


def test_bytes_that_follow_and_bytes_that_lack_are_counted(kind):
    data = binary_stl(box(), header=b"solid top")
    assert kind(data + b"\0\1\2").spare == 3
    assert kind(data[:-60]).spare == -60


FOREIGN = {
    "a PNG picture": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + bytes(200),
    "a JPEG picture": b"\xff\xd8\xff\xe0\0\x10JFIF" + bytes(200),
    "a ZIP archive": b"PK\x03\x04\x14\0" + bytes(200),
    "a PDF document": b"%PDF-1.7\n%\xe2\xe3" + bytes(200),
    "a web page": b"<!DOCTYPE html><html><body>404 Not Found</body></html>",
    "a JSON file": b'{"message": "not found"}',
    "a PLY mesh": b"ply\nformat ascii 1.0\n",
    "a STEP file": b"ISO-10303-21;\nHEADER;\n",
    "a DXF drawing": b"  0\r\nSECTION\r\n  2\r\nHEADER\r\n",
    "a binary DXF drawing": b"AutoCAD Binary DXF\r\n\x1a\0" + bytes(200),
    "a Git LFS pointer": b"version https://git-lfs.github.com/spec/v1\noid sha256:12\n",
    "a text, but no STL": b"solidity is no word of it\n",
    "too few for a binary STL": bytes(range(40)),
}


@pytest.mark.parametrize("what", FOREIGN)
def test_other_files_are_named(kind, what):
    with pytest.raises(UnreadableError, match=what):
        kind(FOREIGN[what])


def test_an_empty_file_is_refused(kind):
    with pytest.raises(UnreadableError, match=r"empty \(0 bytes\)"):
        kind(b"")


def test_a_blank_text_is_refused(kind):
    with pytest.raises(UnreadableError, match="a text, but no STL"):
        kind(b" \n\n")


def test_a_missing_file_and_a_folder_are_refused(tmp_path):
    with pytest.raises(UnreadableError, match="no such file"):
        recognised(tmp_path / "missing.stl")
    with pytest.raises(UnreadableError, match="this is a folder"):
        recognised(tmp_path)


def test_a_file_below_a_file_cannot_be_opened(tmp_path):
    (tmp_path / "a.stl").write_bytes(b"solid")
    with pytest.raises(UnreadableError, match="cannot be opened"):
        recognised(tmp_path / "a.stl" / "b.stl")


def test_a_header_that_claims_too_much_is_short_and_nothing_is_laid_out_for_it(kind):
    claimed = binary_stl(box(), declared=np.iinfo(np.uint32).max)
    assert kind(claimed).spare < -200e9


def test_text_is_decoded_as_it_was_written():
    for code in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        assert decoded("solid Küche".encode(code)) == "solid Küche"
