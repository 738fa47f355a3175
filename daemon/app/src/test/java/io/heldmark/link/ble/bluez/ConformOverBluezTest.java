package io.heldmark.link.ble.bluez;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.conform.Conformance;
import io.heldmark.conform.Options;
import io.heldmark.conform.Outcome;
import io.heldmark.conform.Report;
import io.heldmark.conform.RuleResult;
import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.link.ble.BleLinks;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The conformance check over a Bluetooth link, against the stand-in for BlueZ. */
class ConformOverBluezTest {
    private static final String ADDRESS = "00:AA:01:01:00:01";
    private static final String SCENARIO = """
            schema: heldmark.scenario/1
            name: radio
            invented: true
            description: A cell on a radio.
            limbs: [{name: left, maxForceN: 300}]
            cells:
              - name: board
                binding: gatt
                sampleRateHz: 250
                supportedRatesHz: [250, 125]
                samplesPerFrame: 4
                nonconforming: RULE
                channels: [{limb: left, calibration: {}}]
                link: {kind: interval, intervalS: 0.015}
            """;

    @TempDir
    Path folder;

    @Test
    void shouldPassACellOverBluetooth() throws Exception {
        Report report = check("none");
        assertEquals(List.of(), failed(report));
        assertTrue(report.conforms());
        assertEquals("gatt", report.binding());
        assertEquals(List.of(), notSeen(report, List.of("set-rate", "pong", "recovery", "stop", "waits-for-start")));
    }

    @Test
    void shouldFailACellThatStreamsBeforeItIsTold() throws Exception {
        assertEquals(List.of("waits-for-start"), failed(check("waits-for-start")));
    }

    private Report check(String rule) throws Exception {
        assumeTrue(FakeBluez.isPossible(), "dbus-daemon is not installed (Debian package dbus)");
        try (FakeBluez bluez = new FakeBluez(folder)) {
            bluez.start(true);
            bluez.addCell(ADDRESS, Scenario.parse(SCENARIO.replace("RULE", rule), "radio"), 0, FakeCell.Kind.SOCKETS);
            try (Link link = BleLinks.through(new BluezCentral(bluez.busAddress()), ADDRESS)) {
                return run(link);
            }
        }
    }

    /** The link's threads hand over, this one keeps the time. A machine under load is late: the allowance is at its end. */
    private static Report run(Link link) throws InterruptedException {
        StationClock clock = new SystemStationClock();
        Conformance run = new Conformance(link.binding(), new Options(3, 1, 0), link::send);
        link.start(new LinkListener() {
            @Override
            public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
                synchronized (run) {
                    run.onBytes(bytes, offset, length, clock.nowNs());
                }
            }

            @Override
            public void onState(LinkState state, String reason, long atNs) {
                synchronized (run) {
                    if (state == LinkState.UP) {
                        run.onUp(clock.nowNs());
                    } else if (state == LinkState.DOWN) {
                        run.onDown(reason, clock.nowNs());
                    }
                }
            }
        });
        while (true) {
            synchronized (run) {
                run.onTime(clock.nowNs());
                if (run.isOver() || clock.nowNs() > 120_000_000_000L) {
                    return run.report();
                }
            }
            Thread.sleep(2);
        }
    }

    private static List<String> failed(Report report) {
        return report.results().stream()
                .filter(result -> result.outcome() == Outcome.FAIL)
                .map(result -> result.rule().id() + (result.rule().id().equals("waits-for-start") ? "" : text(result)))
                .toList();
    }

    private static List<String> notSeen(Report report, List<String> rules) {
        return report.results().stream()
                .filter(result -> result.outcome() == Outcome.NOT_SEEN
                        && rules.contains(result.rule().id()))
                .map(ConformOverBluezTest::text)
                .toList();
    }

    private static String text(RuleResult result) {
        return result.rule().id() + ": " + result.text() + " " + result.evidence();
    }
}
