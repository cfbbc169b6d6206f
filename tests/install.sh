# What the two commands share: saying what will be installed, asking, installing. Sourced with the
# project's top folder as the working directory.
#
# Debian's packages come by apt-get; everything else goes into .venv and build/, which are the
# project's own.

venv=.venv

say() { printf '%s\n' "$*"; }

stop() {
    printf '%s\n' "$*" >&2
    exit 2
}

CMAKE_BUILD_PARALLEL_LEVEL=${CMAKE_BUILD_PARALLEL_LEVEL:-$(getconf _NPROCESSORS_ONLN)}
export CMAKE_BUILD_PARALLEL_LEVEL
PYTHONUTF8=1
export PYTHONUTF8
if command -v ccache >/dev/null; then
    CMAKE_CXX_COMPILER_LAUNCHER=ccache
    export CMAKE_CXX_COMPILER_LAUNCHER
fi

# What the library and its Python package are built with.
build_packages="cmake ninja-build g++ libhowardhinnant-date-dev libboost-dev libfmt-dev
                libtomlplusplus-dev zlib1g-dev"

# A Python from 3.11 on that can make a virtual environment and compile a module for itself.
usable_python() {
    for candidate in python3 python3.11 /usr/bin/python3; do
        if "$candidate" - 2>/dev/null <<'END'
import ensurepip, pathlib, sys, sysconfig, venv
header = pathlib.Path(sysconfig.get_path("include"), "Python.h")
sys.exit(0 if sys.version_info >= (3, 11) and header.exists() else 1)
END
        then
            printf '%s\n' "$candidate"
            return 0
        fi
    done
    return 1
}

# The Debian packages among the arguments that are not installed.
missing_debian_packages() {
    for package in "$@"; do
        case $(dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null) in
        ?i*) ;;
        *) printf '%s ' "$package" ;;
        esac
    done
}

# The Python packages that pyproject.toml asks for and .venv lacks: to build, to use, and those of
# the extras that are named. Needs a Python from 3.11 on to read the file.
missing_python_packages() {
    reader=$venv/bin/python
    [ -x "$reader" ] || reader=$(usable_python) || reader=python3
    "$reader" - "$@" 2>/dev/null <<'END' || printf 'those that pyproject.toml names'
import importlib.metadata, pathlib, re, sys, tomllib

file = tomllib.loads(pathlib.Path("pyproject.toml").read_text(encoding="utf-8"))
project = file["project"]
wanted = file["build-system"]["requires"] + project.get("dependencies", [])
for extra in sys.argv[1:]:
    wanted += project["optional-dependencies"][extra]

def is_there(requirement):
    name = re.match(r"[A-Za-z0-9._-]+", requirement)[0]
    try:
        importlib.metadata.distribution(name)
    except importlib.metadata.PackageNotFoundError:
        return False
    return sys.prefix != sys.base_prefix

print(*sorted({one.replace(" ", "") for one in wanted if not is_there(one)}))
END
}

is_debian_12_or_later() {
    [ -r /etc/os-release ] || return 1
    (
        . /etc/os-release
        [ "$ID" = debian ] && [ "${VERSION_ID:-99}" -ge 12 ] && command -v apt-get >/dev/null
    )
}

ask() {
    printf '%s [y/N] ' "$1" >&2
    read -r answer || answer=no
    case $answer in
    y | Y | yes | Yes) ;;
    *) stop "Nothing was installed." ;;
    esac
}

install_debian_packages() {
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null ||
            stop "Debian's packages need root, and there is no sudo here. As root, run
    apt-get install $*
and then this command again."
        as_root=sudo
    fi
    # No question can be answered in the middle of it.
    $as_root apt-get update &&
        $as_root env DEBIAN_FRONTEND=noninteractive \
            apt-get install --yes --no-install-recommends "$@" ||
        stop "apt-get could not install: $*"
}

# install "DEBIAN PACKAGES" "PYTHON EXTRAS": says what is missing, asks at a terminal unless
# $yes is set, and installs it. With $debian_is_done nothing is asked of apt-get.
install() {
    wanted=$1
    extras=$2
    usable_python >/dev/null || wanted="$wanted python3 python3-dev python3-venv"

    debian_missing=
    if [ -z "$debian_is_done" ]; then
        is_debian_12_or_later ||
            stop "This is not Debian 12 or later. Install what these packages of Debian hold:
    $(printf '%s ' $wanted)
and run this command again with --no-apt."
        debian_missing=$(missing_debian_packages $wanted)
    fi
    python_missing=$(missing_python_packages $extras)

    if [ -n "$debian_missing$python_missing" ]; then
        say "To be installed:"
        [ -z "$debian_missing" ] || say "    Debian packages, by apt-get: $debian_missing"
        [ -z "$python_missing" ] || say "    Python packages, into $venv: $python_missing"
        if [ -z "$yes" ] && [ -t 0 ]; then ask "Go on?"; fi
    fi
    [ -z "$debian_missing" ] || install_debian_packages $debian_missing

    if ! "$venv/bin/python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
        python=$(usable_python) ||
            stop "There is no Python from 3.11 on with the modules venv and ensurepip and the file
Python.h. Debian 12 has them in the packages python3, python3-venv and python3-dev."
        "$python" -m venv --clear "$venv" || stop "could not make $venv"
        python_missing=$(missing_python_packages $extras)
    fi
    [ -z "$python_missing" ] || "$venv/bin/python" -m pip install $python_missing ||
        stop "pip could not install: $python_missing"
}

# install_if_it_can EXTRA: the packages of an extra that are of use and that all goes on without.
install_if_it_can() {
    python_missing=$(missing_python_packages "$1")
    [ -z "$python_missing" ] || "$venv/bin/python" -m pip install $python_missing ||
        say "Goes on without: $python_missing"
}

# Builds the library once, and from it the Python package, which goes into .venv, and the program
# of examples/season.cpp. What it is built with is there already, and the build folder is kept, so
# that a second time is quick. Further arguments are pip's.
package_build=build/package
install_python_package() {
    # Debian 12's own pip knows no short form of --config-settings.
    "$venv/bin/python" -m pip install --no-build-isolation --no-deps \
        --config-settings build-dir="$package_build" \
        --config-settings cmake.define.EPICOTYL_BUILD_EXAMPLES=ON \
        --config-settings build.targets="${package_targets:-_core;season}" "$@" .
}
