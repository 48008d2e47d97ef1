#!/usr/bin/env bash
# Sets up, builds everything and runs every test. CI=true turns warnings into errors.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
exec </dev/null

"$top/rooms/setup.sh" --tests

# One X server for the whole run: tests/end_to_end/window.py starts its own where this one is not.
screen=$(mktemp -d)
mkfifo "$screen/number"
Xvfb -displayfd 3 -screen 0 1920x1200x24 -noreset -nolisten tcp 3>"$screen/number" >/dev/null 2>&1 &
server=$!
trap 'kill "$server" 2>/dev/null || true; rm -r "$screen"' EXIT
read -r number <"$screen/number" || { echo "run.sh: Xvfb did not start" >&2; exit 1; }
export BOXROOM_TEST_DISPLAY=":$number"

echo "== Running the tests" >&2
ctest --test-dir "$top/build" --output-on-failure "$@"
