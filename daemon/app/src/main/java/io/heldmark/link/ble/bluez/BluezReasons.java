package io.heldmark.link.ble.bluez;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.Locale;
import org.freedesktop.dbus.exceptions.NotConnected;
import org.jspecify.annotations.Nullable;

/**
 * Turns what D-Bus and BlueZ say into a reason that a person can act on.
 *
 * <p>The bus's library keeps the text of an error, but of BlueZ's own errors not the name ({@code org.bluez.Error.NotReady}
 * comes as <i>Resource Not Ready</i>): they are told apart by their texts, those of BlueZ 5.66.
 */
final class BluezReasons {
    private BluezReasons() {}

    /** Tells whether a cell refused something for want of a pairing. */
    static boolean asksForPairing(Exception e) {
        String all = all(e);
        return all.contains("authentication") || all.contains("notauthorized") || all.contains("notpaired");
    }

    /** Tells whether something could not be made because it is there. */
    static boolean exists(Exception e) {
        return all(e).contains("alreadyexists");
    }

    /** Tells whether a cell that was to be connected is. */
    static boolean isConnected(Exception e) {
        return all(e).contains("alreadyconnected");
    }

    /** Tells whether something was not begun because it goes on already. */
    static boolean goesOn(Exception e) {
        return all(e).contains("inprogress");
    }

    private static String all(Exception e) {
        // D-Bus's own kinds of error have a class; of the others only the text is left.
        String both = e.getClass().getSimpleName() + e.getMessage();
        return both.toLowerCase(Locale.ROOT).replace(" ", "");
    }

    /** Returns why an adapter could not be switched on. */
    static UnavailableException switchingOn(String adapter, Exception e) {
        UnavailableException known = known(e, all(e), String.valueOf(e.getMessage()));
        return known != null
                ? known
                : refused("the Bluetooth adapter " + adapter + " is off and cannot be switched on (" + e.getMessage()
                        + "): bluetoothctl power on");
    }

    /** Returns why something did not work. */
    static UnavailableException of(Exception e) {
        String text = String.valueOf(e.getMessage());
        String all = all(e);
        UnavailableException known = known(e, all, text);
        if (known != null) {
            return known;
        }
        if (asksForPairing(e)) {
            return refused("the cell refuses until it is paired; pairing with it did not help (" + text + ")");
        }
        if (all.contains("notifyacquired")) {
            return refused("another program on this computer uses the cell already: end it");
        }
        if (goesOn(e)) {
            return unreachable("another program on this computer is connecting to the cell; trying again");
        }
        if (all.contains("noreply") || all.contains("timeout") || all.contains("abort") || all.contains("failed")) {
            return unreachable("the cell does not answer: is it switched on and near? (" + text + ")");
        }
        return unreachable("Bluetooth said: " + text);
    }

    /** Returns the reason where the computer, not the cell, is in the way. */
    private static @Nullable UnavailableException known(Exception e, String all, String text) {
        if (all.contains("accessdenied") || all.contains("rejectedsendmessage")) {
            return refused("no permission to use Bluetooth over D-Bus: add this user to the group bluetooth"
                    + " (sudo usermod -aG bluetooth USER) and log in again");
        }
        if (e instanceof NotConnected) {
            return refused("the system bus (D-Bus) has gone: is dbus running?");
        }
        if (all.contains("serviceunknown")
                || all.contains("wasnotprovidedby")
                || all.contains("launchhelper")
                || all.contains("activat")) {
            return refused("BlueZ is not running: install the package bluez and start it"
                    + " (sudo systemctl start bluetooth)");
        }
        if (all.contains("unknownobject")) {
            return unreachable("the Bluetooth adapter or the cell went away; trying again");
        }
        if (all.contains("unknownmethod") || all.contains("unknowninterface") || all.contains("unknownproperty")) {
            return refused("BlueZ is too old: 5.56 or later is needed (" + text + ")");
        }
        if (all.contains("notready") || all.contains("notpowered")) {
            return refused("the Bluetooth adapter is off: bluetoothctl power on");
        }
        if (all.contains("blocked") || all.contains("rfkill")) {
            return refused("the Bluetooth adapter is blocked: rfkill unblock bluetooth");
        }
        return null;
    }

    private static UnavailableException unreachable(String reason) {
        return new UnavailableException(Kind.UNREACHABLE, reason);
    }

    private static UnavailableException refused(String reason) {
        return new UnavailableException(Kind.REFUSED, reason);
    }
}
