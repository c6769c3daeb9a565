"""Three small jobs priced on paper first: every number here stands in the arithmetic beside it."""

import json
from decimal import Decimal

import pytest

import takeoff
from takeoff.notes import NoteCode
from takeoff.report.bid_text import bid_text
from tests.unit.job.hand_jobs import write_counter, write_panels, write_tiles

CLOCK = 'working_day = "8 h"\ntables = 8\ndemould = "16 h"\nreset = "30 min"\ncrew = {hands = 2}\n'


@pytest.fixture(scope="module")
def panels(tmp_path_factory):
    return takeoff.bid(write_panels(tmp_path_factory.mktemp("panels"))).to_dict()


@pytest.fixture(scope="module")
def counter(tmp_path_factory):
    return takeoff.bid(write_counter(tmp_path_factory.mktemp("counter"))).to_dict()


@pytest.fixture(scope="module")
def tiles(tmp_path_factory):
    return takeoff.bid(write_tiles(tmp_path_factory.mktemp("tiles"))).to_dict()


@pytest.fixture(scope="module")
def every(panels, counter, tiles, clocked):
    return panels, counter, tiles, clocked


@pytest.fixture(scope="module")
def clocked(tmp_path_factory):
    """The panels with all that a clock needs, so that a plan says what is mixed."""
    job = write_panels(tmp_path_factory.mktemp("clocked"))
    with_clock(job)
    return takeoff.bid(job).to_dict()


def with_clock(job):
    text = job.read_text(encoding="utf-8")
    text = text.replace('.toml"\n', '.toml"\npot_life = "40 min"\nrate = "3 kg/min"\n')
    job.write_text(text, encoding="utf-8")
    shop = job.parent / "shop.toml"
    text = shop.read_text(encoding="utf-8").replace("residue", 'mix_time = "5 min"\nresidue')
    shop.write_text(CLOCK + text + '[[gun]]\nhopper = "6 L"\n', encoding="utf-8")


def changed(job, *changes):
    """Change some of the text of a job or of its shop."""
    for name, old, new in changes:
        path = job.parent / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return job


def lot(document, mix):
    [found] = [one for one in document["batch"]["lots"] if one["mix"] == mix]
    return found


def material(document, name):
    [found] = [one for one in document["materials"] if one["ingredient"] == name]
    return found


def lines(document):
    return [
        (row["what"], row["quantity"], row["price"], row["amount"]) for row in document["lines"]
    ]


# Panels: 1200 x 800, E1, E2 and E4 40 mm deep, the top edge E3 bare.
#
# Area 0.96 m2; walls run on 1.2 + 0.8 + 0.8 = 2.8 m; they meet at two corners. A layer of thickness
# s on the face and w on the walls takes A s + (D - s) (P w - 2 w2): the walls begin below the layer
# of the face, and each corner is in two walls.
# Finishing takes 1 mm off, so the face coat is cast 5 mm thick on the face, 4 mm on the walls:
#   face coat  0.96 x 0.005 + 0.035 (2.8 x 0.004 - 2 x 0.000016) = 0.0048 + 0.00039088 = 0.00519088
#   both       0.96 x 0.021 + 0.019 (2.8 x 0.020 - 2 x 0.0004)   = 0.02016 + 0.0010488 = 0.02120880
#   backer     0.0212088 - 0.00519088 = 0.01601792; core 0.6 x 0.25 x 0.01 = 0.0015 out of it; two
#              ribs 0.5 x 0.04 x 0.025 = 0.0005 each on it: 0.01551792
# Test boards, one day, two of each mix: 2 x 0.3 x 0.2 x 0.01 = 0.0012
#   face coat  3 x 0.00519088 + 0.0012 = 0.01677264 m3 x 2000 =  33.54528 kg
#   backer     3 x 0.01551792 + 0.0012 = 0.04775376 m3 x 2100 = 100.282896 kg
# Spare 5 %; overspray 10 % and 4 % of what leaves the gun:
#   face coat  33.54528 x 1.05 / 0.90 =  39.13616 kg
#   backer    100.282896 x 1.05 / 0.96 = 109.6844175 kg


def test_panel_volumes_and_masses_are_those_on_paper(panels):
    [piece] = panels["pieces"]
    assert piece["layer_volume_m3"]["face_coat"] == pytest.approx(0.00519088, rel=1e-9)
    assert piece["layer_volume_m3"]["backer"] == pytest.approx(0.01601792, rel=1e-9)
    portions = {}
    for row in piece["portions"]:
        portions[row["portion"]] = portions.get(row["portion"], 0.0) + row["volume_m3"]
    assert portions["backer"] == pytest.approx(0.01551792, rel=1e-9)
    # 0.00519088 x 2000 + 0.01551792 x 2100 = 10.38176 + 32.587632
    assert piece["wet_kg"] == pytest.approx(42.969392, rel=1e-9)
    # less 0.96 x 0.001 x 2000 = 1.92 kg taken off; the core of 0.0015 x 30 = 0.045 kg stays in
    assert piece["cured_kg"] == pytest.approx(41.094392, rel=1e-9)
    assert piece["handling_kg"] == pytest.approx(43.014392, rel=1e-9)
    assert [(row["name"], row["count"]) for row in panels["cast_besides"]] == [
        ("test board our-face", 2),
        ("test board our-backer", 2),
    ]


def test_panel_batches_are_those_on_paper(panels):
    # Face coat, pail alone: 10 L = 20 kg, less 0.25 kg left in it 19.75: 39.13616 / 19.75 = 1.98,
    # 2 batches of 19.56808 + 0.25 = 19.81808, on the scale 19.82: cement 7.928 -> 7.93, sand
    # 7.9351 -> 7.94, water 3.95686, of it 9/10 first 3.5612 -> 3.56 and 0.3957 -> 0.40: 19.83 kg.
    face = lot(panels, "our-face")
    assert (face["mixer"], face["batch_count"]) == ("pail", 2)
    assert face["placed_kg"] == pytest.approx(33.54528)
    assert face["loss_kg"] == pytest.approx(39.13616 - 33.54528)
    assert (face["residue_kg"], face["mass_kg"]) == (0.5, pytest.approx(19.83))
    # Backer: the pail would take 6, the pan 24 L = 50.4 kg, less 0.5: 109.6844175 / 49.9 = 2.2,
    # 3 batches of 36.5614725 + 0.5 = 37.0614725 -> 37.07: cement 15.4458 -> 15.45, sand 15.4570 ->
    # 15.46, water 6.16721: 5.5505 -> 5.55 and 0.6167 -> 0.62: 37.08 kg.
    backer = lot(panels, "our-backer")
    assert (backer["mixer"], backer["batch_count"]) == ("pan", 3)
    assert backer["placed_kg"] == pytest.approx(100.282896)
    assert backer["loss_kg"] == pytest.approx(109.6844175 - 100.282896)
    assert (backer["residue_kg"], backer["mass_kg"]) == (1.5, pytest.approx(37.08))
    for one, masses_kg in ((face, (7.93, 7.94, 3.56, 0.4)), (backer, (15.45, 15.46, 5.55, 0.62))):
        weighed_kg = sorted(row["mass_kg"] for row in one["ingredients"])
        assert weighed_kg == pytest.approx(sorted(masses_kg))


def test_panel_packs_and_stock_are_those_on_paper(panels):
    # White cement of one colour: 2 x 7.93 = 15.86 kg; lot W1 holds 6, so all new. A bag of 25 kg
    # costs 18.00, four of 5 kg 16.40: 4.14 kg left over.
    white = material(panels, "white-cement")
    assert white["order_kg"] == pytest.approx(15.86)
    assert [(row["pack"], row["packs"]) for row in white["bought"]] == [("5 kg", 4)]
    assert white["left_over_kg"] == pytest.approx(4.14)
    assert [row["lot"] for row in white["stock_passed_over"]] == ["W1"]
    # Grey cement: 3 x 15.45 = 46.35 kg; 10 kg of lot G7, lot G1 is past its day; 36.35 kg: one of
    # 40 kg at 14.80, not two of 25 kg at 19.00: 3.65 kg left over.
    grey = material(panels, "grey-cement")
    assert grey["order_kg"] == pytest.approx(46.35)
    assert grey["from_stock"] == [{"lot": "G7", "mass_kg": pytest.approx(10.0)}]
    assert [row["lot"] for row in grey["stock_passed_over"]] == ["G1"]
    assert [(row["pack"], row["packs"]) for row in grey["bought"]] == [("40 kg", 1)]
    assert grey["left_over_kg"] == pytest.approx(3.65)
    # Sand 3 x 15.46 = 46.38 kg, fine sand 2 x 7.94 = 15.88 kg, water 2 x 3.96 + 3 x 6.17 = 26.43 kg
    assert material(panels, "sand")["order_kg"] == pytest.approx(46.38)
    assert material(panels, "fine-sand")["order_kg"] == pytest.approx(15.88)
    assert material(panels, "water")["order_kg"] == pytest.approx(26.43)
    assert material(panels, "water")["cost"] is None


def test_the_panels_cost_what_they_cost_on_paper(panels):
    # Form 0.96 + 2.8 x 0.04 = 1.072 m2: two forms 2.144, three castings 3.216.
    # Arris 2.8 and two corners of 0.04: 2.88 m; bead in two forms 5.76, eased on three pieces 8.64.
    assert lines(panels) == [
        ("white-cement", "4", "4.10", "16.40"),
        ("fine-sand", "1", "6.30", "6.30"),
        ("grey-cement", "1", "14.80", "14.80"),
        ("sand", "2", "4.80", "9.60"),
        ("form boards", "2.144", "24.00", "51.46"),  # 51.456
        ("build forms", "3.216", "40.00", "128.64"),  # 2.144 x 1.5 h
        ("bead", "5.76", "0.85", "4.90"),  # 4.896
        ("release", "3.216", "0.60", "1.93"),  # 1.9296
        ("cast", "1.072", "40.00", "42.88"),  # 3.216 / 3 h
        ("grind", "0.72", "40.00", "28.80"),  # 3 x 0.96 / 4 h
        ("ease arrises", "8.64", "1.10", "9.50"),  # 9.504
        ("clean mixer", "5", "2.50", "12.50"),
        ("crate", "3", "18.00", "54.00"),
        ("waste", "133.828", "0.05", "6.69"),  # 33.54528 + 100.282896 kg; 6.6914
        ("delivery", "1", "75.00", "75.00"),
        ("markup of 12 %", "0.12", "463.40", "55.61"),  # 47.10 + 416.30; 55.608
        ("tax of 20 %", "0.2", "519.01", "103.80"),  # 103.802
    ]
    assert panels["material_total"] == "47.10"
    assert panels["total"] == "622.81"
    assert panels["form_work"] == {
        "forms": 2,
        "form_m2": pytest.approx(2.144),
        "bead_m": pytest.approx(5.76),
        "inner_form_m2": 0.0,
        "release_m2": pytest.approx(3.216),
        "sealer_m2": pytest.approx(3.216),
    }


def test_what_hangs_on_each_assumption_of_the_panels_is_what_it_is_on_paper(panels):
    # A kilogram costs, from the cheapest pack: white cement 18.00 / 25 = 0.72, fine sand 0.315,
    # grey cement 14.80 / 40 = 0.37, sand 0.192. Face coat 0.4 x 0.72 + 0.40036 x 0.315 =
    # 0.4141134, backer (0.37 + 1.00072 x 0.192) / 2.4 = 0.2342243. Markup and tax: 1.12 x 1.20.
    # Test boards are sprayed too, and are in all of it.
    assert [(row["what"], row["value"], row["at_stake"]) for row in panels["assumptions"]] == [
        # E3 coated: walls on 4 m, four corners. Face coat 0.035 (0.0048 - 0.000032) = 0.00016688,
        # both 0.019 (0.024 - 0.0008) = 0.0004408, backer 0.00027392 m3; three times 1.00128 and
        # 1.725696 kg; mixed 1.16816 and 1.88748 kg: 0.48375 + 0.44209. Form 2 x 0.048 = 0.096 m2:
        # 2.304 + 5.76; bead 2 x (1.2 + 0.08) = 2.56 m: 2.176; release 0.144 m2: 0.0864; cast 1.92;
        # arris 3.84 m: 4.224; waste 2.726976 kg: 0.13635; together 17.5326 x 1.344 = 23.5638
        ("edge E3 of panel", "bare", "+23.56"),
        # 39.13616 x 0.1 = 3.913616 kg: 1.62068 x 1.344 = 2.1782
        ("overspray of the face coat", "10 %", "+-2.18"),
        # 100.282896 x 0.05 / 0.96 = 5.2230675 kg: 1.22337 x 1.344 = 1.6442
        ("spare backer", "5 %", "+-1.64"),
        # 109.6844175 x 0.04 = 4.3873767 kg: 1.02763 x 1.344 = 1.3811
        ("overspray of the backer", "4 %", "+-1.38"),
        # 33.54528 x 0.05 / 0.9 = 1.8636267 kg: 0.77175 x 1.344 = 1.0372
        ("spare face coat", "5 %", "+-1.04"),
    ]


# Counter: an open tray 60 x 24 in, three walls 2 in deep, the front one 10 in deep. Face coat
# 1/4 in, backer 3/4 in, T = 1 in together. Layers are mitred where faces meet; in3 to a depth t:
#   top     the integral of (60 - 2z) (24 - 2z)           = 1440 t - 84 t2 + 4 t3 / 3
#   side    the integral of (24 - 2x) (2 - x), two of them = 48 t - 14 t2 + 2 t3 / 3
#   rear    the integral of (60 - 2x) (2 - x)              = 120 t - 32 t2 + 2 t3 / 3
#   front   as the rear, and below it 8 x 60 t             = 600 t - 32 t2 + 2 t3 / 3
# t = 1/4:  354.770833, 2 x 11.135417, 28.010417, 148.010417: 553.0625 in3 of face coat
# T = 1:   1357.333333, 2 x 34.666667, 88.666667, 568.666667: 2084 in3
# backer:  1002.5625 on the top, 158 - 50.28125 = 107.71875 on the returns, both poured;
#          420.65625 on the front, which is an upright, packed.
# Two samples 12 x 12: 2 x 36 = 72 in3 of face coat, 2 x 108 = 216 in3 poured.
# 1 in3 = 1.6387064e-5 m3, 1 lb = 0.45359237 kg:
#   face coat   625.0625 in3 x 2000 kg/m3 = 20.485878383 kg = 45.163631 lb
#   poured     1326.28125 in3 x 2100      = 45.641097024 kg = 100.621395 lb
#   packed      420.65625 in3 x 2000      = 13.786641782 kg = 30.394342 lb


def test_counter_volumes_and_masses_are_those_on_paper(counter):
    [piece] = counter["pieces"]
    found_in3 = {
        (row["portion"], row["surface_class"]): row["volume_m3"] / 1.6387064e-5
        for row in piece["portions"]
    }
    assert found_in3 == {
        ("face_coat", "show_face"): pytest.approx(354.770833, rel=1e-6),
        ("face_coat", "return"): pytest.approx(50.28125, rel=1e-6),
        ("face_coat", "upright"): pytest.approx(148.010417, rel=1e-6),
        ("wall_backer", "upright"): pytest.approx(420.65625, rel=1e-6),
        ("backer", "show_face"): pytest.approx(1002.5625, rel=1e-6),
        ("backer", "return"): pytest.approx(107.71875, rel=1e-6),
    }
    assert piece["ways"] == {"R1": "dammed", "R2": "dammed", "R3": "dammed", "U1": "packed"}
    # 553.0625 in3 of face coat, 1110.28125 poured, 420.65625 packed; and four brackets of 1.5 lb
    assert piece["wet_kg"] == pytest.approx(18.126141 + 38.207925 + 13.786642, abs=1e-5)
    assert piece["handling_kg"] == pytest.approx(piece["wet_kg"] + 6.0 * 0.45359237)


def test_counter_batches_are_those_on_paper(counter):
    # The pail holds 5 gal = 18.927059 L: 83.45 lb at 2000 kg/m3, 87.62 lb at 2100, in whole
    # hundredths; 0.6 lb stays in it each time.
    # Face coat 45.163631 / 0.9 = 50.181812 lb, one batch: 50.781812 -> 50.79: cement 20.316 ->
    # 20.32, sand 20.3343 -> 20.33, water 10.13972: 9.1257 -> 9.13 and 1.0140 -> 1.01: 50.79 lb.
    # Packed 30.394342, one batch: 30.994342 -> 31.00: 12.40, 12.4112 -> 12.41, 5.5700 -> 5.57,
    # 0.6189 -> 0.62: 31.00 lb.
    # Poured 100.621395 / 87.02 = 1.16: two of 50.310697 + 0.6 = 50.910697 -> 50.92: 21.2167 ->
    # 21.22, 21.2319 -> 21.23, 7.6243 -> 7.62, 0.8471 -> 0.85: 50.92 lb.
    for mix, count, mass_lb, placed_lb in (
        ("our-face", 1, 50.79, 45.163631),
        ("our-packed", 1, 31.00, 30.394342),
        ("our-poured", 2, 50.92, 100.621395),
    ):
        one = lot(counter, mix)
        assert one["batch_count"] == count
        assert one["mass_kg"] / 0.45359237 == pytest.approx(mass_lb, abs=1e-6)
        assert one["placed_kg"] / 0.45359237 == pytest.approx(placed_lb, abs=1e-6)
        assert one["residue_kg"] / 0.45359237 == pytest.approx(0.6 * count)


def test_the_counter_costs_what_it_costs_on_paper(counter):
    # White cement 20.32 lb: two of 12 lb at 9.90, not one of 94 lb at 31.00.
    # Fine sand, face coat and packed: 20.33 + 12.41 = 32.74 lb: two of 20.
    # Grey cement, packed and poured: 12.40 + 2 x 21.22 = 54.84 lb: one of 94 lb at 16.40, not two
    # of 47 lb at 18.20. Sand 2 x 21.23 = 42.46 lb: one of 50.
    # Form 1440 + 2 x 24 x 2 + 60 x 2 + 60 x 10 = 2256 in2 = 15.667 sq ft.
    # Dams stand behind the returns, T inside them, from the backer of the top down: (2 - 1) high,
    # 2 x (24 - 2) + (60 - 2) = 102 in long: 0.708 sq ft; the packed front needs none.
    # Bead 2 x (60 + 24) and four corners 2 in deep: 176 in = 14.667 ft.
    assert lines(counter) == [
        ("white-cement", "2", "9.90", "19.80"),
        ("fine-sand", "2", "5.25", "10.50"),
        ("grey-cement", "1", "16.40", "16.40"),
        ("sand", "1", "6.20", "6.20"),
        ("bracket", "4", "6.75", "27.00"),
        ("form boards", "15.667", "3.20", "50.13"),  # 50.1344
        ("dams", "0.708", "2.50", "1.77"),
        ("build forms", "1.567", "45.00", "70.52"),  # 15.667 / 10 h = 1.5667; 70.515
        ("bead", "14.667", "0.40", "5.87"),  # 5.8668
        ("place", "176.179", "0.12", "21.14"),  # 45.1636 + 100.6214 + 30.3943 lb; 21.14148
        ("release", "16.375", "0.05", "0.82"),  # 2256 + 102 in2; 0.81875
        ("seal", "15.667", "0.90", "14.10"),  # 14.1003
        ("pack the apron", "1.042", "45.00", "46.89"),  # 600 in2 = 4.167 sq ft / 4 h = 1.04175
        ("finish returns", "1.5", "1.00", "1.50"),  # 216 in2
        ("markup of 10 %", "0.1", "292.64", "29.26"),
        ("tax of 8.25 %", "0.0825", "321.90", "26.56"),  # 26.55675
    ]
    assert counter["material_total"] == "79.90"
    assert counter["total"] == "348.46"
    # 50.181812 lb x 0.1 of (0.4 x 31.00 / 94 + 0.40036 x 5.25 / 20) each lb: 1.189356 x 1.19075
    [(what, money)] = [(row["what"], row["at_stake"]) for row in counter["assumptions"]]
    assert (what, money) == ("overspray of the face coat", "+-1.42")


# Tiles: five slabs 0.9 x 0.6 = 0.54 m2 without returns, of a premix of 2000 kg/m3, 25/29 of it dry.
#   4 mm: 5 x 0.54 x 0.004 x 2000 = 21.6 kg, / 0.8 = 27.00, + 0.4 left in the mixer = 27.40 kg
#   3 mm: 16.2, 20.25, 20.65 kg;   5 mm: 27.0, 33.75, 34.15 kg
#   premix 27.4 x 25/29 = 23.6207 -> 23.62; water 3.7793: 3.4014 -> 3.40 and 0.3779 -> 0.38:
#   27.40 kg
#   premix at 3 mm 17.8017 kg, at 5 mm 29.4397 kg: one bag, one bag, two bags


def test_tile_batches_and_bags_are_those_on_paper(tiles):
    [one] = tiles["batch"]["lots"]
    assert one["batch_count"] == 1
    assert one["mass_kg"] == pytest.approx(27.40)
    assert one["placed_kg"] == pytest.approx(21.6)
    premix = material(tiles, "grey premix")
    assert premix["order_kg"] == pytest.approx(23.62)
    # to half a division of the scale
    assert premix["order_range_kg"]["low"] == pytest.approx(17.8017, abs=0.005)
    assert premix["order_range_kg"]["high"] == pytest.approx(29.4397, abs=0.005)


def test_the_tiles_cost_the_minimum_charge_as_on_paper(tiles):
    # One form, 0.54 m2; cast and sealed five times: 2.7 m2.
    assert lines(tiles) == [
        ("grey premix", "1", "21.50", "21.50"),
        ("cast", "1.08", "35.00", "37.80"),  # 2.7 x 0.4 h
        ("seal", "2.7", "3.50", "9.45"),
        ("haul", "21.6", "0.10", "2.16"),
        ("markup of 20 %", "0.2", "70.91", "14.18"),  # 14.182
        ("up to the minimum charge of 100.00", "1", "14.91", "14.91"),  # 85.09
        ("tax of 19 %", "0.19", "100.00", "19.00"),
    ]
    assert tiles["total"] == "119.00"
    assert tiles["form_work"]["forms"] == 1
    assert tiles["form_work"]["form_m2"] == pytest.approx(0.54)
    assert tiles["form_work"]["sealer_m2"] == pytest.approx(2.7)


def test_the_total_at_both_ends_of_the_thickness_is_that_on_paper(tiles):
    # 3 mm: still below the minimum. 5 mm: two bags 43.00 + 37.80 + 9.45 + 27.0 kg hauled 2.70 =
    # 92.95, markup 18.59: 111.54, tax 21.1926: 132.73
    assert tiles["total_range"] == {"low": "119.00", "aimed": "119.00", "high": "132.73"}
    # A millimetre: 5.4 kg placed, 6.75 kg mixed, 5.81897 kg of premix at 0.86: 5.00431, hauled
    # 0.54; 5.54431 x 1.2 x 1.19 = 7.9173. Overspray: 27 x 0.2 = 5.4 kg, 4.65517 x 0.86 x 1.428
    assert [(row["what"], row["at_stake"]) for row in tiles["assumptions"]] == [
        ("thickness of the face coat", "+-7.92"),
        ("overspray of the face coat", "+-5.72"),
    ]


def test_batches_at_the_thick_end_are_counted_and_charged(tmp_path):
    # A pail of 14 L holds 28 kg, less 0.4: 27.6 places the 27.00 of 4 mm at once, the 33.75 of 5 mm
    # in two. 4 mm: 70.91 + 30.00 = 100.91, markup 20.18: 121.09, tax 23.01 (23.0071): 144.10.
    # 5 mm: 92.95 + 60.00 = 152.95, markup 30.59: 183.54, tax 34.87 (34.8726): 218.41; 16.875 + 0.4
    # kg -> 17.28 kg twice: premix 29.79 kg. 3 mm: 21.50 + 37.80 + 9.45 + 1.62 + 30.00 = 100.37,
    # markup 20.07: 120.44, tax 22.88: 143.32
    job = write_tiles(tmp_path)
    shop = tmp_path / "shop.toml"
    text = shop.read_text(encoding="utf-8").replace('"20 L"', '"14 L"')
    rate = '[[rate]]\nwhat = "mix"\nper = "batch"\nprice = "30.00"\n'
    shop.write_text(text + rate, encoding="utf-8")
    document = takeoff.bid(job).to_dict()
    assert document["total_range"] == {"low": "143.32", "aimed": "144.10", "high": "218.41"}
    high_kg = material(document, "grey premix")["order_range_kg"]["high"]
    assert high_kg == pytest.approx(2 * 17.28 * 25 / 29, abs=0.01)


def test_bags_mixed_whole_are_the_same_at_both_ends_where_one_does(tmp_path):
    # On the clock each tile is a batch of its own, a whole bag of 29 kg; at 5 mm it takes
    # 5.4 / 0.8 + 0.4 = 7.15 kg of it.
    job = write_tiles(tmp_path)
    with_clock(job)
    document = takeoff.bid(job).to_dict()
    [one] = document["batch"]["lots"]
    assert (one["batch_count"], one["mass_kg"]) == (5, pytest.approx(29.0))
    order_kg = material(document, "grey premix")["order_range_kg"]
    assert order_kg == {"low": pytest.approx(125), "aimed": 125, "high": pytest.approx(125)}


# Every number can be traced to others on the page.


def test_every_amount_is_its_quantity_times_its_price_halves_up(every):
    for document in every:
        for row in document["lines"]:
            amount = Decimal(row["quantity"]) * Decimal(row["price"])
            assert Decimal(row["amount"]) == amount.quantize(Decimal("0.01"), "ROUND_HALF_UP")


def test_every_total_is_the_sum_of_its_lines(every):
    for document in every:
        amounts = [Decimal(row["amount"]) for row in document["lines"]]
        assert Decimal(document["total"]) == sum(amounts)
        bought = [row for row in document["lines"] if row["kind"] in {"material", "item"}]
        assert Decimal(document["material_total"]) == sum(Decimal(row["amount"]) for row in bought)


def test_every_order_is_net_and_loss_and_is_met_from_stock_and_packs(every):
    kilograms = {"kg": 1.0, "lb": 0.45359237}
    for document in every:
        for row in document["materials"]:
            assert row["order_kg"] == pytest.approx(row["net_kg"] + row["loss_kg"])
            if row["cost"] is None:
                continue
            held_kg = sum(drawn["mass_kg"] for drawn in row["from_stock"])
            for bought in row["bought"]:
                mass, unit = bought["pack"].split()
                held_kg += bought["packs"] * float(mass) * kilograms[unit]
            assert held_kg - row["left_over_kg"] == pytest.approx(row["order_kg"])
            cost = sum(Decimal(bought["cost"]) for bought in row["bought"])
            assert Decimal(row["cost"]) == cost


def test_what_is_ordered_is_what_all_batches_weigh(every):
    for document in every:
        lots = document["batch"]["lots"]
        weighed_kg = sum(one["batch_count"] * one["mass_kg"] for one in lots)
        order_kg = sum(row["order_kg"] for row in document["materials"])
        assert order_kg == pytest.approx(weighed_kg)
        for one in lots:
            parts_kg = sum(
                one[key] for key in ("placed_kg", "loss_kg", "residue_kg", "leftover_kg")
            )
            assert one["batch_count"] * one["mass_kg"] == pytest.approx(parts_kg)


def test_what_the_batches_place_is_what_is_cast(every):
    for document in every:
        cast_kg = {"face_coat": 0.0, "backer": 0.0}
        for piece in (*document["pieces"], *document["cast_besides"]):
            assert piece["wet_kg"] == pytest.approx(sum(r["mass_kg"] for r in piece["portions"]))
            for row in piece["portions"]:
                layer = "face_coat" if row["portion"] == "face_coat" else "backer"
                cast_kg[layer] += row["mass_kg"] * piece["count"]
        placed_kg = {"face_coat": 0.0, "backer": 0.0}
        for one in document["batch"]["lots"]:
            placed_kg[one["layer"]] += one["placed_kg"]
        assert placed_kg == pytest.approx(cast_kg)


def test_form_work_is_what_the_pieces_need_of_it(every):
    for document in every:
        pieces, work = document["pieces"], document["form_work"]
        assert work["forms"] == sum(piece["forms"] for piece in pieces)
        form_m2 = sum(piece["form_area_m2"] * piece["forms"] for piece in pieces)
        assert work["form_m2"] == pytest.approx(form_m2)
        bead_m = sum(piece["arris_m"] * piece["forms"] for piece in pieces)
        assert work["bead_m"] == pytest.approx(bead_m)
        sealer_m2 = sum(piece["form_area_m2"] * piece["count"] for piece in pieces)
        assert work["sealer_m2"] == pytest.approx(sealer_m2)


def test_assumptions_stand_by_the_money_on_them(every):
    for document in every:
        most = [
            max(abs(Decimal(row["low"])), abs(Decimal(row["high"])))
            for row in document["assumptions"]
        ]
        assert most
        assert most == sorted(most, reverse=True)


def test_the_clocked_panels_are_planned(clocked):
    assert clocked["pour_day"]["feasible"]
    poured_kg = sum(
        batch["mass_kg"] for day in clocked["pour_day"]["days"] for batch in day["batches"]
    )
    lots = clocked["batch"]["lots"]
    assert poured_kg == pytest.approx(sum(one["batch_count"] * one["mass_kg"] for one in lots))


def test_boards_take_no_table_and_are_as_many_as_mixes_and_days(tmp_path):
    job = write_panels(tmp_path)
    with_clock(job)
    made = takeoff.bid(job)
    document = made.to_dict()
    days = len(document["pour_day"]["days"])
    counts = {row["count"] for row in document["cast_besides"]}
    assert counts == {2 * days}
    boards_kg = sum(row["wet_kg"] * row["count"] for row in document["cast_besides"])
    panels_kg = sum(row["wet_kg"] * row["count"] for row in document["pieces"])
    placed_kg = sum(one["placed_kg"] for one in document["batch"]["lots"])
    assert placed_kg == pytest.approx(boards_kg + panels_kg)


@pytest.mark.parametrize("write", [write_panels, write_counter, write_tiles])
def test_material_only_stands_on_every_page_while_no_labour_is_priced(write, tmp_path):
    job = write(tmp_path)
    shop = tmp_path / "shop.toml"
    text = shop.read_text(encoding="utf-8").replace("labour = true\n", "")
    tables = text.split("[[rate]]")
    unpaid = [tables[0], *(table for table in tables[1:] if "hours" not in table)]
    shop.write_text("[[rate]]".join(unpaid), encoding="utf-8")
    made = takeoff.bid(job)
    document = made.to_dict()
    assert (document["total"], document["total_range"]) == (None, None)
    assert {row["kind"] for row in document["lines"]} <= {"material", "item", "rate"}
    assert "MATERIAL ONLY" in bid_text(document)
    assert "TOTAL " not in bid_text(document)
    [note] = [note for note in document["notes"] if note["code"] == NoteCode.MATERIAL_ONLY]
    assert "MATERIAL ONLY" in note["text"]
    made.write(tmp_path / "out")
    written = json.loads((tmp_path / "out" / "bid.json").read_text(encoding="utf-8"))
    assert written["total"] is None
    assert "MATERIAL ONLY" in json.dumps(written["notes"])


def test_material_only_stands_nowhere_once_labour_is_priced(every):
    for document in every:
        assert "MATERIAL ONLY" not in bid_text(document)
        assert NoteCode.MATERIAL_ONLY not in [note["code"] for note in document["notes"]]
        assert f"TOTAL {document['currency']} {document['total']}" in bid_text(document)
