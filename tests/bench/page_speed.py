"""How much longer a plan takes in the page than in the program, in one run. Not a test: prints numbers.

    python3 tests/bench/page_speed.py build/boxroom [room file]

The same plan by the program on one thread, by the page's engine in headless Chromium, and by the engine
alone in node where that is installed, in turn and three times; the least of each counts, since other work
may share the machine. Then, 390 px wide: from opening the page to the sample room's box, and to its plan.
Aims: within 5 times, and 10 s.
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

from selenium import webdriver
from selenium.webdriver.chrome.service import Service

PROGRAM = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "build/boxroom").resolve()
ROOM = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else pathlib.Path(__file__).resolve().parents[2] / "rooms" / "demo.toml"
ROUNDS = 3

NODE = """
const fs = require('fs'), [engine, room] = process.argv.slice(1), imports = {};
const module_ = new WebAssembly.Module(require('zlib').gunzipSync(fs.readFileSync(engine)));
for (const {module: from, name} of WebAssembly.Module.imports(module_)) (imports[from] ||= {})[name] = () => 0;
const e = new WebAssembly.Instance(module_, imports).exports;
e._initialize();
const bytes = new TextEncoder().encode(JSON.stringify({command: 'plan', text: fs.readFileSync(room, 'utf8')}));
const at = e.page_request(bytes.length);
new Uint8Array(e.memory.buffer, at, bytes.length).set(bytes);
const begin = performance.now();
e.page_reply();
console.log((performance.now() - begin) / 1000);
"""
IN_PAGE = """
const [text, done] = arguments;
boxroom.check(text).then(() => { const begin = performance.now(); return boxroom.plan(text).then(() => done((performance.now() - begin) / 1000)); })
  .catch(error => done(error.message));"""


def until(browser, script):
    while not browser.execute_script(script):
        time.sleep(0.02)


def native(folder):
    begin = time.perf_counter()
    subprocess.run([PROGRAM, "plan", ROOM, "--out", folder / "out", "--quiet"], check=True, stdout=subprocess.DEVNULL,
                   env=os.environ | {"OMP_NUM_THREADS": "1", "XDG_CACHE_HOME": str(folder)})
    return time.perf_counter() - begin


def in_node():
    return float(subprocess.run(["node", "-e", NODE, PROGRAM.parent / "boxroom_engine.wasm.gz", ROOM], check=True,
                                capture_output=True, text=True).stdout)


def main():
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for flag in ["--headless=new", "--no-sandbox", "--disable-gpu"]:
        options.add_argument(flag)
    browser = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
    browser.set_script_timeout(600)
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        page = folder / "boxroom.html"
        subprocess.run([PROGRAM, "page", "--out", page], check=True, stdout=subprocess.DEVNULL)
        times = {"program, one thread": [], "page in Chromium": [], "engine in node": []}
        browser.get(page.as_uri())
        for _ in range(ROUNDS):
            times["program, one thread"].append(native(folder))
            times["page in Chromium"].append(browser.execute_async_script(IN_PAGE, ROOM.read_text()))
            if shutil.which("node"):
                times["engine in node"].append(in_node())
        least = {who: min(all_of) for who, all_of in times.items() if all_of}
        for who, seconds in least.items():
            print(f"{who:<20} {seconds:6.2f} s, {seconds / least['program, one thread']:.1f} times the program")
        browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True})
        browser.execute_script("localStorage.clear()")
        begin = time.perf_counter()
        browser.get(page.as_uri())
        until(browser, "return document.querySelectorAll('#floor > svg, #box-curve > svg').length === 2 && !document.getElementById('plan').disabled")
        print(f"390 px: the box of the sample room after {time.perf_counter() - begin:.1f} s,", end=" ")
        browser.execute_script("document.getElementById('plan').click()")
        until(browser, "return document.getElementById('doing').textContent.startsWith('Done')")
        print(f"its plan after {time.perf_counter() - begin:.1f} s")
    browser.quit()
    print("load average", *os.getloadavg())


main()
