package io.heldmark.simulator.ble;

import io.heldmark.simulator.sender.PortException;
import java.util.Locale;

/**
 * Turns what D-Bus and BlueZ refuse into words that a person can act on.
 *
 * <p>The bus's library keeps the text of an error, but of BlueZ's own errors not the name: they are told apart by their texts
 * (BlueZ 5.66, src/error.c, src/advertising.c and the kernel management interface's).
 */
final class BluezRefusal {
    /** What everything here needs. */
    static final String NEEDED = "BlueZ 5.56 or later and an adapter that knows Bluetooth LE are needed";

    private BluezRefusal() {}

    /**
     * Returns why something did not work.
     *
     * @param doing what, for example {@code hci0 does not advertise}.
     */
    static PortException of(String doing, Exception e) {
        String all = (e.getClass().getSimpleName() + e.getMessage())
                .toLowerCase(Locale.ROOT)
                .replace(" ", "");
        if (all.contains("accessdenied") || all.contains("rejectedsendmessage")) {
            return new PortException("no permission to use Bluetooth over D-Bus: add this user to the group bluetooth"
                    + " (sudo usermod -aG bluetooth USER) and log in again");
        }
        if (all.contains("serviceunknown")
                || all.contains("wasnotprovidedby")
                || all.contains("launchhelper")
                || all.contains("activat")) {
            return new PortException("BlueZ is not running: install the package bluez and start it"
                    + " (sudo systemctl start bluetooth)");
        }
        if (all.contains("unknownmethod") || all.contains("unknowninterface")) {
            return new PortException(doing + ": " + NEEDED + " (" + e.getMessage() + ")");
        }
        if (all.contains("blocked")) {
            return new PortException(doing + ": it is blocked; rfkill unblock bluetooth");
        }
        if (all.contains("notready") || all.contains("notpowered")) {
            return new PortException(doing + ": it is off; bluetoothctl power on");
        }
        if (all.contains("maximumadvertisements")) {
            return new PortException(
                    doing + ": other programs advertise on it already, and it has no place left; end them");
        }
        if (all.contains("alreadyexists")) {
            return new PortException(doing + ": a cell is registered already");
        }
        return new PortException(doing + " (" + e.getMessage() + ")");
    }
}
