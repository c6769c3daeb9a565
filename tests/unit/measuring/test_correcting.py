import pytest

import takeoff
from takeoff.errors import ShopFileError, SurfaceError
from takeoff.files.stl import read_stl
from tests.house.walking import ROOT
from tests.unit.job.test_bidding import changed_job

SAMPLES = ROOT / "samples" / "ferry-hall"
COUNTER = SAMPLES / "ticket-counter.stl"
TOLD = {"unit": "mm", "kind": "open", "show": "up"}
HASH = read_stl(COUNTER, unit="mm").sha256


def counter(**corrections):
    return takeoff.measure(COUNTER, **TOLD, **corrections)


def test_surfaces_and_openings_are_corrected_by_id():
    plain = counter()
    [piece] = counter(surfaces={"R2": "back"}, openings={"O1": "bare"}).to_dict()["pieces"]
    wall = next(row for row in piece["surfaces"] if row["id"] == "R2")
    assert (wall["class"], wall["found_class"]) == ("back", "return")
    assert wall["why"].startswith("corrected by the job: back; found: wall 40 mm behind")
    assert piece["area_m2"]["return"] == pytest.approx(plain.area_m2["return"] - wall["area_m2"])
    assert [row["bare"] for row in piece["openings"]] == [True]
    assert piece["form_area_m2"] == pytest.approx(
        plain.pieces[0].form_area_m2 - wall["area_m2"] - piece["bare_wall_m2"]
    )


def test_corrections_are_among_the_settings():
    settings = counter(surfaces={"R2": "back"}).to_dict()["settings"]
    assert settings["surfaces"] == {"R2": "back"}
    assert "sha256" not in settings


@pytest.mark.parametrize("length", [12, 40, 64])
def test_the_hash_of_the_same_drawing_is_taken(length):
    assert counter(surfaces={"R2": "back"}, sha256=HASH[:length].upper()).area_m2["back"] > 0.0


@pytest.mark.parametrize("told", ["0" * 12, HASH[:8], "f" + HASH])
def test_another_drawing_is_refused_with_the_line_to_paste(told):
    with pytest.raises(SurfaceError, match="the drawing is not the one whose R2 were told") as no:
        counter(surfaces={"R2": "back"}, sha256=told)
    assert no.value.text.splitlines()[-1] == f'sha256 = "{HASH[:12]}"'
    assert no.value.where.endswith("ticket-counter.stl")


def test_a_hash_without_corrections_does_not_matter():
    assert counter(sha256="0" * 12).area_m2 == counter().area_m2


def test_what_the_counter_does_not_have_is_refused():
    with pytest.raises(
        SurfaceError, match=r"there is no U9 to correct; this piece has\n  F1  1.37"
    ):
        counter(surfaces={"U9": "return"})
    with pytest.raises(SurfaceError, match="R1 cannot be 'wall'; give one of show_face"):
        counter(surfaces={"R1": "wall"})


def test_ids_fit_one_piece_only(tmp_path):
    text = "".join(
        f"solid {name}\n"
        + "".join(
            f"facet normal 0 0 0\nouter loop\n{corners}endloop\nendfacet\n" for corners in facets
        )
        + f"endsolid {name}\n"
        for name, facets in (("a", tray(0.0)), ("b", tray(3000.0)))
    )
    (tmp_path / "two.stl").write_text(text, encoding="ascii")
    with pytest.raises(SurfaceError, match="holds 2 pieces, each with a R1 of its own"):
        takeoff.measure(tmp_path / "two.stl", **TOLD, surfaces={"R1": "back"})


def tray(shift):
    """A sheet folded down along one side."""
    corners = [(0, 0, 0), (900, 0, 0), (900, 600, 0), (0, 600, 0), (0, 0, -50), (900, 0, -50)]
    for triangle in ((0, 1, 2), (0, 2, 3), (0, 4, 5), (0, 5, 1)):
        yield "".join(
            f"vertex {corners[at][0] + shift} {corners[at][1]} {corners[at][2]}\n"
            for at in triangle
        )


def test_walls_of_an_outline_are_told_by_their_edges():
    with pytest.raises(SurfaceError, match="R1 cannot be corrected: the walls of an outline"):
        takeoff.measure(SAMPLES / "wall-panel.dxf", edge_depth="60 mm", surfaces={"R1": "back"})


COUNTER_ROWS = 'unit = "mm"\nkind = "open"\nshow = "up"\n'


def corrected_job(folder, *lines):
    rows = "\n".join(lines)
    return changed_job(folder, ("job.toml", COUNTER_ROWS, f"{COUNTER_ROWS}{rows}\n"))


def test_a_job_corrects_by_id_and_by_hash(tmp_path):
    job = corrected_job(
        tmp_path, f'sha256 = "{HASH[:12]}"', "[piece.surface]", 'R2 = "back"', "[piece.opening]",
        'O1 = "bare"',
    )  # fmt: skip
    [piece, *_] = takeoff.bid(job).to_dict()["pieces"]
    assert next(row for row in piece["surfaces"] if row["id"] == "R2")["class"] == "back"
    assert piece["bare_wall_m2"] == pytest.approx(0.0704)


def test_a_job_without_the_hash_is_refused_with_the_line_to_paste(tmp_path):
    job = corrected_job(tmp_path, "[piece.surface]", 'R2 = "back"')
    with pytest.raises(SurfaceError, match="R2 is read off a drawing; add this line") as refused:
        takeoff.bid(job)
    assert refused.value.text.splitlines()[-1] == f'sha256 = "{HASH[:12]}"'
    assert "job.toml:" in refused.value.where


def test_the_number_of_a_reading_is_guarded_too(tmp_path):
    job = changed_job(tmp_path, ("job.toml", 'show = "up"', 'show = "S1"'))
    with pytest.raises(SurfaceError, match="S1 is read off a drawing; add this line"):
        takeoff.bid(job)
    told = job.read_text(encoding="utf-8").replace('"S1"\n', '"S1"\nsha256 = "123456123456"\n')
    job.write_text(told, encoding="utf-8")
    with pytest.raises(SurfaceError, match="the drawing is not the one whose S1 were told"):
        takeoff.bid(job)


def test_edges_are_guarded_too(tmp_path):
    job = changed_job(tmp_path, ("job.toml", 'sha256 = "a4f167ad6b40"', "# no hash"))
    with pytest.raises(SurfaceError, match="E3 is read off a drawing; add this line to its"):
        takeoff.bid(job)


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (("[piece.surface]", 'R2 = "wall"'), 'surface.R2: "wall" is not one of show_face, return'),
        (("[piece.opening]", 'O1 = "closed"'), "piece.*opening.O1"),
        (('sha256 = "12ab"',), "piece.*sha256"),
    ],
)
def test_a_wrong_word_is_refused_at_its_line(tmp_path, lines, message):
    with pytest.raises(ShopFileError, match=message):
        takeoff.bid(corrected_job(tmp_path, *lines))
