#!/usr/bin/env bash
# Speed as ratios, each taken in one run on this machine. Not part of the tests: nothing here passes or
# fails. Needs a built program and python3-numpy, python3-h5py and libopenblas0-pthread.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
program=${1:-$top/build/boxroom}
/usr/bin/python3 "$top/tests/bench/whole_floor.py" "$program"
command -v xvfb-run >/dev/null && /usr/bin/python3 "$top/tests/bench/view_speed.py" "$program"
if [[ -x $(dirname "$program")/bench_grid_step ]]; then  # build the target bench_grid_step first
    /usr/bin/python3 "$top/tests/bench/grid_step.py" "$(dirname "$program")/bench_grid_step"
fi
if [[ -x $(dirname "$program")/bench_sets ]]; then  # build the target bench_sets first
    OMP_WAIT_POLICY=passive /usr/bin/python3 "$top/tests/bench/sets.py" "$(dirname "$program")"
fi
if [[ -x $(dirname "$program")/bench_one_room ]]; then  # build the target bench_one_room first
    OMP_WAIT_POLICY=passive "$(dirname "$program")/bench_one_room"
fi
for room in demo timber_frame large_leaky; do
    echo "$room"
    /usr/bin/python3 "$top/tests/bench/plan.py" "$program" "$top/rooms/$room.toml"
done
[[ -f $(dirname "$program")/boxroom_engine.wasm.gz ]] && /usr/bin/python3 "$top/tests/bench/page_speed.py" "$program"
# Not a speed: whether the layouts that are commonly quoted come out (build bench_layouts first).
if [[ -x $(dirname "$program")/bench_layouts ]]; then "$(dirname "$program")/bench_layouts"; fi
