# Bluetooth in the guest: two virtual controllers for BlueZ (each takes one connection well), and a socket behind which every peripheral gets one of its own.
# Sourced by what runs in the guest.

now() { cut -d' ' -f1 /proc/uptime; }

# Waits without a process of its own: in an emulated machine every new process costs the translation of its code.
mkfifo /tmp/never
exec 8<>/tmp/never
pause() { read -rt "$1" -u 8 || true; }

# wait_for SECONDS COMMAND...: until the command succeeds.
wait_for() {
    local until=$((SECONDS + $1))
    shift
    while ! "$@" >/dev/null 2>&1; do
        [ $SECONDS -lt $until ] || return 1
        pause 0.5
    done
}

has_controller() { [ "$(hciconfig 2>/dev/null | grep -c 'BD Address: 00:AA')" = 2 ]; }
# Either there, or not to come any more: the first reset sometimes gets lost.
controller_settled() { has_controller || dmesg | tail -n 5 | grep -q 'Opcode 0x0c03 failed'; }
has_adapters() {
    [ "$(dbus-send --system --print-reply --dest=org.bluez / org.freedesktop.DBus.ObjectManager.GetManagedObjects 2>/dev/null |
        grep -c 'string "org.bluez.Adapter1"')" = 2 ]
}

start_bluetoothd() {
    bluetoothd -n -f "$BENCH/main.conf" >>/tmp/bluetoothd.log 2>&1 &
    bluetoothd_pid=$!
    wait_for 30 has_adapters
}

start_bluetooth() {
    local try module
    # The kernel loads more by itself, from where it expects them.
    mkdir -p /lib/modules
    ln -sfn "$BENCH_MODULES/lib/modules/$(uname -r)" "/lib/modules/$(uname -r)"
    # Without these the security manager has no keys.
    for module in jitterentropy_rng sha512_generic hmac ctr drbg ecdh_generic cmac ccm algif_hash algif_skcipher hci_vhci uhid; do modprobe $module 2>/dev/null; done
    # A socket buffer that overflows loses notifications without a word.
    sysctl -q -w net.core.rmem_max=4194304 net.core.rmem_default=4194304 2>/dev/null ||
        { echo 4194304 >/proc/sys/net/core/rmem_max && echo 4194304 >/proc/sys/net/core/rmem_default; }
    dbus-daemon --system --fork --nopidfile
    for try in 1 2 3 4; do
        btvirt -L -l2 -s >/tmp/btvirt.log 2>&1 &
        btvirt_pid=$!
        wait_for 15 controller_settled
        has_controller && break
        echo "bench: virtual controller, attempt $try failed: $(tail -n 1 /tmp/btvirt.log)"
        kill $btvirt_pid 2>/dev/null
        wait $btvirt_pid 2>/dev/null
        dmesg -C
    done
    start_bluetoothd
}
