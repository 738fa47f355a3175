package io.heldmark.link.ble.bluez;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.link.ble.BleLinks;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.Scenario;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole way: {@code simulate --link ble} as a process of its own offers a cell, the stand-in for BlueZ relays it, and the
 * station's real link takes it. What arrives is held against what the same virtual cell makes without any link.
 */
class VirtualCellOverBluezTest {
    private static final String CELL = "00:AA:01:00:00:01";
    private static final String SCENARIO = """
            schema: heldmark.scenario/1
            name: laptop
            invented: true
            description: One cell on a laptop, pulled at by an invented person.
            seed: 11
            durationS: DURATION
            limbs:
              - name: left
                maxForceN: 300
            efforts:
              - atS: 1
                repeat: {everyS: [4, 5]}
                percentOfMax: [70, 100]
                rise: {shape: sigmoid, peakRfdPerS: [1.5, 3]}
                holdS: [1.5, 2.5]
            cells:
              - name: left
                sampleRateHz: 1000
                samplesPerFrame: FRAME
                autostart: true
                channels: [{limb: left, ratedLoadN: 1000, calibration: {}}]
            """;

    @TempDir
    Path folder;

    private FakeBluez bluez;
    private FakeAdapter peripheral;
    private Process simulator;

    @BeforeEach
    void startBus() throws Exception {
        assumeTrue(FakeBluez.isPossible(), "dbus-daemon is not installed (Debian package dbus)");
        bluez = new FakeBluez(folder);
        bluez.start(true);
        peripheral = bluez.plugIn("/org/bluez/hci1", CELL, true);
    }

    @AfterEach
    void stopBus() throws Exception {
        if (simulator != null) {
            simulator.destroyForcibly().waitFor(30, TimeUnit.SECONDS);
        }
        if (bluez != null) {
            bluez.close();
        }
    }

    /** What a decoder found: every sample with its tick. */
    private static final class Samples implements MessageHandler {
        private final List<String> all = new ArrayList<>();
        private final List<String> events = new ArrayList<>();

        @Override
        public void onSamples(SamplesView samples) {
            StringBuilder text = new StringBuilder();
            text.append(samples.sequence()).append('@').append(samples.tick());
            for (int i = 0; i < samples.sampleCount(); i++) {
                text.append(' ').append(samples.counts(i, 0));
            }
            all.add(text.toString());
        }

        @Override
        public void onDescribe(Describe describe) {
            events.add("describe " + describe.deviceId());
        }

        @Override
        public void onReply(Reply reply) {
            events.add("reply " + reply.opcode() + " " + reply.result());
        }

        @Override
        public void onPong(int pingId, long receivedTick, long transmittedTick) {
            events.add("pong " + pingId);
        }
    }

    /** Decodes what a link hands on. */
    private static final class Taken implements LinkListener {
        private final Samples samples = new Samples();
        private final GattDecoder decoder = new GattDecoder(samples);
        private final List<LinkState> states = new ArrayList<>();

        @Override
        public synchronized void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
            decoder.accept(bytes, offset, length);
        }

        @Override
        public synchronized void onState(LinkState state, String reason, long atNs) {
            states.add(state);
            if (state == LinkState.UP) {
                decoder.reset();
            }
        }

        synchronized int messages() {
            return samples.all.size();
        }

        synchronized List<String> all() {
            return List.copyOf(samples.all);
        }

        synchronized long saw(String event) {
            return samples.events.stream().filter(e -> e.startsWith(event)).count();
        }

        synchronized long times(LinkState state) {
            return states.stream().filter(s -> s == state).count();
        }

        synchronized DecoderCounters counters() {
            return decoder.counters();
        }
    }

    private Path scenario(double durationS, int samplesPerFrame) throws Exception {
        Path file = folder.resolve("laptop.yaml");
        Files.writeString(
                file,
                SCENARIO.replace("DURATION", String.valueOf(durationS))
                        .replace("FRAME", String.valueOf(samplesPerFrame)));
        return file;
    }

    /** What the cell of a scenario sends, without a link. */
    private static List<String> truth(Path scenario) {
        Samples samples = new Samples();
        GattDecoder decoder = new GattDecoder(samples);
        VirtualCell cell = new VirtualCell(Scenario.load(scenario).withGatt(), 0);
        while (cell.advance()) {
            GattValues.each(cell.bytes(), cell.length(), decoder::accept);
        }
        return samples.all;
    }

    private void simulate(Path scenario, String... more) throws Exception {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                "io.heldmark.simulator.cli.SimulatorMain",
                scenario.toString(),
                "--link",
                "ble:hci1",
                "--truth",
                folder.resolve("truth.json").toString()));
        command.addAll(List.of(more));
        ProcessBuilder builder = new ProcessBuilder(command)
                .redirectOutput(folder.resolve("out").toFile())
                .redirectError(folder.resolve("err").toFile());
        builder.environment().put("DBUS_SYSTEM_BUS_ADDRESS", bluez.busAddress());
        simulator = builder.start();
    }

    private void await(BooleanSupplier condition, String what) throws Exception {
        for (int i = 0; i < 2400 && !condition.getAsBoolean(); i++) {
            Thread.sleep(25);
        }
        assertTrue(condition.getAsBoolean(), () -> what + "; the simulator said: " + said());
    }

    private String said() {
        try {
            return Files.readString(folder.resolve("out"), StandardCharsets.UTF_8)
                    + Files.readString(folder.resolve("err"), StandardCharsets.UTF_8);
        } catch (java.io.IOException e) {
            return e.toString();
        }
    }

    private Link link(Taken taken) {
        Link link = BleLinks.through(new BluezCentral(bluez.busAddress()), CELL);
        link.start(taken);
        return link;
    }

    private static void command(Link link, int opcode) {
        byte[] out = new byte[32];
        int n = new GattEncoder().command(new Command(opcode, 1, new byte[0]), out, 0);
        assertTrue(link.send(out, 0, n));
    }

    @Test
    void shouldArriveSampleBySample() throws Exception {
        Path scenario = scenario(6, 29);
        simulate(scenario, "--when-connected");
        Taken taken = new Taken();
        try (Link link = link(taken)) {
            await(() -> taken.messages() > 0, "samples come");
            await(() -> taken.saw("describe sim-left") == 1, "describe is read");
            command(link, Command.STATUS);
            await(() -> taken.saw("reply 8 0") == 1, "a command is answered");
            byte[] ping = new byte[8];
            assertTrue(link.send(ping, 0, new GattEncoder().ping(77, ping, 0)));
            await(() -> taken.saw("pong 77") == 1, "the ping is answered");
            assertTrue(simulator.waitFor(120, TimeUnit.SECONDS), "the scenario ends");
            assertEquals(0, simulator.exitValue(), said());
            List<String> expected = truth(scenario);
            assertTrue(expected.size() > 190, "messages " + expected.size());
            await(() -> taken.messages() >= expected.size(), "all samples arrive");
            assertEquals(expected, taken.all());
            DecoderCounters c = taken.counters();
            assertEquals(0, c.gaps + c.missingFrames + c.malformed + c.duplicates + c.reordered);
            JsonNode told = new ObjectMapper()
                    .readTree(folder.resolve("truth.json").toFile())
                    .at("/cells/0");
            long samples =
                    expected.stream().mapToInt(m -> m.split(" ", -1).length - 1).sum();
            assertEquals(samples, told.get("samplesTaken").asLong(), "samples of the truth");
            assertEquals(0, told.get("damage").size(), "nothing found no reader");
        }
        assertNull(peripheral.advertised(), "it is not advertised any more");
        assertEquals(false, peripheral.isOffered(), "its services are taken back");
    }

    @Test
    void shouldBeFoundByItsServiceWithItsName() throws Exception {
        simulate(scenario(60, 29));
        await(() -> peripheral.advertised() != null, "it is advertised");
        var cells = new BluezCentral(bluez.busAddress()).cells("", 100);
        assertEquals(1, cells.size());
        assertEquals("ble:" + CELL, cells.get(0).link());
        assertEquals("left", cells.get(0).name());
        await(() -> said().contains("{\"cell\":\"left\",\"link\":\"ble:" + CELL + "\"}"), "it prints its link");
    }

    @Test
    void shouldShowDeviceInformationAndBattery() throws Exception {
        simulate(scenario(60, 29));
        await(() -> peripheral.advertised() != null, "it is advertised");
        RelayedCell cell = peripheral.advertised();
        assertEquals("Heldmark (simulated)", text(cell, "00002a29-0000-1000-8000-00805f9b34fb"));
        assertNotNull(text(cell, "00002a24-0000-1000-8000-00805f9b34fb"));
        byte[] charge =
                cell.characteristic("00002a19-0000-1000-8000-00805f9b34fb").ReadValue(java.util.Map.of());
        assertTrue(charge.length == 1 && charge[0] > 0 && charge[0] <= 100, "charge in percent");
    }

    private static String text(RelayedCell cell, String uuid) {
        return new String(cell.characteristic(uuid).ReadValue(java.util.Map.of()), StandardCharsets.UTF_8);
    }

    @Test
    void shouldFitTheSmallestPackets() throws Exception {
        peripheral.agreeOn(23);
        Path scenario = scenario(3, 4); // 8 + 4 x 3 bytes are just what ATT_MTU 23 leaves.
        simulate(scenario, "--when-connected");
        Taken taken = new Taken();
        try (Link link = link(taken)) {
            await(() -> taken.saw("describe sim-left") == 1, "describe is read in pieces");
            List<String> expected = truth(scenario);
            await(() -> taken.messages() >= expected.size(), "all samples arrive");
            assertEquals(expected, taken.all(), link.name());
        }
    }

    @Test
    void shouldComeBackAfterBluezWasRestarted() throws Exception {
        simulate(scenario(600, 29), "--exit-with-stdin");
        await(() -> peripheral.advertised() != null, "it is advertised");
        Taken taken = new Taken();
        try (Link link = link(taken)) {
            await(() -> taken.messages() > 20, "samples come");
            bluez.crash();
            await(() -> taken.times(LinkState.DOWN) > 0, "the link notices");
            bluez.start(true);
            peripheral = bluez.plugIn("/org/bluez/hci1", CELL, true);
            await(() -> peripheral.advertised() != null, "it is advertised again");
            await(() -> taken.times(LinkState.UP) == 2, "the link comes back");
            int before = taken.messages();
            command(link, Command.START);
            await(() -> taken.messages() > before + 20, "samples come again");
            assertTrue(taken.counters().malformed == 0 && link.name().startsWith("ble:"));
        }
        try (OutputStream stdin = simulator.getOutputStream()) {
            stdin.flush();
        }
        assertTrue(simulator.waitFor(60, TimeUnit.SECONDS), "it ends with its standard input");
        assertNull(peripheral.advertised());
    }
}
