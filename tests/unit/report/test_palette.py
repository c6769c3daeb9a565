"""The colours of the classes stay apart for eyes that lack one kind of cone, and in grey.

The matrices are those of G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-
based Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and
Computer Graphics 15(6), 2009, table 1, severity 1.0, on linear sRGB; as several free programs print
them alike. sRGB and its transfer curve are those of IEC 61966-2-1, CIELAB and its difference those
of CIE 1976 (from memory).
"""

from __future__ import annotations

import re
from importlib.resources import files
from itertools import combinations

import numpy as np
import pytest

from takeoff.piece.surfaces import SurfaceClass
from takeoff.report.painting import PALETTE

SEEN_BY = {
    "all cones": np.eye(3),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
WHITE = XYZ.sum(axis=1)
# A difference of 2.3 is just noticed side by side; ten times that is told across a picture.
CLEAR = 23.0


def linear(colour: tuple[int, int, int]) -> np.ndarray:
    share = np.array(colour) / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def lab(light: np.ndarray) -> np.ndarray:
    share = XYZ @ np.clip(light, 0.0, 1.0) / WHITE
    root = np.where(share > (6 / 29) ** 3, np.cbrt(share), share * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * root[1] - 16, 500 * (root[0] - root[1]), 200 * (root[1] - root[2])])


def test_the_measure_of_difference_is_right_at_its_ends() -> None:
    assert lab(linear((255, 255, 255))) == pytest.approx([100.0, 0.0, 0.0], abs=0.01)
    assert lab(linear((0, 0, 0))) == pytest.approx([0.0, 0.0, 0.0], abs=0.01)
    # Each eye sees grey as grey: the rows of its matrix come to 1.
    for matrix in SEEN_BY.values():
        assert matrix.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0], abs=2e-6)


@pytest.mark.parametrize("eye", SEEN_BY)
def test_classes_are_told_apart_by(eye: str) -> None:
    shown = {name: lab(SEEN_BY[eye] @ linear(colour)) for name, colour in PALETTE.items()}
    assert len(shown) == len(SurfaceClass)
    for one, other in combinations(shown, 2):
        assert np.linalg.norm(shown[one] - shown[other]) > CLEAR, (one, other)


def test_red_and_green_of_one_lightness_would_be_found_out() -> None:
    red, green = (
        lab(SEEN_BY["deuteranopia"] @ linear(one)) for one in ((200, 60, 60), (90, 110, 60))
    )
    assert np.linalg.norm(red - green) < CLEAR


def test_cast_classes_are_told_apart_in_grey() -> None:
    light = sorted(lab(linear(colour))[0] for colour in PALETTE.values())
    assert min(np.diff(light)) > 14.0


def test_the_page_has_the_same_colours() -> None:
    css = (files("takeoff.report") / "templates" / "bid.css").read_text(encoding="utf-8")
    for name, colour in PALETTE.items():
        [told] = re.findall(rf"--{name.value}: #([0-9a-f]{{6}});", css)
        assert bytes.fromhex(told) == bytes(colour)
