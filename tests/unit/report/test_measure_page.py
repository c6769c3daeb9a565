"""A measurement is seen as a page, with the figures of its document."""

from __future__ import annotations

import pytest

import takeoff
from takeoff.errors import MissingExtraError
from takeoff.report import page_frame
from takeoff.report.figures import System
from takeoff.report.measure_page import measure_html
from takeoff.report.page_frame import PieceShape
from tests.unit.report.pages_made import SAMPLES, Read, text_at

pytest.importorskip("jinja2")
pytest.importorskip("plotly")


@pytest.fixture(scope="module")
def counter():
    layers = {"face_coat": "4 mm", "backer": "16 mm"}
    drawing = SAMPLES / "ticket-counter.stl"
    return takeoff.measure(drawing, unit="mm", kind="open", show="up", **layers)


@pytest.fixture(scope="module")
def page(counter):
    shapes = [PieceShape(piece.surfaces) for piece in counter.pieces]
    return measure_html(counter.to_dict(), shapes=shapes)


def test_each_figure_stands_where_the_document_has_it(counter, page):
    document, read = counter.to_dict(), Read(page)
    assert len(read.at) > 50
    for place, text in read.at:
        assert text == text_at(document, place, System.METRIC), place
    places = {place for place, _ in read.at}
    for number, surface in enumerate(document["pieces"][0]["surfaces"]):
        assert f"/pieces/0/surfaces/{number}/area_m2" in places
        assert surface["why"] in read.text


def test_the_piece_can_be_turned_and_nothing_is_asked_for(page):
    tags = Read(page).tags
    [view] = [told for _, told in tags if told.get("class") == "view"]
    assert view["data-figure"]
    assert not [told for name, told in tags if name in {"link", "img"} and "http" in str(told)]
    [policy] = [t["content"] for n, t in tags if t.get("http-equiv") == "Content-Security-Policy"]
    assert "unsafe-eval" not in policy
    assert "default-src 'none'" in policy


def test_a_notebook_shows_it_in_a_frame(counter, page):
    shown = counter.view()._repr_html_()
    assert shown.startswith('<iframe sandbox="allow-scripts" title="measurement"')
    assert counter.view().page == page


def test_inches_are_shown_in_inches():
    surround = takeoff.measure(
        SAMPLES / "hearth-surround.stl", unit="in", kind="piece", show="front"
    )
    assert "7.333 sq ft" in Read(surround.view().page).text


def test_a_missing_extra_is_named(counter, monkeypatch):
    monkeypatch.setattr(page_frame, "find_spec", lambda name: None)
    with pytest.raises(MissingExtraError, match=r"the page needs the extra \[report\]"):
        counter.view()
