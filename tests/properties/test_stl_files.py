"""Damaged STL files are read or refused, never anything else."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.errors import TakeoffError
from takeoff.files.stl import read_stl

FOLDER = Path(__file__).parent.parent / "drawings" / "stl"
DRAWINGS = {path.name: path.read_bytes() for path in sorted(FOLDER.glob("*.stl"))}
NUMBERS = [b"nan", b"1e400", b"-1e38", b"0", b"1,5", b"1_0", b"0x10", b"", b"\xff", b"vertex"]


def flipped(data, random):
    """Some bytes changed."""
    data = bytearray(data)
    for place in random.integers(0, len(data), random.integers(1, 9)):
        data[place] ^= 1 << random.integers(8)
    return bytes(data)


def cut(data, random):
    """The end missing, or a piece out of the middle."""
    begin, end = sorted(random.integers(0, len(data) + 1, 2))
    return data[:end] if random.random() < 0.5 else data[:begin] + data[end:]


def repeated(data, random):
    """A piece twice."""
    begin, end = sorted(random.integers(0, len(data) + 1, 2))
    return data[:end] + data[begin:]


def renumbered(data, random):
    """Another number, or bytes where one stands."""
    words = data.split(b" ")
    if len(words) > 20:
        words[random.integers(len(words))] = NUMBERS[random.integers(len(NUMBERS))]
        return b" ".join(words)
    place = 80 + 4 * int(random.integers(0, max(len(data) - 80, 0) // 4 + 1))
    return data[:place] + random.bytes(4) + data[place + 4 :]


def mixed(data, random):
    """Corners and facets of a sound file put in each other's places."""
    facets = np.frombuffer(data[84:], dtype=np.uint8)[: (len(data) - 84) // 50 * 50].copy()
    if len(data) < 84 + 50 or b"endfacet" in data.lower():
        words = data.split(b" ")
        for _ in range(random.integers(1, 6)):
            one, other = random.integers(len(words), size=2)
            words[one] = words[other]
        return b" ".join(words)
    corners = facets.reshape(-1, 50)[:, 12:48].reshape(-1, 36)
    for _ in range(random.integers(1, 12)):
        step = int(random.choice([4, 12, 36]))
        one, other = random.integers(len(corners), size=2)
        begin, start = (step * int(place) for place in random.integers(36 // step, size=2))
        corners[one, begin : begin + step] = corners[other, start : start + step]
    records = facets.reshape(-1, 50)
    records[:, 12:48] = corners
    return data[:84] + records.tobytes() + data[84 + records.size :]


def claimed(data, random):
    """Another count of facets."""
    return data[:80] + random.bytes(4) + data[84:]


def spliced(data, random):
    """The beginning of one file with the end of another."""
    other = DRAWINGS[sorted(DRAWINGS)[random.integers(len(DRAWINGS))]]
    return data[: random.integers(len(data) + 1)] + other[random.integers(len(other) + 1) :]


DAMAGE = [flipped, cut, repeated, renumbered, mixed, mixed, claimed, spliced]


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A place for damaged files."""
    return tmp_path_factory.mktemp("damaged")


def read_or_refused(path, unit):
    """Give the drawing, or the refusal; anything else goes through."""
    try:
        return read_stl(path, unit=unit)
    except TakeoffError as refusal:
        return refusal


@settings(max_examples=400, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(sorted(DRAWINGS)), st.integers(0, 2**32 - 1), st.sampled_from(["mm", None]))
def test_a_damaged_file_is_read_or_refused(folder, name, seed, unit):
    random = np.random.default_rng(seed)
    data = DRAWINGS[name]
    for _ in range(random.integers(1, 3)):
        data = DAMAGE[random.integers(len(DAMAGE))](data, random)
    path = folder / name
    path.write_bytes(data)
    drawing = read_or_refused(path, unit)
    if isinstance(drawing, TakeoffError):
        assert str(path) in str(drawing)
        return
    for piece in drawing.pieces:
        assert np.isfinite(piece.report.area_m2)
        assert piece.report.area_m2 > 0.0
        assert piece.report.volume_m3 is None or np.isfinite(piece.report.volume_m3)
