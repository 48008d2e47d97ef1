"""Many rooms: the table and the page, the same rows whoever makes them, kills, parts, and plan's own numbers."""
import os
import pathlib
import re
import shutil
import signal
import subprocess
import time

import h5py
import numpy
import pytest

from runner import PROGRAM, SOURCE, run, run_json

# Quick rooms: few boxes, spots and frequencies. Line numbers matter below.
QUICK = """title = "quick"
rooms = 24
seed = 5
[room]
width = { normal = ["4.2 m", "0.8 m"], between = ["3 m", "6 m"] }
length = { uniform = ["4 m", "7 m"] }
height = "2.5 m"
contents = { choice = ["sparse", "furnished"], weights = [1, 3] }
[[house]]
name = "stone"
walls = "brick, plastered"
floor = "concrete"
ceiling = { absorption = { log_normal = [0.05, 1.5] } }
window = { made_of = "window glass, double", area = "2 m2" }
[[house]]
name = "timber"
walls = ["plasterboard on studs", "timber frame, plastered"]
floor = "wood floor on joists"
ceiling = "plasterboard on studs"
[seats]
per_row = { choice = [2, 3] }
from_back = { uniform = ["0.5 m", "2 m"] }
[[driver]]
name = "ten inch"
fs = { log_normal = ["27 Hz", 1.2], between = ["18 Hz", "40 Hz"] }
qts = { normal = [0.42, 0.05], between = [0.3, 0.55] }
vas = "40 L"
[box]
sweep = { qtc = [0.5, 1.2], steps = 8 }
[spots]
step = "0.8 m"
[search]
subs = [1, 2]
[analysis]
band = ["20 Hz", "170 Hz"]
per_octave = 12
[target]
band = ["30 Hz", "120 Hz"]
"""
ROWS = re.compile(r"(?m)^rooms = .*$")


def write(folder, text=QUICK):
    path = folder / "quick.toml"
    path.write_text(text)
    return path


def table(path):
    """Every column, and what describes it."""
    with h5py.File(path) as file:
        for name, column in file.items():
            assert column.attrs["units"] and column.attrs["description"], name
        return {name: column[()] for name, column in file.items()}


def expect_same(one, other):
    assert set(one) == set(other)
    for name, column in one.items():
        if column.dtype.kind == "f":
            assert numpy.array_equal(column, other[name], equal_nan=True), name


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("survey")
    said = run_json("survey", write(folder), "--threads", "2", "--out", folder / "out")
    return folder / "out", said, table(folder / "out" / "survey.h5")


def test_the_table(made):
    folder, said, columns = made
    assert said["rooms"] == 24 and list(columns["room"]) == list(range(24))
    assert columns["width"].min() >= 3 and columns["width"].max() <= 6
    assert set(columns["per_row"]) == {2, 3} and columns["planned"].all()
    assert (columns["best_balance"] <= columns["textbook_balance"] + 1e-9).all()
    with h5py.File(folder / "survey.h5") as file:
        assert file.attrs["input"].decode() == QUICK and file.attrs["kind"] == b"survey"
        assert [name.decode() for name in file["house_names"][()]] == ["stone", "timber"]


def test_the_findings_are_those_of_the_table(made):
    """NumPy's quantiles and counts, not the program's."""
    folder, said, columns = made
    found = said["findings"]
    low, middle, high = numpy.quantile(columns["best_qtc"], [0.1, 0.5, 0.9])
    assert [found["best_qtc"][k] for k in ("low", "middle", "high")] == pytest.approx([low, middle, high])
    good = columns["textbook_balance"] - columns["best_balance"] <= 0.5
    assert found["textbook_within_half_db"]["share"] == pytest.approx(good.mean())
    smaller = columns["build_qtc"] - columns["half_space_build_qtc"] > 0.02
    assert found["smaller_in_room"]["share"] == pytest.approx(smaller.mean())
    gain = columns["one_sub_spread"] - columns["two_subs_spread"]
    assert found["subs"][1]["gain_db"]["middle"] == pytest.approx(numpy.median(gain))
    corners = (columns["two_subs_in_corners"] / 2).mean()
    assert found["subs"][1]["in_corners"]["share"] == pytest.approx(corners)
    # Wilson's interval is about the share drawn towards a half by z^2 = 3.84 rooms (1927, eq. for the limits).
    drawn = (corners + 3.8415 / 48) / (1 + 3.8415 / 24)
    assert found["subs"][1]["in_corners"]["low"] + found["subs"][1]["in_corners"]["high"] == pytest.approx(2 * drawn, rel=1e-4)
    assert found["corner_wins"]["share"] == pytest.approx((columns["one_sub_in_corners"] > 0).mean())
    page = (folder / "survey.html").read_text().replace("&nbsp;", " ")
    assert f"{100 * good.mean():.0f} %" in page and f"{middle:.2f} ({low:.2f} to {high:.2f})" in page
    assert not re.search(r"(?:src|href)=[\"'](?!data:|#)", page) and "http" not in re.sub(r'xmlns="[^"]*"', "", page)
    assert "<svg" in page and (folder / "survey.svg").read_text().startswith("<svg")


@pytest.mark.parametrize("threads", [1, 4])
def test_any_number_of_threads_gives_the_same_rows(threads, made, tmp_path):
    run_json("survey", write(tmp_path), "--threads", threads, "--out", tmp_path / "out")
    expect_same(made[2], table(tmp_path / "out" / "survey.h5"))


def test_parts_put_together_are_the_whole(made, tmp_path):
    path, out = write(tmp_path), tmp_path / "out"
    for part in ("2/3", "1/3", "3/3"):
        said = run_json("survey", path, "--part", part, "--out", out)
        assert said["rooms"] == 8
    assert run_json("survey", path, "--merge", "--out", out)["rooms"] == 24
    expect_same(made[2], table(out / "survey.h5"))


@pytest.mark.parametrize("fault", ["missing", "damaged", "another part", "unfinished", "other parts", "other file"])
def test_parts_that_do_not_fit_are_refused(fault, tmp_path):
    path, out = write(tmp_path, ROWS.sub("rooms = 4", QUICK)), tmp_path / "out"
    for part in ("1/2", "2/2"):
        run_json("survey", path, "--part", part, "--out", out)
    second = out / "part-2-of-2"
    if fault == "missing":
        shutil.rmtree(second)
    elif fault == "damaged":
        content = bytearray((second / "survey.h5").read_bytes())
        content[len(content) // 2] ^= 1
        (second / "survey.h5").write_bytes(content)
    elif fault == "another part":
        shutil.rmtree(second)
        shutil.copytree(out / "part-1-of-2", second)
    elif fault == "unfinished":
        run_json("survey", path, "--part", "1/2", "--rooms", "6", "--out", out)
    elif fault == "other parts":
        run_json("survey", path, "--part", "1/3", "--out", out)
    else:
        path.write_text(path.read_text().replace("seed = 5", "seed = 6"))
    done = run("survey", path, "--merge", "--out", out)
    assert done.returncode == 2 and done.stdout == "", done.stderr
    assert len(done.stderr.strip().splitlines()) == 1 and "part" in done.stderr and " -- " in done.stderr
    assert not (out / "survey.h5").exists()


def wait_for(path, process):
    while not path.exists():
        assert process.poll() is None, process.communicate()
        time.sleep(0.01)


def test_a_killed_part_goes_on_where_it_stopped(tmp_path):
    path, out = write(tmp_path, ROWS.sub("rooms = 400", QUICK)), tmp_path / "out"
    arguments = [PROGRAM, "survey", path, "--part", "1/2", "--out", out, "--quiet"]
    process = subprocess.Popen(arguments, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    saved = out / "part-1-of-2" / "survey.h5"
    wait_for(saved, process)
    process.send_signal(signal.SIGKILL)
    process.communicate()
    begun = table(saved)
    assert 0 < len(begun["room"]) < 200 and set(begun["room"] % 2) == {0}
    # The rest of it, of fewer rooms: those that are there are kept, the others are the same.
    count = int(begun["room"].max()) + 11
    run_json("survey", path, "--part", "1/2", "--rooms", count, "--out", out)
    whole = table(saved)
    assert list(whole["room"]) == list(range(0, count, 2))
    run_json("survey", path, "--part", "1/2", "--rooms", count, "--out", tmp_path / "straight")
    expect_same(whole, table(tmp_path / "straight" / "part-1-of-2" / "survey.h5"))


MPIRUN = shutil.which("mpirun")
WITH_RANKS = pathlib.Path(PROGRAM).parent / "libboxroom_ranks.so"


with_mpi = pytest.mark.skipif(not MPIRUN or not WITH_RANKS.exists(), reason="no MPI here")
LAUNCHED = os.environ | {"OMPI_ALLOW_RUN_AS_ROOT": "1", "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM": "1",
                         "OMPI_MCA_btl_vader_single_copy_mechanism": "none"}


def by_ranks(ranks, *arguments):
    return [MPIRUN, "--oversubscribe", "--bind-to", "none", "-n", str(ranks), PROGRAM, "survey", *map(str, arguments),
            "--threads", "1", "--quiet"]


@with_mpi
@pytest.mark.parametrize("ranks", [1, 2, 4])
def test_ranks_give_the_same_rows(ranks, made, tmp_path):
    done = subprocess.run(by_ranks(ranks, write(tmp_path), "--out", tmp_path / "out", "--json"), env=LAUNCHED,
                          stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=600)
    assert done.returncode == 0, done.stderr
    assert done.stdout.count('"findings"') == 1  # one rank speaks for all
    expect_same(made[2], table(tmp_path / "out" / "survey.h5"))


def process_of_rank(rank, out):
    """The process that was given this rank and writes to this folder."""
    for process in pathlib.Path("/proc").glob("[0-9]*"):
        try:
            words = (process / "cmdline").read_bytes().split(b"\0")
            given = (process / "environ").read_bytes().split(b"\0")
        except OSError:  # it has just ended
            continue
        if os.fsencode(out) in words and f"OMPI_COMM_WORLD_RANK={rank}".encode() in given:
            return int(process.name)
    raise AssertionError(f"no process has rank {rank}")


@with_mpi
@pytest.mark.parametrize("rank", [0, 1])
def test_a_killed_rank_ends_all_and_two_go_on(rank, tmp_path):
    """The table stays whole, is gone on with by whoever is there, and in the end nobody sees that it was."""
    path, out = write(tmp_path, ROWS.sub("rooms = 4000", QUICK)), tmp_path / "out"
    process = subprocess.Popen(by_ranks(2, path, "--out", out), env=LAUNCHED, stdin=subprocess.DEVNULL,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    wait_for(out / "survey.h5", process)
    os.kill(process_of_rank(rank, out), signal.SIGKILL)
    process.communicate(timeout=600)
    assert process.returncode != 0
    begun = table(out / "survey.h5")
    assert 0 < len(begun["room"]) < 4000 and (numpy.diff(begun["room"]) > 0).all()
    count = int(begun["room"].max()) + 11
    again = subprocess.run(by_ranks(2, path, "--rooms", count, "--out", out), env=LAUNCHED, stdin=subprocess.DEVNULL,
                           capture_output=True, text=True, timeout=600)
    assert again.returncode == 0, again.stderr
    whole = table(out / "survey.h5")
    assert list(whole["room"]) == list(range(count))
    assert not list(out.glob(".boxroom-unfinished-*"))
    run_json("survey", path, "--rooms", count, "--out", tmp_path / "straight")
    expect_same(whole, table(tmp_path / "straight" / "survey.h5"))


def test_ranks_without_mpi_are_refused(tmp_path):
    """Each of them would do all of it."""
    alone = tmp_path / "boxroom"
    shutil.copy(PROGRAM, alone)
    done = subprocess.run([alone, "survey", write(tmp_path), "--out", tmp_path / "out"], stdin=subprocess.DEVNULL,
                          env=os.environ | {"OMPI_COMM_WORLD_SIZE": "2"}, capture_output=True, text=True)
    assert done.returncode == 2 and "MPI" in done.stderr and not (tmp_path / "out").exists()


def test_plan_gives_the_same_numbers(tmp_path):
    """Ten rooms of the survey as room files, planned by `plan` for one sub; and the pair it would take."""
    path = write(tmp_path, ROWS.sub("rooms = 10", QUICK))
    run_json("survey", path, "--out", tmp_path / "out")
    rows = table(tmp_path / "out" / "survey.h5")
    for n in range(10):
        room = run_json("survey", path, "--room", n, "--out", tmp_path / "rooms")["file"]
        plan = run_json("plan", room, "--subs", "1", "--out", tmp_path / "plan")
        row = {name: column[n] for name, column in rows.items() if column.dtype.kind == "f"}
        assert plan["in_room"]["best_qtc"] == pytest.approx(row["best_qtc"], abs=1e-9)
        assert plan["build"]["qtc"] == pytest.approx(row["build_qtc"], abs=1e-9)
        assert plan["half_space"]["best_qtc"] == pytest.approx(row["half_space_best_qtc"], abs=1e-9)
        assert plan["textbook"]["volume_l"] == pytest.approx(1e3 * row["textbook_volume"], rel=1e-9)
        balance = {round(box["qtc"], 9): box["in_room_db"] for box in plan["balance_by_qtc"]}
        assert balance[round(row["textbook_qtc"], 9)] == pytest.approx(row["textbook_balance"], abs=1e-6)
        for key in ("spread_db", "unevenness_db", "balance_db", "level_db"):
            assert plan[key] == pytest.approx(row[f"one_sub_{key[:-3]}"], abs=1e-6), key
        assert plan["subs"][0]["footprint_m"] == pytest.approx([row["one_sub_place_1_x"], row["one_sub_place_1_y"]])
        assert plan["equalised"]["unevenness_db"] == pytest.approx(row["one_sub_equalised_unevenness"], abs=1e-6)


def test_memory_is_flat(tmp_path):
    """Ten times the rooms, no more memory but for their rows of 8 byte numbers."""
    peaks = []
    for count in (20, 200):
        script = ("import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL); "
                  "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)")
        done = subprocess.run(["/usr/bin/python3", "-c", script, PROGRAM, "survey", write(tmp_path), "--rooms", str(count),
                               "--threads", "2", "--out", tmp_path / str(count), "--quiet"],
                              capture_output=True, text=True, check=True)
        peaks.append(int(done.stdout) / 1024)
    assert peaks[1] - peaks[0] < 8, peaks  # MB; a room that is kept takes more than that in 180 of them


@pytest.mark.parametrize("old, new, line", [
    ("rooms = 24", "rooms = 0", 2),
    ("rooms = 24", "rooms = -3", 2),
    ('["4 m", "7 m"]', '["-4 m", "7 m"]', 6),
    ('from_back = { uniform = ["0.5 m", "2 m"] }', 'from_back = "8 m"', 20),
    ('between = ["3 m", "6 m"]', 'between = ["30 m", "40 m"]', 5),
    ('walls = "brick, plastered"', 'walls = "cheese"', 11),
    ("[search]", "[serach]", 32),
])
def test_a_wrong_file_is_refused_at_its_line(old, new, line, tmp_path):
    assert old in QUICK
    path = write(tmp_path, QUICK.replace(old, new, 1))
    done = run("survey", path, "--out", tmp_path / "out", "--json")
    assert done.returncode == 2 and done.stdout == "" and f"quick.toml:{line}:" in done.stderr, done.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("arguments", [["--part", "5/4"], ["--part", "0/4"], ["--part", "2"], ["--part", "1/2/3"],
                                       ["--part", "1/99"], ["--rooms", "0"], ["--rooms", "many"], ["--room", "24"],
                                       ["--merge"], ["--merge", "--part", "1/2"], ["--solver", "grid"]],
                         ids=" ".join)
def test_a_wrong_command_line_is_refused(arguments, tmp_path):
    done = run("survey", write(tmp_path), *arguments, "--out", tmp_path / "out")
    assert done.returncode == 2 and done.stdout == "" and done.stderr.strip(), done.stderr
    assert not (tmp_path / "out").exists()


def test_a_table_of_another_file_is_not_gone_on_with(made, tmp_path):
    out = tmp_path / "out"
    shutil.copytree(made[0], out)
    done = run("survey", write(tmp_path, QUICK.replace("seed = 5", "seed = 6")), "--out", out)
    assert done.returncode == 2 and "another file of distributions" in done.stderr
    expect_same(made[2], table(out / "survey.h5"))


def test_a_room_of_the_population_that_comes_with_it(tmp_path):
    room = run_json("survey", SOURCE / "rooms" / "survey.toml", "--room", "7", "--out", tmp_path)["file"]
    assert run_json("check", room, "--out", tmp_path)["seats"] >= 2
