"""Options with values that nobody meant: worked out or refused in a sentence, and nothing alive in it."""
import os
import re
import subprocess

import pytest

from runner import DEMO, HANG, PROGRAM, SOURCE, run

VALUES = ["", "-1", "0", "1e999", "nan", "9" * 400, "%s%n", "\x1b[2J\u202e\u009b\n", "--", "..", "/dev/zero", "-1 L", "1e30 L",
          "inf Hz", "1,5", "99999999x99999999", "0x0", "\udcff"]
ALIVE = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")
COMMANDS = {"check": [DEMO], "box": [], "build": [DEMO], "driver": ["none.csv"], "compare": [DEMO, DEMO], "explain": [],
            "view": [DEMO], "new": ["a.toml"], "map": [DEMO], "fit": [DEMO], "page": [],
            "modes": [DEMO], "sweep": [DEMO], "survey": ["few.toml"]}
EVERY = 3  # of the values, each option gets one in so many; over all options they all have their turn


def options_of(command):
    return re.findall(r"(--[a-z0-9-]+) (?:TEXT|INT|FLOAT)", run(command, "--help").stdout)


@pytest.mark.parametrize("command", COMMANDS)
def test_any_value_of_any_option(command, tmp_path):
    few = (SOURCE / "rooms" / "survey.toml").read_text().replace("rooms = 20000", "rooms = 2")
    assert "rooms = 2\n" in few
    (tmp_path / "few.toml").write_text(few)
    driver = ["--fs", "27 Hz", "--qts", "0.45", "--vas", "38 L"] if command == "box" else []
    environment = {k: v for k, v in os.environ.items() if k != "DISPLAY"}
    for number, option in enumerate(options_of(command)):
        for value in VALUES[number % EVERY::EVERY]:
            given = [word for pair in zip(driver[::2], driver[1::2]) if pair[0] != option for word in pair]
            done = subprocess.run([PROGRAM, command, *map(str, COMMANDS[command]), *given, f"{option}={value}",
                                   *([] if command == "page" else ["--quiet"])],
                                  cwd=tmp_path, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=HANG,
                                  errors="surrogateescape", env=environment)
            assert done.returncode in (0, 2), (option, value[:40], done.returncode, done.stderr[-300:])
            assert not ALIVE.search(done.stdout + done.stderr), (option, value[:40])
            assert option == "--out" or not re.search(r"\b(nan|inf)\b", done.stdout), (option, value[:40], done.stdout[:300])
            assert (done.returncode == 2) == bool(done.stderr), (option, value[:40], done.stderr[-300:])


@pytest.mark.parametrize("frequency", ["-1", "0", "0.9 Hz", "1e9"])
def test_a_map_of_no_frequency(frequency, tmp_path):
    done = run("map", DEMO, "--out", tmp_path / "out", f"--frequency={frequency}")
    assert done.returncode == 2 and "between 1 Hz and 1000 Hz" in done.stderr
    assert not (tmp_path / "out").exists()
