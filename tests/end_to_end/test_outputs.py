"""What a run may write over, and what a results folder holds."""
import os
import shutil

import pytest

from runner import run
from whole_folder import WRITES, check_manifest, contents, quick_room, room_and_more
from window import needs_screen, run_view


@pytest.fixture
def room(tmp_path):
    return quick_room(tmp_path)


@pytest.fixture(scope="module")
def more(tmp_path_factory):
    return room_and_more(tmp_path_factory.mktemp("more"))


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


@pytest.mark.parametrize("target", ["nowhere", "out"], ids=["dangling", "in a circle"])
def test_a_link_that_leads_nowhere_is_not_taken_away(target, room, tmp_path):
    """As a folder for results it is refused, and stays: the run made a folder of that name in nobody's view."""
    link = tmp_path / "out"
    link.symlink_to(target)
    for folder in (link, link / "below"):
        refused(run("listen", room, "--out", folder, "--quiet"), "cannot be made")
    assert os.readlink(link) == target


def test_a_name_that_no_file_can_have(room, tmp_path):
    """255 bytes are the most (man 2 open, ENAMETOOLONG on ext4 and tmpfs)."""
    name = "x" * 400 + ".toml"
    refused(run("new", name, cwd=tmp_path), name)
    refused(run("view", room, "--screenshot", name, cwd=tmp_path))
    refused(run("listen", room, "--out", name, cwd=tmp_path), name)
    refused(run("check", name, cwd=tmp_path), name)


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
def test_twice_into_one_folder(command, more, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine")
    for _ in range(2):
        done = run(*command.split(), "--out", folder, "--quiet", cwd=more)
        assert done.returncode == 0, done.stderr
        files = check_manifest(folder)
        assert WRITES[command] in files and len(set(files.values())) == 1
        assert set(contents(folder)) == set(files) | {"manifest.json", "notes.txt"}
    assert (folder / "notes.txt").read_text() == "mine"


@pytest.mark.parametrize("command", WRITES)
def test_what_stands_in_the_way(command, more, tmp_path):
    """A foreign file, a folder, a link and a pipe where a result is to stand; and a file where the folder is."""
    folder = tmp_path / "out"
    folder.mkdir()
    place = folder / WRITES[command]
    for put, word in ((lambda: place.write_text("mine"), "did not write"), (place.mkdir, "folder"),
                      (lambda: place.symlink_to(tmp_path / "none"), "link"), (lambda: os.mkfifo(place), "pipe")):
        put()
        inode = os.lstat(place).st_ino
        refused(run(*command.split(), "--out", folder, "--quiet", cwd=more), place.name, word)
        assert list(contents(folder)) == [place.name] and os.lstat(place).st_ino == inode
        place.rmdir() if place.is_dir() else place.unlink()
    before = contents(more)
    for file in (*before, "/dev/null", "/dev/full"):
        if before.get(file, b"") is not None:
            refused(run(*command.split(), "--out", file, "--quiet", cwd=more), file, "stands in the way")
    assert contents(more) == before


@pytest.mark.parametrize("command", WRITES)
def test_no_input_is_written_over(command, more, tmp_path):
    """Each input, put where a result of the command is to stand, as results of the same name that it once wrote."""
    words = command.split()
    folder = tmp_path / "out"
    shutil.copytree(more, folder)
    assert run(*words, "--out", folder, "--quiet", cwd=folder).returncode == 0
    place = folder / WRITES[command]
    before = place.read_bytes()
    place.unlink()
    os.link(folder / words[1], place)  # the input under the result's name
    refused(run(*words, "--out", folder, "--quiet", cwd=folder), "reads that very file")
    assert os.path.samefile(place, folder / words[1]) and place.read_bytes() != before


def test_the_page_takes_no_place_of_anothers(tmp_path):
    """`page` reads nothing and writes one file: its own again, and nothing else."""
    page = tmp_path / "page.html"
    done = run("page", "--out", page)
    if "engine is not beside" in done.stderr:  # test_page asks for one in CI
        pytest.skip("built without em++: this program writes no page")
    assert done.returncode == run("page", "--out", page).returncode == 0
    other, pipe = tmp_path / "other.html", tmp_path / "pipe.html"
    other.write_text("<p>mine</p>")
    os.mkfifo(pipe)
    for place in (other, pipe, tmp_path, "/dev/null", "/dev/full"):
        refused(run("page", "--out", place))
    assert other.read_text() == "<p>mine</p>"
    assert sorted(contents(tmp_path)) == ["other.html", "page.html", "pipe.html"]


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
    commands = ("plan", "build", "listen", "rank", "map", "box")
    for command in commands:
        options = ["--volume", "60 L"] if command == "build" else []
        assert run(command, room, "--out", folder, "--quiet", *options).returncode == 0
    files = check_manifest(folder)
    assert set(contents(folder)) == set(files) | {"manifest.json"}
    assert {file for command, file in WRITES.items() if command.split()[0] in commands and "my.toml" in command} <= set(files)
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


@pytest.mark.parametrize("command", ["new", "box", "modes", "build"])
def test_solver_is_refused_where_it_means_nothing(command, room):
    path = "fresh.toml" if command == "new" else "my.toml"
    done = run(command, path, "--solver", "grid", cwd=room.parent)
    refused(done, "--solver", command, "leave")
    assert "--solver" not in run(command, "--help").stdout
