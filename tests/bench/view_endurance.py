#!/usr/bin/python3
"""Random mouse and key events in the window for some minutes, for a build with BOXROOM_SANITIZE=ON.

Every round is a replay with another seed, in turn in a rectangle and in a room solved on a grid; the
first report of the sanitizers, or an end that is not in order, ends it. Prints the rounds, the events
and the largest memory of a process, so that growth from round to round shows.
Usage: view_endurance.py [boxroom] [minutes]
"""
import os, pathlib, resource, subprocess, sys, tempfile, time

here = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(here.parent / "end_to_end"))
program = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "build-san/boxroom")
minutes = float(sys.argv[2]) if len(sys.argv) > 2 else 10
os.environ["BOXROOM"] = program
from test_view import DEMO, L_ROOM, random_events  # noqa: E402

# The drivers of X and OpenGL keep what they take; what is named here is not ours.
LIBRARIES = ["libGLX", "libGL", "libX11", "swrast", "libLLVM", "libfontconfig", "libgomp", "libxcb"]
with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    (folder / "l.toml").write_text(L_ROOM)
    (folder / "not_ours").write_text("".join(f"leak:{name}\n" for name in LIBRARIES))
    environment = dict(os.environ, ASAN_OPTIONS="detect_leaks=1:halt_on_error=1",
                       LSAN_OPTIONS=f"suppressions={folder}/not_ours:print_suppressions=0",
                       UBSAN_OPTIONS="halt_on_error=1:print_stacktrace=1")
    start, rounds, events = time.time(), 0, 0
    while time.time() - start < 60 * minutes:
        room, count = ((DEMO, 150), (folder / "l.toml", 40))[rounds % 2]
        log = folder / "events.log"
        log.write_text("# StreamVersion 1.1\n" + "".join(random_events(1000 + rounds, count)))
        done = subprocess.run(["xvfb-run", "-a", program, "view", room, "--replay", log, "--json", "--quiet"],
                              cwd=folder, env=environment, capture_output=True, text=True)
        if done.returncode or "Sanitizer" in done.stderr or "runtime error" in done.stderr:
            sys.exit(f"seed {1000 + rounds}, status {done.returncode}:\n{done.stderr[-8000:]}")
        rounds, events = rounds + 1, events + count
        most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        print(f"{time.time() - start:6.0f} s  round {rounds:3d}  {events:5d} events  at most {most:.0f} MB",
              flush=True)
