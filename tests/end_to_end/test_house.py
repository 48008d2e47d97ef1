"""The rules of the house that CMake's link lines cannot see: who includes whom (DEVELOPERS.md).

The folders under src/ share one include path, so a forbidden include would compile as long as it
uses nothing but the header.
"""
import pathlib
import re
import shutil
import subprocess

import pytest

from runner import PROGRAM, SOURCE, run

GROUND = {"base", "results", "woofer", "solvers"}
PLACEMENT = GROUND | {"placement"}
TUNING = PLACEMENT | {"tuning"}
MEASURED = TUNING | {"measured"}
ALLOWED = {  # besides the folder's own headers
    "src/base": set(),
    "src/results": {"base"},
    "src/picture": {"base", "results"},
    "src/woofer": {"base"},
    "solvers": {"base"},
    "src/placement": GROUND,
    "src/tuning": PLACEMENT,
    "src/measured": PLACEMENT,
    "src/live": PLACEMENT,
    "src/room_file": MEASURED,
    "src/survey": MEASURED | {"room_file"},
    "src/files": MEASURED,
    "src/report": MEASURED | {"room_file", "files", "picture"},
    "src/answers": MEASURED | {"room_file", "picture/colour_map.hpp", "report", "live/flat_scenario.hpp"},
    "src/page": MEASURED | {"answers", "room_file", "report", "picture", "live/room_fields.hpp"},
    "src/page/engine": {"page", "page/engine", "live/live_exports.hpp"},
    "viz": {"base", "results", "picture"},
    "viz/window": {"base", "results", "picture", "viz"},
    "viz/library": {"base", "results", "picture", "viz", "viz/window"},
    "src/ranks": set(),
    "src/app": MEASURED | {"answers", "page", "live", "room_file", "survey", "ranks", "files", "picture", "report", "viz"},
    # Compiled once for each set of vector instructions: nothing with functions in it (base/lanes.hpp).
    "solvers/vectors": {"base/lanes.hpp", "solvers/floor_vectors.hpp", "solvers/product_vectors.hpp",
                        "solvers/varied_vectors.hpp"},
    "src/placement/vectors": {"base/lanes.hpp", "placement/array_vectors.hpp", "placement/set_vectors.hpp"},
    "src/tuning/vectors": {"base/lanes.hpp", "tuning/settings_vectors.hpp"},
}
HOUSE = {folder.removeprefix("src/").split("/")[0] for folder in ALLOWED}
WORDS = {"src/room_file", "src/survey", "src/files", "src/report", "src/answers", "src/app"}  # what writes sentences
OUTSIDE = {  # who may include whose headers; the standard library is everybody's
    "Eigen/": {"src/base", "src/woofer", "solvers", "src/placement", "src/tuning", "src/measured"},
    "unsupported/Eigen/": {"src/measured"},
    "mpi.h": {"src/ranks"},
    "omp.h": {"src/survey", "src/base", "solvers", "src/placement", "src/tuning", "src/app"},
    "sndfile": {"src/measured"},
    "kissfft/": {"src/measured"},
    "toml++/": {"src/room_file", "src/survey"},
    "fmt/": WORDS,
    "nlohmann/": WORDS - {"src/room_file", "src/survey"},
    "hdf5": {"src/files"},
    "H5": {"src/files"},
    "CLI/": {"src/app"},
    "vtk": {"viz", "viz/window"},
    "png.h": {"viz"},
    "X11/": {"viz/window"},
    "unistd.h": {"src/files", "src/app"},
    "fcntl.h": {"src/files", "src/app"},
    "dlfcn.h": {"src/app"},
    "sys/": {"src/files", "src/app"},
    "malloc.h": {"src/app"},
    "openssl/": {"src/files"},
}


def parts(name):
    return sorted(path for ending in ("hpp", "cpp") for path in (SOURCE / name).glob(f"*.{ending}"))


def fault(folder, name):
    """Why `folder` may not include `name`, or nothing."""
    first = name.split("/")[0]
    if first in HOUSE:
        own = folder.removeprefix("src/")
        inside = "/".join(name.split("/")[:-1])
        if inside == own or name in ALLOWED[folder] or inside in ALLOWED[folder]:
            return None
        return None if folder == "src/app" and first in ALLOWED[folder] else "this folder may not see that one"
    if re.fullmatch(r"[a-z_]+", name):
        return None
    owners = [owners for start, owners in OUTSIDE.items() if name.startswith(start)]
    if not owners:
        return "a library without an owner: give it one in test_house.py"
    return None if folder in owners[0] else f"only {', '.join(sorted(owners[0]))} may use it"


def test_every_folder_has_its_rule():
    found = {path.parent.relative_to(SOURCE).as_posix() for top in ("src", "solvers", "viz")
             for path in (SOURCE / top).rglob("*.[ch]pp")}
    assert found == set(ALLOWED)


@pytest.mark.parametrize("folder", ALLOWED)
def test_includes(folder):
    seen = 0
    for path in parts(folder):
        for name in re.findall(r'(?m)^\s*#\s*include\s*[<"]([^>"]+)[>"]', path.read_text()):
            seen += 1
            assert not fault(folder, name), f"{folder}/{path.name} includes {name}: {fault(folder, name)}"
    assert seen > (1 if folder.endswith("/vectors") else 5)


@pytest.mark.parametrize("folder, name", [
    ("src/base", "results/seat.hpp"), ("src/base", "sndfile.h"), ("src/woofer", "solvers/room.hpp"),
    ("solvers", "woofer/driver.hpp"), ("solvers", "app/session.hpp"), ("src/placement", "tuning/settings.hpp"),
    ("src/placement", "fmt/format.h"), ("src/measured", "tuning/settings.hpp"), ("src/tuning", "sndfile.h"), ("src/tuning", "files/tables.hpp"), ("src/live", "tuning/biquad.hpp"),
    ("src/room_file", "files/tables.hpp"), ("src/files", "toml++/toml.h"), ("src/report", "live/live_room.hpp"),
    ("src/report", "hdf5.h"), ("viz", "placement/scenario.hpp"), ("viz", "viz/window/keys.hpp"),
    ("viz/window", "X12/Xlib.h"), ("src/app", "vtkRenderer.h"), ("src/report", "CLI/CLI.hpp"), ("src/answers", "files/results_file.hpp"), ("src/answers", "app/session.hpp"), ("src/page", "files/results_file.hpp"), ("src/page/engine", "toml++/toml.h"),
    ("src/files", "nlohmann_fork.hpp"), ("solvers/vectors", "solvers/room.hpp"), ("solvers/vectors", "Eigen/Core")])
def test_the_rules_can_be_broken(folder, name):
    assert fault(folder, name)


def vector_objects():
    return sorted(pathlib.Path(PROGRAM).parent.glob("CMakeFiles/*_vectors_*.dir/**/*.o"))


@pytest.mark.skipif(not vector_objects() or not shutil.which("nm"), reason="the build's own files are not here")
@pytest.mark.parametrize("path", vector_objects(), ids=lambda path: "/".join(path.parts[-4:]))
def test_what_is_compiled_for_one_processor_is_shared_with_none(path):
    """Of a function that several files define the linker keeps one: kept from one of these, it would end the
    program on an older processor. So they define nothing weak, and only names of their own set."""
    own = re.search(r"vectors_(baseline|avx2|avx512)", str(path)).group(0)
    names = subprocess.run(["nm", "-C", path], capture_output=True, text=True, check=True).stdout.splitlines()
    defined = [line.split(None, 2)[1:] for line in names if line[:1] != " "]
    assert any(kind in "TDR" for kind, _ in defined)
    for kind, name in defined:
        assert kind not in "WVuvwC", name
        assert kind.islower() or own in name, name


def test_version_says_which_instructions_are_used():
    said = run("--version").stdout
    assert re.search(r"(?m)^\d+\.\d+\.\d+$", said)
    flags = set(pathlib.Path("/proc/cpuinfo").read_text().split())
    if "avx512f" not in flags:
        assert ("AVX2" in said) == ({"avx2", "fma"} <= flags)
