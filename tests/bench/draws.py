"""The draws of uncertain inputs: how long 500 of the demo plan take.

    draws.py PROGRAM
"""
import json
import pathlib
import subprocess
import sys
import tempfile

demo = pathlib.Path(__file__).resolve().parents[2] / "rooms" / "demo.toml"
for subs in (1, 2, 4):
    with tempfile.TemporaryDirectory() as out:
        said = subprocess.run([sys.argv[1], "plan", demo, "--subs", str(subs), "--json", "--quiet", "--out", out],
                              capture_output=True, text=True, check=True).stdout
    timing = json.loads(said)["timing_s"]
    print(f"plan --subs {subs}: 500 draws of {10 * subs} sets {timing['robustness']:.1f} s, "
          f"searching {timing['search']:.1f} s, settings and equalisers {timing['settings']:.1f} s, "
          f"all {sum(timing.values()):.1f} s")
