"""The report in a real browser: opens offline, complains of nothing, answers to the pointer."""
import json
import re

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.action_chains import ActionChains

from runner import DEMO, run

ODD = """Odd <script>window.broken = 1</script> "quoted" & 'single' <b>bold</b> \u2014 \u00fc"""

# The browser decodes its own screenshot: how many colours does it hold?
COUNT_COLOURS = """
const [png, done] = arguments;
const image = new Image();
image.onload = () => {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [image.width, image.height];
  const pen = canvas.getContext('2d');
  pen.drawImage(image, 0, 0);
  done(new Set(new Uint32Array(pen.getImageData(0, 0, image.width, image.height).data.buffer)).size);
};
image.src = 'data:image/png;base64,' + png;"""


@pytest.fixture(scope="module")
def browser():
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for flag in ["--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu",
                 "--window-size=1200,1600", "--disable-background-networking"]:
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
    yield driver
    driver.quit()


def plan(folder, text):
    folder.mkdir(exist_ok=True)
    (folder / "room.toml").write_text(text)
    done = run("plan", folder / "room.toml", "--out", folder / "out")
    assert done.returncode == 0, done.stderr
    return folder / "out" / "report.html"


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    return plan(tmp_path_factory.mktemp("demo"), DEMO.read_text())


def open_page(browser, path):
    browser.get_log("browser"), browser.get_log("performance")  # forget what went before
    browser.get(path.as_uri())


def unfold(browser):
    for details in browser.find_elements("css selector", "details.part:not([open]) > summary"):
        browser.execute_script("arguments[0].click()", details)


def test_opens_without_complaints(browser, report):
    open_page(browser, report)
    assert browser.title
    complaints = [e for e in browser.get_log("browser") if e["level"] in ("SEVERE", "WARNING")]
    assert complaints == []


def test_asks_the_network_for_nothing(browser, report):
    open_page(browser, report)
    asked = []
    for entry in browser.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            asked.append(message["params"]["request"]["url"])
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
    files = {url.split("#")[0] for url in asked if url.startswith("file:")}
    assert files <= {report.as_uri()}  # one file, complete in itself
    loaded = browser.execute_script("return performance.getEntriesByType('resource').map(e => e.name)")
    assert [url for url in loaded if not url.startswith(("data:", "blob:"))] == []


def test_is_one_file(report):
    text = report.read_text(encoding="utf-8")
    assert not re.search(r"""(?:src|href)\s*=\s*["']?(?:https?:)?//""", text)
    assert "@import" not in text


def test_picture_is_not_blank(browser, report):
    open_page(browser, report)
    colours = browser.execute_async_script(COUNT_COLOURS, browser.get_screenshot_as_base64())
    assert colours > 20


def test_pictures_are_drawn_by_the_browser(browser, report):
    """Maps are SVG: each holds its bands of colour, lies within its walls, and says in words what it shows."""
    open_page(browser, report)
    unfold(browser)
    maps = browser.execute_script("""
        return [...document.querySelectorAll('svg.map')].map(map => {
            const band = map.querySelector('g path[fill]').getBoundingClientRect(),
                  floor = map.querySelector('.floor').getBoundingClientRect();
            return {words: map.getAttribute('aria-label'), bands: map.querySelectorAll('g path[fill]').length,
                    across: band.width / floor.width, down: band.height / floor.height};
        })""")
    assert len(maps) == 4
    for map in maps:
        assert re.search(r"\d dB at \d", map["words"]) and map["bands"] > 10
        # A spot keeps some distance from the walls, a level is known right up to them.
        assert 0.85 < map["across"] < 1.06 and 0.85 < map["down"] < 1.06, map
    assert not browser.execute_script("return document.images.length")


def test_says_the_recommendation_and_the_limits(browser, report):
    open_page(browser, report)
    unfold(browser)
    text = browser.execute_script("return document.body.innerText")
    assert "Qtc" in text and "5 dB" in text  # how far such models are to be trusted
    assert "mains" in text.lower() and "dust" in text.lower()


def test_details_fold_on_a_screen_and_stand_open_on_paper(browser, report):
    open_page(browser, report)
    folded = "return [...document.querySelectorAll('details.part')].filter(part => !part.open).length"
    parts = browser.execute_script(folded)
    assert parts >= 6
    button = browser.find_element("id", "everything")
    assert button.text == "Open all details"
    button.click()
    assert browser.execute_script(folded) == 0 and button.text == "Fold the details"
    button.click()
    assert browser.execute_script(folded) == parts
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    browser.execute_script("dispatchEvent(new Event('beforeprint'))")
    assert browser.execute_script(folded) == 0 and not button.is_displayed()
    hidden = browser.execute_script("""
        return [...document.querySelectorAll('details.part h3, details.part table')]
            .filter(e => !e.closest('details:not(.part)') && !e.getBoundingClientRect().height).length""")
    browser.execute_script("dispatchEvent(new Event('afterprint'))")
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert hidden == 0 and browser.execute_script(folded) == parts


def test_odd_title_is_shown_as_text(browser, tmp_path):
    text = re.sub(r"(?m)^title = .*$", lambda _: "title = " + json.dumps(ODD, ensure_ascii=False),
                  DEMO.read_text())
    text = text.replace('name = "armchair"', "name = '<img src=x onerror=\"window.broken=2\">'")
    text = text.replace('name = "door swing"', "name = '</script><script>window.broken=3</script>'")
    open_page(browser, plan(tmp_path, text))
    assert browser.execute_script("return window.broken === undefined")
    assert ODD in browser.execute_script("return document.body.textContent")
    assert browser.execute_script("return document.querySelectorAll('img[src=x]').length") == 0
    assert [e for e in browser.get_log("browser") if e["level"] == "SEVERE"] == []


def test_pointing_at_a_chart_changes_a_readout(browser, report):
    open_page(browser, report)
    unfold(browser)
    charts = browser.execute_script(
        "return [...document.querySelectorAll('svg, canvas')].filter(e => e.getBoundingClientRect().width > 200)")
    assert charts
    changed = 0
    for chart in charts:
        browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", chart)
        seen = set()
        for offset in (-80, 0, 90):
            ActionChains(browser).move_to_element_with_offset(chart, offset, 5).perform()
            # Two frames: what the pointer changes is drawn.
            browser.execute_async_script("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))")
            seen.add(browser.execute_script("return document.body.textContent"))
        changed += len(seen) > 1
    assert changed >= 1


def test_narrow_screen(browser, report):
    """On a telephone nothing sticks out sideways."""
    browser.set_window_size(500, 900)
    open_page(browser, report)
    over = browser.execute_script(
        "return document.documentElement.scrollWidth - document.documentElement.clientWidth")
    browser.set_window_size(1200, 1600)
    assert over <= 1
