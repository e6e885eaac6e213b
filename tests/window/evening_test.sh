#!/bin/bash
# A winter evening in the real window: forty coils from unmeasured to labelled, without the mouse. Then
# what goes wrong on such an evening: a wrong word taken back, a code scanned in the middle of an entry,
# a disk that is full, a second window on the same catalogue, another size, and twice the scale.
#
#     evening_test.sh PROGRAM [KEEP_LOADED]
#
# See window.sh. At the end it says which keys a coil takes, as a table: what devices type (a scanner, a
# scale, a micrometer, each with Enter) and what the person presses. COILBOOK_EVENING=8 does fewer coils.
. "$(dirname "$0")/window.sh"

coils=${COILBOOK_EVENING:-40}
devices=0 person=0 person_enters=0
# What a device types: the text and Enter.
device() {
    xdotool type --delay 4 "$1"
    xdotool key --delay 8 Return
    devices=$((devices + ${#1} + 1))
}
# What the person presses.
press() {
    keys "$@"
    person=$((person + $#))
    local key
    for key in "$@"; do [[ $key == *Return ]] && person_enters=$((person_enters + 1)); done
}
code_in_hand() { title | sed 's/:.*//'; }
count() { ask "SELECT count(*) FROM $1"; }

open_display 1600x900
open_window --size 1280x800
# Each step is waited for in the catalogue, as a person waits for the screen.
weights=(22.4 22.3 22.5 22.2)
diameters=("0.842 0.845 0.848" "0.841 0.846 0.844" "0.846 0.843 0.845" "0.844 0.847 0.842")
for number in $(seq "$coils"); do
    press ctrl+k
    wait_for "coil $number" answers "SELECT count(*) FROM coil" "$number"
    device 24
    device "${weights[number % 4]}"
    for diameter in ${diameters[number % 4]}; do device "$diameter"; done
    press Return # no further diameter
    wait_for "the readings of coil $number" answers "SELECT count(*) FROM reading" $((5 * number))
    wait_for "the verdict on coil $number" title_has ": T-11"
    press ctrl+Return
    wait_for "the word on coil $number" answers "SELECT count(*) FROM current_confirmation" "$number"
    press ctrl+l
done
labels() { [ "$(find "$folder/coilbook" -name '*-label-*.pdf' -size +1k | wc -l)" = "$1" ]; }
wait_for "$coils labels" labels "$coils"
[ "$(ask "SELECT count(*) FROM current_confirmation JOIN reference_class AS c ON c.rid = class
          WHERE c.name = 'T-11'")" = "$coils" ] || fail "not all are T-11"
echo "keys a coil, over $coils coils: devices $((devices / coils)), person $((person / coils))," \
    "of these Enter $((person_enters / coils)): Ctrl K, Enter, Ctrl Enter, Ctrl L"
[ $((person_enters / coils)) -le 3 ] || fail "more than three Enter keys a coil"

# The last word is taken back, and given again.
keys ctrl+z
wait_for "the word taken back" answers "SELECT count(*) FROM current_confirmation" $((coils - 1))
keys ctrl+shift+z
wait_for "the word given again" answers "SELECT count(*) FROM current_confirmation" "$coils"

# A scan in the middle of an entry picks that coil up, and the entry waits with its coil.
first=$(ask "SELECT code FROM coil ORDER BY rid LIMIT 1")
keys ctrl+k
wait_for "one more coil" answers "SELECT count(*) FROM coil" $((coils + 1))
second=$(ask "SELECT code FROM coil ORDER BY rid DESC LIMIT 1")
wait_for "$second in hand" title_has "$second:"
device 24
xdotool type --delay 8 "12."
device "$first"
wait_for "$first in hand" title_has "$first:"
keys ctrl+f
device "$second"
wait_for "$second in hand again" title_has "$second:"
[ "$(readings_of "$second")" = "24 in" ] || fail "a scan was saved as a reading: $(readings_of "$second")"

# A full disk in the middle of an entry: nothing is lost, and Enter saves it once there is room.
keys Down Up # to the first field, and back to where it stood
keys ctrl+g
sleep 0.3
before=$(count reading)
prlimit --pid "$window" --fsize=0:unlimited
xdotool type --delay 8 "33.3"
keys Return
sleep 0.7
[ "$(count reading)" = "$before" ] || fail "something was saved on a full disk"
kill -0 "$window" || give_up "the window is gone after a full disk"
prlimit --pid "$window" --fsize=unlimited:unlimited
keys Return
wait_for "the reading, when there is room again" answers "SELECT count(*) FROM reading" $((before + 1))

# Two windows on one catalogue: what the second does, the first shows within about a second.
keys ctrl+f
device "$first"
wait_for "$first in hand" title_has "$first:"
first_window=$window
first_title() { [[ "$(xdotool getwindowname "$first_id" 2>/dev/null)" == *"$1"* ]]; }
first_id=$(xdotool search --onlyvisible --name Coilbook | head -1)
"$programs/coilbook" coils confirm "$first" T-14 --catalog "$catalogue" 2>"$folder/complaints" ||
    fail "a word from the command line: $(cat "$folder/complaints")"
sleep 1.5
first_title "$first: T-14, confirmed" || fail "the window does not follow: $(xdotool getwindowname "$first_id")"
LD_PRELOAD=$keep_loaded "$program" --size 900x700 "$catalogue" 2>"$folder/complaints" &
second_window=$!
two_windows() { [ "$(xdotool search --onlyvisible --name Coilbook | wc -l)" = 2 ]; }
wait_for "the second window" two_windows
sleep 1
second_id=$(xdotool search --onlyvisible --name Coilbook | grep -v "^$first_id$" | head -1)
xdotool windowfocus "$second_id"
sleep 0.3
keys ctrl+f
device "$first"
second_has() { [[ "$(xdotool getwindowname "$second_id" 2>/dev/null)" == *"$1"* ]]; }
wait_for "$first in the second window" second_has "$first: T-14"
keys ctrl+z
sleep 1.8
first_title "$first: T-11, confirmed" || fail "the first window does not follow the second: $(xdotool getwindowname "$first_id")"
keys ctrl+q
is_second_gone() { ! kill -0 "$second_window" 2>/dev/null; }
wait_for "the second window to close" is_second_gone || kill "$second_window"
wait "$second_window" || fail "the second window closed badly: $(cat "$folder/complaints")"
xdotool windowfocus "$first_id"
window=$first_window

# Another size: nothing is stale, and the next start has it again.
for size in "1500 850" "1280 720"; do
    xdotool windowsize "$first_id" $size
    sleep 0.6
    import -window root "rgb:$folder/soon"
    sleep 1.4
    import -window root "rgb:$folder/late"
    cmp -s "$folder/soon" "$folder/late" || fail "the picture was stale after the size $size"
done
keys F2
sleep 0.5
close_window
grep -q '"width": 1280' "$folder/coilbook/window.json" || fail "the size was not remembered"
grep -q '"dark": true' "$folder/coilbook/window.json" || fail "the colours were not remembered"

# Twice the scale, and the layout for cold fingers: the same keys do the same.
open_window --scale 2 --size 1600x900 "$catalogue"
keys ctrl+f
device "$second"
wait_for "$second at twice the scale" title_has "$second:"
keys F11 ctrl+g
sleep 0.5
before=$(count reading)
device 22.1
sleep 0.5
device 22.2
has_more() { [ "$(count reading)" -gt "$before" ]; }
wait_for "a reading at twice the scale" has_more
close_window

"$programs/coilbook" check --catalog "$catalogue" >/dev/null 2>"$folder/complaints" ||
    fail "the catalogue is not sound: $(cat "$folder/complaints")"
finish_test
