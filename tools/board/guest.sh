# Read by tools/test-board: the guest (an emulated 64-bit arm board with systemd as process 1) and the Modbus modules outside of it. What a check needs of both is a function here.
# $work: a folder for this run; $image: the folder that is kept; both are there before this is read. Only processes that were started here are ended, by their numbers.

# Four modules that are not ours (pymodbus), each with its own registers; what is written to them stands in $work/NAME.said.
modules=(sensors ground upper plant)
modules_start() {
    local name
    for name in "${modules[@]}"; do
        mkfifo "$work/$name.type"
        /usr/bin/python3 tools/peers/modbus_room.py --stay <> "$work/$name.type" > "$work/$name.said" 2>/dev/null &
        echo $! > "$work/$name.pid"
        disown
    done
    for name in "${modules[@]}"; do
        for _ in $(seq 100); do grep -q listening "$work/$name.said" && break; sleep 0.1; done
        sed -n 's/^listening //p' "$work/$name.said" > "$work/$name.port"
        [ -s "$work/$name.port" ] || no "the Modbus module $name does not listen"
    done
    # A warm afternoon: everybody wants cooling, outdoors is warm, the machine runs when it is called (nobody plays the plant: water is cold all day).
    local room address=0
    for room in "278 480" "265 500" "270 500" "268 490" "262 480" "266 490" "300 450"; do
        type_in sensors set ir $address "${room% *}"
        type_in sensors set ir $((address + 1)) "${room#* }"
        address=$((address + 2))
    done
    address=0
    for water in 170 190 250 250 90 120 85 90 120 520 230; do type_in plant set ir $address "$water"; address=$((address + 1)); done
    type_in plant set di 3 1
}
type_in() { local name=$1; shift; echo "$*" > "$work/$name.type"; }
# last_written MODULE TABLE ADDRESS: what the controller wrote there last; nothing: never.
last_written() { awk -v t="$2" -v a="$3" '$1 == "wrote" && $2 == t && $3 == a { v = $4 } END { print v }' "$work/$1.said"; }

free_port() { /usr/bin/python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'; }

guest_start() {
    local net name n=0
    [ -s "$work/ssh.port" ] || free_port > "$work/ssh.port"
    # No way out of the guest but these: one for looking in, one to each module.
    net="user,id=net,restrict=on,hostfwd=tcp:127.0.0.1:$(cat "$work/ssh.port")-:22"
    for name in "${modules[@]}"; do
        net="$net,guestfwd=tcp:10.0.2.$((100 + n)):502-cmd:socat STDIO TCP4:127.0.0.1:$(cat "$work/$name.port")"
        n=$((n + 1))
    done
    qemu-system-aarch64 -M virt -cpu cortex-a53 -smp 2 -m 1024 -display none -monitor none -kernel "$image/kernel" -initrd "$image/initrd" \
        -append "root=LABEL=rs-root rw quiet loglevel=3 audit=0 mitigations=off rcupdate.rcu_expedited=1 systemd.show_status=no console=ttyAMA0" -drive "file=$work/disk,if=none,id=disk,format=raw,cache=writeback" -device virtio-blk-pci,drive=disk \
        -netdev "$net" -device virtio-net-pci,netdev=net,romfile= -device virtio-rng-pci -device i6300esb -action watchdog=reset -serial "file:$work/console.$(date +%s)" > "$work/emulator" 2>&1 < /dev/null &
    echo $! > "$work/guest.pid"
    disown
}

# Power fails: the emulator is gone between two instructions, with whatever the guest had not written yet.
guest_cut() {
    [ -s "$work/guest.pid" ] || return 0
    kill -KILL "$(cat "$work/guest.pid")" 2>/dev/null || true
    while kill -0 "$(cat "$work/guest.pid")" 2>/dev/null; do sleep 0.1; done
    rm -f "$work/guest.pid"
}

# One connection a boot, shared by all commands: making one takes seconds under emulation.
way=(-i "$image/key" -o StrictHostKeyChecking=no -o UserKnownHostsFile=/dev/null -o LogLevel=ERROR -o ConnectTimeout=20 -o BatchMode=yes -o ServerAliveInterval=10 -o ServerAliveCountMax=12 -o "ControlPath=$work/connection")
connect() {
    ssh "${way[@]}" -O exit root@127.0.0.1 > /dev/null 2>&1 < /dev/null
    rm -f "$work/connection"
    timeout 60 ssh "${way[@]}" -p "$(cat "$work/ssh.port")" -fNM root@127.0.0.1 > /dev/null 2>&1 < /dev/null
}
# Does its sshd speak? The emulator takes a connection before the guest can, and what waits in it is asked for again ever more seldom: so short tries instead of one long one.
speaks() { timeout 4 bash -c 'exec 3<>"/dev/tcp/127.0.0.1/$0" && read -r -t 3 word <&3 && [[ "$word" == SSH-* ]]' "$(cat "$work/ssh.port")" 2>/dev/null; }
# COMMAND...: as root in the guest. A connection that broke on a busy machine is made anew and the command said once more (ONCE=1: never).
inside() {
    local status=0
    timeout "${PATIENCE_S:-60}" ssh "${way[@]}" -p "$(cat "$work/ssh.port")" root@127.0.0.1 "$@" < /dev/null || status=$?
    [ "$status" = 255 ] && [ -z "${ONCE:-}" ] && connect || return $status
    timeout "${PATIENCE_S:-60}" ssh "${way[@]}" -p "$(cat "$work/ssh.port")" root@127.0.0.1 "$@" < /dev/null
}
copy_in() { timeout 120 scp -q "${way[@]}" -P "$(cat "$work/ssh.port")" "$1" "root@127.0.0.1:$2"; }
copy_out() { timeout 120 scp -q "${way[@]}" -P "$(cat "$work/ssh.port")" "root@127.0.0.1:$1" "$2"; }

guest_boot() { cat_in /proc/sys/kernel/random/boot_id; }
cat_in() { ONCE=1 PATIENCE_S=${PATIENCE_S:-20} inside cat "$1" 2>/dev/null; }

# guest_answers SECONDS [OTHER-THAN-THIS-BOOT]
guest_answers() {
    local until=$((SECONDS + $1)) boot
    while [ $SECONDS -lt $until ]; do
        kill -0 "$(cat "$work/guest.pid")" 2>/dev/null || { no "the emulator ended: $(cat "$work/emulator")"; return 1; }
        speaks && connect && boot=$(PATIENCE_S=15 guest_boot) && [ -n "$boot" ] && [ "$boot" != "${2:-}" ] && return 0
        sleep 1
    done
    no "the guest does not answer within $1 s; last on its console: $(tail -3 "$(ls -t "$work"/console.* | head -1)" | tr '\n' ' ')"
}

main_pid() { inside systemctl show -P MainPID room-supervisor; }
status_text() { inside systemctl show -P StatusText room-supervisor; }
# service_controls SECONDS [OTHER-THAN-THIS-PID]: takes scans, as it tells systemd
service_controls() {
    local until=$((SECONDS + $1)) said=""
    while [ $SECONDS -lt $until ]; do
        said=$(inside systemctl show -P ActiveState -P MainPID -P StatusText room-supervisor 2>/dev/null | tr '\n' ' ') || true
        case "$said" in *"Ferry House: controls"*) case " $said" in *" active "*) [[ " $said" == *" ${2:-none} "* ]] || return 0 ;; esac ;; esac
        sleep 0.5
    done
    no "does not control within $1 s: $said"
}
