"""What job and shop file say of the clock."""

import pytest

from takeoff.errors import ShopFileError
from takeoff.files.job_file import read_order

SHOP = """
working_day = "9 h"
tables = 4
demould = "16 h"
reset = "30 min"
haul = "2 min"
wash = "12 min"
refill = "45 s"
pot_reserve = "25 %"
window_reserve = "15 %"

[[mixer]]
name = "pan"
capacity = "60 L"
least_fill = "15 L"
mix_time = "6 min"
clean_time = "2 min"

[[gun]]
hopper = "6 L"

[[gun]]
hopper = "5 L"
"""
JOB = """
[job]
name = "hall"
currency = "EUR"
days = 3

[face_coat]
thickness = "4 mm"
mix = "face-coat-sprayed"
passes = 2
hands = 2
wet_edge = "8 min"
pass_least_wait = "4 min"
pass_longest_wait = "40 min"
brush = "3 min"
temperature = "68 F"
one_batch = true

[backer]
thickness = "16 mm"
mix = "backer-poured"
least_wait = "20 min"
longest_wait = "1 h 30 min"

[[piece]]
drawing = "panel.dxf"
count = 12
forms = 2
"""


@pytest.fixture
def read(tmp_path):
    def written(job=JOB, shop=SHOP):
        (tmp_path / "shop.toml").write_text(shop, encoding="utf-8")
        (tmp_path / "job.toml").write_text(job, encoding="utf-8")
        return read_order(tmp_path / "job.toml")

    return written


def test_the_clock_of_a_shop_is_read_into_si(read):
    shop = read().shop
    clock = shop.clock
    assert (clock.day_s, clock.tables, clock.demould_s, clock.reset_s) == (32400, 4, 57600, 1800)
    assert (clock.haul_s, clock.wash_s, clock.refill_s) == (120.0, 720.0, 45.0)
    assert clock.pot_reserve_share == pytest.approx(0.25)
    assert clock.window_reserve_share == pytest.approx(0.15)
    assert clock.hoppers_m3 == (0.006, 0.005)
    [mixer] = shop.mixers
    assert (mixer.least_fill_m3, mixer.mix_s, mixer.clean_s) == (0.015, 360.0, 120.0)


def test_the_clock_of_a_job_is_read_into_si(read):
    order = read()
    clock = order.face_coat.clock
    assert order.days == 3
    assert order.pieces[0].forms == 2
    assert (clock.passes, clock.hands, clock.one_batch) == (2, 2, True)
    assert (clock.wet_edge_s, clock.brush_s) == (480.0, 180.0)
    assert (clock.pass_least_wait_s, clock.pass_longest_wait_s) == (240.0, 2400.0)
    assert clock.mix_c == pytest.approx(20.0)
    backer = order.backer.clock
    assert (backer.least_wait_s, backer.longest_wait_s, backer.passes) == (1200.0, 5400.0, 1)


def test_what_is_not_told_is_none(read):
    bare = '[[mixer]]\nname = "pan"\ncapacity = "60 L"\n'
    shop = read(shop=bare).shop
    assert shop.clock.day_s is None
    assert shop.clock.hoppers_m3 == ()
    assert shop.mixers[0].mix_s is None


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('working_day = "9 h"', 'working_day = "25 h"', r"shop.toml:2: working_day"),
        ('working_day = "9 h"', "working_day = 9", r"9 has no unit"),
        ("tables = 4", "tables = 0", r"shop.toml:3: tables"),
        ('pot_reserve = "25 %"', 'pot_reserve = "100 %"', r"pot_reserve"),
        ('least_fill = "15 L"', 'least_fill = "60 L"', "must be below the capacity"),
        ('mix_time = "6 min"', 'mix_time = "0 min"', r"mixer\[1\].mix_time"),
        ('hopper = "6 L"', 'hopper = "0 L"', r"gun\[1\].hopper"),
        ('hopper = "6 L"', 'hoper = "6 L"', 'did you mean "hopper"'),
    ],
)
def test_a_wrong_entry_of_the_shop_is_refused_at_its_line(read, old, new, message):
    assert old in SHOP
    with pytest.raises(ShopFileError, match=message):
        read(shop=SHOP.replace(old, new, 1))


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("passes = 2", "passes = 0", r"face_coat.passes"),
        ("hands = 2", "hands = 0", r"face_coat.hands"),
        ("forms = 2", "forms = 0", r"piece\[1\].forms"),
        ("days = 3", "days = 0", r"job.days"),
        ('brush = "3 min"', "brush = 3", "3 has no unit"),
        ('temperature = "68 F"', 'temperature = "90 C"', r"face_coat.temperature"),
        ('longest_wait = "1 h 30 min"', 'longest_wait = "20 min"', "must be above least_wait"),
        (
            'pass_longest_wait = "40 min"',
            'pass_longest_wait = "4 min"',
            "must be above pass_least_wait",
        ),
    ],
)
def test_a_wrong_entry_of_the_job_is_refused_at_its_line(read, old, new, message):
    assert old in JOB
    with pytest.raises(ShopFileError, match=message):
        read(JOB.replace(old, new, 1))
