#!/bin/sh
# sh tests/packaging/find_package.sh BUILD_FOLDER
# Installs what was built and builds a program against the installed tree alone.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake --install "$1" --prefix "$work/prefix" >"$work/installed.txt"
cmake -S "$here/find_package" -B "$work/build" -G Ninja -DCMAKE_PREFIX_PATH="$work/prefix"
cmake --build "$work/build"
"$work/build/consumer"

# What is compiled in is passed on with its licence.
for notice in LICENSE THIRD_PARTY_NOTICES.txt; do
    test -s "$work/prefix/share/doc/epicotyl/$notice"
done

# An installed tree can be moved: it names no folder of the place where it was built.
if grep -rIl "$(cd "$here/../.." && pwd)" "$work/prefix"; then
    echo "the files above name the source folder" >&2
    exit 1
fi
