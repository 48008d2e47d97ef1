"""How fast the live report answers, in headless Chromium on this machine. Not a test: prints numbers.

    python3 tests/bench/live_report.py build/boxroom

Six seats, one box, 208 frequencies: a step of a drag (engine alone; engine and drawing), a step of
the volume slider, the floor map at its coarse step, from opening the file to the answer and to life,
and the file's size. Aims: drag under 16 ms, map under 250 ms, opening under 1 s, 2.5 MB.
"""
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

from selenium import webdriver
from selenium.webdriver.chrome.service import Service

ROOMS = pathlib.Path(__file__).resolve().parents[2] / "rooms"
MORE_SEATS = "".join(f"""
[[seat]]
name = "guest {n}"
at = ["{x} m", "{y} m", "1.05 m"]
""" for n, (x, y) in enumerate([(0.7, 2.2), (1.4, 2.0), (2.6, 2.4)]))

STEP = """
const [kind, steps, done] = arguments, html = document.documentElement, out = [];
const box = document.getElementById('plan-box'), volume = document.getElementById('live-volume');
const step = n => {
  if (n === steps) { done(out); return; }
  if (kind === 'drag') box.dispatchEvent(new KeyboardEvent('keydown',
    {key: n % 20 < 10 ? 'ArrowRight' : 'ArrowLeft', bubbles: true}));
  else { volume.value = 100 + 5 * n; volume.dispatchEvent(new Event('input', {bubbles: true})); }
  requestAnimationFrame(() => requestAnimationFrame(() => {
    out.push([+html.dataset.solveMillis, +html.dataset.frameMillis]); step(n + 1); }));
};
step(0);"""


def main(program):
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for flag in ["--headless=new", "--no-sandbox", "--disable-gpu", "--window-size=1200,1600"]:
        options.add_argument(flag)
    browser = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
    with tempfile.TemporaryDirectory() as folder:
        room = pathlib.Path(folder) / "six.toml"
        room.write_text((ROOMS / "demo.toml").read_text() + MORE_SEATS)
        subprocess.run([program, "plan", room, "--out", folder, "--quiet"], check=True, stdout=subprocess.DEVNULL)
        page = pathlib.Path(folder) / "report.html"
        browser.get(page.as_uri())
        data = "return document.documentElement.dataset"
        while not browser.execute_script(data).get("mapMillis"):
            time.sleep(0.05)
        opened = browser.execute_script(
            "const t = performance.getEntriesByType('navigation')[0]; return [t.domContentLoadedEventEnd, "
            "performance.getEntriesByName('first-contentful-paint')[0]?.startTime]")
        print(f"file               {page.stat().st_size / 1e6:.2f} MB")
        print(f"first paint        {opened[1] or 0:.0f} ms, script done {opened[0]:.0f} ms")
        print(f"alive after        {float(browser.execute_script(data)['aliveMillis']):.0f} ms")
        for kind in ("drag", "volume"):
            times = browser.execute_async_script(STEP, kind, 40)[5:]
            solve, frame = (statistics.median(t[i] for t in times) for i in (0, 1))
            print(f"{kind:<8} step      {solve:.1f} ms engine, {frame:.1f} ms with the drawing, "
                  f"worst {max(t[1] for t in times):.1f} ms")
        time.sleep(2)
        print(f"floor map          {float(browser.execute_script(data)['mapMillis']):.0f} ms")
    browser.quit()


main(sys.argv[1] if len(sys.argv) > 1 else "build/boxroom")
