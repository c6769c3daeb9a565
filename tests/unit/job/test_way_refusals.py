import tomllib

import pytest

from takeoff.errors import ErrorKind, SurfaceError
from takeoff.job.way_mixes import WayMix, way_mixes
from takeoff.job.way_refusals import AskedPiece, asked_piece, way_refusal
from takeoff.job.way_rows import ways_of
from takeoff.piece.ways import Way
from tests.unit.job.trays_made import FACE_COAT, POURED, tray

MIXES = way_mixes([WayMix(POURED)])


def rows_of(size_mm):
    return ways_of(tray(size_mm), MIXES, face_coat=FACE_COAT)


@pytest.fixture(scope="module")
def rows():
    return rows_of((400, 300, 60))


def pasted(text):
    """The lines that are to be pasted, read as a job file would be."""
    lines = text.splitlines()
    head = [line for line in lines if line.startswith(("[piece.wall]", "R", "U"))]
    tables = "\n".join(head).split("[piece.wall]\n")[1:]
    return [tomllib.loads("[piece.wall]\n" + table)["piece"]["wall"] for table in tables]


def test_a_job_that_tells_the_way_of_every_wall_is_not_asked(rows):
    assert asked_piece("tray", rows, dict.fromkeys(("R1", "R2", "R3", "R4"), Way.DAMMED)) is None


def test_only_the_walls_whose_way_is_missing_are_asked_about(rows):
    asked = asked_piece("tray", rows, {"R1": Way.FILLED, "R2": None, "R4": None})
    assert [row.surface for row in asked.rows] == ["R2"] * 5 + ["R4"] * 5
    assert asked.told == {}


def test_a_wall_on_which_the_backer_stands_is_not_asked_about():
    low = rows_of((400, 300, 15))
    assert asked_piece("tray", low, {"R1": Way.DAMMED}) is None


def test_a_way_that_cannot_be_followed_is_asked_about():
    narrow = rows_of((400, 30, 60))
    asked = asked_piece("slot", narrow, {"R1": Way.DAMMED, "R2": Way.PACKED})
    assert asked.told == {"R1": Way.DAMMED}
    text = way_refusal([asked]).text
    assert "R1, 60 mm deep: dammed is told and cannot be done" in text
    head = text.partition("\n")[0]
    assert "dammed is told of walls on which that cannot be done" in head
    assert "for all walls" not in head  # what is told already is not proposed
    assert "at the end of its [[piece]], under its plain keys" in head
    assert "dammed or cored not feasible: the layers meet: there is no room" in text
    assert pasted(text) == [{"R1": "filled"}]


def test_a_way_for_all_walls_is_proposed_only_where_all_can_be_cast_so(rows):
    narrow = rows_of((400, 30, 60))
    asked = [asked_piece("tray", rows, {"R1": None})]
    assert 'for all walls by way = "dammed"' in way_refusal(asked).text
    asked.append(asked_piece("slot", narrow, {"R1": None}))
    assert "for all walls" not in way_refusal(asked).text


def test_several_ways_that_cannot_be_done_are_named(rows):
    narrow = rows_of((400, 30, 60))
    asked = asked_piece("slot", narrow, {"R1": Way.DAMMED, "R2": Way.CORED})
    assert "dammed and cored are told of walls on which" in way_refusal([asked]).text


def test_all_walls_of_all_pieces_are_refused_at_once(rows):
    upright = rows_of((2000, 1000, 200))
    asked = [
        asked_piece("tray", rows, dict.fromkeys(("R1", "R2", "R3", "R4"))),
        asked_piece("trough", upright, {"U1": None, "U3": Way.DAMMED}),
    ]
    with pytest.raises(
        SurfaceError, match="a poured backer runs level and stands on no wall"
    ) as no:
        raise way_refusal(asked)
    assert no.value.kind is ErrorKind.SURFACE
    text = str(no.value)
    assert pasted(text) == [dict.fromkeys(("R1", "R2", "R3", "R4"), "dammed"), {"U1": "dammed"}]
    assert text.index("\ntray\n") < text.index("\ntrough\n")


def test_each_way_stands_with_its_litres_and_its_inner_form(rows):
    # 400 x 300 x 60 mm, layers of 20 mm: 7.2 L less a hollow of 360 x 260 x 40 mm = 3.744 L; on
    # the show face, mitred, 2.130667 L; of the 1.325333 L on the walls a long one has the integral
    # of (400 - 2 s) (60 - s) over 20 mm, 0.381333 L. Its inner face is 360 x 40 mm = 0.0144 m2.
    [piece] = [way_refusal([asked_piece("tray", rows, {"R1": None})]).text.partition("tray\n")[2]]
    assert piece.splitlines() == [
        "  R1, 60 mm deep:",
        "    dammed or cored 0.38 L, inner form 0.014 m²",
        "    filled 4.13 L",
        "    packed or sprayed 0.38 L",
        "# at the end of the [[piece]] of tray, under its plain keys",
        "[piece.wall]",
        'R1 = "dammed"',
    ]


def test_walls_that_take_the_same_share_an_entry(rows):
    text = way_refusal([AskedPiece("tray", rows)]).text
    assert "  R1, R2, 60 mm deep:" in text
    assert "  R3, R4, 60 mm deep:" in text
