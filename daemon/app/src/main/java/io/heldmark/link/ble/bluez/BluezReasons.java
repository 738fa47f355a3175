package io.heldmark.link.ble.bluez;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.Locale;

/** Turns what D-Bus and BlueZ say into a reason that a person can act on. */
final class BluezReasons {
    private BluezReasons() {}

    /** Tells whether a cell refused something for want of a pairing. */
    static boolean asksForPairing(Exception e) {
        String all = all(e);
        return all.contains("authentication") || all.contains("notauthorized") || all.contains("not paired");
    }

    /** Tells whether something could not be made because it is there. */
    static boolean exists(Exception e) {
        return all(e).contains("alreadyexists") || all(e).contains("already exists");
    }

    /** Tells whether something was not begun because it goes on already. */
    static boolean goesOn(Exception e) {
        return all(e).contains("inprogress") || all(e).contains("in progress");
    }

    private static String all(Exception e) {
        // Some kinds of error have a class; of the others only the text is left.
        return (e.getClass().getSimpleName() + " " + e.getMessage()).toLowerCase(Locale.ROOT);
    }

    /** Returns why something did not work. */
    static UnavailableException of(Exception e) {
        String text = String.valueOf(e.getMessage());
        String all = all(e);
        if (all.contains("accessdenied") || all.contains("rejected send message")) {
            return refused("no permission to use Bluetooth over D-Bus: add this user to the group bluetooth"
                    + " (sudo usermod -aG bluetooth USER) and log in again");
        }
        if (all.contains("serviceunknown")
                || all.contains("was not provided by any .service")
                || all.contains("launch helper")) {
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
        if (asksForPairing(e)) {
            return refused("the cell refuses until it is paired; pairing with it did not help (" + text + ")");
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
