#!/bin/sh
# Builds a program that has epicotyl among its own folders, as a shared library, and looks at
# what that library exports.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$here/../../build/add_subdirectory

cmake -S "$here/add_subdirectory" -B "$build" -G Ninja
cmake --build "$build"
"$build/consumer"

# toml++ is an affair of the library's own.
if nm -DC --defined-only "$build"/epicotyl/libepicotyl.so | grep 'toml::'; then
    echo "the library exports the names of toml++ above" >&2
    exit 1
fi
