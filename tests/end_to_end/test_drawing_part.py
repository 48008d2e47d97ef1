"""What draws is a library that is loaded when something is to be drawn: no other command waits for it, and it
is found wherever the two were moved to."""
import pathlib
import shutil
import subprocess

import pytest

from runner import DEMO, PROGRAM

LIBRARY = pathlib.Path(PROGRAM).resolve().parent / "libboxroom_drawing.so"


def called(program, *words, folder, **environment):
    return subprocess.run([program, *words], cwd=folder, capture_output=True, text=True,
                          env={"PATH": "/nowhere", "HOME": str(folder), **environment})


def test_the_program_itself_is_linked_to_nothing_that_draws(tmp_path):
    loaded = called(PROGRAM, folder=tmp_path, LD_TRACE_LOADED_OBJECTS="1").stdout  # what ldd asks for
    assert "libhdf5" in loaded
    for drawing in ("libvtk", "libX11", "libGL", "freetype"):
        assert drawing not in loaded
    assert b"libvtk" in LIBRARY.read_bytes()


def test_what_draws_nothing_loads_nothing_to_draw_with(tmp_path):
    """And so does not end under the thread that loads it; of sets of subs there are no maps."""
    room = tmp_path / "room.toml"
    room.write_text(DEMO.read_text().replace('step = "0.10 m"', 'step = "0.5 m"'))
    for words, drawn in ((["rank", room, "--subs", "1"], False), (["listen", room], False), (["rank", room], True)):
        done = called(PROGRAM, *words, folder=tmp_path, LD_DEBUG="files", LD_DEBUG_OUTPUT=str(tmp_path / "loaded"))
        assert done.returncode == 0, done.stderr
        log, = tmp_path.glob("loaded.*")
        assert (LIBRARY.name in log.read_text()) == drawn, words
        log.unlink()


def test_a_refusal_while_it_is_loaded_is_a_refusal(tmp_path):
    for _ in range(10):
        done = called(PROGRAM, "view", DEMO, "--size", "1x1", folder=tmp_path)
        assert (done.returncode, len(done.stderr.splitlines())) == (2, 1), done.stderr


@pytest.mark.parametrize("how", ["link", "link to a folder", "moved"])
def test_it_is_found_where_the_program_is(how, tmp_path):
    there = tmp_path / "there"
    if how == "link to a folder":
        there.symlink_to(LIBRARY.parent, target_is_directory=True)
        program = there / pathlib.Path(PROGRAM).name
    else:
        there.mkdir()
        program = there / "sub"
        if how == "link":
            program.symlink_to(PROGRAM)
        else:
            shutil.copy(PROGRAM, program)
            shutil.copy(LIBRARY, there)
    done = called(program, "build", DEMO, "--volume", "25 L", "--quiet", folder=tmp_path)
    assert done.returncode == 0 and (tmp_path / "demo-results" / "box.png").is_file(), done.stderr


def test_without_it_everything_else_works_and_drawing_fails_in_a_sentence(tmp_path):
    program = tmp_path / "boxroom"
    shutil.copy(PROGRAM, program)
    assert called(program, "check", DEMO, folder=tmp_path).returncode == 0
    done = called(program, "build", DEMO, "--volume", "25 L", "--quiet", folder=tmp_path)
    assert done.returncode == 1 and not (tmp_path / "demo-results").exists()
    said, = done.stderr.splitlines()
    assert "libboxroom_drawing.so" in said and "keep it beside the program" in said


def test_a_library_of_another_kind_is_refused(tmp_path):
    program = tmp_path / "boxroom"
    shutil.copy(PROGRAM, program)
    (tmp_path / LIBRARY.name).write_bytes(b"no library")
    done = called(program, "build", DEMO, "--volume", "25 L", "--quiet", folder=tmp_path)
    assert done.returncode == 1 and "cannot be loaded" in done.stderr
