package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.config.ConfigException;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.Boundaries;
import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Counters;
import io.heldmark.model.Level;
import io.heldmark.model.Limb;
import io.heldmark.model.Quantity;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TraceFilter;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ContractionTruth;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Sums of virtual cells whose true force is known, through the whole core, and replayed. */
class VirtualChannelsTest {
    private static final String HEAD = """
            schema: heldmark.scenario/1
            name: plate
            invented: true
            description: One effort on several cells.
            seed: 4
            limbs: [{name: left, maxForceN: 400, rest: {levelN: 20}}]
            efforts: [{atS: 6, percentOfMax: 100, holdS: 3}]
            cells:
            """;

    @TempDir
    Path folder;

    /** Remembers what the sums carried. */
    private static final class Heard implements StationListener {
        final List<Contraction> finals = new ArrayList<>();
        final List<String> notices = new ArrayList<>();
        final Map<String, ChannelInfo> channels = new LinkedHashMap<>();
        final double[] highestN = new double[16];
        final double[] highestAfterN = new double[16];
        final int[] flags = new int[16];

        @Override
        public void onChannels(List<ChannelInfo> infos, List<TraceFilter> filters, long atNs) {
            infos.forEach(info -> channels.put(info.name(), info));
        }

        @Override
        public void onSamples(SampleBatch b) {
            flags[b.channel] |= b.flags;
            for (int i = 0; i < b.count; i++) {
                highestN[b.channel] = Math.max(highestN[b.channel], b.forceN[i]);
                if (b.timeNs[i] > 5_000_000_000L) {
                    highestAfterN[b.channel] = Math.max(highestAfterN[b.channel], Math.abs(b.forceN[i]));
                }
            }
        }

        @Override
        public void onContraction(Contraction c) {
            if (c.revision() == Revision.FINAL) {
                finals.add(c);
            }
        }

        @Override
        public void onNotice(String severity, String text, long atNs) {
            notices.add(text);
        }

        ChannelInfo channel(String name) {
            return channels.get(name);
        }

        Contraction only(String name) {
            List<Contraction> of = finals.stream()
                    .filter(c -> c.channel() == channel(name).channel())
                    .toList();
            assertEquals(1, of.size(), name + ": " + of);
            return of.get(0);
        }
    }

    private static String plate() {
        StringBuilder yaml = new StringBuilder(HEAD).append("  - name: plate\n    channels:\n");
        double[] shares = {0.4, 0.3, 0.2, 0.1};
        for (int i = 0; i < 4; i++) {
            yaml.append("      - {name: c")
                    .append(i)
                    .append(", limb: left, share: ")
                    .append(shares[i]);
            yaml.append(", calibration: {relativeU: 0.00").append(i + 1).append("}}\n");
        }
        return yaml.toString();
    }

    private static VirtualSession session(String yaml, String sums, StationListener out, Path recording) {
        Map<String, String> line = Map.of("channels.virtual", sums, "trace.lowPassHz", "0", "rig.ratedLoadN", "410");
        return new VirtualSession(Scenario.parse(yaml, "test"), Config.resolve(Map.of(), line), out, recording);
    }

    @Test
    void shouldAddUpFourCellsUnderAPlate() {
        Heard heard = new Heard();
        VirtualSession session =
                session(plate(), "plate = 0#0 + 0#1 + 0#2 + 0#3; tilt = 0#2 - 2*0#3; back = -0#0", heard, null);
        session.run(14);
        // The limb's true peak: that of the first cell, which carries 0.4 of it, over its share.
        double truthN = risenN(session) / 0.4;
        ChannelInfo plate = heard.channel("plate");
        assertEquals(truthN, peakN(heard.only("plate")), 0.01 * truthN);
        assertEquals(0.004, plate.calibrationRelativeU(), 1e-9, "the largest of its cells'");
        double ofOne = heard.channel("c0").resolution();
        assertEquals(2 * ofOne, plate.resolution(), 1e-12, "the root of four times the square of one");
        assertEquals(0, heard.flags[plate.channel()] & SampleBatch.RESAMPLED, "one frame, one time");
        // 0.2 - 2 x 0.1 of the same force is nothing; what is left is noise.
        ChannelInfo tilt = heard.channel("tilt");
        assertTrue(Double.isNaN(tilt.calibrationRelativeU()), "nothing relative can be said of a difference");
        assertTrue(heard.highestAfterN[tilt.channel()] < 6, "tilt: " + heard.highestAfterN[tilt.channel()]);
        ChannelInfo back = heard.channel("back");
        assertTrue(heard.highestN[back.channel()] < 20, "a cell turned round only falls");
        assertEquals(
                List.of("plate: 410 N"),
                heard.notices.stream()
                        .filter(n -> n.contains("rated for"))
                        .map(n -> n.substring(0, 12))
                        .toList());
    }

    /** Shares 0.4, 0.3, 0.2, 0.1 of one force: x = 200 (0.3 + 0.1 - 0.4 - 0.2) = -40, y = 150 (0.2 + 0.1 - 0.4 - 0.3) = -60. */
    @Test
    void shouldTellWhereTheForceOnAPlateActsOnceItsCellsAreZeroed() {
        List<CentreOfPressure> seen = new ArrayList<>();
        StationListener out = new StationListener() {
            @Override
            public void onLevels(List<Level> levels, long atNs) {
                Level last = levels.get(levels.size() - 1);
                if (last.centre() != null) {
                    seen.add(last.centre());
                }
            }
        };
        String sums = "plate = 0#0@-200,-150 + 0#1@200,-150 + 0#2@-200,150 + 0#3@200,150";
        VirtualSession session = session(plate(), sums, out, null);
        session.run(14);
        List<String> reasons = seen.stream()
                .map(CentreOfPressure::notMeasured)
                .filter(Objects::nonNull)
                .distinct()
                .toList();
        assertEquals(
                List.of("not every cell under the plate has been zeroed", "the plate carries less than 20 N"), reasons);
        List<CentreOfPressure> measured =
                seen.stream().filter(one -> one.x() != null).toList();
        assertTrue(measured.size() > 20, "measured " + measured.size());
        for (CentreOfPressure one : measured.subList(5, measured.size() - 5)) {
            Quantity x = Objects.requireNonNull(one.x());
            Quantity y = Objects.requireNonNull(one.y());
            assertEquals(-40, x.value(), 4 * x.standardUncertainty(), () -> "x " + x);
            assertEquals(-60, y.value(), 4 * y.standardUncertainty(), () -> "y " + y);
            assertTrue(x.standardUncertainty() < 3, () -> "x " + x);
        }
    }

    /** The same shares, in the figures of the contraction: -40 and -60 mm, at the peak and over the best second. */
    @Test
    void shouldSayOfAContractionWhereItsForceActed() {
        Heard heard = new Heard();
        String placed = "plate = 0#0@-200,-150 + 0#1@200,-150 + 0#2@-200,150 + 0#3@200,150; sum = 0#0 + 0#1";
        VirtualSession session = session(plate(), placed, heard, null);
        session.setPerson(nowNs -> {
            if (nowNs != 13_000_000_000L) {
                return null;
            }
            Contraction c = heard.only("plate");
            Boundaries later = new Boundaries(c.onsetNs() + 100_000_000L, c.releaseStartNs(), c.offsetNs());
            return new StationEvent.BoundaryChanged(BoundaryChange.move(c, later), nowNs);
        });
        session.run(14);
        Contraction plate = heard.only("plate");
        for (String stretch : new String[] {"peak", "best-1s"}) {
            Quantity x = Objects.requireNonNull(plate.quantity("plate.x." + stretch));
            Quantity y = Objects.requireNonNull(plate.quantity("plate.y." + stretch));
            assertEquals(-40, x.value(), 3 * x.standardUncertainty(), () -> "x " + x);
            assertEquals(-60, y.value(), 3 * y.standardUncertainty(), () -> "y " + y);
            // 1 mm of each place alone gives sqrt(0.16 + 0.09 + 0.04 + 0.01) = 0.55 mm.
            assertTrue(x.standardUncertainty() > 0.54 && x.standardUncertainty() < 1.5, () -> "x " + x);
            assertEquals("mm", y.unit());
        }
        assertTrue(heard.only("sum").metrics().stream().noneMatch(m -> m.id().startsWith("plate.")));
        Contraction moved =
                Objects.requireNonNull(session.reviews().find(plate.id())).inForce();
        assertEquals(Revision.MANUAL, moved.revision());
        Quantity found = Objects.requireNonNull(plate.quantity("plate.x.best-1s"));
        Quantity again = Objects.requireNonNull(moved.quantity("plate.x.best-1s"));
        assertEquals(found.value(), again.value(), "the best second is the same");
        assertTrue(again.standardUncertainty() > found.standardUncertainty(), "its rest now holds a part of the rise");
    }

    @Test
    void shouldAddUpCellsOfTwoDevicesAndSayThatTheyWereResampled() {
        Heard heard = new Heard();
        String cell = "    channels: [{limb: left, share: 0.5, calibration: {}}]\n    samplesPerFrame: ";
        String yaml =
                HEAD + "  - name: a\n" + cell + "10\n" + "  - name: b\n" + cell + "7\n    clock: {offsetPpm: 80}\n";
        VirtualSession session = session(yaml, "leftBoth = 0#0 + 1#0", heard, null);
        session.run(14);
        double truthN = risenN(session) / 0.5;
        Contraction sum = heard.only("leftBoth");
        assertEquals(truthN, peakN(sum), 0.01 * truthN);
        assertEquals(Limb.LEFT, heard.channel("leftBoth").limb());
        assertTrue(sum.flags().contains("resampled"), sum.flags().toString());
    }

    @Test
    void shouldReplaySumsBitForBit() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("plate.pcapng");
        session(plate(), "plate = 0#0@-200,-150 + 0#1@200,-150 + 0#2@-200,150 + 0#3@200,150", live, file)
                .run(14);
        assertTrue(live.contractions.stream().anyMatch(c -> c.quantity("plate.x.peak") != null));
        assertTrue(live.contractions.stream().anyMatch(c -> c.channel() == 4), "the sum is the fifth channel");
        StationReplayTest.assertSameReplay(live, file, folder);
    }

    @Test
    void shouldSayWhyASumIsNotThere() {
        Heard heard = new Heard();
        String yaml = HEAD + "  - {name: a, channels: [{limb: left}]}\n";
        session(yaml, "sum = 0#0 + 0#3", heard, null).run(2);
        assertTrue(
                heard.notices.containsAll(List.of(
                        "sum cannot be added up: 0#0 is not calibrated",
                        "sum cannot be added up: 0#3 is no channel of that device")),
                heard.notices.toString());
        assertTrue(!heard.channels.containsKey("sum"));
    }

    @Test
    void shouldRefuseALinkThatThereIsNot() {
        List<LinkSetup> links = LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse("tcp:h:1"), Limb.LEFT)));
        ConfigException refused = assertThrows(
                ConfigException.class,
                () -> new StationCore(
                        Config.resolve(Map.of(), Map.of("channels.virtual", "sum = 0#0 + 1#0")),
                        links,
                        new Heard(),
                        new Counters()));
        assertEquals(
                "channels.virtual=sum = 0#0 + 1#0 is not allowed: links that there are: sum names link 1, and there are 1,"
                        + " numbered from 0",
                refused.getMessage());
    }

    /** Returns the true rise above rest of the first cell; the zero takes the rest away. */
    private static double risenN(VirtualSession session) {
        ContractionTruth truth =
                session.cells.get(0).truth().channels().get(0).contractions().get(0);
        return truth.peakN() - truth.restingLevelN();
    }

    private static double peakN(Contraction c) {
        return Objects.requireNonNull(c.metrics().stream()
                        .filter(m -> m.id().equals("force.peak"))
                        .findFirst()
                        .orElseThrow()
                        .quantity())
                .value();
    }
}
