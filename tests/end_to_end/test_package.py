"""The Debian package: what it installs runs by itself, and describes itself in the words of --help."""
import os
import pathlib
import re
import subprocess

import pytest

from runner import DEMO, PROGRAM, run

BUILD = pathlib.Path(PROGRAM).resolve().parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """The package, installed by dpkg into a folder of its own."""
    folder = tmp_path_factory.mktemp("package")
    done = subprocess.run(["cpack", "--config", BUILD / "CPackConfig.cmake", "-B", folder,
                           "-D", f"CPACK_OUTPUT_FILE_PREFIX={folder}"], cwd=folder, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    package, = folder.glob("boxroom_*.deb")
    fields = subprocess.run(["dpkg-deb", "--field", package, "Depends"], check=True, capture_output=True, text=True)
    assert "libhdf5" in fields.stdout and "libvtk9" in fields.stdout
    root, records = folder / "root", folder / "root" / "dpkg"
    for path in (root, records, records / "info", records / "updates"):
        path.mkdir()
    (records / "status").touch()
    dpkg = ["dpkg", f"--instdir={root}", f"--admindir={records}", "--force-not-root", "--force-script-chrootless"]
    # What it depends on is here, though not in that folder.
    done = subprocess.run([*dpkg, "--force-depends", "--install", package], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    yield root / "usr"
    subprocess.run([*dpkg, "--purge", "boxroom"], check=True, capture_output=True)
    assert not [path for path in root.rglob("*") if path.is_file() and records not in path.parents]


def test_it_runs_where_it_was_installed(installed, tmp_path):
    program, rooms = installed / "bin" / "boxroom", installed / "share" / "boxroom" / "rooms"
    assert sorted(p.name for p in rooms.iterdir()) == sorted(p.name for p in DEMO.parent.glob("*.toml"))
    environment = {"PATH": "/nowhere", "HOME": str(tmp_path)}
    done = subprocess.run([program, "plan", rooms / "demo.toml", "--quiet"], cwd=tmp_path, env=environment,
                          capture_output=True, text=True)
    assert done.returncode == 0 and (tmp_path / "demo-results" / "report.html").is_file(), done.stderr
    assert (tmp_path / "demo-results" / "spread_by_spot.png").is_file()  # by what draws, in a folder of its own


def test_manual_and_completion_know_every_command_and_option(installed):
    manual = (installed / "share" / "man" / "man1" / "boxroom.1").read_text()
    completion = installed / "share" / "bash-completion" / "completions" / "boxroom"
    listed = run("--help").stdout.split("Subcommands:")[1]
    commands = re.findall(r"^  (\w+)  ", listed, re.M)
    assert len(commands) >= 12

    def offered(*words):
        script = (f"source {completion}; COMP_WORDS=({' '.join(words)}); COMP_CWORD={len(words) - 1}; "
                  "_boxroom; printf '%s\\n' \"${COMPREPLY[@]}\"")
        return subprocess.run(["bash", "-c", script], check=True, capture_output=True, text=True).stdout.split()

    assert set(commands) <= set(offered("boxroom", "''"))
    for command in commands:
        assert f".SS boxroom {command}" in manual
        options = set(re.findall(r"(--[a-z0-9-]+)", run(command, "--help").stdout)) - {"--help"}
        assert set(offered("boxroom", command, "--")) >= options
        for option in options:
            assert option.replace("-", "\\-") in manual
