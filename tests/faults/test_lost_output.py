"""An answer that nobody gets is a failure, whatever was worked out."""
import os
import re
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
         "survey survey.toml --rooms 2", "survey survey.toml --room 1", "page", "walls",
         "explain", "explain subs", "new", "--help", "--version", "--manual-page", "--bash-completion",
         "check my.toml --json", "listen my.toml --json", "plan my.toml --json", "survey survey.toml --rooms 2 --json",
         "walls --json"]
FOLDERLESS = ("check", "walls", "explain", "new", "compare", "page")


def commands():
    """As --help lists them."""
    listed = subprocess.run([PROGRAM, "--help"], capture_output=True, text=True, check=True).stdout
    return re.findall(r"(?m)^  ([a-z]+) {2,}\S", listed.split("Subcommands:")[1])


def test_every_command_is_among_them():
    assert len(commands()) > 15 and set(commands()) == {words.split()[0] for words in EVERY if words[0] != "-"} | {"view"}


@pytest.mark.parametrize("closed", [False, True], ids=["full", "closed"])
@pytest.mark.parametrize("arguments", EVERY)
def test_every_command_hears_of_a_lost_answer(arguments, closed, answers, tmp_path):
    words = arguments.split()
    if words[0] in ("new", "page"):
        words += [tmp_path / "fresh.toml"] if words[0] == "new" else ["--out", tmp_path / "page.html"]
    elif words[0] not in FOLDERLESS and words[0][0] != "-":
        words += ["--out", tmp_path / "out", "--quiet"]
    done = subprocess.run(["bash", "-c", f'"$0" "$@" {">&-" if closed else ">/dev/full"}', PROGRAM, *words], cwd=answers,
                          stdin=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    if "engine is not beside" in done.stderr:  # test_page asks for one in CI
        pytest.skip("built without em++: this program writes no page")
    assert done.returncode == 1, done.stderr
    assert "the answer cannot be written to standard output" in done.stderr
    for path in tmp_path.rglob("*"):  # no file got the answer that the closed stream was to have
        assert not path.is_file() or b'"timing_s"' not in path.read_bytes(), path


@pytest.mark.parametrize("command", commands())
def test_the_help_of_every_command(command):
    with open("/dev/full", "wb") as full:
        done = subprocess.run([PROGRAM, command, "--help"], stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == 1 and b"standard output" in done.stderr


@needs_screen
def test_view_hears_of_it_too(answers, tmp_path):
    with open("/dev/full", "wb") as full:
        done = subprocess.run([PROGRAM, "view", "my.toml", "--screenshot", tmp_path / "a.png", "--json"], cwd=answers,
                              stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE, text=True, env=on_screen())
    assert done.returncode == 1 and "standard output" in done.stderr
