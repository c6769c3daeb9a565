"""A size that nobody casts comes of a wrong unit, and is not priced."""

import pytest

import takeoff
from takeoff.errors import DrawingError
from takeoff.files.drawing import Drawing, DrawnPiece
from takeoff.files.drawing_unit import told_unit
from takeoff.geometry.outlines import rectangle
from takeoff.measuring.absurd_sizes import refuse_absurd
from takeoff.notes import NoteCode
from tests.house.walking import ROOT
from tests.unit.job.test_bidding import changed_job
from tests.unit.job.test_pour_planning import changed_job as changed_day

SAMPLES = ROOT / "samples" / "ferry-hall"
COUNTER_IN_M = ("job.toml", 'unit = "mm"', 'unit = "m"')
SURROUND_IN_MM = ("job.toml", 'unit = "in"', 'unit = "mm"')


def drawing(*sizes_m):
    pieces = tuple(DrawnPiece("top", rectangle(*size_m)) for size_m in sizes_m)
    return Drawing("a.dxf", "", told_unit("mm"), pieces, (), (), ())


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (
            COUNTER_IN_M,
            "ticket-counter.stl",
            r"2400 x 650 x 860 m overall is absurd; the unit is m \(told\); it would be 2\.4 m in",
        ),
        (
            SURROUND_IN_MM,
            "hearth-surround.stl",
            r"0\.048 x 0\.006 x 0\.042 m overall is absurd; .* 1\.219 m in in, 14\.63 m in ft",
        ),
    ],
)
def test_a_job_in_a_wrong_unit_has_no_price(tmp_path, change, where, says):
    job = changed_job(tmp_path, change)
    with pytest.raises(DrawingError, match=says) as refused:
        takeoff.bid(job)
    assert "nothing is priced at that size: correct the unit of its [[piece]]" in str(refused.value)
    assert refused.value.where.startswith(f"{job}:")
    assert where in refused.value.where


def test_a_pour_day_in_a_wrong_unit_has_no_plan(tmp_path):
    job = changed_day(tmp_path, ("pour-day.toml", 'drawing = "', 'unit = "m"\ndrawing = "'))
    with pytest.raises(DrawingError, match=r"1200 x 2700 m overall is absurd; .* 2\.7 m in mm"):
        takeoff.plan(job)


@pytest.mark.parametrize("largest_m", [0.05, 0.099, 1.0, 20.0])
def test_what_may_be_cast_is_priced_though_it_may_be_noted(largest_m):
    refuse_absurd(drawing((largest_m, 0.03)))


@pytest.mark.parametrize("largest_m", [0.049, 20.1])
def test_what_nobody_casts_is_refused(largest_m):
    with pytest.raises(DrawingError, match=r"^a\.dxf: .*; nothing is priced at that size"):
        refuse_absurd(drawing((0.03, largest_m)))


def test_a_small_piece_beside_a_large_one_is_in_the_same_unit():
    refuse_absurd(drawing((0.03, 0.02), (1.2, 0.6)))


def test_what_is_only_measured_is_noted():
    told = dict(unit="cm", kind="open", show="up")
    (note,) = takeoff.measure(SAMPLES / "ticket-counter.stl", **told).notes
    assert note.code is NoteCode.SIZE_ABSURD
