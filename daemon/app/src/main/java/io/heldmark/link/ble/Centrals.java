package io.heldmark.link.ble;

import io.heldmark.link.ble.bluez.BluezCentral;
import io.heldmark.link.ble.tinyb.TinybCentral;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The Bluetooth stacks of this computer, made when first needed: {@code auto} is BlueZ over D-Bus, which every Linux has and
 * which loses least; {@code tinyb} where it is asked for (docs/adr tells why there are two).
 */
public final class Centrals {
    /** What a link's option {@code provider} may be. */
    static final List<String> PROVIDERS = List.of("auto", "bluez", "tinyb");

    private static final Centrals SHARED = new Centrals();

    private @Nullable GattCentral bluez;
    private @Nullable GattCentral tinyb;

    private Centrals() {}

    /** Returns the stacks of this process. */
    public static Centrals shared() {
        return SHARED;
    }

    /**
     * Returns a stack by the provider's name.
     *
     * @throws UnavailableException if this computer does not have it.
     */
    public synchronized GattCentral central(String provider) throws UnavailableException {
        if (!System.getProperty("os.name", "").startsWith("Linux")) {
            throw new UnavailableException(Kind.REFUSED, "Bluetooth LE links work on Linux only (through BlueZ)");
        }
        if (provider.equals("tinyb")) {
            if (tinyb == null) {
                tinyb = TinybCentral.start();
            }
            return tinyb;
        }
        if (bluez == null) {
            bluez = new BluezCentral();
        }
        return bluez;
    }
}
