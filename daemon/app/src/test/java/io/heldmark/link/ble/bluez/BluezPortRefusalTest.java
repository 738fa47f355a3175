package io.heldmark.link.ble.bluez;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.simulator.ble.BluezPort;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.sender.PortException;
import java.nio.file.Path;
import org.freedesktop.dbus.errors.UnknownMethod;
import org.freedesktop.dbus.types.Variant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a virtual cell on an adapter says where there is no offering it, against the stand-in for BlueZ. */
class BluezPortRefusalTest {
    private static final CellSpec CELL =
            Scenario.bundled("demo").withGatt().cells().get(0);

    @TempDir
    Path folder;

    private FakeBluez bluez;

    @BeforeEach
    void startBus() throws Exception {
        assumeTrue(FakeBluez.isPossible(), "dbus-daemon is not installed (Debian package dbus)");
        bluez = new FakeBluez(folder);
    }

    @AfterEach
    void stopBus() {
        if (bluez != null) {
            bluez.close();
        }
    }

    private void assertRefused(String reason) {
        assertRefused(bluez.busAddress(), "", reason);
    }

    private static void assertRefused(String busAddress, String adapter, String reason) {
        PortException e = assertThrows(PortException.class, () -> new BluezPort(busAddress, adapter, CELL));
        assertTrue(String.valueOf(e.getMessage()).contains(reason), e.getMessage());
    }

    @Test
    void shouldSayThatTheBusCannotBeReached() {
        assertRefused("unix:path=" + folder.resolve("nothing"), "", "the system bus (D-Bus) cannot be reached");
    }

    @Test
    void shouldSayThatBluezIsNotRunning() {
        assertRefused("BlueZ is not running: install the package bluez");
    }

    @Test
    void shouldSayThatThereIsNoPermission() throws Exception {
        bluez.close();
        bluez = new FakeBluez(folder.resolve("."), "<deny send_destination=\"org.bluez\"/>");
        bluez.start(true);
        assertRefused("no permission to use Bluetooth over D-Bus: add this user to the group bluetooth");
    }

    @Test
    void shouldSayThatThereIsNoAdapter() throws Exception {
        bluez.startWithoutAdapter();
        assertRefused("no Bluetooth adapter: plug one in");
    }

    @Test
    void shouldNameTheAdaptersThatThereAre() throws Exception {
        bluez.start(true);
        assertRefused(bluez.busAddress(), "hci7", "no Bluetooth adapter hci7; there are hci0");
    }

    @Test
    void shouldSwitchAnAdapterOn() throws Exception {
        FakeAdapter adapter = bluez.start(false);
        try (BluezPort port = new BluezPort(bluez.busAddress(), "hci0", CELL)) {
            assertEquals("ble:00:AA:01:00:00:00", port.address());
            assertEquals(true, adapter.properties.get("Powered").getValue());
        }
    }

    @Test
    void shouldSayThatAnAdapterIsBlocked() throws Exception {
        bluez.start(false).refuse("Powered", FakeObject.said("Blocked through rfkill"));
        assertRefused("adapter hci0 is off and cannot be switched on: it is blocked; rfkill unblock bluetooth");
    }

    @Test
    void shouldSayThatAnAdapterIsOff() throws Exception {
        bluez.start(false).refuse("Powered", FakeObject.said("Failed"));
        assertRefused("adapter hci0 is off and cannot be switched on (Failed)");
    }

    @Test
    void shouldSayThatBluezIsTooOldForServices() throws Exception {
        bluez.start(true).others.remove(FakeAdapter.GATT);
        assertRefused("adapter hci0 offers no services: BlueZ 5.56 or later");
    }

    @Test
    void shouldSayThatBluezDoesNotKnowTheCall() throws Exception {
        bluez.start(true).refuse("RegisterApplication", new UnknownMethod("no such method"));
        assertRefused("BlueZ 5.56 or later");
    }

    @Test
    void shouldSayThatAnAdapterCannotAdvertise() throws Exception {
        bluez.start(true).others.remove(FakeAdapter.ADVERTISING);
        assertRefused("adapter hci0 cannot advertise: take another one");
    }

    @Test
    void shouldSayThatAnAdapterIsACentralOnly() throws Exception {
        bluez.start(true).properties.put("Roles", new Variant<>(new String[] {"central"}));
        assertRefused("adapter hci0 cannot advertise: take another one");
    }

    @Test
    void shouldSayThatNoPlaceIsLeft() throws Exception {
        bluez.start(true).others.get(FakeAdapter.ADVERTISING).put("SupportedInstances", new Variant<>((byte) 0));
        assertRefused("adapter hci0 has no place left to advertise");
    }

    @Test
    void shouldSayThatServicesAreRefused() throws Exception {
        bluez.start(true).refuse("RegisterApplication", FakeObject.said("Failed to create entry in database"));
        assertRefused("adapter hci0 does not take the cell's services (Failed to create entry in database)");
    }

    @Test
    void shouldSayThatAnAdvertisementIsRefusedAndTakeTheServicesBack() throws Exception {
        FakeAdapter adapter = bluez.start(true);
        adapter.refuse("RegisterAdvertisement", FakeObject.said("Maximum advertisements reached"));
        assertRefused("adapter hci0 does not advertise: other programs advertise on it already");
        for (int i = 0; i < 400 && adapter.isOffered(); i++) {
            Thread.sleep(25);
        }
        assertFalse(adapter.isOffered(), "the services go with the connection");
    }

    @Test
    void shouldNotMakeTwoCellsOfOneAdapter() throws Exception {
        bluez.start(true);
        try (BluezPort first = new BluezPort(bluez.busAddress(), "", CELL)) {
            assertRefused(bluez.busAddress(), "", "adapter hci0 is a cell already");
            assertFalse(first.hasReader());
        }
    }
}
