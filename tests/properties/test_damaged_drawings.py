"""Damaged DXF files are read or refused in words, and the files beside them are read."""

import json
import random
from collections.abc import Callable
from pathlib import Path

import pytest

from takeoff.facade.checking import check

DRAWINGS = Path(__file__).parents[1] / "drawings"
FILES = sorted((DRAWINGS / "dxf").glob("*.dxf"))
FIGURES = (
    b"1e308", b"-1e30", b"nan", b"inf", b"-1", b"0", b"1e-320", b"2147483648", b"1000000",
    b"99999999999999999999", b"1,5", b"abc", b"", b"64", b"129",
)  # fmt: skip
CODES = (b"0", b"10", b"11", b"41", b"42", b"70", b"71", b"73", b"90", b"92", b"210", b"2", b"330")

Damage = Callable[[bytes, random.Random], bytes]


def line_lost(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    del lines[chance.randrange(len(lines))]
    return b"\n".join(lines)


def line_doubled(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    at = chance.randrange(len(lines))
    return b"\n".join([*lines[:at], lines[at], *lines[at:]])


def entities_repeated(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    at = 2 * chance.randrange(1 + len(lines) // 2)
    stretch = lines[at : at + 2 * chance.randrange(1, 40)]
    return b"\n".join([*lines[:at], *stretch * 30, *lines[at:]])


def figure_changed(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    lines[min(chance.randrange(len(lines)) | 1, len(lines) - 1)] = chance.choice(FIGURES)
    return b"\n".join(lines)


def code_changed(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    lines[2 * chance.randrange((1 + len(lines)) // 2)] = chance.choice(CODES)
    return b"\n".join(lines)


def array_put_in(data: bytes, chance: random.Random) -> bytes:
    count = chance.choice((b"1000000", b"32767", b"-1"))
    return data.replace(b"\nINSERT\n", b"\nINSERT\n70\n" + count + b"\n71\n" + count + b"\n")


def cut_short(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(1 + len(data))]


def bits_turned(data: bytes, chance: random.Random) -> bytes:
    turned = bytearray(data)
    for _ in range(chance.choice((1, 8, 40)) if turned else 0):
        turned[chance.randrange(len(turned))] ^= 1 << chance.randrange(8)
    return bytes(turned)


DAMAGES: tuple[Damage, ...] = (
    line_lost, line_doubled, entities_repeated, figure_changed, code_changed, array_put_in,
    cut_short, bits_turned,
)  # fmt: skip


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.__name__)
def test_a_damaged_drawing_is_read_or_refused_in_words(tmp_path, damage):
    chance = random.Random(damage.__name__)
    for number in range(25):
        drawn = chance.choice(FILES)
        path = tmp_path / f"{number}{drawn.suffix}"
        path.write_bytes(damage(drawn.read_bytes(), chance))
        document = check(path, unit="mm").to_dict()
        json.dumps(document, allow_nan=False)
        [file] = document["files"]
        assert (file["error"] is None) is bool(file["pieces"])
        assert file["error"] is None or len(file["error"]["text"]) > 10


@pytest.mark.parametrize("unit", ["mm", "in", None])
def test_a_damaged_drawing_never_stops_the_others(tmp_path, unit):
    chance = random.Random(7)
    sound = DRAWINGS / "dxf" / "insunits_inch.dxf"
    broken = tmp_path / "broken.dxf"
    broken.write_bytes(cut_short(sound.read_bytes(), chance))
    first, second = check([broken, sound], unit=unit).drawings
    assert first.error is not None
    assert second.error is None
