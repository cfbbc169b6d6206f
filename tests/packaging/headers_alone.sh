#!/bin/sh
# sh tests/packaging/headers_alone.sh BUILD_FOLDER
# Installs what was built, takes the library away again, and builds programs that use the headers
# alone: the network, the clocks, the frost dates, and all of it compiled with a source of theirs.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake --install "$1" --prefix "$work/prefix" >"$work/installed.txt"
find "$work/prefix" -name 'libepicotyl*' -exec rm {} +

# uses COMPONENT PACKAGES LIBRARIES PATTERN: its program finds no other packages than these, links
# these libraries besides those of the language, and says what the pattern says.
uses() {
    absent=
    for package in date fmt Boost ZLIB tomlplusplus; do
        case " $2 " in
        *" $package "*) ;;
        *) absent="$absent -DCMAKE_DISABLE_FIND_PACKAGE_$package=ON" ;;
        esac
    done
    # shellcheck disable=SC2086
    cmake -S "$here/headers_alone" -B "$work/$1" -G Ninja --no-warn-unused-cli \
        -DCMAKE_PREFIX_PATH="$work/prefix" \
        -Dcomponent="$1" $absent
    cmake --build "$work/$1"
    said=$("$work/$1/consumer")
    # shellcheck disable=SC2254
    case $said in
    $4) ;;
    *)
        printf 'the program of %s says\n%s\nand not\n%s\n' "$1" "$said" "$4" >&2
        exit 1
        ;;
    esac
    linked=$(objdump -p "$work/$1/consumer" | awk '$1 == "NEEDED" { print $2 }' |
        grep -vE '^(libstdc\+\+|libgcc_s|libm|libc|ld-linux.*)\.so' | tr '\n' ' ' || true)
    if [ "$linked" != "$3" ]; then
        printf 'the program of %s links "%s" and not "%s"\n' "$1" "$linked" "$3" >&2
        exit 1
    fi
    echo "$1: $said"
}

# By hand: as in the head of monotone_network.hpp; 80 K day at 8 a day; binomial tails.
uses network Boost '' '74 130, 108 150, 1'
uses clock date '' '10, 16.72, week of Mon 21 Jun (week 25)'
uses frost 'date fmt Boost' '' 'Marlpit: nights at or below 0.0 °C, 1999 – 2019, fitted; Marlpit: 21 season years, 1999 – 2019; none left out; 15'
uses source 'date fmt Boost ZLIB tomlplusplus' 'libz.so.1 ' '*: *format*'
