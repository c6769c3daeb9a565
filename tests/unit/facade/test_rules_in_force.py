from dataclasses import is_dataclass

import pytest

from takeoff.facade.rules_in_force import SUBJECTS, rules_in_force
from takeoff.report.defaults_text import defaults_text
from tests.house.walking import package

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
