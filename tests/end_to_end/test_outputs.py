"""What a run may write over, what a results folder holds, and what becomes of lost output."""
import hashlib
import json
import os
import resource
import shutil
import signal
import subprocess

import pytest

from runner import DEMO, PROGRAM, run
from window import needs_screen, run_view

WRITES = {  # a quick run of each command that writes into a folder, and a file that it is known for
    "listen": "listen.h5", "map": "spread_by_spot.vti", "rank": "rank.csv", "plan": "report.html",
    "box": "box_time.csv", "build": "cut_list.csv"}
QUICK = 'step = "0.40 m"'


@pytest.fixture
def room(tmp_path):
    path = tmp_path / "my.toml"
    path.write_text(DEMO.read_text().replace('step = "0.10 m"', QUICK))
    assert QUICK in path.read_text()
    return path


def contents(folder):
    return {p.name: p.read_bytes() if p.is_file() else None for p in folder.iterdir()}


def check_manifest(folder):
    """The manifest of a whole folder: {file: run}. Every hash is worked out here."""
    manifest = json.loads((folder / "manifest.json").read_text())
    assert isinstance(manifest["run"], str) and manifest["run"]
    for entry in manifest["files"]:
        assert hashlib.sha256((folder / entry["name"]).read_bytes()).hexdigest() == entry["sha256"], entry
    return {entry["name"]: entry["run"] for entry in manifest["files"]}


def refused(done, *words):
    assert done.returncode == 2, done.stderr
    assert all(word in done.stderr for word in words), done.stderr
    assert done.stdout == ""


def hard_link(path):
    link = path.with_name("hard.png")
    os.link(path, link)
    return link


def soft_link(path):
    link = path.with_name("soft.png")
    link.symlink_to(path.name)
    return link


@pytest.mark.parametrize("option", ["--screenshot", "--record"])
@pytest.mark.parametrize("name", [lambda p: p, lambda p: p.parent / "." / p.name, lambda p: p.name, hard_link,
                                  soft_link], ids=["itself", "dotted", "relative", "hard link", "link"])
def test_the_room_file_is_never_written_over(option, name, room):
    before = room.read_bytes()
    refused(run("view", room, option, name(room), cwd=room.parent), "reads that very file")
    assert room.read_bytes() == before


@pytest.mark.parametrize("option", ["--screenshot", "--record"])
def test_neither_is_what_is_no_file_or_anothers(option, room, tmp_path):
    other = tmp_path / "holiday.png"
    other.write_bytes(b"\x89PNG\r\n\x1a\n and a picture of the sea")
    for path in (other, tmp_path, "/dev/null", tmp_path / "sub" / ".."):
        refused(run("view", room, option, path))
    assert other.read_bytes().endswith(b"of the sea")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["holiday.png", "my.toml"]


@needs_screen
def test_a_picture_is_taken_again_and_a_recording_is_kept(room, tmp_path):
    picture = tmp_path / "a.png"
    for _ in range(2):
        done = run_view(room, "--screenshot", picture, "--quiet", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
    replay = tmp_path / "events.log"
    replay.write_text("# StreamVersion 1.1\n# written by boxroom\nKeyPressEvent 10 10 0 0 0 p\n")
    before = replay.read_bytes()
    refused(run_view(room, "--replay", replay, "--screenshot", replay, cwd=tmp_path), "reads that very file")
    assert replay.read_bytes() == before
    done = run_view(room, "--replay", replay, "--quiet", cwd=tmp_path)  # the mark is a comment to the player
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("command", WRITES)
def test_twice_into_one_folder(command, room, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine")
    for _ in range(2):
        done = run(command, room, "--out", folder, "--quiet")
        assert done.returncode == 0, done.stderr
        files = check_manifest(folder)
        assert WRITES[command] in files and len(set(files.values())) == 1
        assert set(contents(folder)) == set(files) | {"manifest.json", "notes.txt"}
    assert (folder / "notes.txt").read_text() == "mine"


@pytest.mark.parametrize("command", WRITES)
def test_a_foreign_file_in_the_way(command, room, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / WRITES[command]).write_text("mine")
    refused(run(command, room, "--out", folder, "--quiet"), WRITES[command], "did not write")
    assert contents(folder) == {WRITES[command]: b"mine"}


def test_the_users_own_drawing_stays(room, tmp_path):
    """`plan` once took away every cutting_plan_N.svg that came after its own."""
    assert run("plan", room, "--out", tmp_path / "first", "--quiet").returncode == 0
    sheets = len(list((tmp_path / "first").glob("cutting_plan_*.svg")))
    folder = tmp_path / "out"
    folder.mkdir()
    mine = [folder / f"cutting_plan_{sheets + n}.{ending}" for n in (1, 2) for ending in ("svg", "png")]
    for path in mine:
        path.write_text(path.name)
    for command in ("plan", "build"):
        done = run(command, room, "--out", folder, "--quiet")
        assert done.returncode == 0, done.stderr
    assert [path.read_text() for path in mine] == [path.name for path in mine]


def test_commands_side_by_side(room, tmp_path):
    folder = tmp_path / "out"
    for command in ("plan", "build", "listen", "rank", "map", "box"):
        options = ["--volume", "60 L"] if command == "build" else []
        assert run(command, room, "--out", folder, "--quiet", *options).returncode == 0
    files = check_manifest(folder)
    assert set(contents(folder)) == set(files) | {"manifest.json"}
    assert set(WRITES.values()) <= set(files)
    assert files["box.svg"] == files["cut_list.csv"] == files["box.png"] != files["report.html"]
    # The plan's own box again: nothing of the larger one stays beside it, and the rest does.
    assert run("plan", room, "--out", folder, "--quiet").returncode == 0
    files = check_manifest(folder)
    assert files["box.svg"] == files["cut_list.csv"] == files["report.html"]
    assert not (folder / "box.png").exists()
    assert {"listen.h5", "rank.h5", "box_time.csv"} <= set(files)


def test_results_that_are_not_the_listed_ones_are_not_read(room, tmp_path):
    for name, volume in (("a", "25 L"), ("b", "40 L")):
        room.write_text(room.read_text().replace('volume = "25 L"', f'volume = "{volume}"'))
        assert run("listen", room, "--out", tmp_path / name, "--quiet").returncode == 0
    assert run("check", tmp_path / "a" / "listen.h5").returncode == 0
    shutil.copy(tmp_path / "b" / "listen.h5", tmp_path / "a" / "listen.h5")  # sealed, but another run's
    refused(run("check", tmp_path / "a" / "listen.h5"), "manifest.json")
    # An input is not written over either, and what is no longer ours is made anew from the room file.
    refused(run("listen", tmp_path / "b" / "listen.h5", "--out", tmp_path / "b"), "reads that very file")
    assert run("listen", room, "--out", tmp_path / "a", "--quiet").returncode == 0
    check_manifest(tmp_path / "a")


def hidden(folder):
    """The files that a run has written beside their places."""
    try:
        return [name for sub in folder.glob(".boxroom-unfinished-*") for name in os.listdir(sub)]
    except FileNotFoundError:  # it was just taken away
        return []


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
    files = check_manifest(folder)
    assert set(contents(folder)) == set(files) | {"manifest.json"}
    assert {"report.html", "rank.h5"} <= set(files)


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
            assert not folder.exists() or set(contents(folder)) == set(check_manifest(folder)) | {"manifest.json"}
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


def limited(size):
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@pytest.mark.parametrize("size", [0, 3000, 40000])
@pytest.mark.parametrize("command", ["listen", "rank", "plan", "build"])
def test_no_room_on_the_disk(command, size, room, tmp_path):
    """A limit on the size of files fails every write beyond it, as a full disk does (man 2 setrlimit)."""
    folder = tmp_path / "out"
    done = subprocess.run([PROGRAM, command, room, "--out", folder, "--quiet"], preexec_fn=limited(size),
                          stdin=subprocess.DEVNULL, capture_output=True, text=True)
    if done.returncode == 0 and size == 40000:
        pytest.skip("all of its files are smaller")
    assert done.returncode == 1, done.stderr
    assert done.stderr.count("\n") == 1 and "cannot be written" in done.stderr
    assert [p.name for p in tmp_path.iterdir()] == ["my.toml"]  # the folder was made for nothing: it is gone


@pytest.mark.skipif(os.geteuid() != 0, reason="mounting needs root")
def test_a_full_disk_keeps_the_old_results(room, tmp_path):
    folder = tmp_path / "disk"
    folder.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", folder]).returncode:
        pytest.skip("no file system can be mounted here")
    try:
        assert run("listen", room, "--out", folder, "--quiet").returncode == 0
        before = contents(folder)
        free = shutil.disk_usage(folder).free
        (folder / "ballast").write_bytes(bytes(free - 40000))
        for command in ("listen", "plan"):
            done = run(command, room, "--out", folder, "--quiet")
            assert done.returncode == 1 and "cannot be written" in done.stderr, done.stderr
            now = contents(folder)
            assert now.pop("ballast") and now == before
        check_manifest(folder)
    finally:
        subprocess.run(["umount", folder], check=True)


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["plan", "--help"], ["check", "my.toml"],
                                       ["check", "my.toml", "--json"], ["plan", "my.toml", "--json"]],
                         ids=" ".join)
def test_lost_output_is_a_failure(arguments, room):
    def shell(words):
        return subprocess.run(["bash", "-c", f'"$0" "$@" {words}', PROGRAM, *arguments], cwd=room.parent,
                              stdin=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)

    assert shell(">/dev/full").returncode == 1
    closed = shell(">&-")
    assert closed.returncode == 1 and "standard output" in closed.stderr
    assert shell(">/dev/null").returncode == 0
    # No file got the answer that the closed stream was to have.
    for path in room.parent.glob("my-results/*"):
        assert b'"timing_s"' not in path.read_bytes()
    read, write = os.pipe()
    os.close(read)  # a reader that has gone
    with os.fdopen(write, "wb") as pipe:
        done = subprocess.run([PROGRAM, *arguments], cwd=room.parent, stdin=subprocess.DEVNULL, stdout=pipe,
                              stderr=subprocess.PIPE)
    assert done.returncode == 1


@pytest.mark.parametrize("command", ["new", "box", "modes", "build"])
def test_solver_is_refused_where_it_means_nothing(command, room):
    path = "fresh.toml" if command == "new" else "my.toml"
    done = run(command, path, "--solver", "grid", cwd=room.parent)
    refused(done, "--solver", command, "leave")
    assert "--solver" not in run(command, "--help").stdout
