package io.heldmark.link.ble.bluez;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.link.ble.BleLinks;
import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.simulator.scenario.Scenario;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.types.Variant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The BlueZ provider against a stand-in for BlueZ on a bus of its own, with virtual cells behind it. */
class BluezLinkTest {
    static final String ADDRESS = "00:AA:01:01:00:01";
    static final String SCENARIO = """
            schema: heldmark.scenario/1
            name: one-cell
            invented: true
            description: One cell behind a radio link, pulled at by an invented person.
            seed: 7
            limbs:
              - name: left
                maxForceN: 300
            efforts:
              - atS: 1
                repeat: {everyS: [5, 6]}
                percentOfMax: [70, 100]
                rise: {shape: sigmoid, peakRfdPerS: [1.5, 3]}
                holdS: [2.5, 3.5]
            cells:
              - name: left
                binding: gatt
                sampleRateHz: 1000
                samplesPerFrame: 29
                channels: [{limb: left, ratedLoadN: 1000}]
                link: {kind: interval, intervalS: 0.015}
            """;

    @TempDir
    Path folder;

    private FakeBluez bluez;
    private GattCentral central;
    private final Taken taken = new Taken();

    @BeforeEach
    void startBus() throws Exception {
        assumeTrue(FakeBluez.isPossible(), "dbus-daemon is not installed (Debian package dbus)");
        bluez = new FakeBluez(folder);
        central = new BluezCentral(bluez.busAddress());
    }

    @AfterEach
    void stopBus() {
        if (bluez != null) {
            bluez.close();
        }
    }

    /** What a link handed on, decoded. */
    private static final class Taken implements LinkListener, MessageHandler {
        private final GattDecoder decoder = new GattDecoder(this);
        private final List<String> events = new ArrayList<>();
        private int pongs;
        private long lastArrivalNs = Long.MIN_VALUE;
        private boolean arrivalsRise = true;

        @Override
        public synchronized void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
            arrivalsRise &= arrivalNs >= lastArrivalNs;
            lastArrivalNs = arrivalNs;
            decoder.accept(bytes, offset, length);
        }

        @Override
        public synchronized void onState(LinkState state, String reason, long atNs) {
            events.add(state + " " + reason);
            if (state == LinkState.UP) {
                decoder.reset();
            }
        }

        @Override
        public void onDescribe(Describe describe) {
            events.add("describe " + describe.sampleRateHz());
        }

        @Override
        public void onReply(Reply reply) {
            events.add("reply " + reply.opcode() + " " + reply.result());
        }

        @Override
        public void onPong(int pingId, long receivedTick, long transmittedTick) {
            pongs++;
        }

        synchronized long samples() {
            return decoder.counters().sampleFrames;
        }

        synchronized String heard() {
            return events.toString();
        }

        synchronized boolean saw(String event) {
            return events.stream().anyMatch(e -> e.startsWith(event));
        }

        synchronized DecoderCounters counters() {
            return decoder.counters();
        }
    }

    private void await(BooleanSupplier condition, String what) throws InterruptedException {
        for (int i = 0; i < 1200 && !condition.getAsBoolean(); i++) {
            Thread.sleep(25);
        }
        assertTrue(condition.getAsBoolean(), () -> what + " " + taken.heard());
    }

    private static void send(Link link, int opcode) {
        byte[] out = new byte[32];
        int n = new GattEncoder().command(new Command(opcode, 1, new byte[0]), out, 0);
        assertTrue(link.send(out, 0, n));
    }

    private Link connect(FakeCell.Kind kind) throws Exception {
        bluez.start(true);
        bluez.addCell(ADDRESS, Scenario.parse(SCENARIO, "invented"), 0, kind);
        Link link = BleLinks.through(central, ADDRESS);
        link.start(taken);
        return link;
    }

    @Test
    void shouldStreamWithoutLossOverSockets() throws Exception {
        try (Link link = connect(FakeCell.Kind.SOCKETS)) {
            shouldStream(link);
        }
    }

    @Test
    void shouldFallBackToSignals() throws Exception {
        try (Link link = connect(FakeCell.Kind.SIGNALS)) {
            shouldStream(link);
        }
    }

    private void shouldStream(Link link) throws Exception {
        await(() -> taken.saw("describe 1000.0"), "describe is read first");
        assertEquals(Link.Binding.GATT, link.binding());
        send(link, Command.START);
        await(() -> taken.saw("reply 2 0") && taken.samples() >= 100, "samples come");
        byte[] ping = new byte[8];
        int n = new GattEncoder().ping(77, ping, 0);
        assertTrue(link.send(ping, 0, n));
        await(() -> taken.pongs == 1, "the ping is answered");
        send(link, Command.DESCRIBE);
        await(() -> taken.events.stream().filter(e -> e.startsWith("describe")).count() == 2, "describe is read again");
        DecoderCounters c = taken.counters();
        assertEquals(0, c.gaps + c.missingFrames + c.malformed + c.duplicates + c.reordered);
        assertTrue(taken.arrivalsRise);
    }

    @Test
    void shouldComeBackAfterTheCellWasOutOfRange() throws Exception {
        bluez.start(true);
        FakeCell cell = bluez.addCell(ADDRESS, Scenario.parse(SCENARIO, "invented"), 0, FakeCell.Kind.SOCKETS);
        try (Link link = BleLinks.through(central, ADDRESS)) {
            link.start(taken);
            await(() -> taken.saw("describe"), "connected");
            send(link, Command.START);
            await(() -> taken.samples() > 20, "samples come");
            cell.walkAway();
            await(() -> taken.saw("DOWN the connection to the cell was lost"), "the loss is noticed");
            cell.comeBack();
            await(() -> taken.events.stream().filter(e -> e.startsWith("UP")).count() == 2, "it connects again");
            long before = taken.samples();
            await(() -> taken.samples() > before + 20, "samples come again");
        }
    }

    @Test
    void shouldFindCellsByTheirServiceOnly() throws Exception {
        FakeAdapter adapter = bluez.start(true);
        Scenario scenario = Scenario.parse(SCENARIO, "invented");
        bluez.addCell(ADDRESS, scenario, 0, FakeCell.Kind.SOCKETS);
        bluez.addCell("00:AA:01:01:00:02", scenario, 0, FakeCell.Kind.FOREIGN);
        List<CellInRange> cells = central.cells("", 200);
        assertEquals(1, cells.size());
        assertEquals("ble:" + ADDRESS, cells.get(0).link());
        assertEquals(-57, cells.get(0).rssiDbm());
        Map<String, Variant<?>> filter = adapter.filter();
        assertNotNull(filter);
        assertTrue(String.valueOf(filter.get("UUIDs")).contains(GattNames.SERVICE));
    }

    private Link locked(String passkeyOfTheCell, String passkeyOfTheLink) throws Exception {
        bluez.start(true);
        FakeCell cell = bluez.addCell(ADDRESS, Scenario.parse(SCENARIO, "invented"), 0, FakeCell.Kind.SOCKETS);
        cell.demandPairing(passkeyOfTheCell);
        Link link = BleLinks.through(central, ADDRESS, passkeyOfTheLink);
        link.start(taken);
        return link;
    }

    @Test
    void shouldPairWithoutAQuestionWhereTheCellHasNone() throws Exception {
        try (Link link = locked("", "")) {
            await(() -> taken.saw("describe 1000.0"), "paired and described");
            send(link, Command.START);
            await(() -> taken.samples() >= 20, "samples come");
        }
    }

    @Test
    void shouldPairWithThePasskeyOfTheLink() throws Exception {
        try (Link link = locked("004217", "004217")) {
            await(() -> taken.saw("describe 1000.0"), "paired and described");
            assertTrue(link.name().startsWith("ble:"));
        }
    }

    @Test
    void shouldSayThatThePasskeyIsWrong() throws Exception {
        try (Link link = locked("004217", "111111")) {
            await(() -> taken.saw("FAULT pairing with the cell did not work: is the passkey right?"), "said so");
            assertEquals(0, taken.samples(), link.name());
        }
    }

    @Test
    void shouldSayThatThePasskeyIsMissing() throws Exception {
        try (Link link = locked("004217", "")) {
            await(() -> taken.saw("FAULT the cell asks for its passkey: write the six digits"), "said so");
            assertEquals(0, taken.samples(), link.name());
        }
    }

    @Test
    void shouldRejectWhateverElseWantsToPair() throws Exception {
        bluez.start(true);
        central.cells("", 10);
        assertThrows(Exception.class, () -> bluez.agent().RequestAuthorization(new DBusPath("/org/bluez/hci0/dev_00")));
    }

    @Test
    void shouldSayThatBluezIsNotRunning() {
        assertReason("BlueZ is not running");
    }

    @Test
    void shouldSayThatThereIsNoAdapter() throws Exception {
        bluez.startWithoutAdapter();
        assertReason("no Bluetooth adapter");
    }

    @Test
    void shouldSayThatACellIsNotInRange() throws Exception {
        bluez.start(true);
        assertReason("is not in range, switched off, or connected to another device");
    }

    @Test
    void shouldSwitchAnAdapterOn() throws Exception {
        FakeAdapter adapter = bluez.start(false);
        central.cells("", 10);
        assertEquals(true, adapter.properties.get("Powered").getValue());
    }

    @Test
    void shouldRefuseADeviceThatIsNoCell() throws Exception {
        bluez.start(true);
        bluez.addCell(ADDRESS, Scenario.parse(SCENARIO, "invented"), 0, FakeCell.Kind.FOREIGN);
        assertReason("no Gaugeline cell");
    }

    private void assertReason(String part) {
        UnavailableException e = assertThrows(
                UnavailableException.class,
                () -> central.connect("", ADDRESS, "", new GattCentral.Listener() {
                    @Override
                    public void onValue(byte characteristic, byte[] value, int length) {
                        throw new AssertionError("nothing can come");
                    }

                    @Override
                    public void onGone(String reason) {
                        // Nothing was there.
                    }
                }));
        assertTrue(e.reason().contains(part), e.reason());
    }
}
