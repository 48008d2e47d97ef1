"""An answer that nobody gets is a failure, whatever was worked out."""
import os
import subprocess

import pytest

from runner import PROGRAM
from whole_folder import room_and_more
from window import needs_screen, on_screen


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["plan", "--help"], ["fit", "--help"], ["check", "my.toml"],
                                       ["check", "my.toml", "--json"], ["listen", "my.toml", "--json"]],
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


@pytest.fixture(scope="module")
def answers(tmp_path_factory):
    """A folder in which every command has something to say."""
    return room_and_more(tmp_path_factory.mktemp("answers"))


EVERY = ["check my.toml", "box my.toml", "modes my.toml", "listen my.toml", "map my.toml", "rank my.toml", "plan my.toml",
         "build my.toml", "driver ohms.csv", "sweep my.toml", "fit measured.toml", "compare my.toml a/listen.h5",
         "survey survey.toml --rooms 2", "walls",
         "explain", "explain subs", "new fresh.toml",
         "check my.toml --json", "listen my.toml --json", "walls --json"]


@pytest.mark.parametrize("arguments", EVERY)
def test_every_command_hears_of_a_full_standard_output(arguments, answers, tmp_path):
    words = arguments.split()
    if words[0] not in ("check", "walls", "explain", "new", "compare"):
        words += ["--out", tmp_path / "out", "--quiet"]
    with open("/dev/full", "wb") as full:
        done = subprocess.run([PROGRAM, *words], cwd=answers, stdin=subprocess.DEVNULL, stdout=full,
                              stderr=subprocess.PIPE, text=True)
    assert done.returncode == 1, done.stderr
    assert "the answer cannot be written to standard output" in done.stderr


@needs_screen
def test_view_hears_of_it_too(answers, tmp_path):
    with open("/dev/full", "wb") as full:
        done = subprocess.run([PROGRAM, "view", "my.toml", "--screenshot", tmp_path / "a.png", "--json"], cwd=answers,
                              stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE, text=True, env=on_screen())
    assert done.returncode == 1 and "standard output" in done.stderr
