"""Disks that are full, folders that are locked, calls that fail: a sentence, status 1 or 2, and nothing left."""
import os
import pathlib
import re
import resource
import shutil
import subprocess

import pytest

from runner import PROGRAM, run
from whole_folder import WRITES, check_manifest, check_swept, contents, hidden, room_and_more
from window import needs_screen, on_screen


def limited(size):
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@pytest.fixture(scope="module")
def more(tmp_path_factory):
    return room_and_more(tmp_path_factory.mktemp("more"))


def run_limited(size, *arguments, **settings):
    return subprocess.run([PROGRAM, *map(str, arguments)], preexec_fn=limited(size), stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, **settings)


@pytest.mark.parametrize("size", [0, 3000, 40000])
@pytest.mark.parametrize("command", WRITES)
def test_no_room_on_the_disk(command, size, more, tmp_path):
    """A limit on the size of files fails every write beyond it, as a full disk does (man 2 setrlimit)."""
    done = run_limited(size, *command.split(), "--out", tmp_path / "out", "--quiet", cwd=more)
    if done.returncode == 0 and size > 0:
        pytest.skip("all of its files are smaller")
    assert done.returncode == 1, done.stderr
    assert done.stderr.count("\n") == 1 and "cannot be written" in done.stderr
    assert list(contents(tmp_path)) == []  # the folder was made for nothing: it is gone


@pytest.mark.parametrize("words", [["new"], ["page", "--out"]], ids=" ".join)
def test_no_room_for_one_file(words, tmp_path):
    done = run_limited(100, *words, tmp_path / "a.toml")
    if "engine is not beside" in done.stderr:  # test_page asks for one in CI
        pytest.skip("built without em++: this program writes no page")
    assert done.returncode == 1 and "cannot be written" in done.stderr and list(contents(tmp_path)) == []


@needs_screen
def test_no_room_for_a_picture(more, tmp_path):
    done = run_limited(3000, "view", "my.toml", "--screenshot", tmp_path / "a.png", "--quiet", cwd=more, env=on_screen())
    assert done.returncode == 1 and "cannot be written" in done.stderr and list(contents(tmp_path)) == []


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


@pytest.fixture(scope="module")
def failing(tmp_path_factory):
    """A library that lets the n-th call of one function fail (failing_call.c), and counts those before."""
    library = tmp_path_factory.mktemp("failing") / "failing_call.so"
    source = pathlib.Path(__file__).with_name("failing_call.c")
    done = subprocess.run(["cc", "-shared", "-fPIC", "-O1", "-o", library, source, "-ldl"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return library


def run_failing(failing, function, number, *arguments):
    return run(*arguments, LD_PRELOAD=str(failing), FAILING_CALL=f"{function} {number}")


@pytest.mark.parametrize("function", ["write", "fsync", "rename", "mkdtemp", "open"])
def test_whatever_call_fails(function, failing, room, tmp_path):
    """Every call in turn, over old results: the old set or none that claims to be whole, and the next run mends."""
    folder = tmp_path / "out"
    assert run("listen", room, "--out", folder, "--quiet").returncode == 0
    before, failed = contents(folder), 0
    for number in range(1, 200):
        done = run_failing(failing, function, number, "listen", room, "--out", folder, "--quiet")
        if done.returncode == 0 and "FAILED" not in done.stderr:
            break
        said = done.stderr.replace("FAILED\n", "")
        failed += 1
        assert done.returncode in (0, 1, 2) and said.count("\n") == (done.returncode != 0), (number, done.stderr)
        if done.returncode == 0:  # what no result hangs on, such as the sync of a folder
            check_manifest(folder)
        elif (folder / "manifest.json").exists():
            assert contents(folder) == before or check_swept(folder)
        else:  # within the moving: the next run ends it
            assert hidden(folder)
        assert run("listen", room, "--out", folder, "--quiet").returncode == 0
        check_swept(folder)
        before = contents(folder)
    assert failed > 0 and number < 199


@pytest.mark.parametrize("place", ["/proc/boxroom", "/sys/boxroom", "/dev/null/boxroom"])
def test_folders_that_nobody_can_make(place, room):
    done = run("listen", room, "--out", place, "--quiet")
    assert done.returncode == 2 and place in done.stderr and done.stderr.count("\n") == 1
    assert re.search(" -- .*--out", done.stderr)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
@pytest.mark.parametrize("command", ["listen", "plan", "sweep"])
def test_a_locked_folder(command, room, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir(mode=0o500)
    done = run(command, room, "--out", folder, "--quiet")
    assert done.returncode == 2 and str(folder) in done.stderr and list(folder.iterdir()) == []


@pytest.mark.skipif(os.geteuid() != 0, reason="mounting needs root")
@pytest.mark.parametrize("command", ["listen", "plan", "new"])
def test_a_disk_that_is_read_only(command, room, tmp_path):
    folder = tmp_path / "disk"
    folder.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "ro,size=1m", "tmpfs", folder]).returncode:
        pytest.skip("no file system can be mounted here")
    try:
        done = run("new", folder / "a.toml") if command == "new" else run(command, room, "--out", folder, "--quiet")
        assert done.returncode == 2 and str(folder) in done.stderr and done.stderr.count("\n") == 1, done.stderr
        assert list(folder.iterdir()) == []
    finally:
        subprocess.run(["umount", folder], check=True)
