"""boxroom new FILE --ask on a real terminal (a pseudo-terminal), and the floor plan of check."""
import json
import os
import pty
import select
import signal
import subprocess
import time
import tomllib

import pytest

from runner import DEMO, HANG, PROGRAM, run, run_json

# units, name, size, corner, surfaces, windows, contents, seats, driver, what limits it, what stays free
QUESTIONS = 1 + 1 + 3 + 1 + 6 + 4 + 1 + 1 + 2 * 2 + 1 + 4 + 4 + 1


def heed_interrupts():
    """A shell that runs the tests in the background has its children ignore SIGINT."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Terminal:
    """The program with a pseudo-terminal for its keyboard and screen."""

    def __init__(self, folder, *arguments):
        self.master, slave = pty.openpty()
        self.process = subprocess.Popen([PROGRAM, "new", "room.toml", "--ask", *arguments], cwd=folder,
                                        stdin=slave, stdout=slave, stderr=slave, start_new_session=True,
                                        preexec_fn=heed_interrupts)
        os.close(slave)
        self.screen = ""
        self.seen = 0  # what has been waited for

    def read(self, until=None):
        end = time.monotonic() + HANG
        while time.monotonic() < end:
            if until and until in self.screen[self.seen:]:
                self.seen = self.screen.index(until, self.seen) + len(until)
                return
            ready, _, _ = select.select([self.master], [], [], 0.2)
            if not ready:
                if self.process.poll() is not None:
                    return
                continue
            try:
                data = os.read(self.master, 65536)
            except OSError:
                return
            if not data:
                return
            self.screen += data.decode("utf-8", "replace")
        raise AssertionError(f"no {until!r} in {self.screen[self.seen:]!r}")

    def type(self, text):
        os.write(self.master, text.encode())

    def answer(self, text, question):
        """Waits for a question and its default, and answers it."""
        self.read(until=question)
        self.read(until="] ")
        self.type(text + "\n")

    def end(self):
        self.read()
        code = self.process.wait(timeout=HANG)
        os.close(self.master)
        return code


def all_at_once(folder, answers, *arguments):
    terminal = Terminal(folder, *arguments)
    for line in answers:
        terminal.type(line + "\n")
    code = terminal.end()
    return code, terminal.screen


def read_room(folder):
    return tomllib.loads((folder / "room.toml").read_text())


def test_enter_all_the_way_gives_a_room_that_plans(tmp_path):
    code, screen = all_at_once(tmp_path, [""] * QUESTIONS)
    assert code == 0, screen
    assert "boxroom plan room.toml" in screen
    room = read_room(tmp_path)
    assert len(room["seat"]) == 2 and room["driver"]["qts"] == 0.45
    assert room["room"]["contents"] == "furnished"
    board, glass, door = "plasterboard on studs", "window glass, double", "solid door"
    assert room["walls"]["left"] == board
    assert room["walls"]["front"] == [board, {"made_of": glass, "area": "2 m2"}]
    assert room["walls"]["back"] == [board, {"made_of": door, "area": "1.8 m2"}]
    assert run("check", "room.toml", cwd=tmp_path).returncode == 0
    assert run_json("plan", "room.toml", cwd=tmp_path)["recommendation"]


def test_one_question_after_the_other(tmp_path):
    """Each default is shown before its answer is typed, and the answers land in their keys."""
    terminal = Terminal(tmp_path)
    for question, answer in [
            ("Metric or imperial", "m"), ("name for the room", 'The "den"'), ("How wide", "4.5"),
            ("How long", "610 cm"), ("How high", "8 ft"), ("Does a corner lack", "none"), ("Left wall", "1"), ("window or a door", ""),
            ("Right wall", "drywall"), ("window or a door", "Window 2.5 and door"),
            ("Front wall", "window glass, double"), ("window or a door", "none"), ("Back wall", ""),
            ("window or a door", "doors 3.6 m2"), ("Floor", "carpet"),
            ("Ceiling", "suspended ceilin"), ("What stands in it", "soft"), ("How many seats", "1"), ("from the left wall", "2.25"),
            ("from the front wall", "4.1 m"), ("How high are the ears", "1.05"), ("fs, ", "24"),
            ("Qts", ".38"), ("Vas", "62"), ]:
        terminal.answer(answer, question)
    for answer in ("480", "3.4", "0.42", "11", ""):  # Sd, Re, Qes, xmax, power
        terminal.read(until="if you do not know)? ")
        terminal.type(answer + "\n")
    for question, answer in [("How many pieces", "1"), ("What is piece 1", "door swing"), ("begins how far from the left", "3.6"),
                             ("ends how far from the left", "4.5"), ("begins how far from the front", "5.2 m"),
                             ("ends how far from the front", "6.1")]:
        terminal.answer(answer, question)
    assert terminal.end() == 0, terminal.screen
    room = read_room(tmp_path)
    assert room["title"] == 'The "den"'
    assert room["room"] == {"width": "4.5 m", "length": "610 cm", "height": "8 ft", "contents": "soft"}
    window, door = {"made_of": "window glass, double"}, {"made_of": "solid door"}
    assert room["walls"] == {"left": "brick, plastered",
                             "right": ["plasterboard on studs", window | {"area": "2.5 m2"}, door | {"area": "1.8 m2"}],
                             "front": "window glass, double",
                             "back": ["window glass, double", door | {"area": "3.6 m2"}],
                             "floor": "carpet on concrete", "ceiling": "suspended ceiling"}
    assert room["seat"] == [{"name": "seat 1", "at": ["2.25 m", "4.1 m", "1.05 m"]}]
    assert room["driver"] == {"fs": "24 Hz", "qts": 0.38, "vas": "62 L", "sd": "480 cm2", "re": "3.4 ohm",
                              "qes": 0.42, "xmax": "11 mm"}
    assert room["keep_out"] == [{"name": "door swing", "from": ["3.6 m", "5.2 m"], "to": ["4.5 m", "6.1 m"]}]
    # Qtc 0.7071 by Small 1972: V = Vas/((Qtc/Qts)^2 - 1)/1.15, written to 0.1 L.
    assert float(room["box"]["volume"].removesuffix(" L")) == pytest.approx(
        62 / ((0.7071 / 0.38) ** 2 - 1) / 1.15, abs=0.051)


def test_back_a_question_and_doubts(tmp_path):
    """< takes the last answer back; a bare number is told with its unit; what is unusual is asked about once."""
    answers = ["m", "Den", "<", "Attic", "4.5", "", "8", "8", *[""] * (QUESTIONS - 5)]
    code, screen = all_at_once(tmp_path, answers)
    assert code == 0, screen
    room = read_room(tmp_path)
    assert room["title"] == "Attic" and room["room"]["width"] == "4.5 m" and room["room"]["height"] == "8 m"
    assert "taken as 4.5 m" in screen and screen.count("8 m would be unusual") == 1


def test_imperial(tmp_path):
    answers = ["i", "", "13 ft 5 in", "17", "8", "", *[""] * 4, "", "window 30", *[""] * 5, "1", "6", "11 ft 6 in", "3 ft 7 in", "", "", "1.5", "51", *[""] * 5]
    code, screen = all_at_once(tmp_path, answers)
    assert code == 0, screen
    room = read_room(tmp_path)
    assert room["room"] == {"width": "13 ft 5 in", "length": "17 ft", "height": "8 ft", "contents": "furnished"}
    assert room["walls"]["front"][1]["area"] == "30 ft2" and room["walls"]["back"][1]["area"] == "20 ft2"
    assert room["seat"][0]["at"] == ["6 ft", "11 ft 6 in", "3 ft 7 in"]
    assert room["driver"]["vas"] == "1.5 ft3" and room["driver"]["sd"] == "51 in2"
    assert "--units imperial" in screen
    assert run("plan", "room.toml", cwd=tmp_path).returncode == 0


@pytest.mark.parametrize("corner, outline, walls", [
    ("back right", [(0, 0), (6, 0), (6, 3.5), (4, 3.5), (4, 5), (0, 5)], "front right left left back left"),
    ("back left", [(0, 0), (6, 0), (6, 5), (2, 5), (2, 3.5), (0, 3.5)], "front right back left left left"),
    ("front right", [(0, 0), (4, 0), (4, 1.5), (6, 1.5), (6, 5), (0, 5)], "front left left right back left"),
    ("front left", [(0, 1.5), (2, 1.5), (2, 0), (6, 0), (6, 5), (0, 5)], "left left front right back left")])
def test_an_l(tmp_path, corner, outline, walls):
    """A rectangle of 6 by 5 m that lacks 2 by 1.5 m; a seat in what lacks is asked for again."""
    names = {"left": "brick, plastered", "right": "heavy masonry", "front": "window glass", "back": "solid door"}
    inside_gap = ["0.5", "5.5"]["right" in corner], ["0.5", "4.5"]["back" in corner]
    answers = ["m", "", "6", "5", "2.4", corner, "2", "1.5", *[w for n in names.values() for w in (n, "none")], "", "",
               "", "1", inside_gap[0], inside_gap[1], "2.5", *[""] * 11]
    code, screen = all_at_once(tmp_path, answers)
    assert code == 0, screen
    assert "the room lacks that corner" in screen
    room = read_room(tmp_path)
    assert [[float(v.removesuffix(" m")) for v in p] for p in room["room"]["floor_plan"]] == [list(p) for p in outline]
    assert [room["walls"][f"edge_{n + 1}"] for n in range(6)] == [names[w] for w in walls.split()]
    assert run("check", "room.toml", cwd=tmp_path).returncode == 0


def test_nonsense_is_said_at_once_and_asked_again(tmp_path):
    answers = ["furlongs", "m", "", "wide", "-3", "4,2", "38 L", "4.2", "", "", "front", "none", "marble", "99", "window glas", "hatch", "door 40", "door -1", "", *[""] * 8,
               "cosy", "", "2.5", "0", "many", "1", "9", "2", "", "", "900 Hz", "27", "1.4", "0", "0.45", "big", "38", "huge", "", "heavy", *[""] * 5]
    code, screen = all_at_once(tmp_path, answers)
    assert code == 0, screen
    for said in ["is no corner", "is neither", "is not a number", "cannot be", "has a comma", "is a volume", "is not known",
                 "no number 99", "has only 13.0 m2", "is neither", "are not known", "whole number from 1 to 20", "for a closed box"]:
        assert said in screen, said
    assert read_room(tmp_path)["walls"]["left"] == "window glass"
    assert run("check", "room.toml", cwd=tmp_path).returncode == 0


@pytest.mark.parametrize("given", [0, 1, 6, QUESTIONS - 1])
def test_end_of_input_writes_nothing(given, tmp_path):
    terminal = Terminal(tmp_path)
    for _ in range(given):
        terminal.read(until="? ")
        terminal.type("\n")
    terminal.read(until="? ")
    terminal.type("\x04")  # what Ctrl-D sends
    assert terminal.end() == 2
    assert "nothing was written" in terminal.screen
    assert list(tmp_path.iterdir()) == []


def test_interrupt_writes_nothing(tmp_path):
    terminal = Terminal(tmp_path)
    terminal.answer("m", "Metric or imperial")
    terminal.process.send_signal(signal.SIGINT)
    assert terminal.end() != 0
    assert list(tmp_path.iterdir()) == []


def test_somebody_who_never_answers_well_is_let_go(tmp_path):
    done = subprocess.run([PROGRAM, "new", "room.toml", "--ask"], input="y\n" * 500, cwd=tmp_path,
                          capture_output=True, text=True, timeout=HANG)
    assert done.returncode == 2 and "a dozen answers" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ['"; rm -rf', "\\ back \\n", "[x] = 1 # no", "\u00fcber \u5ba4", "\x01\x02", "x" * 5000])
def test_any_name_is_kept_as_text(name, tmp_path):
    done = subprocess.run([PROGRAM, "new", "room.toml", "--ask"], input="m\n" + name + "\n" + "\n" * QUESTIONS,
                          cwd=tmp_path, capture_output=True, text=True, timeout=HANG)
    assert done.returncode == 0, done.stderr
    assert read_room(tmp_path)["title"] == name[:2000]


def test_never_overwrites_and_asks_nothing_first(tmp_path):
    (tmp_path / "room.toml").write_text("mine")
    code, screen = all_at_once(tmp_path, [])
    assert code == 2 and "Metric" not in screen
    assert (tmp_path / "room.toml").read_text() == "mine"


def test_json_has_standard_output_for_itself(tmp_path):
    done = subprocess.run([PROGRAM, "new", "room.toml", "--ask", "--json"], input="\n" * QUESTIONS, cwd=tmp_path,
                          capture_output=True, text=True, timeout=HANG)
    assert done.returncode == 0 and json.loads(done.stdout)["file"] == "room.toml"


def floor_plan(text):
    lines = text.splitlines()
    top = next(i for i, line in enumerate(lines) if line.startswith("  +="))
    bottom = next(i for i in range(top + 1, len(lines)) if lines[i].startswith("  +-"))
    return [line[3:-1] for line in lines[top + 1:bottom]], "\n".join(lines[bottom + 1:])


def test_check_draws_the_floor_to_scale():
    """Demo: 4.10 x 5.20 m; every mark stands within a character of where the file puts it."""
    rows, key = floor_plan(run("check", DEMO).stdout)
    wide, long = len(rows[0]), len(rows)
    assert len({len(row) for row in rows}) == 1 and wide <= 64 and long <= 24
    assert wide / long / 2 == pytest.approx(4.10 / 5.20, rel=0.05)  # a character is twice as high as wide
    for mark, x, y in [("1", 1.35, 3.60), ("2", 2.05, 3.60), ("3", 3.20, 2.60), ("A", 0.35, 0.40)]:
        (row,) = [n for n, line in enumerate(rows) if mark in line]
        assert abs((rows[row].index(mark) + 0.5) * 4.10 / wide - x) <= 4.10 / wide
        assert abs((row + 0.5) * 5.20 / long - y) <= 5.20 / long
    area = sum(line.count("#") for line in rows) / (wide * long) * 4.10 * 5.20
    assert area == pytest.approx(0.9 * 0.9 + 1.5 * 0.3 + 1.45 * 0.9, rel=0.25)
    for name in ["sofa, left", "armchair", "front left corner", "door swing"]:
        assert name in key


def test_check_floor_of_a_corridor_and_a_crowd(tmp_path):
    text = DEMO.read_text().replace('length = "5.20 m"', 'length = "30 m"', 1)
    text += "".join(f'\n[[seat]]\nname = "row\\u001b[2J {n}"\nat = [1.0, {6 + 0.01 * n}, 1.0]\n' for n in range(40))
    (tmp_path / "room.toml").write_text(text)
    said = run("check", "room.toml", cwd=tmp_path).stdout
    rows, key = floor_plan(said)
    assert "front" in key and len(rows) <= 24 and "\x1b" not in said and "under another mark" in key
