#!/bin/sh
# sh tests/packaging/source.sh PYTHON
# Makes the source distribution, and from it a wheel, with nothing but what pyproject.toml asks
# for: what is missing from either shows here.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cd "$top"
"$1" -c 'import sys; from scikit_build_core.build import build_sdist; build_sdist(sys.argv[1])' \
    "$work"
"$1" -m venv "$work/clean"
"$work/clean/bin/python" -m pip install "$work"/epicotyl-*.tar.gz
cd "$work"
"$work/clean/bin/python" -c 'import epicotyl; print(epicotyl.__version__)'
