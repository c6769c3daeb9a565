import io

import numpy as np
import pytest

from takeoff.piece.casting import classify_castings
from takeoff.piece.surfaces import ModelKind, SurfaceClass
from takeoff.report.first_hits import first_hits
from takeoff.report.painting import PALETTE, hatch, view_of
from takeoff.report.picture import Panel, picture_png
from tests.unit.piece.pieces_made import UP, box, told

pytest.importorskip("embreex")
pytest.importorskip("PIL")

SLAB = box((0, 0, 0), (800, 400, 60))


def test_the_eye_sees_the_facets_that_face_it():
    hits = first_hits(SLAB, UP, width=60, height=40)
    seen = np.unique(hits.facet[hits.facet >= 0])
    corners = SLAB.points_m[SLAB.triangles[seen]]
    assert (corners[..., 2] == 0.06).all()
    assert hits.light_share[hits.facet >= 0] == pytest.approx(1.0)
    assert (hits.facet[:, 0] == -1).all()


def test_the_whole_piece_is_seen_wherever_it_lies_in_the_drawing():
    near = first_hits(SLAB, UP, width=60, height=40).facet >= 0
    far = box((90000, -70000, 0), (90800, -69600, 60))
    assert (near == (first_hits(far, UP, width=60, height=40).facet >= 0)).all()


def test_each_class_has_its_colour_and_its_own_hatch():
    fields = [hatch(surface_class, 24, 24) for surface_class in SurfaceClass]
    marks = []
    for surface_class, field in zip(SurfaceClass, fields, strict=True):
        plain = (field == np.array(PALETTE[surface_class])).all(axis=2)
        assert plain.mean() > 0.5
        marks.append(plain.tobytes())
    assert len(set(marks)) == 4


def test_a_view_is_painted_by_class_with_ids_on_what_is_seen():
    view = view_of(told(SLAB), UP, width=120, height=80)
    colours = {tuple(pixel) for pixel in view.pixels.reshape(-1, 3).tolist()}
    assert PALETTE[SurfaceClass.SHOW_FACE] in colours
    assert [name for name, _, _ in view.ids] == ["F1"]
    askew = view_of(told(SLAB), np.array([0.6, 0.0, 0.8]), width=240, height=160)
    assert {name[0] for name, _, _ in askew.ids} == {"F", "R"}


def test_a_picture_shows_both_sides_and_is_the_same_every_time():
    from PIL import Image

    panel = Panel("slab, 0.320 m²", told(SLAB))
    one, two = picture_png([panel]), picture_png([panel, panel])
    assert one == picture_png([panel])
    wide, high = Image.open(io.BytesIO(one)).size
    assert Image.open(io.BytesIO(two)).size[0] == wide
    assert Image.open(io.BytesIO(two)).size[1] > high
    pixels = np.asarray(Image.open(io.BytesIO(one)).convert("RGB"))
    for half, surface_class in ((0, SurfaceClass.SHOW_FACE), (1, SurfaceClass.BACK)):
        part = pixels[60:400, half * wide // 2 : (half + 1) * wide // 2].astype(float)
        ink = part[(part.sum(axis=2) < 3 * 250)]
        hue = np.median(ink / ink.sum(axis=1, keepdims=True), axis=0)
        colour = np.array(PALETTE[surface_class], dtype=float)
        assert hue == pytest.approx(colour / colour.sum(), abs=0.03)


def test_a_form_is_drawn_as_what_is_cast_in_it():
    from tests.unit.piece.test_cavities import BOX, form

    [cast] = classify_castings(form(BOX), kind=ModelKind.FORM, show_direction=-UP)
    view = view_of(cast, UP, width=120, height=80)
    assert view.ids[0][0] == "F1"
    assert picture_png([Panel("form", cast)]).startswith(b"\x89PNG")
