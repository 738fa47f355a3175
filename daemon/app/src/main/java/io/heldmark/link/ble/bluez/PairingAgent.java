package io.heldmark.link.ble.bluez;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.bluez.Agent1;
import org.bluez.AgentManager1;
import org.bluez.Device1;
import org.bluez.exceptions.BluezRejectedException;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.UInt16;
import org.freedesktop.dbus.types.UInt32;
import org.freedesktop.dbus.types.Variant;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Pairs with cells that demand it: without a question where the cell has none (Just Works), or with the passkey that the
 * user wrote into the link.
 *
 * <p><b>Who may.</b> Only a cell that a link names and that this station is pairing at the moment; whatever else asks is
 * rejected. A passkey is never shown, logged or recorded.
 *
 * <p><b>Threading.</b> BlueZ calls in on threads of the bus while {@link #pair} waits.
 */
final class PairingAgent implements Agent1 {
    static final String PATH = "/io/heldmark/agent";

    private static final Logger LOG = LoggerFactory.getLogger(PairingAgent.class);
    private static final String CAPABILITY = "KeyboardDisplay";

    private final Map<String, Attempt> attempts = new ConcurrentHashMap<>();

    /** One pairing under way. */
    private static final class Attempt {
        private final String passkey;
        private volatile boolean passkeyMissed;

        Attempt(String passkey) {
            this.passkey = passkey;
        }
    }

    /** Makes this the agent of a new connection to the bus, where BlueZ knows agents. */
    void begin(DBusConnection bus) {
        try {
            bus.exportObject(this);
            register(bus);
        } catch (DBusException | DBusExecutionException e) {
            LOG.info("no agent for pairing yet: {}", e.getMessage());
        }
    }

    private static void register(DBusConnection bus) throws DBusException {
        try {
            bus.getRemoteObject(BluezObjects.BUS_NAME, "/org/bluez", AgentManager1.class)
                    .RegisterAgent(new DBusPath(PATH), CAPABILITY);
        } catch (DBusException | DBusExecutionException e) {
            if (!BluezReasons.exists(e)) {
                throw e;
            }
        }
    }

    /**
     * Pairs with a connected cell and trusts it from now on; blocks.
     *
     * @param bus connection to the bus on which this is registered.
     * @param device path of the cell.
     * @param passkey six digits; empty where the link names none.
     * @throws UnavailableException if it did not work, with what to do.
     */
    void pair(DBusConnection bus, String device, String passkey) throws UnavailableException {
        Attempt attempt = new Attempt(passkey);
        attempts.put(device, attempt);
        try {
            register(bus); // BlueZ may have been started anew since.
            bus.getRemoteObject(BluezObjects.BUS_NAME, device, Device1.class).Pair();
            bus.getRemoteObject(BluezObjects.BUS_NAME, device, Properties.class)
                    .Set(BluezObjects.DEVICE, "Trusted", new Variant<>(true));
            LOG.info("{} is paired", device);
        } catch (DBusException | DBusExecutionException e) {
            throw new UnavailableException(Kind.REFUSED, whyNot(attempt, e));
        } finally {
            attempts.remove(device);
        }
    }

    private static String whyNot(Attempt attempt, Exception e) {
        if (BluezReasons.exists(e)) {
            return "the cell is paired with this computer but does not accept it any more: remove the pairing"
                    + " (bluetoothctl remove ADDRESS) and connect again";
        }
        if (attempt.passkeyMissed) {
            return "the cell asks for its passkey: write the six digits into the link, as ble:ADDRESS?passkey=123456";
        }
        String doubt = attempt.passkey.isEmpty() ? "is another computer paired with it?" : "is the passkey right?";
        return "pairing with the cell did not work: " + doubt + " (" + e.getMessage() + ")";
    }

    private Attempt expected(DBusPath device) throws BluezRejectedException {
        Attempt attempt = attempts.get(device.getPath());
        if (attempt == null) {
            throw new BluezRejectedException("not a cell of this station");
        }
        return attempt;
    }

    @Override
    public String getObjectPath() {
        return PATH;
    }

    @Override
    public UInt32 RequestPasskey(DBusPath device) throws BluezRejectedException {
        Attempt attempt = expected(device);
        if (attempt.passkey.isEmpty()) {
            attempt.passkeyMissed = true;
            throw new BluezRejectedException("no passkey is known");
        }
        return new UInt32(Long.parseLong(attempt.passkey));
    }

    @Override
    public String RequestPinCode(DBusPath device) throws BluezRejectedException {
        throw new BluezRejectedException("cells pair without a PIN code");
    }

    @Override
    public void DisplayPinCode(DBusPath device, String code) throws BluezRejectedException {
        throw new BluezRejectedException("cells pair without a PIN code");
    }

    @Override
    public void DisplayPasskey(DBusPath device, UInt32 passkey, UInt16 entered) {
        LOG.warn("{} wants a passkey typed in, which cells cannot", device.getPath());
    }

    /** Both sides show a number: the same one only where the link says so. */
    @Override
    public void RequestConfirmation(DBusPath device, UInt32 shown) throws BluezRejectedException {
        Attempt attempt = expected(device);
        if (attempt.passkey.isEmpty()) {
            attempt.passkeyMissed = true;
        }
        if (attempt.passkey.isEmpty() || Long.parseLong(attempt.passkey) != shown.longValue()) {
            throw new BluezRejectedException("the numbers differ");
        }
    }

    @Override
    public void RequestAuthorization(DBusPath device) throws BluezRejectedException {
        expected(device);
    }

    @Override
    public void AuthorizeService(DBusPath device, String uuid) throws BluezRejectedException {
        expected(device);
    }

    @Override
    public void Cancel() {
        LOG.debug("pairing was cancelled");
    }

    @Override
    public void Release() {
        LOG.debug("the agent was released");
    }
}
