"""Solved rooms in the user's cache: whatever has become of them, the answer is that of a room solved anew."""
import hashlib
import json
import os
import pathlib
import pty
import re
import resource
import signal
import subprocess
import time

import pytest

from runner import HANG, PROGRAM

HEAD = len("boxroom solved room\n") + 64  # the mark and the sum over what follows (src/files/kept_rooms.cpp)


def heard(room, cache, *options, **limits):
    done = subprocess.run([PROGRAM, "listen", room, "--json", "--quiet", "--out", room.parent / "out", *options],
                          env=os.environ | {"XDG_CACHE_HOME": str(cache)}, stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, timeout=HANG, **limits)
    assert done.returncode == 0 and done.stderr == "", done.stderr
    return [seat["level_db"] for seat in json.loads(done.stdout)["seats"]]


def files(cache):
    return sorted(path for path in (cache / "boxroom").iterdir())


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A small L: solved by elements in a moment."""
    path = tmp_path_factory.mktemp("room") / "l.toml"
    path.write_text("""
[room]
floor_plan = [[0, 0], [2.4, 0], [2.4, 1.5], [1.5, 1.5], [1.5, 2.4], [0, 2.4]]
height = 2.0
[walls]
edges = { resistance = 9000 }
floor = { resistance = 30000 }
ceiling = { resistance = 11000 }
[driver]
fs = "27 Hz"
qts = 0.45
vas = "38 L"
[box]
volume = "25 L"
[[seat]]
name = "chair"
at = [0.8, 1.9, 1.0]
[[sub]]
name = "corner"
at = [0.35, 0.4, 0.22]
[analysis]
frequencies = [20, 30, 40, 50, 60, 70, 80, 90, 100]
""")
    return path


@pytest.fixture(scope="module")
def known(room, tmp_path_factory):
    """What is heard, and the file that is kept of it."""
    cache = tmp_path_factory.mktemp("cache")
    levels = heard(room, cache)
    assert heard(room, cache) == levels  # as kept
    file, = files(cache)
    return levels, file


def test_a_room_that_is_solved_says_how_long_it_takes(room, tmp_path):
    """What takes minutes in a large room: on a terminal, the time that is left."""
    screen, theirs = pty.openpty()
    done = subprocess.run([PROGRAM, "listen", room, "--fresh", "--out", tmp_path / "out"], stdin=subprocess.DEVNULL,
                          stdout=subprocess.DEVNULL, stderr=theirs, timeout=HANG)
    os.close(theirs)
    said = b""
    try:
        while piece := os.read(screen, 65536):
            said += piece
    except OSError:  # all is read (man 4 pts)
        pass
    os.close(screen)
    assert done.returncode == 0 and re.search(rb"by elements, \d+ s left", said), said


def test_as_many_threads_as_one_likes(room, known, tmp_path):
    assert all(heard(room, tmp_path, "--fresh", "--threads", n) == known[0] for n in ("1", "2", "5"))


def damaged(bytes_):
    """Pieces of the file's name, and what might stand there instead."""
    middle = len(bytes_) // 2

    def sealed(rest):
        return bytes_[:HEAD - 64] + hashlib.sha256(rest).hexdigest().encode() + rest

    rest = bytes_[HEAD:]
    assert sealed(rest) == bytes_
    return {"nothing": b"", "no mark": bytes_[1:], "half": bytes_[:middle], "the head alone": bytes_[:HEAD],
            "a byte changed": bytes_[:middle] + bytes([bytes_[middle] ^ 1]) + bytes_[middle + 1:],
            "longer": bytes_ + b"\0", "noise": os.urandom(len(bytes_)),
            # The sum is right, and the rest is not what this program writes.
            "cut short and summed": sealed(rest[:-8]), "half and summed": sealed(rest[:len(rest) // 2]),
            "longer and summed": sealed(rest + bytes(8)), "of another key": sealed(b"x" + rest[1:])}


def test_damaged_in_any_way(room, known, tmp_path):
    levels, file = known
    whole = file.read_bytes()
    for name, bytes_ in damaged(whole).items():
        place = tmp_path / "boxroom" / file.name
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(bytes_)
        assert heard(room, tmp_path) == levels, name
        assert place.read_bytes() == whole, name  # written anew


@pytest.mark.parametrize("thing", ["folder", "pipe", "link to nowhere", "link to a device"])
def test_no_file_in_its_place(thing, room, known, tmp_path):
    levels, file = known
    place = tmp_path / "boxroom" / file.name
    place.parent.mkdir()
    {"folder": lambda: (place / "full").mkdir(parents=True), "pipe": lambda: os.mkfifo(place),
     "link to nowhere": lambda: place.symlink_to("nowhere"), "link to a device": lambda: place.symlink_to("/dev/zero")}[thing]()
    assert heard(room, tmp_path) == levels


def test_another_version_beside_it(room, known, tmp_path):
    """Its key is another, and so is its name: it is neither read nor in the way."""
    levels, file = known
    (tmp_path / "boxroom").mkdir()
    other = tmp_path / "boxroom" / (hashlib.sha256(b"another version").hexdigest() + ".room")
    other.write_bytes(file.read_bytes())
    assert heard(room, tmp_path) == levels and len(files(tmp_path)) == 2
    assert heard(room, tmp_path, "--fresh") == levels


def test_at_once(room, known, tmp_path):
    """Into an empty cache: all hear the same, and one whole file is left."""
    running = [subprocess.Popen([PROGRAM, "listen", room, "--json", "--quiet", "--out", tmp_path / str(n)], stdin=subprocess.DEVNULL,
                                env=os.environ | {"XDG_CACHE_HOME": str(tmp_path)}, stdout=subprocess.PIPE, text=True)
               for n in range(3)]
    for process in running:
        said = process.communicate(timeout=HANG)[0]
        assert process.returncode == 0 and [seat["level_db"] for seat in json.loads(said)["seats"]] == known[0]
    assert [path.read_bytes() for path in files(tmp_path)] == [known[1].read_bytes()]


@pytest.mark.parametrize("place", ["/proc/none", "/dev/null", "relative", ""])
def test_nowhere_to_keep_it(place, room, known):
    assert heard(room, pathlib.Path(place), "--fresh" if place else "--quiet") == known[0]
    assert not pathlib.Path("relative").exists()


def test_a_limit_on_the_size_of_files(room, known, tmp_path):
    size = known[1].stat().st_size - 1

    def limited():
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

    assert heard(room, tmp_path, preexec_fn=limited) == known[0] and files(tmp_path) == []


@pytest.mark.skipif(os.geteuid() != 0, reason="mounting needs root")
@pytest.mark.parametrize("options", ["size=64k", "size=64k,ro"])
def test_a_disk_that_is_full_or_locked(options, room, known, tmp_path):
    if subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", tmp_path]).returncode:
        pytest.skip("no file system can be mounted here")
    try:
        assert heard(room, tmp_path) == known[0]
        assert "ro" in options or files(tmp_path) == []
    finally:
        subprocess.run(["umount", tmp_path], check=True)


@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGTERM], ids=lambda end: end.name)
def test_ended_while_it_is_written(end, room, known, tmp_path, request):
    """What is kept is whole or not there; who was asked to end leaves no fragment."""
    for number in range(request.config.getoption("kills") // 5):
        running = subprocess.Popen([PROGRAM, "listen", room, "--quiet", "--out", tmp_path / "out"], stdin=subprocess.DEVNULL,
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                                   env=os.environ | {"XDG_CACHE_HOME": str(tmp_path)})
        while running.poll() is None and not (tmp_path / "boxroom").exists():
            time.sleep(0.001)
        time.sleep(0.001 * (number % 4))
        running.send_signal(end)
        running.wait()
        for path in files(tmp_path) if (tmp_path / "boxroom").exists() else []:
            assert end == signal.SIGKILL or path.suffix == ".room"
            assert path.suffix != ".room" or path.read_bytes() == known[1].read_bytes()
            path.unlink()
        if (tmp_path / "boxroom").exists():
            (tmp_path / "boxroom").rmdir()
    assert heard(room, tmp_path) == known[0]


def test_run_without_a_home(room, known):
    done = subprocess.run([PROGRAM, "listen", room, "--json", "--quiet"], env={"PATH": "/nowhere"}, stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, timeout=HANG, cwd=room.parent)
    assert done.returncode == 0 and [seat["level_db"] for seat in json.loads(done.stdout)["seats"]] == known[0]
