"""Names in any script are written into pictures by the fonts of the sheets."""

from __future__ import annotations

import numpy as np
import pytest

from takeoff.report.picture_type import covers, write_line

Image = pytest.importorskip("PIL.Image")
ImageDraw = pytest.importorskip("PIL.ImageDraw")

ROOM = 200


def drawn(text: str, *, room: int = ROOM) -> np.ndarray:
    image = Image.new("RGB", (ROOM * 3, 24), (255, 255, 255))
    write_line(ImageDraw.Draw(image), (0, 0), text, size=15, room=room, colour=(0, 0, 0))
    return np.asarray(image)[..., 0] < 128


@pytest.mark.parametrize("name", ["Стойка", "墙板", "櫃檯", "Ωμέγα", "m²", "لوح"])
def test_each_sign_has_a_shape_of_its_own(name: str) -> None:
    shapes = {drawn(sign).tobytes() for sign in set(name)}
    assert all(map(covers, name))
    assert len(shapes) == len(set(name))


def test_names_that_no_font_has_are_told_apart() -> None:
    names = ["벽체", "판넬", "แผ่น", "दीवार", "\U0001f9f1", "\U0001f6a2"]
    assert len({drawn(name).tobytes() for name in names}) == len(names)


def test_a_line_stays_in_its_room() -> None:
    assert drawn("slab")[:, :ROOM].any()
    assert not drawn("a name that has no end " * 9)[:, ROOM:].any()
    assert not drawn("墙板" * 90)[:, ROOM:].any()


def test_what_is_cut_says_so() -> None:
    assert (drawn("x" * 300) != drawn("x" * 20)).any()
