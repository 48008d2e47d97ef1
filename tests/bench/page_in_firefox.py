"""The page in Firefox: the sample room planned, and its numbers beside the program's. Not a test: prints.

    python3 tests/bench/page_in_firefox.py build/boxroom [room file [picture.png]]

Debian has Firefox (firefox-esr) without a driver; it is spoken to in its own remote protocol, one JSON text
after its length (firefox-source-docs.mozilla.org, Remote Protocols, Marionette).
"""
import base64
import json
import pathlib
import socket
import subprocess
import sys
import tempfile
import time

PROGRAM = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "build/boxroom").resolve()
ROOM = pathlib.Path(sys.argv[2]) if len(sys.argv) > 2 else pathlib.Path(__file__).resolve().parents[2] / "rooms" / "demo.toml"
PORT = 2828


class Firefox:
    def __init__(self, profile):
        self.process = subprocess.Popen(["firefox-esr", "--headless", "--marionette", "--profile", profile],
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for _ in range(300):
            try:
                self.socket = socket.create_connection(("127.0.0.1", PORT))
                break
            except OSError:
                time.sleep(0.2)
        self.bytes, self.turn = b"", 0
        self.read()  # it greets
        self.call("WebDriver:NewSession", capabilities={"alwaysMatch": {"timeouts": {"script": 600000}}})

    def read(self):
        while b":" not in self.bytes:
            self.bytes += self.socket.recv(65536)
        length, self.bytes = self.bytes.split(b":", 1)
        while len(self.bytes) < int(length):
            self.bytes += self.socket.recv(65536)
        text, self.bytes = self.bytes[:int(length)], self.bytes[int(length):]
        return json.loads(text)

    def call(self, name, **parameters):
        self.turn += 1
        message = json.dumps([0, self.turn, name, parameters]).encode()
        self.socket.sendall(str(len(message)).encode() + b":" + message)
        _, _, error, result = self.read()
        if error:
            raise RuntimeError(error)
        return result.get("value") if isinstance(result, dict) else result

    def run(self, script, *arguments):
        return self.call("WebDriver:ExecuteScript", script=script, args=list(arguments))

    def wait(self, script, *arguments):
        return self.call("WebDriver:ExecuteAsyncScript", script=script, args=list(arguments))

    def until(self, script):
        while not self.run(script):
            time.sleep(0.05)


def numbers(value, path=""):
    """Every number of a document by its path, less times."""
    if isinstance(value, bool) or path.endswith(".timing_s"):
        return {}
    if isinstance(value, (int, float)):
        return {path: float(value)}
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return {k: v for key, inner in items for k, v in numbers(inner, f"{path}.{key}").items()}


def main():
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = pathlib.Path(name)
        page = folder / "boxroom.html"
        subprocess.run([PROGRAM, "page", "--out", page], check=True, stdout=subprocess.DEVNULL)
        native = json.loads(subprocess.run([PROGRAM, "plan", ROOM, "--json", "--out", folder / "out", "--quiet"], check=True,
                                           capture_output=True, text=True).stdout)
        (folder / "profile").mkdir()
        browser = Firefox(folder / "profile")
        print(browser.run("return navigator.userAgent"))
        begin = time.perf_counter()
        browser.call("WebDriver:Navigate", url=page.as_uri())
        browser.until("return document.querySelectorAll('#floor > svg, #box-curve > svg').length === 2 && !document.getElementById('plan').disabled")
        print(f"the box of the sample room after {time.perf_counter() - begin:.1f} s,", end=" ")
        browser.run("document.getElementById('plan').click()")
        browser.until("return document.getElementById('doing').textContent.startsWith('Done')")
        print(f"its plan after {time.perf_counter() - begin:.1f} s:",
              browser.run("return document.querySelector('#report h1').innerText"))
        begin = time.perf_counter()
        found = browser.wait("const [text, done] = arguments; "
                             "window.boxroom.plan(text).then(all => done(JSON.stringify(all))).catch(e => done('\"' + e.message + '\"'))",
                             ROOM.read_text())
        there, here = numbers(json.loads(found)), numbers(native)
        apart = {key: abs(there[key] - here[key]) for key in there if key in here}
        widest = max(apart, key=apart.get)
        print(f"window.boxroom.plan: {time.perf_counter() - begin:.1f} s, {len(apart)} numbers, {apart[widest]:.1e} apart "
              f"from the program's at most ({widest}), {len(set(there) ^ set(here))} in one alone")
        if len(sys.argv) > 3:
            pathlib.Path(sys.argv[3]).write_bytes(base64.b64decode(browser.call("WebDriver:TakeScreenshot", full=False)))
        browser.process.kill()


main()
