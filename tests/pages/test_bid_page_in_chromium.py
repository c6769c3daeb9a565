import io
import json
import re
import shutil
import subprocess

import numpy as np
import pytest

from takeoff.report.bid_page import page_html
from takeoff.report.figures import System
from tests.pages.browser import CHROMIUM, page_in
from tests.unit.report.pages_made import bid_of, copied_hall, copy_of, text_at

pytest.importorskip("jinja2")
pytest.importorskip("plotly")
Image = pytest.importorskip("PIL.Image")
pytest.importorskip("embreex")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")

HOSTILE = "</script><img src=x onerror=alert(1)>\u202e Зал 渡輪 \U0001f6a2"
READ = """JSON.stringify(Array.from(document.querySelectorAll("[data-at]"),
          (one) => [one.dataset.at, one.textContent]))"""
DRAWN = "document.querySelector('.view').dataset.drawn === 'yes'"
# Software drawing says that it is slow; nothing else may be said.
SLOW = re.compile(r"GPU stall due to ReadPixels|willReadFrequently")


@pytest.fixture(scope="module")
def hall(tmp_path_factory):
    """The sample job as a file, and its document."""
    folder = tmp_path_factory.mktemp("pages")
    document, shapes = bid_of(copied_hall(folder) / "job.toml")
    file = folder / "bid.html"
    file.write_text(page_html(document, shapes=shapes), encoding="utf-8", newline="\n")
    return file, document, shapes


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    """A browser without a network, that keeps a list of what a policy forbids."""
    with page_in(tmp_path_factory.mktemp("profile")) as page:
        page.ask(
            "Network.emulateNetworkConditions",
            offline=True, latency=0, downloadThroughput=0, uploadThroughput=0,
        )  # fmt: skip
        page.ask(
            "Page.addScriptToEvaluateOnNewDocument",
            source="window.forbidden = []; document.addEventListener('securitypolicyviolation', "
            "(event) => window.forbidden.push(event.violatedDirective + ' ' + event.blockedURI));",
        )
        yield page


@pytest.fixture
def page(browser):
    browser.events.clear()
    browser.ask("Emulation.setEmulatedMedia", media="")
    browser.ask("Emulation.setTouchEmulationEnabled", enabled=False)
    browser.size(1280, 900)
    return browser


def said(page):
    """Give what went wrong, or was said to the console."""
    entries = [event["entry"]["text"] for event in page.named("Log.entryAdded")]
    consoled = page.named("Runtime.consoleAPICalled", "Runtime.exceptionThrown")
    return [text for text in entries if not SLOW.search(text)] + [
        json.dumps(one) for one in consoled
    ]


def requests(page):
    sent = page.named("Network.requestWillBeSent")
    return [one["request"]["url"] for one in sent if not one["request"]["url"].startswith("data:")]


def test_the_page_opens_without_an_error_a_violation_or_a_request(page, hall):
    file, _, _ = hall
    page.open(file)
    page.wait(DRAWN)
    assert page.tell("window.forbidden") == []
    assert said(page) == []
    assert requests(page) == [file.as_uri()]
    assert page.tell("document.querySelector('.plot canvas') !== null")


def test_every_figure_in_the_browser_is_that_of_the_document(page, hall):
    file, document, _ = hall
    page.open(file)
    shown = json.loads(page.tell(READ))
    assert len(shown) > 300
    wrong = [row for row in shown if row[1] != text_at(document, row[0], System.METRIC)]
    assert wrong == []


def test_a_script_that_is_not_ours_does_not_run(page, hall):
    file, _, _ = hall
    page.open(file)
    page.tell("""(() => { const one = document.createElement("script");
                 one.textContent = "window.ran = 1"; document.body.append(one); })()""")
    page.tell("""document.body.insertAdjacentHTML("beforeend",
                 "<img src='data:,' onerror='window.ran = 2'>")""")
    page.wait("window.forbidden.length >= 2")
    assert page.tell("window.ran === undefined")


def test_a_class_can_be_hidden_and_shown_again(page, hall):
    file, document, _ = hall
    page.open(file)
    page.wait(DRAWN)
    count = """document.querySelector(".plot").data.filter(
               (one) => one.meta && one.meta[0] === "return" && one.visible !== false).length"""
    ids = """document.querySelector(".plot").layout.scene.annotations.filter(
             (id) => id.text[0] === "R" && id.visible !== false).length"""
    returns = sum(row["class"] == "return" for row in document["pieces"][0]["surfaces"])
    assert (page.tell(count), page.tell(ids)) == (returns, returns)
    page.tell("document.querySelector(\".view input[value='return']\").click()")
    page.wait(f"{ids} === 0")
    assert page.tell(count) == 0
    page.tell("document.querySelector(\".view input[value='return']\").click()")
    page.wait(f"{ids} === {returns}")
    assert page.tell(count) == returns


def test_pointing_at_a_surface_tells_id_class_area_and_why(page, hall):
    file, document, _ = hall
    page.open(file)
    page.wait(DRAWN)
    page.tell("document.querySelector('.plot').scrollIntoView({block: 'center'})")
    middle = json.loads(
        page.tell("""(() => {
        const at = document.querySelector(".plot").getBoundingClientRect();
        return JSON.stringify([at.x + at.width / 2, at.y + at.height / 2]); })()""")
    )
    hover = """Array.from(document.querySelectorAll(".plot .hovertext"),
               (one) => one.textContent).join("")"""
    for step in range(40):
        x, y = middle[0] - 60 + 3 * step, middle[1]
        page.ask("Input.dispatchMouseEvent", type="mouseMoved", x=x, y=y)
        page.tell("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        if page.tell(hover):
            break
    told = page.tell(hover)
    row = document["pieces"][0]["surfaces"][0]
    assert told.startswith("F1 show face")
    assert text_at(document, "/pieces/0/surfaces/0/area_m2", System.METRIC) in told
    assert row["why"] in told


def still(page):
    """Give what is on the screen once it no longer changes."""
    shown = [page.picture()]
    while len(set(shown[-3:])) > 1 or len(shown) < 3:
        page.tell("new Promise((done) => requestAnimationFrame(() => setTimeout(done, 150)))")
        shown.append(page.picture())
    return np.asarray(Image.open(io.BytesIO(shown[-1])).convert("L"))


def drawn_share(page, number):
    """How much of the width and of the height of a frame is drawn on; whole pieces leave a rim."""
    plot = f"document.querySelectorAll('.view .plot')[{number}]"
    page.tell(f"{plot}.scrollIntoView({{block: 'center'}})")
    picture = still(page)
    at = json.loads(page.tell(f"JSON.stringify({plot}.getBoundingClientRect())"))
    left, top = round(at["x"]) + 2, round(at["y"]) + 2
    right, foot = round(at["x"] + at["width"]) - 2, round(at["y"] + at["height"]) - 2
    frame = picture[top:foot, left:right] < 250
    across, down = np.flatnonzero(frame.any(axis=0)), np.flatnonzero(frame.any(axis=1))
    assert across[0] > 3
    assert across[-1] < frame.shape[1] - 4
    assert down[0] > 3
    assert down[-1] < frame.shape[0] - 4
    return np.ptp(across) / frame.shape[1], np.ptp(down) / frame.shape[0]


@pytest.mark.parametrize(("width", "height"), [(1280, 900), (900, 900), (390, 844)])
def test_every_piece_is_seen_whole_and_fills_its_frame(width, height, page, hall):
    file, document, _ = hall
    page.size(width, height)
    page.open(file)
    for number in range(len(document["pieces"])):
        view = f"document.querySelectorAll('.view')[{number}]"
        if page.tell(f"{view}.dataset.drawn") != "yes":
            page.tell(f"{view}.querySelector('.open').click()")
        page.wait(f"{view}.dataset.drawn === 'yes'")
        assert max(drawn_share(page, number)) > 0.85
        for turn in ("left", "left", "up", "down", "right", "back"):
            page.tell(f"{view}.querySelector(\"[data-turn='{turn}']\").click()")
        assert max(drawn_share(page, number)) > 0.4


def test_a_piece_can_be_brought_nearer_and_farther(page, hall):
    file, _, _ = hall
    page.open(file)
    page.wait(DRAWN)
    wide = "document.querySelector('.plot').layout.scene.aspectratio.x"
    fits = page.tell(wide)
    for turn, share in (("near", 1.25), ("far", 1.0), ("far", 0.8), ("front", 1.0)):
        page.tell(f"document.querySelector(\"[data-turn='{turn}']\").click()")
        page.wait(f"Math.abs({wide} / {fits} - {share}) < 1e-9")


def test_the_piece_can_be_turned_and_closed_by_keys(page, hall):
    file, _, _ = hall
    page.open(file)
    page.wait(DRAWN)
    eye = "JSON.stringify(document.querySelector('.plot').layout.scene.camera.eye)"
    before = page.tell(eye)
    page.tell("document.querySelector(\"[data-turn='left']\").focus()")
    page.press("Enter")
    page.wait(f"{eye} !== {json.dumps(before)}")
    page.tell("document.querySelector('.close').focus()")
    page.press("Enter")
    page.wait("document.querySelector('.stage').hidden")
    assert page.tell("document.activeElement.className") == "open"
    page.press("Enter")
    page.wait(DRAWN)
    assert said(page) == []


def test_the_page_can_be_walked_by_keys(page, hall):
    file, document, _ = hall
    page.open(file)
    page.tell("document.activeElement.blur()")
    page.press("Tab")
    assert page.tell("document.activeElement.className") == "skip"
    assert page.tell("document.activeElement.getBoundingClientRect().left >= 0")
    page.press("Enter")
    assert page.tell("document.activeElement.id") == "content"
    page.press("Tab")
    row = "document.activeElement.closest('tr').rowIndex"
    assert page.tell("document.activeElement.tagName") == "TR"
    assert page.tell(row) == 1
    page.press("ArrowDown")
    assert page.tell(row) == 2
    page.press("End")
    assert page.tell(row) == len(document["lines"]) + 2  # and two sums
    assert page.tell("document.activeElement.closest('section').id") == "lines"
    page.press("Home", "ArrowUp")
    assert page.tell(row) == 1
    assert page.tell("getComputedStyle(document.activeElement).outlineStyle") == "solid"


@pytest.mark.parametrize("width", [320, 390])
def test_a_phone_reads_it_without_moving_the_page_sideways(width, page, hall):
    file, _, _ = hall
    page.size(width, 844, mobile=True)
    page.open(file)
    assert page.tell("document.documentElement.scrollWidth") <= width
    assert page.tell("document.querySelector('.view').dataset.drawn") is None
    every = "Array.from(document.querySelectorAll('.scroll'))"
    assert page.tell(f"{every}.some((one) => one.scrollWidth > one.clientWidth)")
    assert page.tell("getComputedStyle(document.body).fontSize") == "16px"


@pytest.mark.parametrize(
    ("name", "width_in", "height_in"), [("A4", 210 / 25.4, 297 / 25.4), ("Letter", 8.5, 11.0)]
)
def test_it_prints_with_the_still_picture_for_the_view(name, width_in, height_in, page, hall):
    file, _, _ = hall
    page.open(file)
    page.wait(DRAWN)
    paper = page.paper(width_in, height_in)
    boxes = set(re.findall(rb"/MediaBox \[([\d. ]+)\]", paper))
    sizes = {tuple(round(float(part)) for part in box.split()[2:]) for box in boxes}
    (size,) = sizes
    assert size == pytest.approx((width_in * 72, height_in * 72), abs=1.0)
    page.ask("Emulation.setEmulatedMedia", media="print")
    page.size(round((width_in - 0.94) * 96), 1000)
    assert page.tell("getComputedStyle(document.querySelector('.view')).display") == "none"
    assert page.tell("document.querySelector('.still').getBoundingClientRect().height > 100")
    assert page.tell("document.documentElement.scrollWidth <= window.innerWidth"), name
    assert page.tell("getComputedStyle(document.querySelector('.scroll')).overflowX") == "visible"


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext here")
def test_the_first_printed_sheet_is_the_offer(page, hall, tmp_path):
    file, document, _ = hall
    page.open(file)
    paper = tmp_path / "bid.pdf"
    paper.write_bytes(page.paper(210 / 25.4, 297 / 25.4))
    done = subprocess.run(
        ["pdftotext", "-layout", str(paper), "-"], capture_output=True, text=True, check=True
    )
    first, second, *_ = done.stdout.split("\f")
    assert f"TOTAL EUR {document['total']}" in first
    assert all(line["amount"] in first for line in document["lines"])
    assert all(row["at_stake"] in first for row in document["assumptions"])
    assert "True volume" not in first
    assert second.lstrip().startswith("Pieces")


def test_nothing_that_can_be_kept_together_breaks_across_printed_sheets(page, hall):
    file, _, _ = hall
    page.open(file)
    page.ask("Emulation.setEmulatedMedia", media="print")
    page.size(703, 1000)
    kept = """Array.from(document.querySelectorAll("figure, .scroll:not(.long)"),
              (one) => getComputedStyle(one).breakInside).every((one) => one === "avoid")"""
    assert page.tell(kept)
    high = """Array.from(document.querySelectorAll(".still, .pattern"),
              (one) => one.getBoundingClientRect().height)"""
    assert max(page.tell(high)) < 246 / 25.4 * 96


def test_what_is_folded_away_is_printed(page, hall):
    file, _, _ = hall
    page.open(file)
    assert page.tell("document.querySelectorAll('details').length") > 0
    assert page.tell("document.querySelectorAll('details[open]').length") == 0
    page.tell("window.dispatchEvent(new Event('beforeprint'))")
    assert page.tell("document.querySelectorAll('details:not([open])').length") == 0
    page.tell("window.dispatchEvent(new Event('afterprint'))")
    assert page.tell("document.querySelectorAll('details[open]').length") == 0


def test_hostile_names_do_nothing_in_a_browser(page, hall, tmp_path):
    _, document, shapes = hall
    odd = copy_of(document)
    odd["job"] = odd["currency"] = HOSTILE
    for piece in odd["pieces"]:
        piece["name"] = HOSTILE
        for surface in piece["surfaces"]:
            surface["why"] = HOSTILE
    file = tmp_path / "odd 渡輪 #1.html"
    file.write_text(page_html(odd, shapes=shapes), encoding="utf-8", newline="\n")
    page.open(file)
    page.wait(DRAWN)
    assert page.tell("document.querySelector('h1').textContent") == HOSTILE
    assert page.tell("document.querySelectorAll('script').length") == 2
    assert page.tell("window.forbidden") == []
    assert page.named("Page.javascriptDialogOpening") == []
    assert said(page) == []


def test_a_browser_that_draws_no_3d_says_so(page, hall):
    file, _, _ = hall
    done = page.ask(
        "Page.addScriptToEvaluateOnNewDocument",
        source="HTMLCanvasElement.prototype.getContext = () => null;",
    )
    page.open(file)
    page.ask("Page.removeScriptToEvaluateOnNewDocument", identifier=done["identifier"])
    assert page.tell("document.querySelector('.open').offsetParent === null")
    assert page.tell("document.querySelector('.no-view').offsetParent !== null")
    assert said(page) == []
