from dataclasses import is_dataclass

import pytest

from takeoff.batching.placing_rules import UntoldRules
from takeoff.facade.rule_keys import TOLD_BY
from takeoff.facade.rules_in_force import SUBJECTS, rules_in_force
from takeoff.files.clock_tables import LayerClockTable
from takeoff.files.shop_file import read_shop
from takeoff.job.pour_planning import plan
from takeoff.report.defaults_text import defaults_text
from tests.house.walking import ROOT, package

ROWS = rules_in_force()["rules"]
VALUE_OF = {(row["subject"], row["name"]): row["value"] for row in ROWS}


def test_every_rules_class_of_the_program_is_listed():
    written = {
        node.name
        for source in package()
        for node in source.tree.body
        if getattr(node, "name", "").endswith("Rules")
    }
    assert written == {rules.__name__ for _, rules in SUBJECTS}


@pytest.mark.parametrize("rules", [rules for _, rules in SUBJECTS])
def test_rules_are_frozen_and_complete_without_a_word(rules):
    assert is_dataclass(rules())


@pytest.mark.parametrize(
    ("subject", "name", "value"),
    [
        ("surfaces", "return_limit_m", 0.11),
        ("surfaces", "relief_m", 0.03),
        ("clock", "pot_reserve_share", 0.2),
        ("waits", "layer_least_s", 1200.0),
        ("days", "day_s", 28800.0),
    ],
)
def test_the_value_in_force_is_listed(subject, name, value):
    assert VALUE_OF[subject, name] == value


def test_each_has_a_reason_and_says_what_it_rests_on():
    for row in ROWS:
        assert len(row["reason"]) > 20, row["name"]
        assert row["source"] in {"common practice, no source", "judgement, no source"}


def test_fields_that_share_a_reason_have_units_of_their_own():
    [ratio, rise] = [row for row in ROWS if row["name"] in {"wall_ratio", "wall_rise_m"}]
    assert (ratio["unit"], rise["unit"]) == ("-", "m")
    assert ratio["reason"] == rise["reason"]


def test_the_text_has_a_line_for_each():
    lines = defaults_text(rules_in_force()).splitlines()
    assert sum(line.startswith("- ") for line in lines) == len(ROWS)
    assert "- return_limit_m = 0.11 m: " in "\n".join(lines)


def test_what_can_be_told_otherwise_says_by_which_key():
    told = {(row["subject"], row["name"]): row["told_by"] for row in ROWS if row["told_by"]}
    assert told == TOLD_BY
    assert "Tell pot_reserve in the shop file." in defaults_text(rules_in_force())


def test_every_default_that_a_pour_lists_can_be_told():
    made = plan(ROOT / "samples" / "ferry-hall" / "pour-day.toml")
    keys = {default.key.split(" in ")[0] for default in made.pour.defaults}
    assert keys <= {key.split(" ")[0] for key in TOLD_BY.values()}


def test_what_nobody_tells_is_what_the_files_take(tmp_path):
    (tmp_path / "shop.toml").write_text('[[mixer]]\nname = "pan"\ncapacity = "20 L"\n')
    shop = read_shop(tmp_path / "shop.toml")
    untold = UntoldRules()
    assert shop.hands == untold.hands_count == 1
    assert shop.mixers[0].residue_kg == untold.residue_kg
    assert shop.mixers[0].least_fill_m3 == untold.least_fill_m3
    assert LayerClockTable().passes == untold.passes_count
