#!/usr/bin/env bash
# Sets up, builds everything and runs every test. CI=true turns warnings into errors.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
exec </dev/null

"$top/rooms/setup.sh" --tests
echo "== Running the tests" >&2
ctest --test-dir "$top/build" --output-on-failure "$@"
