# Read by tools/test-board: power that fails while the controller writes. The emulator is ended between two instructions; what the guest had not handed to its disk is gone. What a disk does that lies about
# flushing, or tears a sector, this does not show.

# Whole: the kept files by their own sums, the trends by SQLite's own check here, a pack that can be unpacked, and a run that controls.
judge_state() {
    local seen
    seen=$(inside state-whole) || { no "$seen"; return 1; }
    service_controls 120 || return 1
    inside 'rm -rf /root/t && mkdir /root/t && cp /var/log/room-supervisor/trends.db* /root/t/ 2>/dev/null; true'
    rm -rf "$work/trends" && mkdir "$work/trends" && copy_out '/root/t/trends.db*' "$work/trends/" || { no "trends cannot be copied"; return 1; }
    [ "$(/usr/bin/python3 -c 'import sqlite3, sys; print(sqlite3.connect(sys.argv[1]).execute("pragma integrity_check").fetchone()[0])' "$work/trends/trends.db" 2>&1)" = ok ] || { no "trends.db is broken"; return 1; }
    PATIENCE_S=120 inside 'cd /root && rm -rf p p.zip && room-supervisor pack /etc/room-supervisor --log /var/log/room-supervisor --state /var/lib/room-supervisor --last 1h --file /root/p.zip && room-supervisor unpack /root/p.zip /root/p && room-supervisor check /root/p | grep "6 room"' > "$work/pack" 2>&1 || { no "no pack: $(tail -3 "$work/pack" | tr '\n' ' ')"; return 1; }
    echo "$seen"
}

check_power() {
    local cuts=${CUTS:-10} n waits=(6.1 9.4 4.2 12.7 7.5 3.3 10.6 5.8 8.9 14.3) before=0 half=0 seen boot began longest=0 took
    # A memory that was never kept could not be lost.
    inside systemctl restart room-supervisor && service_controls 90 && seen=$(inside state-whole) || { no "before the first cut: $seen"; return 1; }
    for n in $(seq "$cuts"); do
        service_controls 120 || return 1
        boot=$(guest_boot)
        inside 'systemd-run -q --unit=busy /usr/local/bin/busy' || { no "cut $n: nothing keeps it busy"; return 1; }
        sleep "${waits[$(((n - 1) % 10))]}"
        guest_cut
        began=$(now)
        guest_start
        guest_answers 300 "$boot" || { no "cut $n"; return 1; }
        [ -z "${SPOIL:-}" ] || inside "$SPOIL"
        seen=$(judge_state) || { no "after cut $n: $seen"; return 1; }
        took=$(since "$began")
        longest=$(awk -v a="$longest" -v b="$took" 'BEGIN { print (a > b) ? a : b }')
        [[ "$seen" != *:before* ]] || before=$((before + 1))
        [[ "$seen" != *"half written"* ]] || half=$((half + 1))
        echo "cut $n: $took s, $seen" >> "$work/cuts"
    done
    said_by_service > "$work/journal"
    ! grep -E 'is damaged|is no memory of this program|begins? anew: .*damaged' "$work/journal" || { no "a memory was found damaged"; return 1; }
    echo "$cuts of $cuts times state, trends and pack whole and the house controlled again (within $longest s); in $before a kept file was its generation before, in $half one lay half written beside"
}
