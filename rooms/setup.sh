#!/usr/bin/env bash
# Installs the Debian packages that are missing and builds boxroom into build/.
#
#   rooms/setup.sh                 the program
#   rooms/setup.sh --tests         the program and its tests, with the packages the tests need
#
# Works from any folder, asks nothing, needs no display. CI=true turns warnings into errors.
set -euo pipefail
export DEBIAN_FRONTEND=noninteractive
exec </dev/null
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

tests=OFF
case "${1:-}" in
    --tests) tests=ON ;;
    "") ;;
    *) echo "setup.sh: unknown argument '$1'; only --tests is known" >&2; exit 2 ;;
esac

packages=(cmake ninja-build g++ pkg-config libeigen3-dev libhdf5-dev libssl-dev libpng-dev libvtk9-dev catch2
    libtomlplusplus-dev libcli11-dev libfmt-dev nlohmann-json3-dev libsndfile1-dev
    libkissfft-dev emscripten node-acorn)
if [ "$tests" = ON ]; then
    packages+=(chromium chromium-driver locales python3-selenium python3-h5py python3-numpy python3-scipy
        python3-pytest libopenblas0-pthread fonts-dejavu-core
        python3-pil xvfb xauth xdotool clang clang-tidy libclang-rt-dev dpkg-dev file libopenmpi-dev openmpi-bin)
fi

missing=()
for package in "${packages[@]}"; do
    status=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing+=("$package")
done

if [ "${#missing[@]}" -gt 0 ]; then
    as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
            as_root=(sudo -n env DEBIAN_FRONTEND=noninteractive)
        else
            echo "setup.sh: these packages are missing and need root to install:" >&2
            echo "  ${missing[*]}" >&2
            echo "Run this as root, or let an administrator run:" >&2
            echo "  apt-get install --no-install-recommends ${missing[*]}" >&2
            exit 1
        fi
    fi
    echo "== Fetching the list of packages" >&2
    "${as_root[@]}" apt-get update -qq >&2
    echo "== Installing (about a minute): ${missing[*]}" >&2
    "${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" >&2
fi

# The accessibility check of the report; without npm, or without a network, that one test is skipped.
axe=axe-core@4.10.3
if [ "$tests" = ON ] && [ ! -f "$top/build/npm/node_modules/axe-core/axe.min.js" ]; then
    echo "== Fetching $axe for a test" >&2
    mkdir -p "$top/build/npm"
    timeout 120 npm install --prefix "$top/build/npm" --no-save --no-audit --no-fund \
        --ignore-scripts --loglevel=error "$axe" >&2 ||
        echo "setup.sh: no $axe (is npm there?): the accessibility check will be skipped" >&2
fi

werror=OFF
[ "${CI:-}" = true ] && werror=ON
echo "== Configuring build/ (tests $tests, warnings as errors $werror)" >&2
# A build folder made by another generator stays as it is: CMake cannot change it.
generator=(-G Ninja)
[ -f "$top/build/CMakeCache.txt" ] && generator=()
cmake -S "$top" -B "$top/build" "${generator[@]}" -DCMAKE_BUILD_TYPE=Release \
    -DBOXROOM_TESTS="$tests" -DBOXROOM_WERROR="$werror" >&2

if [ "$tests" = ON ]; then
    echo "== Building the program and the tests" >&2
    cmake --build "$top/build" --parallel >&2
else
    echo "== Building the program (some minutes the first time)" >&2
    cmake --build "$top/build" --parallel --target boxroom >&2
fi
