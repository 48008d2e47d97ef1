"""The whole tool in one page, in a real browser: its numbers are the program's, and nothing asks a network."""
import json
import os
import time

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from runner import DEMO, HANG, ROOMS, SOURCE, run, run_json
from test_live_report import AXE, browser, report, until  # noqa: F401 (fixtures)


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "boxroom.html"
    done = run("page", "--out", path)
    if "engine is not beside" in done.stderr and os.environ.get("CI") != "true":
        pytest.skip("built without em++: this program writes no page")
    assert done.returncode == 0, done.stderr
    return path


def opened(browser, page):
    browser.get_log("browser"), browser.get_log("performance")
    browser.get(page.as_uri())
    browser.execute_script("localStorage.clear()")
    browser.get(page.as_uri())
    until(browser, "return document.querySelectorAll('#floor > svg, #box-curve > svg').length === 2")


def ask(browser, command, text):
    return browser.execute_async_script(
        "const done = arguments[2];"
        "window.boxroom[arguments[0]](arguments[1]).then(a => done({answer: a}), e => done({error: e.message, faults: e.faults}))",
        command, text)


def apart(a, b, path=""):
    """The numbers that differ by more than 1e-4, and all else that differs."""
    if isinstance(a, dict) and isinstance(b, dict):
        for key in a.keys() | b.keys():
            if path == "" and key in ("timing_s", "warnings", "report", "planned", "which"):
                continue
            yield from apart(a.get(key), b.get(key), f"{path}/{key}")
    elif isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        for n, (x, y) in enumerate(zip(a, b)):
            yield from apart(x, y, f"{path}/{n}")
    elif isinstance(a, (int, float)) and isinstance(b, (int, float)):
        if abs(a - b) > 1e-4:
            yield path, a, b
    elif a != b:
        yield path, a, b


def test_one_small_file_that_asks_for_nothing(browser, page):
    assert page.stat().st_size < 5e6
    opened(browser, page)
    asked = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    urls = [m["params"]["request"]["url"] for m in asked if m["method"] == "Network.requestWillBeSent"]
    assert urls and all(url.startswith(("file:", "blob:", "data:")) for url in urls), urls
    assert [e for e in browser.get_log("browser") if e["level"] == "SEVERE"] == []


@pytest.mark.parametrize("room", ROOMS, ids=lambda path: path.stem)
def test_its_numbers_are_the_programs(browser, page, room, tmp_path):
    opened(browser, page)
    text = room.read_text()
    for command in ("check", "listen", "build"):
        if command == "listen" and "[[sub]]" not in text:
            continue
        own = run_json(command, room, "--out", tmp_path / "out")
        there = ask(browser, command, text)
        assert "answer" in there, (command, there)
        assert list(apart(there["answer"], own)) == [], command


def test_the_plan_is_the_programs(browser, page, tmp_path):
    opened(browser, page)
    own = run_json("plan", DEMO, "--out", tmp_path / "out")
    there = ask(browser, "plan", DEMO.read_text())["answer"]
    for key in ("subs", "spread_db", "unevenness_db", "balance_db", "level_db", "reach_hz", "half_space",
                "in_room", "balance_by_qtc", "recommendation"):
        assert list(apart(there[key], own[key])) == [], key


def test_a_plan_by_keyboard(browser, page, tmp_path):
    opened(browser, page)
    button = browser.find_element(By.ID, "plan")
    until(browser, "return !document.getElementById('plan').disabled")
    button.send_keys(Keys.ENTER)
    until(browser, "return !document.getElementById('report').hidden")
    assert browser.find_element(By.CSS_SELECTOR, "#report h1").text.startswith("Build")
    # What it puts into the room file is a room file, and the program builds and hears the same box from it.
    before = browser.execute_script("return document.getElementById('text').value")
    browser.execute_script("document.querySelector('#downloads button').click()")
    changed = f"return document.getElementById('text').value !== {json.dumps(before)}"
    until(browser, changed)
    planned = tmp_path / "planned.toml"
    planned.write_text(browser.execute_script("return document.getElementById('text').value"))
    heard = run_json("listen", planned, "--out", tmp_path / "heard")
    assert len(heard["subs"]) >= 1
    browser.execute_script("document.getElementById('undo').click()")
    until(browser, changed.replace("!==", "==="))


def test_a_report_is_the_page_with_an_answer_in_it(browser, report, tmp_path):
    """The other door: read at once, then another wall and another plan in the same file."""
    browser.get_log("performance")
    browser.get(report.as_uri())
    assert browser.find_element(By.CSS_SELECTOR, "#report h1").text.startswith("Build")
    assert not browser.find_element(By.ID, "tool").is_displayed()
    until(browser, "return !document.getElementById('again').hidden")
    browser.find_element(By.ID, "again").send_keys(Keys.ENTER)
    until(browser, "return document.querySelectorAll('#floor > svg').length === 1")
    assert browser.execute_script("return document.getElementById('text').value") == DEMO.read_text()
    typed(browser, "walls.left", "plasterboard on studs")
    until(browser, "return document.getElementById('doing').textContent.includes('before your change')")
    browser.execute_script("const make = URL.createObjectURL; window.blobs = []; URL.createObjectURL = b => { blobs.push(b); return make(b); }")
    browser.find_element(By.ID, "plan").send_keys(Keys.ENTER)
    until(browser, "return document.getElementById('doing').textContent.startsWith('Done')")
    there = browser.execute_script("return document.getElementById('room-file').textContent")
    assert there == browser.execute_script("return document.getElementById('text').value") != DEMO.read_text()
    until(browser, "return document.documentElement.classList.contains('live')")
    # What it hands out is such a file again.
    handed = tmp_path / "handed.html"
    handed.write_text(browser.execute_async_script(
        "const done = arguments[0]; Promise.all(blobs.map(b => b.text())).then(all => done(all.find(t => t.includes('id=\"engine\"'))))"))
    asked = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    urls = [m["params"]["request"]["url"] for m in asked if m["method"] == "Network.requestWillBeSent"]
    assert all(url.startswith(("file:", "blob:", "data:")) for url in urls), urls
    browser.get(handed.as_uri())
    until(browser, "return document.documentElement.classList.contains('live')")
    assert browser.execute_script("return document.getElementById('room-file').textContent") == there


def typed(browser, path, value):
    field = browser.find_element(By.CSS_SELECTOR, f'[data-path="{path}"]')
    browser.execute_script("arguments[0].value = arguments[1]; arguments[0].dispatchEvent(new Event('change'))", field, value)


def test_a_field_is_a_line_of_the_file(browser, page):
    opened(browser, page)
    typed(browser, "room.width", "5")
    until(browser, "return document.getElementById('text').value.includes('width = \"5 m\"')")
    typed(browser, "driver.qts", "-1")
    words = until(browser, "return document.querySelector('[data-path=\"driver.qts\"] + .fault')?.textContent")
    assert words and browser.find_element(By.CSS_SELECTOR, '[data-path="driver.qts"]').get_attribute("aria-invalid") == "true"
    assert not browser.find_element(By.ID, "plan").is_enabled()
    browser.execute_script("document.getElementById('undo').click()")
    until(browser, "return !document.getElementById('plan').disabled")


def test_a_seat_follows_the_keys(browser, page):
    opened(browser, page)
    before = browser.execute_script("return document.querySelector('[data-path=\"seat[0].at[0]\"]').value")
    browser.find_element(By.CSS_SELECTOR, '[data-held="seat[0]"]').send_keys(Keys.ARROW_RIGHT)
    after = until(browser, f"const v = document.querySelector('[data-path=\"seat[0].at[0]\"]').value; return v !== {json.dumps(before)} && v")
    assert float(after.split()[0]) == pytest.approx(float(before.split()[0]) + 0.1)


def test_a_hostile_file_and_one_that_is_none(browser, page):
    opened(browser, page)
    hostile = DEMO.read_text().replace('title = "', 'title = "<img src=x onerror=window.hit=1>', 1)
    browser.execute_script("const t = document.getElementById('text'); t.value = arguments[0]; t.dispatchEvent(new Event('input'))", hostile)
    until(browser, "return document.querySelector('[data-path=title]').value.includes('onerror')")
    assert browser.execute_script("return window.hit") is None
    answer = ask(browser, "check", "a.b.c = [" * 30000)
    assert answer["faults"] and "a.b.c" not in answer["error"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_it_can_be_read(browser, page, scheme, width):
    if not AXE.exists() and os.environ.get("CI") != "true":
        pytest.skip("no axe-core here: rooms/setup.sh --tests fetches it where there is npm")
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]})
    try:
        opened(browser, page)
        assert browser.execute_script("return document.documentElement.scrollWidth") <= width
        browser.execute_script(AXE.read_text()) if AXE.exists() else pytest.skip("no axe-core")
        found = browser.execute_async_script("""
            const done = arguments[0];
            axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice']})
              .then(r => done(r.violations.map(v => [v.id, v.nodes.map(n => n.html.slice(0, 120))])))""")
        assert found == []
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def test_what_is_in_the_way_is_not_overwritten(tmp_path):
    other = tmp_path / "boxroom.html"
    other.write_text("<p>mine</p>")
    done = run("page", "--out", other)
    assert done.returncode == 2 and other.read_text() == "<p>mine</p>"
