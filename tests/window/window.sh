#!/bin/bash
# What the tests of the real window share: a folder and a catalogue of their own, keys and waiting. To
# be sourced with the arguments PROGRAM [KEEP_LOADED]: coilbook-bench, with coilbook in the same
# folder, and the library made of keep_loaded.cpp, with which leaks are looked for.
# Needs Xvfb, xdotool, sqlite3 and ImageMagick; without them the test is skipped (exit status 77). Works
# as root, with env -i, and several at once: each finds a free display by itself.
set -u
program=$1
programs=$(cd "$(dirname "$program")" && pwd)
for tool in Xvfb xdotool sqlite3 import; do
    if ! command -v "$tool" >/dev/null; then
        echo "skipped: $tool is not installed"
        exit 77
    fi
done

folder=$(mktemp -d)
export XDG_DATA_HOME=$folder XDG_CONFIG_HOME=$folder XDG_CACHE_HOME=$folder
catalogue=$folder/coilbook/catalogue.coilbook
unset COILBOOK_CATALOG
# keep_loaded.cpp says why leaks can only be told with it. Without it they are not looked for.
keep_loaded=${2:-}
export ASAN_OPTIONS=verify_asan_link_order=0:detect_leaks=$([ -n "$keep_loaded" ] && echo 1 || echo 0)
# What fontconfig has read of the system's fonts it keeps until the program ends.
echo "leak:libfontconfig" >"$folder/suppressions"
export LSAN_OPTIONS=suppressions=$folder/suppressions:print_suppressions=0
window= server=
failures=0

finish() {
    [ -n "$window" ] && kill "$window" 2>/dev/null
    [ -n "$server" ] && kill "$server" 2>/dev/null
    wait 2>/dev/null
    rm -rf "$folder"
}
trap finish EXIT

fail() {
    echo "FAILED: $*"
    failures=$((failures + 1))
}
give_up() {
    fail "$@"
    exit 1
}
# wait_for WHAT COMMAND...: until the command succeeds, at most 30 s.
wait_for() {
    local what=$1 turn
    shift
    for turn in $(seq 300); do
        "$@" && return 0
        sleep 0.1
    done
    fail "waited in vain for $what"
    return 1
}
ask() { sqlite3 -readonly "$catalogue" "$1" 2>/dev/null; }
answers() { [ "$(ask "$1")" = "$2" ]; }
title() { xdotool getwindowname "$(xdotool search --onlyvisible --name Coilbook | head -1)"; }
title_has() { [[ "$(title 2>/dev/null)" == *"$1"* ]]; }
keys() { xdotool key --delay "${delay:-12}" "$@"; }
readings_of() {
    ask "SELECT group_concat(as_written, ' / ') FROM (SELECT as_written FROM reading
         JOIN coil ON coil.rid = reading.coil WHERE code = '$1' ORDER BY reading.rid)"
}
open_window() { open_through "$program" "$@"; }
open_through() {
    LD_PRELOAD=$keep_loaded "$@" 2>"$folder/complaints" &
    window=$!
    wait_for "the window" title_has Coilbook || give_up "$(cat "$folder/complaints")"
    xdotool mousemove 640 10
    sleep 0.5
}
is_gone() { ! kill -0 "$window" 2>/dev/null; }
close_window() {
    keys ctrl+q
    wait_for "the window to close" is_gone || kill "$window"
    local status
    wait "$window"
    status=$?
    window=
    [ $status = 0 ] || fail "the window closed with exit status $status: $(cat "$folder/complaints")"
}

open_display() {
    Xvfb -displayfd 9 -noreset -screen 0 "$1x24" 9>"$folder/display" >/dev/null 2>&1 &
    server=$!
    wait_for "the display" test -s "$folder/display" || exit 1
    export DISPLAY=:$(cat "$folder/display")
}
finish_test() {
    if [ $failures -gt 0 ]; then
        echo "$failures failed"
        exit 1
    fi
    echo "passed"
}
