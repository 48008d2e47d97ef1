"""What the tests of faults share with those of the program: tests/end_to_end/runner.py and whole_folder.py."""
import pathlib
import sys

import pytest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "end_to_end"))
from whole_folder import quick_room  # noqa: E402  (only found from here on)


def pytest_addoption(parser):
    parser.addoption("--kills", type=int, default=25, help="how many runs are killed, at moments drawn anew each time")


@pytest.fixture
def room(tmp_path):
    return quick_room(tmp_path)
