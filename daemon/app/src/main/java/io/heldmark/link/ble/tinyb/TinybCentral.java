package io.heldmark.link.ble.tinyb;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.ble.GattPeer;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import tinyb.BluetoothAdapter;
import tinyb.BluetoothDevice;
import tinyb.BluetoothException;
import tinyb.BluetoothManager;
import tinyb.TransportType;

/**
 * TinyB as the station's Bluetooth stack.
 *
 * <p>Its calls block and its callbacks come on one native thread; objects of a BlueZ that went away are dead, so everything is
 * fetched anew for each connection.
 */
public final class TinybCentral implements GattCentral {
    private static final long FIND_MS = 5000;
    private static final long LOOK_EVERY_MS = 100;

    private final BluetoothManager manager;

    private TinybCentral(BluetoothManager manager) {
        this.manager = manager;
    }

    /**
     * Loads the natives and connects to BlueZ.
     *
     * @throws UnavailableException if this machine cannot, with the reason in plain words.
     */
    public static TinybCentral start() throws UnavailableException {
        TinybNatives.load();
        try {
            return new TinybCentral(BluetoothManager.getBluetoothManager());
        } catch (RuntimeException e) {
            throw new UnavailableException(Kind.REFUSED, "TinyB cannot reach BlueZ (" + e.getMessage() + ")");
        }
    }

    @Override
    public String name() {
        return "tinyb";
    }

    @Override
    public synchronized GattPeer connect(String adapter, String address, String passkey, Listener listener)
            throws UnavailableException {
        if (!passkey.isEmpty()) {
            throw new UnavailableException(
                    Kind.REFUSED,
                    "TinyB cannot pair with a passkey: use provider=bluez, or pair once with bluetoothctl");
        }
        try {
            BluetoothAdapter chosen = adapter(adapter);
            BluetoothDevice device = find(chosen, address);
            return TinybPeer.connect(device, listener);
        } catch (BluetoothException e) {
            throw new UnavailableException(
                    Kind.UNREACHABLE, "the cell does not answer: is it switched on and near? (" + e.getMessage() + ")");
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new UnavailableException(Kind.UNREACHABLE, "interrupted");
        }
    }

    @Override
    public synchronized List<CellInRange> cells(String adapter, long forMs) throws UnavailableException {
        List<CellInRange> cells = new ArrayList<>();
        try {
            BluetoothAdapter chosen = adapter(adapter);
            look(chosen);
            Thread.sleep(forMs);
            chosen.stopDiscovery();
            for (BluetoothDevice device : chosen.getDevices()) {
                if (offersService(device)) {
                    int rssi = device.getRSSI() == 0 ? CellInRange.RSSI_UNKNOWN : device.getRSSI();
                    cells.add(new CellInRange(
                            device.getAddress(), device.getName(), rssi, device.getPaired(), device.getConnected()));
                }
            }
        } catch (BluetoothException e) {
            throw new UnavailableException(Kind.REFUSED, "Bluetooth said: " + e.getMessage());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        return cells;
    }

    private BluetoothAdapter adapter(String wanted) throws UnavailableException {
        for (BluetoothAdapter adapter : manager.getAdapters()) {
            if (wanted.isEmpty() || wanted.equals(adapter.getInterfaceName())) {
                if (!adapter.getPowered()) {
                    adapter.setPowered(true);
                }
                return adapter;
            }
        }
        throw new UnavailableException(
                Kind.REFUSED, "no Bluetooth adapter" + (wanted.isEmpty() ? "" : " " + wanted) + ": plug one in");
    }

    private static void look(BluetoothAdapter adapter) {
        adapter.setDiscoveryFilter(List.of(UUID.fromString(GattNames.SERVICE)), 0, 0, TransportType.LE);
        adapter.startDiscovery();
    }

    private static BluetoothDevice find(BluetoothAdapter adapter, String address)
            throws UnavailableException, InterruptedException {
        BluetoothDevice known = device(adapter, address);
        if (known != null) {
            return known;
        }
        look(adapter);
        try {
            for (long waitedMs = 0; waitedMs < FIND_MS; waitedMs += LOOK_EVERY_MS) {
                BluetoothDevice found = device(adapter, address);
                if (found != null) {
                    return found;
                }
                Thread.sleep(LOOK_EVERY_MS);
            }
        } finally {
            adapter.stopDiscovery();
        }
        throw new UnavailableException(
                Kind.ABSENT,
                "cell " + address + " is not in range, switched off, or connected to another device"
                        + " (a connected cell cannot be seen)");
    }

    private static @Nullable BluetoothDevice device(BluetoothAdapter adapter, String address) {
        for (BluetoothDevice device : adapter.getDevices()) {
            if (device.getAddress().equalsIgnoreCase(address) && (device.getConnected() || device.getRSSI() != 0)) {
                return device;
            }
        }
        return null;
    }

    private static boolean offersService(BluetoothDevice device) {
        String[] uuids = device.getUUIDs();
        return uuids != null && Arrays.asList(uuids).contains(GattNames.SERVICE);
    }
}
