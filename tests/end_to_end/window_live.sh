# Plays a user on the screen of xvfb-run: opens the window, drags, presses keys, closes with q.
# Arguments: program, room file, folder, then from x, from y, to x, to y in the window (y downwards).
set -u
program=$1 room=$2 out=$3
"$program" view "$room" --json --quiet --out "$out" --record "$out/events.log" >"$out/live.json" 2>"$out/live.err" &
pid=$!
for _ in $(seq 200); do
    window=$(xdotool search --onlyvisible --name '^boxroom: ' 2>/dev/null | head -1)
    [ -n "$window" ] && break
    sleep 0.1
done
sleep 1
xdotool mousemove --window "$window" "$4" "$5" mousedown 1
for i in $(seq 20); do
    xdotool mousemove --window "$window" $(($4 + ($6 - $4) * i / 20)) $(($5 + ($7 - $5) * i / 20))
    sleep 0.02
done
xdotool mouseup 1
sleep 0.5
for key in plus f a w p q; do
    xdotool key --window "$window" "$key"
    sleep 0.5
done
for _ in $(seq 100); do
    kill -0 $pid 2>/dev/null || break
    sleep 0.1
done
kill $pid 2>/dev/null && echo "q did not close the window" >&2
wait $pid
