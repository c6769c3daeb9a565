"""A still picture of one piece from the open side of its form."""

from __future__ import annotations

import io

import numpy as np
import pytest
import trimesh

from takeoff.geometry.mesh import Mesh
from takeoff.piece.classifying import classify
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.report.open_side import open_side_png
from takeoff.report.painting import PALETTE

pytest.importorskip("embreex")
Images = pytest.importorskip("PIL.Image")


def slab_png() -> bytes:
    slab = Mesh.from_trimesh(trimesh.creation.box((0.4, 0.3, 0.05)), unit="m")
    up = np.array([0.0, 0.0, 1.0])
    return open_side_png(classify(slab, kind=ModelKind.PIECE, show_direction=up))


def test_the_back_is_seen_and_the_show_face_is_not() -> None:
    pixels = np.asarray(Images.open(io.BytesIO(slab_png()))).reshape(-1, 3).astype(float)
    hues = pixels / np.maximum(np.linalg.norm(pixels, axis=1, keepdims=True), 1.0)
    show = np.array(PALETTE[SurfaceClass.SHOW_FACE]) / np.linalg.norm(
        PALETTE[SurfaceClass.SHOW_FACE]
    )
    back = np.array([200.0, 200.0, 200.0]) / np.linalg.norm([200.0] * 3)
    painted = pixels.sum(axis=1) < 700.0
    assert not (painted & (hues @ show > 0.999)).any()
    assert (painted & (hues @ back > 0.999)).sum() > 20_000


def test_it_is_the_same_every_time() -> None:
    assert slab_png() == slab_png()
