"""The rules of the house that CMake's link lines cannot see: who includes whom (DEVELOPERS.md).

The folders under src/ share one include path, so a forbidden include would compile as long as it
uses nothing but the header.
"""
import re

import pytest

from runner import SOURCE

ALLOWED = {
    "src/base": set(),
    "src/results": {"base"},
    "src/woofer": {"base"},
    "solvers": {"base"},
    "src/placement": {"base", "results", "woofer", "solvers"},
    "src/live": {"base", "results", "woofer", "solvers", "placement"},
    "src/io": {"base", "results", "woofer", "solvers", "placement"},
    "viz": {"base", "results"},
    "viz/window": {"base", "results", "viz"},
}
HOUSE = {"base", "results", "woofer", "solvers", "placement", "live", "io", "viz", "app"}
OUTSIDE = {"vtk": {"viz", "viz/window"}, "hdf5": {"src/io"}, "H5": {"src/io"}, "X11": {"viz/window"}, "toml++": {"src/io"}}


def includes(folder):
    for path in sorted((SOURCE / folder).glob("*.[ch]pp")):
        for name in re.findall(r'(?m)^\s*#\s*include\s*[<"]([^>"]+)[>"]', path.read_text()):
            yield path.name, name


@pytest.mark.parametrize("folder", ALLOWED)
def test_includes(folder):
    own = folder.split("/")[-1]
    assert list((SOURCE / folder).glob("*.hpp"))
    for file, name in includes(folder):
        first = name.split("/")[0]
        assert first not in HOUSE or first in ALLOWED[folder] | {own}, f"{folder}/{file}: {name}"
        for start, owners in OUTSIDE.items():
            assert not name.startswith(start) or folder in owners, f"{folder}/{file}: {name}"
