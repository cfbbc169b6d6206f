#!/bin/sh
# sh tests/packaging/wheel.sh PYTHON BUILD_FOLDER
# Builds the wheel, in a folder where most may be built already, installs it into a new
# environment, and plans a season there.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cd "$top"
"$1" -m pip wheel --no-build-isolation --no-deps \
    --config-settings build-dir="$2" --wheel-dir "$work" .
"$1" -m venv "$work/clean"
"$work/clean/bin/python" -m pip install "$work"/epicotyl-*.whl

# From elsewhere, so that no file of the project can stand in for one of the wheel.
cd "$work"
"$work/clean/bin/python" - "$top/examples/quillet_hollow/farm.toml" <<'END'
import importlib.metadata, sys, epicotyl
notices = [one for one in importlib.metadata.files("epicotyl") if one.name.endswith("NOTICES.txt")]
assert len(notices) == 1 and "Boost Software License" in notices[0].read_text(encoding="utf-8")
print(str(epicotyl.open_season(sys.argv[1]).calendar).splitlines()[0])
END
