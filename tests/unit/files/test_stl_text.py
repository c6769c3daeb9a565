"""Facets of STL files in text."""

import numpy as np
import pytest

from takeoff.errors import UnreadableError
from takeoff.files import stl_text
from takeoff.files.stl_text import text_facets
from tests.unit.files.stl_written import text_stl
from tests.unit.geometry.meshes_made import box, plate

FACET = """facet normal 0 0 1
outer loop
vertex 1 2 3
vertex 4.5 -5e0 .5
vertex +7 8. 9E-1
endloop
endfacet
"""
CORNERS = [[1, 2, 3], [4.5, -5, 0.5], [7, 8, 0.9]]


def facets(text):
    return text_facets(text.encode() if isinstance(text, str) else text, where="a.stl")


def one_facet(change):
    """A solid of two facets of which the second is changed."""
    return f"solid top\n{FACET}{change(FACET)}endsolid top\n"


@pytest.mark.parametrize("at_once", [1, 300, 1 << 21])
def test_corners_come_as_written(monkeypatch, at_once):
    monkeypatch.setattr(stl_text, "_CHUNK_BYTES", at_once)
    mesh = plate()
    [solid] = facets(text_stl(mesh)).solids
    assert np.array_equal(solid.corners, (mesh.points_m * 1000)[mesh.triangles].reshape(-1, 3))
    assert solid.name == "top"


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(str.upper, id="upper case"),
        pytest.param(lambda text: text.replace("\n", "\r\n"), id="CRLF"),
        pytest.param(lambda text: text.replace("\n", "\r"), id="CR"),
        pytest.param(lambda text: text.replace(" ", "\t \t"), id="tabs"),
        pytest.param(lambda text: text.replace("\n", "\n\n  \n"), id="blank lines"),
        pytest.param(lambda text: "\ufeff\n" + text, id="mark"),
        pytest.param(lambda text: text.replace("endsolid", "end solid"), id="two words"),
        pytest.param(lambda text: text.replace("0 0 1", "nan nan nan"), id="odd normals"),
        pytest.param(lambda text: text.replace("0 0 1", "0,5 0 1"), id="commas in normals"),
        pytest.param(lambda text: text.encode("utf-16"), id="UTF-16"),
    ],
)
def test_ways_to_write_the_same(change):
    found = facets(change(f"solid top\n{FACET}endsolid top\n"))
    assert found.solids[0].corners.tolist() == CORNERS
    assert not found.unclosed
    assert not found.leftover


@pytest.mark.parametrize(
    "name", ["", "facet normal 2", "solid endsolid facet", "Küche – 300K", "a,b.c", "endloop"]
)
def test_a_name_may_hold_any_words(name):
    [solid] = facets(f"solid {name}\n{FACET}endsolid {name}\n").solids
    assert solid.name == name
    assert solid.corners.tolist() == CORNERS


def test_several_solids_keep_their_names_and_lines():
    text = f"solid A\n{FACET}endsolid A\n\nsolid B\n{FACET}{FACET}endsolid B\nsolid C\nendsolid C\n"
    found = facets(text).solids
    assert [(solid.name, len(solid.corners)) for solid in found] == [("A", 3), ("B", 6), ("C", 0)]
    assert [solid.first_line for solid in found] == [1, 11, 27]


def test_a_missing_end_is_told():
    assert facets(f"solid top\n{FACET}").unclosed
    found = facets(f"solid A\n{FACET}solid B\n{FACET}endsolid B")
    assert [solid.name for solid in found.solids] == ["A", "B"]
    assert not found.unclosed


def test_facets_outside_a_solid_are_read_too():
    found = facets(f"solid A\n{FACET}endsolid A\n{FACET}")
    assert [solid.name for solid in found.solids] == ["A", ""]


def test_words_outside_the_solids_are_counted():
    assert facets(f"solid A\n{FACET}endsolid A\nmade on Monday\n").leftover == len("made on Monday")


FAULTS = {
    "four vertices": (
        lambda text: text.replace("endloop", "vertex 1 1 1\nendloop"),
        r"a\.stl:14: facet 2 has more than three vertices",
    ),
    "two vertices": (
        lambda text: text.replace("vertex 1 2 3\n", ""),
        r"a\.stl:13: facet 2 has fewer than three vertices",
    ),
    "two numbers": (
        lambda text: text.replace("1 2 3", "1 2"),
        r'a\.stl:12: "vertex" in facet 2 is no number',
    ),
    "four numbers": (
        lambda text: text.replace("1 2 3", "1 2 3 4"),
        r'a\.stl:11: "vertex" must stand here in facet 2, but it is "4"',
    ),
    "a word for a number": (
        lambda text: text.replace("4.5", "four"),
        r'a\.stl:12: "four" in facet 2 is no number',
    ),
    "digits of another program": (
        lambda text: text.replace("4.5", "1.#QNAN"),
        r'a\.stl:12: "1.#qnan" in facet 2 is no number',
    ),
    "an underscore": (
        lambda text: text.replace("4.5", "1_000"),
        r'a\.stl:12: "1_000" in facet 2 is no number',
    ),
    "a wrong word": (
        lambda text: text.replace("outer", "inner"),
        r'a\.stl:10: "outer" must stand here in facet 2, but it is "inner"',
    ),
    "no normal": (
        lambda text: text.replace("normal 0 0 1", "normal"),
        r"a\.stl:10: the normal of facet 2 has fewer than three numbers",
    ),
    "half a normal": (
        lambda text: text.replace("normal 0 0 1", "normal 0"),
        r"a\.stl:10: the normal of facet 2 has fewer than three numbers",
    ),
    "a cut": (
        lambda text: text[: text.index("vertex 4.5")],
        "facet 2 is cut short",
    ),
    "a comma and a point": (
        lambda text: text.replace("4.5", "1,234.5"),
        r'a\.stl:12: "1,234.5" in facet 2 has a comma',
    ),
}


@pytest.mark.parametrize("fault", FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_is_refused_with_its_line(fault):
    change, words = fault
    with pytest.raises(UnreadableError, match=words):
        facets(one_facet(change))


def test_the_line_counts_from_the_beginning_of_the_file(monkeypatch):
    monkeypatch.setattr(stl_text, "_CHUNK_BYTES", 200)
    text = text_stl(box()).replace("vertex 0 1000 1000", "vertex 0 x 1000")
    line = next(number for number, row in enumerate(text.splitlines(), 1) if " x " in row)
    with pytest.raises(UnreadableError, match=f":{line}: .* in facet {(line - 2) // 7 + 1} is no"):
        facets(text)


def test_decimal_commas_are_read_where_they_can_mean_nothing_else():
    found = facets(text_stl(box(), number="{:.6f}").replace(".", ","))
    assert found.decimal_commas
    assert np.array_equal(found.solids[0].corners, facets(text_stl(box())).solids[0].corners)


@pytest.mark.parametrize(
    "numbers",
    ["1,219 2,438 1,000", "12,34,5 1 2", "1,5 2.5 3", "1,5 2, ,"],
    ids=["thousands", "two commas", "point and comma", "comma alone"],
)
def test_commas_that_could_mean_something_else_are_refused(numbers):
    facet = FACET.replace("4.5 -5e0 .5", "4 5 6").replace("+7 8. 9E-1", "7 8 9")
    with pytest.raises(UnreadableError, match="has a comma"):
        facets(f"solid top\n{facet.replace('1 2 3', numbers)}endsolid top\n")
