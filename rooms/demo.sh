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
# The answer first: the page's engine takes the compiler some minutes more. With it, the report is the page.
echo "== Building the page for a browser, $top/build/boxroom.html" >&2
# The whole list first: grep -q goes at its first find, and what still writes to it fails the pipe.
targets=$(cmake --build "$top/build" --target help)
if grep -q boxroom_html <<<"$targets"; then
    cmake --build "$top/build" --parallel --target boxroom_html >&2
    "$top/build/boxroom" plan "$top/rooms/demo.toml" --out "$out" --quiet >/dev/null
    echo "== The report in $out is live now, and plans again" >&2
else
    echo "(no em++ here, so no page)" >&2
fi
