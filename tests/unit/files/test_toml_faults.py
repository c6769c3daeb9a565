"""Faults are said in words of ours, with the nearest word that would do."""

from __future__ import annotations

import pytest
from pydantic import BaseModel

from takeoff.files.toml_faults import known_keys, nearest, shown, what_is_wrong


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("4 mm", '"4 mm"'),
        (True, "true"),
        (3, "3"),
        (0.5, "0.5"),
        ({"a": 1}, "a table"),
        ([1, 2], "a list"),
        ("x" * 80, '"' + "x" * 59 + " ..."),
    ],
)
def test_a_value_is_shown_as_in_the_file(value, text):
    assert shown(value) == text


@pytest.mark.parametrize(
    ("name", "known", "offer"),
    [
        ("capasity", ("name", "capacity"), 'did you mean "capacity"?'),
        ("xyz", ("name", "capacity"), "known: name, capacity"),
        ("xyz", (), ""),
    ],
)
def test_the_nearest_known_word_is_offered(name, known, offer):
    assert nearest(name, known) == offer


class Mixer(BaseModel):
    name: str
    capacity: float


class Shop(BaseModel):
    mixer: tuple[Mixer, ...] = ()
    spare: dict[str, Mixer] = {}
    either: Mixer | str = ""


@pytest.mark.parametrize(
    ("path", "known"),
    [
        (("mixr",), ("mixer", "spare", "either")),
        (("mixer", 0, "nmae"), ("name", "capacity")),
        (("spare", "old", "nmae"), ("name", "capacity")),
        (("either", "Mixer", "nmae"), ("name", "capacity")),
    ],
)
def test_keys_are_those_of_the_table_that_holds_the_entry(path, known):
    assert known_keys(Shop, path) == known


def test_an_unknown_key_where_nothing_is_known_is_just_unknown():
    fault = {"type": "extra_forbidden", "loc": ("a",), "msg": "", "input": 1}
    assert what_is_wrong(fault) == "unknown key"


def test_a_fault_of_another_kind_is_told_in_the_words_of_its_checker():
    fault = {"type": "url_scheme", "loc": ("a",), "msg": "URL scheme is wrong", "input": "x"}
    assert what_is_wrong(fault) == 'uRL scheme is wrong, found "x"'
