#!/bin/sh
# From a bare Debian 12 machine to the calendar of the demo farm: installs what is missing, builds
# the C++ library and the Python package, lets both plan the same season, checks that they print
# the same, and shows it.
set -eu

usage() {
    cat <<'END'
sh examples/quickstart.sh [--weather FILE --latitude L] [--yes] [--no-apt]

    --weather FILE   the season at another place: its daily weather, as GHCN-Daily (.dly), or as a
                     table with the columns date, tmin_c and tmax_c; either may be gzipped (.gz)
    --latitude L     its latitude in degrees, south negative
    --yes            install without asking
    --no-apt         the system packages are there; do not look for Debian's
END
}

yes=
debian_is_done=
weather=
latitude=
while [ $# -gt 0 ]; do
    case $1 in
    --weather | --latitude)
        [ $# -ge 2 ] || { usage >&2; exit 2; }
        if [ "$1" = --weather ]; then weather=$2; else latitude=$2; fi
        shift
        ;;
    --yes) yes=1 ;;
    --no-apt) debian_is_done=1 ;;
    --help | -h) usage; exit 0 ;;
    *) printf 'unknown: %s\n' "$1" >&2; usage >&2; exit 2 ;;
    esac
    shift
done
case ${weather:+weather}${latitude:+latitude} in
weather | latitude)
    printf '%s\n' "--weather and --latitude go together" >&2
    exit 2
    ;;
esac
case $weather in
'' | /*) ;;
*) weather=$PWD/$weather ;;
esac
[ -z "$weather" ] || [ -r "$weather" ] || { printf 'cannot read %s\n' "$weather" >&2; exit 2; }

cd "$(dirname "$0")/.."
. tests/install.sh

install "$build_packages" ""

say "Building the C++ library, the program examples/season.cpp and the Python package: some minutes"
install_python_package

set -- examples/quillet_hollow/farm.toml
if [ -n "$weather" ]; then
    set -- "$@" --weather "$weather" --latitude "$latitude"
fi
"$package_build/examples/season" "$@" >build/season_from_cpp.txt
"$venv/bin/python" examples/season.py "$@" >build/season_from_python.txt
cmp build/season_from_cpp.txt build/season_from_python.txt ||
    stop "C++ and Python print different seasons; this is a bug"

say
cat build/season_from_cpp.txt
say
say "The C++ program and the Python program printed the same, this:"
say "    $package_build/examples/season $*"
say "    $venv/bin/python examples/season.py $*"
