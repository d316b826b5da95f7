# Read by tools/test-board: the checks but for the power cuts. Each check_NAME says what it saw in a line; its exit code judges.

said_by_service() { inside journalctl -q --no-pager -o cat -u room-supervisor -u room-supervisor-reboot "$@"; }
# until_true SECONDS COMMAND...: asked again until it is so
until_true() {
    local until=$((SECONDS + $1))
    shift
    while [ $SECONDS -lt $until ]; do "$@" > /dev/null 2>&1 && return 0; sleep 1; done
    return 1
}
volts() { inside cat /run/i2c-chips/volts; }
# The kernel's own look at a line of the board's chip, by its number there: hi, lo, or nothing when nobody holds it.
line_level() { inside awk "'"'/^gpiochip0:/ { split($3, a, "-"); first = a[1] } $1 == "gpio-" first + n { for (i = 1; i <= NF; i++) if ($i == "hi" || $i == "lo") print $i }'"'" "n=$1" /sys/kernel/debug/gpio; }

check_begin() {
    local began name
    began=$(now)
    guest_start
    guest_answers 300 || return 1
    printf 'answers after %s s; ' "$(since "$began")"
    until_true 120 inside 'case "$(systemctl is-system-running)" in running | degraded) ;; *) false ;; esac' || { no "it does not get through its boot"; return 1; }
    copy_in "$deb" /srv/package.deb && copy_in "$work/i2c_chips" /usr/local/bin/i2c_chips || { no "nothing can be copied in"; return 1; }
    for name in state-whole busy; do copy_in tools/board/inside/$name /usr/local/bin/$name || return 1; done
    copy_in tools/board/inside/i2c-chips.service /etc/systemd/system/i2c-chips.service && copy_in tools/board/inside/bus.conf /srv/bus.conf && copy_in tools/board/inside/bus.rules /etc/udev/rules.d/60-bus.rules || return 1
    inside mkdir -p /srv/house /etc/systemd/system/room-supervisor.service.d && copy_in "$work/house/site.yaml" /srv/house/site.yaml && copy_in "$work/house/household.yaml" /srv/house/household.yaml || return 1
    # Devices come and go while files are unpacked: the rules are read before their groups are there.
    inside 'systemctl is-active -q comes-and-goes || systemd-run -q --unit=comes-and-goes sh -c "while :; do udevadm trigger --subsystem-match=gpio; sleep 0.2; done"' || return 1
    PATIENCE_S=240 inside 'dpkg -i /srv/package.deb' > "$work/installed" 2>&1 || { no "the package does not install: $(tail -3 "$work/installed" | tr '\n' ' ')"; return 1; }
    inside 'systemctl stop comes-and-goes && udevadm settle' && [ "$(inside 'stat -c %G /dev/gpiochip0')" = gpio ] || { no "the lines of the board belong to $(inside 'stat -c %G /dev/gpiochip0') and not to the service's group"; return 1; }
    PATIENCE_S=120 inside 'cp /srv/bus.conf /etc/systemd/system/room-supervisor.service.d/bus.conf && udevadm control --reload && systemctl daemon-reload && systemctl enable -q --now i2c-chips && echo "27.3 52" > /run/i2c-chips/air && udevadm trigger --subsystem-match=gpio && udevadm settle' || { no "the wire bus does not start: $(inside journalctl -q -o cat -u i2c-chips | tail -3)"; return 1; }
    inside 'room-supervisor setup --from /srv/house' > "$work/setup" 2>&1 || { no "setup --from: $(tail -3 "$work/setup" | tr '\n' ' ')"; return 1; }
    echo "$(inside 'ps -o comm= 1') is process 1, $(inside uname -mr | tr '\n' ' ')"
}

check_house() {
    local began
    inside systemctl restart room-supervisor || { no "it does not start: $(said_by_service -n 5 | tr '\n' ' ')"; return 1; }
    service_controls 120 || return 1
    began=$(now)
    until_true 60 inside 'room-supervisor points /etc/room-supervisor --once --only weaving-room | grep -q "air.temperature.*27[.][23]"' || { no "the chip on the wire bus is not read: $(inside room-supervisor points /etc/room-supervisor --once --only weaving-room | grep air | tr '\n' ' ')"; return 1; }
    echo "controls; 27.3 °C read by I2C after $(since "$began") s"
}

check_cooling() {
    local pid ready
    until_true 240 called || { no "nothing cools after 240 s: call $(last_written plant co 12), volts $(volts), coil pump $(line_level 1), health $(line_level 2); $(status_text)"; return 1; }
    [ "$(status_text)" = "Ferry House: controls" ] || { no "$(status_text)"; return 1; }
    pid=$(main_pid)
    ready=$(inside systemctl show -P ActiveEnterTimestampMonotonic -P ExecMainStartTimestampMonotonic room-supervisor | sort -n | awk 'NR == 1 { a = $1 } END { printf "%.1f", ($1 - a) / 1e6 }')
    echo "fan and valve of a room put out $(volts) mV by I2C, coil pump by GPIO $(line_level 1), machine called over Modbus; first scan told $ready s after the start"
}

# As the guest's own kernel counts it, trends and records on, minutes after the start: at most 40 MB (of a million bytes).
check_resident() {
    local pid seen
    pid=$(main_pid)
    inside test -s /var/log/room-supervisor/trends.db || { no "no trends are kept"; return 1; }
    seen=$(inside "awk '/^(VmRSS|RssAnon|RssFile|VmHWM):/ { printf \"%s %.1f MB \", \$1, \$2 * 1024 / 1e6 }' /proc/$pid/status")
    awk -v seen="$seen" 'BEGIN { n = split(seen, word, " "); for (i = 1; i < n; i++) if (word[i] == "VmRSS:") exit !(word[i + 1] > 0 && word[i + 1] <= 40) ; exit 1 }' || { no "over 40 MB: $seen"; return 1; }
    echo "${seen% }, $(inside cut -d. -f1 /proc/uptime) s after power"
}
called() { [ "$(last_written plant co 12)" = 1 ] && [ "$(line_level 1)" = hi ] && [ "$(line_level 2)" = hi ] && [ "$(volts | awk '{ print ($1 > 0) + ($2 > 0) }')" = 2 ]; }

check_shut_in() {
    local pid seen exposure
    pid=$(main_pid)
    seen=$(inside "grep -E '^(Seccomp|NoNewPrivs|CapEff):' /proc/$pid/status; stat -c '%n %a %U' /run/room-supervisor/control.sock /var/lib/room-supervisor /etc/room-supervisor; ss -Hltnu | awk '{ print \"port\", \$5 }'; systemd-analyze security --no-pager room-supervisor 2>/dev/null | tail -1")
    for want in '^Seccomp:.*2' '^NoNewPrivs:.*1' '^CapEff:.*0000000000000000' '^/run/room-supervisor/control.sock 660 room-supervisor' '^/var/lib/room-supervisor 750 room-supervisor' '^/etc/room-supervisor 2770 root'; do
        grep -Eq "$want" <<< "$seen" || { no "not so: $want; $(tr '\n\t' '; ' <<< "$seen")"; return 1; }
    done
    if grep '^port' <<< "$seen" | grep -Eqv ':(22|68)$'; then no "a port is open: $(grep '^port' <<< "$seen" | tr '\n' ' ')"; return 1; fi
    exposure=$(grep -Eo 'room-supervisor.service: [0-9.]+' <<< "$seen" | grep -Eo '[0-9.]+$')
    awk -v e="${exposure:-9}" 'BEGIN { exit !(e <= 2.0) }' || { no "exposure $exposure is over 2.0"; return 1; }
    echo "filter of system calls, no capabilities, no port but the guest's sshd, exposure $exposure"
}

check_reload() {
    local began held pid
    pid=$(main_pid)
    began=$(now)
    inside "sed -i '/weaving-room:/,/heat_below/ s/cool_above: 24 °C/cool_above: 23.2 °C/' /etc/room-supervisor/household.yaml" || return 1
    until_true 60 inside "grep -q '23.2' /etc/room-supervisor/household.answer.txt" || { no "no answer with 23.2 °C: $(inside head -5 /etc/room-supervisor/household.answer.txt | tr '\n' ' ')"; return 1; }
    held=$(since "$began")
    inside "sed -i 's/cool_above: 23.2 °C/cool_above: lukewarm/' /etc/room-supervisor/household.yaml" || return 1
    until_true 60 inside "grep -q lukewarm /etc/room-supervisor/household.answer.txt" || { no "a word that is no temperature is not answered"; return 1; }
    inside "sed -i 's/cool_above: lukewarm/cool_above: 23.2 °C/' /etc/room-supervisor/household.yaml" && until_true 60 inside "! grep -q lukewarm /etc/room-supervisor/household.answer.txt" || { no "the mended file is not taken up"; return 1; }
    [ "$(status_text)" = "Ferry House: controls" ] && [ "$(main_pid)" = "$pid" ] || { no "$(status_text); process $(main_pid), was $pid"; return 1; }
    echo "accepted and answered after $held s; a word that is no temperature is refused and the file mended, without a restart"
}

check_stopped() {
    local pid began ended
    pid=$(main_pid)
    began=$(now)
    inside kill -STOP "$pid" || return 1
    until_true 60 inside "! test -e /proc/$pid" || { no "still there after 60 s"; return 1; }
    ended=$(since "$began")
    service_controls 90 "$pid" || return 1
    said_by_service -b > "$work/journal"
    for want in 'Watchdog timeout' 'safe values written to' 'did not end orderly: starts again after a pause'; do grep -q "$want" "$work/journal" || { no "the journal does not say: $want"; return 1; }; done
    echo "ended by systemd's watchdog after $ended s, safe values by another process, controls again after $(since "$began") s"
}

check_panic() {
    local boot began
    boot=$(guest_boot)
    [ "$(inside cat /sys/class/watchdog/watchdog0/state)" = active ] || { no "systemd does not feed the hardware watchdog: $(inside 'grep . /sys/class/watchdog/*/identity /sys/class/watchdog/*/state' | tr '\n' ' ')"; return 1; }
    began=$(now)
    ONCE=1 PATIENCE_S=5 inside 'echo 0 > /proc/sys/kernel/panic; sync; echo c > /proc/sysrq-trigger' > /dev/null 2>&1
    guest_answers 240 "$boot" || return 1
    service_controls 120 || return 1
    echo "$(inside cat /sys/class/watchdog/watchdog0/identity) reset it; another boot that controls after $(since "$began") s"
}

check_escalation() {
    local began boot pid="" n rebooted
    inside 'test ! -e /var/lib/room-supervisor-reboot/given && systemctl restart room-supervisor' || { no "a reboot was granted before"; return 1; }
    boot=$(guest_boot)
    began=$(now)
    for n in 1 2 3 4 5 6; do
        # The last start is killed in its pause of a minute, which the one before it has shown: that is no orderly end either.
        if [ "$n" = 6 ]; then until_true 60 inside 'systemctl show -P StatusText room-supervisor | grep -q "^5 runs.*pause of 60 s"' || { no "no pause before start 6: $(status_text)"; return 1; }
        else service_controls 150 "${pid:-none}" || { no "start $n: $(said_by_service -n 3 | tr '\n' ' ')"; return 1; }
        fi
        pid=$(main_pid)
        inside kill -KILL "$pid"
    done
    guest_answers 300 "$boot" || { no "no reboot after six bad ends: $(said_by_service -n 6 | tr '\n' ' ')"; return 1; }
    rebooted=$(since "$began")
    boot=$(guest_boot)
    service_controls 180 || return 1
    inside kill -KILL "$(main_pid)"
    until_true 60 inside 'systemctl show -P StatusText room-supervisor | grep -q "STAYS SAFE"' || { no "it does not say that it stays safe: $(status_text)"; return 1; }
    # A wish by hand, as if it could not keep from asking.
    inside 'setpriv --reuid room-supervisor --regid room-supervisor --init-groups touch /run/room-supervisor/reboot-wanted'
    until_true 30 inside 'journalctl -q -b -o cat -u room-supervisor-reboot | grep -q "^refused"' || { no "a second reboot in a day is not refused"; return 1; }
    sleep 5
    [ "$(guest_boot)" = "$boot" ] || { no "it was rebooted twice"; return 1; }
    [ "$(last_written plant co 12)" = 0 ] && [ "$(volts)" = "0 0" ] || { no "outputs are not safe: call $(last_written plant co 12), volts $(volts)"; return 1; }
    said_by_service > "$work/journal"
    for want in 'pause of 1 s' 'pause of 5 s' 'pause of 15 s' 'pause of 60 s; memory set aside' 'asks for a reboot' '^granted' 'first start after a reboot that was asked for' 'STAYS SAFE for an hour'; do
        grep -q "$want" "$work/journal" || { no "the journal does not say: $want"; return 1; }
    done
    # Somebody came: an orderly stop, and all is forgotten.
    inside systemctl restart room-supervisor && service_controls 90 || return 1
    echo "pauses of 1, 5, 15 and twice 60 s, memory set aside, one reboot granted after $rebooted s, then outputs safe and STAYS SAFE said, a second reboot refused; a restart by hand controls again"
}

check_journal() {
    local boots lines verdict
    boots=$(inside journalctl -q --list-boots | wc -l)
    lines=$(PATIENCE_S=180 inside journalctl -q --no-pager -o json -u room-supervisor | tee "$work/journal.json" | wc -l)
    [ "$lines" -gt 100 ] || { no "$lines lines only"; return 1; }
    /usr/bin/python3 -c 'import json, sys; [json.loads(line) for line in open(sys.argv[1], encoding="utf-8")]' "$work/journal.json" || { no "a line is none"; return 1; }
    verdict=$(PATIENCE_S=180 inside journalctl --verify 2>&1 | grep -c '^FAIL' || true)
    [ ! -e "$work/cuts" ] || [ "$boots" -gt "$(wc -l < "$work/cuts")" ] || { no "$boots boots only"; return 1; }
    PATIENCE_S=120 inside 'room-supervisor log /etc/room-supervisor --log /var/log/room-supervisor --state /var/lib/room-supervisor --since 2h' > "$work/log" 2>&1 || { no "its own log: $(tail -2 "$work/log" | tr '\n' ' ')"; return 1; }
    echo "$boots boots, $lines lines of the service are read ($verdict journal files were set aside by a cut), and $(wc -l < "$work/log") lines of its own log"
}
