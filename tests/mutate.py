#!/usr/bin/env python3
"""Breaks the code on purpose, a line at a time, and says which faults no test notices.

    python3 tests/mutate.py                 all of tests/mutations.py; status 1 if any survives, 2 if
                                            a pattern no longer fits or a test fails by itself
    python3 tests/mutate.py --only NAME     these (the option may be given again; * stands for anything)
    python3 tests/mutate.py --list          their names

Works in build-mutate/, a copy of the tree with a build of its own, which stays for the next time: the first
run compiles everything (from ccache where there is one), each mutation the few files that it touches.
Nothing in the tree itself is changed. Not part of CI: a run takes minutes a mutation.
"""
import argparse
import fnmatch
import os
import pathlib
import re
import shutil
import subprocess
import sys

from mutations import MUTATIONS

TOP = pathlib.Path(__file__).resolve().parents[1]
# The build lies in the tree as it does at home, so that the compiler cache knows each file again.
TREE = TOP / "build-mutate"
BUILD = TREE / "build"


class Refused(Exception):
    """The list of mutations is wrong, or the tree fails without any."""


def mutated(mutation, text):
    count = text.count(mutation.before)
    if count != 1:
        raise Refused(f"{mutation.name}: '{mutation.before}' stands {count} times in {mutation.file}, not once")
    return text.replace(mutation.before, mutation.after)


def copy_tree():
    """The tree as it stands, committed or not; what is the same keeps its time, so that it is not built again."""
    names = subprocess.run(["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"], cwd=TOP, check=True,
                           capture_output=True, text=True).stdout.split("\0")
    wanted = {name for name in names if name and (TOP / name).is_file()}
    for path in [path for path in TREE.rglob("*") if path.is_file()]:
        if (path.relative_to(TREE).as_posix() not in wanted and "__pycache__" not in path.parts
                and BUILD not in path.parents):
            path.unlink()
    for name in wanted:
        source, target = TOP / name, TREE / name
        if not target.exists() or target.read_bytes() != source.read_bytes():
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, target)


def run(command, **options):
    return subprocess.run(list(map(str, command)), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, **options)


def must(command, what, **options):
    done = run(command, **options)
    if done.returncode:
        raise Refused(f"{what}:\n{done.stdout[-3000:]}")
    return done.stdout


def configure():
    TREE.mkdir(exist_ok=True)
    copy_tree()
    launcher = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
    must(["cmake", "-S", TREE, "-B", BUILD, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release", *launcher], "cmake")


def environment():
    """For a compiler cache: objects are the same wherever the tree stands."""
    mine = {"CCACHE_BASEDIR": str(TREE), "CCACHE_NOHASHDIR": "1", "CCACHE_SLOPPINESS": "time_macros,pch_defines",
            "BOXROOM": str(BUILD / "boxroom"), "BOXROOM_SOURCE_DIR": str(TREE)}
    return os.environ | mine


def tests_of(mutation):
    """CTest's names, and the targets that they are built from."""
    names = []
    if mutation.ctest:
        said = must(["ctest", "--test-dir", BUILD, "-N", "-R", mutation.ctest], "ctest")
        names = re.findall(r"Test +#\d+: (\S+)", said)
        if not names:
            raise Refused(f"{mutation.name}: no test is called '{mutation.ctest}'")
    elif not mutation.pytest:
        raise Refused(f"{mutation.name}: no test is named that should notice it")
    targets = {"boxroom" if name.startswith("end_to_end") else f"test_{name}" for name in names}
    return names, sorted(targets | ({"boxroom"} if mutation.pytest else set()))


def noticed(mutation):
    """Builds, runs the tests, and gives what they said if one fails, else nothing."""
    names, targets = tests_of(mutation)
    must(["ninja", "-C", BUILD, *targets], f"{mutation.name} does not build", env=environment())
    done = []
    if names:
        done.append(run(["ctest", "--test-dir", BUILD, "-R", mutation.ctest, "--output-on-failure"], env=environment()))
    if mutation.pytest:
        done.append(run(["/usr/bin/python3", "-m", "pytest", "-q", "-p", "no:cacheprovider", *mutation.pytest],
                        cwd=TREE / "tests" / "end_to_end", env=environment()))
        if done[-1].returncode == 5:
            raise Refused(f"{mutation.name}: pytest finds no test by {' '.join(mutation.pytest)}")
    return "\n".join(each.stdout for each in done if each.returncode)


def survives(mutation):
    path = TREE / mutation.file
    text = path.read_text()
    path.write_text(mutated(mutation, text))
    try:
        return not noticed(mutation)
    finally:
        path.write_text(text)


def chosen(patterns):
    for pattern in patterns:
        if not any(fnmatch.fnmatch(m.name, pattern) for m in MUTATIONS):
            raise Refused(f"there is no mutation '{pattern}'; --list names them")
    return [m for m in MUTATIONS if not patterns or any(fnmatch.fnmatch(m.name, p) for p in patterns)]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", action="append", default=[], metavar="NAME")
    parser.add_argument("--list", action="store_true")
    options = parser.parse_args()
    mutations = chosen(options.only)
    for mutation in mutations:
        mutated(mutation, (TOP / mutation.file).read_text())
    if options.list:
        print("\n".join(f"{m.name}: {m.file}" for m in mutations))
        return 0
    print("building without any mutation ...", flush=True)
    configure()
    for mutation in {(m.ctest, m.pytest): m for m in mutations}.values():
        if said := noticed(mutation):
            raise Refused(f"the tests of {mutation.name} fail without any mutation:\n{said[-3000:]}")
    survivors = 0
    for mutation in mutations:
        alive = survives(mutation)
        survivors += alive
        print(f"{'SURVIVES' if alive else 'noticed '}  {mutation.name}", flush=True)
    print(f"{survivors} of {len(mutations)} survive")
    return 1 if survivors else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except Refused as refused:
        print(f"mutate.py: {refused}", file=sys.stderr)
        sys.exit(2)
