"""The page of a measurement opens in a browser by itself, and in the frame of a notebook."""

from __future__ import annotations

import pytest

import takeoff
from tests.pages.browser import CHROMIUM, page_in
from tests.unit.report.pages_made import SAMPLES

pytest.importorskip("jinja2")
pytest.importorskip("plotly")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")

FRAME = "document.querySelector('iframe')"


def test_the_page_of_a_measurement_runs_without_a_violation_or_a_request(tmp_path):
    view = takeoff.measure(
        SAMPLES / "ticket-counter.stl", unit="mm", kind="open", show="up", face_coat="4 mm"
    ).view()
    alone, framed = tmp_path / "measured.html", tmp_path / "notebook.html"
    alone.write_text(view.page, encoding="utf-8", newline="\n")
    framed.write_text(f"<!DOCTYPE html><body>{view._repr_html_()}", encoding="utf-8")
    with page_in(tmp_path / "profile") as page:
        page.ask(
            "Page.addScriptToEvaluateOnNewDocument",
            source="window.forbidden = []; document.addEventListener('securitypolicyviolation', "
            "(event) => window.forbidden.push(event.violatedDirective));",
        )
        page.size(1280, 900)
        page.open(alone)
        page.wait("document.querySelector('.view').dataset.drawn === 'yes'")
        assert page.tell("window.forbidden.length") == 0
        assert page.tell("document.querySelectorAll('tbody tr').length") > 9
        page.open(framed)
        page.wait(f"{FRAME} !== null && {FRAME}.getBoundingClientRect().height > 600")
        thrown = page.named("Runtime.exceptionThrown")
        sent = [one["request"]["url"] for one in page.named("Network.requestWillBeSent")]
    assert not thrown
    assert not [url for url in sent if not url.startswith(("file:", "data:", "about:"))]
