"""Runs that are killed, stopped by signals, or meet in one folder."""
import random
import signal
import subprocess
import time

import pytest

from runner import HANG, PROGRAM, run
from whole_folder import check_manifest, check_swept, contents, hidden

MOMENTS = {f"{n} written": lambda folder, n=n: len(hidden(folder)) >= n for n in range(1, 13, 2)} | {
    "at once": lambda folder: True,
    "moving": lambda folder: "whole_set.json" in hidden(folder),
    "moved": lambda folder: not (folder / "manifest.json").exists(),
    "half moved": lambda folder: not (folder / "manifest.json").exists() and len(hidden(folder)) < 6}


def test_killed_at_any_moment(room, tmp_path):
    """Whenever it is killed: a folder with a manifest is whole, and the next run sweeps. A moment that is missed
    (the machine is busy) is another moment, of which the same is asked."""
    folder = tmp_path / "out"
    assert run("plan", room, "--out", folder, "--quiet").returncode == 0
    for moment in MOMENTS.values():
        running = subprocess.Popen([PROGRAM, "plan", room, "--out", folder, "--quiet"],
                                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        while running.poll() is None and not moment(folder):
            pass
        running.send_signal(signal.SIGKILL)
        running.wait()
        if (folder / "manifest.json").exists():
            check_manifest(folder)
    assert run("rank", room, "--out", folder, "--quiet").returncode == 0
    assert {"report.html", "rank.h5"} <= set(check_swept(folder))


def start(*arguments):
    return subprocess.Popen([PROGRAM, *map(str, arguments)], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                            stderr=subprocess.DEVNULL)


def test_killed_at_random_moments(room, tmp_path, request):
    """--kills runs of unlike commands in one folder, at moments that nobody chose: what has a manifest is whole, a
    file of any set has the run of its set, and no fragment outlives the next run."""
    folder, took = tmp_path / "out", {}
    seed = time.time_ns()
    draw = random.Random(seed)
    for command in ("plan", "rank", "listen", "build", "sweep"):
        began = time.monotonic()
        assert run(command, room, "--out", folder, "--quiet").returncode == 0
        took[command] = time.monotonic() - began
    for _ in range(request.config.getoption("kills")):
        command = draw.choice(list(took))
        running = start(command, room, "--out", folder, "--quiet")
        time.sleep(draw.uniform(0, took[command]))
        running.kill()
        running.wait()
        if (folder / "manifest.json").exists():
            files = check_manifest(folder)
            assert files["report.html"] == files["plan.h5"] and files["rank.h5"] == files["rank.csv"], seed
            assert files["box.svg"] == files["cut_list.csv"], seed
    for command in took:
        assert run(command, room, "--out", folder, "--quiet").returncode == 0
    assert {"report.html", "rank.h5", "listen.h5", "sweep.wav"} <= set(check_swept(folder))


def test_killed_while_it_writes_one_file(tmp_path, request):
    """`new` writes beside its place: the file is whole or not there, and what was left is swept."""
    assert run("new", tmp_path / "whole.toml").returncode == 0
    whole = (tmp_path / "whole.toml").read_bytes()
    for number in range(request.config.getoption("kills")):
        path = tmp_path / f"{number}.toml"
        running = start("new", path)
        time.sleep(random.uniform(0, 0.03))
        running.kill()
        running.wait()
        assert not path.exists() or path.read_bytes() == whole
    assert run("new", tmp_path / "last.toml").returncode == 0
    assert all(name.endswith(".toml") for name in contents(tmp_path))


@pytest.mark.parametrize("commands", [("plan", "plan"), ("plan", "build", "rank", "listen"), ("listen",) * 4],
                         ids=" ".join)
def test_runs_at_once_in_one_folder(commands, room, tmp_path):
    """All of them succeed, and the folder is one that they could have left one after the other."""
    folder = tmp_path / "out"
    running = [subprocess.Popen([PROGRAM, command, room, "--out", folder, "--quiet"], stdin=subprocess.DEVNULL,
                                stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True) for command in commands]
    for process in running:
        assert process.communicate(timeout=HANG)[1] == "" and process.returncode == 0
    files = check_swept(folder)
    known = {"plan": "report.html", "build": "cut_list.csv", "rank": "rank.h5", "listen": "listen.h5"}
    assert {known[command] for command in commands} <= set(files)


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP], ids=lambda end: end.name)
def test_stopped_by_a_signal_it_takes_away_what_it_began(end, room, tmp_path):
    """At moments that differ from run to run: the folder is as it was or whole, nothing lies about, a sentence
    says so, and the program dies of the signal (so that a shell's loop ends too)."""
    for moment in ("at once", "1 written", "3 written", "moving"):
        folder = tmp_path / f"{moment} {end.name}"
        running = subprocess.Popen([PROGRAM, "rank", room, "--out", folder, "--quiet"], stdin=subprocess.DEVNULL,
                                   stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
        while running.poll() is None and not MOMENTS[moment](folder):
            pass
        running.send_signal(end)
        said = running.communicate()[1]
        if running.returncode == -end and said:
            assert said == f"boxroom was stopped by {end.name}: what it had begun to write is taken away\n"
            assert not folder.exists() or check_swept(folder)
        else:  # before it could listen, or when all was done
            assert running.returncode == 0 or (moment == "at once" and running.returncode == -end)


def test_an_ignored_signal_stays_ignored(room, tmp_path):
    """As under nohup."""
    running = subprocess.Popen([PROGRAM, "rank", room, "--out", tmp_path / "out", "--quiet"], stdin=subprocess.DEVNULL,
                               stdout=subprocess.DEVNULL, preexec_fn=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
    while running.poll() is None and not hidden(tmp_path / "out"):
        pass
    running.send_signal(signal.SIGHUP)
    assert running.wait() == 0 and check_manifest(tmp_path / "out")
