#!/usr/bin/env bash
# The unit tests with AddressSanitizer and UndefinedBehaviorSanitizer (CMakeLists.txt here), every command
# once, wrong room files, and the harnesses of tests/fuzz side by side. The first finding of any ends it.
#
#   tests/sanitized/run.sh BUILD [SECONDS]    BUILD is a finished build, SECONDS how long is fuzzed (60)
#
# The harnesses begin with tests/fuzz/seeds, corpus.tar.xz and rooms/*.toml; what they find is kept in
# BUILD/sanitized/corpus.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=$(cd "${1:?run.sh: which build folder?}" && pwd)
seconds=${2:-60}
own=$build/sanitized
# A finding is told from a command's own failure. Leaks are looked for nowhere: that asks for ptrace, which
# containers refuse, and what ends at once leaks nothing that matters.
export ASAN_OPTIONS=exitcode=99:detect_leaks=0 UBSAN_OPTIONS=exitcode=99:print_stacktrace=1

echo "== Building" >&2
command -v clang++ >/dev/null || { echo "sanitized/run.sh: no clang++ here (Debian: clang)" >&2; exit 1; }
cmake -S "$top/tests/sanitized" -B "$own" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DPLAIN="$build" >&2
cmake --build "$own" --parallel >&2

echo "== Unit tests, in as many parts as there are processors" >&2
ulimit -s "$(ulimit -H -s)"  # frames of tests that nothing optimises
parts=$(nproc)
"$own/unit" --list-test-names-only >"$own/names" || true  # it exits with their number
part() {
    awk -v part="$1" -v parts="$parts" 'NR % parts == part' "$own/names" >"$own/names$1"
    "$own/unit" --input-file "$own/names$1" >"$own/unit$1.log" 2>&1
}
all=()
for ((n = 0; n < parts; ++n)); do
    part "$n" &
    all+=($!)
done
for n in "${!all[@]}"; do
    wait "${all[$n]}" || { tail -n 60 "$own/unit$n.log" >&2; exit 1; }
    tail -n 2 "$own/unit$n.log" >&2
done

echo "== Commands" >&2
BOXROOM=$own/boxroom BOXROOM_SOURCE_DIR=$top /usr/bin/python3 -m pytest -q -p no:cacheprovider \
    "$top/tests/faults/test_lost_output.py" "$top/tests/end_to_end/test_bad_input.py" \
    -k "(every_command and not closed) or refused_with or not_a_room or alive" >&2

echo "== Fuzzing, all at once for $seconds s" >&2
export BOXROOM_FUZZ_RESEAL=1  # files_results: libhdf5 sees what was changed
"$own/boxroom" listen "$top/rooms/masonry_small.toml" --quiet --out "$own/seed" >/dev/null
mkdir -p "$own/corpus"
tar -C "$own/corpus" --skip-old-files -xJf "$top/tests/fuzz/corpus.tar.xz"
declare -A running
for harness in "$own"/fuzz_*; do
    [ -x "$harness" ] || continue
    name=$(basename "$harness")
    name=${name#fuzz_}
    corpus=$own/corpus/$name
    mkdir -p "$corpus"
    seeds=()
    [ -d "$top/tests/fuzz/seeds/$name" ] && seeds+=("$top/tests/fuzz/seeds/$name")
    [ "$name" = room_file ] && seeds+=("$top/rooms")
    [ "$name" = survey_file ] && cp "$top/rooms/survey.toml" "$corpus"
    [ "$name" = files_results ] && cp "$own/seed/listen.h5" "$corpus"
    dictionary=()
    [ -f "$top/tests/fuzz/$name.dict" ] && dictionary=("-dict=$top/tests/fuzz/$name.dict")
    # Commands say much, and each of them takes longer.
    more=()
    [ "$name" = app_commands ] && more+=(-close_fd_mask=3 -max_len=64)
    "$harness" "${dictionary[@]}" "${more[@]}" -max_total_time="$seconds" -rss_limit_mb=2048 -timeout=300 \
        -print_final_stats=1 -artifact_prefix="$own/found_$name-" "$corpus" "${seeds[@]}" \
        >"$own/$name.log" 2>&1 &
    running[$name]=$!
done
failed=0
for name in "${!running[@]}"; do
    if ! wait "${running[$name]}"; then
        failed=1
        tail -n 60 "$own/$name.log" >&2
    fi
    printf '%-22s %s runs, %s edges\n' "$name" \
        "$(sed -n 's/^stat::number_of_executed_units: *//p' "$own/$name.log")" \
        "$(grep -o 'cov: [0-9]*' "$own/$name.log" | tail -n 1 | cut -d' ' -f2)" >&2
done
exit "$failed"
