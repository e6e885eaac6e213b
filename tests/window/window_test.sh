#!/bin/bash
# The real window under a display of its own: readings are typed by key events, the verdict appears,
# the catalogue holds what was typed, and the picture is never stale; a day is planned, packed and
# ended by a scanner.
#
#     window_test.sh PROGRAM [KEEP_LOADED]
#
# See window.sh. tools/run, the door that a user takes, is tried with both programs.
. "$(dirname "$0")/window.sh"
run=$(dirname "$0")/../../tools/run

# Without a display there is a message and exit status 1.
env -u DISPLAY LD_PRELOAD="$keep_loaded" "$program" 2>"$folder/complaints" </dev/null
[ $? = 1 ] || fail "exit status without a display"
grep -q "no window can be opened" "$folder/complaints" || fail "no message without a display"

# tools/run then identifies the demonstration bin on the command line.
env -u DISPLAY -u WAYLAND_DISPLAY "$run" --programs "$programs" >"$folder/verdicts" 2>"$folder/complaints"
[ $? = 0 ] || fail "tools/run without a display: $(cat "$folder/complaints")"
grep -q "K8P4" "$folder/verdicts" || fail "no verdicts without a display"

open_display 1280x800

# tools/run makes the demonstration catalogue and opens it; a second time it finds it.
for start in first second; do
    open_through "$run" --programs "$programs" --size 1280x800
    keys ctrl+f
    keys K 8 P 4 Return
    wait_for "the demonstration coil K8P4 at the $start start" title_has "K8P4:"
    close_window
done
[ "$(sqlite3 -readonly "$folder/coilbook/demo.coilbook" "SELECT count(*) > 5 FROM coil")" = 1 ] ||
    fail "tools/run made no demonstration catalogue"

# The first start makes the default catalogue; a coil is made, measured and confirmed.
open_window --size 1280x800
keys A 1 Return Return
wait_for "the coil" answers "SELECT code FROM coil" A1
keys 2 4 Return 2 2 period 4 Return 0 period 8 4 2 Return 0 period 8 4 5 Return Return
wait_for "four readings" answers "SELECT count(*) FROM reading" 4
[ "$(readings_of A1)" = "24 in / 22.4 gr / 0.842 mm / 0.845 mm" ] || fail "kept: $(readings_of A1)"
wait_for "the verdict" title_has "A1: T-11"
keys ctrl+Return
wait_for "the confirmation" answers "SELECT reference_class.name FROM current_confirmation
    JOIN reference_class ON reference_class.rid = current_confirmation.class" T-11
wait_for "its word in the title" title_has "A1: T-11, confirmed"

# Devices type much faster than people, and nothing may be lost or land in another field.
number=1
for delay in 40 20 8 4 2 1; do
    for again in $(seq "${COILBOOK_BURSTS:-3}"); do # fifty of each by hand: COILBOOK_BURSTS=50
        number=$((number + 1))
        code=B$number
        keys ctrl+f
        xdotool type --delay 12 "$code"
        keys Return Return
        wait_for "coil $code" answers "SELECT count(*) FROM coil WHERE code = '$code'" 1
        wait_for "coil $code in hand" title_has "$code:"
        keys 3 1 Return 4 5 period 6 Return 0 period 9 7 Return Return 7 period 8 Return 2 4 Return
        wait_for "five readings of $code at $delay ms" answers "SELECT count(*) FROM reading
            JOIN coil ON coil.rid = reading.coil WHERE code = '$code'" 5
        expected="31 in / 45.6 gr / 0.97 mm / 7.8 gr / 24 in"
        [ "$(readings_of $code)" = "$expected" ] || fail "at $delay ms: $(readings_of $code)"
    done
done
# A scanner's code and its Enter come at once, and pick that coil up.
for delay in 8 2 1; do
    for code in A1 B2 A1 B3; do
        keys ctrl+f "${code:0:1}" "${code:1}" Return
        wait_for "coil $code in hand at $delay ms" title_has "$code:"
    done
done
delay=12

# A picture taken soon after a click is the same as one taken long after it.
for spot in "130 250" "500 180" "500 400" "1000 300" "520 480" "130 320" "560 640" "900 60"; do
    xdotool mousemove $spot click 1
    sleep 0.4
    import -window root "rgb:$folder/soon"
    sleep 1.6
    import -window root "rgb:$folder/late"
    cmp -s "$folder/soon" "$folder/late" || fail "the picture was stale after a click at $spot"
done

# Bad input stays at its field and saves nothing.
before=$(ask "SELECT count(*) FROM reading")
keys ctrl+f A 1 Return
wait_for "A1 in hand" title_has "A1:"
keys ctrl+g
sleep 0.5
xdotool type --delay 12 "12,5"
keys Return
sleep 1
[ "$(ask "SELECT count(*) FROM reading")" = "$before" ] || fail "a wrong number was saved"
kill -0 "$window" || give_up "the window is gone"
close_window

# The second start shows it, and so does a picture file.
open_window --size 1280x720 --theme dark "$catalogue"
keys A 1 Return
wait_for "the confirmed coil" title_has "A1: T-11, confirmed"
close_window
LD_PRELOAD=$keep_loaded "$program" --size 1280x720 --scale 2 --screenshot "$folder/picture.png" "$catalogue" 2>"$folder/complaints" ||
    fail "no picture: $(cat "$folder/complaints")"
[ "$(identify -format '%wx%h' "$folder/picture.png")" = 1280x720 ] || fail "the picture's size"
LD_PRELOAD=$keep_loaded "$program" --screenshot /nonexistent/picture.png "$catalogue" 2>/dev/null
[ $? = 1 ] || fail "a picture that cannot be written"

[ "$(sqlite3 "$catalogue" "PRAGMA integrity_check")" = ok ] || fail "the catalogue is damaged"

# Tomorrow is planned for two boats, packed by scanning, and in the evening one tip is missing; the
# command line says the same.
catalogue=$folder/shed.coilbook
shed() { "$programs/coilbook" "$@" --catalog "$catalogue" 2>"$folder/complaints" || fail "$*: $(cat "$folder/complaints")"; }
scan() {
    for code in "$@"; do
        xdotool type --delay 4 "$code"
        keys Return
    done
}
shed init
printf 'code\nS1\nS2\nT1\nT2\n' >"$folder/codes.csv"
shed readings take-in "$folder/codes.csv"
for code in S1 S2 T1 T2; do shed coils confirm $code "size 8 type 6 tip"; done
shed boat add Heron --seats 3
shed boat add Puddle --seats 2
shed client add "Ida Brandvik" >/dev/null
for number in 1 2; do
    shed rig add "rod $number" --code R$number --size 8 >/dev/null
    shed rig put R$number T$number --as tip
done
open_window --size 1280x800 "$catalogue"
keys alt+6 ctrl+n
scan pud ""
wait_for "the first outing" answers "SELECT count(*) FROM outing" 1
keys F5
scan R2 S2
keys ctrl+n
scan her ida
wait_for "the second outing" answers "SELECT count(*) FROM outing WHERE client IS NOT NULL" 1
scan R1 S1
wait_for "the plan" answers "SELECT count(*) FROM promise" 4
keys F6
scan R1 S1
keys ctrl+Up
scan S2 R2
wait_for "two packed boats" answers "SELECT group_concat(name || n) FROM (SELECT boat.name, count(*)
    AS n FROM current_handover JOIN boat ON boat.rid = boat WHERE place = 'boat' GROUP BY boat.name)" \
    Heron2,Puddle2
keys F7
scan R1 R2 S1
wait_for "what did not come back" title_has "1 thing did not come back"
close_window
[ "$(shed stock out --format csv | cut -d, -f1,2,3 | tail -n +2)" = "Puddle,S2,size 8 type 6 tip" ] ||
    fail "out: $(shed stock out --format csv)"
[[ "$(shed where S2)" == "S2 (size 8 type 6 tip): with boat Puddle"* ]] || fail "$(shed where S2)"
[[ "$(shed where T1)" == *"tip of rig R1"* ]] || fail "$(shed where T1)"
shed check >/dev/null
finish_test
