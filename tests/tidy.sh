#!/usr/bin/env bash
# clang-tidy over sources, its findings as errors (.clang-tidy). Reads what the build compiles, without
# precompiled headers, so that it also finds a source that does not include what it uses.
#
#   tests/tidy.sh BUILD            what has changed since the branch left main, or in the last commits
#   tests/tidy.sh BUILD FILE...    these files; src/*.cpp and so on for many (some 10 s each)
#
# TIDY_SINCE names another commit to compare with, TIDY_MOST how many files are read at most (the whole
# tree takes half an hour on two cores).
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
build=${1:?tidy.sh: which build folder?}
build=$(cd "$build" && pwd)
shift
most=${TIDY_MOST:-16}

# changed: paths of sources, those changed last first.
changed() {
    local since=${TIDY_SINCE:-} main
    if [ -z "$since" ]; then
        for main in origin/main main; do
            since=$(git merge-base HEAD "$main" 2>/dev/null) && break
        done
        if [ -z "$since" ] || [ "$since" = "$(git rev-parse HEAD)" ]; then
            since=$(git rev-list --max-count=8 HEAD | tail -n 1)
        fi
    fi
    { git diff --name-only HEAD; git log --format= --name-only "$since..HEAD"; } |
        grep -E '^(src|solvers|viz)/.*\.[ch]pp$' | awk '!seen[$0]++' || true
}

cd "$top"
files=("$@")
if [ "${#files[@]}" -eq 0 ]; then
    if ! git rev-parse --verify -q HEAD >/dev/null; then
        echo "tidy.sh: no history here, so nothing is known to have changed" >&2
        exit 0
    fi
    while read -r path; do
        source=${path%.hpp}
        source=${source%.cpp}.cpp  # a header is read with the source named after it
        [ -f "$source" ] && files+=("$source")
    done < <(changed)
    mapfile -t files < <(printf '%s\n' "${files[@]}" | awk 'NF && !seen[$0]++')
    if [ "${#files[@]}" -gt "$most" ]; then
        echo "tidy.sh: ${#files[@]} sources have changed; reading the last $most of them" >&2
        files=("${files[@]:0:$most}")
    fi
fi
[ "${#files[@]}" -gt 0 ] || exit 0

# Each source by itself, not in the batches that the build compiles. GCC's own words mean nothing to clang, nor
# its precompiled headers; without OpenMP's the pragmas are skipped.
commands=$build/tidy
cmake -S "$top" -B "$commands" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_UNITY_BUILD=OFF -DBOXROOM_LIVE=OFF >/dev/null
sed -i -E 's/ -Winvalid-pch| -include [^ ]*cmake_pch\.hxx| -fpch-preprocess| -fopenmp| -Werror//g; s/ --param[ =;]vect[^ ]*//g' \
    "$commands/compile_commands.json"
echo "tidy.sh: ${files[*]}" >&2
printf '%s\0' "${files[@]}" | xargs -0 -n 1 -P "$(nproc)" \
    clang-tidy --quiet -p "$commands" --extra-arg=-Wno-everything --extra-arg=-Wshadow 2> >(grep -v 'warnings\? generated' >&2)
