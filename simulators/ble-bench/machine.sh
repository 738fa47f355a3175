# The virtual machine of the bench: the host's own file tree, read-only, under a Debian kernel that has the virtual Bluetooth
# controller. Sourced by run and demo; wants bench_root (the project) and bench_dir (this folder).

bench_cache=${XDG_CACHE_HOME:-$HOME/.cache}/heldmark/ble-bench

say() { printf 'ble-bench: %s\n' "$*" >&2; }

# Ends the bench where the virtual machine cannot be had at all. Nothing was tested then, and the line says so.
skip() {
    printf '\n!!!! BLE BENCH SKIPPED, NOTHING OVER REAL BLUEZ WAS TESTED: %s\n\n' "$*" >&2
    exit 77
}

install_packages() {
    local pair missing=""
    # command:package
    for pair in qemu-system-x86_64:qemu-system-x86 bluetoothd:bluez btvirt:bluez-test-tools hciconfig:bluez dbus-daemon:dbus \
        modprobe:kmod busybox:busybox-static curl:curl java:openjdk-17-jre-headless python3:python3-minimal; do
        PATH=$PATH:/usr/sbin:/sbin:/usr/libexec/bluetooth command -v "${pair%%:*}" >/dev/null 2>&1 || missing="$missing ${pair##*:}"
    done
    # It stands alone in the first file system of the machine.
    ! ldd "$(command -v busybox || echo none)" >/dev/null 2>&1 || missing="$missing busybox-static"
    [ -n "$missing" ] || return 0
    [ "$(uname -s)-$(uname -m)" = Linux-x86_64 ] || skip "it needs Linux on x86_64"
    command -v apt-get >/dev/null 2>&1 || skip "these Debian packages are missing, and there is no apt-get:$missing"
    [ "$(id -u)" = 0 ] || skip "these packages are missing; on Debian: sudo apt-get install$missing"
    say "installing$missing"
    # shellcheck disable=SC2086 # a list of package names
    { apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing; } >&2 ||
        skip "these packages cannot be installed:$missing"
}

# Unpacks the kernel package into the cache; it is not installed.
fetch_kernel() {
    kernel=$bench_cache/kernel
    [ -f "$kernel/complete" ] && return 0
    say "fetching the guest's kernel (once, 70 MB)"
    rm -rf "$kernel" && mkdir -p "$kernel"
    local package
    package=$(apt-cache depends linux-image-amd64 2>/dev/null | awk '/Depends: linux-image/ {print $2; exit}')
    [ -n "$package" ] || skip "the package linux-image-amd64 is not known to apt (sudo apt-get update)"
    (cd "$kernel" && apt-get download -qq "$package" 2>"$kernel/download.log") || skip "the kernel package cannot be fetched"
    dpkg -x "$kernel"/linux-image-*.deb "$kernel"
    rm "$kernel"/linux-image-*.deb
    PATH=$PATH:/sbin:/usr/sbin depmod -b "$kernel" "$(ls "$kernel/lib/modules")"
    touch "$kernel/complete"
}

# A root file system in memory that does nothing but put the host's tree under an overlay.
build_initrd() {
    initrd=$bench_cache/initrd
    version=$(ls "$kernel/lib/modules")
    [ "$initrd" -nt "$bench_dir/initrd-init" ] && [ "$initrd" -nt "$kernel/complete" ] && return 0
    local tree=$bench_cache/initrd-tree file
    rm -rf "$tree" && mkdir -p "$tree"/bin "$tree"/modules "$tree"/proc "$tree"/sys "$tree"/dev "$tree"/host "$tree"/changes "$tree"/new
    cp "$(command -v busybox)" "$tree/bin/busybox"
    for file in sh mount umount grep sed mkdir insmod poweroff switch_root; do ln -s busybox "$tree/bin/$file"; done
    install -m 755 "$bench_dir/initrd-init" "$tree/init"
    : >"$tree/modules/order"
    PATH=$PATH:/sbin:/usr/sbin modprobe -d "$kernel" -S "$version" --show-depends -a virtio_pci 9pnet_virtio 9p overlay virtio_net |
        awk '$1 == "insmod" && !seen[$2]++ {print $2}' | while read -r file; do
        cp "$file" "$tree/modules/"
        basename "$file" >>"$tree/modules/order"
    done
    (cd "$tree" && find . | busybox cpio -o -H newc 2>/dev/null | gzip -1) >"$initrd.new"
    mv "$initrd.new" "$initrd"
}

prepare_machine() {
    install_packages
    mkdir -p "$bench_cache"
    fetch_kernel
    build_initrd
}

# That the device file is there proves nothing: start a machine with it and see.
emulated="-accel tcg,thread=multi -cpu max -smp 2"
choose_accelerator() {
    accelerator=$emulated
    if [ -w /dev/kvm ] && timeout 8 qemu-system-x86_64 -accel kvm -cpu host -m 512 -nodefaults -display none -no-reboot \
        -serial stdio -kernel "$kernel/boot/vmlinuz-$version" -initrd "$initrd" \
        -append "console=ttyS0 quiet panic=-1 bench.probe" </dev/null 2>/dev/null | grep -q 'bench: probe'; then
        accelerator="-accel kvm -cpu host -smp 2"
    fi
    say "machine: ${accelerator%% -cpu*}"
}

# run_machine SHARE COMMAND [QEMU OPTION...]: boots, runs the command (a file in this folder) and powers off. The folder SHARE is
# /mnt/bench in the guest; the rest of what the guest changes is gone afterwards. Takes
# the place of the shell that calls it: to be put into the background, or into parentheses.
#
# Of the kernel's options these are for an emulated machine: idle=halt, since its emulation of mwait is a busy loop; norandmaps, so
# that the code of a program is translated once and not for each process again; no_timer_check, since a busy host lets that check fail.
run_machine() {
    local share=$1 command=$2
    shift 2
    # More important than what else the host does, where one may say so.
    # shellcheck disable=SC2086 # options
    exec nice -n -10 qemu-system-x86_64 -machine q35 $accelerator -m 2048 -nodefaults -no-user-config -display none -no-reboot \
        -serial stdio -kernel "$kernel/boot/vmlinuz-$version" -initrd "$initrd" \
        -append "console=ttyS0 quiet panic=-1 mitigations=off idle=halt norandmaps no_timer_check random.trust_cpu=on tsc=reliable bench.dir=$bench_dir bench.command=$command bench.modules=$kernel" \
        -virtfs local,path=/,mount_tag=host,security_model=none,readonly=on,multidevs=remap \
        -virtfs "local,path=$share,mount_tag=share,security_model=none,multidevs=remap" \
        -device virtio-rng-pci "$@"
}
