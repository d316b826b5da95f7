# Read by tools/test-board: power that fails while the controller writes. The emulator is ended between two instructions; what the guest had not handed to its disk is gone. What a disk does that lies about
# flushing, or tears a sector, this does not show.

# Whole: the kept files by their own sums, the trends by SQLite's own check here, a pack that can be unpacked, and a run that controls.
judge_state() {
    local seen
    seen=$(inside state-whole) || { no "$seen"; return 1; }
    service_controls 120 || return 1
    inside 'rm -rf /srv/t && mkdir /srv/t && cp /var/log/room-supervisor/trends.db* /srv/t/ 2>/dev/null; true'
    rm -rf "$work/trends" && mkdir "$work/trends" && copy_out '/srv/t/trends.db*' "$work/trends/" || { no "trends cannot be copied"; return 1; }
    [ "$(/usr/bin/python3 -c 'import sqlite3, sys; print(sqlite3.connect(sys.argv[1]).execute("pragma integrity_check").fetchone()[0])' "$work/trends/trends.db" 2>&1)" = ok ] || { no "trends.db is broken"; return 1; }
    PATIENCE_S=120 inside 'cd /srv && rm -rf p p.zip && room-supervisor pack /etc/room-supervisor --log /var/log/room-supervisor --state /var/lib/room-supervisor --last 1h --file /srv/p.zip && room-supervisor unpack /srv/p.zip /srv/p && room-supervisor check /srv/p | grep "6 room"' > "$work/pack" 2>&1 || { no "no pack: $(tail -3 "$work/pack" | tr '\n' ' ')"; return 1; }
    echo "$seen"
}

# Before the first cut: a memory that was never kept could not be lost.
check_kept() {
    inside systemctl restart room-supervisor && service_controls 90 && inside state-whole || { no "not all is kept after an orderly stop"; return 1; }
}

# Cut number $cut, after a while that differs from cut to cut: in the midst of a start, a stop, or a wish being taken up.
check_power() {
    local waits=(6.1 9.4 4.2 12.7 7.5 3.3 10.6 5.8 8.9 14.3) seen boot began up
    service_controls 120 || return 1
    boot=$(guest_boot)
    inside 'systemd-run -q --unit=busy /usr/local/bin/busy' || { no "nothing keeps it busy"; return 1; }
    sleep "${waits[$(((cut - 1) % 10))]}"
    guest_cut
    began=$(now)
    guest_start
    guest_answers 300 "$boot" || return 1
    up=$(since "$began")
    [ -z "${SPOIL:-}" ] || inside "$SPOIL"
    seen=$(judge_state) || { no "$seen"; return 1; }
    ! said_by_service -b | grep -E 'the saved memory (is|has|belongs)' || { no "a memory was refused"; return 1; }
    echo "$cut" >> "$work/cuts"
    echo "after ${waits[$(((cut - 1) % 10))]} s of writing; whole: ${seen% }, trends, a pack; $(said_by_service -b | grep -Eo 'memory of [0-9]+ (s|min) ago' | tail -1); answered $up s after the cut, judged after $(since "$began") s"
}

# The judge itself: what a cut must not do is done by hand, both generations of a kept file, and must be told; mended, all is whole again.
check_told() {
    local seen
    inside 'cd /var/lib/room-supervisor && rm -rf /srv/kept && mkdir /srv/kept && cp -a starts* /srv/kept/ && echo x >> starts && cp starts starts.1' || { no "it cannot be broken"; return 1; }
    seen=$(judge_state) && { no "a broken file was taken for a whole one: $seen"; return 1; }
    grep -q 'starts:BROKEN' <<< "$seen" || { no "something else was told: $seen"; return 1; }
    inside 'cd /var/lib/room-supervisor && rm -f starts* && cp -a /srv/kept/starts* .' && judge_state > /dev/null || { no "mended, it is not whole"; return 1; }
    echo "${seen% }"
}
