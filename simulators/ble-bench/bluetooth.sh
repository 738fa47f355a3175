# Bluetooth in the guest: two virtual controllers for BlueZ (why two: docs/ble-bench.md), and a socket behind which every peripheral
# gets one of its own. Sourced by what runs in the guest.

# The addresses that the emulator gives to what connects to the socket first and second.
left=ble:00:AA:01:02:00:42
right=ble:00:AA:01:03:00:42
cell_socket=/tmp/bt-server-bredrle

BENCH_LIB=$(readlink -f "$BENCH/../../target/dist/lib")
# Of the two compilers only the quick one: the other's code is not worth its price here.
java_options="-XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xss512k -Xshare:auto"
for archive in "$BENCH_LIB"/../heldmark-*.jsa; do
    [ -f "$archive" ] && java_options="$java_options -XX:SharedArchiveFile=$archive"
done

now() {
    local up
    read -r up _ </proc/uptime
    echo "$up"
}

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

has_controllers() { [ "$(hciconfig 2>/dev/null | grep -c 'BD Address: 00:AA')" = 2 ]; }
# Either there, or not to come any more: the first reset sometimes gets lost.
controllers_settled() { has_controllers || dmesg | tail -n 5 | grep -q 'Opcode 0x0c03 failed'; }
has_adapters() {
    [ "$(dbus-send --system --print-reply --dest=org.bluez / org.freedesktop.DBus.ObjectManager.GetManagedObjects 2>/dev/null |
        grep -c 'string "org.bluez.Adapter1"')" = 2 ]
}

start_bluetoothd() {
    bluetoothd -n -f "$BENCH/main.conf" >>/tmp/bluetoothd.log 2>&1 &
    bluetoothd_pid=$!
    wait_for 60 has_adapters
}

start_bluetooth() {
    local try
    # The kernel loads more by itself, from where it expects them.
    mkdir -p /lib/modules
    ln -sfn "$BENCH_MODULES/lib/modules/$(uname -r)" "/lib/modules/$(uname -r)"
    # Without those of the first line the security manager has no keys.
    modprobe -qa jitterentropy_rng sha512_generic hmac ctr drbg ecdh_generic cmac ccm algif_hash algif_skcipher \
        hci_vhci uhid
    # A socket buffer that overflows loses notifications without a word.
    echo 4194304 >/proc/sys/net/core/rmem_max
    echo 4194304 >/proc/sys/net/core/rmem_default
    dbus-daemon --system --fork --nopidfile
    for try in 1 2 3 4; do
        btvirt -L -l2 -s >/tmp/btvirt.log 2>&1 &
        btvirt_pid=$!
        wait_for 30 controllers_settled
        has_controllers && break
        echo "bench: virtual controllers, attempt $try failed"
        kill $btvirt_pid 2>/dev/null
        wait $btvirt_pid 2>/dev/null
        dmesg -C
    done
    start_bluetoothd
}
