"""`sweep`, and recordings of it in `listen`: made by SciPy from filters whose response is a formula."""
import json
import wave

import numpy as np
import pytest
from scipy import signal
from scipy.io import wavfile

from runner import WALLS, room_text, run, run_json

FREQUENCIES = [16, 20, 25, 31.5, 40, 50, 56, 60, 63, 66, 71, 80, 100, 125, 160, 200]
SEATS, SUBS = [(2.1, 3.4, 1.1), (1.2, 3.4, 1.1)], [(0.4, 0.5, 0.3)]
RATE = 48000


@pytest.fixture(scope="module")
def sweep(tmp_path_factory):
    """sweep.wav as the program writes it, from -1 to 1."""
    folder = tmp_path_factory.mktemp("sweep")
    found = run_json("sweep", room_file(folder), "--out", folder / "out")
    rate, samples = wavfile.read(folder / "out" / "sweep.wav")
    assert rate == RATE and found["file"].endswith("sweep.wav")
    return samples / 2**31, found  # SciPy moves 24 bits up to 32


def room_file(folder, *recordings, more=""):
    text = room_text((4.2, 5.1, 2.4), WALLS, SEATS, SUBS, FREQUENCIES)
    path = folder / "room.toml"
    path.write_text(text + "\n" + more + "".join(f"\n[[recording]]\n{lines}\n" for lines in recordings))
    return path


def filtered(x):
    """A room with two modes, as SciPy has them, and its response at FREQUENCIES in dB."""
    sos = np.vstack([np.hstack(signal.iirpeak(f, q, fs=RATE)) for f, q in ((42, 6), (63, 9))])
    parts = [signal.lfilter(row[:3], row[3:], x) for row in sos]
    h = sum(signal.freqz(row[:3], row[3:], worN=FREQUENCIES, fs=RATE)[1] for row in sos) + 0.1
    return sum(parts) + 0.1 * x, 20 * np.log10(np.abs(h))


def listen(folder, sound, channel=1):
    path = room_file(folder, f'seat = "seat 0"\nsub = "sub 0"\nsound = "{sound.name}"\nchannel = {channel}')
    return run("listen", path, "--json", "--out", folder / "out")


def expect_level(done, truth, within=0.15):
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)["recordings"][0]
    level = np.array(found["level_db"], float)
    assert np.abs(level - truth).max() < within
    return found


def test_the_sweep_is_the_formula(sweep):
    samples, found = sweep
    before, length = found["silence_before_s"], found["seconds"]
    t = np.arange(int(length * RATE)) / RATE
    low, high = found["low_hz"], found["high_hz"]
    # scipy.signal.chirp's logarithmic sweep is a cosine: 2 pi f1 L (k^t - 1), from -90 degrees a sine.
    pure = 10 ** (found["level_dbfs"] / 20) * signal.chirp(t, low, length, high, "logarithmic", phi=-90)
    ours = samples[int(before * RATE):][:len(t)]
    fade = length / np.log2(high / low) / 2
    steady = (t > fade) & (t < length - fade)
    assert np.abs(ours - pure)[steady].max() < 1e-6
    assert np.abs(samples[:int(before * RATE)]).max() == 0
    assert np.abs(samples).max() < 10 ** (found["level_dbfs"] / 20) + 1e-6


def test_the_card_says_how(sweep):
    for word in ("volume at zero", "Ears", "never clip", "[[recording]]"):
        assert word in sweep[1]["card"]


def test_what_is_no_sweep_of_ours_is_left_alone(tmp_path):
    path = room_file(tmp_path)
    (tmp_path / "out").mkdir()
    mine = tmp_path / "out" / "sweep.wav"
    mine.write_bytes(b"mine")
    assert run("sweep", path, "--out", tmp_path / "out").returncode == 2
    assert mine.read_bytes() == b"mine"


def as_24_bit(path, samples):
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1), file.setsampwidth(3), file.setframerate(RATE)
        whole = (samples * (2**23 - 1)).astype("<i4").view(np.uint8).reshape(-1, 4)[:, :3]
        file.writeframes(whole.tobytes())


@pytest.mark.parametrize("kind", ["int16", "24 bit", "float32", "8 channels", "192 kHz", "44.1 kHz"])
def test_a_filter_comes_back_from_any_usual_file(tmp_path, sweep, kind):
    y, truth = filtered(np.concatenate([np.zeros(RATE), sweep[0]]))
    y *= 0.5
    truth = truth + 20 * np.log10(0.5 * 10 ** (-12 / 20))
    path, channel = tmp_path / "heard.wav", 1
    if kind == "24 bit":
        as_24_bit(path, y)
    elif kind == "8 channels":
        channel = 5
        many = np.random.default_rng(1).normal(0, 0.01, (len(y), 8)).astype("float32")
        many[:, 4] = y
        wavfile.write(path, RATE, many)
    elif kind in ("192 kHz", "44.1 kHz"):
        up, down = (4, 1) if kind == "192 kHz" else (147, 160)
        wavfile.write(path, RATE * up // down, signal.resample_poly(y, up, down).astype("float32"))
    else:
        wavfile.write(path, RATE, (y * 32767).astype("int16") if kind == "int16" else y.astype("float32"))
    expect_level(listen(tmp_path, path, channel), truth)


def test_noise_is_told_and_harmonics_are_not_heard(tmp_path, sweep):
    rng = np.random.default_rng(2)
    x = sweep[0]
    y, truth = filtered(x + 0.3 * x**2)
    noise = 2e-3
    path = tmp_path / "heard.wav"
    wavfile.write(path, RATE, (y + noise * rng.standard_normal(len(y))).astype("float32"))
    found = expect_level(listen(tmp_path, path), truth - 12, 0.6)
    doubt = np.array(found["doubt_db"])
    # White noise of sigma s has the power 2 s^2/rate a Hz; an exponential sweep of amplitude A dwells
    # T/(f ln(f2/f1)) a Hz, and the window lasts about 3.2 s: doubt = 6.14 dB sqrt(noise/signal). The
    # sweep is played 12 dB below full scale, which is what the noise is counted from.
    f, h = np.array(FREQUENCIES), 10 ** ((truth + sweep[1]["level_dbfs"]) / 20)
    dwell = sweep[1]["seconds"] / np.log(sweep[1]["high_hz"] / sweep[1]["low_hz"]) / f
    expected = 6.14 * np.sqrt(noise**2 / RATE * 3.2 / dwell * 4) / h
    # Estimated from some seconds of noise, a frequency at a time: right in the mean.
    assert np.median(doubt / expected) == pytest.approx(1, abs=0.35)


def test_bad_recordings_get_a_sentence(tmp_path, sweep):
    x = 3.0 * sweep[0]
    path = tmp_path / "heard.wav"

    def refused(words):
        done = listen(tmp_path, path)
        assert done.returncode == 2 and words in done.stderr, done.stderr
        assert len(done.stderr.strip().splitlines()) == 1

    wavfile.write(path, RATE, np.clip(x * 1.5, -1, 1).astype("float32")), refused("clipped")
    wavfile.write(path, RATE, (np.clip(x * 1.5, -1, 1) * 32767).astype("int16")), refused("clipped")
    wavfile.write(path, RATE, x[:20 * RATE].astype("float32")), refused("cut short")
    wavfile.write(path, RATE, x[9 * RATE:].astype("float32")), refused("begins after")
    wavfile.write(path, 44100, x.astype("float32")), refused("another rate")
    t = np.arange(len(x)) / RATE
    wavfile.write(path, RATE, (0.5 * signal.chirp(t, 10, t[-1], 500)).astype("float32")), refused("sweep")
    wavfile.write(path, RATE, np.full(len(x), np.nan, "float32")), refused("no numbers")
    wavfile.write(path, RATE, np.zeros(len(x), "float32")), refused("sweep")
    path.write_bytes(b""), refused("0 bytes")
    path.write_bytes(b"RIFF" + bytes(100)), refused("no sound")
    with open(path, "wb") as file:
        file.truncate(2**31)
    refused("no sound")
    path.unlink(), refused("missing")


def test_two_gigabytes_of_silence_are_refused_at_once(tmp_path):
    path = tmp_path / "heard.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1), file.setsampwidth(2), file.setframerate(RATE)
        file.writeframes(bytes(RATE))
    head = bytearray(path.read_bytes()[:44])
    head[40:44] = (2**31 - 44).to_bytes(4, "little")
    head[4:8] = (2**31 - 8).to_bytes(4, "little")
    path.write_bytes(bytes(head))
    with open(path, "r+b") as file:
        file.truncate(2**31)
    done = listen(tmp_path, path)
    assert done.returncode == 2 and "ten minutes" in done.stderr


def curve_csv(path, level, frequency=FREQUENCIES, shift=0.0):
    rows = [f"{f},{v + shift}" for f, v in zip(frequency, level)]
    path.write_text("frequency_hz,level_db\n" + "\n".join(rows) + "\n")


def test_a_curve_of_the_prediction_itself_is_no_decibel_apart(tmp_path):
    """The model's own levels, moved by a gain: nothing apart. Wrong seat, sub or offset would show."""
    first = run_json("listen", room_file(tmp_path), "--out", tmp_path / "a")
    dense = np.geomspace(15, 210, 400)
    for number in (0, 1):
        curve_csv(tmp_path / f"{number}.csv", first["seats"][number]["level_db"], shift=-7.5)
    rows = [f'seat = "seat {n}"\ncurve = "{n}.csv"' for n in (0, 1)]
    rows.append('seat = "seat 1"\nsub = "sub 0"\ncurve = "0.csv"')
    found = run_json("listen", room_file(tmp_path, *rows), "--out", tmp_path / "b")["recordings"]
    assert len(dense) == 400
    # The file's steps are a third of an octave: only its own points are trusted, and they are enough.
    assert found[0]["apart_db"] < 1e-3 and found[1]["apart_db"] < 1e-3
    assert found[0]["offset_db"] == pytest.approx(7.5, abs=1e-3)
    assert found[2]["apart_db"] > 0.5


def test_calibration_is_added(tmp_path):
    level = np.linspace(60, 70, len(FREQUENCIES))
    curve_csv(tmp_path / "c.csv", level)
    (tmp_path / "mic.csv").write_text("frequency_hz,correction_db\n10,2\n200,2\n")
    path = room_file(tmp_path, 'seat = "seat 0"\ncurve = "c.csv"',
                     more='[microphone]\ncalibration = "mic.csv"\nabsolute = true\n')
    found = run_json("listen", path, "--out", tmp_path / "out")["recordings"][0]
    assert np.allclose(found["level_db"], level + 2) and found["offset_db"] == 0


def test_box_on_the_seat_ranks_spots_by_measurement_alone(tmp_path):
    """Three spots: alike at both seats; tilted; 12 dB apart. The first must win, the last lose."""
    flat = np.full(len(FREQUENCIES), 80.0)
    tilt = np.linspace(-6, 6, len(FREQUENCIES))
    rows = []
    for spot, (one, other) in enumerate([(flat, flat), (flat + tilt, flat + tilt), (flat, flat - 12)]):
        for seat, level in enumerate((one, other)):
            curve_csv(tmp_path / f"{spot}{seat}.csv", level)
            rows.append(f'box_on_seat = "seat {seat}"\nat = [{0.4 + spot}, 0.4, 0.3]\ncurve = "{spot}{seat}.csv"')
    spots = run_json("listen", room_file(tmp_path, *rows), "--out", tmp_path / "out")["measured_spots"]
    assert [s["position_m"][0] for s in spots] == pytest.approx([0.4, 1.4, 2.4])
    assert spots[0]["spread_db"] == pytest.approx(0, abs=1e-6)
    assert spots[2]["spread_db"] == pytest.approx(6)  # population form: half of 12 dB
    assert spots[0]["seats"] == ["seat 0", "seat 1"]
    # In a ranking they lead, with the same numbers, and the model's own spots follow.
    ranked = run_json("rank", tmp_path / "room.toml", "--out", tmp_path / "ranked")
    assert ranked["measured_spots"] == spots and ranked["spots"]
    said = run("rank", tmp_path / "room.toml", "--out", tmp_path / "ranked").stdout
    assert 0 < said.index("by measurement alone") < said.index("fills in between") < said.index("centre of the box")


@pytest.mark.parametrize("lines, words", [
    ('seat = "seat 9"\nsound = "a.wav"', "no [[seat]]"), ('seat = "seat 0"\nsub = "sub"\nsound = "a.wav"', "no [[sub]]"),
    ('seat = "seat 0"', "either"), ('seat = "seat 0"\nsound = "a"\ncurve = "b"', "either"),
    ('sound = "a.wav"', "at"), ('at = [9, 9, 9]\nsound = "a.wav"', "outside the room"),
    ('seat = "seat 0"\nat = [1, 1, 1]\nsound = "a.wav"', "another place"),
    ('box_on_seat = "seat 0"\nat = [1, 1, 1]\nsub = "sub 0"\nsound = "a.wav"', "no placed sub"),
    ('seat = "seat 0"\nsound = "a.wav"\nchannel = 0', "channel"), ('seat = "seat 0"\nsound = "a.wav"\ncolour = 1', "colour")])
def test_wrong_tables_are_faults_of_the_file(tmp_path, lines, words):
    done = run("check", room_file(tmp_path, lines))
    assert done.returncode == 2 and words in done.stderr and "room.toml:" in done.stderr
