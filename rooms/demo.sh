#!/usr/bin/env bash
# From nothing to a recommendation for the demo room: sets up, builds, plans.
#
# Works from any folder, asks nothing, needs no display. The report is written to
# demo-results/ in the folder this is started from.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
unset DISPLAY
exec </dev/null

"$top/rooms/setup.sh"
echo "== Planning rooms/demo.toml" >&2
out="$PWD/demo-results"
"$top/build/boxroom" plan "$top/rooms/demo.toml" --out "$out"
