"""Whole runs of the list of defaults."""

import json


def test_defaults_are_listed_with_their_reasons(run):
    done = run("defaults")
    assert done.status == 0
    assert done.out.startswith("clock (common practice, no source)\n- pot_reserve_share = 0.2: ")
    assert "\n- return_limit_m = 0.11 m: " in done.out


def test_the_document_lists_the_same(run):
    done = run("defaults", "--json")
    document = json.loads(done.out)
    assert document["schema"] == "takeoff.defaults/1"
    assert len(document["rules"]) > 200
