#!/bin/sh
# Builds and tests everything. The last line counts, whatever happened before it:
# "N passed, N failed, N skipped".
set -u

usage() {
    cat <<'END'
sh tests/run.sh [--thorough] [--yes] [--no-apt]

    --thorough   also build with Clang, run under sanitizers, check style, fuzz, and build the
                 Python package in a clean environment (EPICOTYL_FUZZ_SECONDS, default 20, is how
                 long each fuzz target runs)
    --yes        install without asking
    --no-apt     the system packages are there; do not look for Debian's

Tests against published data need the folder that EPICOTYL_REFERENCE_DATA names; without it they
are counted as skipped.
END
}

yes=
debian_is_done=
thorough=
for option in "$@"; do
    case $option in
    --thorough) thorough=1 ;;
    --yes) yes=1 ;;
    --no-apt) debian_is_done=1 ;;
    --help | -h) usage; exit 0 ;;
    *) printf 'unknown: %s\n' "$option" >&2; usage >&2; exit 2 ;;
    esac
done

# Tests run in folders of their own, where a relative path would lead elsewhere.
if [ -d "${EPICOTYL_REFERENCE_DATA:-}" ]; then
    EPICOTYL_REFERENCE_DATA=$(cd "$EPICOTYL_REFERENCE_DATA" && pwd)
    export EPICOTYL_REFERENCE_DATA
fi
cd "$(dirname "$0")/.." || exit 2
. tests/install.sh

test_packages=catch2
[ -z "$thorough" ] ||
    test_packages="$test_packages clang clang-format clang-tidy libclang-rt-14-dev"
install "$build_packages $test_packages" test
install_if_it_can bench

# ---- Counting ----------------------------------------------------------------------------

passed=0
failed=0
skipped=0
failures=

fail() {
    failed=$((failed + 1))
    failures="$failures
    $1"
}

# check NAME COMMAND ...: the command is one test.
check() {
    name=$1
    shift
    say
    say "==== $name"
    start=$(date +%s)
    if "$@"; then
        passed=$((passed + 1))
        verdict=passed
    else
        fail "$name"
        verdict=FAILED
    fi
    say "==== $name: $verdict, $(($(date +%s) - start)) s"
    [ "$verdict" = passed ]
}

# A number of the test suite in a JUnit file, 0 where it has none.
junit_number() {
    number=$(tr '\n\t' '  ' <"$2" | grep -o '<testsuite [^>]*>' | head -n 1 |
        grep -o " $1=\"[0-9]*\"" | tr -dc 0-9)
    printf '%s' "${number:-0}"
}

# check_suite NAME JUNIT_FILE COMMAND ...: the command runs tests and writes how they went.
check_suite() {
    name=$1
    junit=$2
    shift 2
    rm -f "$junit"
    say
    say "==== $name"
    start=$(date +%s)
    "$@"
    status=$?
    all=0
    if [ -r "$junit" ]; then
        all=$(junit_number tests "$junit")
        bad=$(($(junit_number failures "$junit") + $(junit_number errors "$junit")))
        not_run=$(($(junit_number skipped "$junit") + $(junit_number disabled "$junit")))
        passed=$((passed + all - bad - not_run))
        failed=$((failed + bad))
        skipped=$((skipped + not_run))
        [ "$bad" -eq 0 ] || failures="$failures
    $name: $bad of $all"
        # A runner that is not content although no test failed is a failure of its own.
        [ "$status" -eq 0 ] || [ "$bad" -gt 0 ] || fail "$name: ended with $status"
    fi
    [ "$all" -gt 0 ] || fail "$name: ran no test"
    say "==== $name: $(($(date +%s) - start)) s"
}

# ---- What is tested ----------------------------------------------------------------------

python=$PWD/$venv/bin/python

build() { # PRESET [TARGET]
    cmake --preset "$1" $configure_options &&
        cmake --build --preset "$1" ${2:+--target "$2"}
}

run_ctest() { # FOLDER
    check_suite "C++ tests, $1" "$PWD/$1/junit.xml" \
        ctest --test-dir "$1" --output-on-failure --no-tests=error \
        --parallel "$CMAKE_BUILD_PARALLEL_LEVEL" --output-junit junit.xml
}

# The folder of the package installs nothing by itself.
installed_from() { # FOLDER
    cmake -DEPICOTYL_INSTALL=ON "$1" >/dev/null && sh tests/packaging/find_package.sh "$1"
}

is_formatted() {
    find include src bindings examples tests -name '*.[chi]pp' -exec clang-format --dry-run -Werror {} +
}

# The sources in large pieces, so that what they share is read a few times and not 150: two rules
# hold for headers, and take a source in a piece for one.
is_tidy() {
    run-clang-tidy -quiet -p build/fuzz -j "$CMAKE_BUILD_PARALLEL_LEVEL" \
        -checks=-bugprone-suspicious-include,-google-global-names-in-headers \
        "^$PWD/(examples|build/fuzz/(bindings/)?CMakeFiles/.*/Unity)/|^$PWD/bindings/module/tables"
}

# As many targets at a time as there are cores; each writes what it says, and that it was sound.
fuzz_all() {
    mkdir -p build/fuzz/said
    rm -f build/fuzz/said/*
    for target in tests/fuzz/fuzz_*.cpp; do basename "$target" .cpp; done |
        (
            cd build/fuzz && seconds=${EPICOTYL_FUZZ_SECONDS:-20} &&
                export seconds && xargs -P "$CMAKE_BUILD_PARALLEL_LEVEL" -I'{}' sh -c '
                    mkdir -p "corpus/$1"
                    "tests/fuzz/$1" -max_total_time="$seconds" -timeout=30 -seed=1 \
                        -rss_limit_mb=4096 -verbosity=0 -print_final_stats=1 \
                        "corpus/$1" "../../tests/fuzz/corpus/$1" >"said/$1" 2>&1 </dev/null &&
                        : >"said/$1.sound"' fuzz '{}'
        )
}
was_sound() { # TARGET
    cat "build/fuzz/said/$1"
    [ -e "build/fuzz/said/$1.sound" ]
}

start_of_all=$(date +%s)

# How many problems the choice of moves is compared on with a general solver.
[ -z "$thorough" ] || export EPICOTYL_FIT_INSTANCES="${EPICOTYL_FIT_INSTANCES:-30}"

# Thorough, every file of the library is compiled by itself, beside the package that the first
# command has built. Otherwise the library is compiled once, for the package and the C++ tests.
python_tests() {
    check_suite "Python tests" build/pytest.xml \
        "$python" -m pytest tests/python -n "$CMAKE_BUILD_PARALLEL_LEVEL" \
        --junit-xml=build/pytest.xml
}
package_with_tests() {
    package_targets=all install_python_package \
        --config-settings cmake.define.EPICOTYL_BUILD_TESTS=ON \
        --config-settings cmake.define.EPICOTYL_WERROR=ON
}
configure_options="-DEPICOTYL_BUILD_PYTHON=ON -DPython_EXECUTABLE=$python"
if [ -n "$thorough" ]; then
    check "build, warnings are errors" build dev && run_ctest build/dev
    check "Python package" install_python_package && python_tests
    check "find_package" sh tests/packaging/find_package.sh build/dev
    check "headers alone" sh tests/packaging/headers_alone.sh build/dev
elif check "build of package and tests, warnings are errors" package_with_tests; then
    run_ctest "$package_build"
    check "find_package" installed_from "$package_build"
    check "headers alone" sh tests/packaging/headers_alone.sh "$package_build"
    # The README's C++ example is compiled against it.
    EPICOTYL_BUILD=$package_build
    export EPICOTYL_BUILD
    python_tests
fi
check "what headers cost" python3 tests/bench/headers.py
check "add_subdirectory, shared library" sh tests/packaging/add_subdirectory.sh
check "wheel in a clean environment" sh tests/packaging/wheel.sh "$python" "$package_build"

if [ -n "$thorough" ]; then
    check "clang-format" is_formatted
    if check "build with Clang, sanitizers and fuzz targets" build fuzz; then
        run_ctest build/fuzz
        fuzz_all
        for target in tests/fuzz/fuzz_*.cpp; do
            target=$(basename "$target" .cpp)
            check "$target" was_sound "$target"
        done
        check "clang-tidy" is_tidy
    fi
    configure_options=
    check "build for ThreadSanitizer" build tsan epicotyl_threads &&
        check "threads, under ThreadSanitizer" build/tsan/tests/epicotyl_threads
    check "wheel from the source distribution" sh tests/packaging/source.sh "$python"
fi

say
[ -z "$failures" ] || say "Failed:$failures"
say "Took $((($(date +%s) - start_of_all) / 60)) minutes."
say "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ]
