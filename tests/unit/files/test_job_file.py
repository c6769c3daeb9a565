import re

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.job_file import read_order

SHOP = '[[mixer]]\nname = "pan"\ncapacity = "60 L"\n'
JOB = """
[job]
name = "hall"
date = "2026-11-25"
currency = "EUR"
show_units = "us"

[face_coat]
thickness = "3/16 in"
mix = "face-coat-sprayed"
overspray = "10 %"

[backer]
thickness = "16 mm"
mix = "mixes/own.toml"
pot_life = "25 min"
rate = "6 lb/min"

[[piece]]
name = "panel"
drawing = "panel.dxf"
edge_depth = "60 mm"
count = 12
layer = ["PANEL"]

[piece.edge]
E3 = 0
E4 = "2 in"

[[piece]]
drawing = "counter.stl"
unit = "mm"
kind = "open"
show = "up"
return_limit = "6 in"
"""


@pytest.fixture
def job(tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")

    def read(text):
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        return read_order(tmp_path / "job.toml")

    return read


def test_a_job_is_read_into_si(job, tmp_path):
    order = job(JOB)
    assert (order.name, order.date, order.currency) == ("hall", "2026-11-25", "EUR")
    assert order.show_units == "us"
    assert order.face_coat.thickness.show_face.aimed_m == pytest.approx(0.0047625)
    assert order.face_coat.overspray_share == pytest.approx(0.1)
    assert order.backer.mix == str(tmp_path / "mixes/own.toml")
    assert order.backer.pot_life_s == 1500.0
    assert order.backer.rate_kg_s == pytest.approx(0.045359237)
    panel, counter = order.pieces
    assert panel.drawing == tmp_path / "panel.dxf"
    assert panel.edges_m == {"E3": 0.0, "E4": pytest.approx(0.0508)}
    assert (panel.count, panel.layers, counter.count) == (12, ("PANEL",), 1)
    assert counter.return_limit_m == pytest.approx(0.1524)
    assert counter.place.endswith("job.toml:30: piece[2]")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('thickness = "16 mm"', "thickness = 16", r"job.toml:14: backer.thickness: 16 has no unit"),
        ('thickness = "16 mm"', 'thickness = "0 mm"', r"is no layer; leave it out to have none"),
        ('overspray = "10 %"', 'overspray = "100 %"', r"from 0 % to below 100 %"),
        ('pot_life = "25 min"', 'pot_life = "0 s"', r"job.toml:16: .*must be above 0"),
        ('rate = "6 lb/min"', 'rate = "6 lb"', "cannot read '6 lb' as a placing rate"),
        ('rate = "6 lb/min"', 'rate = "0 lb/min"', "places nothing"),
        ("E3 = 0", "E3 = 40", "40 has no unit"),
        ("count = 12", "count = 0", "job.toml:23: piece"),
        ('edge_depth = "60 mm"', 'edge_dept = "60 mm"', 'did you mean "edge_depth"'),
        ('kind = "open"', 'kind = "shell"', "piece"),
        ('name = "panel"', 'name = "a\\nb"', "which cannot be printed"),
        ('currency = "EUR"\n', "", "job.currency: is missing"),
    ],
)
def test_a_wrong_entry_is_refused_at_its_line(job, old, new, message):
    assert old in JOB
    with pytest.raises(ShopFileError, match=message):
        job(JOB.replace(old, new, 1))


def test_all_faults_are_listed_at_once(job):
    text = (
        JOB.replace('"16 mm"', "16").replace('"60 mm"', '"60"').replace("count = 12", "count = 0")
    )
    with pytest.raises(ShopFileError) as refused:
        job(text)
    assert len(str(refused.value).splitlines()) == 3


def test_a_job_without_a_layer_is_refused(job):
    text = '[job]\nname = "hall"\ncurrency = "EUR"\n[[piece]]\ndrawing = "a.stl"\n'
    with pytest.raises(ShopFileError, match=r"needs \[face_coat\] or \[backer\]"):
        job(text)


def test_a_missing_shop_file_is_named(job, tmp_path):
    (tmp_path / "shop.toml").unlink()
    with pytest.raises(ShopFileError, match=r"shop\.toml: there is no such file"):
        job(JOB)


@pytest.mark.parametrize(
    ("table", "entry"),
    [
        ("[piece.wall]", "count = 1"),
        ("[piece.wall]", 'show = "up"'),
        ("[piece.edge]", "count = 1"),
        ("[piece.edge]", 'edge_depth = "40 mm"'),
        ("[piece.edge]", 'sha256 = "0123456789ab"'),
        ("[piece.surface]", "count = 1"),
        ("[piece.surface]", 'sha256 = "0123456789ab"'),
        ("[piece.opening]", 'unit = "mm"'),
        ("[piece.finish]", "count = 1"),
        ("[[piece.add]]", "turned = true"),
    ],
)
def test_an_entry_that_slipped_into_a_table_of_its_piece_is_sent_back(job, table, entry):
    key = entry.partition(" ")[0]
    above = re.escape(table)
    with pytest.raises(
        ShopFileError, match=rf"{key} belongs to \[\[piece\]\]; put it above {above}"
    ):
        job(f'{JOB}\n[[piece]]\nname = "third"\ndrawing = "a.stl"\n{table}\n{entry}\n')


def test_an_entry_that_slipped_into_a_table_of_a_layer_is_sent_back(job):
    told = JOB.replace('mix = "mixes/own.toml"', '[backer.return]\nmix = "mixes/own.toml"')
    with pytest.raises(
        ShopFileError, match=r"mix belongs to \[backer\]; put it above \[backer\.re"
    ):
        job(told)
