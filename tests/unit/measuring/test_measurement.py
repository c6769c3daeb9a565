import pytest

import takeoff
from tests.house.walking import ROOT

SAMPLES = ROOT / "samples" / "ferry-hall"


@pytest.fixture(scope="module")
def counter():
    return takeoff.measure(SAMPLES / "ticket-counter.stl", unit="mm", kind="open", show="up")


@pytest.fixture(scope="module")
def surround():
    return takeoff.measure(SAMPLES / "hearth-surround.stl", unit="in", kind="piece", show="front")


def test_reasons_are_written_in_the_unit_of_the_drawing(counter, surround):
    [metric] = counter.to_dict()["pieces"]
    [inches] = surround.to_dict()["pieces"]
    assert metric["surfaces"][1]["why"] == (
        "wall 40 mm behind the show face, ends at an open edge: return"
    )
    assert inches["surfaces"][1]["why"] == (
        "wall 6 in behind the show face, ends at the back: upright"
    )


def test_every_surface_knows_its_neighbours_and_depths(counter):
    [piece] = counter.to_dict()["pieces"]
    rows = {row["id"]: row for row in piece["surfaces"]}
    meets = {row["id"]: row["length_m"] for row in rows["F1"]["neighbours"]}
    around = [rows[name] for name in meets if not rows[name]["opening"]]
    assert sum(meets[row["id"]] for row in around) == pytest.approx(2.4 + 2 * 0.65)
    for row in rows.values():
        assert row["mean_depth_m"] <= row["depth_m"] + 1e-12
        for neighbour in row["neighbours"]:
            beside = {other["id"] for other in rows[neighbour["id"]]["neighbours"]}
            assert row["id"] in beside


def test_a_piece_tells_its_edges_openings_and_radius(counter):
    [piece] = counter.to_dict()["pieces"]
    assert piece["arris_m"] == pytest.approx(piece["sharp_arris_m"] + piece["rounded_arris_m"])
    assert piece["inside_corner_m"] == pytest.approx(
        piece["sharp_inside_corner_m"] + piece["rounded_inside_corner_m"]
    )
    assert piece["min_radius_m"] is None
    [opening] = piece["openings"]
    assert (opening["id"], opening["bare"]) == ("O1", False)
    assert opening["wall_area_m2"] == pytest.approx(piece["opening_wall_m2"])
    assert piece["bare_wall_m2"] == 0.0


def test_rows_are_flat(counter):
    row = counter.rows()[1]
    assert row["neighbours"].split()[0] == "F1"
    assert row["mean_depth_m"] == pytest.approx(0.04)
    assert row["undercut_m2"] == 0.0
    assert all(isinstance(value, str | float | None) for value in row.values())
