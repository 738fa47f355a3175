package io.heldmark.link.ble.bluez;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.Locale;

/** Turns what D-Bus and BlueZ say into a reason that a person can act on. */
final class BluezReasons {
    private BluezReasons() {}

    /** Returns why something did not work. */
    static UnavailableException of(Exception e) {
        String kind = e.getClass().getSimpleName(); // dbus-java has a class for each kind of error.
        String text = String.valueOf(e.getMessage());
        String all = (kind + " " + text).toLowerCase(Locale.ROOT);
        if (all.contains("accessdenied") || all.contains("rejected send message")) {
            return refused("no permission to use Bluetooth over D-Bus: add this user to the group bluetooth"
                    + " (sudo usermod -aG bluetooth USER) and log in again");
        }
        if (all.contains("serviceunknown") || all.contains("was not provided by any .service")) {
            return refused("BlueZ is not running: install the package bluez and start it"
                    + " (sudo systemctl start bluetooth)");
        }
        if (all.contains("unknownmethod") || all.contains("unknowninterface") || all.contains("unknownproperty")) {
            return refused("BlueZ is too old: 5.56 or later is needed (" + text + ")");
        }
        if (all.contains("notready") || all.contains("not powered")) {
            return refused("the Bluetooth adapter is off: bluetoothctl power on");
        }
        if (all.contains("blocked") || all.contains("rfkill")) {
            return refused("the Bluetooth adapter is blocked: rfkill unblock bluetooth");
        }
        if (all.contains("authentication") || all.contains("notauthorized") || all.contains("notpermitted")) {
            return refused("the cell wants to be paired first: bluetoothctl pair ADDRESS");
        }
        if (all.contains("noreply") || all.contains("timeout") || all.contains("abort") || all.contains("failed")) {
            return new UnavailableException(
                    Kind.UNREACHABLE, "the cell does not answer: is it switched on and near? (" + text + ")");
        }
        return new UnavailableException(Kind.UNREACHABLE, "Bluetooth said: " + text);
    }

    private static UnavailableException refused(String reason) {
        return new UnavailableException(Kind.REFUSED, reason);
    }
}
