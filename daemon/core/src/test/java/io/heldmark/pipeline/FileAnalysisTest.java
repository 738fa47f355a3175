package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.Fixation;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.TrialConditions;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The analysis of a recording finds what was found live, bit for bit; that of a CSV of its samples finds the same. */
class FileAnalysisTest {
    private static final Path SCENARIOS = Path.of(System.getProperty("heldmark.root"), "simulators", "scenarios");

    @TempDir
    Path folder;

    /** What an analysis told, and its samples as one CSV for each channel. */
    private static final class Found implements AnalysisListener, AutoCloseable {
        final List<Contraction> contractions = new ArrayList<>();
        final List<Effort> efforts = new ArrayList<>();
        List<ChannelInfo> channels = List.of();
        final Map<Integer, PrintWriter> tables = new TreeMap<>();
        private final Path folder;
        long samples;
        boolean complete;

        Found(Path folder) {
            this.folder = folder;
        }

        @Override
        public void onStart(AnalysisStart start) {}

        @Override
        public void onEnd(boolean isComplete, List<String> notes) {
            complete = isComplete;
            assertEquals(List.of(), notes);
        }

        @Override
        public void onContraction(Contraction c) {
            contractions.add(c);
        }

        @Override
        public void onChannels(List<ChannelInfo> infos, List<TraceFilter> filters, long atNs) {
            channels = infos;
        }

        @Override
        public void onEffort(Effort effort) {
            efforts.add(effort);
        }

        @Override
        public void onMeasured(SampleBatch b) {
            samples += b.count;
            PrintWriter table = tables.computeIfAbsent(b.channel, this::begin);
            for (int i = 0; i < b.count; i++) {
                table.printf(Locale.ROOT, "%.9f,%.6f%n", b.timeNs[i] / 1e9, b.forceN[i]);
            }
        }

        private PrintWriter begin(int channel) {
            try {
                PrintWriter table = new PrintWriter(Files.newBufferedWriter(table(channel)));
                table.println("time_s,force");
                return table;
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        Path table(int channel) {
            return folder.resolve("channel-" + channel + ".csv");
        }

        List<Contraction> finals(int channel) {
            return contractions.stream()
                    .filter(c -> c.channel() == channel && c.revision() == Contraction.Revision.FINAL)
                    .toList();
        }

        List<Contraction> finals(Limb limb) {
            return contractions.stream()
                    .filter(c -> c.limb() == limb && c.revision() == Contraction.Revision.FINAL)
                    .toList();
        }

        @Override
        public void close() {
            tables.values().forEach(PrintWriter::close);
        }
    }

    private Found analyse(Path recording, BoundCalibration... calibrations) throws Exception {
        try (Found found = new Found(folder)) {
            RecordingAnalysis.run(
                    recording,
                    Config.defaults(),
                    TrialConditions.always(TestConditions.UNKNOWN),
                    List.of(calibrations),
                    found);
            return found;
        }
    }

    @ParameterizedTest
    @CsvSource({"demo, 40, 6", "faults, 60, 1", "eight-by-2k, 8, 0", "text-sender, 30, 0"})
    void shouldFindInARecordingWhatWasFoundLive(String scenario, double seconds, int leastFinals) throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve(scenario + ".pcapng");
        new VirtualSession(SCENARIOS.resolve(scenario + ".yaml"), live, file).run(seconds);

        Found found = analyse(file);
        assertTrue(found.complete);
        assertEquals(live.samples, found.samples);
        int told = live.contractions.size();
        assertEquals(live.contractions, found.contractions.subList(0, told));
        assertEquals(live.efforts, found.efforts.subList(0, live.efforts.size()));
        // What was open when the recording ended is finished besides, and nothing else.
        for (Contraction last : found.contractions.subList(told, found.contractions.size())) {
            Contraction before = live.contractions.stream()
                    .filter(c -> c.id() == last.id())
                    .reduce((a, b) -> b)
                    .orElseThrow();
            assertEquals(Contraction.Revision.PROVISIONAL, before.revision());
        }
        long finals = live.contractions.stream()
                .filter(c -> c.revision() == Contraction.Revision.FINAL)
                .count();
        assertTrue(finals >= leastFinals, "finals: " + finals);
    }

    /** A mass, a maximum of one limb, then a force to hold: live as in the analysis, and from the next effort on. */
    @Test
    void shouldMeasureUnderWhatWasSaidOfTheTrials() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("said.pcapng");
        VirtualSession session = new VirtualSession(SCENARIOS.resolve("demo.yaml"), live, file);
        TestConditions both =
                TestConditions.UNKNOWN.toBuilder().bodyMassKg(70, 0.5).build();
        TestConditions right =
                TestConditions.UNKNOWN.toBuilder().ownMaximumN(300).build();
        Deque<StationEvent> said = new ArrayDeque<>(List.of(
                new StationEvent.TrialsSaid(new SaidConditions(both, TestConditions.UNKNOWN, right), 1_000_000_000L),
                new StationEvent.TargetSet(new Target(350, 10), 20_000_000_000L)));
        session.setPerson(nowNs -> !said.isEmpty() && nowNs >= said.element().atNs() ? said.remove() : null);
        session.run(36);

        Found found = analyse(file);
        assertEquals(live.contractions, found.contractions.subList(0, live.contractions.size()));
        List<Contraction> lefts = found.finals(Limb.LEFT);
        assertTrue(lefts.size() >= 4, "contractions: " + lefts.size());
        for (Contraction c : lefts) {
            assertEquals(value(c, "force.peak") / 70, value(c, "force.peak.per-kg"), 1e-9);
        }
        Contraction before = lefts.get(0);
        Contraction after = lefts.stream()
                .filter(c -> c.onsetNs() > 20_000_000_000L
                        && metric(c, "steadiness.cv").notComputed() == null)
                .findFirst()
                .orElseThrow();
        assertEquals(
                "no target force was to be held",
                metric(before, "steadiness.cv").notComputed());
        assertEquals(
                "a target was held: see steadiness.cv",
                metric(after, "plateau.variation").notComputed());
        Contraction ofRight = found.finals(Limb.RIGHT).stream()
                .filter(c -> c.onsetNs() > 20_000_000_000L)
                .findFirst()
                .orElseThrow();
        assertEquals(
                "the target is not below the person's own maximum",
                metric(ofRight, "steadiness.cv").notComputed());
    }

    private static double value(Contraction c, String id) {
        return Objects.requireNonNull(metric(c, id).quantity()).value();
    }

    private static MetricValue metric(Contraction c, String id) {
        return c.metrics().stream().filter(m -> m.id().equals(id)).findFirst().orElseThrow();
    }

    @ParameterizedTest
    @CsvSource({"demo, 40", "faults, 60"})
    void shouldTellTheSameInTheSameOrderOnTwoThreads(String scenario, double seconds) throws Exception {
        Path file = folder.resolve(scenario + ".pcapng");
        new VirtualSession(SCENARIOS.resolve(scenario + ".yaml"), new EventLog(), file).run(seconds);
        Found one = analyse(file);
        try (Found two = new Found(folder)) {
            RecordingAnalysis.runOnTwoThreads(
                    file, Config.defaults(), TrialConditions.always(TestConditions.UNKNOWN), List.of(), 0, two);
            assertEquals(one.contractions, two.contractions);
            assertEquals(one.efforts, two.efforts);
            assertEquals(one.channels, two.channels);
            assertEquals(one.samples, two.samples);
            assertEquals(one.complete, two.complete);
            assertTrue(!two.contractions.isEmpty());
        }
    }

    /** Every force twice as large, its uncertainty by the later calibration; the other cell stays as it is. */
    @Test
    void shouldEvaluateARecordingWithALaterCalibration() throws Exception {
        Path file = folder.resolve("demo.pcapng");
        new VirtualSession(SCENARIOS.resolve("demo.yaml"), new EventLog(), file).run(40);
        Found before = analyse(file);
        ChannelInfo left = before.channels.get(0);
        CellCalibration to100 = new CellCalibration(100, Double.NaN, 0, "", List.of());
        StationCalibration twice = new StationCalibration(0, 2 * left.resolution(), 0.01, to100);
        Found after = analyse(
                file, new BoundCalibration("later", left.deviceId(), left.deviceChannel(), twice, false).overriding());
        assertEquals("station", after.channels.get(0).calibration());
        assertEquals(0.01, after.channels.get(0).calibrationRelativeU());
        assertEquals(before.channels.get(1), after.channels.get(1));
        assertTrue(!before.finals(0).isEmpty());
        Contraction a = before.finals(0).get(0);
        assertEquals(
                2 * force(a, "force.peak"), force(after.finals(0).get(0), "force.peak"), 1e-3 * force(a, "force.peak"));
        assertEquals(
                force(before.finals(1).get(0), "force.peak"),
                force(after.finals(1).get(0), "force.peak"));
        Contraction beyond = after.finals(0).get(0);
        assertTrue(beyond.flags().contains("beyond-calibrated-range"), beyond::toString);
        String figures = String.format(
                Locale.ROOT, " Calibrated to 100 N, read %.0f N above the zero.", force(beyond, "force.peak"));
        assertTrue(ContractionFlag.textOf("beyond-calibrated-range", beyond).endsWith(figures));
        assertTrue(Double.isNaN(a.calibratedToN()), "nothing is said of a load within the calibration");
    }

    /** The same samples as CSV, and the same said of the trials: every metric that both can have, as {@link ZeroRules} says. */
    @Test
    void shouldFindInACsvWhatWasFoundInTheRecordingOfTheSameSamples() throws Exception {
        Path file = folder.resolve("demo.pcapng");
        new VirtualSession(SCENARIOS.resolve("demo.yaml"), new EventLog(), file).run(40);
        TestConditions said = TestConditions.UNKNOWN.toBuilder()
                .cue(Cue.EXPLOSIVE)
                .fixation(Fixation.RIGID)
                .ownMaximumN(405)
                .leverArmM(0.36, 0.005)
                .bodyMassKg(78, 0.5)
                .build();
        Found recorded = new Found(folder);
        RecordingAnalysis.run(file, Config.defaults(), TrialConditions.always(said), List.of(), recorded);
        recorded.close();
        int most = 0;
        int compared = 0;
        for (int channel : recorded.tables.keySet()) {
            Found table = new Found(folder);
            CsvOptions options =
                    new CsvOptions(Config.defaults(), null, null, TrialConditions.always(said), 0.002, 470);
            CsvAnalysis.run(recorded.table(channel), options, new Relay(table));
            List<Contraction> a = recorded.finals(channel);
            List<Contraction> b = table.finals(0);
            assertEquals(a.size(), b.size());
            long originNs = firstTimeNs(recorded.table(channel));
            for (int i = 0; i < a.size(); i++) {
                int values = ZeroRules.assertSame(a.get(i), b.get(i), originNs);
                assertTrue(values >= 17, "metrics with a value: " + values);
                most = Math.max(most, values);
                compared++;
            }
        }
        assertTrue(compared >= 6, "compared: " + compared);
        assertTrue(most >= 30, "most metrics with a value, of an explosive effort: " + most);
    }

    /** Passes everything but the samples. */
    private record Relay(Found to) implements AnalysisListener {
        @Override
        public void onStart(AnalysisStart start) {
            assertEquals("restBefore", start.zero());
        }

        @Override
        public void onEnd(boolean complete, List<String> notes) {}

        @Override
        public void onContraction(Contraction c) {
            to.onContraction(c);
        }
    }

    private static long firstTimeNs(Path table) throws IOException {
        try (var lines = Files.lines(table)) {
            String first = lines.skip(1).findFirst().orElseThrow().split(",", -1)[0];
            return new BigDecimal(first).movePointRight(9).longValueExact();
        }
    }

    private static double force(Contraction c, String id) {
        for (MetricValue value : c.metrics()) {
            Quantity q = value.quantity();
            if (value.id().equals(id) && q != null) {
                return q.value();
            }
        }
        throw new AssertionError("no " + id + " in " + c);
    }
}
