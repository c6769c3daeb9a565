"""What a job casts and builds in besides its drawings: read, or refused at its line."""

from decimal import Decimal

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.casting_tables import namesake_faults, sides_m
from takeoff.files.job_file import read_order
from takeoff.files.order_parts import Addition, Core, Item, QcBoards, Sample
from takeoff.piece.layers import Layer
from takeoff.piece.ways import Way

SHOP = """
[[mixer]]
name = "pan"
capacity = "60 L"
"""
DATED_STOCK = """
[[price]]
ingredient = "oxide"
pack = "1 kg"
price = "30.00"

[[stock]]
ingredient = "oxide"
mass = "200 g"
use_by = "2027-03-01"
"""
JOB = """
[job]
name = "hall"
date = "2026-11-25"
currency = "EUR"

[face_coat]
thickness = "4 mm"
mix = "face-coat-sprayed"

[backer]
thickness = "16 mm"
mix = "backer-poured"

[backer.return]
way = "dammed"

[wall_backer]
mix = "backer-packed"

[spare]
share = "5 %"

[[sample]]
name = "lobby"
size = "12 x 12 in"
count = 2

[qc]
size = "300 x 200 mm"
thickness = "10 mm"
boards = 2

[[piece]]
name = "panel"
drawing = "panel.dxf"
edge_depth = "60 mm"
count = 3
forms = 2
turned = true
form_mass = "30 kg"
wall = {R1 = "packed"}
finish = {removed = "1 mm"}

[[piece.add]]
name = "rib"
size = "500 x 40 x 25 mm"
count = 2

[[piece.core]]
name = "foam"
volume = "2 L"
density = "30 kg/m3"

[[piece.item]]
name = "bracket"
mass = "400 g"
price = "3.20"
count = 4

[[piece]]
name = "sill"
drawing = "sill.dxf"
edge_depth = "60 mm"
"""


@pytest.fixture
def job(tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")

    def read(text):
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        return read_order(tmp_path / "job.toml")

    return read


def changed(*changes):
    text = JOB
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def test_all_that_is_cast_besides_is_read_into_si(job):
    order = job(JOB)
    panel, sill = order.pieces
    assert panel.additions == (Addition("rib", Layer.BACKER, pytest.approx(0.0005), 2),)
    assert panel.cores == (Core("foam", pytest.approx(0.002), 30.0),)
    assert panel.items == (Item("bracket", pytest.approx(0.4), Decimal("3.20"), 4),)
    assert (panel.forms, panel.turned, panel.form_kg) == (2, True, 30.0)
    assert panel.removed_m == pytest.approx(0.001)
    assert panel.walls == {"R1": Way.PACKED}
    assert (sill.forms, sill.turned, sill.removed_m, sill.items) == (None, False, 0.0, ())
    assert order.samples == (Sample("lobby", pytest.approx(0.09290304), 2),)
    assert order.boards == QcBoards(pytest.approx(0.06), pytest.approx(0.01), 2)
    assert order.face_coat.spare_share == order.wall_backer.spare_share == pytest.approx(0.05)
    assert order.backer.ways == {"return": Way.DAMMED}
    assert order.wall_backer.place.endswith("job.toml:18: wall_backer")


def test_a_core_told_by_its_sides_keeps_them(job):
    order = job(changed(('volume = "2 L"', 'size = "600 x 250 x 10 mm"')))
    [core] = order.pieces[0].cores
    assert core.sides_m == pytest.approx((0.6, 0.25, 0.01))
    assert core.volume_m3 == pytest.approx(0.0015)


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("300 x 50 x 30 mm", (0.3, 0.05, 0.03)),
        ("30 cm x 50 x 30 mm", (0.3, 0.05, 0.03)),
        ("300x50x30mm", (0.3, 0.05, 0.03)),
        ("300 × 50 × 30 mm", (0.3, 0.05, 0.03)),
        ("2 x 1 x 1 in", (0.0508, 0.0254, 0.0254)),
    ],
)
def test_a_unit_at_the_end_holds_for_all_sides_without_one(text, sides):
    assert sides_m(text, 3) == pytest.approx(sides)


BODY = [
    # doubled and contradicting
    ('volume = "2 L"', 'volume = "2 L"\nsize = "1 x 1 x 1 in"', r"core\[1\].size: is told besides"),
    ('volume = "2 L"\n', "", r"core\[1\]: needs a volume"),
    ('"foam"\nvolume = "2 L"', '"foam"\nvolume = "0 L"', r"core\[1\].volume: must be above 0"),
    # absurd
    ('"2 L"', '"2 m3"', r"core\[1\].volume: must be at most 1000 L"),
    ("500 x 40 x 25 mm", "5 x 4 x 2.5 m", r"add\[1\].size: .* holds more than 1000 L"),
    ("500 x 40 x 25 mm", "500 x 40 x 25 m", r"has a side of more than 10 m"),
    ("30 kg/m3", "3000 kg/m3", r"core\[1\].density: must be at most 2000 kg/m3"),
    ('"400 g"', '"400 t"', r"item\[1\].mass: must be at most 1000 kg"),
    ('removed = "1 mm"', 'removed = "1 in"', r"finish.removed: must be at most 20 mm"),
    ('share = "5 %"', 'share = "500 %"', r"spare.share: must be at most 100 %, found"),
    ('thickness = "10 mm"', 'thickness = "10 m"', r"qc.thickness: must be at most 200 mm"),
    ("300 x 200 mm", "300 x 200 m", r"qc.size: '300 x 200 m' has a side of more than 10 m"),
    ("count = 4", "count = 40000", r"item\[1\].count: must be at most 10000"),
    # negative and nothing
    ('"400 g"', '"-400 g"', r"item\[1\].mass: .*it is negative"),
    ('removed = "1 mm"', 'removed = "-1 mm"', r"finish.removed: .*it is negative"),
    ("30 kg/m3", "0 kg/m3", r"core\[1\].density: must be above 0"),
    ("500 x 40 x 25 mm", "500 x 0 x 25 mm", r"every side must be above 0"),
    ("boards = 2", "boards = 0", r"qc.boards: must be at least 1"),
    ('"3.20"', '"-3.20"', r"item\[1\].price: '-3.20' is not a price"),
    # wrong type, without unit, misspelt, missing
    ("count = 4", 'count = "4"', r"item\[1\].count: must be a whole number"),
    ("count = 4", "count = 1.5", r"item\[1\].count: must be a whole number"),
    ("turned = true", 'turned = "yes"', r"piece\[1\].turned: must be true or false"),
    ('"500 x 40 x 25 mm"', "500", r"500 is not 3 lengths"),
    ("500 x 40 x 25 mm", "500 x 40 mm", r"is not 3 lengths"),
    ("500 x 40 x 25 mm", "500 x 40 x 25", r"has no unit"),
    ('share = "5 %"', "share = 5", r"spare.share: 5 has no unit"),
    ("[[piece.core]]", "[[piece.cores]]", r'piece\[1\].cores: unknown key; did you mean "core"'),
    ('"packed"', '"paked"', r'wall.R1: "paked" is not one of .*did you mean "packed"'),
    ('mass = "400 g"\n', "", r"item\[1\].mass: is missing"),
    ('size = "12 x 12 in"\n', "", r"sample\[1\].size: is missing"),
]


@pytest.mark.parametrize(("old", "new", "message"), BODY)
def test_a_wrong_body_is_refused_at_its_line(job, old, new, message):
    with pytest.raises(ShopFileError, match=rf"job.toml:\d+: .*{message}"):
        job(changed((old, new)))


RIB = '[[piece.add]]\nname = "Rib"\nvolume = "1 L"\n\n'
CONTRADICTIONS = [
    (
        ("[[piece.core]]", RIB + "[[piece.core]]"),
        r"add\[2\].name: 'Rib' is there twice; tell its count, or give each its own name",
    ),
    (
        ("[qc]", '[[sample]]\nname = "Lobby"\nsize = "1 x 1 m"\n\n[qc]'),
        r"sample\[2\].name: 'Lobby' is there twice",
    ),
    (('name = "sill"', 'name = "panel"'), r"piece\[2\].name: 'panel' is there twice"),
    (("forms = 2", "forms = 4"), r"forms: 4 forms are more than the 3 that are cast in them"),
    (("turned = true\n", ""), r"form_mass: is for a piece that is turned over in its form"),
    (("2026-11-25", "2026-11-31"), r"job.date: '2026-11-31' is not in the calendar"),
]


@pytest.mark.parametrize(("change", "message"), CONTRADICTIONS)
def test_entries_that_contradict_each_other_are_refused(job, change, message):
    with pytest.raises(ShopFileError, match=rf"job.toml:\d+: .*{message}"):
        job(changed(change))


def test_an_item_may_come_twice_at_one_price(job):
    text = JOB + '\n[[piece.item]]\nname = "bracket"\nmass = "400 g"\nprice = "3.20"\n'
    assert [len(piece.items) for piece in job(text).pieces] == [1, 1]
    with pytest.raises(ShopFileError, match=r"piece\[2\].item\[1\].price: 'bracket' has another"):
        job(text.replace('"3.20"', '"3.50"', 1))


def test_what_fills_needs_no_way_and_gives_no_sample(job):
    with pytest.raises(ShopFileError) as refused:
        job(changed(('thickness = "16 mm"', 'thickness = "fill"')))
    told = str(refused.value).splitlines()
    assert [line.split(": ", 2)[1] for line in told] == [
        "backer.return.way",
        "sample[1]",
        "piece[1].wall",
    ]
    assert "is not needed beside a backer that fills the piece; leave it out" in told[0]
    assert 'has no thickness of backer, which is "fill"' in told[1]


@pytest.mark.parametrize(
    ("table", "message"),
    [
        ("face_coat", r"finish.removed: is taken off the face coat; there is no \[face_coat\]"),
        ("backer", r"core: takes the place of backer; there is no \[backer\]"),
        ("backer", r"wall_backer: stands beside a \[backer\]; there is none"),
        ("backer", r"add\[1\].layer: there is no \[backer\] in this job"),
    ],
)
def test_parts_of_a_layer_that_is_not_there_are_refused(job, table, message):
    head, _, rest = JOB.partition(f"[{table}]")
    behind = "[backer]" if table == "face_coat" else "[wall_backer]"
    with pytest.raises(ShopFileError, match=message):
        job(head + behind + rest.partition(behind)[2])


def test_a_date_that_stock_is_held_against_is_one_of_the_calendar(job, tmp_path):
    text = changed(("2026-11-25", "25 November"))
    assert job(text).date == "25 November"
    (tmp_path / "shop.toml").write_text(SHOP + DATED_STOCK, encoding="utf-8")
    with pytest.raises(ShopFileError, match=r"job.toml:4: job.date: '25 November' cannot be held"):
        job(text)
    assert job(JOB).shop.stock[0].lot is None


def test_names_not_told_are_no_namesakes():
    assert namesake_faults(("piece",), [None, None, "a", None]) == []
