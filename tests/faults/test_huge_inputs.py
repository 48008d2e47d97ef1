"""Inputs without end or measure: refused in a sentence, in little memory, before anything is worked out.

No test is timed: what is asked is the processor's time and the memory of the process (man 2 setrlimit), far above
what is needed and far below what would be taken if the input were read or solved."""
import os
import re
import resource
import struct
import subprocess

import pytest

from runner import DEMO, PROGRAM, SOURCE

BYTES, SECONDS = 2 << 30, 20
TEXT = DEMO.read_text()


def spoil(old, new):
    assert TEXT.count(old) == 1
    return TEXT.replace(old, new)


def refuse(folder, *arguments):
    def bound():
        resource.setrlimit(resource.RLIMIT_AS, (BYTES, BYTES))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))

    done = subprocess.run([PROGRAM, *map(str, arguments), "--threads", "1"], cwd=folder, preexec_fn=bound,
                          env=os.environ | {"OMP_NUM_THREADS": "1"}, stdin=subprocess.DEVNULL, capture_output=True,
                          text=True)
    assert done.returncode == 2 and done.stdout == "", (done.returncode, done.stderr[-500:])
    assert " -- " in done.stderr and max(map(len, done.stderr.splitlines())) < 500, done.stderr[:500]
    return done.stderr


TEXTS = {  # a room file, made when it is wanted, and a word of what is said about it
    "a million frequencies": (lambda: TEXT + f"\n[analysis]\nfrequencies = [{'20,' * 1000000}]\n", "at most 2000"),
    "a million an octave": (lambda: TEXT + "\n[analysis]\nper_octave = 1000000\n", "per_octave"),
    "a hundred thousand seats": (lambda: TEXT + '\n[[seat]]\nat = [1, 1, 1]\n' * 100000, "at most 500"),
    "a plan of a hundred thousand corners": (lambda: spoil("[room]", f"[room]\nfloor_plan = [{'[1,2],' * 100000}]"), "corners"),
    "a name of five megabytes": (lambda: spoil("sofa, left", "x" * 5000000), "larger than 4 MB"),
    "a name just within a file": (lambda: spoil("sofa, left", "x" * 3900000), "longer than 20000"),
    "a name of escapes": (lambda: spoil("sofa, left", "\\u001b" * 600000), "longer than 20000"),
    "a key of dots": (lambda: TEXT + "\n" + "a." * 1000000 + "a = 1\n", "16 dots"),
    "nested lists": (lambda: TEXT + "\nx = " + "[" * 1000000, "16 brackets"),
    "zeros": (lambda: "\0" * 3000000, "")}


@pytest.mark.parametrize("name", TEXTS)
def test_a_room_file_out_of_measure(name, tmp_path):
    text, said = TEXTS[name]
    (tmp_path / "huge.toml").write_text(text())
    assert said in refuse(tmp_path, "listen", "huge.toml")
    assert [p.name for p in tmp_path.iterdir()] == ["huge.toml"]


SPREAD = (SOURCE / "rooms" / "survey.toml").read_text()
SURVEYS = {  # the same for how rooms are spread: what stands instead of what, or at the end
    "a name of five megabytes": ('"masonry"', lambda: f'"{"x" * 5000000}"', "larger than 4 MB"),
    "a key of dots": ("", lambda: "a." * 1000000 + "a = 1\n", "16 dots"),
    "nested lists": ("", lambda: "x = " + "[" * 1000000, "16 brackets"),
    "houses by the thousand": ("", lambda: '[[house]]\nname = "a"\nwalls = "concrete"\n' * 6000, "at most 500"),
    "more rooms than there are": ("rooms = 20000", lambda: "rooms = 1000000000000000000", "to 10000000, but is 1000000000000000000"),
    "a million steps": ("steps = 15", lambda: "steps = 1000000", "from 2 to 1000"),
    "spots every centimetre": ('step = "0.50 m"', lambda: 'step = "1 cm"', "room 0: spots every 1 cm take ")}


@pytest.mark.parametrize("name", SURVEYS)
def test_a_survey_out_of_measure(name, tmp_path):
    old, new, said = SURVEYS[name]
    assert not old or SPREAD.count(old) == 1
    (tmp_path / "spread.toml").write_text(SPREAD.replace(old, new()) if old else SPREAD + new())
    assert said in refuse(tmp_path, "survey", "spread.toml")
    assert [p.name for p in tmp_path.iterdir()] == ["spread.toml"]


@pytest.mark.parametrize("command", ["rank", "plan", "map"])
def test_a_hall_for_a_room(command, tmp_path):
    """50 m by 50 m in steps of 10 cm: a quarter of a million spots, counted before they are solved."""
    text = spoil('width = "4.10 m"', 'width = "50 m"').replace('length = "5.20 m"', 'length = "50 m"')
    (tmp_path / "hall.toml").write_text(text)
    assert "GB of memory" in refuse(tmp_path, command, "hall.toml")


def test_a_fit_over_a_fine_floor(tmp_path):
    """It plans with the fitted room: told before anything is fitted."""
    (tmp_path / "fine.toml").write_text(spoil('step = "0.10 m"', 'step = "1 cm"') + "".join(
        f'[[seat]]\nname = "{i}"\nat = [{0.8 + i * 0.005}, 3.5, 1.1]\n' for i in range(400)))
    assert "GB of memory" in refuse(tmp_path, "fit", "fine.toml")


@pytest.mark.parametrize("command", ["check", "listen", "plan"])
def test_as_many_of_everything_as_a_file_may_hold(command, tmp_path):
    """490 subs, 493 seats and 2000 frequencies: 7.7 GB of fields alone."""
    seats = "".join(f'[[seat]]\nname = "s{i}"\nat = [{0.8 + i % 25 * 0.1}, {2.5 + i // 25 * 0.1}, 1.1]\n' for i in range(490))
    subs = "".join(f'[[sub]]\nname = "b{i}"\nat = [{0.5 + i % 25 * 0.1}, {0.3 + i // 25 * 0.05}, 0.3]\n' for i in range(490))
    frequencies = ",".join(f"{20 + 0.05 * i:.2f}" for i in range(2000))
    (tmp_path / "many.toml").write_text(TEXT + seats + subs + f"[analysis]\nfrequencies = [{frequencies}]\n")
    assert re.search(r"49\d subs.* 49\d seats and 2000 frequencies take \d+ GB", refuse(tmp_path, command, "many.toml"))


def test_a_hall_of_small_cells(tmp_path):
    """50 m each way in cells of 9 cm: some 170 million, worked out before the first of them is there."""
    text = re.sub(r'(width|length|height) = ".*m"', r'\1 = "50 m"', TEXT, count=3)
    (tmp_path / "hall.toml").write_text(text)
    assert re.search(r"1[67]\d million cells of 9 cm take \d.* GB", refuse(tmp_path, "listen", "hall.toml", "--solver", "grid"))


def test_modes_by_the_million(tmp_path):
    """4 pi V f^3/(3 c^3) and the smaller terms (Kuttruff, sec. 3.2): 13 million in 50 m each way up to 1000 Hz."""
    text = re.sub(r'(width|length|height) = ".*m"', r'\1 = "50 m"', TEXT, count=3)
    (tmp_path / "hall.toml").write_text(text + '\n[analysis]\nband = ["10 Hz", "1000 Hz"]\n')
    assert re.search(r"about 13 million modes .* -- end \[analysis\] band at 2\d\d Hz", refuse(tmp_path, "modes", "hall.toml"))


@pytest.mark.parametrize("place", ["pipe", "/dev/zero", "/dev/urandom", "/dev/full", "/proc/self/mem", ".", "huge"])
@pytest.mark.parametrize("command", ["check", "compare", "driver", "survey", "curve", "sound", "calibration", "results", "second"])
def test_no_file_at_all(command, place, tmp_path):
    if place == "pipe":
        os.mkfifo(tmp_path / "pipe")
    if place == "huge":  # takes no room on the disk
        with open(tmp_path / "huge", "wb") as file:
            file.truncate(5_000_000_000)
    if command == "results":
        (tmp_path / "listen.h5").symlink_to(place)
    recording = {"curve": f'curve = "{place}"', "sound": f'sound = "{place}"',
                 "calibration": f'curve = "c.csv"\n[microphone]\ncalibration = "{place}"'}
    (tmp_path / "c.csv").write_text("frequency_hz,level_db\n" + "".join(f"{f},70\n" for f in range(20, 200)))
    (tmp_path / "room.toml").write_text(TEXT + '\n[[recording]]\nseat = "sofa, left"\n' + recording.get(command, 'sound = "x"'))
    refuse(tmp_path, *{"check": ("check", place), "driver": ("driver", place), "survey": ("survey", place), "compare": ("compare", place, DEMO),
                       "second": ("compare", DEMO, place), "results": ("check", "listen.h5")}.get(
                           command, ("listen", "room.toml", "--quiet")))


def test_a_recording_of_gigabytes_and_a_table_of_ten_million_lines(tmp_path):
    size = 4_000_000_000
    with open(tmp_path / "long.wav", "wb") as file:
        file.write(b"RIFF" + struct.pack("<I", size + 36) + b"WAVEfmt " +
                   struct.pack("<IHHIIHH", 16, 1, 1, 48000, 96000, 2, 16) + b"data" + struct.pack("<I", size))
        file.truncate(size + 44)
    with open(tmp_path / "long.csv", "w") as file:
        file.write("frequency_hz,level_db\n" + "20.5,70\n" * 10_000_000)
    for line, said in (('sound = "long.wav"', "ten minutes"), ('curve = "long.csv"', "20 MB")):
        (tmp_path / "room.toml").write_text(TEXT + f'\n[[recording]]\nseat = "sofa, left"\n{line}\n')
        assert said in refuse(tmp_path, "listen", "room.toml")
    assert "20 MB" in refuse(tmp_path, "driver", "long.csv")
